"""The working of one member row, clause by clause, made of the formulas that the arrays stand for."""

from typing import TYPE_CHECKING

from gardenframe.materials import constants
from gardenframe.materials.members import Member
from gardenframe.strength import pvc, steel, timber
from gardenframe.strength.capacities import RULES, STEEL, TIMBER, WIRE, capacities, strength_mpa, wall_mm
from gardenframe.strength.rows import CheckRow
from gardenframe.working import Step

if TYPE_CHECKING:
    from gardenframe.strength.members import Strength


def of_row(row: CheckRow, strength: "Strength", system: str = "metric") -> list[Step]:
    """Return the working of a row in bending and axial force, or of a wire's pull."""
    member, forces = strength.members[row.member], dict(row.forces)
    rule, length_m = RULES[member.family], row.length_m or 0.0
    if rule == WIRE:
        fy = strength_mpa(member, "yield_mpa")
        return [steel.allowed_pull_n.shown(fy, member.area_mm2, system=system)]
    if rule == STEEL:
        return of_steel(member, length_m, system=system, **forces)
    if rule == TIMBER:
        lasts = float(strength.durations[strength.response.cases.index(row.case)])
        return of_timber(member, length_m, lasts, forces, system)
    return of_plastic(member, length_m, forces, strength.temperature_degc, system)


def of_steel(
    member: Member,
    length_m: float,
    axial_n: float,
    moment_y_n_m: float,
    moment_z_n_m: float,
    shear_y_n: float = 0.0,
    shear_z_n: float = 0.0,
    torsion_n_m: float = 0.0,
    system: str = "metric",
) -> list[Step]:
    """Return the working of axial force and bending on steel: column or pull, bending, both together.

    Parameters
    ----------
    axial_n : float
        Positive in tension. [N]
    moment_y_n_m, moment_z_n_m : float
        Bending about the two axes. [N m]
    shear_y_n, shear_z_n, torsion_n_m : float
        These enter where torsion passes a fifth of its own limit. [N, N m]
    """
    here = capacities(member, length_m)
    steps = _axial(member, length_m, axial_n, system) + _bending(member, system)
    steps.append(steel.resultant_moment_n_m.shown(moment_y_n_m, moment_z_n_m, system=system))
    both = steel.resultant_moment_n_m(moment_y_n_m, moment_z_n_m)
    limit = here.push_n if axial_n < 0 else here.pull_n
    if abs(torsion_n_m) <= steel.TORSION_SHARE * here.torsion_n_m:
        steps.append(steel.interaction_ratio.shown(abs(axial_n), limit, both, here.moment_n_m, system=system))
        return steps
    shear = steel.resultant_shear_n(shear_y_n, shear_z_n)
    steps.append(steel.resultant_shear_n.shown(shear_y_n, shear_z_n, system=system))
    steps.append(
        steel.torsion_interaction_ratio.shown(
            abs(axial_n), limit, both, here.moment_n_m, shear, here.shear_n, abs(torsion_n_m), here.torsion_n_m,
            system=system,
        )
    )  # fmt: skip
    return steps


def _axial(member: Member, length_m: float, axial_n: float, system: str) -> list[Step]:
    """Return the steps to the allowed push or pull."""
    modulus, fy, area = member.modulus_pa / 1e6, strength_mpa(member, "yield_mpa"), member.area_mm2
    if axial_n >= 0:
        return [steel.allowed_pull_n.shown(fy, area, system=system)]
    slender = steel.slenderness_ratio(length_m * 1000, member.gyration_mm)
    steps = [
        steel.slenderness_ratio.shown(length_m * 1000, member.gyration_mm, system=system),
        steel.column_stress_mpa.shown(slender, modulus, fy, system=system),
    ]
    share = 1.0
    if member.shape == "tube":
        wall = member.outer_mm / wall_mm(member)
        share = steel.effective_area_ratio(wall, modulus, fy)
        steps.append(steel.effective_area_ratio.shown(wall, modulus, fy, system=system))
    stress = steel.column_stress_mpa(slender, modulus, fy)
    return [*steps, steel.allowed_push_n.shown(stress, area, share, system=system)]


def _bending(member: Member, system: str) -> list[Step]:
    """Return the steps to the allowed bending moment."""
    modulus, fy = member.modulus_pa / 1e6, strength_mpa(member, "yield_mpa")
    plastic, elastic = member.plastic_modulus_mm3, member.section_modulus_mm3
    if member.shape == "tube":
        wall = member.outer_mm / wall_mm(member)
        moment = steel.tube_moment_n_mm(wall, plastic, elastic, modulus, fy)
        first = steel.tube_moment_n_mm.shown(wall, plastic, elastic, modulus, fy, system=system)
    else:
        moment = steel.rod_moment_n_mm(fy, plastic, elastic)
        first = steel.rod_moment_n_mm.shown(fy, plastic, elastic, system=system)
    return [first, steel.allowed_moment_n_m.shown(moment / 1000, system=system)]


def of_timber(
    member: Member, length_m: float, duration: float, forces: dict[str, float], system: str = "metric"
) -> list[Step]:
    """Return the working of axial force and bending on timber under a load of that duration factor."""
    allowed, long_mm = timber.adjusted(member), length_m * 1000
    wide, deep, least = member.outer_mm, member.across_mm, allowed.modulus_min_mpa
    bending, steps = allowed.bending_mpa * duration, []
    over = timber.beam_buckling_stress_mpa(least, long_mm, deep, wide)
    beam = 1.0
    if deep > wide:
        beam = timber.beam_stability_ratio(over / bending)
        steps.append(timber.beam_buckling_stress_mpa.shown(least, long_mm, deep, wide, system=system))
        steps.append(timber.beam_stability_ratio.shown(over / bending, system=system))
    flat = abs(forces["moment_y_n_m"]) * 1000 / member.section_modulus_mm3
    side = abs(forces["moment_z_n_m"]) * 1000 / member.section_modulus_weak_mm3
    axial = abs(forces["axial_n"]) / member.area_mm2
    if forces["axial_n"] > 0:
        pull = allowed.tension_mpa * duration
        steps.append(
            timber.pull_and_bending_ratio.shown(axial, pull, flat, bending * beam, side, bending, system=system)
        )
        return steps
    column = allowed.compression_mpa * duration
    flat_e = timber.column_buckling_stress_mpa(least, long_mm, deep)
    side_e = timber.column_buckling_stress_mpa(least, long_mm, wide)
    share = timber.column_stability_ratio(side_e / column)
    steps.append(timber.column_buckling_stress_mpa.shown(least, long_mm, wide, system=system))
    steps.append(timber.column_stability_ratio.shown(side_e / column, system=system))
    steps.append(
        timber.push_and_bending_ratio.shown(
            axial, column * share, flat, bending * beam, side, bending, flat_e, side_e, over, system=system
        )
    )
    return steps


def of_plastic(
    member: Member, length_m: float, forces: dict[str, float], temperature_degc: float | None, system: str = "metric"
) -> list[Step]:
    """Return the working of axial force and bending on plastic pipe."""
    hot = constants.value("pvc_temperature_degc") if temperature_degc is None else temperature_degc
    here = capacities(member, length_m, temperature_degc)
    kept = pvc.kept(hot)
    steps = [
        pvc.kept_in_heat_ratio.shown(
            hot, constants.value("pvc_rated_degc"), constants.value("pvc_half_degc"), system=system
        )
    ]
    if forces["axial_n"] < 0:
        modulus = member.modulus_gpa * 1000 * kept
        steps.append(pvc.euler_load_n.shown(modulus, member.second_moment_mm4, length_m * 1000, system=system))
    both = steel.resultant_moment_n_m(forces["moment_y_n_m"], forces["moment_z_n_m"])
    limit = here.push_n if forces["axial_n"] < 0 else here.pull_n
    steps.append(pvc.added_ratio.shown(abs(forces["axial_n"]), limit, both, here.moment_n_m, system=system))
    return steps
