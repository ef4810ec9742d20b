"""The joints, lines and supports of one trellis: flat, as an A, or sloped; of the bed that it may be framed with."""

import dataclasses
import math
from collections.abc import Mapping
from typing import Any

from gardenframe.builds.feet import foot
from gardenframe.geometry.frame import Joint, Support
from gardenframe.geometry.lines import Line
from gardenframe.geometry.vectors import Vector, add, times

BOTTOM_RAIL_M = 0.10  # its axis above the soil
CLEAR_M = 0.08  # between the joints of a brace and of a prop on one leg
BRACE_M = 0.40  # a corner brace takes at most this from each side of its corner
BOARD_M = 0.038
BED_FOOT_M, BED_SPACE_M = 0.06, 0.03  # under the lowest rail of a tube bed; between the joints of its two rails
RAIL = {"bott": "bottom rail", "top": "top rail", "rail": "{}"}  # level -> name of its rail


def apex_drop_m(outer_m: float) -> float:
    """Room for the fittings between the end of a leg and the first joint below it, along the leg. [m]"""
    return 0.06 + 2 * outer_m


class Laid:
    """The joints, lines and supports of one trellis while they are laid out."""

    def __init__(self, build: Any, outer_m: float) -> None:
        self.build, self.outer_m = build, outer_m
        self.joints: dict[str, Joint] = {}
        self.lines: list[Line] = []
        self.supports: list[Support] = []
        self.faces: list[tuple[str, tuple[str, str, str, str]]] = []
        half = outer_m / 2
        step = (build.width_m - outer_m) / build.bays
        self.x_m: list[float] = [half + step * i for i in range(build.bays + 1)]
        self.soil_m: float = build.soil_m
        self.top_m: float = self.soil_m + build.height_m - half
        self.y_back = build.bed_width_m - BOARD_M - half if build.base == "timber bed" else build.bed_width_m - half
        if build.base in ("stakes", "sleeves"):
            self.y_back = 0.0

    def put(self, key: str, at: Vector) -> str:
        """Add a joint and return its key."""
        self.joints[key] = Joint(key, *at)
        return key

    def line(self, key: str, role: str, joints: list[str], first: int, side: Vector = (0.0, 0.0, 0.0)) -> None:
        """Add a line through joints."""
        self.lines.append(
            Line(key=key, member=self.build.tube, joints=tuple(joints), role=role, first=first, side=side)
        )

    # --- forms

    def flat(self) -> None:
        """Upright posts, rails between them."""
        heights = self.rail_heights(self.top_m)
        braced = self.brace_m(heights) if self.build.braces else 0.0
        stayed = self.stay_posts()
        for i, x in enumerate(self.x_m):
            name = f"post {i + 1}"
            below = self.foot(name, x, self.y_back)
            rails = [self.put(f"{name} {rail}", (x, self.y_back, z)) for rail, z in heights.items()]
            if braced and i in (0, self.build.bays):
                rails.insert(-1, self.put(f"{name} brace", (x, self.y_back, self.top_m - braced)))
            if i in stayed:
                z = self.stay_height(heights)
                stay = self.put(f"{name} stay", (x, self.y_back, z))
                place = next(k for k, key in enumerate(rails) if self.joints[key].z_m > z)
                rails.insert(place, stay)
                self.stay(name, stay)
            self.line(name, "post", below + rails, first=2)
        self.rails("", heights, braced)
        if self.build.base == "tube bed":
            self.tube_bed()
        self.faces.append(("net", self.corners("", heights)))

    def a_frame(self) -> None:
        """Two leaning panels that meet at the top, tied near their feet."""
        build = self.build
        rise = self.top_m - self.foot_z
        for panel, y, way in (("front", 0.0, 1.0), ("back", build.spread_m, -1.0)):
            slant = (0.0, way * build.spread_m / 2 / rise, 1.0)
            top = self.top_m - apex_drop_m(self.outer_m) * rise / math.hypot(rise, build.spread_m / 2)
            self.leaning(panel, y, slant, self.rail_heights(top), ("apex",), tie=True)
        for i, x in enumerate(self.x_m):
            self.put(f"apex {i + 1}", (x, build.spread_m / 2, self.top_m))
        for i in range(build.bays + 1):
            ends = [f"{panel} {i + 1} tie" for panel in ("front", "back")]
            self.line(f"tie {i + 1}", "tie", ends, first=0, side=(-1.0, 0.0, 0.0))

    def sloped(self) -> None:
        """One leaning panel on upright props."""
        theta = math.radians(self.build.slope_deg)
        slant = (0.0, 1 / math.tan(theta), 1.0)
        heights = self.rail_heights(self.top_m)
        braced = self.brace_m(heights) + CLEAR_M if self.build.braces else 0.0
        prop_z = self.top_m - max(apex_drop_m(self.outer_m), braced)
        self.leaning("leg", 0.0, slant, heights, ("prop",), prop_z=prop_z)
        for i, x in enumerate(self.x_m):
            head = self.joints[f"leg {i + 1} prop"]
            foot_key = self.put(f"prop {i + 1} foot", (x, head.y_m, self.foot_z))
            self.supports.append(Support(joint=foot_key, base=self.foot_base, held="xyz"))
            self.line(f"prop {i + 1}", "stay", [foot_key, head.key], first=0, side=(1.0, 0.0, 0.0))

    # --- parts of forms

    @property
    def foot_z(self) -> float:
        """Level of the feet of a leaning panel: half way down the boards, or on the ground. [m]"""
        return self.soil_m / 2 if self.build.base == "timber bed" else 0.0

    @property
    def foot_base(self) -> str:
        """What holds the feet of a leaning panel."""
        return {"timber bed": "strap", "stakes": "stake", "sleeves": "sleeve"}[self.build.base]

    def leaning(
        self,
        panel: str,
        y: float,
        slant: Vector,
        heights: Mapping[str, float],
        ends: tuple[str, ...],
        tie: bool = False,
        prop_z: float = 0.0,
    ) -> None:
        """Add the legs and rails of a panel whose foot stands at y and which leans by `slant` per metre of height."""
        start = (0.0, y, self.foot_z)
        braced = self.brace_m(heights) if self.build.braces else 0.0

        def at(x: float, z: float) -> Vector:
            return add((x, 0.0, 0.0), add(start, times(slant, z - self.foot_z)))

        for i, x in enumerate(self.x_m):
            name = f"{panel} {i + 1}"
            keys = {f"{name} foot": self.foot_z}
            keys |= {f"{name} {rail}": z for rail, z in heights.items()}
            if braced and i in (0, self.build.bays):
                keys[f"{name} brace"] = heights["top"] - braced
            if tie:
                keys[f"{name} tie"] = self.between(heights)
            if prop_z:
                keys[f"{name} prop"] = prop_z
            for key, z in keys.items():
                self.put(key, at(x, z))
            self.supports.append(Support(joint=f"{name} foot", base=self.foot_base, held="xyz"))
            ordered = sorted(keys, key=keys.__getitem__)
            apex = [f"apex {i + 1}"] if "apex" in ends else []
            self.line(name, "post", ordered + apex, first=2, side=self.aside(panel))
        self.rails(panel, heights, braced)
        self.faces.append((panel, self.corners(panel, heights)))

    def aside(self, panel: str) -> Vector:
        """How far a bolted panel stands beside the other, in diameters: the legs of an A pass each other at the top."""
        return (1.0, 0.0, 0.0) if panel == "back" else (0.0, 0.0, 0.0)

    def rails(self, panel: str, heights: Mapping[str, float], braced: float) -> None:
        """Add the rails of a panel, and its corner braces under the top one."""
        posts = [f"{panel or 'post'} {i + 1}" for i in range(self.build.bays + 1)]
        label = f"{panel} " if panel else ""
        towards = (0.0, 1.0, 0.0) if panel == "back" else (0.0, -1.0, 0.0)
        aside = self.aside(panel)
        for rail in heights:
            joints = [f"{post} {rail}" for post in posts]
            if rail == "top" and braced:
                left, right = self.joints[joints[0]], self.joints[joints[-1]]
                joints.insert(1, self.put(f"{label}left brace head", (left.x_m + braced, left.y_m, left.z_m)))
                joints.insert(-1, self.put(f"{label}right brace head", (right.x_m - braced, right.y_m, right.z_m)))
                for side, post in (("left", posts[0]), ("right", posts[-1])):
                    ends = [f"{post} brace", f"{label}{side} brace head"]
                    self.line(f"{label}{side} brace", "brace", ends, first=0, side=add(times(towards, -1), aside))
            self.line(label + RAIL[rail[:4]].format(rail), "rail", joints, first=1, side=add(towards, aside))

    def rail_heights(self, top_m: float) -> dict[str, float]:
        """Height of every rail's axis, bottom first. [m]"""
        low = self.soil_m + BOTTOM_RAIL_M
        step = (top_m - low) / (self.build.mid_rails + 1)
        middle = {f"rail {i + 1}": low + step * (i + 1) for i in range(self.build.mid_rails)}
        return {"bottom": low, **middle, "top": top_m}

    def brace_m(self, heights: Mapping[str, float]) -> float:
        """What a corner brace takes from each side of its corner. [m]"""
        levels = list(heights.values())
        bay = self.x_m[1] - self.x_m[0]
        return min(BRACE_M, 0.45 * bay, 0.4 * (levels[-1] - levels[-2]))

    def between(self, heights: Mapping[str, float]) -> float:
        """A level in the lower part of the lowest space between rails, clear of a brace above. [m]"""
        levels = list(heights.values())
        return levels[0] + 0.35 * (levels[1] - levels[0])

    def foot(self, post: str, x: float, y: float) -> list[str]:
        """Add the foot of an upright post; return its joints, lowest first."""
        b = self.build
        stood = foot(post, x, y, b.base, b.bed_depth_m, b.buried_m)
        self.joints |= {joint.key: joint for joint in stood.joints}
        self.supports += stood.supports
        return [joint.key for joint in stood.joints]

    def stay_posts(self) -> tuple[int, ...]:
        """Which posts have a back stay."""
        if self.build.stays == "none" or self.build.base not in ("stakes", "sleeves"):
            return ()
        return (0, self.build.bays) if self.build.stays == "end posts" else tuple(range(self.build.bays + 1))

    def stay_height(self, heights: Mapping[str, float]) -> float:
        """Where a stay meets its post: in the space under the top rail, clear of a brace. [m]"""
        levels = list(heights.values())
        return levels[-1] - (0.65 if self.build.braces else 0.3) * (levels[-1] - levels[-2])

    def stay(self, post: str, head: str) -> None:
        """Add a stay from a post's joint to a stake behind."""
        at = self.joints[head]
        foot_key = self.put(f"{post} stay foot", (at.x_m, at.y_m + 0.5 * at.z_m, 0.0))
        self.supports.append(Support(joint=foot_key, base="stay stake", held="xyz"))
        self.line(f"{post} stay", "stay", [foot_key, head], first=0, side=(1.0, 0.0, 0.0))

    def tube_bed(self) -> None:
        """Add the front legs, the rails and the cross ties of a bed framed in tube; its soil holds the front legs."""
        low, high = BED_FOOT_M + self.outer_m, self.soil_m - self.outer_m / 2
        last = self.build.bays
        y_front = self.outer_m / 2
        drop = 1.2 * self.outer_m if self.build.joining == "bolted" else 0.0
        for i, x in enumerate(self.x_m):
            name = f"leg {i + 1}"
            keys = [self.put(f"{name} foot", (x, y_front, 0.0))]
            self.supports.append(Support(joint=keys[0], base="foot", held="xyz"))
            for level, z in (("low", low), ("high", high)):
                if drop and (level == "high" or i in (0, last)):
                    keys.append(self.put(f"{name} {level} side", (x, y_front, z - drop)))
                keys.append(self.put(f"{name} {level}", (x, y_front, z)))
            self.supports.append(Support(joint=f"{name} high", base="bed soil", held="xy"))
            self.line(name, "leg", keys, first=2)
        for level, z in (("low", low), ("high", high)):
            for row, y, towards in (("front", y_front, -1.0), ("back", self.y_back, 1.0)):
                names = [f"{'leg' if row == 'front' else 'post'} {i + 1} {level}" for i in range(last + 1)]
                for name, x in zip(names, self.x_m):
                    self.put(name, (x, y, z))
                self.line(f"bed {row} {level}", "rail", names, first=1, side=(0.0, towards, 0.0))
            for i, side in [(0, -1.0), (last, 1.0)] + ([(i, 1.0) for i in range(1, last)] if level == "high" else []):
                tail = " side" if drop else ""
                ends = [
                    self.put(f"{post} {i + 1} {level}{tail}", (self.x_m[i], y, z - drop))
                    for post, y in (("leg", y_front), ("post", self.y_back))
                ]
                name = "end" if i in (0, last) else "tie"
                self.line(f"bed {name} {i + 1} {level}", "rail", ends, first=1, side=(side, 0.0, 0.0))
        self.lines = [self._with_bed(line) for line in self.lines]

    def _with_bed(self, line: Line) -> Line:
        """Return a post with the joints that the bed's rails put on it, lowest first."""
        if line.role != "post":
            return line
        mine = [k for k in self.joints if k.startswith(f"{line.key} ")]
        return dataclasses.replace(line, joints=tuple(sorted(mine, key=lambda key: self.joints[key].z_m)))

    def corners(self, panel: str, heights: Mapping[str, float]) -> tuple[str, str, str, str]:
        """Return the four corner joints of a panel."""
        post, last = panel or "post", self.build.bays + 1
        return (f"{post} 1 bottom", f"{post} {last} bottom", f"{post} {last} top", f"{post} 1 top")
