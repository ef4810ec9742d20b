"""Cutting plans measured in one run: how far from the bound, how often proved, and how many times as long as the rule.

Run `python tests/benchmarks/cutting.py`; `python tests/benchmarks/cutting.py class` for class orders alone. Times are
given beside those of first-fit decreasing on the same order in the same run, since only their ratio carries from one
machine to another. Orders are drawn from seeds; triplets and cut-up sticks have an optimum known by construction.
"""

import resource
import statistics
import sys
import time
from collections import Counter

import numpy as np

from gardenframe.costs.cutting import plan_cuts


def first_fit(pieces, stock, kerf):
    """Return (sticks, seconds) of first-fit decreasing, piece by piece."""
    start = time.perf_counter()
    left = np.empty(sum(pieces.values()))
    sticks = 0
    for length in sorted(pieces.elements(), reverse=True):
        fits = np.flatnonzero(left[:sticks] >= length + kerf)
        place = fits[0] if len(fits) else sticks
        if place == sticks:
            left[sticks] = stock + kerf
            sticks += 1
        left[place] -= length + kerf
    return sticks, time.perf_counter() - start


def uniform(number, seed):
    """Return pieces of 20 to 100 for a stick of 150."""
    return Counter(np.random.default_rng(seed).integers(20, 101, number).tolist())


def triplets(number, seed):
    """Return pieces of which three and three fill a stick of 1000."""
    draw = np.random.default_rng(seed)
    pieces = Counter()
    for _ in range(number // 3):
        first = int(draw.integers(380, 491))
        second = int(draw.integers(250, (1000 - first) // 2 + 1))
        pieces.update((first, second, 1000 - first - second))
    return pieces


def build(seed, number=60, distinct=12):
    """Return the pieces of one build: 12 lengths in mm, 5 of each."""
    lengths = np.random.default_rng(seed).choice(np.arange(200, 2500), distinct, replace=False)
    return Counter({int(length): number // distinct for length in lengths})


def class_order(people, seed, distinct=300):
    """Return the pieces of a class: 30 pieces each on average, of about 300 lengths in mm."""
    draw = np.random.default_rng(seed)
    lengths = draw.choice(np.arange(150, 2900), distinct, replace=False)
    shares = draw.dirichlet(np.ones(distinct))
    return Counter(
        dict(zip(lengths.tolist(), np.maximum(1, draw.multinomial(30 * people, shares)).tolist(), strict=True))
    )


def series(name, orders, stock, kerf=0, **options):
    """Print one line for a series of orders."""
    times, ratios, gaps, proved, saved = [], [], [], 0, 0
    for pieces in orders:
        rule, rule_s = first_fit(pieces, stock, kerf)
        start = time.perf_counter()
        plan = plan_cuts(list(pieces), list(pieces.values()), stock, kerf, **options)
        times.append(time.perf_counter() - start)
        ratios.append(times[-1] / rule_s)
        gaps.append(100 * (plan.cost - plan.lower_bound) / plan.lower_bound)
        proved += plan.proven
        saved += rule - plan.sticks
    print(
        f"{name:<34} proved {proved:>2}/{len(times):<2}  gap mean {statistics.mean(gaps):.3f} % most {max(gaps):.3f} %"
        f"  sticks saved on the rule {saved:>3}  time median {statistics.median(times):8.4f} s most {max(times):7.3f} s"
        f"  = {statistics.median(ratios):8.1f} x the rule",
        flush=True,
    )


def main():
    """Print every series, then the most memory used."""
    plan_cuts([3], [4], 10)
    if "class" not in sys.argv:
        series("a build, 60 of 12 lengths, live", (build(s) for s in range(20)), 3048, 1, live=True)
        series("a build, 60 of 12 lengths, at rest", (build(s) for s in range(20)), 3048, 1)
        series("120 of 20..100 on 150", (uniform(120, s) for s in range(20)), 150)
        series("500 of 20..100 on 150", (uniform(500, s) for s in range(5)), 150)
        series("triplets of 60", (triplets(60, s) for s in range(20)), 1000)
        series("triplets of 120", (triplets(120, s) for s in range(10)), 1000)
    for people in (10, 30, 100, 300, 1000):
        series(f"class of {people}, 300 lengths", [class_order(people, 1)], 3048, 1, time_limit_s=18)
    kinds = [(3048, 12.5, None), (6096, 24, None), (2000, 0, 50)]
    pieces = class_order(300, 1)
    start = time.perf_counter()
    plan = plan_cuts(list(pieces), list(pieces.values()), kinds, 1, 18)
    gap = 100 * (plan.cost - plan.lower_bound) / plan.lower_bound
    print(f"class of 300, three kinds of stick: gap {gap:.3f} %, {time.perf_counter() - start:.2f} s")
    print(f"most memory: {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1e6:.2f} GB")


if __name__ == "__main__":
    main()
