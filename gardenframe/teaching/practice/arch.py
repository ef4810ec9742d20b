"""Questions of an arch over a path: the tube of a hoop, its headroom at the edge of the path, a bend's gain."""

import math
from collections.abc import Iterator
from random import Random

from gardenframe import road
from gardenframe.builds.walkway_arch import WalkwayArch
from gardenframe.geometry import bending, clearance
from gardenframe.materials import members
from gardenframe.materials.benders import bender_for
from gardenframe.teaching.practice.guesses import Guess
from gardenframe.teaching.practice.numbers import Numbers, drawn_m, on_tape_m
from gardenframe.teaching.practice.questions import Question, Shown, Slip

TUBES = ("emt-1/2", "emt-3/4", "emt-1", "emt-1-1/4")


def _hoop_numbers(rng: Random, system: str) -> Numbers:
    width, straight = drawn_m(rng, system, 1.3, 2.4, 0.02, 1), drawn_m(rng, system, 0.2, 0.5, 0.01, 1)
    return {"width_m": width, "straight_m": straight}


def _hoop(n: Numbers, radius: float = 0.5, straights: int = 2, turn_deg: float = 180.0) -> float:
    """Return the straight tube of a hoop, or what it comes to with something else. [m]"""
    arc = bending.arc_length_mm(radius * n["width_m"] * 1000, turn_deg) / 1000
    return float(arc + straights * n["straight_m"])


def _hoop_working(n: Numbers, system: str) -> Iterator[Shown]:
    yield Shown("The radius is half the width between the middles of the legs; a half circle turns by 180 degrees:")
    yield Shown(step=bending.arc_length_mm.shown(n["width_m"] * 500, 180.0, system=system))
    yield Shown("A straight end is added at each side.")


HOOP = Question(
    key="arch-hoop",
    title="The tube of a hoop",
    ask="A half hoop is {width_m} wide from the middle of one leg to the middle of the other. At each end {straight_m} "
    "stays straight. How long is the straight tube that it is bent from?",
    kind="length",
    draw=_hoop_numbers,
    answer=_hoop,
    slips=(
        Slip("straight forgotten", lambda n: _hoop(n, straights=0), "The straight ends look forgotten."),
        Slip("straight once", lambda n: _hoop(n, straights=1), "One straight end looks forgotten: a hoop has two."),
        Slip("width for radius", lambda n: _hoop(n, radius=1.0), "The width looks taken for the radius."),
        Slip("quarter circle", lambda n: _hoop(n, turn_deg=90.0), "That is a quarter of a circle: a hoop turns by 180 "
             "degrees."),
    ),
    hints=("A half circle is pi times its radius.", "The radius is half of {width_m}.", "Then add {straight_m} twice."),
    working=_hoop_working,
)  # fmt: skip


def _room_numbers(rng: Random, system: str) -> Numbers:
    member, radius = members.find(rng.choice(TUBES)), drawn_m(rng, system, 0.92, 1.2, 0.01, 0.5)
    return {
        "spring_m": drawn_m(rng, system, 1.5, 1.9, 0.01, 1),
        "radius_m": radius,
        "path_m": drawn_m(rng, system, 0.76, 0.93 * radius, 0.02, 1),
        "hanging_m": drawn_m(rng, system, 0.06, 0.3, 0.02, 1),
        "tube": member.label,
        "outer_mm": member.outer_mm,
    }


def _room(n: Numbers, aside: float = 0.5, outer: float = 1.0, hanging: float = 1.0) -> float:
    """Return the headroom at the edge of the path, or what it comes to with something left out. [m]"""
    under = clearance.under_bend_mm(
        n["spring_m"] * 1000, n["radius_m"] * 1000, aside * n["path_m"] * 1000, outer * n["outer_mm"]
    )
    return clearance.headroom_left_mm(under, hanging * n["hanging_m"] * 1000) / 1000


def _room_working(n: Numbers, system: str) -> Iterator[Shown]:
    numbers = (n["spring_m"] * 1000, n["radius_m"] * 1000, n["path_m"] * 500, n["outer_mm"])
    yield Shown("Underside of the tube at the edge of the path, half the path's width aside from the middle:")
    yield Shown(step=clearance.under_bend_mm.shown(*numbers, system=system))
    yield Shown("Less what hangs down:")
    under = clearance.under_bend_mm(*numbers)
    yield Shown(step=clearance.headroom_left_mm.shown(under, n["hanging_m"] * 1000, system=system))


HEADROOM = Question(
    key="arch-headroom",
    title="Headroom at the edge of the path",
    ask="A half hoop of {tube}, {outer_mm:exact} outside, has a radius of {radius_m} to the middle of the tube; the "
    "bend begins {spring_m} above the path. A path {path_m} wide runs through the middle, and flowers hang {hanging_m} "
    "below the tube. How much headroom is there at the edge of the path?",
    kind="length",
    draw=_room_numbers,
    answer=_room,
    slips=(
        Slip("at the crown", lambda n: _room(n, aside=0.0), "That is in the middle: at the edge there is less."),
        Slip("whole path aside", lambda n: _room(n, aside=1.0), "The edge lies half the path's width from the middle."),
        Slip("hanging forgotten", lambda n: _room(n, hanging=0.0), "What hangs down looks forgotten."),
        Slip("middle of the tube", lambda n: _room(n, outer=0.0), "That is to the middle of the tube: heads meet its "
             "underside."),
    ),
    hints=(
        "Half the path, the height above the start of the bend, and the inner radius make a right-angled triangle.",
        "The inner radius is {radius_m} less half of {outer_mm:exact}.",
        "Square the inner radius, take off the square of half of {path_m}, and take the root; add {spring_m}.",
    ),
    working=_room_working,
)  # fmt: skip


def _gain_numbers(rng: Random, system: str) -> Numbers:
    bender = bender_for(rng.choice(TUBES), "shoe")
    return {
        "label": bender.label,
        "radius_m": on_tape_m(bender.radius_mm / 1000, system),
        "height_m": drawn_m(rng, system, 0.4, 1.2, 0.01, 1),
        "across_m": drawn_m(rng, system, 0.9, 1.5, 0.01, 1),
    }


def _gain(n: Numbers, gains: float = 2.0) -> float:
    """Return the straight tube of a piece with two right-angle bends, or what it comes to otherwise. [m]"""
    corners = 2 * n["height_m"] + n["across_m"]
    return float(corners - gains * bending.gain_mm(n["radius_m"] * 1000, 90.0) / 1000)


def _gain_working(n: Numbers, system: str) -> Iterator[Shown]:
    yield Shown("Round the corners it is twice the height and once the width. Each bend cuts its corner:")
    yield Shown(step=bending.gain_mm.shown(n["radius_m"] * 1000, 90.0, system=system))
    yield Shown("Two bends: take the gain off twice.")


GAIN = Question(
    key="arch-gain",
    title="Two bends and their gain",
    ask="One tube goes up {height_m}, across {across_m} and down {height_m}, measured from corner to corner on its "
    "axis. Both right-angle bends are made with the {label}, radius {radius_m} to the middle of the tube. How long is "
    "the straight tube?",
    kind="length",
    draw=_gain_numbers,
    answer=_gain,
    slips=(
        Slip("gain forgotten", lambda n: _gain(n, 0.0), "The gain looks forgotten: a bend cuts its corner."),
        Slip("gain once", lambda n: _gain(n, 1.0), "The gain looks taken off once: there are two bends."),
        Slip("gain added", lambda n: _gain(n, -2.0), "The gain looks added: a bend takes less tube than its corner."),
    ),
    hints=(
        "Add the three straight distances from corner to corner.",
        "The gain of a right angle is 0.4292 times the radius.",
        "Take off twice 0.4292 times {radius_m}.",
    ),
    working=_gain_working,
)  # fmt: skip
ARCH = (HOOP, HEADROOM, GAIN)


def _edge(system: str, path_m: float = 0.915) -> float:
    build = WalkwayArch(path_m=path_m)
    mark = 0.001 if system == "metric" else 0.0254 / 16
    return math.floor((build.room.headroom_m + build.hanging_m) / mark) * mark


def _bent_piece(system: str) -> float:
    return max(piece.length_m for piece in road.plan(WalkwayArch()).cut if piece.role == "hoop")


ARCH_GUESSES = (
    Guess(
        key="arch-tube",
        ask="How long is the straight tube that one hoop is bent from, with 250 mm left straight at each end and "
        "nothing to trim?",
        ask_us="How long is the straight tube that one hoop is bent from, with 10 in left straight at each end and "
        "nothing to trim?",
        kind="length",
        answer=_bent_piece,
    ),
    Guess(
        key="arch-edge",
        ask="In the middle of the path the tube's underside is 2377 mm up. How high is it at the edge of a clear path "
        "of 915 mm?",
        ask_us="In the middle of the path the tube's underside is 93 9/16 in up. How high is it at the edge of a clear "
        "path of 36 in?",
        kind="length",
        answer=_edge,
    ),
    Guess(
        key="arch-sticks",
        ask="How many sticks of 3048 mm do the three frames, the seven tubes along the path and the two wind braces "
        "take?",
        ask_us="How many sticks of 10 ft do the three frames, the seven tubes along the path and the two wind braces "
        "take?",
        kind="count",
        answer=lambda system: float(road.plan(WalkwayArch(), live=True).cutting["emt-3/4"].sticks),
        counted=("stick", "sticks"),
    ),
)
