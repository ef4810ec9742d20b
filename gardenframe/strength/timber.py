"""Timber members after the NDS: adjusted allowable stresses, columns and beams that buckle, forces together.

Reference values come from the members table; wet service, size and load duration from data/timber_factors.csv and from
the combination. Timber in a garden is taken as wet.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache

from gardenframe import tables
from gardenframe.errors import InputError
from gardenframe.materials.members import Member
from gardenframe.tables import Column
from gardenframe.working import formula

SHARE = Column(kind="number", low=0.1, high=2)
SCHEMA: tables.Schema = {
    "key": Column(kind="key"),
    "bending": SHARE,
    "tension": SHARE,
    "compression": SHARE,
    "shear": SHARE,
    "modulus": SHARE,
    "label": Column(),
    "source": Column(kind="source"),
}
# NDS 2.3.2 (from memory): the shortest load of a combination decides; a lean counts as an ordinary live load
DURATION = {"W": 1.6, "S": 1.15, "R": 1.15, "L": 1.0}
PERMANENT = 0.9


@dataclass(frozen=True, slots=True, kw_only=True)
class Factors:
    """What one condition does to each reference value."""

    key: str
    bending: float
    tension: float
    compression: float
    shear: float
    modulus: float
    label: str
    source: str


def load_factors(table: tables.Table | None = None) -> dict[str, Factors]:
    """Return the wet-service and size factors by key."""
    return tables.keyed("timber_factors.csv", SCHEMA, Factors, table)


@cache
def _ours() -> dict[str, Factors]:
    return load_factors()


def duration_factor(cases: Iterable[str] | Mapping[str, float]) -> float:
    """Return the load duration factor of a combination from the cases in it: that of its shortest load.

    >>> duration_factor({"D": 1.0, "W+x": 0.6}), duration_factor(["D", "P"])
    (1.6, 0.9)
    """
    keys = [key for key, factor in cases.items() if factor] if isinstance(cases, Mapping) else list(cases)
    return max((DURATION.get(key[:1], PERMANENT) for key in keys), default=PERMANENT)


@dataclass(frozen=True, slots=True, kw_only=True)
class Adjusted:
    """Reference values of one member, wet and for its size; without load duration. [MPa]"""

    bending_mpa: float
    tension_mpa: float
    compression_mpa: float
    shear_mpa: float
    modulus_min_mpa: float


@lru_cache(maxsize=64)
def adjusted(member: Member, wet: bool = True) -> Adjusted:
    """Return the adjusted stresses of a timber member.

    Raises
    ------
    InputError
        For a member whose row lacks an allowable stress.
    """
    size = _ours().get(member.trade_size, _ours()["other"])
    moist = _ours()["wet" if wet else "other"]

    def value(name: str) -> float:
        found = getattr(member, name)
        if found is None:
            raise InputError(f"{member.key}: {name}", None, "a value for timber", "Fill in its row.")
        return float(found)

    return Adjusted(
        bending_mpa=value("allowed_bending_mpa") * size.bending * moist.bending,
        tension_mpa=value("allowed_tension_mpa") * size.tension * moist.tension,
        compression_mpa=value("allowed_compression_mpa") * size.compression * moist.compression,
        shear_mpa=value("allowed_shear_mpa") * size.shear * moist.shear,
        modulus_min_mpa=value("modulus_min_gpa") * 1000 * size.modulus * moist.modulus,
    )


@formula(
    result="F_cE",
    symbols={"modulus_min_mpa": "E_min", "length_mm": "l_e", "depth_mm": "d"},
    source="nds-columns",
)
def column_buckling_stress_mpa(modulus_min_mpa: float, length_mm: float, depth_mm: float) -> float:
    """Stress at which a timber column buckles over its depth, with the code's reserve. [MPa]"""
    return 0.822 * modulus_min_mpa * depth_mm**2 / length_mm**2


@formula(result="C_P", symbols={"buckling_ratio": "alpha", "half_ratio": "h"}, source="nds-columns")
def column_stability_ratio(buckling_ratio: float) -> float:
    """Share of the compression stress that a column may use; `buckling_ratio` is F_cE/F_c*.

    >>> round(column_stability_ratio(1.0), 3)
    0.691
    """
    half_ratio = (1 + buckling_ratio) / (2 * 0.8)
    share_ratio: float = half_ratio - (half_ratio**2 - buckling_ratio / 0.8) ** 0.5
    return share_ratio


@formula(
    result="F_bE",
    symbols={
        "modulus_min_mpa": "E_min", "length_mm": "l_u", "depth_mm": "d", "width_mm": "b", "effective_mm": "l_e",
    },
    source="nds-beams",
)  # fmt: skip
def beam_buckling_stress_mpa(modulus_min_mpa: float, length_mm: float, depth_mm: float, width_mm: float) -> float:
    """Stress at which a timber beam on edge turns over sideways. [MPa]"""
    effective_mm = 1.63 * length_mm + 3 * depth_mm if length_mm >= 7 * depth_mm else 2.06 * length_mm
    return 1.2 * modulus_min_mpa * width_mm**2 / (effective_mm * depth_mm)


@formula(result="C_L", symbols={"buckling_ratio": "alpha", "half_ratio": "h"}, source="nds-beams")
def beam_stability_ratio(buckling_ratio: float) -> float:
    """Share of the bending stress that a beam on edge may use; `buckling_ratio` is F_bE/F_b*."""
    half_ratio = (1 + buckling_ratio) / 1.9
    share_ratio: float = half_ratio - (half_ratio**2 - buckling_ratio / 0.95) ** 0.5
    return share_ratio


COMBINED = {
    "push_mpa": "f_c", "allowed_push_mpa": "F_c", "flat_mpa": "f_b1", "allowed_flat_mpa": "F_b1",
    "side_mpa": "f_b2", "allowed_side_mpa": "F_b2", "buckling_flat_mpa": "F_cE1", "buckling_side_mpa": "F_cE2",
    "buckling_beam_mpa": "F_bE", "first_ratio": "a", "second_ratio": "b",
}  # fmt: skip


@formula(
    result="u",
    symbols=COMBINED,
    source="nds-combined",
    example={
        "push_mpa": 0.5, "allowed_push_mpa": 3.0, "flat_mpa": 2.0, "allowed_flat_mpa": 7.0, "side_mpa": 1.0,
        "allowed_side_mpa": 7.5, "buckling_flat_mpa": 8.0, "buckling_side_mpa": 4.0, "buckling_beam_mpa": 40.0,
    },
)  # fmt: skip
def push_and_bending_ratio(
    push_mpa: float,
    allowed_push_mpa: float,
    flat_mpa: float,
    allowed_flat_mpa: float,
    side_mpa: float,
    allowed_side_mpa: float,
    buckling_flat_mpa: float,
    buckling_side_mpa: float,
    buckling_beam_mpa: float,
) -> float:
    """Share used by push and bending about both axes; below the buckling stresses only. 1.00 is the limit."""
    first_ratio = flat_mpa / (allowed_flat_mpa * (1 - push_mpa / buckling_flat_mpa))
    second_ratio = side_mpa / (
        allowed_side_mpa * (1 - push_mpa / buckling_side_mpa - (flat_mpa / buckling_beam_mpa) ** 2)
    )
    return (push_mpa / allowed_push_mpa) ** 2 + first_ratio + second_ratio


@formula(
    result="u",
    symbols={
        "pull_mpa": "f_t", "allowed_pull_mpa": "F_t", "flat_mpa": "f_b1", "allowed_flat_mpa": "F_b1",
        "side_mpa": "f_b2", "allowed_side_mpa": "F_b2",
    },
    source="nds-combined",
)  # fmt: skip
def pull_and_bending_ratio(
    pull_mpa: float,
    allowed_pull_mpa: float,
    flat_mpa: float,
    allowed_flat_mpa: float,
    side_mpa: float,
    allowed_side_mpa: float,
) -> float:
    """Share used by pull and bending about both axes. 1.00 is the limit."""
    return pull_mpa / allowed_pull_mpa + flat_mpa / allowed_flat_mpa + side_mpa / allowed_side_mpa


@formula(result="f_v", symbols={"shear_n": "V", "area_mm2": "A"}, source="nds-shear")
def shear_stress_mpa(shear_n: float, area_mm2: float) -> float:
    """Largest shear stress of a rectangle. [MPa]"""
    return 3 * shear_n / (2 * area_mm2)
