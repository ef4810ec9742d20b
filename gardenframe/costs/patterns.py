"""Ways to fill one stick, and plans made by rule: knapsack tables, first-fit decreasing, fullest stick first."""

from collections import Counter
from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from gardenframe.costs.orders import Cuts, Ints, Order, Pattern


def splits(counts: Ints, lengths: Ints, room: int) -> Iterator[tuple[int, int]]:
    """Yield (item, how many at once) so that sums of them make every number of each item that fits."""
    for item, (count, length) in enumerate(zip(counts.tolist(), lengths.tolist(), strict=True)):
        left, many = min(count, room // length), 1
        while left > 0:
            many = min(many, left)
            yield item, many
            left, many = left - many, 2 * many


class Knapsack:
    """Dearest content of a stick for every room up to the largest, each item at most as often as it is ordered.

    Values are whole numbers, so that a bound made from them is exact.
    """

    def __init__(self, lengths: Ints, counts: Ints, room: int) -> None:
        self.items = len(lengths)
        self.room = room
        self.units = [(item, many, many * int(lengths[item])) for item, many in splits(counts, lengths, room)]
        self.taken = np.zeros((len(self.units), room + 1), dtype=bool)

    def fill(self, values: Ints) -> Ints:
        """Return the best value for each room 0..room; the choices stay here for `trace`."""
        best = np.zeros(self.room + 1, dtype=np.int64)
        self.taken[:] = False
        for unit, (item, many, length) in enumerate(self.units):
            worth = many * int(values[item])
            if worth <= 0:
                continue
            other = best[:-length] + worth
            better = other > best[length:]
            self.taken[unit, length:] = better
            np.maximum(best[length:], other, out=best[length:])
        return best

    def trace(self, room: int, starts: Sequence[int] | None = None) -> Ints:
        """Return contents, one row for each start: the best that uses only the units up to it."""
        first = np.array([len(self.units) - 1] if starts is None else starts)
        left = np.full(len(first), room)
        found = np.zeros((len(first), self.items), dtype=np.int64)
        for unit in range(len(self.units) - 1, -1, -1):
            item, many, length = self.units[unit]
            chosen = self.taken[unit, left] & (first >= unit)
            found[:, item] += many * chosen
            left -= length * chosen
        return found

    def traces(self, room: int, most: int) -> Ints:
        """Return up to `most` good contents for one room, unlike each other, the best first."""
        last = np.flatnonzero(self.taken[:, room])
        if len(last) > most:
            last = last[np.linspace(0, len(last) - 1, most).astype(int)]
        return self.trace(room, last[::-1].tolist()) if len(last) else np.zeros((0, self.items), dtype=np.int64)


def as_pattern(row: Ints) -> Pattern:
    """Return a row of numbers of each item as (item, how many) pairs."""
    return tuple((int(item), int(row[item])) for item in np.flatnonzero(row))


def openings(order: Order) -> list[list[int]]:
    """Return orders in which to open kinds of stick: limited ones first, longest or cheapest by length, or last."""
    kinds = [s for s in range(len(order.prices)) if order.limits[s] and order.room[s] >= order.lengths[-1]]
    by_length = sorted(kinds, key=lambda s: (order.prices[s] / int(order.room[s]), -order.room[s]))
    dear_last = sorted(kinds, key=lambda s: (order.prices[s], order.room[s]))
    limited = [s for s in by_length if order.limited[s]]
    ways = [limited + [s for s in by_length if s not in limited], by_length, dear_last]
    ways += [[s, *(other for other in by_length if other != s)] for s in by_length]
    return [list(way) for way in dict.fromkeys(map(tuple, ways))]


def first_fit(order: Order, opening: Sequence[int]) -> Cuts:
    """Return the first-fit decreasing plan that opens kinds of stick in the order given.

    Like pieces are placed together: the first stick that takes one takes as many as fit, which is what piece by piece
    comes to.
    """
    stock: list[int] = []
    room = np.zeros(order.pieces, dtype=np.int64)
    content: list[list[tuple[int, int]]] = []
    used = Counter[int]()
    for item, (length, count) in enumerate(zip(order.lengths.tolist(), order.counts.tolist(), strict=True)):
        fit = room[: len(stock)] // length
        before = np.minimum(np.cumsum(fit), count)
        placed = np.diff(before, prepend=0)
        for stick in np.flatnonzero(placed).tolist():
            content[stick].append((item, int(placed[stick])))
        room[: len(stock)] -= length * placed
        left = count - int(placed.sum())
        while left:
            kind = next(s for s in opening if used[s] < order.limits[s] and order.room[s] >= length)
            many = min(left, int(order.room[kind]) // length)
            content.append([(item, many)])
            room[len(stock)] = order.room[kind] - many * length
            stock.append(kind)
            used[kind] += 1
            left -= many
    return shrink(order, Counter((s, tuple(filled)) for s, filled in zip(stock, content, strict=True)))


def shrink(order: Order, cuts: Cuts) -> Cuts:
    """Return the plan with each content moved to the cheapest kind of stick that holds it and is still to be had."""
    if len(order.prices) == 1:
        return dict(cuts)
    left = list(order.limits)
    for (stock, _), times in cuts.items():
        left[stock] -= times
    better = Counter[tuple[int, Pattern]]()
    for (stock, pattern), times in cuts.items():
        need = sum(many * int(order.lengths[item]) for item, many in pattern)
        kinds = [s for s in range(len(order.prices)) if order.room[s] >= need]
        kinds.sort(key=lambda s: (order.prices[s], order.room[s]))
        for kind in kinds:
            move = times if kind == stock else min(times, left[kind])
            if move > 0:
                better[kind, pattern] += move
                left[kind] -= move
                left[stock] += move
                times -= move
            if not times or kind == stock:
                break
    return dict(better)


def best_first_fit(order: Order) -> Cuts:
    """Return the cheapest first-fit decreasing plan over the ways to open sticks."""
    held = order.counts > 0
    if not held.any():
        return {}
    keep = np.flatnonzero(held)
    small = Order(order.lengths[keep], order.counts[keep], order.room, order.prices, order.limits, order.limited)
    best = min((first_fit(small, way) for way in openings(small)), key=small.cost)
    return {(s, tuple((int(keep[i]), n) for i, n in pattern)): times for (s, pattern), times in best.items()}


def fullest_first(order: Order, values: NDArray[np.float64] | None = None) -> Cuts:
    """Return the plan that fills one stick after another as full as what is left allows.

    `values` weighs the items (their length if None); a stick's content is repeated while the pieces last. The kind of
    stick is the one whose content is worth most for its price.
    """
    worth = np.asarray(order.lengths if values is None else np.round(values), dtype=np.int64)
    cuts = Counter[tuple[int, Pattern]]()
    counts, limits = order.counts.copy(), list(order.limits)
    while counts.any():
        kinds = [s for s in range(len(order.prices)) if limits[s] and order.room[s] >= order.lengths[counts > 0].min()]
        table = Knapsack(order.lengths, counts, int(order.room[kinds].max()))
        best = table.fill(worth)
        kind = max(kinds, key=lambda s: (best[order.room[s]] + 1) / (order.prices[s] + 1e-9))
        row = table.trace(int(order.room[kind]))[0]
        some = row > 0
        times = min(limits[kind], int((counts[some] // row[some]).min()))
        cuts[kind, as_pattern(row)] += times
        counts -= times * row
        limits[kind] -= times
    return shrink(order, cuts)
