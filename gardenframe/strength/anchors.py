"""What holds a build down and in place: every foot, and the whole on its base, in every combination.

Reactions come from the solved frame; how a base holds is a row of data/anchors.csv; formulas are in `holding` and
`screws`. `factor` is what holds over what pulls.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
import pandas as pd

from gardenframe.errors import InputError
from gardenframe.geometry.frame import Frame
from gardenframe.materials import constants, soils
from gardenframe.materials.anchors import Anchor, load_anchors
from gardenframe.materials.fixings import Fixing, load_fixings
from gardenframe.materials.members import Member
from gardenframe.materials.site import Site
from gardenframe.strength import anchor_working as working
from gardenframe.strength import holding
from gardenframe.strength.cases import Combination
from gardenframe.strength.footing import TIMBER, Foot, Ground, Options, feet_of
from gardenframe.strength.mesh import Floats
from gardenframe.strength.overturning import Bed, Edges, bed_of, wrenches
from gardenframe.strength.response import Response
from gardenframe.strength.rows import COLUMNS, CheckRow
from gardenframe.strength.timber import duration_factor
from gardenframe.working import Step

BEDS = ("auto", "none", "open", "bottom")
SHORT = ("W", "L")  # cases that last minutes: the soil's value is doubled for them
FAINT = 1e-6  # less than this is nothing [N, N m]
LIFTED_N = 1.0
WET_BED = "Soil of a bed counts as loose: a post in it alone holds little."
PULL_TEST = (
    "What a driven stake holds differs threefold between like stakes and halves in wet ground: pull one with a scale "
    "before relying on any number here, and ask the local building office what applies."
)
OPEN_BED = (
    "The bed counts as open below: its boards lift out of the soil. A mesh or boards fixed under the soil make its "
    "whole weight hold."
)


@dataclass(frozen=True)
class Anchors:
    """What was found. `rows` has the worst of each kind, `every_row` each foot and each edge of the base.

    `unchecked` says in sentences what could not be checked, `cautions` what to bear in mind.
    """

    feet: tuple[Foot, ...]
    every_row: tuple[CheckRow, ...]
    unchecked: tuple[str, ...]
    cautions: tuple[str, ...]

    @cached_property
    def rows(self) -> tuple[CheckRow, ...]:
        """The worst row of each check."""
        worst: dict[str, CheckRow] = {}
        for row in self.every_row:
            if row.check not in worst or row.ratio > worst[row.check].ratio:
                worst[row.check] = row
        return tuple(worst.values())

    @cached_property
    def table(self) -> pd.DataFrame:
        """The rows: `check, case, where, demand, capacity, unit, ratio, factor, source`."""
        found = [row.as_dict() | {"factor": factor_of(row)} for row in self.rows]
        return pd.DataFrame(found, columns=[*COLUMNS[:-1], "factor", COLUMNS[-1]])

    @property
    def governing(self) -> CheckRow | None:
        """The row with the highest ratio, none where nothing is held."""
        return max(self.every_row, key=lambda row: row.ratio, default=None)

    def working_of(self, row: CheckRow, system: str = "metric") -> list[Step]:
        """Return the working of a row: what holds, and the factor."""
        foot = next((f for f in self.feet if row.joint in {s.joint for s in f.supports}), None)
        return working.of_row(row, foot, system)


def factor_of(row: CheckRow) -> float:
    """Return what holds over what pulls; infinite where nothing pulls."""
    return row.capacity / row.demand if row.demand > FAINT else float("inf")


def anchors(
    response: Response,
    frame: Frame,
    site: Site,
    members: Mapping[str, Member],
    combinations: Sequence[Combination] = (),
    *,
    options: Options | None = None,
    bed: str = "auto",
    fill: str = "topsoil",
    table: Mapping[str, Anchor] | None = None,
    fixings: Mapping[str, Fixing] | None = None,
) -> Anchors:
    """Return what holds a solved frame down and in place.

    Parameters
    ----------
    response : Response
        To the ASD combinations.
    frame, site, members : Frame, Site, mapping
        As it was solved; the site's soil is the ground.
    combinations : sequence of Combination
        Those of the response: soil and timber hold more under wind and people than under what stays.
    options : mapping, optional
        By base or by joint: depth_m, width_m, screws, ballast_kg, tested_n (a pull test in dry ground), grip_n,
        friction. A joint's own come before those of its base.
    bed : str
        Whether a filled bed is part of the build: auto (where a foot is fixed to it, or it is framed in the same tube;
        then open), none, open (boards lift out of the soil) or bottom (the soil is lifted with it).
    fill : str
        Soil in the bed.
    table, fixings : mapping, optional
        How bases hold, and the screws; ours if not given.
    """
    if bed not in BEDS:
        raise InputError("bed", bed, f"one of {', '.join(BEDS)}")
    factors = {c.key: c.factors for c in combinations}
    short = [any(k[:1] in SHORT and v for k, v in factors.get(case, {}).items()) for case in response.cases]
    ground = Ground(
        soils.find(site.soil), soils.find("garden-soil"), fixings or load_fixings(), members[TIMBER],
        np.where(short, constants.value("soil_short_ratio"), 1.0),
        np.array([duration_factor(factors.get(case, {})) for case in response.cases]),
    )  # fmt: skip
    feet, strange = feet_of(frame, response.support_forces, table or load_anchors(), members, ground, options or {})
    held = _bed(frame, feet, bed, fill, members[TIMBER])
    found = _Found(response, feet, held, ground)
    unknown = tuple(f"joint {s.joint}: how {s.base} holds is not known; it is not checked." for s in strange)
    rows = (*found.foot_rows(), *found.whole_rows()) if feet and not strange else tuple(found.foot_rows())
    if strange:
        unknown += ("The whole build on its base is not checked, as not every foot is known.",)
    return Anchors(
        tuple(feet), tuple(rows), (*unknown, *_unmodelled(feet), *_beside(feet)), tuple(_cautions(found, bed))
    )


def _bed(frame: Frame, feet: Sequence[Foot], bed: str, fill: str, timber: Member) -> Bed | None:
    tied = any(a.rests == "bed" for f in feet for a in f.anchors)
    framed = any(b.kind == "soil" for b in frame.bodies) and any(f.standing for f in feet)
    if bed == "none" or (bed == "auto" and not (tied or framed)):
        return None
    return bed_of(frame, soils.find(fill), timber, bottomed=bed == "bottom")


@dataclass(frozen=True)
class _Found:
    """Feet, bed and response together, to make rows of."""

    response: Response
    feet: Sequence[Foot]
    bed: Bed | None
    ground: Ground

    def row(self, demand: Floats, capacity: Floats, **said: Any) -> CheckRow:
        """Return the worst combination of one check."""
        asked = np.where(demand > FAINT, demand, 0.0)
        ratio = asked / np.maximum(capacity, FAINT)
        at = int(ratio.argmax())
        lasts = {"duration": float(self.ground.duration[at]), "short": float(self.ground.short[at]), "at": float(at)}
        return CheckRow(
            case=self.response.cases[at], demand=float(asked[at]), capacity=float(capacity[at]), forces=lasts, **said
        )

    # --- one foot

    def foot_rows(self) -> Iterator[CheckRow]:
        """Yield the rows of each foot."""
        for foot in self.feet:
            main, joint = foot.main, foot.supports[foot.anchors.index(foot.main)].joint
            if not foot.standing or foot.ballast_n:
                yield self.row(
                    np.maximum(foot.force_n[:, 2], 0.0), foot.up_n, check=f"uplift: {main.label}", where=foot.where,
                    unit="N", source=main.source, kind="uplift", joint=joint,
                )  # fmt: skip
            if foot.in_soil:
                what = "moment at the paving" if foot.in_soil == "paved" else "side pull on a post in soil"
                yield self.row(
                    foot.soil_demand_n_m, foot.soil_hold_n_m, check=f"ground: {what}", where=foot.where, unit="N m",
                    source="ibc-1807-3", kind=foot.in_soil, joint=joint,
                )  # fmt: skip
            for number in range(len(foot.supports)):
                yield from self._fixed(foot, number)

    def _fixed(self, foot: Foot, number: int) -> Iterator[CheckRow]:
        """Yield the row of one support that screws, a slantwise stake or a hole holds."""
        anchor, joint = foot.anchors[number], foot.supports[number].joint
        said = {"where": f"{anchor.label} at joint {joint}", "joint": joint, "kind": anchor.side}
        force, ones = foot.each_n[:, number], np.ones(len(foot.each_n))
        if anchor.side == "screws":
            pull, side = foot.screw_n(anchor)
            pushed = np.hypot(force[:, 0], force[:, 1])
            if "z" in foot.supports[number].held:  # what presses down goes to what it stands on
                pushed = np.hypot(pushed, np.maximum(force[:, 2], 0.0))
            yield self.row(
                pushed, min(pull, side) * self.ground.duration, check=f"screws: {anchor.label}", unit="N",
                source="nds-wood-screw" if pull < side else "nds-yield", **said,
            )  # fmt: skip
        elif anchor.side == "pull":
            pulled = np.hypot(np.hypot(force[:, 0], force[:, 1]), np.maximum(force[:, 2], 0.0))
            yield self.row(
                pulled, foot.slide_n, check=f"slantwise pull: {anchor.label}", unit="N", source=anchor.source, **said
            )
        elif anchor.side == "hole":
            thick = foot.depth_m * 1000
            wide = foot.width_m * 1000
            pressed = 4 * foot.push_n / (wide * thick) + 6000 * foot.turn_n_m / (wide * thick**2)  # hole_pressure_mpa
            allowed = float(self.ground.timber.allowed_bearing_mpa or 0.0) * constants.value("bearing_wet_ratio")
            yield self.row(pressed, allowed * ones, check="pressure of a tube on its hole", unit="MPa",
                           source="nds-spf", **said)  # fmt: skip

    # --- the whole build

    def whole_rows(self) -> Iterator[CheckRow]:
        """Yield the rows of the whole build: tipping over each edge, lifting, sliding, feet pushed apart."""
        applied = wrenches(self.response)
        outer = [foot for foot in self.feet if foot.main.rests != "bed"]
        yield from self._tipping(applied, outer)
        lifts = applied[:, :, 2]
        up = sum((foot.up_n for foot in outer), np.zeros(len(lifts)))
        if self.bed:
            up = up + self.bed.lift_n.sum()
        yield self.row(
            np.maximum(lifts, 0).sum(axis=1), np.maximum(-lifts, 0).sum(axis=1) + up, check="whole build: uplift",
            where="whole build", unit="N", source="asce7-2-4", kind="whole uplift",
        )  # fmt: skip
        pushed = applied[:, :, :2].sum(axis=1)
        slide = sum((foot.slide_n for foot in outer), np.zeros(len(lifts))) + self.bed_slide_n
        yield self.row(
            np.hypot(pushed[:, 0], pushed[:, 1]), np.maximum(slide, 0.0), check="whole build: sliding",
            where="whole build", unit="N", source="ibc-1806-memory", kind="whole sliding",
        )  # fmt: skip
        standing = [foot for foot in outer if any(a.side == "friction" for a in foot.anchors)]
        if len(standing) > 1:
            yield self.row(
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

    def _tipping(self, applied: Floats, outer: Sequence[Foot]) -> Iterator[CheckRow]:
        places = np.array([foot.ground_at[:2] for foot in self.feet])
        edges = Edges.of(np.concatenate([places, self.bed.corners]) if self.bed else places)
        tips = edges.tipping(applied)
        pulls, holds = np.maximum(tips, 0).sum(axis=1), np.maximum(-tips, 0).sum(axis=1)
        if outer:
            inside = edges.inside_m(np.array([foot.ground_at[:2] for foot in outer]))
            holds += np.array([foot.up_n for foot in outer]).T @ inside
            holds += np.sum([foot.spare_turn_n_m for foot in outer], axis=0)[:, None]
        if self.bed:
            holds += self.bed.lift_n @ edges.inside_m(self.bed.at)
        for edge in range(len(edges.reach_m)):
            yield self.row(
                pulls[:, edge], holds[:, edge], check="whole build: overturning",
                where=f"whole build over {edges.name(edge)}", unit="N m", source="asce7-2-4", kind="overturning",
            )  # fmt: skip


def _unmodelled(feet: Sequence[Foot]) -> Iterator[str]:
    """Yield a sentence for each base that was solved to hold a moment and has no model for one."""
    for foot in feet:
        one = next((s for s in foot.supports if {"X", "Y"} & set(s.held) or s.spring_n_m_per_rad), None)
        if one and not foot.in_soil and not any(a.side == "hole" for a in foot.anchors):
            yield f"joint {one.joint}: solved as held against turning, and what a {one.base} holds there is not known."


def _beside(feet: Sequence[Foot]) -> Iterator[str]:
    """Yield a sentence for supports that hold sideways and have no model for it."""
    pairs = [(s, a) for f in feet for s, a in zip(f.supports, f.anchors, strict=True)]
    sideways = [s for s, a in pairs if a.side == "nothing" and {"x", "y"} & set(s.held)]
    for base in dict.fromkeys(s.base for s in sideways):
        first = next(s.joint for s in sideways if s.base == base)
        yield f"joint {first} and its like: what {base} holds sideways is not checked by itself, only with the whole."


def _cautions(found: _Found, bed: str) -> Iterator[str]:
    ups = {a.up for f in found.feet for a in f.anchors}
    tested = all("tested_n" in f.options for f in found.feet if f.main.up == "driven")
    if "driven" in ups and not tested:
        yield PULL_TEST
    if any(f.main.rests == "fill" for f in found.feet):
        yield WET_BED
    if found.bed is not None and bed in ("auto", "open"):
        yield OPEN_BED
    for foot in found.feet:
        up = foot.force_n[:, 2] - foot.up_n
        if foot.standing and up.max() > LIFTED_N:
            case = found.response.cases[int(up.argmax())]
            yield (
                f"{foot.where} is lifted by {up.max():.0f} N under {case}; nothing holds it, though the frame was "
                "solved as if it were held. Hold it down, or add ballast."
            )
