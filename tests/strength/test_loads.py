"""Loads of a trellis by hand; what a panel gives its runs is what acts on it."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from printed import as_printed, as_remembered, as_worked

import gardenframe
from gardenframe.builds import HoopHouse, Trellis, WalkwayArch
from gardenframe.geometry.coverings import outline
from gardenframe.geometry.frame import Frame, Joint, Panel, Run
from gardenframe.materials.coverings import load_coverings
from gardenframe.materials.plants import load_plants
from gardenframe.materials.site import Site
from gardenframe.strength.bearing import Bearing
from gardenframe.strength.loads import Setting, force_of, loads_of
from gardenframe.strength.panels import levered, shares_of
from gardenframe.strength.skins import patches_of
from gardenframe.strength.stiffness import respond
from gardenframe.units import FOOT_M, POUND_N

PLANTS, COVERINGS = load_plants(), load_coverings()


def setting(build=None, site=None, **rest):
    """Return what acts on a trellis."""
    plan = gardenframe.plan(build or Trellis())
    return Setting(plan.frame, site or Site(), plan.shop.members, COVERINGS, PLANTS, **rest)


def sums(found):
    """Return the whole force of each case."""
    return {row["case"]: np.array([row["x_n"], row["y_n"], row["z_n"]]) for row in found.rows}


@pytest.mark.outside("strength.panels", "strength.bearing", source="second-method")
@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.floats(0.3, 1.5), min_size=1, max_size=4), st.lists(st.floats(0.3, 1.2), min_size=1, max_size=4),
    st.floats(-0.6, 0.6), st.floats(-0.4, 0.4), st.tuples(*[st.floats(-900, 900)] * 3),
)  # fmt: skip
def test_force_and_moment_of_what_is_shared_equal_the_panels(bays, rows, lean, slant, pressure):
    """Leaning and skewed panels with any posts and rails: the resultant is p A at the centre of area."""
    xs, zs = np.cumsum([0, *bays]), np.cumsum([0, *rows])

    def at(i, j):
        return np.array([xs[i] + slant * zs[j], lean * zs[j], zs[j]])

    joints = [Joint(f"{i} {j}", *at(i, j)) for i in range(len(xs)) for j in range(len(zs))]
    runs = [Run(key=f"p{i}", member="emt-1", path=tuple(f"{i} {j}" for j in range(len(zs)))) for i in range(len(xs))]
    runs += [Run(key=f"r{j}", member="emt-1", path=tuple(f"{i} {j}" for i in range(len(xs)))) for j in range(len(zs))]
    frame = Frame.of(joints, runs)
    corners = [tuple(at(i, j)) for i, j in ((0, 0), (len(xs) - 1, 0), (len(xs) - 1, len(zs) - 1), (0, len(zs) - 1))]
    panel = Panel(key="p", carried_by=tuple(frame.runs), outline=outline(corners))
    side, up = np.array(corners[1]) - corners[0], np.array(corners[3]) - corners[0]
    area, centre = np.linalg.norm(np.cross(side, up)), np.mean(corners, axis=0)
    force, moment = np.zeros(3), np.zeros(3)
    patches = patches_of(frame, panel, {"p": shares_of(frame, panel)})
    for load in Bearing.of(patches, frame).loads(np.array([pressure])):
        line = frame.lines[load.run]
        for share, weight in ((0.5 - np.sqrt(0.15), 5 / 18), (0.5, 8 / 18), (0.5 + np.sqrt(0.15), 5 / 18)):
            a, b = np.array(load.force_n_per_m), np.array(load.to_n_per_m)
            here = (a + (b - a) * share) * weight * (load.to_m - load.from_m)
            force += here
            moment += np.cross(np.array(line.point(load.from_m + share * (load.to_m - load.from_m))) - centre, here)
    whole, close = np.array(pressure) * area, 1e-5 * (1 + np.linalg.norm(force))
    assert force == as_worked(whole, "N", "force of what a panel's runs get", rel=1e-6, abs=1e-6)
    assert moment == as_worked(np.zeros(3), "N m", "moment of the shared load about the centre of area", abs=close)


@pytest.mark.outside("strength.panels", source="second-method")
def test_the_lever_rule_by_hand():
    """Supports at 0, 1 and 3 m, load from 2 to 3 m: a quarter to the middle one, the rest to the last."""
    ours = list(levered([0.0, 1.0, 3.0], [(2.0, 3.0)]))
    assert ours == as_worked([0.0, 0.25, 0.75], "", "shares of three supports by levers", abs=1e-12)


POST_M, RAIL_M = 2.11 - 0.0295402 / 2, 1.83 - 0.0295402  # the default: three posts, three rows of rails, axis to axis
FACE_M2 = RAIL_M * (POST_M - 0.38)  # the net, from its bottom rail up


@pytest.mark.outside("plan.loads", source="emt-dimensions")
def test_a_trellis_weighs_what_its_tubes_weigh_in_print():
    """Tubes by the printed 67 lb for 100 ft of 1 in, the net at 0.01 kg/m²; beans at 2.2 kg each 130 mm."""
    found = gardenframe.plan(Trellis()).loads.set_index("case")["z_n"]
    tubes_lb = 3 * (POST_M + RAIL_M) / FOOT_M * 67 / 100
    net_lb = FACE_M2 * 0.01 * 9.81 / POUND_N
    what = "weight of the default trellis, tubes by printed weights"
    assert -found["D"] / POUND_N == as_worked(tubes_lb + net_lb, "lb", what, rel=0.01)
    beans = 2.2 / 0.130 * RAIL_M * 9.81
    assert -found["P"] == as_worked(beans, "N", "weight of a row of beans", source="second-method", rel=1e-4)


@pytest.mark.outside("plan.loads", source="asce7-minimum-wind")
def test_a_grown_trellis_takes_at_least_the_printed_16_psf():
    """In a code's wind, on all that is closed: leaves 70 %, the net 3 % of the rest, tubes with their legs below it."""
    found = gardenframe.plan(Trellis()).loads.set_index("case")["y_n"]
    tubes = 3 * (POST_M + RAIL_M) * 0.0295402 / FACE_M2
    closed = 1 - (1 - 0.7) * (1 - 0.03) * (1 - tubes)
    pounds = 16 * closed * FACE_M2 / FOOT_M**2
    assert found["W+y"] / POUND_N == as_worked(pounds, "lb", "least wind on the default trellis in leaf", rel=1e-3)


@pytest.mark.outside("strength.wind.tube_wind_n_per_m", "strength.wind_loads", source="asce7-lattice")
def test_wind_on_a_bare_trellis_by_hand():
    """Bare, a forecast 89.48 mph, in feet and pounds: 10 to 29 % solid, so 1.3 (printed) on each foot of tube."""
    site = Site(wind_m_per_s=40, wind_kind="forecast", exposure="C", shelter="open")
    chosen = setting(site=site, condition="bare")
    q_psf = 0.00256 * 0.8489 * (40 / 0.44704) ** 2
    feet = 3 * (POST_M + RAIL_M) / FOOT_M
    solid = chosen.tube_solidity(chosen.frame.panels[0])
    assert 0.1 < solid < 0.29
    pounds = q_psf * 0.85 * 1.3 * 0.0295402 / FOOT_M * feet
    ours = sums(loads_of(chosen))["W+y"][1] / POUND_N
    assert ours == as_worked(pounds, "lb", "wind on the tubes of the default trellis", rel=1e-3)


@pytest.mark.outside("strength.wind_loads", "strength.wind.tube_wind_n_per_m", source="asce7-lattice")
def test_a_wind_along_a_wall_of_leaves_meets_its_posts():
    """Grown, a forecast 89.48 mph along it: three posts, 1.2 (printed) on each foot; rails lie in the wind."""
    site = Site(wind_m_per_s=40, wind_kind="forecast", exposure="C", shelter="open")
    q_psf = 0.00256 * 0.8489 * (40 / 0.44704) ** 2
    pounds = q_psf * 0.85 * 1.2 * 0.0295402 / FOOT_M * 3 * POST_M / FOOT_M
    ours = sums(loads_of(setting(site=site)))["W+x"][0] / POUND_N
    assert ours == as_worked(pounds, "lb", "wind along the default trellis in leaf", rel=1e-3)


@pytest.mark.outside("strength.aslant", source="asce7-solid-wall-aside")
def test_a_wind_aslant_acts_a_fifth_of_the_breadth_off_the_middle():
    """A wall of leaves in a code's case B (from memory): the same force, 0.2 B from the middle, on either side."""
    chosen = setting()
    cases = {case.key: case.loads for case in loads_of(chosen).cases}

    def acts_at(key):
        force, moment = 0.0, 0.0
        for load in cases[key]:
            line, long = chosen.frame.lines[load.run], load.to_m - load.from_m
            for share, weight in ((0.5 - np.sqrt(0.15), 5 / 18), (0.5, 8 / 18), (0.5 + np.sqrt(0.15), 5 / 18)):
                a, b = load.force_n_per_m[1], load.to_n_per_m[1]
                here = (a + (b - a) * share) * weight * long
                force, moment = force + here, moment + here * line.point(load.from_m + share * long)[0]
        return force, moment / force - 1.83 / 2

    squarely, middle = acts_at("W+y")
    assert middle == pytest.approx(0.0, abs=1e-9)
    for key, sign in (("W+y left", -1), ("W+y right", 1), ("W-y left", -1)):
        force, aside = acts_at(key)
        assert abs(force) == pytest.approx(squarely)
        assert sign * aside / RAIL_M == as_remembered("0.20", "", "where a wind aslant acts, of a wall's breadth")
    lattice = setting(condition="bare")
    assert not [case.key for case in loads_of(lattice).cases if "left" in case.key]


@pytest.mark.parametrize("build", [Trellis(), WalkwayArch(), HoopHouse(end_walls=False)], ids=lambda b: b.key)
def test_nothing_that_grows_on_a_frame_hides_it_from_the_wind(build):
    """From each side, grown and open at its ends it takes what bare tubes take: at least 1.2/1.5 of a bare lattice."""
    site = Site(wind_m_per_s=25, wind_kind="forecast")
    bare, grown = (sums(loads_of(setting(build, site, condition=c))) for c in ("bare", "grown"))
    for key, axis in (("W+x", 0), ("W-x", 0), ("W+y", 1), ("W-y", 1)):
        assert abs(grown[key][axis]) > 0.8 * abs(bare[key][axis]) > 1.0


def test_leaves_catch_more_wind_than_a_net_and_a_net_more_than_tubes():
    """Bare, covered, grown: in rising order, the same from either side."""
    site = Site(wind_m_per_s=25, wind_kind="forecast")
    pushed = [sums(loads_of(setting(site=site, condition=c)))["W+y"][1] for c in ("bare", "covered", "grown")]
    assert pushed == sorted(pushed)
    assert pushed[2] > 3 * pushed[0]
    both = sums(loads_of(setting(site=site)))
    assert both["W+y"] == pytest.approx(-both["W-y"])


@pytest.mark.outside("strength.loads", source="asce7-2-4")
def test_combinations_are_those_of_asce_7_by_expression():
    """ASD: D + P, D + P + 0.6 W, 0.6 D + 0.6 W (three open programs); a forecast gust enters whole."""
    keys = {c.key: dict(c.factors) for c in loads_of(setting()).combinations}
    assert keys["D + P"] == {"D": 1.0, "P": 1.0}
    assert keys["D + P + 0.6 W+y"] == {"D": 1.0, "P": 1.0, "W+y": 0.6}
    said = "in the combination with little weight"
    assert keys["0.6 D + 0.6 W-y"]["D"] == as_printed("0.6", "", f"share of the weight {said}", copied=True)
    assert keys["0.6 D + 0.6 W-y"]["W-y"] == as_printed("0.6", "", f"share of the wind {said}", copied=True)
    assert keys["0.6 D + 0.6 W-y"] == {"D": 0.6, "W-y": 0.6}
    forecast = {c.key: c.factors for c in loads_of(setting(site=Site(wind_kind="forecast"))).combinations}
    assert forecast["0.6 D + W+y"]["W+y"] == 1.0


@pytest.mark.outside("strength.snow_loads", "strength.snow", source="second-method")
def test_snow_lies_on_a_slope_but_not_on_a_wall():
    """A fine mesh on a 45 degree slope holds snow, upright it holds none; half of it is half."""
    site = Site(ground_snow_pa=1000)
    sloped = Trellis(form="sloped", slope_deg=45.0, base="stakes", covering="poultry-net-1", height_m=1.2)
    found = sums(loads_of(setting(sloped, site)))
    assert "S" not in sums(loads_of(setting(Trellis(covering="poultry-net-1"), site)))
    assert found["S left"][2] + found["S right"][2] == pytest.approx(found["S"][2])
    assert found["S left"][2] == pytest.approx(found["S"][2] / 2, rel=1e-6)
    panel = gardenframe.plan(sloped).covered[0]
    theirs = 0.7 * 1.2 * 1000 * panel.area_m2 * np.cos(np.pi / 4)  # rough, so whole up to 45 degrees
    assert -found["S"][2] == as_worked(theirs, "N", "snow on a mesh at 45 deg, by its plan", rel=1e-6)


def test_a_case_with_point_loads_sums_too():
    """A person's push is 250 N."""
    chosen = setting()
    lean = next(case for case in loads_of(chosen).cases if case.key == "L+y")
    assert force_of(chosen.frame, lean.loads[0]) == (0, 250, 0)


def test_a_person_leans_on_an_end_post_too_and_its_straps_feel_it():
    """Pushed at 1.2 m, the post's foot holds 250 N (1.2 m - strap) less what rails hand on; a rail hands on half."""
    standing = gardenframe.plan(Trellis()).standing
    cases = [case for case in standing.loads.cases if case.key in ("L+y", "L+y post")]
    found = respond(standing.model, cases)
    pushed = standing.frame.lines["post 1"].point(cases[1].loads[0].station_m)
    assert (cases[1].loads[0].run, round(pushed[2], 6)) == ("post 1", 1.2)
    free = 250 * (1.2 - standing.frame.joints["post 1 high strap"].z_m)
    along = found.along("post 1", 60)
    rail, post = np.hypot(along.moment_y_n_m, along.moment_z_n_m).max(axis=1)
    assert rail < 0.75 * post
    assert 0.6 * free < post <= free
