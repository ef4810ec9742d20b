"""Questions of a hoop house: the film over a hoop, and the tube of one; guesses at hoop, film and gust."""

from collections.abc import Iterator
from random import Random

from gardenframe import road
from gardenframe.builds.hoop_house import HoopHouse
from gardenframe.geometry import bending
from gardenframe.teaching.practice.arch import HOOP
from gardenframe.teaching.practice.guesses import Guess
from gardenframe.teaching.practice.numbers import Numbers, drawn_m
from gardenframe.teaching.practice.questions import Question, Shown, Slip


def _film_numbers(rng: Random, system: str) -> Numbers:
    return {
        "width_m": drawn_m(rng, system, 2.0, 4.2, 0.02, 1),
        "wall_m": drawn_m(rng, system, 0.3, 0.9, 0.01, 1),
        "bury_m": drawn_m(rng, system, 0.15, 0.28, 0.01, 1),
    }


def _film(n: Numbers, radius: float = 0.5, walls: int = 2, buried: int = 2) -> float:
    """Return the film across a house, or what it comes to with something left out. [m]"""
    arc = bending.arc_length_mm(radius * n["width_m"] * 1000, 180.0) / 1000
    return float(arc + walls * n["wall_m"] + buried * n["bury_m"])


def _film_working(n: Numbers, system: str) -> Iterator[Shown]:
    yield Shown("Over the half circle, radius half the width:")
    yield Shown(step=bending.arc_length_mm.shown(n["width_m"] * 500, 180.0, system=system))
    yield Shown("Down two walls, and into two trenches: add both twice.")


FILM = Question(
    key="house-film",
    title="The film across a house",
    ask="The hoops of a house are half circles {width_m} wide on straight walls {wall_m} high. At each side {bury_m} "
    "of the film lies in a trench. How wide must the film be to cover the house in one piece?",
    kind="length",
    draw=_film_numbers,
    answer=_film,
    slips=(
        Slip("trench forgotten", lambda n: _film(n, buried=0), "What is buried looks forgotten."),
        Slip("one trench", lambda n: _film(n, buried=1), "One trench looks forgotten: there are two sides."),
        Slip("walls forgotten", lambda n: _film(n, walls=0), "The straight walls look forgotten."),
        Slip("width for radius", lambda n: _film(n, radius=1.0), "The width looks taken for the radius."),
    ),
    hints=("Follow the film from trench to trench.", "A half circle is pi times half of {width_m}.",
           "Add {wall_m} twice and {bury_m} twice."),
    working=_film_working,
)  # fmt: skip

HOUSE = (HOOP, FILM)


def _tube_m(system: str) -> float:
    frame = road.plan(HoopHouse()).frame
    return float(frame.lines["hoop 1"].length_m)


def _gust_m_per_s(system: str) -> float:
    return float(
        next(one.value for one in road.plan(HoopHouse()).limits if (one.what, one.condition) == ("gust", "covered"))
    )


HOUSE_GUESSES = (
    Guess(
        key="house-tube", ask="How long is the tube of one hoop, from the end of one sleeve to the other?",
        kind="length", answer=_tube_m,
    ),
    Guess(key="house-gust", ask="At which gust does something first use up its reserve?", kind="speed",
          answer=_gust_m_per_s),
)  # fmt: skip
