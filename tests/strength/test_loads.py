"""Loads of a trellis by hand; what a panel gives its runs is what acts on it."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import gardenframe
from gardenframe.builds import Trellis
from gardenframe.geometry.coverings import outline
from gardenframe.geometry.frame import Frame, Joint, Panel, Run
from gardenframe.materials.coverings import load_coverings
from gardenframe.materials.plants import load_plants
from gardenframe.materials.site import Site
from gardenframe.strength.bearing import Bearing
from gardenframe.strength.loads import Setting, force_of, loads_of
from gardenframe.strength.panels import levered, shares_of
from gardenframe.strength.skins import patches_of

PLANTS, COVERINGS = load_plants(), load_coverings()


def setting(build=None, site=None, **rest):
    """Return what acts on a trellis."""
    plan = gardenframe.plan(build or Trellis())
    return Setting(plan.frame, site or Site(), plan.shop.members, COVERINGS, PLANTS, **rest)


def sums(found):
    """Return the whole force of each case."""
    return {row["case"]: np.array([row["x_n"], row["y_n"], row["z_n"]]) for row in found.rows}


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
    assert force == pytest.approx(np.array(pressure) * area, rel=1e-6, abs=1e-6)
    assert moment == pytest.approx(np.zeros(3), abs=1e-5 * (1 + np.linalg.norm(force)))


def test_the_lever_rule_by_hand():
    """Supports at 0, 1 and 3 m, load from 2 to 3 m: a quarter to the middle one, the rest to the last."""
    assert levered([0.0, 1.0, 3.0], [(2.0, 3.0)]) == pytest.approx([0.0, 0.25, 0.75])


def test_weight_and_plants_by_hand():
    """11.401 m of 1 in tube at 1.0030 kg/m on the axes and 3.0882 m² of net at 0.01 kg/m²; beans at 2.2 kg each 130 mm.

    The axes are longer than the pieces by their set-backs, 12 x 22 mm + ... so the weight is compared within 3 %.
    """
    found = sums(loads_of(setting()))
    assert -found["D"][2] == pytest.approx((11.401 * 1.0030 + 3.0882 * 0.01) * 9.81, rel=0.03)
    assert -found["P"][2] == pytest.approx(2.2 / 0.130 * 1.80046 * 9.81, rel=1e-4)


def test_wind_on_a_bare_trellis_by_hand():
    """Bare, forecast 40 m/s, C, open: the face is 10 to 29 % solid, so q G 1.3 D on each metre of tube."""
    site = Site(wind_m_per_s=40, wind_kind="forecast", exposure="C", shelter="open")
    chosen = setting(site=site, condition="bare")
    metres = sum(line.length_m for line in chosen.frame.lines.values())
    q = 0.613 * 0.8489 * 40**2
    solid = chosen.tube_solidity(chosen.frame.panels[0])
    assert 0.1 < solid < 0.29
    assert sums(loads_of(chosen))["W+y"][1] == pytest.approx(q * 0.85 * 1.3 * 0.02954 * metres, rel=1e-3)


def test_leaves_catch_more_wind_than_a_net_and_a_net_more_than_tubes():
    """Bare, covered, grown: in rising order, the same from either side."""
    site = Site(wind_m_per_s=25, wind_kind="forecast")
    pushed = [sums(loads_of(setting(site=site, condition=c)))["W+y"][1] for c in ("bare", "covered", "grown")]
    assert pushed == sorted(pushed)
    assert pushed[2] > 3 * pushed[0]
    both = sums(loads_of(setting(site=site)))
    assert both["W+y"] == pytest.approx(-both["W-y"])


def test_combinations_are_those_of_asce_7_by_expression():
    """ASD: D + P, D + P + 0.6 W, 0.6 D + 0.6 W (three open programs); a forecast gust enters whole."""
    keys = {c.key: dict(c.factors) for c in loads_of(setting()).combinations}
    assert keys["D + P"] == {"D": 1.0, "P": 1.0}
    assert keys["D + P + 0.6 W+y"] == {"D": 1.0, "P": 1.0, "W+y": 0.6}
    assert keys["0.6 D + 0.6 W-y"] == {"D": 0.6, "W-y": 0.6}
    forecast = {c.key: c.factors for c in loads_of(setting(site=Site(wind_kind="forecast"))).combinations}
    assert forecast["0.6 D + W+y"]["W+y"] == 1.0


def test_snow_lies_on_a_slope_but_not_on_a_wall():
    """A fine mesh on a 45 degree slope holds snow, upright it holds none; half of it is half."""
    site = Site(ground_snow_pa=1000)
    sloped = Trellis(form="sloped", slope_deg=45.0, base="stakes", covering="poultry-net-1", height_m=1.2)
    found = sums(loads_of(setting(sloped, site)))
    assert "S" not in sums(loads_of(setting(Trellis(covering="poultry-net-1"), site)))
    assert found["S left"][2] + found["S right"][2] == pytest.approx(found["S"][2])
    assert found["S left"][2] == pytest.approx(found["S"][2] / 2, rel=1e-6)
    panel = gardenframe.plan(sloped).covered[0]
    assert -found["S"][2] == pytest.approx(0.7 * 1.2 * 1000 * panel.area_m2 * np.cos(np.pi / 4), rel=1e-6)


def test_a_case_with_point_loads_sums_too():
    """A person's push is 250 N."""
    chosen = setting()
    lean = next(case for case in loads_of(chosen).cases if case.key == "L+y")
    assert force_of(chosen.frame, lean.loads[0]) == (0, 250, 0)
