"""Round steel tube and bar by AISC 360, allowable strength: columns, bending, shear, torsion, forces together.

One clause is one formula on plain floats. Effective length is the length between braces (K = 1), which holds where
forces come from the moved frame (second order, or amplified).
"""

import math

from gardenframe.errors import InputError
from gardenframe.working import formula

OMEGA = 1.67  # ASD factor of D2, E1, F1, G1 and H3 (from memory; E1 seen through design example E.11)
TORSION_SHARE = 0.2  # of its allowed value, up to which torsion is left out (H3.2, from memory)
STEEL = {"modulus_mpa": "E", "yield_mpa": "F_y"}
ROUND = {"wall_ratio": "lambda_t", **STEEL}
ONE_INCH = {"modulus_mpa": 200_000.0, "yield_mpa": 207.0}
FORCES = {
    "force_n": "P", "allowed_force_n": "P_c", "moment_n_m": "M", "allowed_moment_n_m": "M_c",
}  # fmt: skip


def require_wall_ratio(wall_ratio: float, modulus_mpa: float, yield_mpa: float) -> None:
    """Raise InputError for a wall so thin that AISC 360 has no rule for it: D/t above 0.45 E/Fy."""
    most = 0.45 * modulus_mpa / yield_mpa
    if not 0 < wall_ratio <= most:
        raise InputError("diameter over wall", round(wall_ratio, 1), f"at most {most:.0f}", "Choose a thicker wall.")


@formula(result="lambda", symbols={"length_mm": "L", "gyration_mm": "r"}, source="aisc-360-e3")
def slenderness_ratio(length_mm: float, gyration_mm: float) -> float:
    """Slenderness of a column between braces, K = 1.

    >>> round(slenderness_ratio(2000, 9.945), 1)
    201.1
    """
    return length_mm / gyration_mm


@formula(
    result="F_cr",
    symbols={"slenderness_ratio": "lambda", "euler_mpa": "F_e", **STEEL},
    source="aisc-360-e3",
    example={"slenderness_ratio": 100.55, **ONE_INCH},
)
def column_stress_mpa(slenderness_ratio: float, modulus_mpa: float, yield_mpa: float) -> float:
    """Critical stress of a column (E3): yielding softened by buckling, or elastic buckling if slender. [MPa]

    >>> round(column_stress_mpa(87.43, 29000.0, 50.0), 2)
    28.59
    """
    euler_mpa = math.pi**2 * modulus_mpa / slenderness_ratio**2
    if slenderness_ratio <= 4.71 * (modulus_mpa / yield_mpa) ** 0.5:
        stress_mpa: float = 0.658 ** (yield_mpa / euler_mpa) * yield_mpa  # mypy: a float to a power is Any
        return stress_mpa
    return 0.877 * euler_mpa


@formula(result="k_A", symbols=ROUND, source="aisc-360-e7", example={"wall_ratio": 20.4, **ONE_INCH})
def effective_area_ratio(wall_ratio: float, modulus_mpa: float, yield_mpa: float) -> float:
    """Share of the area that pushes fully: all of it unless the wall buckles first (B4.1a case 9, E7)."""
    require_wall_ratio(wall_ratio, modulus_mpa, yield_mpa)
    if wall_ratio <= 0.11 * modulus_mpa / yield_mpa:
        return 1.0
    return min(1, 0.038 * modulus_mpa / (yield_mpa * wall_ratio) + 2 / 3)  # the clause passes 1 where it starts


@formula(
    result="P_c",
    symbols={"stress_mpa": "F_cr", "area_mm2": "A", "effective_ratio": "k_A", "OMEGA": "Omega"},
    source="aisc-360-e3",
)
def allowed_push_n(stress_mpa: float, area_mm2: float, effective_ratio: float) -> float:
    """Allowed push on a column, F_cr A/1.67. [N]"""
    return stress_mpa * effective_ratio * area_mm2 / OMEGA


@formula(
    result="P_t", symbols={"yield_mpa": "F_y", "area_mm2": "A", "OMEGA": "Omega"}, source="aisc-360-d2"
)  # fmt: skip
def allowed_pull_n(yield_mpa: float, area_mm2: float) -> float:
    """Allowed pull on a member without holes, F_y A/1.67. [N]"""
    return yield_mpa * area_mm2 / OMEGA


@formula(
    result="M_n",
    symbols={**ROUND, "plastic_modulus_mm3": "Z", "section_modulus_mm3": "S"},
    source="aisc-360-f8",
    example={"wall_ratio": 20.4, "plastic_modulus_mm3": 1143.6, "section_modulus_mm3": 855.7, **ONE_INCH},
)
def tube_moment_n_mm(
    wall_ratio: float, plastic_modulus_mm3: float, section_modulus_mm3: float, modulus_mpa: float, yield_mpa: float
) -> float:
    """Moment at which a round tube gives way (F8): plastic if the wall is compact, less if it buckles. [N mm]

    >>> round(tube_moment_n_mm(20.4, 1143.6, 855.7, 200_000.0, 207.0) / 1000, 1)
    236.7
    """
    require_wall_ratio(wall_ratio, modulus_mpa, yield_mpa)
    if wall_ratio <= 0.07 * modulus_mpa / yield_mpa:
        return yield_mpa * plastic_modulus_mm3
    if wall_ratio <= 0.31 * modulus_mpa / yield_mpa:
        return (0.021 * modulus_mpa / wall_ratio + yield_mpa) * section_modulus_mm3
    return 0.33 * modulus_mpa / wall_ratio * section_modulus_mm3


@formula(
    result="M_n",
    symbols={"yield_mpa": "F_y", "plastic_modulus_mm3": "Z", "section_modulus_mm3": "S"},
    source="aisc-360-f11",
)
def rod_moment_n_mm(yield_mpa: float, plastic_modulus_mm3: float, section_modulus_mm3: float) -> float:
    """Moment at which a solid bar gives way (F11): plastic, at most 1.6 times first yield. [N mm]"""
    return min(yield_mpa * plastic_modulus_mm3, 1.6 * yield_mpa * section_modulus_mm3)


@formula(result="M_c", symbols={"moment_n_m": "M_n", "OMEGA": "Omega"}, source="aisc-360-f8", lengths="m")
def allowed_moment_n_m(moment_n_m: float) -> float:
    """Allowed bending moment, M_n/1.67. [N m]

    >>> round(allowed_moment_n_m(236.7), 1)
    141.7
    """
    return moment_n_m / OMEGA


@formula(
    result="V_c",
    symbols={**ROUND, "area_mm2": "A", "shear_stress_mpa": "F_cr", "OMEGA": "Omega"},
    source="aisc-360-g",
    example={"wall_ratio": 20.4, "area_mm2": 127.78, **ONE_INCH},
)
def allowed_shear_n(wall_ratio: float, area_mm2: float, modulus_mpa: float, yield_mpa: float) -> float:
    """Allowed shear of a round tube (G): half its area at 0.6 F_y, or less if the wall buckles. [N]

    Of the two buckling stresses of the clause the one without the length is used; it is never the larger.
    """
    shear_stress_mpa: float = min(0.6 * yield_mpa, 0.78 * modulus_mpa / wall_ratio**1.5)
    return shear_stress_mpa * area_mm2 / (2 * OMEGA)


@formula(
    result="T_c",
    symbols={**ROUND, "outer_mm": "D", "wall_mm": "t", "shear_stress_mpa": "F_cr", "OMEGA": "Omega"},
    source="aisc-360-h3",
    example={"outer_mm": 29.5402, "wall_mm": 1.4478, **ONE_INCH},
)
def allowed_torsion_n_mm(outer_mm: float, wall_mm: float, modulus_mpa: float, yield_mpa: float) -> float:
    """Allowed twisting moment of a round tube (H3.1). [N mm]"""
    wall_ratio = outer_mm / wall_mm
    shear_stress_mpa: float = min(0.6 * yield_mpa, 0.6 * modulus_mpa / wall_ratio**1.5)
    return shear_stress_mpa * math.pi * (outer_mm - wall_mm) ** 2 * wall_mm / (2 * OMEGA)


@formula(result="M", symbols={"moment_y_n_m": "M_y", "moment_z_n_m": "M_z"}, source="geometry", lengths="m")
def resultant_moment_n_m(moment_y_n_m: float, moment_z_n_m: float) -> float:
    """Bending moment of a round section whatever its plane. [N m]"""
    moment_n_m: float = (moment_y_n_m**2 + moment_z_n_m**2) ** 0.5
    return moment_n_m


@formula(result="V", symbols={"shear_y_n": "V_y", "shear_z_n": "V_z"}, source="geometry")
def resultant_shear_n(shear_y_n: float, shear_z_n: float) -> float:
    """Shear of a round section whatever its plane. [N]"""
    shear_n: float = (shear_y_n**2 + shear_z_n**2) ** 0.5
    return shear_n


@formula(
    result="u",
    symbols=FORCES,
    source="aisc-360-h1",
    lengths="m",
    example={"force_n": 655.0, "allowed_force_n": 3275.0, "moment_n_m": 50.0, "allowed_moment_n_m": 141.7},
)
def interaction_ratio(force_n: float, allowed_force_n: float, moment_n_m: float, allowed_moment_n_m: float) -> float:
    """Share used by axial force and bending together (H1-1): 1.00 is the limit.

    >>> interaction_ratio(200.0, 1000.0, 90.0, 100.0), interaction_ratio(100.0, 1000.0, 90.0, 100.0)
    (1.0, 0.9500000000000001)
    """
    if force_n / allowed_force_n >= 0.2:
        return force_n / allowed_force_n + 8 / 9 * moment_n_m / allowed_moment_n_m
    return force_n / (2 * allowed_force_n) + moment_n_m / allowed_moment_n_m


@formula(
    result="u",
    symbols={
        **FORCES, "shear_n": "V", "allowed_shear_n": "V_c", "torsion_n_m": "T", "allowed_torsion_n_m": "T_c",
    },
    source="aisc-360-h3",
    lengths="m",
)  # fmt: skip
def torsion_interaction_ratio(
    force_n: float,
    allowed_force_n: float,
    moment_n_m: float,
    allowed_moment_n_m: float,
    shear_n: float,
    allowed_shear_n: float,
    torsion_n_m: float,
    allowed_torsion_n_m: float,
) -> float:
    """Share used where torsion passes a fifth of its own limit (H3-6): 1.00 is the limit."""
    return (
        force_n / allowed_force_n
        + moment_n_m / allowed_moment_n_m
        + (shear_n / allowed_shear_n + torsion_n_m / allowed_torsion_n_m) ** 2
    )


@formula(
    result="P", symbols={"yield_mpa": "F_y", "section_modulus_mm3": "S", "span_mm": "L"}, source="aisc-3-23-1"
)  # fmt: skip
def first_yield_load_n(yield_mpa: float, section_modulus_mm3: float, span_mm: float) -> float:
    """Load at mid-span of a simple span at which the outermost fibre yields: the test of a length. [N]

    >>> round(first_yield_load_n(207.0, 855.7, 1000.0))
    709
    """
    return 4 * yield_mpa * section_modulus_mm3 / span_mm


@formula(
    result="F_y", symbols={"load_n": "P", "span_mm": "L", "section_modulus_mm3": "S"}, source="aisc-3-23-1"
)  # fmt: skip
def yield_by_test_mpa(load_n: float, span_mm: float, section_modulus_mm3: float) -> float:
    """Yield strength that a test shows: the mid-span load after which a simple span stays bent. [MPa]"""
    return load_n * span_mm / (4 * section_modulus_mm3)
