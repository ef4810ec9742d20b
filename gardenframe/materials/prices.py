"""What each item costs. Our amounts are invented; a reader's own table replaces them cell by cell."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from functools import cache
from types import MappingProxyType
from typing import Any

from gardenframe import tables
from gardenframe.errors import InputError, TableError
from gardenframe.tables import Column
from gardenframe.units import CURRENCY_MARKS


def _schema(optional: bool) -> tables.Schema:
    """Return the schema; in a reader's own table a cell of `none` keeps ours."""
    money = Column(kind="number", low=0, high=100_000, optional=optional)
    return {
        "item": Column(kind="key"),
        "label": Column(optional=optional),
        "unit": Column(optional=optional),
        "pack": Column(kind="number", low=0.001, high=100_000, optional=optional),
        "low": money,
        "usual": money,
        "high": money,
        "currency": Column(kind="choice", choices=tuple(CURRENCY_MARKS), optional=optional),
        "priced_on": Column(kind="date", optional=optional),
        "source": Column(kind="source", optional=optional),
    }


SCHEMA = _schema(optional=False)
OWN = _schema(optional=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class Price:
    """What one `unit` of an item costs; `pack` of what is needed come in one unit."""

    item: str
    label: str
    unit: str
    pack: float
    low: float
    usual: float
    high: float
    currency: str
    priced_on: date
    source: str


@dataclass(frozen=True, slots=True)
class Prices(Mapping[str, Price]):
    """Prices by item, in one currency. `own` names the items that the reader priced."""

    by_item: Mapping[str, Price]
    own: tuple[str, ...] = ()

    def __getitem__(self, item: str) -> Price:
        return self.by_item[item]

    def __iter__(self) -> Any:
        return iter(self.by_item)

    def __len__(self) -> int:
        return len(self.by_item)

    @property
    def currency(self) -> str:
        """The one currency of the table."""
        return next(iter(self.by_item.values())).currency

    @property
    def invented(self) -> bool:
        """True while any price is ours, and so invented."""
        return any(price.source == "invented" for price in self.by_item.values())

    def price(self, item: str) -> Price:
        """Return the price of an item; InputError where the table has none."""
        if item not in self.by_item:
            raise InputError("price", item, "an item of the price table", "Add a row for it to your price table.")
        return self.by_item[item]


def load_prices(table: tables.Table | None = None) -> Prices:
    """Return our prices, or ours with the cells of a reader's own table in their place.

    Raises
    ------
    TableError
        At the first bad cell; where low, usual and high are not in rising order; where a new item leaves a cell `none`;
        where two currencies would be added up.
    """
    ours = _ours()
    if table is None:
        return ours
    rows = tables.read(table, OWN, line_as="line")
    name = tables.name_of(table)
    merged = dict(ours.by_item)
    for row in rows:
        merged[row["item"]] = _merged(name, row, ours.by_item.get(row["item"]))
    _one_currency(name, rows, merged)
    return Prices(MappingProxyType(merged), tuple(row["item"] for row in rows))


@cache
def _ours() -> Prices:
    rows = tables.read("prices.csv", SCHEMA, line_as="line")
    return Prices(MappingProxyType({row["item"]: _merged("prices.csv", row, None) for row in rows}))


def _merged(name: str, row: tables.Row, ours: Price | None) -> Price:
    """Return the reader's row with our cells where theirs are `none`."""
    line = row["line"]
    cells: dict[str, Any] = {}
    for heading in SCHEMA:
        cells[heading] = row[heading] if row[heading] is not None or ours is None else getattr(ours, heading)
        if cells[heading] is None:
            raise TableError(name, line, heading, None, "a value, since we have no price of this item to keep")
    if ours is not None and row["source"] is None and any(row[part] is not None for part in ("low", "usual", "high")):
        cells["source"] = "own"
        for part, stretch in (("low", min), ("high", max)):
            if row[part] is None:  # ours, which the reader's usual price may have left behind
                cells[part] = stretch(cells[part], cells["usual"])
    for lower, upper in (("low", "usual"), ("usual", "high")):
        if cells[lower] > cells[upper]:
            needs = f"at most {cells[upper]:g}, the {upper} price"
            raise TableError(name, line, lower, cells[lower], needs, "Give low, usual and high in rising order.")
    return Price(**cells)


def _one_currency(name: str, rows: list[tables.Row], merged: Mapping[str, Price]) -> None:
    """Raise TableError where prices in two currencies would be added up."""
    found = {price.currency for price in merged.values()}
    if len(found) == 1:
        return
    ours = _ours().currency
    for row in rows:
        if row["currency"] not in (None, ours):
            left = len(set(merged) - {one["item"] for one in rows})
            needs = f"{ours}, the currency of the {left} rows that your table leaves as they are"
            do = "Convert your prices, or price every item in your currency."
            raise TableError(name, row["line"], "currency", row["currency"], needs if left else "one currency", do)
