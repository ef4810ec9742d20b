"""Coverings by the square metre and the rolls, sheets and boards that they are sold in."""

import math
from dataclasses import dataclass
from functools import cache

from gardenframe import tables
from gardenframe.errors import InputError
from gardenframe.tables import Column
from gardenframe.working import formula

KINDS = {
    "trellis_net": "trellis netting",
    "welded_mesh": "welded mesh",
    "poultry_net": "poultry netting",
    "shade_cloth": "shade cloth",
    "insect_net": "insect net",
    "bird_net": "bird net",
    "film": "film",
    "twin_wall": "twin-wall sheet",
    "glass": "glass",
    "boards": "boards",
    "fabric": "fabric",
}
STIFF = ("twin_wall", "glass", "boards")
SCHEMA: tables.Schema = {
    "key": Column(kind="key"),
    "label": Column(),
    "kind": Column(kind="choice", choices=tuple(KINDS)),
    "opening_mm": Column(kind="number", low=0, high=400),
    "opening_other_mm": Column(kind="number", low=0, high=400),
    "wire_mm": Column(kind="number", low=0.05, high=10, optional=True),
    "mass_kg_per_m2": Column(kind="number", low=0.001, high=50),
    "solidity": Column(kind="number", low=0, high=1),
    "light_share": Column(kind="number", low=0, high=1, optional=True),
    "thickness_mm": Column(kind="number", low=0.01, high=60, optional=True),
    "life_low_seasons": Column(kind="number", low=0.5, high=60),
    "life_high_seasons": Column(kind="number", low=0.5, high=60),
    "hand_reach": Column(kind="flag"),
    "traps_wildlife": Column(kind="flag"),
    "keeps_pollinators_out": Column(kind="flag"),
    "holds_snow": Column(kind="flag"),
    "source": Column(kind="source"),
    "life_source": Column(kind="source"),
}
ROLLS: tables.Schema = {
    "key": Column(kind="key"),
    "covering": Column(kind="ref"),
    "label": Column(),
    "width_mm": Column(kind="number", low=50, high=20_000),
    "length_mm": Column(kind="number", low=100, high=200_000),
    "source": Column(kind="source"),
}
# openings that let a child's body in but hold its head: 3-1/2 to 9 in (caring-children)
HEAD_TRAP_MM = (89.0, 229.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Covering:
    """One covering.

    `opening_mm` and `opening_other_mm` are the clear opening between wires or threads, 0 for a closed skin.
    `solidity` is the share of its face that stops wind, `light_share` the share of light that passes.
    """

    key: str
    label: str
    kind: str
    opening_mm: float
    opening_other_mm: float
    wire_mm: float | None = None
    mass_kg_per_m2: float
    solidity: float
    light_share: float | None = None
    thickness_mm: float | None = None
    life_low_seasons: float
    life_high_seasons: float
    hand_reach: bool
    traps_wildlife: bool
    keeps_pollinators_out: bool
    holds_snow: bool
    source: str
    life_source: str

    def __post_init__(self) -> None:
        """Refuse a life whose ends are swapped."""
        if self.life_low_seasons > self.life_high_seasons:
            needs = f"at most {self.life_high_seasons:g} seasons, the higher life"
            raise InputError(f"{self.key}: life_low_seasons", self.life_low_seasons, needs)

    @property
    def smallest_opening_mm(self) -> float:
        """Narrow side of the opening: what an animal has to pass. [mm]"""
        return min(self.opening_mm, self.opening_other_mm)

    @property
    def shade_share(self) -> float | None:
        """Share of light that it stops."""
        return None if self.light_share is None else 1 - self.light_share

    @property
    def closed(self) -> bool:
        """True for a skin without openings."""
        return self.smallest_opening_mm == 0

    @property
    def stiff(self) -> bool:
        """True for sheets and boards, which come in pieces and not on a roll."""
        return self.kind in STIFF

    @property
    def could_trap_a_head(self) -> bool:
        """True where both sides of the opening lie between 89 and 229 mm. Source: caring-children."""
        low, high = HEAD_TRAP_MM
        return low < self.smallest_opening_mm and max(self.opening_mm, self.opening_other_mm) < high

    @property
    def tags(self) -> tuple[str, ...]:
        """Words that the cautions table knows."""
        soft = self.kind in ("trellis_net", "bird_net", "insect_net", "shade_cloth")
        wanted = {
            "covering": True,
            self.kind: True,
            "net": soft,
            "wildlife": self.traps_wildlife,
            "pollinators": self.keeps_pollinators_out,
            "snow_on_covering": self.holds_snow,
            "head_trap": self.could_trap_a_head,
            "sharp_mesh": self.kind in ("welded_mesh", "poultry_net"),
        }
        return tuple(tag for tag, held in wanted.items() if held)


@dataclass(frozen=True, slots=True, kw_only=True)
class Roll:
    """One roll, sheet or board as sold."""

    key: str
    covering: str
    label: str
    width_mm: float
    length_mm: float
    source: str

    @property
    def area_m2(self) -> float:
        """Area of the whole roll. [m2]"""
        return self.width_mm * self.length_mm / 1e6


def load_coverings(table: tables.Table | None = None) -> dict[str, Covering]:
    """Return every covering by key: ours, or those of a reader's own table."""
    return tables.keyed("coverings.csv", SCHEMA, Covering, table)


def load_rolls(table: tables.Table | None = None) -> dict[str, Roll]:
    """Return every roll by key: ours, or those of a reader's own table."""
    return tables.keyed("rolls.csv", ROLLS, Roll, table)


def find(key: str) -> Covering:
    """Return a covering by its key; InputError naming those there are."""
    if key not in _ours():
        raise InputError("covering", key, f"one of {', '.join(_ours())}")
    return _ours()[key]


@cache
def _ours() -> dict[str, Covering]:
    return load_coverings()


def rolls_of(covering: str, rolls: dict[str, Roll] | None = None) -> list[Roll]:
    """Return the rolls of a covering, narrowest and shortest first; InputError where it is sold in none."""
    found = [roll for roll in (rolls if rolls is not None else load_rolls()).values() if roll.covering == covering]
    if not found:
        raise InputError("covering", covering, "a covering that the rolls table has a roll of")
    return sorted(found, key=lambda roll: (roll.width_mm, roll.length_mm))


@formula(
    result="m",
    symbols={"wire_m": "d", "pitch_m": "p_x", "pitch_other_m": "p_y", "density_kg_per_m3": "rho"},
    source="bare-wire-mesh",
    example={"wire_m": 0.002032, "pitch_m": 0.0508, "pitch_other_m": 0.1016, "density_kg_per_m3": 7850.0},
)
def mesh_mass_kg_per_m2(wire_m: float, pitch_m: float, pitch_other_m: float, density_kg_per_m3: float) -> float:
    """Mass of a bare mesh of round wires, rho pi d^2/4 (1/px + 1/py). [kg/m2]"""
    return density_kg_per_m3 * math.pi * wire_m**2 / 4 * (1 / pitch_m + 1 / pitch_other_m)


@formula(
    result="epsilon",
    symbols={"wire_mm": "d", "pitch_mm": "p_x", "pitch_other_mm": "p_y"},
    source="bare-wire-mesh",
    example={"wire_mm": 2.032, "pitch_mm": 50.8, "pitch_other_mm": 101.6},
)
def mesh_solidity(wire_mm: float, pitch_mm: float, pitch_other_mm: float) -> float:
    """Share of its face that a mesh of round wires covers, 1 - (1 - d/px)(1 - d/py).

    >>> round(mesh_solidity(2.032, 50.8, 50.8), 3)
    0.078
    """
    return 1 - (1 - wire_mm / pitch_mm) * (1 - wire_mm / pitch_other_mm)
