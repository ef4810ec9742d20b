"""Walls and floors that soil presses on: how stiff boards and corrugated sheet are, and how hard a hung fabric pulls.

Sections are of a strip `width_mm` wide. Floats in, float out.
"""

import math

from gardenframe.working import formula

SHEET = {"thickness_mm": "t", "depth_mm": "h", "pitch_mm": "p", "width_mm": "b", "slope_ratio": "k"}
ONE_SHEET = {"thickness_mm": 0.5, "depth_mm": 12.7, "pitch_mm": 67.7, "width_mm": 1000.0}


@formula(result="I", symbols=SHEET, source="corrugated-sheet", example=ONE_SHEET)
def corrugated_second_moment_mm4(thickness_mm: float, depth_mm: float, pitch_mm: float, width_mm: float) -> float:
    """Second moment of a strip of corrugated sheet about its middle, bent along its ribs. [mm⁴]

    A sine of the depth h between the middles of crest and valley, each length of sheet counted as it is longer than
    its pitch (first term of the series).
    """
    slope_ratio = math.pi * depth_mm / pitch_mm
    return width_mm * thickness_mm * depth_mm**2 / 8 * (1 + slope_ratio**2 / 8)


@formula(
    result="S", symbols={"second_moment_mm4": "I", "depth_mm": "h", "thickness_mm": "t"}, source="geometry",
    example={"second_moment_mm4": 10_000.0, "depth_mm": 12.7, "thickness_mm": 0.5},
)  # fmt: skip
def corrugated_section_modulus_mm3(second_moment_mm4: float, depth_mm: float, thickness_mm: float) -> float:
    """Section modulus of that, to the outer face of a crest. [mm³]"""
    return 2 * second_moment_mm4 / (depth_mm + thickness_mm)


@formula(
    result="T", symbols={"pressure_pa": "p", "height_m": "h", "sag_m": "f"}, source="parabola",
    example={"pressure_pa": 1200.0, "height_m": 0.3, "sag_m": 0.03},
)  # fmt: skip
def fabric_pull_n_per_m(pressure_pa: float, height_m: float, sag_m: float) -> float:
    """Pull of a fabric that bellies by f between two rails, as a parabola: on each metre of rail. [N/m]"""
    return pressure_pa * height_m**2 / (8 * sag_m)


@formula(
    result="T_max",
    symbols={"pull_n_per_m": "T", "pressure_pa": "p", "height_m": "h", "edge_n_per_m": "T_max"},
    source="parabola",
    example={"pull_n_per_m": 450.0, "pressure_pa": 1200.0, "height_m": 0.3},
)  # fmt: skip
def fabric_edge_pull_n_per_m(pull_n_per_m: float, pressure_pa: float, height_m: float) -> float:
    """Pull in the fabric at the rail, where it leaves aslant. [N/m]"""
    edge_n_per_m: float = (pull_n_per_m**2 + (pressure_pa * height_m / 2) ** 2) ** 0.5
    return edge_n_per_m


@formula(
    result="delta", symbols={"deflection_mm": "delta_1", "creep_ratio": "k_cr"}, source="nds-creep",
    example={"deflection_mm": 2.0, "creep_ratio": 2.0},
)  # fmt: skip
def lasting_deflection_mm(deflection_mm: float, creep_ratio: float) -> float:
    """Deflection of wet timber under a load that stays. [mm]"""
    return deflection_mm * creep_ratio
