"""Charts of a shade frame: the sun over the bed on the day, by month and hour, through the year; overhang; wires.

A plan and a unit system come in; charts and maps with their message as title go out.
"""

from collections.abc import Iterator
from typing import Any

import numpy as np

from gardenframe import named, units
from gardenframe.builds import shade_frame_sun as sun_on
from gardenframe.builds.chart import Chart, ChartLine, HeatMap
from gardenframe.builds.shade_frame_wires import Wires
from gardenframe.climate.sun import MONTHS, Floats
from gardenframe.materials.coverings import load_coverings
from gardenframe.strength import cables

SMALL = {"metric": ("mm", 1000.0), "us": ("in", 1 / 0.0254)}
FORCE = {"metric": ("N", 1.0), "us": ("lbf", 1 / units.POUND_N)}
SPEED = {"metric": ("m/s", 1.0), "us": ("mph", 1 / 0.44704)}
HOURS = tuple(range(5, 20))
DOWN = "the sun is down"
GUSTS = 20
ALL_OF_IT = 99.5  # per cent of the sun


def charts_of(plan: Any, system: str) -> Iterator[Chart | HeatMap]:
    """Yield the charts of a plan."""
    yield from day_maps(plan, system)
    yield hours_map(plan)
    yield year_chart(plan)
    yield wires_chart(plan, system) if plan.build.form == "wires" else overhang_chart(plan, system)


def day_maps(plan: Any, system: str) -> Iterator[HeatMap]:
    """Yield hours of unshaded sun and share of the day's light over the bed on the day."""
    build, day = plan.build, named.write(plan.build.day, "date")
    found = sun_on.day_of(*sun_on.of(plan))
    dark = sun_on.kind_of_day(plan.site.latitude_deg, build.day) == "polar night"
    up = float(found.under.weights_h.sum())
    direct, share = found.under.direct_h[0], 100 * found.under.light_share[0]
    yield _over_bed(plan, system, direct, up, "hours", 1, dark, (
        f"{day}: the sun does not rise here" if dark else
        f"{day}: {_range(direct, 1)} h of unshaded sun, of {up:.1f} h that the sun is up"
    ))  # fmt: skip
    yield _over_bed(plan, system, share, 100.0, "% of the day's light", 0, dark, (
        f"{day}: no light to share" if dark else
        f"{day}: {_range(share, 0)} % of a clear day's light arrives"
    ))  # fmt: skip


def _range(values: Floats, digits: int) -> str:
    """Return the least and the most of a map, once where they are written alike."""
    ends = [f"{value:.{digits}f}" for value in (values.min(), values.max())]
    return " to ".join(dict.fromkeys(ends))


def _over_bed(
    plan: Any, system: str, values: Floats, high: float, unit: str, digits: int, dark: bool, title: str
) -> HeatMap:
    """Return a map of what is shaded, its front below, in proportion."""
    build, (small, each) = plan.build, SMALL[system]
    deep, across = values.shape
    wide, long = build.length_m / across, build.width_m / deep
    shown: tuple[tuple[float | None, ...], ...] = tuple(tuple(map(float, row)) for row in values)
    return HeatMap(
        title=title, across=f"along the front, {small}; the front looks {named.said(build.faces_deg)}",
        up=f"from the front, {small}",
        columns=tuple(f"{(k + 0.5) * wide * each:.0f}" for k in range(across)),
        rows=tuple(f"{(n + 0.5) * long * each:.0f}" for n in range(deep)),
        values=tuple(tuple(None for _ in row) for row in shown) if dark else shown,
        unit=unit, low=0.0, high=max(high, 1e-3), digits=digits, tall=long / wide, nothing=DOWN,
    )  # fmt: skip


def hours_map(plan: Any) -> HeatMap:
    """Return the share of the sun's beam that arrives, by month and hour."""
    found = sun_on.year_of(*sun_on.of(plan)).under

    def at(month: int, hour: float) -> float | None:
        share = found.at(month, hour)
        return None if share is None else 100 * float(share.mean())

    values = tuple(tuple(at(month, hour + 0.5) for hour in HOURS) for month in range(12, 0, -1))
    month = named.month_of(plan.build.day)
    known = [(value, hour) for value, hour in zip(values[12 - month], HOURS) if value is not None]
    title = f"The sun does not rise in the middle of {MONTHS[month - 1]}"
    if known:
        least, hour = min(known)
        title = f"In {MONTHS[month - 1]} least sun arrives from {hour} to {hour + 1} h: {least:.0f} % of it"
        if least > ALL_OF_IT:
            title = f"In {MONTHS[month - 1]} all of the sun arrives at every hour"
    return HeatMap(
        title=title, across="hour of a sundial", up="month", columns=tuple(str(hour) for hour in HOURS),
        rows=tuple(reversed(MONTHS)), values=values, unit="% of the sun", low=0.0, high=100.0, nothing=DOWN,
    )  # fmt: skip


def year_chart(plan: Any) -> Chart:
    """Return hours of sun by month: on open ground, unshaded under the frame, and light that arrives."""
    found = sun_on.year_of(*sun_on.of(plan))
    direct, free = (one.direct_h.mean(axis=(1, 2)) for one in (found.under, found.open_))
    through = found.under.filtered_h.mean(axis=(1, 2))
    month = named.month_of(plan.build.day) - 1
    title = f"In {MONTHS[month]} {direct[month]:.1f} h of sun unshaded and {through[month]:.1f} h through the cloth"

    def line(values: Floats) -> tuple[tuple[float, float], ...]:
        return tuple((float(n), float(value)) for n, value in enumerate(values))

    return Chart(
        title=title, across="month, on its middle day", up="hours of sun a day", names=MONTHS, here=float(month),
        lines=(
            ChartLine(name="open ground", points=line(free), dashed=True),
            ChartLine(name="unshaded", points=line(direct), places=True),
            ChartLine(name="through cloth", points=line(through), places=True),
        ),
    )  # fmt: skip


def overhang_chart(plan: Any, system: str) -> Chart:
    """Return what each overhang keeps off in summer and lets in in winter."""
    build, outer, latitude = sun_on.of(plan)
    rows, (unit, each) = sun_on.overhangs_of(build, outer, latitude), SMALL[system]
    summer, winter = sun_on.seasons(latitude)
    mine = next(row for row in rows if row.overhang_m == build.overhang_m)
    title = (
        f"Your overhang keeps off {mine.summer_kept_off:.0%} of {summer}'s sun from 12 to 16 h and lets "
        f"{mine.winter_let_in:.0%} of {winter}'s in"
    )
    kept = tuple((row.overhang_m * each, 100 * row.summer_kept_off) for row in rows)
    most = 100 * (load_coverings()[build.cloth].shade_share or 0.0)
    let = tuple((row.overhang_m * each, 100 * row.winter_let_in) for row in rows)
    return Chart(
        title=title, across=f"overhang, {unit}", up="% of the sun", here=build.overhang_m * each,
        lines=(
            ChartLine(name=f"{summer}, kept off", points=kept, places=True),
            ChartLine(name=f"{winter}, let in", points=let, places=True, dashed=True),
            ChartLine(name="most it can keep off", points=tuple((x, most) for x, _ in kept), dashed=True),
        ),
    )  # fmt: skip


def wires_chart(plan: Any, system: str) -> Chart:
    """Return what a wire pulls, strung to the reader's sag, as gusts press the cloth."""
    build, wires = plan.build, Wires(plan.build)
    (speed, per), (unit, each) = SPEED[system], FORCE[system]

    def pull(gust: float) -> float:
        pressure = wires.pressure_pa(plan.site, gust)
        return cables.end_pull_n(wires.pull_n(pressure), wires.load_n_per_m(pressure), wires.span_m) * each

    gusts = np.linspace(0.0, max(25.0, build.out_wind_m_per_s), GUSTS + 1).tolist()
    here = pull(build.out_wind_m_per_s)
    title = f"Drawn out in the gust you leave it in, each wire pulls {here:.3g} {unit}"
    return Chart(
        title=title, across=f"gust, {speed}", up=f"pull at the wire's end, {unit}", here=build.out_wind_m_per_s * per,
        lines=(
            ChartLine(name="pull", points=tuple((gust * per, pull(gust)) for gust in gusts)),
            ChartLine(name="allowed", points=tuple((g * per, wires.allowed_n * each) for g in (gusts[0], gusts[-1])),
                      dashed=True),
        ),
    )  # fmt: skip
