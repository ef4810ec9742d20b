"""Time live plans of hoop houses against the trellis plan and a larger house against a smaller, by part. Run by hand.

python tests/benchmarks/hoop_house.py. Processor time of this process alone, so that other work counts little; the
ratios count, not the milliseconds.
"""

import statistics
import sys
import time

import gardenframe
from gardenframe.builds import HoopHouse, Trellis

PARTS = ("frame", "fittings", "pieces", "coverings", "cutting", "bill", "steps", "working", "loads", "checks")
LONG = {
    "width_m": 3.2, "length_m": 14.6, "wall_m": 0.7, "hoop_spacing_m": 0.8, "door": "both ends", "door_width_m": 1.07,
}  # fmt: skip


def timed(build_type, times=7, **fields):
    """Middle processor time of each part of a live plan, widths a little different each time. [ms]"""
    taken = {part: [] for part in PARTS}
    for i in range(times + 1):
        build = build_type(**fields | {"width_m": fields.get("width_m", build_type().width_m) + i * 0.003})
        plan = gardenframe.plan(build, live=True)
        for part in PARTS:
            start = time.process_time()
            getattr(plan, part)
            if i:
                taken[part].append((time.process_time() - start) * 1e3)
    return {part: statistics.median(values) for part, values in taken.items()}, plan


def main():
    """Print each part, the sum, and the ratio to the trellis."""
    base, _ = timed(Trellis)
    rows = [("trellis", base, None)]
    for name, fields in (("default", {}), ("long", LONG)):
        parts, plan = timed(HoopHouse, **fields)
        rows.append((name, parts, plan))
    for name, parts, plan in rows:
        whole, without = sum(parts.values()), sum(v for k, v in parts.items() if k not in ("loads", "checks"))
        elements = plan.standing.response.mesh.elements if plan else 0
        sys.stdout.write(f"{name}: {elements} elements, {whole:.0f} ms, {without:.0f} without loads and checks; ")
        sys.stdout.write(f"{whole / sum(base.values()):.1f} trellises; ")
        sys.stdout.write(", ".join(f"{key} {value:.1f}" for key, value in parts.items()) + "\n")


if __name__ == "__main__":
    main()
