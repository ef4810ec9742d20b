"""What moves a limit: each change that a reader could make, tried, with what it adds to the limit and to the bill.

A plan comes in, changes go out, the cheapest for what it brings first. A build names the fields that count; a tube goes
one size up, a count one up, a length a third up (down where `Build.nearer` names it), a switch on, a choice to each of
its others but to none.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from gardenframe.builds.build import Build
from gardenframe.builds.fields import both
from gardenframe.errors import GardenframeError
from gardenframe.road import Plan, plan
from gardenframe.strength.limits import FASTEST_M_PER_S

LEAST_GAIN_M_PER_S = 0.5
LENGTH_TIMES, LENGTH_STEP_M = 4 / 3, 0.05


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One change: what it is, the build it makes, gust limits before and after [m/s], and what it adds to the cost."""

    label: str
    build: Build
    before_m_per_s: float
    after_m_per_s: float
    more_cost: float

    @property
    def gain_m_per_s(self) -> float:
        """What the limit gains; as far as is looked at where it is beyond. [m/s]"""
        return min(self.after_m_per_s, FASTEST_M_PER_S) - min(self.before_m_per_s, FASTEST_M_PER_S)

    @property
    def cost_of_a_metre_per_s(self) -> float:
        """Cost of each m/s gained; below nothing where it is also cheaper."""
        return self.more_cost / self.gain_m_per_s


def changes(given: Plan) -> list[Change]:
    """Return the changes that raise the gust limit, the cheapest for each m/s first; quick, as while sliding."""
    base = plan(given.build, given.site, given.shop, live=True)
    before, cost = _limit(base), base.cost.usual
    found = []
    for label, build in candidates(given.build):
        try:
            made = plan(build, given.site, given.shop, live=True)
            change = Change(
                label=label, build=build, before_m_per_s=before, after_m_per_s=_limit(made),
                more_cost=made.cost.usual - cost,
            )  # fmt: skip
        except GardenframeError:
            continue
        if change.gain_m_per_s > LEAST_GAIN_M_PER_S:
            found.append(change)
    return sorted(found, key=lambda change: change.cost_of_a_metre_per_s)


def _limit(made: Plan) -> float:
    return made.build.gust_m_per_s(made)


def candidates(build: Build) -> Iterator[tuple[str, Build]]:
    """Yield each change of one field as (what it is, the changed build); those that do not fit are left out."""
    for key in build.stronger:
        field = build.field(key)
        if not build.used(field):
            continue
        here = getattr(build, key)
        if field.kind == "count":
            values = [(f"one more: {field.label.lower()} {here + 1:g}", here + 1)]
        elif field.kind == "length":
            times = 1 / LENGTH_TIMES if key in build.nearer else LENGTH_TIMES
            then = min(max(round(here * times / LENGTH_STEP_M) * LENGTH_STEP_M, field.low), field.high)
            values = [(f"{field.label.lower()}: {both(then)}", then)]
        elif field.kind == "flag":
            values = [(field.label.lower(), True)]
        else:
            values = [(f"{field.label.lower()}: {said}", value) for value, said in field.choices if value != "none"]
            if key in build.sizes:
                order = [value for value, _ in field.choices]
                values = [v for v in values if order.index(v[1]) == order.index(here) + 1]
        for label, value in values:
            if value == here:
                continue
            try:
                yield label, build.changed(**{key: value})
            except GardenframeError:
                continue
