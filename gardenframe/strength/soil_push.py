"""How soil pushes a wall sideways: Rankine, at rest, with a load on top, soaked, or with water standing in it.

Depth is measured down from the surface of the soil; the wall is taken as smooth and upright. Floats in, float out.
"""

import math

from gardenframe.working import formula

PUSH = {"push_ratio": "K", "unit_weight_n_per_m3": "gamma", "depth_m": "z", "surcharge_pa": "q"}
ONE_BED = {"push_ratio": 1 / 3, "unit_weight_n_per_m3": 12_000.0, "depth_m": 0.45, "surcharge_pa": 0.0}
STRIP = {"upper_pa": "p_1", "lower_pa": "p_2", "height_m": "h"}
ONE_STRIP = {"upper_pa": 400.0, "lower_pa": 1800.0, "height_m": 0.35}


@formula(
    result="K_a", symbols={"friction_angle_deg": "phi"}, source="rankine", example={"friction_angle_deg": 30.0}
)  # fmt: skip
def active_ratio(friction_angle_deg: float) -> float:
    """Sideways over downward pressure where the wall gives way a little, after Rankine.

    >>> round(active_ratio(30.0), 4)
    0.3333
    """
    return (1 - math.sin(math.radians(friction_angle_deg))) / (1 + math.sin(math.radians(friction_angle_deg)))


@formula(
    result="K_0", symbols={"friction_angle_deg": "phi"}, source="jaky", example={"friction_angle_deg": 30.0}
)  # fmt: skip
def rest_ratio(friction_angle_deg: float) -> float:
    """Sideways over downward pressure where the wall does not move at all.

    >>> round(rest_ratio(30.0), 4)
    0.5
    """
    return 1 - math.sin(math.radians(friction_angle_deg))


@formula(result="p", symbols=PUSH, source="rankine", example=ONE_BED)
def push_pa(push_ratio: float, unit_weight_n_per_m3: float, depth_m: float, surcharge_pa: float) -> float:
    """Sideways pressure at a depth; `surcharge_pa` is what lies on the soil. [Pa]

    >>> round(push_pa(1 / 3, 12_000.0, 0.45, 0.0))
    1800
    """
    return push_ratio * (unit_weight_n_per_m3 * depth_m + surcharge_pa)


@formula(
    result="p",
    symbols=PUSH | {"water_n_per_m3": "gamma_w"},
    source="rankine",
    example=ONE_BED | {"unit_weight_n_per_m3": 17_000.0, "water_n_per_m3": 9810.0},
)
def flooded_push_pa(
    push_ratio: float, unit_weight_n_per_m3: float, water_n_per_m3: float, depth_m: float, surcharge_pa: float
) -> float:
    """Sideways pressure where water stands up to the surface: the soil floats, and the water pushes whole. [Pa]"""
    return push_ratio * ((unit_weight_n_per_m3 - water_n_per_m3) * depth_m + surcharge_pa) + water_n_per_m3 * depth_m


@formula(result="P", symbols=PUSH | {"depth_m": "H"}, source="rankine", example=ONE_BED)
def push_n_per_m(push_ratio: float, unit_weight_n_per_m3: float, depth_m: float, surcharge_pa: float) -> float:
    """Whole push on a metre of wall. [N/m]

    >>> round(push_n_per_m(1 / 3, 20_000.0, 3.0, 0.0))
    30000
    """
    return push_ratio * (unit_weight_n_per_m3 * depth_m**2 / 2 + surcharge_pa * depth_m)


@formula(result="M", symbols=PUSH | {"depth_m": "H"}, source="rankine", example=ONE_BED)
def base_moment_n(push_ratio: float, unit_weight_n_per_m3: float, depth_m: float, surcharge_pa: float) -> float:
    """Moment of that about the foot, for each metre of wall: the soil's part acts at a third of the height. [N]"""
    return push_ratio * (unit_weight_n_per_m3 * depth_m**3 / 6 + surcharge_pa * depth_m**2 / 2)


@formula(result="w_1", symbols=STRIP, source="geometry", example=ONE_STRIP)
def upper_share_n_per_m(upper_pa: float, lower_pa: float, height_m: float) -> float:
    """What the upper of two rails gets of the push between them, the wall resting freely on both. [N/m]"""
    return height_m * (2 * upper_pa + lower_pa) / 6


@formula(result="w_2", symbols=STRIP, source="geometry", example=ONE_STRIP)
def lower_share_n_per_m(upper_pa: float, lower_pa: float, height_m: float) -> float:
    """What the lower of two rails gets of the push between them. [N/m]"""
    return height_m * (upper_pa + 2 * lower_pa) / 6


@formula(
    result="w", symbols={"pressure_pa": "p", "width_m": "b"}, source="geometry",
    example={"pressure_pa": 1200.0, "width_m": 0.3},
)  # fmt: skip
def line_load_n_per_m(pressure_pa: float, width_m: float) -> float:
    """Load along a member from the pressure on the strip of wall that it carries. [N/m]"""
    return pressure_pa * width_m


@formula(
    result="sigma", symbols={"moment_n_mm": "M", "section_modulus_mm3": "S"}, source="geometry",
    example={"moment_n_mm": 80_000.0, "section_modulus_mm3": 850.0},
)  # fmt: skip
def bending_stress_mpa(moment_n_mm: float, section_modulus_mm3: float) -> float:
    """Stress in the outermost fibre. [MPa]"""
    return moment_n_mm / section_modulus_mm3


@formula(
    result="M", symbols={"foot_pa": "p", "width_m": "b", "height_m": "h"}, source="triangle-load",
    example={"foot_pa": 1800.0, "width_m": 0.8, "height_m": 0.45},
)  # fmt: skip
def post_moment_n_m(foot_pa: float, width_m: float, height_m: float) -> float:
    """Largest moment of a post held at foot and rim, the push growing evenly from none at the rim. [N m]"""
    return foot_pa * width_m * height_m**2 / (9 * math.sqrt(3))


@formula(
    result="T", symbols={"push_n_per_m": "P", "bay_m": "b"}, source="geometry",
    example={"push_n_per_m": 750.0, "bay_m": 1.0},
)  # fmt: skip
def rim_tie_n(push_n_per_m: float, bay_m: float) -> float:
    """Pull of the tie at the rim of a bed full to it: the push acts at a third of the height. [N]"""
    return push_n_per_m * bay_m / 3
