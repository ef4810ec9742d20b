"""Questions of later seasons: how long zinc lasts, what it has lost by then, what old pieces save at the shop."""

import math
from collections.abc import Iterator
from random import Random

from gardenframe import road
from gardenframe.builds.trellis import Trellis
from gardenframe.climate import weathering
from gardenframe.materials import constants
from gardenframe.studies.next_season import reuse
from gardenframe.studies.rotation import REST, rotation
from gardenframe.teaching.practice.guesses import Guess
from gardenframe.teaching.practice.numbers import Numbers, drawn_m
from gardenframe.teaching.practice.questions import Question, Shown, Slip

OLD, NEW = "Tomatoes on a tube bed (plot 11, invented)", "Pole beans in a 6 ft bed (plot 4, invented)"
STICK_M = 3.048


def _zinc_numbers(rng: Random, system: str) -> Numbers:
    return {"coat": rng.choice((10, 12, 15, 18, 20, 25)), "rate": rng.choice((0.7, 0.9, 1.1, 1.4, 1.7, 2.1, 2.6, 3.2))}


def _zinc(n: Numbers) -> float:
    return float(n["coat"] / n["rate"])


def _zinc_working(n: Numbers, system: str) -> Iterator[Shown]:
    yield Shown("How often does one year's loss go into the coat?")
    yield Shown(f"{n['coat']} / {n['rate']} = {_zinc(n):.3g}; it lasts longer, since later years take less.")


ZINC = Question(
    key="later-zinc",
    title="Zinc, the cautious way",
    ask="A tube carries {coat} µm of zinc. The air takes {rate} µm in the first year; take it that each year takes as "
    "much. After how many years is it used up?",
    kind="number",
    draw=_zinc_numbers,
    answer=_zinc,
    slips=(
        Slip("upside down", lambda n: n["rate"] / n["coat"], "That is turned round: how often does a year go into it?"),
        Slip("slower", lambda n: weathering.zinc_years(n["rate"], n["coat"]),
             "That counts that later years take less: here each takes as much as the first."),
        Slip("multiplied", lambda n: n["rate"] * n["coat"], "The two look multiplied: divide the coat."),
    ),
    hints=("How often does one year's loss go into the coat?", "Divide {coat} by {rate}."),
    working=_zinc_working,
    counted=("year", "years"),
)  # fmt: skip


def _loss_numbers(rng: Random, system: str) -> Numbers:
    return {"rate": rng.choice((0.7, 1.1, 1.5, 2.1, 3.0, 4.2)), "years": rng.choice((4, 5, 6, 8, 10, 12, 15))}


def _loss(n: Numbers) -> float:
    return weathering.early_loss_um(n["rate"], float(n["years"]))


def _loss_working(n: Numbers, system: str) -> Iterator[Shown]:
    yield Shown("The power is of the years alone; then times what the first year took:")
    yield Shown(step=weathering.early_loss_um.shown(n["rate"], float(n["years"]), system=system))


POWER = constants.value("zinc_power")
LOSS = Question(
    key="later-loss",
    title="Zinc, as it goes",
    ask="Rust of zinc covers zinc: in t years the loss is that of the first year times t to the power 0.813. How many "
    "µm go in {years} years, where the first takes {rate}?",
    kind="number",
    draw=_loss_numbers,
    answer=_loss,
    slips=(
        Slip("no power", lambda n: n["rate"] * n["years"], "The power looks left out: as if no year were slower."),
        Slip("power of all", lambda n: (n["rate"] * n["years"]) ** POWER,
             "The power looks taken of the whole: it belongs to the years alone."),
        Slip("times the power", lambda n: n["rate"] * n["years"] * POWER,
             "0.813 looks multiplied: it is a power, the key x to the y of a calculator."),
    ),
    hints=("First the years to the power 0.813, by the key x to the y.", "Then times {rate}."),
    working=_loss_working,
)  # fmt: skip


def _again_numbers(rng: Random, system: str) -> Numbers:
    return {
        "old_pieces": rng.randint(2, 5),
        "old_m": drawn_m(rng, system, 1.2, 2.2, 0.05, 2),
        "new_pieces": rng.randint(8, 16),
        "new_m": drawn_m(rng, system, 0.5, 1.1, 0.05, 2),
        "stick_m": STICK_M,
    }


def _each(n: Numbers, of: str) -> int:
    return int(n[of] / n["new_m"] + 1e-9)


def _sticks(n: Numbers, old_each: int) -> float:
    short = n["new_pieces"] - old_each * n["old_pieces"]
    return float(max(0, math.ceil(short / _each(n, "stick_m") - 1e-9)))


def _again(n: Numbers) -> float:
    return _sticks(n, _each(n, "old_m"))


def _by_length(n: Numbers) -> float:
    total = n["new_pieces"] * n["new_m"] - n["old_pieces"] * n["old_m"]
    return float(max(0, math.ceil(total / n["stick_m"] - 1e-9)))


def _again_working(n: Numbers, system: str) -> Iterator[Shown]:
    old, stick = _each(n, "old_m"), _each(n, "stick_m")
    got = old * n["old_pieces"]
    yield Shown(f"Each old piece gives {old} whole new ones: {n['old_pieces']} × {old} = {got}.")
    short = n["new_pieces"] - got
    yield Shown(
        f"{n['new_pieces']} − {got} = {short} are missing, and a stick gives {stick}: {short} / {stick}, rounded up."
    )


AGAIN = Question(
    key="later-again",
    title="A new build out of an old one",
    ask="A frame that comes down gives {old_pieces} tubes of {old_m}. The new one needs {new_pieces} pieces of "
    "{new_m}, each in one; a cut takes nothing away. How many new sticks of {stick_m} must be bought?",
    kind="count",
    draw=_again_numbers,
    answer=_again,
    slips=(
        Slip("by length", _by_length, "The lengths look added up: ends that are too short for a piece do not add up."),
        Slip("nothing old", lambda n: _sticks(n, 0), "The old tubes look left out."),
        Slip("a stick a piece", lambda n: float(n["new_pieces"] - _each(n, "old_m") * n["old_pieces"]),
             "Those are the pieces that are missing: a stick gives several."),
    ),
    hints=("How many whole new pieces does one old tube give?", "How many does a stick of {stick_m} give?",
           "Take what the old tubes give from {new_pieces}, divide by what a stick gives, round up."),
    working=_again_working,
    counted=("stick", "sticks"),
)  # fmt: skip


def _out_of_old(system: str) -> float:
    old, new = (road.plan(Trellis(**Trellis.examples[name])) for name in (OLD, NEW))
    return reuse(old, new).out_of_old.cost.usual


def _back(system: str) -> float:
    moves = rotation({"1": ["tomato"], "2": ["pole-bean"], "3": ["cucumber"], "4": [REST]}, years=6)
    return float(min(move.year for move in moves if move.plant == "tomato" and move.to_bed == "1"))


LATER_GUESSES = (
    Guess(
        key="later-zinc",
        ask="The zinc on a tube is 20 micrometres thick, and a humid place inland takes 2.1 in the first year. After "
        "how many years is it used up?",
        kind="number",
        answer=lambda system: round(weathering.zinc_years(2.1, 20.0), 1),
        counted=("year", "years"),
    ),
    Guess(
        key="later-cost",
        ask="Bought alone, the bean trellis costs $233.10 at our invented prices. What does it cost if it is made of "
        "the tomato frame?",
        kind="money",
        answer=_out_of_old,
    ),
    Guess(
        key="later-back",
        ask="Tomatoes, beans, cucumbers and one bed of something else, and each family stays three years away: in "
        "which year from now are the tomatoes back in their bed?",
        kind="count",
        answer=_back,
    ),
)
LATER = (ZINC, LOSS, AGAIN)
