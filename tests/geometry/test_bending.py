"""Bends against printed rows, numbers worked by hand, and the shape that the marks give back."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from printed import as_printed, as_remembered

from gardenframe import working
from gardenframe.geometry import bending
from gardenframe.materials import sources
from gardenframe.materials.members import load_members

MEMBERS = load_members()
OURS = [form for name, form in working.FORMULAS.items() if name.startswith("gardenframe.geometry.bending.")]
INCH = 25.4
# one-shot radii [in] (seen in a trade table), with arc of a right angle, gain [in] and stretch [%] worked independently
RIGHT_ANGLES = {
    "emt-1/2": (4, "6.283", "1.717", "8.82"),
    "emt-3/4": (4.5, "7.069", "1.931", "10.24"),
    "emt-1": (5.75, "9.032", "2.468", "10.11"),
    "emt-1-1/4": (7.25, "11.388", "3.112", "10.41"),
    "emt-1-1/2": (8.25, "12.959", "3.541", "10.55"),
    "emt-2": (9.5, "14.923", "4.077", "11.56"),
}
# multiplier and shrink per unit of depth, worked independently
OFFSETS = {
    10: ("5.759", "0.0875"),
    15: ("3.864", "0.1317"),
    22.5: ("2.613", "0.1989"),
    30: ("2.000", "0.2679"),
    45: ("1.414", "0.4142"),
    60: ("1.155", "0.5774"),
}


@pytest.mark.parametrize("form", OURS, ids=lambda form: form.__name__)
def test_formula_keeps_its_word(form):
    """Fed quantities it gives the unit of its name, it shows in both systems, and its source is in the table."""
    working.check(form)
    assert sources.how_known(form.formula.source)


@pytest.mark.parametrize("key", RIGHT_ANGLES)
def test_a_right_angle_at_the_one_shot_radius(key):
    """Arc, gain and stretch at the published least radius, to every digit of the reference rows."""
    radius_in, arc, gain, stretch = RIGHT_ANGLES[key]
    member = MEMBERS[key]
    assert member.min_bend_radius_mm == pytest.approx(radius_in * INCH)
    assert bending.arc_length_mm(radius_in * INCH, 90) / INCH == as_printed(arc)
    assert bending.gain_mm(radius_in * INCH, 90) / INCH == as_printed(gain)
    assert 100 * bending.stretch_ratio(member.outer_mm, radius_in * INCH) == as_printed(stretch)


@pytest.mark.parametrize("angle", OFFSETS)
def test_offset_multiplier_and_shrink(angle):
    """One unit of depth: distance between marks, and what the reach loses."""
    multiplier, shrink = OFFSETS[angle]
    assert bending.offset_spacing_mm(1.0, angle) == as_printed(multiplier)
    assert bending.offset_shrink_mm(1.0, angle) == as_printed(shrink)


@pytest.mark.parametrize(
    ("key", "radius", "rests"),
    [("emt-1", 146.05, "148.7"), ("emt-1", 600, "647"), ("emt-1", 1200, "1405"), ("emt-3/4", 1200, "1470")],
)
def test_spring_back_opens_a_bend_as_worked_independently(key, radius, rests):
    """Formula from memory at a yield of 240 MPa, radii worked by another program."""
    kept = bending.spring_ratio(radius, 240.0, 200e3, MEMBERS[key].outer_mm)
    assert bending.sprung_radius_mm(radius, kept) == as_remembered(rests)


def moment_of_strip(x, fibres=20_001):
    """Return the moment, in Fy t2 of width, that bends a strip of depth t to x = R Fy/(E t), fibre by fibre."""
    y = np.linspace(-0.5, 0.5, fibres)
    stress = np.clip(y / x, -1, 1)  # in yields: strain y t/R over yield strain Fy/E
    return float(np.trapezoid(stress * y, y))


@given(st.floats(0.005, 0.48))
def test_spring_back_is_that_of_a_strip_let_go(x):
    """A strip's moment found fibre by fibre springs it open by M/EI: 1/R - 1/R' = M/(EI), the formula's own origin."""
    kept = 1 - 12 * moment_of_strip(x) * x  # EI = E t3/12 of width, R = x E t/Fy
    assert bending.spring_ratio(x, 1.0, 1.0, 1.0) == pytest.approx(kept, abs=1e-5)


@pytest.mark.parametrize(("key", "metres"), [("emt-1/2", "7.47"), ("emt-3/4", "9.76"), ("emt-1", "12.31")])
def test_a_tube_stays_elastic_above_the_known_radius(key, metres):
    """R = E D/(2 Fy) at 240 MPa; there the spring-back formula keeps nothing."""
    elastic = bending.elastic_radius_mm(200e3, MEMBERS[key].outer_mm, 240.0)
    assert elastic / 1000 == as_printed(metres)
    assert bending.spring_ratio(elastic, 240.0, 200e3, MEMBERS[key].outer_mm) == pytest.approx(0, abs=1e-9)


@given(st.floats(50, 3000), st.floats(1, 170))
def test_gain_is_corner_less_curve(radius, angle):
    """The curve's length added up chord by chord, the way round the corner from its two tangents."""
    turn = np.linspace(0, math.radians(angle), 4001)
    x, y = radius * np.sin(turn), radius * (1 - np.cos(turn))
    curve = float(np.hypot(np.diff(x), np.diff(y)).sum())
    corner = y[-1] / math.sin(math.radians(angle)) + x[-1] - y[-1] / math.tan(math.radians(angle))
    assert bending.arc_length_mm(radius, angle) == pytest.approx(curve, rel=1e-6)
    assert bending.gain_mm(radius, angle) == pytest.approx(corner - curve, abs=1e-5 * radius)
