"""The joints, runs, supports and panels of one hoop house.

x goes across the house from its middle, y along it from the front, z up. Hoops stand across; purlins, and all that
joins the hoops, lie inside of them, held by couplers.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import pairwise, product
from typing import Any

from gardenframe.builds.feet import foot
from gardenframe.builds.hoop_house_shape import Section
from gardenframe.geometry.arcs import Arc, Centreline, Straight
from gardenframe.geometry.coverings import outline
from gardenframe.geometry.frame import Frame, Joint, Panel, Part, Run, Support
from gardenframe.geometry.hoop_couplings import Choice, choices_of_couplings
from gardenframe.geometry.hoops import BESIDE_M, coupling_places_m
from gardenframe.geometry.scene import Body, Dimension
from gardenframe.geometry.vectors import Vector
from gardenframe.kept import cached_property
from gardenframe.materials.benders import bender_for
from gardenframe.materials.shop import Shop

SIDES = (("left", -1.0), ("right", 1.0))
ENDS = ("front", "far")
CLEAR_M = 0.10  # between the joints of two tubes on a hoop
UNDER_PURLIN_M = 0.20  # from the lowest purlin down to the end of a wind brace: the coupling of a hoop lies between
APEX_M = 0.12  # from the ridge of a gable to the purlin on each side of it, and from the eaves down to theirs
KNEE_M = 0.35  # a knee brace takes at most this of a post and of a slope
BRACED_BOTH = 3  # bays from which on both end bays are braced: in fewer the tubes would meet
STUD_LEAST_M = 1.2  # an end wall as wide has studs, even without a door
STUDS_APART_M = 0.9  # studs of an end wall stand no farther apart (common practice, no source)


class Laid:
    """One hoop house while it is laid out."""

    def __init__(self, build: Any, shop: Shop) -> None:
        self.build, self.shop = build, shop
        self.outer_m = shop.member(build.tube).outer_mm / 1000
        self.section: Section = build.section(self.outer_m)
        self.joints: dict[str, Joint] = {}
        self.runs: list[Run] = []
        self.supports: list[Support] = []
        reach = build.length_m - self.outer_m
        bays = build.bays(self.outer_m)
        self.y_m = [self.outer_m / 2 + reach * i / bays for i in range(bays + 1)]

    def frame(self, bodies: Iterable[Body], dimensions: Iterable[Dimension]) -> Frame:
        """Return the whole house, with what is drawn round it and measured."""
        for i in range(len(self.y_m)):
            (self._gable if self.build.form == "gable" else self._hoop)(i)
        for name, up in self.purlins_m.items():
            for side, way in SIDES if name != "ridge" else (("", 1.0),):
                self._purlin(f"{side} {name}".strip(), name, up, way)
        if self.build.braces:
            self._braces()
        for i, end in self.closed_ends:
            self._end_wall(i, end)
        return Frame.of(
            self.joints.values(), self.runs, self.supports, panels=tuple(self.panels()),
            parts=(Part(key="frame"), *self.doors()), joining="clamp-on", soil_m=self.build.soil_m,
            bodies=tuple(bodies), dimensions=tuple(dimensions),
        )  # fmt: skip

    # --- where things meet a hoop, as lengths along its left half from the ground

    @cached_property
    def closed_ends(self) -> list[tuple[int, str]]:
        """The hoops that have an end wall: number and end."""
        return [(0, ENDS[0]), (len(self.y_m) - 1, ENDS[1])] if self.build.end_walls else []

    def has_door(self, end: str) -> bool:
        """Whether an end wall has a door."""
        return self.build.door == "both ends" or (self.build.door == "front" and end == "front")

    @cached_property
    def studs_m(self) -> dict[str, tuple[float, ...]]:
        """How far the axes of the studs stand from the middle on each side, by end; the posts of a door first. [m]"""
        found = {}
        half = self.section.half_width_m
        for _, end in self.closed_ends:
            if not self.has_door(end) and self.build.width_m < STUD_LEAST_M:
                continue
            first = (self.build.door_width_m + self.outer_m) / 2 if self.has_door(end) else self.build.width_m / 6
            spaces = max(1, math.ceil((half - first) / STUDS_APART_M - 1e-9))
            found[end] = tuple(first + (half - first) * k / spaces for k in range(spaces))
        return found

    @cached_property
    def purlins_m(self) -> dict[str, float]:
        """Length up the left half at which each pair of purlins lies, and the ridge. [m]"""
        section, number = self.section, self.build.purlins
        if self.build.form == "gable":
            eave = section.wall_m
            slope = section.half_length_m - eave
            low, high = eave + max(self.knee_m, 0.0) + CLEAR_M, section.half_length_m - APEX_M
            found = {"eave purlin": eave - APEX_M, "ridge purlin": high}
            if slope > self.knee_m + APEX_M + 2 * CLEAR_M:
                found |= {f"purlin {k}": low + (high - low) * k / (number + 1) for k in range(1, number + 1)}
        else:
            half = section.half_length_m
            found = {f"purlin {k}": half * k / (number + 1) for k in range(1, number + 1)} | {"ridge": half}
        if self.build.roll_up:
            found["hip rail"] = section.up_at_height(self.build.roll_up_m)
            found = {k: up for k, up in found.items() if k == "hip rail" or abs(up - found["hip rail"]) > 2 * CLEAR_M}
        studs = [section.up_at(x) for studs in self.studs_m.values() for x in studs]
        return {key: up if key == "ridge" else self._clear_of(up, studs) for key, up in found.items()}

    def _clear_of(self, up_m: float, studs: list[float]) -> float:
        """Return a length moved down the hoop until it is clear of the studs' upper ends. [m]"""
        for stud in sorted(studs, reverse=True):
            if abs(up_m - stud) < CLEAR_M:
                up_m = stud - CLEAR_M
        return up_m

    @cached_property
    def knee_m(self) -> float:
        """What a knee brace of a gable takes of its post and of its slope. [m]"""
        slope = self.section.half_length_m - self.section.wall_m
        return min(KNEE_M, 0.45 * self.section.wall_m, 0.45 * slope)

    @cached_property
    def brace_m(self) -> tuple[float, float]:
        """Lengths up the hoops at which a wind brace begins and ends. [m]"""
        low = self.build.soil_m + CLEAR_M
        if self.build.form == "gable":
            return low, self.section.wall_m - max(self.knee_m, APEX_M) - CLEAR_M
        lowest = min(self.purlins_m.values())
        return low, min(lowest - UNDER_PURLIN_M, 0.75 * self.section.half_length_m)

    # --- frames across

    def put(self, key: str, at: Vector) -> str:
        """Add a joint and return its key."""
        self.joints[key] = Joint(key, *at)
        return key

    def on(self, name: str, i: int, up_m: float, way: float) -> str:
        """Add a joint on hoop i at a length up one side; return its key."""
        x, z = self.section.at(up_m)
        return self.put(f"hoop {i + 1} {name}", (-way * x, self.y_m[i], z))

    def _feet(self, i: int, side: str, way: float) -> list[str]:
        """Add the foot of one leg of hoop i; return its joints, the lowest first."""
        b, name = self.build, f"hoop {i + 1} {side}"
        stood = foot(name, 0.0, self.y_m[i], b.base, b.bed_depth_m, b.buried_m)
        for joint in stood.joints:
            up = -self.section.buried_m if joint.z_m < 0 else self.section.up_at_height(joint.z_m)
            x, z = self.section.at(up if joint.z_m else 0.0)
            self.put(joint.key, (-way * x, self.y_m[i], z))
        self.supports += stood.supports
        return [joint.key for joint in stood.joints]

    def _ups(self, i: int) -> dict[str, float]:
        """Return what meets one side of hoop i beside its feet and its ridge: name -> length up. [m]"""
        found = {key: up for key, up in self.purlins_m.items() if key != "ridge"}
        if self.build.braces:
            last = len(self.y_m) - 1
            for k, up in ((0, self.brace_m[0]), (1, self.brace_m[1])):
                if i == k or (i == last - k and last >= BRACED_BOTH):
                    found[f"brace {k}"] = up
        for number, end in self.closed_ends:
            if number == i:
                found |= {f"stud {k + 1}": self.section.up_at(x) for k, x in enumerate(self.studs_m.get(end, ()))}
        return found

    def _hoop(self, i: int) -> None:
        feet = {side: self._feet(i, side, way) for side, way in SIDES}
        x, z = self.section.corner
        corners = [self.put(f"hoop {i + 1} {side} corner", (way * x, self.y_m[i], z)) for side, way in SIDES]
        also = [key for side in feet.values() for key in side[1:]]
        for name, up in self._ups(i).items():
            also += [self.on(f"{side} {name}", i, up, way) for side, way in SIDES]
        also.append(self.on("ridge", i, self.section.half_length_m, 1.0))
        cuts = self._cuts(i)
        path = (feet["left"][0], *corners, feet["right"][0])
        self._run(
            f"hoop {i + 1}", "hoop", path, bend_radius_m=self.section.radius_m * (1 - 1e-9), also=(*also, *cuts),
            splices=tuple(cuts),
        )  # fmt: skip

    def _cuts(self, i: int) -> list[str]:
        """Add the couplings of hoop i, every second hoop in other places where there are others."""
        chosen = self.staggered[i % 2]
        line = self.section.line
        points = [line.point(station) for station in chosen]
        return [self.put(f"hoop {i + 1} coupling {k + 1}", (p[0], self.y_m[i], p[2])) for k, p in enumerate(points)]

    @cached_property
    def staggered(self) -> tuple[Choice, Choice]:
        """The best choice of couplings, and for every second hoop the first of those that share the fewest with it."""
        best, *others = self.couplings
        return best, min(others, key=lambda other: len(set(other) & set(best)), default=best)

    @cached_property
    def couplings(self) -> list[Choice]:
        """Choices of the stations where hoops are coupled, the best first; one of none where a stick does. [m]"""
        line, bender = self.section.line, bender_for(self.build.tube, "jig", self.build.benders())
        bends = [
            (start, start + piece.length_m)
            for piece, start in zip(line.pieces, line.starts_m)
            if isinstance(piece, Arc)
        ]
        bends = [(bends[0][0], bends[-1][1])]
        both_sides = [self._both(up) for up in self.purlins_m.values()]
        places = coupling_places_m(line.length_m, sorted({s for pair in both_sides for s in pair}), bends, True)
        taken = [s for i in (0, 1, len(self.y_m) - 1) for key, up in self._ups(i).items() for s in self._both(up)]
        free = [s for s in places if all(abs(s - t) > BESIDE_M - 1e-6 for t in taken)]
        held = max(bender.near_mm, bender.far_mm) / 1000
        stick = self.shop.longest_piece_mm(self.build.tube) / 1000
        return choices_of_couplings(line.length_m, stick, free, bends, held)

    def _both(self, up_m: float) -> tuple[float, float]:
        """Return the stations on the whole hoop of a length up each side. [m]"""
        station = self.section.buried_m + up_m
        return station, self.section.line.length_m - station

    def _gable(self, i: int) -> None:
        """Add two posts and two slopes that meet in swivels, and the knee braces that stiffen the eaves."""
        eave, knee = self.section.wall_m, self.knee_m
        apex = self.put(f"hoop {i + 1} apex", (0.0, self.y_m[i], self.section.top_m))
        for side, way in SIDES:
            ups = self._ups(i) | {"knee": eave - knee, "knee head": eave + knee}
            keys = {self.on(f"{side} {name}", i, up, way): up for name, up in ups.items()}
            ordered = sorted(keys, key=keys.__getitem__)
            top = self.on(f"{side} eave", i, eave, way)
            feet = self._feet(i, side, way)
            self._run(f"{side} post {i + 1}", "post", [*feet, *(k for k in ordered if keys[k] < eave), top])
            self._run(f"{side} rafter {i + 1}", "rafter", [top, *(k for k in ordered if keys[k] > eave), apex])
            ends = [f"hoop {i + 1} {side} {name}" for name in ("knee", "knee head")]
            self._run(f"{side} knee {i + 1}", "brace", ends)

    def _run(self, key: str, role: str, path: Any, **rest: Any) -> None:
        self.runs.append(Run(key=key, member=self.build.tube, path=tuple(path), role=role, **rest))

    # --- along the house

    def _purlin(self, key: str, name: str, up_m: float, way: float) -> None:
        """Add a tube inside the hoops, flush with the outer faces of the end hoops."""
        side = key.removesuffix(name).strip()
        on = [f"hoop {i + 1} {f'{side} {name}'.strip()}" for i in range(len(self.y_m))]
        x, z = self.section.inward(up_m)
        first, last, half = self.joints[on[0]], self.joints[on[-1]], self.outer_m / 2
        ends = (
            self.put(f"{key} front end", (first.x_m, first.y_m - half, first.z_m)),
            self.put(f"{key} far end", (last.x_m, last.y_m + half, last.z_m)),
        )
        offset = (0.0, 0.0, -self.outer_m) if name == "ridge" else (-way * x * self.outer_m, 0.0, z * self.outer_m)
        role = "ridge" if name.startswith("ridge") else "purlin"
        self._run(key, role, (ends[0], *on, ends[1]), offset_m=offset)

    def _braces(self) -> None:
        """Add a slanting tube in each end bay of both sides; in a house of one or two bays in the first alone."""
        last = len(self.y_m)
        for side, _ in SIDES:
            ends = (("front", 1, 2), ("far", last, last - 1))
            for end, low, high in ends if last > BRACED_BOTH else ends[:1]:
                self._run(f"{side} {end} brace", "brace", [f"hoop {low} {side} brace 0", f"hoop {high} {side} brace 1"])

    # --- end walls

    def _end_wall(self, i: int, end: str) -> None:
        """Add the studs of an end wall, and the header of its door."""
        b, y, heads = self.build, self.y_m[i], []
        for (k, x), (side, way) in product(enumerate(self.studs_m.get(end, ()), 1), SIDES):
            name = f"{end} {side} stud {k}"
            stood = foot(name, way * x, y, b.base, b.bed_depth_m, b.buried_m)
            self.joints |= {joint.key: joint for joint in stood.joints}
            self.supports += stood.supports
            path = [joint.key for joint in stood.joints]
            if self.has_door(end) and k == 1:
                heads.append(self.put(f"{name} head", (way * x, y, b.door_height_m + self.outer_m / 2)))
                path.append(heads[-1])
            self._run(name, "post", [*path, f"hoop {i + 1} {side} stud {k}"])
        if heads:
            self._run(f"{end} door header", "header", heads)

    def doors(self) -> Iterator[Part]:
        """Yield the doors: each turns outward about its left post."""
        for i, end in self.closed_ends:
            if self.has_door(end):
                turn = -100.0 if end == "front" else 100.0
                at = (-self.build.door_width_m / 2, self.y_m[i], 0.0)
                yield Part(key=f"{end} door", motion="hinged", axis_at=at, axis=(0.0, 0.0, 1.0), open_deg=turn)

    # --- what covers it

    def panels(self) -> Iterator[Panel]:
        """Yield the cover, bay by bay or side by side, and the end walls with their doors."""
        if self.build.form == "gable":
            yield from self._flats()
        else:
            buried = self.section.buried_m
            between = (buried, self.section.line.length_m - buried) if buried else None
            hoops = [f"hoop {i + 1}" for i in range(len(self.y_m))]
            for i, pair in enumerate(pairwise(hoops)):
                yield self._panel(
                    f"cover {i + 1}", pair, swept=pair, between_m=between, sheet="cover", one_piece=self.build.one_piece
                )
        for i, end in self.closed_ends:
            yield from self._end(i, end)

    def _panel(self, key: str, carriers: Any, **rest: Any) -> Panel:
        b = self.build
        fixing = ("tie-200", 1.0) if b.covering.startswith(("insect", "shade")) else (f"clip-{b.tube}", 1.0)
        return Panel(
            key=key, carried_by=tuple(carriers), covering=b.covering, encloses=bool(b.end_walls), overlap_m=b.overlap_m,
            wrap_m=b.wrap_m, fixing=fixing[0], fixing_each=fixing[1], fixing_spacing_m=b.clip_spacing_m, **rest,
        )  # fmt: skip

    def _flats(self) -> Iterator[Panel]:
        """Yield wall, slope, slope and wall of a gable, each as long as the house."""
        b, half, wall, top = self.build, self.section.half_width_m, self.section.wall_m, self.section.top_m
        a, z = self.y_m[0], self.y_m[-1]
        for side, way in SIDES:
            levels = {"wall": ((way * half, 0.0), (way * half, wall)), "slope": ((way * half, wall), (0.0, top))}
            for name, (low, high) in levels.items():
                points = [(low[0], a, low[1]), (low[0], z, low[1]), (high[0], z, high[1]), (high[0], a, high[1])]
                carriers = [run.key for run in self.runs if self._carries(run, side, name)]
                yield self._panel(
                    f"{side} {name}", carriers, outline=outline(points), side="wall" if name == "wall" else "roof",
                    sheet="cover", one_piece=b.one_piece,
                )  # fmt: skip

    def _carries(self, run: Run, side: str, name: str) -> bool:
        """Whether a run lies in the wall, or in the slope, of a side."""
        if not run.key.startswith(f"{side} "):
            return False
        if run.role in ("purlin", "ridge"):
            return run.key.endswith(("eave purlin", "hip rail")) == (name == "wall")
        return run.role == ("post" if name == "wall" else "rafter")

    def _end(self, i: int, end: str) -> Iterator[Panel]:
        """Yield one end wall, and its door."""
        y = self.y_m[i]
        names = [f"hoop {i + 1}"]
        if self.build.form == "gable":
            names = [f"{side} {part} {i + 1}" for side, _ in SIDES for part in ("post", "rafter")]
        number = len(self.studs_m.get(end, ()))
        studs = [f"{end} {side} stud {k + 1}" for k in range(number) for side, _ in SIDES]
        hole: tuple[Centreline, ...] = ()
        if self.has_door(end):
            x, z = self.build.door_width_m / 2, self.build.door_height_m
            hole = (outline([(-x, y, 0.0), (x, y, 0.0), (x, y, z), (-x, y, z)]),)
            yield self._panel(f"{end} door", studs[:2], outline=hole[0], side="door", part=f"{end} door")
        yield self._panel(f"{end} wall", [*names, *studs], outline=_moved(self.section.skin(), y), holes=hole)


def _moved(line: Centreline, y: float) -> Centreline:
    """Return a line of the plane y = 0 moved along the house."""

    def at(point: Vector) -> Vector:
        return (point[0], y, point[2])

    return Centreline(
        tuple(
            Straight(at(p.start), at(p.end))
            if isinstance(p, Straight)
            else replace(p, start=at(p.start), centre=at(p.centre))
            for p in line.pieces
        )
    )
