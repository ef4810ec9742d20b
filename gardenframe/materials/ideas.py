"""What could be built: the examples of all builds of one invented garden, by what they are for."""

from dataclasses import dataclass

from gardenframe import tables
from gardenframe.tables import Column

NEEDS = {
    "climb": "something climbs",
    "walk": "people walk under or into it",
    "keep-out": "keep animals or insects out",
    "shade": "give shade",
    "warm": "keep warm",
    "lift": "lift the soil",
    "water": "grow in water",
    "sit": "garden from a chair, or sit",
}
SCHEMA: tables.Schema = {
    "key": Column(kind="key"),
    "build": Column(kind="ref"),
    "example": Column(),
    "needs": Column(kind="tags"),
    "gust_m_per_s": Column(kind="number", low=0, high=200, optional=True),
    "condition": Column(optional=True),
    "governs": Column(optional=True),
    "source": Column(kind="source"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Idea:
    """One example of a build, what it is for, and the forecast gust that it carries at the site as shipped.

    `gust_m_per_s` is none where nothing is used up in the range that is looked at, or no wind reaches it.
    """

    key: str
    build: str
    example: str
    needs: tuple[str, ...]
    gust_m_per_s: float | None
    condition: str | None
    governs: str | None
    source: str


def load_ideas(table: tables.Table | None = None) -> dict[str, Idea]:
    """Return every idea by key: ours, or those of another table."""
    return tables.keyed("ideas.csv", SCHEMA, Idea, table)
