"""Forces at fittings, by statics and against the diagrams of the runs that meet there; couplings; ties."""

import math
from dataclasses import replace

import numpy as np
import pytest
from frames_for_tests import hoop_house
from hypothesis import given
from hypothesis import strategies as st
from printed import as_worked
from scipy.integrate import quad, solve_ivp
from scipy.optimize import brentq

import gardenframe
from gardenframe.builds import ShadeFrame
from gardenframe.geometry.coverings import Covered, Strips
from gardenframe.geometry.fittings import Fitted, fit
from gardenframe.geometry.frame import Frame, Joint, Run, Support
from gardenframe.materials.fittings import load_fittings
from gardenframe.materials.fixings import load_fixings
from gardenframe.materials.members import load_members
from gardenframe.strength import bolt_holes, checks
from gardenframe.strength.cases import Case, Combination, JointLoad, LineLoad
from gardenframe.strength.joints import THROUGH, held_runs, joints
from gardenframe.strength.stiffness import solve
from gardenframe.strength.ties import tie_pull_n, ties

MEMBERS, ROWS, FIXINGS = load_members(), load_fittings(), load_fixings()
FIXED = "xyzXYZ"


def arm(joining="clamp-on", side_m=0.0):
    """Return a fixed post 2 m high with an arm of 1 m at mid-height, free at its end D."""
    places = [Joint("A", 0, 0, 0), Joint("B", 0, 0, 1), Joint("C", 0, 0, 2), Joint("D", 1, 0, 1)]
    offset = (0.0, side_m, 0.0)
    runs = [
        Run(key="post", member="emt-1", path=("A", "B", "C"), role="post"),
        Run(key="arm", member="emt-1", path=("B", "D"), role="rail", offset_m=offset),
    ]
    return Frame.of(places, runs, [Support(joint="A", base="sleeve", held=FIXED)], joining=joining)


def rows_of(frame, loads):
    """Return the joint rows of a frame under loads, by kind, with the fittings its joints take."""
    response = solve(frame, Case(key="W+x", loads=tuple(loads)))
    found = joints(response, fit(frame, ROWS, MEMBERS))
    return {row.kind: row for row in found.rows()}


@pytest.mark.outside("strength.joints", source="second-method")
def test_a_pull_and_a_weight_on_an_arm_by_statics():
    """70 N pulls the arm out of its tee; 30 N at its end slides the tee down the post and bends it with 30 N m."""
    found = rows_of(arm(), [JointLoad(joint="D", force_n=(70.0, 0, -30.0))])
    assert found["slip"].demand == as_worked(70, "N", "pull of an arm out of its tee", rel=1e-6)
    assert found["slip"].run == "arm"
    assert found["joint moment"].demand == as_worked(30, "N m", "30 N at the end of an arm of 1 m", rel=1e-6)
    row = ROWS["tee-clamp-on-emt-1"]
    assert (found["slip"].capacity, found["joint moment"].capacity) == (row.slip_n, row.moment_n_m)
    assert found["slip"].source == "invented"
    assert found["slip"].where == "tee at joint B, arm"


def test_a_push_bears_on_the_stop():
    """Pushed with 70 N the arm cannot slide; the post's grip of 30 N is what is left."""
    found = rows_of(arm(), [JointLoad(joint="D", force_n=(-70.0, 0, -30.0))])
    assert found["slip"].demand == pytest.approx(30)
    assert found["slip"].run == "post"


def test_what_a_post_carries_past_a_fitting_asks_nothing_of_it():
    """500 N down the post from its top goes by the tee."""
    found = rows_of(arm(), [JointLoad(joint="C", force_n=(0, 0, -500.0)), JointLoad(joint="D", force_n=(0, 0, -1.0))])
    assert found["slip"].demand == pytest.approx(1, abs=1e-6)


@pytest.mark.outside("strength.joints", source="second-method")
def test_bending_sideways_counts_and_twist_does_not():
    """40 N sideways and 30 N down at the end bend the fitting with 50 N m; 9 N m along the arm's axis twist it only."""
    load = JointLoad(joint="D", force_n=(0, 40.0, -30.0), moment_n_m=(9.0, 0, 0))
    found = rows_of(arm(), [load])["joint moment"].demand
    assert found == as_worked(math.hypot(40, 30), "N m", "40 N sideways and 30 N down on an arm of 1 m", rel=1e-6)


@pytest.mark.outside("strength.joints", source="second-method")
def test_a_bolt_takes_the_whole_force():
    """Bolted side by side, 30 N along and 40 N down are 50 N on the bolt, whichever way they push."""
    found = rows_of(arm("bolted", side_m=0.03), [JointLoad(joint="D", force_n=(-30.0, 0, -40.0))])
    assert found["slip"].demand == as_worked(math.hypot(30, 40), "N", "30 N along and 40 N down on a bolt", rel=1e-6)


@pytest.mark.outside("strength.joints", source="second-method")
def test_a_coupling_by_statics():
    """A hanging tube coupled half way, 80 N on its end: 80 N pull; 20 N sideways there bends it with 20 x 0.5 N m."""
    places = [Joint("A", 0, 0, 2), Joint("S", 0, 0, 1.5), Joint("D", 0, 0, 1)]
    run = Run(key="drop", member="emt-1", path=("A", "D"), also=("S",), splices=("S",))
    frame = Frame.of(places, [run], [Support(joint="A", base="hook", held=FIXED)])
    found = rows_of(frame, [JointLoad(joint="D", force_n=(20.0, 0, -80.0))])
    assert found["coupling pull"].demand == as_worked(80, "N", "pull of what hangs below a coupling", rel=1e-6)
    assert found["coupling moment"].demand == as_worked(10, "N m", "20 N half a metre below a coupling", rel=1e-6)
    row = ROWS["coupling-clamp-on-emt-1"]
    assert (found["coupling pull"].capacity, found["coupling moment"].capacity) == (row.slip_n, row.moment_n_m)


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_grip_is_the_step_in_the_axial_force(seed):
    """On every purlin and hoop that passes, the grip asked is the step of its own axial force there: a second way."""
    frame = hoop_house(hoops=3)
    rng = np.random.default_rng(seed)
    loads = [LineLoad(run=key, force_n_per_m=tuple(rng.uniform(-40, 40, 3))) for key in frame.runs]
    response = solve(frame, Case(key="W", loads=tuple(loads)))
    row = ROWS["right-angle-coupler-clamp-on-emt-1"]
    fitted = tuple(
        Fitted(
            joint=j, fitting="right_angle_coupler", key=row.key, size="emt-1", count=1, angles_deg=(90.0,), setbacks={},
            row=row,
        )
        for j, contacts in frame.contacts.items()
        if len(contacts) == 2
    )  # fmt: skip
    found = joints(response, fitted)
    grip = found.demands[0][0]
    compared = 0
    for held, asked in zip(found.held, grip, strict=True):
        if held.way == THROUGH and held.contact.run.startswith("purlin"):
            s = held.contact.station_m
            near = response.along(held.contact.run, [s - 1e-6, s + 1e-6]).axial_n[0]
            assert asked == pytest.approx(abs(near[1] - near[0]), abs=1e-3)
            compared += 1
    assert compared == 5  # the middle hoop; a purlin ends at the others
    assert held_runs(frame, fitted)


@given(st.floats(-300, 300), st.floats(-300, 300), st.floats(1.0, 3.0))
def test_demand_grows_with_load(along, down, times):
    """Twice the load asks twice as much, never less."""
    frame = arm()
    small = rows_of(frame, [JointLoad(joint="D", force_n=(along, 0, down))])
    large = rows_of(frame, [JointLoad(joint="D", force_n=(along * times, 0, down * times))])
    for kind in ("slip", "joint moment"):
        assert large[kind].demand == pytest.approx(small[kind].demand * times, rel=1e-6, abs=1e-5)


def test_a_fitting_that_holds_nothing_is_over_its_limit():
    """A row with no slip figure (0 N) and a pull: the ratio is infinite, not left out."""
    frame = arm()
    fitted = fit(frame, ROWS, MEMBERS)
    (tee,) = (f for f in fitted if f.row)
    bare = replace(tee, row=replace(tee.row, slip_n=0.0))
    response = solve(frame, Case(key="W", loads=(JointLoad(joint="D", force_n=(70.0, 0, 0)),)))
    (slip,) = (row for row in joints(response, (bare,)).rows() if row.kind == "slip")
    assert math.isinf(slip.ratio)


def covered(fixing="tie-200", fixings=40):
    """Return a net panel tied with that many fixings."""
    strips = Strips(panel="net", roll_width_m=2.0, strips=(), overlap_m=0.1, wrap_m=0.05, covered_m2=6.0)
    return Covered(
        panel="net", covering="net-trellis", area_m2=6.0, roll="roll", roll_width_m=2.0, rolls=1, strips=strips,
        used_share=1.0, fixing=fixing, fixings=fixings, fixing_each=1.0,
    )  # fmt: skip


def test_pull_of_a_tie_by_hand():
    """600 N on 40 ties is 15 N square to the net; slantwise at a tenth of belly x sqrt(1 + 2.5^2) = 40.4 N."""
    (row,) = ties([covered()], {"net": {"W+y": 600.0, "S": 20.0}}, FIXINGS).rows
    assert row.demand == pytest.approx(40.39, abs=0.01)
    assert (row.case, row.capacity, row.source) == ("W+y", 220, "fixing-memory")


@pytest.mark.outside("strength.ties.tie_pull_n", source="scipy")
@pytest.mark.parametrize("belly", [0.05, 0.1, 0.3])
def test_tie_pull_is_that_of_a_cable(belly):
    """60 N/m on a strip of 1.5 m: the pull at which its own equation, integrated by scipy, bellies so far."""

    def onward(pull):
        steps = solve_ivp(lambda _, y: (y[1], 60.0 / pull), (0, 0.75), (0, 0), rtol=1e-10, atol=1e-12)
        return steps.y[:, -1]

    pull = brentq(lambda pull: onward(pull)[0] - belly * 1.5, 1.0, 1e4, xtol=1e-9)
    worked = pull * math.hypot(1, onward(pull)[1])
    found = tie_pull_n(60.0 * 1.5, 2, belly)
    assert found == as_worked(worked, "N", f"pull of a tie, net bellied by {belly:g} of its span", rel=1e-6)


@given(st.floats(1, 500), st.floats(0.2, 5), st.floats(0.02, 0.5))
def test_a_flatter_net_pulls_harder(load_n_per_m, span_m, belly):
    """Less belly, more pull, and never less than the force's own share."""
    force = load_n_per_m * span_m
    assert tie_pull_n(force, 2, belly) > tie_pull_n(force, 2, belly * 1.1) > force / 2


def test_combinations_add_up_on_ties():
    """0.6 W + 0.75 S of 600 and 100 N is 435 N; the larger of two combinations is shown, whichever its sign."""
    factors = {"a": {"W+y": 0.6, "S": 0.75}, "b": {"W-y": 0.6}}
    (row,) = ties([covered()], {"net": {"W+y": 600.0, "W-y": -900.0, "S": 100.0}}, FIXINGS, factors).rows
    assert row.case == "b"
    assert row.forces["force_n"] == pytest.approx(-540)


def test_what_has_no_figure_is_named():
    """A clip whose row holds no figure is said to be unchecked; a woven edge has no ties to check."""
    found = ties([covered("clip-emt-1"), covered(fixings=0)], {"net": {"W": 600.0}}, FIXINGS)
    assert not found.rows
    assert found.unchecked == (
        "net: no figure for what a spring clip for 1 in EMT holds; pull one with a scale.",
    )  # fmt: skip


def test_joint_rows_stand_in_the_table():
    """All four kinds and the tie are among the checks of a frame, and the tie has its working."""
    frame = arm()
    response = solve(frame, [Case(key="W", loads=(JointLoad(joint="D", force_n=(70.0, 0, -30.0)),))],
                     [Combination(key="0.6 W", factors={"W": 0.6})])  # fmt: skip
    found = checks.check(
        response, fit(frame, ROWS, MEMBERS), MEMBERS, [Combination(key="0.6 W", factors={"W": 0.6})],
        covered=[covered()], panel_force_n={"net": {"W": 600.0}}, fixings=FIXINGS,
    )  # fmt: skip
    kinds = {row.kind: row for row in found.rows}
    assert kinds["slip"].demand == pytest.approx(42)
    assert kinds["tie"].demand == pytest.approx(0.6 * 40.39, abs=0.01)
    assert found.working_of(kinds["tie"])[-1].value == pytest.approx(kinds["tie"].demand)


@pytest.mark.outside("strength.bolt_holes.drilled_modulus_mm3", source="scipy")
@pytest.mark.parametrize("key", ["emt-1/2", "emt-3/4", "emt-1", "emt-1-1/4"])
def test_what_a_bolt_hole_leaves_of_a_tube_by_going_round_it(key):
    """The ring's own first moment, less the two stretches of wall that a 6.5 mm bit takes out top and bottom."""
    tube = MEMBERS[key]
    middle = (tube.outer_mm - tube.wall_mm) / 2
    gone = math.asin(6.5 / 2 / middle)

    def round_it(a, b):
        return quad(lambda angle: middle * tube.wall_mm * abs(middle * math.sin(angle)), a, b)[0]

    theirs = 2 * (round_it(0, math.pi / 2 - gone) + round_it(math.pi / 2 + gone, math.pi))
    left = bolt_holes.drilled_modulus_mm3(tube.plastic_modulus_mm3, 6.5, tube.wall_mm, tube.outer_mm)
    assert left == as_worked(theirs, "mm3", "plastic modulus of a drilled tube, added up round it", rel=0.01)
    allowed = as_worked(tube.yield_mpa * theirs / 1.67e3, "N m", "bending that a drilled tube may take", rel=0.01)
    assert bolt_holes.drilled_moment_n_m(tube) == allowed


@pytest.mark.outside("strength.bolt_holes", source="second-method")
def test_a_bolted_post_is_checked_where_it_is_drilled():
    """A fixed post, 100 N at its top: at the bolt of its arm, 1 m below, it bends with 100 N m."""
    frame = arm("bolted", side_m=MEMBERS["emt-1"].outer_mm / 1000)
    response = solve(frame, Case(key="W+x", loads=(JointLoad(joint="C", force_n=(100.0, 0.0, 0.0)),)))
    (row,) = bolt_holes.hole_rows(joints(response, fit(frame, ROWS, MEMBERS)), MEMBERS)
    assert row.demand == as_worked(100, "N m", "bending of a post at its bolt", rel=1e-6)
    assert (row.run, row.joint) == ("post", "B")
    clamped = solve(arm(), Case(key="W+x", loads=(JointLoad(joint="C", force_n=(100.0, 0.0, 0.0)),)))
    assert bolt_holes.hole_rows(joints(clamped, fit(arm(), ROWS, MEMBERS)), MEMBERS) == []


def test_a_swivel_does_not_hold_a_brace_against_twist():
    """On the default shade frame no tube that ends in swivels alone is twisted: its solved twist is next to nothing."""
    standing = gardenframe.plan(ShadeFrame(), live=True).standing
    braces = [i for i, key in enumerate(standing.response.mesh.runs) if standing.frame.runs[key].role == "brace"]
    twist = standing.response.extremes()["torsion_n_m"]
    assert twist[:, braces].max() < 0.5 < twist.max()
