"""How an enclosure is put together, step by step, and the cautions that go with the choices made for it.

A plan of an enclosure comes in; steps go out in the order of the work. Minutes are common practice, no source.
"""

import math
from collections.abc import Iterator
from typing import Any

from gardenframe import units
from gardenframe.builds import enclosure_goods
from gardenframe.builds.enclosure_gate import gates_of
from gardenframe.builds.enclosure_laid import THRESHOLD_M
from gardenframe.builds.feet import DRIVEN
from gardenframe.builds.fields import both
from gardenframe.builds.method import BuildStep
from gardenframe.materials.coverings import load_coverings

DUG_MINUTES_PER_M3 = 60.0  # out and in again
TRENCH_MINUTES, TRENCH_MINUTES_PER_M = 5.0, 40.0  # on a metre of wall: at once, and by depth
APRON_UNDER_M = 0.05


def to_the_mark(length_m: float) -> str:
    """Return a length as a tape shows it, in both unit systems: `both` is too coarse to set out by.

    >>> to_the_mark(2.1693)
    '2169 mm (7 ft 1 3/8 in)'
    """
    metric, us = (units.write(length_m, "length", system) for system in units.SYSTEMS)
    return f"{metric} ({us})"


def steps(plan: Any) -> Iterator[BuildStep]:
    """Yield how the cage is stood, its gates or lids hung and its skirt laid."""
    build = plan.build
    yield BuildStep(
        "ground", "Peg out the four corners; move one until both diagonals are equal.", "tape, line, pegs", 2, 20
    )
    yield from _floor(build)
    yield from _leaves_made(plan)
    yield from _stood(plan)
    yield from _leaves_hung(plan)
    yield from _skirt(build)
    if build.overhang_m:
        text = f"Tie the strip of the top to the top rails and bend it outwards at 45°, {both(build.overhang_m)} wide."
        yield BuildStep("after", text, "stepladder, gloves", 2, 10 * (build.width_m + build.depth_m))


def _floor(build: Any) -> Iterator[BuildStep]:
    """Yield the mesh floor: it comes before all that stands on it."""
    if not build.floor:
        return
    area = build.width_m * build.depth_m
    if not build.floor_down_m:
        text = "Lay the mesh floor before the bed is set on it, strips overlapped and tied, its edges under the boards."
        yield BuildStep("ground", text, "gloves, pliers", 2, 20 + 5 * area)
        return
    meets = abs(build.buried_mesh_m - build.floor_down_m) < 1e-9 and not build.apron_m
    text = f"Dig out all of it {both(build.floor_down_m)} deep and lay the mesh floor, strips overlapped and tied; "
    text += "stand the skirt round its edge and tie the two together; fill in." if meets else "fill in."
    yield BuildStep("ground", text, "spade, gloves", 2, 20 + DUG_MINUTES_PER_M3 * area * build.floor_down_m)


def _leaves_made(plan: Any) -> Iterator[BuildStep]:
    build, leaves = plan.build, gates_of(plan)
    alike: dict[str, list[str]] = {}
    for gate in leaves:
        alike.setdefault(to_the_mark(math.hypot(gate.width_m, gate.tall_m)), []).append(gate.part.key)
    for square, keys in alike.items():
        what = f"the {keys[0]}" if build.gated else "the lid"
        each = "both diagonals"
        if len(keys) > 1:
            what, each = (f"the {' and the '.join(keys)}" if build.gated else f"the {len(keys)} lids"), "all diagonals"
        text = f"Make {what} flat on the ground; {each}, axis to axis, are {square}."
        yield BuildStep("ground", text, "tape", 2, 20 * len(keys))


def _stood(plan: Any) -> Iterator[BuildStep]:
    build = plan.build
    posts = sum(1 for run in plan.frame.runs.values() if run.role == "post")
    yield BuildStep("standing", *_feet(build), 2, 6 * posts)
    yield BuildStep(
        "standing", "Put on the low and the top rails, corner to corner; plumb every post.", "level", 2, 20 + 4 * posts
    )
    between = [run for run in plan.frame.runs.values() if " mid " in run.key or run.role == "header"]
    if between:
        what = "the rails between and the headers" if len({run.role for run in between}) > 1 else (
            "the headers" if between[0].role == "header" else "the rails between")  # fmt: skip
        yield BuildStep("standing", f"Put on {what}.", "level", 2, 3 * len(between))
    over = [run for run in plan.frame.runs.values() if run.key.startswith(("tie ", "long tie "))]
    tool, held = ("stepladder", " from a held stepladder") if build.size == "walk-in" else ("level", "")
    if over:
        yield BuildStep("standing", f"Put on the tubes overhead{held}.", tool, 2, 10 + 5 * len(over))
    if build.gabled:
        number = sum(1 for run in plan.frame.runs.values() if run.role == "rafter")
        text = f"Put on the {number} rafters in pairs, then the purlins from end to end{held}."
        yield BuildStep("standing", text, tool, 2, 10 * number)


def _feet(build: Any) -> tuple[str, str]:
    return {
        "timber bed": ("Set the posts inside the bed; screw a strap round each at both marks.", "drill, straps"),
        **DRIVEN,
        "sill holes": (
            f"Screw the sill's timbers together at its corners, drill every hole {to_the_mark(build.hole_m)} deep, pin "
            f"the sill down, drop the posts in{' and screw a strap round each' if build.strapped else ''}.",
            "drill, spade bit with its depth marked, sledge hammer",
        ),
        "bed rails": ("Couple the posts to both rails of the bed.", "hex key"),
    }[build.base]


def _leaves_hung(plan: Any) -> Iterator[BuildStep]:
    build, leaves = plan.build, gates_of(plan)
    if not build.gated:
        yield from _lids_put_on(build)
        return
    if enclosure_goods.has_board(build):
        what = "the board under the gate" if len(leaves) == 1 else "a board under each gate"
        text = f"Dig in {what} on edge, its ends past the posts, its top {to_the_mark(THRESHOLD_M)} over the ground."
        yield BuildStep("standing", text, "spade, level", 1, 15 * len(leaves))
    which = f"the {build.moving}" if len(leaves) == 1 else f"each {build.moving}"
    then = "then the lower" if build.hinges == 2 else "then the others"
    yield BuildStep(
        "standing", f"Hang {which} on its upper hinge, {then}, on blocks as high as the gap; fix latch, and the chain "
        f"that stops it at {build.opened_deg:.0f}° and holds it open.", "hinges, blocks, drill", 2, 25 * len(leaves),
    )  # fmt: skip
    if build.strips:
        number = len(enclosure_goods.battens_m(plan, leaves))
        text = f"Cut {number} battens and screw them to the frame, over the gaps round {which}, on the side it shuts "
        yield BuildStep("standing", text + "against.", "saw, driver", 1, 5 * number)


def _lids_put_on(build: Any) -> Iterator[BuildStep]:
    which = "the lid" if build.lids == 1 else "each lid"
    if build.lid == "hinged":
        text = (
            f"Lay {which} on the top rails, fix its hinges to the back rail and its latches to the front one, then the "
            f"chain that stops it at {build.opened_deg:.0f}°"
            f"{'; its prop, notched, holds it there' if enclosure_goods.propped(build) else ''}."
        )
    else:
        text = f"Lay {which} on the top rails and fix its latches, two to the back rail and two to the front one."
    yield BuildStep("standing", text, "hinges, drill" if build.lid == "hinged" else "drill", 2, 20 * build.lids)


def _skirt(build: Any) -> Iterator[BuildStep]:
    """Yield the skirt, unless it stands round a mesh floor already."""
    down, out, around = build.buried_mesh_m, build.apron_m, 2 * (build.width_m + build.depth_m)
    at_the_floor = build.floor_down_m and abs(down - build.floor_down_m) < 1e-9
    if not (down or out) or (at_the_floor and not out):
        return
    deep = max(down, APRON_UNDER_M)
    wide = f" and {both(out)} wide" if out else ""
    text = f"Dig a trench {both(deep)} deep{wide} along the outside of the walls"
    if down:
        text += ", stand the skirt in it" + (", bend its foot outwards" if out else "")
    else:
        text += ", lay the skirt in it outwards"
    text += ", pin it with staples and fill in; its top edge is tied to the mesh of the walls."
    minutes = around * (TRENCH_MINUTES + TRENCH_MINUTES_PER_M * (deep + (0.5 * out if out else 0.0)))
    yield BuildStep("after", text, "spade, gloves", 2, minutes)


def caution_tags(build: Any) -> Iterator[str]:
    """Yield tags of the cautions that go with the choices."""
    yield from ("enclosure", "covering", "sharp_mesh", "wildlife", "children", "climbing")
    if not build.gated:
        yield "lid"
    if build.size == "walk-in":
        yield from ("gate", "walk_in", "overhead", "ladder")
    if build.roofed:
        yield from ("net_overhead", "snow_on_covering")
    if build.buried_mesh_m or build.apron_m or build.floor_down_m:
        yield "digging"
    yield "bed" if build.soil_m else "ground"
    if build.base in ("stakes", "sill holes"):
        yield "stakes"
    for key in {build.mesh, build.roof_mesh} - {"auto"}:
        yield from load_coverings()[key].tags
