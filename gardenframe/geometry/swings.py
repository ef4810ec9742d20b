"""What a part that turns touches on its way: tubes as round bars, bodies as boxes, at every step of its swing.

A frame and its parts come in; the angles at which something is nearer than it may be go out.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from gardenframe.geometry.frame import Frame, Part
from gardenframe.geometry.scene import Body
from gardenframe.geometry.vectors import Vector, add, minus, turned, unit

Floats = NDArray[np.float64]
STEP_DEG = 5.0
TOUCH_M = 0.001  # tubes nearer than touching by more than this have run into each other
SOLID = ("bed", "sill", "wall")  # kinds of bodies that a swing has to pass
BODY_STEPS = 24  # points along a tube that are held against a box


@dataclass(frozen=True, slots=True)
class Clash:
    """One place where a swing is stopped: the angle [deg], the run of the part, what it meets, how deep. [m]"""

    angle_deg: float
    run: str
    other: str
    depth_m: float


def at_angle(part: Part, point: Vector, angle_deg: float) -> Vector:
    """Return a point of a part once it has turned from closed. [m]"""
    arm = minus(point, part.axis_at)
    return add(part.axis_at, turned(arm, unit(part.axis), math.radians(angle_deg)))


def clashes(
    frame: Frame,
    outer_m: Mapping[str, float],
    part: Part,
    *,
    to_deg: float | None = None,
    open_at: Mapping[str, float] | None = None,
) -> list[Clash]:
    """Return where a part runs into the rest of the frame, or into a solid body, as it opens; the first angle first.

    Parameters
    ----------
    outer_m : mapping of member key to outside diameter
        Of the tubes. [m]
    to_deg : float, optional
        As far as it is turned; to its own open angle if not given.
    open_at : mapping of part key to angle
        How far other parts stand open meanwhile; the rest are closed.
    """
    end = part.open_deg if to_deg is None else to_deg
    angles = np.arange(0.0, abs(end) + STEP_DEG / 2, STEP_DEG).tolist() or [0.0]
    if angles[-1] < abs(end):
        angles.append(abs(end))
    sign = math.copysign(1.0, end)
    mine = [key for key, run in frame.runs.items() if run.part == part.key]
    others = [key for key, run in frame.runs.items() if run.part != part.key]
    turn = {p.key: (p, (open_at or {}).get(p.key, 0.0)) for p in frame.parts}
    far = np.array([_ends(frame, key, *turn[frame.runs[key].part]) for key in others]).reshape(-1, 2, 3)
    radius = [outer_m[frame.runs[key].member] / 2 for key in mine]
    other_radius = np.array([outer_m[frame.runs[key].member] / 2 for key in others])
    boxes = [body for body in frame.bodies if body.kind in SOLID]
    found = []
    for angle in angles:
        for key, thick in zip(mine, radius):
            line = np.array(_ends(frame, key, part, sign * angle))
            if len(far):
                depth = thick + other_radius - apart_m(line, far)
                worst = int(depth.argmax())
                if depth[worst] > TOUCH_M:
                    found.append(Clash(angle, key, others[worst], float(depth[worst])))
            found += [Clash(angle, key, _name(body), deep) for body in boxes if (deep := _into(line, thick, body)) > 0]
    return found


def _ends(frame: Frame, key: str, part: Part, angle_deg: float) -> tuple[Vector, Vector]:
    line = frame.lines[key]
    ends = line.point(0.0), line.point(line.length_m)
    if not angle_deg:
        return ends
    return at_angle(part, ends[0], angle_deg), at_angle(part, ends[1], angle_deg)


def _name(body: Body) -> str:
    return body.label or body.kind


def _into(line: Floats, thick_m: float, body: Body) -> float:
    """Return how deep a tube reaches into a box, 0 where it stays outside. [m]"""
    low, high = np.array(body.low), np.array(body.high)
    steps = np.linspace(0.0, 1.0, BODY_STEPS)[:, None]
    points = line[0] + (line[1] - line[0]) * steps
    outside = np.maximum(np.maximum(low - points, points - high), 0.0)
    deep = thick_m - np.sqrt((outside**2).sum(axis=1)).min()
    return float(deep) if deep > TOUCH_M else 0.0


def apart_m(line: Floats, others: Floats) -> Floats:
    """Return the shortest distances between a straight piece (2, 3) and others (n, 2, 3). [m]

    Where the lines are skew the foot of their common perpendicular counts if it lies on both, else an end of one.
    """
    p, d = line[0], line[1] - line[0]
    q, e = others[:, 0], others[:, 1] - others[:, 0]
    r = p - q
    a, c = float(d @ d), (e * e).sum(axis=1)
    b, f, g = e @ d, (e * r).sum(axis=1), r @ d
    square = a * c - b * b
    with np.errstate(divide="ignore", invalid="ignore"):
        s = np.where(square > 1e-12, np.clip((b * f - c * g) / square, 0.0, 1.0), 0.0)
        t = (b * s + f) / c
    t = np.clip(np.where(np.isfinite(t), t, 0.0), 0.0, 1.0)
    s = np.clip((b * t - g) / a, 0.0, 1.0) if a > 0 else np.zeros_like(t)
    apart = p + s[:, None] * d - q - t[:, None] * e
    return np.asarray(np.sqrt((apart**2).sum(axis=1)))


def first(found: Sequence[Clash]) -> Clash | None:
    """Return the clash at the least angle, the deepest there; None where nothing is met."""
    return min(found, key=lambda clash: (clash.angle_deg, -clash.depth_m), default=None)
