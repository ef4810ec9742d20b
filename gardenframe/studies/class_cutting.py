"""Sticks and rolls cut for a whole class: no dearer than everybody alone, and own sticks kept where that costs nothing.

Kits and a shop come in, a cutting plan for each member and each width of covering goes out.
"""

from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace

from gardenframe.costs.cutting import CuttingPlan, plan_cuts
from gardenframe.materials.shop import Shop
from gardenframe.studies.class_kits import Counts, Kit, lengths_of, roll_stock

Progress = Callable[[int, int, str], None]
Patterns = tuple[tuple[int, dict[int, int], int], ...]
Stick = tuple[int, tuple[tuple[int, int], ...]]  # its length, and (length, how many) of its pieces
Stock = list[tuple[int, float, int | None]]
LEVEL = 1e-9  # of a price
LEAST_S = 0.3  # for cutting a member of which there is little: most are proved sooner


def cut_together(
    kits: Iterable[Kit], shop: Shop, told: Progress, time_limit_s: float
) -> tuple[dict[str, CuttingPlan], dict[str, CuttingPlan]]:
    """Return the cutting plans of sticks, then of rolls, for all kits; time goes by the number of pieces."""
    kits = list(kits)
    sticks: Counts = {}
    strips: Counts = {}
    for kit in kits:
        for key, counts in lengths_of(kit.pieces).items():
            sticks.setdefault(key, Counter()).update(counts)
        for width, lengths in kit.strips.items():
            strips.setdefault(width, Counter()).update(lengths)
    every = sum(counts.total() for counts in (*sticks.values(), *strips.values()))
    found: list[dict[str, CuttingPlan]] = [{}, {}]
    for plans, wanted in zip(found, (sticks, strips), strict=True):
        for n, (key, counts) in enumerate(wanted.items()):
            told(n, len(wanted), f"cutting {shop.members[key].label if plans is found[0] else key}")
            stock, kerf = (shop.stock(key), shop.kerf_marks) if plans is found[0] else (roll_stock(shop, key), 0)
            limit = max(LEAST_S, time_limit_s * counts.total() / every)
            best = plan_cuts(list(counts), list(counts.values()), stock, kerf, limit)
            alone = [kit.patterns[key] for kit in kits if key in kit.patterns]
            best = not_above(best, alone, stock)
            plans[key] = kept_together(best, alone, stock) if plans is found[0] else best
    return found[0], found[1]


def not_above(best: CuttingPlan, alone: Iterable[Patterns], stock: Stock) -> CuttingPlan:
    """Return the plan for all, or everybody's own plans put together where these are cheaper."""
    times = _sticks_of(alone)
    cost = _cost_of(times, stock)
    return best if cost >= best.cost - LEVEL else _of_sticks(best, times, cost)


def kept_together(best: CuttingPlan, alone: Iterable[Patterns], stock: Stock) -> CuttingPlan:
    """Return a plan of the same cost in which as many sticks as can be are those that somebody would cut alone.

    Own sticks that leave least come first; how many of them can be kept without a dearer whole is searched by halving.
    Where sticks at hand are limited the plan stays as it is.
    """
    if any(hand is not None for _, _, hand in stock):
        return best
    own = _sticks_of(alone)
    ranked = [key for key in sorted(own, key=lambda k: best.left_of(k[0], dict(k[1]))) for _ in range(own[key])]
    every = _pieces_of(own)
    low, high, found = 0, len(ranked), best
    while low < high:
        middle = (low + high + 1) // 2
        kept = Counter(ranked[:middle])
        rest = every - _pieces_of(kept)
        others = plan_cuts(list(rest), list(rest.values()), stock, best.kerf, live=True)
        if _cost_of(kept, stock) + others.cost <= best.cost + LEVEL:
            low, found = middle, _of_sticks(best, kept + Counter(_sticks_of([others.patterns])), best.cost)
        else:
            high = middle - 1
    return found


def _sticks_of(plans: Iterable[Patterns]) -> Counter[Stick]:
    """Return how many sticks are cut in each way."""
    times: Counter[Stick] = Counter()
    for patterns in plans:
        for length, content, number in patterns:
            times[length, tuple(sorted(content.items(), reverse=True))] += number
    return times


def _pieces_of(sticks: Mapping[Stick, int]) -> Counter[int]:
    """Return how many of each length some sticks give."""
    found: Counter[int] = Counter()
    for (_, content), number in sticks.items():
        for length, many in content:
            found[length] += many * number
    return found


def _cost_of(sticks: Mapping[Stick, int], stock: Stock) -> float:
    price = {length: worth for length, worth, hand in reversed(stock) if hand is None}
    return sum(price[length] * number for (length, _), number in sticks.items())


def _of_sticks(best: CuttingPlan, sticks: Mapping[Stick, int], cost: float) -> CuttingPlan:
    """Return a plan of other sticks for the same order."""
    merged = tuple((length, dict(content), number) for (length, content), number in sticks.items())
    return replace(
        best, patterns=merged, cost=cost, proven=cost <= best.lower_bound, longest_proven=False,
        from_hand=(0,) * len(merged),
    )  # fmt: skip
