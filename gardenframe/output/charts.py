"""Charts as SVG: lines over one axis, each named at its end, a mark where the reader stands."""

import math
from collections.abc import Iterator, Sequence

from gardenframe.builds.chart import Chart, ChartLine
from gardenframe.output.svg import (
    BLUE,
    DASHED,
    FAINT,
    GREEN,
    GREY,
    INK,
    TEXT_PX,
    THIN_PX,
    VERMILION,
    area,
    lines,
    path,
    segment,
    sheet,
    text,
    text_width,
)

COLOURS = (BLUE, VERMILION, GREEN, INK)
LEFT_PX, TOP_PX, BOTTOM_PX, GAP_PX = 48.0, 48.0, 46.0, 8.0
LEAST_TICK_PX, LEAST_NAME_PX, MOST_ROWS = 56.0, 8.0, 3
ROW_PX = TEXT_PX * 1.3
DOT_PX = 2.5
LINE_PX = 1.8


def chart(made: Chart, width_px: float = 780, height_px: float = 300) -> str:
    """Return a chart as SVG: its title above, units at the axes, the name of each line at its end.

    Examples
    --------
    >>> line = ChartLine(name="noon", points=((0.0, 20.0), (1.0, 60.0)))
    >>> svg = chart(Chart(title="It rises", across="day", up="height, °", lines=(line,)))
    >>> "It rises" in svg, "height, °" in svg, "noon" in svg
    (True, True, True)
    """
    return _Drawn(made, width_px, height_px).svg()


class _Drawn:
    """One chart while it is drawn."""

    def __init__(self, made: Chart, width_px: float, height_px: float) -> None:
        self.made = made
        self.title = _wrapped(made.title, width_px - 2 * GAP_PX)
        points = [point for line in made.lines for point in line.points]
        xs, ys = [x for x, _ in points], [y for _, y in points]
        here = [made.here] if made.here is not None else []
        self.x_low, self.x_high = min([*xs, *here], default=0.0), max([*xs, *here], default=1.0)
        self.y_ticks = _ticks(min([0.0, *ys]), max([*ys, 1e-9]), 6)
        self.y_low, self.y_high = self.y_ticks[0], self.y_ticks[-1]
        names = max((text_width(line.name) for line in made.lines), default=0.0)
        self.left, self.right = LEFT_PX, max(width_px - names - 3 * GAP_PX, LEFT_PX + 80)
        self.top = TOP_PX + (len(self.title) - 1) * ROW_PX
        self.name_rows = next((n for n in range(1, MOST_ROWS) if self._apart(n)), MOST_ROWS) if made.every_name else 1
        more = (self.name_rows - 1) * ROW_PX
        self.height = height_px + (len(self.title) - 1) * ROW_PX + more
        self.width, self.bottom = width_px, self.height - BOTTOM_PX - more

    def x(self, value: float) -> float:
        """Place of a value across. [px]"""
        return self.left + (value - self.x_low) / max(self.x_high - self.x_low, 1e-9) * (self.right - self.left)

    def y(self, value: float) -> float:
        """Place of a value up. [px]"""
        return self.bottom - (value - self.y_low) / (self.y_high - self.y_low) * (self.bottom - self.top)

    def svg(self) -> str:
        """Return the sheet."""
        rows = [text(GAP_PX, 16 + n * ROW_PX, row, "start", bold=True) for n, row in enumerate(self.title)]
        rows.append(text(GAP_PX, self.top - 12, self.made.up, "start", fill=GREY))
        rows.append(text((self.left + self.right) / 2, self.height - 8, self.made.across, fill=GREY))
        drawn = [*rows, *self._axes(), *self._here(), *self._lines(), *self._names()]
        return sheet("".join(drawn), self.width, self.height, self.made.title, _told(self.made))

    def _axes(self) -> Iterator[str]:
        for tick in self.y_ticks:
            yield lines(segment(self.left, self.y(tick), self.right, self.y(tick)), THIN_PX, FAINT)
            yield text(self.left - 6, self.y(tick) + 4, _number(tick), "end")
        room = max(2, int((self.right - self.left) / LEAST_TICK_PX))
        if self.made.names:
            shown = [(float(n), self.made.names[n]) for n in range(0, len(self.made.names), self._name_step())]
        else:
            ticks = _ticks(self.x_low, self.x_high, room)
            shown = [(tick, _number(tick)) for tick in ticks if self.x_low - 1e-9 <= tick <= self.x_high + 1e-9]
        for n, (at, said) in enumerate(shown):
            down = n % self.name_rows * ROW_PX
            yield lines(segment(self.x(at), self.bottom, self.x(at), self.bottom + 4), THIN_PX, GREY)
            yield text(max(self.x(at), text_width(said) / 2), self.bottom + 17 + down, said)

    def _apart(self, step: int) -> bool:
        """Whether names so many places apart have room beside each other."""
        room, wide = step * (self.x(1.0) - self.x(0.0)), [text_width(name) for name in self.made.names]
        return all((a + b) / 2 + LEAST_NAME_PX <= room for a, b in zip(wide, wide[step:]))

    def _name_step(self) -> int:
        """Return every how many names are written, in as many rows as there are, so that none runs into the next."""
        most = len(self.made.names)
        return next((step for step in range(1, most) if self._apart(step * self.name_rows)), most)

    def _here(self) -> Iterator[str]:
        if self.made.here is not None:
            at = self.x(self.made.here)
            yield lines(segment(at, self.top, at, self.bottom), THIN_PX, INK, DASHED)
            yield area(path([(at - 5, self.bottom + 6), (at + 5, self.bottom + 6), (at, self.bottom)], True), INK)

    def _lines(self) -> Iterator[str]:
        for n, line in enumerate(self.made.lines):
            colour = COLOURS[n % len(COLOURS)]
            placed = [(self.x(x), self.y(y)) for x, y in line.points]
            if len(placed) > 1:
                yield lines(path(placed), LINE_PX, colour, DASHED if line.dashed else "")
            if line.places or len(placed) == 1:
                for x, y in placed:
                    d = DOT_PX
                    yield area(path([(x - d, y - d), (x + d, y - d), (x + d, y + d), (x - d, y + d)], True), colour)

    def _names(self) -> Iterator[str]:
        """Yield the name of each line at its end, moved apart where lines end close together."""
        ends = sorted(
            (self.y(line.points[-1][1]), n, line) for n, line in enumerate(self.made.lines) if line.points
        )  # fmt: skip
        lowest = self.bottom - ROW_PX * (len(ends) - 1)
        last = -math.inf
        for place, (at, n, line) in enumerate(ends):
            last = max(min(at + 4, lowest + place * ROW_PX), last + ROW_PX, self.top)
            yield text(self.right + GAP_PX, last, line.name, "start", fill=COLOURS[n % len(COLOURS)])


def _ticks(low: float, high: float, most: int) -> list[float]:
    """Return round numbers from at or below a range to at or above it."""
    span = max(high - low, 1e-9)
    power = 10.0 ** math.floor(math.log10(span / most))
    step = next(power * n for n in (1, 2, 5, 10, 20) if span / (power * n) <= most)
    first, last = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
    return [n * step for n in range(first, max(last, first + 1) + 1)]


def _number(value: float) -> str:
    return f"{value:.6g}".replace("-", "−")


def _wrapped(words: str, width_px: float) -> list[str]:
    rows: list[str] = []
    for word in words.split():
        if rows and text_width(f"{rows[-1]} {word}", bold=True) <= width_px:
            rows[-1] += f" {word}"
        else:
            rows.append(word)
    return rows or [""]


def _told(made: Chart) -> str:
    """Return what a reader who cannot see it is told: where each line starts and ends."""
    return f"{made.title}. " + " ".join(_line_told(line, made.names) for line in made.lines if line.points)


def _line_told(line: ChartLine, names: Sequence[str]) -> str:
    def at(x: float) -> str:
        return names[round(x)] if names else _number(x)

    (a, b), (c, d) = line.points[0], line.points[-1]
    return f"{line.name}: {b:.3g} at {at(a)}, {d:.3g} at {at(c)}."
