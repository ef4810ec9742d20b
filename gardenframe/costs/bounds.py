"""Lower bounds that hold exactly: by material, and by the prices of a linear program over all patterns.

The linear program (Gilmore and Gomory's, from memory: Operations Research 9, 1961) is solved in floats over a pool of
patterns that grows by a knapsack. Its prices are then rounded to whole numbers, and the bound made from them by the
same knapsack in whole numbers (Farley's scaling, with a charge for kinds of stick that are limited) owes nothing to
float tolerances.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from fractions import Fraction
from heapq import heappop, heappush
from math import ceil
from time import perf_counter

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array

from gardenframe.costs.orders import Cuts, Ints, Order, Pattern
from gardenframe.costs.patterns import Knapsack, as_pattern

Floats = NDArray[np.float64]
WIDEST = 20_000  # room beyond which tables are made on a coarser grid


@dataclass(slots=True)
class Clock:
    """Time that may still be used."""

    end: float

    def left(self) -> float:
        """Return the seconds left, never less than 0."""
        return max(0.0, self.end - perf_counter())

    def part(self, share: float, most: float = 1e9) -> "Clock":
        """Return a clock for a share of what is left."""
        return Clock(perf_counter() + min(self.left() * share, most))


def material(order: Order) -> int:
    """Return the least cost of enough stick for the lengths, cheapest by length first, in price units."""
    need = int((order.lengths * order.counts).sum())
    cost = Fraction(0)
    kinds = [s for s in range(len(order.prices)) if order.room[s] and order.limits[s]]
    for s in sorted(kinds, key=lambda s: Fraction(order.prices[s], int(order.room[s]))):
        used = min(Fraction(need, int(order.room[s])), Fraction(order.limits[s]))
        cost += used * order.prices[s]
        need -= int(used * int(order.room[s]))
        if need <= 0:
            break
    return attainable(order, ceil(cost))


def by_weights(order: Order, most: int = 24) -> int:
    """Return the number of sticks that re-weighed pieces need, for one kind of stick without limit, else 0.

    Short pieces are left out, those too long to go with them count a whole stick, and the rest are rounded as Fekete
    and Schepers do (from memory: Mathematical Programming 91, 2001): a weight of whole (k + 1)ths keeps its value, any
    other is rounded down to (k + 1)ths and counted in kths. No content that fits weighs more than one stick.
    """
    if len(order.prices) > 1 or any(order.limited):
        return 0
    room, lengths = int(order.room[0]), order.lengths
    cuts = np.append(lengths[(2 * lengths <= room)], 0)[-60:, None]
    weights = np.where(lengths > room - cuts, room, np.where(lengths < cuts, 0, lengths))
    best = int(np.max(-(-(weights @ order.counts) // room)))
    for k in range(1, most + 1):
        parts = (k + 1) * weights
        heavy = np.where(parts % room == 0, k * weights, parts // room * room)
        best = max(best, int(np.max(-(-(heavy @ order.counts) // (k * room)))))
    return best * order.prices[0]


def attainable(order: Order, bound: int) -> int:
    """Return the least sum of stick prices that is not below the bound, in price units."""
    prices = sorted({price for price in order.prices if price})
    if len(prices) < 2 or prices[0] > 50_000:
        step = prices[0] if len(prices) == 1 else 1
        return -(-bound // step) * step
    base = prices[0]
    least, queue = [-1] * base, [(0, 0)]
    while queue:
        total, rest = heappop(queue)
        if least[rest] >= 0:
            continue
        least[rest] = total
        for price in prices[1:]:
            if least[(rest + price) % base] < 0 and total < bound + base:
                heappush(queue, (total + price, (rest + price) % base))
    return min(total + max(0, -((total - bound) // base)) * base for total in least if total >= 0)


@dataclass(slots=True)
class Pool:
    """The patterns known so far, as columns of a linear program."""

    order: Order
    stock: list[int] = field(default_factory=list)
    patterns: list[Pattern] = field(default_factory=list)
    known: set[tuple[int, Pattern]] = field(default_factory=set)

    def add(self, stock: int, pattern: Pattern) -> bool:
        """Add a pattern for a kind of stick; return whether it is new."""
        if (stock, pattern) in self.known:
            return False
        self.known.add((stock, pattern))
        self.stock.append(stock)
        self.patterns.append(pattern)
        return True

    def learn(self, keys: Iterable[tuple[int, Pattern]]) -> None:
        """Add all patterns of a plan."""
        for stock, pattern in keys:
            self.add(stock, pattern)

    def matrix(self) -> csr_array:
        """Return rows of items, then a row for each limited kind of stick (negative), columns of patterns."""
        items = len(self.order.lengths)
        limited = [s for s in range(len(self.order.prices)) if self.order.limited[s]]
        row_of = {s: items + place for place, s in enumerate(limited)}
        rows, columns, values = [], [], []
        for column, (stock, pattern) in enumerate(zip(self.stock, self.patterns, strict=True)):
            for item, many in pattern:
                rows.append(item)
                columns.append(column)
                values.append(many)
            if stock in row_of:
                rows.append(row_of[stock])
                columns.append(column)
                values.append(-1)
        return csr_array((values, (rows, columns)), shape=(items + len(limited), len(self.stock)), dtype=float)

    def needs(self, order: Order) -> Floats:
        """Return the right-hand side of `matrix` for an order over the same items."""
        limits = [-order.limits[s] for s in range(len(order.prices)) if order.limited[s]]
        return np.array([*order.counts.tolist(), *limits], dtype=float)

    def prices(self) -> Floats:
        """Return the cost of each column."""
        return np.array([self.order.prices[s] for s in self.stock], dtype=float)


@dataclass(slots=True)
class Duals:
    """Whole-number prices of items and charges for limited kinds, feasible for every pattern; all times `scale`."""

    scale: int
    items: Ints
    need: tuple[int, ...]  # price and charge of each kind: no content is worth more
    bound: Fraction


@dataclass(slots=True)
class Relaxed:
    """A solved linear program: how often each column, the exact bound and the prices behind it."""

    times: Floats
    bound: int
    duals: Duals


class Pricer:
    """Knapsacks that look for patterns worth more than their stick, and make the exact bound."""

    def __init__(self, order: Order) -> None:
        self.order = order
        room = int(order.room.max())
        self.grid = -(-room // WIDEST)
        self.rooms = order.room // self.grid
        top = int(self.rooms.max())
        self.tight = Knapsack(-(-order.lengths // self.grid), order.counts, top)
        # on a coarser grid patterns are found with pieces rounded up, and bounds with pieces rounded down
        self.loose = (
            self.tight if self.grid == 1 else Knapsack(np.maximum(order.lengths // self.grid, 1), order.counts, top)
        )
        self.scale = max(1, 2**44 // max(1, *order.prices))

    def duals(self, items: Ints, best: Ints) -> Duals:
        """Return feasible prices from any whole prices of items, whose best value for each room is given."""
        order, scale = self.order, self.scale
        best = best if self.loose is self.tight else self.loose.fill(items)
        worth = [int(best[room]) for room in self.rooms]
        free = [s for s in range(len(worth)) if not order.limited[s] and worth[s] > 0]
        shrinking = min([Fraction(1), *(Fraction(scale * order.prices[s], worth[s]) for s in free)])
        small = items
        if shrinking < 1:
            small = np.array([int(value * shrinking) for value in items.tolist()], dtype=np.int64)
            best = self.loose.fill(small)
        need = tuple(max(scale * p, int(best[room])) for p, room in zip(order.prices, self.rooms, strict=True))
        total = sum(value * count for value, count in zip(small.tolist(), order.counts.tolist(), strict=True))
        charge = sum((need[s] - scale * order.prices[s]) * order.limits[s] for s in range(len(need)))
        return Duals(scale, small, need, Fraction(total - charge, scale))

    def by_length(self) -> Duals:
        """Return the prices that go by length at the cheapest rate: sharp where no stick may lose anything."""
        kinds = [s for s in range(len(self.rooms)) if self.order.limits[s] and self.rooms[s]]
        rate = min(Fraction(self.scale * self.order.prices[s], int(self.order.room[s])) for s in kinds)
        items = np.array([int(length * rate) for length in self.order.lengths.tolist()], dtype=np.int64)
        return self.duals(items, self.tight.fill(items))


def solve_pool(pool: Pool, order: Order, clock: Clock) -> tuple[Floats, Floats, float] | None:
    """Return times of each column, prices of the rows and cost, over the pool; None if time ran out."""
    from scipy.optimize import linprog  # 0.4 s, not before a plan needs it

    result = linprog(
        pool.prices(),
        A_ub=-pool.matrix(),
        b_ub=-pool.needs(order),
        bounds=(0, None),
        method="highs-ds",
        options={"time_limit": max(clock.left(), 1e-3), "presolve": False},
    )
    if result.status != 0:
        return None
    return np.asarray(result.x), np.maximum(-np.asarray(result.ineqlin.marginals), 0), float(result.fun)


def grow(pool: Pool, stock: int, pricer: Pricer, values: Ints, best: Ints, spent: int, most: int) -> int:
    """Add patterns worth more than what their stick costs; return how many are new."""
    room = int(pricer.rooms[stock])
    least = spent + spent // 10**9 + pricer.scale // 10**9
    if best[room] <= least:
        return 0
    rows = pricer.tight.traces(room, most)
    return sum(pool.add(stock, as_pattern(row)) for row in rows[rows @ values > least])


def relax(order: Order, pool: Pool, pricer: Pricer, clock: Clock, most: int = 40, rounds: int = -1) -> Relaxed | None:
    """Return the linear program over all patterns, solved by growing the pool, as far as time allows."""
    items = len(order.lengths)
    limited = [s for s in range(len(order.prices)) if order.limited[s]]
    found: Relaxed | None = None
    while clock.left() > 0:
        solved = solve_pool(pool, order, clock)
        if solved is None:
            break
        times, prices, cost = solved
        values = np.floor(prices[:items] * pricer.scale).astype(np.int64)
        spent = [pricer.scale * price for price in order.prices]
        for s, charge in zip(limited, prices[items:].tolist(), strict=True):
            spent[s] += int(pricer.scale * charge)
        best = pricer.tight.fill(values)
        fresh = sum(grow(pool, s, pricer, values, best, spent[s], most) for s in range(len(spent)) if order.limits[s])
        duals = pricer.duals(values, best)
        if found is None or duals.bound >= found.duals.bound:
            found = Relaxed(times, attainable(order, ceil(duals.bound)), duals)
        found.times = times
        rounds -= 1
        if not fresh or not rounds or found.bound >= cost - 1e-6 * max(1.0, abs(cost)):
            break
    if found is not None and len(found.times) < len(pool.stock):
        found.times = np.pad(found.times, (0, len(pool.stock) - len(found.times)))
    return found


def as_cuts(pool: Pool, times: Floats) -> Cuts:
    """Return the whole times of columns as a plan, zeros left out."""
    whole = np.round(times).astype(np.int64)
    return {(pool.stock[c], pool.patterns[c]): int(whole[c]) for c in np.flatnonzero(whole)}
