"""A class order of 10 to 1,000 people measured in one run: planning, cutting, sorting, memory, distance from the bound.

Run `python tests/benchmarks/class_order.py`, or with the numbers of people. Each person's build is drawn from a seed:
a type, then every length that comes first, so that hardly two people build the same. Seconds carry to no other
machine; the ratios beside them do: time for each piece against a class of ten.
"""

import random
import resource
import sys
import time
from collections import Counter

import numpy as np

from gardenframe import builds
from gardenframe.errors import GardenframeError
from gardenframe.studies.class_order import order
from gardenframe.studies.class_order_reading import Entry, Listed

# about 30 pieces a person
MIX = {"trellis": 3, "walkway_arch": 3, "cold_frame": 3, "raised_bed": 2, "shade_frame": 2, "hoop_house": 8}


def drawn(draw, kind):
    """Return a build with its first lengths taken at random between half and one and a half of their usual."""
    while True:
        values = {}
        for field in kind.fields():
            if field.first and field.kind == "length":
                low, high = max(field.low, 0.5 * field.default), min(field.high, 1.5 * field.default)
                values[field.key] = round(draw.uniform(low, high), 3)
        try:
            return kind(**values)
        except GardenframeError:
            continue


def class_of(people, seed=1):
    """Return the list of a class."""
    draw = random.Random(seed)  # noqa: S311 - nothing here is secret
    kinds = draw.choices(list(MIX), weights=list(MIX.values()), k=people)
    return Listed(
        name="class",
        entries=tuple(
            Entry(line=n, alias=f"gardener {n}", build=drawn(draw, builds.ALL[key])) for n, key in enumerate(kinds, 2)
        ),
        problems=(),
    )


def first_fit(pieces, stock, kerf):
    """Return the sticks that first-fit decreasing needs, piece by piece, written for this measurement."""
    left = np.empty(sum(pieces.values()))
    sticks = 0
    for length in sorted(pieces.elements(), reverse=True):
        fits = np.flatnonzero(left[:sticks] >= length + kerf)
        place = fits[0] if len(fits) else sticks
        if place == sticks:
            left[sticks] = stock + kerf
            sticks += 1
        left[place] -= length + kerf
    return sticks


def measured(people, base=None):
    """Print one class and return the seconds that it took for each piece."""
    listed = class_of(people)
    start, busy = time.perf_counter(), time.process_time()
    made = order(listed)
    ordered, busy = time.perf_counter() - start, time.process_time() - busy
    start = time.perf_counter()
    sheets = made.sheets
    sorted_s = time.perf_counter() - start
    rule = 0
    for member, plan in made.cutting.items():
        counts = Counter()
        for kit in made.kits:
            counts.update({p.cut: 0 for p in kit.pieces if p.member == member})
            for piece in kit.pieces:
                if piece.member == member:
                    counts[piece.cut] += piece.count
        (stock,) = {length for length, _, _ in plan.patterns}  # one length of stick is sold of each here
        rule += first_fit(counts, stock, plan.kerf)
    kept = made.saving / made.alone
    worst = max((p.cost - p.lower_bound) / p.lower_bound for p in made.cutting.values() if p.cost)
    gap = sum(p.cost for p in made.cutting.values()) / sum(p.lower_bound for p in made.cutting.values()) - 1
    each = (ordered + sorted_s) / made.pieces
    on_sticks = sum(len(stick.kits) for sheet in sheets.values() for stick in sheet)
    print(
        f"{people:>5} people {made.pieces:>6} pieces {made.sticks:>5} sticks (rule {rule}, alone "
        f"{sum(kit.sticks_alone for kit in made.kits)})  gap {100 * gap:.3f} %, worst member {100 * worst:.3f} %  "
        f"{ordered + sorted_s:6.2f} s = plan {made.seconds['planning']:.2f} + cut {made.seconds['cutting']:.2f} + "
        f"sort {sorted_s:.2f} ({busy:.1f} s of one core)  a piece {each / (base or each):.2f} x  "
        f"saves {100 * kept:.1f} %  kits a stick {on_sticks / made.sticks:.2f}  "
        f"most memory {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1e6:.2f} GB",
        flush=True,
    )
    return each


def main():
    """Print a line for each size of class."""
    sizes = [int(word) for word in sys.argv[1:]] or [10, 30, 100, 300, 1000]
    base = None
    for people in sizes:
        each = measured(people, base)
        base = base or each


if __name__ == "__main__":
    main()
