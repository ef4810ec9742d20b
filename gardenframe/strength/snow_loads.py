"""Snow and standing water on covers: whole, and on one half only; on flat panels and on swept ones."""

import math
from collections.abc import Iterator, Sequence

import numpy as np

from gardenframe.geometry.frame import Frame
from gardenframe.geometry.vectors import Vector, size, times
from gardenframe.materials import constants
from gardenframe.materials.coverings import Covering
from gardenframe.strength import snow
from gardenframe.strength.bearing import Bearing
from gardenframe.strength.cases import Case, LineLoads
from gardenframe.strength.mesh import Floats, points_at
from gardenframe.strength.setting import Setting
from gardenframe.strength.skins import Patch

FLAT_DEG = 5.0  # on a flatter closed cover water can stand
ALONG_MIDDLE_M = 0.001
WALL_DEG = 80.0  # a steeper part of a swept strip is its foot, no roof
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


def snow_cases(setting: Setting, patches: Sequence[Patch], bearing: Bearing) -> Iterator[Case]:
    """Yield snow (whole, each half) and water on every cover that can hold it."""
    ground = setting.site.ground_snow_pa
    depth_pa = constants.value("water_density_kg_per_m3") * constants.value("gravity_m_per_s2")
    depth_pa *= constants.value("ponding_m")
    fallen, standing = np.zeros((2, len(patches), 3))
    nets = False
    for i, patch in enumerate(patches):
        panel = patch.panel
        if panel.covering is None or panel.side == "floor" or setting.condition == "bare":
            continue
        cover, slope, level = setting.coverings[panel.covering], slope_of(patch.normal), abs(patch.normal[2])
        if ground and (cover.holds_snow or cover.closed):  # what lies on its plan
            fallen[i, 2] = -snow.cover_snow_pa(ground, slope, slippery(cover)) * level
            nets = nets or bool(fallen[i, 2] and not cover.closed)
        if panel.outline is not None and holds_water(cover, slope):
            standing[i, 2] = -depth_pa * level
    if fallen.any():
        loads = bearing.loads(fallen)
        yield Case(key="S", loads=loads, label="snow; a net holds it too, wet" if nets else "snow")
        blown = [drifted(setting, patches, fallen, axis) for axis in (0, 1)]
        across = [loads if whole is fallen else bearing.loads(whole) for whole in blown]
        yield from _halves(setting.frame, across)
    if standing.any():
        yield Case(key="R", loads=bearing.loads(standing), label="water standing on the cover")


def drifted(setting: Setting, patches: Sequence[Patch], fallen: Floats, axis: int) -> Floats:
    """Return the snow on each patch where a wind along an axis has blown it over a ridge or a crown. [Pa]

    The side that is left bare is cut off later. Only arches and gables drift (ASCE 7, unbalanced loads, from memory: on
    a gable as much as lies on the ground); where there is none, what was given comes back.
    """
    ground, out = setting.site.ground_snow_pa, fallen
    flat = snow.flat_snow_pa(1.0, constants.value("thermal_cold_ratio"), 1.0, ground)
    ups = [p.normal if p.normal[2] >= 0 else times(p.normal, -1) for p in patches]
    leans = {(u[axis] > 0) for p, u, f in zip(patches, ups, fallen[:, 2]) if f and p.panel.outline and u[axis]}
    steepest: dict[str, float] = {}
    for patch, up in zip(patches, ups):
        if patch.panel.swept and abs(up[axis]) > abs(up[1 - axis]) and (slope := slope_of(up)) < WALL_DEG:
            steepest[patch.panel.key] = max(slope, steepest.get(patch.panel.key, 0.0))
    for i in np.flatnonzero(fallen[:, 2]).tolist():
        patch, up, slope = patches[i], ups[i], slope_of(ups[i])
        cover = setting.coverings[patch.panel.covering or ""]
        from_deg = snow.SLIPPERY_FROM_DEG if slippery(cover) else snow.ROUGH_FROM_DEG
        eaves = steepest.get(patch.panel.key, 0.0)
        if patch.panel.swept and eaves >= snow.ARCH_LEAST_DEG:
            on_plan = flat * snow.drifted_arch_ratio(slope, eaves, from_deg)
        elif len(leans) > 1 and abs(up[axis]) > abs(up[1 - axis]) and (
            snow.GABLE_LEAST_DEG <= slope <= snow.GABLE_MOST_DEG
        ):  # fmt: skip
            on_plan = ground
        else:
            continue
        out = fallen.copy() if out is fallen else out
        out[i, 2] = -on_plan * up[2]
    return out


def _halves(frame: Frame, across: Sequence[LineLoads]) -> Iterator[Case]:
    """Yield the snow on each half that holds any, where the other half holds some too; by the axis it is cut across."""
    ends = [_ends(frame, loads) for loads in across]
    for key, axis, side in HALVES:
        loads, (start, finish) = across[axis], ends[axis]
        a, b = start[:, axis], finish[:, axis]
        middle = (min(a.min(), b.min()) + max(a.max(), b.max())) / 2
        part = _one_side(loads, (a - middle) * side, (b - middle) * side)
        if len(part):
            yield Case(key=key, loads=part, label=f"snow on the {key[2:]} half only")


def _one_side(loads: LineLoads, near_m: Floats, far_m: Floats) -> LineLoads:
    """Return the part of loads that lies on the far side of a middle; a run along the middle carries half.

    Parameters
    ----------
    near_m, far_m : arrays
        How far beyond the middle each load starts and ends. [m]
    """
    along = np.maximum(np.abs(near_m), np.abs(far_m)) < ALONG_MIDDLE_M
    crossing = near_m / np.where(near_m == far_m, 1.0, near_m - far_m)
    near = np.where(along | (near_m >= 0), 0.0, np.where(far_m > 0, crossing, 1.0))
    far = np.where(along | (far_m >= 0), 1.0, np.where(near_m > 0, crossing, 0.0))
    return loads.between(near, far, np.where(along, 0.5, 1.0))


def _ends(frame: Frame, loads: LineLoads) -> tuple[Floats, Floats]:
    """Return the points where loads start and where they end. [m]"""
    order = np.argsort(loads.run, kind="stable")
    firsts = np.searchsorted(loads.run[order], np.arange(len(loads.runs) + 1))
    out = np.empty((2, len(loads), 3))
    for number, key in enumerate(loads.runs):
        mine = order[firsts[number] : firsts[number + 1]]
        if len(mine):
            out[0, mine] = points_at(frame.lines[key], loads.from_m[mine])
            out[1, mine] = points_at(frame.lines[key], loads.to_m[mine])
    return out[0], out[1]
