"""Channels with a film of water: slope and length limits, film depth and speed by Manning, water held.

Flow is steady and even along the channel; roots, which slow it and raise the film, are left out, so the film shown is
that of a clean channel. Channel limits are those of a general reference on the nutrient film technique.
"""

import math
from dataclasses import dataclass

from gardenframe.errors import InputError, require_within
from gardenframe.materials import constants
from gardenframe.materials.water import Channel
from gardenframe.working import Step, formula

SLOPE_LOW, SLOPE_HIGH = constants.value("channel_slope_low_ratio"), constants.value("channel_slope_high_ratio")
FLOW_LOW, FLOW_HIGH = constants.value("channel_flow_low_l_per_min"), constants.value("channel_flow_high_l_per_min")
GROWTH_M, LONGEST_M = constants.value("channel_growth_m"), constants.value("channel_longest_m")
MANNING = constants.value("plastic_manning")
FULL_RATIO = constants.value("channel_full_ratio")
LITRES, SECONDS = 1000, 60
ROUNDS = 100
CLOSE_M, CLOSE_RAD = 1e-13, 1e-12


@formula(result="Q", symbols={"flow_l_per_min": "q", "LITRES": "k", "SECONDS": "t"}, source="geometry",
         kind="empirical", coefficients={"LITRES": "L/m³", "SECONDS": "s/min"},
         example={"flow_l_per_min": 1.0})  # fmt: skip
def flow_m3_per_s(flow_l_per_min: float) -> float:
    """Flow in cubic metres a second. [m3/s]"""
    return flow_l_per_min / (LITRES * SECONDS)


@formula(result="h", symbols={"slope_ratio": "S", "length_m": "L"}, source="geometry",
         example={"slope_ratio": 0.025, "length_m": 3.0})  # fmt: skip
def fall_m(slope_ratio: float, length_m: float) -> float:
    """How much lower a channel ends than it starts. [m]"""
    return slope_ratio * length_m


@formula(result="Q", symbols={"area_m2": "A", "wet_m": "P", "slope_ratio": "S", "manning": "n"}, source="manning",
         kind="empirical",
         example={"area_m2": 1.1e-4, "wet_m": 0.1022, "slope_ratio": 0.025, "manning": 0.011})  # fmt: skip
def manning_m3_per_s(area_m2: float, wet_m: float, slope_ratio: float, manning: float) -> float:
    """Flow of a channel that is wet over an area and along a perimeter. [m3/s]"""
    carried_m3_per_s: float = area_m2 ** (5 / 3) / wet_m ** (2 / 3) * math.sqrt(slope_ratio) / manning
    return carried_m3_per_s


@formula(result="y", symbols={"flow_m3_per_s": "Q", "slope_ratio": "S", "width_m": "b", "manning": "n",
         "carried": "c", "film_m": "y_0", "better_m": "y_1"}, source="manning", kind="empirical",
         example={"flow_m3_per_s": 1 / 60000, "slope_ratio": 0.025, "width_m": 0.1, "manning": 0.011})  # fmt: skip
def rectangle_film_m(flow_m3_per_s: float, slope_ratio: float, width_m: float, manning: float) -> float:
    """Film depth in a rectangular channel, wet sides counted; y_0 is the round before. [m]"""
    carried = manning * flow_m3_per_s / math.sqrt(slope_ratio)
    film_m = carried**0.6 / width_m**0.6
    for _ in range(ROUNDS):
        better_m: float = (carried * (width_m + 2 * film_m) ** (2 / 3)) ** 0.6 / width_m
        if abs(better_m - film_m) <= CLOSE_M:
            break
        film_m = better_m
    return better_m


@formula(result="theta", symbols={"flow_m3_per_s": "Q", "slope_ratio": "S", "bore_m": "D", "manning": "n",
         "carried": "c", "angle_rad": "theta_0", "better_rad": "theta_1"}, source="manning", kind="empirical",
         example={"flow_m3_per_s": 1 / 60000, "slope_ratio": 0.025, "bore_m": 0.1, "manning": 0.011})  # fmt: skip
def wet_angle_rad(flow_m3_per_s: float, slope_ratio: float, bore_m: float, manning: float) -> float:
    """Angle over the wet arc of a round channel at most half full, by Newton; theta_0 is the round before. [rad]"""
    carried = 8 / bore_m**2 * (manning * flow_m3_per_s / math.sqrt(slope_ratio)) ** 0.6 * (bore_m / 2) ** 0.4
    angle_rad = math.pi
    for _ in range(ROUNDS):
        better_rad: float = angle_rad - (angle_rad - math.sin(angle_rad) - carried * angle_rad**0.4) / (
            1 - math.cos(angle_rad) - 2 * carried / (5 * angle_rad**0.6)
        )
        if abs(better_rad - angle_rad) <= CLOSE_RAD:
            break
        angle_rad = better_rad
    return better_rad


@formula(result="A", symbols={"bore_m": "D", "angle_rad": "theta"}, source="geometry",
         example={"bore_m": 0.1, "angle_rad": 0.7})  # fmt: skip
def wet_area_m2(bore_m: float, angle_rad: float) -> float:
    """Area of the water in a round channel. [m2]"""
    return bore_m**2 / 8 * (angle_rad - math.sin(angle_rad))


@formula(result="y", symbols={"bore_m": "D", "angle_rad": "theta"}, source="geometry",
         example={"bore_m": 0.1, "angle_rad": 0.7})  # fmt: skip
def round_film_m(bore_m: float, angle_rad: float) -> float:
    """Depth of the water in a round channel. [m]"""
    return bore_m / 2 * (1 - math.cos(angle_rad / 2))


@formula(result="v", symbols={"flow_m3_per_s": "Q", "area_m2": "A"}, source="geometry",
         example={"flow_m3_per_s": 1 / 60000, "area_m2": 1.1e-4})  # fmt: skip
def speed_m_per_s(flow_m3_per_s: float, area_m2: float) -> float:
    """Mean speed of a flow through an area. [m/s]"""
    return flow_m3_per_s / area_m2


def require_slope(slope_ratio: float, name: str = "slope") -> None:
    """Raise InputError where water would run backwards or not at all. The rule lives here only."""
    if not 0 < slope_ratio <= 1:
        raise InputError(name, slope_ratio, "more than 0 and at most 1, falling towards the drain",
                         "Raise the feed end: the water would stand or run backwards.")  # fmt: skip


def half_full_m3_per_s(channel: Channel, slope_ratio: float, manning: float = MANNING) -> float:
    """Flow that fills a channel to the most it should hold, half its depth. [m3/s]"""
    require_slope(slope_ratio)
    width, deep = channel.width_mm / 1000, channel.depth_mm / 1000 * FULL_RATIO
    area, wet = (math.pi * width**2 / 8, math.pi * width / 2) if channel.section == "round" else (
        width * deep, width + 2 * deep)  # fmt: skip
    return manning_m3_per_s(area, wet, slope_ratio, manning)


@dataclass(frozen=True, slots=True, kw_only=True)
class Film:
    """Water in one channel. `feeds` are the places along it where solution enters, each with the flow.

    Raises InputError for a slope that runs backwards, a channel over the longest, a flow that fills it over half.
    """

    channel: Channel
    length_m: float
    slope_ratio: float
    flow_l_per_min: float
    feeds: int = 1
    manning: float = MANNING

    def __post_init__(self) -> None:
        require_slope(self.slope_ratio)
        require_within("flow in a channel", self.flow_l_per_min, 0.01, 200, "L/min")
        if self.feeds < 1:
            raise InputError("feeds", self.feeds, "1 or more")
        if not 0.1 <= self.length_m <= LONGEST_M * self.feeds:
            raise InputError("channel length", self.length_m, f"0.1 to {LONGEST_M * self.feeds:g} m for "
                             f"{self.feeds} feed{'s' * (self.feeds > 1)}", "Use shorter channels or feed half way "
                             "along as well.")  # fmt: skip
        most = half_full_m3_per_s(self.channel, self.slope_ratio, self.manning) * LITRES * SECONDS
        if self.flow_l_per_min * self.feeds > most:
            raise InputError("flow in a channel", self.flow_l_per_min, f"at most {most / self.feeds:.3g} L/min, "
                             "which half fills it", "Use a wider channel, a steeper one or less flow.")  # fmt: skip

    @property
    def flow_m3_per_s(self) -> float:
        """Flow at the low end, all feeds together. [m3/s]"""
        return flow_m3_per_s(self.flow_l_per_min * self.feeds)

    @property
    def angle_rad(self) -> float:
        """Wet angle of a round channel. [rad]"""
        return wet_angle_rad(self.flow_m3_per_s, self.slope_ratio, self.channel.width_mm / 1000, self.manning)

    @property
    def film_m(self) -> float:
        """Depth of the film at the low end. [m]"""
        width = self.channel.width_mm / 1000
        if self.channel.section == "round":
            return round_film_m(width, self.angle_rad)
        return rectangle_film_m(self.flow_m3_per_s, self.slope_ratio, width, self.manning)

    @property
    def area_m2(self) -> float:
        """Area of the water at the low end. [m2]"""
        width = self.channel.width_mm / 1000
        return wet_area_m2(width, self.angle_rad) if self.channel.section == "round" else width * self.film_m

    @property
    def speed_m_per_s(self) -> float:
        """Speed of the film. [m/s]"""
        return speed_m_per_s(self.flow_m3_per_s, self.area_m2)

    @property
    def held_l(self) -> float:
        """Water in the running channel, all of which drains back: at most, as if all fed at the top. [L]"""
        return self.area_m2 * self.length_m * LITRES

    @property
    def fall_m(self) -> float:
        """Fall from the feed end to the drain end. [m]"""
        return fall_m(self.slope_ratio, self.length_m)

    @property
    def notes(self) -> tuple[str, ...]:
        """What lies outside the usual ranges and still works, one sentence each."""
        found = []
        if self.slope_ratio < SLOPE_LOW:
            found.append(f"A slope of 1:{1 / self.slope_ratio:.0f} is flatter than 1:100: water stands in every dip.")
        elif self.slope_ratio > SLOPE_HIGH:
            found.append(f"A slope of 1:{1 / self.slope_ratio:.0f} is steeper than the usual 1:30 to 1:40.")
        if not FLOW_LOW <= self.flow_l_per_min <= FLOW_HIGH:
            found.append(f"{self.flow_l_per_min:g} L/min is outside {FLOW_LOW:g} to {FLOW_HIGH:g} L/min a channel.")
        if self.length_m / self.feeds > GROWTH_M:
            found.append(f"Beyond {GROWTH_M:g} m from a feed plants grow less; feed half way along as well.")
        return tuple(found)

    def working(self, system: str = "metric") -> list[Step]:
        """Return the arithmetic of the film, the last round of the iteration included."""
        width, flow = self.channel.width_mm / 1000, self.flow_m3_per_s
        steps = [fall_m.shown(self.slope_ratio, self.length_m, system=system),
                 flow_m3_per_s.shown(self.flow_l_per_min * self.feeds, system=system)]  # fmt: skip
        if self.channel.section == "round":
            steps += [wet_angle_rad.shown(flow, self.slope_ratio, width, self.manning, system=system),
                      round_film_m.shown(width, self.angle_rad, system=system),
                      wet_area_m2.shown(width, self.angle_rad, system=system)]  # fmt: skip
        else:
            steps.append(rectangle_film_m.shown(flow, self.slope_ratio, width, self.manning, system=system))
        return [*steps, speed_m_per_s.shown(flow, self.area_m2, system=system)]
