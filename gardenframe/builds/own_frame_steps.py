"""How an own frame is put together and stood up. A plan comes in, steps in order go out."""

from collections import Counter
from collections.abc import Iterator
from typing import Any

from gardenframe.builds.fields import both
from gardenframe.builds.method import BuildStep

DRIVEN = ("stake", "stay stake", "sleeve")


def steps_of(plan: Any, buried_m: float) -> Iterator[BuildStep]:
    """Yield the steps: what is driven is driven before a tube can go over it."""
    yield BuildStep("ground", "Put each flat side together on the ground; measure both diagonals.", "tape", 2, 10)
    yield BuildStep("ground", "Tighten every fitting, then measure the diagonals again.", "as before", 1, 10)
    bases = Counter(support.base for support in plan.frame.supports)
    driven = sum(bases[base] for base in DRIVEN)
    if driven:
        mark, each = ("a place", "what it takes") if driven == 1 else (f"{driven} places", "one at each")
        text = f"Mark {mark} on the ground by the drawing, measured both ways, and drive {each}, {both(buried_m)} deep."
        yield BuildStep("standing", text, "tape, level, sledge hammer", 2, 5 + 5 * driven)
    over = ", over what is driven" if driven else ""
    yield BuildStep("standing", f"Look up for overhead lines, then stand it with two people{over}.", "hands", 2, 5)
    if bases["foot"]:
        yield BuildStep("standing", "Level it by its feet, along and across.", "spirit level", 2, 15)
    if bases.total() > bases["foot"]:
        yield BuildStep("standing", "Plumb every post, then make the feet fast.", "level", 2, 4 + 2 * bases.total())
    yield BuildStep("standing", "Pull at the top as hard as a person can: nothing may lift or turn.", "hands", 2, 5)
