"""The arithmetic of a cut list, as a learner does it with tape and pencil."""

import math

from gardenframe.working import formula


@formula(
    result="b",
    symbols={"width_mm": "W", "outer_mm": "D", "bays": "n"},
    source="geometry",
    example={"width_mm": 1830.0, "outer_mm": 29.54, "bays": 2},
)
def bay_mm(width_mm: float, outer_mm: float, bays: float) -> float:
    """Distance between the axes of neighbouring posts, from the outside width. [mm]"""
    return (width_mm - outer_mm) / bays


@formula(
    result="L",
    symbols={"apart_mm": "a", "start_stop_mm": "s_1", "end_stop_mm": "s_2"},
    source="geometry",
    example={"apart_mm": 900.0, "start_stop_mm": 22.0, "end_stop_mm": 22.0},
)
def piece_length_mm(apart_mm: float, start_stop_mm: float, end_stop_mm: float) -> float:
    """Length of a straight piece: between its two joints, less the set-back at each. [mm]"""
    return apart_mm - start_stop_mm - end_stop_mm


@formula(
    result="h",
    symbols={"low_mm": "z_0", "high_mm": "z_1", "spaces": "n"},
    source="geometry",
    example={"low_mm": 380.0, "high_mm": 2095.0, "spaces": 2},
)
def rail_spacing_mm(low_mm: float, high_mm: float, spaces: float) -> float:
    """Height between neighbouring rails, from the lowest axis to the highest. [mm]"""
    return (high_mm - low_mm) / spaces


@formula(
    result="n",
    symbols={"total_mm": "T", "stick_mm": "L_s"},
    source="geometry",
    example={"total_mm": 11_400.0, "stick_mm": 3048.0},
)
def fewest_sticks(total_mm: float, stick_mm: float) -> float:
    """Fewest sticks that hold a total length, were nothing lost; the cutting plan can need more. [sticks]"""
    return math.ceil(total_mm / stick_mm)


@formula(
    result="n",
    symbols={"width_mm": "w", "roll_mm": "w_r", "overlap_mm": "o"},
    source="geometry",
    example={"width_mm": 1815.0, "roll_mm": 1524.0, "overlap_mm": 100.0},
)
def strips_across(width_mm: float, roll_mm: float, overlap_mm: float) -> float:
    """Strips that cover a width when neighbours overlap. [strips]"""
    return math.ceil((width_mm - overlap_mm) / (roll_mm - overlap_mm))


@formula(
    result="m",
    symbols={"length_m": "L", "mass_kg_per_m": "mu"},
    source="geometry",
    example={"length_m": 11.4, "mass_kg_per_m": 1.003},
)
def tube_mass_kg(length_m: float, mass_kg_per_m: float) -> float:
    """Mass of a length of tube. [kg]"""
    return length_m * mass_kg_per_m
