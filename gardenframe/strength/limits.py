"""Checks turned round: the forecast gust, and the snow on the ground, at which the first check uses up its reserve.

A standing frame comes in, limits go out. Wind and snow grow by a factor until a ratio is 1.00. Live, responses are
added up; at rest, the combinations that govern are solved again on the moved frame. A forecast gust enters whole
(1.0 W), and no code's least pressure is added to it.
"""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from gardenframe.kept import cached_property
from gardenframe.strength.anchors import Anchors
from gardenframe.strength.cases import Combination
from gardenframe.strength.checks import Checks
from gardenframe.strength.response import Response
from gardenframe.strength.rows import CheckRow, hardest
from gardenframe.strength.standing import Standing
from gardenframe.strength.steel import OMEGA
from gardenframe.strength.stiffness import respond

GUST_M_PER_S, FASTEST_M_PER_S = 20.0, 70.0  # gust at which wind is worked out, and the fastest that is looked at
SNOW_PA, DEEPEST_PA = 500.0, 10_000.0
CLOSE = 1e-4  # of a ratio
MOST_ROUNDS = 30
GOVERNING = 3  # combinations that are solved again at rest
NOT_STRENGTH = ("deflection",)
RESERVE = {"strength": OMEGA}  # between the allowed share and what bends the tube for good; a fitting's row has none


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """A limit of a frame in one condition.

    Parameters
    ----------
    what : str
        gust or snow.
    condition : str
        bare, covered or grown.
    value : float
        Gust [m/s] or snow on the ground [Pa] at which the first check reaches 1.00; infinite where none does in the
        range that is looked at, 0 where weight alone is too much.
    bent : float
        Estimate of that at which a tube or a fitting is bent for good.
    governs : CheckRow or None
        The check that reaches it.
    """

    what: str
    condition: str
    value: float
    bent: float
    governs: CheckRow | None


def limits_of(standing: Standing) -> Iterator[Limit]:
    """Yield the limits of a frame bare, covered and grown, each as far as it can be so."""
    panels = standing.frame.panels
    yield from _both(standing.under(condition="bare"))
    if any(panel.covering for panel in panels):
        yield from _both(standing.under(condition="covered"))
    if any(panel.plant for panel in panels):
        yield from _both(standing.under(condition="grown"))


def _both(standing: Standing) -> Iterator[Limit]:
    yield gust_limit(standing)
    snow = snow_limit(standing)
    if snow:
        yield snow


def gust_limit(standing: Standing, bent: bool = True) -> Limit:
    """Return the 3-second forecast gust at 10 m that the frame carries as it is covered and grown. [m/s]

    Parameters
    ----------
    bent : bool
        Whether the gust that bends something is looked for too.
    """
    site = replace(standing.site, wind_m_per_s=GUST_M_PER_S, wind_kind="forecast", ground_snow_pa=0.0)
    found, bends, row = _Growing(standing.under(site), "W").limits((FASTEST_M_PER_S / GUST_M_PER_S) ** 2, bent)
    return Limit(
        what="gust", condition=standing.condition, value=GUST_M_PER_S * math.sqrt(found),
        bent=GUST_M_PER_S * math.sqrt(bends), governs=row,
    )  # fmt: skip


def snow_limit(standing: Standing) -> Limit | None:
    """Return the snow on the ground that the frame carries; None where no snow lies on it. [Pa]"""
    site = replace(standing.site, wind_m_per_s=0.0, ground_snow_pa=SNOW_PA)
    growing = _Growing(standing.under(site), "S")
    if not growing.combinations:
        return None
    found, bent, row = growing.limits(DEEPEST_PA / SNOW_PA)
    return Limit(what="snow", condition=standing.condition, value=SNOW_PA * found, bent=SNOW_PA * bent, governs=row)


@dataclass(frozen=True)
class Reached:
    """What is checked at one factor; anchors only where they are asked for."""

    standing: Standing
    response: Response
    combinations: tuple[Combination, ...]
    checks: Checks

    @cached_property
    def anchors(self) -> Anchors:
        """What holds it."""
        return self.standing.anchored(self.response, self.combinations)


class _Growing:
    """A standing frame whose wind, or snow, grows by a factor."""

    def __init__(self, standing: Standing, letter: str) -> None:
        self.standing, self.letter = standing, letter
        others = {"W", "S", "L"} - {letter}
        self.combinations = tuple(
            c
            for c in standing.loads.combinations
            if any(key[0] == letter for key in c.factors) and not any(key[0] in others for key in c.factors)
        )

    @cached_property
    def unit(self) -> Response:
        """Response to each case by itself."""
        return respond(self.standing.model, self.standing.loads.cases)

    def at(self, factor: float, of: Sequence[Combination] = (), order: str = "first") -> Reached:
        """Return what is checked where the load has grown by a factor."""
        grown = tuple(
            Combination(key=c.key, factors={k: f * factor if k[0] == self.letter else f for k, f in c.factors.items()})
            for c in of or self.combinations
        )
        if order == "first" and not any(self.unit.slack.values()):
            response = self.unit.combined({c.key: c.factors for c in grown})
        else:
            response = respond(self.standing.model, self.standing.loads.cases, grown, order=order)
        checks = self.standing.checked(response, grown, buckling=order != "first")
        return Reached(self.standing, response, grown, checks)

    def limits(self, most: float, bends: bool = True) -> tuple[float, float, CheckRow | None]:
        """Return the factors at which the first ratio is 1.00 and at which something bends, and what governs."""
        quick = crossing(lambda factor: _worst(self.at(factor)).ratio, most)
        bent = crossing(lambda factor: _bent(self.at(factor)), most) if bends else math.inf
        if not 0 < quick < math.inf:
            return quick, max(bent, quick), _worst(self.at(0.0)) if quick == 0 else None
        reached = self.at(quick)
        slow = quick
        if self.standing.order == "second":
            hardest = np.argsort(-reached.checks.strength.by_run.max(axis=1), kind="stable")[:GOVERNING].tolist()
            keys = dict.fromkeys([_worst(reached).case, *(reached.checks.strength.response.cases[i] for i in hardest)])
            chosen = [c for c in self.combinations if c.key in keys]
            slow = crossing(lambda factor: _worst(self.at(factor, chosen, "second")).ratio, most, near=quick)
            reached = self.at(min(slow, most), chosen, "second")
        return slow, max(bent * min(slow / quick, 1.0), slow), _worst(reached)


def _worst(reached: Reached) -> CheckRow:
    """Return the row with the highest ratio, movements left out."""
    rows = (*reached.checks.holding_rows, *reached.anchors.rows)
    return hardest([row for row in rows if row.kind not in NOT_STRENGTH])


def _bent(reached: Reached) -> float:
    """Share of what bends a steel tube or a fitting for good, estimated: the allowed share without its reserve."""
    ratios = [
        row.ratio / RESERVE.get(row.kind, 1.0)
        for row in reached.checks.holding_rows
        if row.kind == "joint moment" or (row.kind == "strength" and row.source.startswith("aisc"))
    ]
    return max(ratios, default=0.0)


def crossing(ratio: Callable[[float], float], most: float, near: float = 1.0) -> float:
    """Return the factor at which a rising ratio is 1; 0 if it starts above, infinite if it is below at the most.

    A straight line between the last two bounds; their middle where it falls short again and again.

    >>> round(crossing(lambda x: 0.1 + 0.3 * x + 0.02 * x * x, 100.0), 3)
    2.562
    """
    low, at_low = 0.0, ratio(0.0)
    if at_low >= 1:
        return 0.0
    high = min(max(near, CLOSE), most)
    while (at_high := ratio(high)) < 1:
        if high >= most:
            return math.inf
        low, at_low, high = high, at_high, min(high * 1.6, most)
    below = 0  # times in a row that the line fell short: then halve, as only one bound moves
    for _ in range(MOST_ROUNDS):
        if at_high - 1 < CLOSE or high - low < CLOSE * high:
            break
        share = (1 - at_low) / (at_high - at_low) if math.isfinite(at_high) and below < 2 else 0.5
        middle = low + (high - low) * min(max(share, 0.02), 0.98)
        at_middle = ratio(middle)
        below = below + 1 if at_middle < 1 else 0
        if at_middle < 1:
            low, at_low = middle, at_middle
            if 1 - at_low < CLOSE:
                return low
        else:
            high, at_high = middle, at_middle
    return high
