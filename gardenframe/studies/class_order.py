"""A class that buys and cuts together: one bill, one cutting plan, and for each person a kit and a share of the cost.

The list of the class comes in, a `ClassOrder` goes out. What nobody can build is named, and the others are planned.
Sticks and rolls are cut for all together; packs are shared; nobody pays more than alone.
"""

import math
import time
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from gardenframe.builds.build import Build
from gardenframe.costs.bill import BillRow, Cost, Need, bill_rows, sticks_needed, total
from gardenframe.costs.cutting import CuttingPlan
from gardenframe.errors import FrameError, GardenframeError, InputError, TableError
from gardenframe.kept import cached_property
from gardenframe.materials.shop import TAPES, Shop
from gardenframe.materials.site import Site
from gardenframe.studies.class_cutting import Progress, cut_together
from gardenframe.studies.class_kits import Kit, kit_of, pool_of, rolls_needed
from gardenframe.studies.class_order_reading import Entry, Listed, read_class
from gardenframe.studies.class_sheets import SheetStick, sheets_of
from gardenframe.tables import Found, Table

CENT = 0.01


@dataclass(frozen=True, kw_only=True)
class ClassOrder:
    """What a class buys and cuts. `problems` names every cell and build that could not be planned.

    `cutting` holds a plan for each member, in marks of the tape; `rolls` one for each covering and width, in mm.
    """

    name: str
    kits: tuple[Kit, ...]
    problems: tuple[TableError, ...]
    shop: Shop
    cutting: Mapping[str, CuttingPlan]
    rolls: Mapping[str, CuttingPlan]
    bill_rows: tuple[BillRow, ...]
    seconds: Mapping[str, float] = field(default_factory=dict)

    @cached_property
    def cost(self) -> Cost:
        """Cost of everything with tax: `low, usual, high, currency`."""
        return total(self.bill_rows, self.shop.tax, self.shop.prices.currency)

    @property
    def alone(self) -> float:
        """What the kits cost together if each person bought alone, with tax, at usual prices."""
        return sum(kit.alone_cost.usual for kit in self.kits)

    @property
    def saving(self) -> float:
        """What buying together saves."""
        return self.alone - self.cost.usual

    @property
    def sure_saving(self) -> float:
        """What it saves at least, were each kit bought alone cut as well as its bound allows."""
        return sum(kit.alone_least for kit in self.kits) - self.cost.usual

    @cached_property
    def shares(self) -> dict[int, float]:
        """What each kit costs its owner, to the cent; together the cost.

        Every item's cost is parted as people would have paid for it alone: all save the same part of it.
        """
        sums: dict[str, float] = {}
        for kit in self.kits:
            for pool, amount in kit.alone.items():
                sums[pool] = sums.get(pool, 0.0) + amount
        costs: dict[str, float] = {}
        for row in self.bill_rows:
            costs[pool_of(row.item)] = costs.get(pool_of(row.item), 0.0) + row.cost * (1 + self.shop.tax)
        exact = {
            kit.number: sum(costs.get(pool, 0.0) * amount / sums[pool] for pool, amount in kit.alone.items() if amount)
            for kit in self.kits
        }
        return to_the_cent(exact)

    @cached_property
    def sheets(self) -> dict[str, list[SheetStick]]:
        """Cut sheets, stick by stick, of each member."""
        wanted: dict[str, dict[int, list[tuple[str, int]]]] = {}
        for kit in self.kits:
            for piece in kit.pieces:
                own = wanted.setdefault(piece.member, {}).setdefault(kit.number, [])
                own += [(kit.mark(piece.mark), piece.cut)] * piece.count
        return {member: sheets_of(member, self.cutting[member], own) for member, own in wanted.items()}

    @property
    def sticks(self) -> int:
        """Sticks that are cut, at hand or bought."""
        return sum(cutting.sticks for cutting in self.cutting.values())

    @property
    def pieces(self) -> int:
        """Pieces that are cut from sticks."""
        return sum(kit.pieces_cut for kit in self.kits)

    @property
    def mark_m(self) -> float:
        """What one mark of the tape is. [m]"""
        return TAPES[self.shop.tape] / 1000

    def leftovers(self, least_m: float = 0.3) -> dict[str, dict[int, int]]:
        """Return what is left of the sticks and long enough to keep: by member, {length in marks: number}."""
        least = math.ceil(least_m / self.mark_m)
        found = {
            member: Counter(length for length in cutting.offcuts if length >= least)
            for member, cutting in self.cutting.items()
        }
        return {member: dict(sorted(left.items(), reverse=True)) for member, left in found.items() if left}


def to_the_cent(exact: Mapping[int, float]) -> dict[int, float]:
    """Return amounts rounded to the cent so that they still add up to the rounded sum: largest remainders first.

    >>> to_the_cent({1: 1 / 3, 2: 1 / 3, 3: 1 / 3})
    {1: 0.34, 2: 0.33, 3: 0.33}
    """
    cents = {key: math.floor(amount / CENT + 1e-9) for key, amount in exact.items()}
    missing = round(sum(exact.values()) / CENT) - sum(cents.values())
    for key in sorted(exact, key=lambda key: cents[key] - exact[key] / CENT)[:missing]:
        cents[key] += 1
    return {key: number / 100 for key, number in cents.items()}


def order(
    listed: Listed | Table,
    site: Site | None = None,
    shop: Shop | None = None,
    *,
    progress: Progress | None = None,
    strength: bool = False,
    one_for: Mapping[str, int] | None = None,
    time_limit_s: float = 6.0,
) -> ClassOrder:
    """Return the order of a class.

    Parameters
    ----------
    listed : Listed or table
        The list, or the table it is read from.
    site, shop : Site, Shop
        The class's own. What is at hand and left over counts for the class, not for those who would buy alone.
    progress : function of (done, to do, what)
        Told as it goes on.
    strength : bool
        Whether each build is checked for strength too: this takes several times as long.
    one_for : mapping of item to number of people
        What so many share, such as a can of paint at the bench.
    time_limit_s : float
        That cutting for all may take. [s]

    Raises
    ------
    TableError
        Where the list cannot be read at all.
    InputError
        Where nothing of it can be planned.
    """
    site, shop, told = site or Site(), shop or Shop(), progress or (lambda done, to_do, what: None)
    read = listed if isinstance(listed, Listed) else read_class(listed)
    started = time.perf_counter()
    kits, problems = _kits(read, site, shop, told, strength)
    if not kits:
        first = str((*read.problems, *problems)[0])
        raise InputError(read.name, Found("no build that can be planned"), "at least one", first)
    planned = time.perf_counter()
    cutting, rolls = cut_together(kits, shop, told, time_limit_s)
    rows = bill_rows(_needs(kits, shop, cutting, rolls, one_for or {}), shop.prices, dict(shop.on_hand), shop.spares)
    done = ClassOrder(
        name=read.name,
        kits=kits,
        problems=tuple(sorted((*read.problems, *problems), key=lambda problem: problem.line or 0)),
        shop=shop,
        cutting=cutting,
        rolls=rolls,
        bill_rows=tuple(rows),
        seconds={"planning": planned - started, "cutting": time.perf_counter() - planned},
    )
    told(len(kits), len(kits), "done")
    return done


def _kits(
    read: Listed, site: Site, shop: Shop, told: Progress, strength: bool
) -> tuple[tuple[Kit, ...], list[TableError]]:
    """Return a kit for each entry that can be built, and what is wrong with the others."""
    kits: list[Kit] = []
    problems: list[TableError] = []
    known: dict[Build, Kit] = {}
    for place, entry in enumerate(read.entries):
        told(place, len(read.entries), f"planning {entry.alias}")
        try:
            twin = known.get(entry.build)
            kit = kit_of(len(kits) + 1, entry.alias, entry.build, site, shop, strength=strength, twin=twin)
        except GardenframeError as error:
            problems.append(_told_as(read.name, entry, error))
            continue
        known.setdefault(entry.build, kit)
        kits.append(kit)
    return tuple(kits), problems


def _told_as(name: str, entry: Entry, error: GardenframeError) -> TableError:
    """Return what is wrong with a build as what is wrong with its line."""
    if isinstance(error, InputError):
        where = entry.where(getattr(error, "field", ""))
        return TableError(name, entry.line, where, error.got, f"{error.name} {error.needs}", error.do)
    do = "Change a size or a tube of this line." if isinstance(error, FrameError) else ""
    return TableError(name, entry.line, "build", Found(str(error).rstrip(".")), "a build that can be made", do)


def _needs(
    kits: Iterable[Kit],
    shop: Shop,
    cutting: Mapping[str, CuttingPlan],
    rolls: Mapping[str, CuttingPlan],
    one_for: Mapping[str, int],
) -> Iterable[Need]:
    """Yield what is bought for all, in the order of a bill."""
    for key, plan in cutting.items():
        yield from sticks_needed(shop, key, plan.bought)
    for kit in kits:
        for need in kit.goods:
            shared = one_for.get(need.item, 1)
            yield replace(need, number=need.number / shared, note="") if shared > 1 else replace(need, note="")
    for width, plan in rolls.items():
        yield from rolls_needed(width, plan)
