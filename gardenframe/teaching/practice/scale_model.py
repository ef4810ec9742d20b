"""Questions of a scale model: how long a piece is there, how many straws it takes."""

import math
from collections.abc import Iterator
from random import Random

from gardenframe import road, units
from gardenframe.builds.trellis import Trellis
from gardenframe.output.scale_model import model_length_m, scale_model
from gardenframe.teaching.practice.guesses import Guess
from gardenframe.teaching.practice.numbers import Numbers, drawn_m
from gardenframe.teaching.practice.questions import Question, Shown, Slip


def _model_numbers(rng: Random, system: str) -> Numbers:
    return {"length_m": drawn_m(rng, system, 0.9, 3.0, 0.01, 3), "scale": rng.choice([5, 8, 12, 16, 20])}


def _model_working(n: Numbers, system: str) -> Iterator[Shown]:
    yield Shown(step=model_length_m.shown(n["length_m"], n["scale"], system=system))


SMALLER = Question(
    key="model-length",
    title="A piece of the model",
    ask="A rail is {length_m} long. How long is it in a model of one to {scale}?",
    kind="length",
    draw=_model_numbers,
    answer=lambda n: model_length_m(n["length_m"], n["scale"]),
    slips=(
        Slip("times the scale", lambda n: n["length_m"] * n["scale"], "That is longer than the rail: divide by the "
             "scale."),
        Slip("root of the scale", lambda n: n["length_m"] / math.sqrt(n["scale"]),
             "The root of the scale looks taken: lengths go with the scale itself."),
    ),
    hints=("One to {scale} means that {scale} of them make the real one.", "Divide {length_m} by {scale}."),
    working=_model_working,
)  # fmt: skip


def _back_numbers(rng: Random, system: str) -> Numbers:
    step = 0.005 if system == "metric" else 0.5 * units.INCH_M
    return {"model_m": rng.randint(10, 30) * step, "scale": rng.choice([6, 8, 10, 12, 20])}


def _back_working(n: Numbers, system: str) -> Iterator[Shown]:
    seen, real = units.write(n["model_m"], "length", system), units.write(n["model_m"] * n["scale"], "length", system)
    yield Shown(f"One to {n['scale']} means that the real one is {n['scale']} times as long: {seen} becomes {real}.")


BACK = Question(
    key="model-back",
    title="From the model to the tube",
    ask="In a model of one to {scale} a straw of {model_m} fits between two joints. How long a tube is that?",
    kind="length",
    draw=_back_numbers,
    answer=lambda n: n["model_m"] * n["scale"],
    slips=(
        Slip("divided", lambda n: n["model_m"] / n["scale"], "That is shorter than the straw: multiply by the scale."),
    ),
    hints=("The real one is longer than the straw.", "Multiply {model_m} by {scale}."),
    working=_back_working,
)


def _trellis(system: str) -> float:
    return float(scale_model(road.plan(Trellis(), live=True), 10).number)


def _joints(system: str) -> float:
    return float(scale_model(road.plan(Trellis(), live=True), 10).joints_made)


MODEL_GUESSES = (
    Guess(
        key="model-straws",
        ask="A trellis of two bays, 1830 mm (6 ft) wide and high, becomes a model of a tenth. How many paper straws of "
        "197 mm (7 3/4 in) does it take?",
        kind="count",
        answer=_trellis,
        counted=("straw", "straws"),
    ),
    Guess(
        key="model-joints",
        ask="It has three posts, a rail along the top and rails at two more heights. How many joints is that?",
        kind="count",
        answer=_joints,
        counted=("joint", "joints"),
    ),
)
MODEL = (SMALLER, BACK)
