"""Where words go so that none lies on another: which cells of a sheet are taken, and labels beside what they name.

Boxes and lines come in; a free place, or None, goes out.
"""

import math
from dataclasses import dataclass

from gardenframe.output.svg import ASCENT, DESCENT, TEXT_PX, Box, Point, text_width

CELL_PX = 3.0
AIR_PX = 1.5  # kept free round every text
HALF_PX = (ASCENT + DESCENT) * TEXT_PX / 2
BESIDE_PX = 3.2  # from a tube to the label beside it
ALONG = (0.5, 0.38, 0.62, 0.26, 0.74, 0.14, 0.86)  # where on a piece its label may stand, best first
LEADERS_PX = (26.0, 40.0, 58.0, 80.0, 110.0)
LEADER_DEG = (45, -45, 0, 180, 135, -135, 90, -90)
LEADER_WAYS = tuple((math.cos(math.radians(d)), -math.sin(math.radians(d))) for d in LEADER_DEG)


class Taken:
    """Which cells of a sheet are taken: each row of cells is one whole number, so that a look costs little."""

    def __init__(self, width: float, height: float) -> None:
        self.bounds: Box = (2.0, 2.0, width - 2.0, height - 2.0)
        self.rows = [0] * (int(height / CELL_PX) + 2)

    def take(self, left: float, top: float, right: float, bottom: float) -> None:
        """Mark a box as taken."""
        first = int(left / CELL_PX) if left > 0 else 0
        bits = ((2 << int(right / CELL_PX) - first) - 1) << first if right >= left and right > 0 else 0
        rows = self.rows
        for row in range(max(int(top / CELL_PX), 0), min(int(bottom / CELL_PX), len(rows) - 1) + 1):
            rows[row] |= bits

    def take_line(self, a: Point, b: Point, width: float = 1.0) -> None:
        """Mark a line as taken."""
        half = width / 2
        (ax, ay), (bx, by) = a, b
        dx, dy = abs(bx - ax), abs(by - ay)
        steps = 1 if dx < CELL_PX or dy < CELL_PX else int(min(dx, dy) / CELL_PX) + 1
        for i in range(steps):
            sx, sy = ax + (bx - ax) * i / steps, ay + (by - ay) * i / steps
            ex, ey = ax + (bx - ax) * (i + 1) / steps, ay + (by - ay) * (i + 1) / steps
            left, right = (sx, ex) if sx < ex else (ex, sx)
            top, bottom = (sy, ey) if sy < ey else (ey, sy)
            self.take(left - half, top - half, right + half, bottom + half)

    def free(self, left: float, top: float, right: float, bottom: float) -> bool:
        """Whether nothing is in a box and it lies on the sheet."""
        bounds = self.bounds
        if left < bounds[0] or top < bounds[1] or right > bounds[2] or bottom > bounds[3]:
            return False
        first = int(left / CELL_PX)
        bits = ((2 << int(right / CELL_PX) - first) - 1) << first
        for row in self.rows[int(top / CELL_PX) : int(bottom / CELL_PX) + 1]:  # noqa: SIM110 - any() is twice as slow
            if row & bits:
                return False
        return True


@dataclass(frozen=True, slots=True)
class Label:
    """A text in its place: base line centre, and where its leader starts and ends if it has one."""

    words: str
    x: float
    y: float
    box: Box
    leader: tuple[Point, Point] | None = None


def airy(box: Box) -> Box:
    """Return a box with the air that is kept round a text."""
    return (box[0] - AIR_PX, box[1] - AIR_PX, box[2] + AIR_PX, box[3] + AIR_PX)


def beside(words: str, ends: tuple[Point, Point], width: float, taken: Taken) -> Label | None:
    """Return a bold label in a free place beside a straight piece, which it then takes, or None.

    Parameters
    ----------
    ends : two points
        The piece's axis. [px]
    width : float
        How wide the piece is drawn. [px]
    taken : Taken
        What words and lines have taken.
    """
    (ax, ay), (bx, by) = ends
    half_w, half_h = text_width(words, bold=True) / 2, HALF_PX
    length = math.hypot(bx - ax, by - ay)
    nx, ny = ((by - ay) / length, (ax - bx) / length) if length > 1 else (1.0, 0.0)
    if ny > 1e-9 or (abs(ny) < 1e-9 and nx < 0):  # first above a level piece, to the right of an upright one
        nx, ny = -nx, -ny
    off = width / 2 + BESIDE_PX + abs(nx) * half_w + abs(ny) * half_h
    for t in ALONG if length > 1 else ALONG[:1]:
        for side in (off, -off):
            x, y = ax + (bx - ax) * t + nx * side, ay + (by - ay) * t + ny * side
            if taken.free(x - half_w, y - half_h, x + half_w, y + half_h):
                return _at(words, x, y, half_w, taken)
    return None


def led(words: str, ends: tuple[Point, Point], taken: Taken) -> Label | None:
    """Return a bold label in a free place away from a straight piece, with a leader to it, or None."""
    (ax, ay), (bx, by) = ends
    half_w, half_h = text_width(words, bold=True) / 2, HALF_PX
    for reach in LEADERS_PX:
        for t in ALONG[:3]:
            foot = (ax + (bx - ax) * t, ay + (by - ay) * t)
            for c, s in LEADER_WAYS:
                x, y = foot[0] + c * (reach + half_w), foot[1] + s * (reach + half_h / 2)
                if taken.free(x - half_w, y - half_h, x + half_w, y + half_h):
                    return _at(words, x, y, half_w, taken, foot)
    return None


def _at(words: str, x: float, y: float, half_w: float, taken: Taken, foot: Point | None = None) -> Label:
    """Return a label with its middle at a point, which it takes."""
    box = (x - half_w, y - HALF_PX, x + half_w, y + HALF_PX)
    taken.take(*airy(box))
    return Label(words, x, y + HALF_PX - DESCENT * TEXT_PX, box, (foot, _edge(box, foot)) if foot else None)


def _edge(box: Box, foot: Point) -> Point:
    """Point of a box nearest to a leader's foot."""
    return (min(max(foot[0], box[0] - 1), box[2] + 1), min(max(foot[1], box[1]), box[3]))


def near(words: str, box: Box, taken: Taken, above: bool = False) -> Label | None:
    """Return a label in a free place inside a box, else just outside it, which it then takes, or None."""
    half_w, half_h = text_width(words) / 2, HALF_PX
    left, top, right, bottom = box
    mid_x, mid_y = (left + right) / 2, (top + bottom) / 2
    quarter, low = (right - left) / 4, bottom - half_h - 4
    inside = [(mid_x, y) for y in (mid_y, top + half_h + 4, low)]
    inside += [(x, y) for y in (mid_y, low) for x in (mid_x - quarter, mid_x + quarter)]
    inside += [(x, y) for y in (mid_y, low) for x in (left + half_w + 8, right - half_w - 8)]
    if above or right - left < 2 * half_w + 8 or bottom - top < 2 * half_h + 2:
        inside = []
    outside = [
        (mid_x, top - half_h - 3), (right + half_w + 5, mid_y), (left - half_w - 5, mid_y), (mid_x, bottom + half_h + 3)
    ]  # fmt: skip
    for x, y in (*inside, *outside):
        place = (x - half_w, y - half_h, x + half_w, y + half_h)
        if taken.free(*place):
            return _at(words, x, y, half_w, taken)
    return None
