"""A small picture of a frame, seen from the front right and above, for a gallery and the head of a build sheet.

A frame comes in, SVG goes out: bed, panels and runs, the farthest painted first. It has no dimensions and no words.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from gardenframe.geometry.frame import Frame, Panel
from gardenframe.geometry.scene import Body
from gardenframe.geometry.vectors import Vector
from gardenframe.materials.coverings import load_coverings
from gardenframe.output.members_drawn import PATTERNS, painted, rings_of
from gardenframe.output.projection import Shape, shapes
from gardenframe.output.scenery import BOARD_M, FILLS
from gardenframe.output.svg import INK, Point, area, hatch, lines, path, sheet

TURN_DEG, TILT_DEG = 32.0, 24.0  # of the eye: to the right of the front, and above level
C, S = math.cos(math.radians(TURN_DEG)), math.sin(math.radians(TURN_DEG))
CE, SE = math.cos(math.radians(TILT_DEG)), math.sin(math.radians(TILT_DEG))
EDGE_PX, TALLEST, LEAST_PX = 8.0, 0.8, 1.8  # tallest: of the width
DRAWN_BODIES = {"bed": FILLS["bed"], "water": FILLS["water"], "soil": FILLS["soil"]}
SHADED = {"bed": "#ddcdaf", "soil": "#d3c4b5", "water": "#c3deef"}
PATCH_M = 0.15  # of ground shown round the frame
MOST_LINES = 14  # in one panel


def picture(
    frame: Frame, width_px: float = 260, *, members: Mapping[str, Any] | None = None, title: str = "Picture"
) -> str:
    """Return a picture of a frame as SVG, at most 0.8 times as tall as wide.

    Parameters
    ----------
    frame : Frame
        What to show; of the bodies round it, beds, soil and water are drawn.
    width_px : float
        Width of the picture.
    members : mapping, optional
        The reader's own members by key.
    title : str
        What a reader who cannot see it is told that it is.
    """
    runs = shapes(frame, members)
    bodies = [body for body in frame.bodies if body.kind in DRAWN_BODIES]
    rings = [rings_of(frame, panel) for panel in frame.panels]
    patch = _patch(runs)
    cut = {shape.run.key: _above_beds(shape, bodies) for shape in runs}
    flat = [_seen(p) for p in (*patch, *(p for points in cut.values() for p in points))]
    flat += [_seen(p) for body in bodies for p in _corners(body)]
    low_x, high_x = min(x for x, _ in flat), max(x for x, _ in flat)
    low_y, high_y = min(y for _, y in flat), max(y for _, y in flat)
    free = width_px - 2 * EDGE_PX
    scale = min(free / max(high_x - low_x, 0.1), TALLEST * free / max(high_y - low_y, 0.1))
    left = (width_px - (high_x - low_x) * scale) / 2 - low_x * scale
    base = EDGE_PX + high_y * scale

    def at(point: Vector) -> Point:
        x, y = _seen(point)
        return (left + x * scale, base - y * scale)

    under = [area(path([at(p) for p in patch], closed=True), "#f2f4f1")] + [
        _box(body, at) for body in sorted(bodies, key=lambda b: -_depth(b.low))
    ]
    far = {shape.run.key: _far(shape.points) for shape in runs}
    painted_: list[tuple[float, str]] = []
    for panel, outlines in zip(frame.panels, rings):
        if outlines and panel.covering not in (None, "none"):
            for ring, depth in _faces(panel, outlines, far):
                painted_.append(
                    (depth, _panel(str(panel.covering), [[at(p) for p in r] for r in ring], bool(panel.outline)))
                )
    for shape in runs:
        points = cut[shape.run.key]
        if points:
            width = max(shape.wide_m["front"] * scale, LEAST_PX)
            svg = painted([at(p) for p in points], width, shape.kind, shape.run.part != "frame")
            painted_.append((far[shape.run.key], svg))
    painted_.sort(key=lambda item: -item[0])
    body = "".join(under) + "".join(svg for _, svg in painted_)
    height = (high_y - low_y) * scale + 2 * EDGE_PX
    return sheet(body, width_px, height, title, f"{title}: a frame of {len(runs)} runs seen from the front right.")


def _seen(at: Vector) -> Point:
    """Where a point is seen: to the right and up. [m]"""
    x, y, z = at
    return (x * C + y * S, z * CE + (y * C - x * S) * SE)


def _depth(at: Vector) -> float:
    """How far off a point is. [m]"""
    x, y, z = at
    return (y * C - x * S) * CE - z * SE


def _far(points: Sequence[Vector]) -> float:
    """How far off the middle of a run is. [m]"""
    return (_depth(points[len(points) // 2]) + _depth(points[(len(points) - 1) // 2])) / 2


def _behind(panel: Panel, ring: Sequence[Vector], far: Mapping[str, float]) -> float:
    """How far off a panel is painted: behind every run that carries it. [m]"""
    middle = sum(_depth(p) for p in ring) / len(ring)
    return max([middle, *(far[key] for key in panel.carried_by if key in far)]) + 0.02


def _faces(
    panel: Panel, outlines: list[list[Vector]], far: Mapping[str, float]
) -> list[tuple[list[list[Vector]], float]]:
    """Return what a panel is painted as, and how far off: itself, or for a swept one its flat strips."""
    if panel.outline:
        return [(outlines, _behind(panel, outlines[0], far))]
    half = len(outlines[0]) // 2
    one, other = outlines[0][:half], outlines[0][half:][::-1]
    strips = [[a, b, d, c] for a, b, c, d in zip(one, one[1:], other, other[1:])]
    return [([strip], sum(_depth(p) for p in strip) / 4) for strip in strips]


def _corners(body: Body) -> list[Vector]:
    """Return the eight corners of a body."""
    xs, ys, zs = zip(body.low, body.high)
    return [(x, y, z) for x in xs for y in ys for z in zs]


def _face(points: Iterable[Vector], at: Any, fill: str) -> str:
    return area(path([at(p) for p in points], closed=True), fill, INK, 0.8, ' stroke-linejoin="round"')


def _box(body: Body, at: Any) -> str:
    """Return the three faces of a body that are seen: top, front, right. A bed is open: its top is soil in boards."""
    (x, y, z), (x2, y2, z2) = body.low, body.high
    fill = DRAWN_BODIES[body.kind]
    inset = BOARD_M if body.kind == "bed" else 0.0
    top = _face([(x, y, z2), (x2, y, z2), (x2, y2, z2), (x, y2, z2)], at, fill)
    if inset:
        a, b, c, d = x + inset, y + inset, x2 - inset, y2 - inset
        top += _face([(a, b, z2), (c, b, z2), (c, d, z2), (a, d, z2)], at, "#d9c8b4")
    front = _face([(x, y, z), (x2, y, z), (x2, y, z2), (x, y, z2)], at, fill)
    return top + front + _face([(x2, y, z), (x2, y2, z), (x2, y2, z2), (x2, y, z2)], at, SHADED[body.kind])


def _patch(runs: Sequence[Shape]) -> list[Vector]:
    """Return the corners of a patch of ground under the frame."""
    points = [p for shape in runs for p in (shape.points[0], shape.points[-1])]
    x, x2 = min(p[0] for p in points) - PATCH_M, max(p[0] for p in points) + PATCH_M
    y, y2 = min(p[1] for p in points) - PATCH_M, max(p[1] for p in points) + PATCH_M
    return [(x, y, 0.0), (x2, y, 0.0), (x2, y2, 0.0), (x, y2, 0.0)]


def _panel(covering: str, rings: list[list[Point]], whole: bool = True) -> str:
    """Return a panel tinted, with a few lines of its pattern."""
    row = load_coverings().get(covering)
    tint, _, angles, _ = PATTERNS.get(row.kind if row else "", ("#eef1f3", 0.6, (45,), 20.0))
    d = "".join(path(ring, closed=True) for ring in rings)
    tall = max(y for _, y in rings[0]) - min(y for _, y in rings[0])
    net = tint == "none"
    ruled = "".join(hatch(rings, angle, max(tall / MOST_LINES, 5.0)) for angle in ((8, 86) if net else angles))
    clear = f' fill-opacity="{0.35 if net else 0.6}" fill-rule="evenodd"'
    filled = area(d, "#dfe8ee" if net else tint, "none", 0, clear)
    if not whole:
        return filled
    return filled + lines(ruled, 0.4, "#8fa0ad") + lines(d, 0.5, "#8fa0ad")


def _above_beds(shape: Shape, bodies: Iterable[Body]) -> tuple[Vector, ...]:
    """Return the points of a run less what stands in the ground or in a bed."""
    points = _above(shape.points, 0.0)
    for body in bodies:
        foot = min(points, key=lambda p: p[2]) if points else None
        if foot and all(body.low[i] <= foot[i] <= body.high[i] for i in range(3)):  # else it carries the body
            points = _above(points, body.high[2])
    return points


def _above(points: tuple[Vector, ...], level: float) -> tuple[Vector, ...]:
    """Return a straight run above a level; a bent one whole."""
    if len(points) != 2:
        return points
    low, high = sorted(points, key=lambda p: p[2])
    if low[2] >= level:
        return points
    if high[2] <= level:
        return ()
    share = (level - low[2]) / (high[2] - low[2])
    return ((low[0] + (high[0] - low[0]) * share, low[1] + (high[1] - low[1]) * share, level), high)
