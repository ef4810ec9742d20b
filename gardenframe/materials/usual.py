"""The longest bay and the tallest post that people build in each tube: beyond it a workbook warns, never refuses."""

from dataclasses import dataclass

from gardenframe import tables
from gardenframe.tables import Column, Table

SCHEMA = {
    "member": Column(kind="key"),
    "longest_bay_m": Column(kind="number", low=0.1, high=10),
    "tallest_m": Column(kind="number", low=0.1, high=10),
    "source": Column(kind="source"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class UsualSize:
    """What people build in one tube without further thought. [m]"""

    member: str
    longest_bay_m: float
    tallest_m: float
    source: str


def load_usual_sizes(table: Table | None = None) -> dict[str, UsualSize]:
    """Return the usual sizes by member key."""
    return tables.keyed("usual_sizes.csv", SCHEMA, UsualSize, table)
