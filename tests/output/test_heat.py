"""Maps measured on the sheet: cells in their places, shades that rise in lightness, numbers that fit, words apart."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gardenframe.builds.chart import HeatMap
from gardenframe.output.heat import heat, shade
from gardenframe.output.svg import text_box

CELL = re.compile(r'<path d="M([-\d.]+) ([-\d.]+)H([-\d.]+)V([-\d.]+)H[-\d.]+Z" fill="(#\w{6})" stroke="#ffffff"')
TEXT = re.compile(r'<text x="([-\d.]+)" y="([-\d.]+)" text-anchor="(\w+)"[^>]*>([^<]*)</text>')


def made(values, **more):
    """Return a map with rows and columns named by their numbers."""
    facts = {
        "title": "What it says",
        "across": "along",
        "up": "back",
        "unit": "h",
        "low": 0.0,
        "high": 9.0,
        "digits": 1,
    }
    columns = tuple(f"c{k}" for k in range(len(values[0])))
    rows = tuple(f"r{n}" for n in range(len(values)))
    return HeatMap(columns=columns, rows=rows, values=tuple(map(tuple, values)), **facts | more)


def lightness(colour):
    """Return how light a colour is to the eye: relative luminance of sRGB (from memory)."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@given(st.floats(0, 1), st.floats(0, 1))
def test_more_is_lighter(a, b):
    """The eye that sees no colour reads the map all the same."""
    low, high = sorted((a, b))
    assert lightness(shade(low)) <= lightness(shade(high)) + 0.004
    assert lightness(shade(1.0)) - lightness(shade(0.0)) > 0.7


@settings(max_examples=25, deadline=None)
@given(st.integers(1, 14), st.integers(1, 12), st.sampled_from([320, 560, 780]), st.data())
def test_cells_tile_the_map_and_words_keep_apart(columns, rows, width, data):
    """Each cell once, beside and above each other without a gap, on the sheet; no word lies on another."""
    value = st.one_of(st.none(), st.floats(0, 9))
    values = data.draw(st.lists(st.lists(value, min_size=columns, max_size=columns), min_size=rows, max_size=rows))
    svg = heat(made(values, nothing="the sun is down", tall=data.draw(st.sampled_from([None, 0.4, 3.0]))), width)
    cells = [tuple(map(float, found[:4])) for found in CELL.findall(svg)]
    known = [(n, k) for n in range(rows) for k in range(columns) if values[n][k] is not None]
    assert len(cells) == len(known)
    places = {}
    for (n, k), (left, top, right, bottom) in zip(known, cells, strict=True):
        assert 0 <= left < right <= width
        assert 0 < top < bottom
        assert places.setdefault(("column", k), left) == pytest.approx(left, abs=0.11)
        assert places.setdefault(("row", n), bottom) == pytest.approx(bottom, abs=0.11)
    boxes = [text_box(float(x), float(y), said, anchor, bold=said in "What it says") for x, y, anchor, said in
             TEXT.findall(svg)]  # fmt: skip
    for i, a in enumerate(boxes):
        assert a[0] >= -1
        for b in boxes[:i]:
            assert a[2] <= b[0] + 1 or b[2] <= a[0] + 1 or a[3] <= b[1] + 1 or b[3] <= a[1] + 1


def test_a_number_stands_in_its_cell_and_the_ends_are_told():
    """The first row is the lowest; a reader who cannot see is told the least and the most and where."""
    svg = heat(made([[1.0, 2.0], [8.5, None]], nothing="the sun is down"))
    at = {said: (float(x), float(y)) for x, y, _, said in TEXT.findall(svg)}
    assert at["1.0"][1] > at["8.5"][1]
    assert at["1.0"][0] < at["2.0"][0]
    assert "least 1 h at c0, r0; most 8.5 h at c0, r1" in svg
    assert "Hatched: the sun is down" in svg
    assert "Nothing to show: the sun is down" in heat(made([[None]], nothing="the sun is down"))
