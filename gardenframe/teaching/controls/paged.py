"""A long table a few rows at a time: what stands above it, the rows, and two buttons to go on and back."""

from collections.abc import Callable, Sequence
from typing import Any

import ipywidgets as W  # noqa: N812 - the short name its own pages use

ROWS = 60  # of a table, on the page at once


class Paged:
    """Rows of one table. `box` goes into the page; `show` fills it from the first row."""

    def __init__(self) -> None:
        self.above, self.page, self.said = W.HTML(), W.HTML(), W.HTML()
        self.earlier, self.later = W.Button(description="Earlier rows"), W.Button(description="Later rows")
        self.earlier.on_click(lambda _: self._go(-ROWS))
        self.later.on_click(lambda _: self._go(ROWS))
        self.bar = W.HBox([self.earlier, self.said, self.later])
        self.bar.add_class("gf-keep")
        self.box = W.VBox([self.above, self.page, self.bar])
        self.box.add_class("gf-paged")
        self.blank()

    def show(self, rows: Sequence[Any], write: Callable[[Sequence[Any]], str], above: str = "") -> None:
        """Show rows from the first; `write` turns those of one page into a table."""
        self._rows, self._write, self._from = rows, write, 0
        self.above.value = above
        self._shown()

    def blank(self) -> None:
        """Leave nothing on the page."""
        self.show((), lambda rows: "")

    def _go(self, by: int) -> None:
        self._from = min(max(self._from + by, 0), max(len(self._rows) - 1, 0) // ROWS * ROWS)
        self._shown()

    def _shown(self) -> None:
        start, every = self._from, len(self._rows)
        rows = self._rows[start : start + ROWS]
        self.page.value = self._write(rows) if rows else ""
        self.bar.layout.display = None if every > ROWS else "none"
        self.said.value = f"<span role='status'>{start + 1} to {start + len(rows)} of {every}</span>"
        self.earlier.disabled, self.later.disabled = start == 0, start + ROWS >= every
