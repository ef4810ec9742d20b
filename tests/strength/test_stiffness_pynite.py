"""The frame solver against PyNiteFEA, an independent program, on random frames and on a hoop house."""

from itertools import pairwise

import numpy as np
import pytest
from frames_for_tests import hoop_house
from printed import as_worked
from pynite_frames import answers, pynite, random_frame
from pynite_plans import LOAD_FACTOR, plan_model

import gardenframe
from gardenframe.builds import Trellis
from gardenframe.strength.cases import Case, LineLoad
from gardenframe.strength.stiffness import solve

KINDS = (("movement of joints", "m", 0), ("turning of joints", "rad", 0))
KINDS += (("force of supports", "N", 1), ("moment of supports", "N m", 1))
FLOORS = ("strength.stiffness", "strength.mesh", "strength.element", "strength.loading", "strength.response")


def agree(ours, theirs, of):
    """Every movement and reaction to 1e-6 of the largest of its kind."""
    for number, (what, unit, which) in enumerate(KINDS):
        kind = slice(3 * (number % 2), 3 * (number % 2) + 3)
        a, b = ours[which][..., kind], theirs[which][..., kind]
        if not b.any():  # hinged feet give no moment
            assert np.abs(a).max() < 1e-9
            continue
        assert a == as_worked(b, unit, f"{what}, {of}", rel=0.0, abs=1e-6 * max(np.abs(b).max(), 1e-6))


def compare(seed, of="random frames"):
    """Solve one random frame with both and compare."""
    frame, springs, cases = random_frame(seed)
    response = solve(frame, cases, springs=springs)
    model = pynite(frame, springs, cases)
    model.analyze_linear(check_stability=False)
    agree((response.joint_movements, response.support_forces), answers(model, frame, cases), of)


@pytest.mark.outside(*FLOORS, source="PyNiteFEA")
def test_random_frames_agree_with_pynite():
    """Posts, rails that pass, braces, pinned ends; line, part, sloping and point loads: to 1e-6, twelve frames."""
    for seed in range(12):
        compare(seed)


@pytest.mark.outside("strength.response", "strength.element", source="PyNiteFEA")
def test_forces_along_runs_agree_with_pynite():
    """Push or pull, bending and movement a third along each member of four random frames."""
    for seed in range(4):
        frame, springs, cases = random_frame(seed)
        response = solve(frame, cases, springs=springs)
        model = pynite(frame, springs, cases)
        model.analyze_linear(check_stability=False)
        for key, run in frame.runs.items():
            marks = sorted(contact.station_m for contact in frame.on[run.key])
            for start, end in pairwise(marks):
                at = start + (end - start) / 3
                ours, member = response.along(key, [at]), model.members[f"{key}|{start:.6f}"]
                x = at - start
                for number, case in enumerate(c.key for c in cases):
                    theirs = np.hypot(member.moment("My", x, case), member.moment("Mz", x, case))
                    what = "bending along members of random frames"
                    assert ours.moment_n_m[number, 0] == as_worked(theirs, "N m", what, rel=1e-6, abs=1e-6)
                    theirs = -member.axial(x, case)  # its push is positive
                    assert ours.axial_n[number, 0] == as_worked(theirs, "N", "pull along them", rel=1e-6, abs=1e-5)
                    turned = np.array(member.T()[:3, :3])
                    moved = turned.T @ [member.deflection(way, x, case) for way in ("dx", "dy", "dz")]
                    found = ours.deflection_m[number, 0]
                    assert found == as_worked(moved, "m", "movement along them", rel=1e-6, abs=1e-8)


@pytest.mark.slow
@pytest.mark.outside(*FLOORS, source="PyNiteFEA")
def test_two_hundred_more_random_frames_agree_with_pynite():
    """The same on two hundred more."""
    for seed in range(1000, 1200):
        compare(seed, "two hundred random frames")


@pytest.mark.outside(*FLOORS, source="PyNiteFEA")
def test_a_hoop_house_agrees_with_pynite():
    """Bent hoops as the same chords, purlins passing: movements and reactions to 1e-6."""
    frame = hoop_house(3)
    cases = [
        Case(key="side", loads=tuple(LineLoad(run=f"hoop {i}", force_n_per_m=(30, 10, -20)) for i in range(3))),
        Case(key="end", loads=(LineLoad(run="purlin 2", force_n_per_m=(0, 0, -100), from_m=0.3, to_m=1.7),)),
    ]
    response = solve(frame, cases)
    mesh = response.mesh
    cuts = {key: mesh.from_m[mesh.first[i] : mesh.first[i + 1]] for i, key in enumerate(mesh.runs)}
    model = pynite(frame, {}, cases, cuts)
    model.analyze_linear(check_stability=False)
    # corners of the hoops' paths are not on the tube
    reached = [i for i, key in enumerate(frame.joints) if frame.contacts[key]]
    frame_keys = [list(frame.joints)[i] for i in reached]
    moved = np.array(
        [
            [[getattr(model.nodes[k], d)[c.key] for d in ("DX", "DY", "DZ", "RX", "RY", "RZ")] for k in frame_keys]
            for c in cases
        ]
    )
    names = ("RxnFX", "RxnFY", "RxnFZ", "RxnMX", "RxnMY", "RxnMZ")
    given = np.array(
        [[[getattr(model.nodes[s.joint], k)[c.key] for k in names] for s in frame.supports] for c in cases]
    )
    agree((response.joint_movements[:, reached], response.support_forces), (moved, given), "hoop house of three hoops")


# --- a plan's own frame, on the moved frame: fittings as springs, out of plumb, 1.6 times the loads and back


@pytest.fixture(scope="module")
def trellis():
    """Return the default trellis and the other program's model of it in the wind that is worst for it."""
    plan = gardenframe.plan(Trellis())
    return plan, plan_model(plan, {"D": 1.0, "P": 1.0, "W+y left": 0.6}, lean=(0.0, 1.0))


WORST = "D + P + 0.6 W+y left"


@pytest.mark.outside("strength.second_order", "strength.stiffness", "strength.connections", source="PyNiteFEA")
def test_a_plan_moves_as_in_pynite(trellis):
    """Every joint and every support of the default trellis, to a thousandth of the largest of its kind."""
    plan, model = trellis
    response = gardenframe.plan(Trellis()).standing.response
    case = response.cases.index(WORST)
    theirs = np.array([[getattr(model.nodes[k], d)["all"] for d in ("DX", "DY", "DZ")] for k in plan.frame.joints])
    ours, theirs = response.joint_movements[case, :, :3], theirs / LOAD_FACTOR
    assert ours == as_worked(theirs, "m", "movement of a trellis in wind", abs=1e-3 * np.abs(theirs).max())
    names = ("RxnFX", "RxnFY", "RxnFZ")
    theirs = np.array([[getattr(model.nodes[s.joint], n)["all"] for n in names] for s in plan.frame.supports])
    ours, theirs = response.support_forces[case, :, :3], theirs / LOAD_FACTOR
    assert ours == as_worked(theirs, "N", "force of its straps and feet", abs=1e-3 * np.abs(theirs).max())


@pytest.mark.outside("plan.checks", source="PyNiteFEA")
def test_checks_of_a_plan_from_pynite_s_forces(trellis):
    """The left post bends at its upper strap; a 1 in tube is allowed 141.7 N m (worked apart) at 207 MPa."""
    _, model = trellis
    rows = gardenframe.plan(Trellis()).checks.set_index("check")
    bent = rows.loc["post: bending and axial force"]
    assert (bent["case"], bent["where"]) == (WORST, "post 1 at joint post 1 high strap")
    above = model.members["post 1|0.230000"]
    moment = np.hypot(above.moment("My", 0, "all"), above.moment("Mz", 0, "all")) / LOAD_FACTOR
    push = above.axial(0, "all") / LOAD_FACTOR
    ratio = moment / 141.7 + push / (2 * 127.78 * 207 / 1.67)  # H1 at a small push: all of the tube yields
    assert bent["ratio"] == as_worked(ratio, "", "use of the left post, by another program's forces", rel=2e-3)
    below = model.members["post 1|0.070000"]
    shear = np.hypot(below.shear("Fy", 0, "all"), below.shear("Fz", 0, "all")) / LOAD_FACTOR
    ours = rows.loc["post: shear", "demand"]
    assert ours == as_worked(shear, "N", "shear of a post between its straps", rel=2e-3)
    out = (model.nodes["post 1 top"].DY["all"] - model.nodes["post 1 foot"].DY["all"]) / LOAD_FACTOR * 1000
    ours = rows.loc["post: post out of upright", "demand"]
    assert ours == as_worked(out, "mm", "top of a post out of upright", rel=2e-3)


@pytest.mark.outside("plan.anchors", source="PyNiteFEA")
def test_anchors_of_a_plan_from_pynite_s_reactions(trellis):
    """What a strap's screws hold and what slides the whole, from the reactions alone; what overturns it, by a lever."""
    plan, model = trellis
    rows = gardenframe.plan(Trellis()).anchors.set_index("check")
    given = {s.joint: np.array([model.nodes[s.joint].RxnFX["all"], model.nodes[s.joint].RxnFY["all"]]) / LOAD_FACTOR
             for s in plan.frame.supports}  # fmt: skip
    straps = max(np.hypot(*force) for joint, force in given.items() if joint.endswith("strap"))
    screws = rows.loc["screws: two-hole strap screwed to timber"]
    assert screws["case"] == WORST
    assert screws["demand"] == as_worked(straps, "N", "push on a strap's screws", rel=2e-3)
    slid = np.hypot(*sum(given.values()))
    slides = rows.loc["whole build: sliding"]
    assert slides["case"] in (WORST, WORST.removesuffix(" left"))  # aslant the same force slides it
    assert slides["demand"] == as_worked(slid, "N", "what slides the whole", rel=2e-3)
    wind, middle = float(plan.loads.set_index("case").loc["W+y", "y_n"]), (0.38 + 2.11 - 0.0295402 / 2) / 2
    tips = rows.loc["whole build: overturning", "demand"]
    assert tips == as_worked(0.6 * wind * middle, "N m", "what overturns it", source="second-method", rel=1e-3)
