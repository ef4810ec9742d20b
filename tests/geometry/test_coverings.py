"""Areas against closed forms; strips cover a width once, plus overlaps."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

import gardenframe
from gardenframe.builds import Trellis
from gardenframe.errors import FrameError, InputError
from gardenframe.geometry.arcs import Arc, Centreline, Straight
from gardenframe.geometry.coverings import area_vector_m2, flat, outline, panel_area_m2, strips, strips_needed, ties
from gardenframe.geometry.frame import Frame, Joint, Panel, Run
from gardenframe.geometry.vectors import size


def test_a_half_disc_and_a_rectangle_with_a_round_hole():
    """pi r²/2, and a b less pi r²."""
    r = 1.5
    half = Centreline((Straight((-r, 0, 0), (r, 0, 0)), Arc((r, 0, 0), (0, 0, 0), (0, -1, 0), math.pi)))
    assert size(area_vector_m2(half)) == pytest.approx(math.pi * r**2 / 2, rel=1e-12)
    hole = Centreline(
        (Arc((1.3, 1, 0), (1, 1, 0), (0, 0, 1), math.pi), Arc((0.7, 1, 0), (1, 1, 0), (0, 0, 1), math.pi))
    )
    frame = Frame.of([Joint("A", 0, 0, 0), Joint("B", 1, 0, 0)], [Run(key="r", member="emt-1", path=("A", "B"))])
    panel = Panel(
        key="p", carried_by=("r",), outline=outline([(0, 0, 0), (2, 0, 0), (2, 3, 0), (0, 3, 0)]), holes=(hole,)
    )
    assert panel_area_m2(frame, panel) == pytest.approx(6 - math.pi * 0.09, rel=1e-12)


@given(st.floats(0.2, 5), st.floats(0.2, 5), st.floats(0, 360), st.floats(0, 180))
def test_area_does_not_depend_on_how_a_rectangle_lies(a, b, yaw, pitch):
    """Turned any way, a rectangle keeps a x b."""
    c, s, p, q = (f(math.radians(x)) for x in (yaw, pitch) for f in (math.cos, math.sin))

    def turned(x, y):
        return (c * x - s * p * y, s * x + c * p * y, q * y)

    assert size(area_vector_m2(outline([turned(0, 0), turned(a, 0), turned(a, b), turned(0, b)]))) == pytest.approx(
        a * b
    )


def test_an_outline_that_is_not_flat():
    """One corner lifted by 50 mm."""
    with pytest.raises(FrameError, match=r"^panel roof: its outline is not flat: one corner is \d+ mm off"):
        flat("roof", outline([(0, 0, 0), (1, 0, 0), (1, 1, 0.05), (0, 1, 0)]))


@given(st.floats(0.3, 12), st.floats(0.4, 4), st.floats(0, 0.3))
def test_strips_cover_a_width_and_one_fewer_would_not(width, roll, overlap):
    """n rolls less n - 1 overlaps reach across; n - 1 do not."""
    n = strips_needed(width, roll, overlap)
    assert n * roll - (n - 1) * overlap >= width - 1e-6
    assert n == 1 or (n - 1) * roll - (n - 2) * overlap < width


def test_a_roll_no_wider_than_its_overlap():
    """The sentence gives both."""
    with pytest.raises(InputError, match=r"^roll width: got '100 mm', needs more than the overlap of 100 mm\.$"):
        strips("p", (1.0, 1.0), 1.0, 0.1, 0.1, 0.0)


def test_ties_by_hand():
    """1.8 m at 0.3 m is 6 spaces and 7 ties; 0.85 m is 3 spaces and 4."""
    assert ties([1.8, 0.85], 0.3) == 11


def test_the_net_of_a_trellis_by_hand():
    """Posts 1800.46 mm apart by 1715.23 mm of rails: 3.0882 m²; with 50 mm of wrap 1.9005 m across."""
    covered = gardenframe.plan(Trellis()).covered[0]
    assert covered.area_m2 == pytest.approx(1.80046 * 1.71523, rel=1e-5)
    assert len(covered.strips.strips) == math.ceil((1.90046 - 0.1) / (covered.roll_width_m - 0.1))
