"""Steps of building, in order: each with its tool, how many people and how many minutes.

Minutes are common practice, no source. The steps of making pieces are the same for every build; a build adds how it
is put together and stood up.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from gardenframe.builds.fields import both
from gardenframe.materials.coverings import load_coverings
from gardenframe.materials.fixings import load_fixings


@dataclass(frozen=True, slots=True)
class BuildStep:
    """One step of the work."""

    stage: str  # shop, bench, ground, standing, after
    step: str
    tool: str
    people: int
    minutes: float


MINUTES_A_CUT = {"wheel cutter": 1.5, "hacksaw": 3.0, "chop saw": 1.0}
MINUTES_A_BOARD = 4.0
TRIMMED_M = 0.003  # what is cut longer than this is cut long for its bender
STIFF = ("boards", "twin_wall", "glass")  # kinds of covering that are not rolled
FIXED_WITH = {  # what a covering is fixed with -> the tool
    "cable_tie": "side cutters",
    "tie_wire": "pliers",
    "twine": "knife",
    "spring_clip": "spring clips",
    "self_drilling_screw": "driver",
    "wood_screw": "driver",
}
TOOLS = {  # joining -> what tightens it
    "clamp-on": "hex key or screwdriver",
    "slip-on": "screwdriver for the set screws",
    "bolted": "drill, 6.5 mm bit, two spanners",
}


def making(plan: Any) -> Iterator[BuildStep]:
    """Yield the steps from the shop to labelled pieces."""
    shop = plan.shop
    round_ = {key for key in plan.cutting if shop.member(key).shape == "tube"}
    pieces = sum(piece.count for piece in plan.cut if piece.member in round_)
    sawn = sum(piece.count for piece in plan.cut) - pieces
    sticks = sum(cutting.sticks for key, cutting in plan.cutting.items() if key in round_)
    fittings = sum(fitted.count for fitted in plan.fitted if fitted.key)
    if shop.carried_mm is not None:
        longest = both(shop.carried_mm / 1000)
        text = f"Have every stick cut to at most {longest}, by the cutting plan: these cuts come first."
        yield BuildStep("shop", text, "the shop's saw", 1, 3.0 * sticks)
    yield BuildStep(
        "shop", f"Check the {sticks} sticks: roll each on a flat floor, leave bent or dented ones.", "eyes", 1, sticks
    )
    yield BuildStep(
        "bench",
        "Measure one fitting of each kind, cut one joint, put it together, compare it with the sheet; then the rest.",
        "tape, one of each fitting",
        1,
        15,
    )
    yield BuildStep(
        "bench", f"Mark {pieces} pieces with their letters, longest first.", "tape, marker, square", 1, pieces * 0.75
    )
    yield BuildStep(
        "bench",
        "Clamp each stick and cut; gloves and eye protection on.",
        shop.cutter,
        1,
        pieces * MINUTES_A_CUT[shop.cutter],
    )
    yield BuildStep(
        "bench", "Ream every cut until a finger glove slides over it.", "reamer or half-round file", 1, pieces
    )
    zinc = sum(piece.count for piece in plan.cut if shop.member(piece.member).family == "emt")
    if zinc:
        text = f"Paint every bare cut{' of steel' if zinc < pieces else ''} with zinc-rich paint; let it dry."
        yield BuildStep("bench", text, "brush", 1, zinc * 0.5)
    if sawn:
        what = "the one piece of timber" if sawn == 1 else f"{sawn} pieces of timber"
        text = f"Mark and saw {what} by the cut list; break the edges."
        yield BuildStep("bench", text, "square, saw, plane", 1, sawn * MINUTES_A_BOARD)
    bent = [piece for piece in plan.cut if piece.bends]
    if bent:
        number = sum(piece.count for piece in bent)
        trimmed = any(piece.cut_m - piece.length_m > TRIMMED_M for piece in bent)
        again = " Trim, then ream and paint the trimmed ends." if trimmed else ""
        many = f"{number} pieces by their bend sheets" if number > 1 else "the piece by its bend sheet"
        text = f"Bend {many}; check the first on the drawn arc, then the rest.{again}"
        yield BuildStep("bench", text, "bender or jig, chalk", 2, 6.0 * sum(p.count * len(p.bends) for p in bent))
    yield BuildStep("ground", "Lay all pieces out on flat ground in their places.", "the drawing", 2, pieces * 0.5)
    yield BuildStep(
        "ground", f"Put the {fittings} fittings on, finger tight.", TOOLS[plan.frame.joining], 2, fittings * 1.5
    )


def fixed_with(covered: Iterable[Any]) -> tuple[str, ...]:
    """Return the tools that the fixings of covered panels take."""
    known = load_fixings()
    kinds = dict.fromkeys(known[one.fixing].kind for one in covered if one.fixings and one.fixing in known)
    return tuple(dict.fromkeys(FIXED_WITH.get(kind, "pliers") for kind in kinds))


def _put_on(plan: Any) -> Iterator[BuildStep]:
    """Yield how panels are cut and fixed: sheets and boards, then what comes off a roll."""
    known = load_coverings()
    stiff = [one for one in plan.covered if known[one.covering].kind in STIFF]
    rolled = [one for one in plan.covered if known[one.covering].kind not in STIFF]
    for covered, text in (
        (stiff, "Cut boards and sheets to their panels, holding each up before it is fixed; fix them at {} places."),
        (rolled, "Roll the covering out, start at the top, pull it flat and fix it at {} places."),
    ):
        if covered:
            fixings = sum(one.fixings for one in covered)
            cut = "saw" if covered is stiff else "shears"
            yield BuildStep(
                "after", text.format(fixings), ", ".join((cut, *fixed_with(covered))), 2, 15 + fixings * 0.4
            )


def covering(plan: Any) -> Iterator[BuildStep]:
    """Yield the steps of covering and looking after."""
    if plan.covered and not plan.build.covers_in_steps:
        yield from _put_on(plan)
    caps = sum(plan.open_ends.values())
    if caps:
        yield BuildStep("after", f"Close {caps} open tube ends with caps.", "mallet", 1, 2 + 0.25 * caps)
    yield BuildStep(
        "after",
        f"Look again after the first {'week in use' if plan.build.indoors else 'strong wind'} and every spring: "
        "fittings, ties, feet.",
        "the tools above",
        1,
        10,
    )
