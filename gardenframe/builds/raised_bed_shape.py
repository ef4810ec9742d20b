"""Where the parts of a raised bed lie: from its fields and the diameter of its tube alone.

x goes along the front, y from the front to the back, z up from the ground; length and width are over all, walls stand
inside the tubes. On the ground the lowest rails lie on it. On legs they carry bearers, and these the floor.
"""

import math
from itertools import pairwise
from typing import Any

from gardenframe.materials import constants
from gardenframe.materials.coverings import load_coverings, load_rolls

FLOOR_M = 0.019
STRETCHER_M = 0.14  # axis of the rails between legs above the ground
SHARE_DOWN = 0.4  # a tie in the soil lies this far down from the top rail to the lowest, where no rail is near
LEAST_BRACE_M = 0.12
BRACE_M = 0.25  # what a knee brace takes of leg and rail at most
CLEAR_M = 0.06  # from a brace to a bearer or a stretcher
COVERS = {
    "steel-upright": "corrugated-steel", "steel-along": "corrugated-steel", "boards-38": "boards-38",
    "boards-19": "boards-19", "fabric": "bed-fabric",
}  # fmt: skip
SIDES = ("front", "back", "left", "right")


class Shape:
    """Where the parts of a bed lie: from its fields and the diameter of its tube alone."""

    def __init__(self, build: Any, outer_m: float) -> None:
        self.build, self.d = build, outer_m
        b, d = build, outer_m
        self.on_legs = b.form == "legs"
        self.low_z: float = (b.legs_m if self.on_legs else 0.0) + d / 2
        self.bottom_z: float = self.low_z + d / 2 + FLOOR_M if self.on_legs else 0.0
        self.rim_z: float = self.bottom_z + b.depth_m
        self.top_z: float = self.rim_z - d / 2
        self.soil_z: float = self.rim_z - b.freeboard_m
        self.x_m: list[float] = [d / 2 + (b.length_m - d) * i / b.bays for i in range(b.bays + 1)]
        self.y_m: list[float] = [d / 2 + (b.width_m - d) * j / (b.end_posts + 1) for j in range(b.end_posts + 2)]
        step: float = (self.top_z - self.low_z) / (b.mid_rails + 1)
        self.levels = {"low": self.low_z} | {f"rail {k}": self.low_z + step * k for k in range(1, b.mid_rails + 1)}
        self.levels["top"] = self.top_z

    @property
    def wall_m(self) -> float:
        """How much of the room between the tubes a wall takes. [m]"""
        cover = load_coverings()[COVERS[self.build.wall]]
        deep = constants.value("sheet_depth_mm") / 1000 if cover.key == "corrugated-steel" else 0.0
        return deep + (cover.thickness_mm or 0.0) / 1000

    @property
    def clear_m(self) -> tuple[float, float]:
        """Length and width between the walls. [m]"""
        taken = 2 * (self.d + self.wall_m)
        return self.build.length_m - taken, self.build.width_m - taken

    @property
    def soil_m(self) -> float:
        """Depth of soil, gravel taken off. [m]"""
        return self.soil_z - self.bottom_z - float(self.build.gravel_m)

    @property
    def bay_m(self) -> float:
        """From post to post along the sides. [m]"""
        return self.x_m[1] - self.x_m[0]

    @property
    def end_bay_m(self) -> float:
        """From post to post along an end. [m]"""
        return self.y_m[1] - self.y_m[0]

    @property
    def tie_level(self) -> str:
        """Name of the level at which the upper ties lie."""
        if self.build.tie_at == "rim":
            return "top"
        return f"rail {self.build.mid_rails}" if self.build.mid_rails else "tie"

    @property
    def tie_z(self) -> float:
        """Height of the upper ties. [m]"""
        down = self.top_z - SHARE_DOWN * (self.top_z - self.low_z)
        return self.levels.get(self.tie_level, down)

    @property
    def tied(self) -> list[int]:
        """Which posts between the ends have a tie to the post opposite."""
        every = {"every": 1, "second": 2}.get(self.build.ties)
        return list(range(every, self.build.bays, every)) if every else []

    @property
    def bearers_x(self) -> list[float]:
        """Where bearers lie between the ends of a bed on legs, those at posts included. [m]"""
        per = self.build.bearers + 1
        many = self.build.bays * per
        return [self.x_m[0] + (self.x_m[-1] - self.x_m[0]) * k / many for k in range(1, many)]

    @property
    def bearer_gap_m(self) -> float:
        """From bearer to bearer. [m]"""
        return self.bay_m / (int(self.build.bearers) + 1)

    @property
    def brace_m(self) -> float:
        """What a knee brace takes from leg and rail, its rail end between two bearers; 0 where there is no room. [m]"""
        b = self.build
        if not (self.on_legs and b.braces):
            return 0.0
        low = STRETCHER_M if b.stretchers != "none" else 0.0
        most = min(BRACE_M, self.low_z - low - CLEAR_M, 0.45 * self.bay_m)
        gap = self.bearer_gap_m
        spots = [gap * (k + 0.5) for k in range(b.bearers + 1) if gap * (k + 0.5) <= most]
        best = spots[-1] if spots else min(most, gap - CLEAR_M)
        return best if best >= LEAST_BRACE_M and gap >= 2 * CLEAR_M else 0.0

    def stretches(self, longest_m: float) -> list[tuple[int, int]]:
        """Return first and last post of the stretches of a side that one board or sheet spans."""
        bays = max(1, int(longest_m / self.bay_m + 1e-9))
        cuts = [*range(0, self.build.bays, bays), self.build.bays]
        return list(pairwise(cuts))


def longest_m(covering: str) -> float:
    """Return the longest sheet, board or roll that a covering is sold in. [m]"""
    return max(roll.length_mm for roll in load_rolls().values() if roll.covering == covering) / 1000


def least_gap_m(outer_m: float) -> float:
    """Return how far apart the axes of two rails must lie so that two fittings and a piece of post fit between. [m]"""
    return math.ceil((0.06 + 2 * outer_m) * 1000) / 1000
