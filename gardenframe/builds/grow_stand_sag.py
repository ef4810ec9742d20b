"""The slope that channels keep under load: by hand as simple spans, and along the solved frame.

By hand, rails and channels span freely between posts and bearers: what a fitting holds against turning is not relied on
for drainage. The solved frame then shows the true line of the channel, its flattest piece and its lowest point.
"""

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from gardenframe.builds.grow_stand_shape import WATER_KG_PER_M3, Shape
from gardenframe.geometry.frame import Frame
from gardenframe.materials import members, sections
from gardenframe.strength import beams
from gardenframe.strength.cases import GRAVITY_M_PER_S2
from gardenframe.strength.places import moved_at
from gardenframe.strength.response import Response
from gardenframe.water.sag import Invert
from gardenframe.working import Step, formula

PVC = "pvc-1"  # channels are of the same plastic
BETWEEN = (0.25, 0.5, 0.75)  # of each space between bearers


@formula(result="I", symbols={"width_mm": "b", "depth_mm": "h", "wall_mm": "t", "bottom_mm2": "A_1", "sides_mm2": "A_2",
         "middle_mm": "y"}, source="geometry",
         example={"width_mm": 100.0, "depth_mm": 50.0, "wall_mm": 1.5})  # fmt: skip
def channel_second_moment_mm4(width_mm: float, depth_mm: float, wall_mm: float) -> float:
    """Stiffness of the shape of an open channel, inside sizes: a bottom and two sides. [mm4]"""
    bottom_mm2 = (width_mm + 2 * wall_mm) * wall_mm
    sides_mm2 = 2 * depth_mm * wall_mm
    middle_mm = sides_mm2 * (depth_mm + wall_mm) / (2 * (bottom_mm2 + sides_mm2))
    return (
        bottom_mm2 * (wall_mm**2 / 12 + middle_mm**2)
        + sides_mm2 * (depth_mm**2 / 12 + ((depth_mm + wall_mm) / 2 - middle_mm) ** 2)
    )  # fmt: skip


@formula(result="S_e", symbols={"slope_ratio": "S", "rail_sag_m": "delta_1", "bay_m": "L_1", "channel_sag_m": "delta_2",
         "apart_m": "L_2"}, source="beams-handbook",
         example={"slope_ratio": 0.025, "rail_sag_m": 0.003, "bay_m": 1.8, "channel_sag_m": 0.0005,
                  "apart_m": 0.45})  # fmt: skip
def slope_left_ratio(
    slope_ratio: float, rail_sag_m: float, bay_m: float, channel_sag_m: float, apart_m: float
) -> float:
    """Slope left at the drain end of a bay, where rail and channel both sag as simple spans. [1]"""
    return slope_ratio - 16 / 5 * (rail_sag_m / bay_m + channel_sag_m / apart_m)


@dataclass(frozen=True)
class HandSag:
    """Rail and channel as simple spans."""

    shape: Shape

    @property
    def rail_n_per_m(self) -> float:
        """Load of one shelf rail: half of its tier, of the lamps hung from it and of the bearers, and itself. [N/m]"""
        shape, build = self.shape, self.shape.build
        tube = members.find(build.tube).mass_kg_per_m * GRAVITY_M_PER_S2
        lamps = shape.lamps_kg * GRAVITY_M_PER_S2 / build.length_m
        bearers = tube * build.depth_m / (2 * self.apart_m)
        return float((shape.carried_n_per_m + lamps) / 2 + tube + bearers)

    @property
    def rail_stiffness_n_m2(self) -> float:
        """Stiffness of a rail. [N m2]"""
        tube = members.find(self.shape.build.tube)
        return beams.bending_stiffness_n_m2(tube.modulus_gpa * 1e9, tube.second_moment_mm4 * 1e-12)

    @property
    def rail_sag_m(self) -> float:
        """Sag of a rail in the middle of a bay. [m]"""
        return beams.simple_span_deflection_m(self.rail_n_per_m, self.shape.bay_m, self.rail_stiffness_n_m2)

    @property
    def apart_m(self) -> float:
        """Between neighbouring bearers. [m]"""
        return float(self.shape.bay_m / (self.shape.bearers + 1))

    @property
    def channel_n_per_m(self) -> float:
        """Load of one channel, plants included. [N/m]"""
        shape = self.shape
        if shape.channel is None:
            return 0.0
        plants = shape.plants_each * shape.crop.mass_kg / shape.build.length_m
        mass = shape.channel.mass_kg_per_m + shape.water_area_m2 * WATER_KG_PER_M3 + plants
        return float(mass * GRAVITY_M_PER_S2)

    @property
    def second_moment_mm4(self) -> float:
        """Stiffness of a channel's shape. [mm4]"""
        channel = self.shape.channel
        if channel is None:
            return math.inf
        if channel.section == "round":
            return sections.tube_second_moment_mm4(channel.width_mm + 2 * channel.wall_mm, channel.wall_mm)
        return channel_second_moment_mm4(channel.width_mm, channel.depth_mm, channel.wall_mm)

    @property
    def channel_stiffness_n_m2(self) -> float:
        """Stiffness of a channel. [N m2]"""
        return beams.bending_stiffness_n_m2(members.find(PVC).modulus_gpa * 1e9, self.second_moment_mm4 * 1e-12)

    @property
    def channel_sag_m(self) -> float:
        """Sag of a channel between bearers. [m]"""
        return beams.simple_span_deflection_m(self.channel_n_per_m, self.apart_m, self.channel_stiffness_n_m2)

    @property
    def slope_left(self) -> float:
        """Slope left at the drain end of a bay. [1]"""
        return slope_left_ratio(
            self.shape.slope, self.rail_sag_m, self.shape.bay_m, self.channel_sag_m, self.apart_m
        )  # fmt: skip

    def working(self, system: str) -> list[Step]:
        """Return the arithmetic."""
        return [
            beams.simple_span_deflection_m.shown(
                self.rail_n_per_m, self.shape.bay_m, self.rail_stiffness_n_m2, system=system
            ),
            beams.simple_span_deflection_m.shown(
                self.channel_n_per_m, self.apart_m, self.channel_stiffness_n_m2, system=system
            ),
            slope_left_ratio.shown(
                self.shape.slope, self.rail_sag_m, self.shape.bay_m, self.channel_sag_m, self.apart_m, system=system
            ),
        ]


@dataclass(frozen=True)
class Bed:
    """The inside bottom of one channel as the loaded frame carries it."""

    tier: int
    row: int
    case: str
    slope: float
    invert: Invert
    sags_m: tuple[float, ...]

    @property
    def where(self) -> str:
        """Which channel, and its flattest place, in words."""
        at = self.invert.slopes.index(self.invert.least_slope)
        a, b = self.invert.stations_m[at : at + 2]
        return f"tier {self.tier + 1}, channel {self.row + 1}, {a:.2f} to {b:.2f} m from its feed"


def beds(plan: Any) -> list[Bed]:
    """Return the bed of every channel under weight alone, from the solved frame; none without channels."""
    if plan.build.shape.channel is None:
        return []
    response: Response = plan.standing.response
    return response.once("beds", lambda: beds_of(plan.build, plan.frame, response))


def beds_of(build: Any, frame: Frame, response: Response) -> list[Bed]:
    """Return the bed of every channel under the first case of a response."""
    shape, found = build.shape, []
    own = HandSag(shape).channel_sag_m  # between bearers, as a simple span
    below = [f"tie {bay + 1}" if tie else f"bearer {bay + 1}.{n + 1}" for _, tie, bay, n in shape.supports_x]
    tiers, rows = range(build.tiers), shape.rows_y
    runs = [f"level {tier + 1} {name}" for tier in tiers for name in below]
    stations = [min(max(y, 0.0), frame.lines[run].length_m) for run in runs for y in rows]
    moved = moved_at(response, [run for run in runs for _ in rows], stations)
    down = -moved[0, :, 2].reshape(len(tiers), len(below), len(rows))
    for tier in tiers:
        for row in range(shape.across):
            found.append(_bed(shape, tier, row, response.cases[0], down[tier, :, row].tolist(), own))
    return found


def _bed(shape: Shape, tier: int, row: int, case: str, down: list[float], own_m: float) -> Bed:
    x = [at for at, *_ in shape.supports_x]
    if not shape.drains_right(tier):
        x, down = [x[0] + x[-1] - at for at in reversed(x)], down[::-1]
    points = [(x[0], down[0])]
    for (a, low), (b, high) in pairwise(zip(x, down, strict=True)):
        for share in BETWEEN:  # what its bearers sag, and its own
            bow = 16 / 5 * own_m * (share - 2 * share**3 + share**4)
            points.append((a + (b - a) * share, low + (high - low) * share + bow))
        points.append((b, high))
    stations = [at - x[0] for at, _ in points]
    sags = [float(sag) for _, sag in points]
    return Bed(tier, row, case, shape.slope, Invert.sagged(shape.slope, stations, sags), tuple(sags))


def worst_bed(plan: Any) -> Bed | None:
    """Return the channel with the least slope left; none without channels."""
    return min(beds(plan), key=lambda bed: bed.invert.least_slope, default=None)
