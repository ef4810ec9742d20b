"""Arches in the solver against the exact arch: thrust within 0.5 % however flat, tall or tightly bent."""

import math

import numpy as np
import pytest
from printed import as_worked
from scipy.integrate import quad

from gardenframe.geometry.frame import Frame, Joint, Run, Support
from gardenframe.materials.members import load_members
from gardenframe.strength.cases import Case, JointLoad, LineLoad
from gardenframe.strength.mesh import mesh
from gardenframe.strength.stiffness import solve

MEMBERS = load_members()
TUBE = MEMBERS["emt-3/4"]
EI = 200e9 * TUBE.second_moment_mm4 * 1e-12
EA = 200e9 * TUBE.area_mm2 * 1e-6
LOAD = 200.0
PINNED = "xyzXZ"


def crowned(path, radius_m, crown_m):
    """Return a run through points (x, z), rounded at its corners, pinned at both ends, with joint T at its crown."""
    joints = [Joint(f"J{i}", x, 0.0, z) for i, (x, z) in enumerate(path)] + [Joint("T", 0.0, 0.0, crown_m)]
    names = tuple(f"J{i}" for i in range(len(path)))
    run = Run(key="arch", member=TUBE.key, path=names, bend_radius_m=radius_m, also=("T",), role="hoop")
    feet = [Support(joint=j, base="foot", held=PINNED) for j in (names[0], names[-1])]
    return Frame.of(joints, [run], feet)


def segment_arch(half_deg, radius_m):
    """Return a circular arch of two halves with corners on the tangents at its haunches; half angle 20 to 90."""
    a = math.radians(half_deg)
    base = radius_m * math.cos(a)
    reach = radius_m * math.tan(a / 2)
    feet = [(-radius_m * math.sin(a), 0.0), (radius_m * math.sin(a), 0.0)]
    corners = [(-reach, radius_m - base), (reach, radius_m - base)]
    return crowned([feet[0], *corners, feet[1]], radius_m, radius_m - base)


def legged(leg_m, radius_m):
    """Return a half circle on straight legs."""
    top = leg_m + radius_m
    return crowned([(-radius_m, 0), (-radius_m, top), (radius_m, top), (radius_m, 0)], radius_m, top)


def flat_topped(width_m, height_m, radius_m):
    """Return a walkway arch of two tight right angles."""
    half = width_m / 2
    return crowned([(-half, 0), (-half, height_m), (half, height_m), (half, 0)], radius_m, height_m)


def exact_thrust(frame, moment_free, shear_free):
    """Return the thrust of a two-hinged arch by virtual work on its true axis, bending and push, without shear.

    `moment_free` and `shear_free` are moment [N m] and upright shear [N] at x of a simple beam of the same span.
    """
    line = frame.lines["arch"]
    top = bottom = 0.0
    for piece in line.pieces:

        def share(s, piece=piece, part=0):
            x, _, y = piece.point(s)
            c, _, n = piece.tangent(s)
            if part == 0:
                return moment_free(x) * y / EI - shear_free(x) * n * c / EA
            return y * y / EI + c * c / EA

        middle = [piece.nearest((0.0, 0.0, 1e3))]
        top += quad(share, 0, piece.length_m, args=(piece, 0), points=middle, limit=200)[0]
        bottom += quad(share, 0, piece.length_m, args=(piece, 1), limit=200)[0]
    return top / bottom


def thrust(frame, *loads, **options):
    """Return the solver's thrust at the left foot. [N]"""
    return float(solve(frame, Case(key="case", loads=loads), **options).support_forces[0, 0, 0])


ARCHES = {
    **{f"segment of {2 * half} deg": segment_arch(half, 1.5) for half in (20, 30, 45, 60, 75, 90)},
    **{f"half circle on legs of {leg} m": legged(leg, 1.5) for leg in (0.2, 1.0, 2.5, 4.0)},
    "flat-topped 1.2 x 2.2 m": flat_topped(1.2, 2.2, 0.1143),
    "flat-topped 1.2 x 2.2 m, wide bends": flat_topped(1.2, 2.2, 0.4),
    "flat-topped 3 x 0.6 m": flat_topped(3.0, 0.6, 0.1143),
}


@pytest.mark.outside("strength.stiffness", "strength.mesh", source="scipy")
@pytest.mark.parametrize("name", ARCHES)
def test_a_load_at_the_crown_pushes_the_feet_apart_as_on_the_exact_arch(name):
    """Thrust by quadrature over the true curve, and by the chords that the solver makes of it."""
    frame = ARCHES[name]
    half = frame.lines["arch"].point(frame.lines["arch"].length_m)[0]
    exact = exact_thrust(frame, lambda x: LOAD / 2 * (half - abs(x)), lambda x: math.copysign(LOAD / 2, -x))
    found = thrust(frame, JointLoad(joint="T", force_n=(0, 0, -LOAD)))
    assert found == as_worked(exact, "N", f"thrust under a load at the crown, {name}", rel=0.005)


@pytest.mark.outside("strength.stiffness", "strength.mesh", source="scipy")
@pytest.mark.parametrize("name", ARCHES)
def test_its_own_weight_pushes_the_feet_apart_as_on_the_exact_arch(name):
    """The same for a load on every metre of tube: the simple beam's moment is added up along the true curve."""
    frame = ARCHES[name]
    line = frame.lines["arch"]
    half = line.point(line.length_m)[0]
    weight = LOAD / line.length_m
    stations = np.linspace(0, line.length_m, 8001)
    x = np.array([line.point(s)[0] for s in stations])
    middles = (x[1:] + x[:-1]) / 2
    each = weight * np.diff(stations)
    left = np.concatenate([[0.0], np.cumsum(each)])  # weight on the tube left of each station
    turned = np.concatenate([[0.0], np.cumsum(each * middles)])
    moment = LOAD / 2 * (x + half) - (left * x - turned)
    y = np.array([line.point(s)[2] for s in stations])
    c = np.array([line.tangent(s)[0] for s in stations])
    n = np.array([line.tangent(s)[2] for s in stations])
    top = np.trapezoid(moment * y / EI - (LOAD / 2 - left) * n * c / EA, stations)
    exact = top / np.trapezoid(y * y / EI + c * c / EA, stations)
    found = thrust(frame, LineLoad(run="arch", force_n_per_m=(0, 0, -weight)))
    assert found == as_worked(exact, "N", f"thrust under its own weight, {name}", rel=0.005)


def test_the_quadrature_gives_the_known_thrust_of_a_half_circle():
    """H = P/pi and wR/2 for a tube that does not shorten (reference rows); shortening takes less than 0.1 %."""
    frame = ARCHES["segment of 180 deg"]
    exact = exact_thrust(frame, lambda x: LOAD / 2 * (1.5 - abs(x)), lambda x: math.copysign(LOAD / 2, -x))
    assert exact == pytest.approx(LOAD / math.pi, rel=1e-3)


@pytest.mark.outside("strength.stiffness", "strength.mesh", source="second-method")
@pytest.mark.parametrize("half_deg", [30, 60, 90])
def test_a_pin_at_the_crown_leaves_only_statics(half_deg):
    """Three hinges: H = P span/(4 rise) under a load at the crown, and by balance of one half under its own weight."""
    a, radius = math.radians(half_deg), 1.5
    span, rise = 2 * radius * math.sin(a), radius * (1 - math.cos(a))
    reach = radius * math.tan(a / 2)
    joints = [
        Joint("A", -span / 2, 0, 0), Joint("P", -reach, 0, rise), Joint("T", 0, 0, rise),
        Joint("Q", reach, 0, rise), Joint("B", span / 2, 0, 0),
    ]  # fmt: skip
    runs = [
        Run(key=key, member=TUBE.key, path=path, bend_radius_m=radius, role="hoop")
        for key, path in (("left", ("A", "P", "T")), ("right", ("T", "Q", "B")))
    ]
    frame = Frame.of(joints, runs, [Support(joint=j, base="foot", held=PINNED) for j in "AB"])
    pin = {("T", "right"): 0.0}
    found = thrust(frame, JointLoad(joint="T", force_n=(0, 0, -LOAD)), springs=pin)
    said = f"of an arch of {2 * half_deg} deg with a pin at its crown"
    assert found == as_worked(LOAD * span / (4 * rise), "N", f"thrust {said}, loaded there", rel=0.005)
    weight = 10.0
    found = thrust(frame, *(LineLoad(run=k, force_n_per_m=(0, 0, -weight)) for k in ("left", "right")), springs=pin)
    half = weight * radius * a
    from_crown = weight * radius**2 * (1 - math.cos(a))  # moment of a half's weight about the crown's upright
    theirs = (half * span / 2 - from_crown) / rise
    assert found == as_worked(theirs, "N", f"thrust {said}, under its own weight", rel=0.005)


def test_a_half_circle_is_thirty_chords_and_a_flat_arch_sixteen():
    """The division on which the tests above rest: 6 degrees a chord, coarser only where a bend is little of its run."""
    hoop = mesh(ARCHES["segment of 180 deg"], MEMBERS)
    assert hoop.elements == 30
    assert mesh(ARCHES["segment of 40 deg"], MEMBERS).elements == 16  # 2.5 degrees: its rise is small
    arch = mesh(ARCHES["flat-topped 1.2 x 2.2 m"], MEMBERS)
    chords = arch.length_m < 0.06
    assert chords.sum() == 8  # 4 in each right angle: 22.5 degrees
