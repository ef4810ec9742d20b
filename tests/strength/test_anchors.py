"""What holds a whole build: by statics by hand, by equilibrium, and what must be true whatever the numbers."""

import math

import numpy as np
import pytest
from frames_for_tests import hoop_house
from hypothesis import given, settings
from hypothesis import strategies as st
from printed import as_worked

import gardenframe
from gardenframe.builds import Trellis
from gardenframe.errors import InputError
from gardenframe.geometry.frame import Frame, Joint, Run, Support
from gardenframe.geometry.scene import Body
from gardenframe.materials.members import load_members
from gardenframe.materials.site import Site
from gardenframe.strength.anchors import anchors
from gardenframe.strength.cases import Case, Combination, JointLoad, LineLoad, PointLoad, self_weight
from gardenframe.strength.overturning import Edges, wrenches
from gardenframe.strength.stiffness import solve

MEMBERS = load_members()
SITE = Site(soil="sand")
FIXED = "xyzXYZ"


def post(base, held=FIXED, below_m=0.0, bodies=()):
    """Return a post 2 m high on one base, with its top at T; below ground where asked."""
    joints = [Joint("A", 0, 0, -below_m), Joint("T", 0, 0, 2)]
    run = Run(key="post", member="emt-1", path=("A", "T"), role="post")
    return Frame.of(joints, [run], [Support(joint="A", base=base, held=held)], bodies=bodies)


def table(base, held="xyz", wide_m=1.2, deep_m=0.8, bodies=(), soil_m=0.0):
    """Return a stand on four legs 1 m high, its top a ring of tubes, fixed at its corners."""
    spots = {"A": (0, 0), "B": (wide_m, 0), "C": (wide_m, deep_m), "D": (0, deep_m)}
    joints = [Joint(k, x, y, 0) for k, (x, y) in spots.items()]
    joints += [Joint(k + "t", x, y, 1) for k, (x, y) in spots.items()]
    runs = [Run(key=f"leg {k}", member="emt-1", path=(k, k + "t"), role="leg") for k in spots]
    runs += [Run(key=f"{a}{b}", member="emt-1", path=(a + "t", b + "t")) for a, b in ("AB", "BC", "CD", "DA")]
    supports = [Support(joint=k, base=base, held=held) for k in spots]
    return Frame.of(joints, runs, supports, bodies=bodies, soil_m=soil_m)


def found(frame, cases, combinations, **rest):
    """Return the anchors of a frame, first order."""
    response = solve(frame, cases, combinations, members=MEMBERS)
    return anchors(response, frame, rest.pop("site", SITE), MEMBERS, combinations, **rest)


def row_of(result, kind, **said):
    """Return the worst row of a kind with these words."""
    rows = [r for r in result.every_row if r.kind == kind and all(v in getattr(r, k) for k, v in said.items())]
    return max(rows, key=lambda r: r.ratio)


def top_load(*force, joint="T", key="W+x"):
    """Return a case of one force on a joint."""
    return Case(key=key, loads=(JointLoad(joint=joint, force_n=force),))


def on_legs(key, *force):
    """Return a case of one force on the top of each leg of a table."""
    return Case(key=key, loads=tuple(PointLoad(run=f"leg {k}", station_m=1.0, force_n=force) for k in "ABCD"))


def test_a_post_in_the_ground_by_the_code_formula():
    """60 N at 2 m on a post 0.6 m in sand: P d + 1.09 P h over twice 150 psf/ft, b and d³ over 7.02."""
    one = found(post("embedded"), [top_load(60, 0, 0)], [Combination(key="W", factors={"W+x": 1.0})])
    row = row_of(one, "soil")
    lateral = 150 * 47.880259 / 0.3048
    assert row.demand == pytest.approx(60 * 0.6 + 1.09 * 60 * 2, rel=1e-6)
    assert row.capacity == pytest.approx(2 * lateral * MEMBERS["emt-1"].outer_mm / 1000 * 0.6**3 / 7.02, rel=1e-6)
    lasting = found(post("embedded"), [top_load(60, 0, 0, key="D")], [Combination(key="D", factors={"D": 1.0})])
    assert row_of(lasting, "soil").capacity == pytest.approx(row.capacity / 2)


def test_depth_below_the_ground_is_read_from_the_frame():
    """A sleeve held at its end and at the ground gives the same force and moment as one held at the ground."""
    joints = [Joint("E", 0, 0, -0.45), Joint("G", 0, 0, 0), Joint("T", 0, 0, 2)]
    run = Run(key="post", member="emt-1", path=("E", "G", "T"), role="post")
    held = [Support(joint="E", base="sleeve", held="xyz"), Support(joint="G", base="sleeve top", held="xyZ")]
    frame = Frame.of(joints, [run], held)
    one = found(frame, [top_load(60, 80, 0)], [Combination(key="W", factors={"W+x": 1.0})])
    assert len(one.feet) == 1
    assert one.feet[0].depth_m == pytest.approx(0.45)
    row = row_of(one, "driven")
    assert row.demand == pytest.approx(100 * 0.45 + 1.09 * 100 * 2, rel=1e-6)
    sure = 4448 * 0.5 / 3  # of the published stake, in sand no less than in lawn
    wide = MEMBERS["emt-1"].outer_mm / 25.4
    assert row.capacity == pytest.approx(sure * 0.9144 * wide * (0.45 / 0.9144) ** 3, rel=1e-6)


@pytest.mark.outside("strength.anchors", "strength.overturning", source="second-method")
def test_a_table_tips_over_its_edge_by_hand():
    """200 N at the top towards the right and 300 N of weight in the middle: 200 x 1 against 300 x 0.6 and ballast."""
    frame = table("ballast")
    weight = on_legs("D", 0, 0, -75.0)
    wind = on_legs("W+x", 50.0, 0, 0)
    together = [Combination(key="0.6 D + W", factors={"D": 0.6, "W+x": 1.0})]
    one = found(frame, [weight, wind], together, options={"ballast": {"ballast_kg": 10}})
    row = row_of(one, "overturning", where="right")
    assert row.demand == as_worked(200 * 1.0, "N m", "200 N one metre up tips a table", rel=1e-6)
    worked = 0.6 * 300 * 0.6 + 2 * 0.6 * 10 * 9.81 * 1.2
    assert row.capacity == as_worked(worked, "N m", "0.6 of its weight and of 10 kg on a foot hold it", rel=1e-6)
    slide = row_of(one, "whole sliding")
    assert slide.demand == as_worked(200, "N", "200 N push it along", rel=1e-6)
    worked = 0.25 * (0.6 * 300 + 4 * 0.6 * 10 * 9.81)
    assert slide.capacity == as_worked(worked, "N", "friction of 0.25 on both holds it", rel=1e-6)


@pytest.mark.outside("strength.anchors", "strength.footing", source="second-method")
def test_uplift_of_stakes_by_hand():
    """A pull of 500 N up, less 0.6 of 100 N, on four stakes: the published pull by surface, wet, a third."""
    frame = table("stake")
    down, up = on_legs("D", 0, 0, -25.0), on_legs("W up", 0, 0, 125.0)
    one = found(frame, [down, up], [Combination(key="c", factors={"D": 0.6, "W up": 1.0})])
    held = 4448 * 0.45 * 0.012 / (0.9144 * 0.0254) * 0.5 / 3
    foot, whole = row_of(one, "uplift"), row_of(one, "whole uplift")
    assert foot.demand == as_worked(125 - 0.6 * 25, "N", "lift of one of four stakes", rel=1e-6)
    assert foot.capacity == as_worked(held, "N", "the published stake by surface, wet, the worst of three", rel=1e-6)
    assert whole.demand == as_worked(500, "N", "lift of the whole", rel=1e-6)
    assert whole.capacity == as_worked(0.6 * 100 + 4 * held, "N", "0.6 of its weight and four stakes", rel=1e-6)
    tested = found(frame, [down, up], [Combination(key="c", factors={"D": 0.6, "W up": 1.0})],
                   options={"stake": {"tested_n": 900}})  # fmt: skip
    assert row_of(tested, "uplift").capacity == pytest.approx(900 * 0.5 / 1.5)
    assert any("pull one with a scale" in text for text in one.cautions)
    assert not any("pull one with a scale" in text for text in tested.cautions)


@pytest.mark.outside("strength.anchors", "strength.overturning", source="second-method")
def test_a_bed_with_a_bottom_holds_by_its_weight():
    """Open, only friction on the boards and the boards lift; with a bottom, 0.6 of the soil over its back edge."""
    bed = Body(kind="bed", low=(-0.1, -0.1, 0.0), high=(1.3, 0.9, 0.3))
    frame = table("strap", bodies=(bed,))
    wind = [top_load(0, 100, 0, joint="At", key="W+y")]
    case = [Combination(key="W", factors={"W+y": 1.0})]
    open_, bottom = (
        row_of(found(frame, wind, case, bed=how), "overturning", where="back") for how in ("open", "bottom")
    )
    boards = 480 * 0.038 * 0.3 * 9.81 * 0.6 * (1.4 * 1.0 + 2 * 1.0 * 0.5)
    soil = 0.6 * 1200 * 9.81 * 1.4 * 1.0 * 0.3 * 0.5
    assert bottom.capacity == as_worked(boards + soil, "N m", "0.6 of boards and soil over their edge", rel=1e-6)
    k0 = 1 - math.sin(math.radians(30))
    wall = 0.6 * 1200 * 9.81 * 0.3**2 / 2 * k0 * math.tan(math.radians(20)) * (1.4 + 1.0)
    assert open_.capacity == as_worked(boards + wall, "N m", "0.6 of boards and of the soil's grip", rel=1e-6)
    assert open_.demand == bottom.demand == pytest.approx(100)
    lifted = row_of(found(frame, wind, case, bed="bottom"), "whole uplift").capacity
    assert lifted == pytest.approx(0.6 * 9.81 * 0.3 * (480 * 0.038 * 2 * (1.4 + 1.0) + 1200 * 1.4 * 1.0), rel=1e-6)


def test_side_pull_of_a_strap_goes_to_its_screws():
    """A strap at the foot of a leaning stand: 300 N sideways on two screws of the table, wind for a short time."""
    one = found(post("strap"), [top_load(300, 0, 0)], [Combination(key="W", factors={"W+x": 1.0})])
    row = row_of(one, "screws")
    assert row.demand == pytest.approx(300)
    lasting = found(post("strap"), [top_load(300, 0, 0, key="D")], [Combination(key="D", factors={"D": 1.0})])
    assert row.capacity / row_of(lasting, "screws").capacity == pytest.approx(1.6 / 0.9)
    assert any("held against turning" in text for text in one.unchecked)


numbers = st.tuples(*[st.floats(-300, 300)] * 3)


@settings(max_examples=12, deadline=None)
@given(numbers, numbers, numbers, st.floats(0, 1), st.tuples(*[st.floats(-50, 50)] * 3))
def test_reactions_balance_all_that_is_applied(a, b, c, share, turn):
    """Loads of every kind, on straight and bent runs: what is applied and what the supports give cancel."""
    frame = hoop_house(hoops=3, held=FIXED)
    run = next(iter(frame.runs))
    straight = next(k for k, line in frame.lines.items() if line.straight)
    joint = next(iter(frame.joints))
    long_m = frame.lines[run].length_m
    cases = [
        Case(key="D", loads=(*self_weight(frame, {k: m.mass_kg_per_m for k, m in MEMBERS.items()}).loads,)),
        Case(key="W+x", loads=(
            LineLoad(run=run, force_n_per_m=a, to_n_per_m=b, from_m=0.1, to_m=long_m * 0.8),
            PointLoad(run=straight, station_m=share * frame.lines[straight].length_m, force_n=c),
            JointLoad(joint=joint, force_n=b, moment_n_m=turn),
        )),
    ]  # fmt: skip
    response = solve(frame, cases, [Combination(key="c", factors={"D": 0.6, "W+x": 0.6})], members=MEMBERS)
    places = np.array([frame.joints[s.joint].at for s in frame.supports])
    given_ = response.support_forces[0]
    moment = (given_[:, 3:] + np.cross(places, given_[:, :3])).sum(axis=0)
    applied = wrenches(response)[0].sum(axis=0)
    assert applied[:3] == pytest.approx(response.total_load_n[0], abs=1e-6)
    assert applied[:3] == pytest.approx(-given_[:, :3].sum(axis=0), abs=1e-6)
    assert applied[3:] == pytest.approx(-moment, abs=1e-5)


@settings(max_examples=20, deadline=None)
@given(numbers, st.floats(0, 100), st.floats(0, 100), st.sampled_from(["ballast", "stake", "foot", "castor", "deck"]))
def test_more_ballast_never_raises_a_ratio(push, less, more, base):
    """Whatever pushes, whatever the base."""
    less, more = sorted((less, more))
    frame = table(base)
    response = solve(frame, [top_load(*push, joint="At")], [Combination(key="W", factors={"W+x": 1.0})])
    light, heavy = (
        anchors(response, frame, SITE, MEMBERS, [Combination(key="W", factors={"W+x": 1.0})],
                options={base: {"ballast_kg": mass}}).every_row for mass in (less, more)
    )  # fmt: skip
    before = {(r.check, r.where): r.ratio for r in light}
    for row in heavy:
        if (row.check, row.where) in before:
            assert row.ratio <= before[row.check, row.where] + 1e-9


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.floats(-3, 3), st.floats(-3, 3)), min_size=1, max_size=9), st.floats(0, 6.28))
def test_edges_enclose_the_base(points, angle):
    """Every point lies inside every edge, some on each; a weight inside tips over none, one outside over one."""
    places = np.array(points)
    edges = Edges.of(places)
    inside = edges.inside_m(places)
    assert inside.min() > -1e-5
    assert np.abs(inside).min(axis=0) == pytest.approx(0, abs=1e-5)
    x, y = places.mean(axis=0)
    assert (edges.tipping(np.array([0, 0, -10.0, -10.0 * y, 10.0 * x, 0])) <= 1e-3).all()
    x, y = 20 * math.cos(angle), 20 * math.sin(angle)
    assert (edges.tipping(np.array([0, 0, -10.0, -10.0 * y, 10.0 * x, 0])) > 0).any()


@pytest.mark.parametrize("base", ["timber bed", "tube bed", "stakes", "sleeves"])
def test_every_base_of_a_trellis_is_held_by_a_row(base):
    """Each support has a model, every row a working in both systems, the table the columns that are promised."""
    standing = gardenframe.plan(Trellis(base=base), live=True).standing
    one = anchors(standing.response, standing.frame, standing.site, standing.members, standing.loads.combinations)
    assert not any("not known" in text for text in one.unchecked)
    columns = ["check", "case", "where", "demand", "capacity", "unit", "ratio", "factor", "source"]
    assert list(one.table.columns) == columns
    assert {"overturning", "whole uplift", "whole sliding"} <= {row.kind for row in one.every_row}
    for row in one.every_row:
        steps = one.working_of(row), one.working_of(row, "us")
        assert all(len(s) > 0 for s in steps) or row.demand == 0


@pytest.mark.parametrize(
    ("rest", "sentence"),
    [
        ({"options": {"anchor": {"depth_m": 1}}}, r"anchor options: got 'anchor', needs a base of anchors.csv or"),
        ({"options": {"stake": {"deep": 1}}}, r"anchor option of stake: got 'deep', needs one of depth_m, width_m"),
        ({"options": {"stake": {"depth_m": 9}}}, r"depth_m of stake: got 9, needs 0.05 to 3"),
        ({"bed": "closed"}, r"bed: got 'closed', needs one of auto, none, open, bottom"),
    ],
)
def test_what_cannot_be_used_is_said(rest, sentence):
    """One sentence names the option."""
    with pytest.raises(InputError, match=sentence):
        found(post("stake"), [top_load(1, 0, 0)], [Combination(key="W", factors={"W+x": 1.0})], **rest)


def test_an_unknown_base_is_said_and_not_guessed():
    """A base without a row gives no row and two sentences."""
    one = found(post("glue"), [top_load(1, 0, 0)], [Combination(key="W", factors={"W+x": 1.0})])
    assert one.every_row == ()
    assert "how glue holds is not known" in one.unchecked[0]
