"""What could I build here? The gallery of the first workbook: need, place, budget and tools; pictures that fit."""

import dataclasses
import math

from gardenframe.builds.fields import Field
from gardenframe.materials.ideas import NEEDS, load_ideas
from gardenframe.materials.shop import Shop
from gardenframe.materials.site import Site
from gardenframe.studies.ideas import Place, Seen, narrowed, seen
from gardenframe.teaching.controls.small import Small
from gardenframe.teaching.idea_results import MOST_SHOWN, gallery_page, picture_of
from gardenframe.teaching.reading import Reader
from gardenframe.teaching.settings_source import Source

WIDEST_M, DEAREST = 20.0, 20_000.0  # the ends of the sliders: there a place or a budget has no limit
FIELDS = (
    Field(
        key="need", label="What for", kind="choice", default="", help="What it should do.",
        choices=(("", "anything"), *((key, words) for key, words in NEEDS.items())),
    ),
    Field(
        key="across_m", label="Room, one way", kind="length", default=4.0, low=0.5, high=WIDEST_M, step=0.1,
        step_us=0.1524, help="A build may stand either way round.",
    ),
    Field(
        key="deep_m", label="Room, the other way", kind="length", default=3.0, low=0.5, high=WIDEST_M, step=0.1,
        step_us=0.1524, help="Leave room to walk round it.",
    ),
    Field(
        key="budget", label="Budget", kind="number", default=1000.0, low=50.0, high=DEAREST, step=50.0, step_us=50.0,
        help="In the currency of the price table, tax included, at usual prices.",
    ),
    Field(key="bender", label="Bender or jig", kind="flag", default=True, help="There is one, or somebody makes one."),
    Field(key="ladder", label="Stepladder", kind="flag", default=True, help="There is one, and somebody to hold it."),
    Field(key="drill", label="Drill", kind="flag", default=True, help="With bits for timber and steel."),
)  # fmt: skip


class Gallery(Small):
    """Ideas that go with a place."""

    title = "What could I build here?"

    def __init__(self, settings: Source) -> None:
        self._settings = settings
        self._kept: tuple[tuple[Site, Shop], list[Seen]] | None = None
        self._pictures: dict[str, str] = {}  # they change with nothing that can be moved here
        super().__init__(FIELDS, settings.system)

    def every(self) -> list[Seen]:
        """Return every idea with its plan, kept while the settings stay the same."""
        given = self._settings.now()
        if self._kept is None or self._kept[0] != (given.site, given.shop):
            found = [seen(idea, given.site, given.shop) for idea in load_ideas().values()]
            self._kept = ((given.site, given.shop), found)
            self._pictures = {}
        return self._kept[1]

    def shows(self) -> str:
        """Return the ideas that fit, cheapest first."""
        place = Place(**self.values.kept)
        place = dataclasses.replace(
            place,
            across_m=math.inf if place.across_m >= WIDEST_M else place.across_m,
            deep_m=math.inf if place.deep_m >= WIDEST_M else place.deep_m,
            budget=math.inf if place.budget >= DEAREST else place.budget,
        )
        kept, left_out = narrowed(self.every(), place)
        for one in kept[:MOST_SHOWN]:
            if one.idea.key not in self._pictures:
                self._pictures[one.idea.key] = picture_of(one)
        return gallery_page(kept, left_out, self._pictures, Reader(self.system))


def gallery(*, site: Site | None = None, shop: Shop | None = None) -> Gallery:
    """Return the gallery of ideas; site and shop as for a panel."""
    return Gallery(Source(site, shop))
