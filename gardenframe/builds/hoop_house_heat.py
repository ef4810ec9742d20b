"""Heat and air of a hoop house: the heater of its coldest night, the rise on a clear day shut, and the air it needs.

A house, its section and the invented garden's climate come in; a `House` of the climate and shown arithmetic go out.
The covering's own values are known to about a fifth; the ground's store is left out.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from gardenframe.builds.hoop_house_shape import Section, end_area_m2
from gardenframe.climate import heat
from gardenframe.climate.covers import Month, find_cover, load_covers, load_garden, load_leaks
from gardenframe.climate.sky import clear_light
from gardenframe.climate.sun import MIDDLE_DAYS, declination_deg, noon_altitude_deg, shadow_m
from gardenframe.working import Step

MONTHS = tuple((key.key, key.key.capitalize()) for key in load_garden().values())
GLAZINGS = tuple((cover.key, cover.label) for cover in load_covers().values() if cover.covering == "film-6mil")
RISE_K = 5.0  # over outside that vents are sized for (common practice, no source)
LOWEST_SUN_DEG = 2.0  # a lower sun throws shadows without end


@dataclass(frozen=True, slots=True)
class Opening:
    """What opens for air: name, area of its lower half, from the middle of that to the upper's, wind through or not."""

    name: str
    area_m2: float
    height_m: float
    through: bool


def is_warm(build: Any) -> bool:
    """Return whether a house holds warmth: film all round."""
    return bool(build.covering.startswith("film") and build.end_walls)


def opening_of(build: Any) -> Opening | None:
    """Return what opens on a hot day: rolled sides, else doors; wind blows through where two sides open."""
    if build.roll_up:
        return Opening("sides up", build.length_m * build.roll_up_m, build.roll_up_m / 2, through=True)
    if build.end_walls and build.door != "none":
        area, both = build.door_width_m * build.door_height_m, build.door == "both ends"
        name = "doors open" if both else "door open"
        return Opening(name, area if both else area / 2, build.door_height_m / 2, through=both)
    return None


def cover_area_m2(section: Section, length_m: float, ends: bool) -> float:
    """Return the area that loses heat: hoops by length, and both ends. [m²]"""
    return 2 * section.half_length_m * length_m + (2 * end_area_m2(section) if ends else 0.0)


def house_of(build: Any, section: Section, glazing: str) -> heat.House:
    """Return a house for heat and air under a way of glazing, leaks in the middle of what is known of new ones."""
    cover, leak = find_cover(glazing), load_leaks()["new-film"]
    return heat.House(
        cover_m2=cover_area_m2(section, build.length_m, build.end_walls),
        floor_m2=2 * section.half_width_m * build.length_m,
        volume_m3=end_area_m2(section) * build.length_m,
        u_w_per_m2_k=(cover.u_low_w_per_m2_k + cover.u_high_w_per_m2_k) / 2,
        light_ratio=cover.light_share,
        changes_per_h=(leak.changes_low_per_h + leak.changes_high_per_h) / 2,
        vent_height_m=max(0.5 * section.top_m, 0.2),
    )


def month_of(build: Any) -> Month:
    """Return the month that a build is heated and aired for."""
    return next(month for month in load_garden().values() if month.key == build.month)


def noon_w_per_m2(latitude_deg: float, month: int) -> float:
    """Return the clear-sky sun on the ground at noon in the middle of a month. [W/m²]"""
    day = MIDDLE_DAYS[month - 1]
    altitude = noon_altitude_deg(latitude_deg, declination_deg(day))
    return float(clear_light(altitude, day).level_w_per_m2)


def working(build: Any, section: Section, plan: Any, system: str) -> Iterator[tuple[str, list[Step]]]:
    """Yield its shadow at noon; of film all round, the heater of the coldest night, the rise at noon and the air."""
    yield from _shadow(build, section, plan, system)
    if is_warm(build):
        yield from _heat(build, section, plan, system)


def _shadow(build: Any, section: Section, plan: Any, system: str) -> Iterator[tuple[str, list[Step]]]:
    month, latitude = month_of(build), plan.site.latitude_deg
    day = float(MIDDLE_DAYS[month.month - 1])
    turned = declination_deg(day)
    noon = noon_altitude_deg(latitude, turned)
    if noon > LOWEST_SUN_DEG:
        yield (
            f"Its shadow at noon in the middle of {month.key.capitalize()}",
            [
                declination_deg.shown(day, system=system),
                noon_altitude_deg.shown(latitude, turned, system=system),
                shadow_m.shown(section.top_m, noon, system=system),
            ],
        )


def _heat(build: Any, section: Section, plan: Any, system: str) -> Iterator[tuple[str, list[Step]]]:
    house, month = house_of(build, section, build.glazing), month_of(build)
    cover_loss = heat.cover_loss_w_per_k(house.u_w_per_m2_k, house.cover_m2)
    air_loss = heat.air_loss_w_per_k(house.changes_per_h, house.volume_m3)
    warmer = max(0.0, build.keep_degc - month.cold_night_degc)
    yield (
        f"Heater on the coldest night of {month.key.capitalize()}",
        [
            heat.cover_loss_w_per_k.shown(house.u_w_per_m2_k, house.cover_m2, system=system),
            heat.air_loss_w_per_k.shown(house.changes_per_h, house.volume_m3, system=system),
            heat.heat_loss_w.shown(cover_loss + air_loss, warmer, system=system),
        ],
    )
    sun = noon_w_per_m2(plan.site.latitude_deg, month.month)
    gain = house.gain_w(sun)
    if gain <= 0:
        return
    flow = heat.needed_flow_m3_per_s(gain, house.loss_w_per_k, RISE_K)
    yield (
        "How much warmer than outside, shut, at clear noon",
        [
            heat.solar_gain_w.shown(sun, house.floor_m2, house.light_ratio, house.evaporated_ratio, system=system),
            heat.closed_rise_k.shown(gain, house.loss_w_per_k, system=system),
        ],
    )
    yield (
        "Air in summer by floor area",
        [
            heat.fan_m3_per_s.shown(house.floor_m2, system=system),
            heat.air_changes_per_h.shown(heat.fan_m3_per_s(house.floor_m2), house.volume_m3, system=system),
        ],
    )
    if flow > 0:
        inside = month.warm_day_degc + RISE_K + heat.ZERO_K
        stack = heat.stack_m_per_s(house.vent_height_m, RISE_K, inside)
        through = heat.vent_m_per_s(stack, month.wind_m_per_s)
        near = f"{RISE_K:g} °C" if system == "metric" else f"{RISE_K * 1.8:g} °F"
        yield (
            f"Low vents, and as much high, that keep it within {near} of outside",
            [
                heat.needed_flow_m3_per_s.shown(gain, house.loss_w_per_k, RISE_K, system=system),
                heat.stack_m_per_s.shown(house.vent_height_m, RISE_K, inside, system=system),
                heat.vent_m_per_s.shown(stack, month.wind_m_per_s, system=system),
                heat.vent_area_m2.shown(flow, through, system=system),
            ],
        )
