"""What is left to walk through: clear width between legs, the underside of a top, headroom under what hangs.

Floats in, float out, in mm as a tape reads; levels above the path, radii and distances to the middle of the tube.
"""

import math

from gardenframe.working import formula


@formula(
    result="w",
    symbols={"apart_mm": "a", "outer_mm": "D"},
    source="geometry",
    example={"apart_mm": 1320.0, "outer_mm": 23.4},
)
def clear_width_mm(apart_mm: float, outer_mm: float) -> float:
    """Clear width between two legs whose axes stand apart. [mm]

    >>> round(clear_width_mm(1000.0, 25.0))
    975
    """
    return apart_mm - outer_mm


@formula(
    result="u",
    symbols={"top_mm": "z", "outer_mm": "D"},
    source="geometry",
    example={"top_mm": 2440.0, "outer_mm": 23.4},
)
def under_rail_mm(top_mm: float, outer_mm: float) -> float:
    """Underside of a level tube. [mm]

    >>> round(under_rail_mm(2400.0, 30.0))
    2385
    """
    return top_mm - outer_mm / 2


@formula(
    result="u",
    symbols={"knee_mm": "z_k", "in_mm": "s", "pitch_deg": "beta", "outer_mm": "D"},
    source="geometry",
    example={"knee_mm": 2100.0, "in_mm": 180.0, "pitch_deg": 35.0, "outer_mm": 29.5},
)
def under_slope_mm(knee_mm: float, in_mm: float, pitch_deg: float, outer_mm: float) -> float:
    """Underside of a sloping tube at a distance in from its knee. [mm]

    >>> round(under_slope_mm(2000.0, 200.0, 45.0, 30.0))
    2179
    """
    return knee_mm + in_mm * math.tan(math.radians(pitch_deg)) - outer_mm / (2 * math.cos(math.radians(pitch_deg)))


@formula(
    result="u",
    symbols={"spring_mm": "z_s", "radius_mm": "R", "aside_mm": "d", "outer_mm": "D"},
    source="geometry",
    example={"spring_mm": 1750.0, "radius_mm": 660.0, "aside_mm": 457.5, "outer_mm": 23.4},
)
def under_bend_mm(spring_mm: float, radius_mm: float, aside_mm: float, outer_mm: float) -> float:
    """Underside of a bend at a distance aside from its centre: Pythagoras inside the tube. [mm]

    >>> round(under_bend_mm(1000.0, 510.0, 300.0, 20.0))  # 500, 300, 400
    1400
    """
    return spring_mm + math.sqrt((radius_mm - outer_mm / 2) ** 2 - aside_mm**2)


@formula(
    result="h",
    symbols={"under_mm": "u", "hanging_mm": "p"},
    source="geometry",
    example={"under_mm": 2250.0, "hanging_mm": 100.0},
)
def headroom_left_mm(under_mm: float, hanging_mm: float) -> float:
    """Headroom under what hangs from a frame. [mm]

    >>> round(headroom_left_mm(2250.0, 100.0))
    2150
    """
    return under_mm - hanging_mm
