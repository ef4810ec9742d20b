"""Questions whose numbers are drawn afresh, and what an answer is told: right, or which slip it looks like.

A question is a record of plain functions of its drawn numbers; no widget is known here. The same seed draws the same
numbers. Numbers for which a slip would come to the right answer, or two slips to the same one, are drawn again.
"""

import math
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from itertools import pairwise
from random import Random

from gardenframe import units
from gardenframe.errors import GardenframeError, InputError
from gardenframe.teaching.practice.numbers import Numbers, fill, mark_m
from gardenframe.working import Step

MOST_DRAWS = 60  # of the questions here at least 6 draws in 10 will do
RELATIVE = 0.01  # of what is not read off a tape: a moment, a pressure
LOOSE = 0.005  # a factor between two units is recognised within this share
COUNTED = ("count", "money")
ANOTHER = {"length": "m", "moment": "lbf ft", "force": "kN", "mass": "g", "pressure": "kPa", "speed": "kn"}
# how many times too large, and as if what had been what; each is met the other way round too
UNIT_SLIPS: Mapping[str, tuple[tuple[float, str, str], ...]] = {
    "length": (
        (10.0, "millimetres", "centimetres"),
        (1000.0, "millimetres", "metres"),
        (25.4, "millimetres", "inches"),
        (2.54, "centimetres", "inches"),
        (12.0, "inches", "feet"),
        (1 / 0.3048, "feet", "metres"),
    ),
    "moment": (
        (1000.0, "N mm", "N m"),
        (12.0, "lbf in", "lbf ft"),
        (units.UNITS["lbf ft"].factor, "N m", "lbf ft"),
    ),
    "pressure": ((1000.0, "Pa", "kPa"), (units.UNITS["psf"].factor, "Pa", "psf")),
    "force": ((1000.0, "N", "kN"), (units.POUND_N, "N", "lbf"), (units.G_M_PER_S2, "N", "kgf")),
    "mass": ((1 / units.POUND_KG, "lb", "kg"), (1000.0, "g", "kg")),
    "speed": ((3.6, "km/h", "m/s"), (units.UNITS["mph"].factor ** -1, "mph", "m/s")),
}


class PracticeError(GardenframeError, ValueError):
    """A question that cannot be drawn: its slips cannot be told apart."""


@dataclass(frozen=True, slots=True)
class Slip:
    """A usual mistake: its name, what the numbers come to with it (None where it cannot happen), a kind sentence.

    `factor` is set for a mix-up of units: how many times too large the result is.
    """

    name: str
    wrong: Callable[[Numbers], float | None]
    told: str
    factor: float | None = None


@dataclass(frozen=True, slots=True)
class Verdict:
    """What an answer is told. `slip` is the name of the one it looks like, "" for none."""

    right: bool
    told: str
    slip: str = ""
    read: str = ""

    @property
    def text(self) -> str:
        """All of it."""
        return f"{self.read} {self.told}".strip()


@dataclass(frozen=True, slots=True)
class Shown:
    """One paragraph of a working: words, or a formula's own step."""

    text: str = ""
    step: Step | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """A question with numbers drawn afresh.

    Parameters
    ----------
    key, title : str
        A name for code, a heading for readers.
    ask : str
        The question; `{width_m}` stands for the drawn number of that name (see `numbers.fill`).
    kind : str
        Kind of the answer: a key of `units.USUAL`.
    draw : function of a random generator and "metric" or "us"
        Returns the numbers, by names that end in their unit: `width_m`, `outer_mm`, `bays`.
    answer : function of the numbers
        The exact answer in the kept unit of its kind (lengths in m).
    slips : tuple of Slip
        Usual mistakes; mix-ups of units and of rounding are added for every kind that has them.
    hints : tuple of str
        From a nudge to nearly all of it; filled like `ask`.
    working : function of numbers and system
        Yields `Shown` paragraphs, with a formula's `.shown` step wherever there is a formula.
    counted : tuple of str
        For a count, the word and its plural, which may follow the number: ("stick", "sticks").
    rounded : bool
        Whether a length has to be rounded to the tape, so that rounding the wrong way is a slip.
    """

    key: str
    title: str
    ask: str
    kind: str
    draw: Callable[[Random, str], Numbers]
    answer: Callable[[Numbers], float]
    slips: tuple[Slip, ...]
    hints: tuple[str, ...]
    working: Callable[[Numbers, str], Iterable[Shown]]
    counted: tuple[str, str] = ("", "")
    rounded: bool = True
    unit: str | None = None

    def drawn(self, seed: int, system: str = "metric") -> "Drawn":
        """Return the question with the numbers of a seed, in the reader's units."""
        rng = Random(f"{self.key} {system} {seed}")  # noqa: S311 - numbers to practise with, no secret
        for _ in range(MOST_DRAWS):
            made = Drawn(self, dict(self.draw(rng, system)), system, seed)
            if made.tells_apart():
                return made
        raise PracticeError(f"{self.key}: {MOST_DRAWS} draws left slips that cannot be told apart. Widen its numbers.")


@dataclass(frozen=True)
class Drawn:
    """A question with its numbers."""

    question: Question
    numbers: Numbers
    system: str
    seed: int = 0
    slips: tuple[tuple[Slip, float], ...] = field(init=False, compare=False)

    def __post_init__(self) -> None:
        """Work out what every slip comes to."""
        found = [(slip, slip.wrong(self.numbers)) for slip in (*self.question.slips, *self._general())]
        object.__setattr__(self, "slips", tuple((slip, wrong) for slip, wrong in found if wrong is not None))

    # --- what is said

    @property
    def ask(self) -> str:
        """The question in the reader's units."""
        return fill(self.question.ask, self.numbers, self.system)

    @property
    def hints(self) -> tuple[str, ...]:
        """The hints in the reader's units."""
        return tuple(fill(hint, self.numbers, self.system) for hint in self.question.hints)

    @property
    def unit(self) -> str:
        """The unit in which a bare number is read; "" for a count."""
        question = self.question
        if question.kind == "count":
            return ""
        label = units.usual_unit(question.kind, self.system, question.unit)
        return "in" if label == "ft-in" else label

    @property
    def asks_for(self) -> str:
        """What to type, and how near is right, in one line."""
        if self.question.kind == "count":
            return f"A whole number{' of ' + self.question.counted[1] if self.question.counted[1] else ''}."
        if self.question.kind == "money":
            return f"An amount in {self.unit}, right within half a cent."
        if self.question.kind == "number":
            return f"A number. Right within {RELATIVE:.0%}."
        bare = f"With its unit; a bare number is read as {self.unit}."
        if self.question.kind == "length":
            near = "0.5 mm" if self.system == "metric" else "1/32 in"
            return f"{bare} Right within {near}, half a mark of the tape."
        return f"{bare} Right within {RELATIVE:.0%}."

    def working(self) -> list[Shown]:
        """Return how it is worked, the answer last."""
        return [*self.question.working(self.numbers, self.system), Shown(f"Answer: {self.written(self.answer)}.")]

    def written(self, value: float) -> str:
        """Return a value as the reader writes it."""
        question = self.question
        text = units.write(value, question.kind, self.system, question.unit)
        one, many = question.counted
        return f"{text} {one if value == 1 else many}".strip()

    # --- what is right

    @property
    def answer(self) -> float:
        """The exact answer, in the kept unit."""
        return self.question.answer(self.numbers)

    @property
    def tolerance(self) -> float:
        """How far from it is still right, in the kept unit: half a mark of the tape for a length."""
        if self.question.kind == "length":
            return mark_m(self.system) / 2 * (1 + 1e-6)
        if self.question.kind in COUNTED:
            return 0.005 if self.question.kind == "money" else 0.0
        unit = units.UNITS[self.question.unit or units.usual_unit(self.question.kind, self.system)]
        written = 0.5 * 10.0**-unit.digits * unit.factor  # half of the last figure that we would write
        return max(RELATIVE * abs(self.answer), written * (1 + 1e-6))

    def window(self, slip: Slip, wrong: float) -> float:
        """Return how far from a slip's result an answer still looks like it."""
        if slip.factor is None:
            return self.tolerance
        return max(self.tolerance * min(slip.factor, 1.0), LOOSE * abs(wrong))

    def tells_apart(self) -> bool:
        """Whether no slip comes to the right answer and no two to the same, so that a verdict can be trusted."""
        found = [(self.answer, self.tolerance), *((wrong, self.window(slip, wrong)) for slip, wrong in self.slips)]
        if not all(value > 0 and math.isfinite(value) for value, _ in found):
            return False
        found.sort()
        return all(b - a > 1.02 * max(near, far) for (a, near), (b, far) in pairwise(found))

    def _general(self) -> Iterator[Slip]:
        """Yield the slips that any question of this kind invites: units, and the tape's nearest mark."""
        for factor, small, large in UNIT_SLIPS.get(self.question.kind, ()):
            for times, words in ((factor, f"{small} were {large}"), (1 / factor, f"{large} were {small}")):
                size = f"{max(times, 1 / times):.3g} times too {'large' if times > 1 else 'small'}"
                told = f"That is {size}, as if {words}. The figures look right: look at the unit."
                yield Slip(f"unit: {words}", _times(self.question.answer, times), told, times)
        if self.question.kind == "length" and self.question.rounded:
            told = "The length itself looks right, but it went to the wrong mark of the tape: take the nearest one."
            yield Slip("rounding", self._other_mark, told)

    def _other_mark(self, numbers: Numbers) -> float:
        marks = self.question.answer(numbers) / mark_m(self.system)
        other = math.ceil(marks) if marks - math.floor(marks) < 0.5 else math.floor(marks)
        return other * mark_m(self.system)

    # --- what an answer is told

    def read(self, text: str) -> tuple[float, str]:
        """Return the value typed, and how a bare number was read; InputError where it cannot be."""
        question, name = self.question, "Your answer"
        clean = text
        if question.counted[0]:
            clean = re.sub(rf"(?i)\s*\b({'|'.join(map(re.escape, question.counted))})\s*$", "", text)
        try:
            value = units.parse(clean, question.kind, self.system, question.unit, name)
        except InputError as error:
            raise InputError(name, text, error.needs, error.do) from None
        if value <= 0:
            raise InputError(name, text, f"more than {self.written(0)}")
        other = ANOTHER.get(question.kind)
        bare = other and units.parse(clean, question.kind, self.system, other, name) != value
        return value, f"Read as {self._as_typed(value)}." if bare else ""

    def _as_typed(self, value: float) -> str:
        figures = f"{units.in_unit(value, self.unit):.10g}"
        return f"{figures} {self.unit}"

    def judge(self, text: str) -> Verdict:
        """Return what an answer is told; InputError, one sentence, where it cannot be read."""
        value, read = self.read(text)
        answer = self.answer
        if abs(value - answer) <= self.tolerance + 1e-12:
            return Verdict(True, f"Right: {self.written(answer)}.", read=read)
        near = [
            (abs(value - wrong) / (self.window(slip, wrong) or 1.0), slip)
            for slip, wrong in self.slips
            if abs(value - wrong) <= self.window(slip, wrong) + 1e-12
        ]
        if near:
            slip = min(near, key=lambda found: found[0])[1]
            return Verdict(False, f"Not yet. {fill(slip.told, self.numbers, self.system)}", slip.name, read)
        side = "more" if value < answer else "less"
        told = f"Not yet: it is {side} than that, and it looks like none of the usual slips. A hint may help."
        return Verdict(False, told, read=read)


def _times(answer: Callable[[Numbers], float], factor: float) -> Callable[[Numbers], float]:
    return lambda numbers: factor * answer(numbers)
