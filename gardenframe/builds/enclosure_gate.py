"""What the gates of an enclosure weigh, pull, sag and sweep, closed and open.

A plan of an enclosure comes in; rows of checks, working and sentences go out.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from gardenframe.builds.enclosure_laid import Laid
from gardenframe.builds.enclosure_walls import SILL_M
from gardenframe.builds.fields import both
from gardenframe.geometry import swings
from gardenframe.geometry.fittings import fit
from gardenframe.geometry.frame import Frame, Part, Support
from gardenframe.geometry.vectors import distance
from gardenframe.materials import constants
from gardenframe.materials.coverings import load_coverings
from gardenframe.strength import gates
from gardenframe.strength.cases import GRAVITY_M_PER_S2, Case, LineLoad, PointLoad, self_weight
from gardenframe.strength.joints import joint_springs
from gardenframe.strength.rows import CheckRow, worst
from gardenframe.strength.standing import Standing
from gardenframe.strength.stiffness import respond, solve
from gardenframe.working import Step

OPEN_WIND_M_PER_S = 8.0  # shut and latch a gate before it blows harder (common practice, no source)
STAPLE_APART_M = 0.30
UPRIGHT_DEG = 90.0
OPEN_ROWS = 4  # the hardest of the frame with its gates open; the rest repeats what is said of it shut
FARTHEST_DEG = 170.0
_KEPT: dict[tuple[int, str], tuple[Frame, swings.Clash | None]] = {}  # of the leaves last asked for
KEPT_LEAVES = 16


@dataclass(frozen=True, slots=True)
class Gate:
    """One leaf as it hangs: sides axis to axis, how far apart its hinges are, its mass."""

    part: Part
    width_m: float
    tall_m: float
    apart_m: float
    hinges: tuple[str, ...]
    mass_kg: float
    tube_m: float
    mesh_m2: float
    mesh_kg_per_m2: float
    brace_m: tuple[float, float] | None  # length of the diagonal and its rise

    @property
    def weight_n(self) -> float:
        """Its weight. [N]"""
        return gates.weight_n(self.mass_kg)


def gates_of(plan: Any) -> list[Gate]:
    """Return every moving leaf of a plan: gates, or lids."""
    return [_gate(plan, part) for part in plan.frame.parts if part.motion != "fixed"]


def _gate(plan: Any, part: Part) -> Gate:
    frame: Frame = plan.frame
    at = {key: joint.at for key, joint in frame.joints.items() if key.startswith(part.key)}
    low, far = at[f"{part.key} hinge side 1"], at[f"{part.key} latch side 1"]
    rails = sum(1 for key in at if key.startswith(f"{part.key} hinge side"))
    high = at[f"{part.key} hinge side {rails}"]
    mine = {run.key for run in frame.runs.values() if run.part == part.key}
    hinges = tuple(
        f.joint for f in plan.fitted if f.fitting == "hinge" and any(c.run in mine for c in frame.contacts[f.joint])
    )
    tube_m = sum(abs(p.end_m - p.start_m) for piece in plan.cut for p in piece.places if p.run in mine)
    panel = next(p for p in frame.panels if p.key == part.key)
    area = next(c.area_m2 for c in plan.covered if c.panel == part.key)
    mesh = load_coverings()[panel.covering or ""].mass_kg_per_m2
    mass = gates.gate_mass_kg(tube_m, plan.shop.member(plan.build.tube).mass_kg_per_m, area, mesh)
    apart = distance(frame.joints[hinges[0]].at, frame.joints[hinges[-1]].at) if hinges else 0.0
    brace = None
    if f"{part.key} diagonal" in frame.runs:
        foot, head = (at[f"{part.key} diagonal {end}"] for end in ("foot", "head"))
        brace = (distance(foot, head), abs(head[2] - foot[2]))
    return Gate(
        part, distance(low, far), distance(low, high), apart, hinges, mass, tube_m, area, mesh, brace
    )  # fmt: skip


def outer_of(plan: Any) -> dict[str, float]:
    """Return the outside diameter of every member. [m]"""
    return {key: member.across_mm / 1000 for key, member in plan.shop.members.items()}


def stopped_at(plan: Any, part: Part) -> swings.Clash | None:
    """Return what first stops the swing of a leaf, the others closed; None where nothing does. Kept for its frame."""
    frame: Frame = plan.frame
    kept = _KEPT.get((id(frame), part.key))
    if kept is not None and kept[0] is frame:
        return kept[1]
    if len(_KEPT) >= KEPT_LEAVES:
        _KEPT.pop(next(iter(_KEPT)), None)
    found = swings.first(swings.clashes(frame, outer_of(plan), part, to_deg=FARTHEST_DEG))
    _KEPT[id(frame), part.key] = (frame, found)
    return found


# --- sag


def leaf_frame(plan: Any, gate: Gate) -> Frame:
    """Return one leaf by itself, held where its hinges are."""
    frame: Frame = plan.frame
    mine = [run for run in frame.runs.values() if run.part == gate.part.key]
    also = {key for run in mine for key in run.also if key not in gate.hinges}
    runs = [replace(run, also=tuple(k for k in run.also if k not in also)) for run in mine]
    named = {key for run in runs for key in (*run.path, *run.also)}
    supports = [Support(joint=key, base="hinge", held="xyzZ" if n == 0 else "xyZ") for n, key in enumerate(gate.hinges)]
    panels = tuple(panel for panel in frame.panels if panel.key == gate.part.key)
    return Frame.of(
        [joint for key, joint in frame.joints.items() if key in named], runs, supports, parts=(gate.part,),
        panels=panels, joining=frame.joining,
    )  # fmt: skip


def sags_m(plan: Any, gate: Gate, person_n: float) -> tuple[float, float]:
    """Return how far the latch side of a hanging leaf sinks by bending: under its weight, with a person there. [m]"""
    leaf = leaf_frame(plan, gate)
    fitted = fit(leaf, plan.shop.fittings, plan.shop.members)
    own = self_weight(leaf, {key: m.mass_kg_per_m for key, m in plan.shop.members.items()})
    mesh_n = gate.mesh_m2 * gate.mesh_kg_per_m2 * GRAVITY_M_PER_S2
    level = [
        key for key, run in leaf.runs.items() if run.role != "brace" and abs(leaf.lines[key].tangent(0.0)[2]) < 0.1
    ]
    long = sum(leaf.lines[key].length_m for key in level)
    loads: list[Any] = [*own.loads, *(LineLoad(run=key, force_n_per_m=(0, 0, -mesh_n / long)) for key in level)]
    far = f"{gate.part.key} latch side 1"
    contact = leaf.contacts[far][0]
    hung = PointLoad(run=contact.run, station_m=contact.station_m, force_n=(0.0, 0.0, -person_n))
    cases = [Case(key="D", loads=tuple(loads), label="weight"), Case(key="P", loads=(hung,), label="a person")]
    moved = solve(leaf, cases, members=plan.shop.members, springs=joint_springs(leaf, fitted))
    down = moved.joint_movements[:, list(moved.mesh.joint_keys).index(far), 2]
    return -float(down[0]), -float(down[0] + down[1])


# --- open


def open_frame(plan: Any) -> Frame:
    """Return the frame with every hinged leaf turned open, at most square to where it hung."""
    part_keys = [part.key for part in plan.frame.parts if part.motion == "hinged"]
    return Laid(plan.build, plan.shop, dict.fromkeys(part_keys, min(plan.build.opened_deg, UPRIGHT_DEG))).frame()


def open_rows(plan: Any) -> Iterator[CheckRow]:
    """Yield the hardest rows with the gates hooked open in a breeze, a person's weight on each latch side."""
    frame = open_frame(plan)
    person = constants.value("lean_n")
    loads = []
    for gate in gates_of(plan):
        contact = frame.contacts[f"{gate.part.key} latch side 2"][0]
        loads.append(PointLoad(run=contact.run, station_m=contact.station_m, force_n=(0.0, 0.0, -person)))
    site = replace(plan.site, wind_m_per_s=OPEN_WIND_M_PER_S, wind_kind="forecast", ground_snow_pa=0.0)
    standing = Standing(
        frame=frame, fitted=fit(frame, plan.shop.fittings, plan.shop.members), covered=plan.covered, site=site,
        members=plan.shop.members, extra=(Case(key="G", loads=tuple(loads), label="a person on each open gate"),),
        order="amplified", anchoring=plan.build.anchoring(),
    )  # fmt: skip
    kept = tuple(c for c in standing.loads.combinations if not any(key[:1] == "L" for key in c.factors))
    response = respond(standing.model, standing.loads.cases, kept, order="amplified")  # a push swings it, and no more
    held = worst(standing.anchored(response, kept).rows)
    found = sorted(standing.checked(response, kept).rows, key=lambda row: -row.ratio)[:OPEN_ROWS]
    for row in (*found, *([held] if held else [])):
        yield replace(row, check=f"gates open: {row.check}")


# --- checks


def rows(plan: Any) -> Iterator[CheckRow]:
    """Yield what gates and lids add to the checks."""
    leaves = gates_of(plan)
    for gate in leaves:
        if gate.part.motion == "hinged":
            yield from _swing_rows(plan, gate)
    if plan.build.gated:
        for gate in leaves:
            yield from _gate_rows(plan, gate)
        yield from _access_rows(plan)
        if not plan.live:  # a second frame to solve: worked when the sliders rest
            yield from open_rows(plan)
    else:
        for gate in leaves:
            yield _lift_row(gate)


def _swing_rows(plan: Any, gate: Gate) -> Iterator[CheckRow]:
    met = stopped_at(plan, gate.part)
    where = f"{gate.part.key}, meets {met.other if met else 'nothing'}"
    yield CheckRow(
        check=f"{_word(plan)}: swing", case="as it opens", where=where,
        demand=plan.build.opened_deg, capacity=met.angle_deg if met else FARTHEST_DEG, unit="deg", source="geometry",
        kind="swing",
    )  # fmt: skip


def _gate_rows(plan: Any, gate: Gate) -> Iterator[CheckRow]:
    build, person = plan.build, constants.value("lean_n")
    pull = gates.hinge_pull_n(gate.weight_n, person, gate.width_m, gate.apart_m)
    yield CheckRow(
        check=f"{_word(plan)}: force on a hinge", case="a person on its latch side", where=gate.part.key,
        demand=math.hypot(pull, gate.weight_n + person), capacity=constants.value("gate_hinge_n"), unit="N",
        source="invented", kind="gate",
    )  # fmt: skip
    slack = gates.slack_sag_m(build.slack_m, gate.width_m, gate.apart_m)
    bent = sags_m(plan, gate, person)
    for word, sag in zip(("as it hangs", "a person on its latch side"), bent):
        yield CheckRow(
            check=f"{_word(plan)}: sag against its gap", case=word, where=gate.part.key,
            demand=(sag + slack) * 1000, capacity=build.gap_m * 1000, unit="mm",
            source="geometry", kind="sag",
        )  # fmt: skip


def _access_rows(plan: Any) -> Iterator[CheckRow]:
    build = plan.build
    if build.size != "walk-in":
        return
    laid = Laid(build, plan.shop)
    clear = min(way.clear_m for way in laid.ways) * 1000
    for what, key, source in (
        ("a wheelbarrow", "wheelbarrow_clear_mm", "common-practice"),
        ("a wheelchair or walker", "gate_clear_mm", "ada-memory"),
    ):
        yield CheckRow(
            check=f"access: {what} through the gate", case="gate open", where="between the gate posts",
            demand=constants.value(key), capacity=clear, unit="mm", source=source, kind="access",
        )  # fmt: skip
    head = min(laid.header_z(way) - laid.d / 2 - laid.foot_z for way in laid.ways) * 1000
    yield CheckRow(
        check="access: headroom", case="as built", where="under the header", demand=constants.value("headroom_mm"),
        capacity=head, unit="mm", source="ada-memory", kind="access",
    )  # fmt: skip


def _lift_row(gate: Gate) -> CheckRow:
    hinged = gate.part.motion == "hinged"
    return CheckRow(
        check="lid: lift by hand at its front edge" if hinged else "lid: lifted off by one person", case="closed",
        where=gate.part.key, demand=gate.weight_n / (2 if hinged else 1),
        capacity=constants.value("lid_hand_n"), unit="N", source="common-practice", kind="lid",
    )  # fmt: skip


def _word(plan: Any) -> str:
    return str(plan.build.moving) or "lid"


# --- working


def working(plan: Any, system: str) -> Iterator[tuple[str, list[Step]]]:
    """Yield the first gate's weight, hinges, diagonal, sag and swing; the play of a post in its hole."""
    build = plan.build
    leaves = gates_of(plan)
    if build.gated:
        yield from _gate_working(plan, leaves[0], system)
    if build.base == "sill holes":
        tall = build.height_m * 1000
        step = gates.hole_play_mm.shown(build.hole_slack_m * 1000, build.hole_m * 1000, tall, system=system)
        yield "Play at the top of a post in its hole, before rails hold it", [step]


def _gate_working(plan: Any, gate: Gate, system: str) -> Iterator[tuple[str, list[Step]]]:
    build, person = plan.build, constants.value("lean_n")
    tube = plan.shop.member(build.tube)
    name = gate.part.key.capitalize()
    mass = gates.gate_mass_kg.shown(gate.tube_m, tube.mass_kg_per_m, gate.mesh_m2, gate.mesh_kg_per_m2, system=system)
    yield f"{name}: weight", [mass, gates.weight_n.shown(gate.mass_kg, system=system)]
    pull = gates.hinge_pull_n.shown(gate.weight_n, person, gate.width_m, gate.apart_m, system=system)
    yield f"{name}: pull of its hinges with a person on it", [pull]
    square = gates.diagonal_m.shown(gate.width_m, gate.tall_m, system=system)
    yield f"{name}: both diagonals, axis to axis, when it is square", [square]
    sag = [gates.slack_sag_m.shown(build.slack_m, gate.width_m, gate.apart_m, system=system)]
    if gate.brace_m:
        long, rise = gate.brace_m
        force = gates.brace_force_n.shown(gate.weight_n, person, long, rise, system=system)
        area = tube.area_mm2 / 1e6
        sag = [force, gates.brace_sag_m.shown(force.value, long, area, tube.modulus_pa, rise, system=system), *sag]
    yield f"{name}: diagonal and sag", sag
    swept = gates.swing_m.shown(gate.width_m + tube.outer_mm / 1000, tube.outer_mm / 1000, build.gap_m, system=system)
    yield f"{name}: what it sweeps on the ground", [swept]


# --- what is said


def _both_open(plan: Any) -> Iterator[str]:
    """Yield gates that meet each other where both stand open."""
    hinged = [part for part in plan.frame.parts if part.motion == "hinged" and plan.build.gated]
    for n, part in enumerate(hinged):
        for other in hinged[n + 1 :]:
            stands = {other.key: plan.build.opened_deg}
            found = swings.clashes(plan.frame, outer_of(plan), part, to_deg=plan.build.opened_deg, open_at=stands)
            if any(plan.frame.runs[met.other].part == other.key for met in found if met.other in plan.frame.runs):
                yield f"The {part.key} meets the {other.key} where both stand open: let one swing the other way."


def warnings(plan: Any) -> Iterator[str]:
    """Yield what is heavy, low, tight or in the way."""
    build = plan.build
    for gate in gates_of(plan):
        if gate.part.motion == "hinged":
            met = stopped_at(plan, gate.part)
            if met and met.angle_deg < build.opened_deg - 1e-9:
                yield f"The {gate.part.key} meets {met.other} when it is {met.angle_deg:.0f}° open."
    yield from _both_open(plan)
    if build.base == "sill holes":
        play = gates.hole_play_mm(build.hole_slack_m * 1000, build.hole_m * 1000, build.height_m * 1000)
        if play > 25:
            yield f"A post can lean {play:.0f} mm at its top before its hole holds it: drill tighter or deeper."
        if not build.strapped:
            yield "A hole in a sill holds nothing down: strap the posts where wind can lift them."
        if build.hole_m > SILL_M - 0.02:
            yield "Leave 20 mm of the sill under each hole."
    if build.over == "beds" and build.path_m < constants.value("wheelbarrow_clear_mm") / 1000 and not build.soil_m:
        yield f"Paths of {both(build.path_m)} are too narrow for a wheelbarrow, which wants {both(0.76)}."
