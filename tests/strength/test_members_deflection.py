"""Deflections against closed forms recomputed by an independent solver, and what a limit is measured over."""

import math

import pytest
from frames_for_tests import beam, hoop, hoop_house
from hypothesis import given
from hypothesis import strategies as st
from other_roads import span
from printed import as_worked
from scipy.integrate import quad

from gardenframe.errors import InputError
from gardenframe.geometry.frame import Frame, Joint, Run, Support
from gardenframe.materials.members import load_members
from gardenframe.strength.cases import Case, JointLoad, LineLoad
from gardenframe.strength.deflection import deflection, load_limits
from gardenframe.strength.members import sampled
from gardenframe.strength.stiffness import solve

MEMBERS = load_members()
FIXED = "xyzXYZ"


def rows_of(frame, *loads):
    """Return the deflection rows of a frame under loads, by role."""
    response = solve(frame, Case(key="D", loads=loads))
    return {row.role: row for row in deflection(response, sampled(response)[1]).rows()}


@pytest.mark.outside("strength.deflection", source="PyNiteFEA")
def test_a_simple_rail():
    """100 N/m on 2 m of 1 in EMT: 8.242 mm, by PyNiteFEA too, against 2000/90 = 22.2 mm."""
    row = rows_of(beam([2.0], ("xyzX", "yzX")), LineLoad(run="beam", force_n_per_m=(0, 0, -100.0)))["rail"]
    worked = span(("pinned", "pinned"), 2527.65, [2.0], 100.0).sag_m("AB", 1.0) * 1000
    assert row.demand == as_worked(worked, "mm", "sag of a rail of 2 m under 100 N/m", rel=1e-5)
    assert row.demand == pytest.approx(8.242, abs=1e-3)
    assert row.capacity == pytest.approx(22.22, abs=0.01)
    assert row.where == "beam between joints A and B"


def test_two_equal_spans_are_two_spans():
    """100 N/m on two spans of 2 m: the greatest is 3.425 mm at 0.4215 L, near it at a quarter point: 3.38 mm or more.

    At half of a span a continuous beam of two spans has w L4/(192 E I) = 3.297 mm.
    """
    row = rows_of(beam([2.0, 2.0], ("xyzX", "yzX", "yzX")), LineLoad(run="beam", force_n_per_m=(0, 0, -100.0)))["rail"]
    assert 3.29 <= row.demand <= 3.4255
    assert row.capacity == pytest.approx(22.22, abs=0.01)


@pytest.mark.outside("strength.deflection", source="PyNiteFEA")
def test_a_rail_that_ends_in_the_air_counts_twice_its_length():
    """1.2 m cantilever, 100 N at its end: 22.788 mm, by PyNiteFEA too, against 2 x 1200/90 = 26.7 mm."""
    frame = beam([1.2], (FIXED, ""))
    row = rows_of(frame, JointLoad(joint="B", force_n=(0, 0, -100.0)))["rail"]
    worked = span(("fixed", "free"), 2527.65, [1.2], points=[(1.2, 100.0)]).sag_m("AB", 1.2) * 1000
    assert row.demand == as_worked(worked, "mm", "sag of the free end of 1.2 m under 100 N", rel=1e-5)
    assert row.demand == pytest.approx(22.788, abs=1e-3)
    assert row.capacity == pytest.approx(26.67, abs=0.01)


def test_a_rail_that_starts_in_the_air_is_the_same_rail():
    """Drawn the other way round it bends and counts alike."""
    joints = [Joint("tip", 0, 0, 0), Joint("wall", 1.2, 0, 0)]
    run = Run(key="rail", member="emt-1", path=("tip", "wall"))
    frame = Frame.of(joints, [run], [Support(joint="wall", base="strap", held=FIXED)])
    row = rows_of(frame, JointLoad(joint="tip", force_n=(0, 0, -100.0)))["rail"]
    assert row.demand == pytest.approx(22.788, abs=1e-3)
    assert row.capacity == pytest.approx(26.67, abs=0.01)


def test_a_purlin_spans_from_hoop_to_hoop():
    """At the crown a hoop lies flat and still carries: spans of 1.2 m, not one of 2.4 m."""
    frame = hoop_house(hoops=3, purlins=(90,))
    rows = rows_of(frame, LineLoad(run="purlin 0", force_n_per_m=(0, 0, -50.0)))
    assert rows["purlin"].capacity == pytest.approx(1200 / 90)


@pytest.mark.outside("strength.deflection", source="scipy")
def test_a_hoop_is_measured_between_its_feet():
    """200 N at the crown of a 3 m hoop of 3/4 in EMT: 11.96 mm there, by scipy's quad, against 3000/30 = 100 mm."""
    row = rows_of(hoop(1.5), JointLoad(joint="T", force_n=(0, 0, -200.0)))["hoop"]
    radius, stiff = 1.5, 1069.1

    def moment(t):  # of a load of one at the crown, by the angle from a foot: half of it up, 1/pi of it inwards
        return radius * ((1 - math.cos(t)) / 2 - math.sin(t) / math.pi)

    worked = 200.0 * 2 * quad(lambda t: moment(t) ** 2 * radius, 0, math.pi / 2)[0] / stiff * 1000
    assert row.demand == as_worked(worked, "mm", "sag of the crown of a hoop under 200 N", rel=0.01)
    assert row.capacity == pytest.approx(100, rel=1e-3)
    assert row.where == "hoop at joint T"


@given(st.floats(0.3, 3.0), st.floats(10, 200), st.floats(0, 360))
def test_sway_is_measured_whatever_the_direction(height_m, force_n, turn_deg):
    """P L3/(3 E I) of a free post, pushed any way, against a thirtieth of its height."""
    joints = [Joint("foot", 0, 0, 0), Joint("top", 0, 0, height_m)]
    runs = [Run(key="post", member="emt-1", path=("top", "foot"), role="post")]
    frame = Frame.of(joints, runs, [Support(joint="foot", base="sleeve", held=FIXED)])
    way = math.radians(turn_deg)
    push = JointLoad(joint="top", force_n=(force_n * math.cos(way), force_n * math.sin(way), 0.0))
    row = rows_of(frame, push)["post"]
    assert row.demand == pytest.approx(force_n * height_m**3 / (3 * 2527.65) * 1000, rel=1e-4)
    assert row.capacity == pytest.approx(height_m * 1000 / 30)


def test_a_frame_that_leans_as_a_whole_bends_no_rail():
    """Two posts that sway together carry a rail along: the rail's own sag is what counts for it."""
    joints = [Joint("A", 0, 0, 0), Joint("B", 0, 0, 2), Joint("C", 1, 0, 2), Joint("D", 1, 0, 0)]
    runs = [
        Run(key="left", member="emt-1", path=("A", "B"), role="post"),
        Run(key="right", member="emt-1", path=("D", "C"), role="post"),
        Run(key="top", member="emt-1", path=("B", "C"), role="rail"),
    ]
    frame = Frame.of(joints, runs, [Support(joint=j, base="sleeve", held=FIXED) for j in ("A", "D")])
    pushed = (JointLoad(joint="B", force_n=(0, 50.0, 0)), JointLoad(joint="C", force_n=(0, 50.0, 0)))
    rows = rows_of(frame, *pushed)
    assert rows["post"].demand > 40
    assert rows["rail"].demand < 0.01


def test_limits_say_that_they_have_no_source():
    """Every limit is common practice and says so; there is one for members of no named role."""
    limits = load_limits()
    assert {limit.source for limit in limits.values()} == {"deflection-practice"}
    assert limits["other"].measure == "span"


def test_a_table_of_limits_without_a_row_for_the_rest_is_refused():
    """A reader's own table must say what holds for a role it does not name."""
    response = solve(beam([1.0], (FIXED, "")), Case(key="D", loads=(JointLoad(joint="B", force_n=(0, 0, -1.0)),)))
    own = {"post": load_limits()["post"]}
    with pytest.raises(
        InputError, match=r"^deflection limits: got 'post', needs a row `other` for members of no named"
    ):
        deflection(response, sampled(response)[1], own)
