"""A part that turns: distances against brute force, clashes planted at angles worked by hand, and none elsewhere."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from printed import as_worked
from scipy import optimize
from scipy.spatial.transform import Rotation

from gardenframe.geometry import swings
from gardenframe.geometry.frame import Frame, Joint, Part, Run
from gardenframe.geometry.scene import Body

PLACE = st.tuples(*[st.floats(-2, 2)] * 3)
D = 0.03
OUTER = {"emt-1": D}


def hung(pin_y, gap, others=(), bodies=()):
    """Return a post at the origin and a leaf 1 m long whose stile stands beside it, turning towards -y about a pin."""
    stile = D + gap
    joints = [
        Joint("a", 0, 0, 0), Joint("b", 0, 0, 2), Joint("c", stile, 0, 0.1), Joint("d", stile, 0, 1.9),
        Joint("e", stile + 1, 0, 1.9),
    ]  # fmt: skip
    runs = [
        Run(key="post", member="emt-1", path=("a", "b")),
        Run(key="stile", member="emt-1", path=("c", "d"), part="gate"),
        Run(key="rail", member="emt-1", path=("d", "e"), part="gate"),
    ]
    for n, (p, q) in enumerate(others):
        joints += [Joint(f"p{n}", *p), Joint(f"q{n}", *q)]
        runs.append(Run(key=f"other {n}", member="emt-1", path=(f"p{n}", f"q{n}")))
    gate = Part(
        key="gate", motion="hinged", axis_at=(stile / 2, pin_y, 0.0), axis=(0.0, 0.0, -1.0), open_deg=100.0, gap_m=gap
    )
    return Frame.of(joints, runs, parts=(Part(key="frame"), gate), bodies=tuple(bodies)), gate


@pytest.mark.outside("geometry.swings", source="scipy")
@settings(max_examples=60, deadline=None)
@given(PLACE, PLACE, PLACE, PLACE)
def test_distance_of_two_straight_pieces_against_a_search(a, b, c, d):
    """The least distance that a minimiser with bounds finds from the nearest of 21 x 21 points on them."""
    line, other = np.array([a, b]), np.array([[c, d]])
    if np.linalg.norm(line[1] - line[0]) < 0.05 or np.linalg.norm(other[0, 1] - other[0, 0]) < 0.05:
        return
    steps = np.linspace(0, 1, 21)[:, None]
    p, q = line[0] + (line[1] - line[0]) * steps, other[0, 0] + (other[0, 1] - other[0, 0]) * steps
    apart = ((p[:, None] - q[None]) ** 2).sum(axis=2)
    nearest = np.array(np.unravel_index(apart.argmin(), apart.shape)) / 20

    def squared(at):
        return float(
            ((line[0] + (line[1] - line[0]) * at[0] - other[0, 0] - (other[0, 1] - other[0, 0]) * at[1]) ** 2).sum()
        )

    least = optimize.minimize(squared, nearest, bounds=[(0, 1), (0, 1)], tol=1e-14).fun
    found = swings.apart_m(line, other)[0]
    assert found == as_worked(math.sqrt(least), "m", "least distance of two straight tubes' axes", abs=1e-3)
    assert found <= math.sqrt(apart.min()) + 1e-9


def test_pins_in_the_face_let_a_gate_pass_its_post():
    """With the pin in the face, half a tube off the axes, stile and post never come nearer than one diameter."""
    frame, gate = hung(-D / 2, 0.008)
    assert swings.clashes(frame, OUTER, gate) == []


@pytest.mark.outside("geometry.swings", source="second-method")
def test_pins_between_the_tubes_stop_a_gate_with_a_narrow_gap():
    """Turned square about the middle of the gap the axes are (D + g)/sqrt 2 apart: less than D where g < 0.414 D."""
    for gap, stopped in ((0.40 * D - 0.003, True), (0.43 * D + 0.003, False)):
        frame, gate = hung(0.0, gap)
        found = swings.clashes(frame, OUTER, gate, to_deg=90.0)
        assert bool(found) == stopped
        if stopped:
            worst = max(found, key=lambda clash: clash.angle_deg)
            assert worst.other == "post"
            depth = D - (D + gap) / math.sqrt(2)
            assert worst.depth_m == as_worked(depth, "m", "how far a stile cuts into its post", abs=1e-6)


def test_a_planted_tube_is_found_at_its_angle():
    """A bar upright at 60 degrees on the leaf's circle is met a little before: by the two radii seen from the pin."""
    for at in (30.0, 60.0, 85.0):
        x, y = 0.02 + 0.7 * math.cos(math.radians(at)), -D / 2 - 0.7 * math.sin(math.radians(at))
        frame, gate = hung(-D / 2, 0.01, others=[((x, y, 0.0), (x, y, 2.0))])
        met = swings.first(swings.clashes(frame, OUTER, gate))
        assert met is not None
        assert met.other == "other 0"
        before = math.degrees(math.asin(D / 0.7)) + 2
        assert at - before - swings.STEP_DEG <= met.angle_deg <= at + swings.STEP_DEG


def test_a_bed_in_the_way_is_met_and_one_out_of_reach_is_not():
    """Boxes count as solid: one inside the circle stops the gate, one beyond it does not."""
    near = Body(kind="bed", low=(0.2, -0.9, 0.0), high=(0.6, -0.4, 2.0), label="bed 1")
    far = Body(kind="bed", low=(0.2, -1.9, 0.0), high=(0.6, -1.4, 2.0), label="bed 2")
    frame, gate = hung(-D / 2, 0.01, bodies=[near, far])
    met = {clash.other for clash in swings.clashes(frame, OUTER, gate)}
    assert met == {"bed 1"}


def test_two_gates_that_open_into_each_other():
    """Closed, the second is out of reach; standing open across the way, it is met."""
    frame, gate = hung(-D / 2, 0.01)
    joints = [*frame.joints.values(), Joint("f", 1.5, -0.5, 1.9), Joint("g", 2.5, -0.5, 1.9)]
    runs = [*frame.runs.values(), Run(key="second", member="emt-1", path=("f", "g"), part="gate 2")]
    other = Part(key="gate 2", motion="hinged", axis_at=(1.5, -0.5, 0.0), axis=(0.0, 0.0, 1.0), open_deg=180.0)
    both = Frame.of(joints, runs, parts=(*frame.parts, other))
    assert swings.clashes(both, OUTER, gate) == []
    met = swings.first(swings.clashes(both, OUTER, gate, open_at={"gate 2": 180.0}))
    assert met is not None
    assert met.other == "second"


@pytest.mark.outside("geometry.swings", source="scipy")
@given(st.floats(0.0, 170.0))
def test_turning_keeps_every_length(angle):
    """A part turns as a rigid body, and by its own angle: as a library of rotations turns it."""
    _, gate = hung(-D / 2, 0.01)
    lines = np.array([[(0.04, 0.0, 0.1), (0.9, 0.3, 1.9)]])
    turned = swings.swept(gate, lines, np.array([angle]))[0]
    assert np.linalg.norm(turned[0, 1] - turned[0, 0]) == pytest.approx(np.linalg.norm(lines[0, 1] - lines[0, 0]))
    assert np.allclose(turned[0, 1], swings.at_angle(gate, (0.9, 0.3, 1.9), angle))
    spin, pin = Rotation.from_rotvec(np.radians(angle) * np.array(gate.axis)), np.array(gate.axis_at)
    assert turned[0] == as_worked(spin.apply(lines[0] - pin) + pin, "m", "ends of a tube that turns", abs=1e-9)
