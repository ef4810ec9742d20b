"""Questions of a hoop house: tube and widest hoop, film over it, heater; guesses at hoop and gust."""

import math
from collections.abc import Iterator
from random import Random

from gardenframe import road
from gardenframe.builds.hoop_house import HoopHouse
from gardenframe.climate import heat
from gardenframe.geometry import bending, hoops
from gardenframe.materials.benders import bender_for
from gardenframe.teaching.practice.arch import HOOP, TUBES
from gardenframe.teaching.practice.guesses import Guess
from gardenframe.teaching.practice.numbers import Numbers, drawn, drawn_m, on_tape_m
from gardenframe.teaching.practice.questions import Question, Shown, Slip
from gardenframe.units import FOOT_M


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


def _largest_numbers(rng: Random, system: str) -> Numbers:
    jig = bender_for(rng.choice(TUBES), "jig")
    straight = on_tape_m(jig.near_mm / 1000, system)
    return {"label": jig.label, "stick_m": rng.choice((10, 20)) * FOOT_M, "straight_m": straight}


def _largest(n: Numbers, straights: int = 2, share: float = 1.0) -> float:
    """Return the width of the widest half circle from a stick, or what it comes to otherwise. [m]"""
    held = straights * n["straight_m"] * 500  # taken evenly off both ends
    return share * hoops.largest_hoop(n["stick_m"] * 1000, held, held).width_mm / 1000


def _largest_working(n: Numbers, system: str) -> Iterator[Shown]:
    yield Shown("The stick less two straight ends is what bends. A half circle is pi times its radius:")
    yield Shown(step=bending.arc_length_mm.shown(_largest(n) * 500, 180.0, system=system))
    yield Shown("So the width is twice what bends, over pi.")


LARGEST = Question(
    key="house-largest",
    title="The widest hoop from one stick",
    ask="A stick is {stick_m:m} long. The {label} leaves {straight_m} straight at each end. How wide, from the middle "
    "of one leg to the middle of the other, is the widest half circle from one stick?",
    kind="length",
    draw=_largest_numbers,
    answer=_largest,
    slips=(
        Slip("straight forgotten", lambda n: _largest(n, straights=0), "The straight ends look forgotten."),
        Slip("straight once", lambda n: _largest(n, straights=1), "One straight end looks forgotten: a stick has two."),
        Slip("radius for width", lambda n: _largest(n, share=0.5), "That is the radius: the width is twice as much."),
        Slip("pi left out", lambda n: _largest(n, share=math.pi / 2), "That is the tube that bends: divide by pi for "
             "the radius."),
    ),
    hints=("How much of the stick is bent?", "What is bent is pi times the radius of a half circle.",
           "Take {straight_m} twice off {stick_m:m}, divide by pi, and double it."),
    working=_largest_working,
)  # fmt: skip

LOSS_UNIT = {"metric": (1.0, 0.1, "square metre and °C", 2), "us": (1.8 / FOOT_M**2, 0.01, "square foot and °F", 2)}


def _heater_numbers(rng: Random, system: str) -> Numbers:
    each, step, words, digits = LOSS_UNIT[system]
    shown = round(drawn(rng, "number", "metric", 3.0, 6.8, 0.1, 0.1) / each / step) * step
    area = drawn(rng, "area", system, 25.0, 60.0, 1.0, 10.0)
    degrees = 1.0 if system == "metric" else 1 / 1.8
    warmer = rng.randint(8, 20) if system == "metric" else rng.randint(15, 36)
    cold = rng.randint(-12, -2) if system == "metric" else rng.randint(10, 28)
    mark = "°C" if system == "metric" else "°F"
    return {
        "u": shown * each, "cover_m2": area, "floor_m2": area * 0.3, "warmer_k": warmer * degrees, "warmer": warmer,
        "cold": f"{cold} {mark}".replace("-", "−"), "warm": f"{cold + warmer} {mark}".replace("-", "−"),
        "each": f"{shown:.{digits}f} W for each {words}",
    }  # fmt: skip


def _heater(n: Numbers, area: str = "cover_m2") -> float:
    """Return the heater that makes up for what the cover loses, or what it comes to otherwise. [W]"""
    return float(heat.heat_loss_w(heat.cover_loss_w_per_k(n["u"], n[area]), n["warmer_k"]))


def _heater_working(n: Numbers, system: str) -> Iterator[Shown]:
    yield Shown("What the cover loses for each degree, then for all of them (shown with kelvins, K):")
    yield Shown(step=heat.cover_loss_w_per_k.shown(n["u"], n["cover_m2"], system=system))
    loss = heat.cover_loss_w_per_k(n["u"], n["cover_m2"])
    yield Shown(step=heat.heat_loss_w.shown(loss, n["warmer_k"], system=system))


HEATER = Question(
    key="house-heater",
    title="The heater of a cold night",
    ask="Film and ends of a house have {cover_m2}, its floor has {floor_m2}. The film loses {each} of difference. At "
    "{cold} outside it is to keep {warm}. How large a heater makes up for what goes through the film, leaks left out?",
    kind="power",
    draw=_heater_numbers,
    answer=_heater,
    slips=(
        Slip("floor for cover", lambda n: _heater(n, "floor_m2"), "The floor looks taken for the film: heat goes out "
             "through the film."),
        Slip("one degree", lambda n: _heater(n) / n["warmer"], "That is for one degree: multiply by the difference "
             "between inside and outside."),
    ),
    hints=("Heat goes out through every bit of film, and for every degree of difference.",
           "Multiply {cover_m2} by what is lost for each, then by the difference of {warm} and {cold}."),
    working=_heater_working,
)  # fmt: skip

HOUSE = (HOOP, LARGEST, FILM, HEATER)


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
