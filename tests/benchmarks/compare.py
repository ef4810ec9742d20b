"""Time a comparison against one plan with its strength, and twelve variants against a second. Run by hand.

python tests/benchmarks/compare.py. Processor time of this process alone; the ratios count, not the milliseconds.
"""

import statistics
import sys
import time

import gardenframe
from gardenframe.builds import ALL
from gardenframe.studies import compare, varied


def timed(work, times=5):
    """Middle processor time of some work, after one go to warm up. [s]"""
    work()
    taken = []
    for _ in range(times):
        start = time.process_time()
        work()
        taken.append(time.process_time() - start)
    return statistics.median(taken)


def main():
    """Print a plan, twelve variants, all variants and a sweep along a field, and their ratios."""
    build = ALL["trellis"]()
    given = gardenframe.plan(build, live=True)
    ways = [way for way in compare.variants(given) if way.build is not None]
    one = timed(lambda: compare.of_variants(given, ways[:1]))
    twelve = timed(lambda: compare.of_variants(given, ways[:12]))
    every = timed(lambda: compare.of_variants(given, ways))
    along = timed(lambda: varied.varied(given, "height_m"))
    sys.stdout.write(
        f"one {one * 1e3:.0f} ms; 12 variants {twelve * 1e3:.0f} ms, {twelve / one:.1f} times one; "
        f"{len(ways)} variants {every * 1e3:.0f} ms, {every / one:.1f} times; "
        f"along a field {along * 1e3:.0f} ms, {along / one:.1f} times\n"
    )
    for key, kind in ALL.items():
        given = gardenframe.plan(kind(), live=True)
        ways = [way for way in compare.variants(given) if way.build is not None][:12]
        taken = [timed(lambda given=given, ways=ways: compare.of_variants(given, ways), times=1) for _ in range(2)]
        sys.stdout.write(f"{key}: {len(ways)} variants in {min(taken):.2f} to {max(taken):.2f} s of processor time\n")


if __name__ == "__main__":
    main()
