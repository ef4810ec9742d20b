"""How a shade frame is put together, step by step, and what its cloth is tied together with.

A plan of a shade frame comes in; steps and needs go out. Minutes are common practice, no source.
"""

import math
from collections.abc import Iterator
from typing import Any

from gardenframe.builds import shade_frame_wires
from gardenframe.builds.method import BuildStep
from gardenframe.costs.bill import Need

LAP_TIE_M = 0.20  # between the ties of a lap, where no fixing spacing is asked for
TIE = "tie-200"
STOOD = {  # base -> what is done before posts come, with what, and where they are stood
    "sleeves": ("Drive the {} sleeves plumb, by the pairs laid out beside their places.", "sledge hammer, level",
                "in their sleeves"),
    "stakes": ("Drive the {} stakes plumb, by the pairs laid out beside their places.", "sledge hammer, level",
               "over their stakes"),
    "timber bed": ("", "", "inside the bed"),
}  # fmt: skip


def lap_ties(plan: Any) -> int:
    """Return how many ties hold strips of cloth together along their laps."""
    laps: float = sum((len(one.strips.strips) - 1) * one.strips.strips[0].length_m for one in plan.covered)
    apart: float = LAP_TIE_M if plan.build.form == "wires" else plan.build.fixing_spacing_m
    return math.ceil(laps / apart - 1e-9)


def needs(plan: Any) -> Iterator[Need]:
    """Yield the ties of laps."""
    if number := lap_ties(plan):
        yield Need(item=TIE, number=number, group="covering", note="laps of the cloth", spare=True)


def steps(plan: Any) -> Iterator[BuildStep]:
    """Yield how it is put together and stood, then covered."""
    build, posts = plan.build, 2 * (plan.build.bays + 1)
    parts = ["its tie", *(["its king post"] if build.form == "pitched" else [])]
    ends = "; the end pairs get their braces across" if build.braces else ""
    yield BuildStep(
        "ground", f"Put each pair of posts together flat on the ground with {' and '.join(parts)}{ends}.",
        "hex key, tape", 2, 12 * (build.bays + 1),
    )  # fmt: skip
    text, tool, where = STOOD[build.base]
    if text:
        yield BuildStep("standing", text.format(posts), tool, 2, 6 * posts)
    rails = "the rails and the ridge" if build.form == "pitched" else "the rails"
    along = " and the braces along them" if build.braces else ""
    yield BuildStep(
        "standing", f"Stand the pairs {where}, prop them, put on {rails}{along}; measure both diagonals in plan.",
        "tape, props", 3, 10 + 8 * build.bays,
    )  # fmt: skip
    if build.form != "wires":
        number = sum(run.role == "rafter" for run in plan.frame.runs.values())
        yield BuildStep(
            "standing", f"Lay the {number} rafters over the rails from a stepladder and tighten their couplers.",
            "stepladder, spanner", 2, 5 * number,
        )  # fmt: skip
    strapped = "; screw a strap round each post at both marks" if build.base == "timber bed" else ""
    yield BuildStep(
        "standing", f"Check posts plumb and rails level, then tighten every fitting{strapped}.",
        "level, drill" if strapped else "level", 1, 15 + (4 * posts if strapped else 0),
    )  # fmt: skip
    yield from _laps(plan)
    if build.form == "wires":
        yield from shade_frame_wires.steps(build)
    else:
        ties = sum(covered.fixings for covered in plan.covered)
        yield BuildStep(
            "after", f"In still air lay the cloth over the rafters, pull it flat and tie it at {ties} places, "
            "corners first.", "stepladder, side cutters", 2, 15 + 0.4 * ties,
        )  # fmt: skip


def _laps(plan: Any) -> Iterator[BuildStep]:
    if number := lap_ties(plan):
        strips = sum(len(one.strips.strips) for one in plan.covered)
        text = f"Lay the {strips} strips of cloth side by side, lapped, and tie their laps at {number} places."
        yield BuildStep("after", text, "shears, side cutters", 2, 10 + 0.4 * number)
