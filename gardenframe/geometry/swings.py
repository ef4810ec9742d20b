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
    angles = np.unique([*np.arange(0.0, abs(end), STEP_DEG), abs(end)])
    mine = [key for key, run in frame.runs.items() if run.part == part.key]
    others = [key for key, run in frame.runs.items() if run.part != part.key]
    lines = swept(part, np.array([_ends(frame, key) for key in mine]), np.copysign(angles, end))
    thick = np.array([outer_m[frame.runs[key].member] / 2 for key in mine])
    found = []
    if others:
        far = _stood(frame, others, open_at or {})
        radius = np.array([outer_m[frame.runs[key].member] / 2 for key in others])
        depth = thick[:, None] + radius - apart_m(lines[:, :, None], far)
        for a, k in zip(*np.nonzero(depth.max(axis=2) > TOUCH_M)):
            worst = int(depth[a, k].argmax())
            found.append(Clash(float(angles[a]), mine[k], others[worst], float(depth[a, k, worst])))
    for body in frame.bodies:
        if body.kind in SOLID:
            deep = _into(lines, thick, body)
            found += [
                Clash(float(angles[a]), mine[k], body.label or body.kind, float(deep[a, k]))
                for a, k in zip(*np.nonzero(deep > TOUCH_M))
            ]
    return found


def _ends(frame: Frame, key: str) -> tuple[Vector, Vector]:
    line = frame.lines[key]
    return line.point(0.0), line.point(line.length_m)


def _stood(frame: Frame, keys: Sequence[str], open_at: Mapping[str, float]) -> Floats:
    """Return the ends of runs (n, 2, 3), those of parts that stand open turned with them. [m]"""
    parts = {part.key: part for part in frame.parts}
    out = np.array([_ends(frame, key) for key in keys])
    for i, key in enumerate(keys):
        part = frame.runs[key].part
        if open_at.get(part):
            out[i] = swept(parts[part], out[i : i + 1], np.array([open_at[part]]))[0, 0]
    return out


def swept(part: Part, lines: Floats, angles_deg: Floats) -> Floats:
    """Return straight pieces (n, 2, 3) of a part turned to each of its angles: (angles, n, 2, 3). [m]"""
    axis, arm = np.array(unit(part.axis)), lines - np.array(part.axis_at)
    across = np.cross(axis, arm)
    along = (arm @ axis)[..., None] * axis
    c, s = (f(np.radians(angles_deg))[:, None, None, None] for f in (np.cos, np.sin))
    return np.asarray(np.array(part.axis_at) + along + (arm - along) * c + across * s)


def _into(lines: Floats, thick_m: Floats, body: Body) -> Floats:
    """Return how deep tubes reach into a box: (angles, n), below 0 where they stay outside. [m]"""
    low, high = np.array(body.low), np.array(body.high)
    steps = np.linspace(0.0, 1.0, BODY_STEPS)[:, None]
    points = lines[:, :, :1] + (lines[:, :, 1:] - lines[:, :, :1]) * steps
    outside = np.maximum(np.maximum(low - points, points - high), 0.0)
    return np.asarray(thick_m - np.sqrt((outside**2).sum(axis=-1)).min(axis=-1))


def apart_m(lines: Floats, others: Floats) -> Floats:
    """Return the shortest distances between straight pieces (..., 2, 3) and others, laid out against each other. [m]

    Where the lines are skew the foot of their common perpendicular counts if it lies on both, else an end of one.
    """
    p, d = lines[..., 0, :], lines[..., 1, :] - lines[..., 0, :]
    q, e = others[..., 0, :], others[..., 1, :] - others[..., 0, :]
    r = p - q
    a, c = (d * d).sum(axis=-1), (e * e).sum(axis=-1)
    b, f, g = ((x * y).sum(axis=-1) for x, y in ((d, e), (e, r), (d, r)))
    square = a * c - b * b
    skew = square > 1e-12
    s = np.where(skew, np.clip((b * f - c * g) / np.where(skew, square, 1.0), 0.0, 1.0), 0.0)
    t = np.clip((b * s + f) / c, 0.0, 1.0)
    s = np.clip((b * t - g) / a, 0.0, 1.0)
    apart = p + s[..., None] * d - q - t[..., None] * e
    return np.asarray(np.sqrt((apart**2).sum(axis=-1)))


def first(found: Sequence[Clash]) -> Clash | None:
    """Return the clash at the least angle, the deepest there; None where nothing is met."""
    return min(found, key=lambda clash: (clash.angle_deg, -clash.depth_m), default=None)
