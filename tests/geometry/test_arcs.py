"""Centrelines against geometry that needs no computer."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from printed import as_worked

from gardenframe.errors import FrameError
from gardenframe.geometry.arcs import rounded
from gardenframe.geometry.vectors import distance


@pytest.mark.outside("geometry.arcs", source="worked-apart")
@pytest.mark.parametrize(
    ("width", "metres", "half"), [(1.940, 3.048, 8e-4), (2, 3.142, 5e-4), (3, 4.712, 5e-4), (4, 6.283, 5e-4)]
)
def test_a_ten_foot_stick_bends_to_a_semicircle_1940_mm_wide(width, metres, half):
    """Hoop arcs by another program: a width of 2 m needs 3.142 m, and 10 ft give 1.940 m (to half a millimetre)."""
    r = width / 2
    hoop = rounded([(0, 0, 0), (0, 0, r), (width, 0, r), (width, 0, 0)], r, "hoop")
    assert hoop.length_m == as_worked(metres, "m", f"half circle {width:g} m wide: tube it takes", abs=half)


@pytest.mark.outside("geometry.arcs", source="worked-apart")
def test_a_right_angle_bend_saves_the_published_gain():
    """Gain is 0.4292 R: 1 in EMT at 5-3/4 in saves 2.468 in (by another program)."""
    radius = 5.75 * 0.0254
    bent = rounded([(0, 0, 0), (1, 0, 0), (1, 1, 0)], radius, "bend")
    saved = (2 - bent.length_m) / 0.0254
    assert saved == as_worked(2.468, "in", "what a right angle of 1 in EMT saves round its corner", abs=0.0005)


@pytest.mark.outside("geometry.arcs", source="numpy")
@settings(max_examples=40)
@given(st.lists(st.tuples(st.floats(10, 120), st.floats(-180, 180)), min_size=1, max_size=3), st.floats(0.05, 0.3))
def test_a_rounded_path_is_as_long_as_its_own_fine_chords(corners, radius):
    """Straights and curves walked in space from headings alone; the line has their length, ends and middle point."""
    ahead, up = np.array([1.0, 0.0, 0.0]), np.array([0.0, 0.0, 1.0])
    walked, at, points, free = [np.zeros(3)], np.zeros(3), [np.zeros(3)], 0.0
    for angle, roll in corners:
        turn, spin = math.radians(angle), math.radians(roll)
        reach = radius * math.tan(turn / 2)
        points.append(points[-1] + ahead * (free + 0.2 + reach))
        at = at + ahead * 0.2
        walked.append(at)
        up = up * math.cos(spin) + np.cross(ahead, up) * math.sin(spin)
        swung = np.linspace(0, turn, 2001)[1:, None]
        walked += list(at + radius * (np.sin(swung) * ahead + (1 - np.cos(swung)) * up))
        at = walked[-1]
        ahead, up = ahead * math.cos(turn) + up * math.sin(turn), up * math.cos(turn) - ahead * math.sin(turn)
        free = reach
    walked.append(at + ahead * 0.2)
    points.append(points[-1] + ahead * (free + 0.2))
    line = rounded([tuple(map(float, p)) for p in points], radius, "walk")
    steps = np.linalg.norm(np.diff(walked, axis=0), axis=1)
    assert line.length_m == as_worked(steps.sum(), "m", "length of a bent tube, chord by chord", rel=1e-6)
    assert line.point(line.length_m) == as_worked(walked[-1], "m", "where a bent tube ends", abs=1e-6)
    half = np.searchsorted(np.cumsum(steps), steps.sum() / 2)
    nearest = np.linalg.norm(np.array(walked[half : half + 2]) - line.point(line.length_m / 2), axis=1).min()
    assert nearest < steps.max()


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
