"""Wires: a textbook's catenary, a chain of links summed one by one, the arc's own length, and what must be true."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from other_roads import over_round
from printed import as_remembered, as_worked
from scipy import constants
from scipy.integrate import quad, solve_ivp
from scipy.optimize import brentq

from gardenframe.errors import InputError
from gardenframe.strength import cables

SPANS, LOADS = st.floats(1.0, 8.0), st.floats(0.3, 400.0)


@pytest.mark.outside("strength.cables.catenary_sag_m", source="catenary-textbook")
def test_a_textbook_catenary():
    """Span 500 ft, sag 100 ft, 3 lb/ft: 984 lb at the lowest point, 1284 lb at the ends, 550 ft long (from memory)."""
    foot, pound = 0.3048, 4.4482216
    load, span, sag = 3 * pound / foot, 500 * foot, 100 * foot
    pull = cables.catenary_pull_n(load, span, sag)
    assert pull / pound == as_remembered("984", "lb", "pull at the lowest point of 500 ft that sag 100 ft")
    assert (pull + load * sag) / pound == as_remembered("1284", "lb", "pull at its ends")
    assert cables.catenary_length_m(load, span, pull) / foot == as_remembered(
        "550", "ft", "length of a catenary, 500 ft of span, 100 ft of sag"
    )
    assert cables.catenary_sag_m(load, span, 984 * pound) / foot == as_remembered(
        "100", "ft", "sag of that catenary from its pull, 984 lb"
    )


def hung(load, span, pull, along_the_wire):
    """Return sag, length and pull at an end of a wire, followed from its lowest point by scipy's solve_ivp.

    Its slope grows by the load on each metre over the level pull: metres of wire, or metres of level.
    """

    def onward(_, y):
        slope = y[1]
        stretch = math.hypot(1, slope)
        return slope, load / pull * (stretch if along_the_wire else 1), stretch

    _, slope, half = end = solve_ivp(onward, (0, span / 2), (0, 0, 0), rtol=1e-11, atol=1e-13).y[:, -1]
    return end[0], 2 * half, pull * math.hypot(1, slope)


@pytest.mark.outside(
    "strength.cables.parabola_sag_m", "strength.cables.parabola_pull_n", "strength.cables.parabola_length_m",
    "strength.cables.end_pull_n", "strength.cables.catenary_sag_m", source="scipy",
)  # fmt: skip
def test_wires_followed_from_their_lowest_point():
    """4 m at 10 N/m: the equation of a hanging wire integrated by scipy, load on each metre of level or of wire."""
    sag, length, end = hung(10.0, 4.0, 200.0, along_the_wire=False)
    assert cables.parabola_sag_m(10.0, 4.0, 200.0) == as_worked(sag, "m", "sag of cloth on 4 m at 200 N", rel=1e-7)
    assert cables.parabola_pull_n(10.0, 4.0, sag) == as_worked(
        200.0, "N", "pull of cloth on 4 m from its sag", rel=1e-7
    )
    assert cables.end_pull_n(200.0, 10.0, 4.0) == as_worked(end, "N", "pull along the wire at an end", rel=1e-7)
    found = cables.parabola_length_m(4.0, sag)
    assert found - 4 == as_worked(length - 4, "m", "length of a sagging wire beyond its span", rel=3e-3)
    sag, _, _ = hung(10.0, 4.0, 25.0, along_the_wire=True)
    assert cables.catenary_sag_m(10.0, 4.0, 25.0) == as_worked(sag, "m", "sag of a wire at 25 N", rel=1e-7)


def test_the_parabola_by_moments_about_the_middle():
    """Half of 4 m at 10 N/m, 20 N up at the end and 20 N down at 1 m: 40 - 20 = 20 N m, over a sag of 0.1 m."""
    assert cables.parabola_pull_n(10.0, 4.0, 0.1) == pytest.approx((20 * 2 - 20 * 1) / 0.1)
    assert cables.parabola_sag_m(10.0, 4.0, 200.0) == pytest.approx(0.1)
    assert cables.end_pull_n(200.0, 10.0, 4.0) == pytest.approx(math.hypot(200, 20))


@given(LOADS, SPANS, st.floats(0.005, 0.3))
def test_a_catenary_against_a_chain_of_links(load, span, share):
    """Links of equal length, each turned by the weight that hangs below it: the chain comes to span and sag."""
    sag = share * span
    pull = cables.catenary_pull_n(load, span, sag)
    half, links = cables.catenary_length_m(load, span, pull) / 2, 4000
    weight = load * half * (np.arange(links) + 0.5) / links
    turn = np.arctan2(weight, pull)
    assert (half / links * np.cos(turn)).sum() == pytest.approx(span / 2, rel=1e-5)
    assert (half / links * np.sin(turn)).sum() == pytest.approx(sag, rel=1e-4)


@given(LOADS, SPANS, st.floats(0.002, 0.1))
def test_parabola_and_catenary_agree_where_gardens_are(load, span, share):
    """To one in a hundred up to a tenth of the span; the catenary sags more at the same pull; lengths agree."""
    pull = cables.parabola_pull_n(load, span, share * span)
    sag = cables.catenary_sag_m(load, span, pull)
    assert share * span * (1 - 1e-6) <= sag <= share * span * 1.015
    exact = quad(lambda x: math.hypot(1, 8 * share * x / span), -span / 2, span / 2)[0]
    assert cables.parabola_length_m(span, share * span) == pytest.approx(exact, rel=1e-3)


def pull_of_the_same_wire(first, second, before, stiff, span):
    """Return the pull under a second load at which a wire, let go, is as long as before: arc less stretch."""

    def slack(pull, load):
        slope = load / pull
        extra = quad(lambda x: math.sqrt(1 + (slope * x) ** 2) - 1, -span / 2, span / 2)[0]
        return extra - quad(lambda x: pull * (1 + (slope * x) ** 2), -span / 2, span / 2)[0] / stiff

    least, most = before * 0.9, before * second / first * 1.2 + 1
    return brentq(lambda pull: slack(pull, second) - slack(before, first), least, most)


@pytest.mark.outside("strength.cables.load_that_pulls_n_per_m", "strength.cables", source="scipy")
def test_a_wire_of_a_garden_pulls_harder_in_a_gust():
    """3 m of 2.5 mm wire strung at 30 N under 1.2 N/m, then 20 N/m of gust: its unstretched length stays."""
    stiff, before = 993.6e3, 30.0
    pull = pull_of_the_same_wire(1.2, 20.0, before, stiff, 3.0)
    found = cables.loaded_pull_n(20.0, before, 1.2, stiff, 3.0)
    assert found == as_worked(pull, "N", "pull of a garden wire in a gust", rel=0.003)
    found = cables.load_that_pulls_n_per_m(pull, before, 1.2, stiff, 3.0)
    assert found == as_worked(20.0, "N/m", "load that pulls a garden wire as much", rel=0.003)


@given(LOADS, SPANS, st.floats(0.005, 0.06), st.floats(1.0, 150.0), st.sampled_from([0.001588, 0.002515, 0.003767]))
def test_a_loaded_wire_keeps_its_unstretched_length(first, span, share, times, diameter):
    """Arc by quadrature less stretch by quadrature is the same before and after: solved apart by another root."""
    stiff = cables.wire_stiff_n(200e9, diameter)
    before, second = cables.parabola_pull_n(first, span, share * span), first * times
    mine = cables.loaded_pull_n(second, before, first, stiff, span)
    assert cables.load_that_pulls_n_per_m(mine, before, first, stiff, span) == pytest.approx(second, rel=1e-6)
    exact = pull_of_the_same_wire(first, second, before, stiff, span)
    steep = second * span / 2 / exact  # at the ends, where a flat parabola's series is left behind
    assert mine == pytest.approx(exact, rel=0.005 + steep**2 / 4)
    assert before * (1 - 1e-9) <= mine <= before * times * (1 + 1e-9)


@pytest.mark.outside("strength.cables.allowed_pull_n", "strength.cables.wire_stiff_n", source="scipy")
def test_area_and_pull_of_a_high_tensile_wire():
    """12.5 gauge is 2.515 mm, 1000 MPa of yield and half of it allowed, added up over its section by scipy's quad."""
    worked = over_round(lambda y: 1e9 / 2, 0.002515)
    assert cables.allowed_pull_n(1e9, 0.002515, 2.0) == as_worked(
        worked, "N", "allowed pull of a high-tensile wire", rel=1e-6
    )
    worked = over_round(lambda y: 200e9, 0.002515)
    assert cables.wire_stiff_n(200e9, 0.002515) == as_worked(
        worked, "N", "pull that would stretch a wire to twice its length", rel=1e-6
    )


@pytest.mark.outside("strength.cables.cloth_on_wire_n_per_m", "strength.cables.gust_on_wire_n_per_m", source="scipy")
def test_a_wire_carries_the_cloth_that_leans_on_it():
    """1.4 m of cloth between two wires: each strip of it shared by the lever to its nearer and its farther wire."""
    wide, gust = 1.4, 40.0

    def share(pressure):
        return quad(lambda x: pressure * (1 - x / wide), 0, wide)[0]

    worked = share(0.12 * constants.g) + 0.04 * constants.g
    found = cables.cloth_on_wire_n_per_m(0.12, wide, 0.04)
    assert found == as_worked(worked, "N/m", "cloth of 120 g/m² and a wire of 40 g/m", rel=1e-3)
    blown = cables.gust_on_wire_n_per_m(found, gust, wide)
    assert blown - found == as_worked(share(gust), "N/m", "load of a gust of 40 Pa on a wire's cloth")


@pytest.mark.parametrize(("values", "sentence"), [
    ((0.0, 3.0, 0.1), r"^load on a wire: got 0, needs more than 0\.$"),
    ((1.0, 3.0, -0.1), r"^sag of a wire: got -0\.1, needs more than 0\.$"),
])  # fmt: skip
def test_a_wire_without_load_or_sag_is_refused(values, sentence):
    """A straight wire would have to pull without end."""
    with pytest.raises(InputError, match=sentence):
        cables.catenary_pull_n(*values)
