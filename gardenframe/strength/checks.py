"""All checks of a frame: members, frame buckling, deflections, joints, ties; the worst of each for a reader."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import pandas as pd

from gardenframe.geometry.coverings import Covered
from gardenframe.geometry.fittings import Fitted
from gardenframe.kept import cached_property
from gardenframe.materials.fixings import Fixing
from gardenframe.materials.members import Member
from gardenframe.strength import member_working as working
from gardenframe.strength import pvc
from gardenframe.strength.bolt_holes import hole_rows
from gardenframe.strength.capacities import PLASTIC, RULES
from gardenframe.strength.cases import Combination
from gardenframe.strength.deflection import Deflection, Limit, deflection
from gardenframe.strength.joints import Joints, joints
from gardenframe.strength.members import SHARE, Strength, sampled, strength
from gardenframe.strength.response import Response
from gardenframe.strength.rows import CheckRow, hardest, table, worst
from gardenframe.strength.ties import Ties, tie_pull_n, ties
from gardenframe.working import Step, formula


@formula(
    result="u", symbols={"needed_factor": "Omega", "buckling_factor": "lambda_cr"}, source="frame-buckling"
)  # fmt: skip
def frame_buckling_ratio(needed_factor: float, buckling_factor: float) -> float:
    """Share used of the load at which the whole frame sways away."""
    return needed_factor / buckling_factor


NEEDED_FACTOR = 1.67  # on ASD loads (from memory)


@dataclass(frozen=True)
class Checks:
    """What was checked. `rows` is the table a reader sees; `every_row` has each run and each fitting.

    `unchecked` says in sentences what could not be checked, `cautions` what to bear in mind.
    """

    strength: Strength
    moving: Callable[[], Deflection]
    joints: Joints | None
    holes: Callable[[], list[CheckRow]]
    ties: Ties
    buckling: CheckRow | None
    unchecked: tuple[str, ...]
    cautions: tuple[str, ...]

    @cached_property
    def deflection(self) -> Deflection:
        """Movements, not worked out where only what can give way is asked for."""
        return self.moving()

    @cached_property
    def rows(self) -> tuple[CheckRow, ...]:
        """The worst of each kind of check, members and deflections by role."""
        own = [*self.strength.rows(), *([self.buckling] if self.buckling else [])]
        return (*own, *self.deflection.rows(), *self._joined)

    @cached_property
    def holding_rows(self) -> tuple[CheckRow, ...]:
        """`rows` without movements: what can give way."""
        return (*self.strength.rows(), *([self.buckling] if self.buckling else []), *self._joined)

    @cached_property
    def _joined(self) -> tuple[CheckRow, ...]:
        by_tie = worst(self.ties.rows)
        return (*(self.joints.rows() if self.joints else ()), *self.holes(), *([by_tie] if by_tie else ()))

    @cached_property
    def every_row(self) -> tuple[CheckRow, ...]:
        """Every run and every fitting, each in its worst combination."""
        found = [*self.strength.every_row(), *self.deflection.every_row(), *self.ties.rows]
        found += [self.buckling] if self.buckling else []
        return (*found, *(self.joints.every_row() if self.joints else ()), *self.holes())

    @property
    def governing(self) -> CheckRow:
        """The row with the highest ratio."""
        return hardest(self.rows)

    @cached_property
    def table(self) -> pd.DataFrame:
        """`rows` as check, case, where, demand, capacity, unit, ratio, source."""
        return table(self.rows)

    @property
    def governing_member(self) -> CheckRow:
        """The member row with the highest ratio in bending and axial force."""
        return hardest([row for row in self.rows if row.kind in ("strength", "wire")])

    def working_of(self, row: CheckRow, system: str = "metric") -> list[Step]:
        """Return the working of a row where it is arithmetic on one member, one panel or one factor; else none."""
        if row.kind == "buckling" and row.demand > 0:
            return [frame_buckling_ratio.shown(NEEDED_FACTOR, NEEDED_FACTOR / row.demand, system=system)]
        if row.kind == "tie":
            there = row.forces
            return [tie_pull_n.shown(abs(there["force_n"]), int(there["ties"]), there["belly_ratio"], system=system)]
        if row.kind in ("strength", "wire"):
            return working.of_row(row, self.strength, system)
        return []


def check(
    response: Response,
    fitted: Sequence[Fitted],
    members: Mapping[str, Member],
    combinations: Sequence[Combination] = (),
    *,
    covered: Sequence[Covered] = (),
    panel_force_n: Mapping[str, Mapping[str, float]] | None = None,
    fixings: Mapping[str, Fixing] | None = None,
    service: Response | None = None,
    limits: Mapping[str, Limit] | None = None,
    temperature_degc: float | None = None,
    buckling: bool = True,
) -> Checks:
    """Return every check of a solved frame.

    Parameters
    ----------
    response : Response
        To the ASD combinations, second order or amplified.
    fitted : sequence of Fitted
        What is put on at each joint.
    members : mapping
        Members by key, as the frame was solved with.
    combinations : sequence of Combination
        Those of the response: timber's load duration and the sums of panel forces follow from their factors.
    covered, panel_force_n, fixings : optional
        Panels as covered, the force on each by case [N], fixings by key: for the pull on ties.
    service : Response, optional
        To the combinations whose movements are checked; those of `response` if not given.
    limits : mapping, optional
        Deflection limits by role; ours if not given.
    temperature_degc : float, optional
        Of plastic pipe; full summer sun if not given. [°C]
    buckling : bool
        Whether the frame's buckling factors are asked for: at second order each is a solution of its own.
    """
    factors = {c.key: c.factors for c in combinations}
    forces, moved = (response.samples, None) if response.order == "first" else sampled(response)
    by_tie = ties(covered, panel_force_n or {}, fixings or {}, factors)
    shown = service or response
    joined = joints(response, fitted)
    plastic = any(RULES[members[run.member].family] == PLASTIC for run in response.mesh.frame.runs.values())
    return Checks(
        strength=strength(response, members, factors, temperature_degc, forces),
        moving=lambda: deflection(shown, sampled(shown)[1] if service or moved is None else moved, limits),
        joints=joined,
        holes=lambda: hole_rows(joined, members),
        ties=by_tie,
        buckling=buckling_row(response) if buckling else None,
        unchecked=by_tie.unchecked,
        cautions=((pvc.CAUTION,) if plastic else ()) + swayed_away(response),
    )


def swayed_away(response: Response) -> tuple[str, ...]:
    """Return a sentence where the frame sways away before the loads are reached, naming the combinations."""
    if not response.buckled:
        return ()
    which = ", ".join(response.buckled)
    return (
        f"Under {which} the frame would sway away before the checked load is reached: its other rows there are too "
        "low. Add a brace, fix the feet, or take load off.",
    )


def buckling_row(response: Response) -> CheckRow:
    """Return the row of the combination under which the whole frame is nearest to swaying away."""
    factors = response.buckling_factor.by_case
    case = min(factors, key=factors.__getitem__)
    return CheckRow(
        check="frame buckling", case=case, where="whole frame",
        demand=frame_buckling_ratio(NEEDED_FACTOR, factors[case]),
        capacity=1.0, unit=SHARE, source="frame-buckling", kind="buckling",
    )  # fmt: skip
