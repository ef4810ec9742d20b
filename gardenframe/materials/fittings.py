"""Fittings by joining and tube size. Our dimensions are invented: a reader measures theirs and replaces the table."""

from dataclasses import dataclass

from gardenframe import tables
from gardenframe.tables import Column, Table

# name on paper of each fitting word
LABELS = {
    "coupling": "coupling",
    "elbow": "elbow",
    "tee": "tee",
    "cross": "cross",
    "side_outlet_elbow": "side-outlet elbow",
    "side_outlet_tee": "side-outlet tee",
    "side_outlet_cross": "side-outlet cross",
    "six_socket_cross": "six-socket cross",
    "swivel": "swivel",
    "right_angle_coupler": "right-angle coupler",
    "swivel_coupler": "swivel coupler",
    "sleeve_coupler": "sleeve coupler",
    "through_bolt": "through bolt",
    "hinge": "hinge",
}
SCHEMA = {
    "key": Column(kind="key"),
    "fitting": Column(kind="choice", choices=tuple(LABELS)),
    "joining": Column(kind="choice", choices=("clamp-on", "slip-on", "bolted")),
    "size": Column(kind="ref"),
    "branch": Column(kind="ref"),
    "passes": Column(kind="whole", low=0, high=2),
    "angle": Column(kind="choice", choices=("90", "180", "any")),
    "centre_to_stop_mm": Column(kind="number", low=-150, high=300),
    "socket_depth_mm": Column(kind="number", low=0, high=300),
    "slip_n": Column(kind="number", low=0, high=50_000),
    "moment_n_m": Column(kind="number", low=0, high=10_000),
    "rotation_n_m_per_rad": Column(kind="number", low=0, high=10_000_000),
    "source": Column(kind="source"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class FittingRow:
    """One fitting in one tube size, as a reader measures it.

    `passes` tubes of `size` go through; the others, of size `branch`, end `centre_to_stop_mm` from the centre. A
    negative distance is how far a bolted tube reaches beyond its bolt. `slip_n`, `moment_n_m` and
    `rotation_n_m_per_rad` are what it holds and how stiffly it turns: ask the maker or test.
    """

    key: str
    fitting: str
    joining: str
    size: str
    branch: str
    passes: int
    angle: str
    centre_to_stop_mm: float
    socket_depth_mm: float
    slip_n: float
    moment_n_m: float
    rotation_n_m_per_rad: float
    source: str

    @property
    def label(self) -> str:
        """Its name on paper."""
        return LABELS[self.fitting]


def load_fittings(table: Table | None = None) -> dict[str, FittingRow]:
    """Return every fitting row by key: ours, or a reader's own table in place of ours."""
    return tables.keyed("fittings.csv", SCHEMA, FittingRow, table)
