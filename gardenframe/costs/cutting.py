"""Which pieces to cut from which stick: the least cost, then the longest offcut that can still be used.

Whole numbers in any one unit (mm, or sixteenths of an inch). Every plan says how far it is from the best: its lower
bound, and whether it is proven. Where the time limit comes first, the best plan found is returned, said to be unproven.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from time import perf_counter
from typing import Any

from gardenframe.costs.bounds import Clock
from gardenframe.costs.offcuts import contents, longest_offcut
from gardenframe.costs.orders import NUMBERS, Cuts, Order, Request, as_order, free_step, price_unit, read_request, whole
from gardenframe.costs.search import search
from gardenframe.errors import InputError
from gardenframe.kept import cached_property

LIVE_S = 0.012  # of the 20 ms that a step of a slider may take
OFFCUT_S = 0.25  # most that the search for a longer offcut may take


@dataclass(frozen=True, slots=True)
class StickCuts:
    """One stick as it is cut: pieces longest first, where each saw mark comes, and what is left."""

    number: int
    stock: int
    at_hand: bool
    pieces: tuple[int, ...]
    ends: tuple[int, ...]  # from the stick's (trimmed) end to the end of each piece, kerfs between counted
    offcut: int


@dataclass(frozen=True)
class CuttingPlan:
    """What to cut from each stick, what it costs, and how far that is from the least possible.

    `cost` and `lower_bound` are in what was minimised: the prices given, or sticks where no price is given.
    `patterns` holds (stock length, {length: count}, times). An offcut counts as usable from `usable` on.
    """

    patterns: tuple[tuple[int, dict[int, int], int], ...]
    cost: float
    lower_bound: float
    proven: bool
    kerf: int
    trim: int
    usable: int
    longest_proven: bool
    from_hand: tuple[int, ...]  # of each pattern's times, how many come from sticks at hand

    @cached_property
    def sticks(self) -> int:
        """Number of sticks used, at hand or bought."""
        return sum(times for _, _, times in self.patterns)

    def left_of(self, stock: int, content: dict[int, int]) -> int:
        """Return the length left of a stick after its pieces, each with the cut that frees it."""
        return max(0, stock - self.trim - sum((length + self.kerf) * many for length, many in content.items()))

    @cached_property
    def offcuts(self) -> tuple[int, ...]:
        """Lengths left over, one for each stick that leaves any, longest first."""
        left = [[self.left_of(stock, content)] * times for stock, content, times in self.patterns]
        return tuple(sorted((length for lengths in left for length in lengths if length), reverse=True))

    @property
    def longest_offcut(self) -> int:
        """Longest length left over, 0 if there is none."""
        return self.offcuts[0] if self.offcuts else 0

    @cached_property
    def stock_length(self) -> int:
        """Total length of the sticks used."""
        return sum(stock * times for stock, _, times in self.patterns)

    @cached_property
    def waste(self) -> int:
        """Length of the sticks used that is in no piece: kerf, trim and offcuts."""
        cut = sum(length * many * times for _, content, times in self.patterns for length, many in content.items())
        return self.stock_length - cut

    @property
    def waste_share(self) -> float:
        """Waste as a share of the sticks used, from 0 to 1."""
        return self.waste / self.stock_length if self.stock_length else 0.0

    @cached_property
    def bought(self) -> dict[int, int]:
        """Sticks to buy, by length: those used that are not at hand."""
        total = Counter[int]()
        for (stock, _, times), own in zip(self.patterns, self.from_hand, strict=True):
            total[stock] += times - own
        return {stock: number for stock, number in sorted(total.items(), reverse=True) if number}

    @cached_property
    def used_at_hand(self) -> dict[int, int]:
        """Sticks at hand that are used, by length."""
        total = Counter[int]()
        for (stock, _, _), own in zip(self.patterns, self.from_hand, strict=True):
            total[stock] += own
        return {stock: number for stock, number in sorted(total.items(), reverse=True) if number}

    def sticks_list(self) -> list[StickCuts]:
        """Return every stick one by one, in the order to cut: `cut_order`."""
        return cut_order(self)


def cut_order(plan: CuttingPlan) -> list[StickCuts]:
    """Return the cut sheet, stick by stick: longest piece first, like sticks together, pieces longest first."""
    rows = []
    for (stock, content, times), own in zip(plan.patterns, plan.from_hand, strict=True):
        pieces = tuple(sorted((length for length, many in content.items() for _ in range(many)), reverse=True))
        ends = tuple(sum(pieces[: n + 1]) + n * plan.kerf for n in range(len(pieces)))
        rows += [(pieces, stock, n < own, ends, plan.left_of(stock, content)) for n in range(times)]
    rows.sort(key=lambda row: (row[0], row[1], row[2]), reverse=True)
    return [StickCuts(n, stock, own, pieces, ends, left) for n, (pieces, stock, own, ends, left) in enumerate(rows, 1)]


def as_plan(request: Request, order: Order, cuts: Cuts, bound: int, usable: int, longest: bool) -> CuttingPlan:
    """Return a plan in the reader's unit, longest sticks and contents first."""
    unit, step = price_unit(request.stock), free_step(request)
    rows = contents(request, order, cuts)
    rows.sort(key=lambda row: (-request.stock[row[0]].length, [(-length, n) for length, n in row[1].items()], row[0]))
    worth = sum((request.stock[stock].price * times for stock, _, times in rows), Fraction(0))
    least = (-(-bound // step) if step == 1 else bound // step) * unit
    return CuttingPlan(
        patterns=tuple((request.stock[stock].length, content, times) for stock, content, times in rows),
        cost=float(worth) if request.priced else int(worth),
        lower_bound=float(least) if request.priced else int(least),
        proven=worth <= least,
        kerf=request.kerf,
        trim=request.trim,
        usable=usable,
        longest_proven=longest and worth <= least,
        from_hand=tuple(0 if request.stock[stock].at_hand is None else times for stock, _, times in rows),
    )


def enough_sticks(request: Request, order: Order, cuts: Cuts, bound: int) -> None:
    """Raise InputError where the plan needs sticks that are not there."""
    spare = len(request.stock)
    missing = sum(times for (stock, _), times in cuts.items() if stock == spare)
    if not missing:
        return
    at_hand = sum(kind.at_hand or 0 for kind in request.stock)
    needs = "enough sticks for every piece" if bound >= order.prices[spare] else "more sticks: no way was found in time"
    raise InputError(
        "sticks at hand", at_hand, needs, f"Add about {missing} of the longest, or a kind without a limit."
    )


def plan_cuts(
    lengths: Sequence[int],
    counts: Sequence[int],
    stock: Any,
    kerf: int = 0,
    time_limit_s: float = 10,
    *,
    trim: int = 0,
    usable: int | None = None,
    live: bool = False,
) -> CuttingPlan:
    """Return the cheapest way to cut all pieces, and among the cheapest the one with the longest usable offcut.

    Parameters
    ----------
    lengths, counts : sequences of int
        Length of each kind of piece, in any one unit, and how many of each. Both empty give an empty plan.
    stock : int, or sequence of (length, price, at hand)
        Length of a stick; or the kinds of stick, each with the price of one (None for all: the number of sticks is
        minimised) and how many there are (None: as many as wanted). A kind at hand whose price is None while others
        have one is free. Prices are read to six decimals. Free sticks are not cut into without need.
    kerf : int
        What one cut removes: n pieces need their sum and n - 1 kerfs.
    time_limit_s : float
        After this long the best plan found is returned, with what is proved of it. [s]
    trim : int
        Length taken off each stick before use.
    usable : int, optional
        Least length of an offcut worth keeping; the shortest piece of this order if None.
    live : bool
        Stop after a few milliseconds, at once where first-fit decreasing meets the bound; look for no longer offcut.

    Returns
    -------
    CuttingPlan
        Never worse than first-fit decreasing; `proven` only where cost and bound agree.

    Examples
    --------
    >>> plan = plan_cuts([1800, 1200, 600], [4, 6, 8], 3048, kerf=2)
    >>> plan.sticks, plan.lower_bound, plan.proven
    (7, 7, True)
    """
    start = perf_counter()
    request = read_request(lengths, counts, stock, kerf, trim)
    if isinstance(time_limit_s, bool) or not isinstance(time_limit_s, NUMBERS) or not 0 < time_limit_s <= 86_400:
        raise InputError("time limit", time_limit_s, "0 to 86400 s", "Give the seconds that the search may take.")
    least_use = request.pieces[-1][0] if request.pieces else 1
    if usable is not None:
        least_use = whole("usable", usable, 1, 10**9, "Give the shortest offcut worth keeping.")
    if not request.pieces:
        return CuttingPlan((), 0, 0, True, request.kerf, request.trim, least_use, True, ())
    clock = Clock(start + (min(LIVE_S, time_limit_s) if live else time_limit_s))
    order = as_order(request)
    found = search(order, clock, live)
    enough_sticks(request, order, found.cuts, found.bound)
    cuts, longest = found.cuts, False
    if not live and found.cost <= found.bound:
        cuts, longest = longest_offcut(request, order, cuts, least_use, clock.part(1.0, OFFCUT_S))
    return as_plan(request, order, cuts, found.bound, least_use, longest)
