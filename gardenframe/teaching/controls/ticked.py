"""Several of a list to tick: one box for each, under their common name.

`value` is the tuple of the keys that are ticked, in the order of the list; setting it ticks and unticks the boxes.
"""

from collections.abc import Sequence
from typing import Any

import ipywidgets as W  # noqa: N812 - the short name its own pages use
import traitlets

from gardenframe.teaching.page import escape


class Ticked(W.VBox):
    """Tick boxes for any number of several; to be observed by its `value`, as any widget is."""

    value = traitlets.Tuple()

    def __init__(self, options: Sequence[tuple[str, Any]], description: str) -> None:
        self._keys = [key for _, key in options]
        self.description, self._taking = description, False
        self.boxes = [W.Checkbox(description=label, indent=False) for label, _ in options]
        grid = W.VBox(self.boxes)
        grid.add_class("gf-ticks")
        super().__init__([W.HTML(f"<div class='gf-ticks-name'>{escape(description)}</div>"), grid])
        self.add_class("gf-ticked")
        for box in self.boxes:
            box.observe(self._ticked, "value")
        self.observe(self._given, "value")

    def _ticked(self, _: Any) -> None:
        """The reader ticked or unticked a box."""
        if not self._taking:
            self.value = tuple(key for key, box in zip(self._keys, self.boxes) if box.value)

    def _given(self, change: Any) -> None:
        """The value was set: show it in the boxes, without taking that for the reader's doing."""
        self._taking = True
        try:
            for key, box in zip(self._keys, self.boxes):
                box.value = key in change["new"]
        finally:
            self._taking = False
