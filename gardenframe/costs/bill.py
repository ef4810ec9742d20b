"""What to buy: what is needed against what is sold, what is on hand taken off, and what it costs.

Needs and the shop come in; rows of the bill and their sum (low, usual, high) go out.
"""

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from gardenframe.materials.prices import Prices
from gardenframe.materials.shop import Shop


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """Something needed: `number` of an item; `spare` where a share is added for loss; `note` says what it is for."""

    item: str
    number: float
    group: str
    note: str = ""
    spare: bool = False
    part: float = 1.0  # size against the priced one: a stick of twice the length costs twice


def sticks_needed(shop: Shop, key: str, bought: Mapping[int, int]) -> Iterator[Need]:
    """Yield the sticks of a member that are bought: numbers by length in marks of the tape."""
    lengths = {shop.stick_marks(length): length for length in shop.stick_lengths(key)}
    for marks, number in bought.items():
        item, part = shop.priced_stick(key, lengths[marks])
        yield Need(
            item=item, number=number, group="sticks", part=part, note="" if part == 1 else f"{lengths[marks]:.0f} mm"
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class BillRow:
    """One line of the bill. `needed` and `on_hand` in single items, `bought` in units sold; costs before tax."""

    item: str
    label: str
    group: str
    unit: str
    needed: float
    on_hand: float
    bought: int
    price: float
    cost_low: float
    cost: float
    cost_high: float
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Cost:
    """What a build costs, tax included, at low, usual and high prices."""

    low: float
    usual: float
    high: float
    currency: str


def bill_rows(needs: Iterable[Need], prices: Prices, on_hand: dict[str, float], spares: float) -> list[BillRow]:
    """Return one row an item, in the order in which items are first needed.

    Raises
    ------
    InputError
        For an item without a price.
    """
    first: dict[tuple[str, float], Need] = {}
    number: dict[tuple[str, float], float] = {}
    notes: dict[tuple[str, float], dict[str, None]] = {}
    for need in needs:
        key = (need.item, need.part)
        first.setdefault(key, need)
        number[key] = number.get(key, 0.0) + need.number
        if need.note:
            notes.setdefault(key, {})[need.note] = None
    merged = {key: replace(need, number=number[key], note="; ".join(notes.get(key, ()))) for key, need in first.items()}
    left = dict(on_hand)
    return [_row(need, prices, left, spares) for need in merged.values() if need.number > 0]


def _row(need: Need, prices: Prices, left: dict[str, float], spares: float) -> BillRow:
    price = prices.price(need.item)
    wanted = math.ceil(need.number * (1 + spares) - 1e-9) if need.spare else need.number
    taken = min(left.get(need.item, 0.0), wanted)
    left[need.item] = left.get(need.item, 0.0) - taken
    bought = math.ceil((wanted - taken) / price.pack - 1e-9)
    low, usual, high = (each * need.part * bought for each in (price.low, price.usual, price.high))
    return BillRow(
        item=need.item,
        label=price.label,
        group=need.group,
        unit=price.unit,
        needed=wanted,
        on_hand=taken,
        bought=bought,
        price=price.usual * need.part,
        cost_low=low,
        cost=usual,
        cost_high=high,
        note=need.note,
    )


def total(rows: Iterable[BillRow], tax: float, currency: str) -> Cost:
    """Return the sum of a bill with tax."""
    rows = list(rows)
    low, usual, high = (
        sum(getattr(row, name) for row in rows) * (1 + tax) for name in ("cost_low", "cost", "cost_high")
    )
    return Cost(low=low, usual=usual, high=high, currency=currency)
