"""Benders and jigs: what radius each makes, where its arrow stands, and the ends of a tube that it cannot bend.

All rows are invented: a reader measures the bender that is there and replaces them.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from gardenframe import tables
from gardenframe.errors import InputError
from gardenframe.tables import Column, Schema, Table

KINDS = ("shoe", "jig")
RADIUS_SHARE = 0.01  # a shoe's own radius is known no better
SCHEMA: Schema = {
    "key": Column(kind="key"),
    "label": Column(),
    "kind": Column(kind="choice", choices=KINDS),
    "member": Column(kind="ref"),
    "radius_mm": Column(kind="number", low=20, high=5000),
    "take_up_mm": Column(kind="number", low=20, high=1000, optional=True),
    "near_mm": Column(kind="number", low=0, high=1000),
    "far_mm": Column(kind="number", low=0, high=1000),
    "source": Column(kind="source"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Bender:
    """A bender for one tube size.

    A `shoe` bends to its own `radius_mm` alone; a `jig` can be made to any radius from `radius_mm` up. Radii are to the
    centreline. `take_up_mm` lies between the shoe's arrow and the back of a right-angle bend. The `near_mm` of tube
    towards the end that is measured from, and the `far_mm` at the other end, stay straight.
    """

    key: str
    label: str
    kind: str
    member: str
    radius_mm: float
    take_up_mm: float | None = None
    near_mm: float
    far_mm: float
    source: str

    def __post_init__(self) -> None:
        """Refuse a shoe without its arrow, and a jig with one."""
        if (self.take_up_mm is None) == (self.kind == "shoe"):
            needs = "a length: from the arrow to the back of a 90° bend" if self.kind == "shoe" else "none for a jig"
            raise InputError(f"{self.key}: take_up_mm", self.take_up_mm, needs, "Bend one, measure it, write it down.")


def load_benders(table: Table | None = None) -> dict[str, Bender]:
    """Return every bender by key: ours, or those of a reader's own table."""
    return tables.keyed("benders.csv", SCHEMA, Bender, table)


def with_ends(held_m: float) -> dict[str, Bender] | None:
    """Return our benders with the straight ends that a reader measured on theirs; None, for ours, where it is 0."""
    if held_m <= 0:
        return None
    return {k: replace(b, near_mm=held_m * 1000, far_mm=held_m * 1000) for k, b in load_benders().items()}


def bender_that_makes(member: str, radius_mm: float, benders: Mapping[str, Bender] | None = None) -> Bender:
    """Return the bender for a member and a radius: the shoe of that radius, else a jig, else the nearest shoe.

    >>> bender_that_makes("emt-3/4", 114.3).kind, bender_that_makes("emt-3/4", 900.0).kind
    ('shoe', 'jig')
    """
    ours = [bender for bender in (benders or load_benders()).values() if bender.member == member]
    if not ours:
        raise InputError("tube to bend", member, "one that a bender is listed for", "Add your own bender's row.")
    shoes = sorted((b for b in ours if b.kind == "shoe"), key=lambda b: abs(b.radius_mm - radius_mm))
    jigs = sorted((b for b in ours if b.kind == "jig"), key=lambda b: b.radius_mm)
    tight = bool(shoes) and radius_mm < shoes[0].radius_mm * (1 + RADIUS_SHARE)
    return (shoes if tight or not jigs else jigs)[0]


def bender_for(member: str, kind: str, benders: Mapping[str, Bender] | None = None) -> Bender:
    """Return the bender of a kind (shoe or jig) for a member, ours unless given; InputError naming what has one.

    >>> bender_for("emt-3/4", "shoe").radius_mm
    114.3
    """
    ours = [bender for bender in (benders or load_benders()).values() if bender.kind == kind]
    for bender in ours:
        if bender.member == member:
            return bender
    raise InputError(f"{kind} for bending", member, f"one of {', '.join(b.member for b in ours)}", "Add your own row.")
