"""What the numbers rest on, as a live page: choose a part, how it is known, words; headings that open."""

from typing import Any

import ipywidgets as W  # noqa: N812 - the short name its own pages use

from gardenframe.builds.fields import Field, FieldError
from gardenframe.materials.shop import Shop
from gardenframe.materials.site import Site
from gardenframe.studies.evidence import Evidence, evidence, narrowed
from gardenframe.studies.parts import PARTS
from gardenframe.teaching import evidence_results as shown
from gardenframe.teaching import evidence_tables as listed
from gardenframe.teaching.controls.fold import Fold
from gardenframe.teaching.controls.paged import Paged
from gardenframe.teaching.controls.panel import NARROWEST_PX, WIDEST_PX
from gardenframe.teaching.controls.small import Small
from gardenframe.teaching.page import count, note
from gardenframe.teaching.reading import Reader
from gardenframe.teaching.settings_source import Source

HEADINGS = {
    "held": "What is held against what",
    "checks": "Checks",
    "formula": "One formula worked out",
    "formulas": "Formulas",
    "tables": "Tables",
    "stages": "Stages of the road",
    "sources": "Sources",
    "nothing": "What nothing outside stands behind",
}
OPENED = ("held", "formula")
FIELDS = (
    Field(
        key="part", label="Part", kind="choice", default="", help="What the numbers are about.",
        choices=(("", "all parts"), *((part.title, part.title) for part in PARTS)),
    ),
    Field(
        key="known", label="How known", kind="choice", default="",
        choices=(("", "in any way"), *shown.KNOWN.items()),
        help="Narrows formulas, tables and sources; checks are then those that speak of these.",
    ),
    Field(
        key="words", label="Words to find", kind="text", default="",
        help="In titles, names, sources and what is compared; all of them have to be there. Empty: everything.",
    ),
)  # fmt: skip


class EvidencePage(Small):
    """Formulas, tables, stages and sources, each with its outside checks. Displays itself at the end of a cell."""

    title = "Sources and checks"

    def __init__(self, settings: Source, opened: tuple[str, ...] = OPENED) -> None:
        self.every, self.chosen = evidence(), Evidence()
        self._opened, self._filling = opened, False
        super().__init__(FIELDS, settings.system)
        self.names.observe(lambda _: self.refresh(), "width_px")

    def _laid_out(self) -> None:
        super()._laid_out()
        self.held, self.worked, self.nothing = W.HTML(), W.HTMLMath(), W.HTML()
        self.worked.add_class("gf-math")
        self.which = W.Dropdown(options=[("", "")], description="Formula")
        self.which.observe(self._other_formula, "value")
        which = W.VBox([self.which])
        which.add_class("gf-field")
        self.lists = {key: Paged() for key in ("checks", "formula", "formulas", "tables", "stages", "sources")}
        one = W.VBox([which, self.worked, self.lists["formula"].box])
        one.add_class("gf-paged")
        bodies: dict[str, list[W.Widget]] = {
            **{key: [paged.box] for key, paged in self.lists.items()},
            "held": [self.held],
            "formula": [one],
            "nothing": [self.nothing],
        }
        self.folds = {key: Fold(heading, bodies[key], is_open=key in self._opened) for key, heading in HEADINGS.items()}
        for fold in self.folds.values():
            fold.on_open = self._opened_one
        self.sections = W.Box([fold.box for fold in self.folds.values()])
        self.sections.add_class("gf-sections")
        self.results.children = (*self.results.children, self.sections)
        self.columns.add_class("gf-above")  # a few controls, and tables that want the width

    def open(self, *keys: str) -> None:
        """Open headings; all of them where none is named."""
        self._filling = True  # all of them before anything is written
        for key in keys or HEADINGS:
            self.folds[key].open()
        self._filling = False
        self.refresh()

    def _opened_one(self) -> None:
        if not self._filling:
            self.refresh()

    def reader(self) -> Reader:
        """Return how results are read."""
        return Reader(self.system, float(min(max(self.names.width_px - 4, NARROWEST_PX), WIDEST_PX)))

    def _refresh(self) -> None:
        super()._refresh()
        if self.error:
            self.chosen = Evidence()
            self._blank()
        self.sections.layout.display = "none" if self.error else None

    def _blank(self) -> None:
        for page in (self.held, self.worked, self.nothing):
            page.value = ""
        for paged in self.lists.values():
            paged.blank()
        for fold in self.folds.values():
            fold.sum_up("")

    def shows(self) -> str:
        """Return how much there is of what is chosen; the pages of open headings are written."""
        found = narrowed(self.every, **self.values.kept)
        if self.values.kept["words"].strip() and not (
            found.formulas or found.tables or found.stages or found.checks or found.sources
        ):
            needs = "words that stand together in a title, a name, a source or a check of what is chosen"
            raise FieldError("words", "Words to find", self.values.kept["words"], needs, "Take a word away.")
        self.chosen = found
        self._sum_up()
        self._blank_closed()
        self._write()
        return shown.key_numbers(found, self.every)

    def _sum_up(self) -> None:
        chosen = self.chosen
        unheld = len(chosen.nothing_outside)
        for key, said in {
            "checks": str(len(chosen.checks)),
            "formulas": str(len(chosen.formulas)),
            "tables": str(len(chosen.tables)),
            "stages": str(len(chosen.stages)),
            "sources": str(len(chosen.sources)),
            "nothing": f"{count(unheld, 'formula or table', 'formulas and tables')}",
        }.items():
            self.folds[key].sum_up(said)

    def _blank_closed(self) -> None:
        for key, paged in self.lists.items():
            if not self.folds[key].is_open:
                paged.blank()

    def _write(self) -> None:
        chosen, reader = self.chosen, self.reader()
        is_open = {key: fold.is_open for key, fold in self.folds.items()}
        self.held.value = shown.held_page(chosen.checks, reader) if is_open["held"] else ""
        self.nothing.value = listed.nothing_page(chosen) if is_open["nothing"] else ""
        self._options()
        if is_open["formula"]:
            self._formula()
        if is_open["checks"]:
            rows = shown.furthest_first(chosen.checks)
            above = shown.parts_page(chosen) + note(
                "The furthest off stand first. Numbers stay in the units of their source."
            )
            self.lists["checks"].show(rows, shown.check_rows, above)
        if is_open["stages"]:
            spoken = {check: None for stage in chosen.stages for check in stage.checks}
            above = listed.stage_rows(chosen.stages) if chosen.stages else note("No stage of the road is of this part.")
            rows = shown.furthest_first(spoken)
            self.lists["stages"].show(rows, shown.check_rows, above)
        if is_open["formulas"]:
            self.lists["formulas"].show(chosen.formulas, listed.formula_rows)
        if is_open["tables"]:
            self.lists["tables"].show(chosen.tables, listed.table_rows)
        if is_open["sources"]:
            self.lists["sources"].show(chosen.sources, listed.source_rows)

    # --- one formula

    def _options(self) -> None:
        """Offer the formulas that are chosen, and keep the one that is shown where it is among them."""
        many = not self.values.kept["part"]
        options = [(f"{one.part}: {one.title}" if many else one.title, one.name) for one in self.chosen.formulas]
        names = [name for _, name in options]
        if list(self.which.options) != options:
            self._filling = True
            kept = self.which.value
            self.which.options = options or [("none of what is chosen", "")]
            self.which.value = kept if kept in names else (names or [""])[0]
            self._filling = False

    def _other_formula(self, _: Any) -> None:
        self._opened_one()

    def _formula(self) -> None:
        one = next((one for one in self.chosen.formulas if one.name == self.which.value), None)
        self.worked.value = listed.worked_out(one, self.system) if one else ""
        above = listed.formula_source(one) if one else note("No formula is of what is chosen.")
        rows = shown.furthest_first(one.checks) if one else ()
        self.lists["formula"].show(rows, shown.own_check_rows, above)


def sources_and_checks(
    *, site: Site | None = None, shop: Shop | None = None, opened: tuple[str, ...] = OPENED
) -> EvidencePage:
    """Return the page of what the numbers rest on; the settings give the unit system, as for a panel."""
    return EvidencePage(Source(site, shop), opened)
