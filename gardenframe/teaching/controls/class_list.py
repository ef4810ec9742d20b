"""A class order on the page: a list to paste or open, one button that plans it with its progress shown, the results.

Nothing is planned while somebody types, and what stands beneath is always of the list as it was planned last: a change
of the list or the units says so.
"""

import dataclasses
from pathlib import Path
from typing import Any

import ipywidgets as W  # noqa: N812 - the short name its own pages use

from gardenframe import tables
from gardenframe.errors import GardenframeError
from gardenframe.materials.shop import Shop
from gardenframe.materials.site import Site
from gardenframe.studies.class_order import ClassOrder, order
from gardenframe.studies.class_order_reading import template
from gardenframe.teaching import class_results, start
from gardenframe.teaching.controls.fold import Fold
from gardenframe.teaching.controls.names import Names
from gardenframe.teaching.controls.opener import Opener
from gardenframe.teaching.controls.panel import SYSTEMS
from gardenframe.teaching.page import alert, count, escape
from gardenframe.teaching.settings import TAPE
from gardenframe.teaching.settings_source import Source
from gardenframe.teaching.style import CSS

EXAMPLE = "class_order.csv"
FOLDER = "my_class"  # beside the workbooks
HEADINGS = {
    "problems": "What could not be planned",
    "kits": "Who builds what, and what each pays",
    "kit": "The list of one kit",
    "bill": "One bill for all",
    "cutting": "Cut sheets",
    "leftovers": "Left over",
}
HELP = (
    "One line for each build. <b>alias</b> and <b>build</b> are needed; every other column names a field, and an empty "
    "cell leaves that field as the build has it. Write a length as you say it: 6 ft, 1.8 m. <b>units</b> (metric or "
    "us) says how a number alone is read."
)


class ClassList:
    """The list of a class, and what follows from it. Displays itself at the end of a cell."""

    title = "A class order"

    def __init__(self, settings: Source) -> None:
        self._settings = settings
        self.order: ClassOrder | None = None
        self.error = ""
        self._planned = ""  # the list that the results are of
        self.list = W.Textarea(value=_example(), description="List", layout=W.Layout(width="100%", height="250px"))
        self.list.observe(lambda _: self._stale(), "value")
        self.units = W.ToggleButtons(options=SYSTEMS, value=settings.system, description="Units")
        self.units.add_class("gf-units")
        self.units.observe(lambda _: self.plan() if self.order else None, "value")
        self.open_file = W.FileUpload(accept=".csv,text/csv", multiple=False, description="Open a CSV file")
        self.open_file.observe(self._opened_file, "value")
        self.from_template = W.Button(description="A list to start from")
        self.from_template.on_click(lambda _: setattr(self.list, "value", template(system=self.system)))
        self.plan_button = W.Button(description="Plan the class", button_style="primary")
        self.plan_button.on_click(lambda _: self.plan())
        self.write_button = W.Button(description="Write the files")
        self.write_button.on_click(lambda _: self.write())
        self.strength = W.Checkbox(value=False, description="Check strength too (slower)", indent=False)
        self.progress = W.IntProgress(value=0, max=1, description="", layout=W.Layout(width="240px"))
        self.said, self.numbers, self.opener = W.HTML(), W.HTML(), Opener()
        self.pages = {key: W.HTML() for key in HEADINGS}
        self.which = W.Dropdown(options=[("", 0)], description="Kit")
        self.which.observe(lambda _: self._kit(), "value")
        self._laid_out()

    def _laid_out(self) -> None:
        style, told, names = W.HTML(CSS + LOOK), W.HTML(f"<p class='gf-note'>{HELP}</p>"), Names()
        style.add_class("gf-style")
        names.add_class("gf-names")
        self.folds = {
            key: Fold(heading, [self.which, page] if key == "kit" else [page], is_open=key in ("problems", "kits"))
            for (key, heading), page in zip(HEADINGS.items(), self.pages.values(), strict=True)
        }
        bar, files = W.HBox([self.units]), W.HBox([self.open_file, self.from_template])
        chosen = W.HBox([self.strength])
        doing = W.HBox([self.plan_button, self.progress, self.write_button])
        bar.add_class("gf-bar")
        for row in (files, chosen, doing):
            row.add_class("gf-keep")
        results = W.VBox([self.numbers, *(fold.box for fold in self.folds.values())])
        results.add_class("gf-results")
        self.results = results
        self.box = W.VBox([style, bar, told, self.list, files, chosen, doing, self.said, self.opener, results, names])
        self.box.add_class("gf-panel")
        self._blank("")

    def _repr_mimebundle_(self, include: Any = None, exclude: Any = None) -> Any:
        """Return the live thing, and beside it the sentence that a page without a kernel shows."""
        bundle = self.box._repr_mimebundle_(include=include, exclude=exclude)
        data, metadata = bundle if isinstance(bundle, tuple) else (bundle, {})
        words = {"text/plain": start.SENTENCE, "text/html": start.beside_a_panel(self.title)}
        return {**data, **words}, metadata

    @property
    def system(self) -> str:
        """The unit system in which lengths are cut and written."""
        return str(self.units.value)

    # --- what the reader does

    def plan(self) -> None:
        """Plan the list as it stands, and show what follows."""
        text = self.list.value
        self._blank("")
        try:
            given = self._settings.now()
            shop = dataclasses.replace(given.shop, tape=TAPE[self.system])
            self.order = order(f"{text}\n", given.site, shop, progress=self._tell, strength=self.strength.value)
            self._show(self.order)
        except GardenframeError as error:
            self._blank(str(error))
        except Exception as error:  # an exception in a callback is invisible in a browser: say it
            self._blank(f"This could not be worked out ({type(error).__name__}: {error}).")
        self._planned = text

    def write(self) -> None:
        """Write every table and the pages to print into a folder beside this workbook."""
        if self.order is None:
            self._say(alert("Nothing was written: plan the class first."))
            return
        try:
            written = class_results.write_files(self.order, Path(FOLDER), self.system)
        except GardenframeError as error:
            self._say(alert(str(error)))
            return
        told = f"Written into {FOLDER}: {', '.join(path.name for path in written)}."
        self._say(f"<p role='status'>{escape(told)}</p>")
        page = next(path for path in written if path.suffix == ".html").read_text(encoding="utf-8")
        self.opener.offer(page, "Open the pages in a tab of their own, to look at them and print them")

    def _opened_file(self, change: Any) -> None:
        if change["new"]:
            try:
                self.list.value = bytes(change["new"][0]["content"]).decode("utf-8-sig")
            except UnicodeDecodeError:
                self._blank(
                    "The file: got letters that are not UTF-8, needs a CSV file in UTF-8. Save it again as that."
                )

    # --- what the reader sees

    def _tell(self, done: int, to_do: int, what: str) -> None:
        self.progress.max, self.progress.value = max(to_do, 1), done
        self._say(f"<p role='status'>{escape(what)}: {done} of {to_do}</p>")

    def _show(self, made: ClassOrder) -> None:
        self._say(f"<p role='status'>{escape(_summed(made))}</p>")
        self.numbers.value = class_results.key_numbers(made)
        self.pages["problems"].value = class_results.problems_page(made)
        self.pages["kits"].value = class_results.kits_page(made)
        self.pages["bill"].value = class_results.bill_page(made)
        self.pages["cutting"].value = class_results.cutting_page(made, self.system)
        self.pages["leftovers"].value = class_results.leftovers_page(made, self.system)
        self.which.options = [(f"{kit.number} {kit.alias}", kit.number) for kit in made.kits]
        self._kit()
        self.folds["problems"].box.layout.display = None if made.problems else "none"
        self.folds["problems"].sum_up(count(len(made.problems), "line or cell", "lines or cells"))
        self.folds["bill"].sum_up(class_results.money(made.cost.usual, made))
        self.folds["cutting"].sum_up(count(made.sticks, "stick"))
        self.results.layout.display = None

    def _kit(self) -> None:
        if self.order is not None and self.which.value:
            self.pages["kit"].value = class_results.kit_page(self.order, self.which.value, self.system)

    def _blank(self, sentence: str) -> None:
        """Leave no number on the page; say why where there is a reason."""
        self.order, self.error = None, sentence
        for page in (self.numbers, *self.pages.values()):
            page.value = ""
        self.results.layout.display = "none"
        self.progress.value = 0
        self._say(alert(sentence))

    def _stale(self) -> None:
        if self.order is not None and self.list.value != self._planned:
            self._say("<p role='status'>The list has changed: plan the class again.</p>")

    def _say(self, page: str) -> None:
        self.said.value = page
        self.opener.clear()


LOOK = """<style>
.gf-panel .widget-textarea { flex-flow: column nowrap; height: auto; }
.gf-panel .widget-textarea textarea { font: 12.5px/1.5 ui-monospace, monospace; white-space: pre; overflow: auto; }
.gf-panel .gf-keep .jupyter-widgets.widget-upload { width: auto; }
.gf-panel .gf-keep .widget-text > .widget-label { width: auto; }
.gf-panel .gf-keep .widget-checkbox { width: auto; }
</style>"""


def _example() -> str:
    """Return the invented class that the page starts with."""
    return (tables.data_folder() / EXAMPLE).read_text(encoding="utf-8")


def _summed(made: ClassOrder) -> str:
    planned, left = count(len(made.kits), "kit"), len(made.problems)
    return f"{planned} planned{f', {left} to mend' if left else ''}."


def class_order(*, site: Site | None = None, shop: Shop | None = None) -> ClassList:
    """Return the page of a class order; site and shop as for a panel."""
    return ClassList(Source(site, shop))
