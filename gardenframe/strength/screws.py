"""What one screw in timber holds, pulled out or sideways, after the NDS: dowels with a thin steel plate beside.

Withdrawal is printed; the yield limits sideways and the factors are from memory, and say so.
"""

from functools import lru_cache
from typing import Any

from gardenframe.materials import constants
from gardenframe.materials.fixings import Fixing
from gardenframe.materials.members import Member
from gardenframe.units import INCH_M, POUND_N
from gardenframe.working import Formula, Step, formula

SCREW_LBF_PER_IN2 = 2850
LAG_FACTOR = 1800
LAG_GRAVITY_POWER = 1.5
LAG_DIAMETER_POWER = 0.75
BEARING_PSI = 16600
BEARING_POWER = 1.84
MM_PER_IN = INCH_M * 1000
LBF_PER_IN_N_PER_MM = POUND_N / MM_PER_IN
PSI_MPA = POUND_N / (INCH_M * 1e3) ** 2


@formula(
    result="W", symbols={"gravity_ratio": "G", "diameter_in": "D"}, source="nds-wood-screw", kind="empirical",
    coefficients={"SCREW_LBF_PER_IN2": "lbf/in²"}, example={"gravity_ratio": 0.5, "diameter_in": 0.19},
)  # fmt: skip
def wood_screw_lbf_per_in(gravity_ratio: float, diameter_in: float) -> float:
    """Reference withdrawal of a wood screw for an inch of thread in side grain. [lbf/in]

    >>> round(wood_screw_lbf_per_in(0.5, 0.19), 1)
    135.4
    """
    lbf_per_in: float = SCREW_LBF_PER_IN2 * gravity_ratio**2 * diameter_in
    return lbf_per_in


@formula(
    result="W", symbols={"gravity_ratio": "G", "diameter_in": "D"}, source="nds-lag", kind="empirical",
    coefficients={"LAG_FACTOR": "lbf/in^1.75", "LAG_GRAVITY_POWER": "", "LAG_DIAMETER_POWER": ""},
    example={"gravity_ratio": 0.5, "diameter_in": 0.25},
)  # fmt: skip
def lag_screw_lbf_per_in(gravity_ratio: float, diameter_in: float) -> float:
    """Reference withdrawal of a lag screw for an inch of thread in side grain. [lbf/in]"""
    pull_lbf_per_in: float = LAG_FACTOR * gravity_ratio**LAG_GRAVITY_POWER * diameter_in**LAG_DIAMETER_POWER
    return pull_lbf_per_in


@formula(
    result="W'", symbols={"pull_n_per_mm": "W", "thread_mm": "p", "wet_ratio": "C_M", "duration_ratio": "C_D"},
    source="nds-screw-factors",
    example={"pull_n_per_mm": 16.7, "thread_mm": 25.4, "wet_ratio": 0.7, "duration_ratio": 1.6},
)  # fmt: skip
def screw_pull_n(pull_n_per_mm: float, thread_mm: float, wet_ratio: float, duration_ratio: float) -> float:
    """Allowed pull of one screw. [N]"""
    return pull_n_per_mm * thread_mm * wet_ratio * duration_ratio


@formula(
    result="F_em", symbols={"gravity_ratio": "G"}, source="nds-yield", kind="empirical",
    coefficients={"BEARING_PSI": "psi", "BEARING_POWER": ""}, example={"gravity_ratio": 0.42},
)  # fmt: skip
def wood_bearing_psi(gravity_ratio: float) -> float:
    """Bearing strength of wood under a dowel thinner than 1/4 in. [psi]"""
    bearing_psi: float = BEARING_PSI * gravity_ratio**BEARING_POWER
    return bearing_psi


YIELD = {
    "root_mm": "D_r", "side_mm": "l_s", "wood_mpa": "F_em", "side_mpa": "F_es", "bend_mpa": "F_yb",
    "reduction_ratio": "R_d", "strength_ratio": "R_e", "bent_ratio": "k_3",
}  # fmt: skip
YIELD_EXAMPLE = {
    "root_mm": 3.86, "side_mm": 1.6, "wood_mpa": 23.2, "side_mpa": 426.0, "bend_mpa": 552.0, "reduction_ratio": 2.2,
}  # fmt: skip


@formula(result="Z_IIIs", symbols=YIELD, source="nds-yield", example=YIELD_EXAMPLE)
def bent_once_n(
    root_mm: float, side_mm: float, wood_mpa: float, side_mpa: float, bend_mpa: float, reduction_ratio: float
) -> float:
    """Side load at which a screw bends once, in the wood, and tilts in the plate: mode IIIs. [N]"""
    strength_ratio = wood_mpa / side_mpa
    bent_ratio = (
        2 * (1 + strength_ratio) / strength_ratio
        + 2 * bend_mpa * (2 + strength_ratio) * root_mm**2 / (3 * wood_mpa * side_mm**2)
    ) ** 0.5 - 1
    side_n: float = bent_ratio * root_mm * side_mm * wood_mpa / ((2 + strength_ratio) * reduction_ratio)
    return side_n


@formula(
    result="Z_IV", symbols={k: v for k, v in YIELD.items() if k not in ("side_mm", "bent_ratio")},
    source="nds-yield", example={k: v for k, v in YIELD_EXAMPLE.items() if k != "side_mm"},
)  # fmt: skip
def bent_twice_n(root_mm: float, wood_mpa: float, side_mpa: float, bend_mpa: float, reduction_ratio: float) -> float:
    """Side load at which a screw bends twice, in the wood and at the plate: mode IV. [N]"""
    strength_ratio = wood_mpa / side_mpa
    side_n: float = root_mm**2 * (2 * wood_mpa * bend_mpa / (3 * (1 + strength_ratio))) ** 0.5 / reduction_ratio
    return side_n


@formula(result="Z_Is", symbols={k: YIELD[k] for k in ("root_mm", "side_mm", "side_mpa", "reduction_ratio")},
         source="nds-yield")  # fmt: skip
def plate_bears_n(root_mm: float, side_mm: float, side_mpa: float, reduction_ratio: float) -> float:
    """Side load at which the plate gives under a screw: mode Is. [N]"""
    return root_mm * side_mm * side_mpa / reduction_ratio


@formula(
    result="Z'", symbols={"load_n": "Z", "wet_ratio": "C_M", "duration_ratio": "C_D"}, source="nds-screw-factors"
)  # fmt: skip
def screw_side_n(load_n: float, wet_ratio: float, duration_ratio: float) -> float:
    """Allowed side load of one screw. [N]"""
    return load_n * wet_ratio * duration_ratio


@lru_cache(maxsize=64)
def allowed_n(screw: Fixing, timber: Member) -> tuple[float, float]:
    """Return what one screw in wet timber holds, pulled out and sideways, before load duration. [N]"""
    pull = screw_pull_n(_pull_n_per_mm(screw, timber), _thread_mm(screw), constants.value("screw_wet_ratio"), 1.0)
    side = screw_side_n(min(_side_limits(screw, timber).values()), constants.value("screw_wet_ratio"), 1.0)
    return pull, side


def _thread_mm(screw: Fixing) -> float:
    """Thread in the wood: two thirds of the length, and no more than what is beyond the strap. [mm]"""
    length = float(screw.length_mm or 0.0)
    return min(length * constants.value("screw_thread_ratio"), length - constants.value("strap_mm"))


def _gravity(timber: Member) -> float:
    return float(timber.specific_gravity or 0.0)


def _pull_n_per_mm(screw: Fixing, timber: Member) -> float:
    form = lag_screw_lbf_per_in if screw.kind == "lag_screw" else wood_screw_lbf_per_in
    return form(_gravity(timber), float(screw.diameter_mm or 0.0) / MM_PER_IN) * LBF_PER_IN_N_PER_MM


def _yield_inputs(screw: Fixing, timber: Member) -> dict[str, float]:
    return {
        "root_mm": float(screw.diameter_mm or 0.0) * constants.value("screw_root_ratio"),
        "side_mm": constants.value("strap_mm"),
        "wood_mpa": wood_bearing_psi(_gravity(timber)) * PSI_MPA,
        "side_mpa": constants.value("strap_bearing_mpa"),
        "bend_mpa": constants.value("screw_bend_mpa"),
        "reduction_ratio": constants.value("screw_reduction_ratio"),
    }


def _side_limits(screw: Fixing, timber: Member) -> dict[str, float]:
    given = _yield_inputs(screw, timber)
    return {form.__name__: form(**{k: given[k] for k in keys}) for form, keys in MODES.items()}


MODES: dict[Formula[..., Any], tuple[str, ...]] = {
    bent_once_n: tuple(YIELD_EXAMPLE),
    bent_twice_n: ("root_mm", "wood_mpa", "side_mpa", "bend_mpa", "reduction_ratio"),
    plate_bears_n: ("root_mm", "side_mm", "side_mpa", "reduction_ratio"),
}


def working(screw: Fixing, timber: Member, duration: float, system: str = "metric") -> list[Step]:
    """Return the working of what one screw holds, pulled out and then sideways."""
    wet, inch = constants.value("screw_wet_ratio"), float(screw.diameter_mm or 0.0) / MM_PER_IN
    form = lag_screw_lbf_per_in if screw.kind == "lag_screw" else wood_screw_lbf_per_in
    given, limits = _yield_inputs(screw, timber), _side_limits(screw, timber)
    least = min(MODES, key=lambda mode: limits[mode.__name__])
    return [
        form.shown(_gravity(timber), inch, system=system),
        screw_pull_n.shown(_pull_n_per_mm(screw, timber), _thread_mm(screw), wet, duration, system=system),
        wood_bearing_psi.shown(_gravity(timber), system=system),
        least.shown(**{k: given[k] for k in MODES[least]}, system=system),
        screw_side_n.shown(limits[least.__name__], wet, duration, system=system),
    ]
