"""The whole build on its base: what tips, lifts and pushes it, and what weight and a bed of soil do against it."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from gardenframe.geometry.frame import Frame
from gardenframe.geometry.scene import Body
from gardenframe.materials import constants
from gardenframe.materials.members import Member
from gardenframe.materials.soils import Soil
from gardenframe.strength import holding
from gardenframe.strength.element import leaned
from gardenframe.strength.mesh import Floats, Mesh
from gardenframe.strength.response import Response

SIDES = {(1, 0): "right", (-1, 0): "left", (0, 1): "back", (0, -1): "front"}


def wrenches(response: Response) -> Floats:
    """Return force and moment about the origin of what is applied: (combinations, unit cases and one more, 6).

    The last is what is put on joints, all cases of a combination together: what pulls and what holds there are set off
    against each other, so put weights on runs.
    """
    lean, units = response.lean, response.units
    parts = [(units.once("upright", lambda: _wrench(units.mesh, *_carried(units))), response.factors)]
    for axis in (0, 1):
        if lean[:, axis].any():
            turned = leaned(_carried(units), units.mesh, axis)
            parts.append((_wrench(units.mesh, *turned), response.factors * lean[:, axis, None]))
    given = [factors[:, :, None] * part for part, factors in parts]
    return np.concatenate([*given, _at_joints(response)[:, None]], axis=1)


def _carried(response: Response) -> Floats:
    """Return levels at the far ends of elements of what unit cases put along them: (2, unit cases, elements, 3)."""
    return response.once(
        "carried", lambda: np.asarray(response.steps.levels(response.mesh.length_m[:, None], 2)[..., 0, :])
    )


def _wrench(mesh: Mesh, force: Floats, carried: Floats) -> Floats:
    """Return force and moment about the origin of loads by their levels at far ends: (cases, 6)."""
    lever = mesh.length_m[:, None] * force - carried  # first moment about the element's start, along its x
    turning = np.stack([np.zeros(lever.shape[:2]), -lever[..., 2], lever[..., 1]], axis=-1)
    force, turning = (part.reshape(len(part), -1) for part in (force, turning))
    axes = mesh.axes.reshape(-1, 3)
    levers = mesh.once("levers", lambda: crossed(element_starts(mesh)[:, None], mesh.axes).reshape(-1, 3))
    return np.concatenate([force @ axes, turning @ axes + force @ levers], axis=1)


def crossed(a: Floats, b: Floats) -> Floats:
    """Return a x b for vectors in the last axis; numpy's own takes several times as long for few."""
    (ax, ay, az), (bx, by, bz) = np.moveaxis(a, -1, 0), np.moveaxis(b, -1, 0)
    return np.stack([ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx], axis=-1)


def element_starts(mesh: Mesh) -> Floats:
    """Return where each element starts: (elements, 3), one after the other along its run. [m]"""
    along = mesh.axes[:, 0] * mesh.length_m[:, None]
    before = np.cumsum(along, axis=0) - along
    first = mesh.first[:-1]
    heads = np.array([mesh.frame.lines[key].point(0.0) for key in mesh.runs])
    return np.asarray(before + (heads - before[first])[mesh.run])


def _at_joints(response: Response) -> Floats:
    mesh, out = response.mesh, np.zeros((len(response.cases), 6))
    if not response.at_joints.any():
        return out
    seen: set[int] = set()
    for number, key in enumerate(mesh.joint_keys):
        unknowns = mesh.joint_unknowns[number]
        if unknowns[0] < 0 or int(unknowns[0]) in seen:
            continue
        seen.add(int(unknowns[0]))
        body = np.array(mesh.frame.joints[key].at) - mesh.joint_arm[number]
        given = response.at_joints[:, unknowns]
        out[:, :3] += given[:, :3]
        out[:, 3:] += given[:, 3:] + crossed(body, given[:, :3])
    return out


@dataclass(frozen=True)
class Edges:
    """Lines on the ground over which a base can tip: outward normals (edges, 2) and how far out each lies. [m]"""

    normal: Floats
    reach_m: Floats

    @classmethod
    def of(cls, points: Floats) -> "Edges":
        """Return the edges round points (n, 2): their hull's, and the four sides of their box."""
        hull = _hull([(float(x), float(y)) for x, y in points])
        ring = np.array(hull)
        along = np.roll(ring, -1, axis=0) - ring if len(hull) > 1 else np.empty((0, 2))
        along = along / np.linalg.norm(along, axis=1, keepdims=True)
        turned = np.stack([along[:, 1], -along[:, 0]], axis=1)
        normal = np.concatenate([turned, np.array(list(SIDES), dtype=float)])
        kept = np.unique(np.round(normal, 9) + 0.0, axis=0)
        return cls(kept, (kept @ ring.T).max(axis=1))

    def tipping(self, wrench: Floats) -> Floats:
        """Return the moment with which wrenches (..., 6) tip over each edge, positive outwards: (..., edges). [N m]"""
        nx, ny = self.normal.T
        return np.asarray(nx * wrench[..., 4:5] - ny * wrench[..., 3:4] + wrench[..., 2:3] * self.reach_m)

    def inside_m(self, points: Floats) -> Floats:
        """Return how far inside each edge points (n, 2) lie: (n, edges). [m]"""
        return np.asarray(self.reach_m - points @ self.normal.T)

    def name(self, edge: int) -> str:
        """An edge in words."""
        x, y = self.normal[edge]
        way = max(SIDES, key=lambda side: side[0] * x + side[1] * y)
        slant = abs(way[0] * x + way[1] * y) < 0.999
        return f"its {SIDES[way]} edge" + (f" (slantwise, {np.degrees(np.arctan2(y, x)):.0f}° from x)" if slant else "")


def _hull(points: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """Return the corners of the hull, turning left; two where the points lie in a line (monotone chain)."""
    ordered = sorted({(round(x, 6), round(y, 6)) for x, y in points})
    if len(ordered) < 3:
        return ordered

    def half(some: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
        out: list[tuple[float, float]] = []
        for p in some:
            while len(out) > 1 and _left(out[-2], out[-1], p) <= 1e-9:
                out.pop()
            out.append(p)
        return out[:-1]

    return half(ordered) + half(ordered[::-1])


def _left(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


@dataclass(frozen=True)
class Bed:
    """A filled bed that a build is part of: weights and friction that may be counted on, where they act.

    `soil_n` weighs down on the ground always; `lift_n` and `at` (parts, 2) is what has to be lifted with the bed.
    """

    corners: Floats
    soil_n: float
    lift_n: Floats
    at: Floats


def bed_of(frame: Frame, fill: Soil, timber: Member, bottomed: bool) -> Bed | None:
    """Return the bed of a frame, several taken together; none where nothing is filled.

    An open bed lifts its boards against the friction of its soil; one with a bottom lifts the soil.
    """
    bodies = [b for kind in ("bed", "soil") for b in frame.bodies if b.kind == kind]
    beds = [_one_bed(body, fill, timber, bottomed) for body in bodies if body.kind == bodies[0].kind]
    if not beds:
        return None
    corners, lifts, places = (np.concatenate([getattr(b, name) for b in beds]) for name in ("corners", "lift_n", "at"))
    return Bed(corners, sum(bed.soil_n for bed in beds), lifts, places)


def _one_bed(body: Body, fill: Soil, timber: Member, bottomed: bool) -> Bed:
    (x0, y0, z0), (x1, y1, z1) = body.low, body.high
    share, g = constants.value("little_weight_ratio"), constants.value("gravity_m_per_s2")
    high, wide, deep = z1 - z0, x1 - x0, y1 - y0
    weight = fill.density_low_kg_per_m3 * g
    soil = wide * deep * high * weight * share
    middle = ((x0 + x1) / 2, (y0 + y1) / 2)
    walls = [((x0 + x1) / 2, y0, wide), ((x0 + x1) / 2, y1, wide), (x0, middle[1], deep), (x1, middle[1], deep)]
    held = _board_n_per_m(body, timber, high) * share
    if not bottomed:
        held += holding.wall_hold_n_per_m(weight, high, fill.friction_angle_deg) * share
    parts = [(x, y, held * long) for x, y, long in walls]
    if bottomed:
        parts.append((*middle, soil))
    table = np.array(parts)
    corners = np.array([(x0, y0), (x1, y0), (x1, y1), (x0, y1)])
    return Bed(corners, soil, table[:, 2], table[:, :2])


def _board_n_per_m(body: Body, timber: Member, high: float) -> float:
    """Weight of a metre of a bed's boards; a bed framed in tube has its own weight in the frame. [N/m]"""
    if body.kind != "bed":
        return 0.0
    thick = constants.value("board_mm") / 1000
    return timber.density_kg_per_m3 * thick * high * constants.value("gravity_m_per_s2")
