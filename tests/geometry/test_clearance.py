"""What is left to walk through, measured on tubes drawn as discs and points, against the formulas."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from printed import as_worked
from scipy import optimize

from gardenframe.geometry import clearance

OUTER = st.floats(15, 60)
AROUND = np.linspace(0, 2 * math.pi, 721)


def ring(x, y, outer):
    """Return points on the skin of a tube seen end on."""
    return np.column_stack([x + outer / 2 * np.cos(AROUND), y + outer / 2 * np.sin(AROUND)])


def underside(axis, low, high, at, outer):
    """Return the lowest skin of a tube over a place: the lowest of all discs along its axis that reach over it."""

    def skin(s):
        x, z = axis(s)
        return z - math.sqrt(max((outer / 2) ** 2 - (x - at) ** 2, 0.0)) if abs(x - at) < outer / 2 else math.inf

    steps = np.linspace(low, high, 801)
    heights = [skin(s) for s in steps]
    best = int(np.argmin(heights))
    near = steps[max(best - 1, 0)], steps[min(best + 1, len(steps) - 1)]
    return min(
        optimize.minimize_scalar(skin, bounds=near, method="bounded", options={"xatol": 1e-10}).fun, heights[best]
    )


@pytest.mark.outside("geometry.clearance.clear_width_mm", source="numpy")
@given(st.floats(300, 2500), OUTER)
def test_clear_width_is_the_least_distance_of_two_skins(apart, outer):
    """Two legs as rings of points: the nearest two points."""
    left, right = ring(0, 0, outer), ring(apart, 0, outer)
    worked = right[:, 0].min() - left[:, 0].max()
    assert clearance.clear_width_mm(apart, outer) == as_worked(worked, "mm", "width between two legs", rel=1e-9)


@pytest.mark.outside("geometry.clearance.under_rail_mm", source="numpy")
@given(st.floats(1500, 3000), OUTER)
def test_underside_of_a_level_tube_is_its_lowest_point(top, outer):
    """A ring of points again."""
    ours = clearance.under_rail_mm(top, outer)
    assert ours == as_worked(ring(0, top, outer)[:, 1].min(), "mm", "underside of a level tube", rel=1e-9)


@pytest.mark.outside("geometry.clearance.under_slope_mm", source="scipy")
@settings(max_examples=40)
@given(st.floats(1500, 2500), st.floats(100, 900), st.floats(5, 50), st.floats(15, 60))
def test_underside_of_a_slope_is_the_lowest_of_its_discs(knee, along, pitch, outer):
    """Discs rolled up the sloping axis from before the place to beyond it."""
    rise = math.tan(math.radians(pitch))
    worked = underside(lambda s: (s, knee + s * rise), along - outer, along + outer, along, outer)
    ours = clearance.under_slope_mm(knee, along, pitch, outer)
    assert ours == as_worked(worked, "mm", "underside of a slope over a place", abs=1e-4)


@pytest.mark.outside("geometry.clearance.under_bend_mm", source="scipy")
@settings(max_examples=40)
@given(st.floats(1000, 2000), st.floats(300, 1200), st.floats(0, 0.9), OUTER)
def test_underside_of_a_bend_is_the_lowest_of_its_discs(spring, radius, share, outer):
    """Discs rolled round the bend, over a place that lies inside it."""
    aside = share * (radius - outer / 2)
    worked = underside(lambda s: (radius * math.sin(s), spring + radius * math.cos(s)), 0.0, math.pi / 2, aside, outer)
    ours = clearance.under_bend_mm(spring, radius, aside, outer)
    assert ours == as_worked(worked, "mm", "underside of a bend over a place", abs=0.01)


@pytest.mark.outside("geometry.clearance.headroom_left_mm", source="numpy")
@given(st.floats(1800, 2600), st.lists(st.floats(0, 500), min_size=1, max_size=20))
def test_headroom_is_that_under_what_hangs_lowest(under, hanging):
    """Plants hang at twenty places: the level of the lowest tip is what is left."""
    tips = np.full(len(hanging), under) - np.array(hanging)
    ours = clearance.headroom_left_mm(under, max(hanging))
    assert ours == as_worked(tips.min(), "mm", "level of the lowest of several hanging tips", rel=1e-12)
