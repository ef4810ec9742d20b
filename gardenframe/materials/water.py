"""What carries water and what lives on it: channels, losses of pipe fittings, feed and plants by area."""

from dataclasses import dataclass

from gardenframe import tables
from gardenframe.errors import InputError
from gardenframe.tables import Column

SECTIONS = ("rectangular", "round")
SIZE = Column(kind="number", low=10, high=600)
CHANNELS: tables.Schema = {
    "key": Column(kind="key"),
    "label": Column(),
    "section": Column(kind="choice", choices=SECTIONS),
    "width_mm": SIZE,
    "depth_mm": SIZE,
    "wall_mm": Column(kind="number", low=0.3, high=20),
    "mass_kg_per_m": Column(kind="number", low=0.05, high=30),
    "source": Column(kind="source"),
}
LOSSES: tables.Schema = {
    "key": Column(kind="key"),
    "label": Column(),
    "loss_ratio": Column(kind="number", low=0, high=100),
    "source": Column(kind="source"),
}
PER_AREA = Column(kind="number", low=0.1, high=1000)
RATIOS: tables.Schema = {
    "key": Column(kind="key"),
    "label": Column(),
    "feed_low_g_per_m2_day": PER_AREA,
    "feed_high_g_per_m2_day": PER_AREA,
    "plants_low_per_m2": PER_AREA,
    "plants_high_per_m2": PER_AREA,
    "source": Column(kind="source"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Channel:
    """One channel as sold. `width_mm` and `depth_mm` are inside; a round one is as deep as it is wide."""

    key: str
    label: str
    section: str
    width_mm: float
    depth_mm: float
    wall_mm: float
    mass_kg_per_m: float
    source: str

    def __post_init__(self) -> None:
        """Refuse a round channel that is not round."""
        if self.section == "round" and self.width_mm != self.depth_mm:
            raise InputError(f"{self.key}: depth_mm", self.depth_mm, f"{self.width_mm:g} mm, the width of a round one")


@dataclass(frozen=True, slots=True, kw_only=True)
class PipeLoss:
    """What one pipe fitting takes from the flow, as a share of the head of its speed (K)."""

    key: str
    label: str
    loss_ratio: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Ratios:
    """Fish feed and plants for each square metre of growing area, low to high, for one kind of plant."""

    key: str
    label: str
    feed_low_g_per_m2_day: float
    feed_high_g_per_m2_day: float
    plants_low_per_m2: float
    plants_high_per_m2: float
    source: str

    def __post_init__(self) -> None:
        """Refuse ranges whose ends are swapped."""
        if self.feed_low_g_per_m2_day > self.feed_high_g_per_m2_day:
            raise InputError(f"{self.key}: feed", self.feed_low_g_per_m2_day, "the low end first")
        if self.plants_low_per_m2 > self.plants_high_per_m2:
            raise InputError(f"{self.key}: plants", self.plants_low_per_m2, "the low end first")


def load_channels(table: tables.Table | None = None) -> dict[str, Channel]:
    """Return every channel by key: ours (invented), or those of a reader's own table."""
    return tables.keyed("channels.csv", CHANNELS, Channel, table)


def load_losses(table: tables.Table | None = None) -> dict[str, PipeLoss]:
    """Return the loss of every pipe fitting by key."""
    return tables.keyed("pipe_losses.csv", LOSSES, PipeLoss, table)


def load_ratios(table: tables.Table | None = None) -> dict[str, Ratios]:
    """Return feed and plants by area for leafy and fruiting plants.

    >>> load_ratios()["leafy"].feed_low_g_per_m2_day
    40.0
    """
    return tables.keyed("aquaponics.csv", RATIOS, Ratios, table)
