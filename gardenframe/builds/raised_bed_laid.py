"""The joints, runs, supports and panels of one raised bed, and what its drawing measures."""

from collections.abc import Iterator
from typing import Any

from gardenframe.builds.feet import stake_turning_n_m_per_rad
from gardenframe.builds.raised_bed_shape import COVERS, SIDES, STRETCHER_M, Shape, longest_m
from gardenframe.geometry.coverings import outline
from gardenframe.geometry.frame import Frame, Joint, Panel, Run, Support
from gardenframe.geometry.lines import Line, lay
from gardenframe.geometry.scene import Body, Dimension
from gardenframe.geometry.vectors import Vector
from gardenframe.materials.shop import Shop

FLOOR, MESH = "boards-19", "welded-mesh-1/2-19ga"
PERSON_M = 1.70
STOOD = {"soil": "foot", "paving": "floor", "deck": "floor"}  # what a leg stands on
HELD = {"soil": "stake", "deck": "deck"}  # what holds it down
FIXINGS = {  # covering -> what fixes it: a screw goes through it and well into the tube, and not out of it again
    "corrugated-steel": "screw-sheet",
    "boards-19": "screw-board-19",
    "boards-38": "screw-board-38",
    "bed-fabric": "tie-370",
    MESH: "tie-wire",
}
LAPS_M = {"corrugated-steel": 0.07, "bed-fabric": 0.10}


class Laid(Shape):
    """One raised bed while it is laid out."""

    def __init__(self, build: Any, shop: Shop) -> None:
        super().__init__(build, shop.member(build.tube).outer_mm / 1000)
        self.shop = shop
        self.joints: dict[str, Joint] = {}
        self.lines: list[Line] = []
        self.supports: list[Support] = []

    def frame(self) -> Frame:
        """Return the whole frame."""
        for i, x in enumerate(self.x_m):
            for side, y in (("front", self.y_m[0]), ("back", self.y_m[-1])):
                self._post(f"{side} {i + 1}", x, y, corner=i in (0, self.build.bays))
        for side, x in (("left", self.x_m[0]), ("right", self.x_m[-1])):
            for j, y in enumerate(self.y_m[1:-1]):
                self._post(f"{side} {j + 1}", x, y, corner=False)
        self._rails()
        self._ties()
        runs = self._runs()
        return Frame.of(
            self.joints.values(),
            runs,
            self.supports,
            panels=tuple(self._panels(runs)),
            joining=self.build.joining,
            soil_m=self.soil_z,
            bodies=tuple(self._bodies()),
            dimensions=tuple(self._dimensions()),
        )

    def _runs(self) -> list[Run]:
        return lay(self.lines, self.joints.values(), self.build.joining, self.shop.fittings, {self.build.tube: self.d})

    def put(self, key: str, at: Vector) -> str:
        """Add a joint and return its key."""
        self.joints[key] = Joint(key, *at)
        return key

    def line(self, key: str, role: str, joints: list[str], first: int = 0) -> None:
        """Add a line of the tube through joints."""
        self.lines.append(Line(key=key, member=self.build.tube, joints=tuple(joints), role=role, first=first))

    # --- tubes

    def _post(self, post: str, x: float, y: float, corner: bool) -> None:
        """Add a post, and what it stands on. A post in the middle of an end has no leg."""
        levels = dict(self.levels)
        along = post.startswith(("front", "back"))
        if along and not corner and self.tie_level == "tie" and int(post.split()[1]) - 1 in self.tied:
            levels["tie"] = self.tie_z
        leg = self.on_legs and along
        if leg:
            levels["foot"] = 0.0
            if self.build.stretchers == "round" or (self.build.stretchers == "ends" and corner):
                levels["stretcher"] = STRETCHER_M
            if corner and self.brace_m:
                levels["brace"] = self.low_z - self.brace_m
        ordered = sorted(levels, key=levels.__getitem__)
        self.line(post, "leg" if leg else "post", [self.put(f"{post} {k}", (x, y, levels[k])) for k in ordered], 2)
        if leg:
            self.supports.append(self._leg_foot(f"{post} foot"))
        elif not self.on_legs:
            base = "ground" if self.build.under == "soil" else "floor"
            self.supports.append(Support(joint=f"{post} low", base=base, held="z"))

    def _leg_foot(self, joint: str) -> Support:
        under = self.build.under
        if not self.build.held:
            return Support(joint=joint, base=STOOD[under], held="xyz")
        driven = under == "soil"
        spring = stake_turning_n_m_per_rad() if driven else 0.0
        return Support(joint=joint, base=HELD[under], held="xyzZ" if driven else "xyz", spring_n_m_per_rad=spring)

    def posts(self, side: str) -> list[str]:
        """Return the posts of a side, corners included, in order along it."""
        if side in ("front", "back"):
            return [f"{side} {i + 1}" for i in range(self.build.bays + 1)]
        corner = 1 if side == "left" else self.build.bays + 1
        return [f"front {corner}", *(f"{side} {j + 1}" for j in range(self.build.end_posts)), f"back {corner}"]

    def _rails(self) -> None:
        """Add the rails round the bed at every level, and between legs."""
        for side in SIDES:
            posts = self.posts(side)
            for level in self.levels:
                joints = [f"{post} {level}" for post in posts]
                if level == "low":
                    joints = self._with_middle(side, joints)
                self.line(f"{side} {level}", "rail", joints, 1)
            walked = side in ("front", "back")
            if self.on_legs and (self.build.stretchers == "round" or (self.build.stretchers == "ends" and not walked)):
                legs = [post for post in posts if f"{post} stretcher" in self.joints]
                self.line(f"{side} stretcher", "rail", [f"{post} stretcher" for post in legs], 1)
            if walked and self.brace_m:
                for post, end in ((posts[0], "left"), (posts[-1], "right")):
                    self.line(f"{side} {end} brace", "brace", [f"{post} brace", f"{side} {end} brace head"])

    def _with_middle(self, side: str, joints: list[str]) -> list[str]:
        """Return the joints of a lowest rail, on legs with its bearers, on the ground with what its soil holds."""
        walked = side in ("front", "back")
        if self.on_legs:
            if not walked:
                return joints
            y = self.joints[joints[0]].y_m
            near = {round(x, 6) for x in self.x_m}
            more = [(x, f"{side} bearer {k + 1}") for k, x in enumerate(self.bearers_x) if round(x, 6) not in near]
            if self.brace_m:
                places = (("left", self.x_m[0] + self.brace_m), ("right", self.x_m[-1] - self.brace_m))
                more += [(x, f"{side} {end} brace head") for end, x in places]
            for x, key in more:
                self.put(key, (x, y, self.low_z))
            return [key for _, key in sorted([(self.joints[key].x_m, key) for key in joints] + more)]
        held = "x" if walked else "y"
        if len(joints) % 2:
            middle = joints[len(joints) // 2]
            self.supports = [
                Support(joint=s.joint, base=s.base, held=held + s.held) if s.joint == middle else s
                for s in self.supports
            ]
            return joints
        a, b = self.joints[joints[0]], self.joints[joints[-1]]
        key = self.put(f"{side} middle", ((a.x_m + b.x_m) / 2, (a.y_m + b.y_m) / 2, self.low_z))
        self.supports.append(Support(joint=key, base="bed soil", held=held))
        half = len(joints) // 2
        return [*joints[:half], key, *joints[half:]]

    def _ties(self) -> None:
        """Add the cross ties from side to side, and the bearers of a floor."""
        for i in self.tied:
            ends = [f"{side} {i + 1} {self.tie_level}" for side in ("front", "back")]
            self.line(f"tie {i + 1} high", "tie", ends)
        if self.on_legs:
            places = {round(x, 6): i for i, x in enumerate(self.x_m)}
            for k, x in enumerate(self.bearers_x):
                post = places.get(round(x, 6))
                tail = f"bearer {k + 1}" if post is None else f"{post + 1} low"
                self.line(f"bearer {k + 1}", "shelf rail", [f"{side} {tail}" for side in ("front", "back")])
            return
        for i in self.tied:
            middle = self.put(f"tie {i + 1} middle", (self.x_m[i], self.build.width_m / 2, self.low_z))
            self.supports.append(Support(joint=middle, base="bed soil", held="y"))
            self.line(f"tie {i + 1} low", "tie", [f"front {i + 1} low", middle, f"back {i + 1} low"])

    # --- walls and floor

    def _panels(self, runs: list[Run]) -> Iterator[Panel]:
        covering = COVERS[self.build.wall]
        ways = {"steel-upright": "across", "fabric": ""}
        lay_ = ways.get(self.build.wall, "along")
        whole = [(0, self.build.bays)]
        for side in SIDES:
            walked = side in ("front", "back")
            parts = self.stretches(longest_m(covering)) if walked and lay_ == "along" else whole
            for n, (i, j) in enumerate(parts):
                first, last = (self.x_m[i], self.x_m[j]) if walked else (self.y_m[0], self.y_m[-1])
                yield Panel(
                    key=side if len(parts) == 1 else f"{side} {n + 1}",
                    carried_by=tuple(self._carriers(runs, side, first, last)),
                    covering=covering,
                    outline=outline(self._corners(side, first, last)),
                    side="wall",
                    encloses=True,
                    lay=lay_,
                    overlap_m=LAPS_M.get(covering, 0.0),
                    wrap_m=0.15 if covering == "bed-fabric" else 0.0,
                    fixing=FIXINGS[covering],
                    fixing_spacing_m=self.build.fixing_spacing_m,
                    pool="walls",
                )
        if self.on_legs or self.build.mesh:
            yield from self._bottom(runs)

    def _carriers(self, runs: list[Run], side: str, first: float, last: float) -> Iterator[str]:
        """Yield the runs of a side that lie between two places along it."""
        names = {f"{side} {level}" for level in self.levels} | set(self.posts(side))
        along = 0 if side in ("front", "back") else 1
        for run in runs:
            if run.key.split(".")[0] in names:
                a, b = (self.joints[key].at[along] for key in (run.path[0], run.path[-1]))
                upright = abs(a - b) < 1e-9
                high = max(self.joints[key].z_m for key in (run.path[0], run.path[-1]))
                touches = first - 1e-6 <= a <= last + 1e-6 if upright else min(b, last) - max(a, first) > 1e-6
                if touches and high > self.low_z + (1e-6 if upright else -1e-6):
                    yield run.key

    def _corners(self, side: str, first: float, last: float) -> list[Vector]:
        low, high = self.low_z - self.d / 2, self.rim_z
        across = {"front": self.y_m[0], "back": self.y_m[-1], "left": self.x_m[0], "right": self.x_m[-1]}[side]
        flat = ((first, low), (last, low), (last, high), (first, high))
        return [(s, across, z) if side in ("front", "back") else (across, s, z) for s, z in flat]

    def _bottom(self, runs: list[Run]) -> Iterator[Panel]:
        """Yield the floor of a bed on legs, or the mesh under one on the ground."""
        covering = FLOOR if self.on_legs else MESH
        parts = self.stretches(longest_m(covering)) if self.on_legs else [(0, self.build.bays)]
        y0, y1 = self.y_m[0], self.y_m[-1]
        for n, (i, j) in enumerate(parts):
            a, b = self.x_m[i], self.x_m[j]
            flat = ((a, y0), (b, y0), (b, y1), (a, y1))
            yield Panel(
                key="floor" if len(parts) == 1 else f"floor {n + 1}",
                carried_by=tuple(
                    run.key for run in runs
                    if all(abs(self.joints[key].z_m - self.low_z) < 1e-6 for key in run.path)
                    and min(max(self.joints[k].x_m for k in run.path), b) - max(
                        min(self.joints[k].x_m for k in run.path), a) > -1e-6
                ),
                covering=covering,
                outline=outline([(x, y, self.low_z) for x, y in flat]),
                side="floor",
                lay="along" if self.on_legs else "",
                overlap_m=0.0 if self.on_legs else 0.05,
                wrap_m=0.0,
                fixing=FIXINGS[covering],
                fixing_each=1.0 if self.on_legs else 0.3,
                fixing_spacing_m=self.build.fixing_spacing_m,
            )  # fmt: skip

    # --- what is not built

    def _bodies(self) -> Iterator[Body]:
        b = self.build
        edge = self.d + self.wall_m
        high = (b.length_m - edge, b.width_m - edge, self.soil_z)
        yield Body(kind="soil", low=(edge, edge, self.bottom_z), high=high, label="soil")
        right = b.length_m + 0.35
        yield Body(kind="person", low=(right, 0.0, 0.0), high=(right + 0.6, 0.3, PERSON_M), label="1.7 m")

    def _dimensions(self) -> Iterator[Dimension]:
        b = self.build
        long, wide = b.length_m, b.width_m
        yield Dimension(
            view="front", start=(0, 0, 0), end=(long, 0, 0), axis="x", name="Length", row=2, side="below",
            datum="outside",
        )  # fmt: skip
        yield Dimension(
            view="front", start=(self.x_m[0], 0, 0), end=(self.x_m[1], 0, 0), axis="x", name="Bay", side="below",
            datum="centre to centre",
        )  # fmt: skip
        rim = self.rim_z
        if self.on_legs:
            yield Dimension(
                view="front", start=(0, 0, 0), end=(0, 0, b.legs_m), axis="z", name="Clear under it", side="left"
            )
        yield Dimension(view="front", start=(0, 0, self.bottom_z), end=(0, 0, rim), axis="z", name="Depth", side="left")
        if self.on_legs:
            yield Dimension(view="front", start=(0, 0, 0), end=(0, 0, rim), axis="z", name="Rim", row=2, side="left")
        yield Dimension(
            view="side", start=(0, 0, 0), end=(0, wide, 0), axis="y", name="Width", side="below", datum="outside"
        )
