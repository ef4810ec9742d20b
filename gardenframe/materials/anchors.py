"""What holds a support down and in place, by the base that it names: one row each, so that a new base is a new row."""

from dataclasses import dataclass
from functools import cache

from gardenframe import tables
from gardenframe.tables import Column

RESTS = ("ground", "fill", "bed", "floor", "part", "wall")  # part: a further hold of a foot of another row
UPS = ("nothing", "driven", "placed", "grip", "screws")
SIDES = ("nothing", "soil", "driven", "paved", "pull", "friction", "screws", "hole")
SCHEMA: tables.Schema = {
    "base": Column(),
    "label": Column(),
    "rests": Column(kind="choice", choices=RESTS),
    "up": Column(kind="choice", choices=UPS),
    "side": Column(kind="choice", choices=SIDES),
    "depth_mm": Column(kind="number", low=10, high=3000, optional=True),
    "width_mm": Column(kind="number", low=3, high=500, optional=True),
    "screw": Column(kind="ref", optional=True),
    "screws": Column(kind="number", low=1, high=50, optional=True),
    "grip_n": Column(kind="number", low=1, high=20_000, optional=True),
    "friction": Column(kind="number", low=0.01, high=1.5, optional=True),
    "ballast_kg": Column(kind="number", low=0, high=5000, optional=True),
    "source": Column(kind="source"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Anchor:
    """How one base holds.

    `up` and `side` say what resists a pull upwards and a push sideways: driven (a published pull of stakes), placed
    (friction of tamped soil), grip (a strap on the tube), screws, soil (a post set in the ground, by the code's
    values), paved (the same, held by paving), pull (slantwise, as a stay pulls a stake), friction, hole. `friction` is
    the soil's where none is given; `depth_mm` and `width_mm` are usual ones, the tube's own width where none is given.
    """

    base: str
    label: str
    rests: str
    up: str
    side: str
    depth_mm: float | None = None
    width_mm: float | None = None
    screw: str | None = None
    screws: float | None = None
    grip_n: float | None = None
    friction: float | None = None
    ballast_kg: float | None = None
    source: str


@cache
def _ours() -> dict[str, Anchor]:
    return {str(row["base"]): Anchor(**row) for row in tables.read("anchors.csv", SCHEMA, unique=("base",))}


def load_anchors(table: tables.Table | None = None) -> dict[str, Anchor]:
    """Return how every base holds, by base: ours, or those of a reader's own table.

    >>> load_anchors()["stake"].up
    'driven'
    """
    if table is None:
        return dict(_ours())
    return {str(row["base"]): Anchor(**row) for row in tables.read(table, SCHEMA, unique=("base",))}
