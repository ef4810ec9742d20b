"""The joints, runs, supports and panels of one cold frame, lid closed or open, and what its drawing measures.

x goes along the front, y from the front rail to the back one, z up from the ground. Each lid lies on the front and back
rails of the frame, one tube above them. It turns about the knuckles of its hinges, half a tube behind both back rails
and level with the line between them, so that no tube cuts into another.
"""

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from gardenframe.builds.feet import foot
from gardenframe.geometry.coverings import outline
from gardenframe.geometry.frame import Frame, Joint, Panel, Part, Run, Support
from gardenframe.geometry.lines import Line, lay
from gardenframe.geometry.scene import Body, Dimension
from gardenframe.geometry.vectors import Vector, add, cross, dot, minus, times
from gardenframe.materials.shop import Shop
from gardenframe.strength import lids

LOW_RAIL_M = 0.09  # axis of the lowest rails above the soil
GAP_M = 0.010  # between lids
HINGE_IN_M = 0.12  # from the corner of a lid to its hinges and latches, at most a fifth of it
ASIDE_M = 0.08  # a prop stands this far beside a bar that would be in its way
PERSON_M = 1.70
PROP = "timber-2x2"
SHEETS = ("twin-wall-6", "twin-wall-8", "glass-3", "boards-19")  # stiff: no wrap, no overlap


class Laid:
    """One cold frame while it is laid out."""

    def __init__(self, build: Any, shop: Shop, opened_deg: float = 0.0) -> None:
        self.build, self.shop, self.opened_deg = build, shop, opened_deg
        self.d = shop.member(build.tube).outer_mm / 1000
        self.joints: dict[str, Joint] = {}
        self.lines: list[Line] = []
        self.supports: list[Support] = []
        self.panels: list[Panel] = []
        self.parts = [Part(key="frame")]
        self.soil_m = build.soil_m
        self.back_y = build.depth_m - self.d
        self.low_z = self.soil_m + LOW_RAIL_M
        self.front_z = self.soil_m + build.front_m - self.d / 2
        self.back_z = self.soil_m + build.back_m - self.d / 2
        step = build.lid_width_m + GAP_M
        self.x_m = [self.d / 2, *(step * i - GAP_M / 2 for i in range(1, build.lids)), build.width_m - self.d / 2]

    def frame(self) -> Frame:
        """Return the whole frame."""
        for i in range(len(self.x_m)):
            self._section(i)
        self._along()
        runs = self._lay(self.lines)
        self.panels += self._walls(runs)
        for i in range(self.build.lids):
            runs += self._lid(i)
        return Frame.of(
            self.joints.values(),
            runs,
            self.supports,
            panels=tuple(self.panels),
            parts=tuple(self.parts),
            joining=self.build.joining,
            soil_m=self.soil_m,
            bodies=tuple(self._bodies()),
            dimensions=tuple(self._dimensions()),
        )

    def _lay(self, lines: list[Line]) -> list[Run]:
        mine = {key for line in lines for key in line.joints}
        joints = [joint for key, joint in self.joints.items() if key in mine]
        return lay(lines, joints, self.build.joining, self.shop.fittings, {self.build.tube: self.d})

    def put(self, key: str, at: Vector) -> str:
        """Add a joint and return its key."""
        self.joints[key] = Joint(key, *at)
        return key

    def line(self, key: str, role: str, joints: list[str], first: int = 0, part: str = "frame") -> Line:
        """Return a line of the tube through joints."""
        return Line(key=key, member=self.build.tube, joints=tuple(joints), role=role, first=first, part=part)

    # --- the frame below

    def _section(self, i: int) -> None:
        """Add a front and a back post, and the rails from front to back between them."""
        build, x = self.build, self.x_m[i]
        for end, y, top in (("front", 0.0, self.front_z), ("back", self.back_y, self.back_z)):
            post = f"{end} post {i + 1}"
            stood = foot(post, x, y, build.base, build.bed_depth_m, build.buried_m)
            self.joints |= {joint.key: joint for joint in stood.joints}
            self.supports += stood.supports
            levels = [(joint.z_m, joint.key) for joint in stood.joints]
            levels.append((self.low_z, self.put(f"{post} low", (x, y, self.low_z))))
            if end == "back":
                levels.append((self.front_z, self.put(f"{post} tie", (x, y, self.front_z))))
            levels.append((top, self.put(f"{post} top", (x, y, top))))
            self.lines.append(self.line(post, "post", [key for _, key in sorted(levels)], first=2))
        ends = [
            [f"{end} post {i + 1} low" for end in ("front", "back")],
            [f"front post {i + 1} top", f"back post {i + 1} tie"],
        ]
        for name, joints in zip(("low", "high"), ends):
            self.lines.append(self.line(f"{name} tie {i + 1}", "rail", joints))

    def _along(self) -> None:
        """Add the rails along front and back, with the joints of hinges and latches on the upper ones."""
        number = len(self.x_m)
        for end, y, top in (("front", 0.0, self.front_z), ("back", self.back_y, self.back_z)):
            low = [f"{end} post {i + 1} low" for i in range(number)]
            self.lines.append(self.line(f"{end} low rail", "rail", low, first=1))
            on: list[tuple[float, str]] = [(x, f"{end} post {i + 1} top") for i, x in enumerate(self.x_m)]
            for lid in range(self.build.lids):
                for k, x in enumerate(self._spots(lid, end)):
                    word = "hinge" if end == "back" else "prop" if self.opened_deg else "latch"
                    on.append((x, self.put(f"lid {lid + 1} {word} {k + 1}", (x, y, top))))
            self.lines.append(self.line(f"{end} top rail", "rail", [key for _, key in sorted(on)], first=1))

    def _spots(self, lid: int, end: str) -> list[float]:
        """Where the hinges of a lid are, or its latches, or its prop when it is open. [m]"""
        a, b = self._lid_ends(lid)
        if end == "front" and self.opened_deg:
            middle = (a + b) / 2
            return [middle + ASIDE_M if self.build.bars % 2 else middle]
        number = self.build.hinges if end == "back" else 2
        inset = min(HINGE_IN_M, (b - a) / 5)
        found = [a + inset + (b - a - 2 * inset) * k / (number - 1) for k in range(number)]
        bars = self._bars(lid)
        return [next((bar + ASIDE_M / 2 for bar in bars if abs(x - bar) < ASIDE_M / 2), x) for x in found]

    def _lid_ends(self, lid: int) -> tuple[float, float]:
        """Axes of the two side rails of a lid. [m]"""
        left = lid * (self.build.lid_width_m + GAP_M)
        return left + self.d / 2, left + self.build.lid_width_m - self.d / 2

    def _bars(self, lid: int) -> list[float]:
        a, b = self._lid_ends(lid)
        return [a + (b - a) * (k + 1) / (self.build.bars + 1) for k in range(self.build.bars)]

    # --- the lids

    @property
    def tilt_deg(self) -> float:
        """Slope of the closed lid. [deg]"""
        return lids.tilt_deg(self.back_z - self.front_z, self.back_y)

    @property
    def lid_length_m(self) -> float:
        """From the axis of a lid's back rail to that of its front rail. [m]"""
        return math.hypot(self.back_z - self.front_z, self.back_y)

    def _on_lid(self, x: float, down: float) -> Vector:
        """Return the place at a distance down the lid from its back rail, turned with the lid."""
        _, up, along = self._axes
        arm = add(times(up, self.d / 2), times(along, down + self.d / 2))
        return add((x, 0.0, 0.0), add(self.pin, _turned(arm, -math.radians(self.opened_deg))))

    @property
    def _axes(self) -> tuple[Vector, Vector, Vector]:
        """Across the closed lid, square to it upwards, and down its slope."""
        tilt = math.radians(self.tilt_deg)
        c, s = math.cos(tilt), math.sin(tilt)
        return (1.0, 0.0, 0.0), (0.0, -s, c), (0.0, -c, -s)

    @property
    def pin(self) -> Vector:
        """Where the knuckles are, at x = 0."""
        _, up, along = self._axes
        return add((0.0, self.back_y, self.back_z), add(times(up, self.d / 2), times(along, -self.d / 2)))

    def _lid(self, lid: int) -> list[Run]:
        """Add one lid with what joins it to the frame, and return its runs."""
        build, key = self.build, f"lid {lid + 1}"
        a, b = self._lid_ends(lid)
        length, places = self.lid_length_m, [a, *self._bars(lid), b]
        self.parts.append(
            Part(
                key=key, motion="hinged", axis_at=self.pin, axis=(-1.0, 0.0, 0.0), closed_deg=0.0,
                open_deg=build.most_open_deg, gap_m=GAP_M,
            )
        )  # fmt: skip
        ends: dict[str, list[str]] = {"back": [], "front": []}
        lines = []
        for k, x in enumerate(places):
            top, low = (
                self.put(f"{key} {end} {k + 1}", self._on_lid(x, down))
                for end, down in (("back", 0.0), ("front", length))
            )
            ends["back"].append(top)
            ends["front"].append(low)
            name = "side" if k in (0, len(places) - 1) else "bar"
            lines.append(self.line(f"{key} {name} {k + 1}", "lid", [top, low], part=key))
        lines += [self.line(f"{key} {end} rail", "lid", joints, first=1, part=key) for end, joints in ends.items()]
        runs = self._lay(lines)
        corners = [self.joints[k].at for k in (ends["front"][0], ends["front"][-1], ends["back"][-1], ends["back"][0])]
        self.panels.append(
            self._panel(key, build.glazing, corners, [r.key for r in runs], part=key, open_=bool(self.opened_deg))
        )
        runs = self._hung(runs, key, "back rail", [f"{key} hinge {k + 1}" for k in range(build.hinges)])
        if self.opened_deg:
            return self._propped(runs, key, lid)
        return self._hung(runs, key, "front rail", [f"{key} latch {k + 1}" for k in range(2)])

    def _hung(self, runs: list[Run], key: str, rail: str, joints: list[str]) -> list[Run]:
        """Return runs with joints put on those of a rail beside which they lie."""
        return [
            replace(run, also=tuple(j for j in joints if self._beside(run, j)))
            if run.key.startswith(f"{key} {rail}")
            else run
            for run in runs
        ]

    def _beside(self, run: Run, joint: str) -> bool:
        x = self.joints[joint].x_m
        return self.joints[run.path[0]].x_m < x < self.joints[run.path[-1]].x_m

    def _propped(self, runs: list[Run], key: str, lid: int) -> list[Run]:
        """Return the runs of an open lid with its prop: the head of it is a joint of the lid's front rail."""
        low = f"{key} prop 1"
        head = self.put(f"{key} prop head", self._on_lid(self.joints[low].x_m, self.lid_length_m))
        for n, run in enumerate(runs):
            if run.key.startswith(f"{key} front rail") and self._beside(run, head):
                runs[n] = replace(run, also=(head,))
        part = f"prop {lid + 1}"
        self.parts.append(Part(key=part, motion="lift-off"))
        return [*runs, Run(key=part, member=PROP, path=(low, head), role="prop", part=part)]

    # --- walls and lids

    def _panel(
        self, key: str, covering: str, corners: list[Vector], runs: list[str], part: str = "frame", open_: bool = False
    ) -> Panel:
        film = covering not in SHEETS
        return Panel(
            key=key,
            carried_by=tuple(runs),
            covering=covering,
            outline=outline(corners),
            part=part,
            side="roof" if open_ else "door" if part != "frame" else "wall",
            encloses=not open_,
            overlap_m=0.1 if film else 0.0,
            wrap_m=0.1 if film else 0.0,
            fixing=f"clip-{self.build.tube}" if film else "screw-batten",
            fixing_spacing_m=self.build.fixing_spacing_m,
        )

    def _walls(self, runs: list[Run]) -> Iterator[Panel]:
        """Yield front, back and the two ends, from the soil, below the low rails, to the upper ones."""
        last = len(self.x_m)

        def at(post: str, level: str) -> Vector:
            joint = self.joints[f"{post} top"]
            return (joint.x_m, joint.y_m, joint.z_m if level == "top" else self.soil_m)

        def of(*names: str) -> list[str]:
            return [run.key for run in runs if any(run.key == n or run.key.startswith(f"{n}.") for n in names)]

        for end in ("front", "back"):
            round_it = ((1, "low"), (last, "low"), (last, "top"), (1, "top"))
            corners = [at(f"{end} post {i}", level) for i, level in round_it]
            names = [f"{end} low rail", f"{end} top rail", *(f"{end} post {i + 1}" for i in range(last))]
            yield self._panel(end, self.build.walls, corners, of(*names))
        for name, i in (("left end", 1), ("right end", last)):
            ways = (("front", "low"), ("back", "low"), ("back", "top"), ("front", "top"))
            corners = [at(f"{end} post {i}", level) for end, level in ways]
            names = [f"low tie {i}", f"high tie {i}", f"front post {i}", f"back post {i}"]
            yield self._panel(name, self.build.walls, corners, of(*names))

    # --- what is not built

    def _bodies(self) -> Iterator[Body]:
        width, half = self.build.width_m, self.d / 2
        if self.soil_m:
            edge = 0.038
            yield Body(
                kind="bed", low=(-edge, -half - edge, 0.0), high=(width + edge, self.back_y + half + edge, self.soil_m),
                label="bed",
            )  # fmt: skip
        yield Body(kind="person", low=(width + 0.35, 0.0, 0.0), high=(width + 0.95, 0.3, PERSON_M), label="1.7 m")

    def _dimensions(self) -> Iterator[Dimension]:
        build, half, soil = self.build, self.d / 2, self.soil_m
        width, back = build.width_m, self.back_y + half
        yield Dimension(
            view="front", start=(0, 0, 0), end=(width, 0, 0), axis="x", name="Width", side="below", datum="outside"
        )
        yield Dimension(
            view="front",
            start=(0, 0, soil),
            end=(0, 0, soil + build.front_m),
            axis="z",
            name="Front height",
            side="left",
        )
        yield Dimension(
            view="side", start=(0, -half, 0), end=(0, back, 0), axis="y", name="Depth", side="below", datum="outside"
        )
        yield Dimension(
            view="side", start=(0, back, soil), end=(0, back, soil + build.back_m), axis="z", name="Back height",
            side="right",
        )  # fmt: skip
        yield Dimension(
            view="plan", start=(0, -half, 0), end=(build.lid_width_m, -half, 0), axis="x", name="Lid", side="below",
            datum="outside",
        )  # fmt: skip


def _turned(arm: Vector, angle_rad: float) -> Vector:
    """Return a vector turned about x by the right-hand rule."""
    axis: Vector = (1.0, 0.0, 0.0)
    along = times(axis, dot(arm, axis))
    across = minus(arm, along)
    return add(along, add(times(across, math.cos(angle_rad)), times(cross(axis, across), math.sin(angle_rad))))
