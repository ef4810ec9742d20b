"""The form of the settings: controls made from their fields, a button that saves, and a sentence that says where.

What is wrong stands by its control, and then nothing is saved. A file that is there and cannot be used is said above;
saving starts a new one and keeps the old beside it.
"""

from pathlib import Path
from typing import Any

import ipywidgets as W  # noqa: N812 - the short name its own pages use

from gardenframe.builds.fields import FieldError
from gardenframe.errors import GardenframeError
from gardenframe.teaching import settings as file
from gardenframe.teaching import settings_fields as known
from gardenframe.teaching import start
from gardenframe.teaching.controls.inputs import Inputs
from gardenframe.teaching.controls.names import Names
from gardenframe.teaching.controls.panel import SYSTEMS
from gardenframe.teaching.controls.sweep import Swept, sweep_small
from gardenframe.teaching.page import alert, escape
from gardenframe.teaching.style import CSS, INK, WASH
from gardenframe.teaching.values import Values

TITLE = "Settings"
LOOK = f"""<style>
.gf-panel .gf-controls.gf-form {{ flex: 1 1 100%; position: static; max-height: none; overflow: visible; padding: 0;
  margin: 0; }}
.gf-panel .gf-text {{ grid-column: 1 / -1; }}
.gf-panel .gf-text .widget-text {{ flex-flow: column nowrap; align-items: stretch; height: auto; gap: 3px; }}
.gf-panel .gf-text .widget-text input {{ flex: 0 0 30px; width: 100%; text-align: left; }}
.gf-panel .gf-saving {{ display: flex; flex-flow: row wrap; gap: 10px 16px; align-items: center; margin-top: 16px; }}
.gf-panel .gf-saving button {{ width: auto; height: 34px; padding: 0 14px; font: inherit; background: {WASH};
  color: {INK}; border: 1px solid #767676; border-radius: 4px; box-shadow: none; }}
.gf-panel .gf-saving button.mod-primary {{ background: #00598c; color: #fff; border-color: #00598c; font-weight: 600; }}
.gf-panel .gf-saving > .widget-html {{ flex: 1 1 320px; min-width: 0; }}
</style>"""


class SettingsForm:
    """The settings of a folder. Displays itself at the end of a cell."""

    title = TITLE

    def __init__(self, folder: Path | None = None) -> None:
        self.folder = folder or Path.cwd()
        self.error = self._broken = ""
        try:
            found = file.load_settings(self.folder)
        except GardenframeError as error:
            found = file.Settings()
            self._broken = f"{error} {self._meanwhile()}"
        self.values = Values(known.fields(), found.values, found.system)
        self.inputs = Inputs(self.values, self.changed)
        for control in self.inputs.controls.values():
            if control.field.kind == "text":
                control.box.add_class("gf-text")
        self._made_buttons()
        self._laid_out()
        self.changed()
        if self._broken:
            self._say("")
        elif found.where:
            self._say(f"These are the settings saved in {found.where.name}, beside the workbooks.")
        else:
            self._say("Nothing is saved yet: the workbooks use what stands here.")

    def _made_buttons(self) -> None:
        self.units = W.ToggleButtons(options=SYSTEMS, value=self.values.system, description="Units")
        self.units.add_class("gf-units")
        self.units.observe(lambda change: self.use(change["new"]), "value")
        self.save_button = W.Button(description="Save settings", button_style="primary")
        self.save_button.on_click(lambda _: self.save())
        self.copies = {
            key: W.Button(description=f"Copy our {name} to edit")
            for key, name in (("prices", "price table"), ("fittings", "fittings table"))
        }
        for key, button in self.copies.items():
            button.on_click(lambda _, key=key: self.own_copy(key))
        self.above, self.said = W.HTML(), W.HTML()

    def _laid_out(self) -> None:
        style = W.HTML(CSS + LOOK)
        style.add_class("gf-style")
        self.names = Names()
        self.names.add_class("gf-names")
        bar = W.HBox([self.units])
        bar.add_class("gf-bar")
        controls = W.VBox([self.inputs.box])
        for name in ("gf-controls", "gf-form"):
            controls.add_class(name)
        columns = W.HBox([controls])
        columns.add_class("gf-columns")
        saving = W.HBox([self.save_button, *self.copies.values(), self.said])
        saving.add_class("gf-saving")
        self.box = W.VBox([style, bar, self.above, columns, saving, self.names])
        self.box.add_class("gf-panel")

    def _repr_mimebundle_(self, include: Any = None, exclude: Any = None) -> Any:
        """Return the live form, and beside it the sentence that a page without a kernel shows."""
        bundle = self.box._repr_mimebundle_(include=include, exclude=exclude)
        data, metadata = bundle if isinstance(bundle, tuple) else (bundle, {})
        words = {"text/plain": start.SENTENCE, "text/html": start.beside_a_panel(TITLE, with_picture=False)}
        return {**data, **words}, metadata

    # --- what the reader does

    def use(self, system: str) -> None:
        """Show, read and save in a unit system; what was chosen stays exactly as it is."""
        if system != self.values.system:
            self.values.system = system
            self.units.value = system
            self.changed()

    def type(self, key: str, text: str) -> None:
        """Type into the box of a field, or choose from its list."""
        self.inputs.controls[key].main.value = text

    def refresh(self) -> None:
        """Check and show again."""
        self.changed()

    @property
    def answered(self) -> bool:
        """Whether what is chosen can be saved."""
        return "Changed" in self.said.value

    def sweep(self) -> Swept:
        """Move every control to both ends in both unit systems, and type nonsense; see `sweep`."""
        return sweep_small(self)

    def changed(self) -> None:
        """Check what is chosen; say by its control what is wrong."""
        wrong = self._wrong()
        self.inputs.show(wrong)
        self.error = " ".join(wrong.values())
        self._sum_up(wrong)
        self._say("" if wrong else "Changed, not saved yet.")
        self._above(self._broken)

    def save(self) -> None:
        """Write the file, unless something is wrong; say where it lies."""
        wrong = self._wrong()
        self.inputs.show(wrong)
        self.error = " ".join(wrong.values())
        if wrong:
            labels = " and ".join(self.values.fields[key].label for key in wrong if key in self.values.fields)
            self._say(f"Not saved: mend {labels or 'what is said above'} first.")
            return
        had = (self.folder / file.FILE).exists()
        try:
            saved = file.save_settings(self.values.kept, self.values.system, self.folder)
        except GardenframeError as error:
            self.error = str(error)
            self._above(self.error)
            self._say("Not saved.")
            return
        self._broken = ""
        self._above("")
        before = file.before_of(self.folder)
        kept = f" The one before is kept as {before.name}." if had and before and before.exists() else ""
        name = saved.where.name if saved.where else file.FILE
        self._say(
            f"Saved in {name}, beside the workbooks.{kept} A workbook reads it at its next move or Run All Cells."
        )

    def own_copy(self, key: str) -> None:
        """Write a copy of one of our tables to edit, name it in its box, say what to do with it."""
        try:
            place = file.own_copy(key, self.folder)
        except GardenframeError as error:
            self.error = str(error)
            self._above(self.error)
            return
        self.type(key, place.name)
        do = "Change its cells and write own under source where a value is yours; then save the settings."
        self._say(f"{place.name} lies beside the workbooks. {do}")

    # --- what is wrong, and what is said

    def _wrong(self) -> dict[str, str]:
        """Return the sentence of every field that is wrong; of a table, by the box that names it."""
        wrong = self.values.errors()
        if wrong:
            return wrong
        try:
            file.made(self.values.kept, self.values.system, self.folder)
        except FieldError as error:
            return {error.field: str(error)}
        except GardenframeError as error:
            named = [key for key in ("prices", "fittings") if self.values.kept[key].strip()]
            table = getattr(error, "table", "")
            return {next((k for k in named if Path(self.values.kept[k]).name == table), "prices"): str(error)}
        return {}

    @staticmethod
    def _meanwhile() -> str:
        kept = file.FILE.replace(".toml", ".before.toml")
        return (
            f"Until it is mended no workbook shows a result. Saving here starts a new file and keeps yours as {kept}."
        )

    def _above(self, sentence: str) -> None:
        self.above.value = alert(sentence)
        self.above.layout.display = None if sentence else "none"

    def _say(self, sentence: str) -> None:
        self.said.value = f"<span role='status'>{escape(sentence)}</span>"

    def _sum_up(self, wrong: dict[str, str]) -> None:
        """Write beside each heading what is under it."""
        values, folds = self.values, self.inputs.folds
        soil = values.written("soil")
        stock = [values.fields[key].label.lower() for key in ("sticks", "on_hand", "leftovers") if values.kept[key]]
        tables = [values.kept[key] for key in ("prices", "fittings") if values.kept[key]]
        folds[known.PLACE].sum_up(f"wind {values.written('wind')}, {soil}")
        folds[known.CUTTING].sum_up(f"{values.kept['cutter']}, tax {values.written('tax')}")
        folds[known.STOCK].sum_up(", ".join(stock) or "as usual, nothing at hand")
        folds[known.TABLES].sum_up(", ".join(tables) or "none, so ours, which are invented")
        for key in wrong:
            group = values.fields[key].group
            folds[group].sum_up("")


def settings_form(folder: Path | None = None) -> SettingsForm:
    """Return the form of the settings of a folder, the working folder unless given."""
    return SettingsForm(folder)
