"""Own frames: every bad cell named, every build written out and read again, random frames against PyNiteFEA."""

import dataclasses
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pynite_frames import answers, pynite, random_frame

import gardenframe
from gardenframe import builds
from gardenframe.builds import own_frame_clear, own_frame_tables
from gardenframe.builds.own_frame import AS_WRITTEN, OwnFrame
from gardenframe.builds.own_frame_examples import BENCH, SCREEN, STAND
from gardenframe.builds.own_frame_read import OwnTableError
from gardenframe.errors import FrameError, GardenframeError, InputError
from gardenframe.strength.stiffness import solve

JOINTS, RUNS, COVERS = (SCREEN[key] for key in ("joints", "runs", "coverings"))


def edited(text, old, new):
    """Return a table with one thing changed in it, once."""
    assert old in text
    return text.replace(old, new, 1)


# --- an example by hand


def test_the_screen_by_hand():
    """Three posts of 1.5 m and two rails of 2.4 m, clamp-on: elbows 22 mm from the centre, posts pass at the low rail.

    The low rail ends at the outer posts (set-back 22 mm) and crosses the middle one, which passes: cut there, two
    pieces of 1200 - 2 x 22 = 1156 mm. The top rail passes over the middle post: 2400 - 2 x 22 = 2356 mm. The outer
    posts end in elbows: 1500 - 22; the middle one under a tee: 1500 - 22 mm.
    """
    plan = gardenframe.plan(OwnFrame())
    cut = {(row.role, round(row.length_mm)): row.count for row in plan.pieces.itertuples()}
    assert cut == {("post", 1478): 3, ("rail", 1156): 2, ("rail", 2356): 1}
    assert sorted(plan.fittings["fitting"]) == ["cross", "elbow", "elbow", "tee", "tee", "tee"]
    assert plan.coverings["area_m2"].tolist() == pytest.approx([2.4 * 1.25])
    assert {s.joint for s in plan.frame.supports} == {"a0", "b0", "c0"}


@pytest.mark.parametrize(
    ("corners", "said"),
    [
        ("a b c", "no two of its runs lie across from each other. Lay a run along"),
        ("a c b d", "its outline encloses no area."),
    ],
)
def test_a_covering_that_nothing_carries_is_said_by_its_line(corners, said):
    """Two posts and a rail: a triangle has no two tubes across from each other, a bow of crossed sides no area."""
    joints = "joint,x_m,y_m,z_m\na,0,0,0\nb,0,0,2\nc,1,0,2\nd,1,0,0\n"
    runs = "run,member,path\nleft,1 in,a b\nright,1 in,d c\nrail,1 in,b c\n"
    with pytest.raises(OwnTableError, match=f"^Coverings, line 2, panel net: {said}") as caught:
        OwnFrame(joints=joints, runs=runs, coverings=f"panel,corners,covering\nnet,{corners},trellis-net-150")
    assert caught.value.field == "coverings"


@pytest.mark.parametrize(("base", "feet", "driven"), [("foot", "stake", True), ("stake", "foot", False)])
def test_what_is_driven_is_what_the_table_of_feet_says(base, feet, driven):
    """A bar driven into the ground is warned of where the table names it, and only there."""
    table = "joint,base\n" + "\n".join(f"{joint},{feet}" for joint in ("a0", "b0", "c0"))
    assert ("stakes" in OwnFrame(base=base, feet=table).cautions()) == driven


@pytest.mark.parametrize("base", ["stake", "foot"])
def test_a_frame_stands_after_what_holds_it_is_in_the_ground(base):
    """Bars are driven before the frame goes over them; on levelling feet nothing is driven or said of soil."""
    plan = gardenframe.plan(OwnFrame(base=base), live=True)
    said = plan.steps["step"].tolist()
    stood = next(i for i, step in enumerate(said) if "stand it with two people" in step)
    driven = [i for i, step in enumerate(said) if "drive one at each, 0.60 m" in step]
    assert driven == ([stood - 1] if base == "stake" else [])
    told = {caution.key for caution in plan.caution_rows}
    assert ("stake-wet" in told) == (base == "stake")
    assert "ladder" not in told  # it is 1.5 m high
    assert any("sledge" in tool for tool in plan.steps["tool"]) == (base == "stake")


def test_a_hoop_by_hand():
    """The stand's hoop: two legs and a top with two bends of 115 mm: 800 + 500 + 800 - 4 x 115 + pi x 115 mm."""
    plan = gardenframe.plan(OwnFrame(**STAND))
    hoop = plan.pieces[plan.pieces["role"] == "hoop"]
    assert hoop["length_mm"].tolist() == pytest.approx([2100 - 4 * 115 + math.pi * 115], abs=1e-6)
    assert hoop["count"].sum() == 2


@pytest.mark.parametrize("name", OwnFrame.examples)
@pytest.mark.parametrize("joining", ["clamp-on", "slip-on", "bolted"])
def test_every_example_is_a_whole_plan_however_it_is_joined(name, joining):
    """Fittings, pieces, cutting, strength, bill: the sums agree and everything is there."""
    plan = gardenframe.plan(OwnFrame(**{**OwnFrame.examples[name], "joining": joining}), live=True)
    assert plan.bill["cost"].sum() == pytest.approx(plan.cost.usual)
    assert len(plan.checks) > 4
    assert len(plan.cautions) > 5
    assert not plan.warnings
    needed = sum(p.count * p.cut for p in plan.cut)
    assert needed == sum(k * n * t for c in plan.cutting.values() for _, rows, t in c.patterns for k, n in rows.items())
    assert all(plan.frame.contacts[s.joint] for s in plan.frame.supports)


def test_what_stands_on_a_shelf_is_carried_to_the_ground():
    """Four shelf rails of 25 kg each: the feet carry 100 kg more."""
    name = next(n for n in OwnFrame.examples if n.startswith("Potting"))
    build = OwnFrame(**OwnFrame.examples[name])
    plan = gardenframe.plan(build, live=True)
    loads = plan.loads.set_index("case")
    assert loads.loc["G", "z_n"] == pytest.approx(-4 * 25 * 9.80665, rel=1e-3)
    assert gardenframe.plan(build.changed(load_kg=0.0), live=True).loads["case"].tolist().count("G") == 0


# --- what the further columns of the runs table say, however it is laid

FURTHER = "run,member,path,also,splices,offset_x_m,offset_y_m,offset_z_m"
POSTS = (
    f"{FURTHER}\nleft,1 in,a0 a2,none,none,0,0,0\nmiddle,1 in,b0 b2,none,none,0,0,0\n"
    "right,1 in,c0 c2,none,none,0,0,0\ntop,1 in,a2 c2,none,none,0,0,0\n"
)
MORE = ["l1,-0.1,0,0.25", "r1,2.5,0,0.25", "m1,0.3,0,0.25", "q,1.8,0.04,0.25", "w,1.8,0.04,1.2"]
PROP = "\nprop,1 in,q w,none,none,0,0,0"


def planned(rail, joining="clamp-on"):
    """Return the plan of the screen's posts and top rail with the low rail and what more these rows say."""
    more = [row for row in MORE if row.split(",")[0] in rail.replace(",", " ").split()]
    build = OwnFrame(joints="\n".join([JOINTS, *more]), runs=POSTS + rail, coverings="", joining=joining)
    return gardenframe.plan(build, live=True)


@pytest.mark.parametrize("joining", ["clamp-on", "bolted"])
def test_a_straight_row_with_an_offset_lies_beside_its_joints(joining):
    """A rail 40 mm in front of three posts, on past the outer ones: one tube of 2600 mm at three couplers or bolts."""
    plan = planned("low,1 in,l1 r1,none,none,0,-0.04,0", joining)
    assert plan.frame.runs["low"].offset_m == (0.0, -0.04, 0.0)
    assert plan.frame.runs["low"].path == ("l1", "a1", "b1", "c1", "r1")
    at = plan.fittings.set_index("joint")["fitting"]
    assert [at[key] for key in ("a1", "b1", "c1")] == [
        {"clamp-on": "right-angle coupler", "bolted": "through bolt"}[joining]
    ] * 3
    assert 2600.0 in plan.pieces["length_mm"].round(6).tolist()


def test_a_coupling_is_put_where_the_row_asks():
    """The low rail is cut at the middle post: its left part is coupled 300 mm from its start (1 mm each: the stop)."""
    plan = planned("low,1 in,a1 c1,none,m1,0,0,0")
    assert plan.frame.runs["low.1"].splices == ("m1",)
    assert plan.frame.runs["low.2"].splices == ()
    assert plan.fittings.set_index("joint").loc["m1", "fitting"] == "coupling"
    rails = sorted(plan.pieces.loc[plan.pieces["role"] == "rail", "length_mm"])
    assert rails == pytest.approx([300 - 22 - 1, 900 - 22 - 1, 1156, 2356])


@pytest.mark.parametrize(
    ("rail", "sentence"),
    [
        ("low,1 in,a1 c1,none,b1,0,0,0", r"Runs, line 6, run low\.1: a coupling is asked for at joint b1, which it"),
        ("low,1 in,a1 c1,none,a1,0,0,0", r"Runs, line 6, run low\.1: a coupling is asked for at joint a1, which it"),
        ("low,1 in,a1 b1,none,a2,0,0,0", r"Runs, line 6, column splices: got 'a2', needs joints that the run goes"),
        ("low,1 in,a1 c1,none,none,0,-0.04,0", r"line 6, run low: it ends at joint a1, 40 mm beside the axis of run l"),
        (f"low,1 in,a1 c1,q,none,0,0,0{PROP}", r"run prop: it ends at joint q, 40 mm beside the axis of run low\.2"),
        (f"low,1 in,a1 c1,w,none,0,0,0{PROP}", r"joint w: it lies 951 mm off the axis of run low\.2"),
    ],
)  # fmt: skip
def test_what_a_further_column_asks_and_cannot_be_is_said(rail, sentence):
    """A coupling at a cut, at an end, off the run; an end in a fitting beside the axis; a joint far off its run."""
    with pytest.raises(OwnTableError, match=sentence):
        planned(rail)


def test_no_coupling_where_another_tube_meets():
    """Over the middle post the top rail passes in a tee: the same joint has no room for a coupling."""
    runs = POSTS.replace("top,1 in,a2 c2,none,none", "top,1 in,a2 c2,none,b2")
    with pytest.raises(OwnTableError, match=r"Runs, line 5, run top: .* at joint b2, where it also meets run middle"):
        OwnFrame(runs=runs + "low,1 in,a1 c1,none,none,0,0,0", coverings="")


# --- tubes and fittings that would take the same room

BOX = "joint,x_m,y_m,z_m\na,0,0,0\nb,1,0,0\nc,0,0,1\nd,1,0,1\ne,0,0,0.2\nf,1,0,0.8\ng,0,0,0.8\nh,1,0,0.2"
SIDES = "run,member,path,offset_y_m\nl,1 in,a c,0\nr,1 in,b d,0\nt,1 in,c d,0\n"


@pytest.mark.parametrize("joining", ["clamp-on", "slip-on", "bolted"])
def test_braces_that_cross_in_the_air_are_refused_by_their_line(joining):
    """Two diagonals of one square without a joint where they cross: 0.50 m along and up, worked from their ends."""
    runs = SIDES + "x1,1 in,e f,0\nx2,1 in,g h,0"
    with pytest.raises(
        OwnTableError, match=r"^Runs, line 6, run x2: it passes through run x1 at x 0\.50, y .*z 0\.50 m"
    ):
        OwnFrame(joints=BOX, runs=runs, coverings="", joining=joining)


@pytest.mark.parametrize(("apart_m", "clear"), [(0.028, True), (0.026, False)])
def test_tubes_pass_where_they_are_thick_apart(apart_m, clear):
    """1 in tube is 29.54 mm thick: one that lies 28 mm in front of another touches it, 26 mm is in it."""
    joints = "joint,x_m,y_m,z_m\na,0,0,0\nc,0,0,1\n" + f"m,-0.5,{apart_m},0.5\nn,0.5,{apart_m},0.5"
    tables = {"joints": joints, "runs": "run,member,path\nl,1 in,a c\nx,1 in,m n", "coverings": ""}
    if clear:
        assert OwnFrame(**tables).runs
        return
    with pytest.raises(OwnTableError, match=r"Runs, line 3, run x: it passes through run l at x 0\.00"):
        OwnFrame(**tables)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.floats(-1, 1), min_size=12, max_size=12))
def test_how_near_two_tubes_come_as_a_search_finds_it(at):
    """Any two stretches against a search over both by a library."""
    p, q, u, v = (np.array([at[3 * i : 3 * i + 3]]) for i in range(4))
    if min(np.linalg.norm(q - p), np.linalg.norm(v - u)) < 0.05:
        return
    along = np.linspace(0, 1, 201)
    grid = np.linalg.norm((p + along[:, None] * (q - p))[:, None] - (u + along[:, None] * (v - u)), axis=2)
    ours = own_frame_clear._nearest(p, q, u, v)[0][0]
    assert ours <= grid.min() + 1e-9
    assert ours >= grid.min() - 0.02


def test_fittings_that_would_touch_are_said():
    """Rails 30 mm apart at a post's top: a tee of 22 mm and an elbow of 22 and its socket of 30 take 74 mm."""
    joints = "joint,x_m,y_m,z_m\na,0,0,0\nb,0,0,1\nb2,0,0,1.03\nc,1,0,1\nc2,1,0,1.03\nd,1,0,0"
    runs = "run,member,path\np,1 in,a b2\nr,1 in,b c\nr2,1 in,b2 c2\ns,1 in,d c2"
    said = "On run p the fittings at joints b and b2 stand 30 mm apart and take 74 mm"
    plans = [OwnFrame(joints=table, runs=runs, coverings="") for table in (joints, joints.replace("1.03", "1.08"))]
    near, wide = (gardenframe.plan(build, live=True).warnings for build in plans)
    assert any(sentence.startswith(said) for sentence in near)
    assert not any("fittings at joints" in sentence for sentence in wide)


def test_bolted_rails_of_two_directions_pass_under_one_another():
    """At a corner of the bench both rails go 30 mm past their bolts: a tube thick apart, wherever they are."""
    frame = OwnFrame(**BENCH, joining="bolted").frame(gardenframe.Shop())
    front, left = (frame.lines[key] for key in ("top front", "top left"))
    ends = []
    for line in (front, left):
        a, b = np.array(line.point(0.0)), np.array(line.point(line.length_m))
        past = 0.030 * (b - a) / np.linalg.norm(b - a)
        ends.append((np.array([a - past]), np.array([b + past])))
    apart = own_frame_clear._nearest(*ends[0], *ends[1])[0][0]
    assert apart == pytest.approx(gardenframe.Shop().member("emt-1").outer_mm / 1000, abs=1e-9)


# --- bad cells

BAD = [
    (
        "joints",
        lambda: edited(JOINTS, "a1,0,0,0.25", "a1,0,0,low"),
        r"Joints, line 3, column z_m: got 'low', needs a number",
    ),
    (
        "joints",
        lambda: edited(JOINTS, "a1,0,0,0.25", "a1,0,0,"),
        r"Joints, line 3, column z_m: got nothing, needs a number",
    ),
    ("joints", lambda: edited(JOINTS, "a1,0,0,0.25", 'a1,0,0,"0,25"'), r"line 3, column z_m: .*Write a dot"),
    ("joints", lambda: edited(JOINTS, "a1,0,0,0.25", "a1,0,0"), r"Joints, line 3: got 3 cells, needs 4 cells"),
    ("joints", lambda: edited(JOINTS, "a1,0,0,0.25", "a1,0,0,25"), r"Joints, line 3, column z_m: got '25', needs .*8"),
    ("joints", lambda: edited(JOINTS, "a1,", "a 1,"), r"Joints, line 3, column joint: got 'a 1', needs one word"),
    ("joints", lambda: edited(JOINTS, "a1,", "a0,"), r"Joints, line 3, column joint: got .*a0.*needs each used once"),
    (
        "joints",
        lambda: edited(JOINTS, "a1,0,0,0.25", "a1,0,0,0.0005"),
        r"line 3, column joint: got 'a1', needs a place at least 2 mm from joint a0",
    ),
    ("joints", lambda: edited(JOINTS, "a1,", "=a1,"), r"Joints, line 3, column joint: .*spreadsheet command"),
    ("joints", lambda: edited(JOINTS, "x_m", "x"), r"Joints, line 1, column x_m: got no such column"),
    (
        "joints",
        lambda: edited(JOINTS, "joint,x_m,y_m,z_m", "joint;x_m;y_m;z_m"),
        r"Joints, line 1: got cells separated by semicolons",
    ),
    (
        "joints",
        lambda: JOINTS + "\nspare,5,5,1",
        r"Joints, line 11, column joint: got 'spare', needs a joint that a run",
    ),
    ("joints", lambda: "joint,x_m,y_m,z_m\n", r"Joints: got 'joint,x_m,y_m,z_m', needs a table"),
    ("joints", lambda: "", r"Joints: got nothing, needs a row of headings"),
    ("joints", lambda: "my_joints.csv", r"Joints: got 'my_joints.csv', needs a table of .* or the name of a CSV file"),
    ("joints", lambda: JOINTS + '\n"open,1,2,3', r"Joints, line 11: .*opens with a quote must close"),
    (
        "joints",
        lambda: edited(JOINTS, "a1,0,0,0.25", "a1,0,0,nan"),
        r"Joints, line 3, column z_m: got 'nan', needs a number",
    ),
    (
        "runs",
        lambda: edited(RUNS, "a0 a2", "a0 a9"),
        r"Runs, line 2, column path: got 'a9', needs joints of the joints table",
    ),
    ("runs", lambda: edited(RUNS, "a0 a2", "a0"), r"Runs, line 2, column path: got 'a0', needs two joints or more"),
    ("runs", lambda: edited(RUNS, "a0 a2", "a0 a0"), r"Runs, line 2, column path: got 'a0 a0', needs each joint once"),
    (
        "runs",
        lambda: edited(RUNS, "a1 c1", "a1 b2 c1"),
        r"Runs, line 5, column path: .*straight line through b2.*bend_radius_m",
    ),
    (
        "runs",
        lambda: edited(RUNS, "1 in,a0", "7 in,a0"),
        r"Runs, line 2, column member: got '7 in', needs a size there is in EMT",
    ),
    ("runs", lambda: edited(RUNS, "1 in,a0", ",a0"), r"Runs, line 2, column member: got nothing"),
    (
        "runs",
        lambda: edited(RUNS, "middle post", "left post"),
        r"Runs, line 3, column run: got 'left post', needs each used once",
    ),
    (
        "runs",
        lambda: edited(RUNS, "run,member,path", "run,member,path,colour"),
        r"Runs, line 1, column colour: got an extra column",
    ),
    (
        "runs",
        lambda: edited(RUNS, "run,member,path", "run,tube,path"),
        r"Runs, line 1, column member: got no such column",
    ),
    (
        "coverings",
        lambda: edited(COVERS, "a1 c1 c2 a2", "a1 c1"),
        r"Coverings, line 2, column corners: .*three different joints",
    ),
    (
        "coverings",
        lambda: edited(COVERS, "a1 c1 c2 a2", "a1 b1 c1"),
        r"Coverings, line 2, column corners: .*not in one line",
    ),
    ("coverings", lambda: edited(COVERS, "a1 c1 c2 a2", "a1 c1 x2 a2"), r"Coverings, line 2, column corners: got 'x2'"),
    (
        "coverings",
        lambda: edited(COVERS, "trellis-net-150", "lace"),
        r"Coverings, line 2, column covering: got 'lace', needs one of",
    ),
    (
        "coverings",
        lambda: edited(COVERS, "sweet-pea", "oak"),
        r"Coverings, line 2, column plant: got 'oak', needs one of",
    ),
    (
        "feet",
        lambda: "joint,base\nz9,stake",
        r"Feet, line 2, column joint: got 'z9', needs a joint of the joints table",
    ),
    ("feet", lambda: "joint,base\na0,pegs", r"Feet, line 2, column base: got 'pegs', needs one of"),
    (
        "feet",
        lambda: "joint,base,held\na0,stake,xq",
        r"Feet, line 2, column held: got 'xq', needs letters of x y z X Y Z",
    ),
]


@pytest.mark.parametrize(("table", "text", "sentence"), BAD, ids=range(len(BAD)))
def test_each_bad_cell_is_named_in_one_sentence(table, text, sentence):
    """Table, line, column, what came, what is needed; the sentence belongs to the box of that table."""
    with pytest.raises(OwnTableError, match=sentence) as caught:
        OwnFrame(**{table: text()})
    assert caught.value.field == table
    assert "\n" not in str(caught.value)


def test_a_bend_that_does_not_fit_is_laid_at_the_door_of_its_run():
    """A radius of 0.6 m at the corners of a hoop 0.5 m wide: the line of the run, what is free, what to do."""
    with pytest.raises(OwnTableError, match=r"Runs, line 2, .*front hoop: a bend of 90 deg .* Use a smaller radius"):
        OwnFrame(**STAND | {"runs": edited(STAND["runs"], "0.115", "0.6")})


@pytest.mark.parametrize(
    ("runs", "sentence"),
    [
        (RUNS + "\nbrace,1 in,a1 b2", r"joint .*: .*no clamp-on fitting .* serves"),
        (
            edited(RUNS, "low rail,1 in", "low rail,3/4 in"),
            r"joint .*: .*no clamp-on fitting in EMT 1 in and EMT 3/4 in serves",
        ),
    ],
)
def test_a_joint_that_no_fitting_serves_is_a_sentence_of_the_road(runs, sentence):
    """The tables are sound; what cannot be bought names its joint."""
    with pytest.raises(FrameError, match=sentence):
        _ = gardenframe.plan(OwnFrame(runs=runs, coverings="")).fitted


def test_a_frame_that_falls_over_is_a_sentence():
    """One post on nothing that holds it from turning: a mechanism, named."""
    build = OwnFrame(joints="joint,x_m,y_m,z_m\na,0,0,0\nb,0,0,1", runs="run,member,path\npost,1 in,a b",
                     coverings="", feet="joint,base\na,foot")  # fmt: skip
    with pytest.raises(GardenframeError, match="this frame can sway at joint b"):
        _ = gardenframe.plan(build, live=True).checks


@settings(max_examples=40, deadline=None)
@given(st.data())
def test_any_broken_table_is_a_frame_or_one_sentence(data):
    """Cells of the screen's tables exchanged, dropped, doubled or filled with anything: never a crash."""
    key = data.draw(st.sampled_from(["joints", "runs", "coverings"]))
    lines = [line.split(",") for line in SCREEN[key].splitlines()]
    for _ in range(data.draw(st.integers(1, 3))):
        row = data.draw(st.integers(0, len(lines) - 1))
        cell = data.draw(st.integers(0, max(len(lines[row]) - 1, 0)))
        junk = st.sampled_from(
            ["", "none", "-1", "1e9", "0", "a0", "a0 b2", "½", '"', "x,y", "=1", "c1 a1 b2", "nan", "1 in"]
        )
        lines[row][cell : cell + 1] = [data.draw(junk | st.text(max_size=6))]
    text = "\n".join(",".join(line) for line in lines)
    try:
        plan = gardenframe.plan(OwnFrame(**{key: text}), live=True)
        assert plan.cost.usual > 0
    except GardenframeError:
        return


# --- out and in again


@pytest.mark.parametrize("key", builds.ALL)
def test_any_build_is_written_out_and_read_again(key):
    """Its fixed parts have the same pieces, cut as long; without moving parts the sticks cost the same."""
    plan = gardenframe.plan(builds.ALL[key](), live=True)
    again = gardenframe.plan(OwnFrame.of_plan(plan), live=True)
    moving = {part.key for part in plan.frame.parts if part.motion != "fixed"}
    runs = {key for key, run in plan.frame.runs.items() if run.part not in moving}
    assert set(again.frame.runs) == runs
    for run in runs:
        assert again.frame.lines[run].length_m == pytest.approx(plan.frame.lines[run].length_m, abs=1e-12)
    if not moving:
        pieces = [sorted((p.member, p.cut, p.count) for p in each.cut if not p.loose) for each in (plan, again)]
        assert pieces[0] == pieces[1]
        keys = [sorted(f.key for f in each.fitted if f.key) for each in (plan, again)]
        assert keys[0] == keys[1]


@pytest.mark.parametrize(("key", "name"), [(key, name) for key, kind in builds.ALL.items() for name in kind.examples])
def test_every_example_of_the_other_workbooks_is_offered_as_tables(key, name):
    """Whatever the list offers can be taken: a covering whose tubes stay behind is left out, the runs are there."""
    kind = builds.ALL[key]
    frame = kind(**kind.examples[name]).frame(gardenframe.Shop())
    build = OwnFrame.of_plan(dataclasses.make_dataclass("Planned", ["frame"])(frame))
    fixed = {part.key for part in frame.parts if part.motion == "fixed"}
    assert {row["run"] for row in build.read.runs} == {k for k, run in frame.runs.items() if run.part in fixed}


def test_files_are_written_and_read_by_name(tmp_path, monkeypatch):
    """Each table a file beside the workbooks; a file's name in a box stands for its table; edits count."""
    plan = gardenframe.plan(builds.Trellis(), live=True)
    places = own_frame_tables.write(plan.frame, tmp_path, "beans")
    assert [p.name for p in places] == ["beans_joints.csv", "beans_runs.csv", "beans_feet.csv", "beans_coverings.csv"]
    monkeypatch.chdir(tmp_path)
    names = {key: f"beans_{key}.csv" for key in ("joints", "runs", "feet", "coverings")}
    build = OwnFrame(**names, laid=AS_WRITTEN)
    assert build == OwnFrame.of_plan(plan).changed(laid=AS_WRITTEN)
    places[1].write_text(places[1].read_text().replace("emt-1,", "emt-3/4,"))
    assert {p.member for p in gardenframe.plan(OwnFrame(**names, laid=AS_WRITTEN), live=True).cut} == {"emt-3/4"}


# --- strength


@pytest.mark.parametrize("seed", range(300, 306))
def test_random_frames_through_the_tables_agree_with_pynite(seed):
    """A random frame written out, read back as an own frame and solved: movements and reactions as PyNiteFEA has."""
    frame, _, cases = random_frame(seed)
    build = OwnFrame.of_plan(dataclasses.make_dataclass("Planned", ["frame"])(frame))
    read = build.frame(gardenframe.Shop())
    assert list(read.joints) == list(frame.joints)
    response = solve(read, cases)
    model = pynite(frame, {}, cases)
    model.analyze_linear(check_stability=False)
    for ours, theirs in zip(
        (response.joint_movements, response.support_forces), answers(model, frame, cases), strict=True
    ):
        for kind in (slice(0, 3), slice(3, 6)):
            assert np.abs(ours[..., kind] - theirs[..., kind]).max() <= 1e-6 * max(
                np.abs(theirs[..., kind]).max(), 1e-6
            )


def test_the_choice_of_one_tube_and_the_comparison_work_for_own_frames():
    """One size for every tube; the same frame in pipe and timber beside it."""
    from gardenframe.studies import compare

    plan = gardenframe.plan(OwnFrame(tube="emt-3/4"), live=True)
    assert {p.member for p in plan.cut} == {"emt-3/4"}
    found = {one.label: one for one in compare.compare(plan, [compare.SIZES, compare.SCREWED])}
    assert found["EMT 1 in"].cost.usual > found["as it is"].cost.usual
    assert {p.member for p in found["timber 2x4 in, screws"].plan.cut} == {"timber-2x4"}


def test_a_field_that_is_not_a_table_is_checked_as_everywhere():
    """Limits and choices."""
    with pytest.raises(InputError, match="Driven depth"):
        OwnFrame(buried_m=3.0)
