"""What to settle before building, and what to look after later: sentences, and what each goes with."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from gardenframe import tables
from gardenframe.tables import Column

SEASONS = ("month", "storm", "spring", "autumn", "year")
SCHEMA: tables.Schema = {
    "key": Column(kind="key"),
    "text": Column(),
    "applies": Column(kind="tags"),
    "source": Column(kind="source"),
}
CARE: tables.Schema = {**SCHEMA, "when": Column(kind="choice", choices=SEASONS)}


@dataclass(frozen=True, slots=True, kw_only=True)
class ToSettle:
    """One thing to settle before building, and the tags of the places that it goes with."""

    key: str
    text: str
    applies: tuple[str, ...]
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Care:
    """One thing to look after: when, what, and the tags of what it goes with."""

    key: str
    text: str
    applies: tuple[str, ...]
    when: str
    source: str


@cache
def _before() -> dict[str, ToSettle]:
    return tables.keyed("before_building.csv", SCHEMA, ToSettle)


@cache
def _care() -> dict[str, Care]:
    return tables.keyed("care.csv", CARE, Care)


def to_settle(wanted: Iterable[str]) -> list[ToSettle]:
    """Return what to settle first where any of the tags holds, in the order of the table."""
    asked = set(wanted)
    return [row for row in _before().values() if not asked.isdisjoint(row.applies)]


def care_for(wanted: Iterable[str]) -> list[Care]:
    """Return what to look after where any of the tags holds, in the order of the table."""
    asked = set(wanted)
    return [row for row in _care().values() if not asked.isdisjoint(row.applies)]


def tags() -> frozenset[str]:
    """Return every tag that some row of the two tables goes with."""
    before = {tag for row in _before().values() for tag in row.applies}
    return frozenset(before.union(*(row.applies for row in _care().values())))
