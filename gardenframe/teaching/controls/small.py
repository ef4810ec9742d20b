"""Small live things for the first workbook: a length typed as it is said, and one slider that moves a whole plan.

They behave as a panel does: a sentence by the control where something is wrong, and then no number on the page.
"""

import abc
import dataclasses
import html
import re
import threading
from collections.abc import Iterable
from typing import Any

import ipywidgets as W  # noqa: N812 - the short name its own pages use

from gardenframe import road, units
from gardenframe.builds.build import Build
from gardenframe.builds.fields import Field, FieldError
from gardenframe.errors import GardenframeError
from gardenframe.materials.shop import Shop
from gardenframe.materials.site import Site
from gardenframe.output.telling import money
from gardenframe.teaching import start
from gardenframe.teaching.controls.inputs import Inputs
from gardenframe.teaching.controls.names import Names
from gardenframe.teaching.controls.panel import NARROWEST_PX, SYSTEMS, WIDEST_PX
from gardenframe.teaching.controls.sweep import Swept, sweep_small
from gardenframe.teaching.page import Card, alert, cards, note, warning
from gardenframe.teaching.reading import Reader
from gardenframe.teaching.results import drawing_page
from gardenframe.teaching.settings import TAPE
from gardenframe.teaching.settings_source import Source
from gardenframe.teaching.style import CSS
from gardenframe.teaching.values import Values

LENGTH = Field(
    key="length_m", label="Your length", kind="length", default=6 * units.FOOT_M, low=0.05, high=20 * units.FOOT_M,
    step=0.01, step_us=0.0127,
    help="Try 1.9 m, 189 cm, 6 ft 2 1/2 in, 6' 2.5\", or a bare number; then words, and see what it says.",
)  # fmt: skip


class Small(abc.ABC):
    """A box with a switch of units, controls, and what follows from them. Displays itself at the end of a cell."""

    title = ""

    def __init__(self, fields: Iterable[Field], system: str) -> None:
        self.values = Values(fields, {}, system)
        self.inputs = Inputs(self.values, self.refresh)
        self.error = ""
        self.unexpected: Exception | None = None
        self._one_at_a_time = threading.RLock()  # messages of controls come in threads of their own
        self.units = W.ToggleButtons(options=SYSTEMS, value=system, description="Units")
        self.units.add_class("gf-units")
        self.units.observe(lambda change: self.use(change["new"]), "value")
        self.above, self.page = W.HTML(), W.HTML()
        self.names = Names()
        self.names.add_class("gf-names")
        self._laid_out()
        self.refresh()

    def _laid_out(self) -> None:
        style = W.HTML(CSS)
        style.add_class("gf-style")
        bar = W.HBox([self.units])
        bar.add_class("gf-bar")
        controls = W.VBox([self.inputs.box])
        controls.add_class("gf-controls")
        self.results = W.VBox([self.above, self.page])
        self.results.add_class("gf-results")
        self.columns = W.HBox([controls, self.results])
        self.columns.add_class("gf-columns")
        self.box = W.VBox([style, bar, self.columns, self.names])
        self.box.add_class("gf-panel")

    def _repr_mimebundle_(self, include: Any = None, exclude: Any = None) -> Any:
        """Return the live thing, and beside it the sentence that a page without a kernel shows."""
        bundle = self.box._repr_mimebundle_(include=include, exclude=exclude)
        data, metadata = bundle if isinstance(bundle, tuple) else (bundle, {})
        words = {"text/plain": start.SENTENCE, "text/html": start.beside_a_panel(self.title, with_picture=False)}
        return {**data, **words}, metadata

    @property
    def system(self) -> str:
        """The unit system in which values are shown and typed."""
        return self.values.system

    def use(self, system: str) -> None:
        """Show and read values in a unit system; what was chosen stays exactly as it is."""
        if system != self.system:
            self.values.system = system
            self.units.value = system
            self.refresh()

    def type(self, key: str, text: str) -> None:
        """Type into the box of a field."""
        self.inputs.controls[key].main.value = text

    def number(self, key: str) -> str:
        """Return a number as it stands on the page; "" while there is none."""
        found = re.search(rf"<strong id='gf-{re.escape(key)}'>(.*?)</strong>", self.page.value)
        return html.unescape(found[1]) if found else ""

    @property
    def answered(self) -> bool:
        """Whether a number stands on the page."""
        return bool(re.search(r"<strong id='gf-[a-z]+'>[^<]*\d", self.page.value))

    def sweep(self) -> Swept:
        """Move every control to both ends in both unit systems, and type nonsense; see `sweep`."""
        return sweep_small(self)

    def refresh(self) -> None:
        """Check the values and show what follows, or the sentence that says why not and no number."""
        with self._one_at_a_time:
            self._refresh()

    def _refresh(self) -> None:
        wrong, general, self.unexpected = self.values.errors(), "", None
        page = ""
        if not wrong:
            try:
                page = self.shows()
            except FieldError as error:
                wrong[error.field] = str(error)
                general = "" if error.field in self.inputs.controls else str(error)
            except GardenframeError as error:
                general = str(error)
            except Exception as error:  # an exception in a callback is invisible in a browser: say it
                self.unexpected = error
                general = f"This could not be worked out ({type(error).__name__}: {error}). Go back a step."
        self.inputs.show(wrong)
        self.error = general or " ".join(wrong.values())
        self.above.value = alert(general)
        self.above.layout.display = None if general else "none"
        self.page.value = page

    @abc.abstractmethod
    def shows(self) -> str:
        """Return what follows from the values, as it stands on the page."""


class TypedLength(Small):
    """A length, typed or slid, as both tapes and a sum show it."""

    title = "A length, as you say it"

    def __init__(self) -> None:
        super().__init__([LENGTH], Source().system)

    def shows(self) -> str:
        """Return the length in both systems, and how a bare number is read."""
        length_m = self.values.kept["length_m"]
        sixteenth = f"{units.in_unit(length_m, 'in'):.3f} in"
        here, there = ("millimetres", "inches")[:: 1 if self.system == "metric" else -1]
        found = (
            Card("metric", "On a metric tape", units.write(length_m, "length", "metric"), f"{length_m:.4f} m exactly"),
            Card("us", "On an inch tape", units.write(length_m, "length", "us"), f"{sixteenth} before rounding"),
        )
        return cards(found) + note(f"A number without a unit is read as {here}; with the units switched, as {there}.")


class OneSlider(Small):
    """A build with one of its fields to move: what it costs, and its drawing."""

    def __init__(self, kind: type[Build], field: Field, settings: Source) -> None:
        self.kind, self._settings = kind, settings
        self.title = f"{kind.title} in a minute"
        self.plan: road.Plan | None = None
        super().__init__([field], settings.system)
        self.names.observe(lambda _: self.refresh(), "width_px")

    def shows(self) -> str:
        """Return cost, sticks and drawing of the plan."""
        self.plan = None
        given = self._settings.now()
        shop = dataclasses.replace(given.shop, tape=TAPE[self.system])
        plan = road.plan(self.kind(**self.values.kept), given.site, shop, live=True)
        cost, sticks = plan.cost, sum(cutting.sticks for cutting in plan.cutting.values())
        spread = f"{money(cost.low, plan)} to {money(cost.high, plan)}"
        found = (
            Card("cost", "Cost", money(cost.usual, plan), spread),
            Card("sticks", "Sticks to cut", str(sticks), "the cost follows these"),
        )
        reader = Reader(self.system, float(min(max(self.names.width_px - 4, NARROWEST_PX), WIDEST_PX)))
        drawn = f"<div class='gf-drawing'>{drawing_page(plan, reader)}</div>"
        self.plan = plan
        return cards(found) + warning(plan.warnings) + drawn


def typed_length() -> TypedLength:
    """Return the box that reads a length as it is said."""
    return TypedLength()


def one_slider(
    kind: type[Build], key: str, low: float, high: float, *, site: Site | None = None, shop: Shop | None = None
) -> OneSlider:
    """Return a build with one field to move, from `low` to `high` in its kept unit; site and shop as for a panel.

    The range is given, since with one control nobody could mend what another field refuses.
    """
    field = dataclasses.replace(kind.field(key), low=low, high=high, first=True, when=())
    return OneSlider(kind, field, Source(site, shop))
