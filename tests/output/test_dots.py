"""Dots over one axis: one for each number, where they belong."""

import re
from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from gardenframe.output.dots import DotRow, dots

BOX = re.compile(r"M([\d.]+) ([\d.]+)H([\d.]+)V([\d.]+)H[\d.]+Z")


def drawn(values, **said):
    """Return the dots of one row as (left, top, right, bottom), without the field behind them."""
    svg = dots([DotRow(name="x", values=tuple(values))], title="t", across="a", **said)
    return [box for box in (tuple(map(float, found)) for found in BOX.findall(svg)) if box[2] - box[0] < 6]


def test_ten_times_is_one_mark_further():
    """On a decades axis 0.01, 0.1, 1 and 10 stand evenly; what is less than the first mark stands left of it."""
    lefts = [box[0] for box in sorted(drawn([0.01, 0.1, 1.0, 10.0], decades=(-2, 1)))]
    steps = [b - a for a, b in pairwise(lefts)]
    assert max(steps) - min(steps) <= 5.1  # a dot stands in a column of five pixels
    small = drawn([0.0099], decades=(-2, 1))
    assert small[0][2] < lefts[0]


@given(st.lists(st.floats(0, 100), min_size=1, max_size=400), st.sampled_from([300, 480, 816]))
def test_every_number_has_its_dot_inside_the_sheet(values, width):
    """None is lost, none lies past an edge, and no two at one place unless the stack is pressed together."""
    for decades in ((-4, 2), None):
        boxes = drawn(values, width_px=width, decades=decades)
        assert len(boxes) == len(values)
        assert all(0 <= left < right <= width and top >= 0 for left, top, right, _ in boxes)


def test_it_is_told_without_eyes():
    """Half within and the furthest, by hand of 1, 2, 3: 2 and 3."""
    svg = dots(
        [DotRow(name="printed", values=(3.0, 1.0, 2.0)), DotRow(name="worked", values=())], title="t", across="a"
    )
    assert "printed: 3, half within 2 %, the furthest 3 %. worked: none." in svg
