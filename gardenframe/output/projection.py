"""Points of space on a sheet: front, side and plan views in third-angle projection, and runs as they are drawn.

A point in metres comes in, screen pixels and a depth go out. Third angle: each view stands on the side it is seen from.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from gardenframe.geometry.arcs import Straight
from gardenframe.geometry.frame import Frame, Run
from gardenframe.geometry.vectors import Vector
from gardenframe.materials import members
from gardenframe.output.svg import Point

AXES = {"front": (0, 2, 1, 1.0), "side": (1, 2, 0, -1.0), "plan": (0, 1, 2, -1.0)}  # across, up, depth, sign of depth
ARC_STEP_DEG = 6.0


@dataclass(frozen=True, slots=True)
class View:
    """One view in its place: pixels of the origin, and pixels to the metre."""

    name: str
    scale: float
    x_px: float
    y_px: float

    def point(self, at: Vector) -> Point:
        """Where a point is seen. [px]"""
        u, v, _, _ = AXES[self.name]
        return (self.x_px + at[u] * self.scale, self.y_px - at[v] * self.scale)

    def points(self, many: Iterable[Vector]) -> list[Point]:
        """Where points are seen. [px]"""
        u, v, _, _ = AXES[self.name]
        x, y, scale = self.x_px, self.y_px, self.scale
        return [(x + at[u] * scale, y - at[v] * scale) for at in many]

    def depth(self, at: Vector) -> float:
        """How far off a point is: more is farther from the eye. [m]"""
        _, _, d, sign = AXES[self.name]
        return sign * at[d]


@dataclass(frozen=True, slots=True)
class Shape:
    """One run as it is drawn: points on its axis, its width in each view, and of what kind it is. [m]"""

    run: Run
    points: tuple[Vector, ...]
    wide_m: Mapping[str, float]
    kind: str  # tube, timber or wire


def shapes(frame: Frame, own: Mapping[str, Any] | None = None) -> list[Shape]:
    """Return every run of a frame as it is drawn; `own` are the reader's own members by key."""
    found = []
    for key, run in frame.runs.items():
        line = frame.lines[key]
        if line.straight and isinstance(line.pieces[0], Straight):
            points: tuple[Vector, ...] = (line.pieces[0].start, line.pieces[0].end)
        else:
            points = tuple(line.points(ARC_STEP_DEG))
        member = (own or {}).get(run.member) or members.find(run.member)
        outer = member.outer_mm / 1000
        wide = {"front": outer, "side": outer, "plan": outer}
        if member.shape == "rectangle" and member.depth_mm:
            level = abs(points[0][2] - points[-1][2]) < outer
            tall = member.depth_mm / 1000
            wide = {"front": tall, "side": tall, "plan": outer} if level else {**wide, "side": tall, "plan": tall}
        kind = {"rectangle": "timber", "rod": "wire" if outer < 0.005 else "tube"}.get(member.shape, "tube")
        found.append(Shape(run, points, wide, kind))
    return found


def reach(drawn: Iterable[Shape]) -> tuple[Vector, Vector]:
    """Lowest and highest corner of the box round runs, outside faces included. [m]"""
    low, high = [1e9] * 3, [-1e9] * 3
    for shape in drawn:
        half = max(shape.wide_m.values()) / 2
        ends = shape.points
        for i in (0, 1, 2):
            values = [p[i] for p in ends]
            least, most = min(values), max(values)
            square = half if len(ends) > 2 or most - least < half else 0.0  # an end is cut square: nothing beyond it
            low[i], high[i] = min(low[i], least - square), max(high[i], most + square)
    return (low[0], low[1], low[2]), (high[0], high[1], high[2])


@dataclass(frozen=True, slots=True)
class Seen:
    """A run as one view shows it: points and width in px, and how far off its points are. [m]"""

    shape: Shape
    points: list[Point]
    width: float
    depths: tuple[float, ...]


def seen_in(view: View, runs: Iterable[Shape], least_px: float = 2.0) -> list[Seen]:
    """Return runs as a view shows them, true width but never thinner than can be seen."""
    u, v, d, sign = AXES[view.name]
    name, x, y, scale = view.name, view.x_px, view.y_px, view.scale
    return [
        Seen(
            shape,
            [(x + at[u] * scale, y - at[v] * scale) for at in shape.points],
            max(shape.wide_m[name] * scale, least_px),
            tuple([sign * at[d] for at in shape.points]),
        )
        for shape in runs
    ]
