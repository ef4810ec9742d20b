"""A heading that opens and closes what stands under it; several may be open at once."""

from collections.abc import Callable, Sequence
from typing import Any

import ipywidgets as W  # noqa: N812 - the short name its own pages use


class Fold:
    """A heading and a body. `on_open` is called when it opens, before anything is seen."""

    def __init__(self, heading: str, body: Sequence[W.Widget], *, is_open: bool = False, width: str = "wide") -> None:
        self.heading, self._line = heading, ""
        self.on_open: Callable[[], Any] | None = None
        self.head = W.ToggleButton(value=is_open)
        self.head.add_class("gf-head")
        self.body = W.VBox(list(body))
        self.body.add_class("gf-body")
        self.box = W.VBox([self.head, self.body])
        for name in ("gf-fold", f"gf-{width}"):
            self.box.add_class(name)
        self._show()
        self.head.observe(self._turned, "value")

    @property
    def is_open(self) -> bool:
        """Whether the body is seen."""
        return bool(self.head.value)

    def open(self) -> None:
        """Open it."""
        self.head.value = True

    def close(self) -> None:
        """Close it."""
        self.head.value = False

    def sum_up(self, line: str) -> None:
        """Write the line that sums it up beside the heading; "" for none."""
        self._line = line
        self.head.description = f"{self.heading}: {line}" if line else self.heading

    def _turned(self, change: Any) -> None:
        self._show()
        if change["new"] and self.on_open:
            self.on_open()

    def _show(self) -> None:
        self.body.layout.display = None if self.is_open else "none"
        self.head.icon = "chevron-down" if self.is_open else "chevron-right"
        self.sum_up(self._line)
