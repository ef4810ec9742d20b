"""Soils: what the ground resists and what a bed's filling weighs and pushes."""

from dataclasses import dataclass

from gardenframe import tables
from gardenframe.errors import InputError
from gardenframe.materials import constants
from gardenframe.tables import Column
from gardenframe.units import FOOT_M, POUND_N

PSF_PA = POUND_N / FOOT_M**2
PCF_N_PER_M3 = POUND_N / FOOT_M**3
SOME = Column(kind="number", low=1, high=20_000, optional=True)
SOME_SOURCE = Column(kind="source", optional=True)
DENSITY = Column(kind="number", low=50, high=3000)
SCHEMA: tables.Schema = {
    "key": Column(kind="key"),
    "label": Column(),
    "fill": Column(kind="flag"),
    "lateral_psf_per_ft": SOME,
    "lateral_source": SOME_SOURCE,
    "bearing_psf": SOME,
    "bearing_source": SOME_SOURCE,
    "friction": Column(kind="number", low=0.01, high=1.5, optional=True),
    "cohesion_psf": SOME,
    "friction_source": SOME_SOURCE,
    "active_pcf": SOME,
    "active_source": SOME_SOURCE,
    "density_low_kg_per_m3": DENSITY,
    "density_kg_per_m3": DENSITY,
    "density_high_kg_per_m3": DENSITY,
    "wet_kg_per_m3": DENSITY,
    "density_source": Column(kind="source"),
    "friction_angle_deg": Column(kind="number", low=5, high=50),
    "angle_source": Column(kind="source"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Soil:
    """One soil, in the ground or (`fill`) in a bed.

    Code values stand as printed, in psf and psf per foot of depth; the properties give them in SI. A fill has no value
    for anchors. `active_pcf` is the sideways push as an equivalent fluid. Densities are moist; `wet_kg_per_m3` is
    soaked.
    """

    key: str
    label: str
    fill: bool
    lateral_psf_per_ft: float | None
    lateral_source: str | None
    bearing_psf: float | None
    bearing_source: str | None
    friction: float | None
    cohesion_psf: float | None
    friction_source: str | None
    active_pcf: float | None
    active_source: str | None
    density_low_kg_per_m3: float
    density_kg_per_m3: float
    density_high_kg_per_m3: float
    wet_kg_per_m3: float
    density_source: str
    friction_angle_deg: float
    angle_source: str

    def __post_init__(self) -> None:
        """Refuse densities out of order."""
        low, usual, high = self.density_low_kg_per_m3, self.density_kg_per_m3, self.density_high_kg_per_m3
        if not low <= usual <= high:
            raise InputError(f"{self.key}: density_kg_per_m3", usual, f"{low:g} to {high:g} kg/m3, its low and high")

    @property
    def lateral_pa_per_m(self) -> float | None:
        """Lateral bearing per metre of depth. [Pa/m]"""
        return None if self.lateral_psf_per_ft is None else self.lateral_psf_per_ft * PSF_PA / FOOT_M

    @property
    def bearing_pa(self) -> float | None:
        """Bearing under a foot. [Pa]"""
        return None if self.bearing_psf is None else self.bearing_psf * PSF_PA

    @property
    def cohesion_pa(self) -> float | None:
        """Sliding resistance of clay. [Pa]"""
        return None if self.cohesion_psf is None else self.cohesion_psf * PSF_PA

    @property
    def active_n_per_m3(self) -> float | None:
        """Sideways push as an equivalent fluid. [N/m3]"""
        return None if self.active_pcf is None else self.active_pcf * PCF_N_PER_M3

    @property
    def unit_weight_n_per_m3(self) -> float:
        """Weight of a cubic metre, moist. [N/m3]"""
        return self.density_kg_per_m3 * constants.value("gravity_m_per_s2")

    @property
    def wet_weight_n_per_m3(self) -> float:
        """Weight of a cubic metre, soaked. [N/m3]"""
        return self.wet_kg_per_m3 * constants.value("gravity_m_per_s2")


def load_soils(table: tables.Table | None = None) -> dict[str, Soil]:
    """Return every soil by key: ours, or those of a reader's own table."""
    return tables.keyed("soils.csv", SCHEMA, Soil, table)


def find(key: str) -> Soil:
    """Return a soil by its key; InputError naming those there are."""
    soils = load_soils()
    if key not in soils:
        raise InputError("soil", key, f"one of {', '.join(soils)}")
    return soils[key]
