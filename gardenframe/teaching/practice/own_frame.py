"""Questions of an own frame: a brace from the places of its joints, a bent hoop from its path."""

import math
from collections.abc import Iterator
from random import Random

from gardenframe import road, units
from gardenframe.builds.own_frame import OwnFrame
from gardenframe.builds.own_frame_examples import STAND
from gardenframe.materials.shop import Shop
from gardenframe.teaching.practice.guesses import Guess
from gardenframe.teaching.practice.numbers import Numbers, drawn_m, on_tape_m
from gardenframe.teaching.practice.questions import Question, Shown, Slip


def _brace_numbers(rng: Random, system: str) -> Numbers:
    return {
        "across_m": drawn_m(rng, system, 0.4, 1.4, 0.05, 2),
        "up_m": drawn_m(rng, system, 0.4, 1.4, 0.05, 2),
        "stop_m": on_tape_m(rng.choice((0.028, 0.033, 0.04, 0.044)), system),
    }


def _brace(n: Numbers, ends: int = 2) -> float:
    return math.hypot(n["across_m"], n["up_m"]) - ends * float(n["stop_m"])


def _brace_working(n: Numbers, system: str) -> Iterator[Shown]:
    long = math.hypot(n["across_m"], n["up_m"])
    said = [units.write(value, "length", system) for value in (n["across_m"], n["up_m"], long, _brace(n))]
    yield Shown(f"Across and up are the sides of a right angle: the root of {said[0]}² + {said[1]}² is {said[2]}.")
    yield Shown(f"The set-back comes off at each end, so twice: {said[3]}.")


BRACE = Question(
    key="own-brace",
    title="A brace from the places of its joints",
    ask="In a table of joints a brace runs from one joint to another that lies {across_m} across and {up_m} higher. "
    "Each end stops {stop_m} short of its joint. How long is the piece?",
    kind="length",
    draw=_brace_numbers,
    answer=_brace,
    slips=(
        Slip("set-backs forgotten", lambda n: _brace(n, 0), "The set-backs look forgotten: the fitting takes room."),
        Slip("one set-back", lambda n: _brace(n, 1), "One set-back looks taken off: there are two ends."),
        Slip("sides added", lambda n: n["across_m"] + n["up_m"] - 2 * n["stop_m"],
             "The sides look added: a brace goes straight across."),
    ),
    hints=("Draw the right angle of across and up: the brace is its long side.",
           "The root of {across_m} squared and {up_m} squared, less {stop_m} twice."),
    working=_brace_working,
)  # fmt: skip


def _hoop_numbers(rng: Random, system: str) -> Numbers:
    return {
        "leg_m": drawn_m(rng, system, 0.6, 1.2, 0.05, 2),
        "wide_m": drawn_m(rng, system, 0.5, 1.0, 0.05, 2),
        "radius_m": drawn_m(rng, system, 0.1, 0.2, 0.01, 1),
    }


def _hoop(n: Numbers, bends: int = 2) -> float:
    saved = (2 - math.pi / 2) * n["radius_m"]  # of each bend against its sharp corner
    return float(2 * n["leg_m"] + n["wide_m"] - bends * saved)


def _hoop_working(n: Numbers, system: str) -> Iterator[Shown]:
    def said(value: float) -> str:
        return units.write(value, "length", system)

    radius = n["radius_m"]
    yield Shown(f"With sharp corners the path is {said(2 * n['leg_m'] + n['wide_m'])}.")
    quarter = said(math.pi / 2 * radius)
    yield Shown(
        f"Each bend takes {said(radius)} off both sides of its corner and puts a quarter circle, {quarter}, there."
    )
    yield Shown(f"Two bends: {said(_hoop(n))}.")


HOOP_PATH = Question(
    key="own-hoop",
    title="A bent run from its path",
    ask="The path of a hoop goes {leg_m} up, {wide_m} across and {leg_m} down. Both corners are bent to a radius of "
    "{radius_m}, to the centreline. How long is the tube on its axis?",
    kind="length",
    draw=_hoop_numbers,
    answer=_hoop,
    slips=(
        Slip("sharp corners", lambda n: _hoop(n, 0), "The corners look taken as sharp: a bend is shorter."),
        Slip("one bend", lambda n: _hoop(n, 1), "One bend looks counted: there are two."),
        Slip("no arcs", lambda n: 2 * n["leg_m"] + n["wide_m"] - 4 * n["radius_m"],
             "The arcs look left out: only the straight parts are counted."),
    ),
    hints=("Begin with sharp corners, then see what each bend saves.",
           "A bend takes {radius_m} off each side and adds a quarter of a circle of that radius."),
    working=_hoop_working,
)  # fmt: skip


def _shop(system: str) -> Shop:
    return Shop(tape="mm" if system == "metric" else "1/16 in")


def _low_rail(system: str) -> float:
    return min(piece.cut_m for piece in road.plan(OwnFrame(), shop=_shop(system)).cut if piece.role == "rail")


def _bolted_less(system: str) -> float:
    clamped, bolted = (road.plan(OwnFrame(joining=way), live=True).cost.usual for way in ("clamp-on", "bolted"))
    return round(clamped - bolted, 2)


def _stand(system: str) -> road.Plan:
    build = OwnFrame(joints=STAND["joints"], runs=STAND["runs"], coverings="")
    return road.plan(build, shop=_shop(system))


def _hoop_cut(system: str) -> float:
    return next(p.length_m for p in _stand(system).cut if p.role == "hoop")


OWN_GUESSES = (
    Guess(
        key="own-rail",
        ask="The low rail of the screen meets three posts, 1200 mm (3 ft 11 1/4 in) apart on their axes. It is cut at "
        "the middle one. How long is each piece?",
        kind="length",
        answer=_low_rail,
    ),
    Guess(
        key="own-bolted",
        ask="Joined clamp-on the screen costs $207.50 at our invented prices. How much less does it cost with the same "
        "tubes bolted side by side?",
        kind="money",
        answer=_bolted_less,
    ),
    Guess(
        key="own-hoop",
        ask="A hoop of the bicycle stand goes 800 mm (2 ft 7 1/2 in) up, 500 mm (1 ft 7 11/16 in) across and as far "
        "down, both corners bent to 115 mm (4 1/2 in). How long is its tube?",
        kind="length",
        answer=_hoop_cut,
    ),
)
OWN = (BRACE, HOOP_PATH)
