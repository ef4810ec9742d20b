"""What goes to the shop: the list to buy, and the cuts that are made there because sticks are too long to carry."""

from collections.abc import Iterator

from gardenframe import units
from gardenframe.materials.shop import TAPES
from gardenframe.output import markup, telling
from gardenframe.output.markup import Column
from gardenframe.output.sticks import ShopCut, shop_cuts
from gardenframe.road import Plan

INVENTED = "Prices are invented: put your shop's own in the price table. Tools are not counted."


def parts(plan: Plan, system: str) -> Iterator[str]:
    """Yield the parts for the shop."""
    yield markup.section("buy", "To the shop: what to buy", _bill(plan, system), _at_hand(plan, system), fresh=True)
    yield markup.section("shopcuts", "To the shop: cuts made there", _cuts(plan, system))


def _bill(plan: Plan, system: str) -> str:
    currency = plan.cost.currency
    heads = (
        Column("Item"), Column("Needed", number=True), Column("Buy", number=True), Column("Sold by"),
        Column("Price", currency, number=True), Column("Cost", currency, number=True),
    )  # fmt: skip
    rows = [
        (f"{row.label}{f' ({row.note})' if row.note else ''}", f"{row.needed - row.on_hand:g}", row.bought,
         telling.sold_by(row.unit), f"{row.price:.2f}", f"{row.cost:.2f}")
        for row in plan.bill_rows
    ]  # fmt: skip
    tax = f", with {units.write(plan.shop.tax, 'share', system)} tax" if plan.shop.tax else ""
    total = (f"Together{tax}", "", "", "", "", f"{plan.cost.usual:,.2f}")
    spread = f"{telling.money(plan.cost.low, plan)} at low prices, {telling.money(plan.cost.high, plan)} at high ones. "
    share = units.write(plan.shop.spares, "share", system)
    spares = f"Needed counts {share} more fittings, ties and screws than are built in. " if plan.shop.spares else ""
    return markup.table("Shopping list", heads, rows, total, tick=True) + markup.paragraph(
        spares + spread + INVENTED, "note"
    )


def _at_hand(plan: Plan, system: str) -> str:
    """Return what is there already and is not bought."""
    goods = [(row.label, f"{row.on_hand:g}") for row in plan.bill_rows if row.on_hand]
    mark_m = TAPES[plan.shop.tape] / 1000
    for member, cutting in plan.cutting.items():
        label = plan.shop.member(member).label
        goods += [
            (f"{label}, {units.write(stock * mark_m, 'length', system)} long", f"{number}")
            for stock, number in cutting.used_at_hand.items()
        ]
    return markup.table("At hand, not bought", (Column("Item"), Column("Used", number=True)), goods) if goods else ""


def _cuts(plan: Plan, system: str) -> str:
    if plan.shop.carried_mm is None:
        sticks = {
            units.write(length / 1000, "length", system)
            for key in plan.cutting
            for length in plan.shop.stick_lengths(key)
        }
        whole = " or ".join(sorted(sticks))
        return markup.paragraph(
            f"None: whole sticks ({whole}) are carried home. Where they are too long for that, set the longest that "
            "can be carried among the settings, and this list names the cuts to ask for."
        )
    longest = units.write(plan.shop.carried_mm / 1000, "length", system)
    found = shop_cuts(plan)
    if not found:
        return markup.paragraph(f"None: no stick is longer than the {longest} that can be carried.")
    told = f"So that nothing is longer than {longest}. Measure all cuts from one end; the rest is cut at home."
    heads = (
        Column("Sticks", number=True), Column("Of"), Column("Long", telling.unit_of_length(system), number=True),
        Column("Cut at", telling.unit_of_length(system)), Column("Carry home"),
    )  # fmt: skip
    rows = [_row(plan, cut, system) for cut in found]
    return markup.paragraph(told) + markup.table(
        "Cuts at the shop, before all others", heads, rows, tick=[cut.times for cut in found]
    )


def _row(plan: Plan, cut: ShopCut, system: str) -> tuple[str, str, str, str, str]:
    carried = "; ".join(
        f"{telling.length(long, system)} ({', '.join(marks) if marks else 'offcut'})" for long, marks in cut.parts
    )
    at = ", ".join(telling.length(where, system) for where in cut.cuts_m)
    label = plan.shop.member(cut.member).label
    return f"{cut.times}", label, telling.length(cut.stick_m, system), at, carried
