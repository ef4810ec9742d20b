"""A class order as a page: key numbers, kits, shares, bill, cut sheets, leftovers; and the files that hold it all.

A `ClassOrder` and a unit system come in, HTML goes out. The page shows the first sticks of a long sheet; the files and
the pages to print hold every one.
"""

import math
from collections.abc import Iterable, Iterator
from pathlib import Path

from gardenframe import units
from gardenframe.materials.coverings import load_coverings, load_rolls
from gardenframe.materials.prices import Price
from gardenframe.output.exports import can_write, csv_file, put_in
from gardenframe.output.telling import length, unit_of_length
from gardenframe.studies.class_kits import MM, width_of
from gardenframe.studies.class_order import ClassOrder
from gardenframe.studies.class_sheets import SheetStick, together
from gardenframe.teaching import class_tables
from gardenframe.teaching.page import Card, Column, cards, count, escape, note, table

MOST_STICKS = 40  # on the page
FOOT_M, BY_THE_METRE, BY_LENGTH = 0.3048, " (by the metre)", ("metre", "roll of 10 m")
PRINTED = """
@page { size: auto; margin: 14mm 12mm 16mm; @bottom-right { content: counter(page) " / " counter(pages) } }
body { font: 11pt/1.35 system-ui, sans-serif; color: #111; margin: 2em auto; max-width: 60em }
h1 { font-size: 17pt } h2 { font-size: 13pt; break-after: avoid } table { border-collapse: collapse; width: 100% }
thead { display: table-header-group } tr { break-inside: avoid } th, td { text-align: left; padding: 2px 8px 2px 0;
border-bottom: 1px solid #bbb; vertical-align: top }
.gf-n { text-align: right; white-space: nowrap; font-variant-numeric: tabular-nums }
section { break-inside: avoid; margin-bottom: 1.2em } .gf-sheet { break-before: page } caption { display: none }
.gf-box { display: inline-block; width: 11px; height: 11px; border: 1.4px solid #333; margin-right: 6px }
.gf-note { color: #444; font-size: 9.5pt } .gf-unit { font-weight: normal }
"""


def money(amount: float, order: ClassOrder) -> str:
    """Return an amount in the order's currency."""
    return units.write(amount, "money", "metric", unit=order.cost.currency)


def key_numbers(order: ClassOrder) -> str:
    """Return the key numbers of a class order."""
    saved = order.saving / order.alone if order.alone else 0.0
    least = f"at least {money(order.sure_saving, order)}" if order.sure_saving < order.saving - 0.005 else "proved"
    stock = sum(plan.stock_length for plan in order.cutting.values())
    waste = sum(plan.waste for plan in order.cutting.values()) / stock if stock else 0.0
    bound = sum(plan.lower_bound for plan in order.cutting.values())
    gap = sum(plan.cost for plan in order.cutting.values()) / bound - 1 if bound else 0.0
    best = "no plan needs less" if gap < 1e-9 else f"within {100 * gap:.2g} % of the least possible"
    sheets = [stick for sheet in order.sheets.values() for stick in sheet]
    alone = sum(kit.sticks_alone for kit in order.kits)
    return cards(
        (
            Card("class-cost", "Cost for all", money(order.cost.usual, order), f"{count(len(order.kits), 'kit')}"),
            Card("class-saving", "Saved", money(order.saving, order), f"{100 * saved:.0f} %, {least}"),
            Card("class-sticks", "Sticks", str(order.sticks), best),
            Card("class-pieces", "Pieces", str(order.pieces), f"{100 * waste:.1f} % of the sticks is waste"),
            Card("class-alone", "Sticks alone", str(alone), "if each bought alone"),
            Card("class-sorted", "Kits on a stick", f"{together(sheets) / max(len(sheets), 1):.2f}", "on average"),
        )
    )


def kits_page(order: ClassOrder) -> str:
    """Return who builds what and pays what."""
    currency, checked = order.cost.currency, any(kit.hardest for kit in order.kits)
    columns = [Column("Kit", number=True), Column("Who builds what"), Column("Pieces", number=True),
               Column("Alone", currency, number=True), Column("Pays", currency, number=True)]  # fmt: skip
    columns += [Column("Hardest check"), Column("Ratio", number=True)] if checked else []
    rows = []
    for kit in order.kits:
        row = [kit.number, f"{kit.alias}, {kit.title.lower()}", kit.pieces_cut, f"{kit.alone_cost.usual:.2f}"]
        row.append(f"{order.shares[kit.number]:.2f}")
        if checked:
            row += [kit.hardest[0], f"{kit.hardest[1]:.2f}"] if kit.hardest else ["none", ""]
        rows.append(row)
    sums = ["", "Together", order.pieces, f"{order.alone:.2f}", f"{order.cost.usual:.2f}"]
    told = (
        "Each item's cost is shared as people would have paid for it alone, so on every item all save the same part. "
        "Alone is worked out with the same rule of cutting, with nothing at hand, and with rolls shared within a kit."
    )
    more = " A ratio above 1 is over its limit." if checked else " Strength was not worked out: ask for it above."
    page = table("Who builds what, and what each pays", columns, rows, [*sums, *[""] * (len(columns) - 5)])
    return page + note(told + more)


def bill_page(order: ClassOrder) -> str:
    """Return the one bill."""
    columns = (Column("Item"), Column("Needed", number=True), Column("Buy", number=True), Column("Sold by"),
               Column("Price", order.cost.currency, number=True),
               Column("Cost", order.cost.currency, number=True))  # fmt: skip
    rows = [
        (row.label, f"{row.needed - row.on_hand:g}", row.bought, row.unit, f"{row.price:.2f}", f"{row.cost:.2f}")
        for row in order.bill_rows
    ]
    tax = f", with {100 * order.shop.tax:g} % tax" if order.shop.tax else ""
    page = table("One bill for all", columns, rows, (f"Together{tax}", "", "", "", "", f"{order.cost.usual:,.2f}"))
    return page + note(
        "Needed counts the spares that the settings ask for; a kit's list does not. Prices are invented: put your "
        "shop's own in the price table. Tools are not counted."
    )


def cutting_page(order: ClassOrder, system: str, most: int = MOST_STICKS) -> str:
    """Return the first sticks of each cut sheet."""
    pages = []
    for member, sheet in order.sheets.items():
        plan = order.cutting[member]
        proved = "no plan needs fewer" if plan.proven else "not proved the least"
        pages.append(f"<h4>{escape(order.shop.member(member).label)}: {count(plan.sticks, 'stick')}, {proved}</h4>")
        pages.append(_sticks(order, sheet[:most], system))
        if len(sheet) > most:
            pages.append(note(f"The first {most} of {len(sheet)} sticks; the files hold all of them."))
    rolls = rolls_page(order, system)
    pages += [f"<h4>Rolls, boards and sheets</h4>{rolls}"] if rolls else []
    return "".join(pages) + note(
        "A mark is the number of the kit, then the mark of the piece. A kit's pieces lie on as few sticks as the "
        "sorting finds without one stick more. Cut in the order shown; write the mark on each piece at once."
    )


def _sticks(order: ClassOrder, sheet: Iterable[SheetStick], system: str) -> str:
    unit, mark_m = unit_of_length(system), order.mark_m
    columns = (Column("Stick", number=True), Column("Long", unit, number=True), Column("Cut, in order", unit),
               Column("Left", unit, number=True))  # fmt: skip
    rows = []
    for stick in sheet:
        cuts = ", ".join(f"{cut.mark} {length(cut.length * mark_m, system)}" for cut in stick.cuts)
        own = " (at hand)" if stick.at_hand else ""
        rows.append((stick.number, f"{length(stick.stock * mark_m, system)}{own}", cuts,
                     length(stick.left * mark_m, system)))  # fmt: skip
    return table("Cut sheet", columns, rows)


def leftovers_page(order: ClassOrder, system: str) -> str:
    """Return what is left and long enough to keep, and what packs hold beyond what is needed."""
    columns = (Column("Of"), Column("Lengths", unit_of_length(system)))
    rows = []
    for member, left in order.leftovers().items():
        said = (
            f"{length(n * order.mark_m, system)}{f' ({many} of them)' if many > 1 else ''}" for n, many in left.items()
        )
        rows.append((order.shop.member(member).label, ", ".join(said)))
    packs = []
    for row in order.bill_rows:
        more = row.bought * order.shop.prices.price(row.item).pack + row.on_hand - row.needed
        if more > 1e-6 and row.group != "sticks":
            packs.append(measured(order.shop.prices.price(row.item), more))
    spare = f"More in the packs than is needed: {'; '.join(packs)}." if packs else ""
    return (table("Left over", columns, rows) if rows else note("No length worth keeping is left.")) + note(spare)


def problems_page(order: ClassOrder) -> str:
    """Return what could not be planned, "" where all was."""
    if not order.problems:
        return ""
    items = "".join(f"<li>{escape(problem)}</li>" for problem in order.problems)
    told = note("The other lines are planned. Mend these, and plan again.")
    return f"<ul class='gf-list' style='columns:1'>{items}</ul>{told}"


def kit_page(order: ClassOrder, number: int, system: str, *, box: bool = False) -> str:
    """Return the list of one kit: its pieces with their marks, and what else goes into the bag."""
    kit = next(kit for kit in order.kits if kit.number == number)
    unit = unit_of_length(system)
    columns = (Column("Mark"), Column("Part"), Column("Of"), Column("Cut", unit, number=True),
               Column("Count", number=True), Column("Bends", number=True))  # fmt: skip
    rows = [
        (kit.mark(p.mark), p.role, order.shop.member(p.member).label, length(p.cut_m, system), p.count, p.bends)
        for p in kit.pieces
    ]
    tick = "<span class='gf-box'></span>" if box else ""
    goods = "".join(f"<li>{tick}{escape(said)}</li>" for said in _goods(order, number))
    strips = "".join(
        f"<li>{tick}{escape(f'{many} × {rolled(width, system)}, {written(mm, system)} long')}</li>"
        for width, lengths in kit.strips.items()
        for mm, many in sorted(lengths.items(), reverse=True)
    )
    share = money(order.shares[number], order)
    return (
        f"<h4>Kit {number}: {escape(kit.alias)}, {escape(kit.title.lower())}; pays {escape(share)}</h4>"
        f"{table(f'Pieces of kit {number}', columns, rows)}<ul class='gf-list'>{goods}{strips}</ul>"
    )


def _goods(order: ClassOrder, number: int) -> Iterator[str]:
    """Yield what goes into the bag of one kit beside pieces and strips, in words."""
    kit = next(kit for kit in order.kits if kit.number == number)
    counted: dict[str, float] = {}
    for need in kit.goods:
        counted[need.item] = counted.get(need.item, 0.0) + need.number
    for item, many in ((item, many) for item, many in counted.items() if many):
        yield measured(order.shop.prices.price(item), many)


def measured(price: Price, many: float) -> str:
    """Return how much of an item, as it is handed out: pieces, metres, or paint for so many ends.

    >>> from gardenframe.materials.prices import load_prices
    >>> measured(load_prices().price("zinc-paint"), 16)
    'zinc-rich cold galvanising paint for 16 cut ends'
    >>> measured(load_prices().price("tie-wire"), 12.5)
    '12.5 m (41 ft) of tie wire, galvanised 1.6 mm'
    """
    name = price.label.split(" (one can")[0].removesuffix(BY_THE_METRE)
    if price.unit == "can":
        return f"{name} for {count(math.ceil(many - 1e-9), 'cut end')}"
    if price.unit == "m3":
        return f"{many:.3g} m³ ({many / FOOT_M**3:.3g} ft³) of {name}"
    if price.unit in BY_LENGTH or price.label.endswith(BY_THE_METRE):
        return f"{many:.4g} m ({many / FOOT_M:.3g} ft) of {name}"
    return f"{many:.4g} × {name}"


def rolled(width: str, system: str) -> str:
    """Return the covering and width that a name of `class_kits.width_of` stands for, in words."""
    roll = next(roll for roll in load_rolls().values() if width_of(roll) == width)
    return f"{load_coverings()[roll.covering].label}, {written(roll.width_mm, system)} wide"


def written(length_mm: float, system: str) -> str:
    """Return a length with its unit."""
    return units.write(length_mm / 1000, "length", system)


def rolls_page(order: ClassOrder, system: str) -> str:
    """Return how rolls, boards and sheets are cut for all, "" where there are none."""
    unit = unit_of_length(system)
    columns = (Column("Covering"), Column("Long", unit, number=True), Column("Number", number=True),
               Column("Cut from each", unit))  # fmt: skip
    rows = [
        (rolled(width, system), length(stock / MM, system), times,
         ", ".join(f"{many} × {length(strip / MM, system)}" for strip, many in sorted(content.items(), reverse=True)))
        for width, plan in order.rolls.items()
        for stock, content, times in plan.patterns
    ]  # fmt: skip
    told = note("Which strip is whose stands in the list of each kit. Cut the longest first.")
    return table("Rolls, boards and sheets", columns, rows) + told if rows else ""


def printed(order: ClassOrder, system: str) -> str:
    """Return pages to print: what each pays, the bill, cut sheets, then a list for every kit."""
    sheets = "".join(
        f"<section class='gf-sheet' style='break-inside:auto'><h2>Cut sheet: {escape(order.shop.member(m).label)}, "
        f"{count(len(sheet), 'stick')}</h2>{_sticks(order, sheet, system)}</section>"
        for m, sheet in order.sheets.items()
    )
    rolls = rolls_page(order, system)
    sheets += f"<section class='gf-sheet'><h2>Rolls, boards and sheets</h2>{rolls}</section>" if rolls else ""
    lists = "".join(
        f"<section>{kit_page(order, kit.number, system, box=True).replace('h4>', 'h2>')}</section>"
        for kit in order.kits
    )
    missed = problems_page(order)
    return (
        "<!doctype html><html lang='en'><head><meta charset='utf-8'><title>Class order</title>"
        f"<style>{PRINTED}</style></head><body><h1>Class order</h1><p>{count(len(order.kits), 'kit')}, "
        f"{count(order.pieces, 'piece')}, {count(order.sticks, 'stick')}; "
        f"{escape(money(order.cost.usual, order))} together, {escape(money(order.saving, order))} less than if each "
        "bought alone.</p>"
        + (f"<h2>What could not be planned</h2>{missed}" if missed else "")
        + f"<h2>Who pays what</h2>{kits_page(order)}<h2>One bill for all</h2>{bill_page(order)}"
        f"<h2>Left over</h2>{leftovers_page(order, system)}{sheets}"
        f"<section class='gf-sheet' style='break-inside:auto'><h2>Kits</h2>{lists}</section>"
        "<p class='gf-note'>Nothing here is called safe. Local codes and licensed practice come first. Fitting sizes "
        "and prices are invented: measure yours, cut one joint, check it, then cut the rest.</p></body></html>"
    )


def write_files(order: ClassOrder, folder: Path | str, system: str) -> list[Path]:
    """Return the files written: every table as CSV, pages to print, and a spreadsheet where its library is there."""
    tables = class_tables.tables_of(order, system)
    files: list[tuple[str, bytes]] = [(f"{one.key}.csv", csv_file(one)) for one in tables]
    files.append(("class.html", printed(order, system).encode("utf-8")))
    if can_write("xlsx"):
        from gardenframe.output.exports_xlsx import workbook_with

        files.append(("class.xlsx", workbook_with(tables, "Class order")))
    return put_in(folder, files)
