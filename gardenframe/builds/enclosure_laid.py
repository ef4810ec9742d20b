"""The joints, runs, supports and panels of one enclosure, its gates or lids closed or open.

x goes along the front, y from front to back, z up from the ground; outside sizes begin at the origin. Posts stand
round it, with rails low, between and on top; tubes go across the top from post to post; a gabled one has rafters there.
A gate hangs between two posts in the plane of its wall and turns about pins in the face that it opens to, so that no
tube cuts into another; a lid lies one tube above the top rails.
"""

import math
from collections.abc import Iterator, Mapping
from typing import Any

from gardenframe.builds.enclosure_cover import Covers
from gardenframe.builds.enclosure_leaf import BAR_APART_M, Leaf, hung
from gardenframe.builds.enclosure_walls import SILL_M, Gateway, Wall, gateways, walls_of
from gardenframe.builds.feet import foot
from gardenframe.geometry.frame import Frame, Joint, Part, Run, Support
from gardenframe.geometry.lines import Line, lay
from gardenframe.geometry.scene import Body, Dimension
from gardenframe.geometry.swings import at_angle
from gardenframe.geometry.vectors import Vector, add, times
from gardenframe.materials.shop import Shop

LOW_RAIL_M = 0.09  # axis of the low rails above soil, ground or sill
THRESHOLD_M = 0.038  # a 2 in board on edge in the gateway, its top this far above the ground
EAVE_M = 0.12  # post tops above the eave rails of a gabled enclosure: room for two fittings
RIDGE_M = 0.14  # from the apex down the slope to the first purlin
LID_GAP_M = 0.010
SAME_M = 0.002  # levels of a post nearer than this are one
PERSON_M = 1.70


class Laid:
    """One enclosure while it is laid out."""

    def __init__(self, build: Any, shop: Shop, opened_deg: Mapping[str, float] | None = None) -> None:
        self.build, self.shop, self.opened_deg = build, shop, dict(opened_deg or {})
        self.d: float = shop.member(build.tube).outer_mm / 1000
        self.joints: dict[str, Joint] = {}
        self.levels: dict[str, dict[str, float]] = {}  # post -> joint -> height
        self.lines: list[Line] = []
        self.supports: list[Support] = []
        self.parts = [Part(key="frame")]
        self.leaves: list[Leaf] = []
        self.soil_m: float = build.soil_m
        self.base_m: float = SILL_M if build.base == "sill holes" else self.soil_m
        self.low_z = self.base_m + LOW_RAIL_M
        self.top_z: float = self.soil_m + build.height_m - self.d / 2
        self.walls = walls_of(build, self.d)
        self.ways = gateways(build, self.d) if build.gated else []

    @property
    def gabled(self) -> bool:
        """Whether it has a ridge."""
        return bool(self.build.gabled)

    @property
    def post_top_z(self) -> float:
        """Top of the posts along front and back: where rafters or the top rail sit. [m]"""
        return self.top_z + (EAVE_M if self.gabled else 0.0)

    @property
    def apex_z(self) -> float:
        """Axis of the apex. [m]"""
        return self.post_top_z + self.walls["left"].length_m / 2 * math.tan(math.radians(float(self.build.pitch_deg)))

    def frame(self) -> Frame:
        """Return the whole frame."""
        self._stand()
        for wall in self.walls.values():
            self._wall(wall)
        self._over()
        hinged = [self._gate(way) for way in self.ways] if self.build.gated else self._lids()
        posts = [self._post_line(post) for post in self.levels]
        runs = self._lay([*posts, *self.lines])
        panels = list(Covers(self, runs).panels())
        for leaf, hinges, latches in hinged:
            more, panel = self._leaf(leaf, hinges, latches)
            runs += more
            panels.append(panel)
        return Frame.of(
            self.joints.values(), runs, self.supports, panels=tuple(panels), parts=tuple(self.parts),
            joining=self.build.joining, soil_m=self.soil_m, bodies=tuple(self._bodies()),
            dimensions=tuple(self._dimensions()),
        )  # fmt: skip

    # --- joints and lines

    def put(self, key: str, at: Vector) -> str:
        """Add a joint and return its key."""
        self.joints[key] = Joint(key, *at)
        return key

    def _on(self, post: str, level: str, z: float) -> str:
        """Return the joint of a post at a height, added where it is new."""
        there = next((key for key, at in self.levels[post].items() if abs(at - z) < SAME_M), None)
        if there:
            return there
        first = self.joints[next(iter(self.levels[post]))]
        key = self.put(f"{post} {level}", (first.x_m, first.y_m, z))
        self.levels[post][key] = z
        return key

    def _line(self, key: str, role: str, joints: list[str], first: int = 0) -> None:
        self.lines.append(Line(key=key, member=self.build.tube, joints=tuple(joints), role=role, first=first))

    def _lay(self, lines: list[Line]) -> list[Run]:
        mine = {key for line in lines for key in line.joints}
        joints = [joint for key, joint in self.joints.items() if key in mine]
        return lay(lines, joints, self.build.joining, self.shop.fittings, {self.build.tube: self.d})

    def _post_line(self, post: str) -> Line:
        path = [key for key, _ in sorted(self.levels[post].items(), key=lambda item: item[1])]
        return Line(key=post, member=self.build.tube, joints=tuple(path), role="post", first=2)

    # --- posts

    def name(self, wall: Wall, u: float) -> str:
        """Return the name of the post at a place along a wall: corners belong to two walls."""
        keys = list(self.walls)
        place = keys.index(wall.key)
        if u < 1e-6:
            return f"corner {place + 1}"
        if u > wall.length_m - 1e-6:
            return f"corner {(place + 1) % 4 + 1}"
        on = next((i for i, p in enumerate(wall.posts_m) if abs(p - u) < 1e-6), None)
        if on is not None:
            across = self.walls[keys[(place + 2) % 4]]  # numbered from the same end on walls that face each other
            return f"{wall.key} post {on if place < 2 else across.bays - on}"
        return f"{wall.key} gate post {'left' if u < self._middle(wall) else 'right'}"

    def _middle(self, wall: Wall) -> float:
        way = next(way for way in self.ways if way.wall.key == wall.key)
        return (way.left_m + way.right_m) / 2

    def places(self, wall: Wall) -> list[float]:
        """Where posts stand along a wall, those of its gate too. [m]"""
        found = list(wall.posts_m)
        for way in self.ways:
            if way.wall.key == wall.key:
                found += [u for u in (way.left_m, way.right_m) if all(abs(u - p) > 1e-6 for p in found)]
        return sorted(found)

    def _stand(self) -> None:
        for wall in self.walls.values():
            for u in self.places(wall):
                post = self.name(wall, u)
                if post not in self.levels:
                    self._foot(post, wall.at(u, 0.0))
        if self.build.inner_posts and self.build.used(self.build.field("inner_posts")):
            for i, j, at in self._crossings():
                self._foot(f"inner post {i}-{j}", at)

    def _foot(self, post: str, at: Vector) -> None:
        build = self.build
        self.levels[post] = {}
        if build.base == "sill holes":
            held = [("foot", SILL_M - build.hole_m, "sill hole", "xyZ" if build.strapped else "xyzZ")]
            held += [("strap", SILL_M - 0.02, "strap", "z")] if build.strapped else []
            for name, z, base, letters in held:
                self.levels[post][self.put(f"{post} {name}", (at[0], at[1], z))] = z
                self.supports.append(Support(joint=f"{post} {name}", base=base, held=letters))
            return
        stood = foot(post, at[0], at[1], build.base, build.bed_depth_m, build.buried_m)
        self.supports += stood.supports
        for joint in stood.joints:
            self.joints[joint.key] = joint
            self.levels[post][joint.key] = joint.z_m

    def _crossings(self) -> Iterator[tuple[int, int, Vector]]:
        """Yield the places inside where tubes from front to back cross those from side to side."""
        front, right = self.walls["front"], self.walls["right"]
        for i, u in enumerate(front.posts_m[1:-1], 1):
            for j, v in enumerate(right.posts_m[1:-1], 1):
                yield i, j, add(front.at(u, 0.0), times(right.along, v))

    # --- walls

    def header_z(self, way: Gateway) -> float:
        """Axis of the tube over a gateway: the top rail, or a header where the wall goes on above it. [m]"""
        asked = self.foot_z + self.build.gate_height_m + self.build.gap_m + self.d / 2
        return asked if asked < self.top_z - 0.15 else self.top_z

    @property
    def foot_z(self) -> float:
        """Underside of a gate less its gap: the threshold that one steps over, or the top of the low rail. [m]"""
        if self.build.size == "reach-in":
            return self.low_z + self.d / 2
        return max(self.base_m, THRESHOLD_M if self.build.threshold else 0.0)

    def rails_z(self) -> list[float]:
        """Heights of the rails between the low and the top ones. [m]"""
        number = self.build.mid_rails
        even = [self.low_z + (self.top_z - self.low_z) * (i + 1) / (number + 1) for i in range(number)]
        return [next((self.header_z(w) for w in self.ways if abs(self.header_z(w) - z) < 0.12), z) for z in even]

    def _wall(self, wall: Wall) -> None:
        places = self.places(wall)
        way = next((way for way in self.ways if way.wall.key == wall.key), None)
        level = "eave" if self.gabled else "top"
        tops = [self._on(self.name(wall, u), level, self.top_z) for u in places]
        self._line(f"{wall.key} top rail", "rail", tops, first=1)
        if self.gabled and wall.key in ("front", "back"):
            for u in wall.posts_m:
                self._on(self.name(wall, u), "top", self.post_top_z)
        rails = [("low", self.low_z), *((f"mid {i + 1}", z) for i, z in enumerate(self.rails_z()))]
        for name, z in rails:
            if way and name == "low" and self.build.size == "reach-in":
                self._rail(wall, name, z, places)
            elif way and (name == "low" or z < self.header_z(way) + 0.12):
                self._rail(wall, name, z, [u for u in places if u < way.left_m + 1e-6], " left")
                self._rail(wall, name, z, [u for u in places if u > way.right_m - 1e-6], " right")
            else:
                self._rail(wall, name, z, places)
        if way and self.header_z(way) < self.top_z:
            ends = [self._on(self.name(wall, u), "header", self.header_z(way)) for u in (way.left_m, way.right_m)]
            self._line(f"{wall.key} header", "header", ends)

    def _rail(self, wall: Wall, name: str, z: float, places: list[float], side: str = "") -> None:
        if len(places) > 1:
            joints = [self._on(self.name(wall, u), name, z) for u in places]
            self._line(f"{wall.key} {name} rail{side}", "rail", joints)

    # --- overhead

    def _over(self) -> None:
        front, right = self.walls["front"], self.walls["right"]
        level = "eave" if self.gabled else "top"
        inner_u, inner_v = front.posts_m[1:-1], right.posts_m[1:-1]
        if self.build.tied:
            crossed = {} if self.gabled else {(i, j): at for i, j, at in self._crossings()}
            for (i, j), at in crossed.items():
                key = self.put(f"crossing {i}-{j}", (at[0], at[1], self.top_z))
                post = f"inner post {i}-{j}"
                if post in self.levels:
                    self.levels[post][key] = self.top_z
            for i in range(1, len(inner_u) + 1):
                inside = [f"crossing {i}-{j}" for j in range(1, len(inner_v) + 1)] if crossed else []
                ends = [self._on(f"{end} post {i}", level, self.top_z) for end in ("front", "back")]
                self._line(f"tie {i}", "rail", [ends[0], *inside, ends[1]], first=1)
            for j in range(1, len(inner_v) + 1) if not self.gabled else ():
                inside = [f"crossing {i}-{j}" for i in range(1, len(inner_u) + 1)]
                ends = [self._on(f"{end} post {j}", level, self.top_z) for end in ("left", "right")]
                self._line(f"long tie {j}", "purlin", [ends[0], *inside, ends[1]])
        if self.gabled:
            self._gable()

    def purlins_m(self) -> list[float]:
        """Where purlins cross a slope, from the apex down. [m]"""
        slope = self.slope_m
        return [RIDGE_M + (slope - RIDGE_M) * i / (self.build.purlins + 1) for i in range(self.build.purlins + 1)]

    @property
    def slope_m(self) -> float:
        """Length of a slope from post top to apex. [m]"""
        return float(self.walls["left"].length_m / 2 / math.cos(math.radians(self.build.pitch_deg)))

    def _gable(self) -> None:
        front, deep = self.walls["front"], self.walls["left"].length_m
        y0 = front.start[1]
        rise, slope = self.apex_z - self.post_top_z, self.slope_m
        marks = self.purlins_m()
        for i, u in enumerate(front.posts_m):
            x = front.at(u, 0.0)[0]
            apex = self.put(f"apex {i}", (x, y0 + deep / 2, self.apex_z))
            for end in ("front", "back"):
                way = -1.0 if end == "front" else 1.0
                path = [apex]
                for k, down in enumerate(marks):
                    at = (x, y0 + deep / 2 + way * deep / 2 * down / slope, self.apex_z - rise * down / slope)
                    path.append(self.put(f"{end} rafter {i} purlin {k}", at))
                wall = self.walls[end]
                post = self.name(wall, u if end == "front" else wall.length_m - u)
                path.append(f"{post} top")
                self._line(f"{end} rafter {i}", "rafter", path[::-1], first=2)
        for end in ("front", "back"):
            for k in range(len(marks)):
                on = [f"{end} rafter {i} purlin {k}" for i in range(len(front.posts_m))]
                self._line(f"{end} purlin {k}", "purlin", on)

    # --- leaves

    def _gate(self, way: Gateway) -> tuple[Leaf, dict[str, float], dict[str, float]]:
        """Return the leaf of a gateway, with the joints of its hinges and latches on the posts, by their v."""
        build, wall, d = self.build, way.wall, self.d
        left = build.hinge_side == "left"
        u_hinge, u_latch = (way.left_m, way.right_m) if left else (way.right_m, way.left_m)
        along = times(wall.along, 1.0 if left else -1.0)
        face = times(wall.out, 1.0 if build.swing == "out" else -1.0)
        low, high = self.foot_z + build.gap_m + d / 2, self.header_z(way) - d - build.gap_m
        stile = add(wall.at(u_hinge, low), times(along, d + build.gap_m))
        pin = add(wall.at(u_hinge, low), add(times(along, (d + build.gap_m) / 2), times(face, d / 2)))
        leaf = Leaf(
            key=f"{wall.key} gate", motion="hinged", corner=stile, along_u=along, along_v=(0.0, 0.0, 1.0), face=face,
            u_m=way.right_m - way.left_m - 2 * (d + build.gap_m), v_m=high - low, pin=pin,
            seat=times(along, -(d + build.gap_m)), far_seat=times(along, d + build.gap_m), open_deg=build.opened_deg,
            gap_m=build.gap_m, brace=build.brace if build.brace in ("push", "pull") else "none",
            bars=max(1, math.ceil((high - low) / BAR_APART_M) - 1), hinges=build.hinges,
        )  # fmt: skip
        found = []
        for u, word, number in ((u_hinge, "hinge", leaf.hinges), (u_latch, "latch", leaf.latches)):
            post = self.name(wall, u)
            taken = [z - low for z in self.levels[post].values()]
            places = leaf.places_m(number, taken)
            found.append({self._on(post, f"{leaf.key} {word} {k + 1}", low + v): v for k, v in enumerate(places)})
        self.leaves.append(leaf)
        return leaf, found[0], found[1]

    def _lids(self) -> list[tuple[Leaf, dict[str, float], dict[str, float]]]:
        """Return the lids of a low enclosure, with the joints of hinges and latches on its back and front rails."""
        build, front, d = self.build, self.walls["front"], self.d
        step = (build.width_m + LID_GAP_M) / build.lids
        up, z = (0.0, 0.0, 1.0), self.top_z + d
        y_front, y_back = front.start[1], self.walls["back"].start[1]
        found = []
        for i in range(build.lids):
            x0 = i * step + d / 2
            leaf = Leaf(
                key=f"lid {i + 1}", motion="hinged" if build.lid == "hinged" else "lift-off",
                corner=(x0, y_back, z), along_u=(0.0, -1.0, 0.0), along_v=(1.0, 0.0, 0.0), face=up,
                u_m=y_back - y_front, v_m=step - LID_GAP_M - d, seat=(0.0, 0.0, -d),
                pin=(x0, y_back + d / 2, z - d / 2), far_seat=(0.0, 0.0, -d), open_deg=build.opened_deg,
                gap_m=LID_GAP_M, bars=max(0, math.ceil((step - d) / BAR_APART_M) - 1), latches=2,
            )  # fmt: skip
            self.leaves.append(leaf)
            sides = []
            for wall, y in (("back", y_back), ("front", y_front)):
                posts = [self.walls[wall].at(u, 0.0)[0] - x0 for u in self.walls[wall].posts_m]
                word = "hinge" if wall == "back" and build.lid == "hinged" else "latch"
                places = leaf.places_m(2, posts)
                keys = {self.put(f"{leaf.key} {wall} {word} {k + 1}", (x0 + v, y, self.top_z)): v
                        for k, v in enumerate(places)}  # fmt: skip
                self._onto(f"{wall} top rail", list(keys))
                sides.append(keys)
            found.append((leaf, sides[0], sides[1]))
        return found

    def _onto(self, key: str, joints: list[str]) -> None:
        """Put joints on a line along x, in order."""
        for n, line in enumerate(self.lines):
            if line.key == key:
                ahead = self.joints[line.joints[-1]].x_m > self.joints[line.joints[0]].x_m
                path = sorted({*line.joints, *joints}, key=lambda k: self.joints[k].x_m, reverse=not ahead)
                self.lines[n] = Line(key=key, member=line.member, joints=tuple(path), role=line.role, first=line.first)

    def _leaf(self, leaf: Leaf, hinges: dict[str, float], latches: dict[str, float]) -> tuple[list[Run], Any]:
        """Return the runs and the panel of a leaf, turned as far as it stands open."""
        self.parts.append(leaf.part)
        lines, joints = leaf.lines(self.build.tube)
        for key, at in joints.items():
            self.put(key, at)
        runs = hung(self._lay(lines), joints, f"{leaf.key} hinge stile", hinges, leaf)
        angle = self.opened_deg.get(leaf.key, 0.0)
        if not angle:
            runs = hung(runs, joints, f"{leaf.key} latch stile", latches, leaf)
        for key, at in joints.items():
            self.put(key, at_angle(leaf.part, at, angle) if angle else at)
        corners = [leaf.at(u, v, angle) for u, v in ((0, 0), (leaf.u_m, 0), (leaf.u_m, leaf.v_m), (0, leaf.v_m))]
        carriers = [run.key for run in runs if run.role != "brace"]
        return runs, Covers(self, runs).leaf(leaf.key, corners, carriers, bool(angle))

    # --- what is not built

    def _bodies(self) -> Iterator[Body]:
        build = self.build
        w, deep = build.width_m, build.depth_m
        edge = 0.038
        if build.base in ("timber bed", "bed rails"):
            yield Body(kind="bed", low=(-edge, -edge, 0.0), high=(w + edge, deep + edge, self.soil_m), label="bed")
        yield from build.beds_inside()
        if build.base == "sill holes":
            half = (SILL_M - self.d) / 2
            yield Body(kind="bed", low=(-half, -half, 0.0), high=(w + half, deep + half, SILL_M), label="sill")
        yield from self._swept()
        yield Body(kind="person", low=(w + 0.35, 0.0, 0.0), high=(w + 0.95, 0.3, PERSON_M), label="1.7 m")

    def _swept(self) -> Iterator[Body]:
        """Yield the ground that each gate sweeps, kept clear: outside, where it opens outwards."""
        for leaf in self.leaves:
            if self.build.gated and self.build.swing == "out":
                ends = [leaf.at(0.0, 0.0), leaf.at(leaf.u_m + self.d, 0.0)]
                ends += [add(end, times(leaf.face, leaf.u_m + self.d)) for end in ends]
                low, high = ([f(end[i] for end in ends) for i in (0, 1)] for f in (min, max))
                yield Body(kind="path", low=(low[0], low[1], 0.0), high=(high[0], high[1], 0.0))

    def _dimensions(self) -> Iterator[Dimension]:
        build, soil = self.build, self.soil_m
        w, deep = build.width_m, build.depth_m
        front = next((way for way in self.ways if way.wall.key == "front"), None)
        yield Dimension(view="front", start=(0, 0, 0), end=(w, 0, 0), axis="x", name="Width", side="below",
                        datum="outside", row=2 if front else 1)  # fmt: skip
        if front:
            a, b = (front.wall.at(u, 0.0)[0] for u in (front.left_m + self.d / 2, front.right_m - self.d / 2))
            yield Dimension(view="front", start=(a, 0, 0), end=(b, 0, 0), axis="x", name="Gate", side="below",
                            datum="clear")  # fmt: skip
        yield Dimension(view="front", start=(0, 0, soil), end=(0, 0, soil + build.height_m), axis="z", name="Height",
                        side="left")  # fmt: skip
        yield Dimension(view="side", start=(0, 0, 0), end=(0, deep, 0), axis="y", name="Depth", side="below",
                        datum="outside")  # fmt: skip
        if self.gabled:
            yield Dimension(view="side", start=(0, deep, soil), end=(0, deep / 2, self.apex_z + self.d / 2), axis="z",
                            name="Ridge", side="right")  # fmt: skip
