"""The live things of the workbook of later seasons: looking after, a new build out of an old one, where crops go."""

import abc
import dataclasses
from pathlib import Path
from typing import Any

from gardenframe import road
from gardenframe.builds.fields import Field
from gardenframe.materials import constants
from gardenframe.materials.corrosion import load_corrosion
from gardenframe.materials.plants import load_plants
from gardenframe.materials.shop import Shop
from gardenframe.materials.site import Site
from gardenframe.output.offered import FOLDER
from gardenframe.output.saved import saved_in
from gardenframe.studies.next_season import reuse
from gardenframe.studies.rotation import REST, rotation
from gardenframe.teaching import season_results as shown
from gardenframe.teaching.controls.panel import NARROWEST_PX, WIDEST_PX
from gardenframe.teaching.controls.small import Small
from gardenframe.teaching.reading import Reader
from gardenframe.teaching.settings import TAPE
from gardenframe.teaching.settings_source import Source

BEDS = 4
AHEAD = 3  # years that are looked at
OLD, NEXT = (
    "trellis: Tomatoes on a tube bed (plot 11, invented)",
    "trellis: Pole beans in a 6 ft bed (plot 4, invented)",
)
USUALLY_GROWN = ("tomato", "pole-bean", "cucumber", REST)


class OfBuilds(Small):
    """A small thing about builds, saved ones and examples, with the site and the shop of the settings."""

    def __init__(self, settings: Source) -> None:
        self._settings = settings
        self._plans: dict[Any, road.Plan] = {}
        self.offered = shown.builds_to_choose(saved_in(settings.folder / FOLDER))
        super().__init__(self.asked(), settings.system)
        self.names.observe(lambda _: self.refresh(), "width_px")

    @abc.abstractmethod
    def asked(self) -> list[Field]:
        """Return the fields of the controls."""

    def build_field(self, key: str, label: str, help_: str, at: str = "") -> Field:
        """Return the field of a choice among the builds; it starts with an example, whatever is saved."""
        first = next(iter(shown.builds_to_choose()))
        choices = tuple((name, one.label) for name, one in self.offered.items())
        return Field(key=key, label=label, kind="choice", default=at or first, choices=choices, help=help_)

    def reader(self) -> Reader:
        """Return how results are read."""
        return Reader(self.system, float(min(max(self.names.width_px - 4, NARROWEST_PX), WIDEST_PX)))

    def plan_of(self, at: str) -> road.Plan:
        """Return the plan of a build to choose, kept while settings and tape stay the same."""
        given, offered = self._settings.now(), self.offered[at]
        shop = dataclasses.replace(given.shop, tape=TAPE[self.system])
        kept = self._plans.get((at, self.system))
        if kept is None or (kept.site, kept.shop) != (given.site, shop):
            kept = road.plan(offered.kind(**offered.values), given.site, shop, live=True)
            self._plans[at, self.system] = kept
        return kept


class LookingAfter(OfBuilds):
    """Zinc, spending, what to look at and what comes off first, for a saved build or an example."""

    title = "Looking after it"

    def asked(self) -> list[Field]:
        """Return the build, the air of its place and its zinc."""
        rows = load_corrosion()
        return [
            self.build_field("build", "Build", "One you saved, or an example of the Millbrook Lane garden (invented)."),
            Field(
                key="place", label="Air", kind="choice", default="C3",
                choices=tuple((key, f"{row.label}: {row.where}") for key, row in rows.items()),
                help="How fast the air of your place takes zinc away, by ISO 9223.",
            ),
            Field(
                key="coating_um", label="Zinc on the tube, µm", kind="number", low=5.0, high=100.0,
                default=constants.value("tube_zinc_um"),
                help="Not fixed by the tube's standard: 10 to 20 µm is usual (from memory); ask the maker or measure.",
            ),
        ]  # fmt: skip

    def shows(self) -> str:
        """Return the years of zinc, spending, the list to look at and the order of taking down."""
        kept = self.values.kept
        made = self.plan_of(kept["build"])
        zinc = shown.zinc_page(load_corrosion()[kept["place"]], kept["coating_um"], made, self.reader())
        return zinc + shown.looks_page(made) + shown.take_down_page(made)


class OutOfOld(OfBuilds):
    """A new build out of the pieces and goods of an old one."""

    title = "A new build out of an old one"

    def asked(self) -> list[Field]:
        """Return the build that goes and the one that comes."""
        return [
            self.build_field("old", "What is taken down", "Its straight tubes, fittings, feet and soil are kept.", OLD),
            self.build_field(
                "new", "What is built next", "Covering, lining, ties, screws and paint are bought anew.", NEXT
            ),
        ]

    def shows(self) -> str:
        """Return what is saved, what is cut from what, and what is left."""
        kept = self.values.kept
        return shown.reuse_page(reuse(self.plan_of(kept["old"]), self.plan_of(kept["new"])), self.reader())


class NextCrops(Small):
    """Where the crops of four beds go in the coming years."""

    title = "Where the crops go"

    def __init__(self, settings: Source) -> None:
        grown = (
            (REST, "something else, or a rest"),
            *((k, f"{p.label} ({p.family})") for k, p in load_plants().items()),
        )
        fields: list[Field] = []
        for number in range(1, BEDS + 1):
            fields.append(Field(
                key=f"bed_{number}", label=f"In bed {number} this year", kind="choice",
                default=USUALLY_GROWN[number - 1], choices=grown, help="What stands on its frame.",
            ))  # fmt: skip
        for number in range(1, BEDS + 1):
            fields.append(Field(
                key=f"wide_{number}_m", label=f"Length of bed {number}", kind="length",
                default=2.4 if number < 3 else 1.8, low=0.6, high=12.0, step=0.1, step_us=0.1524, first=False,
                group="Lengths of beds",
                help="A frame follows its crop where the bed is as long as its own.",
            ))  # fmt: skip
        fields.append(Field(
            key="gap", label="Years away", kind="count", default=3, low=1, high=4,
            help="How long a family stays away from a bed: 3 is common practice, no source.",
        ))  # fmt: skip
        super().__init__(fields, settings.system)

    def shows(self) -> str:
        """Return which crop goes where, and whose frame can follow."""
        kept = self.values.kept
        stood = {f"bed {n}": [kept[f"bed_{n}"]] for n in range(1, BEDS + 1)}
        beds_m = {f"bed {n}": kept[f"wide_{n}_m"] for n in range(1, BEDS + 1)}
        frames_m = {bed: beds_m[bed] for bed, keys in stood.items() if keys[-1] != REST}
        ahead = AHEAD + (kept["gap"] == AHEAD)  # the year in which a family is back; four beds keep none away longer
        moves = rotation(stood, ahead, kept["gap"], frames_m, beds_m)
        return shown.crops_page(moves, stood, frames_m, Reader(self.system))


def looking_after(*, site: Site | None = None, shop: Shop | None = None, folder: Path | None = None) -> LookingAfter:
    """Return what to look after; site and shop as for a panel, `folder` the one that holds saved builds' folder."""
    return LookingAfter(Source(site, shop, folder))


def out_of_old(*, site: Site | None = None, shop: Shop | None = None, folder: Path | None = None) -> OutOfOld:
    """Return a new build made out of an old one; site, shop and folder as for `looking_after`."""
    return OutOfOld(Source(site, shop, folder))


def next_crops(*, site: Site | None = None, shop: Shop | None = None) -> NextCrops:
    """Return where crops go; the settings give the unit system."""
    return NextCrops(Source(site, shop))


def months() -> "Page":
    """Return the table of the months of the invented garden, as a page shows it."""
    return Page(shown.months_page())


class Page:
    """A page without controls. Displays itself at the end of a cell."""

    def __init__(self, page: str) -> None:
        self.page = page

    def _repr_html_(self) -> str:
        return self.page

    def __repr__(self) -> str:
        return "the same frame by month"
