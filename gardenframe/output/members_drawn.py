"""Runs and panels as they are painted in a view, and the parts of runs that something hides.

Shapes and panels come in, (depth, SVG) goes out, to be painted the farthest first.
"""

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import hypot

from gardenframe.geometry.frame import Frame, Panel
from gardenframe.geometry.vectors import Vector
from gardenframe.materials.coverings import load_coverings
from gardenframe.output.projection import Seen, View
from gardenframe.output.svg import (
    BLUE,
    CHAIN_TWO,
    DASHED,
    GREY,
    INK,
    STEEL,
    TUBE,
    Box,
    Point,
    grid,
    hatch,
    lines,
    path,
    segment,
)

OUTLINED_PX = 3.4  # a thinner tube is one solid line
EDGE_PX = 1.2
END_ON_PX = 1.0
BEHIND_M = 0.02  # a panel is painted before the tubes that carry it
LEAST_STEP_PX, BOARD_M = 7.0, 0.14
# kind of covering -> tint, its opacity, directions of its lines [deg], their spacing in px or "opening"
PATTERNS: dict[str, tuple[str, float, tuple[int, ...], float | str]] = {
    "trellis_net": ("none", 0, (0, 90), "opening"),
    "bird_net": ("none", 0, (45, 135), "opening"),
    "welded_mesh": ("none", 0, (0, 90), "opening"),
    "poultry_net": ("none", 0, (60, 120), "opening"),
    "insect_net": ("#e9edf0", 0.7, (0, 90), 7.0),
    "shade_cloth": ("#cfd6db", 0.6, (45,), 7.0),
    "fabric": ("#e6e6e0", 0.6, (45, 135), 12.0),
    "film": ("#d6ebf8", 0.6, (45,), 34.0),
    "glass": ("#d6ebf8", 0.6, (60,), 44.0),
    "twin_wall": ("#d6ebf8", 0.5, (90,), 8.0),
    "boards": ("#efe3cd", 0.9, (0,), "boards"),
}
NET_LINE, NET_PX = "#93a0aa", 0.5


def tube_drawn(seen: Seen) -> tuple[float, str]:
    """Return how far off a run is and its drawing."""
    depths = seen.depths
    depth = (depths[len(depths) // 2] + depths[(len(depths) - 1) // 2]) / 2
    return depth, painted(seen.points, seen.width, seen.shape.kind, seen.shape.run.part != "frame")


def painted(points: Sequence[Point], width: float, kind: str, moving: bool = False) -> str:
    """Return a run along points in px: outlined where it is wide enough, else one line. Moving parts: chain line."""
    edge, fill = (BLUE, "#dcebf5") if moving else (TUBE, "#f1e0c2" if kind == "timber" else STEEL)
    dash = f' stroke-dasharray="{CHAIN_TWO}"' if moving else ""
    if kind == "wire":
        return lines(path(points), 1.0, TUBE)
    if len(points) > 2:
        line = f'<path d="{path(points)}" fill="none" stroke-linejoin="round" '
        drawn = f'{line}stroke="{edge}" stroke-width="{width:.1f}"/>'
        if width >= OUTLINED_PX:
            inside = width - 2 * EDGE_PX
            drawn += f'{line}stroke="{fill}" stroke-width="{inside:.1f}"/>'
        return drawn + (lines(path(points), 0.8, BLUE, CHAIN_TWO) if moving else "")
    (ax, ay), (bx, by) = points
    length = hypot(bx - ax, by - ay)
    half = (width - EDGE_PX) / 2
    if length < END_ON_PX:
        if kind == "timber":
            d = f"M{ax - half:.1f} {ay - half:.1f}h{2 * half:.1f}v{2 * half:.1f}h{-2 * half:.1f}Z"
            return f'<path d="{d}" fill="{fill}" stroke="{edge}" stroke-width="{EDGE_PX}"{dash}/>'
        round_ = f'<circle cx="{ax:.1f}" cy="{ay:.1f}" r="{max(half, 1):.1f}"'
        return f'{round_} fill="{fill}" stroke="{edge}" stroke-width="1.2"/>'
    if width < OUTLINED_PX:
        return f'<path d="M{ax:.1f} {ay:.1f}L{bx:.1f} {by:.1f}" stroke="{edge}" stroke-width="{width:.1f}"{dash}/>'
    nx, ny = (by - ay) / length * half, (ax - bx) / length * half
    d = (
        f"M{ax + nx:.1f} {ay + ny:.1f}L{bx + nx:.1f} {by + ny:.1f}"
        f"L{bx - nx:.1f} {by - ny:.1f}L{ax - nx:.1f} {ay - ny:.1f}Z"
    )
    return f'<path d="{d}" fill="{fill}" stroke="{edge}" stroke-width="1.2"{dash}/>'


def hidden(runs: Iterable[Seen], covers: Sequence[tuple[Box, float]]) -> str:
    """Return dashed edges of the runs behind boxes; each cover is its box in px and how far off its near face is."""
    drawn = []
    for seen in runs if covers else ():
        half = (seen.width - EDGE_PX) / 2 if seen.width >= OUTLINED_PX else 0.0
        farthest = max(seen.depths)
        for box, face in covers:
            if farthest <= face:
                continue
            for (a, b), (near, far) in zip(pairwise(seen.points), pairwise(seen.depths)):
                part = inside(a, b, box)
                if part and near + (far - near) * (part[0] + part[1]) / 2 > face:
                    drawn.append(_dashes(a, b, part, half))
    return lines("".join(drawn), 0.8, TUBE, DASHED)


def _dashes(a: Point, b: Point, part: tuple[float, float], half: float) -> str:
    (ax, ay), (bx, by) = a, b
    length = hypot(bx - ax, by - ay)
    nx, ny = (by - ay) / length * half, (ax - bx) / length * half
    sx, sy, ex, ey = *along(a, b, part[0]), *along(a, b, part[1])
    if not half:
        return segment(sx, sy, ex, ey)
    return segment(sx + nx, sy + ny, ex + nx, ey + ny) + segment(sx - nx, sy - ny, ex - nx, ey - ny)


def along(a: Point, b: Point, share: float) -> Point:
    """Point at a share of the way from one point to another."""
    return (a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share)


def inside(a: Point, b: Point, box: Box) -> tuple[float, float] | None:
    """Return the shares of a line between which it lies in a box (Liang and Barsky), or None."""
    if (a[0] < box[0] and b[0] < box[0]) or (a[0] > box[2] and b[0] > box[2]):
        return None
    if (a[1] < box[1] and b[1] < box[1]) or (a[1] > box[3] and b[1] > box[3]):
        return None
    start, end = 0.0, 1.0
    for at, step, low, high in ((a[0], b[0] - a[0], box[0], box[2]), (a[1], b[1] - a[1], box[1], box[3])):
        if abs(step) < 1e-9:
            if not low <= at <= high:
                return None
            continue
        near, far = sorted(((low - at) / step, (high - at) / step))
        start, end = max(start, near), min(end, far)
    return (start, end) if end - start > 1e-6 and hypot(b[0] - a[0], b[1] - a[1]) * (end - start) > 2 else None


def rings_of(frame: Frame, panel: Panel) -> list[list[Vector]]:
    """Return the outline of a panel and its holes as points; a swept strip from its two runs."""
    if panel.outline:
        return [line.points(8.0)[:-1] for line in (panel.outline, *panel.holes)]
    if panel.swept:
        one, other = (line.points(8.0) for line in frame.sweep(panel))
        return [[*one, *reversed(other)]]
    return []


def panels_drawn(frame: Frame, view: View, rings: Sequence[list[list[Vector]]]) -> list[tuple[float, str]]:
    """Return every covered panel with its pattern; one that lies exactly over another is drawn once."""
    done: set[object] = set()
    found = []
    for panel, outlines in zip(frame.panels, rings):
        if not outlines or panel.covering in (None, "none"):
            continue
        seen = [view.points(ring) for ring in outlines]
        if not panel.outline:
            seen = _swept_outline(seen[0])
            if not seen:
                continue
        key = (panel.covering, frozenset((round(x), round(y)) for ring in seen for x, y in ring))
        if key not in done:
            done.add(key)
            depth = sum(view.depth(p) for p in outlines[0]) / len(outlines[0])
            found.append((depth + BEHIND_M, panel_drawn(str(panel.covering), seen, view.scale)))
    return found


def _swept_outline(ring: list[Point]) -> list[list[Point]]:
    """Return the outline of a strip between two runs, nothing where one run hides the other: it is then edge on."""
    half = len(ring) // 2
    if max(hypot(a[0] - b[0], a[1] - b[1]) for a, b in zip(ring[:half], reversed(ring[half:]))) < 2.0:
        return []
    return [hull(ring)]


def hull(points: Sequence[Point]) -> list[Point]:
    """Return the convex outline of points (Andrew's monotone chain)."""
    ordered = sorted(set(points))
    chains: list[list[Point]] = []
    for way in (ordered, ordered[::-1]):
        chain: list[Point] = []
        for p in way:
            while len(chain) > 1 and _turn(chain[-2], chain[-1], p) <= 0:
                chain.pop()
            chain.append(p)
        chains.append(chain[:-1])
    return chains[0] + chains[1]


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def panel_drawn(covering: str, rings: Sequence[Sequence[Point]], scale: float) -> str:
    """Return one panel: a tint and its lines, or one dashed line where it is seen edge on."""
    across = [max(c) - min(c) for c in zip(*rings[0])]
    if _area(rings[0]) < 2.0 * max(across):
        return lines(path(_farthest(rings[0])), 0.8, GREY, "2 2")
    row = load_coverings().get(covering)
    tint, opacity, angles, step = PATTERNS.get(row.kind if row else "", ("#eef1f3", 0.6, (45,), 20.0))
    spacing = step if isinstance(step, float) else (BOARD_M if step == "boards" else _opening_m(row)) * scale
    if spacing < LEAST_STEP_PX:
        spacing *= int(LEAST_STEP_PX / max(spacing, 0.01)) + 1
    d = "".join(path(ring, closed=True) for ring in rings)
    filled = f'<path d="{d}" fill="{tint}" fill-opacity="{opacity:g}" fill-rule="evenodd"/>' if opacity else ""
    square = len(rings) == 1 and angles in ((0, 90), (0,), (90,)) and _upright(rings[0])
    ruled = grid(square, spacing, angles) if square else "".join([hatch(rings, angle, spacing) for angle in angles])
    return filled + lines(ruled, NET_PX, NET_LINE) + lines(d, NET_PX, NET_LINE)


def _upright(ring: Sequence[Point]) -> Box | None:
    """Return the box of an outline that is an upright rectangle, else None."""
    xs, ys = {round(x, 2) for x, _ in ring}, {round(y, 2) for _, y in ring}
    return (min(xs), min(ys), max(xs), max(ys)) if len(xs) == len(ys) == 2 and len(ring) == 4 else None


def _opening_m(row: object) -> float:
    opening = getattr(row, "opening_mm", None)
    return float(opening) / 1000 if opening else 0.1


def _area(ring: Sequence[Point]) -> float:
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, [*ring[1:], ring[0]]))) / 2


def _farthest(ring: Sequence[Point]) -> list[Point]:
    """Return the two ends of an outline that is seen as a line."""
    across, tall = (max(c) - min(c) for c in zip(*ring))
    ordered = sorted(ring) if across > tall else sorted(ring, key=lambda p: p[1])
    return [ordered[0], ordered[-1]]


def couplings(frame: Frame, runs: Iterable[Seen], view: View) -> str:
    """Return a short collar at every joint where a coupling joins two pieces."""
    drawn = []
    for seen in runs:
        run = seen.shape.run
        line = frame.lines[run.key] if run.splices else None
        for contact in frame.on[run.key] if line else ():
            if line and contact.joint in run.splices:
                around = [line.point(max(contact.station_m + step, 0.0)) for step in (-0.04, 0.04)]
                a, b = view.points(around)
                if hypot(a[0] - b[0], a[1] - b[1]) > END_ON_PX:
                    drawn.append(lines(segment(*a, *b), seen.width + 2.5, INK))
    return "".join(drawn)
