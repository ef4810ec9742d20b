"""Charts measured on the sheet: points where their numbers are, names apart, round ticks that hold the range."""

import itertools
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gardenframe.builds.chart import Chart, ChartLine
from gardenframe.output.charts import _ticks, chart
from gardenframe.output.svg import text_width

LINE = re.compile(r'<path d="(M[^"Z]+)" fill="none" stroke="[^"]+" stroke-width="1.8"')
TEXT = re.compile(r'<text x="([-\d.]+)" y="([-\d.]+)" text-anchor="(\w+)"[^>]*>([^<]*)</text>')
VALUES = st.floats(-500, 2000)


def placed(svg):
    """Return the points of every line on the sheet. [px]"""
    return [[tuple(map(float, p.split())) for p in d[1:].split("L")] for d in LINE.findall(svg)]


def made(ys, **more):
    """Return a chart of lines over 0, 1, 2, ..."""
    lines = tuple(ChartLine(name=f"line {n}", points=tuple(enumerate(map(float, y)))) for n, y in enumerate(ys))
    return Chart(title="What it says", across="x", up="y", lines=lines, **more)


@settings(max_examples=60, deadline=None)
@given(st.lists(VALUES, min_size=3, max_size=8), st.sampled_from([320, 560, 780]))
def test_points_stand_where_their_numbers_are(ys, width):
    """Places on the sheet are a straight-line function of the numbers, both ways, and stay on the sheet."""
    (points,) = placed(chart(made([ys]), width))
    spread = max(ys) - min(ys)
    for (x, y), value, number in zip(points, ys, range(len(ys)), strict=True):
        share = number / (len(ys) - 1)
        assert x == pytest.approx(points[0][0] + share * (points[-1][0] - points[0][0]), abs=0.11)
        assert 0 <= x <= width
        assert 0 <= y <= 300
        if spread > 1:
            low, high = max(p[1] for p in points), min(p[1] for p in points)
            assert y == pytest.approx(low + (value - min(ys)) / spread * (high - low), abs=0.3)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.lists(VALUES, min_size=2, max_size=4), min_size=1, max_size=4))
def test_names_of_lines_never_lie_on_each_other(ys):
    """Lines may end at one place: their names are moved apart and stay above the axis."""
    words = TEXT.findall(chart(made(ys)))
    at = sorted(float(y) for _, y, _, said in words if said.startswith("line "))
    assert len(at) == len(ys)
    assert all(b - a >= 13 for a, b in itertools.pairwise(at))
    assert at[-1] <= 300 - 30


@given(VALUES, st.floats(0.001, 1000), st.integers(2, 12))
def test_ticks_hold_the_range_and_are_not_too_many(low, span, most):
    """At least two, evenly spaced, from at or below the range to at or above it."""
    ticks = _ticks(low, low + span, most)
    step = ticks[1] - ticks[0]
    assert ticks[0] <= low + 1e-6 * span
    assert ticks[-1] >= low + span - 1e-6 * span
    assert 2 <= len(ticks) <= most + 2
    assert all(b - a == pytest.approx(step) for a, b in itertools.pairwise(ticks))


def test_the_readers_place_and_words_along_the_axis():
    """A dashed upright where the reader stands; months in place of numbers; the description tells both ends."""
    svg = chart(made([[1, 4, 9]], names=("Jan", "Feb", "Mar"), here=1.0))
    (points,) = placed(svg)
    assert f"M{points[1][0]:.1f} 48.0L{points[1][0]:.1f}" in svg
    assert {"Jan", "Feb", "Mar"} <= {said for *_, said in TEXT.findall(svg)}
    assert "line 0: 1 at Jan, 9 at Mar." in svg


def test_a_title_that_is_long_takes_two_rows():
    """On a narrow sheet nothing of it is lost."""
    long = "Propped as drawn it comes to 18 degrees and 169 mm keep it at its limit on a day without wind"
    svg = chart(Chart(title=long, across="x", up="y", lines=made([[1, 2]]).lines), 320)
    rows = [said for *_, said in TEXT.findall(svg) if said and said in long and len(said) > 8]
    assert " ".join(rows) == long


@settings(max_examples=40, deadline=None)
@given(st.integers(2, 17), st.integers(3, 17), st.sampled_from([320, 430, 780]), st.booleans())
def test_names_along_an_axis_never_run_into_each_other(number, letters, width, every):
    """However long and many: in rows where all are wanted, else fewer; the first always, and none cut at the edge."""
    names = tuple("m" * (3 + (n * 7) % (letters - 2)) for n in range(number))
    svg = chart(made([range(number)], names=names, every_name=every), width)
    said = [(float(x), float(y), text) for x, y, anchor, text in TEXT.findall(svg) if text in names]
    assert said
    assert said[0][2] == names[0]
    for level in {y for _, y, _ in said}:
        row = [(x - text_width(text) / 2, x + text_width(text) / 2) for x, y, text in said if y == level]
        assert row[0][0] >= -0.11
        assert all(a[1] < b[0] for a, b in itertools.pairwise(row))
    few = tuple("mmmmmm" for _ in range(6))
    assert chart(made([range(6)], names=few, every_name=True), 430).count(">mmmmmm<") == 6
