"""Questions of a grow stand: how far a channel falls, what its water weighs, which push tips a stand."""

from collections.abc import Iterator
from random import Random

from gardenframe import road
from gardenframe.builds import grow_stand_told
from gardenframe.builds.grow_stand import GrowStand
from gardenframe.builds.grow_stand_sag import worst_bed
from gardenframe.strength.cases import GRAVITY_M_PER_S2
from gardenframe.teaching.practice.guesses import Guess
from gardenframe.teaching.practice.numbers import Numbers, drawn, drawn_m
from gardenframe.teaching.practice.questions import Question, Shown, Slip
from gardenframe.water import channels, tanks


def _fall_numbers(rng: Random, system: str) -> Numbers:
    return {"length_m": drawn_m(rng, system, 1.2, 3.6, 0.05, 3), "ratio": float(rng.choice((30, 35, 40, 50, 60)))}


def _fall_working(n: Numbers, system: str) -> Iterator[Shown]:
    slope = 1 / n["ratio"]
    yield Shown(f"1 in {n['ratio']:.0f} is a slope of {slope:.4f}: so much down for each length along.")
    yield Shown(step=channels.fall_m.shown(slope, n["length_m"], system=system))


FALL = Question(
    key="channel-fall",
    title="The fall of a channel",
    ask="A channel of {length_m} falls 1 in {ratio} towards its drain. How much lower is its drain end than its feed?",
    kind="length",
    draw=_fall_numbers,
    answer=lambda n: channels.fall_m(1 / n["ratio"], n["length_m"]),
    slips=(
        Slip("per cent", lambda n: n["length_m"] * n["ratio"] / 100,
             "The number looks taken for per cent: 1 in 40 is 2.5 %, not 40 %."),
        Slip("millimetres in a metre", lambda n: n["length_m"] * n["ratio"] / 1000,
             "The number looks taken for millimetres in each metre: 1 in 40 is 25 mm in a metre."),
    ),
    hints=("For each {ratio} along, it goes down by 1.", "Divide {length_m} by {ratio}."),
    working=_fall_working,
)  # fmt: skip


def _water_numbers(rng: Random, system: str) -> Numbers:
    return {
        "length_m": drawn_m(rng, system, 1.2, 3.6, 0.05, 3),
        "wide_m": drawn_m(rng, system, 0.08, 0.16, 0.01, 0.5),
        "deep_m": drawn_m(rng, system, 0.04, 0.07, 0.005, 0.25),
    }


def _water_working(n: Numbers, system: str) -> Iterator[Shown]:
    yield Shown("A drain that roots have blocked fills a channel to its brim:")
    yield Shown(step=tanks.held_kg.shown(n["wide_m"] * n["deep_m"], n["length_m"], system=system))


WATER = Question(
    key="channel-water",
    title="What a blocked channel weighs",
    ask="A flat channel is {wide_m} wide, {deep_m} deep and {length_m} long. Roots block its drain. What does the "
    "water in it weigh when it stands at the brim?",
    kind="mass",
    draw=_water_numbers,
    answer=lambda n: tanks.held_kg(n["wide_m"] * n["deep_m"], n["length_m"]),
    slips=(
        Slip("half full", lambda n: tanks.held_kg(n["wide_m"] * n["deep_m"], n["length_m"]) / 2,
             "That is half full: a blocked channel fills to its brim."),
        Slip("as a triangle", lambda n: tanks.held_kg(n["wide_m"] * n["deep_m"], n["length_m"]) / 3,
             "That is a third of it: the channel is a box, width times depth times length."),
    ),
    hints=("Width times depth times length is its volume.", "A litre of water weighs a kilogram, a cubic metre 1000."),
    working=_water_working,
)  # fmt: skip


def _push_numbers(rng: Random, system: str) -> Numbers:
    return {
        "mass_kg": drawn(rng, "mass", system, 25.0, 60.0, 1.0, 5.0),
        "depth_m": drawn_m(rng, system, 0.4, 0.8, 0.05, 1),
        "height_m": drawn_m(rng, system, 1.0, 1.4, 0.05, 2),
    }


def _push(n: Numbers, lever: float = 0.5) -> float:
    hold = grow_stand_told.holding_moment_n_m(n["mass_kg"] * GRAVITY_M_PER_S2, lever * n["depth_m"], 1.0)
    return grow_stand_told.tipping_push_n(hold, n["height_m"])


def _push_working(n: Numbers, system: str) -> Iterator[Shown]:
    yield Shown("About its far feet the weight, half the depth away, and the push, as high as it is, must balance:")
    weight = n["mass_kg"] * GRAVITY_M_PER_S2
    hold = grow_stand_told.holding_moment_n_m.shown(weight, n["depth_m"] / 2, 1.0, system=system)
    yield Shown(step=hold)
    yield Shown(step=grow_stand_told.tipping_push_n.shown(hold.value, n["height_m"], system=system))


PUSH = Question(
    key="stand-push",
    title="The push that tips an empty stand",
    ask="An empty stand of {mass_kg} stands free on feet {depth_m} apart from front to back. Which level push, "
    "{height_m} above the floor, just tips it over its back feet?",
    kind="force",
    draw=_push_numbers,
    answer=_push,
    slips=(
        Slip("whole depth", lambda n: _push(n, 1.0), "The whole depth looks taken: the weight acts in its middle."),
        Slip("levers swapped", lambda n: n["mass_kg"] * GRAVITY_M_PER_S2 * n["height_m"] / (0.5 * n["depth_m"]),
             "The levers look swapped: the push is high up and so needs less force than the weight."),
        Slip("whole weight", lambda n: n["mass_kg"] * GRAVITY_M_PER_S2,
             "That is the whole weight: a push high up needs far less."),
    ),
    hints=("Take moments about the back feet.", "Weight times half of {depth_m} equals push times {height_m}."),
    working=_push_working,
)  # fmt: skip


def _sag(system: str) -> float:
    bed = worst_bed(road.plan(GrowStand()))
    return max(bed.sags_m) if bed else 0.0


def _tips(system: str) -> float:
    plan = road.plan(GrowStand(stands="free"))
    return grow_stand_told.Tipping(plan).tipping_n


def _cost(system: str) -> float:
    water = GrowStand().water
    return water.head_cost(water.lamps_kwh + water.pump_kwh)


STAND_GUESSES = (
    Guess(
        key="stand-sag",
        ask="With every channel full to its brim, how far does the channel that sags most go down?",
        kind="length",
        answer=_sag,
    ),
    Guess(
        key="stand-push",
        ask="Empty, and not tied to its wall: which push, about as high as a person leans, tips the stand?",
        kind="force",
        answer=_tips,
    ),
    Guess(
        key="stand-cost",
        ask="A kilowatt-hour costs $0.15. What does the energy of lamps and pump cost for each head of lettuce?",
        kind="money",
        answer=_cost,
    ),
)
STAND = (FALL, WATER, PUSH)
