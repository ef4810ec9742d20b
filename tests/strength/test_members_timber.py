"""Timber, plastic pipe and wire against sums by hand, a second form of the same rule, and what must be true.

The NDS formulas and factors are from memory; the reference stresses of spruce-pine-fir No. 2 were seen.
"""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from other_roads import buckling_load
from printed import as_printed, as_remembered, as_worked
from scipy.integrate import quad, solve_bvp, solve_ivp
from scipy.optimize import brentq

from gardenframe.errors import InputError
from gardenframe.materials.members import load_members
from gardenframe.strength import pvc, timber
from gardenframe.strength.capacities import capacities

MEMBERS = load_members()
TWO_BY_FOUR = MEMBERS["timber-2x4"]


def test_adjusted_stresses_of_a_wet_two_by_four():
    """By hand in psi: Fb 875 x 1.5 x 0.85 = 1115.6, Fc 1150 x 1.15 x 0.8 = 1058, Emin 510 000 x 0.9 = 459 000."""
    psi = 0.00689476
    found = timber.adjusted(TWO_BY_FOUR)
    assert found.bending_mpa / psi == pytest.approx(1115.6, rel=1e-3)
    assert found.compression_mpa / psi == pytest.approx(1058, rel=1e-3)
    assert found.modulus_min_mpa / psi == pytest.approx(459_000, rel=1e-3)


def test_column_of_a_two_by_four_by_pocket_calculator():
    """1 m, load that stays for ten years.

    F_cE = 0.822 x 3164.4 x (38.1/1000)^2 = 3.7758, F_c* = 7.2947, alpha = 0.5176; (1 + 0.5176)/1.6 = 0.9485;
    0.9485 - sqrt(0.9485^2 - 0.5176/0.8) = 0.4459; x 7.2947 x 3387.1 mm2 = 11 016 N.
    """
    assert capacities(TWO_BY_FOUR, 1.0).push_n == pytest.approx(11_016, rel=1e-3)


def test_bending_of_a_two_by_four_on_edge_by_pocket_calculator():
    """2 m between braces: l_e = 1.63 x 2000 + 3 x 88.9 = 3526.7; F_bE = 17.58; alpha = 17.58/7.692 = 2.2856.

    (1 + 2.2856)/1.9 = 1.72926; less sqrt(1.72926^2 - 2.2856/0.95) = 0.76490 gives 0.96436; 50 185 mm3 x 7.692 x
    0.96436 = 372.3 N m. On the flat nothing turns over: 21 508 mm3 x 7.692 = 165.4 N m.
    """
    found = capacities(TWO_BY_FOUR, 2.0)
    assert found.moment_n_m == pytest.approx(372.3, rel=1e-3)
    assert found.moment_weak_n_m == pytest.approx(165.4, rel=1e-3)


# NDS Supplement Table 4A, wet service and sizes of No. 2 dimension lumber, all from memory
FACTORS = {
    "wet": {"bending": "0.85", "tension": "1.00", "compression": "0.80", "shear": "0.97", "modulus": "0.90"},
    "2x2": {"bending": "1.50", "tension": "1.50", "compression": "1.15", "shear": "1.00", "modulus": "1.00"},
    "2x4": {"bending": "1.50", "tension": "1.50", "compression": "1.15", "shear": "1.00", "modulus": "1.00"},
    "2x6": {"bending": "1.30", "tension": "1.30", "compression": "1.10", "shear": "1.00", "modulus": "1.00"},
    "4x4": {"bending": "1.50", "tension": "1.50", "compression": "1.15", "shear": "1.00", "modulus": "1.00"},
    "other": {"bending": "1.00", "tension": "1.00", "compression": "1.00", "shear": "1.00", "modulus": "1.00"},
}


@pytest.mark.outside("data/timber_factors.csv", "strength.timber", source="nds-factors")
@pytest.mark.parametrize("key", FACTORS)
def test_factors_as_remembered(key):
    """What wet service and size do to each reference value."""
    row = timber.load_factors()[key]
    for name, remembered in FACTORS[key].items():
        assert getattr(row, name) == as_remembered(remembered, "", f"{row.label}, {name}", copied=True)


@pytest.mark.outside("strength.timber", source="nds-factors")
def test_load_durations_as_remembered():
    """Ten minutes of wind, two months of snow, ten years of people, for ever."""
    for cases, remembered in (("W", "1.60"), ("S", "1.15"), ("L", "1.00"), ("D", "0.90")):
        found = timber.duration_factor(["D", cases])
        assert found == as_remembered(remembered, "", f"load duration factor of {cases}", copied=True)


@pytest.mark.outside("strength.timber.column_buckling_stress_mpa", source="scipy")
def test_a_timber_column_bows_out_where_its_own_equation_says():
    """A 2x4 of 1 m over its thin side: the bow that comes back to the axis, by scipy; the code rounds pi2/12 down."""
    modulus, wide, deep = 3164.4, 38.1, 88.9
    worked = buckling_load(modulus * deep * wide**3 / 12, 1000.0) / (wide * deep)
    found = timber.column_buckling_stress_mpa(modulus, 1000.0, wide)
    assert found == as_worked(worked, "MPa", "stress that bows out a 2x4 of 1 m", rel=1e-3)


@pytest.mark.outside("strength.timber.column_stability_ratio", "strength.timber.beam_stability_ratio", source="scipy")
@pytest.mark.parametrize("alpha", [0.2, 0.5176, 1.0, 2.2856, 8.0])
def test_shares_of_columns_and_beams_are_where_two_limits_meet(alpha):
    """Crushing at 1 and buckling at alpha, rounded where they meet: (1 - x)(alpha - x) = (1 - c) x^2, by scipy.

    c is 0.8 for sawn columns and 0.95 for beams (from memory); with c = 1 the lesser of the two would count alone.
    """
    for name, c, formula in (
        ("column", 0.8, timber.column_stability_ratio), ("beam", 0.95, timber.beam_stability_ratio),
    ):  # fmt: skip
        root = brentq(lambda x, c=c: (1 - x) * (alpha - x) - (1 - c) * x**2, 0.0, min(1.0, alpha))
        assert formula(alpha) == as_worked(root, "", f"share of a {name} that buckles at {alpha:g} of its strength")


def turned_over(modulus, long, deep, wide):
    """Return the stress at which an even load on its upper edge turns a beam on edge over, ends held upright.

    Twist and sideways bending of a thin rectangle: G J phi'' + (M2/(E I) + w d/2) phi = 0, phi nothing at both ends;
    G is a sixteenth of E, as of softwood (from memory).
    """
    bend, twist = modulus * deep * wide**3 / 12, modulus / 16 * deep * wide**3 / 3 * (1 - 0.63 * wide / deep)

    def far_end(load):
        def onward(x, y):
            moment = load * x * (long - x) / 2
            return y[1], -(moment**2 / bend + load * deep / 2) * y[0] / twist

        return solve_ivp(onward, (0, long), (0.0, 1.0 / long), rtol=1e-8, atol=1e-11).y[0, -1]

    unit = (bend * twist) ** 0.5 / long**3
    load = brentq(far_end, unit, 30 * unit)
    return load * long**2 / 8 / (wide * deep**2 / 6)


@pytest.mark.outside("strength.timber.beam_buckling_stress_mpa", source="scipy")
@pytest.mark.parametrize(("long", "deep"), [(2000.0, 88.9), (2400.0, 139.7), (1500.0, 139.7)])
def test_a_beam_on_edge_turns_over_near_where_theory_says(long, deep):
    """Boards 38 mm thick: the code's effective length stands for a theory that scipy solves, to an eighth."""
    worked = turned_over(3164.4, long, deep, 38.1)
    found = timber.beam_buckling_stress_mpa(3164.4, long, deep, 38.1)
    what = f"stress that turns over a board of 38 x {deep:g} mm, {long:g} mm long"
    assert found == as_worked(worked, "MPa", what, rel=1 / 8)


@pytest.mark.outside("strength.timber.beam_buckling_stress_mpa", source="nds-beams")
@pytest.mark.parametrize(("depths", "remembered"), [(5, "10.30"), (10, "19.30"), (20, "35.60")])
def test_effective_length_of_a_beam_as_remembered(depths, remembered):
    """Even load: 2.06 of a short length, 1.63 of a long one and three depths; stress 1.20 E b2/(l d) (memory)."""
    stress = timber.beam_buckling_stress_mpa(1000.0, depths * 100.0, 100.0, 40.0)
    found = 1.20 * 1000.0 * 40.0**2 / (stress * 100.0) / 100.0
    assert found == as_remembered(remembered, "depths", f"effective length of a beam {depths} depths long")


@pytest.mark.outside("strength.timber.push_and_bending_ratio", source="scipy")
def test_a_push_makes_a_bow_worse():
    """E I w'' + P w = -M: with the load's bow a half wave, scipy's solve_bvp gives the moment that the push makes."""
    long, stiff, area, modulus = 1.0, 1000.0, 3387.1, 21508.0
    critical, push, first = math.pi**2 * stiff / long**2, 3000.0, 30.0
    x = np.linspace(0, long, 41)

    def bent(x, w):
        return np.vstack((w[1], -(push * w[0] + first * np.sin(math.pi * x / long)) / stiff))

    bow = solve_bvp(bent, lambda a, b: np.array([a[0], b[0]]), x, np.zeros((2, x.size)), tol=1e-9)
    moment = first + push * bow.sol(long / 2)[0]
    push_mpa, critical_mpa, never = push / area, critical / area, 1e9
    worked = (push_mpa / 4.0) ** 2 + moment * 1000 / modulus / 8.0
    flat = timber.push_and_bending_ratio(
        push_mpa, 4.0, first * 1000 / modulus, 8.0, 0.0, 8.0, critical_mpa, never, never
    )  # fmt: skip
    assert flat == as_worked(worked, "", "pushed and bent flat, share used", rel=1e-6)
    side = timber.push_and_bending_ratio(
        push_mpa, 4.0, 0.0, 8.0, first * 1000 / modulus, 8.0, never, critical_mpa, never
    )  # fmt: skip
    assert side == as_worked(worked, "", "pushed and bent sideways, share used", rel=1e-6)


@pytest.mark.outside("strength.timber.pull_and_bending_ratio", "strength.timber.shear_stress_mpa", source="scipy")
def test_stresses_of_a_pulled_and_bent_rectangle():
    """The worst corner of a 2x4 on a grid over its section, and the shear that slides its half along, by quad."""
    wide, deep, pull, flat, side, allowed = 38.1, 88.9, 4000.0, 120e3, 40e3, 7.0
    y, z = np.meshgrid(np.linspace(-0.5, 0.5, 21) * deep, np.linspace(-0.5, 0.5, 21) * wide)
    second = wide * deep**3 / 12, deep * wide**3 / 12
    worst = (pull / (wide * deep) + flat * y / second[0] + side * z / second[1]).max()
    found = timber.pull_and_bending_ratio(
        pull / (wide * deep), allowed, flat / (wide * deep**2 / 6), allowed, side / (deep * wide**2 / 6), allowed
    )
    assert found == as_worked(worst / allowed, "", "a 2x4 pulled and bent both ways, share used")
    half = quad(lambda y: wide * y, 0, deep / 2)[0]
    worked = 2000.0 * half / (second[0] * wide)
    assert timber.shear_stress_mpa(2000.0, wide * deep) == as_worked(worked, "MPa", "shear of a 2x4 under 2 kN")


@pytest.mark.outside("strength.pvc.kept_in_heat_ratio", source="pvc-heat")
def test_heat_halves_plastic_pipe():
    """All of its strength at 23 °C and about half between 110 and 120 °F (from memory)."""
    kept = pvc.kept_in_heat_ratio
    assert kept(23.0, 23.0, 43.0) == as_remembered("1.00", "", "share kept at 23 °C", copied=True)
    assert pvc.kept((110 - 32) / 1.8) == as_remembered("0.50", "", "share kept at 110 °F")


@pytest.mark.outside("strength.pvc.euler_load_n", source="scipy")
def test_a_pipe_bows_out_where_its_own_equation_says():
    """1 m of 1 in pipe, by scipy."""
    stiff = 2760.0 * 36353.0
    found = pvc.euler_load_n(2760.0, 36353.0, 1000.0)
    assert found == as_worked(buckling_load(stiff, 1000.0), "N", "push that bows out 1 m of 1 in pipe", rel=1e-6)


@given(st.floats(0.01, 50))
def test_column_share_is_the_smaller_root_of_its_quadratic(alpha):
    """A second form of the rule: 0.8 x^2 - (1 + alpha) x + alpha = 0, x the smaller root."""
    share = timber.column_stability_ratio(alpha)
    assert 0.8 * share**2 - (1 + alpha) * share + alpha == pytest.approx(0, abs=1e-9 * (1 + alpha))
    assert 0 < share < min(1, alpha) + 1e-12


@given(st.floats(0.05, 50))
def test_beam_share_is_the_smaller_root_of_its_quadratic(alpha):
    """Likewise: 0.95 x^2 - (1 + alpha) x + alpha = 0."""
    share = timber.beam_stability_ratio(alpha)
    assert 0.95 * share**2 - (1 + alpha) * share + alpha == pytest.approx(0, abs=1e-9 * (1 + alpha))
    assert 0 < share < 1


@given(
    st.sampled_from([key for key, member in MEMBERS.items() if member.family in ("timber", "pvc")]),
    st.floats(0.1, 5),
    st.floats(1.01, 3),
)
def test_longer_is_weaker(key, length_m, times):
    """Allowed push never rises with length, nor does bending on edge."""
    short, long = capacities(MEMBERS[key], length_m), capacities(MEMBERS[key], length_m * times)
    assert long.push_n <= short.push_n
    assert long.moment_n_m <= short.moment_n_m * 1.06  # the effective length steps down 5 % at seven depths


def test_forces_together_by_hand():
    """(1/4)^2 + 2/(8 x (1 - 1/5)) + 0.5/(8 x (1 - 1/4 - (2/20)^2)) = 0.0625 + 0.3125 + 0.08446 = 0.45946."""
    found = timber.push_and_bending_ratio(1.0, 4.0, 2.0, 8.0, 0.5, 8.0, 5.0, 4.0, 20.0)
    assert found == pytest.approx(0.45946, rel=1e-4)
    assert timber.pull_and_bending_ratio(1.0, 4.0, 2.0, 8.0, 0.4, 8.0) == pytest.approx(0.55)


def test_shortest_load_decides_the_duration():
    """Wind 1.6, snow 1.15, a lean 1.0, own weight and plants 0.9; a factor of 0 is no load."""
    assert timber.duration_factor({"D": 1.0, "S": 0.75, "W+x": 0.45}) == 1.6
    assert timber.duration_factor({"D": 1.0, "S-left": 1.0, "W+x": 0.0}) == 1.15
    assert timber.duration_factor({"D": 1.0, "L+y": 1.0}) == 1.0
    assert timber.duration_factor({"D": 1.0, "P": 1.0}) == 0.9


def test_plastic_pipe_in_the_sun_by_hand():
    """1 in pipe, I 0.08734 in4, half its strength left: M = 6.9 MPa x I/16.70 mm; P = pi2 E I/L2 / 3."""
    second_mm4 = 0.08734 * 25.4**4
    found = capacities(MEMBERS["pvc-1"], 1.0)
    assert found.moment_n_m == pytest.approx(6.9 * second_mm4 / 16.7005 / 1000, rel=1e-3)
    assert found.push_n == pytest.approx(math.pi**2 * 1380 * second_mm4 / 1e6 / 3, rel=1e-3)
    cool = capacities(MEMBERS["pvc-1"], 1.0, 23.0)
    assert cool.moment_n_m == pytest.approx(2 * found.moment_n_m)


def test_shear_and_twist_by_hand():
    """Half the pull stress is the shear stress of pipe, a thin ring has twice the mean: 3.45 x 318.6/2 = 549.6 N.

    2x4: 0.9308 x 0.97 x 3387.1/1.5 = 2038.8 N. 12 mm bar: 0.6 x 250/1.67 = 89.82 MPa; x 113.1 x 3/4 = 7619 N and
    x pi 12^3/16 = 30.48 N m.
    """
    assert capacities(MEMBERS["pvc-1"], 1.0).shear_n == pytest.approx(549.6, abs=0.2)
    assert capacities(MEMBERS["pvc-1"], 1.0).torsion_n_m == pytest.approx(
        capacities(MEMBERS["pvc-1"], 1.0).moment_n_m
    )  # half the stress, twice the modulus
    assert capacities(TWO_BY_FOUR, 1.0).shear_n == pytest.approx(2038.8, abs=0.2)
    assert capacities(MEMBERS["bar-12"], 1.0).shear_n == pytest.approx(7619, abs=1)
    assert capacities(MEMBERS["bar-12"], 1.0).torsion_n_m == pytest.approx(30.48, abs=0.01)


@given(st.floats(-40, 55), st.floats(0, 30))
def test_hotter_pipe_is_never_stronger(temperature, more):
    """What is left falls with heat and stays above nothing up to the limit."""
    hotter = min(temperature + more, 55.0)
    assert 0 < pvc.kept(hotter) <= pvc.kept(temperature) <= 1


def test_pipe_too_hot_is_refused():
    """Above 55 °C nothing is promised."""
    with pytest.raises(InputError, match=r"^temperature of plastic pipe: got 60, needs -40 to 55 °C\. Shade it"):
        capacities(MEMBERS["pvc-1"], 1.0, 60.0)


def test_wire_by_hand():
    """12.5 gauge high-tensile: pi/4 x 2.515^2 = 4.968 mm2 x 1000 MPa / 1.67 = 2975 N; it carries no push."""
    found = capacities(MEMBERS["wire-12.5"], 2.0)
    assert found.pull_n == as_printed("2975")
    assert found.push_n == 0
