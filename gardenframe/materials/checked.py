"""What the tests compare with something outside the project, as they noted it: value, ours, difference, source."""

from dataclasses import dataclass
from functools import cache

from gardenframe import tables
from gardenframe.tables import Column

TABLE = "outside_checks.csv"
KINDS = ("printed", "remembered", "worked")
SCHEMA: tables.Schema = {
    "test": Column(),
    "case": Column(optional=True),
    "what": Column(),
    "checks": Column(kind="tags"),
    "kind": Column(kind="choice", choices=KINDS),
    "value": Column(),
    "ours": Column(kind="number"),
    "unit": Column(optional=True),
    "off": Column(kind="number"),
    "allowed": Column(kind="number", low=0),
    "count": Column(kind="whole", low=1),
    "source": Column(kind="source"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class OutsideCheck:
    """One comparison that a test makes.

    `test` is the file and function under tests/; `checks` are what rests on it: formulas and modules (strength.wind),
    tables (data/exposures.csv) and stages of the road (plan.cutting). `kind`: the value is printed in a source seen,
    remembered of one, or worked out by another method or library. `off` and `allowed` are in `unit`; of several like
    numbers (`count`) the row shows the one that is furthest off.
    """

    test: str
    case: str | None
    what: str
    checks: tuple[str, ...]
    kind: str
    value: str
    ours: float
    unit: str | None
    off: float
    allowed: float
    count: int
    source: str

    @property
    def off_ratio(self) -> float | None:
        """Difference over the value, None where the value is zero."""
        against = self.ours - self.off
        return abs(self.off / against) if against else None


@cache
def load_checks() -> tuple[OutsideCheck, ...]:
    """Return every outside check in the order of the table."""
    return tuple(OutsideCheck(**row) for row in tables.read(TABLE, SCHEMA))
