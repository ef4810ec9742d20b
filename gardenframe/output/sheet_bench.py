"""What is made at the bench and stood up in the garden: drawings, cut list, cutting plan, bends, coverings, steps."""

from collections.abc import Iterator, Sequence

from gardenframe import units
from gardenframe.materials.coverings import load_coverings
from gardenframe.materials.shop import TAPES
from gardenframe.output import markup, telling
from gardenframe.output.bars import StickRow, cutting_bars, left_m
from gardenframe.output.bend_sheet import bend_drawing
from gardenframe.output.drawings import drawing
from gardenframe.output.markup import Column
from gardenframe.output.sticks import stick_rows
from gardenframe.road import Plan

WIDE_PX = 690.0  # what fits between the margins of A4 at full size
MANY_MARKS = 8
BARS_A_FIGURE = 8  # sticks drawn together: no drawing may be taller than a page
INVENTED = "Fitting sizes are invented: measure yours, put them in the fittings table, and every length follows."
BENDS = (
    "Cut long, mark, bend, then trim. Check the first on an arc drawn full size; each tube springs back its own way. "
    "Benders are invented: measure what yours cannot bend at the ends."
)


def parts(plan: Plan, system: str) -> Iterator[str]:
    """Yield the parts for bench and garden."""
    yield markup.section("drawings", "Drawings", *_drawings(plan, system), fresh=True)
    yield markup.section("cuts", "Cut list", cut_list(plan, system))
    yield markup.section("cutting", "Cutting plan", *_cutting(plan, system))
    bends = [markup.figure(bend_drawing(sheet, system, WIDE_PX), "half") for sheet in plan.bend_sheets]
    yield markup.section("bends", "Bend sheets", *bends, markup.paragraph(BENDS, "note") if bends else "")
    yield markup.section("fittings", "Fittings", _fittings(plan, system))
    yield markup.section("coverings", "Coverings", _coverings(plan, system))
    yield markup.section("steps", "Steps", _steps(plan))


def _drawings(plan: Plan, system: str) -> Iterator[str]:
    """Yield the views on one sheet, marks on the pieces; of a frame with many marks front and side again, larger."""
    title = f"{plan.build.title}, dimensioned"
    yield markup.figure(
        drawing(plan.frame, plan.marks, system, width_px=WIDE_PX, members=plan.shop.members, title=title)
    )
    for name in ("front", "side") if len(plan.cut) > MANY_MARKS else ():
        larger = drawing(
            plan.frame, plan.marks, system, (name,), width_px=WIDE_PX, members=plan.shop.members,
            title=f"{plan.build.title}, {name}",
        )  # fmt: skip
        yield markup.figure(larger, "half")


def cut_list(plan: Plan, system: str) -> str:
    """Return the pieces to cut, a box to tick for each."""
    unit = telling.unit_of_length(system)
    heads = (
        Column("Mark"), Column("Part"), Column("Of"), Column("Cut", unit, number=True),
        Column("Exact", "mm" if system == "metric" else "in", number=True), Column("Pieces", number=True),
    )  # fmt: skip
    rows = [
        (p.mark, f"{p.role}, bent" if p.bends else p.role, plan.shop.member(p.member).label,
         telling.length(p.cut_m, system), telling.exact(p, system), p.count)
        for p in plan.cut
    ]  # fmt: skip
    bent = (
        " A bent piece is cut long, as its bend sheet says, and its exact length is that of the finished piece."
        if plan.bend_sheets
        else ""
    )
    told = f"Write its mark on every piece as it is cut. Cut is what the tape shows; exact, what was rounded.{bent}"
    pieces = sum(p.count for p in plan.cut)
    total = ("Together", "", "", "", "", pieces)
    return markup.table("Pieces to cut", heads, rows, total, tick=[p.count for p in plan.cut]) + markup.paragraph(
        told, "note"
    )


def _cutting(plan: Plan, system: str) -> Iterator[str]:
    if plan.shop.carried_mm is not None:
        yield markup.paragraph("The cuts made at the shop come first: see the list for the shop.")
    for member, cutting in plan.cutting.items():
        label, rows = plan.shop.member(member).label, stick_rows(plan, member)
        for some in _in_figures(rows):
            yield markup.figure(cutting_bars(some, system, WIDE_PX, title=f"Cutting plan, {label}"))
        kerf = units.write(cutting.kerf * TAPES[plan.shop.tape] / 1000, "length", system)
        least = "No plan buys less" if cutting.proven else "The best plan found; a cheaper one is not ruled out"
        yield _sticks(label, rows, system)
        yield markup.paragraph(f"{least}. Each cut removes {kerf} ({plan.shop.cutter}).", "note")


def _in_figures(rows: Sequence[StickRow]) -> Iterator[Sequence[StickRow]]:
    """Yield sticks a few at a time."""
    for start in range(0, len(rows), BARS_A_FIGURE):
        yield rows[start : start + BARS_A_FIGURE]


def _sticks(label: str, rows: Sequence[StickRow], system: str) -> str:
    unit = telling.unit_of_length(system)
    heads = (
        Column("Sticks", number=True), Column("Long", unit, number=True), Column("Cut in this order"),
        Column("Left", unit, number=True),
    )  # fmt: skip
    lines = [
        (row[3], telling.length(row[0], system),
         "; ".join(f"{mark} {telling.length(long, system)}" for mark, long in row[1]),
         telling.length(left_m(row), system))
        for row in rows
    ]  # fmt: skip
    return markup.table(f"Sticks of {label}", heads, lines, tick=[row[3] for row in rows])


def _fittings(plan: Plan, system: str) -> str:
    rows: dict[tuple[str, str, str, str], int] = {}
    for fitted in plan.fitted:
        stop = fitted.row.centre_to_stop_mm / 1000 if fitted.row and any(fitted.setbacks.values()) else None
        angles = ", ".join(f"{angle:.3g}°" for angle in dict.fromkeys(fitted.angles_deg)) or "none"
        size = plan.shop.member(fitted.size).label
        key = (fitted.label, size, angles, "none" if stop is None else telling.length(stop, system))
        rows[key] = rows.get(key, 0) + fitted.count
    heads = (
        Column("Fitting"), Column("For"), Column("Angles"),
        Column("Set-back", telling.unit_of_length(system), number=True), Column("Count", number=True),
    )  # fmt: skip
    listed = [(*key, number) for key, number in rows.items()]
    told = "Set-back: what the fitting takes off a tube's end, from the centre of the joint to where the tube stops. "
    return markup.table("Fittings", heads, listed) + markup.paragraph(told + INVENTED, "note") if listed else ""


def _coverings(plan: Plan, system: str) -> str:
    if not plan.covered:
        return ""
    labels = {key: row.label for key, row in load_coverings().items()}
    unit = telling.unit_of_length(system)
    heads = (
        Column("Panel"), Column("Covering"), Column("Strips", number=True), Column("Long", unit, number=True),
        Column("Wide", unit, number=True), Column("Area", "m²" if system == "metric" else "ft²", number=True),
        Column("Fixings", number=True),
    )  # fmt: skip
    rows = [
        (one.panel, labels.get(one.covering, one.covering), len(one.strips.strips),
         telling.length(one.strips.strips[0].length_m, system), telling.length(one.roll_width_m, system),
         units.write(one.area_m2, "area", system).split(" ")[0], one.fixings)
        for one in plan.covered
    ]  # fmt: skip
    told = "Cut each strip this long; what is wider than the panel is cut off or folded once it is fixed."
    return markup.table("Strips of covering", heads, rows, tick=[row[2] for row in rows]) + markup.paragraph(
        told, "note"
    )


def _steps(plan: Plan) -> str:
    heads = (
        Column("No.", number=True), Column("Step"), Column("Tool"), Column("People", number=True),
        Column("Time", "min", number=True),
    )  # fmt: skip
    steps = plan.steps
    found = zip(steps["step"], steps["tool"], steps["people"], steps["minutes"], strict=True)
    rows = [(n, step, tool, people, round(minutes)) for n, (step, tool, people, minutes) in enumerate(found, 1)]
    together = telling.hours(sum(steps["minutes"]))
    told = f"Together about {together}. Times are common practice, no source; yours will differ."
    return markup.table("Steps of building", heads, rows, tick=True) + markup.paragraph(told, "note")
