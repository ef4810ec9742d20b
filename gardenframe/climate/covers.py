"""What covers lose and let through, how houses leak, and the invented months of Millbrook Lane garden."""

from dataclasses import dataclass

from gardenframe import tables
from gardenframe.errors import InputError
from gardenframe.tables import Column

COVERS: tables.Schema = {
    "key": Column(kind="key"),
    "label": Column(),
    "covering": Column(kind="ref", optional=True),
    "u_low_w_per_m2_k": Column(kind="number", low=0.1, high=12),
    "u_high_w_per_m2_k": Column(kind="number", low=0.1, high=12),
    "light_share": Column(kind="number", low=0, high=1),
    "source": Column(kind="source"),
}
LEAKS: tables.Schema = {
    "key": Column(kind="key"),
    "label": Column(),
    "changes_low_per_h": Column(kind="number", low=0, high=30),
    "changes_high_per_h": Column(kind="number", low=0, high=30),
    "source": Column(kind="source"),
}
TEMPERATURE = Column(kind="number", low=-70, high=60)
GARDEN: tables.Schema = {
    "key": Column(kind="key"),
    "month": Column(kind="whole", low=1, high=12),
    "mean_degc": TEMPERATURE,
    "warm_day_degc": TEMPERATURE,
    "cold_night_degc": TEMPERATURE,
    "sun_kwh_per_m2_day": Column(kind="number", low=0, high=12),
    "wind_m_per_s": Column(kind="number", low=0, high=30),
    "source": Column(kind="source"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class CoverHeat:
    """One way of covering: heat lost by the square metre and kelvin, and the share of light let through."""

    key: str
    label: str
    covering: str | None
    u_low_w_per_m2_k: float
    u_high_w_per_m2_k: float
    light_share: float
    source: str

    def __post_init__(self) -> None:
        """Refuse values whose ends are swapped."""
        if self.u_low_w_per_m2_k > self.u_high_w_per_m2_k:
            needs = f"at most {self.u_high_w_per_m2_k:g} W/(m2 K), the higher value"
            raise InputError(f"{self.key}: u_low_w_per_m2_k", self.u_low_w_per_m2_k, needs)


@dataclass(frozen=True, slots=True, kw_only=True)
class AirLeak:
    """How often the air of a closed house changes by itself."""

    key: str
    label: str
    changes_low_per_h: float
    changes_high_per_h: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Month:
    """One month of a garden; the warm day and the cold night are those that a house is sized for."""

    key: str
    month: int
    mean_degc: float
    warm_day_degc: float
    cold_night_degc: float
    sun_kwh_per_m2_day: float
    wind_m_per_s: float
    source: str


def load_covers(table: tables.Table | None = None) -> dict[str, CoverHeat]:
    """Return every way of covering by key: ours, or those of a reader's own table."""
    return tables.keyed("cover_heat.csv", COVERS, CoverHeat, table)


def load_leaks(table: tables.Table | None = None) -> dict[str, AirLeak]:
    """Return every kind of house by key."""
    return tables.keyed("air_leaks.csv", LEAKS, AirLeak, table)


def load_garden(table: tables.Table | None = None) -> dict[int, Month]:
    """Return the months, 1 to 12: those of the invented garden, or a reader's own."""
    months = {month.month: month for month in tables.keyed("garden_climate.csv", GARDEN, Month, table).values()}
    missing = [number for number in range(1, 13) if number not in months]
    if missing:
        raise InputError("months", f"none for month {missing[0]}", "one row for each month from 1 to 12")
    return months


def find_cover(key: str) -> CoverHeat:
    """Return a way of covering by its key; InputError naming those there are."""
    covers = load_covers()
    if key not in covers:
        raise InputError("cover", key, f"one of {', '.join(covers)}")
    return covers[key]
