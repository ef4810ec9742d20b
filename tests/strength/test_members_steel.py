"""Steel against printed values of AISC 360, rows recomputed apart from this code, and what must be true."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from printed import as_printed

from gardenframe import working
from gardenframe.errors import InputError
from gardenframe.materials import sources
from gardenframe.materials.members import load_members
from gardenframe.strength import capacities as capacities_module
from gardenframe.strength import steel
from gardenframe.strength.capacities import capacities

MEMBERS = load_members()
EMT = [key for key, member in MEMBERS.items() if member.family == "emt"]
ROUNDS = [key for key, member in MEMBERS.items() if member.family in ("emt", "bar")]
KSI = 29_000.0
FLOORS = ("steel", "timber", "pvc", "deflection", "ties", "checks")
OURS = [f for k, f in working.FORMULAS.items() if k.split(".")[1] == "strength" and k.split(".")[2] in FLOORS]


@pytest.mark.parametrize("form", OURS, ids=lambda form: form.__name__)
def test_formula_keeps_its_word(form):
    """Fed quantities it gives the unit of its name, it shows in both systems, and its source is in the table."""
    working.check(form)
    assert sources.how_known(form.formula.source)


# aisc-360-e3, seen: slenderness at which a column changes from yielding to elastic buckling, by yield in ksi
TRANSITIONS = {35.0: "136", 36.0: "134", 50.0: "113", 65.0: "99.5"}


@pytest.mark.parametrize(("fy", "printed"), TRANSITIONS.items(), ids=str)
def test_column_changes_branch_at_the_printed_slenderness(fy, printed):
    """Half a unit of the last digit below it the working yields, half above it buckles elastically."""
    half = 0.5 if "." not in printed else 0.05
    assert "0.658" in steel.column_stress_mpa.shown(float(printed) - half, KSI, fy).text
    assert "0.877" in steel.column_stress_mpa.shown(float(printed) + half, KSI, fy).text


def test_pipe_10_column_of_the_design_example():
    """Design example E.11: Pipe 10 STD, 30 ft, Fy 35: slenderness 97.8; checks quote 147 kip, exact 147.7."""
    slender = steel.slenderness_ratio(360.0, 3.68)
    assert slender == as_printed("97.8")
    allowed = steel.allowed_push_n(steel.column_stress_mpa(slender, KSI, 35.0), 11.5, 1.0)
    assert allowed == pytest.approx(147.0, abs=1.0)
    assert allowed == as_printed("147.7")


def test_wt12x81_column():
    """WT12x81, Fy 50, 25.5 ft: critical stress 28.59 ksi, 683.3 kip."""
    stress = steel.column_stress_mpa(steel.slenderness_ratio(25.5 * 12, 3.50), KSI, 50.0)
    assert stress == as_printed("28.59")
    assert stress * 23.9 == pytest.approx(683.3, abs=0.1)


@pytest.mark.parametrize(
    ("slender", "printed"),
    [(20, "48.56"), (40, "44.48"), (60, "38.43"), (80, "31.31"), (100, "24.07"), (120, "17.43"), (140, "12.81"),
     (160, "9.81"), (200, "6.28")],
)  # fmt: skip
def test_column_table_at_50_ksi(slender, printed):
    """Critical stress by slenderness, recomputed by an independent script."""
    assert steel.column_stress_mpa(slender, KSI, 50.0) == as_printed(printed)


# 1 in EMT, K = 1, Fy 207 MPa, recomputed by an independent script: slenderness, F_cr [MPa], P_n/1.67 [kN]
EMT_COLUMNS = {1.0: ("100.55", "132.82", "10.16"), 1.5: ("150.8", "76.10", "5.823"),
               2.0: ("201.1", "42.81", "3.275"), 2.5: ("251.4", "27.40", "2.096")}  # fmt: skip


@pytest.mark.parametrize("length_m", EMT_COLUMNS)
def test_columns_of_one_inch_tube(length_m):
    """Slenderness, critical stress and allowed push to every digit of the independent rows."""
    slender, stress, push = EMT_COLUMNS[length_m]
    found = capacities(MEMBERS["emt-1"], length_m)
    assert found.slenderness == as_printed(slender)
    assert steel.column_stress_mpa(found.slenderness, 200e3, 207.0) == as_printed(stress)
    assert found.push_n / 1000 == as_printed(push)


def test_walls_buckle_from_the_printed_slenderness_on():
    """Table B4.1, E 29 000 and Fy 50: 63.8 in compression and 40.6 in bending, as printed."""
    assert steel.effective_area_ratio(63.7, KSI, 50.0) == 1.0
    assert "0.038" in steel.effective_area_ratio.shown(63.9, KSI, 50.0).text
    assert steel.effective_area_ratio(90.0, KSI, 50.0) == pytest.approx(0.9116, rel=1e-3)  # by hand
    assert steel.tube_moment_n_mm(40.5, 1.3, 1.0, KSI, 50.0) == pytest.approx(65.0)
    assert steel.tube_moment_n_mm(40.7, 1.3, 1.0, KSI, 50.0) != pytest.approx(65.0)


@pytest.mark.parametrize("key", EMT)
@pytest.mark.parametrize("fy", [207.0, 345.0])
def test_every_size_is_compact_up_to_345_mpa(key, fy):
    """D/t is below 0.07 E/Fy, so bending is plastic and the whole area pushes (derived, not taken for granted)."""
    member = MEMBERS[key]
    wall = member.outer_mm / member.wall_mm
    assert 16.75 <= round(wall, 2) <= 33.85
    moment = steel.tube_moment_n_mm(wall, member.plastic_modulus_mm3, member.section_modulus_mm3, 200e3, fy)
    assert moment == pytest.approx(fy * member.plastic_modulus_mm3)
    assert steel.effective_area_ratio(wall, 200e3, fy) == 1.0


def test_bending_of_one_inch_tube():
    """1 in EMT, Fy 207: plastic moment 236.7, allowed 141.7 N m (recomputed independently)."""
    found = capacities(MEMBERS["emt-1"], 1.0)
    assert found.moment_n_m * 1.67 == as_printed("236.7")
    assert found.moment_n_m == pytest.approx(141.7, abs=0.1)


def test_load_that_tests_a_length():
    """1 m simple span of 1 in EMT first yields under 708 N at mid-span, and that load gives the yield back."""
    modulus = MEMBERS["emt-1"].section_modulus_mm3
    load = steel.first_yield_load_n(207.0, modulus, 1000.0)
    assert load == pytest.approx(708, abs=1)
    assert steel.yield_by_test_mpa(load, 1000.0, modulus) == pytest.approx(207.0)


def test_both_branches_of_forces_together():
    """By hand: 0.3 + 8/9 0.45 = 0.70; 0.1/2 + 0.45 = 0.50."""
    assert steel.interaction_ratio(300.0, 1000.0, 45.0, 100.0) == pytest.approx(0.70)
    assert steel.interaction_ratio(100.0, 1000.0, 45.0, 100.0) == pytest.approx(0.50)


def test_torsion_joins_in():
    """By hand: 0.1 + 0.3 + (0.2 + 0.4)^2 = 0.76."""
    found = steel.torsion_interaction_ratio(100.0, 1000.0, 30.0, 100.0, 20.0, 100.0, 40.0, 100.0)
    assert found == pytest.approx(0.76)


@given(st.floats(0, 1.5))
def test_the_step_at_a_fifth_is_the_formula_s_own(bent):
    """Across P/Pc = 0.2 the two branches differ by 0.1 - m/9, nothing where they meet at m = 0.9."""
    below = steel.interaction_ratio(0.2 - 1e-9, 1.0, bent, 1.0)
    assert steel.interaction_ratio(0.2, 1.0, bent, 1.0) - below == pytest.approx(0.1 - bent / 9, abs=1e-6)


@given(st.sampled_from(ROUNDS), st.floats(0.05, 6), st.floats(1.001, 3))
def test_longer_is_weaker_and_never_beats_euler_or_yield(key, length_m, times):
    """Allowed push falls with length and stays below both the squash load and Euler's load over 1.67."""
    member = MEMBERS[key]
    short, long = capacities(member, length_m), capacities(member, length_m * times)
    assert long.push_n < short.push_n * (1 + 2e-3)  # the two branches meet within 0.1 %
    euler = math.pi**2 * member.modulus_gpa * 1000 * member.second_moment_mm4 / (length_m * 1000) ** 2
    assert short.push_n <= min(member.yield_mpa * member.area_mm2, euler) / 1.67 * (1 + 1e-12)


@given(st.floats(0, 2), st.floats(0, 2), st.floats(1.0, 2.0))
def test_more_load_uses_more(pushed, bent, times):
    """The share rises when both forces grow together."""
    less = steel.interaction_ratio(pushed, 1.0, bent, 1.0)
    more = steel.interaction_ratio(pushed * times, 1.0, bent * times, 1.0)
    assert more >= less - max(0.0, (bent * times - 0.9) / 9)  # the clause itself steps down at 0.2 where m > 0.9


@given(st.sampled_from(EMT))
def test_shear_and_twist_match_thin_ring_theory(key):
    """Shear flow of a thin ring (twice the mean stress) and Bredt's formula (T = 2 A_m t tau) at 0.6 Fy/1.67."""
    member, found = MEMBERS[key], capacities(MEMBERS[key], 1.0)
    stress = 0.6 * member.yield_mpa / 1.67
    middle = member.outer_mm - member.wall_mm
    assert found.shear_n == pytest.approx(stress * math.pi * middle * member.wall_mm / 2)
    assert found.torsion_n_m * 1000 == pytest.approx(2 * math.pi / 4 * middle**2 * member.wall_mm * stress)


def test_refusals_name_what_is_wrong():
    """A wall too thin for any rule, a length of nothing, and a row without a strength."""
    with pytest.raises(InputError, match=r"^diameter over wall: got 500, needs at most 435\. Choose a thicker wall"):
        steel.tube_moment_n_mm(500.0, 1.3, 1.0, 200e3, 207.0)
    with pytest.raises(InputError, match=r"^length between braces: got 0, needs more than 0 m"):
        capacities(MEMBERS["emt-1"], 0.0)
    with pytest.raises(InputError, match=r"^timber-2x4: yield_mpa: got nothing, needs a strength\. Fill in its row"):
        capacities_module.strength_mpa(MEMBERS["timber-2x4"], "yield_mpa")
