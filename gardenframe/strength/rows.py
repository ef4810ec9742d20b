"""One row of a check: what is asked, what is there to meet it, in which combination and where."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import pandas as pd

# kind of a check -> what it asks for, where that is not strength: room for people and gates, or a limit of movement
ASKS = {"access": "room", "swing": "room", "deflection": "limit", "sag": "limit", "reach": "limit"}
ALIKE = 1e-8  # share of a peak: what comes this near is equal but for rounding, and the first of them is named
COLUMNS = ("check", "case", "where", "demand", "capacity", "unit", "ratio", "source")


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckRow:
    """One check. Above a ratio of 1.00 it is over its limit.

    `kind` (strength, shear, twist, wire, buckling, deflection, slip, joint moment, coupling pull, coupling moment, tie)
    and the rest say in names what `check` and `where` say in words. `forces` are those at that place.
    """

    check: str
    case: str
    where: str
    demand: float
    capacity: float
    unit: str
    source: str
    kind: str
    role: str = ""
    run: str = ""
    joint: str = ""
    member: str = ""
    station_m: float | None = None
    length_m: float | None = None
    forces: Mapping[str, float] = field(default_factory=dict)

    @property
    def ratio(self) -> float:
        """Share of the capacity that is used; infinite where something is asked and nothing is there."""
        if self.capacity > 0:
            return self.demand / self.capacity
        return float("inf") if self.demand > 0 else 0.0

    @property
    def asks(self) -> str:
        """What it asks for: to carry, to stay within a limit, or for room."""
        return ASKS.get(self.kind, "carry")

    def as_dict(self) -> dict[str, object]:
        """Return the row as a reader's table has it."""
        return {name: getattr(self, name) for name in COLUMNS}


def table(rows: Iterable[CheckRow]) -> pd.DataFrame:
    """Return rows as a table: check, case, where, demand, capacity, unit, ratio, source."""
    return pd.DataFrame([row.as_dict() for row in rows], columns=list(COLUMNS))


def worst(rows: Iterable[CheckRow]) -> CheckRow | None:
    """Return the row with the highest ratio, none where there is no row."""
    listed = list(rows)
    return hardest(listed) if listed else None


def hardest(rows: Sequence[CheckRow]) -> CheckRow:
    """Return the row with the highest ratio, the first of equal ones."""
    return rows[peak([row.ratio for row in rows])]


def peak(values: Any) -> int:
    """Return the place of the largest value, the first of those that differ by rounding alone, counted flat.

    A frame and its mirror image name the same place then, on every machine.
    """
    flat = np.ravel(values)
    top = flat.max()
    return int((flat >= top - ALIKE * abs(top)).argmax()) if np.isfinite(top) else int(flat.argmax())
