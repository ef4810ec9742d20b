"""What a bender and a tube allow: least radius, half a turn, room between bends, and the length of a stick.

A piece, its tube and a bender come in; one clear sentence is raised where it cannot be bent.
"""

from collections.abc import Sequence
from itertools import pairwise

from gardenframe.errors import InputError
from gardenframe.geometry import bending, hoops
from gardenframe.geometry.pieces import Bend, Piece
from gardenframe.materials.benders import RADIUS_SHARE, Bender
from gardenframe.materials.constants import value
from gardenframe.materials.members import Member

SAME_MM = 0.01
SAME_DEG = 0.5


def check_bends(piece: Piece, bends: Sequence[Bend], member: Member, bender: Bender, yield_mpa: float | None) -> None:
    """Raise InputError unless a piece can be bent at all with a bender."""
    name = f"piece {piece.mark}"
    if not bends:
        raise InputError(f"bends of {name}", 0, "at least one", "It is straight and needs no bend sheet.")
    if bender.member != member.key or piece.member != member.key:
        raise InputError(f"bender for {name}", bender.label, f"one for {piece.member}", "A shoe fits one tube size.")
    for number, bend in enumerate(bends, start=1):
        _check_radius(f"bend {number} of {name}", bend.radius_m * 1000, member, bender, yield_mpa)
        if bend.angle_deg > 180 + SAME_DEG:
            do = "Make it of two pieces with a coupling."
            raise InputError(f"angle of bend {number} of {name}", bend.angle_deg, "180 degrees or less", do)
    for number, (one, after) in enumerate(pairwise(bends), start=2):
        if after.start_m < one.end_m - SAME_MM / 1000:
            needs = f"{one.end_m * 1000:.6g} mm or more, where the bend before it ends"
            raise InputError(f"start of bend {number} of {name}", after.start_m * 1000, needs, "Move the bends apart.")


def _check_radius(what: str, radius_mm: float, member: Member, bender: Bender, yield_mpa: float | None) -> None:
    """Raise InputError unless the bender makes a radius and the tube bears being bent to it."""
    least = member.min_bend_radius_mm or 0.0
    if radius_mm < least * (1 - 1e-9):
        needs = f"{least:g} mm or more, the published least for {member.label}"
        raise InputError(f"radius of {what}", radius_mm, needs, "Use a larger radius or a thinner tube.")
    if bender.kind == "shoe" and abs(radius_mm / bender.radius_mm - 1) > RADIUS_SHARE:
        needs = f"{bender.radius_mm:g} mm, that of the {bender.label}"
        raise InputError(f"radius of {what}", radius_mm, needs, "Bend wider curves on a jig.")
    jig = bent_to_mm(radius_mm, member, bender, yield_mpa)
    if bender.kind == "jig" and jig < bender.radius_mm * (1 - RADIUS_SHARE):
        needs = f"{bender.radius_mm:g} mm or more for the {bender.label}"
        do = f"It springs back to {radius_mm:.4g} mm: use a larger radius or a shoe."
        raise InputError(f"jig radius of {what}", round(jig), needs, do)


def held_mm(first: Bend, member: Member, bender: Bender) -> float:
    """Return the tube needed before the first bend: what the bender holds, and room for its arrow. [mm]"""
    if bender.take_up_mm is None:
        return bender.near_mm
    ahead = -bending.arrow_from_start_mm(first.radius_m * 1000, member.outer_mm, bender.take_up_mm)
    return max(bender.near_mm, ahead)


def bent_to_mm(radius_mm: float, member: Member, bender: Bender, yield_mpa: float | None) -> float:
    """Return the radius of the shoe or the jig that a bend is made round. [mm]"""
    return radius_mm if bender.kind == "shoe" else hoops.jig_radius_mm(radius_mm, member, yield_mpa)


def spare_mm(
    piece: Piece, member: Member, bender: Bender, short_mm: float, stick_mm: float | None, long_mm: float | None
) -> float:
    """Return the spare tube at each end: as much as is wanted, or what the stick has left. [mm]"""
    stick = member.stick_mm if stick_mm is None else stick_mm
    needed = piece.length_m * 1000 + short_mm
    if needed > stick + SAME_MM:
        widest = hoops.largest_hoop(stick, bender.near_mm, bender.far_mm).width_mm
        raise InputError(
            f"straight tube for piece {piece.mark}",
            round(needed),
            f"{stick:.0f} mm or less, one stick, with {bender.near_mm:g} and {bender.far_mm:g} mm of straight ends",
            f"Make it smaller (a half circle up to {widest:.0f} mm wide), couple it from two, or buy longer sticks.",
        )
    wanted = value("bend_long_mm") if long_mm is None else long_mm
    return max(min(wanted, (stick - needed) / 2), 0.0)
