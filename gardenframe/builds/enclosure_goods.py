"""What an enclosure takes beside its frame: sill and boards that are cut, and small goods for gates, lids and mesh.

A plan of an enclosure comes in; loose pieces and needs of the bill go out. Spacings are common practice, no source.
"""

import math
from collections.abc import Iterator, Sequence
from typing import Any

from gardenframe.builds.enclosure_gate import UPRIGHT_DEG, Gate, gates_of
from gardenframe.builds.enclosure_walls import SILL_M
from gardenframe.builds.feet import foot_needs
from gardenframe.costs.bill import Need
from gardenframe.geometry.pieces import Loose, even_parts
from gardenframe.geometry.pools import packed
from gardenframe.materials.fixings import load_fixings

SILL, BOARD, PROP, BATTEN = "timber-4x4", "timber-2x6", "timber-2x2", "batten-20x40"
STAPLE_APART_M, PIN_APART_M, SCREW_APART_M = 0.30, 1.5, 0.30
BESIDE_M = 0.10  # of a board past each post of the gate
OFF_A_HOLE_M = 0.15  # from a post's hole to where two timbers of a sill meet
LEAST_SILL_M = 0.40


def sill_parts_m(long_m: float, holes_m: Sequence[float], longest_m: float) -> list[float]:
    """Return the lengths that one side of a sill is made of; they meet well away from the holes of posts. [m]

    >>> sill_parts_m(2.0, [0.05, 1.95], 2.4), [round(part, 2) for part in sill_parts_m(4.0, [0.05, 2.4, 3.95], 2.4)]
    ([2.0], [2.25, 1.75])
    """
    ends = [0.0]
    while long_m - ends[-1] > longest_m + 1e-9:
        meet = min(ends[-1] + longest_m, long_m - LEAST_SILL_M)
        near = [hole for hole in holes_m if abs(hole - meet) < OFF_A_HOLE_M]
        ends.append(min(near, default=meet + OFF_A_HOLE_M) - OFF_A_HOLE_M)
    return [b - a for a, b in zip(ends, [*ends[1:], long_m])]


def sill_of(plan: Any) -> list[list[float]]:
    """Return the parts of each side of a sill, front and back first: these go past the ends of the others. [m]"""
    build, longest = plan.build, plan.shop.longest_piece_mm(SILL) / 1000
    half = (SILL_M - plan.shop.member(build.tube).outer_mm / 1000) / 2
    feet = [plan.frame.joints[one.joint] for one in plan.frame.supports if one.base == "sill hole"]
    sides = []
    for axis, long_m, start in ((0, build.width_m + 2 * half, -half), (1, build.depth_m + 2 * half - 2 * SILL_M,
                                                                       SILL_M - half)):  # fmt: skip
        across = [foot.at[1 - axis] for foot in feet]
        for edge in (min(across), max(across)):
            holes = [foot.at[axis] - start for foot in feet if abs(foot.at[1 - axis] - edge) < 1e-6]
            sides.append(sill_parts_m(long_m, sorted(holes), longest))
    return sides


def has_board(build: Any) -> bool:
    """Return whether a board lies under the gate: on a sill or a bed, that is there already."""
    return bool(build.gated and build.size == "walk-in" and build.threshold and build.base in ("stakes", "sleeves"))


def propped(build: Any) -> bool:
    """Return whether lids stand open on props: a chain alone holds one that leans back past upright."""
    return bool(not build.gated and build.lid == "hinged" and build.opened_deg < UPRIGHT_DEG)


def pieces(plan: Any) -> Iterator[Loose]:
    """Yield the sill, the boards under gates and the props of lids that do not open past upright."""
    build = plan.build
    if propped(build):
        deep = build.depth_m - plan.shop.member(build.tube).outer_mm / 1000
        chord = 2 * deep * math.sin(math.radians(build.opened_deg) / 2)
        yield Loose(name="prop of a lid", role="prop", member=PROP, length_m=chord, number=build.lids)
    if build.base == "sill holes":
        for part in (part for side in sill_of(plan) for part in side):
            yield Loose(name="sill", role="sill", member=SILL, length_m=part)
    if has_board(build):
        tube, longest = plan.shop.member(build.tube).outer_mm / 1000, plan.shop.longest_piece_mm(BOARD) / 1000
        for part in (part for part in plan.frame.parts if part.motion == "hinged"):
            at = {key: joint.at for key, joint in plan.frame.joints.items()}
            wide = math.dist(at[f"{part.key} hinge side 1"], at[f"{part.key} latch side 1"])
            clear = wide + tube + 2 * build.gap_m
            number, length = even_parts(clear + 2 * BESIDE_M, longest)
            yield Loose(name=f"board under the {part.key}", role="base board", member=BOARD, length_m=length,
                        number=number)  # fmt: skip


def needs(plan: Any) -> Iterator[Need]:
    """Yield what the feet, gates, lids, sill and skirt take."""
    build = plan.build
    yield from foot_needs(plan.frame, build.tube, build.buried_m)
    yield from _leaf_needs(plan, gates_of(plan))
    if build.base == "sill holes":
        sides = sill_of(plan)
        pins = sum(max(2, math.ceil(part / PIN_APART_M)) for side in sides for part in side)
        yield Need(item="stake-rebar-600", number=pins, group="sill", note="pins through the sill")
        meet = 4 + sum(len(side) - 1 for side in sides)
        yield Need(item="two-screws-timber", number=meet, group="sill", note="where its timbers meet", spare=True)
    around = 2 * (build.width_m + build.depth_m)
    edges = around * (bool(build.buried_mesh_m) + bool(build.apron_m))
    if edges:
        yield Need(item="staple-ground", number=math.ceil(edges / STAPLE_APART_M), group="covering", note="skirt")
        yield _ties(build, around)
    for tied in (build.overhang_m, build.floor_down_m):
        if tied:
            yield _ties(build, around)
    seams = sum((len(c.strips.strips) - 1) * c.strips.strips[0].length_m for c in plan.covered)
    if seams:
        yield _ties(build, seams)


def _ties(build: Any, along_m: float) -> Need:
    number = math.ceil(along_m / build.tie_spacing_m)
    return Need(item=build.fixing, number=number * build.fixing_each, group="covering", spare=True)


def _leaf_needs(plan: Any, leaves: Sequence[Gate]) -> Iterator[Need]:
    build = plan.build
    hinges = sum(len(gate.hinges) for gate in leaves)
    latches = sum(1 for f in plan.fitted if f.fitting == "latch")
    word = "gate" if build.gated else "lid"
    yield Need(item="hinge-gate", number=math.ceil(hinges / 2), group=word, note=f"{word} hinges")
    yield Need(item="latch-gate", number=latches, group=word, note="opens from both sides" if build.gated else "")
    swing = sum(1 for gate in leaves if gate.part.motion == "hinged")
    yield Need(item="chain-1m", number=swing, group=word, note="stops it and holds it open")
    if build.gated and build.strips:
        cut = battens_m(plan, leaves)
        number = packed([cut], _batten_m())[0]
        yield Need(item=BATTEN, number=number, group=word, note="strips over the gaps")
        screws = sum(math.ceil(part / SCREW_APART_M) + 1 for part in cut)
        yield Need(item="screw-batten", number=screws, group=word, note="strips over the gaps", spare=True)


def _batten_m() -> float:
    return (load_fixings()[BATTEN].length_mm or 0.0) / 1000


def battens_m(plan: Any, leaves: Sequence[Gate]) -> list[float]:
    """Return what battens are cut to, to go round every gate over its gaps. [m]"""
    more = plan.shop.member(plan.build.tube).outer_mm / 1000 + 2 * plan.build.gap_m
    found = []
    for side in (side + more for gate in leaves for side in (gate.width_m, gate.tall_m)):
        number, length = even_parts(side, _batten_m())
        found += [length] * (2 * number)
    return found
