"""The search for the cheapest plan: rules first, then the bound, rounding, HiGHS over known patterns, and the proof.

Every step can stop at the time limit; what is found and what is proved until then is returned as such.
"""

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction

import numpy as np

from gardenframe.costs.bounds import (
    WIDEST,
    Clock,
    Duals,
    Floats,
    Pool,
    Pricer,
    Relaxed,
    as_cuts,
    attainable,
    by_weights,
    material,
    relax,
)
from gardenframe.costs.orders import Cuts, Order, Pattern
from gardenframe.costs.patterns import best_first_fit, fullest_first, shrink
from gardenframe.costs.proof import closing, over_pool, quick, small_pool

DEAREST = 10**7  # price units beyond which HiGHS cannot tell one unit from none: no proof from it then


@dataclass(slots=True)
class Found:
    """The best plan so far and the best bound so far, in price units."""

    order: Order
    cuts: Cuts
    bound: int
    enough: int = -1  # a cost that suffices; a bound above it ends the search too

    @property
    def cost(self) -> int:
        """Cost of the plan."""
        return self.order.cost(self.cuts)

    @property
    def done(self) -> bool:
        """Whether nothing is left to find."""
        return self.cost <= max(self.bound, self.enough) or 0 <= self.enough < self.bound

    def offer(self, cuts: Cuts | None) -> None:
        """Take a plan if it is cheaper and within what is there."""
        if cuts is None:
            return
        cuts = tidy(self.order, cuts)
        used = Counter[int]()
        for (stock, _), times in cuts.items():
            used[stock] += times
        within = all(times <= self.order.limits[s] for s, times in used.items())
        if within and not self.order.rest(cuts).counts.any() and self.order.cost(cuts) < self.cost:
            self.cuts = cuts


def tidy(order: Order, cuts: Cuts) -> Cuts:
    """Return the plan with every piece cut once: what is cut too often left out, empty sticks put back."""
    left = order.counts.tolist()
    kept = Counter[tuple[int, Pattern]]()
    for (stock, pattern), times in cuts.items():
        while times:
            now = tuple((i, min(n, left[i])) for i, n in pattern if left[i])
            if not now:
                break
            whole = min([times, *(left[i] // n for i, n in now)])
            kept[stock, now] += whole
            for i, n in now:
                left[i] -= n * whole
            times -= whole
    return shrink(order, kept)


def added(first: Cuts, second: Cuts) -> Cuts:
    """Return both plans as one."""
    return dict(Counter(first) + Counter(second))


def rounded(order: Order, pool: Pool, times: Floats, up: float) -> Cuts:
    """Return columns rounded down, then up where the fraction is at least `up` and most of the pattern is wanted."""
    whole = np.floor(times + 1e-6)
    cuts = as_cuts(pool, whole)
    left = order.rest(tidy(order, cuts))
    for column in np.argsort(whole - times):
        if times[column] - whole[column] < up:
            break
        key = (pool.stock[column], pool.patterns[column])
        if left.limits[key[0]] > 0 and all(left.counts[i] >= n for i, n in key[1]):
            cuts[key] = cuts.get(key, 0) + 1
            left = left.rest({key: 1})
    return tidy(order, cuts)


def round_off(found: Found, pool: Pool, relaxed: Relaxed, clock: Clock) -> None:
    """Offer plans made from the linear program by rounding, the rest cut by rule."""
    order = found.order
    for up in (0.5, 0.2, 0.8, 2.0):
        start = rounded(order, pool, relaxed.times, up)
        rest = order.rest(start)
        found.offer(added(start, best_first_fit(rest)))
        if not found.done and clock.left() and order.room.max() <= WIDEST:
            found.offer(added(start, fullest_first(rest)))
        if found.done or not clock.left():
            return


def dive(found: Found, pool: Pool, relaxed: Relaxed, clock: Clock) -> None:
    """Offer the plan made by fixing the fullest columns, solving the rest again, and so on."""
    order, times = found.order, relaxed.times
    cuts: Cuts = {}
    rest = order
    while rest.counts.any() and clock.left():
        whole = np.floor(times + 1e-6)
        if not whole.any():
            part = times - whole
            whole = np.where(part >= max(0.9, float(part.max())), 1.0, 0.0)
            if not whole.any():
                whole[int(np.argmax(part))] = 1.0
        step = tidy(rest, as_cuts(pool, whole))
        cuts = added(cuts, step)
        rest = rest.rest(step)
        if not rest.counts.any():
            break
        solved = regrown(pool, rest, clock)
        if solved is None:
            break
        times = solved
        pool.learn(step)
    if rest.counts.any():
        cuts = added(cuts, best_first_fit(rest))
    pool.learn(cuts)
    found.offer(cuts)


def regrown(pool: Pool, rest: Order, clock: Clock) -> Floats | None:
    """Return times over the pool for what is left, the pool grown for two rounds."""
    keep = np.flatnonzero(rest.counts)
    part = Order(rest.lengths[keep], rest.counts[keep], rest.room, rest.prices, rest.limits, rest.limited)
    place = {int(item): new for new, item in enumerate(keep)}
    small = Pool(part)
    for stock, pattern in zip(pool.stock, pool.patterns, strict=True):
        now = tuple((place[i], min(n, int(rest.counts[i]))) for i, n in pattern if i in place)
        if now:
            small.add(stock, now)
    relaxed = relax(part, small, Pricer(part), clock, rounds=3)
    if relaxed is None:
        return None
    times = np.zeros(len(pool.stock) + len(small.stock))
    at = {key: column for column, key in enumerate(zip(pool.stock, pool.patterns, strict=True))}
    for column in np.flatnonzero(relaxed.times):
        key = (small.stock[column], tuple((int(keep[i]), n) for i, n in small.patterns[column]))
        if key not in at:
            pool.add(*key)
            at[key] = len(pool.stock) - 1
        times[at[key]] = relaxed.times[column]
    return times[: len(pool.stock)]


Closing = Callable[[Order, Sequence[Duals], int, Clock], tuple[Cuts | None, bool]]


def prove(found: Found, prices: Sequence[Duals], clock: Clock, close: Closing) -> None:
    """Close the gap: look for plans within growing windows above the bound, until one is found or there is none."""
    order = found.order
    window = 0
    while not found.done and clock.left():
        most = min(attainable(order, found.bound + window), found.cost - 1)
        cuts, ended = close(order, prices, most, clock)
        found.offer(cuts)
        if not ended or (cuts is not None and found.cost > most):
            return
        if cuts is None:
            found.bound = min(attainable(order, most + 1), found.cost)
            window = 2 * window + max(1, (found.cost - found.bound) // 8)
        elif window == 0:
            found.bound = found.cost


def search(order: Order, clock: Clock, live: bool = False, enough: int = -1) -> Found:
    """Return the cheapest plan found by the time limit, with its bound."""
    found = Found(order, best_first_fit(order), max(material(order), by_weights(order)), enough)
    if found.done or not clock.left():
        return found
    start = found.cuts
    if order.pieces <= 2000 and order.room.max() <= WIDEST and not live:
        start = fullest_first(order)
        found.offer(start)
    if not found.done:
        improve(found, start, clock)
    return found


def improve(found: Found, start: Cuts, clock: Clock) -> None:
    """Better plan and bound by the linear program, rounding, and HiGHS."""
    order = found.order
    pool, pricer = small_pool(order, clock), Pricer(order)
    by_length = pricer.by_length()
    if found.bound - by_length.bound < Fraction(1, 1000):
        # no stick may lose anything, so few patterns are left: no linear program is needed
        prove(found, [by_length], clock.part(0.2), quick)
    if found.done or not clock.left():
        return
    pool.learn(found.cuts)
    pool.learn(start)
    relaxed = relax(order, pool, pricer, clock.part(0.6))
    if relaxed is None:
        return
    found.bound = min(max(found.bound, relaxed.bound), found.cost)
    if not found.done:
        round_off(found, pool, relaxed, clock)
    if found.done or not clock.left():
        return
    provable = max(order.prices) <= DEAREST
    prices = sorted([relaxed.duals, by_length], key=lambda duals: duals.bound, reverse=True)
    if not found.done and clock.left():
        dive(found, pool, relaxed, clock.part(0.5))
    if not found.done and clock.left():
        pool.learn(found.cuts)
        found.offer(over_pool(pool, order, found.cost - 1, clock.part(0.3, 2.0))[0])
    if provable:
        prove(found, prices, clock, closing)
