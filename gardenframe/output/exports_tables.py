"""A plan's tables for a spreadsheet: pieces, cutting, bill, checks and anchors, in the reader's units.

A plan comes in, `Table`s go out: headings with their units, rows of text and plain numbers. Numbers are not rounded
as a page rounds them (ten figures are kept), so that sums over them are the plan's own.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from gardenframe import units
from gardenframe.materials.shop import TAPES
from gardenframe.road import Plan
from gardenframe.strength.anchors import factor_of
from gardenframe.strength.rows import CheckRow

Cell = str | int | float | None
FIGURES = 10


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """One table: `key` names its file, `title` what it holds; every row has a cell for each heading."""

    key: str
    title: str
    headings: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]


def tables_of(plan: Plan, system: str = "metric") -> tuple[Table, ...]:
    """Return the tables of a plan in a unit system: pieces, cutting, bill, checks, anchors."""
    return (
        _pieces(plan, system),
        _cutting(plan, system),
        _bill(plan),
        _checks(plan, system),
        _anchors(plan, system),
    )


def plain(number: float) -> Cell:
    """Return a number as a cell: whole ones whole, ten figures of others, words where there is no number.

    >>> plain(3), plain(0.1 + 0.2), plain(float("inf")), plain(float("nan"))
    (3, 0.3, 'infinite', 'none')
    """
    if isinstance(number, int):
        return number
    if not math.isfinite(number):
        return "none" if math.isnan(number) else "infinite"
    return float(f"{number:.{FIGURES}g}")


def table_of(key: str, title: str, headings: Iterable[str], rows: Iterable[Iterable[Cell]]) -> Table:
    """Return a table of any headings and rows."""
    return Table(key=key, title=title, headings=tuple(headings), rows=tuple(tuple(row) for row in rows))


def length_cell(length_m: float, system: str) -> Cell:
    """Return a length in mm or decimal inches, which a spreadsheet can add up."""
    return plain(units.in_unit(length_m, "mm" if system == "metric" else "in"))


def on_tape(length_m: float, system: str) -> tuple[str, ...]:
    """Return a length as an inch tape shows it; nothing for a metric one, which shows the number itself."""
    return (units.write(length_m, "length", "us"),) if system == "us" else ()


def _pieces(plan: Plan, system: str) -> Table:
    unit, tape = ("mm", ()) if system == "metric" else ("in", ("Cut, on the tape",))
    headings = ("Mark", "Part", "Member", f"Cut ({unit})", *tape, f"Exact ({unit})", "Count", "Bends", "Runs")
    rows = (
        (
            piece.mark, piece.role, plan.shop.member(piece.member).label, length_cell(piece.cut_m, system),
            *on_tape(piece.cut_m, system), length_cell(piece.length_m, system), piece.count, len(piece.bends),
            ", ".join(place.run for place in piece.places),
        )
        for piece in plan.cut
    )  # fmt: skip
    return table_of("pieces", "Pieces to cut", headings, rows)


def _cutting(plan: Plan, system: str) -> Table:
    unit, tape = ("mm", ()) if system == "metric" else ("in", ("Length, on the tape",))
    headings = (
        "Member", "Stick", f"Stick, trimmed ({unit})", "At hand", "What", "Mark", f"Length ({unit})", *tape,
        f"Ends at ({unit})",
    )  # fmt: skip
    rows = (row for member in plan.cutting for row in _sticks(plan, member, system))
    return table_of("cutting", "Cutting plan, stick by stick", headings, rows)


def _sticks(plan: Plan, member: str, system: str) -> Iterator[tuple[Cell, ...]]:
    """Yield a row for each piece of each stick in the order of cutting, and one for what is left over."""
    mark_m, label = TAPES[plan.shop.tape] / 1000, plan.shop.member(member).label
    names: dict[int, list[str]] = {}  # lengths that several marks share take them in turn
    for piece in plan.cut:
        if piece.member == member:
            names.setdefault(piece.cut, []).extend([piece.mark] * piece.count)
    for stick in plan.cutting[member].sticks_list():
        head = (label, stick.number, length_cell(stick.stock * mark_m, system), "yes" if stick.at_hand else "no")
        for cut, end in zip(stick.pieces, stick.ends, strict=True):
            length_m = cut * mark_m
            tape = on_tape(length_m, system)
            yield (
                *head,
                "piece",
                names[cut].pop(0),
                length_cell(length_m, system),
                *tape,
                length_cell(end * mark_m, system),
            )
        if stick.offcut:
            left_m, whole = stick.offcut * mark_m, length_cell(stick.stock * mark_m, system)
            yield (*head, "left over", None, length_cell(left_m, system), *on_tape(left_m, system), whole)


def _bill(plan: Plan) -> Table:
    money, tax = plan.cost.currency, plan.shop.tax
    headings = (
        "Item", "Name", "Group", "Sold by", "Needed", "On hand", "Bought", f"Price ({money})", f"Cost, low ({money})",
        f"Cost ({money})", f"Cost, high ({money})", "Note",
    )  # fmt: skip
    rows: list[tuple[Cell, ...]] = [
        (
            row.item, row.label, row.group, row.unit, plain(row.needed), plain(row.on_hand), row.bought,
            plain(row.price), plain(row.cost_low), plain(row.cost), plain(row.cost_high), row.note,
        )
        for row in plan.bill_rows
    ]  # fmt: skip
    if tax:
        sums = [sum(getattr(row, name) for row in plan.bill_rows) for name in ("cost_low", "cost", "cost_high")]
        told = f"Sales tax {units.write(tax, 'share', 'metric')}"
        rows.append(("tax", told, "tax", "", None, None, None, None, *(plain(total * tax) for total in sums), ""))
    return table_of("bill", "Bill", headings, rows)


def _in_system(row: CheckRow, system: str) -> tuple[Cell, Cell, str]:
    """Return demand, capacity and their unit as a reader of a system wants them."""
    unit = units.UNITS.get(row.unit)
    if system == "metric" or unit is None or unit.kind not in units.USUAL:
        return plain(row.demand), plain(row.capacity), row.unit
    wanted = units.usual_unit(unit.kind, system)
    wanted = "in" if wanted == "ft-in" else wanted
    demand, capacity = (units.in_unit(units.from_unit(value, row.unit), wanted) for value in (row.demand, row.capacity))
    return plain(demand), plain(capacity), wanted


CHECKED = ("Check", "Case", "Where", "Demand (unit beside)", "Capacity (unit beside)", "Unit", "Demand over capacity")


def _checks(plan: Plan, system: str) -> Table:
    rows = (
        (row.check, row.case, row.where, *_in_system(row, system), plain(row.ratio), row.source)
        for row in plan.check_rows
    )
    return table_of("checks", "Checks: above 1 is over its limit", (*CHECKED, "Source"), rows)


def _anchors(plan: Plan, system: str) -> Table:
    rows = (
        (
            row.check, row.case, row.where, *_in_system(row, system), plain(row.ratio), plain(factor_of(row)),
            row.source,
        )
        for row in plan.standing.anchors.rows
    )  # fmt: skip
    headings = (*CHECKED, "Capacity over demand", "Source")
    return table_of("anchors", "What holds it down: above 1 is over its limit", headings, rows)
