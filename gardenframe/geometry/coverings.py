"""Areas of panels, and the strips that cover them from rolls as sold.

A panel and a roll come in; strips with overlap and wrap go out. Areas are exact, with arcs and holes; that of a strip
swept askew between two arcs is summed over small turns.
"""

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from gardenframe.errors import FrameError, InputError
from gardenframe.geometry.arcs import Arc, Centreline, Straight
from gardenframe.geometry.frame import Frame, Panel
from gardenframe.geometry.vectors import Vector, add, cross, dot, minus, size, times, unit
from gardenframe.materials.coverings import Roll

FLAT_M = 1e-4  # how far a point of an outline may lie off its plane
TURN_RAD = math.radians(0.5)  # an arc swept askew is summed in parts no larger


@dataclass(frozen=True, slots=True)
class Strip:
    """One strip of a covering as it is cut from the roll; `across` where it lies along the panel's first side."""

    panel: str
    width_m: float
    length_m: float
    across: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Strips:
    """How one panel is covered from one width of roll."""

    panel: str
    roll_width_m: float
    strips: tuple[Strip, ...]
    overlap_m: float
    wrap_m: float
    covered_m2: float

    @property
    def length_m(self) -> float:
        """Length of roll used. [m]"""
        return sum(strip.length_m for strip in self.strips)


def outline(points: Sequence[Vector]) -> Centreline:
    """Return the closed straight-edged outline through points."""
    closed = [*points, points[0]]
    return Centreline(tuple(Straight(a, b) for a, b in pairwise(closed)))


def area_vector_m2(line: Centreline) -> Vector:
    """Vector area of a closed outline: its size is the area, its direction the normal. [m²]

    Exact for straight edges and arcs: the polygon of the ends, and a circular segment for each arc.
    """
    total: Vector = (0.0, 0.0, 0.0)
    origin = line.pieces[0].start
    for piece in line.pieces:
        a, b = minus(piece.start, origin), minus(piece.point(piece.length_m), origin)
        total = add(total, times(cross(a, b), 0.5))
        if isinstance(piece, Arc):
            segment = piece.radius_m**2 * (piece.angle_rad - math.sin(piece.angle_rad)) / 2
            total = add(total, times(piece.axis, segment))
    return total


def panel_area_m2(frame: Frame, panel: Panel) -> float:
    """Area of a panel less its holes; of a swept strip, its developed area. [m²]"""
    if panel.swept:
        a, b = frame.sweep(panel)
        way, apart = _swept_way(a, b)
        return (_squared_m(a, way) + _squared_m(b, way)) / 2 * apart
    if panel.outline is None:
        raise FrameError(f"panel {panel.key}", "it has neither an outline nor two runs to sweep between")
    flat(panel.key, panel.outline)
    return size(area_vector_m2(panel.outline)) - sum(size(area_vector_m2(hole)) for hole in panel.holes)


def _swept_way(a: Centreline, b: Centreline) -> tuple[Vector, float]:
    """Return which way and how far the second of two like lines is the first moved. [m]"""
    moved = minus(b.point(0.0), a.point(0.0))
    return unit(moved), size(moved)


def _squared_m(line: Centreline, way: Vector) -> float:
    """Length of a line as it is seen along a way: of a skin swept that way, its width square to it. [m]"""
    return sum(_piece_squared_m(piece, way) for piece in line.pieces)


def _piece_squared_m(piece: Straight | Arc, way: Vector) -> float:
    if _square(piece, way):
        return piece.length_m
    if isinstance(piece, Straight):
        return piece.length_m * size(cross(piece.tangent(0.0), way))
    parts = math.ceil(piece.angle_rad / TURN_RAD)
    step = piece.length_m / parts
    return sum(step * size(cross(piece.tangent((part + 0.5) * step), way)) for part in range(parts))


def _square(piece: Straight | Arc, way: Vector) -> bool:
    """Whether a piece is swept square to its line or plane, as it is but for frames that stand askew."""
    off = dot(piece.tangent(0.0), way) if isinstance(piece, Straight) else size(cross(piece.axis, way))
    return abs(off) < 1e-9


def _lean_m(frame: Frame, panel: Panel) -> float:
    """How far a strip leans: of a line that is swept askew, what it runs on along the way that it is swept. [m]"""
    if not panel.swept:
        return 0.0
    line, other = frame.sweep(panel)
    way, _ = _swept_way(line, other)
    if all(_square(piece, way) for piece in line.pieces):
        return 0.0
    along = [dot(point, way) for point in line.points(1.0)]
    return max(along) - min(along)


def flat(name: str, line: Centreline) -> None:
    """Raise FrameError unless an outline closes and lies in one plane."""
    first, last = line.pieces[0].start, line.point(line.length_m)
    if size(minus(first, last)) > FLAT_M:
        raise FrameError(f"panel {name}", "its outline does not close")
    area = area_vector_m2(line)
    if size(area) < FLAT_M**2:
        raise FrameError(f"panel {name}", "its outline encloses no area")
    normal = unit(area)
    off = max(abs(dot(minus(piece.start, first), normal)) for piece in line.pieces)
    if off > FLAT_M:
        raise FrameError(f"panel {name}", f"its outline is not flat: one corner is {off * 1000:.0f} mm off")


def panel_sides_m(frame: Frame, panel: Panel) -> tuple[float, float]:
    """Sides of the smallest rectangle along the panel's first edge that holds it: along it, and across. [m]"""
    if panel.swept:
        a, b = frame.sweep(panel)
        return max(a.length_m, b.length_m), _swept_way(a, b)[1]
    line = panel.outline
    if line is None:
        raise FrameError(f"panel {panel.key}", "it has neither an outline nor two runs to sweep between")
    along = unit(minus(line.pieces[0].point(line.pieces[0].length_m), line.pieces[0].start))
    across = unit(cross(area_vector_m2(line), along))
    drawn = line.points(1.0)
    spans = [[dot(point, way) for point in drawn] for way in (along, across)]
    return max(spans[0]) - min(spans[0]), max(spans[1]) - min(spans[1])


def strips(
    panel: str, sides_m: tuple[float, float], area_m2: float, roll_width_m: float, overlap_m: float, wrap_m: float
) -> list[Strips]:
    """Return the two ways of covering a rectangle from a roll: strips along its first side, and along its second.

    Parameters
    ----------
    sides_m : (float, float)
        Of the rectangle. [m]
    overlap_m : float
        Of neighbouring strips. [m]
    wrap_m : float
        Taken round the frame at each edge. [m]

    Raises
    ------
    InputError
        For a roll no wider than its overlap.
    """
    if roll_width_m <= overlap_m:
        raise InputError(
            "roll width", f"{roll_width_m * 1000:.0f} mm", f"more than the overlap of {overlap_m * 1000:.0f} mm"
        )
    ways = []
    for across, (length, width) in ((False, sides_m), (True, sides_m[::-1])):
        number = strips_needed(width + 2 * wrap_m, roll_width_m, overlap_m)
        strip = Strip(panel, roll_width_m, length + 2 * wrap_m, across)
        ways.append(
            Strips(
                panel=panel,
                roll_width_m=roll_width_m,
                strips=(strip,) * number,
                overlap_m=overlap_m,
                wrap_m=wrap_m,
                covered_m2=area_m2,
            )
        )
    return ways


def strips_needed(width_m: float, roll_width_m: float, overlap_m: float) -> int:
    """Number of strips that cover a width: n rolls wide less n - 1 overlaps.

    >>> strips_needed(1.8, 1.0, 0.1), strips_needed(1.9, 1.0, 0.1), strips_needed(1.91, 1.0, 0.1)
    (2, 2, 3)
    """
    return max(1, math.ceil((width_m - overlap_m) / (roll_width_m - overlap_m) - 1e-9))


def ties(lengths_m: Iterable[float], spacing_m: float) -> int:
    """Number of ties along members at most a spacing apart, one at each end."""
    return sum(math.ceil(length / spacing_m - 1e-9) + 1 for length in lengths_m)


@dataclass(frozen=True, slots=True, kw_only=True)
class Covered:
    """One panel as it is covered: the cheapest roll that serves, the strips cut from it, the fixings."""

    panel: str
    covering: str
    area_m2: float
    roll: str
    roll_width_m: float
    rolls: int
    strips: Strips
    used_share: float
    fixing: str
    fixings: int
    fixing_each: float
    panels: tuple[str, ...] = ()  # those of the sheet
    pool: str = ""  # what shares its rolls


def sheets_of(panels: Iterable[Panel]) -> list[tuple[Panel, ...]]:
    """Return the panels that have a covering, those of one sheet together."""
    found: dict[tuple[str, str], list[Panel]] = {}
    for panel in panels:
        if panel.covering:
            found.setdefault(("sheet", panel.sheet) if panel.sheet else ("panel", panel.key), []).append(panel)
    return [tuple(sheet) for sheet in found.values()]


def sheet_sides_m(frame: Frame, panels: Sequence[Panel]) -> tuple[float, float]:
    """Sides of the rectangle that panels side by side take: the longest first side, the sum of those across. [m]

    What is swept askew leans, and takes as much more across.
    """
    sides = [panel_sides_m(frame, panel) for panel in panels]
    return max(side[0] for side in sides), sum(side[1] for side in sides) + max(_lean_m(frame, one) for one in panels)


def cover(
    frame: Frame, panel: Panel | Sequence[Panel], rolls: Iterable[Roll], price: Callable[[str], float]
) -> Covered:
    """Return how a panel, or a sheet of panels, is covered at the least cost, then with the least roll.

    Raises
    ------
    FrameError
        Where no roll is long enough for one strip, or wide enough for a covering in one piece.
    """
    sheet = (panel,) if isinstance(panel, Panel) else tuple(panel)
    panel = sheet[0]
    name = panel.sheet or panel.key
    if panel.covering is None:
        raise FrameError(f"panel {name}", "it has no covering")
    area, sides = sum(panel_area_m2(frame, one) for one in sheet), sheet_sides_m(frame, sheet)
    found = []
    for roll in rolls:
        if roll.covering != panel.covering:
            continue
        for way in strips(name, sides, area, roll.width_mm / 1000, panel.overlap_m, panel.wrap_m):
            if panel.one_piece and len(way.strips) > 1:
                continue
            if panel.lay and way.strips[0].across != (panel.lay == "across"):
                continue
            a_roll = int(roll.length_mm / 1000 / way.strips[0].length_m + 1e-9)
            if a_roll:
                bought = math.ceil(len(way.strips) / a_roll)
                found.append((bought * price(roll.key), way.length_m, roll.key, roll, way, bought))
    if not found:
        longest = min(sides) + 2 * panel.wrap_m
        what = (
            f"a piece of {longest:.2f} m by {max(sides) + 2 * panel.wrap_m:.2f} m"
            if panel.one_piece
            else (f"a strip of {longest:.2f} m")
        )
        raise FrameError(f"panel {name}", f"no roll of {panel.covering} gives {what}", "Choose another covering.")
    _, length, _, roll, way, bought = min(found, key=lambda one: one[:3])
    carried = carried_m(frame, sheet)
    return Covered(
        panel=name,
        covering=panel.covering,
        area_m2=area,
        roll=roll.key,
        roll_width_m=roll.width_mm / 1000,
        rolls=bought,
        strips=way,
        used_share=length / (bought * roll.length_mm / 1000),
        fixing=panel.fixing,
        fixings=0 if panel.fixing == "woven" else ties(carried, panel.fixing_spacing_m),
        fixing_each=panel.fixing_each,
        panels=tuple(one.key for one in sheet),
    )


def carried_m(frame: Frame, sheet: Sequence[Panel]) -> list[float]:
    """Return the length of each run that carries a sheet, counted once; of a strip's runs, what it lies between. [m]"""
    found: dict[str, float] = {}
    for panel in sheet:
        for key in panel.carried_by:
            within = panel.between_m if panel.swept and key in panel.swept else None
            found[key] = within[1] - within[0] if within else frame.lines[key].length_m
    return list(found.values())
