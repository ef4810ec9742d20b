"""Snow on covers by ASCE 7: flat-roof load, slope factor of cold roofs, standing water."""

from gardenframe.materials import constants
from gardenframe.working import formula

FLAT_FACTOR = 0.7
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
