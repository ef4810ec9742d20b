"""A wire stretched level between two points: sag and pull as a parabola and as a catenary, and what a gust makes of it.

The load is level-spread for the parabola (a cloth that hangs on the wire), spread along the wire for the catenary (the
wire's own weight). Sags of gardens are a few hundredths of the span: there the two agree to a thousandth.
"""

import math

from gardenframe.errors import InputError, require_within
from gardenframe.strength.cases import GRAVITY_M_PER_S2
from gardenframe.working import formula

ROUNDS = 80


@formula(result="H", symbols={"load_n_per_m": "w", "span_m": "L", "sag_m": "s"}, source="geometry",
         example={"load_n_per_m": 1.2, "span_m": 3.0, "sag_m": 0.06})  # fmt: skip
def parabola_pull_n(load_n_per_m: float, span_m: float, sag_m: float) -> float:
    """Level pull of a wire that hangs as a parabola: half the sag, twice the pull. [N]

    >>> parabola_pull_n(10.0, 4.0, 0.1)
    200.0
    """
    return load_n_per_m * span_m**2 / (8 * sag_m)


@formula(result="s", symbols={"load_n_per_m": "w", "span_m": "L", "pull_n": "H"}, source="geometry",
         example={"load_n_per_m": 1.2, "span_m": 3.0, "pull_n": 22.5})  # fmt: skip
def parabola_sag_m(load_n_per_m: float, span_m: float, pull_n: float) -> float:
    """Sag at the middle of a wire that hangs as a parabola. [m]"""
    return load_n_per_m * span_m**2 / (8 * pull_n)


@formula(result="s_c", symbols={"load_n_per_m": "w", "span_m": "L", "pull_n": "H"}, source="geometry",
         example={"load_n_per_m": 1.2, "span_m": 3.0, "pull_n": 22.5})  # fmt: skip
def catenary_sag_m(load_n_per_m: float, span_m: float, pull_n: float) -> float:
    """Sag at the middle of a wire that hangs by its own weight, as a catenary. [m]"""
    return pull_n / load_n_per_m * (math.cosh(load_n_per_m * span_m / (2 * pull_n)) - 1)


@formula(result="T", symbols={"pull_n": "H", "load_n_per_m": "w", "span_m": "L"}, source="geometry",
         example={"pull_n": 22.5, "load_n_per_m": 1.2, "span_m": 3.0})  # fmt: skip
def end_pull_n(pull_n: float, load_n_per_m: float, span_m: float) -> float:
    """Pull along a wire at its ends: the level pull and half the load together. [N]"""
    return math.sqrt(pull_n**2 + (load_n_per_m * span_m / 2) ** 2)


@formula(result="S", symbols={"span_m": "L", "sag_m": "s"}, source="geometry",
         example={"span_m": 3.0, "sag_m": 0.06})  # fmt: skip
def parabola_length_m(span_m: float, sag_m: float) -> float:
    """Length of a flat parabola, from the first term of its series: to 1 % up to a sag of a fifth of the span. [m]"""
    return span_m + 8 * sag_m**2 / (3 * span_m)


@formula(result="w_1", symbols={"pull_n": "H_1", "before_n": "H_0", "before_n_per_m": "w_0", "stiff_n": "EA",
         "span_m": "L"}, source="geometry",
         example={"pull_n": 800.0, "before_n": 30.0, "before_n_per_m": 1.2, "stiff_n": 1e6, "span_m": 3.0})  # fmt: skip
def load_that_pulls_n_per_m(
    pull_n: float, before_n: float, before_n_per_m: float, stiff_n: float, span_m: float
) -> float:
    """Load under which a wire that stretches pulls so much, strung at a pull under a first load. [N/m]

    A flat parabola's extra length, w² L³ / (24 H²), grows by what the wire stretches, (H₁ - H₀) L / EA.
    To 3 % while the wire's ends rise by at most one in three.
    """
    return pull_n * math.sqrt(
        24 * (pull_n - before_n) / (stiff_n * span_m**2) + (before_n_per_m / before_n) ** 2
    )  # fmt: skip


@formula(result="EA", symbols={"modulus_pa": "E", "diameter_m": "d"}, source="geometry",
         example={"modulus_pa": 200e9, "diameter_m": 0.002515})  # fmt: skip
def wire_stiff_n(modulus_pa: float, diameter_m: float) -> float:
    """Pull that would stretch a round wire to twice its length, if it could bear it. [N]"""
    return modulus_pa * math.pi * diameter_m**2 / 4


@formula(result="T_a", symbols={"yield_pa": "f_y", "diameter_m": "d", "reserve_ratio": "Omega"}, source="wire-strength",
         example={"yield_pa": 1e9, "diameter_m": 0.002515, "reserve_ratio": 2.0})  # fmt: skip
def allowed_pull_n(yield_pa: float, diameter_m: float, reserve_ratio: float) -> float:
    """Pull that a wire may be given: what makes it yield, by a reserve. [N]"""
    return yield_pa * math.pi * diameter_m**2 / (4 * reserve_ratio)


def catenary_pull_n(load_n_per_m: float, span_m: float, sag_m: float) -> float:
    """Return the level pull at which a catenary has a sag, by halving. [N]"""
    for name, value in (("load on a wire", load_n_per_m), ("span of a wire", span_m), ("sag of a wire", sag_m)):
        if not value > 0:
            raise InputError(name, value, "more than 0")
    low = load_n_per_m * span_m / 100  # a sag of far more than any span
    high = parabola_pull_n(load_n_per_m, span_m, sag_m) * 2 + load_n_per_m * sag_m
    for _ in range(ROUNDS):
        pull = (low + high) / 2
        low, high = (pull, high) if catenary_sag_m(load_n_per_m, span_m, pull) > sag_m else (low, pull)
    return (low + high) / 2


def catenary_length_m(load_n_per_m: float, span_m: float, pull_n: float) -> float:
    """Return the length of a catenary. [m]"""
    return 2 * pull_n / load_n_per_m * math.sinh(load_n_per_m * span_m / (2 * pull_n))


def loaded_pull_n(load_n_per_m: float, before_n: float, before_n_per_m: float, stiff_n: float, span_m: float) -> float:
    """Return the level pull of a wire under a load, strung at a pull under another: the inverse of the formula. [N]

    A wire eased of its load keeps what pull its stretch leaves it; it never pushes.
    """
    require_within("load on a wire", load_n_per_m, 0, 1e6, "N/m")
    low, high = 0.0, max(before_n, 1.0)
    extra = (before_n_per_m / before_n) ** 2

    def under(pull: float) -> float:
        inner = 24 * (pull - before_n) / (stiff_n * span_m**2) + extra
        return pull * math.sqrt(max(inner, 0.0))

    while under(high) < load_n_per_m:
        high *= 2
    for _ in range(ROUNDS):
        pull = (low + high) / 2
        low, high = (pull, high) if under(pull) < load_n_per_m else (low, pull)
    return high


@formula(result="w_0", symbols={"mass_kg_per_m2": "m_c", "GRAVITY_M_PER_S2": "g", "width_m": "b",
         "wire_kg_per_m": "m_w"}, source="geometry",
         example={"mass_kg_per_m2": 0.12, "width_m": 1.0, "wire_kg_per_m": 0.04})  # fmt: skip
def cloth_on_wire_n_per_m(mass_kg_per_m2: float, width_m: float, wire_kg_per_m: float) -> float:
    """Weight on one of two wires that carry a cloth between them: half the cloth, and the wire itself. [N/m]"""
    return (mass_kg_per_m2 * width_m / 2 + wire_kg_per_m) * GRAVITY_M_PER_S2


@formula(result="w_1", symbols={"weight_n_per_m": "w_0", "pressure_pa": "p", "width_m": "b"}, source="geometry",
         example={"weight_n_per_m": 1.0, "pressure_pa": 40.0, "width_m": 1.0})  # fmt: skip
def gust_on_wire_n_per_m(weight_n_per_m: float, pressure_pa: float, width_m: float) -> float:
    """Load on one of two wires as a gust presses their cloth down. [N/m]"""
    return weight_n_per_m + pressure_pa * width_m / 2
