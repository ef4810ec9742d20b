"""Dots over one axis: one for each number, stacked where they stand close, a row for each kind.

On a `decades` axis each mark is ten times the one before. Numbers too small to part stand in a field of their own.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from gardenframe.output.svg import (
    BLUE,
    DASHED,
    FAINT,
    GREEN,
    GREY,
    INK,
    THIN_PX,
    VERMILION,
    area,
    box_path,
    lines,
    segment,
    sheet,
    text,
)  # fmt: skip
from gardenframe.output.wrapping import wrapped

EDGE_PX, TITLE_PX, NAME_PX, LEAST_PX, MOST_PX, AXIS_PX = 10.0, 17.0, 22.0, 18.0, 84.0, 42.0
STEP_PX, DOT_PX = 5.0, 4.0
FIELD_SHARE = 0.2  # of the width, for what lies below the first mark
LEAST_TICK_PX = 62.0
COLOURS = (BLUE, GREEN, VERMILION)
SHADE = "#f2f4f6"


@dataclass(frozen=True, slots=True, kw_only=True)
class DotRow:
    """One row: its name and its numbers, in per cent."""

    name: str
    values: tuple[float, ...]


def dots(
    rows: Sequence[DotRow],
    width_px: float = 780,
    *,
    title: str,
    across: str,
    decades: tuple[int, int] | None = None,
    least: float = 1.0,
    high: float = 100.0,
) -> str:
    """Return dots as SVG, a row for each kind, its name and number of dots above it.

    Parameters
    ----------
    title, across : str
        What it says, and what the axis measures with its unit.
    decades : tuple of int, optional
        Powers of ten of the first and the last mark; without them the axis runs evenly from nought to `high`.
    least : float
        Numbers below it stand in the field at the left, which is named "less"; on a `decades` axis, those below the
        first mark.

    Examples
    --------
    >>> svg = dots([DotRow(name="printed", values=(0.0, 2.0))], title="Close", across="off, %", decades=(-2, 1))
    >>> "printed: 2" in svg, svg.count("<path") > 4
    (True, True)
    """
    return _Drawn(rows, width_px, title, across, decades, least, high).svg()


class _Drawn:
    """One chart while it is drawn."""

    def __init__(
        self, rows: Sequence[DotRow], width_px: float, title: str, across: str, decades: tuple[int, int] | None,
        least: float, high: float,
    ) -> None:  # fmt: skip
        self.rows, self.width, self.title, self.across = rows, width_px, title, across
        self.decades, self.high = decades, high
        self.least = 10.0 ** decades[0] if decades else least
        self.words = wrapped(title, width_px - 2 * EDGE_PX, bold=True)
        self.top = 12.0 + TITLE_PX * len(self.words)
        inside = width_px - 2 * EDGE_PX
        self.left = EDGE_PX + inside * FIELD_SHARE + STEP_PX
        self.right = width_px - EDGE_PX - STEP_PX
        self.stacks = [self._stacked(row.values) for row in rows]
        most = [max((len(stack) for stack in stacks.values()), default=0) for stacks in self.stacks]
        self.rise = min(STEP_PX, (MOST_PX - DOT_PX) / max(*most, 2, 2))
        self.tall = [max(number * self.rise, LEAST_PX) for number in most]

    def x(self, value: float) -> float:
        """Place of a number across. [px]"""
        if self.decades:
            low, high = self.decades
            share = (math.log10(value) - low) / (high - low)
        else:
            share = (value - self.least) / (self.high - self.least)
        return self.left + min(max(share, 0.0), 1.0) * (self.right - self.left)

    def _stacked(self, values: Sequence[float]) -> dict[int, list[float]]:
        """Return numbers by column of dots; those below the first mark fill the columns of their field evenly."""
        found: dict[int, list[float]] = {}
        field = max(1, int((self.left - EDGE_PX - 3 * STEP_PX) / STEP_PX))
        under = 0
        for value in sorted(values):
            if value < self.least:
                column, under = -1 - under % field, under + 1
            else:
                column = round((self.x(value) - self.left) / STEP_PX)
            found.setdefault(column, []).append(value)
        return found

    def svg(self) -> str:
        """Return the sheet."""
        bottom = self.top + sum(NAME_PX + tall + 8 for tall in self.tall)
        drawn = [text(EDGE_PX, 16 + n * TITLE_PX, row, "start", bold=True) for n, row in enumerate(self.words)]
        drawn += self._axis(bottom)
        base = self.top - 4
        for n, row in enumerate(self.rows):
            base += NAME_PX + self.tall[n] + 8
            drawn.append(lines(segment(EDGE_PX, base, self.right + STEP_PX, base), THIN_PX, FAINT))
            drawn.append(area(self._dots(self.stacks[n], base), COLOURS[n % len(COLOURS)]))
            drawn.append(text(EDGE_PX, base - self.tall[n] - 8, f"{row.name}: {len(row.values)}", "start"))
        told = " ".join(_told(row) for row in self.rows)
        return sheet("".join(drawn), self.width, bottom + AXIS_PX, self.title, f"{self.title}. {self.across}. {told}")

    def _dots(self, stacks: dict[int, list[float]], base: float) -> str:
        found = []
        for column, values in stacks.items():
            # the field ends a dot's width before the first mark
            middle = self.left + (column if column >= 0 else column - 1) * STEP_PX
            for n in range(len(values)):
                low = base - 1 - n * self.rise
                found.append(box_path((middle - DOT_PX / 2, low - DOT_PX, middle + DOT_PX / 2, low)))
        return "".join(found)

    def _axis(self, bottom: float) -> Iterator[str]:
        end = self.left - STEP_PX
        yield area(box_path((EDGE_PX, self.top, end, bottom)), SHADE)
        yield text((EDGE_PX + end) / 2, bottom + 14, "less", fill=GREY)
        for value in self._marks():
            at = self.x(value)
            whole = not self.decades and value == self.high
            yield lines(segment(at, self.top, at, bottom), THIN_PX, INK if whole else FAINT, DASHED if whole else "")
            yield text(at, bottom + 14, _mark(value), "end" if at > self.right - 12 else "middle", fill=GREY)
        yield text((self.left + self.right) / 2, bottom + 32, self.across, fill=GREY)

    def _marks(self) -> list[float]:
        room = max(2, int((self.right - self.left) / LEAST_TICK_PX))
        if not self.decades:
            return [self.least, *(self.high * n / 4 for n in range(1, 5))]
        low, high = self.decades
        step = max(1, math.ceil((high - low) / room))
        return [10.0**power for power in range(high, low - 1, -step)][::-1]


def _mark(value: float) -> str:
    return f"{value:.9f}".rstrip("0").rstrip(".")


def _told(row: DotRow) -> str:
    """Return what a reader who cannot see it is told about one row."""
    if not row.values:
        return f"{row.name}: none."
    found = sorted(row.values)
    half = found[(len(found) - 1) // 2]
    return f"{row.name}: {len(found)}, half within {half:.2g} %, the furthest {found[-1]:.2g} %."
