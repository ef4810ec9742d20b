"""Fixings by the pack: what ties, clips, straps, caps and holds down."""

from dataclasses import dataclass

from gardenframe import tables
from gardenframe.errors import InputError
from gardenframe.tables import Column

KINDS = (
    "cable_tie",
    "tie_wire",
    "twine",
    "spring_clip",
    "batten",
    "self_drilling_screw",
    "wood_screw",
    "lag_screw",
    "bolt",
    "strap_one_hole",
    "strap_two_hole",
    "end_cap",
    "ground_sleeve",
    "foot",
    "stake",
    "stake_cap",
    "ground_staple",
    "paint",
    "gate_hinge",
    "latch",
    "chain",
    "lid_hinge",
    "turnbuckle",
    "wire_clip",
    "eye_bolt",
    "ring",
    "tape",
    "castor",
    "lamp_hanger",
)
SCHEMA: tables.Schema = {
    "key": Column(kind="key"),
    "label": Column(),
    "kind": Column(kind="choice", choices=KINDS),
    "fits": Column(kind="ref", optional=True),
    "unit": Column(),
    "pack": Column(kind="number", low=0.01, high=100_000),
    "length_mm": Column(kind="number", low=1, high=10_000, optional=True),
    "diameter_mm": Column(kind="number", low=0.1, high=500, optional=True),
    "holds_n": Column(kind="number", low=1, high=100_000, optional=True),
    "source": Column(kind="source"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Fixing:
    """One fixing as sold: `pack` pieces (metres of wire, twine and tape; ends of paint) in one `unit`."""

    key: str
    label: str
    kind: str
    fits: str | None = None
    unit: str
    pack: float
    length_mm: float | None = None
    diameter_mm: float | None = None
    holds_n: float | None = None
    source: str


def load_fixings(table: tables.Table | None = None) -> dict[str, Fixing]:
    """Return every fixing by key: ours, or those of a reader's own table."""
    return tables.keyed("fixings.csv", SCHEMA, Fixing, table)


def fixing_for(kind: str, member: str | None = None, fixings: dict[str, Fixing] | None = None) -> Fixing:
    """Return the first fixing of a kind, made for that member where the kind comes in sizes.

    >>> fixing_for("strap_two_hole", "emt-1").key
    'strap-2-emt-1'
    """
    table = fixings if fixings is not None else load_fixings()
    found = [fixing for fixing in table.values() if fixing.kind == kind]
    if not found:
        raise InputError("fixing", kind, "a kind that the fixings table has: " + ", ".join(KINDS))
    fit = [fixing for fixing in found if member is None or fixing.fits in (None, member)]
    if not fit:
        sizes = ", ".join(fixing.fits for fixing in found if fixing.fits)
        raise InputError("fixing", f"{kind} for {member}", f"one made for {sizes}", "Add a row to the fixings table.")
    return fit[0]
