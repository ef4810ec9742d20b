"""The same build in every size, joined every way, of other materials: cost, life, mass, strength side by side.

A plan comes in; variants and what each comes to go out. Answers are the quick ones of a moving slider. A variant that
cannot be built stays in the list with the sentence that says why.
"""

import dataclasses
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import cache

from gardenframe.builds.build import Build
from gardenframe.costs.bill import BillRow, Cost
from gardenframe.errors import GardenframeError
from gardenframe.materials.coverings import Covering, load_coverings, load_rolls
from gardenframe.materials.lives import Life, load_lives
from gardenframe.materials.members import FAMILIES
from gardenframe.materials.shop import Shop
from gardenframe.road import Plan, plan
from gardenframe.strength.limits import gust_limit
from gardenframe.studies.instead import SWAPPED, Instead, instead, screwed, tube_fields

SIZES, JOINED, PVC, BOLTED, SCREWED = "tube sizes", "joinings", "plastic pipe", "timber, bolted", "timber, screwed"
GROUPS = (SIZES, JOINED, PVC, BOLTED, SCREWED)
HERE = "as it is"
Progress = Callable[[int, int], None]
NO_COST = Cost(low=0.0, usual=0.0, high=0.0, currency="")  # of what cannot be built


@dataclasses.dataclass(frozen=True, kw_only=True)
class Variant:
    """One way to build the same thing: its name, what it belongs to, the build and shop that the road takes.

    `refused` is the sentence that says why it cannot be built; then there is no build.
    """

    label: str
    group: str
    build: Build | None = None
    shop: Shop = dataclasses.field(repr=False)
    refused: str = ""


@dataclasses.dataclass(frozen=True, kw_only=True)
class Compared:
    """What a variant comes to.

    Parameters
    ----------
    cost : Cost
        With tax, at low, usual and high prices.
    a_season : float
        Cost of a season: frame over its life, covering over its own.
    life_seasons : float
        Of the frame.
    mass_kg : float
        Of its pieces.
    worst_ratio, moves_ratio : float
        Hardest check of strength and hold in the site's wind; hardest check of movement.
    worst_check : str
        Which check that is.
    gust_m_per_s : float
        Forecast gust that uses up the first check, covered and grown; infinite beyond what is looked at.
    sticks, pieces : int
        To cut.
    notes : tuple of str
        What the estimate takes from tube.
    """

    variant: Variant
    plan: Plan | None = None
    cost: Cost = NO_COST
    a_season: float = 0.0
    life_seasons: float = 0.0
    mass_kg: float = 0.0
    worst_ratio: float = 0.0
    worst_check: str = ""
    moves_ratio: float = 0.0
    gust_m_per_s: float = 0.0
    sticks: int = 0
    pieces: int = 0
    notes: tuple[str, ...] = ()
    refused: str = ""

    @property
    def label(self) -> str:
        """Name of the variant."""
        return self.variant.label


def variants(given: Plan, groups: Iterable[str] = GROUPS) -> list[Variant]:
    """Return the build as it is, then every variant of the groups asked for; `refused` where one cannot be."""
    shop, build, wanted = given.shop, given.build, set(groups)
    found = [Variant(label=HERE, group=HERE, build=build, shop=shop)]
    for group, ways in ((SIZES, _sizes), (JOINED, _joined), (PVC, _pvc), (BOLTED, _bolted), (SCREWED, _screwed)):
        if group in wanted:
            found += [_tried(label, group, make, with_shop) for label, make, with_shop in ways(build, shop)]
    return found


Way = tuple[str, Callable[[], Build], Shop]


def _tried(label: str, group: str, make: Callable[[], Build], shop: Shop) -> Variant:
    try:
        return Variant(label=label, group=group, build=make(), shop=shop)
    except GardenframeError as error:
        return Variant(label=label, group=group, shop=shop, refused=str(error))


def _sizes(build: Build, shop: Shop) -> Iterator[Way]:
    """Yield the build in each other size: every field that chooses a tube goes to that size, where it offers it."""
    fields = [build.field(key) for key in tube_fields(build, shop)]
    offered = {field.key: [key for key, _ in field.choices] for field in fields}
    for size in dict.fromkeys(size for sizes in offered.values() for size in sizes):
        values = {key: size for key, sizes in offered.items() if size in sizes}
        if size in shop.members and any(getattr(build, key) != value for key, value in values.items()):
            yield shop.member(size).label, lambda values=values: build.changed(**values), shop  # type: ignore[misc]


def _joined(build: Build, shop: Shop) -> Iterator[Way]:
    for field in build.fields():
        if field.key == "joining":
            for key, _ in field.choices:
                if key != getattr(build, field.key):
                    yield f"joined {key}", lambda key=key: build.changed(joining=key), shop  # type: ignore[misc]


def _members(shop: Shop, family: str) -> list[str]:
    return [key for key, member in shop.members.items() if member.family == family and key in shop.prices]


def _pvc(build: Build, shop: Shop) -> Iterator[Way]:
    for key in _members(shop, "pvc"):
        yield f"{_short(shop, key)}, sockets", lambda key=key: instead(build, key, shop), shop  # type: ignore[misc]


def _bolted(build: Build, shop: Shop) -> Iterator[Way]:
    for key in _members(shop, "timber"):
        yield f"{_short(shop, key)}, bolts", lambda key=key: instead(build, key, shop), shop  # type: ignore[misc]


def _screwed(build: Build, shop: Shop) -> Iterator[Way]:
    rows = screwed(shop)
    for key in _members(shop, "timber"):
        yield f"{_short(shop, key)}, screws", lambda key=key: instead(build, key, shop), rows  # type: ignore[misc]


def _short(shop: Shop, key: str) -> str:
    return shop.member(key).label.split(" (")[0].replace(" schedule 40", "")


def compare(
    given: Plan,
    groups: Iterable[str] = GROUPS,
    *,
    lives: Mapping[str, Life] | None = None,
    progress: Progress | None = None,
) -> list[Compared]:
    """Return what the build comes to as it is and in each variant, in that order.

    Parameters
    ----------
    groups : iterable of str
        Of `GROUPS`.
    lives : mapping, optional
        Seasons by family of members; ours if not given.
    progress : callable, optional
        Told how many of how many are done.
    """
    return of_variants(given, variants(given, groups), lives=lives, progress=progress)


def of_variants(
    given: Plan,
    ways: Sequence[Variant],
    *,
    lives: Mapping[str, Life] | None = None,
    progress: Progress | None = None,
) -> list[Compared]:
    """Return what each variant comes to at the site of a plan."""
    found = []
    for done, variant in enumerate(ways, start=1):
        found.append(_compared(given, variant, lives or _lives()))
        if progress:
            progress(done, len(ways))
    return found


def _compared(given: Plan, variant: Variant, lives: Mapping[str, Life]) -> Compared:
    if variant.build is None:
        return Compared(variant=variant, refused=variant.refused)
    same = given.live and variant.build is given.build and variant.shop is given.shop
    made = given if same else plan(variant.build, given.site, variant.shop, live=True)
    try:
        return summed_up(variant, made, lives)
    except GardenframeError as error:
        return Compared(variant=variant, refused=str(error))


def summed_up(variant: Variant, made: Plan, lives: Mapping[str, Life] | None = None) -> Compared:
    """Return what a plan comes to, of a variant."""
    rows = (*made.check_rows, *made.standing.anchors.rows)
    worst = max((row for row in rows if row.asks == "carry"), key=lambda row: row.ratio)
    moves = max((row.ratio for row in rows if row.asks == "limit"), default=0.0)
    life = life_of(made, lives or _lives())
    gust = float("inf") if made.build.indoors else gust_limit(made.standing, bent=False).value
    return Compared(
        variant=variant, plan=made, cost=made.cost, a_season=a_season(made, life), life_seasons=life,
        mass_kg=sum(p.length_m * p.count * made.shop.member(p.member).mass_kg_per_m for p in made.cut),
        worst_ratio=worst.ratio, worst_check=worst.check, moves_ratio=moves, gust_m_per_s=gust,
        sticks=sum(cutting.sticks for cutting in made.cutting.values()), pieces=sum(p.count for p in made.cut),
        notes=made.build.notes(made) if isinstance(made.build, Instead) else (),
    )  # fmt: skip


@cache
def _lives() -> dict[str, Life]:
    return load_lives()


@cache
def _covers() -> dict[str, Covering]:
    """Return the covering that each roll is of."""
    kinds = load_coverings()
    return {key: kinds[roll.covering] for key, roll in load_rolls().items()}


def family_of(made: Plan) -> str:
    """Return the family that most of the frame's length is of."""
    lengths: dict[str, float] = {}
    for piece in made.cut:
        family = made.shop.member(piece.member).family
        lengths[family] = lengths.get(family, 0.0) + piece.length_m * piece.count
    return max(lengths, key=lengths.__getitem__, default=SWAPPED)


def life_of(made: Plan, lives: Mapping[str, Life]) -> float:
    """Return the seasons that the frame is kept, by the material that most of it is of."""
    family = family_of(made)
    return lives[family].usual_seasons if family in lives else lives[SWAPPED].usual_seasons


def a_season(made: Plan, life_seasons: float) -> float:
    """Return the cost of a season: each row of the bill over the life of what it buys, with tax."""
    return sum(row.cost / row_seasons(row, life_seasons) for row in made.bill_rows) * (1 + made.shop.tax)


def row_seasons(row: BillRow, life_seasons: float) -> float:
    """Return the seasons that a row lasts: a covering its own life, all else as long as the frame."""
    cover = _covers().get(row.item)
    if cover is None:
        return life_seasons
    return min((cover.life_low_seasons + cover.life_high_seasons) / 2, life_seasons)


def family_said(made: Plan) -> str:
    """Return the name of the material that most of a frame is of."""
    return FAMILIES[family_of(made)]
