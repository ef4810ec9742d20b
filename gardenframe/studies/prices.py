"""Which price matters most, and at which price or life two choices cost the same.

Plans come in, swings and break-evens go out. Quantities stay as they are: a price moves the sum, not what is bought.
"""

import math
from dataclasses import dataclass

from gardenframe.costs.bill import BillRow
from gardenframe.road import Plan
from gardenframe.studies.compare import Compared, a_season, row_seasons


@dataclass(frozen=True, slots=True, kw_only=True)
class Swing:
    """What one price does to the whole cost, from its low to its high, all others usual. With tax."""

    item: str
    label: str
    low: float
    usual: float
    high: float

    @property
    def width(self) -> float:
        """From the lowest to the highest cost."""
        return self.high - self.low


def swings(made: Plan, most: int = 8) -> list[Swing]:
    """Return what each price does to the cost, the widest first; what is beyond `most` moves together at the end."""
    total, tax = made.cost.usual, 1 + made.shop.tax
    found: dict[str, list[BillRow]] = {}
    for row in made.bill_rows:
        found.setdefault(row.item, []).append(row)
    each = [
        _swing(item, rows[0].label, rows, total, tax) for item, rows in found.items() if any(r.bought for r in rows)
    ]
    each.sort(key=lambda swing: -swing.width)
    if len(each) <= most:
        return each
    rest = [row for swing in each[most - 1 :] for row in found[swing.item]]
    return [*each[: most - 1], _swing("", f"{len(each) - most + 1} others together", rest, total, tax)]


def _swing(item: str, label: str, rows: list[BillRow], total: float, tax: float) -> Swing:
    less = sum(row.cost - row.cost_low for row in rows) * tax
    more = sum(row.cost_high - row.cost for row in rows) * tax
    return Swing(item=item, label=label, low=total - less, usual=total, high=total + more)


@dataclass(frozen=True, slots=True, kw_only=True)
class EvenPrice:
    """The price of one unit of an item at which two choices cost the same, all other prices usual.

    `price` is none where no price does it: both buy as many, or it would have to be below nothing.
    """

    item: str
    label: str
    now: float
    price: float | None
    first_buys: float
    second_buys: float


def even_prices(first: Plan, second: Plan) -> list[EvenPrice]:
    """Return, for every item that the two buy differently, the price that would even them out; nearest first."""
    ones, others = _bought(first), _bought(second)
    gap = second.cost.usual - first.cost.usual
    found = []
    for item in dict.fromkeys([*ones, *others]):
        a, b = ones.get(item, 0.0), others.get(item, 0.0)
        if math.isclose(a, b):
            continue
        price = first.shop.prices.price(item)
        tax = 1 + first.shop.tax
        even = price.usual + gap / ((a - b) * tax)
        found.append(
            EvenPrice(
                item=item,
                label=price.label,
                now=price.usual,
                price=even if even >= 0 else None,
                first_buys=a,
                second_buys=b,
            )
        )
    return sorted(found, key=lambda even: abs(even.price / even.now - 1) if even.price is not None else math.inf)


def _bought(made: Plan) -> dict[str, float]:
    """Return how many units of each item are bought, a longer stick as its share of the priced one."""
    found: dict[str, float] = {}
    for row in made.bill_rows:
        usual = made.shop.prices.price(row.item).usual
        units = row.cost / usual if usual else float(row.bought)
        found[row.item] = found.get(row.item, 0.0) + units
    return found


def even_life(first: Compared, second: Compared) -> float | None:
    """Return the seasons that the second must last to cost as much a season as the first; none where no life does.

    A covering keeps its own life, as far as the frame lasts longer.
    """
    if first.plan is None or second.plan is None:
        return None
    low, high = 0.01, 1000.0
    if a_season(second.plan, high) > first.a_season:
        return None
    for _ in range(60):
        middle = math.sqrt(low * high)
        low, high = (middle, high) if a_season(second.plan, middle) > first.a_season else (low, middle)
    return high


def spent(made: Plan, life_seasons: float, seasons: int) -> list[tuple[float, float]]:
    """Return what has been spent by the start of each season: a row is bought again when its life is over."""
    tax = 1 + made.shop.tax
    rows = [(row.cost * tax, row_seasons(row, life_seasons)) for row in made.bill_rows]
    return [
        (float(year), sum(cost * (1 + math.floor(year / life + 1e-9)) for cost, life in rows))
        for year in range(seasons)
    ]


def crosses(first: list[tuple[float, float]], second: list[tuple[float, float]]) -> list[float]:
    """Return the seasons in which the dearer of two spendings becomes the other one."""
    found, last = [], 0
    for (season, a), (_, b) in zip(first, second, strict=True):
        now = (a > b + 1e-9) - (b > a + 1e-9)
        if now and last and now != last:
            found.append(season)
        last = now or last
    return found
