"""A shade frame: lengths worked apart, tubes that never cut, one cloth in frame and shadow, sun, wires."""

import math
from dataclasses import replace
from itertools import combinations

import numpy as np
import pandas as pd
import pvlib
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from printed import as_worked
from scipy.optimize import brentq
from whole_plan import READ, any_value

import gardenframe
from gardenframe.builds import shade_frame_sun as sun_on
from gardenframe.builds import shade_frame_wires as on_wires
from gardenframe.builds.fields import FieldError
from gardenframe.builds.shade_frame import ShadeFrame
from gardenframe.builds.shade_frame_roof import Roof
from gardenframe.builds.shade_frame_wires import Wires
from gardenframe.climate import shade, sun
from gardenframe.errors import GardenframeError, InputError
from gardenframe.geometry.splices import CLEAR_M
from gardenframe.materials.shop import Shop
from gardenframe.materials.site import Site

SITE, SHOP = Site(), Shop()
FEW = {"bays": st.integers(1, 3), "rafters": st.integers(0, 3), "rise_m": st.floats(0.1, 0.7)}
EDGE = st.one_of(st.just(0.0), st.floats(0.1, 0.8))


ANY = {field.key: any_value(field) for field in ShadeFrame.fields()} | FEW
ANY |= dict.fromkeys(("overhang_m", "behind_m", "beside_m"), EDGE)


def built(values):
    """Return a build of random values, or let Hypothesis draw again where they do not go together."""
    try:
        return ShadeFrame(**values)
    except FieldError:
        assume(False)


# --- lengths and tubes


@pytest.mark.outside("builds.shade_frame", "plan.pieces", source="second-method")
def test_every_piece_of_a_plain_flat_frame_worked_apart():
    """1 in tube is 29.5402 mm outside; clamp-on tees stop 22 mm, swivels 33 mm short (invented).

    2000 by 1200 outside, 1500 clear, in sleeves 600 deep, no overhang, no braces: posts from -600 to the rail's axis at
    1500 + 14.7701, less 22; rails between axes 2000 - 29.5402, less 44; ties 1200 - 29.5402, less 44; rafters over the
    rails from 40 mm before to 40 mm past, 1170.4598 + 80.
    """
    build = ShadeFrame(
        form="flat",
        length_m=2.0,
        width_m=1.2,
        height_m=1.5,
        overhang_m=0.0,
        beside_m=0.0,
        braces=False,
        rafters=1,
        tube="emt-1",
    )
    pieces = gardenframe.plan(build, SITE, SHOP).pieces
    found = {(row["role"], round(row["length_mm"], 2)): row["count"] for _, row in pieces.iterrows()}
    assert found == {
        ("post", 2092.77): 4, ("rail", 1926.46): 2, ("header", 1126.46): 2, ("rafter", 1250.46): 3,
    }  # fmt: skip
    half = 29.5402 / 2
    wanted = {"post": 600 + 1500 + half - 22, "rail": 2000 - 2 * half - 44, "header": 1200 - 2 * half - 44,
              "rafter": 1200 - 2 * half + 80}  # fmt: skip
    for role, length in wanted.items():
        ours = pieces.loc[pieces["role"] == role, "length_mm"].iloc[0]
        assert ours == as_worked(length, "mm", f"{role} of a flat frame 2.0 by 1.2 m, added up", abs=0.001)


@pytest.mark.outside("builds.shade_frame", "plan.pieces", source="second-method")
def test_a_sloped_rafter_is_the_hypotenuse():
    """0.3 m up over 1.1704598 m, out 0.45 m before and 0.04 m past both ends, all along the slope."""
    build = ShadeFrame(length_m=2.0, width_m=1.2, rise_m=0.3, overhang_m=0.45, tube="emt-1")
    pieces = gardenframe.plan(build, SITE, SHOP).pieces
    level = 0.45 + 1.1704598 + 0.08
    rafter = pieces.loc[pieces["role"] == "rafter", "length_mm"]
    theirs = 1000 * level / math.cos(math.atan(0.3 / 1.1704598))
    assert rafter.tolist() == as_worked([theirs] * len(rafter), "mm", "rafters that rise 0.3 m", abs=0.01)


def apart_m(a, b):
    """Return the least distance between two straight lines, by trying the ends and solving for the middle. [m]"""
    p, u, q, v = a[0], a[1] - a[0], b[0], b[1] - b[0]
    w, uu, uv, vv = p - q, u @ u, u @ v, v @ v
    tries = [(0.0, v @ w / vv), (1.0, v @ (w + u) / vv), (-(u @ w) / uu, 0.0), ((u @ (v - w)) / uu, 1.0)]
    if uu * vv - uv**2 > 1e-12:
        tries.append(
            ((uv * (v @ w) - vv * (u @ w)) / (uu * vv - uv**2), (uu * (v @ w) - uv * (u @ w)) / (uu * vv - uv**2))
        )
    return min(np.linalg.norm(w + min(max(s, 0), 1) * u - min(max(t, 0), 1) * v) for s, t in tries)


@settings(max_examples=25, deadline=None)
@given(st.fixed_dictionaries(ANY))
def test_tubes_touch_where_they_are_joined_and_never_cut_into_each_other(values):
    """Axes of any two tubes that share no joint lie a diameter apart; where both pass, exactly one."""
    build = built(values)
    frame = build.frame(SHOP)
    outer = SHOP.member(build.tube).outer_mm / 1000
    lines = {key: tuple(np.array(p) for p in (line.point(0.0), line.point(line.length_m))) for key, line in
             frame.lines.items()}  # fmt: skip
    shared = {
        frozenset(pair) for contacts in frame.contacts.values() for pair in combinations([c.run for c in contacts], 2)
    }
    for a, b in combinations(lines, 2):
        if frozenset((a, b)) not in shared:
            assert apart_m(lines[a], lines[b]) >= outer - 1e-6, (a, b)
        elif "rafter" in a or "rafter" in b:
            assert apart_m(lines[a], lines[b]) == pytest.approx(outer, abs=1e-6)


@settings(max_examples=12, deadline=None)
@given(st.fixed_dictionaries(ANY), st.floats(-90, 90))
def test_every_choice_gives_a_plan_or_a_sentence(values, latitude):
    """All fields random: everything of a plan, its charts in both systems, or one sentence."""
    said, titles = "", []
    try:
        build = ShadeFrame(**values)
        plan = gardenframe.plan(build, replace(SITE, latitude_deg=latitude), SHOP, live=True)
        for name in READ:
            getattr(plan, name)
        plan.worked("us")
        titles = [made.title for system in ("metric", "us") for made in build.charts(plan, system)]
    except GardenframeError as refused:
        said = str(refused).rstrip()
    if said:
        assert said.endswith((".", ")"))
        return
    assert all(titles)
    assert plan.cost.usual > 0


@pytest.mark.parametrize("name", ShadeFrame.examples)
def test_every_example_stands_in_a_gust_with_its_cloth_on(name):
    """What people would build carries a gale with its cloth on: worked at 20 m/s, no row of strength is used up."""
    windy = replace(SITE, wind_m_per_s=20.0, wind_kind="forecast")
    build = ShadeFrame(**ShadeFrame.examples[name])
    plan = gardenframe.plan(build, windy, SHOP, live=True)
    standing = on_wires.out_standing(plan, 20.0) if build.form == "wires" else plan.standing
    assert max(standing.loads.faces["cloth back" if build.form == "pitched" else "cloth"].values()) > 20
    assert max(row.ratio for row in standing.rows) < 1


def test_a_rail_crowded_with_rafters_finds_a_place_for_its_coupling():
    """Rafters each 0.39 m leave no bay of 0.4 m: the coupling stands clear of the nearest fitting all the same."""
    build = ShadeFrame(form="flat", length_m=3.55, width_m=2.0, bays=3, rafters=2)
    frame = gardenframe.plan(build, SITE, SHOP).frame
    coupled = [run for run in frame.runs.values() if run.splices]
    assert coupled
    for run in coupled:
        at = {contact.joint: contact.station_m for contact in frame.on[run.key]}
        for joint in run.splices:
            others = [place for key, place in at.items() if key not in run.splices]
            assert min(abs(at[joint] - place) for place in others) >= CLEAR_M - 1e-9


# --- sun


@settings(max_examples=25, deadline=None)
@given(st.fixed_dictionaries(ANY | {"drawn": st.just(1.0)}))
def test_the_cloth_that_shades_is_the_cloth_that_is_built(values):
    """Turned back from the compass, the corners that the sun meets are those of the frame's panels."""
    build = built(values)
    frame, outer = build.frame(SHOP), SHOP.member(build.tube).outer_mm / 1000
    angle = -math.radians(180 - build.faces_deg)
    c, s = math.cos(angle), math.sin(angle)
    for panel, screen in zip(frame.panels, sun_on.cloths(build, Roof(build, outer)), strict=True):
        corners = np.array(screen.corners) @ np.array([[c, s, 0], [-s, c, 0], [0, 0, 1]])
        corners += [build.length_m / 2, (build.width_m - outer) / 2, 0.05 if build.form == "wires" else 0]
        drawn = np.array([piece.start for piece in panel.outline.pieces])
        assert np.sort(corners, axis=0) == pytest.approx(np.sort(drawn, axis=0), abs=1e-9)


@pytest.mark.outside("builds.shade_frame_sun", "climate.shade.overhang_m", source="pvlib")
@pytest.mark.parametrize("latitude", [35.0, 45.0, 52.0])
def test_the_overhang_by_hand_just_shades_by_the_map(latitude):
    """At noon, the front posts' line is in shade with a little more overhang and in sun with a little less."""
    build = ShadeFrame(form="flat", overhang_m=0.3, day=172)
    outer = SHOP.member(build.tube).outer_mm / 1000
    height = build.height_m + outer / 2 + outer  # to the axis of the rafters, where the cloth lies
    place = sun.at_solar_time(latitude, 172, 12)
    hand = shade.overhang_m(height, shade.profile_tangent(float(place.altitude_deg), 0.0))
    day = pd.DatetimeIndex(["2026-06-21 12:02"], tz="UTC")  # the sun's noon at Greenwich
    library = height / math.tan(math.radians(pvlib.solarposition.spa_python(day, latitude, 0.0)["elevation"].iloc[0]))
    what = f"overhang that just shades the front at noon, day 172, {latitude:g}° north"
    assert hand == as_worked(library, "m", what, abs=0.001)
    line = np.array([[0.0, -(build.width_m - outer) / 2, 0.0]])
    for more, expected in ((0.01, 0.6), (-0.01, 1.0)):
        cloth = sun_on.cloths(build, Roof(build, outer, hand + more))
        assert float(shade.beam_share(line, place.to_sun[None], cloth)[0, 0]) == expected


def test_faces_in_words_and_turned_the_other_way():
    """South in words is 180; a frame that looks east has its morning sun where one that looks west has its evening."""
    assert ShadeFrame(faces_deg="south") == ShadeFrame()
    assert ShadeFrame(day="17 Jul") == ShadeFrame()
    east, west = (sun_on.day_of(ShadeFrame(faces_deg=way), 0.0295, 45.0).under for way in ("east", "west"))
    assert east.passes.mean(axis=(2, 3)) == pytest.approx(west.passes.mean(axis=(2, 3))[:, ::-1], abs=1e-9)
    assert not np.allclose(east.passes.mean(axis=(2, 3)), west.passes.mean(axis=(2, 3)))


def test_titles_say_one_number_once_and_no_hour_where_none_is_shaded():
    """A high frame in December at 45 degrees: its shadow falls behind the bed all day."""
    plan = gardenframe.plan(ShadeFrame(day=355, height_m=1.5), SITE, SHOP, live=True)
    titles = [chart.title for chart in plan.build.charts(plan, "metric")]
    assert titles[0] == "21 Dec: 8.6 h of unshaded sun, of 8.6 h that the sun is up"
    assert titles[2] == "In Dec all of the sun arrives at every hour"
    july = gardenframe.plan(ShadeFrame(), SITE, SHOP, live=True)
    titles = [chart.title for chart in july.build.charts(july, "metric")]
    assert " to " in titles[0]
    assert "least sun arrives from" in titles[2]


def test_a_neighbour_takes_the_evening_and_leaves_the_morning():
    """A wall to the west: no morning sun is lost, the last hours are."""
    wall = ShadeFrame(neighbour_m=4.0, neighbour_to_deg="west", neighbour_off_m=3.0, neighbour_long_m=20.0)
    with_wall, free = (
        sun_on.day_of(build, 0.0295, 45.0).under.passes.mean(axis=(0, 2, 3)) for build in (wall, ShadeFrame())
    )
    assert with_wall[:20] == pytest.approx(free[:20])
    assert with_wall[-5:].max() == 0.0


def test_polar_day_and_night_are_sentences():
    """No crash, no number of hours that are not there."""
    north = replace(SITE, latitude_deg=80.0)
    night, light = (gardenframe.plan(ShadeFrame(day=day), north, SHOP) for day in ("21 Dec", "21 Jun"))
    assert any(said.startswith("On 21 Dec the sun does not rise at latitude 80°") for said in night.warnings)
    assert any(said.startswith("On 21 Jun the sun does not set at latitude 80°") for said in light.warnings)
    titles = [made.title for made in night.build.charts(night, "metric")]
    assert titles[0] == "21 Dec: the sun does not rise here"
    shown = next(iter(night.build.charts(night, "metric")))
    assert {value for row in shown.values for value in row} == {None}  # noqa: PD011 (not a DataFrame)


def test_a_high_cloth_is_told_that_it_misses_and_a_better_overhang_is_named():
    """Over 2.6 m a small cloth's shade falls beside the bed; one without an overhang hears of a better one."""
    high = gardenframe.plan(ShadeFrame(height_m=2.6), SITE, SHOP).warnings
    assert any("the shadow of the cloth falls mostly beside it" in said for said in high)
    bare = gardenframe.plan(ShadeFrame(overhang_m=0.0), SITE, SHOP).warnings
    assert any("the one that does most is 0.45 m" in said for said in bare)
    assert gardenframe.plan(ShadeFrame(), SITE, SHOP).warnings == ()


# --- wires


def test_advice_fits_what_is_wrong():
    """A cloth below the heads of those who sit is to be raised, not lowered; one that is gathered misses nothing."""
    low = gardenframe.plan(ShadeFrame(over="seat", height_m=0.95, form="flat"), SITE, SHOP, live=True).warnings
    assert any("lower than a sitting head, 1.20 m" in said and "raise" in said for said in low)
    assert not any("Lower the frame" in said or "meet it with" in said for said in low)
    gathered = gardenframe.plan(ShadeFrame(form="wires", drawn=0.0), SITE, SHOP, live=True).warnings
    assert not any("beside it" in said for said in gathered)
    drawn = gardenframe.plan(ShadeFrame(form="wires", height_m=2.4), SITE, SHOP, live=True).warnings
    assert any("beside it. Lower the frame" in said for said in drawn)


@pytest.mark.outside("builds.shade_frame_wires", source="scipy")
def test_the_wires_of_an_example_worked_by_hand():
    """50 % cloth 0.12 kg/m2 between wires, 12.5 gauge wire 2.515 mm of steel 7850 kg/m3, sag 2 % of the span.

    The pull is that of a rope's own curve, the catenary, a root of its sag: within 0.1 % of the parabola at this sag.
    """
    build = ShadeFrame(form="wires", length_m=3.0, width_m=1.2, cloth="shade-cloth-50", sag_share=0.02, tube="emt-1")
    span, apart = 3.0 - 0.0295402, 1.2 - 0.0295402 - 0.24
    weight = (0.12 * apart / 2 + math.pi / 4 * 0.002515**2 * 7850) * 9.80665
    wires = Wires(build)
    assert wires.weight_n_per_m == as_worked(weight, "N/m", "weight on a wire, cloth and its own", rel=1e-6)

    def sags(pull_n):
        return pull_n / weight * (math.cosh(weight * span / (2 * pull_n)) - 1) - 0.02 * span

    theirs = brentq(sags, 1.0, 1000.0)
    assert wires.strung_n == as_worked(theirs, "N", "pull of a wire that sags 2 % of its span", rel=1e-3)
    assert wires.strung_n == pytest.approx(weight * span**2 / (8 * 0.02 * span), rel=1e-6)
    needs = {need.item: need.number for need in on_wires.items(gardenframe.plan(build, SITE, SHOP))}
    assert needs == {"wire-12.5": 1, "turnbuckle-m6": 2, "eye-bolt-m6": 4, "wire-clip": 8, "cloth-ring": 26}


def test_the_pull_stands_in_the_frame_and_balances():
    """Two wires pull the two end frames towards each other: as much as the wire's formula says, nothing in all."""
    plan = gardenframe.plan(ShadeFrame(form="wires"), SITE, SHOP)
    (case,) = plan.build.loads(SITE)
    forces = np.array([load.force_n for load in case.loads])
    assert forces.sum(axis=0) == pytest.approx([0, 0, 0])
    assert np.abs(forces[:, 0]) == pytest.approx([Wires(plan.build).strung_n] * 4)
    assert all("T" in combination.factors or combination.key.startswith("0.6 D") for combination in
               plan.standing.loads.combinations)  # fmt: skip


def test_a_cloth_on_wires_meets_the_wind_only_drawn_out():
    """Gathered, no wind is on it; out, some is; at its limit the first ratio is one, and a weaker wire comes sooner."""
    plan = gardenframe.plan(
        ShadeFrame(form="wires", wire="wire-14", length_m=4.0, bays=2, tube="emt-1-1/4"), SITE, SHOP
    )
    assert "cloth" not in plan.standing.loads.faces
    out = on_wires.out_standing(plan, 15.0)
    assert max(out.loads.faces["cloth"].values()) > 10
    (limit,) = [one for one in plan.limits if one.condition == "covered"]
    assert limit.governs.kind == "wire"
    assert on_wires.wire_row(plan, limit.value).ratio == pytest.approx(1.0, abs=1e-3)
    assert on_wires.wire_row(plan, limit.value / 2).ratio < 0.7


@pytest.mark.parametrize("beside_m", [0.1, 0.15, 0.3])
def test_a_short_overhang_at_the_ends_leaves_room_for_rafters(beside_m):
    """Rafters are counted in their bay: the edge of the cloth may lie nearer to the first than they to each other."""
    build = ShadeFrame(beside_m=beside_m, rafters=2)
    assert len(gardenframe.plan(build, live=True).pieces) > 0


# --- what is refused


@pytest.mark.parametrize(
    ("values", "sentence"),
    [
        ({"cloth": "120 %"}, r"^Shade factor: got '120 %', needs one of: shade-cloth-30, shade-cloth-40"),
        ({"faces_deg": "upwards"}, r"^Front faces: got 'upwards', needs a direction such as south, SSW or 200°\.$"),
        ({"faces_deg": 400.0}, r"^Front faces: got 400°, needs 0° \(north\) to 360° \(north\)\.$"),
        ({"day": "30 Feb"}, r"^Day: got '30 Feb', needs a day of the calendar such as 17 Jul or 2026-07-17\.$"),
        ({"day": 0}, r"^Day: got day 0, needs 1 Jan to 31 Dec\.$"),
        ({"overhang_m": 0.05}, r"^Overhang: got 50 mm, needs none, or at least 0\.10 m .* Two rails need room"),
        ({"rise_m": 1.4, "tube": "emt-1"}, r"^Rise: got 1400 mm, needs at most 0\.99 m .* on that width, 40°\."),
        ({"rise_m": 0.1, "tube": "emt-2"}, r"^Rise: got 100 mm, needs at least 0\.17 m .* in this tube\."),
        ({"length_m": 7.0}, r"^Bays: got 1, needs at least 2 in that length\."),
        ({"bays": 6}, r"^Bays: got 6, needs at most 4 in that length\."),
        ({"rafters": 8, "bays": 2}, r"^Rafters between posts: got 8, needs at most 3 in that bay\."),
        ({"neighbour_m": 3.0, "neighbour_off_m": 1.0}, r"^It is away: got 1000 mm, needs at least .* clear of"),
        ({"height_m": 0.9, "base": "timber bed", "bed_depth_m": 0.6}, r"^Height: got 900 mm, needs at least 1\.10 m"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_one_sentence(values, sentence):
    """What came, what would do."""
    with pytest.raises(InputError, match=sentence):
        ShadeFrame(**values)


def test_a_latitude_off_the_earth_and_a_cloth_of_120_percent_are_sentences():
    """At the site, and where a screen is made by hand."""
    with pytest.raises(InputError, match=r"^latitude: got 95, needs -90 to 90 deg\. North is positive\.$"):
        Site(latitude_deg=95.0)
    corners = ((0.0, 0.0, 2.0), (1.0, 0.0, 2.0), (1.0, 1.0, 2.0))
    with pytest.raises(InputError, match=r"^share of light let through: got -0\.2, needs 0 to 1 \(a 30 % cloth"):
        shade.Screen(corners, 1 - 1.2)
