"""What one member of a class takes home: pieces with their marks, goods, and what all of it costs bought alone.

A build and a shop come in, a `Kit` goes out: plain records, so that a class of a thousand fits into memory. Strength is
worked out only where it is asked for.
"""

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from gardenframe.builds.build import Build
from gardenframe.costs.bill import Cost, Need, bill_rows, sticks_needed, total
from gardenframe.costs.cutting import CuttingPlan, plan_cuts
from gardenframe.materials.coverings import Roll, load_rolls
from gardenframe.materials.shop import Shop
from gardenframe.materials.site import Site
from gardenframe.road import Plan, plan

MM = 1000
Counts = dict[str, Counter[int]]  # by member or width of covering: how many of each length


@dataclass(frozen=True, slots=True)
class KitPiece:
    """Like pieces of one kit. `cut` is the length in marks of the tape, `mark` that of the build's own plan."""

    mark: str
    member: str
    role: str
    cut: int
    cut_m: float
    length_m: float
    count: int
    bends: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Kit:
    """What one person builds from.

    `alone` is what it costs bought alone, by what is bought (`pool_of`), with tax; `alone_least` is not above the
    least that it could cost; `sticks_alone` how many sticks are then cut. `hardest` names the check with the highest
    ratio, where strength was asked for.
    """

    number: int
    alias: str
    title: str
    pieces: tuple[KitPiece, ...]
    goods: tuple[Need, ...]
    strips: Mapping[str, Mapping[int, int]]  # width of covering -> {length in mm: count}
    patterns: Mapping[str, tuple[tuple[int, dict[int, int], int], ...]]  # cutting alone
    alone: Mapping[str, float]
    alone_cost: Cost
    alone_least: float
    proven: bool
    sticks_alone: int
    hardest: tuple[str, float] | None = None

    @property
    def pieces_cut(self) -> int:
        """Number of pieces."""
        return sum(piece.count for piece in self.pieces)

    def mark(self, mark: str) -> str:
        """Return what is written on a piece: the number of the kit before the mark.

        Every mark of a class is then there once for each like piece.
        """
        return f"{self.number}-{mark}"


def roll_of(key: str) -> Roll:
    """Return a roll by its key."""
    return load_rolls()[key]


def width_of(roll: Roll) -> str:
    """Return the name that all rolls of one covering and width share: a strip may come from any of them."""
    return f"{roll.covering}, {roll.width_mm:g} mm wide"


def pool_of(item: str) -> str:
    """Return under which name the cost of an item is shared: rolls of one width, sticks of one tube count together.

    >>> pool_of("emt-1:6096"), pool_of("tie-200")
    ('emt-1', 'tie-200')
    """
    rolls = load_rolls()
    return width_of(rolls[item]) if item in rolls else item.partition(":")[0]


def lengths_of(pieces: Iterable[KitPiece]) -> Counts:
    """Return how many of each length are cut from each member, in marks of the tape."""
    found: Counts = {}
    for piece in pieces:
        found.setdefault(piece.member, Counter())[piece.cut] += piece.count
    return found


def roll_stock(shop: Shop, width: str) -> list[tuple[int, float, int | None]]:
    """Return the rolls that strips of a covering and width can be cut from: length in mm, price, how many."""
    rolls = [roll for roll in load_rolls().values() if width_of(roll) == width]
    found: list[tuple[int, float, int | None]] = [
        (math.floor(roll.length_mm + 1e-6), shop.prices.price(roll.key).usual, None) for roll in rolls
    ]
    own = [(math.floor(r.length_mm + 1e-6), 0.0, int(shop.on_hand.get(r.key, 0))) for r in rolls]
    return found + [one for one in own if one[2]]


def rolls_needed(width: str, cutting: CuttingPlan) -> Iterator[Need]:
    """Yield the rolls that strips are cut from, those at hand among them: the bill takes these off."""
    used = Counter(cutting.bought)
    used.update(cutting.used_at_hand)
    for roll in load_rolls().values():
        if width_of(roll) == width and (number := used.pop(math.floor(roll.length_mm + 1e-6), 0)):
            yield Need(item=roll.key, number=number, group="covering")


def kit_of(
    number: int, alias: str, build: Build, site: Site, shop: Shop, *, strength: bool = False, twin: Kit | None = None
) -> Kit:
    """Return the kit of one person, planned as it would be alone: nothing at hand, no leftovers.

    Parameters
    ----------
    twin : Kit, optional
        A kit of the very same build, whose numbers are then taken.

    Raises
    ------
    GardenframeError
        Where the build cannot be made.
    """
    if twin is not None:
        return replace(twin, number=number, alias=alias)
    made = plan(build, site, replace(shop, on_hand={}, leftovers={}), live=True)
    pieces = tuple(KitPiece(p.mark, p.member, p.role, p.cut, p.cut_m, p.length_m, p.count, len(p.bends))
                   for p in made.cut)  # fmt: skip
    goods, strips = tuple(_without_rolls(made)), _strips(made)
    cuttings = dict(made.cutting)
    rolled = {w: plan_cuts(list(c), list(c.values()), roll_stock(made.shop, w), live=True) for w, c in strips.items()}
    needs = [need for key, cutting in cuttings.items() for need in sticks_needed(made.shop, key, cutting.bought)]
    needs += [*goods, *(need for width, cutting in rolled.items() for need in rolls_needed(width, cutting))]
    rows = bill_rows(needs, made.shop.prices, {}, shop.spares)
    alone: dict[str, float] = {}
    for row in rows:
        alone[pool_of(row.item)] = alone.get(pool_of(row.item), 0.0) + row.cost * (1 + shop.tax)
    cost = total(rows, shop.tax, made.shop.prices.currency)
    every = [*cuttings.values(), *rolled.values()]
    short = sum(max(0.0, cutting.cost - cutting.lower_bound) for cutting in every) * (1 + shop.tax)
    return Kit(
        number=number,
        alias=alias,
        title=build.title,
        pieces=pieces,
        goods=goods,
        strips=strips,
        patterns={key: cutting.patterns for key, cutting in (cuttings | rolled).items()},
        alone=alone,
        alone_cost=cost,
        alone_least=cost.usual - short,
        proven=all(cutting.proven for cutting in every),
        sticks_alone=sum(cutting.sticks for cutting in cuttings.values()),
        hardest=_hardest(made) if strength else None,
    )


def _without_rolls(made: Plan) -> Iterator[Need]:
    """Yield what is needed beyond sticks and the rolls of the panels: those are cut for all together."""
    panels = Counter((covered.roll, covered.pool or covered.panel) for covered in made.covered)
    for need in made.goods():
        if panels.get((need.item, need.note), 0):
            panels[need.item, need.note] -= 1
        else:
            yield need


def _strips(made: Plan) -> Counts:
    found: Counts = {}
    for covered in made.covered:
        counts = found.setdefault(width_of(roll_of(covered.roll)), Counter())
        for strip in covered.strips.strips:
            counts[math.ceil(strip.length_m * MM - 1e-3)] += 1
    return found


def _hardest(made: Plan) -> tuple[str, float] | None:
    rows = [*made.check_rows, *made.standing.anchors.rows]
    worst = max((row for row in rows if not math.isnan(row.ratio)), key=lambda row: row.ratio, default=None)
    return None if worst is None else (f"{worst.check}, {worst.where}", worst.ratio)
