"""Where the sun stands: altitude, azimuth, day length, for any place and time. Arrays in, arrays out.

Azimuth is counted from north through east (south is 180°), altitude from the horizon. The kernel follows the
low-precision formulas of the Astronomical Almanac (to 0.01° from 1950 to 2050, from memory); the hand formulas beside
it are those that a reader can follow, and the tests say how far the two agree.
"""

import math
from dataclasses import dataclass
from datetime import date
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from gardenframe.errors import InputError, require_within
from gardenframe.named import MONTHS as MONTHS
from gardenframe.named import USUAL_YEAR
from gardenframe.working import formula

Floats = NDArray[np.float64]
TILT_DEG = 23.45
HORIZON_DEG = -0.833  # refraction and half the sun's disc: sunrise as almanacs print it
MIDDLE_DAYS = (17, 47, 75, 105, 135, 162, 198, 228, 258, 288, 318, 344)  # Duffie and Beckman, from memory
SPENCER_MIN, SPENCER_0, SPENCER_C1, SPENCER_S1, SPENCER_C2, SPENCER_S2 = (
    229.2, 0.000075, 0.001868, 0.032077, 0.014615, 0.04089,
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Positions:
    """The sun at many places and times; every array has the same shape.

    `altitude_deg` is geometric; `apparent_deg` is as seen through the air. `equation_min` is sundial minus clock.
    """

    altitude_deg: Floats
    azimuth_deg: Floats
    declination_deg: Floats
    equation_min: Floats

    @property
    def apparent_deg(self) -> Floats:
        """Altitude lifted by refraction at 1010 hPa and 10 °C (Saemundsson, from memory). [deg]"""
        return self.altitude_deg + refraction_deg(self.altitude_deg)

    @property
    def to_sun(self) -> Floats:
        """Unit vectors to the sun, last axis east, north, up. [1]"""
        up, turn = np.radians(self.altitude_deg), np.radians(self.azimuth_deg)
        return np.stack([np.cos(up) * np.sin(turn), np.cos(up) * np.cos(turn), np.sin(up)], axis=-1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Day:
    """One day of the sun: hours by the clock asked for, None where the sun neither rises nor sets.

    `kind` is usual, polar day or polar night.
    """

    sunrise_h: float | None
    noon_h: float
    sunset_h: float | None
    length_h: float
    noon_altitude_deg: float
    kind: str

    @property
    def sentence(self) -> str:
        """What to tell a reader."""
        if self.kind == "polar night":
            return "The sun does not rise on this day: no sun and no shadow to show."
        if self.kind == "polar day":
            return "The sun does not set on this day: it goes round the whole horizon."
        return f"The sun is up for {self.length_h:.1f} h and stands {self.noon_altitude_deg:.0f}° high at its noon."


def require_place(latitude_deg: float, longitude_deg: float = 0.0) -> None:
    """Raise InputError unless a place is on the earth."""
    require_within("latitude", latitude_deg, -90, 90, "deg", "North is positive.")
    require_within("longitude", longitude_deg, -180, 180, "deg", "East is positive.")


def day_of_year(text: str) -> int:
    """Return the day of the year of a date such as 2026-07-17 or 07-17; InputError where there is no such date.

    >>> day_of_year("02-13"), day_of_year("2026-12-31")
    (44, 365)
    """
    full = text.strip() if text.strip().count("-") == 2 else f"{USUAL_YEAR}-{text.strip()}"
    try:
        return date.fromisoformat(full).timetuple().tm_yday
    except ValueError:
        raise InputError("date", text, "a day of the calendar such as 2026-07-17 or 07-17") from None


def position(latitude_deg: ArrayLike, longitude_deg: ArrayLike, utc: Any) -> Positions:
    """Return where the sun stands at times in UTC (numpy datetime64 or ISO text); inputs broadcast together."""
    latitude, longitude = np.asarray(latitude_deg, float), np.asarray(longitude_deg, float)
    _require_places(latitude, longitude)
    days = _days(np.asarray(utc, "datetime64[ms]"))
    ascension, declination, mean = _ecliptic(days)
    sidereal = 15 * (18.697374558 + 24.06570982441908 * days)
    angle = sidereal + longitude - ascension
    return _positions(latitude, angle, declination, 4 * _half_turn(mean - ascension))


def at_solar_time(latitude_deg: float, day: ArrayLike, hour: ArrayLike) -> Positions:
    """Return where the sun stands on days of a usual year at hours of sundial time (12 is the sun's noon)."""
    require_place(latitude_deg)
    ascension, declination, mean = _ecliptic(_noon(day))
    equation = 4 * _half_turn(mean - ascension)
    return _positions(np.asarray(float(latitude_deg)), 15 * (np.asarray(hour, float) - 12), declination, equation)


def solar_hour(clock_h: ArrayLike, longitude_deg: float, zone_h: float, day: ArrayLike) -> Floats:
    """Return sundial time at a clock's time; `zone_h` is what the clock is ahead of UTC, summer time included. [h]"""
    require_place(0, longitude_deg)
    require_within("time zone", zone_h, -12, 14, "h", "East of Greenwich is positive.")
    ascension, _, mean = _ecliptic(_noon(day))
    return np.asarray(np.asarray(clock_h, float) + longitude_deg / 15 - zone_h + _half_turn(mean - ascension) / 15)


def day_of(latitude_deg: float, longitude_deg: float, day: str, zone_h: float = 0.0) -> Day:
    """Return sunrise, noon and sunset of a date by the clock of a zone (refraction and the sun's disc counted)."""
    require_place(latitude_deg, longitude_deg)
    require_within("time zone", zone_h, -12, 14, "h", "East of Greenwich is positive.")
    whole = day.strip() if day.strip().count("-") == 2 else f"{USUAL_YEAR}-{day.strip()}"
    day_of_year(whole)
    start = _days(np.datetime64(whole, "ms")) - zone_h / 24
    noon_h, declination = _transit(start, longitude_deg, 12.0, zone_h)
    half = _half_day_h(latitude_deg, declination)
    height = 90 - abs(latitude_deg - declination)
    if half in (0.0, 12.0):
        kind = "polar day" if half else "polar night"
        return Day(sunrise_h=None, noon_h=noon_h, sunset_h=None, length_h=2 * half, noon_altitude_deg=height, kind=kind)
    ends = []
    for sign in (-1, 1):
        guess = noon_h + sign * half
        for _ in range(3):
            near, declination = _transit(start, longitude_deg, guess, zone_h)
            guess = near + sign * _half_day_h(latitude_deg, declination)
        ends.append(guess)
    rise, fall = ends
    return Day(
        sunrise_h=rise, noon_h=noon_h, sunset_h=fall, length_h=fall - rise, noon_altitude_deg=height, kind="usual"
    )


def half_day_h(latitude_deg: float, day: ArrayLike, horizon_deg: float = 0.0) -> Floats:
    """Return half the time that the sun is above a height, on days of a usual year: 0 by polar night, 12 by day. [h]"""
    require_place(latitude_deg)
    declination = np.radians(_ecliptic(_noon(day))[1])
    return np.asarray(np.degrees(np.arccos(_sunset_cosine(latitude_deg, declination, horizon_deg))) / 15)


def refraction_deg(altitude_deg: ArrayLike) -> Floats:
    """Return how far the air lifts the sun; 0 where it is more than 1° under the horizon. [deg]"""
    height = np.maximum(np.asarray(altitude_deg, float), -1.0)
    lift = 1.02 / 60 / np.tan(np.radians(height + 10.3 / (height + 5.11)))
    return np.where(np.asarray(altitude_deg) < -1.0, 0.0, np.maximum(lift, 0.0))


def _require_places(latitude: Floats, longitude: Floats) -> None:
    for name, values, most in (("latitude", latitude, 90), ("longitude", longitude, 180)):
        bad = values[~(np.abs(values) <= most)]
        if bad.size:
            require_within(name, float(bad.flat[0]), -most, most, "deg")


def _days(utc: Any) -> Any:
    """Return days since noon of 1 January 2000."""
    return (utc - np.datetime64("2000-01-01T12:00", "ms")) / np.timedelta64(1, "D")


def _noon(day: ArrayLike) -> Any:
    numbers = np.asarray(day, float)
    if not np.all((numbers >= 1) & (numbers < 367)):
        raise InputError("day of the year", float(numbers.flat[0]), "1 to 366")
    return _days(np.datetime64(f"{USUAL_YEAR}-01-01T12:00", "ms")) + numbers - 1


def _ecliptic(days: Any) -> tuple[Any, Any, Any]:
    """Return right ascension, declination and mean longitude of the sun. [deg]"""
    mean = 280.460 + 0.9856474 * days
    anomaly = np.radians(357.528 + 0.9856003 * days)
    longitude = np.radians(mean + 1.915 * np.sin(anomaly) + 0.020 * np.sin(2 * anomaly))
    tilt = np.radians(23.439 - 0.0000004 * days)
    ascension = np.degrees(np.arctan2(np.cos(tilt) * np.sin(longitude), np.cos(longitude)))
    return ascension, np.degrees(np.arcsin(np.sin(tilt) * np.sin(longitude))), mean


def _half_turn(degrees: Any) -> Any:
    """Return an angle from -180° to 180°."""
    return (degrees + 180) % 360 - 180


def _positions(latitude: Any, angle_deg: Any, declination_deg: Any, equation_min: Any) -> Positions:
    phi, omega, delta = np.radians(latitude), np.radians(angle_deg), np.radians(declination_deg)
    east = -np.cos(delta) * np.sin(omega)
    north = np.cos(phi) * np.sin(delta) - np.sin(phi) * np.cos(delta) * np.cos(omega)
    up = np.sin(phi) * np.sin(delta) + np.cos(phi) * np.cos(delta) * np.cos(omega)
    altitude = np.degrees(np.arctan2(up, np.hypot(east, north)))
    azimuth = np.degrees(np.arctan2(east, north)) % 360
    shape = altitude.shape
    return Positions(
        altitude_deg=altitude,
        azimuth_deg=azimuth,
        declination_deg=np.broadcast_to(np.asarray(declination_deg, float), shape),
        equation_min=np.broadcast_to(np.asarray(equation_min, float), shape),
    )


def _sunset_cosine(latitude_deg: float, declination_rad: Any, horizon_deg: float) -> Any:
    phi = math.radians(latitude_deg)
    above = math.sin(math.radians(horizon_deg)) - math.sin(phi) * np.sin(declination_rad)
    return np.clip(above / np.maximum(math.cos(phi) * np.cos(declination_rad), 1e-12), -1, 1)


def _half_day_h(latitude_deg: float, declination_deg: float) -> float:
    cosine = _sunset_cosine(latitude_deg, math.radians(declination_deg), HORIZON_DEG)
    return math.degrees(math.acos(float(cosine))) / 15


def _transit(start: float, longitude_deg: float, hour: float, zone_h: float) -> tuple[float, float]:
    """Return the clock's hour of noon and the declination, as they are at an hour of the day."""
    ascension, declination, mean = _ecliptic(start + hour / 24)
    return 12 + zone_h - longitude_deg / 15 - float(_half_turn(mean - ascension)) / 15, float(declination)


@formula(result="delta", symbols={"day": "n", "TILT_DEG": "epsilon"}, source="duffie-beckman", kind="empirical",
         example={"day": 44.0})  # fmt: skip
def declination_deg(day: float) -> float:
    """Declination of the sun by day of the year, to about a degree. [deg]

    >>> round(declination_deg(44))
    -14
    """
    return TILT_DEG * math.sin(math.radians(360 * (284 + day) / 365))


@formula(result="E", symbols={"day": "n", "turn_deg": "B", "SPENCER_MIN": "k", "SPENCER_0": "c_0", "SPENCER_C1": "c_1",
         "SPENCER_S1": "s_1", "SPENCER_C2": "c_2", "SPENCER_S2": "s_2"}, source="duffie-beckman", kind="empirical",
         coefficients={"SPENCER_MIN": "min"}, example={"day": 34.0})  # fmt: skip
def equation_of_time_min(day: float) -> float:
    """Sundial time minus mean time by day of the year, two digits as the book misprints them: 0.03 min at most. [min]

    >>> round(equation_of_time_min(34), 1)
    -13.5
    """
    turn_deg = (day - 1) * 360 / 365
    return SPENCER_MIN * (
        SPENCER_0
        + SPENCER_C1 * math.cos(math.radians(turn_deg))
        - SPENCER_S1 * math.sin(math.radians(turn_deg))
        - SPENCER_C2 * math.cos(math.radians(2 * turn_deg))
        - SPENCER_S2 * math.sin(math.radians(2 * turn_deg))
    )


@formula(result="alpha", symbols={"latitude_deg": "phi", "declination_deg": "delta", "hour_deg": "omega"},
         source="geometry", kind="empirical",
         example={"latitude_deg": 43.0, "declination_deg": -14.0, "hour_deg": -22.5})  # fmt: skip
def altitude_deg(latitude_deg: float, declination_deg: float, hour_deg: float) -> float:
    """Altitude of the sun; the hour angle grows by 15° an hour and is 0 at the sun's noon. [deg]"""
    return math.degrees(
        math.asin(
            math.sin(math.radians(latitude_deg)) * math.sin(math.radians(declination_deg))
            + math.cos(math.radians(latitude_deg))
            * math.cos(math.radians(declination_deg))
            * math.cos(math.radians(hour_deg))
        )
    )


@formula(result="alpha_n", symbols={"latitude_deg": "phi", "declination_deg": "delta"},
         source="geometry", kind="empirical",
         example={"latitude_deg": 40.0, "declination_deg": 23.45})  # fmt: skip
def noon_altitude_deg(latitude_deg: float, declination_deg: float) -> float:
    """Altitude of the sun at its noon, 90° less the angle between latitude and declination. [deg]

    >>> round(noon_altitude_deg(40, -23.45), 2)
    26.55
    """
    return 90 - abs(latitude_deg - declination_deg)


@formula(result="N", symbols={"latitude_deg": "phi", "declination_deg": "delta"}, source="geometry",
         kind="empirical", example={"latitude_deg": 40.0, "declination_deg": 23.45})  # fmt: skip
def day_length_h(latitude_deg: float, declination_deg: float) -> float:
    """Time that the sun's centre is above a flat horizon: 24 by polar day, 0 by polar night. [h]

    >>> round(day_length_h(40, 23.45), 3), day_length_h(80, -23.45)
    (14.846, 0.0)
    """
    return (
        math.degrees(
            math.acos(min(1, max(-1, -math.tan(math.radians(latitude_deg)) * math.tan(math.radians(declination_deg)))))
        )
        * 2
        / 15
    )


@formula(result="s", symbols={"height_m": "h", "altitude_deg": "alpha"}, source="geometry",
         example={"height_m": 2.0, "altitude_deg": 26.55})  # fmt: skip
def shadow_m(height_m: float, altitude_deg: float) -> float:
    """Length of a shadow on level ground. [m]"""
    return height_m / math.tan(math.radians(altitude_deg))
