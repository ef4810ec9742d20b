"""Questions of a shade frame: how far an overhang reaches, what light is left, what a wire pulls."""

from collections.abc import Iterator
from random import Random

from gardenframe import road
from gardenframe.builds import shade_frame_sun as sun_on
from gardenframe.builds.shade_frame import ShadeFrame
from gardenframe.builds.shade_frame_wires import Wires
from gardenframe.climate import shade
from gardenframe.materials.site import Site
from gardenframe.strength import cables
from gardenframe.teaching.practice.guesses import Guess
from gardenframe.teaching.practice.numbers import Numbers, drawn, drawn_m
from gardenframe.teaching.practice.questions import Question, Shown, Slip


def _overhang_numbers(rng: Random, system: str) -> Numbers:
    return {
        "height_m": drawn_m(rng, system, 0.8, 1.8, 0.01, 1),
        "altitude_deg": float(rng.choice([52, 55, 58, 62, 66, 70, 73])),
    }


def _overhang(n: Numbers, altitude_deg: float | None = None) -> float:
    profile = shade.profile_tangent(n["altitude_deg"] if altitude_deg is None else altitude_deg, 0.0)
    return shade.overhang_m(n["height_m"], profile)


def _overhang_working(n: Numbers, system: str) -> Iterator[Shown]:
    yield Shown("Edge, soil and sunray make a triangle with a right angle at the soil:")
    profile = shade.profile_tangent.shown(n["altitude_deg"], 0.0, system=system)
    yield Shown(step=profile)
    yield Shown(step=shade.overhang_m.shown(n["height_m"], profile.value, system=system))


OVERHANG = Question(
    key="shade-overhang",
    title="An overhang against the noon sun",
    ask="The front of a bed lies {height_m} below the edge of a flat cloth that looks to the noon sun, which stands "
    "{altitude_deg} high. How far must the cloth reach out past the bed, so that the shadow of its edge falls on the "
    "bed's front?",
    kind="length",
    draw=_overhang_numbers,
    answer=_overhang,
    slips=(
        Slip("angle from upright", lambda n: _overhang(n, 90 - n["altitude_deg"]),
             "That multiplies by the tangent: the higher the sun, the shorter the reach."),
        Slip("along the ray", lambda n: (n["height_m"] ** 2 + _overhang(n) ** 2) ** 0.5,
             "That is the length of the sunray from edge to soil: the reach is the level side."),
    ),
    hints=("Draw the edge, the bed's front below it and the sunray between them.",
           "The reach is {height_m} divided by the tangent of {altitude_deg}."),
    working=_overhang_working,
)  # fmt: skip


def _light_numbers(rng: Random, system: str) -> Numbers:
    return {
        "cloth_share": rng.choice([0.3, 0.4, 0.5, 0.7]),
        "through_share": rng.choice([0.45, 0.55, 0.6, 0.65, 0.75, 0.8]),
    }


def _light_working(n: Numbers, system: str) -> Iterator[Shown]:
    away = n["cloth_share"] * n["through_share"]
    yield Shown(f"Of what meets the cloth it keeps off its share: {n['cloth_share']:g} × {n['through_share']:g} = "
                f"{away:.4g} of the day's light is lost.")  # fmt: skip
    yield Shown(f"The rest arrives: 1 − {away:.4g} = {1 - away:.4g}.")


LIGHT = Question(
    key="shade-light",
    title="What is left of the day's light",
    ask="A cloth keeps off {cloth_share} of the light that meets it. On a July day {through_share} of the bed's light "
    "comes through the cloth, the rest past its edges. What share of the day's light reaches the bed?",
    kind="share",
    draw=_light_numbers,
    answer=lambda n: 1 - n["cloth_share"] * n["through_share"],
    slips=(
        Slip("cloth alone", lambda n: 1 - n["cloth_share"],
             "That would be so if all the light came through the cloth."),
        Slip("what is lost", lambda n: n["cloth_share"] * n["through_share"],
             "That is the share that is lost: the rest arrives."),
        Slip("past the edges", lambda n: 1 - n["through_share"], "That is only what comes past the edges."),
    ),
    hints=("Only what comes through the cloth is thinned.",
           "{through_share} of the light loses {cloth_share} of itself; take that from the whole."),
    working=_light_working,
)  # fmt: skip


def _pull_numbers(rng: Random, system: str) -> Numbers:
    return {
        "load_n_per_m": drawn(rng, "line load", system, 20.0, 90.0, 5.0, 1.0),
        "span_m": drawn_m(rng, system, 2.4, 5.0, 0.1, 6),
        "sag_m": drawn_m(rng, system, 0.05, 0.15, 0.01, 0.5),
    }


def _pull(n: Numbers) -> float:
    return cables.parabola_pull_n(n["load_n_per_m"], n["span_m"], n["sag_m"])


def _pull_working(n: Numbers, system: str) -> Iterator[Shown]:
    yield Shown("Cut the wire in the middle: the level pull there, at the sag below the ends, balances half the load:")
    yield Shown(step=cables.parabola_pull_n.shown(n["load_n_per_m"], n["span_m"], n["sag_m"], system=system))


PULL = Question(
    key="shade-wire",
    title="What a sagging wire pulls",
    ask="A gust presses a cloth so that each of its wires carries {load_n_per_m} over a span of {span_m} and sags "
    "{sag_m} in the middle. With what level force does a wire pull its end frames together?",
    kind="force",
    draw=_pull_numbers,
    answer=_pull,
    slips=(
        Slip("half the load", lambda n: n["load_n_per_m"] * n["span_m"] / 2,
             "That is what the end carries upright: a flat wire pulls level by far more."),
        Slip("four for eight", lambda n: 2 * _pull(n), "Twice too much: the square of the span is divided by 8 sags."),
        Slip("a beam's moment", lambda n: _pull(n) * n["sag_m"],
             "That is the moment in the middle: divide it by the sag."),
    ),
    hints=("A flat wire pulls hard: the moment of the load in the middle is w L² / 8, as for a beam.",
           "Divide that moment by its lever, the sag of {sag_m}."),
    working=_pull_working,
)  # fmt: skip


def _share(system: str) -> float:
    plan = road.plan(ShadeFrame(), Site())
    return float(sun_on.day_of(*sun_on.of(plan)).under.light_share.mean())


def _best(system: str) -> float:
    plan = road.plan(ShadeFrame(), Site())
    return shade.best_overhang(sun_on.overhangs_of(*sun_on.of(plan))).overhang_m


def _gust_pull(system: str) -> float:
    build = ShadeFrame(form="wires")
    wires = Wires(build)
    return wires.pull_n(wires.pressure_pa(Site(), build.out_wind_m_per_s))


SHADE_GUESSES = (
    Guess(
        key="shade-share",
        ask="On 17 July, what share of a clear day's light reaches the bed under the 40 % cloth?",
        kind="share",
        answer=_share,
    ),
    Guess(
        key="shade-best",
        ask="Which overhang at the front does most: shade from 12 to 16 h in July, and sun in December?",
        kind="length",
        answer=_best,
    ),
    Guess(
        key="shade-pull",
        ask="The cloth slides on two wires instead. With what force does each wire pull its end frames together in a "
        "gust of 10 m/s (22 mph)?",
        kind="force",
        answer=_gust_pull,
    ),
)
SHADE = (OVERHANG, LIGHT, PULL)
