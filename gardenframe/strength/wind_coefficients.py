"""Which ASCE 7 coefficient each patch takes from a wind: skins of buildings and arches, free roofs."""

import math
from collections.abc import Iterator, Mapping
from functools import partial

from gardenframe.geometry.frame import Panel
from gardenframe.geometry.vectors import Vector, dot, minus, size, times, unit
from gardenframe.kept import Keeps
from gardenframe.strength import building_wind, wind
from gardenframe.strength.panels import Share, shares_of
from gardenframe.strength.setting import Setting
from gardenframe.strength.skins import WALL_RISE, Arch, Patch, Skin, arch_of, patches_of
from gardenframe.strength.strips import half

ACROSS = 0.5  # cosine to the wind above which a wall faces it
STEEPEST_FREE_DEG = 45.0
LEVEL_DEG = 10.0  # a flatter roof has no windward side
HIGHEST_ARCH = 0.6
LOW_ARCH, MIDDLE_ARCH = 0.2, 0.3


def is_skin(setting: Setting, panel: Panel) -> bool:
    """Whether a panel closes a space: it says so or it is swept, and it is no open lattice."""
    return (panel.encloses or panel.swept is not None) and setting.whole(panel) > wind.OPEN_BELOW


def is_free_roof(setting: Setting, panel: Panel, patch: Patch) -> bool:
    """Whether a panel is a roof that wind passes above and below."""
    slope = math.degrees(math.acos(min(1.0, abs(patch.normal[2]))))
    return panel.side == "roof" and bool(panel.outline) and slope <= STEEPEST_FREE_DEG and setting.solidity(panel) > 0


def skin_ratios(skin: Skin, blow: Vector, pressing: bool) -> list[float]:
    """Return the outside coefficient of each patch of a skin; positive presses on it."""
    if (blow, pressing) not in skin.ratios:
        skin.ratios[blow, pressing] = _skin_ratios(skin, blow, pressing)
    return skin.ratios[blow, pressing]


def _skin_ratios(skin: Skin, blow: Vector, pressing: bool) -> list[float]:
    begin, end = skin.reach_m(blow)
    across = skin.reach_m((-blow[1], blow[0], 0.0))
    length, height = max(end - begin, 1e-6), max(skin.height_m, 1e-6)
    breadth = max(across[1] - across[0], 1e-6)
    panels = {patch.panel.key: patch.panel for patch in skin.patches}
    arches = {key: _arch_across(skin, panel, blow) for key, panel in panels.items() if panel.swept}
    starts = {key: _starts_windward(skin, panels[key], blow) for key, arch in arches.items() if arch}
    reached: dict[str, tuple[float, float]] = {}
    found = []
    for patch in skin.patches:
        key = patch.panel.key
        if arch := arches.get(key):
            found.append(_arch_ratio(patch, arch, starts[key], length / breadth, pressing))
        elif abs(patch.normal[2]) < WALL_RISE:
            found.append(_wall_ratio(patch, blow, length / breadth))
        else:
            if key not in reached:
                reached[key] = _along(skin, patch.panel, blow)
            near, far = (edge - begin for edge in reached[key])
            found.append(_roof_ratio(patch, blow, height / length, near / height, far / height, pressing))
    return found


def _along(skin: Skin, panel: Panel, blow: Vector) -> tuple[float, float]:
    lines = [panel.outline] if panel.outline else skin.frame.sweep(panel)
    reached = [dot(piece.start, blow) for line in lines for piece in line.pieces]
    reached += [dot(line.point(line.length_m), blow) for line in lines]
    return min(reached), max(reached)


def _arch_across(skin: Skin, panel: Panel, blow: Vector) -> Arch | None:
    """Return the arch of a strip where the wind blows across it."""
    first, second = skin.frame.sweep(panel)
    ridge = unit(minus(second.point(0.0), first.point(0.0)))
    return arch_of(first) if abs(dot(ridge, blow)) < math.sqrt(ACROSS) else None


def _starts_windward(skin: Skin, panel: Panel, blow: Vector) -> bool:
    line = skin.frame.sweep(panel)[0]
    return dot(line.point(0.0), blow) < dot(line.point(line.length_m), blow)


def _arch_ratio(patch: Patch, arch: Arch, starts: bool, length_ratio: float, pressing: bool) -> float:
    """Coefficient of a stretch of an arch: feet as walls, then windward quarter, centre half, leeward quarter."""
    start, finish = arch.feet if starts else arch.feet[::-1]
    share = patch.share if starts else 1 - patch.share
    if share < start:
        return building_wind.wall_ratio("windward")
    if share > 1 - finish:
        return building_wind.wall_ratio("leeward", length_ratio)
    rise = min(arch.rise_ratio, HIGHEST_ARCH)
    quarters = wind.arched_coefficients(rise, from_ground=not arch.on_feet)
    along = (share - start) / (1 - start - finish)
    if along < 1 / 4:
        if arch.on_feet and LOW_ARCH <= rise <= MIDDLE_ARCH and not pressing:
            return wind.arched_lifting_ratio(rise)
        return quarters[0]
    return quarters[1] if along < 3 / 4 else quarters[2]


def _wall_ratio(patch: Patch, blow: Vector, length_ratio: float) -> float:
    facing = dot(patch.normal, blow)
    if facing < -ACROSS:
        return building_wind.wall_ratio("windward")
    return building_wind.wall_ratio("leeward", length_ratio) if facing > ACROSS else building_wind.wall_ratio("side")


def _roof_ratio(patch: Patch, blow: Vector, height_ratio: float, near: float, far: float, pressing: bool) -> float:
    """Coefficient of a flat part of a roof: by its slope where it looks to or from the wind, else by the distance."""
    slope = math.degrees(math.acos(min(1.0, abs(patch.normal[2]))))
    facing = dot(patch.normal, blow) / max(size((patch.normal[0], patch.normal[1], 0.0)), 1e-9)
    if slope < LEVEL_DEG or abs(facing) < ACROSS:
        return building_wind.roof_along_ratio(height_ratio, near, far, pressing)
    return building_wind.roof_ratio("windward" if facing < 0 else "leeward", height_ratio, slope, pressing)


def free_roof_ratios(
    setting: Setting, roofs: list[Patch], blow: Vector, case: int, kept: Keeps
) -> Iterator[tuple[Patch, float]]:
    """Yield the patches of free roofs with their net coefficient (case 0 is A, 1 is B); positive presses down.

    `kept` belongs to the frame: the halves of its roofs are the same for every wind that blows the same way.
    """
    begin = min(dot(p.start, blow) for patch in roofs for p in _pieces(patch.panel))
    end = max(dot(p.start, blow) for patch in roofs for p in _pieces(patch.panel))
    height = sum(patch.middle[2] for patch in roofs) / len(roofs)
    one_slope = all(abs(dot(_up(roofs[0]), _up(patch))) > 1 - 1e-6 for patch in roofs)
    for patch in roofs:
        up = _up(patch)
        slope = math.degrees(math.acos(min(1.0, up[2])))
        facing = dot(up, blow) / max(size((up[0], up[1], 0.0)), 1e-9)
        if slope > 1 and abs(facing) < ACROSS:
            along = [dot(p.start, blow) - begin for p in _pieces(patch.panel)]
            near, far = min(along) / height, max(along) / height
            yield patch, building_wind.free_roof_along_ratio(near, far, "AB"[case])
        elif one_slope:
            form = "monoslope-low" if slope > 1 and facing < 0 else "monoslope"
            ends = wind.free_roof_coefficients(form, slope)[case]
            middle = (begin + end) / 2
            made = partial(_halves, setting, patch, blow, middle)
            yield from ((part, ends[i]) for i, part in kept.once(("halves", patch.panel.key, blow, middle), made))
        else:
            ends = wind.free_roof_coefficients("pitched", max(slope, 7.5))[case]
            yield patch, ends[0] if facing < 0 else ends[1]


def _pieces(panel: Panel) -> tuple:  # type: ignore[type-arg]
    return panel.outline.pieces if panel.outline else ()


def _up(patch: Patch) -> Vector:
    return patch.normal if patch.normal[2] >= 0 else times(patch.normal, -1)


def _halves(setting: Setting, patch: Patch, blow: Vector, middle: float) -> list[tuple[int, Patch]]:
    """Return the windward part (0) and the leeward part (1) of a patch that a line across the roof's middle cuts."""
    found = []
    for i, way in enumerate((times(blow, -1), blow)):
        part = half(patch.panel, times(blow, middle), way)
        if part is not None:
            shares: Mapping[str, list[Share]] = {part.key: shares_of(setting.frame, part)}
            cut = patches_of(setting.frame, part, shares)[0]
            found.append((i, cut._replace(panel=patch.panel)))
    return found
