"""The panel: controls on the left, results on the right, and nothing on the page that is not true.

A change checks the values, makes a plan and writes the pages that are open. Anything wrong blanks every result: the
sentence stands by its control, or above the results where it belongs to none. Slow parts follow at rest.
"""

import dataclasses
import html
import re
import threading
from collections.abc import Callable, Iterable, Mapping
from typing import Any

import ipywidgets as W  # noqa: N812 - the short name its own pages use

from gardenframe import road
from gardenframe.builds.build import Build
from gardenframe.builds.fields import Field, FieldError
from gardenframe.errors import GardenframeError
from gardenframe.materials.shop import Shop
from gardenframe.materials.site import Site
from gardenframe.road import Plan
from gardenframe.teaching import results, start
from gardenframe.teaching.controls import sweep
from gardenframe.teaching.controls.inputs import Inputs
from gardenframe.teaching.controls.keep import Keep
from gardenframe.teaching.controls.names import Names
from gardenframe.teaching.controls.shown import Shown
from gardenframe.teaching.pace import Rest
from gardenframe.teaching.page import warning
from gardenframe.teaching.reading import Reader, Section
from gardenframe.teaching.settings import TAPE
from gardenframe.teaching.settings_source import Source
from gardenframe.teaching.style import CSS
from gardenframe.teaching.values import Values

OPENED = ("drawing", "pieces", "cutting", "cautions")
SYSTEMS = (("metric", "metric"), ("feet and inches", "us"))
NARROWEST_PX, WIDEST_PX = 420, 860  # of a drawing
YOUR_OWN, AS_SHIPPED = "your own", "as first shown"


@dataclasses.dataclass(frozen=True, kw_only=True)
class Extra:
    """More controls: fields under one heading, and how their values change the site and the shop.

    `values` are those to start from, the fields' own where they are not named; `read` returns those of a saved site.
    """

    heading: str
    fields: tuple[Field, ...]
    apply: Callable[[Mapping[str, Any], Site, Shop], tuple[Site, Shop]]
    values: Mapping[str, Any] = dataclasses.field(default_factory=dict)
    opened: bool = False
    read: Callable[[Site], Mapping[str, Any]] | None = None


class Panel:
    """Controls of a build and what follows from them. Displays itself at the end of a cell."""

    def __init__(self, kind: type[Build], settings: Source, extra: Iterable[Extra], opened: Iterable[str]) -> None:
        self.kind, self._settings, self._extra = kind, settings, tuple(extra)
        self.plan: Plan | None = None
        self.error = ""
        self.unexpected: Exception | None = None
        self._one_at_a_time = threading.RLock()  # JupyterLab hands the messages of each control to a thread of its own
        system = settings.system
        self.values = Values(kind.fields(), {}, system)
        self.inputs = [Inputs(self.values, self.refresh)]
        for more in self._extra:
            inputs = Inputs(Values(more.fields, more.values, system), self.refresh, heading=more.heading)
            if more.opened:
                inputs.folds[more.heading].open()
            self.inputs.append(inputs)
        self.shown = Shown(opened, self._opened, self.sections())
        self.rest = Rest(self.refine)
        self.keeper = Keep(
            kind, settings.folder, plan=self._proved, system=lambda: self.system, site=self._saved_site,
            saved=self._list_starts,
        )  # fmt: skip
        self.shown.add(self.keeper.fold.box)
        self._bar()
        self._laid_out()
        self.refresh()

    def sections(self) -> Iterable[Section]:
        """Return the headings of the results, in the order of the page."""
        return results.sections()

    # --- laying out

    def _bar(self) -> None:
        self.units = W.ToggleButtons(options=SYSTEMS, value=self.system, description="Units")
        self.units.add_class("gf-units")
        self.examples: dict[str, dict[str, Any]] = {AS_SHIPPED: {}} | {
            name: dict(values) for name, values in self.kind.examples.items()
        }
        if {} in (dict(values) for values in self.kind.examples.values()):
            del self.examples[AS_SHIPPED]
        self.begin = W.Dropdown(options=[*self.examples, YOUR_OWN], description="Start from")
        self.unreadable, self._listing = W.HTML(), False
        self._kept_as = {name: self._kept(values) for name, values in self.examples.items()}
        self._list_starts()
        self.units.observe(lambda change: self.use(change["new"]), "value")
        self.begin.observe(self._began, "value")

    def _laid_out(self) -> None:
        style = W.HTML(CSS)
        style.add_class("gf-style")
        self.names = Names()
        self.names.add_class("gf-names")
        self.names.observe(lambda _: self._opened(), "width_px")
        bar = W.HBox([self.units, self.begin, self.shown.status])
        bar.add_class("gf-bar")
        controls = W.VBox([inputs.box for inputs in self.inputs])
        controls.add_class("gf-controls")
        columns = W.HBox([controls, self.shown.box])
        columns.add_class("gf-columns")
        self.box = W.VBox([style, bar, self.unreadable, columns, self.names])
        self.box.add_class("gf-panel")

    def _repr_mimebundle_(self, include: Any = None, exclude: Any = None) -> Any:
        """Return the live page, and beside it the sentence that a page without a kernel shows."""
        bundle = self.box._repr_mimebundle_(include=include, exclude=exclude)
        data, metadata = bundle if isinstance(bundle, tuple) else (bundle, {})
        words = {"text/plain": start.SENTENCE, "text/html": start.beside_a_panel(self.kind.title)}
        return {**data, **words}, metadata

    # --- what the reader does, also for cells and tests

    @property
    def system(self) -> str:
        """The unit system in which values are shown and typed."""
        return self.values.system

    def use(self, system: str) -> None:
        """Show and read values in a unit system; what was chosen stays exactly as it is."""
        if system == self.system:
            return
        for inputs in self.inputs:
            inputs.values.system = system
        self.units.value = system
        self.refresh()

    def set(self, key: str, value: Any) -> None:
        """Choose the value of a field, in its kept unit."""
        self._values_of(key).set(key, value)
        self.refresh()

    def type(self, key: str, text: str) -> None:
        """Type into the box of a field."""
        self.control(key).main.value = text

    def start_from(self, name: str) -> None:
        """Start from an example."""
        self.begin.value = name

    def open(self, *keys: str) -> None:
        """Open headings of the results."""
        self.shown.open(keys)

    def number(self, key: str) -> str:
        """Return a key number as it stands on the page (`cost`, `sticks`, `longest`, ...); "" while there is none."""
        found = re.search(rf"<strong id='gf-{re.escape(key)}'>(.*?)</strong>", self.shown.numbers.value)
        return html.unescape(found[1]) if found else ""

    def control(self, key: str) -> Any:
        """Return the control of a field."""
        return next(inputs.controls[key] for inputs in self.inputs if key in inputs.controls)

    def sweep(self) -> "sweep.Swept":
        """Move every control to both ends and back; see `sweep`."""
        return sweep.sweep(self)

    def nonsense(self) -> int:
        """Type what cannot be used into every box; see `sweep`."""
        return sweep.nonsense(self)

    def _values_of(self, key: str) -> Values:
        return next(inputs.values for inputs in self.inputs if key in inputs.values.fields)

    def _names_of(self, keys: Iterable[str]) -> list[str]:
        return [self.control(key).field.label for key in keys]

    def _began(self, change: Any) -> None:
        if not self._listing and change["new"] in self._kept_as and self._example() != change["new"]:
            self.values.replace(self._kept_as[change["new"]])
            saved = self.keeper.saved.get(change["new"])
            if saved and saved.site is not None:
                self._site_from(saved.site)
            self.refresh()

    def _example(self) -> str:
        """Return the example or saved build that the values are, else that they are the reader's own."""
        if not self.values.wrong:
            alike = [name for name, kept in self._kept_as.items() if kept == self.values.kept]
            if alike:
                return self.begin.value if self.begin.value in alike else alike[0]
        return YOUR_OWN

    def _kept(self, values: Mapping[str, Any]) -> dict[str, Any]:
        started = Values(self.kind.fields(), {})
        started.replace(values)
        return started.kept

    # --- saved builds

    def _list_starts(self) -> None:
        """List examples and saved builds to start from, where the saved ones have changed; say which cannot be read."""
        if not self.keeper.changed():
            return
        saved = {name: one.build.values() for name, one in self.keeper.saved.items()}
        self._kept_as = {name: self._kept(values) for name, values in (self.examples | saved).items()}
        now = self._example()
        self._listing = True  # a list with other options first chooses its first
        self.begin.options = [*self._kept_as, YOUR_OWN]
        self.begin.value = now
        self._listing = False
        self.unreadable.value = warning(self.keeper.broken)
        self.unreadable.layout.display = None if self.keeper.broken else "none"

    def _proved(self) -> Plan | None:
        """Return the plan at rest, None while there is none."""
        with self._one_at_a_time:
            if self.plan is not None and self.plan.live:
                self.rest.drop()
                self.refine()
            return self.plan

    def _saved_site(self) -> Site | None:
        """Return the site that is saved with a build: where the panel has controls of it."""
        has = any(extra.read for extra in self._extra)
        return self.plan.site if has and self.plan is not None else None

    def _site_from(self, site: Site) -> None:
        for extra, inputs in zip(self._extra, self.inputs[1:], strict=True):
            if extra.read:
                found = extra.read(site)
                inputs.values.replace({key: found[key] for key in inputs.values.fields if key in found})

    # --- what follows

    def _reader(self) -> Reader:
        width = min(max(self.names.width_px - 4, NARROWEST_PX), WIDEST_PX)
        return Reader(self.system, float(width), float(min(self.names.width_px - 4, WIDEST_PX)))

    def _made(self, live: bool) -> Plan:
        given = self._settings.now()
        site, shop = given.site, dataclasses.replace(given.shop, tape=TAPE[self.system])
        for extra, inputs in zip(self._extra, self.inputs[1:], strict=True):
            site, shop = extra.apply(inputs.values.kept, site, shop)
        made = road.plan(self.kind(**self.values.kept), site, shop, live=live)
        return self.plan if self.plan is not None and made == self.plan else made  # it keeps what was worked out

    def refresh(self) -> None:
        """Check the values, make the plan, show what is open; ask for the slow parts at rest."""
        with self._one_at_a_time:
            self.rest.drop()
            self._list_starts()
            wrong = {key: text for inputs in self.inputs for key, text in inputs.values.errors().items()}
            general = self._guarded(lambda: self._show_plan(live=True), wrong)
            for inputs in self.inputs:
                inputs.show(wrong)
            self.begin.value = self._example()
            self.error = general or " ".join(wrong.values())
            if self.plan is None:
                self.shown.blank(general, self._names_of(wrong))
            else:
                self.shown.refining(True)
                self.rest.ask()

    def refine(self) -> None:
        """Prove what was quick, draw what is slow; results stay as they are until it is done."""
        with self._one_at_a_time:
            if self.plan is not None:  # else a sentence took its place while this waited
                self._settle(lambda: self._show_plan(live=False))
                self.shown.refining(False)

    def _opened(self) -> None:
        """Show what was just opened."""
        with self._one_at_a_time:
            plan = self.plan
            if plan is not None:
                self._settle(lambda: self.shown.show(plan, self._reader()))
                if self.plan is not None:
                    self.shown.refining(True)
                    self.rest.ask()

    def _settle(self, work: Callable[[], None]) -> None:
        wrong: dict[str, str] = {}
        general = self._guarded(work, wrong)
        if general or wrong:
            self.error = general or " ".join(wrong.values())
            self.shown.blank(general, self._names_of(wrong))

    def _show_plan(self, live: bool) -> None:
        plan = self._made(live)
        self.shown.show(plan, self._reader(), at_rest=not live)
        self.plan = plan

    def _guarded(self, work: Callable[[], None], wrong: dict[str, str]) -> str:
        """Do the work unless something is wrong; return the sentence that belongs to no control, "" where none."""
        kept, self.plan, self.unexpected = self.plan, None, None
        if wrong:
            return ""
        try:
            self.plan = kept
            work()
        except FieldError as error:
            self.plan = None
            if not any(error.field in i.controls and i.values.used(error.field) for i in self.inputs):
                return str(error)
            wrong[error.field] = str(error)
        except GardenframeError as error:
            self.plan = None
            return str(error)
        except Exception as error:  # an exception in a callback is invisible in a browser: say it, leave no number
            self.plan, self.unexpected = None, error
            return f"This could not be worked out ({type(error).__name__}: {error}). Go back a step or start again."
        return ""


def panel(
    kind: type[Build],
    *,
    site: Site | None = None,
    shop: Shop | None = None,
    extra: Iterable[Extra] = (),
    opened: Iterable[str] = OPENED,
) -> Panel:
    """Return the panel of a build type, made from its fields.

    Parameters
    ----------
    kind : type of Build
        Such as `builds.ALL["trellis"]`.
    site, shop : Site, Shop
        Where it stands and what can be bought, in place of the settings of the working folder; the tape follows the
        unit system on the page.
    extra : iterable of Extra
        More controls, each under its own heading.
    opened : iterable of str
        Headings that are open at first.
    """
    return Panel(kind, Source(site, shop), extra, opened)
