"""Properties of cross-sections: round tubes, rectangles and rods. Floats in, float out; units are in the names."""

import math


def tube_area_mm2(outer_mm: float, wall_mm: float) -> float:
    """Area of steel of a round tube, A = pi t (D - t). [mm2] Source: geometry.

    >>> round(tube_area_mm2(29.5402, 1.4478), 2)
    127.78
    """
    return math.pi * wall_mm * (outer_mm - wall_mm)


def tube_second_moment_mm4(outer_mm: float, wall_mm: float) -> float:
    """Second moment of area of a round tube about a diameter, I = pi (D^4 - d^4)/64. [mm4] Source: geometry."""
    return math.pi * (outer_mm**4 - (outer_mm - 2 * wall_mm) ** 4) / 64


def tube_section_modulus_mm3(outer_mm: float, wall_mm: float) -> float:
    """Elastic section modulus of a round tube, S = pi (D^4 - d^4)/(32 D). [mm3] Source: geometry."""
    return math.pi * (outer_mm**4 - (outer_mm - 2 * wall_mm) ** 4) / (32 * outer_mm)


def tube_plastic_modulus_mm3(outer_mm: float, wall_mm: float) -> float:
    """Plastic section modulus of a round tube, Z = (D^3 - d^3)/6. [mm3] Source: geometry."""
    return (outer_mm**3 - (outer_mm - 2 * wall_mm) ** 3) / 6


def tube_torsion_mm4(outer_mm: float, wall_mm: float) -> float:
    """Torsion constant of a round tube, J = pi (D^4 - d^4)/32. [mm4] Source: geometry."""
    return math.pi * (outer_mm**4 - (outer_mm - 2 * wall_mm) ** 4) / 32


def tube_gyration_mm(outer_mm: float, wall_mm: float) -> float:
    """Radius of gyration of a round tube, r = sqrt(D^2 + d^2)/4. [mm] Source: geometry."""
    gyration_mm: float = (outer_mm**2 + (outer_mm - 2 * wall_mm) ** 2) ** 0.5 / 4  # mypy: a float to a power is Any
    return gyration_mm


def rectangle_area_mm2(width_mm: float, depth_mm: float) -> float:
    """Area of a rectangle. [mm2] Source: geometry."""
    return width_mm * depth_mm


def rectangle_second_moment_mm4(width_mm: float, depth_mm: float) -> float:
    """Second moment of area of a rectangle bent over its depth, I = b d^3/12. [mm4] Source: geometry."""
    return width_mm * depth_mm**3 / 12


def rectangle_section_modulus_mm3(width_mm: float, depth_mm: float) -> float:
    """Elastic section modulus of a rectangle bent over its depth, S = b d^2/6. [mm3] Source: geometry."""
    return width_mm * depth_mm**2 / 6


def rectangle_plastic_modulus_mm3(width_mm: float, depth_mm: float) -> float:
    """Plastic section modulus of a rectangle bent over its depth, Z = b d^2/4. [mm3] Source: geometry."""
    return width_mm * depth_mm**2 / 4


def rectangle_torsion_mm4(short_mm: float, long_mm: float) -> float:
    """Torsion constant of a rectangle, short side first; within 1 % of the exact series. [mm4] Source: from memory."""
    return short_mm**3 * long_mm * (1 / 3 - 0.21 * short_mm / long_mm * (1 - short_mm**4 / (12 * long_mm**4)))


def rectangle_gyration_mm(depth_mm: float) -> float:
    """Radius of gyration of a rectangle bent over its depth, r = d/sqrt(12). [mm] Source: geometry."""
    return depth_mm / 12**0.5


def rod_area_mm2(outer_mm: float) -> float:
    """Area of a round bar or wire. [mm2] Source: geometry."""
    return math.pi * outer_mm**2 / 4


def rod_second_moment_mm4(outer_mm: float) -> float:
    """Second moment of area of a round bar. [mm4] Source: geometry."""
    return math.pi * outer_mm**4 / 64


def rod_section_modulus_mm3(outer_mm: float) -> float:
    """Elastic section modulus of a round bar. [mm3] Source: geometry."""
    return math.pi * outer_mm**3 / 32


def rod_plastic_modulus_mm3(outer_mm: float) -> float:
    """Plastic section modulus of a round bar. [mm3] Source: geometry."""
    return outer_mm**3 / 6


def rod_torsion_mm4(outer_mm: float) -> float:
    """Torsion constant of a round bar. [mm4] Source: geometry."""
    return math.pi * outer_mm**4 / 32


def rod_gyration_mm(outer_mm: float) -> float:
    """Radius of gyration of a round bar, r = D/4. [mm] Source: geometry."""
    return outer_mm / 4


def mass_kg_per_m(area_m2: float, density_kg_per_m3: float) -> float:
    """Mass of a metre of a member. [kg/m] Source: geometry.

    >>> round(mass_kg_per_m(127.78e-6, 7850), 4)
    1.0031
    """
    return area_m2 * density_kg_per_m3
