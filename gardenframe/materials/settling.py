"""What to settle before building: sentences to tick, and the places that each goes with."""

from dataclasses import dataclass
from functools import cache

from gardenframe import tables
from gardenframe.tables import Column

PLACES = ("any", "outdoors", "indoors")
SCHEMA: tables.Schema = {
    "key": Column(kind="key"),
    "text": Column(),
    "place": Column(kind="choice", choices=PLACES),
    "source": Column(kind="source"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class ToSettle:
    """One thing to settle before building, and the places that it goes with."""

    key: str
    text: str
    place: str
    source: str


@cache
def _before() -> dict[str, ToSettle]:
    return tables.keyed("before_building.csv", SCHEMA, ToSettle)


def to_settle(indoors: bool = False) -> list[ToSettle]:
    """Return what to settle first outdoors or under a roof, in the order of the table."""
    return [row for row in _before().values() if row.place in ("any", "indoors" if indoors else "outdoors")]
