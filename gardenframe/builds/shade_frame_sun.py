"""The sun on what a shade frame stands over: a day's map, the year by month and hour, what an overhang does.

Tubes cast no shadow here: they are thin beside the cloth. Hours are those of a sundial. The bed's points and the cloths
are turned so that the front looks where the reader said.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np

from gardenframe import named
from gardenframe.builds.fields import both
from gardenframe.builds.shade_frame_roof import Roof
from gardenframe.climate import shade, sun
from gardenframe.climate.shade import Block, Screen, SunMap
from gardenframe.climate.sun import Floats
from gardenframe.materials.coverings import load_coverings
from gardenframe.working import Step

CELL_M = 0.25
MOST_CELLS, LEAST_CELLS = (14, 8), (6, 4)
SITTING_M, HEADS_M = 1.2, 1.9  # a sitting head over the ground; heads of those who walk in
DEEP_M = 4.0  # of a neighbour, away from the frame
DAY_STEPS, YEAR_STEPS = 40, 24
HIGH_SUN_DEG = 50.0  # a day whose noon sun stands higher is one to shade
MISSED = 0.4  # of what the cloth keeps off: below it most of the shade is lost
WORTH_SAYING = 0.05  # of summer kept off and winter let in together
OVERHANG_CELLS = (8, 8)
OVERHANGS_M = (0.0, 0.15, 0.3, 0.45, 0.6, 0.75, 0.9, 1.05, 1.2)


def points(build: Any, outer_m: float, most: tuple[int, int] = MOST_CELLS) -> Floats:
    """Return the middles of the cells of what is shaded, turned to the compass: (deep, across, 3). [m]"""
    across, deep = (
        min(max(round(side / CELL_M), least), high)
        for side, least, high in zip((build.length_m, build.width_m), LEAST_CELLS, most)
    )
    level = build.soil_m if build.over == "bed" else SITTING_M
    grid = shade.bed_grid(build.length_m, build.width_m, across, deep, level)
    return shade.turned(grid - [0.0, outer_m / 2, 0.0] - _middle(build, outer_m), build.faces_deg)


def cloths(build: Any, roof: Roof) -> list[Screen]:
    """Return the cloths as the sun meets them; none where a sliding one is gathered."""
    passes = load_coverings()[build.cloth].light_share or 0.0
    drawn = build.drawn if build.form == "wires" else 1.0
    if drawn <= 0.0:
        return []
    middle = _middle(build, roof.outer_m)
    turned = (shade.turned(np.array(corners) - middle, build.faces_deg) for corners in roof.cloths(drawn))
    return [Screen(tuple((float(x), float(y), float(z)) for x, y, z in corners), passes) for corners in turned]


def neighbours(build: Any) -> list[Block]:
    """Return what else throws a shadow."""
    if not build.neighbour_m:
        return []
    turn, half = math.radians(build.neighbour_to_deg), build.neighbour_long_m / 2
    way, beside = (math.sin(turn), math.cos(turn)), (math.cos(turn), -math.sin(turn))
    plan = tuple(
        (way[0] * off + beside[0] * side, way[1] * off + beside[1] * side)
        for off, side in (
            (build.neighbour_off_m, -half), (build.neighbour_off_m, half),
            (build.neighbour_off_m + DEEP_M, half), (build.neighbour_off_m + DEEP_M, -half),
        )
    )  # fmt: skip
    return [Block(plan, build.neighbour_m)]


def _middle(build: Any, outer_m: float) -> Floats:
    return np.array([build.length_m / 2, (build.width_m - outer_m) / 2, 0.0])


@dataclass(frozen=True, slots=True)
class Sunned:
    """One map with the cloth and one without it, the neighbour standing in both."""

    under: SunMap
    open_: SunMap


@lru_cache(maxsize=32)
def day_of(build: Any, outer_m: float, latitude_deg: float) -> Sunned:
    """Return the sun of the build's day."""
    at, near = points(build, outer_m), neighbours(build)
    with_cloth: list[Screen | Block] = [*cloths(build, Roof(build, outer_m)), *near]
    return Sunned(
        shade.day_map(at, with_cloth, latitude_deg, build.day, DAY_STEPS),
        shade.day_map(at, near, latitude_deg, build.day, DAY_STEPS),
    )


@lru_cache(maxsize=32)
def year_of(build: Any, outer_m: float, latitude_deg: float) -> Sunned:
    """Return the sun of the middle day of each month, on fewer points."""
    at, near = points(build, outer_m, LEAST_CELLS), neighbours(build)
    with_cloth: list[Screen | Block] = [*cloths(build, Roof(build, outer_m)), *near]
    return Sunned(
        shade.sun_map(at, with_cloth, latitude_deg, steps=YEAR_STEPS),
        shade.sun_map(at, near, latitude_deg, steps=YEAR_STEPS),
    )


@lru_cache(maxsize=32)
def overhangs_of(build: Any, outer_m: float, latitude_deg: float) -> tuple[shade.Overhang, ...]:
    """Return what each overhang does, the build's own among them."""
    at, near = points(build, outer_m, OVERHANG_CELLS), neighbours(build)
    sizes = sorted({*OVERHANGS_M, build.overhang_m})
    return tuple(
        shade.overhangs(at, lambda size: [*cloths(build, Roof(build, outer_m, size)), *near], latitude_deg, sizes)
    )


def of(plan: Any) -> tuple[Any, float, float]:
    """Return what the maps of a plan are made from."""
    return plan.build, plan.shop.member(plan.build.tube).outer_mm / 1000, plan.site.latitude_deg


def kind_of_day(latitude_deg: float, day: int) -> str:
    """Return usual, polar day or polar night."""
    half = float(sun.half_day_h(latitude_deg, day))
    return "polar night" if half == 0 else "polar day" if half == 12 else "usual"


def sentences(plan: Any) -> Iterator[str]:
    """Yield where there is no sun to shade, where a cloth misses the bed, and a better overhang than the build's."""
    build, outer, latitude = of(plan)
    day, what = named.write(build.day, "date"), "the bed" if build.over == "bed" else "the seat"
    kind = kind_of_day(latitude, build.day)
    if kind == "polar night":
        yield f"On {day} the sun does not rise at latitude {latitude:g}°: there is nothing to shade."
    if kind == "polar day":
        yield f"On {day} the sun does not set at latitude {latitude:g}°: it goes round the whole horizon."
    if kind != "polar night":
        share = float(day_of(build, outer, latitude).under.light_share.mean())
        drawn = build.drawn if build.form == "wires" else 1.0  # what is gathered misses nothing
        most = drawn * (load_coverings()[build.cloth].shade_share or 0.0)
        high = float(sun.at_solar_time(latitude, build.day, 12.0).altitude_deg)
        if build.over == "seat" and build.height_m < SITTING_M:
            yield (
                f"The cloth hangs lower than a sitting head, {both(SITTING_M)} over the ground: raise the frame to "
                f"{both(HEADS_M)}, so that people walk in under it."
            )
        elif high > HIGH_SUN_DEG and 1 - share < MISSED * most:
            yield (
                f"On {day} {share:.0%} of a clear day's light reaches {what}: the shadow of the cloth falls mostly "
                "beside it. Lower the frame, or let the cloth reach further out."
            )
    if build.form != "wires":
        rows = overhangs_of(build, outer, latitude)
        best, mine = shade.best_overhang(rows), next(row for row in rows if row.overhang_m == build.overhang_m)
        if best.summer_kept_off + best.winter_let_in > mine.summer_kept_off + mine.winter_let_in + WORTH_SAYING:
            yield overhang_sentence(build, rows, latitude)


def seasons(latitude_deg: float) -> tuple[str, str]:
    """Return the names of the summer's and the winter's month."""
    return ("July", "December") if latitude_deg >= 0 else ("January", "June")


def overhang_sentence(build: Any, rows: tuple[shade.Overhang, ...], latitude_deg: float) -> str:
    """Return which overhang does most, and what the build's own does."""
    best, (summer, winter) = shade.best_overhang(rows), seasons(latitude_deg)
    mine = next(row for row in rows if row.overhang_m == build.overhang_m)
    size = both(best.overhang_m) if best.overhang_m else "none"
    told = f"{mine.summer_kept_off:.0%} and {mine.winter_let_in:.0%}"
    return (
        f"Of the overhangs to {both(OVERHANGS_M[-1])}, the one that does most is {size}: it keeps off "
        f"{best.summer_kept_off:.0%} of {summer}'s sun from 12 to 16 h and lets {best.winter_let_in:.0%} of "
        f"{winter}'s in; yours {told}."
    )


def working(plan: Any, system: str) -> Iterator[tuple[str, list[Step]]]:
    """Yield the noon sun of the day and the overhang that shades the front of the bed by it, by hand."""
    build, outer, latitude = of(plan)
    roof = Roof(build, outer)
    tilted = sun.declination_deg.shown(float(build.day), system=system)
    day_h = sun.day_length_h.shown(latitude, tilted.value, system=system)
    high = sun.noon_altitude_deg.shown(latitude, tilted.value, system=system)
    yield "Sun of the day", [tilted, day_h, high]
    place = sun.at_solar_time(latitude, build.day, 12.0)
    turned = (float(place.azimuth_deg) - build.faces_deg + 180) % 360 - 180
    level = build.soil_m if build.over == "bed" else SITTING_M
    edge = roof.slopes[0].z(-roof.over) + outer - level
    if build.form == "wires" or not 1 < high.value < 89 or abs(turned) > 80 or edge <= 0:
        return
    profile = shade.profile_tangent.shown(high.value, turned, system=system)
    yield "Overhang that shades the front posts' line at noon", [
        profile, shade.overhang_m.shown(edge, profile.value, system=system)
    ]  # fmt: skip
