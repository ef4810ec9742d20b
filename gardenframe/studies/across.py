"""One field of a build taken across its range: what it costs, how many sticks, how much of them is waste.

A plan comes in, points come out. Where the number of sticks changes, the change is found to the millimetre, so that a
chart shows a jump as a jump.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from gardenframe.errors import GardenframeError
from gardenframe.road import Plan, plan

FINE_M = 0.001
PREFERRED = ("height_m", "length_m", "width_m")  # what a chart runs over, first that a build has


@dataclass(frozen=True, slots=True)
class Point:
    """One plan of the range: the field's value, cost with tax at usual prices, sticks, waste as a share of them.

    `shared_m2` is the area that a chart shares the cost over, none where it shows the whole. [m²]
    """

    value: float
    cost: float
    sticks: int
    waste_share: float
    shared_m2: float | None = None

    @property
    def shown_cost(self) -> float:
        """Cost of a square metre of what the build covers, or the whole cost."""
        return self.cost / self.shared_m2 if self.shared_m2 else self.cost


@dataclass(frozen=True, slots=True)
class Jump:
    """Where one more stick (or one fewer) is needed: the last value before and the first after."""

    before: Point
    after: Point


def field_to_vary(given: Plan) -> str | None:
    """Return the key of the field that a chart of this build runs over; None where it has no such length."""
    if given.build.charted:
        return given.build.charted
    keys = [field.key for field in given.build.fields() if field.kind == "length"]
    return next((key for key in PREFERRED if key in keys), None)


def across(given: Plan, key: str, points: int = 21) -> list[Point]:
    """Return the plans of a build with one field taken from its lowest to its highest value.

    Values that do not go with the other fields are left out. Between two neighbours with different numbers of sticks
    the change is searched by halving, to a millimetre: of several changes between them, one is found.
    """
    field = given.build.field(key)
    step = (field.high - field.low) / (points - 1)
    values = sorted({*(field.low + step * i for i in range(points)), getattr(given.build, key)})
    found = [point for value in values if (point := _point(given, key, value))]
    for left, right in list(pairwise(found)):
        if left.sticks != right.sticks and right.value - left.value <= 1.01 * step:
            found += _narrowed(given, key, left, right)
    return sorted(found, key=lambda point: point.value)


def jumps(points: list[Point]) -> list[Jump]:
    """Return the changes in the number of sticks that were found to the millimetre."""
    pairs = pairwise(points)
    return [Jump(a, b) for a, b in pairs if a.sticks != b.sticks and b.value - a.value <= FINE_M]


def _narrowed(given: Plan, key: str, left: Point, right: Point) -> Iterator[Point]:
    while right.value - left.value > FINE_M:
        middle = _point(given, key, (left.value + right.value) / 2)
        if middle is None:
            return
        if middle.sticks == left.sticks:
            left = middle
        else:
            right = middle
    yield from (left, right)


def _point(given: Plan, key: str, value: Any) -> Point | None:
    try:
        made = plan(given.build.changed(**{key: value}), given.site, given.shop, live=True)
        cuttings = list(made.cutting.values())
        cost = made.cost.usual
    except GardenframeError:
        return None
    stock = sum(cutting.stock_length for cutting in cuttings)
    return Point(
        value=float(value),
        cost=cost,
        sticks=sum(cutting.sticks for cutting in cuttings),
        waste_share=sum(cutting.waste for cutting in cuttings) / stock if stock else 0.0,
        shared_m2=made.build.shared_m2,
    )
