"""A swept strip as stretches, each of which bears on its two runs; and the half of a flat panel beyond a line."""

import math
from dataclasses import replace
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

from gardenframe.geometry.arcs import Arc, Centreline
from gardenframe.geometry.coverings import area_vector_m2, outline
from gardenframe.geometry.frame import Frame, Panel
from gardenframe.geometry.vectors import Vector, add, cross, distance, dot, minus, times

STRETCH_RAD = math.radians(10.0)
LEG_SINE = 0.96  # a straight foot steeper than about 74 degrees
SAME_M = 1e-6


class Stretch(NamedTuple):
    """A stretch of a swept strip: its area vector, its middle, and the share of the runs' length at which it lies."""

    from_m: float
    to_m: float
    area: Vector  # [m²], square to the surface
    middle: Vector
    share: float


def stretches_of(frame: Frame, panel: Panel) -> tuple[Stretch, ...]:
    """Return the stretches of a swept strip: arcs at most 10 degrees long, cut also at the quarters of the run.

    The area vector of a stretch is exactly its chord times the sweep, so an even pressure on it is passed on whole.
    """
    if panel.swept is None:
        raise ValueError(f"{panel.key} is flat")
    first, second = frame.sweep(panel)
    from_m = panel.between_m[0] if panel.between_m else 0.0
    return _stretches(first, minus(second.point(0.0), first.point(0.0)), from_m)


@lru_cache(maxsize=1024)
def _stretches(first: Centreline, reach: Vector, from_m: float) -> tuple[Stretch, ...]:
    cuts = [*first.starts_m, *(first.length_m * i / 4 for i in (1, 2, 3)), *_quarters_of_roof(first)]
    for piece, start in zip(first.pieces, first.starts_m):
        if isinstance(piece, Arc):
            steps = max(1, round(piece.angle_rad / STRETCH_RAD))
            cuts += [start + piece.length_m * i / steps for i in range(1, steps)]
    cuts = sorted(cuts)
    cuts = [c for i, c in enumerate(cuts) if not i or c - cuts[i - 1] > SAME_M]
    found = []
    for a, b in pairwise(cuts):
        halfway, chord = (a + b) / 2, minus(first.point(b), first.point(a))
        middle = add(first.point(halfway), times(reach, 0.5))
        found.append(Stretch(from_m + a, from_m + b, cross(chord, reach), middle, halfway / first.length_m))
    return tuple(found)


def legs_m(line: Centreline) -> tuple[float, float]:
    """Return the lengths of the steep straight feet of an arch, at its start and at its end. [m]"""
    ends = (line.pieces[0], line.pieces[-1])
    low, high = (
        piece.length_m if not isinstance(piece, Arc) and abs(piece.tangent(0.0)[2]) > LEG_SINE else 0.0
        for piece in ends
    )
    return low, high


def _quarters_of_roof(line: Centreline) -> list[float]:
    """Return the stations at the quarters of an arch between its feet. [m]"""
    low, high = legs_m(line)
    return [low + (line.length_m - low - high) * i / 4 for i in (1, 3)]


def half(panel: Panel, at: Vector, way: Vector) -> Panel | None:
    """Return the part of a flat panel that lies ahead of a plane through a point, square to a way; None where none is.

    Arcs become chords of 3 degrees. It begins with an edge that goes the panel's own first way, where one is left.
    """
    if panel.outline is None:
        raise ValueError(f"{panel.key} is swept")
    cut = [_clipped(line, at, way) for line in (panel.outline, *panel.holes)]
    if cut[0] is None:
        return None
    return replace(panel, outline=cut[0], holes=tuple(line for line in cut[1:] if line is not None))


def _clipped(line: Centreline, at: Vector, way: Vector) -> Centreline | None:
    points = line.points(3.0)
    kept: list[Vector] = []
    for a, b in pairwise(points):
        here, there = dot(minus(a, at), way), dot(minus(b, at), way)
        if here >= 0:
            kept.append(a)
        if here * there < 0:
            kept.append(add(a, times(minus(b, a), here / (here - there))))
    kept = [p for i, p in enumerate(kept) if distance(p, kept[i - 1]) > SAME_M]
    if len(kept) < 3:
        return None
    closed = outline(_begun_like(kept, line.pieces[0].tangent(0.0)))
    area = area_vector_m2(closed)
    return closed if dot(area, area) ** 0.5 > SAME_M else None


def _begun_like(points: list[Vector], ahead: Vector) -> list[Vector]:
    """Return the corners of an outline from the edge on that goes a way, as they are where none does."""
    for i, (a, b) in enumerate(zip(points, [*points[1:], points[0]])):
        if dot(minus(b, a), ahead) > distance(a, b) * (1 - SAME_M):
            return points[i:] + points[:i]
    return points
