"""What one member can carry between two braces: push, pull, bending, shear, twist, by the rules of its material."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache

from gardenframe.errors import InputError
from gardenframe.materials import constants
from gardenframe.materials.members import Member
from gardenframe.strength import pvc, steel, timber

STEEL, PLASTIC, TIMBER, WIRE = "steel", "plastic", "timber", "wire"
RULES = {"emt": STEEL, "bar": STEEL, "pvc": PLASTIC, "timber": TIMBER, "wire": WIRE}
SOURCES = {STEEL: "aisc-360-h1", PLASTIC: "pvc-practice", TIMBER: "nds-combined", WIRE: "aisc-360-d2"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Capacity:
    """Allowed forces of one member over one unbraced length.

    `moment_n_m` is about the flat axis (the strong one of a rectangle), `moment_weak_n_m` about the other. Timber is
    for a load that stays (duration factor 1): its combinations are worked case by case.
    """

    member: str
    rule: str
    length_m: float
    slenderness: float
    push_n: float
    pull_n: float
    moment_n_m: float
    moment_weak_n_m: float
    shear_n: float
    torsion_n_m: float
    source: str
    strength_source: str
    parts: Mapping[str, float] = field(default_factory=dict)


@lru_cache(maxsize=4096)
def capacities(member: Member, length_m: float, temperature_degc: float | None = None) -> Capacity:
    """Return what a member can carry between braces this far apart.

    Parameters
    ----------
    member : Member
        Its yield or its allowable stresses are inputs: replace them where they were measured.
    length_m : float
        Between braces, K = 1. [m]
    temperature_degc : float, optional
        Of plastic pipe; full summer sun if not given. [°C]

    Raises
    ------
    InputError
        For a length that is not above 0, a wall too thin for any rule, a row without strength.
    """
    if not length_m > 0:
        raise InputError("length between braces", length_m, "more than 0 m")
    rule = RULES[member.family]
    if rule == TIMBER:
        return _timber(member, length_m)
    if rule == PLASTIC:
        return _plastic(member, length_m, temperature_degc)
    return _steel(member, length_m) if rule == STEEL else _wire(member, length_m)


def strength_mpa(member: Member, name: str) -> float:
    """Return a strength of a member, or raise InputError naming the empty cell. [MPa]"""
    value = getattr(member, name)
    if value is None:
        raise InputError(f"{member.key}: {name}", None, "a strength", "Fill in its row of the members table.")
    return float(value)


def _steel(member: Member, length_m: float) -> Capacity:
    modulus, fy, area = member.modulus_pa / 1e6, strength_mpa(member, "yield_mpa"), member.area_mm2
    slender = steel.slenderness_ratio(length_m * 1000, member.gyration_mm)
    stress = steel.column_stress_mpa(slender, modulus, fy)
    if member.shape == "tube":
        wall = member.outer_mm / wall_mm(member)
        share = steel.effective_area_ratio(wall, modulus, fy)
        moment = steel.tube_moment_n_mm(wall, member.plastic_modulus_mm3, member.section_modulus_mm3, modulus, fy)
        shear = steel.allowed_shear_n(wall, area, modulus, fy)
        twist = steel.allowed_torsion_n_mm(member.outer_mm, wall_mm(member), modulus, fy)
    else:
        share = 1.0
        moment = steel.rod_moment_n_mm(fy, member.plastic_modulus_mm3, member.section_modulus_mm3)
        # highest shear of a round bar is 4/3 of the mean, its twist J/(D/2) times the stress (strength of materials)
        shear = 0.6 * fy * area * 3 / 4 / steel.OMEGA
        twist = 0.6 * fy * member.torsion_mm4 / (member.outer_mm / 2) / steel.OMEGA
    allowed = steel.allowed_moment_n_m(moment / 1000)
    return _capacity(
        member, STEEL, length_m, slender,
        push_n=steel.allowed_push_n(stress, area, share), pull_n=steel.allowed_pull_n(fy, area),
        moment_n_m=allowed, moment_weak_n_m=allowed, shear_n=shear, torsion_n_m=twist / 1000,
    )  # fmt: skip


def _plastic(member: Member, length_m: float, temperature_degc: float | None) -> Capacity:
    kept, area = pvc.kept(temperature_degc), member.area_mm2
    bending = strength_mpa(member, "allowed_bending_mpa") * kept
    pull = strength_mpa(member, "allowed_tension_mpa") * kept
    push = strength_mpa(member, "allowed_compression_mpa") * kept
    reserve = constants.value("pvc_buckling_factor")
    euler = pvc.euler_load_n(member.modulus_gpa * 1000 * kept, member.second_moment_mm4, length_m * 1000)
    moment = bending * member.section_modulus_mm3 / 1000
    # shear stress allowed: half the pull (largest shear stress); a thin ring has twice the mean at its middle
    return _capacity(
        member, PLASTIC, length_m, length_m * 1000 / member.gyration_mm,
        push_n=min(push * area, euler / reserve), pull_n=pull * area,
        moment_n_m=moment, moment_weak_n_m=moment, shear_n=pull / 2 * area / 2,
        torsion_n_m=pull / 2 * member.torsion_mm4 / (member.outer_mm / 2) / 1000,
    )  # fmt: skip


def _timber(member: Member, length_m: float) -> Capacity:
    allowed, long_mm = timber.adjusted(member), length_m * 1000
    wide, deep = member.outer_mm, member.across_mm
    sides = (
        timber.column_buckling_stress_mpa(allowed.modulus_min_mpa, long_mm, deep),
        timber.column_buckling_stress_mpa(allowed.modulus_min_mpa, long_mm, wide),
    )
    column = timber.column_stability_ratio(min(sides) / allowed.compression_mpa)
    over = timber.beam_buckling_stress_mpa(allowed.modulus_min_mpa, long_mm, deep, wide)
    beam = timber.beam_stability_ratio(over / allowed.bending_mpa) if deep > wide else 1.0
    parts = {"buckling_flat_mpa": sides[0], "buckling_side_mpa": sides[1], "buckling_beam_mpa": over}
    return _capacity(
        member, TIMBER, length_m, long_mm / member.gyration_mm,
        push_n=allowed.compression_mpa * column * member.area_mm2, pull_n=allowed.tension_mpa * member.area_mm2,
        moment_n_m=allowed.bending_mpa * beam * member.section_modulus_mm3 / 1000,
        moment_weak_n_m=allowed.bending_mpa * member.section_modulus_weak_mm3 / 1000,
        shear_n=allowed.shear_mpa * member.area_mm2 / 1.5,
        # stress of a twisted rectangle is about T/(0.2 b2 d) (strength of materials, from memory)
        torsion_n_m=allowed.shear_mpa * 0.2 * wide**2 * deep / 1000, parts=parts,
    )  # fmt: skip


def _wire(member: Member, length_m: float) -> Capacity:
    pull = steel.allowed_pull_n(strength_mpa(member, "yield_mpa"), member.area_mm2)
    return _capacity(
        member, WIRE, length_m, length_m * 1000 / member.gyration_mm,
        push_n=0.0, pull_n=pull, moment_n_m=0.0, moment_weak_n_m=0.0, shear_n=0.0, torsion_n_m=0.0,
    )  # fmt: skip


def _capacity(member: Member, rule: str, length_m: float, slenderness: float, **forces: object) -> Capacity:
    return Capacity(
        member=member.key, rule=rule, length_m=length_m, slenderness=slenderness, source=SOURCES[rule],
        strength_source=member.strength_source, **forces,  # type: ignore[arg-type]
    )  # fmt: skip


def wall_mm(member: Member) -> float:
    """Return the wall of a tube, half the diameter of a bar. [mm]"""
    return member.wall_mm if member.wall_mm is not None else member.outer_mm / 2
