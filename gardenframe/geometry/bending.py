"""The arithmetic of bending a tube: arc, gain, take-up, offsets, stretch and spring-back.

Floats in, float out, in mm as a bender's tape reads; radii are to the centreline.
"""

import math

from gardenframe.errors import InputError
from gardenframe.materials.benders import Bender
from gardenframe.materials.members import Member
from gardenframe.working import formula


@formula(
    result="L_a",
    symbols={"radius_mm": "R", "bend_deg": "theta"},
    source="geometry",
    example={"radius_mm": 146.05, "bend_deg": 90.0},
)
def arc_length_mm(radius_mm: float, bend_deg: float) -> float:
    """Length of straight tube that a bend uses up, on the centreline. [mm]

    >>> round(arc_length_mm(146.05, 90.0), 2)  # 9.032 in
    229.41
    """
    return radius_mm * math.radians(bend_deg)


@formula(
    result="G",
    symbols={"radius_mm": "R", "bend_deg": "theta"},
    source="geometry",
    example={"radius_mm": 146.05, "bend_deg": 90.0},
)
def gain_mm(radius_mm: float, bend_deg: float) -> float:
    """What a bend saves against going round its corner: 0.4292 R for a right angle. [mm]

    >>> round(gain_mm(146.05, 90.0), 1)
    62.7
    """
    return radius_mm * (2 * math.tan(math.radians(bend_deg / 2)) - math.radians(bend_deg))


@formula(
    result="m",
    symbols={"stub_mm": "h", "take_up_mm": "t"},
    source="bend-practice",
    example={"stub_mm": 600.0, "take_up_mm": 200.0},
)
def stub_mark_mm(stub_mm: float, take_up_mm: float) -> float:
    """Where the arrow stands for a right-angle stub: its height to the back of the bend, less the take-up. [mm]"""
    return stub_mm - take_up_mm


@formula(
    result="a",
    symbols={"radius_mm": "R", "outer_mm": "D", "take_up_mm": "t"},
    source="geometry",
    example={"radius_mm": 146.05, "outer_mm": 29.54, "take_up_mm": 200.0},
)
def arrow_from_start_mm(radius_mm: float, outer_mm: float, take_up_mm: float) -> float:
    """How far the arrow stands beyond the start of its bend; before it where negative. [mm]

    The back of a right-angle bend is R + D/2 beyond the bend's start, and the take-up beyond the arrow.
    """
    return radius_mm + outer_mm / 2 - take_up_mm


@formula(
    result="d",
    symbols={"depth_mm": "O", "bend_deg": "theta"},
    source="geometry",
    example={"depth_mm": 150.0, "bend_deg": 30.0},
)
def offset_spacing_mm(depth_mm: float, bend_deg: float) -> float:
    """Distance between the two marks of an offset: its depth times the multiplier 1/sin. [mm]

    >>> round(offset_spacing_mm(100.0, 30.0))
    200
    """
    return depth_mm / math.sin(math.radians(bend_deg))


@formula(
    result="s",
    symbols={"depth_mm": "O", "bend_deg": "theta"},
    source="geometry",
    example={"depth_mm": 150.0, "bend_deg": 30.0},
)
def offset_shrink_mm(depth_mm: float, bend_deg: float) -> float:
    """How much shorter an offset makes the tube's reach: added before its second mark. [mm]"""
    return depth_mm * math.tan(math.radians(bend_deg / 2))


@formula(
    result="O",
    symbols={"between_mm": "d", "gain_mm": "G", "bend_deg": "theta"},
    source="geometry",
    example={"between_mm": 300.0, "gain_mm": 1.8, "bend_deg": 30.0},
)
def offset_depth_mm(between_mm: float, gain_mm: float, bend_deg: float) -> float:
    """Depth that two like bends the opposite way give, from the tube between their starts. [mm]"""
    return (between_mm + gain_mm) * math.sin(math.radians(bend_deg))


@formula(
    result="epsilon",
    symbols={"outer_mm": "D", "radius_mm": "R"},
    source="geometry",
    example={"outer_mm": 29.54, "radius_mm": 146.05},
)
def stretch_ratio(outer_mm: float, radius_mm: float) -> float:
    """Strain at the outside of a bend.

    >>> round(stretch_ratio(29.5402, 146.05), 4)
    0.1011
    """
    return outer_mm / (2 * radius_mm)


@formula(
    result="R_e",
    symbols={"modulus_mpa": "E", "outer_mm": "D", "yield_mpa": "F_y"},
    source="geometry",
    example={"modulus_mpa": 200_000.0, "outer_mm": 29.54, "yield_mpa": 207.0},
)
def elastic_radius_mm(modulus_mpa: float, outer_mm: float, yield_mpa: float) -> float:
    """Radius above which a tube springs back straight: nothing of it yields. [mm]"""
    return modulus_mpa * outer_mm / (2 * yield_mpa)


@formula(
    result="k",
    symbols={"radius_mm": "R_i", "yield_mpa": "F_y", "modulus_mpa": "E", "outer_mm": "D", "x": "x"},
    source="spring-back",
    example={"radius_mm": 1200.0, "yield_mpa": 207.0, "modulus_mpa": 200_000.0, "outer_mm": 29.54},
)
def spring_ratio(radius_mm: float, yield_mpa: float, modulus_mpa: float, outer_mm: float) -> float:
    """Share of its bend that a tube keeps when let go, R_i/R_f: an estimate, for a radius below the elastic one.

    >>> round(1200 / spring_ratio(1200.0, 240.0, 200e3, 29.5402))  # 1405 mm
    1405
    """
    x = radius_mm * yield_mpa / (modulus_mpa * outer_mm)
    return 4 * x**3 - 3 * x + 1


@formula(
    result="R_f",
    symbols={"radius_mm": "R_i", "kept_ratio": "k"},
    source="spring-back",
    example={"radius_mm": 1200.0, "kept_ratio": 0.85},
)
def sprung_radius_mm(radius_mm: float, kept_ratio: float) -> float:
    """Radius that a bend opens to when let go. [mm]"""
    return radius_mm / kept_ratio


@formula(
    result="theta_b",
    symbols={"bend_deg": "theta", "kept_ratio": "k"},
    source="spring-back",
    example={"bend_deg": 90.0, "kept_ratio": 0.98},
)
def bend_to_deg(bend_deg: float, kept_ratio: float) -> float:
    """Angle to bend to so that a bend rests at the angle wanted. [deg]"""
    return bend_deg / kept_ratio


def stub_arrow_mm(stub_mm: float, member: Member, bender: Bender) -> float:
    """Return where the arrow stands, from the near end, for a right-angle stub of a height to its back. [mm]

    Raises
    ------
    InputError
        For a jig, or a stub that the bender cannot hold.
    """
    if bender.take_up_mm is None:
        raise InputError("bender for a stub", bender.label, "a shoe with its take-up")
    least = bender.near_mm + bender.radius_mm + member.outer_mm / 2
    if not stub_mm >= least:
        needs = f"{least:.0f} mm or more with the {bender.label}"
        raise InputError("height of the stub", stub_mm, needs, "Bend it longer and cut it after.")
    return stub_mark_mm(stub_mm, bender.take_up_mm)


def offset_marks_mm(to_obstacle_mm: float, depth_mm: float, bend_deg: float) -> tuple[float, float]:
    """Return the two marks of an offset that is complete where an obstacle starts, both from the near end. [mm]

    The second is at the obstacle, shrink added; the first the spacing before it.

    >>> [round(m) for m in offset_marks_mm(500.0, 100.0, 30.0)]
    [327, 527]
    """
    if not 0 < bend_deg < 90:
        raise InputError("angle of the offset", bend_deg, "more than 0 and less than 90 degrees", "30 is usual.")
    second = to_obstacle_mm + offset_shrink_mm(depth_mm, bend_deg)
    first = second - offset_spacing_mm(depth_mm, bend_deg)
    if not (depth_mm > 0 and first > 0):
        needs = "a depth above 0, and room for it before the obstacle"
        raise InputError("depth of the offset", depth_mm, needs, "Use a steeper angle or start farther back.")
    return first, second
