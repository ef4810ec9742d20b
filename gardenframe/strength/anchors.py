"""What holds a build down and in place: every foot, and the whole on its base, in every combination.

Reactions come from the solved frame; how a base holds is a row of data/anchors.csv; formulas are in `holding` and
`screws`. `factor` is what holds over what pulls.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
import pandas as pd

from gardenframe.errors import InputError
from gardenframe.geometry.frame import Frame
from gardenframe.kept import cached_property
from gardenframe.materials import constants, soils
from gardenframe.materials.anchors import Anchor, load_anchors
from gardenframe.materials.fixings import Fixing, load_fixings
from gardenframe.materials.members import Member
from gardenframe.materials.site import Site
from gardenframe.strength import anchor_working as working
from gardenframe.strength.anchor_rows import FAINT, Found, Whole
from gardenframe.strength.cases import Combination
from gardenframe.strength.footing import TIMBER, Foot, Footing, Ground
from gardenframe.strength.grouping import Options, Stand, stand_of
from gardenframe.strength.overturning import Bed, bed_of
from gardenframe.strength.response import Response
from gardenframe.strength.rows import COLUMNS, CheckRow, peak, worst
from gardenframe.strength.timber import duration_factor
from gardenframe.working import Step

BEDS = ("auto", "none", "open", "bottom")
SHORT = ("W", "L")  # cases that last minutes: the soil's value is doubled for them
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

    found: Found
    bed: str
    unchecked: tuple[str, ...]

    @property
    def feet(self) -> tuple[Foot, ...]:
        """Every foot, and what pushes and pulls at it."""
        return tuple(self.found.feet)

    @cached_property
    def every_row(self) -> tuple[CheckRow, ...]:
        """Every check of each foot and of the whole."""
        return self.found.every_row()

    @cached_property
    def rows(self) -> tuple[CheckRow, ...]:
        """The worst row of each check."""
        return self.found.rows()

    @cached_property
    def cautions(self) -> tuple[str, ...]:
        """What to bear in mind."""
        return tuple(_cautions(self.found, self.bed))

    @cached_property
    def table(self) -> pd.DataFrame:
        """The rows: `check, case, where, demand, capacity, unit, ratio, factor, source`."""
        found = [row.as_dict() | {"factor": factor_of(row)} for row in self.rows]
        return pd.DataFrame(found, columns=[*COLUMNS[:-1], "factor", COLUMNS[-1]])

    @property
    def governing(self) -> CheckRow | None:
        """The row with the highest ratio, none where nothing is held."""
        return worst(self.every_row)

    def working_of(self, row: CheckRow, system: str = "metric") -> list[Step]:
        """Return the working of a row: what holds, and the factor."""
        foot = next((f for f in self.feet if row.joint in {s.joint for s in f.footing.supports}), None)
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
    each = [factors.get(case, {}) for case in response.cases]
    short = tuple(any(k[:1] in SHORT and v for k, v in parts.items()) for parts in each)
    lasts = tuple(duration_factor(parts) for parts in each)

    def made() -> Based:
        ground = Ground(
            soils.find(site.soil), soils.find("garden-soil"), fixings or load_fixings(), members[TIMBER],
            np.where(short, constants.value("soil_short_ratio"), 1.0), np.array(lasts),
        )  # fmt: skip
        stand = stand_of(frame, table or load_anchors(), members, ground, options or {})
        return Based(stand, Whole(stand.footings, _bed(frame, stand.footings, bed, fill, members[TIMBER])), ground)

    if table or fixings or frame is not response.mesh.frame:
        based = made()
    else:
        used = tuple(members[key] for key in dict.fromkeys([*(run.member for run in frame.runs.values()), TIMBER]))
        said = tuple((name, *chosen.items()) for name, chosen in (options or {}).items())
        based = response.mesh.once(("based", short, lasts, site.soil, bed, fill, used, said), made)
    return _anchors(response, based, bed)


class Based(NamedTuple):
    """What a frame stands on and in, for combinations that last as long."""

    stand: Stand
    whole: Whole
    ground: Ground


def _anchors(response: Response, based: Based, bed: str) -> Anchors:
    """Return what holds a frame on its base under a response."""
    strange, footings = based.stand.strange, based.stand.footings
    feet = based.stand.pressed(response.support_forces)
    unknown = tuple(f"joint {s.joint}: how {s.base} holds is not known; it is not checked." for s in strange)
    if strange:
        unknown += ("The whole build on its base is not checked, as not every foot is known.",)
    found = Found(response, feet, based.whole, based.ground, all_known=not strange)
    return Anchors(found, bed, (*unknown, *_unmodelled(footings), *_beside(footings)))


def _bed(frame: Frame, feet: Sequence[Footing], bed: str, fill: str, timber: Member) -> Bed | None:
    tied = any(a.rests == "bed" for f in feet for a in f.anchors)
    framed = any(b.kind == "soil" for b in frame.bodies) and any(f.standing for f in feet)
    if bed == "none" or (bed == "auto" and not (tied or framed)):
        return None
    return bed_of(frame, soils.find(fill), timber, bottomed=bed == "bottom")


def _unmodelled(feet: Sequence[Footing]) -> Iterator[str]:
    """Yield a sentence for each base that was solved to hold a moment and has no model for one."""
    for foot in feet:
        one = next((s for s in foot.supports if {"X", "Y"} & set(s.held) or s.spring_n_m_per_rad), None)
        if one and not foot.in_soil and not any(a.side == "hole" for a in foot.anchors):
            yield f"joint {one.joint}: solved as held against turning, and what a {one.base} holds there is not known."


def _beside(feet: Sequence[Footing]) -> Iterator[str]:
    """Yield a sentence for supports that hold sideways and have no model for it."""
    pairs = [(s, a) for f in feet for s, a in zip(f.supports, f.anchors, strict=True)]
    sideways = [s for s, a in pairs if a.side == "nothing" and {"x", "y"} & set(s.held)]
    for base in dict.fromkeys(s.base for s in sideways):
        first = next(s.joint for s in sideways if s.base == base)
        yield f"joint {first} and its like: what {base} holds sideways is not checked by itself, only with the whole."


def _cautions(found: Found, bed: str) -> Iterator[str]:
    footings = found.whole.footings
    ups = {a.up for f in footings for a in f.anchors}
    tested = all("tested_n" in f.options for f in footings if f.main.up == "driven")
    if "driven" in ups and not tested:
        yield PULL_TEST
    if any(f.main.rests == "fill" for f in footings):
        yield WET_BED
    if found.bed is not None and bed in ("auto", "open"):
        yield OPEN_BED
    for foot in found.feet:
        up = foot.force_n[:, 2] - foot.footing.up_n
        if foot.footing.standing and up.max() > LIFTED_N:
            case = found.response.cases[peak(up)]
            yield (
                f"{foot.footing.where} is lifted by {up.max():.0f} N under {case}; nothing holds it, though the frame "
                "was solved as if it were held. Hold it down, or add ballast."
            )
