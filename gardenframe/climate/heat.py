"""Heat and air of a covered house or frame: loss, heater, a sunny day, vents, fans, the prop of a lid, dew.

Steady state, one well-mixed air: the ground's store is left out, so that a night is colder here than in most gardens
and a sunny hour warmer. Every result is an estimate: the covers' values are known to about a fifth.
"""

import math
from dataclasses import dataclass

from gardenframe.errors import InputError, require_within
from gardenframe.materials import constants
from gardenframe.working import formula

AIR_HEAT_W_H_PER_M3_K = constants.value("air_heat_w_h_per_m3_k")
GRAVITY_M_PER_S2 = constants.value("gravity_m_per_s2")
DISCHARGE_RATIO = constants.value("discharge_ratio")
WIND_OPENING_RATIO = constants.value("wind_opening_ratio")
ONE_SIDED_WIND_RATIO = constants.value("one_sided_wind_ratio")
INSIDE_FILM_M2_K_PER_W = constants.value("inside_film_m2_k_per_w")
FAN_M_PER_S = constants.value("fan_m_per_s")
MAGNUS_RATIO, MAGNUS_DEGC = 17.62, 243.12
ZERO_K, SECONDS = 273.15, 3600
ROUNDS = 60


@formula(result="H_c", symbols={"u_w_per_m2_k": "U", "area_m2": "A"}, source="purdue-heat-loss",
         example={"u_w_per_m2_k": 4.0, "area_m2": 50.27})  # fmt: skip
def cover_loss_w_per_k(u_w_per_m2_k: float, area_m2: float) -> float:
    """Heat lost through a cover for each kelvin. [W/K]"""
    return u_w_per_m2_k * area_m2


@formula(result="H_a", symbols={"changes_per_h": "N", "volume_m3": "V", "AIR_HEAT_W_H_PER_M3_K": "c"},
         source="house-air", example={"changes_per_h": 1.0, "volume_m3": 37.7})  # fmt: skip
def air_loss_w_per_k(changes_per_h: float, volume_m3: float) -> float:
    """Heat lost with the air that leaks, for each kelvin, 0.33 N V. [W/K]"""
    return AIR_HEAT_W_H_PER_M3_K * changes_per_h * volume_m3


@formula(result="Q", symbols={"loss_w_per_k": "H", "warmer_k": "Delta T"}, source="purdue-heat-loss",
         example={"loss_w_per_k": 213.5, "warmer_k": 15.0})  # fmt: skip
def heat_loss_w(loss_w_per_k: float, warmer_k: float) -> float:
    """Heat lost by a house that is warmer inside than outside: what a heater must give. [W]"""
    return loss_w_per_k * warmer_k


@formula(result="S", symbols={"sun_w_per_m2": "I", "area_m2": "A", "light_ratio": "tau", "evaporated_ratio": "E"},
         source="heat-balance",
         example={"sun_w_per_m2": 800.0, "area_m2": 24.0, "light_ratio": 0.88, "evaporated_ratio": 0.25})  # fmt: skip
def solar_gain_w(sun_w_per_m2: float, area_m2: float, light_ratio: float, evaporated_ratio: float) -> float:
    """Sun that warms the air: light on the area, what passes, less what plants and soil evaporate. [W]"""
    return sun_w_per_m2 * area_m2 * light_ratio * (1 - evaporated_ratio)


@formula(result="Delta T", symbols={"gain_w": "S", "loss_w_per_k": "H"}, source="heat-balance",
         example={"gain_w": 12672.0, "loss_w_per_k": 213.5})  # fmt: skip
def closed_rise_k(gain_w: float, loss_w_per_k: float) -> float:
    """How much warmer than outside a closed house gets in steady sun. [K]"""
    return gain_w / loss_w_per_k


@formula(result="Q_v", symbols={"gain_w": "S", "loss_w_per_k": "H", "rise_k": "Delta T", "SECONDS": "k",
         "AIR_HEAT_W_H_PER_M3_K": "c"}, source="heat-balance", kind="empirical",
         coefficients={"SECONDS": "s/h"},
         example={"gain_w": 12672.0, "loss_w_per_k": 213.5, "rise_k": 5.0})  # fmt: skip
def needed_flow_m3_per_s(gain_w: float, loss_w_per_k: float, rise_k: float) -> float:
    """Air that must pass to keep a house within a rise: none where the cover loses enough. [m3/s]"""
    return max(0, gain_w - loss_w_per_k * rise_k) / (AIR_HEAT_W_H_PER_M3_K * SECONDS * rise_k)


@formula(result="v_s", symbols={"height_m": "h", "rise_k": "Delta T", "inside_k": "T_i", "DISCHARGE_RATIO": "C_d",
         "GRAVITY_M_PER_S2": "g"}, source="vent-flow",
         example={"height_m": 2.0, "rise_k": 5.0, "inside_k": 303.15})  # fmt: skip
def stack_m_per_s(height_m: float, rise_k: float, inside_k: float) -> float:
    """Air for each square metre of low vent, with as much high vent, by warmth alone. [m/s]"""
    return DISCHARGE_RATIO * math.sqrt(GRAVITY_M_PER_S2 * height_m * rise_k / inside_k)


@formula(result="v_v", symbols={"stack_m_per_s": "v_s", "wind_m_per_s": "v_w", "WIND_OPENING_RATIO": "C_v"},
         source="vent-flow", example={"stack_m_per_s": 0.37, "wind_m_per_s": 2.0})  # fmt: skip
def vent_m_per_s(stack_m_per_s: float, wind_m_per_s: float) -> float:
    """Air for each square metre of vent by warmth and wind, combined by squares. [m/s]"""
    return math.sqrt(stack_m_per_s**2 + (WIND_OPENING_RATIO * wind_m_per_s) ** 2)


@formula(result="A_v", symbols={"flow_m3_per_s": "Q_v", "vent_m_per_s": "v_v"}, source="geometry",
         example={"flow_m3_per_s": 1.95, "vent_m_per_s": 0.7})  # fmt: skip
def vent_area_m2(flow_m3_per_s: float, vent_m_per_s: float) -> float:
    """Low vent, and as much high vent, that passes a flow. [m2]"""
    return flow_m3_per_s / vent_m_per_s


@formula(result="Q_f", symbols={"floor_m2": "A_f", "FAN_M_PER_S": "q"}, source="house-air",
         example={"floor_m2": 26.76})  # fmt: skip
def fan_m3_per_s(floor_m2: float) -> float:
    """Summer fan by floor area, 10 cubic feet a minute for each square foot. [m3/s]"""
    return FAN_M_PER_S * floor_m2


@formula(result="N", symbols={"flow_m3_per_s": "Q_f", "volume_m3": "V", "SECONDS": "k"}, source="geometry",
         kind="empirical", coefficients={"SECONDS": "s/h"},
         example={"flow_m3_per_s": 1.36, "volume_m3": 65.2})  # fmt: skip
def air_changes_per_h(flow_m3_per_s: float, volume_m3: float) -> float:
    """How often an hour a flow changes the air of a house. [1/h]"""
    return flow_m3_per_s * SECONDS / volume_m3


@formula(result="T_d", symbols={"air_degc": "T", "humidity_ratio": "phi", "MAGNUS_RATIO": "a", "MAGNUS_DEGC": "b",
         "wet": "gamma"}, source="magnus", kind="empirical",
         example={"air_degc": 20.0, "humidity_ratio": 0.5})  # fmt: skip
def dew_point_degc(air_degc: float, humidity_ratio: float) -> float:
    """Temperature below which water condenses out of air of a relative humidity. [°C]"""
    wet = math.log(humidity_ratio) + MAGNUS_RATIO * air_degc / (MAGNUS_DEGC + air_degc)
    return MAGNUS_DEGC * wet / (MAGNUS_RATIO - wet)


@formula(result="T_s", symbols={"inside_degc": "T_i", "outside_degc": "T_o", "u_w_per_m2_k": "U",
         "INSIDE_FILM_M2_K_PER_W": "R_si"}, source="inside-film", kind="empirical",
         example={"inside_degc": 12.0, "outside_degc": 0.0, "u_w_per_m2_k": 6.25})  # fmt: skip
def cover_degc(inside_degc: float, outside_degc: float, u_w_per_m2_k: float) -> float:
    """Temperature of a cover's inner face. [°C]"""
    return inside_degc - u_w_per_m2_k * INSIDE_FILM_M2_K_PER_W * (inside_degc - outside_degc)


@dataclass(frozen=True, slots=True, kw_only=True)
class House:
    """A covered house: cover and floor area, volume, what the cover loses and lets through, leaks, vent height."""

    cover_m2: float
    floor_m2: float
    volume_m3: float
    u_w_per_m2_k: float
    light_ratio: float
    changes_per_h: float = 1.0
    vent_height_m: float = 1.0
    evaporated_ratio: float = constants.value("evaporated_share")

    def __post_init__(self) -> None:
        require_within("cover area", self.cover_m2, 0.01, 1e5, "m2")
        require_within("floor area", self.floor_m2, 0.01, 1e5, "m2")
        require_within("volume", self.volume_m3, 0.001, 1e6, "m3")
        require_within("heat loss coefficient", self.u_w_per_m2_k, 0.1, 12, "W/(m2 K)")
        require_within("share of light let through", self.light_ratio, 0, 1, "(share)")
        require_within("air changes", self.changes_per_h, 0, 100, "an hour")
        require_within("height between vents", self.vent_height_m, 0, 20, "m")
        require_within("share evaporated", self.evaporated_ratio, 0, 0.95, "(share)")

    @property
    def loss_w_per_k(self) -> float:
        """Heat lost through cover and leaks for each kelvin. [W/K]"""
        return cover_loss_w_per_k(self.u_w_per_m2_k, self.cover_m2) + air_loss_w_per_k(
            self.changes_per_h, self.volume_m3
        )

    def heater_w(self, wanted_degc: float, night_degc: float) -> float:
        """Heater for a design night; 0 where the night is warm enough. [W]"""
        return heat_loss_w(self.loss_w_per_k, max(0.0, wanted_degc - night_degc))

    def gain_w(self, sun_w_per_m2: float) -> float:
        """Sun that warms the air, by floor area. [W]"""
        require_within("sun", sun_w_per_m2, 0, 1500, "W/m2")
        return solar_gain_w(sun_w_per_m2, self.floor_m2, self.light_ratio, self.evaporated_ratio)

    def inside_degc(self, outside_degc: float, sun_w_per_m2: float = 0.0, vent_m2: float = 0.0,
                    wind_m_per_s: float = 0.0) -> float:  # fmt: skip
        """Temperature inside without heating; at night that of outside, the ground's store left out. [°C]"""
        require_within("outside temperature", outside_degc, -70, 60, "degC")
        require_within("vent", vent_m2, 0, 1e4, "m2")
        gain, low = self.gain_w(sun_w_per_m2), 0.0
        high = closed_rise_k(gain, self.loss_w_per_k)
        for _ in range(ROUNDS):
            rise = (low + high) / 2
            carried = AIR_HEAT_W_H_PER_M3_K * SECONDS * vent_m2 * self._vent(rise, outside_degc, wind_m_per_s)
            low, high = (rise, high) if (self.loss_w_per_k + carried) * rise < gain else (low, rise)
        return outside_degc + high

    def vent_m2(self, outside_degc: float, sun_w_per_m2: float, rise_k: float, wind_m_per_s: float = 0.0) -> float:
        """Low vent, and as much high vent, that keeps the house within a rise over outside. [m2]"""
        require_within("outside temperature", outside_degc, -70, 60, "degC")
        require_within("rise over outside", rise_k, 0.5, 60, "K", "Vents alone never cool below outside.")
        flow = needed_flow_m3_per_s(self.gain_w(sun_w_per_m2), self.loss_w_per_k, rise_k)
        through = self._vent(rise_k, outside_degc, wind_m_per_s)
        if flow and not through:
            raise InputError("height between vents", self.vent_height_m, "more than 0 m where there is no wind")
        return vent_area_m2(flow, through) if flow else 0.0

    def _vent(self, rise_k: float, outside_degc: float, wind_m_per_s: float) -> float:
        stack = stack_m_per_s(self.vent_height_m, rise_k, outside_degc + rise_k + ZERO_K)
        return vent_m_per_s(stack, wind_m_per_s)


def condenses(inside_degc: float, outside_degc: float, humidity_ratio: float, u_w_per_m2_k: float) -> bool:
    """Return whether water condenses on the inner face of a cover."""
    require_within("relative humidity", humidity_ratio, 0.01, 1, "(share)")
    return cover_degc(inside_degc, outside_degc, u_w_per_m2_k) < dew_point_degc(inside_degc, humidity_ratio)
