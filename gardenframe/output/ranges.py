"""Bars from a low to a high number with a mark at the usual one, under each other, over one axis.

With a `middle` each bar is a swing about it: what one price does to a cost, the widest on top.
"""

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from gardenframe.output.svg import (
    BLUE,
    DASHED,
    FAINT,
    GREY,
    INK,
    THIN_PX,
    area,
    box_path,
    lines,
    segment,
    sheet,
    text,
    text_width,
)

EDGE_PX, TOP_PX, ROW_PX, BAR_PX, AXIS_PX = 8.0, 40.0, 40.0, 13.0, 34.0
LEAST_TICK_PX = 70.0
FILL, FILL_HERE = "#cfe1ef", "#f8e8c8"


@dataclass(frozen=True, slots=True, kw_only=True)
class Range:
    """One bar: its name, its ends, the usual number between them, words at its right; `here` is the reader's own."""

    name: str
    low: float
    usual: float
    high: float
    words: str = ""
    here: bool = False


def ranges(rows: Iterable[Range], width_px: float = 780, *, title: str, unit: str, middle: float | None = None) -> str:
    """Return bars from low to high as SVG, named above each, numbers at the axis below.

    Parameters
    ----------
    title, unit : str
        What it says, and the unit of the axis, which stands beside it.
    middle : float, optional
        The number that every bar swings about; the axis then need not start at nothing.

    Examples
    --------
    >>> svg = ranges([Range(name="EMT 1 in", low=80, usual=100, high=135)], title="Cost", unit="USD")
    >>> "EMT 1 in" in svg, "USD" in svg
    (True, True)
    """
    found = list(rows)
    if not found:
        return sheet(text(EDGE_PX, 22, "Nothing to show.", "start"), width_px, 36, title, "Nothing to show.")
    right = width_px - EDGE_PX - max(text_width(row.words) for row in found) - 10
    low = 0.0 if middle is None else min(row.low for row in found)
    high = max(row.high for row in found)
    ticks = _ticks(low, max(high, low + 1e-9), max(2, int((right - EDGE_PX) / LEAST_TICK_PX)))
    low, high = ticks[0], ticks[-1]

    def x(value: float) -> float:
        return EDGE_PX + 6 + (value - low) / (high - low) * (right - EDGE_PX - 12)

    bottom = TOP_PX + ROW_PX * len(found)
    drawn = [text(EDGE_PX, 18, f"{title}, {unit}", "start", bold=True)]
    for tick in ticks:
        drawn.append(lines(segment(x(tick), TOP_PX, x(tick), bottom), THIN_PX, FAINT))
        drawn.append(text(x(tick), bottom + 15, f"{tick:,.6g}", fill=GREY))
    if middle is not None:
        drawn.append(lines(segment(x(middle), TOP_PX, x(middle), bottom), THIN_PX, INK, DASHED))
    for n, row in enumerate(found):
        drawn += _bar(row, TOP_PX + n * ROW_PX, x, right)
    said = ". ".join(f"{row.name}: {row.low:.4g} to {row.high:.4g}, {row.words}" for row in found)
    return sheet("".join(drawn), width_px, bottom + AXIS_PX, title, f"{title}. {said}.")


def _bar(row: Range, y: float, at: Callable[[float], float], right: float) -> Sequence[str]:
    top = y + 19
    box = (at(row.low), top, max(at(row.high), at(row.low) + 1.5), top + BAR_PX)
    name = f"{row.name} (yours)" if row.here else row.name
    usual = at(row.usual)
    return (
        area(box_path(box), FILL_HERE if row.here else FILL, BLUE, 1.2),
        lines(segment(usual, top - 3, usual, top + BAR_PX + 3), 2.2, INK),
        text(EDGE_PX, y + 14, name, "start"),
        text(right + 8, top + BAR_PX - 2, row.words, "start"),
    )


def _ticks(low: float, high: float, most: int) -> list[float]:
    span = max(high - low, 1e-9)
    power = 10.0 ** math.floor(math.log10(span / most))
    step = next(power * n for n in (1, 2, 5, 10, 20) if span / (power * n) <= most)
    first, last = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
    return [n * step for n in range(first, max(last, first + 1) + 1)]
