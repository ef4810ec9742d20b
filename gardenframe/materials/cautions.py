"""Cautions shown beside a result and on the build sheet. They defer to local codes and licensed practice."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from gardenframe import tables
from gardenframe.errors import InputError
from gardenframe.tables import Column

SCHEMA: tables.Schema = {
    "key": Column(kind="key"),
    "text": Column(),
    "applies": Column(kind="tags"),
    "source": Column(kind="source"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """One caution: its sentences and the tags of the builds and choices that it goes with."""

    key: str
    text: str
    applies: tuple[str, ...]
    source: str


def load_cautions(table: tables.Table | None = None) -> dict[str, Caution]:
    """Return every caution by key."""
    return tables.keyed("cautions.csv", SCHEMA, Caution, table)


@cache
def _ours() -> dict[str, Caution]:
    return load_cautions()


@cache
def tags() -> frozenset[str]:
    """Return every tag that some caution goes with."""
    return frozenset(tag for caution in _ours().values() for tag in caution.applies)


def cautions_for(wanted: Iterable[str], strict: bool = False) -> list[Caution]:
    """Return the cautions that go with any of the tags, in the order of the table.

    A tag that no caution goes with is passed over, unless `strict`: then InputError, for tests of a build's own tags.
    """
    asked = set(wanted)
    unknown = sorted(asked - tags()) if strict else []
    if unknown:
        raise InputError("caution", unknown[0], "a tag that cautions.csv has: " + ", ".join(sorted(tags())))
    return [caution for caution in _ours().values() if not asked.isdisjoint(caution.applies)]
