"""Walls of an enclosure and the ways in through them: where posts stand, and between which of them a gate hangs.

A build's numbers come in; places along a wall go out. Nothing here knows of joints.
"""

from dataclasses import dataclass
from typing import Any

from gardenframe.builds.fields import both
from gardenframe.geometry.vectors import Vector, add, times

SILL_M = 0.089  # a 4x4 laid on the ground
CLOSE_M = 0.20  # posts nearer than this leave no room for their fittings: the gate then takes the whole bay
WALLS = (("front", "front"), ("right", "right"), ("back", "back"), ("left", "left"))


@dataclass(frozen=True, slots=True)
class Wall:
    """One wall as seen from outside: it starts at its left corner. Lengths are between axes. [m]"""

    key: str
    start: Vector
    along: Vector
    out: Vector
    length_m: float
    bays: int

    def at(self, u_m: float, z_m: float) -> Vector:
        """Return a place on the wall. [m]"""
        x, y, _ = add(self.start, times(self.along, u_m))
        return (x, y, z_m)

    @property
    def posts_m(self) -> list[float]:
        """Where its posts stand, corners included. [m]"""
        return [self.length_m * i / self.bays for i in range(self.bays + 1)]


@dataclass(frozen=True, slots=True)
class Gateway:
    """A way in: the wall and the axes of the two posts it lies between. [m]"""

    wall: Wall
    left_m: float
    right_m: float
    post_m: float  # outside diameter of the posts

    @property
    def clear_m(self) -> float:
        """Clear width between its posts. [m]"""
        return self.right_m - self.left_m - self.post_m


def walls_of(build: Any, outer_m: float) -> dict[str, Wall]:
    """Return the four walls by key."""
    x0, x1, y0, y1 = outer_m / 2, build.width_m - outer_m / 2, outer_m / 2, build.depth_m - outer_m / 2
    long, deep = x1 - x0, y1 - y0
    made = (
        Wall("front", (x0, y0, 0.0), (1.0, 0.0, 0.0), (0.0, -1.0, 0.0), long, build.bays),
        Wall("right", (x1, y0, 0.0), (0.0, 1.0, 0.0), (1.0, 0.0, 0.0), deep, build.side_bays),
        Wall("back", (x1, y1, 0.0), (-1.0, 0.0, 0.0), (0.0, 1.0, 0.0), long, build.bays),
        Wall("left", (x0, y1, 0.0), (0.0, -1.0, 0.0), (-1.0, 0.0, 0.0), deep, build.side_bays),
    )
    return {wall.key: wall for wall in made}


def gateway(build: Any, wall: Wall, outer_m: float) -> Gateway:
    """Return the way in through a wall, or raise FieldError where it does not fit.

    A gate that leaves less than 0.2 m beside it takes its whole bay.
    """
    bay = wall.length_m / wall.bays
    asked = build.gate_width_m + outer_m
    if asked > bay + 1e-9:
        most = bay - outer_m
        where = f"the {wall.key} wall" if wall.bays == 1 else f"a bay of the {wall.key} wall"
        raise build.wrong("gate_width_m", f"at most {both(int(most * 1000) / 1000)} between the posts of {where}",
                          "Make that wall longer, give it fewer bays, or hang the gate in another wall.")  # fmt: skip
    left = bay * (min(build.gate_bay, wall.bays) - 1)
    rest = bay - asked
    if rest < CLOSE_M:
        return Gateway(wall, left, left + bay, outer_m)
    place = "left" if build.gate_place == "middle" and rest / 2 < CLOSE_M else build.gate_place
    before = {"left": 0.0, "middle": rest / 2, "right": rest}[place]
    return Gateway(wall, left + before, left + before + asked, outer_m)


def gateways(build: Any, outer_m: float) -> list[Gateway]:
    """Return every way in, in the order of the walls."""
    found = walls_of(build, outer_m)
    return [gateway(build, found[key], outer_m) for key, _ in WALLS if key in build.gate_walls]
