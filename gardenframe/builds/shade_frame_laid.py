"""The joints, runs, supports and panels of one shade frame, and what its drawing measures.

Rails lie on the posts; rafters lie over the rails, held by couplers, and run past the outer ones. A rafter never lies
over a post, where its coupler would meet the fitting: it stands beside it. Two posts, front and back, are tied across;
knee braces go from the corner posts along the front and across.
"""

from collections.abc import Iterator
from typing import Any

from gardenframe.builds.feet import foot
from gardenframe.builds.shade_frame_roof import END_M, REACH_M, WIRE_DROP_M, WRAP_M, Roof, Slope
from gardenframe.geometry.coverings import outline
from gardenframe.geometry.frame import Frame, Joint, Panel, Run, Support
from gardenframe.geometry.lines import Line, lay
from gardenframe.geometry.scene import Body, Dimension
from gardenframe.geometry.vectors import Vector, times
from gardenframe.materials.coverings import load_rolls
from gardenframe.materials.shop import Shop

PERSON_M = 1.70
BRACE_M, TIE_BRACE_M = 0.45, 0.33  # legs of a knee brace, where there is room
LEAST_LEG_M, TRY_M, TRIES = 0.14, 0.01, 30
BRACE_SHARE = 0.3  # at most, of a bay or of the height
CLEAR_M = 0.10  # between two fittings on one tube


class Laid:
    """One shade frame while it is laid out; `out` with a cloth on wires drawn out into the wind."""

    def __init__(self, build: Any, shop: Shop, out: bool = False) -> None:
        self.build, self.shop, self.out = build, shop, out
        self.d = shop.member(build.tube).outer_mm / 1000
        self.roof = Roof(build, self.d)
        self.joints: dict[str, Joint] = {}
        self.lines: list[Line] = []
        self.supports: list[Support] = []
        self.on: dict[str, list[tuple[float, str]]] = {}  # joints of each line by their place along it
        self.last = len(self.roof.posts_x)

    def frame(self) -> Frame:
        """Return the whole frame."""
        self._rows()
        self._ties()
        if self.build.braces:
            self._braces()
        over = list(self._over())
        for key, places in self.on.items():
            role, first = self._kind(key)
            self._line(key, role, [joint for _, joint in sorted(places)], first)
        runs = lay(self.lines, self.joints.values(), "clamp-on", self.shop.fittings, {self.build.tube: self.d})
        runs += over
        return Frame.of(
            self.joints.values(), runs, self.supports, panels=tuple(self._panels(runs)), joining="clamp-on",
            soil_m=self.build.soil_m, bodies=tuple(self._bodies()), dimensions=tuple(self._dimensions()),
        )  # fmt: skip

    def put(self, key: str, at: Vector) -> str:
        """Add a joint and return its key."""
        self.joints[key] = Joint(key, *at)
        return key

    def _line(self, key: str, role: str, joints: list[str], first: int = 0) -> None:
        self.lines.append(Line(key=key, member=self.build.tube, joints=tuple(joints), role=role, first=first))

    @staticmethod
    def _kind(key: str) -> tuple[str, int]:
        """Return role and rank of a line that is put together from its joints."""
        if "post" in key:
            return "post", 1 if key.startswith("king") else 3
        if key == "ridge":
            return "ridge", 4
        return ("rail", 2) if key.endswith("rail") else ("header", 1)

    def lay_on(self, line: str, along: float, joint: str) -> str:
        """Note a joint of a line by its place along it."""
        self.on.setdefault(line, []).append((along, joint))
        return joint

    def leg(self, line: str, at: float, way: float, post: str, top_z: float, start_m: float) -> float:
        """Return the leg of a brace at 45°, near one, whose ends lie clear of other fittings on both tubes. [m]"""

        def clear(tube: str, place: float) -> bool:
            return all(abs(place - other) >= CLEAR_M for other, _ in self.on[tube])

        for n in range(TRIES):
            for leg in (start_m + n * TRY_M, start_m - n * TRY_M):
                if leg >= LEAST_LEG_M and clear(line, at + way * leg) and clear(post, top_z - leg):
                    return leg
        return start_m

    # --- posts, rails, ties

    def _rows(self) -> None:
        """Add front and back posts with their feet, and the rails on them."""
        build, roof = self.build, self.roof
        for side, y, z in (("front", 0.0, roof.front_z), ("back", roof.back_y, roof.back_z)):
            for i, x in enumerate(roof.posts_x):
                post = f"{side} post {i + 1}"
                stood = foot(post, x, y, build.base, build.bed_depth_m, build.buried_m)
                self.joints |= {joint.key: joint for joint in stood.joints}
                self.supports += stood.supports
                for joint in stood.joints:
                    self.lay_on(post, joint.z_m, joint.key)
                top = self.put(f"{post} top", (x, y, z))
                self.lay_on(post, z, top)
                self.lay_on(f"{side} rail", x, top)
                if side == "back" and roof.back_z > roof.front_z:
                    self.lay_on(post, roof.front_z, self.put(f"{post} tie", (x, y, roof.front_z)))
        for rail, y, z in self._rails():
            on_posts = not rail.endswith("edge rail")
            reach = roof.rails_x if on_posts else (roof.rafters_x[0] - END_M, roof.rafters_x[-1] + END_M)
            if roof.beside or not on_posts:
                for end, x in zip(("left", "right"), reach):
                    self.lay_on(rail, x, self.put(f"{rail} {end} end", (x, y, z)))

    def _rails(self) -> Iterator[tuple[str, float, float]]:
        """Yield every rail that rafters lie on, where it runs."""
        roof = self.roof
        front, back = roof.slopes[0], roof.slopes[-1]
        if roof.over:
            yield "front edge rail", -roof.over, front.z(-roof.over)
        yield "front rail", 0.0, roof.front_z
        if self.build.form == "pitched":
            yield "ridge", roof.back_y / 2, roof.front_z + roof.rise
        yield "back rail", roof.back_y, roof.back_z
        if roof.behind:
            y = roof.back_y + roof.behind
            yield "back edge rail", y, back.z(y)

    def _ties(self) -> None:
        """Add the ties across, what carries a ridge on them, and the eyes of wires."""
        build, roof = self.build, self.roof
        for i, x in enumerate(roof.posts_x):
            tie, sloped = f"tie {i + 1}", roof.back_z > roof.front_z
            self.lay_on(tie, 0.0, f"front post {i + 1} top")
            self.lay_on(tie, roof.back_y, f"back post {i + 1} {'tie' if sloped else 'top'}")
            if build.form == "pitched":
                y = roof.back_y / 2
                low = self.put(f"king post {i + 1} foot", (x, y, roof.front_z))
                high = self.put(f"king post {i + 1} top", (x, y, roof.front_z + roof.rise))
                self.lay_on(tie, y, low)
                self.lay_on(f"king post {i + 1}", 0.0, low)
                self.lay_on(f"king post {i + 1}", 1.0, high)
                self.lay_on("ridge", x, high)
            if build.form == "wires" and i in (0, self.last - 1):
                for wire, y in zip(("front", "back"), roof.wires_y):
                    self.lay_on(tie, y, self.put(f"{wire} wire {'left' if i == 0 else 'right'}", (x, y, roof.front_z)))

    # --- rafters over the rails

    def _over(self) -> Iterator[Run]:
        """Yield the rafters, each over the rails that it crosses, and put their joints on these."""
        if self.build.form == "wires":
            return
        for slope in self.roof.slopes:
            word = "rafter" if slope.name == "roof" else f"{slope.name} rafter"
            for k, x in enumerate(self.roof.rafter_x(slope)):
                yield self._rafter(f"{word} {k + 1}", x, slope)

    def _rafter(self, key: str, x: float, slope: Slope) -> Run:
        ends = (slope.from_y - REACH_M, slope.to_y + REACH_M)
        path = [self.put(f"{key} front end", (x, ends[0], slope.z(ends[0])))]
        for rail, y, z in self._rails():
            if slope.from_y - 1e-9 <= y <= slope.to_y + 1e-9:
                path.append(self.lay_on(rail, x, self.put(f"{key} on {rail}", (x, y, z))))
        path.append(self.put(f"{key} back end", (x, ends[1], slope.z(ends[1]))))
        return Run(
            key=key, member=self.build.tube, path=tuple(path), role="rafter", offset_m=times(slope.up, self.d)
        )  # fmt: skip

    # --- braces

    def _braces(self) -> None:
        """Add knee braces at the four corner posts, along the front and across."""
        build, roof = self.build, self.roof
        bay = roof.posts_x[1] - roof.posts_x[0]
        long = min(BRACE_M, BRACE_SHARE * bay, BRACE_SHARE * build.height_m)
        deep = min(TIE_BRACE_M, BRACE_SHARE * roof.back_y, BRACE_SHARE * build.height_m)
        rafters = [] if build.form == "wires" else list(roof.rafters_x)
        for rail in ("front rail", "back rail"):  # rafters come later: keep clear of where they will be
            self.on[rail] += [(x, "") for x in rafters]
        for side, z in (("front", roof.front_z), ("back", roof.back_z)):
            y, inward = (0.0, 1.0) if side == "front" else (roof.back_y, -1.0)
            for i, end in ((0, 1.0), (self.last - 1, -1.0)):
                post, x, rail = f"{side} post {i + 1}", roof.posts_x[i], f"{side} rail"
                leg = self.leg(rail, x, end, post, z, long)
                self._brace(f"{post} brace", (x, y, z - leg), post, rail, (x + end * leg, y, z), x + end * leg)
                tie, level = f"tie {i + 1}", roof.front_z
                leg = self.leg(tie, y, inward, post, level, deep)
                across = y + inward * leg
                self._brace(f"{post} tie brace", (x, y, level - leg), post, tie, (x, across, level), across)
        for rail in ("front rail", "back rail"):
            self.on[rail] = [place for place in self.on[rail] if place[1]]

    def _brace(self, key: str, low: Vector, post: str, to: str, high: Vector, along: float) -> None:
        foot_key = self.lay_on(post, low[2], self.put(f"{key} foot", low))
        head = self.lay_on(to, along, self.put(f"{key} head", high))
        self._line(key, "brace", [foot_key, head])

    # --- the cloth

    def _roll_m(self) -> float:
        """Longest roll of the cloth: one that slides has no seam across its way where a roll is as long. [m]"""
        return max(roll.length_mm for roll in load_rolls().values() if roll.covering == self.build.cloth) / 1000

    def _panels(self, runs: list[Run]) -> Iterator[Panel]:
        build, roof = self.build, self.roof
        if build.form == "wires":
            carriers = tuple(run.key for run in runs if run.key.split(".")[0] in ("tie 1", f"tie {self.last}"))
            corners = [(x, y, roof.front_z) for x, y, _ in roof.cloths()[0]]
            # gathered before it blows: the wind meets it only where it is drawn out
            yield Panel(
                key="cloth", carried_by=carriers, covering=build.cloth, outline=outline(corners),
                side="roof" if self.out else "floor", overlap_m=0.05, wrap_m=WRAP_M, fixing="woven",
                lay="along" if roof.cloth_m[0] + 2 * WRAP_M <= self._roll_m() else "",
            )  # fmt: skip
            return
        rails = {rail: (y, z) for rail, y, z in self._rails()}
        for slope, cloth in zip(roof.slopes, roof.cloths()):
            word = "rafter" if slope.name == "roof" else f"{slope.name} rafter"
            edges = [rail for rail, (y, _) in rails.items() if min(abs(y - slope.from_y), abs(y - slope.to_y)) < 1e-6]
            carriers = tuple(
                run.key for run in runs
                if run.key.rpartition(" ")[0] == word or run.key.split(".")[0] in edges
            )  # fmt: skip
            yield Panel(
                key=f"cloth {slope.name}" if len(roof.slopes) > 1 else "cloth", carried_by=carriers,
                covering=build.cloth, outline=outline(cloth), side="roof", overlap_m=0.05, wrap_m=WRAP_M,
                sheet="cloth" if len(roof.slopes) > 1 else "", fixing="tie-200",
                fixing_spacing_m=build.fixing_spacing_m,
            )  # fmt: skip

    # --- what is not built

    def _bodies(self) -> Iterator[Body]:
        build, roof, half = self.build, self.roof, self.d / 2
        length, back = build.length_m, roof.back_y
        if build.base == "timber bed":
            edge = 0.038
            yield Body(
                kind="bed", low=(-edge, -half - edge, 0.0), high=(length + edge, back + half + edge, build.bed_depth_m),
                label="bed",
            )  # fmt: skip
        elif build.over == "bed":
            yield Body(kind="soil", low=(0.1, 0.1, -0.1), high=(length - 0.1, back - 0.1, 0.0), label="bed")
        if build.over == "seat":
            middle = length / 2
            yield Body(
                kind="neighbour", low=(middle - 0.6, back - 0.55, 0.0), high=(middle + 0.6, back - 0.1, 0.45),
                label="seat",
            )  # fmt: skip
        if build.form == "wires":
            left, right, z = roof.posts_x[0], roof.posts_x[-1], roof.front_z - WIRE_DROP_M
            for y, label in zip(roof.wires_y, ("wire", "wire")):
                yield Body(kind="neighbour", low=(left, y - 0.004, z - 0.004), high=(right, y + 0.004, z + 0.004),
                           label=label)  # fmt: skip
        out = max(roof.beside, 0.0) + length
        yield Body(kind="person", low=(out + 0.35, 0.0, 0.0), high=(out + 0.95, 0.3, PERSON_M), label="1.7 m")

    def _dimensions(self) -> Iterator[Dimension]:
        build, roof, half = self.build, self.roof, self.d / 2
        back = roof.back_y + half
        yield Dimension(
            view="front", start=(0, 0, 0), end=(build.length_m, 0, 0), axis="x", name="Length", side="below",
            datum="outside",
        )  # fmt: skip
        yield Dimension(
            view="front", start=(0, 0, 0), end=(0, 0, build.height_m), axis="z", name="Height", side="left",
            datum="clear",
        )  # fmt: skip
        yield Dimension(
            view="side", start=(0, -half, 0), end=(0, back, 0), axis="y", name="Width", side="below", datum="outside"
        )
        if roof.rise:
            y, z = (roof.back_y, roof.back_z) if build.form == "sloped" else (roof.back_y / 2, roof.front_z + roof.rise)
            yield Dimension(
                view="side", start=(0, y, roof.front_z), end=(0, y, z), axis="z", name="Rise", side="right",
                datum="axis to axis",
            )  # fmt: skip
        if roof.over:
            z = roof.slopes[0].z(-roof.over)
            yield Dimension(
                view="side", start=(0, -roof.over, z), end=(0, 0, z), axis="y", name="Overhang", side="above",
                datum="axis to axis",
            )  # fmt: skip


def joint_pull() -> tuple[tuple[str, float], ...]:
    """Return the joints that wires pull at, and which way along x."""
    return tuple(
        (f"{wire} wire {end}", way) for wire in ("front", "back") for end, way in (("left", 1.0), ("right", -1.0))
    )
