"""The section of a hoop house: the line that its hoops follow, from width, height and side walls. Lengths in m.

Sizes over the tubes come in; the line on the axis goes out, in the plane of a hoop: x across, z up, middle at x = 0.
"""

import math
from dataclasses import dataclass
from itertools import pairwise

from gardenframe.geometry.arcs import Centreline, Straight, rounded
from gardenframe.geometry.vectors import Vector
from gardenframe.kept import cached_property

CLOSE_RAD = 1e-12


def leg_slope_rad(half_width_m: float, wall_m: float, top_m: float) -> float:
    """Return how steeply the legs of a flat hoop stand, from level: its arc goes on from them without a corner.

    The arc rises (half width - wall / tan a) tan(a / 2) above the legs, on the axis.

    Parameters
    ----------
    half_width_m, wall_m, top_m : float
        Half the width at the ground, height of the straight legs, height of the crown, on the axis. [m]

    Examples
    --------
    >>> round(math.degrees(leg_slope_rad(1.5, 0.4, 1.9)), 6)  # as high as a half circle on its walls
    90.0
    """
    low, high = 1e-6, math.pi / 2
    while high - low > CLOSE_RAD:
        middle = (low + high) / 2
        rise = (half_width_m - wall_m / math.tan(middle)) * math.tan(middle / 2)
        low, high = (middle, high) if rise < top_m - wall_m else (low, middle)
    return high


@dataclass(frozen=True)
class Section:
    """The section of a house on the axis of its tubes.

    `form` is half circle, segment or gable; `buried_m` is how far the feet go on into the ground along the legs.
    """

    form: str
    half_width_m: float
    wall_m: float
    top_m: float
    buried_m: float = 0.0

    @cached_property
    def slope_rad(self) -> float:
        """How steeply the legs stand, from level."""
        if self.form != "segment":
            return math.pi / 2
        return leg_slope_rad(self.half_width_m, self.wall_m, self.top_m)

    @cached_property
    def radius_m(self) -> float:
        """Radius of the hoop to its axis; 0 for a gable. [m]"""
        if self.form == "gable":
            return 0.0
        return (self.top_m - self.wall_m) / (1 - math.cos(self.slope_rad))

    @cached_property
    def foot(self) -> tuple[float, float]:
        """Lower end of the right leg: x and z. [m]"""
        return (
            self.half_width_m + self.buried_m * math.cos(self.slope_rad),
            -self.buried_m * math.sin(self.slope_rad),
        )

    @cached_property
    def corner(self) -> tuple[float, float]:
        """Where the right leg, drawn on, meets the level of the crown: x and z. [m]"""
        return self.half_width_m - self.top_m / math.tan(self.slope_rad), self.top_m

    @cached_property
    def line(self) -> Centreline:
        """The hoop from its left end to its right end; of a gable, its left post and slope up to the apex."""
        x, z = self.foot
        if self.form == "gable":
            eave = (-self.half_width_m, 0.0, self.wall_m)
            return Centreline((Straight((-x, 0.0, z), eave), Straight(eave, (0.0, 0.0, self.top_m))))
        corner_x, corner_z = self.corner
        points: list[Vector] = [(-x, 0.0, z), (-corner_x, 0.0, corner_z), (corner_x, 0.0, corner_z), (x, 0.0, z)]
        return rounded(points, self.radius_m * (1 - 1e-9), "hoop")

    @cached_property
    def leg_m(self) -> float:
        """Length of the straight leg above the ground. [m]"""
        return self.wall_m / math.sin(self.slope_rad)

    @cached_property
    def half_length_m(self) -> float:
        """Length from the ground to the crown along the line. [m]"""
        if self.form == "gable":
            return self.wall_m + math.hypot(self.half_width_m, self.top_m - self.wall_m)
        return self.leg_m + self.radius_m * self.slope_rad

    @cached_property
    def pitch_rad(self) -> float:
        """Slope of a gable, from level."""
        return math.atan2(self.top_m - self.wall_m, self.half_width_m)

    def at(self, up_m: float) -> tuple[float, float]:
        """Return the point of the left half at a length along it from the ground: x and z. [m]"""
        if up_m <= self.leg_m:
            return up_m * math.cos(self.slope_rad) - self.half_width_m, up_m * math.sin(self.slope_rad)
        if self.form == "gable":
            on = up_m - self.leg_m
            return on * math.cos(self.pitch_rad) - self.half_width_m, self.wall_m + on * math.sin(self.pitch_rad)
        turn = (self.half_length_m - up_m) / self.radius_m
        return -self.radius_m * math.sin(turn), self.top_m - self.radius_m * (1 - math.cos(turn))

    def inward(self, up_m: float) -> tuple[float, float]:
        """Return the direction to the inside there: x and z, length one."""
        if up_m <= self.leg_m:
            return math.sin(self.slope_rad), -math.cos(self.slope_rad)
        if self.form == "gable":
            return math.sin(self.pitch_rad), -math.cos(self.pitch_rad)
        turn = (self.half_length_m - up_m) / self.radius_m
        return math.sin(turn), -math.cos(turn)

    def up_at_height(self, z_m: float) -> float:
        """Return the length along the left half from the ground to a height. [m]"""
        if z_m <= self.wall_m:
            return z_m / math.sin(self.slope_rad)
        if self.form == "gable":
            return self.leg_m + min(z_m - self.wall_m, self.top_m - self.wall_m) / math.sin(self.pitch_rad)
        below = min(self.top_m - z_m, self.radius_m)
        return self.half_length_m - self.radius_m * math.acos(1 - max(below, 0.0) / self.radius_m)

    def height_at(self, x_m: float) -> float:
        """Return the height of the axis over a place across the house. [m]"""
        return self.at(self.up_at(x_m))[1]

    def up_at(self, x_m: float) -> float:
        """Return the length along the left half from the ground to a distance from the middle, either side. [m]"""
        x = min(abs(x_m), self.half_width_m)
        if self.form == "gable":
            return self.half_length_m - x / math.cos(self.pitch_rad)
        if x <= self.radius_m * math.sin(self.slope_rad):
            return self.half_length_m - self.radius_m * math.asin(min(x / self.radius_m, 1.0))
        return (self.half_width_m - x) / max(math.cos(self.slope_rad), 1e-12)

    def skin(self) -> Centreline:
        """Return the closed outline of an end wall, down to the ground."""
        ground = Straight((self.half_width_m, 0.0, 0.0), (-self.half_width_m, 0.0, 0.0))
        if self.form == "gable":
            eaves = [(-self.half_width_m, 0.0, self.wall_m), (self.half_width_m, 0.0, self.wall_m)]
            top = (0.0, 0.0, self.top_m)
            points = [(-self.half_width_m, 0.0, 0.0), eaves[0], top, eaves[1], (self.half_width_m, 0.0, 0.0)]
            return Centreline((ground, *(Straight(a, b) for a, b in pairwise(points))))
        above = Section(self.form, self.half_width_m, self.wall_m, self.top_m)
        return Centreline((ground, *above.line.pieces))


def end_area_m2(section: Section) -> float:
    """Return the area of an end wall by hand: legs and arc, or walls and gable. [m²]

    >>> round(end_area_m2(Section("half circle", 1.0, 0.5, 1.5)), 6)  # pi / 2 + 1
    2.570796
    """
    half, wall = section.half_width_m, section.wall_m
    if section.form == "gable":
        return 2 * half * (section.top_m + wall) / 2
    slope = section.slope_rad
    chord = half - wall / math.tan(slope)
    return (half + chord) * wall + section.radius_m**2 * (slope - math.sin(slope) * math.cos(slope))
