"""Charts of a hoop house: heater by glazing, a shut house at clear noon, cost of a season, sun left for a neighbour.

A plan and a unit system come in; charts with their message as title go out.
"""

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache
from itertools import pairwise
from typing import Any

import numpy as np

from gardenframe.builds import hoop_house_heat as warmth
from gardenframe.builds.chart import Chart, ChartLine
from gardenframe.builds.hoop_house_shape import Section
from gardenframe.climate.covers import find_cover, load_garden
from gardenframe.climate.frames import degrees_of
from gardenframe.climate.shade import Block, beam_share
from gardenframe.climate.sun import MIDDLE_DAYS, MONTHS, Floats, at_solar_time, half_day_h
from gardenframe.materials.coverings import load_coverings

HEAT = {"metric": ("kW", 0.001, 0.1), "us": ("Btu/h", 3.412142, 100.0)}  # unit, in one watt, written to
SHORT = {
    "film-single": "one film",
    "film-double": "two films",
    "film-double-ir": "two, one holds heat",
    "film-curtain": "film and curtain",
}
SLICES = 6  # upright slices that a house is cut into for its shadow
SUN_STEPS = 24  # of each day
LEAST_TOP_M = 0.05
ROWS = {"metric": (("0.6 m", 0.6), ("2 m", 2.0)), "us": (("2 ft", 0.6096), ("6 ft", 1.8288))}  # from its wall
LONGEST_LIFE = 6  # seasons


def month_index(build: Any) -> int:
    """Return the place of a build's month in the year, 0 for January."""
    return warmth.month_of(build).month - 1


def charts_of(plan: Any, system: str) -> Iterator[Chart]:
    """Yield the charts of a plan: those of heat for a closed house of film alone."""
    build = plan.build
    section = build.section(plan.shop.member(build.tube).outer_mm / 1000)
    if warmth.is_warm(build):
        yield heater_chart(build, section, system)
        yield noon_chart(build, section, plan.site.latitude_deg, system)
    yield life_chart(plan)
    yield neighbour_chart(build, section, plan.site.latitude_deg, system)


def heater_chart(build: Any, section: Section, system: str) -> Chart:
    """Return the heater against how cold the night is, for each way of glazing; the reader's own is drawn through."""
    month = warmth.month_of(build)
    unit, each, step = HEAT[system]
    degree = "°C" if system == "metric" else "°F"
    coldest = min(m.cold_night_degc for m in load_garden().values())
    ends = (min(coldest, build.keep_degc - 1.0), build.keep_degc)

    def line(key: str) -> ChartLine:
        house = warmth.house_of(build, section, key)
        points = tuple((degrees_of(t, system), house.heater_w(build.keep_degc, t) * each) for t in ends)
        return ChartLine(name=SHORT[key], points=points, dashed=key != build.glazing)

    night = month.cold_night_degc
    needed = round(warmth.house_of(build, section, build.glazing).heater_w(build.keep_degc, night) * each / step) * step
    keep, cold = (f"{degrees_of(t, system):.0f} {degree}".replace("-", "−") for t in (build.keep_degc, night))
    label = find_cover(build.glazing).label.capitalize()
    return Chart(
        title=f"{label}: a heater of {needed:,.{1 if step < 1 else 0}f} {unit} keeps {keep} when it is {cold} outside",
        across=f"outside at night, {degree}", up=f"heater, {unit}",
        here=degrees_of(min(max(night, ends[0]), ends[1]), system),
        lines=tuple(line(key) for key, _ in warmth.GLAZINGS),
    )  # fmt: skip


def noon_chart(build: Any, section: Section, latitude_deg: float, system: str) -> Chart:
    """Return how warm it gets at a clear noon by month: shut, with what opens open, and outside."""
    house, garden = (
        warmth.house_of(build, section, build.glazing),
        sorted(load_garden().values(), key=lambda m: m.month),
    )
    degree = "°C" if system == "metric" else "°F"
    suns = [warmth.noon_w_per_m2(latitude_deg, m.month) for m in garden]
    shut = [house.inside_degc(m.warm_day_degc, sun) for m, sun in zip(garden, suns)]
    found = {"shut": shut}
    opening = warmth.opening_of(build)
    if opening:
        aired = replace(house, vent_height_m=opening.height_m)
        wind = [m.wind_m_per_s if opening.through else 0.0 for m in garden]
        rows = zip(garden, suns, wind)
        found[opening.name] = [aired.inside_degc(m.warm_day_degc, sun, opening.area_m2, w) for m, sun, w in rows]
    found["outside"] = [m.warm_day_degc for m in garden]
    now = month_index(build)
    words = [f"{degrees_of(row[now], system):.0f} {degree} {name}" for name, row in found.items()]
    told = ", ".join(words).replace("-", "−")
    return Chart(
        title=f"At a clear noon in {MONTHS[now]}: {told}",
        across="month, on a warm clear day", up=f"inside, {degree}", names=MONTHS, here=float(now),
        lines=tuple(
            ChartLine(name=name, points=tuple((float(n), degrees_of(t, system)) for n, t in enumerate(row)),
                      dashed=name == "outside", places=name == "shut")
            for name, row in found.items()
        ),
    )  # fmt: skip


def life_chart(plan: Any) -> Chart:
    """Return what a new cover costs a season against how long it lasts; its printed life is drawn through."""
    cover = load_coverings()[plan.build.covering]
    low, high = max(1, round(cover.life_low_seasons)), max(1, round(cover.life_high_seasons))
    cost = cover_cost(plan)
    seasons = range(1, max(LONGEST_LIFE, high) + 1)
    ends = f"{low}" if low == high else f"{low} to {high}"
    each = f"{cost / low:,.0f}" if low == high else f"{cost / high:,.0f} to {cost / low:,.0f}"
    many = "" if high == 1 else "s"
    return Chart(
        title=f"A new cover for {cost:,.0f} {plan.cost.currency} that lasts {ends} season{many} costs {each} a season",
        across="seasons that it lasts", up=f"{plan.cost.currency} a season", names=tuple(str(n) for n in seasons),
        lines=(
            ChartLine(name="cost", points=tuple((n - 1.0, cost / n) for n in seasons), dashed=True),
            ChartLine(name="printed life", points=tuple((n - 1.0, cost / n) for n in seasons if low <= n <= high),
                      places=True),
        ),
    )  # fmt: skip


def cover_cost(plan: Any) -> float:
    """Return what the covering of a plan costs, before tax: its rolls and fixings wear out together."""
    return float(sum(one.rolls * plan.shop.prices.price(one.roll).usual for one in plan.covered))


def neighbour_chart(build: Any, section: Section, latitude_deg: float, system: str) -> Chart:
    """Return the hours of sun that come past the house, by month, on its dark side: ridge east to west, the worst."""
    side, away = ("north", 1.0) if latitude_deg >= 0 else ("south", -1.0)
    points = np.array([(0.0, away * (section.half_width_m + far), 0.0) for _, far in ROWS[system]])
    to_sun, step_h = _sun_of(latitude_deg)
    clear = beam_share(points, to_sun, shadow_blocks(section, build.length_m)).reshape(12, SUN_STEPS, -1)
    past_h = clear.sum(axis=1) * step_h[:, None]
    now = month_index(build)
    rows = {"open ground": step_h * SUN_STEPS}
    rows |= {f"{name} {side}": past_h[:, n] for n, (name, _) in reversed(list(enumerate(ROWS[system])))}
    told = ", ".join(f"{past_h[now, n]:.1f} h {name} {side} of it" for n, (name, _) in enumerate(ROWS[system]))
    title = f"Ridge east to west, {MONTHS[now]}: of {step_h[now] * SUN_STEPS:.1f} h the sun comes past it for {told}"
    return Chart(
        title=title, across="month, on its middle day", up="hours of sun past the house", names=MONTHS, here=float(now),
        lines=tuple(
            ChartLine(name=name, points=tuple((float(n), float(h)) for n, h in enumerate(row)),
                      dashed=name == "open ground", places=name != "open ground")
            for name, row in rows.items()
        ),
    )  # fmt: skip


def shadow_blocks(section: Section, length_m: float) -> list[Block]:
    """Return a house as upright slices along it, each as high as the hoop over its middle; ridge east to west."""
    half, east = section.half_width_m, length_m / 2
    blocks = []
    for low, high in pairwise(np.linspace(-half, half, SLICES + 1).tolist()):
        top = max(section.height_at((low + high) / 2), LEAST_TOP_M)
        blocks.append(Block(((-east, low), (east, low), (east, high), (-east, high)), top))
    return blocks


@lru_cache(maxsize=8)
def _sun_of(latitude_deg: float) -> tuple[Floats, Floats]:
    """Return directions to the sun, by month's middle day and step, and the hours of a step in each month."""
    days = np.array(MIDDLE_DAYS)[:, None]
    half = half_day_h(latitude_deg, days)
    hours = 12 + half * ((np.arange(SUN_STEPS) + 0.5) / SUN_STEPS * 2 - 1)
    step_h: Floats = np.broadcast_to(2 * half / SUN_STEPS, hours.shape)[:, 0].copy()
    return at_solar_time(latitude_deg, days, hours).to_sun.reshape(-1, 3), step_h
