"""Plants: how high they climb, how far apart they stand, what hangs on the support and how much wind they catch."""

from dataclasses import dataclass

from gardenframe import tables
from gardenframe.errors import InputError
from gardenframe.materials import constants
from gardenframe.tables import Column

STAGES = ("young", "half", "full")
CLIMBS = ("tendril", "twine", "tie", "no")
SHARE = Column(kind="number", low=0, high=1)
MASS = Column(kind="number", low=0.01, high=300)
SCHEMA: tables.Schema = {
    "key": Column(kind="key"),
    "label": Column(),
    "family": Column(),
    "climbs": Column(kind="choice", choices=CLIMBS),
    "height_low_m": Column(kind="number", low=0.05, high=10),
    "height_high_m": Column(kind="number", low=0.05, high=10),
    "spacing_mm": Column(kind="number", low=10, high=10_000),
    "mass_low_kg_per_plant": MASS,
    "mass_usual_kg_per_plant": MASS,
    "mass_high_kg_per_plant": MASS,
    "wind_young": SHARE,
    "wind_half": SHARE,
    "wind_full": SHARE,
    "hand_opening_mm": Column(kind="number", low=20, high=400),
    "perennial": Column(kind="flag"),
    "source": Column(kind="source"),
    "mass_source": Column(kind="source"),
    "wind_source": Column(kind="source"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Plant:
    """One kind of plant.

    Masses hang on the support when the plant is full-grown and wet. `wind_...` is the share of the netted face that
    stops wind at each growth stage. `hand_opening_mm` is the opening that lets a hand pick through the net.
    """

    key: str
    label: str
    family: str
    climbs: str
    height_low_m: float
    height_high_m: float
    spacing_mm: float
    mass_low_kg_per_plant: float
    mass_usual_kg_per_plant: float
    mass_high_kg_per_plant: float
    wind_young: float
    wind_half: float
    wind_full: float
    hand_opening_mm: float
    perennial: bool
    source: str
    mass_source: str
    wind_source: str

    def __post_init__(self) -> None:
        """Refuse ranges whose ends are swapped and plants that shrink."""
        for low, high in (
            ("height_low_m", "height_high_m"),
            ("mass_low_kg_per_plant", "mass_usual_kg_per_plant"),
            ("mass_usual_kg_per_plant", "mass_high_kg_per_plant"),
            ("wind_young", "wind_half"),
            ("wind_half", "wind_full"),
        ):
            if getattr(self, low) > getattr(self, high):
                raise InputError(
                    f"{self.key}: {low}", getattr(self, low), f"at most {getattr(self, high):g}, its {high}"
                )

    @property
    def climber(self) -> bool:
        """True where the plant climbs or is tied up."""
        return self.climbs != "no"

    @property
    def mass_kg_per_m(self) -> float:
        """Hanging mass of a metre of row, full-grown, at the usual mass and spacing. [kg/m]"""
        return self.mass_usual_kg_per_plant / (self.spacing_mm / 1000)

    @property
    def mass_high_kg_per_m(self) -> float:
        """Hanging mass of a metre of row, full-grown, at the high mass. [kg/m]"""
        return self.mass_high_kg_per_plant / (self.spacing_mm / 1000)

    def stage_mass_kg_per_m(self, stage: str) -> float:
        """Hanging mass of a metre of row at a growth stage, at the high mass: what a support is checked for. [kg/m]"""
        return self.mass_high_kg_per_m * constants.value(f"mass_share_{checked_stage(stage)}")

    def solidity(self, stage: str) -> float:
        """Share of the netted face that stops wind at a growth stage."""
        return {"young": self.wind_young, "half": self.wind_half, "full": self.wind_full}[checked_stage(stage)]


def checked_stage(stage: str) -> str:
    """Return the growth stage; InputError where it is none."""
    if stage not in STAGES:
        raise InputError("growth stage", stage, f"one of {', '.join(STAGES)}")
    return stage


def load_plants(table: tables.Table | None = None) -> dict[str, Plant]:
    """Return every plant by key: ours, or those of a reader's own table."""
    return tables.keyed("plants.csv", SCHEMA, Plant, table)


def find(key: str) -> Plant:
    """Return a plant by its key; InputError naming those there are."""
    plants = load_plants()
    if key not in plants:
        raise InputError("plant", key, f"one of {', '.join(plants)}")
    return plants[key]
