"""What to look at each season: part, when, what to look for, what to do; by what is in a frame."""

from collections.abc import Iterable
from dataclasses import dataclass

from gardenframe import tables
from gardenframe.tables import Column

SCHEMA: tables.Schema = {
    "key": Column(kind="key"),
    "part": Column(),
    "when": Column(),
    "look_for": Column(),
    "do": Column(),
    "applies": Column(kind="tags"),
    "source": Column(kind="source"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """One thing to look at, and the tags of what it goes with."""

    key: str
    part: str
    when: str
    look_for: str
    do: str
    applies: tuple[str, ...]
    source: str


def load_looks(table: tables.Table | None = None) -> dict[str, Look]:
    """Return everything there is to look at by key: ours, or a reader's own table."""
    return tables.keyed("looks.csv", SCHEMA, Look, table)


def looks_for(tags: Iterable[str]) -> list[Look]:
    """Return what goes with any of the tags, and what always does, in the order of the table."""
    asked = {"always", *tags}
    return [look for look in load_looks().values() if not asked.isdisjoint(look.applies)]
