"""Questions of a comparison: what a season costs, what may be paid at most, at which price two choices are even."""

from collections.abc import Iterator
from functools import cache
from random import Random

from gardenframe import road
from gardenframe.builds.trellis import Trellis
from gardenframe.studies import compare, prices
from gardenframe.studies.compare import Compared
from gardenframe.teaching.practice.guesses import Guess
from gardenframe.teaching.practice.numbers import Numbers
from gardenframe.teaching.practice.questions import Question, Shown, Slip


def _season_numbers(rng: Random, system: str) -> Numbers:
    return {
        "frame_price": float(rng.randrange(90, 400, 10)),
        "frame_seasons": rng.choice((8, 10, 12, 15, 20)),
        "net_price": float(rng.randrange(12, 60, 2)),
        "net_seasons": rng.choice((2, 3, 4)),
    }


def _season(n: Numbers) -> float:
    return float(n["frame_price"] / n["frame_seasons"] + n["net_price"] / n["net_seasons"])


def _season_working(n: Numbers, system: str) -> Iterator[Shown]:
    frame, net = n["frame_price"] / n["frame_seasons"], n["net_price"] / n["net_seasons"]
    yield Shown("Each thing over its own life, then added:")
    yield Shown(f"{n['frame_price']:.2f} / {n['frame_seasons']} = {frame:.2f} for the frame")
    yield Shown(f"{n['net_price']:.2f} / {n['net_seasons']} = {net:.2f} for the net; together {frame + net:.2f}")


SEASON = Question(
    key="what-if-season",
    title="What a season costs",
    ask="A frame costs {frame_price} and lasts {frame_seasons} seasons; its net costs {net_price} and lasts "
    "{net_seasons}. What does a season cost?",
    kind="money",
    draw=_season_numbers,
    answer=_season,
    slips=(
        Slip("net as long as the frame", lambda n: (n["frame_price"] + n["net_price"]) / n["frame_seasons"],
             "The net looks taken to last as long as the frame: it is bought again sooner."),
        Slip("net left out", lambda n: n["frame_price"] / n["frame_seasons"], "The net looks left out."),
        Slip("lives added", lambda n: (n["frame_price"] + n["net_price"]) / (n["frame_seasons"] + n["net_seasons"]),
             "The lives look added: each price goes over its own life, then the two are added."),
    ),
    hints=("Each thing is paid for over the seasons that it lasts.",
           "Divide {frame_price} by {frame_seasons} and {net_price} by {net_seasons}, then add."),
    working=_season_working,
)  # fmt: skip


def _most_numbers(rng: Random, system: str) -> Numbers:
    return {
        "tube_price": float(rng.randrange(120, 400, 10)),
        "tube_seasons": rng.choice((12, 15, 18, 20, 25)),
        "timber_seasons": rng.choice((4, 5, 6, 8)),
    }


def _most(n: Numbers) -> float:
    return float(n["tube_price"] / n["tube_seasons"] * n["timber_seasons"])


def _most_working(n: Numbers, system: str) -> Iterator[Shown]:
    a_season = n["tube_price"] / n["tube_seasons"]
    yield Shown(f"The tube costs {n['tube_price']:.2f} / {n['tube_seasons']} = {a_season:.4g} a season.")
    yield Shown(f"For {n['timber_seasons']} seasons the timber may cost that as often: {_most(n):.2f}.")


MOST = Question(
    key="what-if-most",
    title="What timber may cost",
    ask="A frame of tube costs {tube_price} and lasts {tube_seasons} seasons. The same of timber lasts "
    "{timber_seasons}. What may it cost at most to be as cheap a season?",
    kind="money",
    draw=_most_numbers,
    answer=_most,
    slips=(
        Slip("upside down", lambda n: n["tube_price"] * n["tube_seasons"] / n["timber_seasons"],
             "The lives look turned round: what lasts less may cost less."),
        Slip("one season", lambda n: n["tube_price"] / n["tube_seasons"],
             "That is what one season of tube costs: the timber serves several."),
        Slip("difference of lives",
             lambda n: n["tube_price"] / n["tube_seasons"] * (n["tube_seasons"] - n["timber_seasons"]),
             "The difference of the lives looks taken: count the seasons that the timber serves."),
    ),
    hints=("What does a season of tube cost?", "Divide {tube_price} by {tube_seasons}, times {timber_seasons}."),
    working=_most_working,
)  # fmt: skip


def _even_numbers(rng: Random, system: str) -> Numbers:
    first, fewer = rng.randint(5, 9), rng.randint(1, 3)
    return {
        "first_sticks": first,
        "second_sticks": first - fewer,
        "first_rest_price": float(rng.randrange(20, 60, 2)),
        "second_rest_price": float(rng.randrange(20, 60, 2) + fewer * rng.randrange(10, 30, 2)),
    }


def _even(n: Numbers) -> float:
    return float((n["second_rest_price"] - n["first_rest_price"]) / (n["first_sticks"] - n["second_sticks"]))


def _even_drawn(rng: Random, system: str) -> Numbers:
    while True:
        n = _even_numbers(rng, system)
        if _even(n) >= 4:
            return n


def _even_working(n: Numbers, system: str) -> Iterator[Shown]:
    more, fewer = n["second_rest_price"] - n["first_rest_price"], n["first_sticks"] - n["second_sticks"]
    yield Shown(f"The second pays {more:.2f} more for the rest and buys {fewer} sticks fewer.")
    yield Shown(f"They are even where those sticks cost as much: {more:.2f} / {fewer} = {_even(n):.2f} a stick.")


EVEN = Question(
    key="what-if-even",
    title="The price that makes two choices even",
    ask="One way takes {first_sticks} sticks and {first_rest_price} of other goods; another takes {second_sticks} of "
    "the same sticks and {second_rest_price} of other goods. At which price of a stick do both cost the same?",
    kind="money",
    draw=_even_drawn,
    answer=_even,
    slips=(
        Slip("all sticks", lambda n: (n["second_rest_price"] - n["first_rest_price"]) / n["first_sticks"],
             "All sticks of the first look counted: only those that the second does without pay for the rest."),
        Slip("whole rest", lambda n: n["second_rest_price"] / (n["first_sticks"] - n["second_sticks"]),
             "The whole of the other goods looks taken: both buy some."),
        Slip("added", lambda n: (n["second_rest_price"] + n["first_rest_price"])
             / (n["first_sticks"] - n["second_sticks"]), "The other goods look added: it is their difference."),
    ),
    hints=("How many sticks does the second save, and what more does it pay for the rest?",
           "Divide what it pays more by the sticks that it saves."),
    working=_even_working,
)  # fmt: skip


@cache
def _found() -> dict[str, Compared]:
    return {one.label: one for one in compare.compare(road.plan(Trellis(), live=True)) if one.plan}


def _life() -> float:
    life = prices.even_life(_found()["as it is"], _found()["timber 2x4 in, bolts"])
    return round(life or 0.0, 1)


WHAT_IF_GUESSES = (
    Guess(
        key="what-if-small",
        ask="The trellis of 1 in tube costs $233.10 at our invented prices. What does the same trellis cost in 1/2 in "
        "tube?",
        kind="money",
        answer=lambda system: _found()["EMT 1/2 in"].cost.usual,
    ),
    Guess(
        key="what-if-pipe",
        ask="In tube it carries a forecast gust of 20 m/s (45 mph) with its beans grown. Which gust does it carry in "
        "1 in plastic pipe, in summer?",
        kind="speed",
        answer=lambda system: _found()["PVC 1 in, sockets"].gust_m_per_s,
    ),
    Guess(
        key="what-if-life",
        ask="The same in 2x4 timber costs $81.05. Tube lasts 15 seasons: how many must the timber last to cost as "
        "little a season?",
        kind="number",
        answer=lambda system: _life(),
        counted=("season", "seasons"),
    ),
)
WHAT_IF = (SEASON, MOST, EVEN)
