"""Maps as SVG: a grid of shaded cells with their numbers, and the scale of shades beside it.

Shades run from dark blue to pale yellow, rising in lightness all the way, so that they read without colour too; where a
cell has room its number stands in it.
"""

from collections.abc import Iterator

from gardenframe.builds.chart import HeatMap
from gardenframe.output.charts import BOTTOM_PX, GAP_PX, ROW_PX, TOP_PX, _number, _wrapped
from gardenframe.output.svg import FAINT, GREY, INK, TEXT_PX, THIN_PX, area, box_path, hatch, lines, sheet, text
from gardenframe.output.svg import text_width as wide

LOW, MIDDLE, HIGH = (28, 50, 92), (104, 128, 120), (255, 240, 170)
SCALE_PX, SCALE_STEPS = 14.0, 6
LEAST_ROW_PX, MOST_ROW_PX, LEAST_PX = 20.0, 56.0, 44.0
LIGHT_TEXT = "#ffffff"


def heat(made: HeatMap, width_px: float = 780) -> str:
    """Return a map as SVG.

    Examples
    --------
    >>> grid = HeatMap(title="Less behind", across="x", up="y", columns=("a", "b"), rows=("front",),
    ...                values=((2.0, 5.0),), unit="h", low=0, high=5)
    >>> svg = heat(grid)
    >>> "Less behind" in svg, ">2<" in svg, svg.count("<rect") < 3
    (True, True, True)
    """
    return _Map(made, width_px).svg()


def shade(share: float) -> str:
    """Return the shade of a share of the scale, 0 dark to 1 light.

    >>> shade(0.0), shade(1.0)
    ('#1c325c', '#fff0aa')
    """
    at = min(max(share, 0.0), 1.0)
    a, b, t = (LOW, MIDDLE, 2 * at) if at < 0.5 else (MIDDLE, HIGH, 2 * at - 1)
    return "#" + "".join(f"{round(x + (y - x) * t):02x}" for x, y in zip(a, b, strict=True))


class _Map:
    """One map while it is drawn."""

    def __init__(self, made: HeatMap, width_px: float) -> None:
        self.made, self.width = made, width_px
        self.title = _wrapped(made.title, width_px - 2 * GAP_PX)
        self.left = max((wide(row) for row in made.rows), default=0.0) + 2 * GAP_PX
        ends = max(wide(self._said(value)) for value in (made.low, made.high))
        self.right = width_px - ends - SCALE_PX - 4 * GAP_PX
        self.cell = (self.right - self.left) / max(len(made.columns), 1)
        row = self.cell * made.tall if made.tall else LEAST_ROW_PX
        self.row = max(min(max(row, LEAST_ROW_PX), MOST_ROW_PX), LEAST_PX / max(len(made.rows), 1))
        self.top = TOP_PX + (len(self.title) - 1) * ROW_PX
        self.bottom = self.top + self.row * len(made.rows)
        self.height = self.bottom + BOTTOM_PX + (ROW_PX if self._empty else 0)

    @property
    def _empty(self) -> bool:
        return any(value is None for row in self.made.values for value in row)

    def _said(self, value: float) -> str:
        return f"{value:.{self.made.digits}f}".replace("-", "−")

    def _share(self, value: float) -> float:
        return (value - self.made.low) / max(self.made.high - self.made.low, 1e-12)

    def svg(self) -> str:
        """Return the sheet."""
        made = self.made
        rows = [text(GAP_PX, 16 + n * ROW_PX, row, "start", bold=True) for n, row in enumerate(self.title)]
        rows.append(text(GAP_PX, self.top - 12, made.up, "start", fill=GREY))
        rows.append(text(self.width - GAP_PX, self.top - 12, made.unit, "end", fill=GREY))
        rows.append(text((self.left + self.right) / 2, self.bottom + 34, made.across, fill=GREY))
        if self._empty:
            rows.append(text(self.left, self.height - 6, f"Hatched: {made.nothing}", "start", fill=GREY))
        drawn = [*rows, *self._cells(), *self._names(), *self._scale()]
        return sheet("".join(drawn), self.width, self.height, made.title, self._told())

    def _cells(self) -> Iterator[str]:
        shown = self.cell >= max(wide(self._said(v)) for v in (self.made.low, self.made.high)) + 3
        for n, row in enumerate(self.made.values):
            y = self.bottom - (n + 1) * self.row
            for k, value in enumerate(row):
                x = self.left + k * self.cell
                box = (x, y, x + self.cell, y + self.row)
                if value is None:
                    corners = [(box[0], box[1]), (box[2], box[1]), (box[2], box[3]), (box[0], box[3])]
                    yield lines(hatch([corners], 45, 7), THIN_PX, FAINT)
                    continue
                share = self._share(value)
                yield area(box_path(box), shade(share), "#ffffff")
                if shown:
                    fill = LIGHT_TEXT if share < 0.5 else INK
                    yield text(x + self.cell / 2, y + self.row / 2 + TEXT_PX * 0.35, self._said(value), fill=fill)

    def _names(self) -> Iterator[str]:
        room = max((wide(name) for name in self.made.columns), default=0.0) + GAP_PX
        step = max(1, -int(-room // max(self.cell, 1e-9)))
        for k in range(0, len(self.made.columns), step):
            yield text(self.left + (k + 0.5) * self.cell, self.bottom + 17, self.made.columns[k])
        every = max(1, -int(-ROW_PX // self.row))
        for n in range(0, len(self.made.rows), every):
            middle = self.bottom - (n + 0.5) * self.row
            yield text(self.left - GAP_PX, middle + TEXT_PX * 0.35, self.made.rows[n], "end")

    def _scale(self) -> Iterator[str]:
        x = self.right + 2 * GAP_PX
        high = (self.bottom - self.top) / SCALE_STEPS
        for n in range(SCALE_STEPS):
            y = self.bottom - (n + 1) * high
            yield area(box_path((x, y, x + SCALE_PX, y + high)), shade((n + 0.5) / SCALE_STEPS))
        for value, y in ((self.made.low, self.bottom), (self.made.high, self.top + TEXT_PX * 0.8)):
            yield text(x + SCALE_PX + GAP_PX, y, self._said(value), "start")

    def _told(self) -> str:
        """Return what a reader who cannot see it is told: the least and the most, and where."""
        made = self.made
        known = [(v, n, k) for n, row in enumerate(made.values) for k, v in enumerate(row) if v is not None]
        if not known:
            return f"{made.title}. Nothing to show: {made.nothing}."
        said = [
            f"{word} {_number(round(value, made.digits + 1))} {made.unit} at {made.columns[k]}, {made.rows[n]}"
            for word, (value, n, k) in (("least", min(known)), ("most", max(known)))
        ]
        return f"{made.title}. {'; '.join(said)}."
