"""Snow on covers by ASCE 7: flat-roof load, slope factor of cold roofs, snow blown onto one side of a roof."""

import math

from gardenframe.materials import constants
from gardenframe.strength.wind import between
from gardenframe.working import formula

FLAT_FACTOR = 0.7
GABLE_LEAST_DEG, GABLE_MOST_DEG = 2.38, 30.2  # 1/2 on 12 and 7 on 12: between them snow blows over a ridge
ARCH_LEAST_DEG, ARCH_KNEE_DEG = 20.0, 30.0  # an arch that ends flatter (10 deg from eaves to crown) keeps it even
SLIPPERY_FROM_DEG, ROUGH_FROM_DEG, BARE_FROM_DEG = 15.0, 45.0, 70.0


@formula(
    result="p_f",
    symbols={"exposure": "C_e", "thermal": "C_t", "importance": "I_s", "ground_pa": "p_g", "FLAT_FACTOR": "k"},
    source="asce7-snow",
    example={"exposure": 1.0, "thermal": 1.2, "importance": 1.0, "ground_pa": 1000.0},
)
def flat_snow_pa(exposure: float, thermal: float, importance: float, ground_pa: float) -> float:
    """Snow on a flat roof, pf = 0.7 Ce Ct Is pg. [Pa]"""
    return FLAT_FACTOR * exposure * thermal * importance * ground_pa


@formula(
    result="C_s",
    symbols={"slope_deg": "alpha", "from_deg": "alpha_1", "BARE_FROM_DEG": "alpha_2"},
    source="asce7-cold-roof",
    example={"slope_deg": 30.0, "from_deg": 15.0},
)
def slope_ratio(slope_deg: float, from_deg: float) -> float:
    """Share of the flat-roof snow on a sloped cold roof: 1 to a first angle, then straight to 0 at 70 deg. [1]"""
    return min(1, max(0, (BARE_FROM_DEG - slope_deg) / (BARE_FROM_DEG - from_deg)))


def cover_snow_pa(ground_pa: float, slope_deg: float, slippery: bool) -> float:
    """Snow on a square metre of plan of an unheated cover (Ce = Is = 1, Ct = 1.2). [Pa]"""
    flat = flat_snow_pa(1.0, constants.value("thermal_cold_ratio"), 1.0, ground_pa)
    return flat * slope_ratio(slope_deg, SLIPPERY_FROM_DEG if slippery else ROUGH_FROM_DEG)


def drifted_arch_ratio(slope_deg: float, eaves_deg: float, from_deg: float) -> float:
    """Share of flat-roof snow on the lee side of an arch, where the wind blows it; the other side is bare. [1]

    ASCE 7, curved roofs, unbalanced: half at the crown, twice the slope factor at 30 degrees, then that at the eaves or
    none at 70 degrees, in straight lines on the plan of a circle (from memory).

    >>> [round(drifted_arch_ratio(slope, 90.0, 15.0), 3) for slope in (0.0, 30.0, 70.0)]
    [0.5, 1.455, 0.0]
    """
    ends = sorted({min(ARCH_KNEE_DEG, eaves_deg), min(eaves_deg, BARE_FROM_DEG)})
    twice = [(math.sin(math.radians(end)), 2 * slope_ratio(end, from_deg)) for end in ends]
    return between([(0.0, 0.5), *twice], math.sin(math.radians(slope_deg)))
