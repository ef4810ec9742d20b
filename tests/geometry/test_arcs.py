"""Centrelines against geometry that needs no computer."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenframe.errors import FrameError
from gardenframe.geometry.arcs import rounded
from gardenframe.geometry.vectors import distance


def test_a_ten_foot_stick_bends_to_a_semicircle_1940_mm_wide():
    """Source: reference table of hoop arcs, width 2 m needs 3.142 m; 3.048 m gives 1.940 m (worked independently)."""
    for width, developed, half_digit in (
        (1.940, 3.048, 0.0008),
        (2, 3.142, 0.0005),
        (3, 4.712, 0.0005),
        (4, 6.283, 0.0005),
    ):
        r = width / 2
        hoop = rounded([(0, 0, 0), (0, 0, r), (width, 0, r), (width, 0, 0)], r, "hoop")
        assert hoop.length_m == pytest.approx(developed, abs=half_digit)  # 0.5 mm of width is 0.8 mm of arc


def test_a_right_angle_bend_saves_the_published_gain():
    """Gain is 0.4292 R: 1 in EMT at 5-3/4 in saves 2.468 in (worked independently)."""
    radius = 5.75 * 0.0254
    bent = rounded([(0, 0, 0), (1, 0, 0), (1, 1, 0)], radius, "bend")
    assert (2 - bent.length_m) / 0.0254 == pytest.approx(2.468, abs=0.0005)


@given(st.floats(5, 170), st.floats(0.05, 0.5), st.floats(0, 2 * math.pi))
def test_a_bend_touches_both_sides_and_keeps_its_radius(turn_deg, radius_m, spin):
    """Every point of the arc is one radius from its centre, and the line leaves along the second side."""
    t = math.radians(turn_deg)
    reach = radius_m * math.tan(t / 2) + 0.1
    way = (math.cos(t), math.sin(t) * math.cos(spin), math.sin(t) * math.sin(spin))
    end = tuple(reach * (1 if i == 0 else 0) + reach * way[i] for i in range(3))
    line = rounded([(0, 0, 0), (reach, 0, 0), end], radius_m, "bend")
    (arc,) = line.bends
    assert arc.length_m == pytest.approx(radius_m * t, rel=1e-9)
    for share in (0.0, 0.3, 1.0):
        assert distance(arc.point(share * arc.length_m), arc.centre) == pytest.approx(radius_m, rel=1e-9)
    assert line.length_m == pytest.approx(0.2 + radius_m * t, rel=1e-9)
    assert distance(line.point(line.length_m), end) < 1e-9
    assert line.tangent(line.length_m) == pytest.approx(way, abs=1e-7)
    station = 0.1 + 0.5 * arc.length_m
    assert line.nearest(line.point(station)) == pytest.approx(station, abs=1e-7)


def test_a_corner_without_a_radius_is_refused():
    """The sentence names the run, the turn and the way out."""
    with pytest.raises(FrameError, match=r"^post: its path turns by 90 deg with no bend radius\. Give a radius"):
        rounded([(0, 0, 0), (1, 0, 0), (1, 1, 0)], 0.0, "post")


def test_a_bend_that_overlaps_the_next_is_refused():
    """Two right angles 0.5 m apart leave no room for radii of 0.3 m."""
    with pytest.raises(
        FrameError, match=r"^hoop: a bend of 90 deg at radius 0\.3 m takes 0\.3 m .* only 0\.2 m is free"
    ):
        rounded([(0, 0, 0), (0, 0, 1), (0.5, 0, 1), (0.5, 0, 0)], 0.3, "hoop")
