"""The tubes of a plan as a solid body for a phone or a browser: GLB (glTF 2.0, binary), in metres, y up.

A plan comes in, the bytes of a file go out. Every piece is a body of its own, as long as it is cut, named by its mark
and its run; colour tells its member. Coverings, fittings and what is bought whole are left out.
"""

import math
from collections.abc import Iterator
from itertools import pairwise

import numpy as np
import trimesh
from numpy.typing import NDArray

from gardenframe.geometry.arcs import part_of
from gardenframe.geometry.vectors import Vector, add, angle_deg, cross, dot, minus, size, times, turned, unit
from gardenframe.materials.members import Member
from gardenframe.road import Plan

SIDES = 16  # of a round tube
LARGEST_DEG = 6.0  # of a chord in a bend
COLOURS = {"emt": (168, 176, 184), "timber": (190, 148, 96), "pvc": (232, 232, 226)}
OTHER = (120, 128, 134)
STRAIGHT, UPRIGHT = 1e-9, 0.99  # sine of a turn that is none; rise of a way that is upright
Floats = NDArray[np.float64]


def tubes(plan: Plan) -> bytes:
    """Return a GLB file of every piece of a plan's frame in its place."""
    scene = trimesh.Scene()
    for name, member, points in pieces_of(plan):
        body = trimesh.Trimesh(*swept(points, outline(member)), process=False)
        red, green, blue = COLOURS.get(member.family, OTHER)
        material = trimesh.visual.material.PBRMaterial(  # type: ignore[no-untyped-call]
            name=member.label, baseColorFactor=[red, green, blue, 255], metallicFactor=0.3, roughnessFactor=0.6
        )
        body.visual = trimesh.visual.TextureVisuals(material=material)  # type: ignore[no-untyped-call]
        scene.add_geometry(body, node_name=name, geom_name=name)
    data: bytes = scene.export(file_type="glb")  # type: ignore[no-untyped-call]
    return data


def pieces_of(plan: Plan) -> Iterator[tuple[str, Member, list[Vector]]]:
    """Yield name, member and axis of every piece of the frame, as long as it is cut and where it is, y up. [m]"""
    for piece in plan.cut:
        for number, place in enumerate(() if piece.loose else piece.places, 1):
            line = part_of(plan.frame.lines[place.run], place.start_m, place.end_m)
            points = [(x, z, -y) for x, y, z in line.points(LARGEST_DEG)]
            yield f"{piece.mark} {place.run} ({number})", plan.shop.member(piece.member), points


def outline(member: Member) -> list[tuple[float, float]]:
    """Return the outline of a member: across the way that it lies level, and up. [m]"""
    if member.shape == "rectangle":
        half, tall = member.outer_mm / 2000, (member.depth_mm or member.outer_mm) / 2000
        return [(half, tall), (-half, tall), (-half, -tall), (half, -tall)]
    radius = member.outer_mm / 2000
    turns = [2 * math.pi * n / SIDES for n in range(SIDES)]
    return [(radius * math.cos(turn), radius * math.sin(turn)) for turn in turns]


def swept(points: list[Vector], profile: list[tuple[float, float]]) -> tuple[Floats, NDArray[np.int64]]:
    """Return corners and triangles of a profile taken along a line, its ends cut square and closed.

    At a bend's chords the ring lies in the plane that halves the angle, so that the sides run on without a step.
    """
    ways = [unit(minus(b, a)) for a, b in pairwise(points)]
    aside, upward = _square_to(ways[0])
    corners: list[Vector] = []
    for n, point in enumerate(points):
        ahead = ways[max(n - 1, 0)]
        ring = [add(times(aside, a), times(upward, b)) for a, b in profile]
        if 0 < n < len(points) - 1:
            middle = unit(add(ahead, ways[n]))
            ring = [minus(spoke, times(ahead, dot(spoke, middle) / dot(ahead, middle))) for spoke in ring]
            turn = cross(ahead, ways[n])
            if size(turn) > STRAIGHT:
                by = math.radians(angle_deg(ahead, ways[n]))
                aside, upward = turned(aside, unit(turn), by), turned(upward, unit(turn), by)
        corners += [add(point, spoke) for spoke in ring]
    return np.array(corners, dtype=float), _faces(len(points), len(profile))


def _square_to(ahead: Vector) -> tuple[Vector, Vector]:
    """Return two ways square to one: level, and as upright as can be."""
    up = (0.0, 1.0, 0.0) if abs(ahead[1]) < UPRIGHT else (0.0, 0.0, 1.0)
    aside = unit(cross(ahead, up))
    return aside, cross(aside, ahead)


def _faces(rings: int, sides: int) -> NDArray[np.int64]:
    """Return triangles, their fronts outside."""
    faces = []
    for ring in range(rings - 1):
        for side in range(sides):
            a, b = ring * sides + side, ring * sides + (side + 1) % sides
            faces += [(a, a + sides, b), (b, a + sides, b + sides)]
    last = (rings - 1) * sides
    faces += [(0, side, side + 1) for side in range(1, sides - 1)]
    faces += [(last, last + side + 1, last + side) for side in range(1, sides - 1)]
    return np.array(faces, dtype=np.int64)
