"""The tables of a class order for a spreadsheet: kits, pieces, cut sheets, bill, leftovers, what could not be planned.

A `ClassOrder` comes in, `Table`s go out: headings with their units, text and plain numbers.
"""

from collections.abc import Iterator

from gardenframe.materials.coverings import load_coverings, load_rolls
from gardenframe.output.exports_tables import Cell, Table, length_cell, on_tape, plain, table_of
from gardenframe.studies.class_kits import MM, width_of
from gardenframe.studies.class_order import ClassOrder


def tables_of(order: ClassOrder, system: str = "metric") -> tuple[Table, ...]:
    """Return the tables of a class order in a unit system."""
    found = (kits(order), pieces(order, system), cutting(order, system), rolls(order, system), bill(order))
    return (*found, leftovers(order, system), problems(order))


def kits(order: ClassOrder) -> Table:
    """Return a line for each person: what they build, what it costs them, what it would have cost alone."""
    money, strength = order.cost.currency, any(kit.hardest for kit in order.kits)
    headings = ("Kit", "Alias", "Build", "Pieces", f"Share ({money})", f"Alone ({money})", f"Saved ({money})")
    rows = []
    for kit in order.kits:
        share = order.shares[kit.number]
        row: tuple[Cell, ...] = (kit.number, kit.alias, kit.title, kit.pieces_cut, share)
        row += (plain(round(kit.alone_cost.usual, 2)), plain(round(kit.alone_cost.usual - share, 2)))
        if strength:
            row += (kit.hardest[0], plain(round(kit.hardest[1], 3))) if kit.hardest else ("none", None)
        rows.append(row)
    more = ("Hardest check", "Demand over capacity") if strength else ()
    return table_of("kits", "Who builds what, and what each pays", (*headings, *more), rows)


def pieces(order: ClassOrder, system: str) -> Table:
    """Return the pieces of every kit: its list at the table where kits are put together."""
    unit, tape = ("mm", ()) if system == "metric" else ("in", ("Cut, on the tape",))
    headings = ("Kit", "Alias", "Mark", "Part", "Member", f"Cut ({unit})", *tape, "Count", "Bends")
    rows = (
        (
            kit.number, kit.alias, kit.mark(piece.mark), piece.role, order.shop.member(piece.member).label,
            length_cell(piece.cut_m, system), *on_tape(piece.cut_m, system), piece.count, piece.bends,
        )
        for kit in order.kits
        for piece in kit.pieces
    )  # fmt: skip
    return table_of("pieces", "Pieces of every kit", headings, rows)


def cutting(order: ClassOrder, system: str) -> Table:
    """Return the cut sheets: a line for each piece of each stick, in the order of cutting, and what is left."""
    unit, tape = ("mm", ()) if system == "metric" else ("in", ("Length, on the tape",))
    headings = ("Member", "Stick", f"Stick ({unit})", "At hand", "Kit", "Mark", f"Length ({unit})", *tape,
                f"Ends at ({unit})")  # fmt: skip
    return table_of("cutting", "Cut sheets, stick by stick", headings, _cuts(order, system))


def _cuts(order: ClassOrder, system: str) -> Iterator[tuple[Cell, ...]]:
    mark_m = order.mark_m
    for member, sheet in order.sheets.items():
        label = order.shop.member(member).label
        for stick in sheet:
            head = (label, stick.number, length_cell(stick.stock * mark_m, system), "yes" if stick.at_hand else "no")
            for cut in stick.cuts:
                sizes = (length_cell(cut.length * mark_m, system), *on_tape(cut.length * mark_m, system))
                yield (*head, cut.kit, cut.mark, *sizes, length_cell(cut.end * mark_m, system))
            if stick.left:
                sizes = (length_cell(stick.left * mark_m, system), *on_tape(stick.left * mark_m, system))
                yield (*head, "left over", None, *sizes, length_cell(stick.stock * mark_m, system))


def rolls(order: ClassOrder, system: str) -> Table:
    """Return how rolls, boards and sheets are cut: the strips of each, like ones together."""
    unit = "mm" if system == "metric" else "in"
    known = {width_of(roll): roll for roll in load_rolls().values()}
    headings = ("Covering", f"Wide ({unit})", f"Roll ({unit})", "Rolls", f"Strip ({unit})", "Strips on each")
    rows = (
        (
            load_coverings()[known[width].covering].label,
            length_cell(known[width].width_mm / MM, system),
            length_cell(stock / MM, system),
            times,
            length_cell(strip / MM, system),
            many,
        )
        for width, plan in order.rolls.items()
        for stock, content, times in plan.patterns
        for strip, many in content.items()
    )
    return table_of("rolls", "Rolls, boards and sheets", headings, rows)


def bill(order: ClassOrder) -> Table:
    """Return what is bought for all."""
    money = order.cost.currency
    headings = ("Item", "Name", "Group", "Sold by", "Needed", "On hand", "Bought", f"Price ({money})",
                f"Cost ({money})")  # fmt: skip
    rows: list[tuple[Cell, ...]] = [
        (
            row.item, row.label, row.group, row.unit, plain(row.needed), plain(row.on_hand), row.bought,
            plain(row.price), plain(row.cost),
        )
        for row in order.bill_rows
    ]  # fmt: skip
    if order.shop.tax:
        tax = sum(row.cost for row in order.bill_rows) * order.shop.tax
        rows.append(("tax", "Sales tax", "tax", "", None, None, None, None, plain(tax)))
    return table_of("bill", "One bill for all", headings, rows)


def leftovers(order: ClassOrder, system: str) -> Table:
    """Return what is left of the sticks and long enough to keep."""
    unit, tape = ("mm", ()) if system == "metric" else ("in", ("Length, on the tape",))
    rows = (
        (order.shop.member(member).label, length_cell(marks * order.mark_m, system),
         *on_tape(marks * order.mark_m, system), number)
        for member, left in order.leftovers().items()
        for marks, number in left.items()
    )  # fmt: skip
    headings = ("Member", f"Length ({unit})", *tape, "Number")
    return table_of("leftovers", "Left over and long enough to keep", headings, rows)


def problems(order: ClassOrder) -> Table:
    """Return every cell and build that could not be planned."""
    rows = ((problem.line, problem.column or "", str(problem)) for problem in order.problems)
    return table_of("not-planned", "What could not be planned", ("Line", "Column", "Why"), rows)
