"""The results beside the controls: key numbers, then headings that open. Closed ones cost nothing.

Everything of a plan is written before anything is shown; a blank page holds no number at all.
"""

from collections.abc import Callable, Iterable
from typing import Any

import ipywidgets as W  # noqa: N812 - the short name its own pages use

from gardenframe.road import Plan
from gardenframe.teaching import results
from gardenframe.teaching.controls.fold import Fold
from gardenframe.teaching.controls.turning import turning
from gardenframe.teaching.page import alert, escape, warning
from gardenframe.teaching.reading import Reader, Section

COMING = "<p class='gf-note' role='status'>Being worked out&#8230;</p>"  # in place of what is only known at rest


class Shown:
    """The column of results."""

    def __init__(self, opened: Iterable[str], on_open: Callable[[], None], sections: Iterable[Section] = ()) -> None:
        opened = tuple(opened)
        self.status, self.above, self.numbers = W.HTML(), W.HTML(), W.HTML()
        self.status.add_class("gf-status")
        self.sections = {section.key: section for section in sections or results.sections()}
        self.pages = {key: _page(section) for key, section in self.sections.items()}
        self.folds = {
            key: Fold(section.heading, [self.pages[key]], is_open=key in opened, width=section.width)
            for key, section in self.sections.items()
        }
        for fold in self.folds.values():
            fold.on_open = on_open
        self.figure: Any = None
        self._drawn: tuple[Plan, Reader] | None = None
        self._rested: tuple[Plan, Reader, dict[str, str]] | None = None
        grid = W.Box([fold.box for fold in self.folds.values()])
        grid.add_class("gf-sections")
        self.grid = grid
        self.box = W.VBox([self.above, self.numbers, grid])
        self.box.add_class("gf-results")

    def add(self, box: W.Widget) -> None:
        """Put what is no page of results beneath them; it goes with them while they are blank."""
        self.grid.children = (*self.grid.children, box)

    def open(self, keys: Iterable[str]) -> None:
        """Open headings."""
        for key in keys:
            self.folds[key].open()

    def refining(self, whether: bool) -> None:
        """Say that slow parts are still coming, or that all is there."""
        self.status.value = "<span role='status'>refining&#8230;</span>" if whether else ""

    # --- filling

    def show(self, plan: Plan, reader: Reader, at_rest: bool = False) -> None:
        """Write the pages that are open; figures only at rest."""
        seen = {key: s for key, s in self.sections.items() if s.offered(plan)}
        strength = self._asks_strength(plan)
        numbers = results.key_numbers(plan, reader, strength)
        lines = {key: s.sums_up(plan, reader) if strength or not s.strength else "" for key, s in seen.items()}
        pages = {
            key: self._page(section, plan, reader, at_rest)
            for key, section in seen.items()
            if self.folds[key].is_open and section.kind != "figure"
        }
        if at_rest and self.folds["turn"].is_open:
            self._draw(plan, reader)
        self.numbers.value = numbers
        self._say(warning(plan.warnings))
        for key, fold in self.folds.items():
            fold.box.layout.display = None if key in seen else "none"
            fold.sum_up(lines.get(key, ""))
            if self.sections[key].kind != "figure":
                self.pages[key].value = pages.get(key, "")
        self.grid.layout.display = None

    def _asks_strength(self, plan: Plan) -> bool:
        """Whether to work out if it stands: while sliding only where a heading that shows it is open."""
        return not plan.live or any(self.folds[key].is_open and s.strength for key, s in self.sections.items())

    def _page(self, section: Section, plan: Plan, reader: Reader, at_rest: bool) -> str:
        """Return a page; one that takes seconds is written once for a plan, at rest, and kept while others open."""
        if not section.at_rest:
            return section.page(plan, reader)
        if self._rested is None or self._rested[:2] != (plan, reader):
            self._rested = (plan, reader, {})
        pages = self._rested[2]
        if at_rest and section.key not in pages:
            pages[section.key] = section.page(plan, reader)
        return pages.get(section.key, COMING)

    def _draw(self, plan: Plan, reader: Reader) -> None:
        """Draw the one figure, made when it is first asked for, and changed in place after."""
        from gardenframe.teaching import figures  # plotly takes a second: not before a reader asks for it

        if self._drawn == (plan, reader):
            return
        self._drawn, found = (plan, reader), figures.drawn(plan, reader.system)
        if self.figure is None:
            self.figure = turning(figures.script(), figures.sent(found, reader.column_px))
            self.pages["turn"].children = (self.figure,)
        else:
            self.figure.figure = figures.sent(found, reader.column_px, self.figure.figure)

    def _say(self, page: str) -> None:
        """Write above the results; nothing to say takes no room."""
        self.above.value = page
        self.above.layout.display = None if page else "none"

    def blank(self, general: str, by_controls: list[str]) -> None:
        """Take every number off the page; say why, or name the controls that say it."""
        names = escape(" and ".join(by_controls))
        told = "" if general else f"<div class='gf-blank'>Results come back once this can be used: <b>{names}</b></div>"
        self._say(alert(general) + told)
        self.numbers.value = ""
        for key, fold in self.folds.items():
            fold.sum_up("")
            if self.sections[key].kind != "figure":
                self.pages[key].value = ""
        if self.figure is not None:
            from gardenframe.teaching import figures

            self.figure.figure = figures.emptied(self.figure.figure)
            self._drawn = None
        self.grid.layout.display = "none"
        self.refining(False)


def _page(section: Section) -> W.Widget:
    page = {"html": W.HTML, "math": W.HTMLMath, "figure": W.VBox}[section.kind]()
    page.add_class(f"gf-{section.key}")
    if section.kind == "math":
        page.add_class("gf-math")
    return page
