"""One moving leaf of an enclosure, a gate or a lid: its joints, lines, part and panel, closed or turned open.

A leaf is flat: u runs from the side where it turns to the side where it latches, v along the hinge line, and it opens
towards its face. Two stiles go along v, rails and bars along u, a diagonal from stile to stile.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Any

from gardenframe.geometry.frame import Part, Run
from gardenframe.geometry.lines import Line
from gardenframe.geometry.swings import at_angle
from gardenframe.geometry.vectors import Vector, add, cross, times

BRACE_IN_M = 0.12  # from a corner of the leaf to the end of its diagonal
APART_M = 0.07  # room that a hinge or a fitting takes along a tube
HINGE_IN_M = 0.22
BAR_APART_M = 0.95  # a leaf's mesh is carried at least this often


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaf:
    """A leaf before it is laid: where its corner at the hinge line is, its ways, its sides, its pins and its seat."""

    key: str
    motion: str  # hinged or lift-off
    corner: Vector
    along_u: Vector
    along_v: Vector
    face: Vector
    u_m: float
    v_m: float
    pin: Vector  # a point of the line it turns about
    seat: Vector  # from the axis of the hinge stile to that of the tube it hangs on
    far_seat: Vector  # from the latch stile to the tube it latches to
    open_deg: float
    gap_m: float
    brace: str = "none"  # push, pull or none
    bars: int = 0
    hinges: int = 2
    latches: int = 1

    @property
    def role(self) -> str:
        """What its tubes are, but for a diagonal."""
        return "lid" if self.key.startswith("lid") else "gate leaf"

    @property
    def part(self) -> Part:
        """The part that it moves as."""
        if self.motion == "lift-off":
            return Part(key=self.key, motion="lift-off", gap_m=self.gap_m)
        return Part(
            key=self.key, motion="hinged", axis_at=self.pin, axis=cross(self.along_u, self.face),
            open_deg=self.open_deg, gap_m=self.gap_m,
        )  # fmt: skip

    def at(self, u_m: float, v_m: float, opened_deg: float = 0.0) -> Vector:
        """Return a place on the leaf, turned with it. [m]"""
        place = add(self.corner, add(times(self.along_u, u_m), times(self.along_v, v_m)))
        return at_angle(self.part, place, opened_deg) if opened_deg else place

    @property
    def bars_m(self) -> list[float]:
        """Where bars cross it between its rails; none where a diagonal does. [m]"""
        if self.brace != "none":
            return []
        return [self.v_m * (i + 1) / (self.bars + 1) for i in range(self.bars)]

    @property
    def brace_in_m(self) -> float:
        """From a corner to the end of the diagonal. [m]"""
        return min(BRACE_IN_M, self.v_m / 4)

    @property
    def stile_marks_m(self) -> list[float]:
        """Where something meets a stile, in v. [m]"""
        ends = [self.brace_in_m, self.v_m - self.brace_in_m] if self.brace != "none" else []
        return sorted([0.0, *ends, *self.bars_m, self.v_m])

    def places_m(self, number: int, taken: Iterable[float] = ()) -> list[float]:
        """Return places in v for hinges or latches, clear of what already stands on either tube. [m]"""
        busy = [*self.stile_marks_m, *taken]
        inset = min(HINGE_IN_M, self.v_m / 4)
        wanted = [self.v_m / 2] if number == 1 else [
            inset + (self.v_m - 2 * inset) * k / (number - 1) for k in range(number)
        ]  # fmt: skip
        found: list[float] = []
        for place in wanted:
            found.append(_free(place, [*busy, *found], 0.02, self.v_m - 0.02))
        return found

    def lines(self, member: str) -> tuple[list[Line], dict[str, Vector]]:
        """Return its lines and joints, closed."""
        k = self.key
        joints: dict[str, Vector] = {}

        def put(name: str, u: float, v: float) -> str:
            joints[f"{k} {name}"] = self.at(u, v)
            return f"{k} {name}"

        rails = [0.0, *self.bars_m, self.v_m]
        near = [(v, put(f"hinge side {i + 1}", 0.0, v)) for i, v in enumerate(rails)]
        far = [(v, put(f"latch side {i + 1}", self.u_m, v)) for i, v in enumerate(rails)]
        names = ["low rail", *(f"bar {i + 1}" for i in range(len(self.bars_m))), "high rail"]
        made = [
            Line(key=f"{k} {name}", member=member, joints=(a[1], b[1]), role=self.role, part=k)
            for name, a, b in zip(names, near, far)
        ]
        if self.brace != "none":
            low, high = self.brace_in_m, self.v_m - self.brace_in_m
            ends = (low, high) if self.brace == "push" else (high, low)
            near.append((ends[0], put("diagonal foot", 0.0, ends[0])))
            far.append((ends[1], put("diagonal head", self.u_m, ends[1])))
            made.append(
                Line(key=f"{k} diagonal", member=member, joints=(near[-1][1], far[-1][1]), role="brace", part=k)
            )
        for name, side in (("hinge stile", near), ("latch stile", far)):
            path = tuple(key for _, key in sorted(side))
            made.append(Line(key=f"{k} {name}", member=member, joints=path, role=self.role, first=1, part=k))
        return made, joints


def hung(runs: Sequence[Run], joints: dict[str, Any], stile: str, on: dict[str, float], leaf: Leaf) -> list[Run]:
    """Return runs with the joints of hinges or latches put on those of a stile beside which they lie, by their v."""
    out = []
    for run in runs:
        if run.key == stile or run.key.startswith(f"{stile}."):
            ends = sorted(_v(joints[key], leaf) for key in (run.path[0], run.path[-1]))
            mine = tuple(key for key, v in on.items() if ends[0] < v < ends[1])
            out.append(replace(run, also=run.also + mine))
        else:
            out.append(run)
    return out


def _v(point: Vector, leaf: Leaf) -> float:
    return sum((p - c) * a for p, c, a in zip(point, leaf.corner, leaf.along_v))


def _free(place: float, busy: Sequence[float], low: float, high: float) -> float:
    """Return the place nearest to one wanted that has room, or the roomiest where none has."""
    best, most = place, -1.0
    for n in range(int((high - low) / 0.01) + 1):
        for tried in (place + 0.01 * n, place - 0.01 * n):
            room = min((abs(tried - b) for b in busy), default=math.inf) if low <= tried <= high else -1.0
            if room >= APART_M:
                return tried
            if room > most:
                best, most = tried, room
    return best
