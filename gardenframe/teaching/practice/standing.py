"""Questions and guesses of wind and ground: what a gust presses with, what a stake holds, what moves a limit."""

from collections.abc import Iterator
from functools import cache
from random import Random

from gardenframe import road
from gardenframe.builds.trellis import Trellis
from gardenframe.materials import constants
from gardenframe.strength import holding, wind
from gardenframe.strength.limits import gust_limit
from gardenframe.teaching.practice.guesses import Guess
from gardenframe.teaching.practice.numbers import Numbers, drawn, drawn_m
from gardenframe.teaching.practice.questions import Question, Shown, Slip

COUNTRY, BESIDE = (0.57, 0.70, 0.85), (0.6, 0.8)  # shares of the open wind's pressure; drawn, so no source is needed


def _gusts(rng: Random, system: str) -> Numbers:
    return {
        "wind_m_per_s": drawn(rng, "speed", system, 14.0, 30.0, 1.0, 1.0),
        "exposure": rng.choice(COUNTRY),
        "shelter": rng.choice(BESIDE),
    }


def _pressure(n: Numbers, shelter: bool = True, exposure: bool = True) -> float:
    country, beside = n["exposure"] if exposure else 1.0, n["shelter"] if shelter else 1.0
    return wind.velocity_pressure_pa(country, 1.0, beside, n["wind_m_per_s"])


def _pressure_working(n: Numbers, system: str) -> Iterator[Shown]:
    yield Shown(
        step=wind.velocity_pressure_pa.shown(n["exposure"], 1.0, n["shelter"], n["wind_m_per_s"], system=system)
    )


GUST = Question(
    key="gust-pressure",
    title="What a gust presses with",
    ask="A forecast gives gusts of {wind_m_per_s}. Near the ground {exposure} of the pressure is left by the country "
    "round about, and {shelter} of that by what stands close by. The full pressure is 0.613 V² in Pa with V in m/s, "
    "which is 0.00256 V² in psf with V in mph. What does the gust press with?",
    kind="pressure",
    draw=_gusts,
    answer=_pressure,
    slips=(
        Slip("speed not squared", lambda n: _pressure(n) / n["wind_m_per_s"],
             "The speed looks not squared: twice the wind presses four times as hard."),
        Slip("no shelter", lambda n: _pressure(n, shelter=False), "The shelter close by looks left out."),
        Slip("open country", lambda n: _pressure(n, exposure=False), "The country round about looks left out."),
        Slip("km/h for m/s", lambda n: _pressure(n) * 3.6**2, "That looks worked with km/h in place of m/s."),
    ),
    hints=("Square the speed first, in m/s.", "0.613 times the square, times {exposure}, times {shelter}."),
    working=_pressure_working,
)  # fmt: skip


def _stakes(rng: Random, system: str) -> Numbers:
    return {
        "hold_n": constants.value("stake_hold_n"),
        "tested_depth_mm": constants.value("stake_tested_depth_mm"),
        "tested_width_mm": constants.value("stake_tested_width_mm"),
        "depth_m": drawn_m(rng, system, 0.4, 0.85, 0.05, 2),
        "wide_mm": rng.choice((10.0, 12.0, 16.0)),
    }


def _stake(n: Numbers, wet: float = 0.5, spread: float = 3.0, thin: bool = True) -> float:
    tested_m, wide_m = n["tested_width_mm"] / 1000, n["wide_mm"] / 1000
    return holding.driven_hold_n(
        n["hold_n"], n["depth_m"], wide_m if thin else tested_m, n["tested_depth_mm"] / 1000, tested_m, wet, 1.0, spread
    )


def _stake_working(n: Numbers, system: str) -> Iterator[Shown]:
    yield Shown(
        step=holding.driven_hold_n.shown(
            n["hold_n"], n["depth_m"], n["wide_mm"] / 1000, n["tested_depth_mm"] / 1000, n["tested_width_mm"] / 1000,
            0.5, 1.0, 3.0, system=system,
        )
    )  # fmt: skip


ONE_STAKE = Question(
    key="one-stake",
    title="One stake by hand",
    ask="A stake {tested_width_mm:exact} wide and {tested_depth_mm} deep held {hold_n} in firm lawn. Yours is "
    "{wide_mm:exact} wide and {depth_m} deep; what it holds goes with the surface in the ground. Wet ground holds "
    "half, and stakes differ so much that only a third is counted on. What may be counted on?",
    kind="force",
    draw=_stakes,
    answer=_stake,
    slips=(
        Slip("dry", lambda n: _stake(n, wet=1.0), "The wet ground looks left out: it holds half."),
        Slip("all of it", lambda n: _stake(n, spread=1.0), "All of it looks counted on: only a third is."),
        Slip("as wide", lambda n: _stake(n, thin=False), "Its width looks left out: a thin stake holds less."),
    ),
    hints=("By how much is the surface in the ground smaller: depth times width over depth times width?",
           "That share of {hold_n}, then a half, then a third."),
    working=_stake_working,
)  # fmt: skip


@cache
def _limit(build: Trellis) -> float:
    return gust_limit(road.plan(build).standing, bent=False).value


STANDING_GUESSES = (
    Guess(
        key="standing-now",
        ask="Covered with full-grown beans, in a suburban garden: at which forecast gust has the trellis used up its "
        "reserve?",
        kind="speed",
        answer=lambda system: _limit(Trellis()),
    ),
    Guess(
        key="standing-tube",
        ask="And with tube one size up, 1-1/4 in?",
        kind="speed",
        answer=lambda system: _limit(Trellis(tube="emt-1-1/4")),
    ),
    Guess(
        key="standing-brace",
        ask="And, with the 1 in tube again, with a brace in each top corner?",
        kind="speed",
        answer=lambda system: _limit(Trellis(braces=True)),
    ),
)
STANDING = (GUST, ONE_STAKE)
