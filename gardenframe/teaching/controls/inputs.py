"""The controls of a set of fields: typed and slid, with help, limits and, where something is wrong, the sentence.

`Values` keeps what was chosen; this shows it and tells when the reader changed it.
"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

import ipywidgets as W  # noqa: N812 - the short name its own pages use

from gardenframe.builds.fields import Field
from gardenframe.teaching.controls.fold import Fold
from gardenframe.teaching.controls.ticked import Ticked
from gardenframe.teaching.page import alert, escape
from gardenframe.teaching.values import NUMERIC, Values, help_of, name_of, scale

TABLE_ROWS = 9  # of a table that is typed, seen at once


class Control:
    """The control of one field: a text box with a slider, a list, a tick box; help beneath."""

    def __init__(self, field: Field, values: Values, changed: Callable[[], None]) -> None:
        self.field, self.values, self._changed = field, values, changed
        self._showing = False
        self._sliders: dict[str, W.IntSlider] = {}  # one for each unit system: a range that changes moves the value
        self.main, self.note = self._made(), W.HTML()
        self.box = W.VBox()
        self.box.add_class("gf-field")
        self.main.observe(self._typed, "value")
        self.show("")

    @property
    def slider(self) -> W.IntSlider | None:
        """The slider in the reader's units; None where the field has none."""
        system = self.values.system
        found = scale(self.field, system)
        if found and system not in self._sliders:
            slider = W.IntSlider(
                min=found.low, max=found.high, value=found.place(self.values.kept[self.field.key]),
                description=name_of(self.field), readout=False,
            )  # fmt: skip
            slider.observe(self._slid, "value")
            self._sliders[system] = slider
        return self._sliders.get(system) if found else None

    def _made(self) -> W.Widget:
        field, name = self.field, name_of(self.field)
        if field.kind == "flag":
            return W.Checkbox(description=name, indent=False)
        labels = [(label, key) for key, label in field.choices]
        if field.kind == "choice":
            return W.Dropdown(options=labels, description=name)
        if field.kind == "choices":
            return Ticked(labels, name)
        if field.kind == "table":
            area = W.Textarea(description=name, continuous_update=False, rows=TABLE_ROWS)
            area.add_class("gf-table-text")
            return area
        return W.Text(description=name, continuous_update=False)

    # --- what the reader does

    def _typed(self, change: Any) -> None:
        if self._showing:
            return
        key, new = self.field.key, change["new"]
        if self.field.kind in NUMERIC or self.field.kind in ("text", "table"):
            self.values.type(key, new)
        else:
            self.values.set(key, new)
        self._changed()

    def _slid(self, change: Any) -> None:
        # a browser may echo a place that was only shown: it must not round what was chosen
        if not self._showing and change["new"] != self.values.place(self.field.key):
            self.values.slide(self.field.key, change["new"])
            self._changed()

    # --- what the reader sees

    def show(self, error: str) -> None:
        """Show the value, the help and the sentence that is wrong with it; what was typed wrongly stays."""
        with self._quietly():
            if self.field.key not in self.values.wrong:
                self.main.value = self._seen()
            slider = self.slider
            if slider is not None:
                slider.value = self.values.place(self.field.key)
        parts = (self.main, *([slider] if slider else []), self.note)
        if self.box.children != parts:
            self.box.children = parts
        help_text = f"<div class='gf-help'>{escape(help_of(self.field, self.values.system))}</div>"
        self.note.value = alert(error) + help_text
        (self.box.add_class if error else self.box.remove_class)("gf-wrong")
        self.box.layout.display = None if self.values.used(self.field.key) else "none"

    def _seen(self) -> Any:
        value = self.values.kept[self.field.key]
        return self.values.written(self.field.key) if self.field.kind in NUMERIC else value

    @contextmanager
    def _quietly(self) -> Iterator[None]:
        """Change widgets without taking the change for the reader's."""
        self._showing = True
        try:
            yield
        finally:
            self._showing = False


class Inputs:
    """The controls of a set of fields: those that matter first, the rest folded under their groups."""

    def __init__(self, values: Values, changed: Callable[[], None], heading: str = "") -> None:
        self.values = values
        self.controls = {key: Control(field, values, changed) for key, field in values.fields.items()}
        groups: dict[str, list[str]] = {}
        for key, field in values.fields.items():
            groups.setdefault(heading or ("" if field.first else field.group), []).append(key)
        first = self._grid(groups.pop("", []))
        self.groups = groups
        self.folds = {name: Fold(name, [self._grid(keys)]) for name, keys in groups.items()}
        folded = W.VBox([fold.box for fold in self.folds.values()])
        folded.add_class("gf-groups")
        self.box = W.VBox([box for box in (first, folded) if box.children])
        self.box.add_class("gf-inputs")

    def _grid(self, keys: list[str]) -> W.VBox:
        grid = W.VBox([self.controls[key].box for key in keys])
        grid.add_class("gf-fields")
        return grid

    def show(self, errors: dict[str, str]) -> None:
        """Show every value, and each sentence by its control; a heading that hides one opens, an empty one goes."""
        for key, control in self.controls.items():
            control.show(errors.get(key, ""))
        for name, fold in self.folds.items():
            used = [key for key in self.groups[name] if self.values.used(key)]
            fold.box.layout.display = None if used else "none"
            if any(key in errors for key in used):
                fold.open()
