"""A cold frame in the sun: when it overheats, how far to prop the lid, how the lid lies to the noon sun."""

import math
from dataclasses import dataclass

from gardenframe import units
from gardenframe.climate import heat, sky
from gardenframe.climate.sun import MIDDLE_DAYS, at_solar_time
from gardenframe.errors import InputError, require_within
from gardenframe.materials import constants
from gardenframe.working import formula

HALF_STEPS = 50
DEADLY_DEGC = 60.0  # hotter says only that nothing lives through it: the ground's store and gaps are left out


@formula(result="A_o", symbols={"prop_m": "x", "width_m": "b", "depth_m": "d"}, source="geometry",
         example={"prop_m": 0.1, "width_m": 1.8, "depth_m": 0.9})  # fmt: skip
def prop_opening_m2(prop_m: float, width_m: float, depth_m: float) -> float:
    """Opening of a lid hinged at the back: the slot in front and a triangle at each end, x b + x d. [m2]"""
    return prop_m * width_m + prop_m * depth_m


@formula(result="Q_1", symbols={"opening_m2": "A_o", "height_m": "h", "rise_k": "Delta T", "inside_k": "T_i",
         "wind_m_per_s": "v_w", "DISCHARGE_RATIO": "C_d", "GRAVITY_M_PER_S2": "g", "ONE_SIDED_WIND_RATIO": "C_1"},
         source="vent-flow", example={"opening_m2": 0.27, "height_m": 0.1, "rise_k": 8.0, "inside_k": 301.15,
         "wind_m_per_s": 1.0})  # fmt: skip
def one_sided_m3_per_s(
    opening_m2: float, height_m: float, rise_k: float, inside_k: float, wind_m_per_s: float
) -> float:
    """Air through a single opening: by warmth a third of it in and out, or by wind, whichever is more. [m3/s]"""
    return opening_m2 * max(
        heat.DISCHARGE_RATIO / 3 * math.sqrt(heat.GRAVITY_M_PER_S2 * height_m * rise_k / inside_k),
        heat.ONE_SIDED_WIND_RATIO * wind_m_per_s,
    )


@formula(result="I_max", symbols={"limit_k": "Delta T", "loss_w_per_k": "H", "area_m2": "A", "light_ratio": "tau",
         "evaporated_ratio": "E"}, source="heat-balance",
         example={"limit_k": 15.0, "loss_w_per_k": 12.0, "area_m2": 1.65, "light_ratio": 0.8,
         "evaporated_ratio": 0.25})  # fmt: skip
def overheating_sun_w_per_m2(
    limit_k: float, loss_w_per_k: float, area_m2: float, light_ratio: float, evaporated_ratio: float
) -> float:
    """Sun on a lid that brings a closed frame to its limit: a rise over outside. [W/m2]"""
    return limit_k * loss_w_per_k / (area_m2 * light_ratio * (1 - evaporated_ratio))


def degrees_of(degc: float, system: str) -> float:
    """Return a temperature as the reader's thermometer shows it. [°C or °F]

    >>> degrees_of(20.0, "metric"), degrees_of(20.0, "us")
    (20.0, 68.0)
    """
    return degc if system == "metric" else degc * 1.8 + 32


def both_degrees(degc: float) -> str:
    """Return a temperature for readers of both scales.

    >>> both_degrees(27.0)
    '27 °C (81 °F)'
    """
    return f"{degc:.0f} °C ({degrees_of(degc, 'us'):.0f} °F)"


@dataclass(frozen=True, slots=True, kw_only=True)
class ColdFrame:
    """A cold frame: width, front to back along the ground, front and back height [m]; its lid, walls and leaks."""

    width_m: float
    depth_m: float
    front_m: float
    back_m: float
    u_lid_w_per_m2_k: float
    u_wall_w_per_m2_k: float
    light_ratio: float
    changes_per_h: float = 2.0
    most_open_m: float = 0.6
    evaporated_ratio: float = constants.value("evaporated_share")

    def __post_init__(self) -> None:
        for name in ("width_m", "depth_m", "front_m", "back_m", "most_open_m"):
            require_within(name, getattr(self, name), 0.01, 20, "m")
        if self.back_m < self.front_m:
            raise InputError("front_m", self.front_m, f"at most {self.back_m:g} m, the back", "Turn the frame round.")
        require_within("share of light let through", self.light_ratio, 0.01, 1, "(share)")
        require_within("share evaporated", self.evaporated_ratio, 0, 0.95, "(share)")
        require_within("air changes", self.changes_per_h, 0, 100, "an hour")
        for name in ("u_lid_w_per_m2_k", "u_wall_w_per_m2_k"):
            require_within(name, getattr(self, name), 0.1, 12, "W/(m2 K)")

    @property
    def tilt_deg(self) -> float:
        """Slope of the lid. [deg]"""
        return math.degrees(math.atan2(self.back_m - self.front_m, self.depth_m))

    @property
    def lid_m2(self) -> float:
        """Area of the lid. [m2]"""
        return self.width_m * math.hypot(self.depth_m, self.back_m - self.front_m)

    @property
    def loss_w_per_k(self) -> float:
        """Heat lost through lid, walls and leaks for each kelvin. [W/K]"""
        middle = (self.front_m + self.back_m) / 2
        walls = self.width_m * (self.front_m + self.back_m) + 2 * self.depth_m * middle
        return (
            heat.cover_loss_w_per_k(self.u_lid_w_per_m2_k, self.lid_m2)
            + heat.cover_loss_w_per_k(self.u_wall_w_per_m2_k, walls)
            + heat.air_loss_w_per_k(self.changes_per_h, self.width_m * self.depth_m * middle)
        )

    def closed_degc(self, outside_degc: float, sun_w_per_m2: float) -> float:
        """Temperature of the closed frame in steady sun on its lid. [°C]"""
        return outside_degc + heat.closed_rise_k(self._gain_w(sun_w_per_m2), self.loss_w_per_k)

    def limit_sun_w_per_m2(self, outside_degc: float, limit_degc: float) -> float:
        """Sun on the lid above which the closed frame is too hot; 0 where the air outside is already. [W/m2]"""
        room = max(0.0, limit_degc - outside_degc)
        return overheating_sun_w_per_m2(
            room, self.loss_w_per_k, self.lid_m2, self.light_ratio, self.evaporated_ratio
        )  # fmt: skip

    def prop_m(
        self, outside_degc: float, sun_w_per_m2: float, limit_degc: float, wind_m_per_s: float = 0.0
    ) -> float | None:
        """How far to prop the front of the lid; 0 closed, None where no prop is enough and the lid comes off. [m]"""
        rise = limit_degc - outside_degc
        if self.closed_degc(outside_degc, sun_w_per_m2) <= limit_degc:
            return 0.0
        if rise <= 0:
            return None
        flow = heat.needed_flow_m3_per_s(self._gain_w(sun_w_per_m2), self.loss_w_per_k, rise)
        if self._flow(self.most_open_m, rise, limit_degc, wind_m_per_s) < flow:
            return None
        low, high = 0.0, self.most_open_m
        for _ in range(HALF_STEPS):
            middle = (low + high) / 2
            enough = self._flow(middle, rise, limit_degc, wind_m_per_s) >= flow
            low, high = (low, middle) if enough else (middle, high)
        return high

    def lid_sun(self, latitude_deg: float, azimuth_deg: float = 180.0) -> list[tuple[float, float, float]]:
        """Return, month by month at noon: the sun's altitude, its angle to the lid's normal [deg], light [W/m2].

        The light is that of a clear sky on the lid; polar night gives altitudes below 0 and no light.
        """
        rows = []
        for day in MIDDLE_DAYS:
            place = at_solar_time(latitude_deg, day, 12)
            height = float(place.altitude_deg)
            cosine = sky.incidence_cosine(height, float(place.azimuth_deg) - azimuth_deg, self.tilt_deg)
            light = sky.clear_light(height, day)
            power = float(sky.on_face(light, place, self.tilt_deg, azimuth_deg))
            rows.append((height, math.degrees(math.acos(max(-1.0, min(1.0, cosine)))), power))
        return rows

    def advice(self, outside_degc: float, sun_w_per_m2: float, limit_degc: float, wind_m_per_s: float = 0.0) -> str:
        """Return what to do with the lid, in a sentence."""
        prop = self.prop_m(outside_degc, sun_w_per_m2, limit_degc, wind_m_per_s)
        closed = self.closed_degc(outside_degc, sun_w_per_m2)
        limit, shut = both_degrees(limit_degc), both_degrees(closed)
        if prop is None:
            return f"Take the lid off: closed, the frame would pass {limit}, and no prop is enough."
        if prop == 0:
            return f"Leave the lid closed: the frame comes to about {shut}."
        told = f"over {both_degrees(DEADLY_DEGC)}" if closed > DEADLY_DEGC else f"about {shut}"
        size = f"{units.write(prop, 'length', 'metric')} ({units.write(prop, 'length', 'us')})"
        return f"Prop the lid {size} in front: closed, the frame would come to {told}."

    def _gain_w(self, sun_w_per_m2: float) -> float:
        require_within("sun on the lid", sun_w_per_m2, 0, 1500, "W/m2")
        return heat.solar_gain_w(sun_w_per_m2, self.lid_m2, self.light_ratio, self.evaporated_ratio)

    def _flow(self, prop_m: float, rise_k: float, inside_degc: float, wind_m_per_s: float) -> float:
        opening = prop_opening_m2(prop_m, self.width_m, self.depth_m)
        return one_sided_m3_per_s(opening, prop_m, rise_k, inside_degc + heat.ZERO_K, wind_m_per_s)
