"""Centrelines of straight and circular pieces: length, point, direction and nearest station along a tube.

Points and a bend radius come in, a `Centreline` goes out. A corner of the points is rounded by an arc that touches
both sides; the corner itself is then not on the tube.
"""

import math
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass

from gardenframe.errors import FrameError
from gardenframe.geometry.vectors import Vector, add, angle_deg, cross, distance, dot, minus, times, unit
from gardenframe.kept import cached_property

TOUCH_M = 1e-6  # two stations nearer than this are one
STRAIGHT_TAN = math.tan(math.radians(0.05))  # a path that turns by less is straight


@dataclass(frozen=True)
class Straight:
    """A straight piece of a centreline."""

    start: Vector
    end: Vector

    @cached_property
    def length_m(self) -> float:
        """Length. [m]"""
        return distance(self.start, self.end)

    @cached_property
    def _ahead(self) -> Vector:
        return unit(minus(self.end, self.start))

    def point(self, along_m: float) -> Vector:
        """Point at a distance from the start."""
        (x, y, z), (a, b, c) = self.start, self._ahead
        return x + along_m * a, y + along_m * b, z + along_m * c

    def tangent(self, along_m: float) -> Vector:
        """Direction of travel, length one."""
        return self._ahead

    def nearest(self, point: Vector) -> float:
        """Distance along the piece of its point nearest to another. [m]"""
        along = dot(minus(point, self.start), self.tangent(0.0))
        return min(max(along, 0.0), self.length_m)


@dataclass(frozen=True)
class Arc:
    """A circular piece of a centreline: from `start` about `centre` by `angle_rad` round the unit `axis`."""

    start: Vector
    centre: Vector
    axis: Vector
    angle_rad: float

    @cached_property
    def radius_m(self) -> float:
        """Radius to the centreline. [m]"""
        return distance(self.start, self.centre)

    @cached_property
    def length_m(self) -> float:
        """Developed length. [m]"""
        return self.radius_m * self.angle_rad

    @cached_property
    def _spokes(self) -> tuple[Vector, Vector]:
        """From the centre to the start, and a quarter turn on."""
        spoke = minus(self.start, self.centre)
        return spoke, cross(self.axis, spoke)

    @property
    def end(self) -> Vector:
        """Last point of the arc."""
        return self.point(self.length_m)

    def point(self, along_m: float) -> Vector:
        """Point at a distance along the arc from the start."""
        turn = along_m / self.radius_m
        cos, sin = math.cos(turn), math.sin(turn)
        (x, y, z), ((a, b, c), (d, e, f)) = self.centre, self._spokes
        return x + cos * a + sin * d, y + cos * b + sin * e, z + cos * c + sin * f

    def tangent(self, along_m: float) -> Vector:
        """Direction of travel, length one."""
        turn = along_m / self.radius_m
        cos, sin = math.cos(turn) / self.radius_m, math.sin(turn) / self.radius_m
        (a, b, c), (d, e, f) = self._spokes
        return cos * d - sin * a, cos * e - sin * b, cos * f - sin * c

    def nearest(self, point: Vector) -> float:
        """Distance along the arc of its point nearest to another. [m]"""
        spoke = minus(self.start, self.centre)
        arm = minus(point, self.centre)
        turn = math.atan2(dot(self.axis, cross(spoke, arm)), dot(spoke, arm)) % (2 * math.pi)
        if turn > self.angle_rad:  # beyond an end: the nearer of the two
            turn = 0.0 if 2 * math.pi - turn < turn - self.angle_rad else self.angle_rad
        return self.radius_m * turn


@dataclass(frozen=True)
class Centreline:
    """A tube's axis: straight and circular pieces, each starting where the last ends."""

    pieces: tuple[Straight | Arc, ...]

    @cached_property
    def starts_m(self) -> tuple[float, ...]:
        """Station at which each piece starts, and last the whole length. [m]"""
        stations = [0.0]
        for piece in self.pieces:
            stations.append(stations[-1] + piece.length_m)
        return tuple(stations)

    @property
    def length_m(self) -> float:
        """Developed length: of the straight tube that it is made from. [m]"""
        return self.starts_m[-1]

    @property
    def straight(self) -> bool:
        """Whether there is no bend in it."""
        return len(self.pieces) == 1 and isinstance(self.pieces[0], Straight)

    @property
    def bends(self) -> tuple[Arc, ...]:
        """The circular pieces in order."""
        return tuple(piece for piece in self.pieces if isinstance(piece, Arc))

    def _piece(self, station_m: float) -> tuple[Straight | Arc, float]:
        index = min(max(bisect_right(self.starts_m, station_m) - 1, 0), len(self.pieces) - 1)
        return self.pieces[index], station_m - self.starts_m[index]

    def point(self, station_m: float) -> Vector:
        """Point at a station."""
        piece, along = self._piece(station_m)
        return piece.point(along)

    def tangent(self, station_m: float) -> Vector:
        """Direction of travel at a station, length one."""
        piece, along = self._piece(station_m)
        return piece.tangent(along)

    def nearest(self, point: Vector) -> float:
        """Station of the point on the line nearest to another. [m]"""
        found = [(distance(p.point(a := p.nearest(point)), point), s + a) for p, s in zip(self.pieces, self.starts_m)]
        return min(found)[1]

    def points(self, largest_deg: float = 5.0) -> list[Vector]:
        """Points that draw the line: arcs divided so that no chord turns by more than an angle."""
        drawn = [self.pieces[0].start]
        for piece in self.pieces:
            parts = 1 if isinstance(piece, Straight) else math.ceil(math.degrees(piece.angle_rad) / largest_deg)
            drawn += [piece.point(piece.length_m * (i + 1) / parts) for i in range(parts)]
        return drawn


def part_of(line: Centreline, from_m: float, to_m: float) -> Centreline:
    """Return the part of a line between two stations.

    >>> part_of(straight_line((0, 0, 0), (3, 0, 0)), 1.0, 2.5).length_m
    1.5
    """
    kept: list[Straight | Arc] = []
    for piece, start in zip(line.pieces, line.starts_m):
        a, b = max(from_m - start, 0.0), min(to_m - start, piece.length_m)
        if b - a <= TOUCH_M:
            continue
        if isinstance(piece, Straight):
            kept.append(Straight(piece.point(a), piece.point(b)))
        else:
            kept.append(Arc(piece.point(a), piece.centre, piece.axis, (b - a) / piece.radius_m))
    return Centreline(tuple(kept))


def straight_line(start: Vector, end: Vector) -> Centreline:
    """Centreline of one straight piece."""
    return Centreline((Straight(start, end),))


def turns_at(before: Vector, corner: Vector, after: Vector) -> bool:
    """Whether a path changes direction at a point of it."""
    into, out = minus(corner, before), minus(after, corner)
    ahead, aside = dot(into, out), cross(into, out)
    return ahead <= 0 or dot(aside, aside) >= (STRAIGHT_TAN * ahead) ** 2


def rounded(points: Sequence[Vector], radius_m: float, name: str) -> Centreline:
    """Return the line through points with each corner rounded to a radius.

    Parameters
    ----------
    points : sequence of (x, y, z)
        At least two, no two neighbours equal. [m]
    radius_m : float
        Bend radius to the centreline; 0 where the path is straight. [m]
    name : str
        What to call the run in an error.

    Raises
    ------
    FrameError
        For a corner without a radius, a path that doubles back, or a bend that overlaps the next or passes the end.

    Examples
    --------
    >>> arch = rounded([(0, 0, 0), (0, 0, 1), (2, 0, 1), (2, 0, 0)], 1.0, "hoop")
    >>> round(arch.length_m, 6)  # a semicircle of radius 1 m
    3.141593
    """
    points = [points[0], *(b for a, b, c in zip(points, points[1:], points[2:]) if turns_at(a, b, c)), points[-1]]
    if len(points) == 2:
        return straight_line(points[0], points[1])
    pieces: list[Straight | Arc] = []
    here, spare = points[0], distance(points[0], points[1])
    for before, corner, after in zip(points, points[1:], points[2:]):
        into, out = unit(minus(corner, before)), unit(minus(after, corner))
        turn = angle_deg(into, out)
        ahead = distance(corner, after)
        reach = _reach_m(turn, radius_m, name)
        if reach > spare + TOUCH_M or reach > ahead + TOUCH_M:
            raise FrameError(
                name,
                f"a bend of {turn:.3g} deg at radius {radius_m:.4g} m takes {reach:.4g} m on each side of its corner, "
                f"and only {min(spare, ahead):.4g} m is free",
                "Use a smaller radius or move the corners apart.",
            )
        start = minus(corner, times(into, reach))
        if distance(here, start) > TOUCH_M:
            pieces.append(Straight(here, start))
        axis = unit(cross(into, out))
        arc = Arc(start, add(start, times(cross(axis, into), radius_m)), axis, math.radians(turn))
        pieces.append(arc)
        here, spare = arc.end, ahead - reach
    if distance(here, points[-1]) > TOUCH_M:
        pieces.append(Straight(here, points[-1]))
    return Centreline(tuple(pieces))


def _reach_m(turn_deg: float, radius_m: float, name: str) -> float:
    """Distance from a corner to where its bend starts. [m]"""
    if radius_m <= 0:
        raise FrameError(
            name, f"its path turns by {turn_deg:.3g} deg with no bend radius", "Give a radius or end the run there."
        )
    if turn_deg > 175:
        raise FrameError(name, f"its path turns back on itself ({turn_deg:.3g} deg)", "Use two corners for a U bend.")
    return radius_m * math.tan(math.radians(turn_deg) / 2)
