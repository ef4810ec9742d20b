"""The exact end of a search: every pattern, or every arc, that a cheaper plan could use, handed to HiGHS.

Prices of the linear program give each pattern a reduced cost; a plan within `most` uses only patterns whose reduced
cost is within the gap between `most` and the bound. Those are listed. Where they are too many, the same test is put to
the arcs of Valerio de Carvalho's arc-flow graph (from memory: Annals of Operations Research 86, 1999).
"""

from collections import Counter
from collections.abc import Sequence
from fractions import Fraction
from math import floor
from threading import Thread

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_array, csr_array, vstack

from gardenframe.costs.bounds import Clock, Duals, Floats, Pool, as_cuts
from gardenframe.costs.orders import Cuts, Ints, Order, Pattern
from gardenframe.costs.patterns import as_pattern

STATES = 400_000
CELLS = 40_000_000
PATTERNS = 12_000
FEW = 200  # patterns that HiGHS goes through without delay
SOME = 5_000  # patterns tried where not all can be
ARCS = 40_000
SHARE = 0.8  # of the time left is given to HiGHS, which looks at its clock only now and then


def run_milp(
    costs: Floats, matrix: csr_array, lower: Floats, upper: Floats, most: float, clock: Clock, ceiling: Floats
) -> tuple[Floats | None, bool]:
    """Return whole values of the columns that cost at most `most` (None if not found), and whether the search ended."""
    scale = max(float(costs.max(initial=0.0)), 1e-9)
    from scipy.optimize import Bounds, LinearConstraint, OptimizeResult, milp  # 0.4 s, not before a plan needs it

    rows = vstack([matrix, csr_array((costs / scale)[None, :])], format="csr")
    limit = LinearConstraint(rows, np.append(lower, -np.inf), np.append(upper, most / scale))
    done: list[OptimizeResult] = []

    def solve() -> None:
        integral, seconds = np.ones(len(costs)), max(clock.left() * SHARE, 1e-3)
        bounds = Bounds(0, ceiling)
        done.append(
            milp(costs / scale, constraints=limit, bounds=bounds, integrality=integral, options={"time_limit": seconds})
        )

    # HiGHS can miss its own limit by seconds; it then ends in its thread, unheeded, while the best plan is returned
    worker = Thread(target=solve)
    worker.start()
    worker.join(max(clock.left(), 1e-3))
    if not done:
        return None, False
    result = done[0]
    found = None if result.x is None else np.round(np.asarray(result.x))
    return found, result.status in (0, 2)


def over_pool(pool: Pool, order: Order, most: int, clock: Clock) -> tuple[Cuts | None, bool]:
    """Return a plan from the pool that costs at most `most`, and whether the search of the pool ended."""
    needs = pool.needs(order)
    ceiling = np.array([min(order.limits[s], order.pieces) for s in pool.stock], dtype=float)
    times, ended = run_milp(
        pool.prices(), pool.matrix(), needs, np.full(len(needs), np.inf), most + 0.5, clock, ceiling
    )
    return (None if times is None else as_cuts(pool, times)), ended


def tails(order: Order, values: Ints) -> Ints:
    """Return, for each item and room, the best value of that item and the shorter ones."""
    items, room = len(values), int(order.room.max())
    best = np.zeros((items + 1, room + 1), dtype=np.int64)
    for item in range(items - 1, -1, -1):
        best[item] = best[item + 1]
        add_item(best[item], int(order.lengths[item]), int(order.counts[item]), int(values[item]))
    return best


def add_item(best: Ints, length: int, count: int, value: int) -> None:
    """Let a table of best values use one more item, in place."""
    left, many = min(count, (len(best) - 1) // length), 1
    while left > 0:
        many = min(many, left)
        np.maximum(best[many * length :], best[: -many * length] + many * value, out=best[many * length :])
        left, many = left - many, 2 * many


def listable(order: Order) -> bool:
    """Return whether the tables of an order fit the memory that the proof may use."""
    return (len(order.lengths) + 1) * (int(order.room.max()) + 1) <= CELLS


def floors(duals: Duals, most: int) -> list[int]:
    """Return the value that a content of each kind of stick needs in a plan that costs at most `most`."""
    gap = floor((most - duals.bound) * duals.scale)
    return [need - gap for need in duals.need]


def every_pattern(
    order: Order, prices: Sequence[Duals], most: int, clock: Clock, few: int | None = None, states: int = STATES
) -> tuple[Pool | None, bool]:
    """Return the fullest patterns of at most `few` pieces that a plan within `most` can use, and whether these are all.

    Without `few`, None stands for more than can be listed. With it, a sample of them is returned then. Where the
    fullest ones are too many for HiGHS, those of few pieces are returned. The first of the prices guides the search,
    the others sift what it finds.
    """
    duals = prices[0]
    if not listable(order):
        return None, False
    best, least = tails(order, duals.items), floors(duals, most)
    kinds = [s for s in range(len(least)) if order.limits[s]]
    draw, complete = np.random.default_rng(order.pieces), few is None
    used = np.zeros(1, dtype=np.int64)
    worth = np.zeros(1, dtype=np.int64)
    number = np.zeros(1, dtype=np.int64)
    rows = np.zeros((1, len(order.lengths)), dtype=np.int16)
    for item, (length, count) in enumerate(zip(order.lengths.tolist(), order.counts.tolist(), strict=True)):
        parts = []
        for many in range(min(count, int(order.room.max()) // length) + 1):
            now, value = used + many * length, worth + many * int(duals.items[item])
            keep = np.zeros(len(now), dtype=bool)
            enough = number + many <= (order.pieces if few is None else few)
            for s in kinds:
                left = order.room[s] - now
                keep |= enough & (left >= 0) & (value + best[item + 1][np.maximum(left, 0)] >= least[s])
            chosen = np.flatnonzero(keep)
            more = rows[chosen]
            more[:, item] = many
            parts.append((now[chosen], value[chosen], more, number[chosen] + many))
            if not clock.left() or (few is None and sum(len(part[0]) for part in parts) > states):
                return None, False
        used, worth, rows, number = (np.concatenate([part[place] for part in parts]) for place in range(4))
        if len(used) > states or rows.size > CELLS:
            if few is None:
                return None, False
            some = draw.permutation(len(used))[: min(states, CELLS // rows.shape[1]) // 4]
            used, worth, rows, number, complete = used[some], worth[some], rows[some], number[some], False
    fit = [(used <= order.room[s]) & (worth >= least[s]) & (used > 0) for s in range(len(least))]
    for other in prices[1:]:
        worth, least = rows @ other.items, floors(other, most)
        fit = [good & (worth >= value) for good, value in zip(fit, least, strict=True)]
    pool, ended = fullest(order, used, rows, fit)
    return pool, ended and complete


def small_pool(order: Order, clock: Clock, states: int = 4000) -> Pool:
    """Return all fullest patterns of an order that has few of them, else an empty pool."""
    worthless = Duals(1, np.zeros(len(order.lengths), dtype=np.int64), (0,) * len(order.prices), Fraction(0))
    pool, ended = every_pattern(order, [worthless], 0, clock, states=states)
    return pool if pool is not None and ended and len(pool.stock) <= states // 4 else Pool(order)


def fullest(order: Order, used: Ints, rows: NDArray[np.int16], fit: list[NDArray[np.bool_]]) -> tuple[Pool, bool]:
    """Return a pool of the contents that fit a kind and take no further piece, and whether it holds them all."""
    spare = np.where(rows < order.counts, order.lengths, np.iinfo(np.int64).max).min(axis=1)
    pool, ended = Pool(order), True
    few_first = np.lexsort((np.random.default_rng(len(rows)).permutation(len(rows)), rows.sum(axis=1)))
    for s in range(len(fit)):
        good = fit[s] & (spare > order.room[s] - used)
        chosen = few_first[good[few_first]] if order.limits[s] else few_first[:0]
        ended &= len(pool.stock) + len(chosen) <= PATTERNS
        for row in rows[chosen[: max((PATTERNS if ended else SOME) - len(pool.stock), 0)]]:
            pool.add(s, as_pattern(row.astype(np.int64)))
    return pool, ended


def arcs_within(order: Order, duals: Duals, most: int) -> tuple[Ints, Ints]:
    """Return (start, item) of all arcs of the arc-flow graph that a plan within `most` can use."""
    best, least = tails(order, duals.items), floors(duals, most)
    room = int(order.room.max())
    head = np.full(room + 1, -1, dtype=np.int64)  # best value of a content exactly so long, -1: none
    head[0] = 0
    starts, items = [], []
    for item, (length, count) in enumerate(zip(order.lengths.tolist(), order.counts.tolist(), strict=True)):
        value, layer, source, reached = int(duals.items[item]), head, np.full(room + 1, -1), head.copy()
        for _ in range(min(count, room // length)):
            np.maximum(source, layer, out=source)
            moved = np.full(room + 1, -1, dtype=np.int64)
            moved[length:] = np.where(layer[:-length] >= 0, layer[:-length] + value, -1)
            layer = moved
            np.maximum(reached, layer, out=reached)
        good = np.zeros(room + 1, dtype=bool)
        for s in range(len(least)):
            left = order.room[s] - np.arange(room + 1) - length
            worth = source + value + best[item][np.maximum(left, 0)]
            good |= (order.limits[s] > 0) & (left >= 0) & (worth >= least[s])
        at = np.flatnonzero(good & (source >= 0))
        starts.append(at)
        items.append(np.full(len(at), item))
        head = reached
    return np.concatenate(starts), np.concatenate(items)


def over_arcs(order: Order, duals: Duals, most: int, clock: Clock) -> tuple[Cuts | None, bool]:
    """Return a plan that costs at most `most`, and whether the search ended (True and None: there is none)."""
    start, item = arcs_within(order, duals, most)
    if len(start) > ARCS or not clock.left():
        return None, False
    end = start + order.lengths[item]
    nodes = np.unique(np.concatenate([[0], start, end]))
    kinds = [s for s in range(len(order.prices)) if order.limits[s]]
    exits = np.searchsorted(nodes, order.room[kinds], side="right") - 1
    waste_from = np.arange(1, max(len(nodes) - 1, 1))
    tail = np.concatenate([np.searchsorted(nodes, start), waste_from, exits])
    tip = np.concatenate([np.searchsorted(nodes, end), waste_from + 1, np.zeros(len(kinds), dtype=np.int64)])
    columns = np.arange(len(tail))
    flow = coo_array(
        (np.repeat([1.0, -1.0], len(tail)), (np.append(tip, tail), np.append(columns, columns))),
        shape=(len(nodes), len(tail)),
    )
    made = coo_array((np.ones(len(item)), (item, columns[: len(item)])), shape=(len(order.lengths), len(tail)))
    costs = np.zeros(len(tail))
    costs[len(tail) - len(kinds) :] = [order.prices[s] for s in kinds]
    right = np.concatenate([np.zeros(len(nodes)), order.counts])
    ceiling = np.full(len(tail), float(order.pieces))
    ceiling[: len(item)] = order.counts[item]
    ceiling[len(tail) - len(kinds) :] = [order.limits[s] for s in kinds]
    rows = csr_array(vstack([flow, made]))
    times, ended = run_milp(costs, rows, right, right, most + 0.5, clock, ceiling)
    if times is None:
        return None, ended
    what = np.concatenate([item, np.full(len(waste_from), -1), -2 - np.array(kinds)])
    return walked(tail, tip, what, times.astype(np.int64)), ended


def walked(tail: Ints, tip: Ints, what: Ints, times: Ints) -> Cuts:
    """Return the plan of a flow: walk from node 0 along arcs still in use until an exit names the kind of stick."""
    out: dict[int, list[int]] = {}
    for arc in np.flatnonzero(times).tolist():
        out.setdefault(int(tail[arc]), []).append(arc)
    cuts = Counter[tuple[int, Pattern]]()
    while out.get(0):
        node, filled, stock = 0, Counter[int](), -1
        while stock < 0:
            arc = out[node][-1]
            times[arc] -= 1
            if not times[arc]:
                out[node].pop()
            if what[arc] >= 0:
                filled[int(what[arc])] += 1
            elif what[arc] < -1:
                stock = -2 - int(what[arc])
            node = int(tip[arc])
        cuts[stock, tuple(sorted(filled.items()))] += 1
    return dict(cuts)


def closing(order: Order, prices: Sequence[Duals], most: int, clock: Clock) -> tuple[Cuts | None, bool]:
    """Return a plan that costs at most `most`, and whether the search ended (True and None: there is none)."""
    pool, ended = every_pattern(order, prices, most, clock)
    if pool is not None and ended:
        return over_pool(pool, order, most, clock) if pool.stock else (None, True)
    if not listable(order):
        return None, False
    if pool is None:
        # too many: a sample of those of few pieces, which hold the long ones, the hard ones to place
        sticks = max(1, most // max(1, *order.prices))
        pool, _ = every_pattern(order, prices, most, clock, order.pieces // sticks + 2)
    if pool is not None and pool.stock:
        cuts, _ = over_pool(pool, order, most, clock.part(0.6))
        if cuts is not None:
            return cuts, True
    return over_arcs(order, prices[0], most, clock)


def quick(order: Order, prices: Sequence[Duals], most: int, clock: Clock) -> tuple[Cuts | None, bool]:
    """Return what `closing` does where the patterns are few, else nothing found and not ended."""
    pool, ended = every_pattern(order, prices, most, clock, states=STATES // 8)
    if pool is None or not ended or len(pool.stock) > FEW:
        return None, False
    return over_pool(pool, order, most, clock) if pool.stock else (None, True)
