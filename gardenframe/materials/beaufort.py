"""The Beaufort scale. A row is a mean over ten minutes; a gust in it is higher."""

from dataclasses import dataclass
from functools import cache

from gardenframe import tables
from gardenframe.errors import require_within
from gardenframe.materials import constants
from gardenframe.tables import Column, Table
from gardenframe.working import formula

SCHEMA: tables.Schema = {
    "force": Column(kind="key"),
    "label": Column(),
    "from_m_per_s": Column(kind="number", low=0, high=100),
    "source": Column(kind="source"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Beaufort:
    """One row: its number, its name (the names are from memory), its lowest 10-minute mean at 10 m. [m/s]"""

    force: str
    label: str
    from_m_per_s: float
    source: str


@cache
def scale() -> tuple[Beaufort, ...]:
    """Return the rows, calm first."""
    return tuple(load_beaufort().values())


def load_beaufort(table: Table | None = None) -> dict[str, Beaufort]:
    """Return the rows by force."""
    return tables.keyed("beaufort.csv", SCHEMA, Beaufort, table)


@formula(
    result="V_mean", symbols={"gust_m_per_s": "V", "gust_ratio": "g"}, source="gust-factor",
    example={"gust_m_per_s": 24.0, "gust_ratio": 1.5},
)  # fmt: skip
def mean_wind_m_per_s(gust_m_per_s: float, gust_ratio: float) -> float:
    """Ten-minute mean that goes with a 3-second gust. [m/s]

    >>> mean_wind_m_per_s(24.0, 1.5)
    16.0
    """
    return gust_m_per_s / gust_ratio


def row_of_gust(gust_m_per_s: float, gust_ratio: float | None = None) -> Beaufort:
    """Return the row whose mean wind brings a gust.

    >>> row_of_gust(24.0, 1.5).label
    'near gale'
    """
    ratio = constants.value("gust_ratio") if gust_ratio is None else gust_ratio
    require_within("gust factor", ratio, 1.0, 3.0, "", "A gust is higher than the mean: about 1.5 in open country.")
    mean = mean_wind_m_per_s(gust_m_per_s, ratio)
    return [row for row in scale() if mean >= row.from_m_per_s][-1]
