"""Where everything of a grow stand is: posts, tiers, bearers, what stands on them. Fields come in, places go out.

x goes along the front, y from the axis of the front rails to that of the back ones, z up from the floor. Shelves are
counted from the lowest. Under channels the shelf rails themselves slope, so a channel lies on every bearer.
"""

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from gardenframe.kept import cached_property
from gardenframe.materials import constants, members
from gardenframe.materials.stands import Carrier, Crop, Lamp, TankRow, load_carriers, load_crops, load_lamps, load_tanks
from gardenframe.materials.water import Channel, load_channels
from gardenframe.strength.cases import GRAVITY_M_PER_S2
from gardenframe.water import channels

FOOT_RAIL_M = 0.10  # axis of the lowest rails over the floor
EDGE_M = 0.05  # from the end of a channel to its first plant
OVER_PLANTS_M = 0.03  # least room between plants and lamps
HANGER_M = 0.05  # least length of a hanger
WATER_KG_PER_M3 = constants.value("water_density_kg_per_m3")
RESTS = 0.8  # of a tray: bearers no farther apart, so that it rests on two
OVERFLOW_M = 0.005  # water over an overflow while the pump runs


@dataclass(frozen=True)
class Shape:
    """A grow stand in numbers."""

    build: Any

    # --- tube and levels

    @cached_property
    def d(self) -> float:
        """Outside diameter of the tube. [m]"""
        return members.find(self.build.tube).outer_mm / 1000

    @property
    def back_y(self) -> float:
        """Axis of the back rails. [m]"""
        return float(self.build.depth_m) - self.d

    @cached_property
    def posts_x(self) -> list[float]:
        """Axes of the pairs of posts. [m]"""
        first, last, bays = self.d / 2, self.build.length_m - self.d / 2, self.build.bays
        return [first + (last - first) * i / bays for i in range(bays + 1)]

    @property
    def bearers(self) -> int:
        """Bearers in a bay: as chosen, and as many as each tray, tub or bucket needs to rest on two."""
        if self.carrier is None:
            return int(self.build.bearers)
        return max(int(self.build.bearers), math.ceil(self.bay_m / (RESTS * self.carrier.long_mm / 1000) - 1e-9) - 1)

    @cached_property
    def supports_x(self) -> list[tuple[float, bool, int, int]]:
        """What a tier rests on along x: place [m], whether it is a tie between posts, bay, number in the bay."""
        found, number = [(self.posts_x[0], True, 0, 0)], self.bearers
        for bay, (a, b) in enumerate(pairwise(self.posts_x)):
            found += [(a + (b - a) * (n + 1) / (number + 1), False, bay, n) for n in range(number)]
            found.append((b, True, bay + 1, 0))
        return found

    @cached_property
    def shares_m(self) -> list[float]:
        """Length of channel that each of those carries: half of each space beside it, and what hangs over. [m]"""
        at = [x for x, *_ in self.supports_x]
        edges = [0.0, *((a + b) / 2 for a, b in pairwise(at)), self.build.length_m]
        return [b - a for a, b in pairwise(edges)]

    @property
    def bay_m(self) -> float:
        """Between the axes of neighbouring posts. [m]"""
        return self.posts_x[1] - self.posts_x[0]

    @property
    def pitch_m(self) -> float:
        """From one shelf to the next. [m]"""
        return float((self.build.height_m - self.build.low_m) / self.build.tiers)

    @property
    def slope(self) -> float:
        """Fall of the shelves towards the drain. [1]"""
        return float(self.build.slope_share) if self.channel else 0.0

    @property
    def fall_m(self) -> float:
        """Fall from one end of the shelf to the other. [m]"""
        return self.slope * (self.posts_x[-1] - self.posts_x[0])

    @property
    def in_turn(self) -> bool:
        """Whether each channel feeds the one below it."""
        return bool(self.channel) and self.build.fed == "in turn"

    def drains_right(self, tier: int) -> bool:
        """Whether a tier falls to the right: all do, or every second one from the top where they feed each other."""
        return not self.in_turn or (self.build.tiers - 1 - tier) % 2 == 0

    def axis_z(self, level: int, x_m: float) -> float:
        """Height of the rails' axis of a level; the highest carries lamps and is level. [m]"""
        if level == self.build.tiers:
            return float(self.build.height_m) - self.d / 2
        drain = self.posts_x[-1] if self.drains_right(level) else self.posts_x[0]
        return float(self.build.low_m) - self.d / 2 + level * self.pitch_m + self.slope * abs(x_m - drain)

    # --- what stands on it

    @cached_property
    def channel(self) -> Channel | None:
        """The channel, where it carries channels."""
        return load_channels().get(self.build.carries)

    @cached_property
    def carrier(self) -> Carrier | None:
        """The tray, tub or bucket, where it carries those."""
        return load_carriers().get(self.build.carries)

    @cached_property
    def crop(self) -> Crop:
        """What grows."""
        return load_crops()[self.build.crop]

    @cached_property
    def lamp(self) -> Lamp:
        """The lamp over each tier."""
        return load_lamps()[self.build.lamp]

    @cached_property
    def tank(self) -> TankRow:
        """The tank below."""
        return load_tanks()[self.build.tank]

    @property
    def wide_m(self) -> float:
        """Outside width of one channel, tray, tub or bucket. [m]"""
        if self.channel:
            return (self.channel.width_mm + 2 * self.channel.wall_mm) / 1000
        return self.carrier.wide_mm / 1000 if self.carrier else 0.0

    @property
    def deep_m(self) -> float:
        """Height of it over its shelf. [m]"""
        if self.channel:
            return (self.channel.depth_mm + self.channel.wall_mm) / 1000
        return self.carrier.deep_mm / 1000 if self.carrier else 0.0

    @property
    def across(self) -> int:
        """How many stand side by side across the depth."""
        if self.channel:
            return int(self.build.rows)
        return int((self.build.depth_m + 1e-9) / self.wide_m)

    @property
    def along(self) -> int:
        """How many stand one after the other along a tier."""
        if self.carrier is None:
            return 1
        return int((self.build.length_m + 1e-9) / (self.carrier.long_mm / 1000))

    @property
    def on_a_tier(self) -> int:
        """How many channels, trays, tubs or buckets a tier carries."""
        return self.across * self.along

    @property
    def spacing_m(self) -> float:
        """Between the middles of neighbours across the depth. [m]"""
        return float(self.build.depth_m) / max(self.across, 1)

    @property
    def rows_y(self) -> list[float]:
        """Middles of the rows across the depth. [m]"""
        return [self.spacing_m * (j + 0.5) - self.d / 2 for j in range(self.across)]

    @property
    def most_plants(self) -> int:
        """Plants that one channel, tray, tub or bucket has room for."""
        apart = self.crop.apart_mm / 1000
        if self.channel:
            return int((self.build.length_m - 2 * EDGE_M + 1e-9) / apart) + 1
        if self.carrier is None or self.carrier.kind == "bucket":
            return 1
        return max(1, int(self.carrier.long_mm / self.crop.apart_mm)) * max(
            1, int(self.carrier.wide_mm / self.crop.apart_mm)
        )  # fmt: skip

    @property
    def plants_each(self) -> int:
        """Plants of each: as many as there is room for, at most those chosen."""
        return min(int(self.build.plants_each), self.most_plants)

    @property
    def plants_on_a_tier(self) -> int:
        """Plants of one tier."""
        return self.plants_each * self.on_a_tier

    @property
    def plants(self) -> int:
        """Plants of the whole stand."""
        return self.plants_on_a_tier * int(self.build.tiers)

    # --- weights

    @cached_property
    def water_area_m2(self) -> float:
        """Water across one channel as it is weighed: to the brim behind a blocked drain, else half full. [m2]"""
        if self.channel is None:
            return 0.0
        wide, deep = self.channel.width_mm / 1000, self.channel.depth_mm / 1000
        full = math.pi * wide**2 / 4 if self.channel.section == "round" else wide * deep
        return full if self.build.blocked else full * channels.FULL_RATIO

    @property
    def water_depth_m(self) -> float:
        """Depth of water in a tray, tub or bucket as it is weighed. [m]"""
        if self.carrier is None:
            return 0.0
        return self.carrier.deep_mm / 1000 if self.build.blocked else float(self.build.water_m)

    @property
    def water_floor_m2(self) -> float:
        """Area of the water in one tray or tub; that of a bucket is round. [m2]"""
        if self.carrier is None:
            return 0.0
        box = self.carrier.long_mm * self.carrier.wide_mm / 1e6
        return box * math.pi / 4 if self.carrier.kind == "bucket" else box

    @cached_property
    def carried_kg(self) -> float:
        """Mass that one tier carries: channels or trays, their water, plants; lamps hang from the tier above. [kg]"""
        plants = self.plants_on_a_tier * self.crop.mass_kg
        if self.channel:
            each = (self.channel.mass_kg_per_m + self.water_area_m2 * WATER_KG_PER_M3) * self.build.length_m
            return float(self.on_a_tier * each + plants)
        water = self.water_floor_m2 * self.water_depth_m * WATER_KG_PER_M3
        own = self.carrier.mass_kg if self.carrier else 0.0
        return float(self.on_a_tier * (own + water) + plants)

    @property
    def lamps_kg(self) -> float:
        """Mass of the lamps of one tier. [kg]"""
        return float(self.build.lamps) * self.lamp.mass_kg

    @property
    def carried_n_per_m(self) -> float:
        """Weight on each metre of a tier. [N/m]"""
        return self.carried_kg * GRAVITY_M_PER_S2 / float(self.build.length_m)

    # --- light

    @property
    def grown_m(self) -> float:
        """Height of grown plants over their shelf. [m]"""
        return self.deep_m + self.crop.height_mm / 1000

    @property
    def room_m(self) -> float:
        """Room of a tier, from its shelf up to a lamp on its shortest hanger. [m]"""
        return self.pitch_m - self.fall_m - self.d - HANGER_M
