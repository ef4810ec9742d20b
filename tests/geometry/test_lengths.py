"""The arithmetic of a cut list against posts set out, strips laid and sticks filled one after another."""

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from printed import as_printed, as_worked
from scipy import optimize

from gardenframe.geometry import lengths

PLACE = st.tuples(*[st.floats(-2000, 2000)] * 3)


@pytest.mark.outside("geometry.lengths.bay_mm", source="numpy")
@given(st.floats(600, 9000), st.floats(17, 60), st.integers(1, 9))
def test_bays_set_out_between_the_outer_posts(width, outer, bays):
    """Axes of all posts set out evenly between those of the outer two, which stand half a tube in from each side."""
    axes = np.linspace(outer / 2, width - outer / 2, bays + 1)
    ours = [lengths.bay_mm(width, outer, bays)] * bays
    assert ours == as_worked(np.diff(axes), "mm", "from post to post, set out", rel=1e-9)


@pytest.mark.outside("geometry.lengths.rail_spacing_mm", source="numpy")
@given(st.floats(100, 600), st.floats(900, 2600), st.integers(1, 9))
def test_rails_set_out_between_the_lowest_and_the_highest(low, high, spaces):
    """Levels of all rails set out evenly."""
    levels = np.linspace(low, high, spaces + 1)
    ours = [lengths.rail_spacing_mm(low, high, spaces)] * spaces
    assert ours == as_worked(np.diff(levels), "mm", "from rail to rail, set out", rel=1e-9)


@pytest.mark.outside("geometry.lengths.piece_length_mm", source="numpy")
@settings(max_examples=40)
@given(PLACE, PLACE, st.floats(0, 60), st.floats(0, 60))
def test_a_piece_reaches_from_stop_to_stop(a, b, start, end):
    """Walked in space: from each joint towards the other by its stop; the piece is what lies between."""
    a, b = np.array(a), np.array(b)
    apart = float(np.linalg.norm(b - a))
    assume(apart > start + end + 50)
    way = (b - a) / apart
    worked = np.linalg.norm((b - way * end) - (a + way * start))
    assert lengths.piece_length_mm(apart, start, end) == as_worked(worked, "mm", "from stop to stop", rel=1e-9)


@pytest.mark.outside("geometry.lengths.fewest_sticks", source="scipy")
@settings(max_examples=40)
@given(st.integers(500, 90_000), st.sampled_from([2438, 3048, 6096]))
def test_fewest_sticks_by_an_integer_program(total, stick):
    """Least whole n with n sticks at least as long as the total."""
    found = optimize.milp([1], constraints=optimize.LinearConstraint([[stick]], lb=total), integrality=[1])
    assert lengths.fewest_sticks(total, stick) == as_worked(found.x[0], "sticks", "least sticks for a length", abs=1e-6)


@pytest.mark.outside("geometry.lengths.strips_across", source="second-method")
@given(st.integers(300, 12_000), st.sampled_from([914, 1219, 1524, 2134]), st.integers(0, 300))
def test_strips_laid_one_after_another(width, roll, overlap):
    """Each next strip begins an overlap before the end of the last, until the width is covered."""
    strips, reached = 1, roll
    while reached < width:
        reached += roll - overlap
        strips += 1
    assume(width > overlap)
    ours = lengths.strips_across(width, roll, overlap)
    assert ours == as_worked(strips, "strips", "strips laid until a width is covered", abs=0.0)


# emt-dimensions: outside diameter and wall [in], printed pounds of 100 ft
PRINTED = {
    "1/2": (0.706, 0.042, "30"), "3/4": (0.922, 0.049, "46"), "1": (1.163, 0.057, "67"), "2": (2.197, 0.065, "148"),
}  # fmt: skip


@pytest.mark.outside("geometry.lengths.tube_mass_kg", source="emt-dimensions")
@pytest.mark.parametrize("size", PRINTED)
def test_a_hundred_feet_of_tube_weigh_what_is_printed(size):
    """Steel at 7850 kg/m3 between the printed diameters: ten sticks of 10 ft."""
    outer, wall, printed = PRINTED[size]
    per_m = math.pi * 0.0254**2 * (outer - wall) * wall * 7850
    pounds = lengths.tube_mass_kg(30.48, per_m) / 0.45359237
    assert pounds == as_printed(printed, "lb", f"EMT {size} in: nominal weight of 100 ft")
