"""Questions of a class that buys together: sticks that packing together saves, and a fair share of a bill."""

import math
from collections.abc import Iterator
from random import Random

from gardenframe.studies.class_order import order
from gardenframe.teaching.practice.guesses import Guess
from gardenframe.teaching.practice.numbers import Numbers, drawn_m
from gardenframe.teaching.practice.questions import Question, Shown, Slip

STICK_M = 3.048
EXAMPLE = "class_order.csv"


def _packed_numbers(rng: Random, system: str) -> Numbers:
    return {
        "people": rng.randint(4, 12),
        "each": rng.choice([4, 5, 7, 8, 10, 11]),
        "length_m": drawn_m(rng, system, 0.55, 1.45, 0.01, 1),
        "stick_m": STICK_M,
    }


def _per_stick(n: Numbers) -> int:
    return math.floor(float(n["stick_m"]) / float(n["length_m"]) + 1e-9)


def _alone(n: Numbers) -> int:
    return int(n["people"] * math.ceil(n["each"] / _per_stick(n)))


def _together(n: Numbers) -> int:
    return math.ceil(int(n["people"]) * int(n["each"]) / _per_stick(n))


def _packed_working(n: Numbers, system: str) -> Iterator[Shown]:
    per, each = _per_stick(n), math.ceil(n["each"] / _per_stick(n))
    total = n["people"] * n["each"]
    yield Shown(f"One stick gives {per} pieces: a part of a piece is no piece.")
    yield Shown(f"Alone each person needs {n['each']} / {per}, rounded up: {each}; all together {_alone(n)} sticks.")
    yield Shown(f"Cut together, {total} pieces / {per}, rounded up once: {_together(n)} sticks.")
    yield Shown(f"{_alone(n)} less {_together(n)} is {_alone(n) - _together(n)}.")


PACKED = Question(
    key="class-packed",
    title="Rounding up once",
    ask="{people} people each need {each} pieces of {length_m} from sticks of {stick_m}, cut with a wheel cutter that "
    "takes nothing away. How many sticks do they save by cutting together?",
    kind="count",
    draw=_packed_numbers,
    answer=lambda n: float(_alone(n) - _together(n)),
    slips=(
        Slip("by length", lambda n: float(_alone(n) - math.ceil(n["people"] * n["each"] * n["length_m"] / STICK_M)),
             "Lengths look added up and parted by the stick: a piece cannot be joined from two ends."),
        Slip("sticks together", lambda n: float(_together(n)), "That is what they need together, not what they save."),
        Slip("sticks alone", lambda n: float(_alone(n)), "That is what they need alone, not what they save."),
    ),
    hints=("How many whole pieces does one stick give?",
           "Round up for each person, then once for all {people}, and take the difference."),
    working=_packed_working,
    counted=("stick", "sticks"),
)  # fmt: skip


def _share_numbers(rng: Random, system: str) -> Numbers:
    alone = [float(rng.randrange(30, 120, 5)) for _ in range(3)]
    return {
        "mine_price": alone[0], "second_price": alone[1], "third_price": alone[2],
        "together_price": float(round(sum(alone) * rng.choice([0.75, 0.8, 0.85, 0.9]))),
    }  # fmt: skip


def _sum(n: Numbers) -> float:
    return float(n["mine_price"] + n["second_price"] + n["third_price"])


def _share(n: Numbers) -> float:
    return float(n["together_price"] * n["mine_price"] / _sum(n))


def _share_working(n: Numbers, system: str) -> Iterator[Shown]:
    part = n["together_price"] / _sum(n)
    yield Shown(f"Alone all three would pay ${_sum(n):.2f}; together they pay ${n['together_price']:.2f}.")
    yield Shown(f"Each pays the same part of what it would have been: {part:.4f}.")
    yield Shown(f"{part:.4f} of ${n['mine_price']:.2f} is ${_share(n):.2f}.")


SHARED = Question(
    key="class-share",
    title="A fair share",
    ask="Alone you would pay {mine_price} for tube, and two friends {second_price} and {third_price}. Together it "
    "costs {together_price}. Shared as each would have paid alone, what do you pay?",
    kind="money",
    draw=_share_numbers,
    answer=_share,
    slips=(
        Slip("equal parts", lambda n: n["together_price"] / 3, "That is a third: who builds little would pay for the "
             "others."),
        Slip("equal saving", lambda n: n["mine_price"] - (_sum(n) - n["together_price"]) / 3,
             "The saving looks shared in equal parts: here all save the same part of what they would have paid."),
    ),
    hints=("What would all three have paid alone?",
           "Multiply {mine_price} by what it costs together over what it would have cost alone."),
    working=_share_working,
)  # fmt: skip


def _saved_sticks(system: str) -> float:
    made = order(EXAMPLE)
    return float(sum(kit.sticks_alone for kit in made.kits) - made.sticks)


def _saved_part(system: str) -> float:
    made = order(EXAMPLE)
    return made.saving / made.alone


CLASS_GUESSES = (
    Guess(
        key="class-sticks",
        ask="Twelve people build a trellis, an arch, a frame or a small house each. How many sticks does cutting for "
        "all together save?",
        kind="count",
        answer=_saved_sticks,
        counted=("stick", "sticks"),
    ),
    Guess(
        key="class-saving",
        ask="Which part of the money does buying together save, counting tube, fittings, packs and rolls?",
        kind="share",
        answer=_saved_part,
    ),
)
CLASS = (PACKED, SHARED)
