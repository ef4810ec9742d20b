"""Where the roof of a shade frame lies: levels, slopes, rafters along it, corners of its cloths. Numbers alone.

x goes along the front, y from the front posts to the back ones, z up from the ground; axes of tubes. The frame that is
built and the shadow that is cast both start here, so they cannot differ.
"""

import math
from dataclasses import dataclass
from typing import Any

from gardenframe.geometry.vectors import Vector
from gardenframe.kept import cached_property

ASIDE_M = 0.09  # from a post to the rafter beside it: room for a fitting and a coupler
REACH_M = 0.04  # of a rafter past the last rail under it
END_M = 0.03  # of a rail past the last rafter on it
STAGGER = 2.4  # between the two rafters that cross a ridge, in diameters
WIRE_IN_M = 0.12  # from a post to the wire's eye bolt
WRAP_M = 0.05  # of cloth turned over at each edge
WIRE_DROP_M = 0.05  # of the wire under the axis of the tube it hangs from
FORMS = (
    ("sloped", "sloped: the back is higher"),
    ("flat", "flat"),
    ("pitched", "pitched: a ridge along the middle"),
    ("wires", "a cloth that slides on two wires"),
)


@dataclass(frozen=True)
class Slope:
    """One flat part of a roof, from `from_y` to `to_y`; it rises by its tangent for each metre of y."""

    name: str
    from_y: float
    to_y: float
    at_y: float  # where the level is known
    at_z: float
    tangent: float

    def z(self, y_m: float) -> float:
        """Level of the rails' axes under this part. [m]"""
        return self.at_z + self.tangent * (y_m - self.at_y)

    @property
    def up(self) -> Vector:
        """Square to it, upwards, of length 1."""
        angle = math.atan(self.tangent)
        return (0.0, -math.sin(angle), math.cos(angle))


@dataclass(frozen=True)
class Roof:
    """The roof of one shade frame in a tube; `overhang_m` in place of the build's to look at others."""

    build: Any
    outer_m: float
    overhang_m: float | None = None

    @property
    def over(self) -> float:
        """Of the front edge rail past the front posts. [m]"""
        if self.build.form == "wires":
            return 0.0
        return float(self.build.overhang_m if self.overhang_m is None else self.overhang_m)

    @property
    def behind(self) -> float:
        """Of the back edge rail past the back posts. [m]"""
        return 0.0 if self.build.form == "wires" else float(self.build.behind_m)

    @property
    def beside(self) -> float:
        """Of the rails past the end posts. [m]"""
        return 0.0 if self.build.form == "wires" else float(self.build.beside_m)

    @property
    def back_y(self) -> float:
        """Axis of the back posts. [m]"""
        return float(self.build.width_m) - self.outer_m

    @property
    def front_z(self) -> float:
        """Axis of the front rail. [m]"""
        return float(self.build.height_m) + self.outer_m / 2

    @property
    def rise(self) -> float:
        """Of the back rail, or the ridge, over the front rail. [m]"""
        return float(self.build.rise_m) if self.build.form in ("sloped", "pitched") else 0.0

    @property
    def back_z(self) -> float:
        """Axis of the back rail. [m]"""
        return self.front_z + (self.rise if self.build.form == "sloped" else 0.0)

    @cached_property
    def posts_x(self) -> tuple[float, ...]:
        """Axes of the posts along the front. [m]"""
        d, bays = self.outer_m, self.build.bays
        return tuple(d / 2 + (self.build.length_m - d) * i / bays for i in range(bays + 1))

    @cached_property
    def rafters_x(self) -> tuple[float, ...]:
        """Axes of the rafters: beside every post, between them, and at the ends of rails that reach past the posts."""
        first, *inner, last = self.posts_x
        places = [first + ASIDE_M, *(x + ASIDE_M for x in inner), last - ASIDE_M]
        between = self.build.rafters
        for a, b in zip(self.posts_x, self.posts_x[1:]):
            left, right = a + ASIDE_M, (b - ASIDE_M if b == last else b + ASIDE_M)
            places += [left + (right - left) * (k + 1) / (between + 1) for k in range(between)]
        if self.beside:
            out = self.beside + self.outer_m / 2 - END_M
            places += [first - out, last + out]
        return tuple(sorted(places))

    @property
    def rails_x(self) -> tuple[float, float]:
        """Ends of the rails along the front. [m]"""
        out = self.beside + self.outer_m / 2 if self.beside else 0.0
        return self.posts_x[0] - out, self.posts_x[-1] + out

    @cached_property
    def slopes(self) -> tuple[Slope, ...]:
        """The flat parts of the roof, from the front."""
        front, back = -self.over, self.back_y + self.behind
        if self.build.form == "pitched":
            middle = self.back_y / 2
            tangent = self.rise / middle
            ridge_z = self.front_z + self.rise
            return (
                Slope("front", front, middle, 0.0, self.front_z, tangent),
                Slope("back", middle, back, middle, ridge_z, -tangent),
            )
        return (Slope("roof", front, back, 0.0, self.front_z, self.rise / self.back_y),)

    def rafter_x(self, slope: Slope) -> tuple[float, ...]:
        """Axes of the rafters of one part: those of the back of a pitch stand beside those of its front."""
        if slope.name != "back":
            return self.rafters_x
        aside, middle = STAGGER * self.outer_m, (self.posts_x[0] + self.posts_x[-1]) / 2
        return tuple(x + aside if x <= middle else x - aside for x in self.rafters_x)

    @cached_property
    def wires_y(self) -> tuple[float, float]:
        """Where the two wires run. [m]"""
        return WIRE_IN_M, self.back_y - WIRE_IN_M

    @property
    def wire_span_m(self) -> float:
        """Between the axes of the two end frames. [m]"""
        return self.posts_x[-1] - self.posts_x[0]

    @property
    def cloth_m(self) -> tuple[float, float]:
        """Sides of the cloth without its edges: along the front, and over all its slopes. [m]"""
        left, right = self.posts_x[0], self.posts_x[-1]
        if self.build.form == "wires":
            low, high = self.wires_y
            return right - left, high - low
        over = sum((one.to_y - one.from_y) / one.up[2] for one in self.slopes)
        return self.rafters_x[-1] - self.rafters_x[0], over

    def cloths(self, drawn: float = 1.0) -> tuple[tuple[Vector, ...], ...]:
        """Corners of each flat piece of cloth, in order round it; `drawn` is how far one on wires is drawn out."""
        if self.build.form == "wires":
            (low, high), z = self.wires_y, self.front_z - WIRE_DROP_M
            left, right = self.posts_x[0], self.posts_x[0] + drawn * self.wire_span_m
            return (((left, low, z), (right, low, z), (right, high, z), (left, high, z)),)
        left, right = self.rafters_x[0], self.rafters_x[-1]
        found = []
        for slope in self.slopes:
            _, y, z = (part * self.outer_m for part in slope.up)
            ends = [(slope.from_y + y, slope.z(slope.from_y) + z), (slope.to_y + y, slope.z(slope.to_y) + z)]
            (a, za), (b, zb) = ends
            found.append(((left, a, za), (right, a, za), (right, b, zb), (left, b, zb)))
        return tuple(found)
