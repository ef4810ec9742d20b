"""Questions of sources and checks: what a printed figure allows, and how far one number is from another."""

from collections.abc import Iterator
from random import Random

from gardenframe.strength.wind import exposure_ratio
from gardenframe.teaching.practice.guesses import Guess
from gardenframe.teaching.practice.numbers import Numbers
from gardenframe.teaching.practice.questions import Question, Shown, Slip

PRINTED_EXPOSURE = 0.57  # suburban land, 15 ft up, as ASCE 7-16 prints it
EXPOSED = {"height_ft": 15.0, "alpha": 7.0, "gradient_height_ft": 1200.0}


def _place(n: Numbers) -> float:
    """Return the worth of the last digit of the figure as it is printed."""
    return float(10.0 ** -len(str(n["printed"]).partition(".")[2]))


def _printed_numbers(rng: Random, system: str) -> Numbers:
    digits = rng.choice([0, 1, 2])
    return {"printed": f"{rng.uniform(0.3, 9.0) * rng.choice([1, 10, 100]):.{digits}f}"}


def _half_working(n: Numbers, system: str) -> Iterator[Shown]:
    place, value = _place(n), float(n["printed"])
    digits = len(str(n["printed"]).partition(".")[2]) + 1
    yield Shown(f"The last digit of {n['printed']} is worth {place:g}.")
    low, high = (f"{value + side * place / 2:.{digits}f}" for side in (-1, 1))
    yield Shown(f"From {low} to {high} everything rounds to {n['printed']}: half of {place:g} to either side.")


ROUNDED = Question(
    key="evidence-rounded",
    title="What a printed figure allows",
    ask="A source prints {printed}. By how much at most can a number of yours differ, and still be printed so?",
    kind="number",
    draw=_printed_numbers,
    answer=lambda n: _place(n) / 2,
    slips=(
        Slip("a whole unit", _place, "That is a whole unit of the last digit: such a number would round to the next."),
        Slip("next digit", lambda n: _place(n) / 20, "That is half a unit of a digit that the source does not print."),
        Slip("digit before", lambda n: _place(n) * 5, "That is half a unit of the digit before the last."),
    ),
    hints=("What is one step of the last digit of {printed}?", "Half a step up is already rounded up: take half."),
    working=_half_working,
)


def _apart_numbers(rng: Random, system: str) -> Numbers:
    theirs = rng.randint(20, 400)
    return {"theirs": theirs, "ours": round(theirs * (1 + rng.choice([-1, 1]) * rng.uniform(0.03, 0.2)))}


def _apart_working(n: Numbers, system: str) -> Iterator[Shown]:
    off = abs(n["ours"] - n["theirs"])
    yield Shown(f"They lie {off} apart, whichever is larger.")
    yield Shown(f"As a share of what the source has: {off} / {n['theirs']} = {off / n['theirs']:.4f}.")


APART = Question(
    key="evidence-apart",
    title="How far off, in per cent",
    ask="A source has {theirs}, yours comes to {ours}. By how many per cent of the source's number is yours off?",
    kind="share",
    draw=_apart_numbers,
    answer=lambda n: abs(n["ours"] - n["theirs"]) / n["theirs"],
    slips=(
        Slip("of ours", lambda n: abs(n["ours"] - n["theirs"]) / n["ours"],
             "That is the share of your own number: divide by the source's."),
        Slip("the ratio", lambda n: n["ours"] / n["theirs"],
             "That is one number over the other: what is asked is by how much they differ."),
        Slip("the difference", lambda n: abs(n["ours"] - n["theirs"]) / 100,
             "That is the difference itself: it has to be divided by the source's number."),
    ),
    hints=("Take the difference first.", "Divide it by {theirs}."),
    working=_apart_working,
)  # fmt: skip


def _exposure_off(system: str) -> float:
    return abs(exposure_ratio(**EXPOSED) / PRINTED_EXPOSURE - 1)


EVIDENCE_GUESSES = (
    Guess(
        key="evidence-half-unit",
        ask="A wind table prints 0.57. By how much at most can a number worked out here differ from 0.57 and still be "
        "printed as 0.57?",
        kind="number",
        answer=lambda system: 0.005,
    ),
    Guess(
        key="evidence-exposure",
        ask="That 0.57 is how much of the wind's pressure is left 15 ft (4.6 m) up over suburban land. The formula "
        "behind the table is worked out here too. How many per cent off the printed figure does it come?",
        kind="share",
        answer=_exposure_off,
    ),
)
EVIDENCE = (ROUNDED, APART)
