"""What wind meets: panels cut into patches that face one way, and the closed skin that some of them make.

A setting goes in; patches with their outward normal, and of a skin its length, height and openness, come out.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from gardenframe.geometry.arcs import Centreline
from gardenframe.geometry.coverings import panel_area_m2
from gardenframe.geometry.frame import Frame, Panel
from gardenframe.geometry.vectors import Vector, dot, minus, size, times, unit
from gardenframe.kept import cached_property
from gardenframe.strength.panels import Share, normal
from gardenframe.strength.setting import WAYS
from gardenframe.strength.strips import legs_m, stretches_of

WALL_RISE = 0.5  # a patch steeper than 60° is a wall to the wind: the upward part of its normal is smaller
OPEN_SHARE = 0.05  # of a side: more that is missing than on the side across makes a building partly enclosed
LEVEL_FEET = 0.2  # an arch stands on two feet: their difference in height over its rise


class Patch(NamedTuple):
    """A part of a panel that faces one way, and the width of it that stretches of runs carry."""

    panel: Panel
    normal: Vector
    area_m2: float
    middle: Vector
    shares: Sequence[Share]
    share: float = 0.5  # along the runs of a swept strip


def patches_of(frame: Frame, panel: Panel, shares: Mapping[str, list[Share]], area_m2: float = 0.0) -> list[Patch]:
    """Return a flat panel as one patch, a swept one as its stretches."""
    if panel.outline is not None:
        whole = area_m2 or panel_area_m2(frame, panel)
        corners = [piece.start for piece in panel.outline.pieces]
        middle = times(tuple(map(sum, zip(*corners))), 1 / len(corners))  # type: ignore[arg-type]
        return [Patch(panel, normal(frame, panel), whole, middle, shares[panel.key])]
    found = []
    for part in stretches_of(frame, panel):
        area = size(part.area)
        width = area / 2 / (part.to_m - part.from_m)
        runs = [Share(key, part.from_m, part.to_m, width, width) for key in panel.swept or ()]
        found.append(Patch(panel, unit(part.area), area, part.middle, runs, part.share))
    return found


_KEPT: dict[int, tuple[Frame, tuple[str, ...], "Skin"]] = {}  # of the frames last asked for
KEPT_FRAMES = 16


def skin_of(patches: Sequence[Patch], frame: Frame) -> "Skin":
    """Return the skin of patches; for a frame asked for again, with the coefficients found before."""
    keys = tuple(patch.panel.key for patch in patches)
    kept = _KEPT.get(id(frame))
    if kept is not None and kept[0] is frame and kept[1] == keys:
        return kept[2]
    if len(_KEPT) >= KEPT_FRAMES:
        _KEPT.pop(next(iter(_KEPT)), None)
    skin = Skin.of(patches, frame)
    _KEPT[id(frame)] = (frame, keys, skin)
    return skin


@dataclass(frozen=True)
class Skin:
    """Patches that close a space round, each with its normal outward."""

    patches: tuple[Patch, ...]
    frame: Frame
    ratios: dict[tuple[Vector, bool], list[float]] = field(default_factory=dict, compare=False)  # filled when asked for

    @classmethod
    def of(cls, patches: Sequence[Patch], frame: Frame) -> "Skin":
        """Return the skin of patches, each turned to look away from the middle of them all."""
        whole = sum(patch.area_m2 for patch in patches)
        middle = [sum(p.middle[i] * p.area_m2 for p in patches) / whole for i in range(3)]
        turned = []
        for patch in patches:
            out = dot(patch.normal, minus(patch.middle, (middle[0], middle[1], middle[2])))
            turned.append(patch if out >= 0 else patch._replace(normal=times(patch.normal, -1)))
        return cls(tuple(turned), frame)

    @cached_property
    def sides_m2(self) -> dict[str, float]:
        """Area that faces each way, as it is seen from there. [m²]"""
        return {way: sum(max(dot(p.normal, blow), 0.0) * p.area_m2 for p in self.patches) for way, blow in WAYS.items()}

    @cached_property
    def one_side_open(self) -> bool:
        """Whether a side is missing, or has more openings than the side across from it."""
        seen = self.sides_m2
        for a, b in (("+x", "-x"), ("+y", "-y")):
            if min(seen[a], seen[b]) < (1 - OPEN_SHARE) * max(seen[a], seen[b]) or not seen[a]:
                return True
        return False

    @cached_property
    def has_door(self) -> bool:
        """Whether one of its panels is a door."""
        return any(patch.panel.side == "door" for patch in self.patches)

    @cached_property
    def points(self) -> list[Vector]:
        """Corners of its panels."""
        lines: list[Centreline] = []
        for panel in {patch.panel.key: patch.panel for patch in self.patches}.values():
            lines += [panel.outline] if panel.outline else self.frame.sweep(panel)
        return [point for line in lines for point in line.points(30.0)]

    def reach_m(self, blow: Vector) -> tuple[float, float]:
        """Where it begins and ends along a wind. [m]"""
        along = [dot(point, blow) for point in self.points]
        return min(along), max(along)

    @cached_property
    def height_m(self) -> float:
        """Mean height of its roof: halfway between eaves and top. [m]"""
        top = max(point[2] for point in self.points)
        eaves = min((patch.middle[2] for patch in self.patches if abs(patch.normal[2]) > WALL_RISE), default=top)
        return (top + eaves) / 2

    def holds(self, point: Vector) -> bool:
        """Whether a point lies inside, or on it."""
        return all(dot(minus(point, patch.middle), patch.normal) < 0.05 for patch in self.patches)


class Arch(NamedTuple):
    """Shape of the line that a strip is swept along: rise over span above its feet, feet as shares of its length."""

    rise_ratio: float
    on_feet: bool
    feet: tuple[float, float]


def arch_of(line: Centreline) -> Arch | None:
    """Return the arch of a line that stands on two feet of like height; None for any other line."""
    low, high = legs_m(line)
    start, end, top = line.point(low), line.point(line.length_m - high), line.point(line.length_m / 2)
    rise = top[2] - (start[2] + end[2]) / 2
    span = size(minus((start[0], start[1], 0.0), (end[0], end[1], 0.0)))
    if rise <= 0 or not span or abs(start[2] - end[2]) > LEVEL_FEET * rise:
        return None
    feet = (low / line.length_m, high / line.length_m)
    return Arch(rise / span, min(start[2], end[2]) > rise / 2 or max(feet) > 0, feet)
