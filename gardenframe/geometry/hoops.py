"""Hoops: the largest from a stick, the jig that ends at the radius wanted, and where a hoop may be coupled.

A stick and the ends that a bender leaves straight come in, sizes go out. A hoop is coupled on a straight, or where both
ends were bent on the same jig, and always beside a purlin.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from gardenframe.errors import InputError, require_within
from gardenframe.geometry import bending
from gardenframe.materials.members import Member
from gardenframe.working import formula

BESIDE_M = 0.1  # from a purlin's axis to the coupling beside it: room for the fitting (common practice, no source)
CROWN_SHARE = 0.1  # of the hoop's length, each side of its middle, kept free: load at the crown bends it most there
CLOSE_MM = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Hoop:
    """One hoop, axis to axis: an arc with a straight leg along the tangent at each end. `legs_mm` are near and far."""

    radius_mm: float
    bend_deg: float
    width_mm: float
    rise_mm: float
    legs_mm: tuple[float, float]

    @property
    def length_mm(self) -> float:
        """Straight tube that it takes. [mm]"""
        return bending.arc_length_mm(self.radius_mm, self.bend_deg) + sum(self.legs_mm)


def largest_hoop(stick_mm: float, near_mm: float = 0.0, far_mm: float = 0.0, bend_deg: float = 180.0) -> Hoop:
    """Return the largest hoop from one stick whose ends stay straight for a length. [mm]

    Width is between the ends of the arc and rise above the lower of them, the legs left out.

    Parameters
    ----------
    stick_mm : float
        Length of the stick. [mm]
    near_mm, far_mm : float
        Ends that the bender leaves straight. [mm]
    bend_deg : float
        180 for a half circle, less for a flatter hoop. [deg]

    Raises
    ------
    InputError
        Where the ends leave nothing to bend, or the angle is not 1 to 180.

    Examples
    --------
    >>> round(largest_hoop(3048.0).width_mm), round(largest_hoop(3048.0, 200.0, 200.0).width_mm)
    (1940, 1686)
    """
    require_within("bend of the hoop", bend_deg, 1, 180, "degrees", "A rounder hoop cannot come off its jig.")
    arc = stick_mm - near_mm - far_mm
    if not (min(near_mm, far_mm) >= 0 and arc > 0):
        raise InputError(
            "stick for a hoop",
            stick_mm,
            f"more than {near_mm + far_mm:g} mm, the ends that stay straight",
            "Use a longer stick or a jig that holds shorter ends.",
        )
    half = math.radians(bend_deg) / 2
    radius = arc / (2 * half)
    width, rise = 2 * radius * math.sin(half), radius * (1 - math.cos(half))
    return Hoop(radius_mm=radius, bend_deg=bend_deg, width_mm=width, rise_mm=rise, legs_mm=(near_mm, far_mm))


@formula(
    result="w",
    symbols={"stick_mm": "L_s", "near_mm": "e_1", "far_mm": "e_2"},
    source="geometry",
    example={"stick_mm": 3048.0, "near_mm": 200.0, "far_mm": 200.0},
)
def widest_hoop_mm(stick_mm: float, near_mm: float, far_mm: float) -> float:
    """Widest half circle from one stick whose ends stay straight, on the axis. [mm]

    >>> round(widest_hoop_mm(3048.0, 0.0, 0.0))
    1940
    """
    return 2 * (stick_mm - near_mm - far_mm) / math.pi


def jig_radius_mm(radius_mm: float, member: Member, yield_mpa: float | None = None) -> float:
    """Return the radius to bend to so that the tube rests at the radius wanted: an estimate. [mm]

    Parameters
    ----------
    radius_mm : float
        Wanted, to the centreline. [mm]
    member : Member
        The tube.
    yield_mpa : float, optional
        Its yield where it is known better than the table's prudent value; higher steel springs back further. [MPa]

    Raises
    ------
    InputError
        For a radius that is not above 0, or a member without a yield.
    """
    strength = yield_of_mpa(member, yield_mpa)
    if not (math.isfinite(radius_mm) and radius_mm > 0):
        raise InputError("radius of the hoop", radius_mm, "more than 0 mm")
    modulus = member.modulus_gpa * 1000
    low, high = 0.0, min(radius_mm, bending.elastic_radius_mm(modulus, member.outer_mm, strength))
    while high - low > CLOSE_MM:
        middle = (low + high) / 2
        kept = bending.spring_ratio(middle, strength, modulus, member.outer_mm)
        low, high = (middle, high) if middle < radius_mm * kept else (low, middle)
    return (low + high) / 2


def kept_ratio(radius_mm: float, member: Member, yield_mpa: float | None = None) -> float:
    """Return the share of its bend that a tube keeps after being bent to a radius."""
    return bending.spring_ratio(radius_mm, yield_of_mpa(member, yield_mpa), member.modulus_gpa * 1000, member.outer_mm)


def yield_of_mpa(member: Member, yield_mpa: float | None = None) -> float:
    """Return the yield to reckon spring-back with, the member's own unless given; InputError but for EMT. [MPa]"""
    strength = member.yield_mpa if yield_mpa is None else yield_mpa
    if member.family != "emt" or strength is None or not strength > 0:
        raise InputError("tube to bend", member.label, "EMT of a known yield", "Other members are not bent cold here.")
    return strength


def coupling_places_m(
    length_m: float,
    purlins_m: Sequence[float],
    bends_m: Sequence[tuple[float, float]],
    jig_matched: bool = False,
    beside_m: float = BESIDE_M,
) -> list[float]:
    """Return the stations along a hoop where it may be coupled. [m]

    Beside a purlin, off the crown, off the ends; on a curve only where both pieces were bent on one jig.

    Parameters
    ----------
    length_m : float
        Developed length of the hoop. [m]
    purlins_m : sequence of float
        Stations of the purlins on it. [m]
    bends_m : sequence of (start, end)
        Its bends along the straight tube. [m]
    jig_matched : bool
        Whether the ends that meet are curved alike: bent long on the same jig, then trimmed.
    beside_m : float
        From a purlin to the coupling. [m]

    Examples
    --------
    >>> coupling_places_m(6.0, [1.0, 3.0, 5.0], [(1.5, 4.5)])  # legs are straight
    [0.9, 1.1, 4.9, 5.1]
    """
    crown = length_m * (0.5 - CROWN_SHARE), length_m * (0.5 + CROWN_SHARE)
    found = set()
    for station in (round(p + way, 9) for p in purlins_m for way in (-beside_m, beside_m)):
        on_curve = any(a - beside_m < station < b + beside_m for a, b in bends_m)
        near_purlin = any(abs(station - p) < beside_m - 1e-6 for p in purlins_m)
        at_an_end = not beside_m < station < length_m - beside_m
        if not (at_an_end or near_purlin or crown[0] <= station <= crown[1] or (on_curve and not jig_matched)):
            found.add(station)
    return sorted(found)
