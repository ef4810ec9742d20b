"""Questions of a raised bed: push at the foot of its wall, pull of a tie at its rim, bags to fill it."""

import math
from collections.abc import Iterator
from random import Random

from gardenframe.builds.raised_bed import RaisedBed
from gardenframe.builds.raised_bed_shape import Shape
from gardenframe.builds.raised_bed_soil import Soil, density_kg_per_m3, filling_of
from gardenframe.materials import constants, members
from gardenframe.materials.soils import PSF_PA
from gardenframe.strength import bed_soil, soil_push
from gardenframe.teaching.practice.guesses import Guess
from gardenframe.teaching.practice.numbers import Numbers, drawn, drawn_m
from gardenframe.teaching.practice.questions import Question, Shown, Slip
from gardenframe.units import FOOT_M


def _weight(n: Numbers) -> float:
    return float(n["density_kg_per_m3"]) * constants.value("gravity_m_per_s2")


def _foot_numbers(rng: Random, system: str) -> Numbers:
    return {
        "density_kg_per_m3": drawn(rng, "density", system, 900.0, 1700.0, 50.0, 1.0),
        "depth_m": drawn_m(rng, system, 0.25, 0.75, 0.05, 2),
        "push": rng.choice((0.3, 0.4, 0.5)),
        "system": system,
    }


def _foot(n: Numbers, share: float = 1.0) -> float:
    return share * soil_push.push_pa(n["push"], _weight(n), n["depth_m"], 0.0)


def _foot_working(n: Numbers, system: str) -> Iterator[Shown]:
    yield Shown("What the soil weighs on a square metre at that depth, times its share of push sideways:")
    yield Shown(step=soil_push.push_pa.shown(n["push"], _weight(n), n["depth_m"], 0.0, system=system))


FOOT = Question(
    key="bed-foot",
    title="The push at the foot of a wall",
    ask="Soaked soil of {density_kg_per_m3} stands {depth_m} deep in a bed. Sideways it pushes with {push} of what it "
    "presses down. How hard does it push at the foot of the wall?",
    kind="pressure",
    draw=_foot_numbers,
    answer=_foot,
    slips=(
        Slip("downward", lambda n: _foot(n) / n["push"], "That is how hard it presses down: sideways it is less."),
        Slip("mean", lambda n: _foot(n, 0.5), "That is the mean over the height: at the foot it is twice that."),
        Slip("mass for weight", lambda n: _foot(n) / 9.81 if n["system"] == "metric" else None,
             "The mass looks taken for the weight: a kilogram weighs 9.81 N."),
    ),
    hints=("What does a column of the soil press on its foot, for each unit of area?",
           "Density times 9.81 (in US units pounds are already a force) times {depth_m}, then times {push}."),
    working=_foot_working,
)  # fmt: skip


def _tie_numbers(rng: Random, system: str) -> Numbers:
    return {
        "push_n_per_m": drawn(rng, "line load", system, 200.0, 1500.0, 50.0, 5.0),
        "bay_m": drawn_m(rng, system, 0.6, 1.5, 0.1, 6),
    }


def _tie(n: Numbers, share: float = 1 / 3) -> float:
    return 3 * share * soil_push.rim_tie_n(n["push_n_per_m"], n["bay_m"])


def _tie_working(n: Numbers, system: str) -> Iterator[Shown]:
    yield Shown("A post carries the push on half a bay to each side: one bay in all. The push grows with depth.")
    yield Shown(
        "It acts at a third of the height; about the foot, the tie at the rim has the whole height for a lever:"
    )
    yield Shown(step=soil_push.rim_tie_n.shown(n["push_n_per_m"], n["bay_m"], system=system))


TIE = Question(
    key="bed-tie",
    title="The tie at the rim",
    ask="Full to the rim, the soil pushes on a bed's long side with {push_n_per_m} in all, from rim to foot. Posts "
    "stand {bay_m} apart, and each is tied to the one opposite at rim and foot. What does a tie at the rim carry?",
    kind="force",
    draw=_tie_numbers,
    answer=_tie,
    slips=(
        Slip("foot", lambda n: _tie(n, 2 / 3), "That is what the tie at the foot carries: the push grows with depth."),
        Slip("half", lambda n: _tie(n, 1 / 2), "Half would be right of an even push: this one grows with depth."),
        Slip("whole", lambda n: _tie(n, 1.0), "That is the push on the whole post: the tie at the foot takes most."),
        Slip("half a bay", lambda n: _tie(n, 1 / 6), "Half a bay looks taken: a post between two bays carries one."),
    ),
    hints=("How much wall does one post carry?", "The push grows evenly from the rim down: where does all of it act?",
           "It acts at a third of the height above the foot: take moments about the foot."),
    working=_tie_working,
)  # fmt: skip


def _bag_numbers(rng: Random, system: str) -> Numbers:
    metric = system == "metric"
    size = rng.choice((25, 40)) if metric else rng.choice((0.75, 1))
    return {
        "length_m": drawn_m(rng, system, 1.1, 2.4, 0.1, 4),
        "width_m": drawn_m(rng, system, 0.5, 1.2, 0.1, 4),
        "depth_m": drawn_m(rng, system, 0.2, 0.5, 0.05, 2),
        "settling_share": rng.choice((0.2, 0.25, 0.3)),
        "bag": f"{size} L" if metric else f"{size:g} cubic {'foot' if size == 1 else 'feet'}",
        "bag_m3": size / 1000 if metric else size * FOOT_M**3,
    }


def _bags(n: Numbers, kept: float | None = None) -> float:
    """Return bags, not yet whole, or what they come to with another way of settling."""
    volume = bed_soil.bed_volume_m3(n["length_m"], n["width_m"], n["depth_m"])
    return float(volume / (1 - n["settling_share"] if kept is None else kept) / n["bag_m3"])


def _bag_working(n: Numbers, system: str) -> Iterator[Shown]:
    volume = bed_soil.bed_volume_m3.shown(n["length_m"], n["width_m"], n["depth_m"], system=system)
    yield Shown(step=volume)
    yield Shown("Loose, it is more, since a share of the loose volume is lost:")
    value = bed_soil.bed_volume_m3(n["length_m"], n["width_m"], n["depth_m"])
    yield Shown(step=bed_soil.bought_volume_m3.shown(value, 1.0, n["settling_share"], system=system))
    yield Shown("Divide by the volume of a bag, and round up: nobody sells half a bag.")


BAGS = Question(
    key="bed-bags",
    title="Bags to fill a bed",
    ask="A bed is {length_m} by {width_m} inside and is to be {depth_m} deep in soil once that has settled. New soil "
    "settles by {settling_share} of its loose volume. How many bags of {bag} of loose soil fill it?",
    kind="count",
    draw=_bag_numbers,
    answer=lambda n: float(math.ceil(_bags(n) - 1e-9)),
    slips=(
        Slip("no settling", lambda n: float(math.ceil(_bags(n, 1.0) - 1e-9)), "Settling looks left out."),
        Slip("rounded down", lambda n: float(math.ceil(_bags(n) - 1e-9)) - 1, "One bag short: round up."),
        Slip("settling added", lambda n: float(math.ceil(_bags(n, 1 / (1 + n["settling_share"])) - 1e-9)),
             "The share looks added to the settled volume: it is a share of the loose one, so divide."),
        Slip("settled twice", lambda n: float(math.ceil(_bags(n, 1 / (1 - n["settling_share"])) - 1e-9)),
             "It looks multiplied: loose soil takes more room, not less."),
    ),
    hints=("How much soil must there be in the end?",
           "Loose volume less {settling_share} of itself is the settled one.",
           "Divide by one less {settling_share}, then by {bag}."),
    working=_bag_working,
    counted=("bag", "bags"),
)  # fmt: skip


def _shape() -> Shape:
    build = RaisedBed()
    return Shape(build, members.find(build.tube).outer_mm / 1000)


def _side_push(system: str) -> float:
    build, shape = RaisedBed(), _shape()
    return Soil.of(build).between(0.0, shape.soil_z - shape.bottom_z)[0] * build.length_m


def _deck_depth(system: str) -> float:
    soaked = density_kg_per_m3(RaisedBed(), "soaked") * constants.value("gravity_m_per_s2")
    return constants.value("deck_live_psf") * PSF_PA / soaked


BED_GUESSES = (
    Guess(
        key="bed-mass",
        ask="What is the mass of the soaked soil in this bed?",
        kind="mass",
        answer=lambda system: filling_of(RaisedBed(), _shape()).mass_kg,
    ),
    Guess(
        key="bed-push",
        ask="With what force does it push on one long side?",
        kind="force",
        answer=_side_push,
    ),
    Guess(
        key="bed-deck",
        ask="A deck is made for 1.92 kPa (40 psf). How deep a layer of this soaked soil uses that up?",
        kind="length",
        answer=_deck_depth,
    ),
)
BED = (FOOT, TIE, BAGS)
