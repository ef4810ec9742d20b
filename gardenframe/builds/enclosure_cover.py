"""The panels of an enclosure: walls round the gateways, gables, roof, skirt in the ground, top bent out, mesh floor.

Laid lines and runs come in; panels go out. Each face is covered once: what a gate fills is left out of its wall.
"""

import math
from collections.abc import Iterator, Sequence
from typing import Any

from gardenframe.builds.enclosure_walls import SILL_M
from gardenframe.geometry.coverings import outline
from gardenframe.geometry.frame import Panel, Run
from gardenframe.geometry.vectors import Vector, add, cross, dot, minus, size, times, unit

LEAST_M = 0.03  # a shorter stretch of a tube carries nothing
OVERHANG_DEG = 45.0  # bent out from level (wvu-fence)
WRAP_M = 0.04  # mesh bent round the tubes at its edges


class Covers:
    """The panels of one enclosure; `laid` is its `Laid`."""

    def __init__(self, laid: Any, runs: Sequence[Run]) -> None:
        self.laid, self.build = laid, laid.build
        self.runs = [(run.key, laid.joints[run.path[0]].at, laid.joints[run.path[-1]].at) for run in runs]
        self.mesh, self.roof, self.skirt = self.build.meshes(laid.shop)

    def panels(self) -> Iterator[Panel]:
        """Yield every fixed panel."""
        for wall in self.laid.walls.values():
            yield from self._wall(wall)
        if self.laid.gabled:
            yield from self._gables()
        elif self.build.roofed and self.build.gated:
            front, left = self.laid.walls["front"], self.laid.walls["left"]
            z = self.laid.top_z
            corners = [front.at(0, z), front.at(front.length_m, z), left.at(0, z), left.at(0, z)]
            back = self.laid.walls["back"]
            corners[2:] = [back.at(0, z), back.at(back.length_m, z)]
            yield self._panel("roof", self.roof, corners, side="roof")
        yield from self._below()
        if self.build.overhang_m:
            yield from self._overhang()

    def leaf(self, key: str, corners: Sequence[Vector], carriers: Sequence[str], opened: bool) -> Panel:
        """Return the panel of a gate or a lid; an open gate stands in the wind as a wall of its own."""
        lid = key.startswith("lid")
        covering = self.roof if lid else self.mesh
        return self._panel(key, covering, corners, carriers=carriers, part=key, side="roof" if lid else "wall")

    def _panel(
        self,
        key: str,
        covering: str,
        corners: Sequence[Vector],
        *,
        carriers: Sequence[str] | None = None,
        side: str = "wall",
        part: str = "frame",
        sheet: str = "",
    ) -> Panel:
        build = self.build
        mine = tuple(self._carriers(corners) if carriers is None else carriers)
        return Panel(
            key=key, carried_by=mine, covering=covering, outline=outline(corners), side=side, part=part, sheet=sheet,
            pool="mesh",
            overlap_m=build.overlap_m, wrap_m=WRAP_M if mine else 0.0, fixing=build.fixing,
            fixing_each=build.fixing_each, fixing_spacing_m=build.tie_spacing_m,
        )  # fmt: skip

    def _carriers(self, corners: Sequence[Vector]) -> Iterator[str]:
        """Yield the runs that lie in a panel's plane and, for a stretch, within its outline."""
        normal = unit(cross(minus(corners[1], corners[0]), minus(corners[-1], corners[0])))
        for key, a, b in self.runs:
            flat = max(abs(dot(minus(p, corners[0]), normal)) for p in (a, b)) < 1e-6
            if flat and _within_m(corners, normal, a, b) > LEAST_M:
                yield key

    # --- walls

    @property
    def mesh_foot_m(self) -> float:
        """Where the mesh of walls ends below: on the boards of a bed, on the sill, else on the ground. [m]"""
        sill = self.build.base == "sill holes"
        return SILL_M - self.build.hole_m if sill else float(self.laid.soil_m)

    def _wall(self, wall: Any) -> Iterator[Panel]:
        laid = self.laid
        low, high = self.mesh_foot_m, laid.top_z
        way = next((way for way in laid.ways if way.wall.key == wall.key), None)

        def part(name: str, a: float, b: float, bottom: float, top: float) -> Iterator[Panel]:
            if b - a > LEAST_M and top - bottom > LEAST_M:
                corners = [wall.at(a, bottom), wall.at(b, bottom), wall.at(b, top), wall.at(a, top)]
                yield self._panel(f"{wall.key}{name}", self.mesh, corners)

        if way is None:
            yield from part("", 0.0, wall.length_m, low, high)
            return
        a, b, header = way.left_m, way.right_m, laid.header_z(way)
        yield from part(" left of the gate", 0.0, a, low, high)
        yield from part(" right of the gate", b, wall.length_m, low, high)
        yield from part(" over the gate", a, b, header, high)
        if self.build.size == "reach-in":
            yield from part(" under the gate", a, b, low, laid.low_z)

    def _gables(self) -> Iterator[Panel]:
        """Yield the two ends above the eaves and the two slopes."""
        laid = self.laid
        eave, tip, apex = laid.top_z, laid.post_top_z, laid.apex_z
        for key in ("left", "right"):
            wall, end = laid.walls[key], laid.walls[key].length_m
            places = ((0, eave), (end, eave), (end, tip), (end / 2, apex), (0, tip))
            yield self._panel(f"{key} gable", self.mesh, [wall.at(u, z) for u, z in places])
        front, back = laid.walls["front"], laid.walls["back"]
        half = laid.walls["left"].length_m / 2
        for wall in (front, back):
            inward = times(wall.out, -half)
            eaves = [wall.at(u, z) for u, z in ((0, eave), (wall.length_m, eave), (wall.length_m, tip), (0, tip))]
            yield self._panel(f"{wall.key} eave", self.mesh, eaves)
            foot = [wall.at(0, tip), wall.at(wall.length_m, tip)]
            head = [add((p[0], p[1], apex), inward) for p in reversed(foot)]
            yield self._panel(f"{wall.key} slope", self.roof, [*foot, *head], side="roof")

    # --- in the ground and on top

    def _below(self) -> Iterator[Panel]:
        """Yield the skirt of each wall, straight down and then out, from one strip; the mesh floor."""
        build, down, out = self.build, self.build.buried_mesh_m, self.build.apron_m
        for wall in self.laid.walls.values():
            more = out if wall.key in ("front", "back") else 0.0  # front and back take the corners of the apron
            sheet = f"{wall.key} skirt"
            a, b = wall.at(0.0, 0.0), wall.at(wall.length_m, 0.0)
            if down:
                corners = [a, b, add(b, (0, 0, -down)), add(a, (0, 0, -down))]
                yield self._panel(f"{sheet} down", self.skirt, corners, carriers=(), side="floor", sheet=sheet)
            if out:
                a, b = (wall.at(u, -down) for u in (-more, wall.length_m + more))
                corners = [a, b, add(b, times(wall.out, out)), add(a, times(wall.out, out))]
                yield self._panel(f"{sheet} out", self.skirt, corners, carriers=(), side="floor", sheet=sheet)
        if build.floor:
            front, back = self.laid.walls["front"], self.laid.walls["back"]
            z = 0.0 if self.laid.soil_m else -build.floor_m
            corners = [front.at(0, z), front.at(front.length_m, z), back.at(0, z), back.at(back.length_m, z)]
            yield self._panel("mesh floor", build.floor_mesh(self.laid.shop), corners, carriers=(), side="floor")

    def _overhang(self) -> Iterator[Panel]:
        """Yield the top of each wall bent outwards: mesh alone, left floppy, so that nothing can climb over it."""
        reach = self.build.overhang_m
        run, rise = (f(math.radians(OVERHANG_DEG)) * reach for f in (math.cos, math.sin))
        for wall in self.laid.walls.values():
            a, b = (wall.at(u, self.laid.top_z) for u in (0.0, wall.length_m))
            way = add(times(wall.out, run), (0.0, 0.0, rise))
            corners = [a, b, add(b, way), add(a, way)]
            yield self._panel(f"{wall.key} top bent out", self.mesh, corners, carriers=(), side="floor")


def _within_m(corners: Sequence[Vector], normal: Vector, a: Vector, b: Vector) -> float:
    """Return the length of a straight piece that lies within a convex outline in its plane, its edges included. [m]"""
    start, end, long = 0.0, 1.0, size(minus(b, a))
    for p, q in zip(corners, [*corners[1:], corners[0]]):
        inward = cross(normal, minus(q, p))
        here, there = (dot(minus(at, p), inward) / size(inward) + 1e-6 for at in (a, b))
        if here < 0 and there < 0:
            return 0.0
        if here < 0:
            start = max(start, here / (here - there))
        elif there < 0:
            end = min(end, here / (here - there))
    return max(0.0, end - start) * long
