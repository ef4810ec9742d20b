"""Where each number comes from and how it is known."""

from dataclasses import dataclass
from datetime import date
from functools import cache

from gardenframe import tables
from gardenframe.errors import InputError


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """One source. `how_known`: seen, computed, memory, common practice or invented."""

    source: str
    title: str
    edition: str | None
    place: str | None
    url: str | None
    read_on: date | None
    how_known: str

    @property
    def line(self) -> str:
        """One line for a page: what it is and how it is known."""
        said = {
            "seen": "seen",
            "computed": "computed here by a second method",
            "memory": "from memory",
            "common practice": "common practice, no source",
            "invented": "invented",
        }[self.how_known]
        parts = [self.title] + [part for part in (self.edition, self.place) if part]
        return f"{'; '.join(parts)} ({said})"


def load_sources(table: tables.Table | None = None) -> dict[str, Source]:
    """Return every source by key."""
    return tables.keyed("sources.csv", tables.SOURCES, Source, table)


@cache
def _shipped() -> dict[str, Source]:
    return load_sources()


def how_known(key: str) -> str:
    """Return seen, computed, memory, common practice or invented.

    >>> how_known("emt-dimensions"), how_known("emt-yield")
    ('seen', 'memory')
    """
    if key not in _shipped():
        raise InputError("source", key, "a key of sources.csv", "Add a row to sources.csv first.")
    return _shipped()[key].how_known
