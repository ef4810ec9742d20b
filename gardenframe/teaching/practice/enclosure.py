"""Questions of an enclosure: strips that cover a wall, the diagonal of a square gate, the pull of its hinges."""

import math
from collections.abc import Iterator
from random import Random

from gardenframe import road
from gardenframe.builds import enclosure_gate
from gardenframe.builds.enclosure import Enclosure
from gardenframe.geometry.coverings import strips_needed
from gardenframe.materials import constants
from gardenframe.materials.site import Site
from gardenframe.strength import gates
from gardenframe.strength.cases import GRAVITY_M_PER_S2
from gardenframe.teaching.practice.guesses import Guess
from gardenframe.teaching.practice.numbers import Numbers, drawn, drawn_m
from gardenframe.teaching.practice.questions import Question, Shown, Slip


def _strip_numbers(rng: Random, system: str) -> Numbers:
    roll = float(rng.choice((0.6096, 0.9144, 1.2192)))
    number = rng.choice((2, 3))
    overlap = 0.05 if system == "metric" else 0.0508
    reach = number * roll - (number - 1) * overlap
    room = reach - drawn_m(rng, system, 0.03, min(0.2, roll / 3), 0.01, 1)
    return {"high_m": round(room, 2) if system == "metric" else round(room / 0.0254) * 0.0254, "roll_m": roll,
            "overlap_m": overlap}  # fmt: skip


def _strips(n: Numbers) -> float:
    return float(strips_needed(n["high_m"], n["roll_m"], n["overlap_m"]))


def _strip_working(n: Numbers, system: str) -> Iterator[Shown]:
    yield Shown("The first strip covers a whole roll's width; each one after it a width less the overlap:")
    low, high = (k * n["roll_m"] - (k - 1) * n["overlap_m"] for k in (_strips(n) - 1, _strips(n)))
    few, enough = (f"{reach * 1000:.0f} mm ({reach / 0.0254:.1f} in)" for reach in (low, high))
    yield Shown(f"{_strips(n) - 1:.0f} of them reach {few}, {_strips(n):.0f} reach {enough}.")


STRIPS = Question(
    key="mesh-strips",
    title="Strips for a wall",
    ask="A wall {high_m} high is covered by level strips from a roll {roll_m} wide; each strip overlaps the one "
    "below by {overlap_m}. How many strips does it take?",
    kind="count",
    draw=_strip_numbers,
    answer=_strips,
    slips=(
        Slip("one too few", lambda n: _strips(n) - 1, "They end below the top: look at how far the strips reach."),
        Slip("one too many", lambda n: _strips(n) + 1, "One fewer reaches the top already."),
    ),
    hints=("The first strip covers a whole width of the roll.", "Every further one adds {roll_m} less {overlap_m}."),
    working=_strip_working,
)


def _square_numbers(rng: Random, system: str) -> Numbers:
    return {
        "wide_m": drawn_m(rng, system, 0.7, 1.2, 0.01, 1),
        "tall_m": drawn_m(rng, system, 1.5, 2.1, 0.01, 1),
    }


def _square_working(n: Numbers, system: str) -> Iterator[Shown]:
    yield Shown("Where the corners are square, a diagonal is the long side of a right triangle:")
    yield Shown(step=gates.diagonal_m.shown(n["wide_m"], n["tall_m"], system=system))


SQUARE = Question(
    key="gate-diagonal",
    title="When a gate is square",
    ask="A gate is {wide_m} wide and {tall_m} tall between the middles of its tubes. How long are both diagonals "
    "when it is square?",
    kind="length",
    draw=_square_numbers,
    answer=lambda n: gates.diagonal_m(n["wide_m"], n["tall_m"]),
    slips=(
        Slip("along the sides", lambda n: n["wide_m"] + n["tall_m"], "That is the way round by two sides."),
        Slip("minus for plus", lambda n: math.sqrt(n["tall_m"] ** 2 - n["wide_m"] ** 2),
             "The squares look taken apart instead of together."),
    ),
    hints=("Two sides and a diagonal make a right triangle.", "Square both sides, add them, take the root."),
    working=_square_working,
)  # fmt: skip


def _pull_numbers(rng: Random, system: str) -> Numbers:
    return {
        "mass_kg": drawn(rng, "mass", system, 6.0, 16.0, 0.5, 1.0),
        "wide_m": drawn_m(rng, system, 0.8, 1.2, 0.05, 2),
        "apart_m": drawn_m(rng, system, 1.0, 1.7, 0.05, 2),
    }


def _pull(n: Numbers, lever: float = 0.5, upside: bool = False) -> float:
    weight = float(n["mass_kg"]) * GRAVITY_M_PER_S2
    ratio = float(n["wide_m"] * lever / n["apart_m"])
    return weight / ratio if upside else weight * ratio


def _pull_working(n: Numbers, system: str) -> Iterator[Shown]:
    weight = gates.weight_n.shown(n["mass_kg"], system=system)
    yield Shown(step=weight)
    yield Shown("The weight hangs half the width away; the two hinges turn it back with their distance for a lever:")
    yield Shown(step=gates.hinge_pull_n.shown(weight.value, 0.0, n["wide_m"], n["apart_m"], system=system))


HANGS = Question(
    key="hinge-pull",
    title="What a hinge pulls",
    ask="A gate of {mass_kg}, {wide_m} wide, hangs on two hinges {apart_m} apart. With what force does the upper hinge "
    "pull its post sideways?",
    kind="force",
    draw=_pull_numbers,
    answer=_pull,
    slips=(
        Slip("whole width", lambda n: _pull(n, 1.0), "The whole width looks taken: the weight hangs in the middle."),
        Slip("upside down", lambda n: _pull(n, upside=True), "The levers look exchanged: hinges far apart pull less."),
        Slip("shared", lambda n: _pull(n) / 2, "Halved: the other hinge pushes as hard as this one pulls."),
    ),
    hints=("Take moments about the lower hinge.", "The weight's lever is half of {wide_m}, the hinge's {apart_m}."),
    working=_pull_working,
)  # fmt: skip


def _plan() -> road.Plan:
    return road.plan(Enclosure(), Site(), live=True)


def _hinge(system: str) -> float:
    gate = enclosure_gate.gates_of(_plan())[0]
    return gates.hinge_pull_n(gate.weight_n, constants.value("lean_n"), gate.width_m, gate.apart_m)


ENCLOSURE_GUESSES = (
    Guess(
        key="enclosure-rolls",
        ask="How many rolls of hardware cloth, 1.2 m by 15.2 m (4 ft by 50 ft), go into walls, gate and skirt?",
        kind="count",
        answer=lambda system: float(sum(one.rolls for one in _plan().covered if one.panel != "roof")),
        counted=("roll", "rolls"),
    ),
    Guess(
        key="enclosure-mass",
        ask="How heavy is the gate, 910 mm (36 in) wide and about 2 m (6 ft 6 in) tall?",
        kind="mass",
        answer=lambda system: enclosure_gate.gates_of(_plan())[0].mass_kg,
    ),
    Guess(
        key="enclosure-hinge",
        ask="A child of 25 kg (56 lb) hangs on its far side. With what force does the upper hinge pull?",
        kind="force",
        answer=_hinge,
    ),
)
ENCLOSURE = (STRIPS, SQUARE, HANGS)
