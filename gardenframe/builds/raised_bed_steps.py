"""How a raised bed is put together and filled, in order. A plan comes in, steps go out."""

from collections.abc import Iterator
from typing import Any

from gardenframe.builds.method import TOOLS, BuildStep
from gardenframe.builds.raised_bed_checks import shape_of
from gardenframe.builds.raised_bed_laid import MESH
from gardenframe.builds.raised_bed_soil import filling_of
from gardenframe.units import FOOT_M, INCH_M

WALLS = {  # wall -> how it is cut, tool; how it is fixed, tool
    "steel": (
        "Cut {} pieces of sheet for the walls, and file or fold every edge.", "tin snips, file, gloves",
        "Screw the walls inside the tubes, so that the soil presses them on: {} places.", "driver",
    ),
    "boards": (
        "Saw {} pieces of board for the walls; rip the topmost where they would stand above the rim.", "saw, square",
        "Screw the walls inside the tubes, so that the soil presses them on: {} places.", "driver",
    ),
    "fabric": (
        "Cut {} pieces of fabric, each with enough to fold over its rails.", "knife",
        "Tie the fabric round the rails, its foot turned in under the soil: {} places.", "side cutters",
    ),
}  # fmt: skip


def steps_of(plan: Any) -> Iterator[BuildStep]:
    """Yield the steps from pieces to a bed that is full."""
    build = plan.build
    if build.under != "soil":
        yield BuildStep("ground", "Sweep the place and see which way water runs off it.", "broom", 1, 10)
    elif build.form == "ground":
        yield BuildStep("ground", "Cut the turf away and level the place: a level bed waters evenly.", "spade", 1, 60)
    yield from _frame(plan)
    yield from _walls(plan)
    yield from _soil(plan)


def _frame(plan: Any) -> Iterator[BuildStep]:
    """Yield how the frame is put together and stood."""
    build, shape = plan.build, shape_of(plan)
    roles = {run.role for run in plan.frame.runs.values()}
    then = ["the ends", *(name for role, name in (("tie", "ties"), ("shelf rail", "bearers")) if role in roles)]
    joined = f"{', '.join(then[:-1])} and {then[-1]}" if then[1:] else then[0]
    braced = ", then the knee braces" if "brace" in roles else ""
    yield BuildStep(
        "ground", f"Put the two long sides together flat, then {joined}{braced}.", TOOLS[plan.frame.joining], 2, 30
    )
    yield BuildStep("standing", "Measure both diagonals of the top; push until they are equal.", "tape", 2, 10)
    mesh = sum(covered.fixings for covered in plan.covered if covered.covering == MESH)
    if mesh:
        text = (
            f"Turn the frame over, tie the mesh under its lowest rails at {mesh} places, edges turned up; turn it back."
        )
        yield BuildStep("standing", text, "gloves, pliers", 2, 15 + 0.4 * mesh)
    legs = 2 * (build.bays + 1)
    if shape.on_legs and build.held and build.under == "soil":
        text = f"Drive a stake at the place of each of the {legs} legs, upright, and stand the legs over them."
        yield BuildStep("standing", text, "sledge hammer, level", 2, 5 * legs)
    yield BuildStep("standing", "Level the rim both ways; pack under the low corners.", "level", 2, 15)
    if shape.on_legs and build.held and build.under != "soil":
        yield BuildStep("standing", f"Screw the {legs} feet down.", "driver", 1, 4 * legs)


def _walls(plan: Any) -> Iterator[BuildStep]:
    """Yield how floor, walls and lining go in."""
    build, shape = plan.build, shape_of(plan)
    cut, saw, fix, tool = WALLS[build.wall.partition("-")[0]]
    floor = [covered for covered in plan.covered if covered.panel.startswith("floor") and covered.covering != MESH]
    walls = [covered for covered in plan.covered if not covered.panel.startswith("floor")]
    if floor:
        places, boards = (sum(values) for values in zip(*((one.fixings, len(one.strips.strips)) for one in floor)))
        text = (
            f"Saw {boards} boards for the floor and screw them to the tubes below at {places} places, a finger apart."
        )
        yield BuildStep("standing", text, "saw, driver", 2, 15 + 4 * boards + 0.4 * places)
    pieces, places = sum(len(one.strips.strips) for one in walls), sum(one.fixings for one in walls)
    yield BuildStep("standing", cut.format(pieces), saw, 1, 10 + 4 * pieces)
    yield BuildStep("standing", fix.format(places), tool, 2, 15 + 0.4 * places)
    if not floor and build.under != "soil":
        text = "See that water gets out: leave a gap of a finger at the foot of the walls, or drill drains."
        yield BuildStep("standing", text, "drill", 1, 20)
    if build.lining and build.wall != "fabric":
        what = "walls and floor" if shape.on_legs or build.under != "soil" else "the walls"
        text = f"Line {what} with fabric, folded in the corners, its edge under the washers of the top screws."
        yield BuildStep("standing", text, "knife, driver", 1, 20)


def _soil(plan: Any) -> Iterator[BuildStep]:
    """Yield how it is filled, and topped up later."""
    build, shape = plan.build, shape_of(plan)
    filling = filling_of(build, shape)
    if filling.gravel_m3:
        text = f"Spread the gravel, {build.gravel_m * 1000:.0f} mm ({build.gravel_m / INCH_M:.1f} in) deep."
        yield BuildStep("after", text, "barrow, rake", 2, 10 + 60 * filling.gravel_m3)
    loose = sum(filling.bought_m3.values())
    yield BuildStep(
        "after", f"Fill in layers of 150 mm (6 in), each mixed and watered: {loose:.2f} m³ "
        f"({_cubic_feet(loose, 0)}) loose. Fill both ends evenly.",
        "barrow, shovel, hose", 2, 30 + 60 * loose,
    )  # fmt: skip
    yield BuildStep("after", "After a week of watering look along the rails for bulges; top up.", "eyes", 1, 10)
    if filling.drop_m > 0:
        long, wide = shape.clear_m
        litres = filling.drop_m * long * wide * 1000
        yield BuildStep(
            "after", f"Every spring top up about {filling.drop_m * 1000:.0f} mm ({filling.drop_m / INCH_M:.1f} in) of "
            f"compost, {litres:.0f} L ({_cubic_feet(litres / 1000, 1)}): it rots.",
            "barrow, shovel", 1, 10 + 0.06 * litres,
        )  # fmt: skip


def _cubic_feet(volume_m3: float, digits: int) -> str:
    told = f"{volume_m3 / FOOT_M**3:.{digits}f}"
    return f"{told} cubic {'foot' if float(told) == 1 else 'feet'}"
