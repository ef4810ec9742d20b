"""Cost against any field of a build, and why it jumps: what is bought on one side of a step and not on the other.

A plan and a field come in, places go out. For a field that slides, a step is searched to a thousandth of its range, or
to a millimetre, so that it is known what changes there; for a choice, each option is a place of its own.
"""

import math
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from gardenframe.builds.fields import Field
from gardenframe.errors import GardenframeError, InputError
from gardenframe.materials.prices import Price
from gardenframe.road import Plan, plan

FINE_M = 0.001
FINE_SHARE = 0.001
MOST_COUNTS = 40
MOST_SAID = 3  # rows of the bill in one sentence
STEPS = 16  # halvings at most for one change
MOST_CHANGES = 4  # looked for between two neighbours
Progress = Callable[[int, int], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """One value of the field: cost with tax, what is bought (units by item), and how many of each piece a stick gives.

    `refused` is the sentence where that value does not go with the others; then there is no cost.
    """

    value: Any
    cost: float = 0.0
    bought: tuple[tuple[str, float], ...] = ()
    from_a_stick: tuple[tuple[str, int, int], ...] = ()  # role, cut mm, how many of it a stick gives
    refused: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """A change in what is bought between two neighbouring places, in words."""

    before: Place
    after: Place
    why: str

    @property
    def more_cost(self) -> float:
        """What it adds to the cost."""
        return self.after.cost - self.before.cost


def values_of(field: Field, points: int) -> list[Any]:
    """Return the values that a field is taken through."""
    if field.kind == "flag":
        return [False, True]
    if field.kind == "choice":
        return [key for key, _ in field.choices]
    if not (math.isfinite(field.low) and math.isfinite(field.high)):
        raise InputError(field.label, "no limits", "a field with limits")
    if field.kind in ("count", "date", "month"):
        stride = max(1, math.ceil((field.high - field.low) / MOST_COUNTS))
        return list(range(round(field.low), round(field.high) + 1, stride))
    return [field.low + (field.high - field.low) * i / (points - 1) for i in range(points)]


def varied(made: Plan, key: str, points: int = 21, progress: Progress | None = None) -> list[Place]:
    """Return the places of a build with one field taken through its range, the reader's own value among them.

    Between neighbours that buy differently each change is narrowed down, the first `MOST_CHANGES` of them.
    """
    field = made.build.field(key)
    values = values_of(field, points)
    here = getattr(made.build, key)
    if here not in values:
        values = sorted([*values, here])
    found = []
    for done, value in enumerate(values, start=1):
        found.append(_place(made, key, value))
        if progress:
            progress(done, len(values))
    if not slides(field):
        return found
    narrowed = [place for a, b in pairwise(found) for place in _narrowed(made, field, a, b)]
    return sorted([*found, *narrowed], key=lambda place: place.value)


def slides(field: Field) -> bool:
    """Whether a field's values lie close together: lengths, shares, angles."""
    return field.kind not in ("choice", "flag", "count", "date", "month")


def _fine(field: Field) -> float:
    return FINE_M if field.kind == "length" else (field.high - field.low) * FINE_SHARE


def _narrowed(made: Plan, field: Field, left: Place, right: Place) -> Iterator[Place]:
    """Yield both sides of each change between two neighbours, as far as `MOST_CHANGES`."""
    if left.refused or right.refused:
        return
    for _ in range(MOST_CHANGES):
        if left.bought == right.bought or right.value - left.value <= _fine(field):
            return
        before, after = left, right
        for _ in range(STEPS):
            if after.value - before.value <= _fine(field):
                break
            middle = _place(made, field.key, (before.value + after.value) / 2)
            if middle.refused:
                return
            before, after = (middle, after) if middle.bought == left.bought else (before, middle)
        yield from (before, after)
        left = after


def _place(made: Plan, key: str, value: Any) -> Place:
    try:
        there = plan(made.build.changed(**{key: value}), made.site, made.shop, live=True)
        bought = tuple((row.item, float(row.bought) * _part(there, row)) for row in there.bill_rows)
        cost = there.cost.usual
    except GardenframeError as error:
        return Place(value=value, refused=str(error))
    return Place(value=value, cost=cost, bought=bought, from_a_stick=tuple(_from_a_stick(there)))


def _part(made: Plan, row: Any) -> float:
    price = made.shop.prices.price(row.item).usual
    return round(row.price / price, 6) if price else 1.0


def _from_a_stick(made: Plan) -> Iterator[tuple[str, int, int]]:
    for piece in made.cut:
        cut_mm, kerf = piece.cut_m * 1000, made.shop.kerf
        longest = max(made.shop.stick_lengths(piece.member)) - made.shop.trim_mm
        yield piece.role, round(cut_mm), int((longest + kerf + 1e-6) // (cut_mm + kerf))


def steps_of(made: Plan, key: str, places: list[Place]) -> list[Step]:
    """Return each change in what is bought that was narrowed down, or that lies between two choices, with why."""
    field = made.build.field(key)
    found = []
    for a, b in pairwise([place for place in places if not place.refused]):
        near = not slides(field) or b.value - a.value <= _fine(field) * 1.001
        if near and a.bought != b.bought:
            found.append(Step(before=a, after=b, why=_why(made, a, b)))
    return found


def _why(made: Plan, before: Place, after: Place) -> str:
    """Return what is bought more and less, dearest first, and which piece comes less often from a stick."""
    first, second, prices = dict(before.bought), dict(after.bought), made.shop.prices
    changes = [(second.get(item, 0.0) - first.get(item, 0.0), item) for item in dict.fromkeys([*first, *second])]
    changes = [(more, item) for more, item in changes if abs(more) > 1e-9]
    changes.sort(key=lambda change: -abs(change[0]) * prices.price(change[1]).usual)
    said = [_said(more, prices.price(item)) for more, item in changes[:MOST_SAID]]
    if len(changes) > MOST_SAID:
        others = len(changes) - MOST_SAID
        said.append("1 other row changes" if others == 1 else f"{others} other rows change")
    if len(before.from_a_stick) == len(after.from_a_stick):
        for (role, _, was), (_, cut_mm, fits) in zip(before.from_a_stick, after.from_a_stick, strict=True):
            if was != fits:
                said.append(f"a {role} of {cut_mm} mm comes {_times(fits)} from a stick, not {_times(was)}")
    return "; ".join(dict.fromkeys(said))


def _times(number: int) -> str:
    return {1: "once", 2: "twice"}.get(number, f"{number} times")


def _said(more: float, price: Price) -> str:
    how = "more" if more > 0 else "fewer"
    if price.unit == "each":
        return f"{abs(more):g} {how} {price.label if abs(more) == 1 else several(price.label)}"
    return f"{abs(more):g} {how} {price.unit}{'' if abs(more) == 1 else 's'} of {price.label}"


def several(label: str) -> str:
    """Return what an item is called where there are more than one of it.

    >>> several("coupling, clamp-on, EMT 1 in"), several("side-outlet cross"), several("end cap for 1 in EMT")
    ('couplings, clamp-on, EMT 1 in', 'side-outlet crosses', 'end caps for 1 in EMT')
    >>> several("rebar stake 12 mm x 900 mm"), several("levelling foot for 1/2 in EMT")
    ('rebar stakes 12 mm x 900 mm', 'levelling feet for 1/2 in EMT')
    """
    found = re.match(r"[a-z -]+?(?=,| for | \d| [A-Z]\d|$)", label)
    if found is None:
        return label
    name = found[0]
    if name.endswith("foot"):
        return name.removesuffix("foot") + "feet" + label[len(name) :]
    return name + ("es" if name.endswith(("s", "x", "ch", "sh")) else "s") + label[len(name) :]
