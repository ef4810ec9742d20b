"""The joints, runs and supports of one grow stand, what hangs on it, and what its drawing measures."""

from collections.abc import Iterator
from typing import Any

from gardenframe.builds.grow_stand_shape import FOOT_RAIL_M, Shape
from gardenframe.geometry.frame import Frame, Joint, Run, Support
from gardenframe.geometry.lines import Line, lay
from gardenframe.geometry.scene import Body, Dimension
from gardenframe.geometry.vectors import Vector, add, minus, times, unit
from gardenframe.materials.shop import Shop
from gardenframe.strength.cases import GRAVITY_M_PER_S2, Case, LineLoad

WALL_M = 0.12  # from the axis of the back posts to the wall
BRACE_LOW_M = 0.22  # joint of a brace over the floor
BRACE_UNDER_M = 0.10  # and under the top rails, the next one as much lower
BRACE_END_M = 0.06  # a brace goes on past its coupler
PERSON_M = 1.70
BASES = {"feet": "floor", "plates": "floor", "castors": "castor"}


class Laid:
    """One grow stand while it is laid out."""

    def __init__(self, build: Any, shop: Shop) -> None:
        self.build, self.shop = build, shop
        self.shape = Shape(build)
        self.joints: dict[str, Joint] = {}
        self.on_post: dict[str, list[str]] = {}
        self.lines: list[Line] = []

    def frame(self) -> Frame:
        """Return the whole frame."""
        shape = self.shape
        for i, x in enumerate(shape.posts_x):
            for end, y in self._ends():
                self._post(f"{end} post {i + 1}", x, y)
        for level in range(self.build.tiers + 1):
            self._level(level)
        self._foot_rails()
        braces = list(self._braces())
        for post, joints in self.on_post.items():
            ordered = sorted(joints, key=lambda key: self.joints[key].z_m)
            self.lines.append(self.line(post, "post", ordered, first=2))
        outer = {self.build.tube: shape.d}
        runs = lay(self.lines, self.joints.values(), self.build.joining, self.shop.fittings, outer)
        return Frame.of(
            self.joints.values(), [*runs, *braces], list(self._supports()), joining=self.build.joining,
            bodies=tuple(self._bodies()), dimensions=tuple(self._dimensions()),
        )  # fmt: skip

    def put(self, key: str, at: Vector, post: str = "") -> str:
        """Add a joint, on a post where one is named, and return its key."""
        self.joints[key] = Joint(key, *at)
        if post:
            self.on_post.setdefault(post, []).append(key)
        return key

    def line(self, key: str, role: str, joints: list[str], first: int = 0) -> Line:
        """Return a line of the tube through joints."""
        return Line(key=key, member=self.build.tube, joints=tuple(joints), role=role, first=first)

    def _ends(self) -> tuple[tuple[str, float], tuple[str, float]]:
        return ("front", 0.0), ("back", self.shape.back_y)

    # --- posts, shelves, rails

    def _post(self, post: str, x: float, y: float) -> None:
        """Add the joints of a post: foot, every level."""
        self.put(f"{post} foot", (x, y, 0.0), post)
        for level in range(self.build.tiers + 1):
            self.put(f"{post} level {level + 1}", (x, y, self.shape.axis_z(level, x)), post)

    def _level(self, level: int) -> None:
        """Add the rails, ties and bearers of a level; the top one is tied to the wall at both ends."""
        number = f"{level + 1}"
        along: dict[str, list[str]] = {"front": [], "back": []}
        last = len(self.shape.posts_x)
        for x, tie, bay, n in self.shape.supports_x:
            if tie:
                pair = [f"{end} post {bay + 1} level {number}" for end in along]
                for end, joint in zip(along, pair):
                    along[end].append(joint)
                if level == self.build.tiers and self.build.stands == "wall" and bay + 1 in (1, last):
                    pair.append(self.put(f"wall {bay + 1}", (x, self.shape.back_y + WALL_M, self.joints[pair[0]].z_m)))
                self.lines.append(self.line(f"level {number} tie {bay + 1}", "rail", pair, first=1))
                continue
            name, z = f"level {number} bearer {bay + 1}.{n + 1}", self.shape.axis_z(level, x)
            ends = [self.put(f"{name} {end}", (x, y, z)) for end, y in self._ends()]
            for end, joint in zip(along, ends):
                along[end].append(joint)
            self.lines.append(self.line(name, "rail", ends))
        for end, joints in along.items():
            self.lines.append(self.line(f"level {number} {end}", "shelf rail", joints, first=1))

    def _foot_rails(self) -> None:
        """Add a rail low along the back and a tie low at each end: the tank goes in from the front."""
        last = len(self.shape.posts_x)
        for i, x in enumerate(self.shape.posts_x):
            for end, y in self._ends():
                if end == "back" or i in (0, last - 1):
                    post = f"{end} post {i + 1}"
                    self.put(f"{post} low", (x, y, FOOT_RAIL_M), post)
        back = [f"back post {i + 1} low" for i in range(last)]
        self.lines.append(self.line("low back rail", "rail", back, first=1))
        for i in (1, last):
            self.lines.append(self.line(f"low tie {i}", "rail", [f"{end} post {i} low" for end, _ in self._ends()]))

    # --- braces: outside the posts, clipped to them

    def _braces(self) -> Iterator[Run]:
        """Yield the diagonals: across the back of the end bays, and up each end from the front to the back."""
        shape, last = self.shape, len(self.shape.posts_x)
        high = self.build.height_m - shape.d / 2 - BRACE_UNDER_M
        braces = self.build.braces if self.build.joining == "clamp-on" else "none"  # their couplers are clamped on
        if braces in ("back", "all"):
            low, up = "back post 1", "back post 2"
            yield self._brace("back brace", low, up, BRACE_LOW_M, high - BRACE_UNDER_M, (0.0, shape.d, 0.0))
        if braces == "all":
            for name, i, side in (("left brace", 1, -shape.d), ("right brace", last, shape.d)):
                low, up = f"front post {i}", f"back post {i}"
                yield self._brace(name, low, up, BRACE_LOW_M, high, (side, 0.0, 0.0))

    def _brace(self, key: str, low: str, up: str, low_z: float, high_z: float, offset: Vector) -> Run:
        """Return one diagonal on two posts, going on a little past both couplers."""
        ends = []
        for post, z in ((low, low_z), (up, high_z)):
            foot = self.joints[f"{post} foot"]
            ends.append(self.put(f"{key} on {post}", (foot.x_m, foot.y_m, z), post))
        a, b = (self.joints[key].at for key in ends)
        past = times(unit(minus(b, a)), BRACE_END_M)
        tips = self.put(f"{key} foot", add(a, times(past, -1))), self.put(f"{key} head", add(b, past))
        return Run(key=key, member=self.build.tube, path=(tips[0], *ends, tips[1]), role="brace", offset_m=offset)

    def _supports(self) -> Iterator[Support]:
        for i in range(len(self.shape.posts_x)):
            for end, _ in self._ends():
                yield Support(joint=f"{end} post {i + 1} foot", base=BASES[self.build.feet])
        for key in self.joints:
            if key.startswith("wall "):
                yield Support(joint=key, base="wall tie", held="xy")

    # --- what is not built

    def _bodies(self) -> Iterator[Body]:
        build, shape = self.build, self.shape
        half, width = shape.d / 2, build.length_m
        for tier in range(build.tiers):
            z = min(shape.axis_z(tier, x) for x in (0.0, width)) + half
            if shape.channel is None:
                yield Body(kind="water", low=(0, -half, z), high=(width, shape.back_y + half, z + shape.deep_m))
            else:
                for y in shape.rows_y:
                    yield Body(
                        kind="channel", low=(0, y - shape.wide_m / 2, z),
                        high=(width, y + shape.wide_m / 2, z + shape.deep_m + shape.fall_m),
                    )  # fmt: skip
            lamp = z + shape.grown_m + build.lamp_m
            yield Body(kind="lamp", low=(0.05, 0.0, lamp), high=(width - 0.05, shape.back_y, lamp + 0.03))
        tank = shape.tank
        right = width - shape.d - 0.02
        y = (shape.back_y - tank.wide_mm / 1000) / 2
        yield Body(
            kind="water", low=(right - tank.long_mm / 1000, y, 0.0),
            high=(right, y + tank.wide_mm / 1000, tank.deep_mm / 1000), label="tank",
        )  # fmt: skip
        if build.stands == "wall":
            wall = shape.back_y + WALL_M
            yield Body(kind="wall", low=(-0.1, wall, 0.0), high=(width + 0.1, wall + 0.08, build.height_m + 0.1))
        yield Body(kind="person", low=(width + 0.35, 0.0, 0.0), high=(width + 0.95, 0.3, PERSON_M), label="1.7 m")

    def _dimensions(self) -> Iterator[Dimension]:
        build, shape = self.build, self.shape
        half, width = shape.d / 2, build.length_m
        low = min(shape.axis_z(0, x) for x in (0.0, width)) + half
        yield Dimension(
            view="front", start=(0, 0, 0), end=(width, 0, 0), axis="x", name="Length", side="below", datum="outside"
        )
        yield Dimension(view="front", start=(0, 0, 0), end=(0, 0, build.height_m), axis="z", name="Height", side="left")
        yield Dimension(
            view="side", start=(0, -half, 0), end=(0, shape.back_y + half, 0), axis="y", name="Depth", side="below",
            datum="outside",
        )  # fmt: skip
        yield Dimension(
            view="side", start=(0, -half, 0), end=(0, -half, low), axis="z", name="Lowest shelf", side="left",
        )  # fmt: skip
        if build.tiers > 1:
            yield Dimension(
                view="side", start=(0, -half, low), end=(0, -half, low + shape.pitch_m), axis="z", side="left",
            )  # fmt: skip


def water_case(build: Any, frame: Frame, tiers: tuple[int, ...] | None = None, key: str = "F") -> Case:
    """Return the case of all that stands and hangs on tiers: carriers, water, plants, lamps; all tiers if not given."""
    shape = Shape(build)
    loads: list[LineLoad] = []
    low, high = shape.rows_y[0] - shape.wide_m / 2, shape.rows_y[-1] + shape.wide_m / 2
    low, high = max(low, 0.0), min(high, shape.back_y)
    lamps = build.lamps * shape.lamp.mass_kg * GRAVITY_M_PER_S2 / build.length_m
    which = range(build.tiers) if tiers is None else tiers
    for (_, tie, bay, n), share in zip(shape.supports_x, shape.shares_m):
        end = f"tie {bay + 1}" if tie else f"bearer {bay + 1}.{n + 1}"
        for tier in which:
            for level, weight, a, b in (
                (tier, shape.carried_n_per_m, low, high),
                (tier + 1, lamps, 0.0, shape.back_y),
            ):
                loads += _on(frame, f"level {level + 1} {end}", weight * share, a, b)
    return Case(
        key=key,
        loads=tuple(loads),
        label="water to its brim, plants and lamps" if build.blocked else "water, plants and lamps",
    )


def _on(frame: Frame, name: str, weight_n: float, low: float, high: float) -> Iterator[LineLoad]:
    """Yield a weight spread between two places across the depth, on the run or the runs of that name."""
    runs = [name] if name in frame.runs else [key for key in frame.runs if key.startswith(f"{name}.")]
    force = (0.0, 0.0, -weight_n / (high - low))
    for key in runs:
        start, length = frame.lines[key].point(0.0)[1], frame.lines[key].length_m
        a, b = max(low - start, 0.0), min(high - start, length)
        if b > a + 1e-9:
            yield LineLoad(run=key, force_n_per_m=force, from_m=a, to_m=b)
