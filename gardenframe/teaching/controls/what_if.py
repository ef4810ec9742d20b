"""The panel of a comparison: the controls of a build, what it is compared with, three kept, and how far it has come."""

from collections.abc import Iterable, Mapping
from typing import Any

import ipywidgets as W  # noqa: N812 - the short name its own pages use

from gardenframe import road
from gardenframe.builds.build import Build
from gardenframe.builds.fields import Field
from gardenframe.materials.lives import load_lives
from gardenframe.materials.members import FAMILIES
from gardenframe.materials.shop import Shop
from gardenframe.materials.site import Site
from gardenframe.road import Plan
from gardenframe.studies import compare
from gardenframe.studies.across import field_to_vary
from gardenframe.teaching import compare_results, start
from gardenframe.teaching.compare_results import Asked
from gardenframe.teaching.controls.panel import Extra, Panel
from gardenframe.teaching.reading import Section
from gardenframe.teaching.settings_source import Source

HEADING = "What to compare"
OPENED = ("compare", "prices", "vary", "kept")
KEPT = ("A", "B", "C")
NOT_TAKEN = ("text", "choices", "table")  # through a range


def asking_fields(kind: type[Build]) -> tuple[Field, ...]:
    """Return the fields that say what is compared: ways, a field to take along, two of them, the lives."""
    plan = road.plan(kind())
    labels = [way.label for way in compare.variants(plan)]
    two = tuple((label, label) for label in labels)
    along = tuple((field.key, field.label) for field in kind.fields() if field.kind not in NOT_TAKEN)
    built = [way.label for way in compare.variants(plan) if way.build is not None]
    return (
        Field(
            key="groups", label="Ways to build it", kind="choices", default=compare.GROUPS,
            choices=tuple((group, group) for group in compare.GROUPS),
            help="What is set beside your build.",
        ),
        Field(
            key="vary", label="Cost along", kind="choice", default=field_to_vary(plan) or along[0][0], choices=along,
            help="The field that is taken through its range.",
        ),
        Field(key="first", label="First of two", kind="choice", default=compare.HERE, choices=two,
              help="Set against the second."),
        Field(key="second", label="Second of two", kind="choice", default=built[-1], choices=two,
              help="One that cannot be built counts as yours."),
        *(
            Field(
                key=f"{family}_seasons", label=f"Seasons that {FAMILIES[family]} lasts", kind="number",
                default=life.usual_seasons, low=0.5, high=100.0, step=0.5, step_us=0.5,
                help=f"{life.what[:1].upper()}{life.what[1:]}: {life.low_seasons:g} to {life.high_seasons:g} is common "
                "practice, no source.",
            )
            for family, life in load_lives().items()
        ),
    )  # fmt: skip


class WhatIf(Panel):
    """A panel whose results are comparisons. Displays itself at the end of a cell."""

    def __init__(self, kind: type[Build], settings: Source, opened: Iterable[str]) -> None:
        self.kept: dict[str, Plan] = {}
        self.progress = W.IntProgress(value=0, min=0, max=1, description="Comparing")
        self.keepers = [W.Button(description=f"Keep as {name}") for name in KEPT]
        for name, button in zip(KEPT, self.keepers, strict=True):
            button.on_click(lambda _, name=name: self.keep(name))
        self.forget_button = W.Button(description="Forget kept")
        self.forget_button.on_click(lambda _: self.forget())
        asking = Extra(heading=HEADING, fields=asking_fields(kind), apply=_as_it_is, opened=True)
        super().__init__(kind, settings, (asking,), opened)

    def sections(self) -> Iterable[Section]:
        """Return the headings of a comparison."""
        return compare_results.sections()

    def _laid_out(self) -> None:
        super()._laid_out()
        self.progress.layout.display = "none"
        keeping = W.HBox([*self.keepers, self.forget_button, self.progress])
        keeping.add_class("gf-keep")
        self.box.children = (*self.box.children[:2], keeping, *self.box.children[2:])

    def _reader(self) -> Asked:
        reader = super()._reader()
        asked = self.inputs[1].values.kept
        return Asked(
            reader.system, reader.width_px, reader.column_px,
            groups=tuple(asked["groups"]), vary=self._along(asked["vary"]),
            first=asked["first"], second=asked["second"],
            seasons=tuple((family, float(asked[f"{family}_seasons"])) for family in load_lives()),
            kept=tuple(self.kept.items()), progress=self._told,
        )  # fmt: skip

    def _along(self, key: str) -> str:
        """Return the field to take along: another one where this one does not matter for the values chosen."""
        build = self.kind(**self.values.kept)
        used = [field.key for field in build.fields() if build.used(field) and field.kind not in NOT_TAKEN]
        return key if key in used else next(k for k in (field_to_vary(road.plan(build)), *used) if k in used)

    def _told(self, done: int, of: int) -> None:
        """Show how far a comparison has come; the bar goes when it is done."""
        self.progress.max, self.progress.value = of, done
        self.progress.layout.display = None if done < of else "none"

    # --- what the reader does

    def keep(self, name: str) -> None:
        """Keep the build as it stands under a letter."""
        if self.plan is not None:
            given = self.plan
            self.kept[name] = road.plan(given.build, given.site, given.shop, live=True)
            self.kept = {key: self.kept[key] for key in KEPT if key in self.kept}
            self.open("kept")
            self.refresh()

    def forget(self) -> None:
        """Forget what was kept."""
        self.kept = {}
        self.refresh()


def _as_it_is(chosen: Mapping[str, Any], site: Site, shop: Shop) -> tuple[Site, Shop]:
    return site, shop


def what_if(
    kind: type[Build], *, site: Site | None = None, shop: Shop | None = None, opened: Iterable[str] = OPENED
) -> WhatIf:
    """Return the panel of a comparison of a build type; see `panel`."""
    return WhatIf(kind, Source(site, shop), opened)


class WhatIfs:
    """A choice of the build type, and the comparison of the one chosen. Displays itself at the end of a cell."""

    def __init__(
        self, kinds: Mapping[str, type[Build]], site: Site | None, shop: Shop | None, opened: Iterable[str]
    ) -> None:
        self._given, self.kinds, self._open_first = (site, shop), dict(kinds), tuple(opened)
        self.made: dict[str, WhatIf] = {}
        first = next(iter(self.kinds))
        options = [(kind.title, key) for key, kind in self.kinds.items()]
        self.choice = W.Dropdown(options=options, value=first, description="Build")
        self.choice.observe(lambda change: self.show(change["new"]), "value")
        self.place = W.VBox()
        self.box = W.VBox([self.choice, self.place])
        self.box.add_class("gf-whatifs")
        self.show(first)

    @property
    def panel(self) -> WhatIf:
        """The comparison that is shown."""
        return self.made[self.choice.value]

    def show(self, key: str) -> None:
        """Show the comparison of a build type; each is made when first asked for, and kept."""
        if key not in self.made:
            site, shop = self._given
            self.made[key] = what_if(self.kinds[key], site=site, shop=shop, opened=self._open_first)
        self.choice.value = key
        self.place.children = (self.made[key].box,)

    def _repr_mimebundle_(self, include: Any = None, exclude: Any = None) -> Any:
        """Return the live page, and beside it the sentence that a page without a kernel shows."""
        bundle = self.box._repr_mimebundle_(include=include, exclude=exclude)
        data, metadata = bundle if isinstance(bundle, tuple) else (bundle, {})
        words = {"text/plain": start.SENTENCE, "text/html": start.beside_a_panel("What if")}
        return {**data, **words}, metadata


def what_ifs(
    kinds: Mapping[str, type[Build]],
    *,
    site: Site | None = None,
    shop: Shop | None = None,
    opened: Iterable[str] = OPENED,
) -> WhatIfs:
    """Return a choice of build types, each with its comparison."""
    return WhatIfs(kinds, site, shop, opened)
