"""How a hoop house is put together, stood up and covered, in order. Minutes are common practice, no source."""

from collections.abc import Iterator
from typing import Any

from gardenframe.builds import hoop_house_goods
from gardenframe.builds.method import BuildStep, fixed_with

GROUND = {  # base -> what is done before anything stands, with which tools
    "sleeves": (
        "Drive the sleeves at the marks, all to one height and at the slope of the legs.", "sledge hammer, level",
    ),
    "stakes": ("Drive the stakes at the marks, at the slope of the legs.", "sledge hammer, level"),
    "timber bed": ("Mark the place of each leg inside the boards.", "tape, pencil"),
}  # fmt: skip


def steps(build: Any, plan: Any) -> Iterator[BuildStep]:
    """Yield how it is put together and stood up."""
    roles = [run.role for run in plan.frame.runs.values()]
    number = sum(role in ("hoop", "post") for role in roles)
    held = sum(s.base in ("strap", "stake", "sleeve") for s in plan.frame.supports)
    yield BuildStep(
        "ground", "Set out the base with string: both diagonals equal, both sides straight.", "string", 2, 20
    )
    yield BuildStep("ground", *GROUND[build.base], 2, 2 * number if build.base == "timber bed" else 5 * held)
    across = "frames of posts and rafters" if build.form == "gable" else "hoops"
    yield BuildStep(
        "standing",
        f"Look up for overhead lines; stand the end {across} first, the rest along a string at the top.",
        "two people, string",
        2,
        3 * number,
    )
    if build.base == "timber bed":
        text = "Screw a strap round each leg at both marks, two lag screws each."
        yield BuildStep("standing", text, "drill, lag screws, straps", 2, 5 * held)
    text = "Fix the ridge" + (", then the purlins from the bottom up" if "purlin" in roles else "")
    text += ", measuring every bay" + ("; then the braces." if build.braces else ".")
    yield BuildStep(
        "standing", text, "stepladder, driver", 2, 4 * sum(f.fitting.endswith("coupler") for f in plan.fitted)
    )
    if build.end_walls:
        yield BuildStep("standing", "Stand the studs of the end walls.", "level, driver", 2, 20)
    if doors := hoop_house_goods.doors_of(build):
        text = "Halve and screw stiles, rails and braces to a leaf, a brace rising from each hinge; hang it."
        yield BuildStep("standing", text, "saw, square, driver, level", 2, 60 * doors)
    if hoop_house_goods.has_boards(build):
        text = "Set the base boards along both sides, battens ready to screw the covering's lower edge to."
        yield BuildStep("standing", text, "driver", 2, 10 + 4 * build.length_m)
    yield BuildStep("standing", "Tape every coupler and tube end that the covering could rub on.", "tape", 1, 15)
    yield from _covered(build, plan)


def _covered(build: Any, plan: Any) -> Iterator[BuildStep]:
    """Yield how the covering goes over, is fixed, and is clipped to what winds it up."""
    yield BuildStep(
        "after", "Wait for still air; carry the covering over, its middle on the ridge, one at each corner.",
        "four people", 4, 10 + 2 * build.length_m,
    )  # fmt: skip
    fixings = sum(covered.fixings for covered in plan.covered)
    text = f"Pull it flat along the ridge, then down both sides; fix it at {fixings} places"
    text += ", the end walls last." if build.end_walls else "."
    yield BuildStep("after", text, ", ".join(("shears", *fixed_with(plan.covered))), 2, 15 + 0.4 * fixings)
    if build.roll_up:
        text = "Clip each side's lower edge to its roll-up tube; wind it up and down once over its whole length."
        yield BuildStep("after", text, "clips", 2, 15 + 2 * build.length_m)
