"""A gate's statics against moments, energy and similar triangles worked apart, and its leaf against the solver."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenframe.strength import gates


def test_a_gate_worked_by_hand():
    """10 kg, 1 m wide, hinges 1.5 m apart, 250 N on the far side: 98.07 N x 0.5 m and 250 N x 1 m over 1.5 m."""
    weight = gates.weight_n(10.0)
    assert weight == pytest.approx(98.0665)
    assert gates.hinge_pull_n(weight, 250.0, 1.0, 1.5) == pytest.approx((98.0665 * 0.5 + 250.0) / 1.5)
    assert gates.gate_mass_kg(6.0, 1.0, 2.0, 1.5) == pytest.approx(9.0)


@given(st.floats(20, 400), st.floats(0, 400), st.floats(0.3, 2.5), st.floats(0.3, 2.2))
def test_hinges_hold_the_gate_in_balance(weight, person, width, apart):
    """Moments about the upper hinge, which the code does not use, come to nothing."""
    pull = gates.hinge_pull_n(weight, person, width, apart)
    assert pull * apart - weight * width / 2 - person * width == pytest.approx(0.0, abs=1e-6)


@given(st.floats(50, 500), st.floats(0.4, 2.0), st.floats(0.4, 2.0))
def test_the_sag_of_a_diagonal_against_its_energy(load, width, rise):
    """Work of the load, P s / 2, is the energy in the bar, F² L/(2 A E); F from the triangle of forces."""
    area, modulus = 2.0e-4, 2.0e11
    long = math.hypot(width, rise)
    assert gates.diagonal_m(width, rise) == pytest.approx(long)
    force = gates.brace_force_n(0.0, load, long, rise)
    assert force == pytest.approx(load / math.sin(math.atan2(rise, width)))
    sag = gates.brace_sag_m(force, long, area, modulus, rise)
    assert load * sag / 2 == pytest.approx(force**2 * long / (2 * area * modulus), rel=1e-9)


def test_play_grows_with_width_over_distance():
    """1 mm at hinges 1.2 m apart is 0.75 mm 0.9 m out; a post in a 50 mm hole with 1 mm leans 40 mm at 2 m."""
    assert gates.slack_sag_m(0.001, 0.9, 1.2) == pytest.approx(0.00075)
    assert gates.hole_play_mm(1.0, 50.0, 2000.0) == pytest.approx(40.0)


def test_what_a_gate_sweeps():
    """From the pin, half the gap beside the leaf, to its outer corner one tube off: Pythagoras with 3, 4, 5."""
    assert gates.swing_m(0.39, 0.3, 0.02) == pytest.approx(0.5)
