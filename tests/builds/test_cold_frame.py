"""A cold frame: lengths and lid worked apart, its prop against energy and the solver, sun and heat, what is refused."""

import cmath
import math
from dataclasses import replace

import pvlib
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from printed import as_printed, as_worked
from scipy.integrate import quad
from scipy.optimize import brentq
from whole_plan import READ, any_value

import gardenframe
from gardenframe.builds import ALL, cold_frame_lid
from gardenframe.builds.cold_frame import ColdFrame
from gardenframe.builds.cold_frame_laid import Laid
from gardenframe.builds.fields import FieldError
from gardenframe.climate import frames, heat, sky, sun
from gardenframe.errors import GardenframeError, InputError
from gardenframe.geometry.fittings import fit
from gardenframe.geometry.vectors import distance
from gardenframe.materials.shop import Shop
from gardenframe.materials.site import Site
from gardenframe.materials.soils import PSF_PA
from gardenframe.strength import lids
from gardenframe.strength.standing import Standing

SITE, SHOP = Site(), Shop()
G = 9.80665


def planned(**fields):
    """Return the plan of a cold frame at the usual site."""
    return gardenframe.plan(ColdFrame(**fields), SITE, SHOP)


def standing(plan, frame):
    """Return a frame of the plan's cold frame, loaded."""
    fitted = fit(frame, SHOP.fittings, SHOP.members)
    return Standing(frame=frame, fitted=fitted, covered=plan.covered, site=SITE, members=SHOP.members)


# --- lengths


def test_every_piece_of_the_default_worked_apart():
    """3/4 in tube is 23.4188 mm outside, its clamp-on fittings stop 19 mm short (invented); a bed of 280 mm.

    Front posts 280 + 300 - 11.7094 - 19, back ones 200 more; ties 910 - 23.4188 - 38; low rails half of
    1830 - 23.4188, less 38; upper rails pass the middle post; lids 910 wide, 200 up over 886.5812.
    """
    pieces = planned().pieces
    found = {(row["role"], round(row["length_mm"], 2)): row["count"] for _, row in pieces.iterrows()}
    slope = math.sqrt(886.5812**2 + 200**2)
    assert found == {
        ("post", 549.29): 3, ("post", 749.29): 3, ("rail", 848.58): 6, ("rail", 865.29): 4, ("rail", 1768.58): 2,
        ("lid", 848.58): 4, ("lid", round(slope - 38, 2)): 6,
    }  # fmt: skip


@pytest.mark.parametrize("joining", ["clamp-on", "slip-on"])
@pytest.mark.parametrize("name", ColdFrame.examples)
def test_what_meets_at_hinges_and_latches(joining, name):
    """Each lid hangs on its hinges and rests on two latches; elsewhere a row of the fittings table serves."""
    build = ColdFrame(**ColdFrame.examples[name] | {"joining": joining})
    words = [fitted.fitting for fitted in gardenframe.plan(build, SITE, SHOP).fitted]
    assert words.count("hinge") == build.lids * build.hinges
    assert words.count("latch") == 2 * build.lids
    assert "cap" not in words


# --- the lid as a body that turns

ANGLES = st.floats(3.0, 80.0)


@settings(max_examples=25, deadline=None)
@given(ANGLES, st.floats(0.06, 0.5), st.integers(1, 3))
def test_a_lid_turns_as_a_rigid_body(opened, rise, number):
    """Every distance between its joints stays, the hinge line keeps its place, the front edge rises."""
    build = ColdFrame(lids=number, back_m=0.3 + max(rise, 0.12), tube="emt-3/4")
    shut, open_ = Laid(build, SHOP).frame(), Laid(build, SHOP, opened).frame()
    mine = [k for k in shut.joints if k.startswith("lid 1 front") or k.startswith("lid 1 back")]
    for a in mine:
        for b in mine:
            before, after = (distance(f.joints[a].at, f.joints[b].at) for f in (shut, open_))
            assert after == pytest.approx(before, abs=1e-9)
    part = next(part for part in shut.parts if part.key == "lid 1")
    for key in mine:
        arms = [math.dist(f.joints[key].at[1:], part.axis_at[1:]) for f in (shut, open_)]
        assert arms[0] == pytest.approx(arms[1], abs=1e-9)
    assert open_.joints["lid 1 front 1"].z_m > shut.joints["lid 1 front 1"].z_m


def test_the_lid_lies_on_the_rails_and_rolls_without_cutting_into_them():
    """Axes of lid and frame are one diameter apart at the back when closed, and never nearer."""
    outer = SHOP.member("emt-3/4").outer_mm / 1000
    for opened in (0.0, 20.0, 60.0, 80.0):
        frame = Laid(ColdFrame(), SHOP, opened).frame()
        contacts = frame.contacts["lid 1 hinge 1"]
        apart = next(math.hypot(*contact.offset) for contact in contacts if contact.run.startswith("lid"))
        assert apart >= outer - 1e-9
        assert opened or apart == pytest.approx(outer)


# --- weight, hand, prop


@pytest.mark.outside("strength.lids.lid_mass_kg", "strength.lids.hand_n", source="second-method")
def test_the_lid_of_the_default_weighed_by_hand():
    """4 pieces across share two lids: 2 of 0.84858 and 3 of 0.87086 m, and the sheet between the axes of its rails.

    EMT 3/4 in by density: pi/4 (23.4188² - 20.9296²) mm² at 7850 kg/m³ is 0.6805 kg/m; 6 mm twin wall 1.3 kg/m².
    """
    lid = cold_frame_lid.lid_of(planned())
    per_m = math.pi / 4 * (23.4188**2 - (23.4188 - 2 * 1.2446) ** 2) * 1e-6 * 7850
    slope = math.sqrt(0.8865812**2 + 0.2**2)
    mass = (2 * 0.8485812 + 3 * (slope - 0.038)) * per_m + 0.8865812 * slope * 1.3
    assert lid.mass_kg == as_worked(mass, "kg", "one lid of the default frame, by volumes of steel", rel=1e-4)
    assert mass == pytest.approx(3.98, abs=0.01)
    theirs = mass * G / 2 * 0.8865812 / slope  # by like triangles
    assert lid.hand_n() == as_worked(theirs, "N", "lift at its front edge", rel=1e-4)


@pytest.mark.outside("strength.lids.lid_mass_kg", source="emt-dimensions")
def test_a_lid_by_printed_weights():
    """100 ft of 3/4 in tube weigh 46 lb in print."""
    pounds = lids.lid_mass_kg(30.48, SHOP.member("emt-3/4").mass_kg_per_m, 0.0, 1.3) / 0.45359237
    assert pounds == as_printed("46", "lb", "a lid of 100 ft of 3/4 in tube, without its glazing")


@pytest.mark.outside("strength.lids.tilt_deg", source="second-method")
def test_the_slope_of_a_printed_cold_frame():
    """12 in before and 18 in behind over 3 ft, as a garden column has it: 9.5 deg, worked apart; and as an argument."""
    ours = lids.tilt_deg(6.0, 36.0)
    assert ours == as_worked(9.5, "deg", "slope of a lid that rises 6 in over 36", abs=0.05)
    assert ours == as_worked(
        math.degrees(cmath.phase(36 + 6j)), "deg", "slope of a lid that rises 6 in over 36, as the angle of 36 + 6i"
    )


@pytest.mark.outside(
    "strength.lids.above_level_deg", "strength.lids.prop_m", "strength.lids.opened_deg", "strength.lids.lid_moment_n_m",
    "strength.lids.prop_n", "strength.lids.hand_n", source="second-method",
)  # fmt: skip
@pytest.mark.parametrize(("opened", "tilt"), [(10.0, 12.7), (30.0, 9.5), (60.0, 20.0)])
def test_a_lid_as_points_that_turn(opened, tilt):
    """The front edge as a point of a plane, turned about the hinge; forces by moments of arrows about it."""
    length, mass, said = 0.9, 8.0, f"lid opened {opened:g} deg from a slope of {tilt:g}"
    closed = length * cmath.exp(-1j * math.radians(tilt))
    front = closed * cmath.exp(1j * math.radians(opened))
    above = lids.above_level_deg(opened, tilt)
    assert above == as_worked(math.degrees(cmath.phase(front)), "deg", f"above level, {said}", abs=1e-9)
    prop = lids.prop_m(length, opened)
    assert prop == as_worked(abs(front - closed), "m", f"prop, {said}")
    found = brentq(lambda a: abs(closed * cmath.exp(1j * math.radians(a)) - closed) - prop, 0.0, 90.0)
    assert lids.opened_deg(prop, length) == as_worked(found, "deg", f"opened by that prop, {said}", rel=1e-6)

    def about_hinge(at, force):
        return (at.conjugate() * force).imag

    turning = -about_hinge(front / 2, complex(0.0, -mass * G))
    moment = lids.lid_moment_n_m(mass, length, above)
    assert moment == as_worked(turning, "N m", f"moment of its weight, {said}")
    along = (front - closed) / abs(front - closed)
    theirs = turning / about_hinge(front, along)
    assert lids.prop_n(moment, length, opened) == as_worked(theirs, "N", f"push of the prop, {said}")
    lift = turning / about_hinge(front, front / abs(front) * 1j)
    assert lids.hand_n(moment, length) == as_worked(lift, "N", f"lift square to it, {said}")


@pytest.mark.outside("strength.lids.lifting_pa", "strength.lids.lifting_gust_m_per_s", source="scipy")
def test_the_gust_under_a_lid_by_adding_up():
    """Pressure on every strip times its way to the hinge comes to the moment; the gust by 0.00256 V² in psf and mph."""
    moment, wide, length, net = 33.2, 1.8, 0.9, 1.2
    of_one = quad(lambda r: wide * r, 0, length)[0]
    lifting = lids.lifting_pa(moment, wide * length, length)
    assert lifting == as_worked(moment / of_one, "Pa", "pressure that lifts a lid, by strips")
    mph = math.sqrt(lifting / PSF_PA / net / 0.00256)
    ours = lids.lifting_gust_m_per_s(lifting, net) / 0.44704
    said = "gust that throws it open, by the form in pounds"
    assert ours == as_worked(mph, "mph", said, source="asce7-velocity-pressure", rel=1e-3)


def test_a_lid_that_lies_level_is_lifted_by_half_its_weight():
    """A beam hinged at one end: 10 kg, level, 49 N at the other end; propped there by as much."""
    moment = lids.lid_moment_n_m(10.0, 1.2, 0.0)
    assert moment == pytest.approx(10 * G * 0.6)
    assert lids.hand_n(moment, 1.2) == pytest.approx(49.03, abs=0.01)
    assert lids.prop_n(moment, 1.2, 1e-6) == pytest.approx(49.03, abs=0.01)


def test_a_prop_as_long_as_the_lid_makes_an_equal_triangle():
    """60 degrees; its force by the polygon of forces: weight 100 N, lever half of L cos(60 - 20), arm L cos 30."""
    assert lids.opened_deg(0.9, 0.9) == pytest.approx(60)
    assert lids.prop_m(0.9, 60.0) == pytest.approx(0.9)
    moment = lids.lid_moment_n_m(100 / G, 0.9, lids.above_level_deg(60.0, 20.0))
    assert moment == pytest.approx(100 * 0.45 * math.cos(math.radians(40)))
    assert lids.prop_n(moment, 0.9, 60.0) == pytest.approx(44.2, abs=0.05)


@pytest.mark.outside("strength.lids.prop_n", "strength.lids.lid_moment_n_m", source="second-method")
@given(st.floats(1, 40), st.floats(0.4, 1.6), st.floats(0, 50), ANGLES)
def test_the_prop_against_the_energy_of_lifting(mass, length, tilt, opened):
    """Force is energy gained for each metre of prop: the slope of m g z over p, by central difference."""

    def height(angle):
        return length / 2 * math.sin(math.radians(angle - tilt))

    step = 1e-4
    gained = mass * G * (height(opened + step) - height(opened - step))
    longer = lids.prop_m(length, opened + step) - lids.prop_m(length, opened - step)
    moment = lids.lid_moment_n_m(mass, length, lids.above_level_deg(opened, tilt))
    ours = lids.prop_n(moment, length, opened)
    assert ours == as_worked(gained / longer, "N", "energy gained for each metre of prop", rel=1e-4, abs=1e-3)


@pytest.mark.parametrize("opened", [10.0, 30.0, 55.0])
def test_the_prop_in_the_frame_that_is_solved(opened):
    """The solver, which knows nothing of the lid's formula, finds the same force under the lid's weight alone.

    Taken at the head of the prop, so without its own weight. The formula has the prop start at the lid's own line, the
    frame one tube below it: a few per cent.
    """
    plan = planned(lids=1, width_m=1.2, opened_deg=opened)
    frame = cold_frame_lid.open_frame(plan)
    response = standing(plan, frame).under(site=Site(wind_m_per_s=0.0)).response
    case = response.cases.index("D")
    mesh = response.mesh
    last = int(mesh.first[mesh.run_index["prop 1"] + 1]) - 1
    solved = -float(response.ends[case, last, 6])
    assert solved == pytest.approx(cold_frame_lid.lid_of(plan).prop_n(opened), rel=0.04)


def test_the_gust_that_throws_a_lid_open_worked_apart():
    """40 Pa under a plate of net coefficient 1.2: V = sqrt(40 / (0.613 x 1.2)) = 7.37 m/s; its moment balances."""
    assert lids.lifting_gust_m_per_s(40.0, 1.2) == pytest.approx(7.374, abs=0.001)
    lid = cold_frame_lid.lid_of(planned())
    pressure = 0.613 * 1.2 * lid.gust_m_per_s(30.0) ** 2
    assert pressure * lid.glazing_m2 * lid.length_m / 2 == pytest.approx(lid.moment_n_m(30.0))


def test_an_untied_lid_is_told_the_gust_it_stands():
    """The row is there when nothing hooks the lid down, and over its limit in a wind that throws it open."""
    name = "lid open: gust that throws it over"
    assert name not in set(planned().checks["check"])
    rows = planned(tied=False, open_wind_m_per_s=12.0).checks.set_index("check")
    assert rows.loc[name, "ratio"] > 1


@pytest.mark.parametrize("hinges", [2, 4])
def test_a_wide_lid_is_lifted_off_its_latches_before_its_frame_gives(hinges):
    """At the gust limit each of two latches holds a quarter of the lift, however many hinges the back edge has."""
    wide = {"width_m": 3.0, "depth_m": 1.5, "lids": 1, "bars": 3, "back_m": 0.7, "base": "sleeves", "buried_m": 0.9}
    plan = planned(**wide, tube="emt-1-1/4", hinges=hinges)
    limit = next(one for one in plan.limits if one.what == "gust" and one.condition == "covered")
    assert limit.governs.check == "lid: pull on each hinge and latch"
    there = replace(plan.site, wind_m_per_s=limit.value, wind_kind="forecast")
    loads = gardenframe.plan(plan.build, there).standing.loads
    lift_n = max(force for case, force in loads.faces["lid 1"].items() if case.endswith(" up"))
    assert lift_n / 4 == pytest.approx(400.0, rel=1e-6)
    assert plan.build.gust_m_per_s(plan) == pytest.approx(limit.value, rel=1e-6)


def test_checks_run_closed_and_open():
    """The open frame has its own rows with its prop; snow lies on the closed lid only."""
    snowed = gardenframe.plan(ColdFrame(), replace(SITE, ground_snow_pa=2000.0), SHOP).checks
    open_ = snowed[snowed["check"].str.startswith("lid open")]
    assert {"lid open: prop: bending and axial force"} <= set(open_["check"])
    assert not open_["case"].str.contains("S").any()
    assert snowed["case"].str.contains("S").any()


# --- sun and heat


@pytest.mark.outside("builds.cold_frame_lid.noon_incidence_deg", source="pvlib")
@pytest.mark.parametrize(("latitude", "day"), [(45.0, 344.0), (52.0, 75.0), (35.0, 162.0)])
def test_noon_incidence_against_a_library_of_the_sun(latitude, day):
    """The angle of incidence on a lid of 12.7 deg that looks south, the sun due south at noon."""
    declination = sun.declination_deg(day)
    theirs = pvlib.irradiance.aoi(12.7, 180.0, latitude - declination, 180.0)
    ours = cold_frame_lid.noon_incidence_deg(latitude, declination, 12.7)
    assert ours == as_worked(theirs, "deg", f"noon sun to a lid's square, latitude {latitude:g}, day {day:g}", rel=1e-6)


@given(st.floats(-60, 60), st.sampled_from(sun.MIDDLE_DAYS), st.floats(0, 60))
def test_noon_incidence_against_vectors(latitude, day, tilt):
    """The hand formula against the dot product of sun and lid, wherever the sun stands on the lid's side."""
    declination = sun.declination_deg(float(day))
    height = 90 - abs(latitude - declination)
    assume(height > 0 and abs(latitude - declination) > 1e-6)
    towards = 1.0 if latitude > declination else -1.0
    cosine = sky.incidence_cosine(height, 0.0, tilt)
    angle = cold_frame_lid.noon_incidence_deg(latitude, declination, towards * tilt)
    assert math.cos(math.radians(angle)) == pytest.approx(cosine, abs=1e-9)


def test_sun_by_month_follows_the_place():
    """At 45° north: 45 - 22.9 on 10 December, 45 + 23.1 on 11 June (declinations of an almanac, from memory)."""
    rows = {month: row for month, *row in cold_frame_lid.sun_by_month(planned())}
    assert rows["Dec"][0] == pytest.approx(22.1, abs=0.2)
    assert rows["Jun"][0] == pytest.approx(68.1, abs=0.2)
    steep = {m: row for m, *row in cold_frame_lid.sun_by_month(planned(front_m=0.25, back_m=0.85, depth_m=0.8))}
    assert steep["Dec"][2] > rows["Dec"][2]
    assert steep["Jun"][2] < rows["Jun"][2]


def test_the_prop_shown_keeps_the_frame_at_its_limit():
    """Heat in equals heat out at the limit, solved apart by another root finder."""
    build = ColdFrame()
    climate = cold_frame_lid.climate_of(build, 0.0234188)
    rise = build.limit_degc - build.outside_degc
    gain = build.sun_w_per_m2 * climate.lid_m2 * climate.light_ratio * 0.75

    def left(prop_m):
        opening = prop_m * (climate.width_m + climate.depth_m)
        speed = 0.65 / 3 * math.sqrt(9.81 * prop_m * rise / (build.limit_degc + 273.15))
        return gain - climate.loss_w_per_k * rise - 0.33 * 3600 * opening * speed * rise

    wanted = brentq(left, 1e-4, 1.0)
    assert climate.prop_m(build.outside_degc, build.sun_w_per_m2, build.limit_degc) == pytest.approx(wanted, rel=1e-6)


@settings(max_examples=30, deadline=None)
@given(st.floats(-10, 30), st.floats(0, 1000), st.floats(20, 40))
def test_more_sun_never_asks_for_a_smaller_prop(outside, light, limit):
    """Order over all that the sliders reach; None, the lid off, is more than any prop."""
    climate = cold_frame_lid.climate_of(ColdFrame(), 0.0234)
    props = [climate.prop_m(outside, sun_, limit) for sun_ in (light, light + 100)]
    assert (math.inf if props[1] is None else props[1]) >= (math.inf if props[0] is None else props[0]) - 1e-9
    assert isinstance(climate, frames.ColdFrame)
    assert heat.ZERO_K == 273.15


# --- everything that a reader can choose


FEW = {"lids": st.integers(1, 3), "bars": st.integers(0, 3), "most_open_deg": st.floats(60, 90)}
FEW |= {"opened_deg": st.floats(5, 60), "back_m": st.floats(0.5, 1.3), "front_m": st.floats(0.25, 0.5)}


@settings(max_examples=15, deadline=None)
@given(st.fixed_dictionaries({field.key: any_value(field) for field in ColdFrame.fields()} | FEW), st.booleans())
def test_every_choice_gives_a_plan_or_a_sentence(values, live):
    """All fields random, closed and open: no crash and no mechanism; what is refused is one sentence."""
    said = ""
    try:
        build = ColdFrame(**values)
    except GardenframeError as refused:
        said = str(refused)
    if said:
        assert said.rstrip().endswith((".", ")"))
        return
    plan = gardenframe.plan(build, SITE, SHOP, live=live)
    for name in READ:
        getattr(plan, name)
    plan.worked("us")
    assert len(list(build.charts(plan, "us"))) == 3
    assert plan.checks["ratio"].map(math.isfinite).all()
    assert plan.bill["cost"].sum() == pytest.approx(plan.cost.usual)


@pytest.mark.parametrize("name", ColdFrame.examples)
def test_examples_are_what_people_would_build(name):
    """None is over a limit at the usual site, closed or open, nor what holds it."""
    plan = planned(**ColdFrame.examples[name])
    assert (plan.checks["ratio"] <= 1).all()
    assert (plan.anchors["ratio"] <= 1).all()


# --- what is refused


@pytest.mark.parametrize(
    ("fields", "sentence"),
    [
        (
            {"most_open_deg": 120.0},
            r"^Chain stops it at: got 120.*, needs at most 98°, nearly upright\. Past its hinge",
        ),
        ({"opened_deg": 125.0}, r"^(Lid opened|Chain).* nearly upright\. Past its hinge a lid falls over backwards"),
        ({"opened_deg": 85.0}, r"^Lid opened: got 85.*, needs at most 80°, where its chain stops the lid"),
        ({"back_m": 0.25}, r"^Back height: .* higher than the front\. Water must run off"),
        ({"front_m": 0.2, "tube": "emt-1-1/2"}, r"^Front height: got 200 mm, needs at least .* in this tube"),
        ({"lids": 6}, r"^Lids: got 6, needs at most 4 in that width"),
        ({"bars": 8}, r"^Bars in each lid: got 8, needs at most 4 in lids that wide"),
        ({"glazing": "glass-3", "bars": 0}, r"^Bars in each lid: got 0, needs at least 1 under glass\. A pane"),
        ({"glazing": "glass-3", "depth_m": 1.5}, r"^Glazing: got horticultural glass 3 mm, needs a lid at most"),
        ({"month": 13}, r"^Month: got month 13, needs January to December"),
        ({"width_m": math.nan}, r"^Width: got nan"),
    ],
)
def test_what_does_not_go_together_is_one_sentence(fields, sentence):
    """A lid past its hinge, a lid with no fall, panes that are not sold: the field is named, and what would do."""
    with pytest.raises(FieldError, match=sentence):
        ColdFrame(**fields)


def test_a_latitude_outside_the_earth():
    """The site says so before any sun is worked."""
    with pytest.raises(InputError, match=r"latitude: got 95.*-90 to 90 deg"):
        Site(latitude_deg=95.0)


def test_it_is_listed():
    """A stable key, and an example first that needs no argument."""
    assert ALL["cold_frame"] is ColdFrame
    assert next(iter(ColdFrame.examples.values())) == {}


EXAMPLES_SHEETS_FILM = (
    "Spring salads on a 6 ft bed (plot 4, invented)",
    "Seedlings under film, light and cheap (plot 7, invented)",
)


def test_sheets_and_boards_are_not_rolled_out():
    """What is screwed on in sheets takes a saw and a driver; only film comes off a roll."""
    sheets, film = (gardenframe.plan(ColdFrame(**ColdFrame.examples[n]), live=True).steps for n in EXAMPLES_SHEETS_FILM)
    assert not sheets["step"].str.contains("Roll the covering").any()
    assert sheets.loc[sheets["step"].str.startswith("Cut boards and sheets"), "tool"].tolist() == ["saw, driver"]
    assert film["step"].str.contains("Roll the covering").any()
    assert not film["step"].str.contains("Cut boards and sheets").any()
