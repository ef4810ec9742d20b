"""A walkway arch: lengths by hand, headroom measured in the frame, figures for access, every refusal its sentence."""

import math
import re

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from output.test_drawings import overlapping
from printed import as_printed, as_remembered, as_worked
from whole_plan import READ, any_value

import gardenframe
from gardenframe import units
from gardenframe.builds.fields import FieldError
from gardenframe.builds.walkway_arch import WalkwayArch
from gardenframe.errors import FrameError, GardenframeError
from gardenframe.geometry.bend_marks import bend_sheet
from gardenframe.materials import constants
from gardenframe.materials.benders import bender_for
from gardenframe.materials.shop import Shop
from gardenframe.materials.site import Site
from gardenframe.output.drawings import drawing

INCH = 25.4
EMT_3_4_MM = 0.922 * INCH  # outside diameter of trade size 3/4


def lengths_mm(plan, role):
    """Return the exact lengths of the pieces of a role, longest first."""
    return sorted((p.length_m * 1000 for p in plan.cut if p.role == role), reverse=True)


@pytest.mark.outside("geometry.pieces", source="second-method")
def test_default_agrees_with_lengths_worked_by_hand():
    """Half hoop: pi R between straights of 250 mm; legs to the coupling; tubes along the path with their tails."""
    plan = gardenframe.plan(WalkwayArch())
    span = 1220 + 2 * 38 + EMT_3_4_MM  # boards of 38 mm, half a tube behind each
    radius = span / 2
    coupling, overhang = 1.0, 60 + EMT_3_4_MM  # a coupling's stop; how far a tube along the path goes on
    leg = 2400 - EMT_3_4_MM / 2 - radius - 250
    worked = {
        "hoop": math.pi * radius + 2 * 250 - 2 * coupling, "post": leg - coupling, "purlin": 1520 + 2 * overhang,
    }  # fmt: skip
    for role, length in worked.items():
        assert lengths_mm(plan, role) == as_worked([length], "mm", f"{role} of the usual arch", abs=0.01)


def test_sides_and_top_are_cut_from_one_roll():
    """Four strips of 1.62 m, two up the sides and two over the top, come from one roll of 30 ft (9.14 m), not three."""
    net = gardenframe.plan(WalkwayArch()).bill.set_index("item").loc["roll-trellis-net-150-5ftx30ft"]
    strips_m = 4 * (1.52 + 0.10)
    assert net["bought"] == math.ceil(strips_m / (30 * 0.3048)) == 1
    assert net["note"] == "sides and top"


@pytest.mark.parametrize("tube", ["emt-1/2", "emt-3/4"])
def test_a_jig_chosen_for_two_bends_finds_a_radius_that_serves(tube):
    """Whoever goes from the hand bender to the jig, all else as it stands, gets a plan and no refusal."""
    built = WalkwayArch(form="two bends", bend_with="jig", tube=tube)
    assert built.room.radius_m == pytest.approx(built.radius_m)
    assert len(gardenframe.plan(built, live=True).bend_sheets) > 0


def test_braces_hold_a_lean_along_the_path_and_nothing_across():
    """As the workbook tells: without them a lean along the path moves it many times as far, one across no more."""
    moved = {}
    for braces in (True, False):
        response = gardenframe.plan(WalkwayArch(braces=braces), live=True).standing.response
        for case, axis in (("D + P + L+y", 1), ("D + P + L+x", 0)):
            moved[braces, axis] = np.abs(response.joint_movements[response.cases.index(case), :, axis]).max()
    assert moved[False, 1] > 5 * moved[True, 1]
    assert moved[False, 0] == pytest.approx(moved[True, 0], rel=0.1)


def test_the_working_says_which_width_is_left():
    """Legs in the beds stand 1296 mm apart, the beds 1220 mm: both are told."""
    inside, on_path = (
        gardenframe.plan(WalkwayArch(form="flat", base=base), live=True) for base in ("timber bed", "sleeves")
    )
    assert "Clear width from leg to leg; the beds leave 1220 mm" in inside.working
    assert "Clear width from leg to leg" in on_path.working


@pytest.mark.parametrize("shift_m", [0.0, 0.3, -0.3])
def test_diagonals_of_the_feet_are_those_of_the_frame(shift_m):
    """What the step tells to measure is what lies between the outer feet of the frame that is planned."""
    plan = gardenframe.plan(WalkwayArch(shift_m=shift_m), live=True)
    told = next(step for step in plan.steps["step"] if step.startswith("Set out the feet"))
    at = {key: np.array(plan.frame.joints[key].at) for key in ("left leg 1 foot", "right leg 1 foot", "left leg 3 foot",
                                                               "right leg 3 foot")}  # fmt: skip
    front = np.linalg.norm(at["right leg 3 foot"] - at["left leg 1 foot"]) * 1000
    far = np.linalg.norm(at["right leg 1 foot"] - at["left leg 3 foot"]) * 1000
    numbers = [float(found) for found in re.findall(r"(\d+) mm", told)]
    assert numbers == pytest.approx([front] if not shift_m else sorted((front, far), reverse=True), abs=0.51)
    assert not shift_m or ("front left" in told) == (front > far)


@pytest.mark.parametrize("base", ["timber bed", "tube bed", "stakes", "sleeves"])
@pytest.mark.parametrize(("frames", "braces"), [(2, False), (3, True)])
def test_steps_come_in_an_order_that_works(base, frames, braces):
    """Stakes and sleeves are driven before a frame stands, straps and couplers go on legs that stand; all is fixed."""
    plan = gardenframe.plan(WalkwayArch(base=base, frames=frames, braces=braces, between_m=1.4), live=True)
    steps = list(plan.steps["step"])

    def at(words):
        return next(i for i, step in enumerate(steps) if words in step)

    stood, plumb = at("then stand the"), at("plumb the legs")
    assert "ream and paint the trimmed ends" in steps[at("bend sheets")]  # a hoop is cut long for its jig
    driven = {"stakes": "Drive the stakes", "sleeves": "Drive the sleeves"}.get(base)
    held = {"timber bed": "Screw two straps", "tube bed": "Couple each leg", "sleeves": "Tighten"}.get(base)
    assert at("Set out the feet") < stood < plumb
    assert driven is None or at("Set out the feet") < at(driven) < stood
    assert held is None or plumb < at(held) < at("Pull at the top")
    assert ("frames between" in steps[plumb]) == (frames > 2)
    along = [run for run in plan.frame.runs.values() if run.role in ("purlin", "rail")]
    low = [run for run in along if run.key.split(".")[0].endswith("rail 1")]
    other = steps[at("tubes along the path")]
    assert f"the other {len(along) - len(low)} tubes" in other
    assert ("wind braces" in other) == braces == any(run.role == "brace" for run in plan.frame.runs.values())


@pytest.mark.outside("geometry.pieces", source="second-method")
def test_two_bends_agree_with_the_gain_of_a_right_angle():
    """From corner to corner less the gain of each bend: 0.4292 R, as benders are taught (from memory)."""
    plan = gardenframe.plan(WalkwayArch(form="two bends", straight_m=0.3, height_m=2.3))
    radius = 4.5 * INCH  # least radius of a one-shot bender for 3/4 in, as published: 4-1/2 in
    across = 1220 + 2 * 38 + EMT_3_4_MM
    by_corners = across + 2 * (300 + radius)
    worked = by_corners - 2 * 0.4292 * radius - 2 * 1.0
    assert lengths_mm(plan, "hoop") == as_worked([worked], "mm", "hoop of two bends by its gain", abs=0.05)


@pytest.mark.outside("geometry.pieces", source="second-method")
def test_a_gable_closes():
    """Each slope is the hypotenuse over half the span, less what two swivels take."""
    plan = gardenframe.plan(WalkwayArch(form="gabled", height_m=2.6, pitch_deg=30.0))
    half = (1220 + 2 * 38 + EMT_3_4_MM) / 2
    swivel = next(f.row.centre_to_stop_mm for f in plan.fitted if f.fitting == "swivel" and "apex" in f.joint)
    worked = half / math.sqrt(0.75) - 2 * swivel
    assert lengths_mm(plan, "rafter") == as_worked([worked], "mm", "slope of a gable by Pythagoras", abs=0.01)


@pytest.mark.outside("data/constants.csv", "plan.checks", source="ada-2010")
def test_access_figures_are_those_of_the_standard():
    """Clear width 36 in (2010 ADA Standards, 403.5.1); headroom 80 in (307.4, from memory)."""
    assert constants.value("path_clear_mm") / INCH == as_printed("36.0", "in", "clear width of a route")
    headroom = constants.value("headroom_mm") / INCH
    assert headroom == as_remembered("80.0", "in", "headroom of a route", "ada-memory")
    rows = gardenframe.plan(WalkwayArch()).checks.set_index("check")
    assert rows.loc["access: clear width", "capacity"] == pytest.approx(1220)
    asked = rows.loc["access: clear width", "demand"] / INCH
    assert asked == as_printed("36.0", "in", "clear width that a check asks for")
    asked = rows.loc["access: headroom", "demand"] / INCH
    assert asked == as_remembered("80.0", "in", "headroom that a check asks for", "ada-memory")


def underside_m(plan, build):
    """Return the lowest level of the first frame's tubes over each edge of the clear path, from points on them."""
    lines, outer = plan.frame.lines, plan.shop.member(build.tube).outer_mm / 1000
    over = [k for k, run in plan.frame.runs.items() if run.role in ("hoop", "rafter", "header") and k.endswith(" 1")]
    points = np.array([lines[k].point(s) for k in over for s in np.linspace(0, lines[k].length_m, 3000)])
    ends = points[[0, -1]]
    askew = math.hypot(*(ends[1] - ends[0])[:2]) / abs(ends[1][0] - ends[0][0])
    middle = (ends[0] + ends[1])[0] / 2
    found = []
    for edge in (middle - build.path_m / 2, middle + build.path_m / 2):
        along = np.abs(points[:, 0] - edge) * askew  # across the tube's plane
        near = along < outer / 2
        found.append((points[near, 2] - np.sqrt((outer / 2) ** 2 - along[near] ** 2)).min())
    return found


ROOMY = {
    "between_m": st.floats(1.4, 2.2), "path_m": st.floats(0.6, 1.2), "height_m": st.floats(2.6, 3.3),
    "headroom_m": st.just(1.5), "hanging_m": st.floats(0, 0.3), "shift_m": st.floats(-0.9, 0.9),
    "pitch_deg": st.floats(15, 45), "base": st.sampled_from(["timber bed", "tube bed", "stakes", "sleeves"]),
    "form": st.sampled_from(["half-hoop", "two bends", "flat", "gabled"]), "roof_purlins": st.just(5),
}  # fmt: skip


@pytest.mark.outside(
    *(
        f"geometry.clearance.{name}"
        for name in ("under_bend_mm", "under_rail_mm", "under_slope_mm", "headroom_left_mm")
    ),
    source="numpy",
)
@settings(max_examples=40, deadline=None)
@given(st.fixed_dictionaries(ROOMY))
def test_headroom_is_what_is_measured_in_the_frame(values):
    """The formula for the underside at the edge of the path agrees with points taken along the tubes themselves."""
    build = WalkwayArch(tube="emt-3/4", **values)
    plan = gardenframe.plan(build)
    worked = np.array(underside_m(plan, build)) - build.hanging_m
    ours = [build.room.headroom_m] * 2
    assert ours == as_worked(worked, "m", "headroom at both edges of the path, from points on tubes", abs=0.002)


@pytest.mark.outside("builds.walkway_arch_room", source="second-method")
def test_headroom_under_a_half_hoop_by_pythagoras():
    """Radius inside 500 mm, edge of the path 300 mm aside: 400 mm above the spring of the hoop."""
    outer = EMT_3_4_MM / 1000
    between = 2 * (0.5 + outer / 2) - 2 * 0.038 - outer  # so that the inside of the hoop has a radius of 500 mm
    build = WalkwayArch(tube="emt-1/2", between_m=between, path_m=0.6, headroom_m=1.5, height_m=2.4, hanging_m=0.0)
    half_inch = 0.706 * INCH / 1000
    inside = (between + 2 * 0.038 + half_inch) / 2 - half_inch / 2
    worked = 2.4 - half_inch - inside + math.sqrt(inside**2 - 0.3**2)
    assert build.room.headroom_m == as_worked(worked, "m", "headroom under a half hoop by Pythagoras", abs=1e-9)


REFUSED = {
    "radius below the least of the jig": (
        {"form": "two bends", "bend_with": "jig", "radius_m": 0.5},
        r"^Bend radius: got 500 mm, needs at least .* the least of the grooved jig for hoops of EMT 3/4 in",
    ),
    "half hoop rounder than the jig makes": (
        {"between_m": 1.0},
        r"^Between the beds: got 1000 mm, needs about .* or more: this half hoop has a radius of 550 mm .* at 65\d mm",
    ),
    "bend overlaps the next": (
        {"form": "two bends", "bend_with": "jig", "radius_m": 0.7},
        r"^Bend radius: got 700 mm, needs at most 0\.659 m .*, half of what it spans: else one bend overlaps the",
    ),
    "no bender for the tube": (
        {"tube": "emt-2"},
        r"^Tube: got EMT 2 in, needs a tube with a jig in the table of benders",
    ),
    "straight end shorter than the bender holds": (
        {"straight_m": 0.15},
        r"^Straight below a bend: got 150 mm, needs at least 0\.20 m .*, what the grooved jig .* holds straight\.",
    ),
    "headroom": (
        {"height_m": 2.25},
        r"^Height: got 2250 mm, needs at least 2\.3\d+ m .* for that headroom at the edge of the path\.",
    ),
    "hanging plants take the headroom": ({"hanging_m": 0.5}, r"^Height: got 2400 mm, needs at least 2\.\d+ m"),
    "beds overlap the path": (
        {"form": "flat", "between_m": 0.8},
        r"^Between the beds: got 800 mm, needs at least 0\.915 m .* for that path: the beds overlap it\.",
    ),
    "legs overlap the path": (
        {"form": "flat", "between_m": 0.93, "base": "stakes"},
        r"^Between the beds: got 930 mm, needs at least 0\.962 m .* for that path: the legs overlap it\.",
    ),
    "too low for its rails": (
        {"left_depth_m": 0.9, "headroom_m": 1.5, "height_m": 1.9},
        r"^Height: got 1900 mm, needs at least .* for the rails at the sides\.",
    ),
    "frames too close": ({"length_m": 0.9, "frames": 6}, r"^Frames: got 6, needs at most 4 in that length\."),
    "frames too far": ({"length_m": 9.0, "frames": 2}, r"^Frames: got 2, needs at least 4 in that length\."),
}


@pytest.mark.parametrize(("values", "sentence"), REFUSED.values(), ids=REFUSED)
def test_what_cannot_be_is_one_sentence(values, sentence):
    """Each bad input names the field, what came, and what would do."""
    with pytest.raises(FieldError, match=sentence):
        WalkwayArch(**values)


def test_the_height_a_refusal_asks_for_is_enough():
    """Built to the height that the sentence about headroom gives, the arch is taken; 2 mm lower it is not."""
    room = WalkwayArch(hanging_m=0.0).room
    least = 2.40 + 2.032 + 0.4 - room.headroom_m
    assert WalkwayArch(hanging_m=0.4, height_m=least).room.headroom_m == pytest.approx(2.032)
    with pytest.raises(FieldError, match="headroom"):
        WalkwayArch(hanging_m=0.4, height_m=least - 0.002)


@pytest.mark.parametrize(
    ("key", "values"),
    [
        ("radius_m", {"form": "two bends", "bend_with": "jig", "radius_m": 0.7}),
        ("radius_m", {"form": "two bends", "bend_with": "jig", "radius_m": 0.5}),
        ("between_m", {"between_m": 1.0}),
        ("between_m", {"form": "flat", "between_m": 0.6, "path_m": 0.6, "base": "sleeves"}),
        ("height_m", {"height_m": 2.25}),
    ],
)
def test_the_length_that_a_refusal_gives_serves(key, values):
    """Typed back in either system, the length that the sentence names is taken: it is rounded to the side that fits."""
    with pytest.raises(FieldError) as refused:
        WalkwayArch(**values)
    metric, us = re.search(r"(\d+\.\d+ m) \(([^)]+)\)", refused.value.needs).groups()
    for text, system in ((metric, "metric"), (us, "us")):
        WalkwayArch(**values | {key: units.parse(text, "length", system)})


def test_a_hoop_longer_than_a_stick_is_coupled_beside_a_purlin():
    """Each piece fits a stick with the ends its jig holds; couplings stand 0.1 m from a purlin, off the crown."""
    build = WalkwayArch(between_m=1.8, tube="emt-1", height_m=2.7, frames=4, roof_purlins=5)
    plan = gardenframe.plan(build)
    hoops = [run for run in plan.frame.runs.values() if run.role == "hoop"]
    assert all(run.splices for run in hoops)
    for run in hoops:
        at = {c.joint: c.station_m for c in plan.frame.on[run.key]}
        whole = plan.frame.lines[run.key].length_m
        for coupling in run.splices:
            nearest = min(abs(at[coupling] - s) for joint, s in at.items() if "purlin" in joint)
            assert nearest == pytest.approx(0.1, abs=1e-6)
            assert abs(at[coupling] / whole - 0.5) > 0.1
    stations = [plan.frame.on[run.key] for run in hoops[:2]]
    first, second = ([c.station_m for c in on if "coupling" in c.joint] for on in stations)
    assert first != pytest.approx(second)  # staggered
    for piece in plan.cut:
        if piece.bends:
            bend_sheet(piece, plan.shop.member("emt-1"), bender_for("emt-1", "jig"))


def test_no_place_for_a_coupling_is_a_sentence():
    """A shoe's bends cannot be matched, and one purlin at the crown offers no place."""
    build = WalkwayArch(form="two bends", between_m=2.6, straight_m=0.6, roof_purlins=1)
    with pytest.raises(FrameError, match=r"no coupling beside a purlin serves\. Take more purlins"):
        _ = gardenframe.plan(build).pieces


def test_longer_sticks_need_no_coupling():
    """A shop with 20 ft sticks bends the same hoop whole."""
    build = WalkwayArch(between_m=1.8, tube="emt-1", height_m=2.7)
    plan = gardenframe.plan(build, shop=Shop(sticks={"emt-1": (6096.0,)}))
    assert not any(run.splices for run in plan.frame.runs.values())


@pytest.mark.parametrize("name", WalkwayArch.examples)
def test_every_example_gives_the_headroom_and_width_of_the_figures(name):
    """Nothing falls short of the figures for access, and no warning is needed."""
    plan = gardenframe.plan(WalkwayArch(**WalkwayArch.examples[name]))
    access = plan.checks[plan.checks["check"].str.startswith("access")]
    assert (access["ratio"] <= 1).all()
    assert plan.warnings == ()
    assert len(plan.cautions) > 8


def test_rows_of_plants_weigh_what_their_masses_say():
    """Two rows along the arch, at the high mass of the table, whatever the form shares between sides and top."""
    for form in ("half-hoop", "flat", "gabled"):
        build = WalkwayArch(form=form, plant="runner-bean", height_m=2.6)
        plan = gardenframe.plan(build)
        weight = -plan.loads.set_index("case").loc["P", "z_n"]
        plants = 2 * 1.52 / 0.150  # a row at each side, 150 mm apart
        assert weight == pytest.approx(plants * 2.5 * 9.80665, rel=0.002)


@settings(max_examples=10, deadline=None)
@given(st.floats(-0.9, 0.9), st.integers(1, 7), st.integers(2, 5))
def test_loads_on_a_skewed_flat_top_stay_bounded(shift, purlins, frames):
    """What is put on runs is not many times the load itself: no lever near a slanting corner runs away."""
    build = WalkwayArch(form="flat", shift_m=shift, roof_purlins=purlins, frames=frames, length_m=2.4, between_m=1.6)
    loads = gardenframe.plan(build, live=True).standing.loads
    for case in loads.cases:
        if case.key != "P":
            continue
        whole = sum(
            (load.from_m, load.to_m, abs(load.force_n_per_m[2]) + abs((load.to_n_per_m or load.force_n_per_m)[2]))[2]
            * (load.to_m - load.from_m) / 2
            for load in case.loads
        )  # fmt: skip
        net = -sum(row["z_n"] for row in loads.rows if row["case"] == "P")
        assert net <= whole * (1 + 1e-9) <= 3 * net


def test_both_beds_hold_the_arch_down():
    """With a mesh under the soil two beds hold twice what one does, and the base reaches over both."""
    from gardenframe.materials import soils
    from gardenframe.strength.overturning import bed_of

    plan = gardenframe.plan(WalkwayArch())
    timber = plan.shop.member("timber-2x6")
    bed = bed_of(plan.frame, soils.find("topsoil"), timber, bottomed=True)
    assert bed.corners[:, 0].min() == pytest.approx(-0.91)
    assert bed.corners[:, 0].max() == pytest.approx(1.22 + 0.91)
    left, right = (bed.lift_n[bed.at[:, 0] * way > limit].sum() for way, limit in ((-1, -0.61), (1, 0.61)))
    assert left == pytest.approx(right)


def test_a_higher_right_bed_shortens_its_legs_by_the_step():
    """A bed one step up: its legs are shorter by just that, nothing else changes."""
    level, up = (gardenframe.plan(WalkwayArch(level_m=step)) for step in (0.0, 0.15))
    long, short = lengths_mm(up, "post")
    assert lengths_mm(level, "post") == pytest.approx([long])
    assert long - short == pytest.approx(150)


USUAL = {
    "frames": st.integers(2, 4), "headroom_m": st.floats(1.5, 1.9), "path_m": st.floats(0.6, 0.9),
    "height_m": st.floats(2.3, 3.3), "between_m": st.floats(0.95, 2.4), "hanging_m": st.floats(0, 0.2),
    "length_m": st.floats(0.9, 4.0), "straight_m": st.floats(0.3, 0.5), "side_rails": st.integers(2, 3),
}  # fmt: skip


@settings(max_examples=40, deadline=None)
@given(st.fixed_dictionaries({field.key: any_value(field) for field in WalkwayArch.fields()} | USUAL), st.booleans())
def test_every_choice_gives_a_plan_or_a_sentence(values, metric):
    """All fields random: everything is read without a crash, and nothing is a mechanism; or one sentence."""
    said = ""
    try:
        plan = gardenframe.plan(WalkwayArch(**values), site=Site(ground_snow_pa=500.0 if metric else 0.0), live=True)
        for name in READ:
            getattr(plan, name)
        plan.worked("metric" if metric else "us")
        assert plan.checks["ratio"].max() < 1000
        assert plan.bill["cost"].sum() == pytest.approx(plan.cost.usual)
    except GardenframeError as refused:
        said = str(refused)
    assert not said or said.rstrip().endswith((".", ")"))


def test_the_chart_shares_cost_over_the_path_and_finds_its_jumps():
    """Across widths: cost of a square metre is cost over width times length; a jump is found to the millimetre."""
    from gardenframe.studies.across import across, field_to_vary, jumps

    plan = gardenframe.plan(WalkwayArch(form="flat", height_m=2.6), live=True)
    assert field_to_vary(plan) == "between_m"
    points = across(plan, "between_m", points=9)
    for point in points:
        assert point.shown_cost * point.value * 1.52 == pytest.approx(point.cost)
    found = jumps(points)
    assert found
    for jump in found:
        assert jump.after.value - jump.before.value <= 0.001
        below, above = (
            gardenframe.plan(WalkwayArch(form="flat", height_m=2.6, between_m=point.value)).cutting["emt-3/4"].sticks
            for point in (jump.before, jump.after)
        )
        assert below != above


@settings(max_examples=12, deadline=None)
@given(
    st.sampled_from(["half-hoop", "two bends", "flat", "gabled"]), st.floats(0.95, 2.4), st.floats(0.3, 2.4),
    st.floats(-0.4, 0.4), st.floats(-0.9, 0.9), st.sampled_from(["metric", "us"]), st.sampled_from([440, 820]),
)  # fmt: skip
def test_no_words_lie_on_words_in_its_drawing(form, between, width, level, shift, system, px):
    """The sheet of any arch keeps its words apart and on the sheet, measured with the widest usual letters."""
    values = {"form": form, "between_m": max(between, 1.35) if form == "half-hoop" else between, "path_m": 0.8}
    build = WalkwayArch(height_m=3.0, right_width_m=width, level_m=level, shift_m=shift, **values)
    plan = gardenframe.plan(build, live=True)
    assert overlapping(drawing(plan.frame, plan.marks, system, width_px=px, members=plan.shop.members)) == []
