"""A raised bed: lengths and soil worked apart, ties by cutting the bed in two, floor in balance, what is refused."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from printed import as_printed, as_worked
from scipy.integrate import quad
from whole_plan import READ, any_value

import gardenframe
from gardenframe.builds import ALL, raised_bed_checks, raised_bed_told
from gardenframe.builds.fields import FieldError
from gardenframe.builds.raised_bed import RaisedBed
from gardenframe.builds.raised_bed_charts import crossing, stress_at
from gardenframe.builds.raised_bed_shape import Shape
from gardenframe.builds.raised_bed_soil import Soil, density_kg_per_m3, filling_of, rails_of, shares_of
from gardenframe.errors import GardenframeError
from gardenframe.geometry.pools import cover_all
from gardenframe.materials.cautions import cautions_for
from gardenframe.materials.coverings import load_coverings, load_rolls
from gardenframe.materials.fixings import load_fixings
from gardenframe.materials.shop import Shop
from gardenframe.materials.site import Site
from gardenframe.materials.soils import PSF_PA

SITE, SHOP = Site(), Shop()
CALM = Site(wind_m_per_s=0.0)
D = 0.0295402  # 1 in EMT


def planned(site=SITE, **fields):
    """Return the plan of a raised bed."""
    return gardenframe.plan(RaisedBed(**fields), site, SHOP)


def axial_n(plan, key, case="D + H"):
    """Return the pull along a run at its start and at its finish, in a combination. [N]"""
    response = plan.standing.response
    mesh = response.mesh
    run = mesh.run_index[key]
    first, last = int(mesh.first[run]), int(mesh.first[run + 1]) - 1
    ends = response.ends[response.cases.index(case)]
    return -float(ends[first, 0]), float(ends[last, 6])


# --- how it is built


@pytest.mark.parametrize("wall", ["steel-upright", "steel-along", "boards-38", "boards-19"])
@pytest.mark.parametrize("tube", ["emt-1/2", "emt-2"])
@pytest.mark.parametrize("form", ["ground", "legs"])
def test_a_screw_reaches_through_its_wall_into_the_tube_and_not_out_of_it(wall, tube, form):
    """Length of screw less wall and washer (2 mm): through the tube's wall with its point, short of the far wall."""
    plan = planned(wall=wall, tube=tube, form=form, bearers=2)
    member, fixings = plan.shop.member(tube), load_fixings()
    screwed = [one for one in plan.covered if fixings[one.fixing].kind == "self_drilling_screw"]
    assert len(screwed) == len(plan.covered) > 0
    for one in screwed:
        thick = load_coverings()[one.covering].thickness_mm
        into = fixings[one.fixing].length_mm - thick - 2
        assert member.wall_mm + 5 < into < member.outer_mm - member.wall_mm
        assert one.fixing in set(plan.bill["item"])


def said(**fields):
    """Return the steps of a bed, in order."""
    return list(gardenframe.plan(RaisedBed(**fields), SITE, SHOP, live=True).steps["step"])


def test_steps_say_all_that_the_bill_holds_and_no_more():
    """Each choice has its step where it can be worked: mesh before the frame lies, stakes before legs, floor first."""

    def at(steps, words):
        return next(i for i, step in enumerate(steps) if words in step)

    meshed = said(mesh=True, gravel_m=0.05)
    assert at(meshed, "tie the mesh") < at(meshed, "Level the rim") < at(meshed, "Screw the walls")
    assert at(meshed, "Line the walls") < at(meshed, "Spread the gravel") < at(meshed, "Fill in layers")
    legs = {"form": "legs", "length_m": 1.22, "width_m": 0.6, "depth_m": 0.22, "bays": 1, "held": True}
    driven, screwed = said(**legs), said(**legs, under="deck", wall="boards-19")
    assert at(driven, "Drive a stake") < at(driven, "Level the rim") < at(driven, "boards for the floor")
    assert at(driven, "bearers, then the knee braces") < at(driven, "Measure both diagonals")
    assert at(screwed, "Level the rim") < at(screwed, "Screw the 4 feet down") < at(screwed, "Saw 8 pieces of board")
    for steps in (driven, screwed, said(under="paving"), said(ties="none")):
        assert not any("mesh" in step or "gravel" in step for step in steps)
    assert not any("turf" in step for step in (*said(under="paving"), *driven))
    assert not any("ties" in step for step in said(ties="none")[:-1])
    assert not any("top up about" in step for step in said(mix="own", compost_share=0.0))
    assert "1 cubic foot)" in said(length_m=0.6, width_m=0.4, depth_m=0.16, bays=1, bags=True)[-4]


# --- lengths and soil


def test_walls_share_their_sheets():
    """Ribs upright: 12 pieces 450 mm high from sheets of 8 ft (2438 mm), five from each: three sheets, not one a wall.

    Ribs along: a 2.41 m wall takes a sheet for itself, and both ends (1.19 m) come from one, two in its length.
    """
    pieces = 2 * math.ceil((2410.5 - 70) / (660 - 70)) + 2 * math.ceil((1190.5 - 70) / (660 - 70))
    assert pieces == 12
    for wall, sheets in (("steel-upright", math.ceil(pieces / (2438 // 450))), ("steel-along", 3)):
        plan = planned(wall=wall)
        assert sum(c.rolls for c in plan.covered if c.covering == "corrugated-steel") == sheets == 3
        assert {c.strips.strips[0].across for c in plan.covered} == {wall == "steel-upright"}


def test_walls_apart_where_that_costs_less():
    """One kind of sheet for all is taken only where it is cheaper: long dear sheets are not cut for short ends."""
    plan = planned(wall="steel-along", bays=4)
    sold = [roll for roll in load_rolls().values() if roll.covering == "corrugated-steel"]
    long, short = sold[0], replace(sold[0], key="short", length_mm=1250.0)
    price = {long.key: 100.0, "short": 5.0}.__getitem__
    found = cover_all(plan.frame, plan.frame.panels, (long, short), price)
    assert [(one.roll, one.rolls) for one in found] == [(long.key, 1), (long.key, 1), ("short", 1), ("short", 1)]


@pytest.mark.outside("plan.pieces", source="second-method")
def test_every_piece_of_the_default_worked_apart():
    """1 in tube is 29.5402 mm outside, its clamp-on fittings stop 22 mm short (invented); rails pass at both levels.

    Long rails 2440 - 29.54 - 44, end rails and ties 1220 - 29.54 - 44, posts 450 - 29.54 - 44.
    """
    pieces = planned().pieces
    stop = float(planned().fittings["set_back_mm"].max())
    long, short, tall = (size - 29.5402 - 2 * stop for size in (2440, 1220, 450))
    by_hand = [("post", tall, 8), ("rail", short, 4), ("rail", long, 4), ("tie", short, 4)]
    rows = pieces.sort_values(["role", "length_mm"])
    assert list(rows["role"]) == [role for role, _, _ in by_hand]
    assert list(rows["count"]) == [count for _, _, count in by_hand]
    assert list(rows["length_mm"]) == as_worked(
        [mm for _, mm, _ in by_hand], "mm", "pieces of the default bed", abs=0.05
    )


@pytest.mark.outside("strength.bed_soil.bed_volume_m3", "strength.bed_soil.soil_mass_kg", source="second-method")
def test_the_soil_of_the_default_by_hand():
    """Between sheet walls of 13.2 mm inside the tubes, 420 mm deep, half and half, 15 % settling."""
    filling = filling_of(RaisedBed(), Shape(RaisedBed(), D))
    volume = (2.44 - 2 * (D + 0.0132)) * (1.22 - 2 * (D + 0.0132)) * 0.42
    assert filling.soil_m3 == as_worked(volume, "m3", "soil of the default bed")
    assert filling.bought_m3 == pytest.approx({"topsoil": volume * 0.5 / 0.85, "compost": volume * 0.5 / 0.85})
    assert filling.mass_kg == as_worked(volume * (1750 + 1000) / 2, "kg", "mass of the default bed's soil, soaked")
    assert filling.drop_m == pytest.approx(0.42 * 0.5 * 0.2)


@given(st.floats(0, 1), st.floats(0, 1), st.floats(0, 1))
def test_shares_of_an_own_mix_fill_the_bed_or_are_refused(compost, sand, potting):
    """Shares that come to more than all are a sentence; others add up to one, and weigh between their parts."""
    fields = {"compost_share": compost, "sand_share": sand, "potting_share": potting}
    if compost + sand + potting > 1 + 1e-8:
        with pytest.raises(FieldError, match=r"Shares add up to 100 %\.$"):
            RaisedBed(mix="own", **fields)
        return
    build = RaisedBed(mix="own", **fields)
    assert sum(shares_of(build).values()) == pytest.approx(1)
    assert 200 <= density_kg_per_m3(build, "low") <= density_kg_per_m3(build, "moist") <= 1800
    assert density_kg_per_m3(build, "soaked") > density_kg_per_m3(build, "moist")


def test_a_bed_as_the_source_has_it():
    """A mix of 12 kN/m³ is between ours, moist and soaked: 1.8 kPa and 0.405 kN/m (recomputed) lie between ours."""
    build = RaisedBed(push="active", freeboard_m=0.0)
    moist, soaked = (Soil.of(build, state) for state in ("moist", "soaked"))
    assert moist.at(0.45) < 1800 < soaked.at(0.45)
    assert moist.between(0, 0.45)[0] < 405 < soaked.between(0, 0.45)[0]


# --- the push on the frame


@pytest.mark.outside("builds.raised_bed_soil", source="scipy")
@settings(max_examples=25, deadline=None)
@given(
    st.floats(0.2, 1.0), st.integers(0, 2), st.floats(0, 0.1), st.floats(0, 3000), st.sampled_from(["moist", "flooded"])
)
def test_rails_get_the_whole_push(depth, rails, freeboard, on_top, wetness):
    """Over all rails force and moment of the push are kept, by quadrature of the pressure."""
    try:
        build = RaisedBed(depth_m=depth, mid_rails=rails, freeboard_m=freeboard, surcharge_pa=on_top, wetness=wetness)
    except FieldError:
        return
    shape, soil = Shape(build, D), Soil.of(build)
    loads = rails_of(shape, soil)
    foot = shape.soil_z - shape.bottom_z
    whole = quad(soil.at, 0, foot)[0]
    taken = sum(out for _, out, _ in loads)
    assert taken == as_worked(whole, "N/m", "push on a bed's side, added up", rel=1e-6)
    below = quad(soil.at, shape.soil_z - shape.low_z, foot)[0]
    high = shape.top_z - shape.low_z  # what stands above the axis of the rim goes to the rim
    lever = quad(lambda z: soil.at(z) * min(shape.soil_z - z - shape.low_z, high), 0, shape.soil_z - shape.low_z,
                 points=[max(shape.soil_z - shape.top_z, 0.0)])[0]  # fmt: skip
    taken = sum(out * (shape.levels[level] - shape.low_z) for level, out, _ in loads)
    assert taken == as_worked(lever, "N m/m", "moment of the soil's push about the lowest rail, added up", rel=1e-6)
    assert 0 <= below < whole


@pytest.mark.outside("strength.soil_push", "strength.second_order", source="second-method")
@pytest.mark.parametrize(
    "fields",
    [{}, {"wall": "boards-38"}, {"wall": "fabric", "mid_rails": 1}, {"ties": "second", "tie_at": "soil", "bays": 4}],
    ids=str,
)
def test_the_bed_cut_in_two(fields):
    """What crosses the middle of the bed is the push on one long side: ties and end rails pull with all of it.

    The push on a metre is Rankine's or Jaky's own formula, the frame's length axis to axis; solved to second order.
    """
    plan = planned(CALM, **fields)
    build, shape = plan.build, raised_bed_checks.shape_of(plan)
    soil = Soil.of(build)
    depth = shape.soil_z - shape.bottom_z
    push = soil.push_ratio * soil.unit_weight_n_per_m3 * depth**2 / 2 * (build.length_m - shape.d)
    across = [key for key in plan.frame.runs if key.startswith("tie")]
    ends = [
        key for key in plan.frame.runs if key.split()[0] in ("left", "right") and "rail" in plan.frame.runs[key].role
    ]
    pulls = {key: axial_n(plan, key) for key in (*across, *ends)}
    for side in (0, 1):
        pulled = sum(pull[side] for pull in pulls.values())
        assert pulled == as_worked(
            push, "N", f"pull of all that crosses the middle, bed of {build.wall} with {build.bays} bays", rel=0.01
        )
        assert all(pulls[key][side] > 0 for key in across)


def test_what_holds_the_bed_in_place_is_idle_under_its_own_push():
    """Push on opposite walls is in balance: no support of the default gives a side force in D + H."""
    response = planned(CALM).standing.response
    given_ = response.support_forces[response.cases.index("D + H"), :, :2]
    assert np.abs(given_).max() < 1.0


@pytest.mark.parametrize("wetness", ["moist", "soaked"])
def test_legs_carry_what_lies_on_the_floor(wetness):
    """Soil by volume and density between the axes of the frame, and the frame itself: what the feet give back."""
    fields = dict(list(RaisedBed.examples.values())[1]) | {"wetness": wetness, "surcharge_pa": 500.0}
    plan = planned(CALM, **fields)
    rows = plan.loads.set_index("case")["z_n"]
    b, d = plan.build, plan.shop.member(plan.build.tube).outer_mm / 1000
    mix = 0.8 * (300 if wetness == "moist" else 800) + 0.2 * (750 if wetness == "moist" else 1000)
    plain = (b.length_m - d) * b.width_m
    floor = (mix * 9.81 * (b.depth_m - b.freeboard_m) + 500.0) * plain
    assert -rows["G"] == pytest.approx(floor, rel=0.06)  # bearers end at the axes of the rails
    response = plan.standing.response
    up = response.support_forces[response.cases.index("D + H + G"), :, 2].sum()
    assert up == pytest.approx(-(rows["D"] + rows["H"] + rows["G"]), rel=1e-4)


@pytest.mark.outside("strength.soil_push.flooded_push_pa", source="second-method")
def test_water_that_stands_in_it_pushes_far_harder():
    """Worked by hand at one depth, weights as densities: (0.5 (1375 - 1000) + 1000)/(0.5 x 1375) = 1.73."""
    soaked, flooded = (Soil.of(RaisedBed(wetness=state)) for state in ("soaked", "flooded"))
    assert soaked.unit_weight_n_per_m3 == pytest.approx(1375 * 9.81)
    expected = (0.5 * (1375 - 1000) + 1000) / (0.5 * 1375)
    ours = flooded.at(0.3) / soaked.at(0.3)
    assert ours == as_worked(expected, "", "push with water standing in the bed, over soaked", rel=1e-6)
    assert expected == pytest.approx(1.73, abs=0.005)


def test_more_ties_more_posts_or_a_stronger_tube_never_bend_rails_more():
    """Bending of rails falls with bays and with the tube."""

    def rail(**fields):
        rows = planned(CALM, **fields).checks.set_index("check")["ratio"]
        return rows["rail: bending and axial force"]

    plain = rail(length_m=4.0, bays=3, width_m=0.9)
    assert rail(length_m=4.0, bays=6, width_m=0.9) < plain
    assert rail(length_m=4.0, bays=3, width_m=0.9, tube="emt-1-1/4") < plain


@pytest.mark.parametrize("name", [0, 2, 4, 5])
def test_the_rail_or_post_worked_by_hand_is_near_the_frame(name):
    """As a simple span it bends at least as far as solved, where its ends are held a little, and not by half more."""
    plan = planned(CALM, **list(RaisedBed.examples.values())[name])
    heading = next(head for head in plan.working if "carries most" in head)
    tube = plan.shop.member(plan.build.tube)
    inner = tube.outer_mm - 2 * tube.wall_mm
    section = math.pi / 32 * (tube.outer_mm**4 - inner**4) / tube.outer_mm
    stress = plan.working[heading][-1].value
    assert stress == pytest.approx(stress_at(plan, plan.build.depth_m))
    by_hand = stress * section / 1000
    assert 0.95 * raised_bed_told.frame_moment_n_m(plan) <= by_hand <= 1.5 * raised_bed_told.frame_moment_n_m(plan)


def test_a_flat_fabric_pulls_its_ties_harder():
    """Worked by hand: mean push of the top gap, parabola with a belly of a tenth, Pythagoras, one tie each 300 mm."""
    fields = {"wall": "fabric", "mid_rails": 1, "freeboard_m": 0.0}
    row = planned(CALM, **fields).checks.set_index("check").loc["wall: pull of one tie at the rim"]
    gap = (0.45 - D) / 2
    mean = 0.5 * 1375 * 9.81 * ((gap + D / 2) ** 2 - (D / 2) ** 2) / 2 / gap
    pull = mean * gap / 8 / 0.1
    assert row["demand"] == pytest.approx(0.3 * math.hypot(pull, mean * gap / 2), rel=1e-6)
    flat = planned(CALM, **fields, sag_share=0.03).checks.set_index("check").loc["wall: pull of one tie at the rim"]
    assert flat["demand"] > 2.5 * row["demand"]


def test_the_depth_that_is_too_much_is_where_stress_meets_what_is_allowed():
    """The chart's title against the stress of a bed of just that depth; no depth, and every depth, are said."""
    plan = planned()
    allowed = 207 / 1.67
    chart = list(plan.build.charts(plan, "metric"))[1]
    deep = crossing([(x / 1000, y) for x, y in chart.lines[0].points], allowed)
    assert stress_at(plan, deep) == pytest.approx(allowed, rel=0.005)
    assert f"{deep * 1000:.3g} mm is too deep" in chart.title
    assert crossing([(0.2, 1.0), (0.4, 2.0)], 3.0) is None
    assert crossing([(0.2, 1.0), (0.4, 2.0)], 0.5) == 0.2


# --- reach, deck, heights


@pytest.mark.outside("data/constants.csv", source="reach-articles")
def test_reach_from_one_side_and_from_two():
    """24 in (610 mm) from a side, 4 ft from two (gardening articles, seen): 1.22 m is the last that is reached."""
    cases = (("both", 1.22), ("both", 1.3), ("one", 0.61), ("one", 0.7))
    rows = {}
    for sides, width in cases:
        found = raised_bed_checks.rows(planned(width_m=width, sides=sides))
        row = next(row for row in found if row.kind == "access")
        rows[sides, width] = row.ratio
    assert row.capacity / 25.4 == as_printed("24", "in", "reach into a bed from one side")
    assert rows["both", 1.22] == pytest.approx(1) == rows["one", 0.61]
    assert rows["both", 1.3] > 1 < rows["one", 0.7]


@pytest.mark.outside("data/constants.csv", source="deck-dca6")
def test_a_deep_bed_is_too_much_for_a_deck():
    """Half a metre of wet soil is over 40 and 60 psf (recomputed); a light shallow one is not; both say ask."""
    deep = planned(under="deck", depth_m=0.48)
    row = deep.checks.set_index("check").loc["deck: load under the bed, people left out"]
    assert row["ratio"] > 60 / 40
    assert row["capacity"] / PSF_PA == as_printed("40", "psf", "use that a deck is built for")
    shallow = planned(**list(RaisedBed.examples.values())[3])
    assert shallow.checks.set_index("check").loc["deck: load under the bed, people left out", "ratio"] < 1
    for plan in (deep, shallow):
        assert any("Ask an engineer" in said for said in plan.warnings)


def test_a_rim_of_the_wrong_height_is_said():
    """24 to 30 in from a chair (gardening articles, seen)."""
    assert any("610 to 762 mm" in said for said in planned(worked_at="chair").warnings)
    assert not any("usually" in said for said in planned(worked_at="chair", depth_m=0.7, mid_rails=1).warnings)


# --- everything that a reader can choose


FEW = {"length_m": st.floats(0.8, 4.0), "bays": st.integers(1, 5), "mid_rails": st.integers(0, 2)}
FEW |= {"depth_m": st.floats(0.3, 1.0), "width_m": st.floats(0.4, 1.6), "compost_share": st.floats(0, 0.3)}
FEW |= {"sand_share": st.floats(0, 0.3), "potting_share": st.floats(0, 0.4), "legs_m": st.floats(0.3, 0.9)}
FEW |= {"end_posts": st.integers(0, 1), "bearers": st.integers(0, 3)}


@settings(max_examples=10, deadline=None)
@given(st.fixed_dictionaries({field.key: any_value(field) for field in RaisedBed.fields()} | FEW), st.booleans())
def test_every_choice_gives_a_plan_or_a_sentence(values, live):
    """All fields random: no crash and no mechanism; what is refused is one sentence."""
    said = ""
    try:
        build = RaisedBed(**values)
    except GardenframeError as refused:
        said = str(refused)
    if said:
        assert said.rstrip().endswith((".", ")"))
        return
    plan = gardenframe.plan(build, SITE, SHOP, live=live)
    for name in READ:
        getattr(plan, name)
    plan.worked("us")
    assert len(list(build.charts(plan, "us"))) == 2 + (build.under == "deck")
    assert plan.checks["ratio"].map(math.isfinite).all()
    assert plan.bill["cost"].sum() == pytest.approx(plan.cost.usual)


SLIDES = {"Herbs on a balcony (house by the gate, invented)": {"whole build: sliding"}}


@pytest.mark.parametrize("name", RaisedBed.examples)
def test_examples_are_what_people_would_build(name):
    """None is over a limit at the usual site, but a light box on a balcony slides when a person leans on it."""
    plan = planned(**RaisedBed.examples[name])
    assert (plan.checks["ratio"] <= 1 + 1e-9).all()
    over = plan.anchors[plan.anchors["ratio"] > 1]
    assert set(over["check"]) == SLIDES.get(name, set())
    cautions_for(plan.build.cautions(), strict=True)


# --- what is refused


@pytest.mark.parametrize(
    ("fields", "sentence"),
    [
        ({"width_m": 0.2, "wall": "boards-38"}, r"^Width: got 200 mm, needs at least .*Two posts and two walls leave"),
        ({"width_m": 0.05}, r"^Width: got 50 mm, needs 200 mm to 2 000 mm|^Width: got 50 mm, needs"),
        ({"bays": 12, "length_m": 2.0}, r"^Bays: got 12, needs at most 7 in that length"),
        ({"bays": 1, "length_m": 7.0}, r"^Bays: got 1, needs at least 3 in that length\. A board or sheet ends at a"),
        ({"mid_rails": 4}, r"^Rails between: got 4, needs at most 2 in a bed that deep"),
        ({"depth_m": 0.15, "tube": "emt-2"}, r"^Depth: got 150 mm, needs at least .* in this tube"),
        ({"depth_m": 0.2, "gravel_m": 0.12}, r"^Depth: got 200 mm, needs at least .*gravel and rim taken off\. Roots"),
        ({"end_posts": 2, "width_m": 0.6}, r"^Posts in each end: got 2, needs at most 1 in that width"),
        ({"tie_at": "soil", "depth_m": 0.25}, r"^Upper ties lie: got below, in the soil, needs at the rim"),
        (
            {"mix": "own", "compost_share": 0.7, "sand_share": 0.5},
            r"^Compost: got 70 %, needs at most 50 % beside the others\. Shares add up to 100 %",
        ),
        (
            {"form": "legs", "bearers": 6, "bays": 3},
            r"^Bearers in each bay: got 6, needs at most 5|^Knee braces: got yes",
        ),
        ({"form": "legs", "legs_m": 0.2, "braces": False}, r"^Rails between legs: .* There is no room for them"),
        ({"form": "legs", "under": "paving", "held": True}, r"^Feet held down: got yes, needs no on paving"),
        ({"surcharge_pa": math.nan}, r"^On the soil: got nan"),
        ({"wall": "bricks"}, r"^Wall: got 'bricks', needs one of: steel-along"),
    ],
)
def test_what_does_not_go_together_is_one_sentence(fields, sentence):
    """A bed narrower than two posts, rails that do not fit, shares over all: the field is named, and what would do."""
    with pytest.raises(FieldError, match=sentence):
        RaisedBed(**fields)


def test_it_is_listed():
    """A stable key, and an example first that needs no argument."""
    assert ALL["raised_bed"] is RaisedBed
    assert next(iter(RaisedBed.examples.values())) == {}
