"""What stands round a frame and what a drawing measures: for the eye only, never for strength."""

from dataclasses import dataclass

from gardenframe.geometry.vectors import Vector

VIEWS = ("front", "side", "plan")  # front looks along +y, side along -x (from the right), plan along -z


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """A box that is not built but drawn: bed, soil, ground, path, water, crop, person, wheelbarrow, neighbour."""

    kind: str
    low: Vector
    high: Vector
    label: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Dimension:
    """One measured distance of a view.

    `axis` is x, y or z (the distance along it is drawn) or `aligned` (along the line itself). `row` is how far out
    the dimension line stands: 1 nearest the drawing. `name` is the label of the field it shows, if it shows one;
    `datum` says outside, clear or centre to centre.
    """

    view: str
    start: Vector
    end: Vector
    axis: str
    name: str = ""
    row: int = 1
    side: str = "auto"  # below, above, left, right
    datum: str = ""
