"""Dimensions beside a view: which row each stands in, where its text goes, and its lines and arrowheads.

Measured distances in px come in; rows in which no text or line lies on another go out. By ISO 129 (from memory): thin
lines, filled arrowheads, text above the line and read from below or from the right, a gap before extension lines.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from math import atan2, copysign, degrees, hypot

from gardenframe import units
from gardenframe.geometry.scene import Dimension
from gardenframe.geometry.vectors import distance
from gardenframe.output.labels import Taken
from gardenframe.output.projection import View
from gardenframe.output.svg import ARROW_PX, CHAIN, Point, arrowhead, lines, segment, text_box, text_width

ALIGNED_PX = (22.0, -26.0, 40.0, -44.0, 58.0, -62.0)  # from its line to an aligned dimension, best first
ROW_PX = 21.0
FIRST_PX = {"below": 30.0, "above": 12.0, "left": 12.0, "right": 28.0}  # from the view to its first dimension line
ROOM_PX = {"below": 6.0, "above": 17.0, "left": 17.0, "right": 6.0}  # beyond the last
GAP_PX, PAST_PX, AIR_PX = 3.0, 3.0, 4.0
TAIL_PX = ARROW_PX + 6  # of arrows that point inwards from outside


@dataclass(frozen=True, slots=True)
class Measured:
    """One distance along a side of a view. [px]"""

    low: float
    high: float
    from_low: float  # across: where its extension lines start
    from_high: float
    texts: tuple[str, ...]  # longest first
    row: int = 1
    to_centres: bool = False


@dataclass(frozen=True, slots=True)
class Placed:
    """A distance in its row, with the text chosen and where its middle stands along the row."""

    measured: Measured
    row: int
    words: str
    at: float
    span: tuple[float, float]


def length_text(length_m: float, system: str) -> str:
    """Length as a drawing writes it: whole mm without a unit, or feet, inches and sixteenths.

    >>> length_text(1.8923, "metric"), length_text(1.8923, "us")
    ('1892', '6 ft 2 1/2 in')
    """
    return str(units.tape_mm(length_m * 1000)) if system == "metric" else units.write(length_m, "length", system)


def texts(length_m: float, name: str, datum: str, system: str) -> tuple[str, ...]:
    """What may stand on a dimension line, longest first."""
    value = length_text(length_m, system)
    named = f"{name} {value}".strip()
    full = f"{named} {datum}".strip()
    return tuple(dict.fromkeys([full, named, value]))


def side_of(dimension: Dimension) -> str:
    """Return the side of its view that a dimension stands on; "" where it lies along a slanting line."""
    upright = dimension.axis == ("y" if dimension.view == "plan" else "z")
    if dimension.axis == "aligned":
        return ""
    sides = ("left", "right") if upright else ("below", "above")
    usual = sides[dimension.view != "front"] if upright else sides[dimension.view == "plan"]
    return dimension.side if dimension.side in sides else usual


def measured(dimension: Dimension, view: View, side: str, system: str) -> Measured | None:
    """Return a dimension in px along its side, or None where it has no length."""
    length = abs(dimension.end["xyz".index(dimension.axis)] - dimension.start["xyz".index(dimension.axis)])
    level = side in ("above", "below")
    ends = sorted([p if level else (p[1], p[0]) for p in view.points([dimension.start, dimension.end])])
    if length < 1e-4:
        return None
    to_centres = dimension.datum == "centre to centre"
    words = texts(length, dimension.name, dimension.datum, system)
    return Measured(ends[0][0], ends[1][0], ends[0][1], ends[1][1], words, max(dimension.row, 1), to_centres)


def gathered(chain: Iterable[Measured]) -> list[Measured]:
    """Return distances with like neighbours drawn as one, such as 5 x 150 (750), where they are many or too short."""
    ordered = sorted(chain, key=lambda m: (m.row, m.low))
    groups: list[list[Measured]] = []
    for one in ordered:
        last = groups[-1][-1] if groups else None
        if last and last.texts[-1] == one.texts[-1] and last.row == one.row and abs(last.high - one.low) < 0.5:
            groups[-1].append(one)
        else:
            groups.append([one])
    return [one for group in groups for one in (_as_one(group) if _crowded(group) else group)]


def _crowded(group: Sequence[Measured]) -> bool:
    fits = text_width(group[0].texts[-1]) + AIR_PX < group[0].high - group[0].low
    return len(group) > 1 and (len(group) > 2 or not fits)


def _as_one(group: Sequence[Measured]) -> list[Measured]:
    value = group[0].texts[-1]
    return [replace(group[0], high=group[-1].high, from_high=group[-1].from_high, texts=(f"{len(group)} × {value}",))]


def in_rows(all_of: Iterable[Measured], limits: tuple[float, float]) -> list[Placed]:
    """Return every distance in the first row, from its own outwards, where it touches no other."""
    rows: dict[int, list[tuple[float, float]]] = {}
    placed = []
    for one in sorted(all_of, key=lambda m: (m.row, m.high - m.low)):
        words, at, span = _text_place(one, limits)
        row = one.row
        while any(a < span[1] - 0.2 and span[0] + 0.2 < b for a, b in rows.get(row, [])):
            row += 1
        rows.setdefault(row, []).append(span)
        placed.append(Placed(one, row, words, at, span))
    used = {row: i + 1 for i, row in enumerate(sorted(rows))}
    return [Placed(p.measured, used[p.row], p.words, p.at, p.span) for p in placed]


def _text_place(one: Measured, limits: tuple[float, float]) -> tuple[str, float, tuple[float, float]]:
    """Return the text that fits, its middle, and what the row needs: on the line, else beyond one of its ends."""
    room = one.high - one.low
    for words in one.texts:
        if text_width(words) + 2 * AIR_PX <= room:
            return words, (one.low + one.high) / 2, (one.low, one.high)
    words = one.texts[-1]
    half = text_width(words) / 2
    tail = TAIL_PX if room < 2 * ARROW_PX + 3 else 0.0
    after, before = one.high + tail + AIR_PX + half, one.low - tail - AIR_PX - half
    at = after if after + half <= limits[1] or before - half < limits[0] else before
    at = min(max(at, limits[0] + half), limits[1] - half)
    return words, at, (min(one.low - tail, at - half) - AIR_PX, max(one.high + tail, at + half) + AIR_PX)


def depth_px(placed: Sequence[Placed], side: str) -> float:
    """How much room the rows of a side take. [px]"""
    rows = max((p.row for p in placed), default=0)
    return FIRST_PX[side] + (rows - 1) * ROW_PX + ROOM_PX[side] if rows else 6.0


def drawn(
    placed: Sequence[Placed], side: str, edge: float, shift: Point
) -> tuple[str, list[tuple[float, float, str, float]], list[tuple[Point, Point]]]:
    """Return the lines of a side, its texts (x, y, words, turn), and the lines as points.

    Parameters
    ----------
    edge : float
        Where the view ends on that side. [px]
    shift : (x, y)
        Added to all, which was measured before the view had its place. [px]
    """
    out = 1.0 if side in ("below", "right") else -1.0
    level = side in ("above", "below")

    def at(along: float, across: float) -> Point:
        return (along + shift[0], across + shift[1]) if level else (across + shift[0], along + shift[1])

    thin: list[str] = []
    chain: list[str] = []
    heads, words, kept = [], [], []
    for p in placed:
        m, line = p.measured, edge + out * (FIRST_PX[side] + (p.row - 1) * ROW_PX)
        for along, start in ((m.low, m.from_low), (m.high, m.from_high)):
            a, b = at(along, start + out * GAP_PX), at(along, line + out * PAST_PX)
            (chain if m.to_centres else thin).append(segment(*a, *b))
            kept.append((a, b))
        inward = m.high - m.low < 2 * ARROW_PX + 3
        left = min(m.low - (TAIL_PX if inward else 0), p.span[0] + AIR_PX if p.at < m.low else m.low)
        right = max(m.high + (TAIL_PX if inward else 0), p.span[1] - AIR_PX if p.at > m.high else m.high)
        thin.append(segment(*at(left, line), *at(right, line)))
        kept.append((at(left, line), at(right, line)))
        ahead = at(1.0, 0.0)
        ux, uy = (ahead[0] - shift[0], ahead[1] - shift[1])
        turn = 1.0 if inward else -1.0
        heads.append(arrowhead(*at(m.low, line), ux * turn, uy * turn))
        heads.append(arrowhead(*at(m.high, line), -ux * turn, -uy * turn))
        x, y = at(p.at, line - 4.0)
        words.append((x, y, p.words, 0.0 if level else -90.0))
    body = lines("".join(thin)) + lines("".join(chain), dash=CHAIN) + f'<path d="{"".join(heads)}"/>' * bool(heads)
    return body, words, kept


def aligned(dimension: Dimension, view: View, taken: Taken, system: str) -> tuple[str, str, Point, float] | None:
    """Return a dimension along its own line, beside it where its text lies on nothing: lines, words, place, turn.

    None where it has no length in this view or no room.
    """
    a, b = view.points([dimension.start, dimension.end])
    (ax, ay), (bx, by) = (a, b) if a[0] <= b[0] else (b, a)
    seen = hypot(bx - ax, by - ay)
    if seen < 2 * ARROW_PX:
        return None
    ux, uy = (bx - ax) / seen, (by - ay) / seen
    turn = degrees(atan2(uy, ux))
    words = texts(distance(dimension.start, dimension.end), dimension.name, dimension.datum, system)
    for off in ALIGNED_PX:
        for said in [said for said in words if text_width(said) + 2 * AIR_PX <= seen] or words[-1:]:
            nx, ny = uy * off, -ux * off
            sx, sy, ex, ey = ax + nx, ay + ny, bx + nx, by + ny
            x, y = (sx + ex) / 2 + uy * 4, (sy + ey) / 2 - ux * 4
            if not taken.free(*text_box(x, y, said, "middle", turn)):
                continue
            gap, past = copysign(GAP_PX, off), copysign(PAST_PX, off)
            drawn = segment(sx, sy, ex, ey)
            for px, py in ((ax, ay), (bx, by)):
                drawn += segment(px + uy * gap, py - ux * gap, px + nx + uy * past, py + ny - ux * past)
            heads = arrowhead(sx, sy, -ux, -uy) + arrowhead(ex, ey, ux, uy)
            return lines(drawn) + f'<path d="{heads}"/>', said, (x, y), turn
    return None


def overall(low: tuple[float, float, float], high: tuple[float, float, float]) -> list[Dimension]:
    """Return width, height and depth over all, for a frame that names no dimensions of its own."""
    corners = [(low, (high[0], low[1], low[2])), (low, (low[0], low[1], high[2])), (low, (low[0], high[1], low[2]))]
    kinds = (("front", "x", "Width"), ("front", "z", "Height"), ("side", "y", "Depth"))
    return [
        Dimension(view=view, start=a, end=b, axis=axis, name=name, datum="outside")
        for (view, axis, name), (a, b) in zip(kinds, corners)
    ]
