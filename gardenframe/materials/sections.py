"""Properties of cross-sections: round tubes, rectangles and rods. Floats in, float out; units are in the names."""

import math

from gardenframe.working import formula

TUBE = {"outer_mm": "D", "wall_mm": "t"}
RECTANGLE = {"width_mm": "b", "depth_mm": "d"}
ROD = {"outer_mm": "D"}
ONE_INCH_EMT = {"outer_mm": 29.5402, "wall_mm": 1.4478}
TWO_BY_FOUR = {"width_mm": 38.1, "depth_mm": 88.9}


@formula(result="A", symbols=TUBE, source="geometry", example=ONE_INCH_EMT)
def tube_area_mm2(outer_mm: float, wall_mm: float) -> float:
    """Area of steel of a round tube, A = pi t (D - t). [mm2]

    >>> round(tube_area_mm2(29.5402, 1.4478), 2)
    127.78
    """
    return math.pi * wall_mm * (outer_mm - wall_mm)


@formula(result="I", symbols=TUBE, source="geometry", example=ONE_INCH_EMT)
def tube_second_moment_mm4(outer_mm: float, wall_mm: float) -> float:
    """Second moment of area of a round tube about a diameter, I = pi (D^4 - d^4)/64. [mm4]"""
    return math.pi * (outer_mm**4 - (outer_mm - 2 * wall_mm) ** 4) / 64


@formula(result="S", symbols=TUBE, source="geometry", example=ONE_INCH_EMT)
def tube_section_modulus_mm3(outer_mm: float, wall_mm: float) -> float:
    """Elastic section modulus of a round tube, S = pi (D^4 - d^4)/(32 D). [mm3]"""
    return math.pi * (outer_mm**4 - (outer_mm - 2 * wall_mm) ** 4) / (32 * outer_mm)


@formula(result="Z", symbols=TUBE, source="geometry", example=ONE_INCH_EMT)
def tube_plastic_modulus_mm3(outer_mm: float, wall_mm: float) -> float:
    """Plastic section modulus of a round tube, Z = (D^3 - d^3)/6. [mm3]"""
    return (outer_mm**3 - (outer_mm - 2 * wall_mm) ** 3) / 6


@formula(result="J", symbols=TUBE, source="geometry", example=ONE_INCH_EMT)
def tube_torsion_mm4(outer_mm: float, wall_mm: float) -> float:
    """Torsion constant of a round tube, J = pi (D^4 - d^4)/32. [mm4]"""
    return math.pi * (outer_mm**4 - (outer_mm - 2 * wall_mm) ** 4) / 32


@formula(result="r", symbols=TUBE, source="geometry", example=ONE_INCH_EMT)
def tube_gyration_mm(outer_mm: float, wall_mm: float) -> float:
    """Radius of gyration of a round tube, r = sqrt(D^2 + d^2)/4. [mm]"""
    gyration_mm: float = (outer_mm**2 + (outer_mm - 2 * wall_mm) ** 2) ** 0.5 / 4  # mypy: a float to a power is Any
    return gyration_mm


@formula(result="A", symbols=RECTANGLE, source="geometry", example=TWO_BY_FOUR)
def rectangle_area_mm2(width_mm: float, depth_mm: float) -> float:
    """Area of a rectangle. [mm2]"""
    return width_mm * depth_mm


@formula(result="I", symbols=RECTANGLE, source="geometry", example=TWO_BY_FOUR)
def rectangle_second_moment_mm4(width_mm: float, depth_mm: float) -> float:
    """Second moment of area of a rectangle bent over its depth, I = b d^3/12. [mm4]"""
    return width_mm * depth_mm**3 / 12


@formula(result="S", symbols=RECTANGLE, source="geometry", example=TWO_BY_FOUR)
def rectangle_section_modulus_mm3(width_mm: float, depth_mm: float) -> float:
    """Elastic section modulus of a rectangle bent over its depth, S = b d^2/6. [mm3]"""
    return width_mm * depth_mm**2 / 6


@formula(result="Z", symbols=RECTANGLE, source="geometry", example=TWO_BY_FOUR)
def rectangle_plastic_modulus_mm3(width_mm: float, depth_mm: float) -> float:
    """Plastic section modulus of a rectangle bent over its depth, Z = b d^2/4. [mm3]"""
    return width_mm * depth_mm**2 / 4


@formula(
    result="J",
    symbols={"short_mm": "a", "long_mm": "c"},
    source="rectangle-torsion",
    example={"short_mm": 38.1, "long_mm": 88.9},
)
def rectangle_torsion_mm4(short_mm: float, long_mm: float) -> float:
    """Torsion constant of a rectangle, short side first; within 1 % of the exact series. [mm4]"""
    return short_mm**3 * long_mm * (1 / 3 - 0.21 * short_mm / long_mm * (1 - short_mm**4 / (12 * long_mm**4)))


@formula(result="r", symbols={"depth_mm": "d"}, source="geometry")
def rectangle_gyration_mm(depth_mm: float) -> float:
    """Radius of gyration of a rectangle bent over its depth, r = d/sqrt(12). [mm]"""
    return depth_mm / 12**0.5


@formula(result="A", symbols=ROD, source="geometry")
def rod_area_mm2(outer_mm: float) -> float:
    """Area of a round bar or wire. [mm2]"""
    return math.pi * outer_mm**2 / 4


@formula(result="I", symbols=ROD, source="geometry")
def rod_second_moment_mm4(outer_mm: float) -> float:
    """Second moment of area of a round bar. [mm4]"""
    return math.pi * outer_mm**4 / 64


@formula(result="S", symbols=ROD, source="geometry")
def rod_section_modulus_mm3(outer_mm: float) -> float:
    """Elastic section modulus of a round bar. [mm3]"""
    return math.pi * outer_mm**3 / 32


@formula(result="Z", symbols=ROD, source="geometry")
def rod_plastic_modulus_mm3(outer_mm: float) -> float:
    """Plastic section modulus of a round bar. [mm3]"""
    return outer_mm**3 / 6


@formula(result="J", symbols=ROD, source="geometry")
def rod_torsion_mm4(outer_mm: float) -> float:
    """Torsion constant of a round bar. [mm4]"""
    return math.pi * outer_mm**4 / 32


@formula(result="r", symbols=ROD, source="geometry")
def rod_gyration_mm(outer_mm: float) -> float:
    """Radius of gyration of a round bar, r = D/4. [mm]"""
    return outer_mm / 4


@formula(result="m", symbols={"area_m2": "A", "density_kg_per_m3": "rho"}, source="geometry")
def mass_kg_per_m(area_m2: float, density_kg_per_m3: float) -> float:
    """Mass of a metre of a member. [kg/m]

    >>> round(mass_kg_per_m(127.78e-6, 7850), 4)
    1.0031
    """
    return area_m2 * density_kg_per_m3
