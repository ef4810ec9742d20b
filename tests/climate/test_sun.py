"""The sun's place against published positions, an almanac's times, and a reference library over years and globe."""

import math

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st
from printed import as_printed

from gardenframe.climate import sun
from gardenframe.errors import InputError

pvlib = pytest.importorskip("pvlib")
LATITUDES = st.floats(-90, 90)
DAYS = st.integers(1, 365)

# NREL/TP-560-34302 worked case, as printed in the tests of a public solar library (seen): 17 October 2003, 19:30:30 UTC
NREL = {"latitude_deg": 39.742476, "longitude_deg": -105.1786, "utc": "2003-10-17T19:30:30"}


def test_position_of_the_published_worked_case():
    """Altitude, azimuth and declination to 0.01°, equation of time to the printed 14.64 min within 0.05."""
    found = sun.position(**NREL)
    assert float(found.altitude_deg) == pytest.approx(39.872046, abs=0.01)
    assert float(found.azimuth_deg) == pytest.approx(194.340241, abs=0.015)
    assert float(found.declination_deg) == pytest.approx(-9.31434, abs=0.01)
    assert float(found.equation_min) == pytest.approx(14.64, abs=0.05)


def test_refraction_of_the_published_worked_case():
    """At 820 mbar and 11 °C the lift is printed as 0.016332°; ours is for 1010 hPa and 10 °C."""
    assert float(sun.refraction_deg(39.872046)) * 820 / 1010 * 283 / 284 == pytest.approx(0.016332, abs=2e-4)


@pytest.mark.parametrize(
    ("day", "rise", "fall"),
    # US Naval Observatory times for 39 N, 105 W in 2015, mountain standard time (seen in the same tests)
    [("2015-01-02", "07:19", "16:49"), ("2015-04-02", "05:43", "18:24"), ("2015-08-02", "05:01", "19:10"),
     ("2015-12-02", "07:01", "16:38")],
)  # fmt: skip
def test_rise_and_set_as_an_almanac_prints_them(day, rise, fall):
    """To the printed minute, within one."""
    found = sun.day_of(39, -105, day, zone_h=-7)
    for mine, printed in ((found.sunrise_h, rise), (found.sunset_h, fall)):
        hours, minutes = printed.split(":")
        assert mine * 60 == pytest.approx(int(hours) * 60 + int(minutes), abs=1)


def test_positions_over_years_and_globe_agree_with_the_reference_library():
    """Within 0.02° of the algorithm good to 0.0003°, at 400 places and times from 1980 to 2045."""
    rng = np.random.default_rng(7)
    seconds = rng.integers(315532800, 2366841600, 400)
    latitude, longitude = rng.uniform(-89, 89, 400), rng.uniform(-180, 180, 400)
    mine = sun.position(latitude, longitude, seconds.astype("datetime64[s]"))
    for at in range(400):
        time = pd.DatetimeIndex([pd.Timestamp(int(seconds[at]), unit="s", tz="UTC")])
        theirs = pvlib.solarposition.spa_python(time, latitude[at], longitude[at], delta_t=None).iloc[0]
        assert mine.altitude_deg[at] == pytest.approx(theirs["elevation"], abs=0.02)
        turn = (mine.azimuth_deg[at] - theirs["azimuth"] + 180) % 360 - 180
        assert abs(turn) * math.cos(math.radians(theirs["elevation"])) < 0.03
        assert mine.equation_min[at] == pytest.approx(theirs["equation_of_time"], abs=0.08)


@pytest.mark.parametrize(("printed", "latitude", "longitude"), [("north", 45.0, 10.0), ("south", -33.0, 151.0)])
def test_apparent_altitude_agrees_with_the_reference_library(printed, latitude, longitude):
    """Through a whole day above the horizon, refraction included."""
    times = pd.date_range("2026-05-04", periods=96, freq="15min", tz="UTC")
    theirs = pvlib.solarposition.spa_python(times, latitude, longitude)
    mine = sun.position(latitude, longitude, times.tz_localize(None).to_numpy())
    up = theirs["elevation"].to_numpy() > 0.3
    assert up.sum() > 30
    assert mine.apparent_deg[up] == pytest.approx(theirs["apparent_elevation"].to_numpy()[up], abs=0.03)


@pytest.mark.parametrize(
    ("day", "printed"),
    # the formula worked by hand calculator apart from this code
    [(17, "-20.917"), (47, "-12.955"), (75, "-2.418"), (81, "0.000"), (105, "9.415"), (162, "23.086"), (172, "23.45"),
     (198, "21.184"), (264, "-0.202"), (344, "-23.050"), (355, "-23.45")],
)  # fmt: skip
def test_declination_by_hand(day, printed):
    """Every digit."""
    assert sun.declination_deg(day) == as_printed(printed)


def test_equation_of_time_of_a_worked_example():
    """Duffie and Beckman example 1.5.1, 3 February: −13.5 min, and 10:30 standard is 10:19 solar at 89.4° W."""
    assert sun.equation_of_time_min(34) == as_printed("-13.5")
    clock = 10.5 + (-89.4 + 90) / 15 + sun.equation_of_time_min(34) / 60
    assert clock * 60 == pytest.approx(10 * 60 + 19, abs=0.5)
    assert float(sun.solar_hour(10.5, -89.4, -6, 34)) * 60 == pytest.approx(10 * 60 + 19, abs=1)


@given(DAYS)
def test_hand_formulas_stay_close_to_the_kernel(day):
    """A degree in declination, a minute in the equation of time."""
    exact = sun.at_solar_time(45, day, 12)
    assert sun.declination_deg(day) == pytest.approx(float(exact.declination_deg), abs=1.0)
    assert sun.equation_of_time_min(day) == pytest.approx(float(exact.equation_min), abs=0.9)


@pytest.mark.parametrize(
    ("latitude", "printed"),
    [(0, "12 12 12"), (30, "10.066 12 13.934"), (40, "9.154 12 14.846"), (45, "8.572 12 15.428"),
     (50, "7.850 12 16.150"), (60, "5.506 12 18.494")],
)  # fmt: skip
def test_day_length_by_latitude(latitude, printed):
    """At declinations −23.45, 0 and 23.45, worked apart from this code."""
    for declination, length in zip((-23.45, 0, 23.45), printed.split(), strict=True):
        assert sun.day_length_h(latitude, declination) == as_printed(length)


@pytest.mark.parametrize(("declination", "height", "shadow"),
                         [(-23.45, "26.55", "4.003"), (0, "50.0", "1.678"), (23.45, "73.45", "0.594")])  # fmt: skip
def test_noon_height_and_shadow_of_a_trellis(declination, height, shadow):
    """Two metres high at 40° north, worked apart from this code."""
    assert sun.noon_altitude_deg(40, declination) == as_printed(height)
    assert sun.shadow_m(2, sun.noon_altitude_deg(40, declination)) == as_printed(shadow)


@given(LATITUDES, DAYS, st.floats(0, 24))
def test_the_hand_altitude_is_the_kernels(latitude, day, hour):
    """The line that a reader follows and the vectors agree, given the same declination."""
    found = sun.at_solar_time(latitude, day, hour)
    worked = sun.altitude_deg(latitude, float(found.declination_deg), 15 * (hour - 12))
    assert worked == pytest.approx(float(found.altitude_deg), abs=1e-5)


@given(LATITUDES, DAYS, st.floats(0, 12))
def test_morning_mirrors_afternoon(latitude, day, before):
    """Same height and mirrored azimuth about the meridian; directions are unit vectors; the year turns round."""
    a, b = sun.at_solar_time(latitude, day, 12 - before), sun.at_solar_time(latitude, day, 12 + before)
    assert float(a.altitude_deg) == pytest.approx(float(b.altitude_deg), abs=1e-6)
    assert a.to_sun[..., 0] == pytest.approx(-b.to_sun[..., 0], abs=1e-9)
    assert a.to_sun[..., 1] == pytest.approx(b.to_sun[..., 1], abs=1e-9)
    assert np.linalg.norm(a.to_sun) == pytest.approx(1)


@given(st.floats(-89.9, 89.9), DAYS)
def test_half_day_ends_on_the_horizon(latitude, day):
    """Where the sun rises, it stands at 0 at the end of the half day; elsewhere it never crosses."""
    half = float(sun.half_day_h(latitude, day))
    if 0 < half < 12:
        assert float(sun.at_solar_time(latitude, day, 12 + half).altitude_deg) == pytest.approx(0, abs=1e-5)
    else:
        heights = sun.at_solar_time(latitude, day, np.linspace(0, 24, 49)).altitude_deg
        assert (heights >= -1e-6).all() if half else (heights <= 1e-6).all()


def test_polar_night_and_polar_day_are_sentences():
    """No crash, no hours that do not exist."""
    night, light = sun.day_of(80, 0, "2026-12-21"), sun.day_of(80, 0, "2026-06-21")
    assert (night.kind, night.sunrise_h, night.length_h) == ("polar night", None, 0)
    assert night.sentence == "The sun does not rise on this day: no sun and no shadow to show."
    assert (light.kind, light.sunset_h, light.length_h) == ("polar day", None, 24)
    assert light.sentence.startswith("The sun does not set on this day")
    assert sun.day_of(39, -105, "2015-04-02", -7).sentence.startswith("The sun is up for 12.7 h")


@pytest.mark.parametrize(
    ("call", "sentence"),
    [
        (lambda: sun.at_solar_time(91, 1, 12), r"^latitude: got 91, needs -90 to 90 deg\. North is positive\.$"),
        (lambda: sun.position([0, 95], 0, "2026-01-01"), r"^latitude: got 95, needs -90 to 90 deg\.$"),
        (lambda: sun.position(0, 181, "2026-01-01"), r"^longitude: got 181, needs -180 to 180 deg\.$"),
        (lambda: sun.position(math.nan, 0, "2026-01-01"), r"^latitude: got nan, needs -90 to 90 deg\.$"),
        (lambda: sun.day_of_year("2026-02-30"), r"^date: got '2026-02-30', needs a day of the calendar such as"),
        (lambda: sun.day_of_year("midsummer"), r"^date: got 'midsummer', needs a day of the calendar such as"),
        (lambda: sun.day_of(45, 0, "13-01"), r"^date: got '2026-13-01', needs a day of the calendar such as"),
        (lambda: sun.day_of(45, 0, "07-01", 20), r"^time zone: got 20, needs -12 to 14 h\."),
        (lambda: sun.half_day_h(45, 0), r"^day of the year: got 0, needs 1 to 366\.$"),
    ],
)  # fmt: skip
def test_bad_input_is_a_sentence(call, sentence):
    """Which input, what came, what is needed."""
    with pytest.raises(InputError, match=sentence):
        call()
