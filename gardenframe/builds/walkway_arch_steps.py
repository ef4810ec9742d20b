"""How the frames of a walkway arch are put together and stood, in order. A build comes in, steps go out."""

import math
from collections.abc import Iterator
from typing import Any

from gardenframe import units
from gardenframe.builds.method import BuildStep

DRIVE_STEPS = {  # what is driven before the frames stand: step, tool, how a frame then meets it
    "stakes": ("Drive the stakes at the marks, upright.", "sledge hammer, level", ", legs over the stakes,"),
    "sleeves": ("Drive the sleeves at the marks, upright.", "sledge hammer, level", ", legs in the sleeves,"),
}
HOLD_STEPS = {  # what holds a leg once it is plumb: step, tool
    "timber bed": ("Screw two straps round each leg, at both marks on the boards.", "drill, driver"),
    "tube bed": ("Couple each leg to both rails of its bed and tighten.", "hex key"),
    "sleeves": ("Tighten the sleeves.", "hex key"),
}


def steps_of(build: Any) -> Iterator[BuildStep]:
    """Yield the steps from pieces to an arch that stands."""
    yield BuildStep(
        "ground", f"Put the {build.frames} frames together flat on the ground, each like the first.",
        "the first frame",
        2, 10 * build.frames,
    )  # fmt: skip
    yield BuildStep("ground", f"Set out the feet: {_diagonals(build)}.", "tape, line, pegs", 2, 15)
    yield from _standing(build)
    more = build.roof_purlins + 2 * (build.side_rails - 1)
    braced = " and the two wind braces" if build.braces else ""
    yield BuildStep(
        "standing", f"Fix the other {more} tubes along the path{braced} from a held stepladder.", "stepladder", 2,
        8 * (more + 2 * build.braces),
    )  # fmt: skip
    yield BuildStep("standing", "Pull at the top as hard as a person can: nothing may lift or turn.", "hands", 2, 5)


def _diagonals(build: Any) -> str:
    """Return what the two diagonals between the outer feet measure, from middle to middle of the legs."""
    across = build.room.right_x - build.room.left_x
    long, short = (_told(math.hypot(across, build.length_m + way * abs(build.shift_m))) for way in (1, -1))
    if not build.shift_m:
        return f"both diagonals across the path measure {long} from middle to middle of the legs"
    farther = "front left" if build.shift_m > 0 else "far left"
    return f"the frames stand askew, so that from the {farther} foot the diagonal is {long}, the other one {short}"


def _told(length_m: float) -> str:
    return f"{units.write(length_m, 'length', 'metric')} ({units.write(length_m, 'length', 'us')})"


def _standing(build: Any) -> Iterator[BuildStep]:
    """Yield how the frames are stood: what is driven comes first, what holds a plumb leg last."""
    feet, only_two = 2 * build.frames, build.frames == 2
    drive, tool, how = DRIVE_STEPS.get(build.base, ("", "", ""))
    if drive:
        yield BuildStep("standing", drive, tool, 2, 4 * feet)
    frames = "the two frames" if only_two else "the first and the last frame"
    yield BuildStep(
        "standing", f"Look up for overhead lines, then stand {frames} with two people{how} and prop them.",
        "two people", 2, 10,
    )  # fmt: skip
    between = "" if only_two else ", then stand the frames between"
    yield BuildStep("standing", f"Fix the low rails, plumb the legs{between}.", "level", 2, 8 * build.frames)
    if build.base in HOLD_STEPS:
        text, tool = HOLD_STEPS[build.base]
        yield BuildStep("standing", text, tool, 2, (2 if drive else 6) * feet)
