"""Wires: a textbook's catenary, a chain of links summed one by one, the arc's own length, and what must be true."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq

from gardenframe.errors import InputError
from gardenframe.strength import cables

SPANS, LOADS = st.floats(1.0, 8.0), st.floats(0.3, 400.0)


def test_a_textbook_catenary():
    """Span 500 ft, sag 100 ft, 3 lb/ft: 984 lb at the lowest point, 1284 lb at the ends, 550 ft long (from memory)."""
    foot, pound = 0.3048, 4.4482216
    load, span, sag = 3 * pound / foot, 500 * foot, 100 * foot
    pull = cables.catenary_pull_n(load, span, sag)
    assert pull / pound == pytest.approx(984, rel=0.005)
    assert (pull + load * sag) / pound == pytest.approx(1284, rel=0.005)
    assert cables.catenary_length_m(load, span, pull) / foot == pytest.approx(550, rel=0.005)


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


@given(LOADS, SPANS, st.floats(0.005, 0.06), st.floats(1.0, 150.0), st.sampled_from([0.001588, 0.002515, 0.003767]))
def test_a_loaded_wire_keeps_its_unstretched_length(first, span, share, times, diameter):
    """Arc by quadrature less stretch by quadrature is the same before and after: solved apart by another root."""
    stiff = cables.wire_stiff_n(200e9, diameter)
    before, second = cables.parabola_pull_n(first, span, share * span), first * times
    mine = cables.loaded_pull_n(second, before, first, stiff, span)
    assert cables.load_that_pulls_n_per_m(mine, before, first, stiff, span) == pytest.approx(second, rel=1e-6)

    def slack(pull, load):
        slope = load / pull
        extra = quad(lambda x: math.sqrt(1 + (slope * x) ** 2) - 1, -span / 2, span / 2)[0]
        return extra - quad(lambda x: pull * (1 + (slope * x) ** 2), -span / 2, span / 2)[0] / stiff

    exact = brentq(lambda pull: slack(pull, second) - slack(before, first), before * 0.9, before * times * 1.2 + 1)
    steep = second * span / 2 / exact  # at the ends, where a flat parabola's series is left behind
    assert mine == pytest.approx(exact, rel=0.005 + steep**2 / 4)
    assert before * (1 - 1e-9) <= mine <= before * times * (1 + 1e-9)


def test_area_and_pull_of_a_high_tensile_wire():
    """12.5 gauge is 2.515 mm: 4.968 mm², which at 1000 MPa yields at 4968 N; half of it allowed."""
    assert cables.allowed_pull_n(1e9, 0.002515, 2.0) == pytest.approx(2484, abs=0.5)
    assert cables.wire_stiff_n(200e9, 0.002515) == pytest.approx(993.6e3, rel=1e-4)


@pytest.mark.parametrize(("values", "sentence"), [
    ((0.0, 3.0, 0.1), r"^load on a wire: got 0, needs more than 0\.$"),
    ((1.0, 3.0, -0.1), r"^sag of a wire: got -0\.1, needs more than 0\.$"),
])  # fmt: skip
def test_a_wire_without_load_or_sag_is_refused(values, sentence):
    """A straight wire would have to pull without end."""
    with pytest.raises(InputError, match=sentence):
        cables.catenary_pull_n(*values)
