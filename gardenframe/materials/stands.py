"""What stands on and over a grow stand: trays, tubs, buckets, tanks, lamps, crops in water, floors, pipe fittings."""

from dataclasses import dataclass

from gardenframe import tables
from gardenframe.errors import InputError
from gardenframe.tables import Column

SIZE = Column(kind="number", low=20, high=3000)
MASS = Column(kind="number", low=0.01, high=200)
CARRIERS: tables.Schema = {
    "key": Column(kind="key"),
    "label": Column(),
    "kind": Column(kind="choice", choices=("tray", "raft", "bucket")),
    "long_mm": SIZE,
    "wide_mm": SIZE,
    "deep_mm": SIZE,
    "mass_kg": MASS,
    "source": Column(kind="source"),
}
TANKS: tables.Schema = {
    "key": Column(kind="key"),
    "label": Column(),
    "long_mm": SIZE,
    "wide_mm": SIZE,
    "deep_mm": SIZE,
    "wall_mm": Column(kind="number", low=0.5, high=50),
    "mass_kg": MASS,
    "source": Column(kind="source"),
}
LAMPS: tables.Schema = {
    "key": Column(kind="key"),
    "label": Column(),
    "power_w": Column(kind="number", low=1, high=2000),
    "light_umol_per_j": Column(kind="number", low=0.1, high=6),
    "long_mm": SIZE,
    "wide_mm": SIZE,
    "mass_kg": MASS,
    "source": Column(kind="source"),
}
AMOUNT = Column(kind="number", low=0.001, high=1000)
CROPS: tables.Schema = {
    "key": Column(kind="key"),
    "label": Column(),
    "kind": Column(kind="choice", choices=("leafy", "fruiting")),
    "apart_mm": SIZE,
    "growing_days": Column(kind="number", low=1, high=1000),
    "height_mm": SIZE,
    "mass_kg": MASS,
    "light_low_mol_per_m2_day": AMOUNT,
    "light_high_mol_per_m2_day": AMOUNT,
    "light_source": Column(kind="source"),
    "stock_low_l": AMOUNT,
    "stock_high_l": AMOUNT,
    "drinks_low_l_per_day": AMOUNT,
    "drinks_high_l_per_day": AMOUNT,
    "source": Column(kind="source"),
}
FLOORS: tables.Schema = {
    "key": Column(kind="key"),
    "label": Column(),
    "spread_pa": Column(kind="number", low=100, high=100_000, optional=True),
    "bearing_mpa": Column(kind="number", low=0.001, high=100),
    "source": Column(kind="source"),
}
PIPE_FITTINGS: tables.Schema = {
    "key": Column(kind="key"),
    "fitting": Column(kind="choice", choices=("elbow", "tee", "valve", "union", "bulkhead", "cap")),
    "size": Column(kind="ref"),
    "centre_to_stop_mm": Column(kind="number", low=1, high=300),
    "socket_depth_mm": Column(kind="number", low=1, high=150),
    "source": Column(kind="source"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Carrier:
    """One tray, tub or bucket that stands level on a tier. Outside sizes; `deep_mm` holds water to its brim."""

    key: str
    label: str
    kind: str
    long_mm: float
    wide_mm: float
    deep_mm: float
    mass_kg: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TankRow:
    """One tank as sold, outside sizes."""

    key: str
    label: str
    long_mm: float
    wide_mm: float
    deep_mm: float
    wall_mm: float
    mass_kg: float
    source: str

    def __post_init__(self) -> None:
        """Refuse walls that meet."""
        if 2 * self.wall_mm >= min(self.long_mm, self.wide_mm):
            raise InputError(f"{self.key}: wall_mm", self.wall_mm, "less than half the tank", "Measure one wall.")

    @property
    def floor_m2(self) -> float:
        """Area of the water in it. [m2]"""
        return (self.long_mm - 2 * self.wall_mm) * (self.wide_mm - 2 * self.wall_mm) / 1e6

    @property
    def inside_m(self) -> float:
        """Depth inside, to the brim. [m]"""
        return (self.deep_mm - self.wall_mm) / 1000


@dataclass(frozen=True, slots=True, kw_only=True)
class Lamp:
    """One lamp: its power from the socket, and its light for plants per joule of that."""

    key: str
    label: str
    power_w: float
    light_umol_per_j: float
    long_mm: float
    wide_mm: float
    mass_kg: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Crop:
    """One crop grown in water: spacing, days on the stand, light it wants, litres it needs and drinks, low to high."""

    key: str
    label: str
    kind: str
    apart_mm: float
    growing_days: float
    height_mm: float
    mass_kg: float
    light_low_mol_per_m2_day: float
    light_high_mol_per_m2_day: float
    light_source: str
    stock_low_l: float
    stock_high_l: float
    drinks_low_l_per_day: float
    drinks_high_l_per_day: float
    source: str

    def __post_init__(self) -> None:
        """Refuse ranges whose ends are swapped."""
        for name, low, high in (
            ("light", self.light_low_mol_per_m2_day, self.light_high_mol_per_m2_day),
            ("stock", self.stock_low_l, self.stock_high_l),
            ("drinks", self.drinks_low_l_per_day, self.drinks_high_l_per_day),
        ):
            if low > high:
                raise InputError(f"{self.key}: {name}", low, "the low end first")


@dataclass(frozen=True, slots=True, kw_only=True)
class Floor:
    """One kind of floor: what it carries spread out (none where that does not govern) and under a foot."""

    key: str
    label: str
    spread_pa: float | None
    bearing_mpa: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PipeFitting:
    """One pipe fitting of a size: how far from its centre a pipe stops in it, and how deep it goes in to there."""

    key: str
    fitting: str
    size: str
    centre_to_stop_mm: float
    socket_depth_mm: float
    source: str


def load_carriers(table: tables.Table | None = None) -> dict[str, Carrier]:
    """Return every tray, tub and bucket by key: ours (invented), or those of a reader's own table."""
    return tables.keyed("carriers.csv", CARRIERS, Carrier, table)


def load_tanks(table: tables.Table | None = None) -> dict[str, TankRow]:
    """Return every tank by key: ours (invented), or those of a reader's own table.

    >>> load_tanks()["tank-50"].inside_m
    0.266
    """
    return tables.keyed("tanks.csv", TANKS, TankRow, table)


def load_lamps(table: tables.Table | None = None) -> dict[str, Lamp]:
    """Return every lamp by key: ours (invented), or those of a reader's own table."""
    return tables.keyed("lamps.csv", LAMPS, Lamp, table)


def load_crops(table: tables.Table | None = None) -> dict[str, Crop]:
    """Return every crop by key."""
    return tables.keyed("water_crops.csv", CROPS, Crop, table)


def load_floors(table: tables.Table | None = None) -> dict[str, Floor]:
    """Return every kind of floor by key."""
    return tables.keyed("floors.csv", FLOORS, Floor, table)


def load_pipe_fittings(table: tables.Table | None = None) -> dict[str, PipeFitting]:
    """Return every pipe fitting by key (`elbow-pvc-1/2`): ours (invented), or those of a reader's own table."""
    return tables.keyed("pipe_fittings.csv", PIPE_FITTINGS, PipeFitting, table)
