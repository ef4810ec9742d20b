"""The frame solver, first order, against closed forms, portals, arches and statics."""

import math

import numpy as np
import pytest
from frames_for_tests import beam, hoop, portal
from hypothesis import given, settings
from hypothesis import strategies as st
from printed import as_printed, as_remembered, as_worked

from gardenframe.errors import FrameError, InputError
from gardenframe.geometry.frame import Frame, Joint, Part, Run, Support
from gardenframe.materials.members import load_members
from gardenframe.strength.cases import Case, Combination, JointLoad, LineLoad, PointLoad, self_weight
from gardenframe.strength.stiffness import solve

MEMBERS = load_members()
FIXED, PINNED, ROLLER = "xyzXYZ", "xyzX", "yz"
SOLVER = ("strength.stiffness", "strength.mesh", "strength.element", "strength.loading", "strength.response")
EI = 200e9 * MEMBERS["emt-1"].second_moment_mm4 * 1e-12


def down(n_per_m, run="beam", **where):
    return LineLoad(run=run, force_n_per_m=(0, 0, -n_per_m), **where)


def at(station_m, newton):
    return PointLoad(run="beam", station_m=station_m, force_n=(0, 0, -newton))


def one(frame, *loads, **options):
    return solve(frame, Case(key="case", loads=loads), **options)


def sagging(response, points=1001, run="beam"):
    """Moment (sagging positive) and downward deflection along a straight horizontal run."""
    along = response.along(run, points)
    return along.station_m, -along.moment_y_n_m[0], -along.deflection_m[0, :, 2]


# source: closed forms from memory, numbers recomputed with an independent stiffness program for 1 in EMT
# (spans, held, loads, largest moment N m, where m, largest deflection mm)
ONE_SPAN = {
    "simple, uniform": ([2], (PINNED, ROLLER), [down(100)], "50.0", 1.0, "8.242"),
    "simple, point": ([2], (PINNED, ROLLER), [at(1, 200)], "100.0", 1.0, "13.187"),
    "cantilever, point": ([1.2], (FIXED, ""), [at(1.2, 100)], "120.0", 0.0, "22.788"),
    "cantilever, uniform": ([1.2], (FIXED, ""), [down(50)], "36.0", 0.0, "5.127"),
    "fixed, uniform": ([2], (FIXED, FIXED), [down(100)], "33.33", 0.0, "1.648"),
    "fixed, point": ([2], (FIXED, FIXED), [at(1, 200)], "50.0", 0.0, "3.297"),
    "propped, uniform": ([2], (FIXED, ROLLER), [down(100)], "50.0", 0.0, ("inverse", "184.6")),
    "two spans": ([2, 2], (PINNED, ROLLER, ROLLER), [down(100)], "50.0", 2.0, ("truncated", "0.00541")),
    "three spans": ([2, 2, 2], (PINNED, ROLLER, ROLLER, ROLLER), [down(100)], "40", 2.0, ("coefficient", "0.0069")),
}  # fmt: skip


@pytest.mark.outside(*SOLVER, source="aisc-3-23-1")
@pytest.mark.parametrize("name", ONE_SPAN)
def test_spans_match_their_closed_forms(name):
    """Largest moment, where it is, and largest deflection are those printed for 1 in EMT."""
    spans, held, loads, moment, where, deflection = ONE_SPAN[name]
    station, m, sag = sagging(one(beam(spans, held), *loads), 1201)
    what = f"largest moment, {name}"
    half_a_digit = 0.5 * 10.0 ** -len(moment.partition(".")[2])
    assert np.abs(m).max() == as_worked(float(moment), "N m", what, source="worked-apart", abs=half_a_digit)
    assert abs(m[np.abs(station - where).argmin()]) == pytest.approx(np.abs(m).max(), rel=1e-9)
    if isinstance(deflection, str):
        what = f"largest deflection, {name}"
        assert sag.max() * 1000 == as_worked(float(deflection), "mm", what, source="worked-apart", abs=5e-4)
    else:  # the printed coefficient of wL4/EI is rounded, so it is what is compared
        share = sag.max() * EI / (100 * spans[0] ** 4)
        ours, what = 1 / share if deflection[0] == "inverse" else share, f"coefficient of deflection, {name}"
        if deflection[0] == "truncated":  # 0.005416 is printed as 0.00541
            what += " (printed, digits cut off)"
            assert ours == as_worked(float(deflection[1]), "", what, source="lindeburg-2-span", abs=1e-5)
        else:
            assert ours == as_remembered(deflection[1], "", what)


@pytest.mark.outside(*SOLVER, source="aisc-3-23-1")
def test_three_spans_sag_between_the_supports_as_printed():
    """0.080 wL2 in the outer spans, 0.025 wL2 in the middle one."""
    _, m, _ = sagging(one(beam([2, 2, 2], (PINNED, ROLLER, ROLLER, ROLLER)), down(100)), [0.8, 3.0])
    assert m[0] / (100 * 2**2) == as_remembered("0.080", "w L2", "moment in an outer span of three")
    assert m[1] / (100 * 2**2) == as_remembered("0.025", "w L2", "moment in the middle span of three")
    assert m == pytest.approx([32.0, 10.0], rel=1e-6)


# source: a handbook of civil engineering formulas, Table 2.1 (seen): shears beside each support, in wL
REACTIONS = {
    2: ["3/8", "10/8", "3/8"],
    3: ["4/10", "11/10", "11/10", "4/10"],
    4: ["11/28", "32/28", "26/28", "32/28", "11/28"],
}
REACTIONS[5] = ["15/38", "43/38", "37/38", "37/38", "43/38", "15/38"]


@pytest.mark.outside(*SOLVER, source="beams-handbook")
@pytest.mark.parametrize("spans", REACTIONS)
def test_continuous_spans_share_load_between_supports_as_printed(spans):
    """Reactions of two to five equal spans."""
    response = one(beam([1.5] * spans, (PINNED, *[ROLLER] * spans)), down(80))
    shares = response.reactions["z_n"].to_numpy() / (80 * 1.5)
    for number, (share, printed) in enumerate(zip(shares, REACTIONS[spans], strict=True), 1):
        over, under = map(int, printed.split("/"))
        what = f"reaction {number} of {spans} equal spans, by printed shears {printed}"
        assert share == as_worked(over / under, "w L", what, rel=1e-9)


@pytest.mark.outside(*SOLVER, source="beams-handbook")
def test_two_of_three_spans_loaded_as_printed():
    """Pattern load: R = 0.383, 1.20, 0.45, -0.033 wL; 0.0735 wL2 in the span; 0.0059 wL4/EI."""
    w, span = 100.0, 2.0
    response = one(beam([span] * 3, (PINNED, ROLLER, ROLLER, ROLLER)), down(w, to_m=2 * span))
    shares = response.reactions["z_n"].to_numpy() / (w * span)
    for number, (share, printed) in enumerate(zip(shares, ["0.383", "1.20", "0.45", "-0.033"], strict=True), 1):
        assert share == as_printed(printed, "w L", f"reaction {number}, two of three spans loaded")
    _, m, sag = sagging(response, 3001)
    assert m.max() / (w * span**2) == as_printed("0.0735", "w L2", "largest moment, two of three spans loaded")
    last = m[2000] / (w * span**2)
    assert last == as_printed("-0.0333", "w L2", "moment over the third support, two of three spans loaded")
    share = sag.max() * EI / (w * span**4)
    assert share == as_printed("0.0059", "w L4/(E I)", "largest deflection, two of three spans loaded")


# portals: formulas from memory, numbers recomputed with an independent program; h = 2 m, L = 3 m
@pytest.mark.outside(*SOLVER, source="kleinlogel")
def test_pinned_portal_under_a_uniform_load():
    """Thrust, corner and middle moment."""
    response = one(portal(3, 2, "xyzXZ"), down(100, "top"))
    thrust = response.reactions["x_n"].to_numpy()
    assert thrust[:2] == pytest.approx([25.96, -25.96], rel=5e-4)
    m = -response.along("top", 3).moment_y_n_m[0]
    k, w, h, span = 2 / 3, 100.0, 2.0, 3.0
    corner = w * span**2 / (4 * (2 * k + 3))
    said = "of a pinned portal under an even load"
    assert thrust[0] == as_worked(corner / h, "N", f"thrust {said}", rel=5e-4)
    assert m[0] == as_worked(-corner, "N m", f"moment at a corner {said}", rel=5e-4)
    assert m[1] == as_worked(w * span**2 / 8 - corner, "N m", f"moment in the middle {said}", rel=5e-4)


@pytest.mark.outside(*SOLVER, source="kleinlogel")
def test_pinned_portal_pushed_sideways():
    """Thrust P/2, corner moment Ph/2, uplift Ph/L, sway 92.3 mm."""
    response = one(portal(3, 2, "xyzXZ"), JointLoad(joint="B", force_n=(100, 0, 0)))
    rows = response.reactions.set_index("joint")
    said = "of a pinned portal pushed by 100 N"
    assert rows.loc["A", "x_n"] == as_worked(-50.0, "N", f"push on a foot {said}", "worked-apart", rel=2e-3)
    assert abs(rows.loc["A", "z_n"]) == as_worked(200 / 3, "N", f"uplift of a foot {said}", rel=1e-3)
    corner = np.abs(response.along("top", 3).moment_y_n_m[0]).max()
    assert corner == as_worked(100.0, "N m", f"moment at a corner {said}", "worked-apart", rel=2e-3)
    sway = response.displacements.set_index("joint").loc["B", "x_m"] * 1000
    k = 2 / 3
    bent = 100 * 2**3 * (2 * k + 1) / (12 * k * EI) * 1000
    assert sway == as_worked(bent, "mm", f"sway {said}", rel=1e-3)
    assert sway == as_worked(92.3, "mm", f"sway {said}, worked apart before", source="worked-apart", abs=0.05)


@pytest.mark.outside(*SOLVER, source="kleinlogel")
def test_fixed_portal_under_a_uniform_load():
    """Foot 28.125, corner 56.25 N m, thrust 42.19 N."""
    response = one(portal(3, 2, FIXED), down(100, "top"))
    rows = response.reactions.set_index("joint")
    k, w, h, span = 2 / 3, 100.0, 2.0, 3.0
    said = "of a portal with fixed feet under an even load"
    foot = w * span**2 / (12 * (k + 2))
    assert abs(rows.loc["A", "moment_y_n_m"]) == as_worked(foot, "N m", f"moment at a foot {said}", rel=1e-3)
    assert rows.loc["A", "x_n"] == as_worked(w * span**2 / (4 * h * (k + 2)), "N", f"thrust {said}", rel=1e-3)
    corner = np.abs(response.along("top", 3).moment_y_n_m[0, 0])
    assert corner == as_worked(2 * foot, "N m", f"moment at a corner {said}", rel=1e-3)


# arches: recomputed by quadrature, R = 1.5 m, 3/4 in EMT
R, P = 1.5, 200.0


@pytest.mark.outside(*SOLVER, source="arch-quadrature")
def test_two_hinged_hoop_with_a_load_at_the_crown():
    """H = P/pi within 0.5 %; crown 0.18169 PR, hogging 0.09272 PR at 32.5 deg, crown deflection 11.96 mm."""
    response = one(hoop(R), JointLoad(joint="T", force_n=(0, 0, -P)))
    said = "of a half circle loaded at its crown"
    thrust = response.support_forces[0, 0, 0]
    assert thrust == as_worked(P / math.pi, "N", f"thrust {said}", rel=0.005)
    along = response.along("hoop", 1441)
    m = along.moment_y_n_m[0]
    assert abs(m[720]) == as_worked(0.18169 * P * R, "N m", f"moment at the crown {said}", rel=0.005)
    side = np.sign(-m[720]) * m[:720]
    assert side.max() == as_worked(0.09272 * P * R, "N m", f"moment at a haunch {said}", rel=0.01)
    assert side.argmax() / 8 == pytest.approx(32.5, abs=4.0)
    sag = -along.deflection_m[0, 720, 2] * 1000
    assert sag == as_worked(11.96, "mm", f"deflection of the crown {said}", rel=0.01)


@pytest.mark.outside(*SOLVER, source="arch-quadrature")
def test_two_hinged_hoop_under_its_own_weight():
    """H = wR/2, V = pi wR/2: load per metre of arc."""
    response = one(hoop(R), down(10, "hoop"))
    thrust, up = response.support_forces[0, 0, 0], response.support_forces[0, :, 2]
    assert thrust == as_worked(10 * R / 2, "N", "thrust of a half circle under its own weight", rel=0.005)
    assert up == as_worked(
        [math.pi * 10 * R / 2] * 2, "N", "push up on the feet of a hoop under its own weight", rel=1e-9
    )


@pytest.mark.outside(*SOLVER, source="arch-quadrature")
def test_two_hinged_hoop_under_a_load_per_horizontal_metre():
    """H = 4wR/(3 pi), crown 0.07559 wR2."""
    line = hoop(R).lines["hoop"]
    steps = np.linspace(0, line.length_m, 241)
    level = [abs(line.tangent(s)[0]) * 10 for s in steps]
    loads = [
        LineLoad(run="hoop", force_n_per_m=(0, 0, -a), to_n_per_m=(0, 0, -b), from_m=s, to_m=e)
        for s, e, a, b in zip(steps, steps[1:], level, level[1:], strict=False)
    ]
    response = one(hoop(R), *loads)
    said = "of a half circle under a load per metre of plan"
    thrust = response.support_forces[0, 0, 0]
    assert thrust == as_worked(4 * 10 * R / (3 * math.pi), "N", f"thrust {said}", rel=0.005)
    crown = np.abs(response.along("hoop", 3).moment_y_n_m[0, 1])
    assert crown == as_worked(0.07559 * 10 * R**2, "N m", f"moment at the crown {said}", rel=0.01)


@pytest.mark.outside(*SOLVER, source="second-method")
def test_pins_at_the_crown_make_a_three_hinged_hoop():
    """By statics: H = P/2 under a load at the crown."""
    joints = [Joint("A", -R, 0, 0), Joint("P", -R, 0, R), Joint("T", 0, 0, R), Joint("Q", R, 0, R), Joint("B", R, 0, 0)]
    runs = [
        Run(key=key, member="emt-3/4", path=path, bend_radius_m=R)
        for key, path in (("left", ("A", "P", "T")), ("right", ("T", "Q", "B")))
    ]
    supports = [Support(joint=j, base="foot", held="xyzXZ") for j in "AB"]
    response = one(
        Frame.of(joints, runs, supports), JointLoad(joint="T", force_n=(0, 0, -P)), springs={("T", "right"): 0.0}
    )
    thrust = response.support_forces[0, 0, 0]
    assert thrust == as_worked(P / 2, "N", "thrust of a half circle with a pin at its crown", rel=0.005)


# joints, offsets, wires, parts --------------------------------------------------------------------------------------


@pytest.mark.outside(*SOLVER, source="second-method")
@pytest.mark.parametrize("spring", [50.0, 500.0, 5000.0])
def test_a_sprung_joint_is_neither_rigid_nor_pinned(spring):
    """Fixed beam with springs k at its ends: end moment wL2/12 / (1 + 2EI/(kL)), by slope and deflection."""
    span, w = 2.0, 100.0
    joints = [Joint("A", 0, 0, 0), Joint("B", span, 0, 0)]
    frame = Frame.of(
        joints,
        [Run(key="beam", member="emt-1", path=("A", "B"))],
        [Support(joint=j, base="foot", held=FIXED) for j in "AB"],
    )
    response = one(frame, down(w), springs={("A", "beam"): spring, ("B", "beam"): spring})
    _, m, _ = sagging(response, 3)
    theirs = w * span**2 / 12 / (1 + 2 * EI / (spring * span))
    assert -m[0] == as_worked(theirs, "N m", f"moment at an end held by {spring:g} N m/rad", rel=1e-9)
    assert m[1] - m[0] == pytest.approx(w * span**2 / 8, rel=1e-9)


@pytest.mark.outside(*SOLVER, source="second-method")
def test_a_splice_turns_by_its_own_spring():
    """Cantilever spliced at a third: the tip drops by M L2 / k more than without."""
    joints = [Joint("A", 0, 0, 0), Joint("S", 0.5, 0, 0), Joint("B", 1.5, 0, 0)]
    run = Run(key="beam", member="emt-1", path=("A", "S", "B"), splices=("S",))
    frame = Frame.of(joints, [run], [Support(joint="A", base="foot", held=FIXED)])
    load = JointLoad(joint="B", force_n=(0, 0, -10))
    whole, spliced = (one(frame, load, springs=s).displacements["z_m"].iloc[2] for s in ({}, {("S", "beam"): 300.0}))
    assert whole == as_worked(-10 * 1.5**3 / (3 * EI), "m", "tip of a cantilever under 10 N", rel=1e-9)
    assert spliced - whole == as_worked(
        -10 * 1.0 / 300, "m", "what the splice of a cantilever adds by turning", rel=1e-9
    )


@pytest.mark.outside(*SOLVER, source="second-method")
def test_tubes_side_by_side_pass_force_across_the_gap():
    """A tube hung 60 mm beside a fixed one twists it by its load times the gap (statics)."""
    gap = 0.06
    joints = [Joint("A", 0, 0, 0), Joint("B", 1, 0, 0), Joint("C", 1, 1, 0)]
    runs = [
        Run(key="arm", member="emt-1", path=("A", "B")),
        Run(key="side", member="emt-1", path=("B", "C"), offset_m=(0.0, 0.0, gap)),
    ]
    frame = Frame.of(joints, runs, [Support(joint="A", base="foot", held=FIXED)])
    tip = frame.lines["side"].length_m
    response = one(frame, PointLoad(run="side", station_m=tip, force_n=(50.0, 0, 0)))
    given_by_foot = response.support_forces[0, 0]
    theirs = [-50, 0, 0, 0, -50 * gap, 50 * 1.0]
    assert given_by_foot[:3] == as_worked(theirs[:3], "N", "force at the foot of two tubes side by side", abs=1e-9)
    assert given_by_foot[3:] == as_worked(theirs[3:], "N m", "moment at the foot of two tubes side by side", abs=1e-9)
    # the force acts `gap` above the arm: the arm bends upwards by M L2 / 2EI at B
    lift = response.displacements.set_index("joint").loc["B", "z_m"]
    assert lift == as_worked(-50 * gap / (2 * EI), "m", "what the gap bends the arm by", rel=1e-9)


def braced_bay(brace="wire-12.5"):
    joints = [Joint("A", 0, 0, 0), Joint("B", 0, 0, 2), Joint("C", 3, 0, 2), Joint("D", 3, 0, 0)]
    runs = [
        Run(key=key, member="emt-1", path=path)
        for key, path in (("left", ("A", "B")), ("top", ("B", "C")), ("right", ("D", "C")))
    ]
    runs += [Run(key="up", member=brace, path=("A", "C")), Run(key="down", member=brace, path=("B", "D"))]
    supports = [Support(joint=j, base="foot", held="xyzXZ") for j in "AD"]
    supports += [Support(joint=j, base="guide", held="yXZ") for j in "BC"]
    return Frame.of(joints, runs, supports)


PINS = {(j, r): 0.0 for j, r in (("B", "top"), ("C", "top"), ("A", "left"), ("D", "right"))}


@pytest.mark.outside("strength.wires", "strength.stiffness", source="second-method")
@pytest.mark.parametrize(("push", "pulls", "hangs"), [(100.0, "up", "down"), (-100.0, "down", "up")])
def test_only_the_wire_that_is_stretched_pulls(push, pulls, hangs):
    """A pinned bay with two crossing wires: the stretched one takes P / cos, the other is named slack."""
    response = one(braced_bay(), JointLoad(joint="B", force_n=(push, 0, 0)), springs=PINS)
    assert response.slack["case"] == (hangs,)
    pull = response.along(pulls, 3).axial_n[0]
    assert pull == as_worked([100 * math.hypot(3, 2) / 3] * 3, "N", "pull of the stretched wire of a bay", rel=2e-3)
    assert response.along(hangs, 3).axial_n[0] == pytest.approx([0.0] * 3, abs=1e-9)
    assert response.support_forces[0, :, 0].sum() == pytest.approx(-push, rel=1e-9)


def test_slack_wires_do_as_if_they_were_not_there():
    """The same frame built without the slack wire moves the same (another factorisation)."""
    full, load = braced_bay(), JointLoad(joint="B", force_n=(100.0, 0, 0))
    bare = Frame.of(full.joints.values(), [r for r in full.runs.values() if r.key != "down"], full.supports)
    with_it, without = one(full, load, springs=PINS), one(bare, load, springs=PINS)
    assert with_it.joint_movements == pytest.approx(without.joint_movements, rel=1e-7, abs=1e-12)


# errors -------------------------------------------------------------------------------------------------------------


def test_a_bay_of_pins_is_told_where_it_sways():
    """A mechanism is named by the joints that move."""
    full = braced_bay()
    bare = Frame.of(full.joints.values(), [full.runs[k] for k in ("left", "top", "right")], full.supports)
    with pytest.raises(FrameError, match=r"^this frame can sway at joints B, C: add a brace or a fixed foot\.$"):
        one(bare, JointLoad(joint="B", force_n=(1, 0, 0)), springs=PINS)


def test_a_frame_that_only_spins_is_told_so():
    """A beam on two pinned feet can turn about itself."""
    with pytest.raises(FrameError, match=r"^this frame can turn at joints A, B: add a brace or a fixed foot\.$"):
        one(beam([2], ("xyz", "xyz")), down(1))


def test_a_frame_on_nothing_is_refused():
    """No supports."""
    frame = Frame.of([Joint("A", 0, 0, 0), Joint("B", 1, 0, 0)], [Run(key="beam", member="emt-1", path=("A", "B"))])
    with pytest.raises(FrameError, match=r"^supports: no joint is held\. Hold at least one"):
        one(frame, down(1))


def test_a_frame_in_two_pieces_is_refused():
    """The loose piece is named by its joints."""
    joints = [Joint("A", 0, 0, 0), Joint("B", 1, 0, 0), Joint("C", 0, 1, 0), Joint("D", 1, 1, 0)]
    runs = [Run(key="beam", member="emt-1", path=("A", "B")), Run(key="other", member="emt-1", path=("C", "D"))]
    with pytest.raises(FrameError, match=r"^joints C, D: they are not joined to .* the frame is in two pieces\. Join"):
        one(Frame.of(joints, runs, [Support(joint="A", base="foot", held=FIXED)]), down(1))


@pytest.mark.parametrize(
    ("load", "sentence"),
    [
        (down(1, "no such"), r"^case case: it loads run 'no such', which is not in the frame\.$"),
        (down(1, to_m=9.0), r"^case case: it loads run beam at 0 to 9 m, and the run is 2 m long\.$"),
        (PointLoad(run="beam", station_m=-1, force_n=(0, 0, 1)), r"it loads run beam at -1 m, and the run is 2 m long"),
        (JointLoad(joint="Z", force_n=(0, 0, 1)), r"^case case: it loads joint 'Z', which no run reaches\.$"),
        (down(math.nan), r"^load of case case: got .*, needs finite numbers\.$"),
    ],
)
def test_a_load_that_is_nowhere_is_refused(load, sentence):
    """Each names the case and what is wrong."""
    with pytest.raises((FrameError, InputError), match=sentence):
        one(beam([2], (FIXED, "")), load)


def test_other_wrong_inputs_are_sentences():
    """Unknown member, order, combination, negative spring, no case."""
    frame = beam([2], (FIXED, ""))
    with pytest.raises(FrameError, match=r"^run beam: its member 'gold' is not among the members\.$"):
        one(beam([2], (FIXED, ""), "gold"), down(1))
    with pytest.raises(InputError, match=r"^order: got 'third', needs one of first, amplified, second\.$"):
        one(frame, down(1), order="third")
    with pytest.raises(InputError, match=r"^stiffness of run beam at joint B: got -1, needs 0 \(pinned\) or more"):
        one(frame, down(1), springs={("B", "beam"): -1.0})
    with pytest.raises(InputError, match=r"^combination C: got 'S', needs one of the cases: D\.$"):
        solve(frame, [Case(key="D")], [Combination(key="C", factors={"S": 1.0})])
    with pytest.raises(InputError, match=r"^cases: got nothing, needs at least one\.$"):
        solve(frame, [])


# what must be true of any frame -------------------------------------------------------------------------------------

COORDINATE = st.floats(0.4, 1.6)
FORCE = st.tuples(*[st.floats(-100, 100)] * 3)


@st.composite
def table_frame(draw, spring=True):
    """A table-like frame of random sizes: four posts, four rails, one rail passing a fifth post under it, braces."""
    a, b, h = draw(COORDINATE), draw(COORDINATE), draw(COORDINATE)
    skew = draw(st.floats(-0.3, 0.3))
    gap = draw(st.sampled_from([0.0, 0.03]))
    feet = {"A": (0, 0), "B": (a, 0), "C": (a, b), "D": (0, b)}
    joints = [Joint(k, x, y, 0) for k, (x, y) in feet.items()]
    joints += [Joint(k + "t", x + skew, y, h) for k, (x, y) in feet.items()]
    joints.append(Joint("M", a / 2 + skew, 0, h))
    runs = [Run(key=f"post {k}", member="emt-3/4", path=(k, k + "t")) for k in feet]
    runs.append(Run(key="front", member="emt-1", path=("At", "M", "Bt")))
    runs.append(Run(key="middle", member="emt-1/2", path=("M", "Dt")))
    runs += [
        Run(key=key, member="emt-1", path=path, offset_m=(0, 0, gap))
        for key, path in (("right", ("Bt", "Ct")), ("back", ("Ct", "Dt")), ("left", ("Dt", "At")))
    ]
    held = draw(st.sampled_from(["xyz", "xyzXYZ", "xyzZ"]))
    soft = draw(st.sampled_from([0.0, 800.0]))
    supports = [Support(joint=k, base="foot", held=held, spring_n_m_per_rad=soft) for k in feet]
    springs = {}
    if spring:
        value = draw(st.sampled_from([0.0, 40.0, 2000.0, math.inf]))
        springs = {("M", "middle"): value, ("Dt", "middle"): value, ("Bt", "front"): draw(st.floats(1.0, 1e4))}
    return Frame.of(joints, runs, supports), springs


@st.composite
def some_loads(draw, frame):
    loads = []
    for key in draw(st.lists(st.sampled_from(sorted(frame.runs)), min_size=1, max_size=4)):
        long = frame.lines[key].length_m
        a, b = sorted((draw(st.floats(0, 1)) * long, draw(st.floats(0, 1)) * long))
        loads.append(LineLoad(run=key, force_n_per_m=draw(FORCE), to_n_per_m=draw(FORCE), from_m=a, to_m=b))
        loads.append(PointLoad(run=key, station_m=draw(st.floats(0, 1)) * long, force_n=draw(FORCE)))
    loads.append(
        JointLoad(joint=draw(st.sampled_from(sorted(frame.joints))), force_n=draw(FORCE), moment_n_m=draw(FORCE))
    )
    return tuple(loads)


def resultant(frame, loads):
    """Force and moment about the origin, by integrating the loads along the runs (Simpson: exact for these)."""
    force, moment = np.zeros(3), np.zeros(3)

    def add(at, f):
        nonlocal force, moment
        force, moment = force + f, moment + np.cross(at, f)

    for load in loads:
        if isinstance(load, JointLoad):
            add(np.array(frame.joints[load.joint].at), np.array(load.force_n))
            moment = moment + np.array(load.moment_n_m)
            continue
        line = frame.lines[load.run]
        if isinstance(load, PointLoad):
            add(np.array(line.point(load.station_m)), np.array(load.force_n))
            continue
        a, b = np.array(load.force_n_per_m), np.array(load.to_n_per_m)
        for share, weight in ((0, 1 / 6), (0.5, 4 / 6), (1, 1 / 6)):
            station = load.from_m + share * (load.to_m - load.from_m)
            add(np.array(line.point(station)), (a + (b - a) * share) * weight * (load.to_m - load.from_m))
    return force, moment


@pytest.mark.outside(*SOLVER, source="second-method")
@settings(max_examples=60, deadline=None)
@given(st.data())
def test_supports_give_exactly_what_the_loads_take(data):
    """Forces and moments balance about the origin, whatever the frame, its joints and its loads."""
    frame, springs = data.draw(table_frame())
    loads = data.draw(some_loads(frame))
    response = one(frame, *loads, springs=springs)
    force, moment = resultant(frame, loads)
    given = response.support_forces[0]
    at = np.array([frame.joints[s.joint].at for s in frame.supports])
    size = np.abs(force).max() + np.abs(moment).max() + 1
    assert given[:, :3].sum(axis=0) == as_worked(-force, "N", "force of all supports of random frames", abs=1e-7 * size)
    assert response.total_load_n[0] == pytest.approx(force, abs=1e-9 * size)
    turned = given[:, 3:].sum(axis=0) + np.cross(at, given[:, :3]).sum(axis=0)
    assert turned == as_worked(-moment, "N m", "moment of what supports give about the origin", abs=1e-7 * size)


@settings(max_examples=30, deadline=None)
@given(st.data())
def test_cases_add_up(data):
    """2 A - 3 B solved at once, as a combination, and added up from the two: the same along every run."""
    frame, springs = data.draw(table_frame())
    first, second = Case(key="A", loads=data.draw(some_loads(frame))), Case(key="B", loads=data.draw(some_loads(frame)))
    both = solve(frame, [first, second], springs=springs)
    mix = {"mix": {"A": 2.0, "B": -3.0}}
    solved = solve(frame, [first, second], [Combination(key="mix", factors=mix["mix"])], springs=springs)
    added = both.combined(mix)
    for run in frame.runs:
        a, b, c = solved.along(run, 7), added.along(run, 7), both.along(run, 7)
        m = 2 * c.moment_z_n_m[0] - 3 * c.moment_z_n_m[1]
        size = np.abs(c.moment_z_n_m).max() + 1
        assert a.moment_z_n_m[0] == pytest.approx(m, abs=1e-8 * size)
        assert b.moment_z_n_m[0] == pytest.approx(m, abs=1e-8 * size)
        assert b.deflection_m[0] == pytest.approx(a.deflection_m[0], abs=1e-9)


@settings(max_examples=25, deadline=None)
@given(st.data(), st.floats(0, 360))
def test_a_frame_turned_as_a_whole_answers_the_same(data, angle):
    """Turned about the upright with its loads: the same size of moment and deflection everywhere."""
    frame, springs = data.draw(table_frame())
    loads = data.draw(some_loads(frame))
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))

    def spin(v):
        return (c * v[0] - s * v[1], s * v[0] + c * v[1], v[2])

    joints = [Joint(j.key, *spin(j.at)) for j in frame.joints.values()]
    other = Frame.of(joints, frame.runs.values(), frame.supports)
    turned = []
    for load in loads:
        if isinstance(load, JointLoad):
            turned.append(JointLoad(joint=load.joint, force_n=spin(load.force_n), moment_n_m=spin(load.moment_n_m)))
        elif isinstance(load, PointLoad):
            turned.append(PointLoad(run=load.run, station_m=load.station_m, force_n=spin(load.force_n)))
        else:
            a, b = spin(load.force_n_per_m), spin(load.to_n_per_m)
            turned.append(LineLoad(run=load.run, force_n_per_m=a, to_n_per_m=b, from_m=load.from_m, to_m=load.to_m))
    before, after = one(frame, *loads, springs=springs), one(other, *turned, springs=springs)
    for run in frame.runs:
        a, b = before.along(run, 6), after.along(run, 6)  # none on a joint, where moments jump
        size = np.abs(a.moment_n_m).max() + 1
        assert b.moment_n_m == pytest.approx(a.moment_n_m, abs=1e-6 * size)
        moved = np.linalg.norm(a.deflection_m, axis=2)
        assert np.linalg.norm(b.deflection_m, axis=2) == pytest.approx(moved, abs=1e-7 * (moved.max() + 1))


def test_a_symmetric_frame_under_a_symmetric_load_answers_symmetrically():
    """Both feet of a portal and both halves of its beam."""
    response = one(portal(3, 2, FIXED), down(100, "top"))
    assert response.support_forces[0, 0, 2] == pytest.approx(response.support_forces[0, 1, 2], rel=1e-12)
    m = response.along("top", 9).moment_y_n_m[0]
    assert m == pytest.approx(m[::-1], rel=1e-9)


@pytest.mark.outside("strength.cases", "strength.stiffness", source="second-method")
def test_own_weight_is_the_mass_times_gravity():
    """Reactions sum to the mass of all runs, bends at their developed length."""
    frame = hoop(R)
    mass = MEMBERS["emt-3/4"].mass_kg_per_m
    response = solve(frame, self_weight(frame, {"emt-3/4": mass}))
    theirs = math.pi * R * mass * 9.80665
    assert response.support_forces[0, :, 2].sum() == as_worked(theirs, "N", "weight of a half circle of tube", rel=1e-9)


def test_extremes_hold_what_is_found_along_the_run():
    """The worst of each run for the checks is that of its own sampled forces, signs parted."""
    response = one(portal(3, 2, "xyzXZ"), down(100, "top"), JointLoad(joint="B", force_n=(80, 0, 0)))
    worst = response.extremes()
    for number, run in enumerate(response.mesh.runs):
        along = response.along(run, 5)
        assert worst["moment_n_m"][0, number] == pytest.approx(along.moment_n_m.max(), rel=1e-9)
        assert worst["shear_n"][0, number] == pytest.approx(along.shear_n.max(), rel=1e-9)
        assert worst["push_n"][0, number] == pytest.approx(max(-along.axial_n.min(), 0), rel=1e-9)
        assert worst["pull_n"][0, number] == pytest.approx(max(along.axial_n.max(), 0), rel=1e-9)


def gate(latched):
    """A leaf hung at two hinges on a fixed post, its far side resting on a held latch, or hanging free."""
    joints = [Joint("F", 0, 0, 0), Joint("H1", 0, 0, 0.3), Joint("H2", 0, 0, 1.3), Joint("L1", 1, 0, 0.3)]
    joints += [Joint("L2", 1, 0, 1.3)]
    runs = [Run(key="post", member="emt-2", path=("F", "H1", "H2"))]
    runs += [
        Run(key=key, member="emt-3/4", path=path, part="gate")
        for key, path in (("low", ("H1", "L1")), ("high", ("H2", "L2")), ("far", ("L1", "L2")))
    ]
    supports = [Support(joint="F", base="sleeve", held=FIXED)]
    supports += [Support(joint="L2", base="latch", held="y")] if latched else []
    parts = (Part(key="frame"), Part(key="gate", motion="hinged", axis_at=(0, 0, 0), axis=(0, 0, 1), open_deg=90))
    return Frame.of(joints, runs, supports, parts=parts)


@pytest.mark.outside(*SOLVER, source="second-method")
def test_a_latched_gate_turns_at_its_hinges():
    """Wind on a closed leaf: no moment about the hinge line reaches the post, the latch takes half (statics)."""
    push = JointLoad(joint="L1", force_n=(0, 100, 0)), JointLoad(joint="L2", force_n=(0, 100, 0))
    response = one(gate(latched=True), *push)
    assert response.support_forces[0, 1, 1] == pytest.approx(-200, rel=1e-9)  # both act on the latch's side
    assert response.support_forces[0, 0, 5] == pytest.approx(0.0, abs=1e-6)
    middle = LineLoad(run="high", force_n_per_m=(0, 100, 0)), LineLoad(run="low", force_n_per_m=(0, 100, 0))
    response = one(gate(latched=True), *middle)
    theirs = [-100.0, -100.0]
    assert response.support_forces[0, :, 1] == as_worked(theirs, "N", "wind on a shut leaf, at its sides", rel=1e-9)


def shut_gate():
    """A leaf between two posts that nothing else joins: hung on one, latched to the other."""
    joints = [Joint("F", 0, 0, 0), Joint("H1", 0, 0, 0.4), Joint("H2", 0, 0, 1.2), Joint("T", 0, 0, 1.6)]
    joints += [Joint("G", 1.05, 0, 0), Joint("L", 1.05, 0, 0.8), Joint("U", 1.05, 0, 1.6)]
    joints += [Joint(key, x, 0, z) for key, x, z in (("A1", 0.05, 0.3), ("A2", 0.05, 1.3), ("B1", 1, 0.3))]
    joints += [Joint("B2", 1, 0, 1.3)]
    runs = [
        Run(key="hinge post", member="emt-1", path=("F", "H1", "H2", "T")),
        Run(key="latch post", member="emt-1", path=("G", "L", "U")),
        Run(key="low", member="emt-3/4", path=("A1", "B1"), part="gate"),
        Run(key="high", member="emt-3/4", path=("A2", "B2"), part="gate"),
        Run(key="stile", member="emt-3/4", path=("A1", "A2"), also=("H1", "H2"), part="gate"),
        Run(key="far stile", member="emt-3/4", path=("B1", "B2"), also=("L",), part="gate"),
    ]
    supports = [Support(joint=key, base="sleeve", held=FIXED) for key in ("F", "G")]
    parts = (Part(key="frame"), Part(key="gate", motion="hinged", axis_at=(0, 0, 0), axis=(0, 0, 1), open_deg=90))
    return Frame.of(joints, runs, supports, parts=parts)


@pytest.mark.outside(*SOLVER, source="second-method")
def test_a_shut_gate_does_not_brace_what_it_shuts():
    """Pushed along the wall, the post it latches to bends as a post alone, by beam theory; a weight never reaches it.

    Square to the wall the latch holds: half of a wind on the leaf goes to that post.
    """
    frame = shut_gate()
    response = one(frame, JointLoad(joint="U", force_n=(50.0, 0, 0)))
    theirs = 50.0 * 1.6**3 / (3 * MEMBERS["emt-1"].modulus_pa * MEMBERS["emt-1"].second_moment_mm4 * 1e-12)
    top = response.joint_movements[0, list(response.mesh.joint_keys).index("U"), 0]
    assert top == as_worked(theirs, "m", "sway of the latch post of a shut gate", rel=1e-6)
    feet = [support.joint for support in frame.supports]
    latch, hinge = feet.index("G"), feet.index("F")
    hung = one(frame, JointLoad(joint="B1", force_n=(0, 0, -100.0))).support_forces[0]
    assert hung[latch] == as_worked(np.zeros(6), "N", "what a gate's weight puts on its latch post", abs=1e-6)
    theirs = [100.0, 100.0 * 1.0]  # about the foot of the hinge post, 1 m from the far stile
    assert np.abs(hung[hinge, [2, 4]]) == as_worked(theirs, "N, N m", "what it puts on its hinge post", rel=1e-9)
    blown = [LineLoad(run=key, force_n_per_m=(0, 40.0, 0)) for key in ("low", "high")]
    forces = one(frame, *blown).support_forces[0, :, 1]
    theirs = 40.0 * 2 * 0.95 / 2  # moments about the line of the hinges: its middle is half way to the latch
    assert -forces[latch] == as_worked(theirs, "N", "wind on a shut gate that its latch takes", rel=1e-6)


@pytest.mark.outside(*SOLVER, source="second-method")
def test_a_gate_without_a_latch_is_taken_as_held_at_its_hinges():
    """Statics of the whole: the post's foot takes force and twist."""
    response = one(gate(latched=False), JointLoad(joint="L1", force_n=(0, 100, 0)))
    force, moment = response.support_forces[0, 0, :3], response.support_forces[0, 0, 3:]
    assert force == as_worked([0, -100, 0], "N", "force at the foot of a gate's post", abs=1e-6)
    assert moment == as_worked([0.3 * 100, 0, -100], "N m", "moment there, with twist", abs=1e-6)
