"""Rows of the anchors: the worst combination of each check, of each foot and of the whole build on its base."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np

from gardenframe.kept import cached_property
from gardenframe.materials import constants
from gardenframe.strength import holding
from gardenframe.strength.footing import Foot, Footing, Ground
from gardenframe.strength.mesh import Floats, Ints
from gardenframe.strength.overturning import Bed, Edges, wrenches
from gardenframe.strength.response import Response
from gardenframe.strength.rows import ALIKE, CheckRow, peak

IN_GROUND = {  # what is checked of a foot in the ground, and the source
    "soil": ("side pull on a post set in soil", "ibc-1807-3"),
    "driven": ("side pull on what is driven", "stake-side"),
    "paved": ("moment at the paving", "ibc-1807-3"),
}
FAINT = 1e-6  # less than this is nothing [N, N m]


@dataclass(frozen=True)
class Whole:
    """The whole build on its base: its footings, a bed of soil, and the edges that it can tip over."""

    footings: tuple[Footing, ...]
    bed: Bed | None

    @cached_property
    def edges(self) -> Edges:
        """Edges round the feet, ties to a wall left out, and round the bed."""
        places = np.array([footing.ground_at[:2] for footing in self.footings if footing.main.rests != "wall"])
        return Edges.of(np.concatenate([places, self.bed.corners]) if self.bed else places)

    @cached_property
    def names(self) -> list[str]:
        """The edges in words."""
        return [f"whole build over {self.edges.name(edge)}" for edge in range(len(self.edges.reach_m))]

    @cached_property
    def outer(self) -> tuple[int, ...]:
        """Numbers of the footings that stand on the ground, not on the bed."""
        return tuple(i for i, footing in enumerate(self.footings) if footing.main.rests != "bed")

    @cached_property
    def up_n(self) -> Floats:
        """What each of them holds against a pull upwards: (outer footings, combinations). [N]"""
        return np.array([self.footings[i].up_n for i in self.outer])

    @cached_property
    def held_n_m(self) -> Floats:
        """What they and the bed hold against tipping over each edge: (combinations, edges). [N m]"""
        held = np.zeros((len(self.footings[0].ground.duration), len(self.edges.reach_m)))
        if self.outer:
            held += self.up_n.T @ self.edges.inside_m(np.array([self.footings[i].ground_at[:2] for i in self.outer]))
        if self.bed:
            held += self.bed.lift_n @ self.edges.inside_m(self.bed.at)
        return held


class Asked(NamedTuple):
    """One check in every combination: what is asked, what is there, and the rest of its row."""

    demand: Floats
    capacity: Floats
    said: dict[str, Any]


@dataclass(frozen=True)
class Found:
    """Feet, bed and response together, to make rows of."""

    response: Response
    feet: Sequence[Foot]
    whole: Whole
    ground: Ground
    all_known: bool = True

    @property
    def bed(self) -> Bed | None:
        """A filled bed that it is part of."""
        return self.whole.bed

    @cached_property
    def asked(self) -> tuple[Asked, ...]:
        """Every check of each foot, and of the whole build where every support is known."""
        return (*self.foot_checks(), *(self.whole_checks() if self.feet and self.all_known else ()))

    @cached_property
    def _hardest(self) -> tuple[Floats, Floats, Ints]:
        """Return demand and capacity of each check in its worst combination, and which that is."""
        demand, capacity = (np.array([one[i] for one in self.asked]) for i in (0, 1))
        demand = np.where(demand > FAINT, demand, 0.0)
        at = np.array([peak(used) for used in demand / np.maximum(capacity, FAINT)], dtype=int)
        each = np.arange(len(at))
        return demand[each, at], capacity[each, at], at

    def row(self, number: int) -> CheckRow:
        """Return the worst combination of one check."""
        demand, capacity, at = (part[number].item() for part in self._hardest)
        lasts = {"duration": float(self.ground.duration[at]), "short": float(self.ground.short[at]), "at": float(at)}
        said = self.asked[number].said
        return CheckRow(case=self.response.cases[at], demand=demand, capacity=capacity, forces=lasts, **said)

    def every_row(self) -> tuple[CheckRow, ...]:
        """Return the row of each foot and each edge of the base."""
        return tuple(self.row(number) for number in range(len(self.asked)))

    def rows(self) -> tuple[CheckRow, ...]:
        """Return the worst row of each kind of check."""
        worst: dict[str, tuple[float, int]] = {}
        for number, one in enumerate(self.asked):
            demand, capacity, _ = (part[number] for part in self._hardest)
            ratio = demand / capacity if capacity > 0 else math.inf if demand > 0 else 0.0
            if one.said["check"] not in worst or ratio > worst[one.said["check"]][0] * (1 + ALIKE):
                worst[one.said["check"]] = ratio, number
        return tuple(self.row(number) for _, number in worst.values())

    # --- one foot

    def foot_checks(self) -> Iterator[Asked]:
        """Yield the checks of each foot."""
        for foot in self.feet:
            held = foot.footing
            main, joint = held.main, held.supports[held.anchors.index(held.main)].joint
            if not held.standing or held.ballast_n:
                yield _asked(
                    np.maximum(foot.force_n[:, 2], 0.0), held.up_n, check=f"uplift: {main.label}", where=held.where,
                    unit="N", source=main.source, kind="uplift", joint=joint,
                )  # fmt: skip
            if held.in_soil:
                what, source = IN_GROUND[held.in_soil]
                yield _asked(
                    foot.soil_demand_n_m, held.soil_hold_n_m, check=f"ground: {what}", where=held.where, unit="N m",
                    source=source, kind=held.in_soil, joint=joint,
                )  # fmt: skip
            for number in range(len(held.supports)):
                yield from self._fixed(foot, number)

    def _fixed(self, foot: Foot, number: int) -> Iterator[Asked]:
        """Yield the check of one support that screws, a slantwise stake or a hole holds."""
        held = foot.footing
        anchor, joint = held.anchors[number], held.supports[number].joint
        said = {"where": f"{anchor.label} at joint {joint}", "joint": joint, "kind": anchor.side}
        force, ones = foot.each_n[:, number], np.ones(len(foot.each_n))
        if anchor.side == "screws":
            pull, side = held.screw_n(anchor)
            pushed = np.hypot(force[:, 0], force[:, 1])
            if "z" in held.supports[number].held:  # what presses down goes to what it stands on
                pushed = np.hypot(pushed, np.maximum(force[:, 2], 0.0))
            yield _asked(
                pushed, min(pull, side) * self.ground.duration, check=f"screws: {anchor.label}", unit="N",
                source="nds-wood-screw" if pull < side else "nds-yield", **said,
            )  # fmt: skip
        elif anchor.side == "pull":
            pulled = np.hypot(np.hypot(force[:, 0], force[:, 1]), np.maximum(force[:, 2], 0.0))
            yield _asked(
                pulled, foot.slide_n, check=f"slantwise pull: {anchor.label}", unit="N", source=anchor.source, **said
            )
        elif anchor.side == "hole":
            thick = held.depth_m * 1000
            wide = held.width_m * 1000
            pressed = 4 * foot.push_n / (wide * thick) + 6000 * foot.turn_n_m / (wide * thick**2)  # hole_pressure_mpa
            allowed = float(self.ground.timber.allowed_bearing_mpa or 0.0) * constants.value("bearing_wet_ratio")
            yield _asked(pressed, allowed * ones, check="pressure of a tube on its hole", unit="MPa",
                           source="nds-spf", **said)  # fmt: skip

    # --- the whole build

    def whole_checks(self) -> Iterator[Asked]:
        """Yield the checks of the whole build: tipping over each edge, lifting, sliding, feet pushed apart."""
        applied = wrenches(self.response)
        outer = [self.feet[i] for i in self.whole.outer]
        yield from self._tipping(applied, outer)
        lifts = applied[:, :, 2]
        up = self.whole.up_n.sum(axis=0) if outer else np.zeros(len(lifts))
        if self.bed:
            up = up + self.bed.lift_n.sum()
        yield _asked(
            np.maximum(lifts, 0).sum(axis=1), np.maximum(-lifts, 0).sum(axis=1) + up, check="whole build: uplift",
            where="whole build", unit="N", source="asce7-2-4", kind="whole uplift",
        )  # fmt: skip
        pushed = applied[:, :, :2].sum(axis=1)
        slide = sum((foot.slide_n for foot in outer), np.zeros(len(lifts))) + self.bed_slide_n
        yield _asked(
            np.hypot(pushed[:, 0], pushed[:, 1]), np.maximum(slide, 0.0), check="whole build: sliding",
            where="whole build", unit="N", source="ibc-1806-memory", kind="whole sliding",
        )  # fmt: skip
        standing = [foot for foot in outer if any(a.side == "friction" for a in foot.footing.anchors)]
        if len(standing) > 1:
            yield _asked(
                np.sum([foot.push_n for foot in standing], axis=0),
                np.maximum(np.sum([foot.slide_n for foot in standing], axis=0), 0.0) + self.bed_slide_n,
                check="standing feet: pushed along or apart", where=f"{len(standing)} feet together", unit="N",
                source=standing[0].main.source, kind="apart",
            )  # fmt: skip

    @property
    def bed_slide_n(self) -> float:
        """What the soil of a bed holds against sliding on the ground. [N]"""
        if self.bed is None:
            return 0.0
        return holding.soil_slide_n(*self.bed_slide)

    @property
    def bed_slide(self) -> tuple[float, float, float]:
        """Numbers of that."""
        weight = self.bed.soil_n if self.bed else 0.0
        return weight, self.ground.soil.friction_angle_deg, constants.value("slide_reserve")

    def _tipping(self, applied: Floats, outer: Sequence[Foot]) -> Iterator[Asked]:
        walls = [foot for foot in outer if foot.main.rests == "wall"]
        tips = self.whole.edges.tipping(applied)
        pulls, holds = np.maximum(tips, 0).sum(axis=1), np.maximum(-tips, 0).sum(axis=1) + self.whole.held_n_m
        if outer:
            holds += np.sum([foot.spare_turn_n_m for foot in outer], axis=0)[:, None]
        if walls:  # what a tie holds, at its height
            holds += np.sum([foot.slide_n * foot.ground_at[2] for foot in walls], axis=0)[:, None]
        for edge, name in enumerate(self.whole.names):
            yield _asked(
                pulls[:, edge], holds[:, edge], check="whole build: overturning", where=name, unit="N m",
                source="asce7-2-4", kind="overturning",
            )  # fmt: skip


def _asked(demand: Floats, capacity: Floats, **said: Any) -> Asked:
    """Return a check of what is asked against what is there."""
    return Asked(demand, capacity, said)
