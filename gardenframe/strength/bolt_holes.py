"""Tubes at bolt holes: what a hole through both walls leaves of their bending, against what bends them there."""

from collections.abc import Mapping

import numpy as np

from gardenframe.materials import constants
from gardenframe.materials.members import Member
from gardenframe.strength import steel
from gardenframe.strength.capacities import RULES, STEEL, strength_mpa
from gardenframe.strength.joints import BOLTED, Joints
from gardenframe.strength.rows import CheckRow, peak
from gardenframe.working import formula


@formula(
    result="Z_n", symbols={"plastic_modulus_mm3": "Z", "hole_mm": "d_h", "wall_mm": "t", "outer_mm": "D"},
    source="bolt-holes",
    example={"plastic_modulus_mm3": 1143.6, "hole_mm": 6.5, "wall_mm": 1.448, "outer_mm": 29.54},
)  # fmt: skip
def drilled_modulus_mm3(plastic_modulus_mm3: float, hole_mm: float, wall_mm: float, outer_mm: float) -> float:
    """Plastic modulus of a tube less its two holes, each in the fibre that bends most. [mm³]

    >>> round(drilled_modulus_mm3(1143.6, 6.5, 1.448, 29.54) / 1143.6, 2)
    0.77
    """
    return plastic_modulus_mm3 - hole_mm * wall_mm * (outer_mm - wall_mm)


def drilled_moment_n_m(member: Member) -> float:
    """Return the allowed bending moment of a steel tube at a bolt hole, infinite for any other member. [N m]"""
    if RULES[member.family] != STEEL or member.wall_mm is None:
        return float("inf")
    hole = constants.value("bolt_hole_mm")
    left = drilled_modulus_mm3(member.plastic_modulus_mm3, hole, member.wall_mm, member.outer_mm)
    return steel.allowed_moment_n_m(strength_mpa(member, "yield_mpa") * left / 1000)


def hole_rows(found: Joints | None, members: Mapping[str, Member]) -> list[CheckRow]:
    """Return the row of the bolt hole at which a tube is bent most, none where nothing is bolted."""
    bolted = np.flatnonzero(found.meeting.way == BOLTED) if found else np.array([], dtype=int)
    if found is None or not len(bolted):
        return []
    runs = found.response.mesh.frame.runs
    allowed = np.array([drilled_moment_n_m(members[runs[found.held[i].contact.run].member]) for i in bolted])
    bent = found.bending[:, bolted]
    case, at = (int(i) for i in np.unravel_index(peak(bent / allowed), bent.shape))
    held = found.held[int(bolted[at])]
    if not np.isfinite(allowed[at]):
        return []
    return [
        CheckRow(
            check="joint: bending of a tube at its bolt holes", case=found.response.cases[case],
            where=f"{held.contact.run} at joint {held.fitted.joint}", demand=float(bent[case, at]),
            capacity=float(allowed[at]), unit="N m", source="bolt-holes", kind="bolt hole",
            role=runs[held.contact.run].role, run=held.contact.run, joint=held.fitted.joint, member=held.fitted.size,
            station_m=held.contact.station_m,
        )
    ]  # fmt: skip
