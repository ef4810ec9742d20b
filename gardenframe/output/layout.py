"""Where the views stand on a sheet: one scale, third angle, room for dimensions that follows from their texts.

The box round a frame comes in, views in their places go out. The plan stands above the front and the side to its right.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from gardenframe.geometry.frame import Frame
from gardenframe.geometry.scene import Dimension
from gardenframe.geometry.vectors import Vector
from gardenframe.output.dimensions import (
    Measured,
    Placed,
    depth_px,
    gathered,
    in_rows,
    length_text,
    measured,
    overall,
    side_of,
)
from gardenframe.output.projection import AXES, View
from gardenframe.output.scenery import GROUND_PX, SCALE_FIGURES
from gardenframe.output.svg import Box, Point, text_width

EDGE_PX, GAP_PX, TITLE_PX = 10.0, 22.0, 20.0
TALLEST_PX, TALLEST_ALL_PX, LARGEST_SCALE = 400.0, 620.0, 450.0
ROUNDS = 12  # rows are only added, and there are few: two or three rounds are usual
CELLS = {"plan": (0, 0), "front": (0, 1), "side": (1, 1)}  # column, row

Span = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Lane:
    """The dimensions on one side of a view, and where the view ends on that side, from the view's origin. [px]"""

    placed: tuple[Placed, ...]
    edge: float


@dataclass(frozen=True, slots=True)
class Layout:
    """Views in their places, their dimensions, their edges and titles, and the size of the sheet so far. [px]"""

    views: Mapping[str, View]
    lanes: Mapping[str, Mapping[str, Lane]]
    edges: Mapping[str, Box]
    titles: Mapping[str, Point]
    width: float
    height: float


def laid_out(
    frame: Frame,
    box: tuple[Vector, Vector],
    names: tuple[str, ...],
    system: str,
    width_px: float,
    titles: Mapping[str, str],
    room_px: float = 6.0,
) -> Layout:
    """Return every view in its place: scale and rows of dimensions are found together, rows only ever added."""
    return _Sheet(frame, box, names, system, width_px, titles, room_px).settled()


class _Sheet:
    def __init__(
        self,
        frame: Frame,
        box: tuple[Vector, Vector],
        names: tuple[str, ...],
        system: str,
        width_px: float,
        titles: Mapping[str, str],
        room_px: float,
    ) -> None:
        self.names, self.system, self.width, self.titles = names, system, width_px, titles
        self.spans = {name: _spans(frame, name, box) for name in names}
        self.columns = {c: _union(self.spans[n][0] for n in names if CELLS[n][0] == c) for c in _used(names, 0)}
        self.rows = {r: _union(self.spans[n][1] for n in names if CELLS[n][1] == r) for r in _used(names, 1)}
        self.sides: dict[str, dict[str, list[Dimension]]] = {name: {} for name in names}
        for dimension in frame.dimensions or overall(*box):
            if dimension.view in names and (side := side_of(dimension)):
                self.sides[dimension.view].setdefault(side, []).append(dimension)
        self.wide_texts = {c: self._widest(0, c, ("above", "below")) for c in self.columns}
        self.tall_texts = {r: self._widest(1, r, ("left", "right")) for r in self.rows}
        self.margins = {(n, s): room_px for n in names for s in ("left", "right", "above", "below")}
        self.least = {c: max(text_width(titles[n], bold=True) for n in names if CELLS[n][0] == c) for c in self.columns}

    def settled(self) -> Layout:
        """Return the layout once every dimension has room."""
        for _ in range(ROUNDS):
            scale = self.scale()
            lanes = {name: self.lanes(name, scale) for name in self.names}
            needed = {
                (n, s): depth_px(lane.placed, s) + self.slack(n, s, scale)
                for n in lanes
                for s, lane in lanes[n].items()
            }
            if all(room <= self.margins[key] + 0.01 for key, room in needed.items()):
                break
            self.margins |= {key: max(room, self.margins[key]) for key, room in needed.items()}
        return self.placed(scale, lanes)

    def slack(self, name: str, side: str, scale: float) -> float:
        """Return how far a view ends short of its column or row on a side, as room that need not be kept (negative)."""
        column, row = CELLS[name]
        (low, high), (bottom, top) = self.spans[name]
        short = {
            "left": low - self.columns[column][0],
            "right": self.columns[column][1] - high,
            "above": self.rows[row][1] - top,
            "below": bottom - self.rows[row][0],
        }
        return -short[side] * scale + (GROUND_PX if side == "below" and name != "plan" else 0.0)

    def margin(self, axis: int, index: int, side: str) -> float:
        """Return the room on a side of a column or row. [px]"""
        return max(6.0, *(self.margins[n, side] for n in self.names if CELLS[n][axis] == index))

    def scale(self) -> float:
        """Return the pixels to the metre that fill the width, within the tallest sheet."""
        free = self.width - 2 * EDGE_PX - GAP_PX * (len(self.columns) - 1)
        free -= sum(self.margin(0, c, s) for c in self.columns for s in ("left", "right"))
        wide = {c: max(high - low, 0.01) for c, (low, high) in self.columns.items()}
        scale = free / sum(wide.values())
        for column in wide:  # a narrow one is kept wide enough for its title and its texts
            if wide[column] * scale < self.least_px(column):
                rest = sum(w for c, w in wide.items() if c != column)
                scale = min(scale, (free - self.least_px(column)) / rest) if rest else scale
        tall = {r: max(high - low, 0.01) for r, (low, high) in self.rows.items()}
        limits = [LARGEST_SCALE, TALLEST_ALL_PX / sum(tall.values()), *(TALLEST_PX / t for t in tall.values())]
        return max(min(scale, *limits), 1.0)

    def _widest(self, axis: int, index: int, sides: tuple[str, str]) -> float:
        """Return the width of the longest shortest text on two sides of a column or row. [px]"""
        texts = (
            text_width(_shortest(d, self.system)) + 8
            for n in self.names
            if CELLS[n][axis] == index
            for s in sides
            for d in self.sides[n].get(s, ())
        )
        return max(texts, default=0.0)

    def least_px(self, column: int) -> float:
        """Return the least width of what stands in a column, margins left out. [px]"""
        return max(self.wide_texts[column], self.least[column] - self.margin(0, column, "left"))

    def least_tall_px(self, row: int) -> float:
        """Return the least height of what stands in a row. [px]"""
        return max(30.0, self.tall_texts[row])

    def lanes(self, name: str, scale: float) -> dict[str, Lane]:
        """Return the dimensions of a view in rows, from its origin."""
        view = View(name, scale, 0.0, 0.0)
        column, row = CELLS[name]
        (low, high), (bottom, top) = self.spans[name]
        found = {}
        for side, dimensions in self.sides[name].items():
            level = side in ("above", "below")
            earth = GROUND_PX if name != "plan" else 0.0
            edge = {
                "left": low * scale,
                "right": high * scale,
                "above": -top * scale,
                "below": -bottom * scale + earth,
            }[side]
            chain = [m for d in dimensions if (m := measured(d, view, side, self.system))]
            if side == "below" and earth:
                chain = [_from_ground(m, earth) for m in chain]
            limits = self.across(column, scale) if level else self.upright(row, scale)
            found[side] = Lane(tuple(in_rows(gathered(chain), limits)), edge)
        return found

    def across(self, column: int, scale: float) -> Span:
        """Return between what texts of level dimensions stay, from the origin. [px]"""
        low, high = (value * scale for value in self.columns[column])
        spare = max(self.least_px(column) - (high - low), 0.0) / 2
        return (low - spare - self.margin(0, column, "left") + 2, high + spare + self.margin(0, column, "right") - 2)

    def upright(self, row: int, scale: float) -> Span:
        """Return between what texts of upright dimensions stay, from the origin. [px]"""
        bottom, top = (value * scale for value in self.rows[row])
        spare = max(self.least_tall_px(row) - (top - bottom), 0.0) / 2
        return (-top - spare, -bottom + spare)

    def placed(self, scale: float, lanes: Mapping[str, Mapping[str, Lane]]) -> Layout:
        """Return the layout at a scale."""
        wide = {c: max((high - low) * scale, self.least_px(c)) for c, (low, high) in self.columns.items()}
        tall = {r: max((high - low) * scale, self.least_tall_px(r)) for r, (low, high) in self.rows.items()}
        used = sum(wide.values()) + sum(self.margin(0, c, s) for c in wide for s in ("left", "right"))
        spare = max(self.width - 2 * EDGE_PX - used, 0.0)
        gap = spare / (len(wide) + 1) if spare > GAP_PX * (len(wide) + 1) else 0.0
        between = (spare - 2 * gap) / max(len(wide) - 1, 1)
        lefts, x = {}, EDGE_PX + (gap if len(wide) > 1 else spare / 2)
        for c in wide:
            lefts[c] = x
            x += self.margin(0, c, "left") + wide[c] + self.margin(0, c, "right") + between
        tops, y = {}, EDGE_PX
        for r in tall:
            tops[r] = y
            y += TITLE_PX + self.margin(1, r, "above") + tall[r] + self.margin(1, r, "below")
        views, edges, titles = {}, {}, {}
        for name in self.names:
            c, r = CELLS[name]
            (low, high), (bottom, top) = self.columns[c], self.rows[r]
            x0 = lefts[c] + self.margin(0, c, "left") + (wide[c] - (high - low) * scale) / 2 - low * scale
            y0 = tops[r] + TITLE_PX + self.margin(1, r, "above") + (tall[r] - (top - bottom) * scale) / 2 + top * scale
            views[name] = View(name, scale, x0, y0)
            (own_low, own_high), (own_bottom, own_top) = self.spans[name]
            edges[name] = (x0 + own_low * scale, y0 - own_top * scale, x0 + own_high * scale, y0 - own_bottom * scale)
            titles[name] = (lefts[c], tops[r] + 12.0)
        return Layout(views, lanes, edges, titles, self.width, y)


def _from_ground(one: Measured, earth: float) -> Measured:
    """Return a distance whose extension lines start under the strokes of the ground."""
    starts = [start + earth if start > -1.0 else start for start in (one.from_low, one.from_high)]
    return Measured(one.low, one.high, starts[0], starts[1], one.texts, one.row, one.to_centres)


def _shortest(dimension: Dimension, system: str) -> str:
    i = "xyz".index(dimension.axis)
    return length_text(abs(dimension.end[i] - dimension.start[i]), system)


def _spans(frame: Frame, name: str, box: tuple[Vector, Vector]) -> tuple[Span, Span]:
    """Return what a view spans across and up: frame, bodies, and the ground in a level view. [m]"""
    u, v, _, _ = AXES[name]
    lows, highs = [box[0]], [box[1]]
    for body in frame.bodies:
        if name == "front" or body.kind not in SCALE_FIGURES:
            lows.append(body.low)
            highs.append(body.high)
    up = (min(p[v] for p in lows), max(p[v] for p in highs))
    if name != "plan":
        up = (min(up[0], 0.0), max(up[1], 0.0))
    return (min(p[u] for p in lows), max(p[u] for p in highs)), up


def _union(spans: object) -> Span:
    many = list(spans)  # type: ignore[call-overload]
    return (min(a for a, _ in many), max(b for _, b in many))


def _used(names: tuple[str, ...], axis: int) -> list[int]:
    return sorted({CELLS[name][axis] for name in names})
