"""Which fitting a joint asks for, and where each tube stops."""

import itertools

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from printed import as_worked

from gardenframe.geometry.fittings import fit
from gardenframe.geometry.frame import Frame, Joint, Run
from gardenframe.materials.fittings import load_fittings
from gardenframe.materials.members import load_members

WAYS = {"+x": (1, 0, 0), "-x": (-1, 0, 0), "+y": (0, 1, 0), "-y": (0, -1, 0), "+z": (0, 0, 1), "-z": (0, 0, -1)}
ROWS, MEMBERS = load_fittings(), load_members()


def meeting(joining, ends=(), passes=(), offset_m=0.0, member="emt-1"):
    """Return what is put on at J, where runs end from some ways and pass along others."""
    joints, runs = [Joint("J", 0, 0, 0)], []
    for way in ends:
        joints.append(Joint(way, *WAYS.get(way, way)))
        runs.append(Run(key=f"end {way}", member=member, path=("J", way)))
    for number, (a, b) in enumerate(passes):
        joints += [Joint(key, *WAYS[key]) for key in (a, b)]
        shift = (0.0, 0.0, offset_m * number)
        runs.append(Run(key=f"pass {a}", member=member, path=(a, "J", b), offset_m=shift))
    fitted = fit(Frame.of(joints, runs, joining=joining), ROWS, MEMBERS)
    return next(f for f in fitted if f.joint == "J")


@pytest.mark.parametrize(
    ("word", "ends"),
    [
        ("elbow", ("+x", "+z")),
        ("coupling", ("+x", "-x")),
        ("tee", ("+x", "-x", "+z")),
        ("cross", ("+x", "-x", "+z", "-z")),
        ("side_outlet_elbow", ("+x", "+y", "+z")),
        ("side_outlet_tee", ("+x", "-x", "+y", "+z")),
        ("side_outlet_cross", ("+x", "-x", "+y", "-y", "+z")),
        ("six_socket_cross", ("+x", "-x", "+y", "-y", "+z", "-z")),
    ],
)
def test_sockets_by_shape(word, ends):
    """Slip-on, every tube ends: the word follows from the ways, each end stops at the row's distance."""
    found = meeting("slip-on", ends)
    assert found.fitting == word
    stop = ROWS[f"{word.replace('_', '-')}-slip-on-emt-1"].centre_to_stop_mm / 1000
    assert found.setbacks == {f"end {way}": stop for way in ends}


@pytest.mark.parametrize("mirrored", list(itertools.product((1, -1), repeat=3)))
def test_a_corner_is_a_corner_whichever_way_it_looks(mirrored):
    """All eight corners of a box take a side-outlet elbow."""
    ends = [f"{'+' if sign > 0 else '-'}{axis}" for sign, axis in zip(mirrored, "xyz", strict=True)]
    assert meeting("slip-on", ends).fitting == "side_outlet_elbow"


def test_clamp_on_lets_one_pass_and_stops_the_rest():
    """The passing tube has no set-back; the others stop at the tee's or the cross's distance."""
    tee = meeting("clamp-on", ("+x",), (("+z", "-z"),))
    assert (tee.fitting, set(tee.setbacks)) == ("tee", {"end +x"})
    cross = meeting("clamp-on", ("+x", "-x"), (("+z", "-z"),))
    assert (cross.fitting, len(cross.setbacks)) == ("cross", 2)


def test_a_slant_takes_a_swivel():
    """Forty-five degrees: no fixed fitting, a swivel on the passing tube."""
    slant = meeting("clamp-on", ((1, 0, 1),), (("+z", "-z"),))
    assert slant.fitting == "swivel"
    assert sorted(slant.angles_deg) == [45.0, 135.0]


@pytest.mark.outside("geometry.fittings", source="numpy")
@settings(max_examples=50)
@given(st.tuples(*[st.floats(-1, 1)] * 3), st.tuples(*[st.floats(-1, 1)] * 3))
def test_angles_of_a_swivel_are_those_between_the_tubes(one, other):
    """A tube that ends on one that passes, both any way round in space: angles by numpy's scalar product."""
    a, b = np.array(one), np.array(other)
    assume(min(np.linalg.norm(a), np.linalg.norm(b)) > 0.2)
    cosine = a @ b / np.linalg.norm(a) / np.linalg.norm(b)
    assume(0.05 < abs(cosine) < 0.8)  # neither square, which takes a tee, nor nearly in line
    joints = [Joint("J", 0, 0, 0), Joint("A", *one), Joint("B", *(-x for x in one)), Joint("C", *other)]
    runs = [Run(key="p", member="emt-1", path=("A", "J", "B")), Run(key="e", member="emt-1", path=("J", "C"))]
    found = next(f for f in fit(Frame.of(joints, runs, joining="clamp-on"), ROWS, MEMBERS) if f.joint == "J")
    worked = [180.0, np.degrees(np.arccos(-cosine))]  # from the way ahead, to B, to the way back and to the slant
    assert found.fitting == "swivel"
    assert found.angles_deg == as_worked(worked, "°", "angles of a swivel from the way that its tube passes", abs=0.005)


def test_two_that_pass_side_by_side_take_a_coupler():
    """One diameter apart: a right-angle coupler, and neither is set back."""
    outer = MEMBERS["emt-1"].outer_mm / 1000
    found = meeting("clamp-on", (), (("+x", "-x"), ("+y", "-y")), offset_m=outer)
    assert (found.fitting, found.setbacks) == ("right_angle_coupler", {})


def test_bolted_tubes_reach_past_their_bolt():
    """A bolted end reaches beyond the joint by the row's distance; one bolt for each tube beyond the first."""
    outer = MEMBERS["emt-1"].outer_mm / 1000
    joints = [Joint("J", 0, 0, 0), Joint("A", 0, 0, 1), Joint("B", 1, 0, 0)]
    runs = [
        Run(key="post", member="emt-1", path=("J", "A")),
        Run(key="rail", member="emt-1", path=("J", "B"), offset_m=(0, -outer, 0)),
    ]
    bolt = next(f for f in fit(Frame.of(joints, runs, joining="bolted"), ROWS, MEMBERS) if f.joint == "J")
    assert (bolt.fitting, bolt.count) == ("through_bolt", 1)
    assert bolt.setbacks == {"post": -0.03, "rail": -0.03}


def test_an_open_end_takes_a_cap():
    """One run that ends and is held by nothing."""
    assert meeting("slip-on", ("+x",)).fitting == "cap"
