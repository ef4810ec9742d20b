"""Shadows against rays cast one by one by another method, closed forms of geometry, and what must be true."""

import math

import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from printed import as_worked

from gardenframe.climate import shade, sun
from gardenframe.climate.shade import Block, Screen
from gardenframe.errors import InputError

BED = shade.bed_grid(2.4, 1.2, 6, 4, z_m=0.3)
POINTS = BED.reshape(-1, 3)
pvlib = pytest.importorskip("pvlib")


def roof(z=2.0, south=0.0, rise=0.0, passes=0.5):
    """A cloth over the bed, its north edge higher by the rise, reaching out to the south."""
    return Screen(((0, -south, z), (2.4, -south, z), (2.4, 1.2, z + rise), (0, 1.2, z + rise)), passes)


def crosses(points, directions, a, b, c):
    """Whether rays (d) from points (p) meet a triangle: three signed volumes (nothing of the package's method)."""
    near, far = points[None, :, :], points[None, :, :] + 1e4 * directions[:, None, :]

    def volume(p, q, r, s):
        return (np.cross(q - p, r - p) * (s - p)).sum(axis=-1)

    between = volume(near, a, b, c) * volume(far, a, b, c) < 0
    signs = np.stack([volume(near, far, *pair) > 0 for pair in ((a, b), (b, c), (c, a))])
    return between & (signs.all(axis=0) | ~signs.any(axis=0))


def meets(points, directions, outlines):
    """Whether rays meet any of some triangles: (d, p)."""
    return np.any([crosses(points, directions, *outline) for outline in outlines], axis=0)


def share_cast(points, directions, cloth, block):
    """The share of the sun that reaches points, half under the cloth and none behind the block: (d, p)."""
    under, behind = meets(points, directions, triangles(cloth.corners)), meets(points, directions, faces(block))
    return np.where(behind, 0.0, np.where(under, 0.5, 1.0))


def triangles(corners):
    """A convex outline as a fan."""
    points = np.array(corners, float)
    return [(points[0], points[i], points[i + 1]) for i in range(1, len(points) - 1)]


def faces(block):
    """Sides and top of a prism."""
    low = [(x, y, block.base_m) for x, y in block.plan]
    high = [(x, y, block.top_m) for x, y in block.plan]
    sides = [(low[i], low[i - 1], high[i - 1], high[i]) for i in range(len(low))]
    return [triangle for outline in [*sides, high, low] for triangle in triangles(outline)]


@pytest.mark.outside("climate.shade", source="second-method")
@given(st.floats(1, 89), st.floats(0, 360), st.floats(-3, 3), st.floats(-3, 3), st.floats(0.5, 4), st.integers(3, 7))
@settings(max_examples=40, deadline=None)
def test_shadow_is_that_of_rays_cast_one_by_one(height, azimuth, x, y, top, sides):
    """A sloped cloth and a prism of three to seven sides, every point of the bed."""
    up, turn = math.radians(height), math.radians(azimuth)
    direction = np.array([math.cos(up) * math.sin(turn), math.cos(up) * math.cos(turn), math.sin(up)])
    ring = np.linspace(0, 2 * math.pi, sides, endpoint=False) + 0.1234
    block = Block(tuple((x + math.cos(a), y + 1.3 * math.sin(a)) for a in ring), top)
    cloth = roof(1.7317, south=0.4131, rise=0.3719)
    found = shade.beam_share(POINTS, direction[None], [cloth, block])[0]
    cast = share_cast(POINTS, direction[None], cloth, block)[0]
    assert found == as_worked(cast, "", "share of the sun under a cloth and behind a shed, ray by ray", abs=1e-12)


def test_shadow_of_a_wall_ends_where_its_length_says():
    """Two metres high at 40° north on the shortest day's noon: 4.003 m by hand with declination −23.45."""
    direction = np.array([[0, -math.cos(math.radians(26.55)), math.sin(math.radians(26.55))]])
    line = np.array([[0.0, y, 0.0] for y in (3.9, 4.0, 4.006, 4.1)])
    found = shade.beam_share(line, direction, [shade.wall((-9, 0), (9, 0), 2.0)])[0]
    assert found.tolist() == [0, 0, 1, 1]


@given(st.floats(-89, 89), st.floats(0, 1), st.floats(0.5, 4), st.floats(0, 2))
@settings(max_examples=25, deadline=None)
def test_hours_add_up_to_the_day(latitude, passes, z, south):
    """Direct, filtered and blocked are the geometric day; a share lies between what the cloth lets in and all."""
    found = shade.sun_map(BED, [roof(z, south, passes=passes), Block(((4, -3), (6, -3), (5, 2)), 3)], latitude)
    days = [2 * float(sun.half_day_h(latitude, day)) for day in sun.MIDDLE_DAYS]
    total = found.direct_h + found.filtered_h + found.blocked_h
    assert total[:, 0, 0] == pytest.approx(days, abs=1e-9)
    assert total == pytest.approx(np.broadcast_to(total[:, :1, :1], total.shape), abs=1e-9)
    assert (found.light_share >= -1e-12).all()
    assert (found.light_share <= 1 + 1e-12).all()


def test_open_bed_gets_everything_and_an_endless_cloth_its_share():
    """1 without a cloth; 0.7 under a 30 % cloth that covers the whole sky."""
    free = shade.sun_map(BED, [], 45)
    assert free.light_share == pytest.approx(1)
    wide = Screen(((-1e5, -1e5, 2), (1e5, -1e5, 2), (1e5, 1e5, 2), (-1e5, 1e5, 2)), 0.7)
    assert shade.sun_map(BED, [wide], 45).light_share == pytest.approx(0.7)


def test_sky_seen_beside_a_long_wall_is_the_closed_form():
    """An endless wall hides (1 − cos a)/2 of an even sky from level ground, a its height angle."""
    wall = shade.wall((-4000, 0), (4000, 0), 3.0)
    for distance in (1.0, 3.0, 9.0):
        found = shade.sun_map(np.array([[0.0, distance, 0.0]]), [wall], 45)
        exact = 1 - (1 - math.cos(math.atan2(3.0, distance))) / 2
        assert float(found.sky_share[0]) == pytest.approx(exact, abs=0.015)


@given(st.floats(30, 60), st.floats(0, 3), st.floats(0, 3))
@settings(max_examples=20, deadline=None)
def test_more_cloth_never_gives_more_light(latitude, less, more):
    """A longer overhang takes light, never gives it; a denser cloth too."""
    less, more = sorted((less, more))
    a = shade.sun_map(BED, [roof(south=less)], latitude, (3, 7))
    b = shade.sun_map(BED, [roof(south=more)], latitude, (3, 7))
    dense = shade.sun_map(BED, [roof(south=less, passes=0.2)], latitude, (3, 7))
    assert (b.light_share <= a.light_share + 1e-12).all()
    assert (dense.light_share <= a.light_share + 1e-12).all()


@given(st.floats(0, 360))
@settings(max_examples=20, deadline=None)
def test_turning_keeps_lengths_and_points_the_front(azimuth):
    """The front, first towards −y, looks to the azimuth asked for."""
    front = shade.turned(np.array([[0.0, -1.0, 0.5]]), azimuth)[0]
    expected = [math.sin(math.radians(azimuth)), math.cos(math.radians(azimuth)), 0.5]
    assert front == pytest.approx(expected, abs=1e-9)


def test_mirrored_south_of_the_equator():
    """A wall to the north at 40° south does in July what a wall to the south at 40° north does in January."""
    point = np.array([[0.0, 0.0, 0.0]])
    north = shade.sun_map(point, [shade.wall((-5, 1), (5, 1), 2)], -40, (6,))
    south = shade.sun_map(point, [shade.wall((-5, -1), (5, -1), 2)], 40, (12,))
    assert float(north.light_share[0, 0]) == pytest.approx(float(south.light_share[0, 0]), abs=0.01)


def test_overhang_that_shades_july_and_lets_december_in():
    """A roof over the bed at 45° north: the row chosen is at least as good as every other, and both ends are said."""

    def over(size):
        west, high = -size, 2.6
        outline = ((west, -size, high), (2.4, -size, high), (2.4, 1.2, high), (west, 1.2, high))
        return [Screen(outline, 0.0)]

    rows = shade.overhangs(BED, over, 45, [0, 0.3, 0.6, 0.9, 1.2, 2.4, 4.0, 8.0])
    best = shade.best_overhang(rows)
    assert [row.summer_kept_off for row in rows] == sorted(row.summer_kept_off for row in rows)
    assert [row.winter_let_in for row in rows] == sorted((row.winter_let_in for row in rows), reverse=True)
    assert best.summer_kept_off > 0.5
    assert best.winter_let_in > 0.9
    assert rows[-1].winter_let_in < 0.5


def test_overhang_at_a_wall_is_the_closed_form():
    """Where the profile formula puts the edge, the point below is just shaded; a hair less and it is not."""
    place = sun.at_solar_time(45, 198, 14)
    tangent = shade.profile_tangent(float(place.altitude_deg), float(place.azimuth_deg) - 180)
    out = shade.overhang_m(2.0, tangent)
    point = np.array([[0.0, 0.0, 0.0]])
    for size, shaded in ((out * 1.001, True), (out * 0.999, False)):
        edge = Screen(((-9, -size, 2), (9, -size, 2), (9, 0.5, 2), (-9, 0.5, 2)), 0.0)
        assert (shade.beam_share(point, place.to_sun[None], [edge])[0, 0] == 0) == shaded


def test_month_and_hour_are_looked_up_by_sundial_or_clock():
    """At noon the sun is up, at midnight nothing is shown; a clock an hour ahead shifts the hours."""
    dial = shade.sun_map(BED, [roof()], 45, (7,))
    clock = shade.sun_map(BED, [roof()], 45, (7,), longitude_deg=0, zone_h=1)
    assert dial.at(7, 12.1).shape == BED.shape[:2]
    assert dial.at(7, 0.5) is None
    assert (clock.hours - dial.hours) == pytest.approx(1.1, abs=0.02)  # sundial 6 min behind in mid-July
    with pytest.raises(InputError, match=r"^month: got 8, needs one of 7\.$"):
        dial.at(8, 12)


def test_polar_night_is_a_sentence():
    """No light to share out, no crash."""
    found = shade.sun_map(BED, [roof()], 80)
    assert found.light_share[11].max() == 0
    assert found.sentence.startswith("The sun does not rise in the middle of Jan, ")
    assert shade.sun_map(BED, [roof()], 45).sentence == ""


@pytest.mark.parametrize(
    ("call", "sentence"),
    [
        (lambda: roof(passes=-0.2), r"^share of light let through: got -0\.2, needs 0 to 1 "),
        (lambda: Screen(((0, 0, 1), (1, 0, 1)), 0.5), r"^screen: got '2 corners', needs three corners or more"),
        (lambda: Screen(((0, 0, 1), (1, 0, 1), (2, 0, 1)), 0.5), r"corners in one line"),
        (lambda: Screen(((0, 0, 1), (1, 0, 1), (1, 1, 2), (0, 1, 1)), 0.5), r"corners out of one plane"),
        (lambda: Screen(((0, 0, 1), (2, 0, 1), (0.5, 0.5, 1), (0, 2, 1)), 0.5), r"an outline with a notch"),
        (lambda: Block(((0, 0), (1, 0), (0, 1)), 0), r"^top of a block: got 0, needs more than its base at 0 m\.$"),
        (lambda: shade.sun_map(BED, [], 91), r"^latitude: got 91, needs -90 to 90 deg\."),
        (lambda: shade.sun_map(BED, [], 45, (13,)), r"^month: got 13, needs 1 to 12 "),
        (lambda: shade.turned(BED, "south"), r"^azimuth: got 'south', needs -360 to 360 deg\."),
        (lambda: shade.beam_between(BED, [], 45, 7, 16, 12), r"^hours: got '16 to 12', needs a first hour before"),
        (lambda: shade.best_overhang([]), r"^overhangs: got 'none', needs one overhang or more"),
    ],
)  # fmt: skip
def test_bad_input_is_a_sentence(call, sentence):
    """Which input, what came, what is needed."""
    with pytest.raises(InputError, match=sentence):
        call()


def ways(places):
    """Unit vectors to the suns of a library: east, north, up."""
    high, turn = np.radians(places["elevation"].to_numpy()), np.radians(places["azimuth"].to_numpy())
    return np.stack([np.cos(high) * np.sin(turn), np.cos(high) * np.cos(turn), np.sin(high)], axis=-1)


def test_map_by_the_clock_is_that_of_the_reference_librarys_sun():
    """17 July at 39° north, 105° west, mountain time: the library's sun and rays cast one by one, point by point."""
    block = Block(((3, -1), (4, -1), (4, 2), (3, 2)), 2.2)
    cloth = roof(1.7317, south=0.4131)
    found = shade.sun_map(BED, [cloth, block], 39, (7,), steps=24, longitude_deg=-105, zone_h=-7)
    times = pd.Timestamp("2026-07-17", tz="UTC") + pd.to_timedelta(found.hours[0] + 7, unit="h")
    suns = ways(pvlib.solarposition.spa_python(pd.DatetimeIndex(times), 39, -105))
    wrong = (found.passes[0].reshape(24, -1) != share_cast(POINTS, suns, cloth, block)).sum()
    assert wrong <= 3  # of 576: a ray that grazes an edge, the two suns differing by hundredths of a degree
    assert 0.1 < (found.passes[0] == 1).mean() < 0.9


@pytest.mark.outside("climate.shade", "climate.sun", source="pvlib")
@pytest.mark.parametrize(("day", "latitude"), [("2026-07-17", 45.0), ("2026-11-02", -33.0)])
def test_a_days_map_point_by_point_from_reference_positions(day, latitude):
    """Every cell's hours under the cloth, in the open and behind the shed, to 12 min.

    The sun of a reference library each 5 min, a ray from each point against triangles: no part of the package.
    """
    cloth, shed = roof(1.7317, south=0.4131, rise=0.3719), Block(((-3.1, -0.2), (-1.1, 0.2), (-1.1, 2.2)), 3.3)
    found = shade.day_map(BED, [cloth, shed], latitude, sun.day_of_year(day), 240)
    times = pd.date_range(day, periods=288, freq="5min", tz="UTC")
    places = pvlib.solarposition.spa_python(times, latitude, 0.0)
    cast = share_cast(POINTS, ways(places[places["elevation"] > 0]), cloth, shed)
    hours = {share: ((cast == share).sum(axis=0) * 5 / 60).reshape(BED.shape[:-1]) for share in (1.0, 0.5, 0.0)}
    for mine, share, what in ((found.direct_h, 1.0, "sun"), (found.filtered_h, 0.5, "shade of a cloth"),
                              (found.blocked_h, 0.0, "shade of a shed")):  # fmt: skip
        assert mine[0] == as_worked(
            hours[share], "h", f"hours in {what}, 24 places of a bed, {day}, latitude {latitude:g}°", abs=0.2
        )
    assert min(found_h.max() for found_h in hours.values()) > 1


# profile and overhang ------------------------------------------------------------------------------------------------


@pytest.mark.outside("climate.shade.profile_tangent", source="pvlib")
def test_height_seen_along_a_wall_by_a_library():
    """The library turns the sun into the plane across an axle: one along the wall leaves its height seen from there."""
    rng = np.random.default_rng(11)
    height, turned, facing = rng.uniform(2, 88, 200), rng.uniform(-85, 85, 200), rng.uniform(90, 270, 200)
    leaning = pvlib.shading.projected_solar_zenith_angle(90 - height, facing + turned, 0.0, facing - 90)
    ours = [shade.profile_tangent(*row) for row in zip(height, turned, strict=True)]
    theirs = 1 / np.tan(np.radians(np.abs(leaning)))
    assert ours == as_worked(theirs, "", "slope of the sun seen along a wall, 200 suns and walls", rel=1e-9)


@pytest.mark.outside("climate.shade.overhang_m", "climate.shade.profile_tangent", source="second-method")
def test_overhang_that_just_shades_the_foot_of_a_wall():
    """A ray from the foot of a wall that looks south, against a roof that is drawn out until it meets it, by halves."""
    foot = np.array([[0.0, 0.0, 0.0]])
    for height, turned in ((55.0, 0.0), (40.0, 30.0), (68.0, -50.0)):
        up, turn = math.radians(height), math.radians(180 + turned)
        way = np.array([[math.cos(up) * math.sin(turn), math.cos(up) * math.cos(turn), math.sin(up)]])
        low, high = 0.0, 5.0
        for _ in range(50):
            middle = (low + high) / 2
            cloth = ((-99, -middle, 2.1), (99, -middle, 2.1), (99, 0, 2.1), (-99, 0, 2.1))
            low, high = (low, middle) if meets(foot, way, triangles(cloth))[0, 0] else (middle, high)
        ours = shade.overhang_m(2.1, shade.profile_tangent(height, turned))
        what = f"overhang over a wall of 2.1 m, sun {height:g}° high, {turned:g}° aside"
        assert ours == as_worked(high, "m", what, abs=1e-9)
