"""Among the cheapest plans, the one that leaves the longest usable offcut.

An offcut of length w can be had at no more cost exactly where the order with one more piece of length w can be cut at
that cost. That is asked for lengths by halving; each answer is a search of its own.
"""

import numpy as np

from gardenframe.costs.bounds import WIDEST, Clock
from gardenframe.costs.orders import Cuts, Order, Request, as_order
from gardenframe.costs.patterns import splits
from gardenframe.costs.search import search


def left_of(request: Request, stock: int, content: dict[int, int]) -> int:
    """Return the length left of a stick after its pieces, each with the cut that frees it."""
    used = sum((length + request.kerf) * many for length, many in content.items())
    return max(0, request.stock[stock].length - request.trim - used)


def contents(request: Request, order: Order, cuts: Cuts) -> list[tuple[int, dict[int, int], int]]:
    """Return (stock, {length: count}, times) in the reader's unit."""
    sizes = [length for length, _ in request.pieces]
    return [(stock, {sizes[i]: n for i, n in pattern}, times) for (stock, pattern), times in cuts.items()]


def longest_left(request: Request, order: Order, cuts: Cuts) -> int:
    """Return the longest offcut of a plan, or the longest stick at hand that stays whole if that is longer."""
    rows = contents(request, order, cuts)
    lengths = [left_of(request, stock, content) for stock, content, _ in rows]
    for place, kind in enumerate(request.stock):
        if kind.at_hand is not None and sum(times for stock, _, times in rows if stock == place) < kind.at_hand:
            lengths.append(kind.length - request.trim)
    return max(lengths, default=0)


def possible(request: Request, order: Order) -> list[int]:
    """Return every length that could be left of a stick with at least one piece in it, shortest first."""
    room = int(order.room.max())
    reached = np.zeros(room + 1, dtype=bool)
    reached[0] = True
    for item, many in splits(order.counts, order.lengths, room):
        length = many * int(order.lengths[item])
        reached[length:] |= reached[:-length].copy()
    shared = (request.pieces[0][0] + request.kerf) // int(order.lengths[0])
    sums = np.flatnonzero(reached)[1:] * shared
    lengths = {kind.length - request.trim for kind in request.stock if kind.at_hand != 0}
    every = np.unique(np.concatenate([length - sums for length in lengths]))
    return [int(length) for length in every if length > 0]


def without(request: Request, wider: Order, cuts: Cuts, extra: int) -> Cuts:
    """Return the plan of an order with one more piece of length `extra`, that piece taken out again."""
    at_wide = sorted({extra, *(length for length, _ in request.pieces)}, reverse=True)
    place = {length: item for item, (length, _) in enumerate(request.pieces)}
    plan: Cuts = {}
    taken = False
    for (stock, pattern), times in cuts.items():
        content = {at_wide[i]: n for i, n in pattern}
        if not taken and extra in content:
            fewer = {length: n - (length == extra) for length, n in content.items()}
            key = (stock, tuple(sorted((place[length], n) for length, n in fewer.items() if n)))
            plan[key] = plan.get(key, 0) + 1
            taken, times = True, times - 1
        key = (stock, tuple(sorted((place[length], n) for length, n in content.items() if length in place)))
        if times:
            plan[key] = plan.get(key, 0) + times
    return {key: times for key, times in plan.items() if key[1]}


def longest_offcut(request: Request, order: Order, cuts: Cuts, usable: int, clock: Clock) -> tuple[Cuts, bool]:
    """Return a plan of the same cost with the longest offcut found, and whether none longer can be had."""
    if order.room.max() > WIDEST:
        return cuts, False
    cost = order.cost(cuts)
    had = longest_left(request, order, cuts)
    open_lengths = [length for length in possible(request, order) if length > had and length >= usable]
    proven = True
    while open_lengths:
        if not clock.left():
            return cuts, False
        extra = open_lengths[len(open_lengths) // 2]
        wider = as_order(request, extra)
        found = search(wider, clock, enough=cost)
        if found.cost <= cost:
            cuts = without(request, wider, found.cuts, extra)
            had = max(extra, longest_left(request, order, cuts))
            open_lengths = [length for length in open_lengths if length > had]
        else:
            proven &= found.bound > cost
            open_lengths = [length for length in open_lengths if length < extra]
    return cuts, proven
