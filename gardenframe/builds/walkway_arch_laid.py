"""The joints, runs, supports and panels of one walkway arch, and what its drawing measures.

x goes across the path from the face of the left bed, y along it, z up from it. Each frame stands in its own upright
plane, askew where the beds are out of line; tubes along the path lie outside the frames, held by couplers.
"""

import math
from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations
from typing import Any

from gardenframe.builds.feet import foot
from gardenframe.builds.fields import both
from gardenframe.builds.walkway_arch_room import (
    UNDER_TOP_M,
    bender_of,
    leg_top_m,
    low_rails_m,
)
from gardenframe.errors import FrameError
from gardenframe.geometry.arcs import Centreline, rounded, straight_line
from gardenframe.geometry.coverings import area_vector_m2, outline
from gardenframe.geometry.frame import Frame, Joint, Panel, Run, Support
from gardenframe.geometry.hoops import coupling_places_m
from gardenframe.geometry.scene import Body, Dimension
from gardenframe.geometry.vectors import Vector, cross, size, times, unit
from gardenframe.kept import cached_property
from gardenframe.materials.shop import Shop

BAY_LEAST_M, BAY_MOST_M = 0.3, 3.0  # from frame to frame; beyond, no tube along the path finds a coupling
TAIL_M = 0.06  # a tube along the path reaches this and its own diameter beyond the outer frames
CORNER_M = 0.12  # from a corner, an apex or a bend to the nearest tube along the path
APART_LEAST_M = 0.10  # between tubes along the path over the top
BRACE_M = 0.10  # from a rail to the end of a wind brace
BRACED_M = 0.5  # least height between the rails that a brace fits into
BEYOND_M = 0.30  # the beds reach beyond the outer frames
PERSON_M = 1.70
SIDES = ("left", "right")


class Laid:
    """One walkway arch while it is laid out."""

    def __init__(self, build: Any, shop: Shop) -> None:
        self.build, self.shop, self.room = build, shop, build.room
        self.joints: dict[str, Joint] = {}
        self.runs: list[Run] = []
        self.supports: list[Support] = []
        room = self.room
        across = room.right_x - room.left_x
        self.ahead: Vector = (across / room.span_m, build.shift_m / room.span_m, 0.0)
        step = build.length_m / (build.frames - 1)
        self.y_m = [step * i for i in range(build.frames)]
        self.along: dict[str, list[str]] = {}  # tube along the path -> its joints, frame by frame
        self.offsets: dict[str, Vector] = {}
        self.legs_top = leg_top_m(build, room)

    def frame(self) -> Frame:
        """Return the whole frame."""
        for i in range(len(self.y_m)):
            for side in (0, 1):
                self._leg(i, side)
            self._over(i)
        self._along_runs()
        if self.build.braces:
            self._braces()
        return Frame.of(
            self.joints.values(),
            self.runs,
            self.supports,
            panels=tuple(self._panels()),
            bodies=tuple(self._bodies()),
            dimensions=tuple(self._dimensions()),
        )

    # --- one frame

    def put(self, key: str, at: Vector) -> str:
        """Add a joint and return its key."""
        self.joints[key] = Joint(key, *at)
        return key

    def at(self, i: int, s: float, z: float) -> Vector:
        """Return the place at a distance along frame i and a level."""
        return (self.room.left_x + s * self.ahead[0], self.y_m[i] + s * self.ahead[1], z)

    def rails_m(self, side: int) -> list[float]:
        """Levels of the rails of a side, lowest first. [m]"""
        low, number = low_rails_m(self.build)[side], self.build.side_rails
        top = self.legs_top - UNDER_TOP_M
        return [low + (top - low) * k / (number - 1) for k in range(number)]

    def brace_ends_m(self, side: int) -> tuple[float, float]:
        """Levels of the two ends of a wind brace. [m]"""
        rails = self.rails_m(side)
        if rails[-1] - rails[0] < BRACED_M:
            needs = f"{both(BRACED_M)} between the lowest and the highest rail of a side"
            raise self.build.wrong("braces", needs, "Make the arch higher, or go without.")
        return rails[0] + BRACE_M, rails[-1] - BRACE_M

    def _leg(self, i: int, side: int) -> None:
        """Add one leg with its foot, the joints of its rails and of its brace."""
        b, name = self.build, f"{SIDES[side]} leg {i + 1}"
        x, y, _ = self.at(i, side * self.room.span_m, 0.0)
        ground = b.level_m if side else 0.0
        base = "bed rails" if b.base == "tube bed" else b.base
        stood = foot(name, x, y, base, b.depths_m()[side], b.buried_m, ground_m=ground)
        self.joints |= {joint.key: joint for joint in stood.joints}
        self.supports += stood.supports
        levels = {joint.key: joint.z_m for joint in stood.joints}
        for k, z in enumerate(self.rails_m(side)):
            rail = f"{SIDES[side]} rail {k + 1}"
            levels[key := self.put(f"{name} rail {k + 1}", (x, y, z))] = z
            self.along.setdefault(rail, []).append(key)
            self.offsets[rail] = times(self.ahead, self.room.outer_m * (1 if side else -1))
        if b.braces and i < 2:
            z = self.brace_ends_m(side)[i]
            levels[self.put(f"{name} brace", (x, y, z))] = z
        levels[self.put(f"{name} top", (x, y, self.legs_top))] = self.legs_top
        self._run(name, "post", sorted(levels, key=levels.__getitem__))

    def _run(self, key: str, role: str, path: list[str], **rest: Any) -> None:
        self.runs.append(Run(key=key, member=self.build.tube, path=tuple(path), role=role, **rest))

    def _over(self, i: int) -> None:
        """Add what spans from leg to leg in frame i, with the joints of the tubes along the path."""
        room, span = self.room, self.room.span_m
        ends = [f"{side} leg {i + 1} top" for side in SIDES]
        crown = span / 2
        if room.radius_m:
            corners = [
                self.put(f"frame {i + 1} {side} corner", self.at(i, s, room.top_m)) for side, s in zip(SIDES, (0, span))
            ]
            spots, cuts = self._purlins_on(i), self._couplings_on(i)
            self._run(
                f"hoop {i + 1}", "hoop", [ends[0], *corners, ends[1]], bend_radius_m=room.radius_m,
                also=(*spots, *cuts), splices=tuple(cuts),
            )  # fmt: skip
        elif room.form == "gabled":
            apex = self.put(f"frame {i + 1} apex", self.at(i, crown, room.top_m))
            spots = self._purlins_on(i)
            left = [key for key, (s, _) in zip(spots, self.spots) if s < crown]
            self._run(f"left rafter {i + 1}", "rafter", [ends[0], *left, apex])
            self._run(f"right rafter {i + 1}", "rafter", [apex, *spots[len(left) :], ends[1]])
        else:
            self._run(f"beam {i + 1}", "header", [ends[0], *self._purlins_on(i), ends[1]])

    def _purlins_on(self, i: int) -> list[str]:
        """Add the joints of the tubes over the top of frame i."""
        found = []
        for k, ((s, z), (out_s, out_z)) in enumerate(zip(self.spots, self.outward)):
            purlin = f"purlin {k + 1}"
            found.append(self.put(f"frame {i + 1} {purlin}", self.at(i, s, z)))
            self.along.setdefault(purlin, []).append(found[-1])
            ahead = times(self.ahead, out_s * self.room.outer_m)
            self.offsets[purlin] = (ahead[0], ahead[1], out_z * self.room.outer_m)
        return found

    # --- the line over the top, in its plane: (s, 0, z)

    @cached_property
    def line(self) -> Centreline:
        """Line of what spans from leg to leg, in the plane of a frame."""
        room, low = self.room, self.legs_top
        points: list[Vector] = [(0.0, 0.0, low), (room.span_m, 0.0, low)]
        if room.radius_m:
            points[1:1] = [(0.0, 0.0, room.top_m), (room.span_m, 0.0, room.top_m)]
            return rounded(points, room.radius_m, "hoop")
        if room.form == "gabled":
            half = math.hypot(room.span_m / 2, room.top_m - low)
            return straight_line((0.0, 0.0, 0.0), (2 * half, 0.0, 0.0))  # unrolled: `_placed` folds it
        return straight_line(points[0], points[1])

    @cached_property
    def stations(self) -> list[float]:
        """Where the tubes along the path cross it. [m]"""
        number, length = self.build.roof_purlins, self.line.length_m
        shoe = self.room.form == "two bends" and bender_of(self.build).kind == "shoe"
        start = self.build.straight_m + math.pi / 2 * self.room.radius_m if shoe else 0.0
        if shoe or self.room.form == "flat":
            first, last = start + CORNER_M, length - start - CORNER_M
            found = [first + (last - first) * k / (number - 1) for k in range(number)] if number > 1 else [length / 2]
        else:
            found = [length * (k + 1) / (number + 1) for k in range(number)]
        if self.room.form == "gabled":
            found = [s - CORNER_M if abs(s - length / 2) < 1e-6 else s for s in found]
        self._refuse_crowded(found, [start, length - start, *([length / 2] if self.room.form == "gabled" else [])])
        return found

    def _refuse_crowded(self, found: list[float], kept: list[float]) -> None:
        near = min((abs(a - b) for a, b in combinations(found, 2)), default=1.0)
        if near < APART_LEAST_M or min(abs(s - place) for s in found for place in kept) < 0.99 * min(CORNER_M, 0.1):
            needs = (
                f"fewer on that width: they stand {both(APART_LEAST_M)} apart and {both(CORNER_M)} from corners or more"
            )
            raise self.build.wrong("roof_purlins", needs)

    @cached_property
    def spots(self) -> list[tuple[float, float]]:
        """Where the tubes over the top lie in the plane of a frame: s, z. [m]"""
        return [self._placed(station)[0] for station in self.stations]

    @cached_property
    def outward(self) -> list[tuple[float, float]]:
        """Which way is out there, in the plane of a frame."""
        return [self._placed(station)[1] for station in self.stations]

    def _placed(self, station: float) -> tuple[tuple[float, float], tuple[float, float]]:
        if self.room.form == "gabled":
            half, pitch = self.line.length_m / 2, math.radians(self.room.pitch_deg)
            up = station if station <= half else 2 * half - station
            s = up * math.cos(pitch)
            left = station <= half
            return (
                (s if left else self.room.span_m - s, self.legs_top + up * math.sin(pitch)),
                ((-1 if left else 1) * math.sin(pitch), math.cos(pitch)),
            )
        point, out = self.line.point(station), unit(cross(self.line.tangent(station), (0.0, 1.0, 0.0)))
        return (point[0], point[2]), (-out[0], -out[2])

    # --- couplings of a bent piece longer than a stick

    def _couplings_on(self, i: int) -> list[str]:
        """Add the joints at which the bent piece of frame i is coupled; every second frame takes its own."""
        choices = self.couplings
        if not choices:
            return []
        chosen = choices[i % min(2, len(choices))]
        points = [self.line.point(station) for station in chosen]
        return [self.put(f"hoop {i + 1} set coupling {k + 1}", self.at(i, p[0], p[2])) for k, p in enumerate(points)]

    @cached_property
    def couplings(self) -> list[tuple[float, ...]]:
        """The best and the next best choice of stations; none where one stick does. [m]

        Each piece must leave its bender straight ends, spare tube that is trimmed where the piece ends on a curve.
        """
        length, stick = self.line.length_m, self.shop.longest_piece_mm(self.build.tube) / 1000
        if length <= stick:
            return []
        bender, bends = bender_of(self.build), self.bends
        places = coupling_places_m(length, self.stations, bends, jig_matched=bender.kind == "jig")
        held = max(bender.near_mm, bender.far_mm) / 1000

        def needed(a: float, b: float) -> float:
            """Straight tube for a piece: a piece that ends on a curve is bent long and trimmed."""
            inside = [(max(start, a), min(end, b)) for start, end in bends if start < b and end > a]
            if not inside:
                return b - a
            return b - a + max(held - (inside[0][0] - a), 0.0) + max(held - (b - inside[-1][1]), 0.0)

        for number in range(1, 4):
            fits = [
                chosen
                for chosen in combinations(places, number)
                if all(needed(a, b) <= stick for a, b in zip((0.0, *chosen), (*chosen, length)))
            ]
            if fits:
                return sorted(fits, key=lambda chosen: max(b - a for a, b in zip((0.0, *chosen), (*chosen, length))))
        raise FrameError(
            "hoop",
            f"its bent piece is {length:.2f} m, the longest tube {stick:.2f} m, and no coupling beside a purlin serves",
            "Take more purlins over the top, shorter straights below the bend, or a narrower arch.",
        )

    @property
    def bends(self) -> list[tuple[float, float]]:
        """Where the bends begin and end along the line; two that touch are one. [m]"""
        found: list[tuple[float, float]] = []
        for piece, start in zip(self.line.pieces, self.line.starts_m):
            if piece in self.line.bends:
                if found and start - found[-1][1] < 1e-6:
                    found[-1] = (found[-1][0], start + piece.length_m)
                else:
                    found.append((start, start + piece.length_m))
        return found

    # --- along the path

    def _along_runs(self) -> None:
        """Add the tubes along the path, a little beyond the outer frames."""
        tail = TAIL_M + self.room.outer_m
        for name, keys in self.along.items():
            first, last = self.joints[keys[0]].at, self.joints[keys[-1]].at
            ends = (
                self.put(f"{name} front end", (first[0], first[1] - tail, first[2])),
                self.put(f"{name} far end", (last[0], last[1] + tail, last[2])),
            )
            role = "purlin" if name.startswith("purlin") else "rail"
            self._run(name, role, [ends[0], *keys, ends[1]], offset_m=self.offsets[name])

    def _braces(self) -> None:
        for side in SIDES:
            self._run(f"{side} brace", "brace", [f"{side} leg {i} brace" for i in (1, 2)])

    # --- what covers it

    def _panels(self) -> Iterator[Panel]:
        """Yield the sides and the top; each row of plants hangs on its side and on its half of the top, by area."""
        left, right = self._walls()
        made = [left, *self._tops(), right]
        strip = self.line.length_m * self.y_m[1]
        areas = {p.key: size(area_vector_m2(p.outline)) if p.outline else strip for p in made}
        sides = sum(area for key, area in areas.items() if key.endswith("side"))
        share = sides / sum(areas.values())
        for panel in made:
            rows = 2 if panel.key == "top" and panel.outline else 1  # a level top is climbed from both sides
            yield replace(panel, row_share=share if panel.key.endswith("side") else rows * (1 - share))

    def _panel(self, key: str, carriers: list[str], **rest: Any) -> Panel:
        b = self.build
        return Panel(
            key=key, carried_by=tuple(carriers), covering=None if b.covering == "none" else b.covering, plant=b.plant,
            overlap_m=b.overlap_m, fixing="tie-200", fixing_spacing_m=b.tie_spacing_m, pool="sides and top", **rest,
        )  # fmt: skip

    def _flat(self, corners: list[str]) -> Centreline:
        return outline([self.joints[key].at for key in corners])

    def _walls(self) -> Iterator[Panel]:
        last = len(self.y_m)
        for side in SIDES:
            legs = [f"{side} leg {i + 1}" for i in range(last)]
            rails = [f"{side} rail {k + 1}" for k in range(self.build.side_rails)]
            sheet = "" if self.room.radius_m else "net"  # one sheet goes up a side, over the top and down
            corners = [f"{legs[0]} rail 1", f"{legs[-1]} rail 1", f"{legs[-1]} top", f"{legs[0]} top"]
            yield self._panel(f"{side} side", legs + rails, outline=self._flat(corners), sheet=sheet)

    def _tops(self) -> Iterator[Panel]:
        last, room = len(self.y_m), self.room
        if room.radius_m:
            for i in range(1, last):
                hoops = (f"hoop {i}", f"hoop {i + 1}")
                yield self._panel(f"top {i}", list(hoops), swept=hoops, sheet="top")
            return
        knees = {side: [f"{side} leg 1 top", f"{side} leg {last} top"] for side in SIDES}
        purlins = [f"purlin {k + 1}" for k in range(self.build.roof_purlins)]
        if room.form == "flat":
            beams = [f"beam {i + 1}" for i in range(last)]
            corners = self._flat([*knees["left"], *knees["right"][::-1]])
            yield self._panel("top", beams + purlins, outline=corners, side="roof", sheet="net")
            return
        for side in SIDES:
            mine = [p for p, (s, _) in zip(purlins, self.spots) if (s < room.span_m / 2) == (side == "left")]
            rafters = [f"{side} rafter {i + 1}" for i in range(last)]
            corners = self._flat([*knees[side], f"frame {last} apex", "frame 1 apex"])
            yield self._panel(f"{side} slope", rafters + mine, outline=corners, side="roof", sheet="net")

    # --- what stands round it, what is measured

    def _bodies(self) -> Iterator[Body]:
        b = self.build
        front, far = -BEYOND_M, b.length_m + BEYOND_M
        kind = "soil" if b.base == "tube bed" else "bed"
        yield Body(
            kind=kind, low=(-b.left_width_m, front, 0.0), high=(0.0, far, b.left_depth_m), label="left bed"
        )  # fmt: skip
        right = b.between_m + b.right_width_m
        if b.level_m > 0:
            front_right, far_right = front + b.shift_m, far + b.shift_m
            yield Body(kind="ground", low=(b.between_m, front_right, 0.0), high=(right, far_right, b.level_m))
        yield Body(
            kind=kind, low=(b.between_m, front + b.shift_m, b.level_m),
            high=(right, far + b.shift_m, b.level_m + b.right_depth_m), label="right bed",
        )  # fmt: skip
        yield Body(kind="person", low=(right + 0.35, 0.0, 0.0), high=(right + 0.95, 0.3, PERSON_M), label="1.7 m")

    def _dimensions(self) -> Iterator[Dimension]:
        b, room = self.build, self.room
        edge = (b.between_m - b.path_m) / 2
        yield Dimension(
            view="front", start=(0, 0, 0), end=(b.between_m, 0, 0), axis="x", name="Between the beds", row=2,
            side="below", datum="clear",
        )  # fmt: skip
        yield Dimension(
            view="front", start=(edge, 0, 0), end=(edge + b.path_m, 0, 0), axis="x", name="Clear path", side="below",
        )  # fmt: skip
        yield Dimension(
            view="front", start=(-b.left_width_m, 0, 0), end=(-b.left_width_m, 0, b.height_m), axis="z", name="Height",
            row=2, side="left",
        )  # fmt: skip
        yield Dimension(
            view="front", start=(-b.left_width_m, 0, 0), end=(-b.left_width_m, 0, room.headroom_m), axis="z",
            name="Headroom", side="left",
        )  # fmt: skip
        yield Dimension(
            view="side", start=(0, 0, 0), end=(0, b.length_m, 0), axis="y", name="Length", row=2, side="below",
            datum="centre to centre",
        )  # fmt: skip
        yield Dimension(
            view="side", start=(0, 0, 0), end=(0, self.y_m[1], 0), axis="y", name="Frames", side="below",
            datum="centre to centre",
        )  # fmt: skip
        if b.shift_m:
            y = sorted((0.0, b.shift_m))
            yield Dimension(
                view="plan", start=(b.between_m, y[0], 0), end=(b.between_m, y[1], 0), axis="y", name="Out of line",
                side="right",
            )  # fmt: skip
