"""Bars from low to high: places in proportion, no text over another, nothing outside the sheet."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gardenframe.output.ranges import Range, ranges

BAR = re.compile(r'<path d="M([\d.]+) [\d.]+H([\d.]+)V')


def bars(svg):
    """Return (left, right) of each bar. [px]"""
    return [(float(a), float(b)) for a, b in BAR.findall(svg)]


def test_bars_stand_in_proportion():
    """From nothing: 50 to 100 begins half way along what 100 takes."""
    found = bars(ranges([Range(name="a", low=0, usual=50, high=100), Range(name="b", low=50, usual=75, high=100)],
                        title="t", unit="u"))  # fmt: skip
    (left, right), (half, same) = found
    assert right == same
    assert half == pytest.approx((left + right) / 2, abs=0.11)


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.tuples(st.floats(1, 3000), st.floats(0, 1000), st.floats(0, 1000)), min_size=1, max_size=12),
    st.booleans(),
    st.sampled_from([430.0, 780.0]),
)
def test_every_bar_is_inside_and_in_order(rows, about, width):
    """Whatever the numbers: bars from left to right inside the sheet, every name and its words on it."""
    middle = rows[0][0] if about else None
    made = [
        Range(name=f"row {n}", low=a, usual=a + b, high=a + b + c, words="9 to 99") for n, (a, b, c) in enumerate(rows)
    ]
    svg = ranges(made, width, title="Cost", unit="USD", middle=middle)
    for (left, right), row in zip(bars(svg), made, strict=True):
        assert 0 <= left < right <= width - 50
        assert f">{row.name}<" in svg
    assert "nan" not in svg


def test_nothing_to_show_says_so():
    """No rows, one sentence."""
    assert "Nothing to show." in ranges([], title="t", unit="u")
