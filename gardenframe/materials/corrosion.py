"""How fast zinc goes in the air of different places: ISO 9223's categories, by loss in the first year."""

from dataclasses import dataclass

from gardenframe import tables
from gardenframe.errors import InputError
from gardenframe.tables import Column

LOSS = Column(kind="number", low=0.001, high=30)
SCHEMA: tables.Schema = {
    "key": Column(kind="key"),
    "label": Column(),
    "low_um": LOSS,
    "high_um": LOSS,
    "where": Column(),
    "source": Column(kind="source"),
    "where_source": Column(kind="source"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Category:
    """One category: the zinc lost from a face in the first year lies between two values. [um]"""

    key: str
    label: str
    low_um: float
    high_um: float
    where: str
    source: str
    where_source: str

    def __post_init__(self) -> None:
        """Refuse a category whose ends are swapped."""
        if self.low_um > self.high_um:
            raise InputError(f"{self.key}: low_um", self.low_um, f"at most {self.high_um:g}, its high_um")


def load_corrosion() -> dict[str, Category]:
    """Return the categories by key, mildest first."""
    return tables.keyed("corrosion.csv", SCHEMA, Category)
