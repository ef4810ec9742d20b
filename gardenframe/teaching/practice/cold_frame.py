"""Questions of a cold frame: what a hand lifts, how long a prop is, the gust that throws a lid open."""

import math
from collections.abc import Iterator
from random import Random

from gardenframe import road
from gardenframe.builds import cold_frame_lid
from gardenframe.builds.cold_frame import ColdFrame
from gardenframe.materials.site import Site
from gardenframe.strength import lids
from gardenframe.strength.cases import GRAVITY_M_PER_S2
from gardenframe.teaching.practice.guesses import Guess
from gardenframe.teaching.practice.numbers import Numbers, drawn, drawn_m
from gardenframe.teaching.practice.questions import Question, Shown, Slip


def _lift_numbers(rng: Random, system: str) -> Numbers:
    return {
        "mass_kg": drawn(rng, "mass", system, 3.0, 14.0, 0.5, 1.0),
        "length_m": drawn_m(rng, system, 0.7, 1.3, 0.01, 1),
        "slope_deg": float(rng.choice(range(20, 41, 5))),
    }


def _lift(n: Numbers, slope: float = 1.0) -> float:
    """Return the force at the front edge, or what it comes to on another slope. [N]"""
    return lids.hand_n(lids.lid_moment_n_m(n["mass_kg"], n["length_m"], slope * n["slope_deg"]), n["length_m"])


def _lift_working(n: Numbers, system: str) -> Iterator[Shown]:
    yield Shown("The weight acts in the middle of the lid; about the hinge its lever is half the length, seen level:")
    moment = lids.lid_moment_n_m.shown(n["mass_kg"], n["length_m"], n["slope_deg"], system=system)
    yield Shown(step=moment)
    yield Shown("A hand at the front edge, square to the lid, has the whole length for its lever:")
    yield Shown(step=lids.hand_n.shown(moment.value, n["length_m"], system=system))


LIFT = Question(
    key="lid-lift",
    title="What a hand lifts",
    ask="A lid of {mass_kg}, {length_m} from its hinge to its front edge, lies at a slope of {slope_deg}. With what "
    "force does a hand lift its front edge, pushing square to the lid?",
    kind="force",
    draw=_lift_numbers,
    answer=_lift,
    slips=(
        Slip("whole weight", lambda n: 2 * _lift(n), "The whole weight looks lifted: the hinge carries half of it."),
        Slip("level", lambda n: _lift(n, 0.0), "The slope looks left out: the lever of the weight is seen level."),
        Slip("sine for cosine", lambda n: _lift(n) * math.tan(math.radians(n["slope_deg"])),
             "The sine looks taken for the cosine: a level lid is the hardest to lift, not the easiest."),
    ),
    hints=("About the hinge, the weight and the hand must balance.",
           "The weight's lever is half of {length_m} times the cosine of {slope_deg}, the hand's all of {length_m}."),
    working=_lift_working,
)  # fmt: skip


def _prop_numbers(rng: Random, system: str) -> Numbers:
    return {
        "length_m": drawn_m(rng, system, 0.7, 1.3, 0.01, 1),
        "opened_deg": float(rng.choice(range(40, 91, 5))),
    }


def _prop_working(n: Numbers, system: str) -> Iterator[Shown]:
    yield Shown("Hinge, foot and head of the prop make a triangle with two equal sides:")
    yield Shown(step=lids.prop_m.shown(n["length_m"], n["opened_deg"], system=system))


PROP = Question(
    key="lid-prop",
    title="The length of a prop",
    ask="A lid reaches {length_m} from its hinge to its front edge. A prop stands where that edge lies when the lid is "
    "closed, and holds it open by {opened_deg}. How long is the prop?",
    kind="length",
    draw=_prop_numbers,
    answer=lambda n: lids.prop_m(n["length_m"], n["opened_deg"]),
    slips=(
        Slip("along the arc", lambda n: n["length_m"] * math.radians(n["opened_deg"]),
             "That is the way of the edge along its arc: the prop goes straight across."),
        Slip("half of it", lambda n: lids.prop_m(n["length_m"], n["opened_deg"]) / 2,
             "That is half of it: the triangle halved has half the prop for its short side."),
        Slip("whole angle", lambda n: n["length_m"] * math.sin(math.radians(n["opened_deg"])),
             "That is how high the edge stands above where it was, square to the closed lid: the prop leans."),
    ),
    hints=("Draw the triangle of hinge, foot and head: two of its sides are {length_m}.",
           "Halve it: half the prop is {length_m} times the sine of half of {opened_deg}."),
    working=_prop_working,
)  # fmt: skip


def _gust_numbers(rng: Random, system: str) -> Numbers:
    return {
        "mass_kg": drawn(rng, "mass", system, 3.0, 14.0, 0.5, 1.0),
        "wide_m": drawn_m(rng, system, 0.7, 1.3, 0.05, 2),
        "long_m": drawn_m(rng, system, 0.7, 1.3, 0.05, 2),
        "net": cold_frame_lid.NET_RATIO,
    }


def _gust(n: Numbers, net: bool = True, share: float = 1.0) -> float:
    pressure = share * n["mass_kg"] * GRAVITY_M_PER_S2 / (n["wide_m"] * n["long_m"])
    return lids.lifting_gust_m_per_s(pressure, n["net"] if net else 1.0)


def _gust_working(n: Numbers, system: str) -> Iterator[Shown]:
    area = n["wide_m"] * n["long_m"]
    moment = lids.lid_moment_n_m(n["mass_kg"], n["long_m"], 0.0)
    yield Shown("Weight and wind both act in the middle of the lid, so their levers are the same:")
    lifting = lids.lifting_pa.shown(moment, area, n["long_m"], system=system)
    yield Shown(step=lifting)
    yield Shown(step=lids.lifting_gust_m_per_s.shown(lifting.value, n["net"], system=system))


GUST_OPEN = Question(
    key="lid-gust",
    title="The gust that throws a lid open",
    ask="A lid of {mass_kg}, {wide_m} by {long_m}, is propped level and not tied down. Wind from below presses on it "
    "with {net} times 0.613 V² in Pa with V in m/s, which is {net} times 0.00256 V² in psf with V in mph. Which gust "
    "lifts it?",
    kind="speed",
    draw=_gust_numbers,
    answer=_gust,
    slips=(
        Slip("half the weight", lambda n: _gust(n, share=0.5),
             "Half the weight looks taken: the hinge carries half of the wind too."),
        Slip("coefficient left out", lambda n: _gust(n, net=False), "The factor of {net} looks left out."),
        Slip("root forgotten", lambda n: _gust(n) ** 2, "The root looks forgotten: pressure goes with the speed "
             "squared."),
    ),
    hints=("What does a square metre of the lid weigh?", "Set that equal to {net} times 0.613 V², and solve for V."),
    working=_gust_working,
)  # fmt: skip


def _hot(system: str) -> float:
    build = ColdFrame()
    return float(sum(closed > build.limit_degc for _, closed, _ in cold_frame_lid.hot_months(road.plan(build, Site()))))


def _needed(system: str) -> float:
    build = ColdFrame()
    climate = cold_frame_lid.climate_of(build, cold_frame_lid.outer_m(road.plan(build, Site())))
    return climate.prop_m(build.outside_degc, build.sun_w_per_m2, build.limit_degc) or 0.0


COLD_FRAME_GUESSES = (
    Guess(
        key="cold-frame-hot",
        ask="In how many months of the year does the closed frame pass 27 °C (81 °F) at noon on a warm clear day?",
        kind="count",
        answer=_hot,
        counted=("month", "months"),
    ),
    Guess(
        key="cold-frame-prop",
        ask="The sun is out, 700 W on each square metre of the lid, and the air stands at 12 °C (54 °F). How far must "
        "the lid be propped in front to keep the frame at 27 °C (81 °F)?",
        kind="length",
        answer=_needed,
    ),
    Guess(
        key="cold-frame-lift",
        ask="What does a hand lift at the front edge of one closed lid?",
        kind="force",
        answer=lambda system: cold_frame_lid.lid_of(road.plan(ColdFrame(), Site())).hand_n(),
    ),
)
COLD_FRAME = (LIFT, PROP, GUST_OPEN)
