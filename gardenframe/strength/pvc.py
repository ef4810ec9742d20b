"""Plastic pipe as a member: its long-term stress, less what heat takes, and buckling with a reserve.

No structural code covers it. Heat and steady load weaken it and make it creep: a caution stands beside every result.
"""

import math

from gardenframe.errors import InputError
from gardenframe.materials import constants
from gardenframe.working import formula

CAUTION = (
    "Plastic pipe softens in the sun and creeps under a steady load: its strength here is cut for heat, from memory, "
    "and it will bend further with time than shown."
)


@formula(
    result="k_T",
    symbols={"temperature_degc": "T", "rated_degc": "T_1", "half_degc": "T_2"},
    source="pvc-heat",
    kind="empirical",
)
def kept_in_heat_ratio(temperature_degc: float, rated_degc: float, half_degc: float) -> float:
    """Share of its strength that plastic pipe keeps when warm: all at T_1 and below, half at T_2.

    >>> kept_in_heat_ratio(43.0, 23.0, 43.0), kept_in_heat_ratio(10.0, 23.0, 43.0)
    (0.5, 1)
    """
    return min(1, 1 - (temperature_degc - rated_degc) / (2 * (half_degc - rated_degc)))


@formula(
    result="P_E",
    symbols={"modulus_mpa": "E", "second_moment_mm4": "I", "length_mm": "L"},
    source="euler",
)
def euler_load_n(modulus_mpa: float, second_moment_mm4: float, length_mm: float) -> float:
    """Push at which a straight pipe buckles between braces. [N]"""
    return math.pi**2 * modulus_mpa * second_moment_mm4 / length_mm**2


@formula(
    result="u",
    symbols={"force_n": "P", "allowed_force_n": "P_c", "moment_n_m": "M", "allowed_moment_n_m": "M_c"},
    source="pvc-practice",
    lengths="m",
)
def added_ratio(force_n: float, allowed_force_n: float, moment_n_m: float, allowed_moment_n_m: float) -> float:
    """Share used by axial force and bending, simply added. 1.00 is the limit."""
    return force_n / allowed_force_n + moment_n_m / allowed_moment_n_m


def kept(temperature_degc: float | None = None) -> float:
    """Return the share of strength kept at a temperature, that of full summer sun if none is given.

    Raises
    ------
    InputError
        Above 55 °C, where too little is left to count on.
    """
    hot = constants.value("pvc_temperature_degc") if temperature_degc is None else temperature_degc
    if not -40 <= hot <= 55:
        raise InputError("temperature of plastic pipe", hot, "-40 to 55 °C", "Shade it, or use steel.")
    return kept_in_heat_ratio(hot, constants.value("pvc_rated_degc"), constants.value("pvc_half_degc"))
