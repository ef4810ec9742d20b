"""What a clear sky gives: beam and diffuse light on level and tilted faces, by the hour and by the month.

Hottel's clear atmosphere (23 km visibility, to 2.5 km height), Liu and Jordan's diffuse share and even sky, as Duffie
and Beckman print them (from memory). Above 25° it gives 4 to 22 % less on level ground than two other clear-sky
models, most at low sun. A real month gives less: its clearness is the reader's, or the invented garden's.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from gardenframe.climate.sun import MIDDLE_DAYS, Floats, Positions, at_solar_time, half_day_h
from gardenframe.errors import require_within
from gardenframe.materials import constants
from gardenframe.working import formula

SOLAR_W_PER_M2 = constants.value("solar_w_per_m2")
SWING = 0.033
A0, A1, K = (0.4237, 0.00821, 6.0), (0.5055, 0.00595, 6.5), (0.2711, 0.01858, 2.5)
DIFFUSE_MOST, DIFFUSE_SLOPE = 0.2710, 0.2939


@dataclass(frozen=True, slots=True, kw_only=True)
class Light:
    """Clear-sky light, arrays of one shape: beam across the sun's rays, beam and diffuse on a level face. [W/m2]"""

    normal_w_per_m2: Floats
    beam_w_per_m2: Floats
    diffuse_w_per_m2: Floats

    @property
    def level_w_per_m2(self) -> Floats:
        """All light on a level face. [W/m2]"""
        return self.beam_w_per_m2 + self.diffuse_w_per_m2


@formula(result="G_n", symbols={"day": "n", "SOLAR_W_PER_M2": "G_s", "SWING": "k"}, source="clear-sky",
         kind="empirical", example={"day": 234.0})  # fmt: skip
def outside_air_w_per_m2(day: float) -> float:
    """Sun's power above the air, across its rays. [W/m2]"""
    return SOLAR_W_PER_M2 * (1 + SWING * math.cos(math.radians(360 * day / 365)))


@formula(result="cos theta", symbols={"altitude_deg": "alpha", "turned_deg": "psi", "tilt_deg": "beta"},
         source="geometry", example={"altitude_deg": 40.0, "turned_deg": 20.0, "tilt_deg": 30.0})  # fmt: skip
def incidence_cosine(altitude_deg: float, turned_deg: float, tilt_deg: float) -> float:
    """Cosine of the angle between the sun and a face's normal; `turned` is sun's less face's azimuth. [1]"""
    return math.sin(math.radians(altitude_deg)) * math.cos(math.radians(tilt_deg)) + math.cos(
        math.radians(altitude_deg)
    ) * math.sin(math.radians(tilt_deg)) * math.cos(math.radians(turned_deg))


def clear_light(altitude_deg: ArrayLike, day: ArrayLike, height_m: float = 0.0) -> Light:
    """Return clear-sky light at altitudes of the sun on days of the year; nothing below the horizon."""
    require_within("height above the sea", height_m, -430, 2500, "m", "The clear-sky formula ends there.")
    sine = np.sin(np.radians(np.asarray(altitude_deg, float)))
    above = SOLAR_W_PER_M2 * (1 + SWING * np.cos(np.radians(360 * np.asarray(day, float) / 365)))
    km = max(height_m, 0.0) / 1000
    a0, a1, k = A0[0] - A0[1] * (A0[2] - km) ** 2, A1[0] + A1[1] * (A1[2] - km) ** 2, K[0] + K[1] * (K[2] - km) ** 2
    through = np.where(sine > 0, a0 + a1 * np.exp(-k / np.maximum(sine, 1e-6)), 0.0)
    level = above * np.maximum(sine, 0.0)
    return Light(
        normal_w_per_m2=above * through,
        beam_w_per_m2=level * through,
        diffuse_w_per_m2=level * (DIFFUSE_MOST - DIFFUSE_SLOPE * through),
    )


def on_face(light: Light, place: Positions, tilt_deg: float, azimuth_deg: float, ground_ratio: float = 0.2) -> Floats:
    """Return light on a tilted face under an even sky, with what the ground throws back. [W/m2]"""
    require_within("tilt", tilt_deg, 0, 180, "deg", "0 lies flat, 90 is a wall.")
    require_within("azimuth", azimuth_deg, -360, 360, "deg", "Clockwise from north: south is 180.")
    require_within("share that the ground throws back", ground_ratio, 0, 1, "(share)")
    slope, turn = math.radians(tilt_deg), math.radians(azimuth_deg)
    normal = np.array([math.sin(slope) * math.sin(turn), math.sin(slope) * math.cos(turn), math.cos(slope)])
    facing = np.maximum(place.to_sun @ normal, 0.0)
    sky, ground = (1 + math.cos(slope)) / 2, (1 - math.cos(slope)) / 2
    face: Floats = (
        light.normal_w_per_m2 * facing + light.diffuse_w_per_m2 * sky + light.level_w_per_m2 * ground_ratio * ground
    )
    return face


def monthly_kwh_per_m2_day(
    latitude_deg: float, tilt_deg: float = 0.0, azimuth_deg: float = 180.0, height_m: float = 0.0, steps: int = 96
) -> Floats:
    """Return the clear-sky sum of a middle day of each month on a face. [kWh/m2 a day]"""
    days = np.array(MIDDLE_DAYS)
    half = half_day_h(latitude_deg, days)[:, None]
    hours = 12 + half * ((np.arange(steps) + 0.5) / steps * 2 - 1)
    place = at_solar_time(latitude_deg, days[:, None], hours)
    power = on_face(clear_light(place.altitude_deg, days[:, None], height_m), place, tilt_deg, azimuth_deg)
    total: Floats = (power * 2 * half / steps).sum(axis=1) / 1000
    return total
