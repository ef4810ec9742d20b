"""How many seasons a frame of each material is kept, as gardeners say: the reader's own count replaces ours."""

from dataclasses import dataclass

from gardenframe import tables
from gardenframe.errors import InputError
from gardenframe.tables import Column, Table

SEASONS = Column(kind="number", low=0.5, high=100)
SCHEMA = {
    "family": Column(kind="key"),
    "low_seasons": SEASONS,
    "usual_seasons": SEASONS,
    "high_seasons": SEASONS,
    "what": Column(),
    "source": Column(kind="source"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Life:
    """Seasons that a frame of one family of members is kept."""

    family: str
    low_seasons: float
    usual_seasons: float
    high_seasons: float
    what: str
    source: str

    def __post_init__(self) -> None:
        """Refuse a life whose ends are the wrong way round."""
        if not self.low_seasons <= self.usual_seasons <= self.high_seasons:
            got = f"{self.low_seasons:g}, {self.usual_seasons:g}, {self.high_seasons:g}"
            raise InputError(f"life of {self.family}", got, "low, usual and high seasons in rising order")


def load_lives(table: Table | None = None) -> dict[str, Life]:
    """Return the lives by family: ours, or those of a reader's own table."""
    return tables.keyed("lives.csv", SCHEMA, Life, table)
