"""Hoops against reference rows, against the stick they come from, and where they may be coupled."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from printed import as_worked
from scipy import optimize

from gardenframe.errors import InputError
from gardenframe.geometry import hoops
from gardenframe.materials.members import load_members

MEMBERS = load_members()


@pytest.mark.outside("geometry.hoops", source="worked-apart")
def test_a_ten_foot_stick_makes_a_half_circle_1940_mm_wide_at_best():
    """By another program; with 200 mm straight at each end the arc has 2648 mm."""
    best = hoops.largest_hoop(3048)
    assert best.width_mm == as_worked(1940, "mm", "widest half circle of a 10 ft stick", abs=0.5)
    assert best.rise_mm == as_worked(970, "mm", "rise of the widest half circle", abs=0.5)
    less = hoops.largest_hoop(3048, 200, 200)
    assert math.pi * less.width_mm / 2 == pytest.approx(2648)
    assert less.legs_mm == (200, 200)


@pytest.mark.outside("geometry.hoops", source="netting-trial")
def test_two_sticks_make_the_hoop_of_the_extension_trial():
    """Two 10 ft tubes as one 20 ft hoop, 1 ft of each end in the ground: 3.49 m wide, 1.75 m high (worked from it)."""
    hoop = hoops.largest_hoop(20 * 304.8, 304.8, 304.8)
    assert hoop.width_mm / 1000 == as_worked(3.49, "m", "hoop of the trial: width", abs=0.005)
    assert hoop.rise_mm / 1000 == as_worked(1.75, "m", "hoop of the trial: rise", abs=0.005)


@pytest.mark.outside("geometry.hoops", source="numpy")
@given(st.floats(1000, 7000), st.floats(0, 400), st.floats(0, 400), st.floats(5, 180))
def test_a_hoop_takes_the_whole_stick(stick, near, far, angle):
    """Its arc drawn in 2000 chords and its legs add up to the stick; its ends are its width apart."""
    hoop = hoops.largest_hoop(stick, near, far, angle)
    half = math.radians(angle) / 2
    turns = np.linspace(-half, half, 2001)
    points = hoop.radius_mm * np.column_stack([np.sin(turns), np.cos(turns)])
    drawn = np.linalg.norm(np.diff(points, axis=0), axis=1).sum()
    assert hoop.length_mm == as_worked(drawn + near + far, "mm", "tube of a hoop, chord by chord, and legs", rel=1e-6)
    assert hoop.length_mm == pytest.approx(stick)
    apart = float(np.linalg.norm(points[-1] - points[0]))
    assert hoop.width_mm == as_worked(apart, "mm", "from end to end of its arc", rel=1e-9)
    assert points[1000][1] - points[0][1] == pytest.approx(hoop.rise_mm, abs=1e-6 * stick)


@pytest.mark.outside("geometry.hoops", source="worked-apart")
@pytest.mark.parametrize(("key", "jig", "rests"), [("emt-1", 600, 647), ("emt-1", 1200, 1405), ("emt-3/4", 1200, 1470)])
def test_the_jig_ends_at_the_radius_wanted(key, jig, rests):
    """Spring-back worked by another program at a yield of 240 MPa, turned round; it gave the radius to a millimetre."""
    ours = hoops.jig_radius_mm(rests, MEMBERS[key], 240.0)
    assert ours == as_worked(jig, "mm", f"{key} that rests at {rests} mm: jig", abs=0.5)


@pytest.mark.outside("geometry.hoops.widest_hoop_mm", source="scipy")
@pytest.mark.parametrize(("near", "far"), [(0.0, 0.0), (200.0, 150.0)])
def test_the_widest_hoop_uses_up_its_stick(near, far):
    """The width at which 20 000 chords of a half circle and the straight ends come to 3048 mm."""
    turn = np.linspace(0, math.pi, 20_001)

    def over(width):
        return np.hypot(*np.diff([width / 2 * np.cos(turn), width / 2 * np.sin(turn)])).sum() + near + far - 3048.0

    said = f"half circle from 10 ft with {near:g} and {far:g} mm straight"
    ours = hoops.widest_hoop_mm(3048.0, near, far)
    assert ours == as_worked(optimize.brentq(over, 100, 3000), "mm", said, rel=1e-7)


@given(st.sampled_from(["emt-1/2", "emt-3/4", "emt-1", "emt-1-1/4"]), st.floats(102, 50_000), st.floats(150, 400))
def test_a_jig_is_tighter_than_its_hoop_and_springs_to_it(key, radius, strength):
    """For every radius there is a jig, below half E D/Fy; harder steel needs a tighter one."""
    member = MEMBERS[key]
    jig = hoops.jig_radius_mm(radius, member, strength)
    x = jig * strength / (200e3 * member.outer_mm)
    assert 0 < x < 0.5
    assert jig < radius
    assert jig / (4 * x**3 - 3 * x + 1) == pytest.approx(radius, rel=1e-3)
    assert hoops.jig_radius_mm(radius, member, strength * 1.1) < jig


LENGTH, PURLINS, LEGS = 6.0, (0.0, 0.5, 1.5, 3.0, 4.5, 5.5, 6.0), ((1.0, 5.0),)


def test_a_hoop_is_coupled_on_its_legs_beside_a_purlin():
    """The legs are the first and last metre; without matched ends nothing on the curve will do."""
    assert hoops.coupling_places_m(LENGTH, PURLINS, LEGS) == pytest.approx([0.4, 0.6, 5.4, 5.6])


def test_matched_ends_may_meet_on_the_curve_but_not_at_the_crown():
    """Beside the purlins of the haunches too; the crown's purlin at 3.0 m still offers none."""
    assert hoops.coupling_places_m(LENGTH, PURLINS, LEGS, jig_matched=True) == pytest.approx(
        [0.4, 0.6, 1.4, 1.6, 4.4, 4.6, 5.4, 5.6]
    )


@given(st.lists(st.floats(0, 6), max_size=9), st.floats(0, 3), st.booleans())
def test_no_coupling_stands_where_it_may_not(purlins, leg, matched):
    """Whatever the purlins: beside one, on none, off the ends and the crown, on the curve only if matched."""
    for place in hoops.coupling_places_m(6.0, purlins, [(leg, 6.0 - leg)], matched):
        away = [abs(place - p) for p in purlins]
        assert min(away) == pytest.approx(0.1, abs=1e-5)
        assert 0.1 < place < 5.9
        assert not 2.4 + 1e-6 < place < 3.6 - 1e-6
        assert matched or place <= leg - 0.1 or place >= 6.0 - leg + 0.1


def test_bad_hoops_are_refused():
    """Ends longer than the stick, a hoop past a half circle, a member that is not bent cold, no radius."""
    with pytest.raises(InputError, match=r"^stick for a hoop: got 300, needs more than 400 mm, the ends that stay"):
        hoops.largest_hoop(300, 200, 200)
    with pytest.raises(InputError, match=r"^bend of the hoop: got 270, needs 1 to 180 degrees\. A rounder hoop"):
        hoops.largest_hoop(3048, bend_deg=270)
    with pytest.raises(InputError, match=r"^tube to bend: got 'PVC .*', needs EMT of a known yield\. Other members"):
        hoops.jig_radius_mm(1000, MEMBERS["pvc-1"])
    with pytest.raises(InputError, match=r"^radius of the hoop: got -5, needs more than 0 mm\."):
        hoops.jig_radius_mm(-5, MEMBERS["emt-1"])


@pytest.mark.parametrize(("near", "far"), [(0.0, 0.0), (200.0, 150.0)])
def test_the_formula_shown_is_the_largest_hoop(near, far):
    """Twice the radius of the half circle that the rest of the stick makes."""
    assert hoops.widest_hoop_mm(3048.0, near, far) == pytest.approx(hoops.largest_hoop(3048.0, near, far).width_mm)
