"""Snow and standing water on covers: whole, and on one half only; on flat panels and on swept ones."""

import math
from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache

from gardenframe.geometry.arcs import Centreline
from gardenframe.geometry.frame import Frame, Panel
from gardenframe.geometry.vectors import Vector, add, size, times
from gardenframe.materials import constants
from gardenframe.materials.coverings import Covering
from gardenframe.strength import snow
from gardenframe.strength.cases import Case, LineLoad
from gardenframe.strength.panels import Share, normal, spread
from gardenframe.strength.setting import Setting
from gardenframe.strength.strips import swept

FLAT_DEG = 5.0  # on a flatter closed cover water can stand
ALONG_MIDDLE_M = 0.001
HALVES = (("S left", 0, -1), ("S right", 0, 1), ("S front", 1, -1), ("S back", 1, 1))


def slope_of(normal_: Vector) -> float:
    """Slope of a surface from level by its normal, 0 to 90. [deg]"""
    return math.degrees(math.acos(min(1.0, abs(normal_[2]) / size(normal_))))


def slippery(cover: Covering) -> bool:
    """Whether snow slides off: closed sheets and films, not boards, cloth or nets."""
    return cover.closed and cover.kind not in ("boards", "fabric")


def holds_water(cover: Covering, slope_deg: float) -> bool:
    """Whether water can stand: a closed cover that is nearly level, or a soft one whose belly hangs below its edge.

    A belly of s times the span leaves the edge at a slope of 4 s (parabola).
    """
    belly = 0.0 if cover.stiff else math.degrees(math.atan(4 * constants.value("tie_belly_ratio")))
    return cover.closed and slope_deg < max(FLAT_DEG, belly)


def snow_cases(setting: Setting, shares: Mapping[str, list[Share]]) -> Iterator[Case]:
    """Yield snow (whole, each half) and water on every cover that can hold it."""
    frame, ground = setting.frame, setting.site.ground_snow_pa
    water = constants.value("water_density_kg_per_m3") * constants.value("gravity_m_per_s2")
    depth = water * constants.value("ponding_m")
    fallen: list[LineLoad] = []
    standing: list[LineLoad] = []
    nets = False
    for panel in frame.panels:
        if panel.covering is None or panel.side == "floor" or setting.condition == "bare":
            continue
        cover = setting.coverings[panel.covering]
        if ground and (cover.holds_snow or cover.closed):
            found = _on(frame, panel, shares, ground, cover)
            nets = nets or (bool(found) and not cover.closed)
            fallen += found
        if panel.outline is not None and holds_water(cover, slope_of(normal(frame, panel))):
            level = abs(normal(frame, panel)[2])
            standing += spread(frame, panel, (0, 0, -depth * level), shares[panel.key])
    if fallen:
        said = "snow; a net holds it too, wet" if nets else "snow"
        yield Case(key="S", loads=tuple(fallen), label=said)
        yield from _halves(frame, fallen)
    if standing:
        yield Case(key="R", loads=tuple(standing), label="water standing on the cover")


def _on(
    frame: Frame, panel: Panel, shares: Mapping[str, list[Share]], ground: float, cover: Covering
) -> list[LineLoad]:
    """Return the snow on one panel; a swept one by the slope of each stretch."""

    def pressure(area: Vector) -> Vector:
        """Force on a square metre of a surface: what lies on its plan. [Pa]"""
        on_plan = snow.cover_snow_pa(ground, slope_of(area), slippery(cover))
        return (0.0, 0.0, -on_plan * abs(area[2]) / size(area))

    if panel.outline is None:
        return [load for load in swept(frame, panel, lambda part: pressure(part.area)) if load.force_n_per_m[2]]
    force = pressure(normal(frame, panel))
    return spread(frame, panel, force, shares[panel.key]) if force[2] else []


def _halves(frame: Frame, loads: Sequence[LineLoad]) -> Iterator[Case]:
    """Yield the snow on each half that holds any, where the other half holds some too."""
    places = [_reach(frame, load) for load in loads]
    for axis in (0, 1):
        reaches = [(to_m, a[axis], b[axis]) for to_m, a, b in places]
        middle = (min(min(r[1:]) for r in reaches) + max(max(r[1:]) for r in reaches)) / 2
        for key, along, side in HALVES:
            if along == axis:
                part = tuple(_one_side(loads, reaches, middle, side))
                if part:
                    yield Case(key=key, loads=part, label=f"snow on the {key[2:]} half only")


def _one_side(
    loads: Sequence[LineLoad], reaches: Sequence[tuple[float, float, float]], middle: float, side: int
) -> Iterator[LineLoad]:
    """Yield the part of loads that lies on one side of their middle; a run along the middle carries half."""
    for load, (to_m, *places) in zip(loads, reaches):
        ends = [(place - middle) * side for place in places]
        if max(map(abs, ends)) < ALONG_MIDDLE_M:
            yield _part(load, load.from_m, to_m, to_m, share=0.5)
        elif min(ends) >= 0:
            yield load
        elif max(ends) > 0:
            cut = load.from_m + (to_m - load.from_m) * ends[0] / (ends[0] - ends[1])
            yield _part(load, load.from_m, cut, to_m) if ends[0] > 0 else _part(load, cut, to_m, to_m)


def _reach(frame: Frame, load: LineLoad) -> tuple[float, Vector, Vector]:
    """Return where a load ends on its run, and the points where it starts and ends. [m]"""
    line = frame.lines[load.run]
    to_m = line.length_m if load.to_m is None else load.to_m
    return to_m, *_ends(line, load.from_m, to_m)


@lru_cache(maxsize=16384)
def _ends(line: Centreline, from_m: float, to_m: float) -> tuple[Vector, Vector]:
    return line.point(from_m), line.point(to_m)


def _part(load: LineLoad, start_m: float, end_m: float, to_m: float, share: float = 1.0) -> LineLoad:
    """Return a stretch of a load that changes in a straight line, or a share of it."""
    last = load.force_n_per_m if load.to_n_per_m is None else load.to_n_per_m

    def at(station: float) -> Vector:
        along = (station - load.from_m) / (to_m - load.from_m)
        return times(add(times(load.force_n_per_m, 1 - along), times(last, along)), share)

    return LineLoad(run=load.run, force_n_per_m=at(start_m), to_n_per_m=at(end_m), from_m=start_m, to_m=end_m)
