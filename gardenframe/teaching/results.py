"""The headings of a panel and what stands under each: a plan comes in, text for the page goes out. No widget here.

A section says under which heading it stands, one line that sums it up while it is folded, and its page. Sections read
the records of a plan, not its DataFrames, so that a step of a slider stays cheap.
"""

import html
from collections.abc import Iterator

from gardenframe import units, working
from gardenframe.builds.build import Build
from gardenframe.builds.chart import HeatMap
from gardenframe.materials import sources
from gardenframe.materials.settling import to_settle
from gardenframe.materials.shop import TAPES
from gardenframe.output.bars import cutting_bars
from gardenframe.output.charts import chart
from gardenframe.output.drawings import drawing
from gardenframe.output.heat import heat
from gardenframe.output.sticks import stick_rows
from gardenframe.output.telling import exact, hours, length, money, sold_by, unit_of_length
from gardenframe.road import Plan
from gardenframe.teaching import standing_results as standing
from gardenframe.teaching.bend_results import bends_line, bends_offered, bends_page
from gardenframe.teaching.page import Card, Column, cards, count, escape, note, sentences, table
from gardenframe.teaching.reading import HALF, Reader, Section

# --- the line of key numbers


def key_numbers(plan: Plan, reader: Reader, strength: bool = True) -> str:
    """Return the key numbers of a plan; that of strength is left for later where it is not asked for."""
    cost, pieces = plan.cost, plan.cut
    longest = max(pieces, key=lambda piece: piece.length_m, default=None)
    cuttings = list(plan.cutting.values())
    stock = sum(cutting.stock_length for cutting in cuttings)
    waste = sum(cutting.waste for cutting in cuttings) / stock if stock else 0.0
    sticks = sum(cutting.sticks for cutting in cuttings)
    found = [
        Card("cost", "Cost", money(cost.usual, plan), f"{money(cost.low, plan)} to {money(cost.high, plan)}"),
        Card(
            "sticks",
            "Sticks to cut",
            str(sticks),
            f"{count(sum(p.count for p in pieces), 'piece')}, {units.write(waste, 'share', reader.system)} is waste",
        ),
        Card(
            "mass",
            "Mass of tube",
            units.write(tube_mass_kg(plan), "mass", reader.system, digits=1),
            _beside(plan, reader),
        ),
    ]
    if longest:
        found.append(
            Card("longest", "Longest piece", units.write(longest.cut_m, "length", reader.system), longest.mark)
        )
    found.append(standing.strength_card(plan) if strength else standing.LATER)
    minutes = sum(plan.steps["minutes"])
    found.append(Card("time", "Time to build", hours(minutes), f"{max(plan.steps['people'])} people to stand it"))
    return cards(found)


def tube_mass_kg(plan: Plan, tube: bool = True) -> float:
    """Return the mass of all pieces of tube, or of all others. [kg]"""
    found = [(piece, plan.shop.member(piece.member)) for piece in plan.cut]
    return sum(p.length_m * p.count * m.mass_kg_per_m for p, m in found if (m.shape == "tube") == tube)


def _beside(plan: Plan, reader: Reader) -> str:
    """Return what the mass of tube leaves out."""
    others = dict.fromkeys(m.family for m in map(plan.shop.member, plan.cutting) if m.shape != "tube")
    if not others:
        return "without fittings"
    mass = units.write(tube_mass_kg(plan, tube=False), "mass", reader.system, digits=1)
    return f"without fittings; {mass} of {' and '.join(others)}"


# --- the drawing


def drawing_page(plan: Plan, reader: Reader) -> str:
    """Return the dimensioned drawing, as wide as the page."""
    members, title = plan.shop.members, f"{plan.build.title}, dimensioned"
    return drawing(plan.frame, plan.marks, reader.system, width_px=reader.width_px, members=members, title=title)


def drawing_line(plan: Plan, reader: Reader) -> str:
    """Return what is drawn."""
    return "front, side and plan"


# --- pieces and fittings


def pieces_page(plan: Plan, reader: Reader) -> str:
    """Return the table of pieces: what is cut, and the exact length behind it."""
    exact_unit = "mm" if reader.system == "metric" else "in"
    members = {key: plan.shop.member(key).label.partition(" (")[0] for key in dict.fromkeys(p.member for p in plan.cut)}
    of = (Column("Of"),) if len(members) > 1 else ()
    columns = (
        Column("Mark"), Column("Part"), *of, Column("Cut", unit_of_length(reader.system), number=True),
        Column("Exact", exact_unit, number=True), Column("Count", number=True),
    )  # fmt: skip
    rows = [
        (p.mark, p.role, *((members[p.member],) if of else ()), length(p.cut_m, reader.system),
         exact(p, reader.system), p.count)
        for p in plan.cut
    ]  # fmt: skip
    return table("Pieces to cut", columns, rows) + (
        note(f"All of {next(iter(members.values()))}.") if members and not of else ""
    )


def pieces_line(plan: Plan, reader: Reader) -> str:
    """Return how many pieces of how many lengths."""
    return f"{count(sum(p.count for p in plan.cut), 'piece')}, {count(len(plan.cut), 'length')}"


def fittings_page(plan: Plan, reader: Reader) -> str:
    """Return the table of fittings, like ones together, with what each takes off a tube's end."""
    sizes = {fitted.size: plan.shop.member(fitted.size).label for fitted in plan.fitted}
    rows: dict[tuple[str, str, str], int] = {}
    for fitted in plan.fitted:
        stop = fitted.row.centre_to_stop_mm / 1000 if fitted.row and any(fitted.setbacks.values()) else None
        angles = ", ".join(f"{angle:.3g}°" for angle in dict.fromkeys(fitted.angles_deg)) or "none"
        name = f"{fitted.label}, {sizes[fitted.size]}" if len(sizes) > 1 else fitted.label
        key = (name, angles, "none" if stop is None else length(stop, reader.system))
        rows[key] = rows.get(key, 0) + fitted.count
    columns = (
        Column("Fitting"), Column("Angles"), Column("Set-back", unit_of_length(reader.system), number=True),
        Column("Count", number=True),
    )  # fmt: skip
    told = "Fitting sizes are invented: measure yours, put them in the fittings table, and every length follows."
    for_all = f"For {next(iter(sizes.values()))}. " if len(sizes) == 1 else ""
    return table("Fittings", columns, [(*key, number) for key, number in rows.items()]) + note(for_all + told)


def fittings_line(plan: Plan, reader: Reader) -> str:
    """Return how many fittings, caps not counted."""
    return count(sum(f.count for f in plan.fitted if f.key), "fitting")


# --- what to buy


def bill_page(plan: Plan, reader: Reader) -> str:
    """Return the bill with its sum at usual prices, and the sum at low and high ones."""
    cost, currency = plan.cost, plan.cost.currency
    columns = (
        Column("Item"), Column("Needed", number=True), Column("Buy", number=True), Column("Sold by"),
        Column("Price", currency, number=True), Column("Cost", currency, number=True),
    )  # fmt: skip
    rows = [
        (
            row.label,
            f"{row.needed - row.on_hand:g}",
            row.bought,
            sold_by(row.unit),
            f"{row.price:.2f}",
            f"{row.cost:.2f}",
        )
        for row in plan.bill_rows
    ]
    tax = f", with {units.write(plan.shop.tax, 'share', reader.system)} tax" if plan.shop.tax else ""
    page = table("Bill", columns, rows, (f"Together{tax}", "", "", "", "", f"{cost.usual:,.2f}"))
    share = units.write(plan.shop.spares, "share", reader.system)
    spares = (
        f"Needed counts {share} more fittings, ties and screws than are built in, for loss. "
        if plan.shop.spares
        else ""
    )
    spread = f"{money(cost.low, plan)} at low prices, {money(cost.high, plan)} at high ones."
    return page + note(
        f"{spares}{spread} Prices are invented: put your shop's own in the price table. Tools are not counted."
    )


def bill_line(plan: Plan, reader: Reader) -> str:
    """Return the cost."""
    return money(plan.cost.usual, plan)


# --- doing it


def working_page(plan: Plan, reader: Reader) -> str:
    """Return the shown arithmetic, typeset where it stands: a heading, then its steps aligned at the equals signs."""
    parts = (
        f"<h4>{escape(heading)}</h4>{html.escape(working.latex(steps), quote=False)}"
        for heading, steps in plan.worked(reader.system).items()
        if steps
    )
    return "".join(parts)


def working_line(plan: Plan, reader: Reader) -> str:
    """Return what the working is for."""
    return "every number, worked by hand"


def steps_page(plan: Plan, reader: Reader) -> str:
    """Return the steps in order."""
    columns = (
        Column("", number=True), Column("Step"), Column("Tool"), Column("People", number=True),
        Column("Time", "min", number=True),
    )  # fmt: skip
    found = zip(plan.steps["step"], plan.steps["tool"], plan.steps["people"], plan.steps["minutes"], strict=True)
    rows = [(n, step, tool, people, round(minutes)) for n, (step, tool, people, minutes) in enumerate(found, 1)]
    return table("Steps of building", columns, rows) + note("Times are common practice, no source; yours will differ.")


def steps_line(plan: Plan, reader: Reader) -> str:
    """Return how many steps and how long."""
    return f"{count(len(plan.steps), 'step')}, about {hours(sum(plan.steps['minutes']))}"


def cautions_page(plan: Plan, reader: Reader) -> str:
    """Return the cautions that apply, and where they come from."""
    rows = plan.caution_rows
    known = sources.load_sources()
    told = "; ".join(dict.fromkeys(known[row.source].title for row in rows))
    ending = "Local codes and licensed practice come first. No result here is called safe."
    return sentences(row.text for row in rows) + note(f"{ending} Sources: {told}.")


def cautions_line(plan: Plan, reader: Reader) -> str:
    """Return how many cautions apply."""
    return f"{len(plan.caution_rows)} that apply here"


# --- what a build alone asks about


def charts_page(plan: Plan, reader: Reader) -> str:
    """Return the charts of the build, as wide as the page."""
    found = plan.build.charts(plan, reader.system)
    drawn = (heat(m, reader.width_px) if isinstance(m, HeatMap) else chart(m, reader.width_px) for m in found)
    return "".join(drawn)


def charts_line(plan: Plan, reader: Reader) -> str:
    """Return what the charts do."""
    return "follow your sliders"


def has_charts(plan: Plan) -> bool:
    """Whether the build offers charts."""
    return type(plan.build).charts is not Build.charts


def nothing(plan: Plan, reader: Reader) -> str:
    """Return no text: the figure draws itself."""
    return ""


def turn_line(plan: Plan, reader: Reader) -> str:
    """Return nothing: the figure's own title says it."""
    return ""


# --- sticks


def cutting_page(plan: Plan, reader: Reader) -> str:
    """Return each member's sticks drawn as bars, and how good the plan is."""
    parts = []
    for member, cutting in plan.cutting.items():
        label = plan.shop.member(member).label
        bars = cutting_bars(stick_rows(plan, member), reader.system, reader.width_px, title=f"Cutting plan, {label}")
        kerf = units.write(cutting.kerf * TAPES[plan.shop.tape] / 1000, "length", reader.system)
        least = "No plan buys less" if cutting.proven else "The best plan found; a cheaper one is not ruled out"
        told = f"{label}. {least}. Each cut removes {kerf} ({plan.shop.cutter})."
        parts.append(bars + note(told))
    return "".join(parts)


def cutting_line(plan: Plan, reader: Reader) -> str:
    """Return how many sticks, and whether fewer are impossible."""
    sticks = sum(cutting.sticks for cutting in plan.cutting.values())
    proven = all(cutting.proven for cutting in plan.cutting.values())
    return f"{count(sticks, 'stick')}, {'no plan buys less' if proven else 'best found so far, not proven'}"


def settle_page(plan: Plan, reader: Reader) -> str:
    """Return what to settle before building, as a list to tick on the build sheet."""
    said = "No legal limit is given here: ask where you build. The build sheet has the list with boxes to tick."
    return sentences(row.text for row in to_settle(plan.build.indoors)) + note(said)


def settle_line(plan: Plan, reader: Reader) -> str:
    """Return how many things there are to settle."""
    return f"{count(len(to_settle(plan.build.indoors)), 'thing')} to settle first"


def sections() -> Iterator[Section]:
    """Yield the sections of a plan in the order of the page."""
    yield Section("drawing", "Drawing", drawing_page, drawing_line)
    yield Section("ratios", "Will it stand", standing.ratios_page, standing.ratios_line, strength=True)
    yield Section("anchors", "What holds it down", standing.anchors_page, standing.anchors_line, strength=True)
    yield Section(
        "limits", "When to take the cover off", standing.limits_page, standing.limits_line,
        at_rest=True, offered=lambda plan: not plan.build.indoors,
    )  # fmt: skip
    yield Section(
        "stronger", "What would make it stronger", standing.stronger_page, standing.stronger_line,
        at_rest=True, offered=lambda plan: bool(plan.build.stronger),
    )  # fmt: skip
    yield Section("charts", "Charts", charts_page, charts_line, offered=has_charts)
    yield Section("loads", "What acts on it", standing.loads_page, standing.loads_line, strength=True)
    yield Section("pieces", "Pieces", pieces_page, pieces_line, width=HALF)
    yield Section("fittings", "Fittings", fittings_page, fittings_line, width=HALF)
    yield Section("cutting", "Cutting plan", cutting_page, cutting_line)
    yield Section("bends", "Bend sheets", bends_page, bends_line, offered=bends_offered)
    yield Section("bill", "Bill", bill_page, bill_line)
    yield Section("working", "Working", working_page, working_line, kind="math")
    yield Section("turn", "Turn it round, and what one more stick costs", nothing, turn_line, kind="figure")
    yield Section("settle", "Before you build", settle_page, settle_line)
    yield Section("steps", "Steps", steps_page, steps_line)
    yield Section("cautions", "Cautions", cautions_page, cautions_line)
