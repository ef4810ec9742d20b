"""Member rows of whole frames: known by hand, equal to the formulas one by one, and right wherever a slider goes."""

import math
from dataclasses import replace

import numpy as np
import pytest
from frames_for_tests import beam, hoop_house, portal
from hypothesis import given, settings
from hypothesis import strategies as st
from other_roads import buckling_load, over_round, span
from printed import as_remembered, as_worked

import gardenframe
from gardenframe.builds import ALL
from gardenframe.geometry.frame import Frame, Joint, Run, Support
from gardenframe.materials import sources
from gardenframe.materials.fixings import load_fixings
from gardenframe.materials.members import load_members
from gardenframe.strength import checks, steel, timber
from gardenframe.strength.bays import between_braces, between_posts
from gardenframe.strength.capacities import capacities
from gardenframe.strength.cases import Case, Combination, JointLoad, LineLoad, self_weight
from gardenframe.strength.members import sampled, strength
from gardenframe.strength.stiffness import solve

MEMBERS = load_members()
FIXED = "xyzXYZ"


def post(height_m=1.2, member="emt-1", roles=("post",)):
    """Return a post that stands fixed in the ground, free at the top."""
    joints = [Joint("foot", 0, 0, 0), Joint("top", 0, 0, height_m)]
    runs = [Run(key="post", member=member, path=("foot", "top"), role=roles[0])]
    return Frame.of(joints, runs, [Support(joint="foot", base="sleeve", held=FIXED)])


def at_top(force_n, key="W+x"):
    """Return one case: a force at the top of a post."""
    return Case(key=key, loads=(JointLoad(joint="top", force_n=force_n),))


def by_kind(rows, kind):
    """Return the one row of a kind."""
    (found,) = [row for row in rows if row.kind == kind]
    return found


@pytest.mark.outside("strength.members", "strength.deflection", "strength.checks", source="PyNiteFEA")
def test_a_post_with_a_push_at_its_top_by_an_open_frame_program():
    """1 in EMT, 1.2 m, 100 N sideways: moment and sway by PyNiteFEA, the moment it may carry by scipy's quad."""
    tube = MEMBERS["emt-1"]
    theirs = span(("fixed", "free"), 2527.65, [1.2], points=[(1.2, 100.0)])
    limit = over_round(lambda y: 207.0 * abs(y), tube.outer_mm, tube.outer_mm - 2 * tube.wall_mm) / 1670
    found = checks.check(solve(post(), at_top((100.0, 0, 0))), (), MEMBERS).rows
    ratio = by_kind(found, "strength").ratio
    assert ratio == as_worked(theirs.moment_n_m("AB", 0.0) / limit, "", "share that bending uses", rel=1e-5)
    sway = by_kind(found, "deflection").demand
    assert sway == as_worked(theirs.sag_m("AB", 1.2) * 1000, "mm", "sway of the top", rel=1e-5)


def test_a_post_with_a_push_at_its_top_by_pocket_calculator():
    """1 in EMT, 1.2 m, 100 N sideways at the top.

    M = 100 x 1.2 = 120 N m against 236.7/1.67 = 141.7: 0.847. V = 100 N against 0.6 x 207 x 127.78/2/1.67 = 4751 N:
    0.0210. Sway P L3/(3 E I) = 22.788 mm (independent row) against 1200/30 = 40 mm: 0.570.
    """
    found = checks.check(solve(post(), at_top((100.0, 0, 0))), (), MEMBERS).rows
    bending = by_kind(found, "strength")
    assert bending.ratio == pytest.approx(0.847, abs=1e-3)
    assert (bending.where, bending.case, bending.unit) == ("post at joint foot", "W+x", "share")
    assert by_kind(found, "shear").ratio == pytest.approx(0.02105, abs=1e-4)
    sway = by_kind(found, "deflection")
    assert sway.demand == pytest.approx(22.788, abs=1e-3)
    assert sway.capacity == pytest.approx(40)
    assert sway.where == "post at joint top"


def test_a_post_that_is_pushed_and_bent_by_pocket_calculator():
    """The same post with 655 N on it, first order.

    Slenderness 1200/9.9453 = 120.66; F_e = 135.58; F_cr = 0.658^(207/135.58) x 207 = 109.2 MPa; x 127.78/1.67 = 8358 N.
    655/8358 = 0.0784, below a fifth: 0.0392 + 0.8466 = 0.886.
    """
    found = checks.check(solve(post(), at_top((100.0, 0, -655.0))), (), MEMBERS).rows
    assert by_kind(found, "strength").ratio == pytest.approx(0.886, abs=1e-3)


def test_a_post_under_a_heavy_push_takes_the_other_branch():
    """4179 N on it is half of 8358: 0.5 + 8/9 x 60/141.75 = 0.876, first order."""
    found = checks.check(solve(post(), at_top((50.0, 0, -4179.0))), (), MEMBERS).rows
    assert by_kind(found, "strength").ratio == pytest.approx(0.876, abs=2e-3)


def test_a_measured_yield_moves_the_limit():
    """At 240 MPa instead of 207 bending uses 207/240 of what it did."""
    stronger = {**MEMBERS, "emt-1": replace(MEMBERS["emt-1"], yield_mpa=240.0)}
    response = solve(post(), at_top((100.0, 0, 0)))
    usual, better = (by_kind(checks.check(response, (), m).rows, "strength").ratio for m in (MEMBERS, stronger))
    assert better / usual == pytest.approx(207 / 240)


def test_bending_in_two_planes_adds_as_a_vector():
    """A round tube pushed 60 N along x and 80 N along y is bent as by 100 N."""
    one = checks.check(solve(post(), at_top((100.0, 0, 0))), (), MEMBERS).rows
    both = checks.check(solve(post(), at_top((60.0, 80.0, 0))), (), MEMBERS).rows
    assert by_kind(both, "strength").ratio == pytest.approx(by_kind(one, "strength").ratio)


def test_twist_is_shown_where_it_counts():
    """40 N m about the axis of a post is more than a fifth of 133.5: H3-6 with no other force is (40/133.5)^2."""
    twist = Case(key="T", loads=(JointLoad(joint="top", moment_n_m=(0, 0, 40.0)),))
    found = checks.check(solve(post(), twist), (), MEMBERS)
    row = by_kind(found.rows, "twist")
    assert row.ratio == pytest.approx(40 / 133.48, rel=1e-3)
    assert by_kind(found.rows, "strength").ratio == pytest.approx((40 / 133.48) ** 2, rel=1e-3)
    assert found.working_of(by_kind(found.rows, "strength"))[-1].value == pytest.approx((40 / 133.48) ** 2, rel=1e-3)


@pytest.mark.outside("strength.checks.frame_buckling_ratio", source="scipy")
def test_frame_buckling_row_of_a_post():
    """A free-standing post sways away as half of one twice as long bows out, by scipy: 4331 N; 866.2 N on it."""
    sways = buckling_load(2527.65, 2 * 1.2)
    row = by_kind(checks.check(solve(post(), at_top((0, 0, -866.2)), fine=True), (), MEMBERS).rows, "buckling")
    assert row.ratio == as_worked(1.67 * 866.2 / sways, "", "share of the load that sways a post away", rel=2e-3)
    needed = checks.NEEDED_FACTOR
    assert needed == as_remembered("1.67", "", "factor on the load", "frame-buckling")


def test_a_frame_that_sways_away_says_so():
    """Under 4000 N, more than 4331/1.6 = 2707 N, the post goes before the checked load: the row is over its limit."""
    found = checks.check(solve(post(), at_top((1.0, 0, -4000.0)), order="second"), (), MEMBERS)
    assert by_kind(found.rows, "buckling").ratio == pytest.approx(1.67 * 4000 / 4331, rel=0.01)
    assert found.cautions[0].startswith("Under W+x the frame would sway away before the checked load is reached")


def loaded(frame, across, down, seed=0):
    """Return the response of a frame to uneven loads on every run, in three combinations."""
    rng = np.random.default_rng(seed)
    side = tuple(LineLoad(run=key, force_n_per_m=(across * rng.uniform(0.2, 1), 0, 0)) for key in frame.runs)
    weight = tuple(LineLoad(run=key, force_n_per_m=(0, 0, -down)) for key in frame.runs)
    cases = [Case(key="D", loads=weight), Case(key="W+x", loads=side)]
    combinations = [
        Combination(key="D", factors={"D": 1.0}),
        Combination(key="D + W", factors={"D": 1.0, "W+x": 1.0}),
        Combination(key="0.6 D + W", factors={"D": 0.6, "W+x": 1.0}),
    ]
    return solve(frame, cases, combinations), combinations


@pytest.mark.parametrize("member", ["emt-1", "bar-12", "timber-4x4", "timber-2x4", "pvc-1"])
def test_arrays_agree_with_the_formulas_one_by_one(member):
    """Every point of every element in every combination equals what the scalar formulas give there."""
    frame = hoop_house(hoops=2, purlins=(60, 120), member=member)
    response, combinations = loaded(frame, 40.0, 30.0)
    found = strength(response, MEMBERS, {c.key: c.factors for c in combinations})
    m = MEMBERS[member]
    for case, element in np.ndindex(found.ratio.shape[:2]):
        for point in range(found.ratio.shape[2]):
            axial, _, _, twist, my, mz = found.forces[case, element, point]
            here = capacities(m, round(float(found.bays.length_m[found.bays.of_element[element]]), 6))
            if m.family == "timber":
                expected = timber_share(m, here, axial, my, mz, found.durations[case])
            elif m.family == "pvc":
                expected = (
                    abs(axial) / (here.pull_n if axial > 0 else here.push_n) + math.hypot(my, mz) / here.moment_n_m
                )
            else:
                limit = here.pull_n if axial > 0 else here.push_n
                expected = steel.interaction_ratio(abs(axial), limit, math.hypot(my, mz), here.moment_n_m)
                assert abs(twist) < 0.2 * here.torsion_n_m
            if expected is not None:
                assert found.ratio[case, element, point] == pytest.approx(expected, rel=1e-9)


def timber_share(m, here, axial, my, mz, lasts):
    """Return the NDS share by the scalar formulas, none beyond a buckling stress."""
    a = timber.adjusted(m)
    flat, side = abs(my) * 1000 / m.section_modulus_mm3, abs(mz) * 1000 / m.section_modulus_weak_mm3
    bending, column = a.bending_mpa * lasts, a.compression_mpa * lasts
    over = here.parts["buckling_beam_mpa"]
    beam = timber.beam_stability_ratio(over / bending) if m.across_mm > m.outer_mm else 1.0
    stress = axial / m.area_mm2
    if axial > 0:
        pull = a.tension_mpa * lasts
        return timber.pull_and_bending_ratio(stress, pull, flat, bending * beam, side, bending)
    e1, e2 = here.parts["buckling_flat_mpa"], here.parts["buckling_side_mpa"]
    if 1 + stress / e2 - (flat / over) ** 2 < 0.02:
        return None
    push = column * timber.column_stability_ratio(min(e1, e2) / column)
    return timber.push_and_bending_ratio(-stress, push, flat, bending * beam, side, bending, e1, e2, over)


def test_a_timber_beam_by_pocket_calculator():
    """2x4 on edge, 2 m, 100 N/m that stays: M = 50 N m, 50 000/50 185 = 0.9963 MPa.

    Fb = 7.692 x 0.9 = 6.923; alpha = 17.58/6.923 = 2.5395; C_L = 0.9700; 0.9963/(6.923 x 0.9700) = 0.1484.
    """
    frame = beam([2.0], ("xyzX", "yzX"), "timber-2x4")
    load = Case(key="D", loads=(LineLoad(run="beam", force_n_per_m=(0, 0, -100.0)),))
    found = checks.check(solve(frame, load), (), MEMBERS)
    row = by_kind(found.rows, "strength")
    assert row.ratio == pytest.approx(0.1484, abs=2e-4)
    assert found.working_of(row)[-1].value == pytest.approx(row.ratio)


def test_wind_lets_timber_carry_more():
    """Under a combination with wind the same beam uses less: the duration factor is 1.6, not 0.9."""
    frame = beam([2.0], ("xyzX", "yzX"), "timber-4x4")
    load = [Case(key="W-up", loads=(LineLoad(run="beam", force_n_per_m=(0, 0, 100.0)),))]
    wind = [Combination(key="W", factors={"W-up": 1.0})]
    response = solve(frame, load, wind)
    short = by_kind(checks.check(response, (), MEMBERS, wind).rows, "strength").ratio
    ever = by_kind(checks.check(response, (), MEMBERS).rows, "strength").ratio
    assert ever / short == pytest.approx(1.6 / 0.9)


def test_wire_is_checked_by_its_pull():
    """A post stayed by one wire at 45 degrees: 100 N sideways is 141 N in the wire where the post is pinned."""
    joints = [Joint("foot", 0, 0, 0), Joint("top", 0, 0, 1), Joint("peg", -1, 0, 0)]
    runs = [
        Run(key="post", member="emt-1", path=("foot", "top"), role="post"),
        Run(key="stay", member="wire-12", path=("peg", "top"), role="stay"),
    ]
    supports = [Support(joint="foot", base="foot", held="xyzXZ"), Support(joint="peg", base="stake", held="xyz")]
    found = checks.check(solve(Frame.of(joints, runs, supports), at_top((100.0, 0, 0))), (), MEMBERS)
    row = by_kind(found.rows, "wire")
    assert row.demand == pytest.approx(100 * math.sqrt(2), rel=1e-3)
    assert row.capacity == pytest.approx(math.pi / 4 * 2.68**2 * 250 / 1.67, rel=1e-3)
    assert found.working_of(row)[-1].value == pytest.approx(row.capacity)


def test_braces_part_a_run_and_wires_do_not():
    """A post with rails at 0.8 and 1.6 m has three bays; a wire at 0.4 m makes no fourth; its free top is known."""
    heights = (0, 0.4, 0.8, 1.6, 2.0)
    joints = [Joint(f"a{i}", 0, 0, z) for i, z in enumerate(heights)]
    joints += [Joint(f"b{i}", 1, 0, z) for i, z in enumerate(heights)]
    runs = [
        Run(key=f"post {side}", member="emt-1", path=tuple(f"{side}{i}" for i in range(5)), role="post")
        for side in "ab"
    ]
    runs += [Run(key=f"rail {i}", member="emt-1", path=(f"a{i}", f"b{i}")) for i in (2, 3)]
    runs.append(Run(key="line", member="wire-12", path=("a1", "b1")))
    frame = Frame.of(joints, runs, [Support(joint=j, base="sleeve", held=FIXED) for j in ("a0", "b0")])
    response = solve(frame, Case(key="D", loads=(LineLoad(run="rail 3", force_n_per_m=(0, 0, -10.0)),)))
    bays = between_braces(response.mesh, MEMBERS)
    mine = bays.run == response.mesh.run_index["post a"]
    assert bays.length_m[mine].tolist() == pytest.approx([0.8, 0.8, 0.4])
    assert bays.free_end[mine].tolist() == [False, False, True]
    spans = between_posts(response.mesh)
    assert spans.length_m[spans.run == response.mesh.run_index["rail 2"]].tolist() == pytest.approx([1.0])


@settings(max_examples=15, deadline=None)
@given(st.floats(0.1, 3.0), st.floats(1.05, 3.0), st.sampled_from(["first", "second"]))
def test_more_load_uses_more(load, times, order):
    """Every row of a portal rises with the load, sway included."""
    frame = portal(3.0, 2.0, "xyzXZ")
    case = Case(
        key="D",
        loads=(
            LineLoad(run="top", force_n_per_m=(0, 0, -50.0)),
            JointLoad(joint="B", force_n=(30.0, 0, 0)),
        ),
    )
    scale = [Combination(key="less", factors={"D": load}), Combination(key="more", factors={"D": load * times})]
    less, more = (
        checks.check(solve(frame, case, [one], order=order), (), MEMBERS, [one]).rows for one in scale
    )  # fmt: skip
    for a, b in zip(less, more, strict=True):
        assert a.check == b.check
        assert b.ratio > a.ratio


@settings(max_examples=15, deadline=None)
@given(st.floats(0.5, 3.0), st.floats(1.05, 2.0))
def test_longer_posts_use_more(height_m, times):
    """A taller post under the same load uses more in bending, sway and buckling."""
    rows = [
        checks.check(solve(post(h), at_top((10.0, 0, -50.0)), order="second"), (), MEMBERS).rows
        for h in (height_m, height_m * times)
    ]
    for kind in ("strength", "deflection", "buckling"):
        assert by_kind(rows[1], kind).ratio > by_kind(rows[0], kind).ratio


@pytest.mark.parametrize("member", ["bar-12", "timber-2x4", "timber-4x4", "pvc-1"])
def test_the_working_comes_to_the_row_in_other_materials(member):
    """The last line of the working is the ratio in the table for bar, timber and plastic pipe too."""
    response, combinations = loaded(hoop_house(hoops=2, member=member), 4.0, 6.0)
    found = checks.check(response, (), MEMBERS, combinations)
    for row in found.rows:
        if row.kind == "strength":
            assert found.working_of(row)[-1].value == pytest.approx(row.ratio, rel=1e-9)


@pytest.mark.parametrize("order", ["first", "amplified", "second"])
def test_the_working_comes_to_the_row(order):
    """The last line of the working of the governing member is the ratio in the table; the first names its length."""
    response, combinations = loaded(hoop_house(hoops=3), 30.0, 40.0)
    if order != "first":
        frame = response.mesh.frame
        cases = [Case(key="D", loads=tuple(LineLoad(run=k, force_n_per_m=(9.0, 0, -40.0)) for k in frame.runs))]
        combinations = [Combination(key="D", factors={"D": 1.0})]
        response = solve(frame, cases, combinations, order=order)
    found = checks.check(response, (), MEMBERS, combinations)
    row = found.governing_member
    assert found.working_of(row)[-1].value == pytest.approx(row.ratio, rel=1e-9)
    assert found.working_of(row, "us")[-1].value == pytest.approx(row.ratio, rel=1e-9)


def test_the_table_is_what_a_reader_sees():
    """Columns in order, one row a kind and role, and every run among all rows; the worst of all is in the table."""
    response, combinations = loaded(hoop_house(hoops=3), 30.0, 40.0)
    found = checks.check(response, (), MEMBERS, combinations)
    assert list(found.table.columns) == ["check", "case", "where", "demand", "capacity", "unit", "ratio", "source"]
    assert found.table["check"].is_unique
    assert (found.table["ratio"] - found.table["demand"] / found.table["capacity"]).abs().max() < 1e-12
    every = [row for row in found.every_row if row.kind == "strength"]
    assert {row.run for row in every} == set(response.mesh.frame.runs)
    assert max(row.ratio for row in every) == max(row.ratio for row in found.rows if row.kind == "strength")
    assert found.governing.ratio == max(row.ratio for row in found.every_row)


@pytest.mark.parametrize("order", ["first", "amplified", "second"])
def test_a_trellis_gives_a_table_that_can_be_read(order):
    """The trellis as it comes: 8 to 14 rows, every number finite, and a known source beside each."""
    plan = gardenframe.plan(ALL["trellis"]())
    runs = plan.frame.runs
    cases = [
        self_weight(plan.frame, {key: member.mass_kg_per_m for key, member in MEMBERS.items()}),
        Case(key="W+y", loads=tuple(LineLoad(run=key, force_n_per_m=(0, 20.0, 0)) for key in runs)),
    ]
    combinations = [Combination(key="D + 0.6 W", factors={"D": 1.0, "W+y": 0.6})]
    response = solve(plan.frame, cases, combinations, order=order)
    force = {panel.panel: {"W+y": 300.0} for panel in plan.covered}
    found = checks.check(
        response, plan.fitted, MEMBERS, combinations, covered=plan.covered, panel_force_n=force, fixings=load_fixings()
    )
    assert 8 <= len(found.table) <= 14
    assert np.isfinite(found.table["ratio"]).all()
    assert (found.table["ratio"] > 0).all()
    assert all(sources.how_known(key) for key in found.table["source"])


def test_samples_are_those_of_the_response():
    """Forces at sample points and movements agree with what a run's own diagram shows."""
    response, _ = loaded(hoop_house(hoops=2), 40.0, 30.0)
    forces, moved = sampled(response)
    run = response.mesh.run_index["purlin 2"]
    first = int(response.mesh.first[run])
    along = response.along("purlin 2", [float(response.mesh.from_m[first]), float(response.mesh.to_m[first])])
    assert forces[:, first, [0, -1], 5] == pytest.approx(along.moment_z_n_m, abs=1e-9)
    assert moved[:, first, [0, -1]] == pytest.approx(along.deflection_m, abs=1e-12)
