"""Steel against printed values of AISC 360, rows recomputed apart from this code, and what must be true."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from other_roads import buckling_load, over_round, span
from printed import as_printed, as_remembered, as_worked
from scipy.integrate import quad
from scipy.optimize import brentq, minimize_scalar

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


def changes_at(says, low, high):
    """Return where a working turns from one branch to another, halving between two numbers."""
    first = says(low)
    for _ in range(24):
        middle = (low + high) / 2
        low, high = (middle, high) if says(middle) == first else (low, middle)
    assert says(high) != first
    return high


@pytest.mark.outside("strength.steel.column_stress_mpa", source="aisc-360-e3")
@pytest.mark.parametrize(("fy", "printed"), TRANSITIONS.items(), ids=str)
def test_column_changes_branch_at_the_printed_slenderness(fy, printed):
    """Slenderness at which a column turns from yielding to elastic buckling."""
    found = changes_at(lambda slender: "0.658" in steel.column_stress_mpa.shown(slender, KSI, fy).text, 50.0, 200.0)
    assert found == as_printed(printed, "", f"where columns of {fy:g} ksi begin to buckle elastically")
    assert "0.877" in steel.column_stress_mpa.shown(found + 0.1, KSI, fy).text


@pytest.mark.outside("strength.steel.slenderness_ratio", source="aisc-360-e3")
def test_pipe_10_column_of_the_design_example():
    """Design example E.11: Pipe 10 STD, 30 ft, Fy 35: slenderness 97.8; checks quote 147 kip, exact 147.7."""
    slender = steel.slenderness_ratio(360.0, 3.68)
    assert slender == as_printed("97.8", "", "slenderness of Pipe 10 STD, 30 ft")
    allowed = steel.allowed_push_n(steel.column_stress_mpa(slender, KSI, 35.0), 11.5, 1.0)
    assert allowed == pytest.approx(147.0, abs=1.0)
    assert allowed == pytest.approx(147.7, abs=0.05)


@pytest.mark.outside(
    "strength.steel.slenderness_ratio", "strength.steel.column_stress_mpa", "strength.steel.allowed_push_n",
    source="aisc-360-e3",
)  # fmt: skip
def test_wt12x81_column():
    """WT12x81, Fy 50, 25.5 ft: critical stress 28.59 ksi, 683.3 kip before it is divided by 1.67."""
    slender = steel.slenderness_ratio(25.5 * 12, 3.50)
    assert slender == as_printed("87.43", "", "slenderness of WT12x81, 25.5 ft")
    stress = steel.column_stress_mpa(slender, KSI, 50.0)
    assert stress == as_printed("28.59", "ksi", "critical stress of a WT12x81 column")
    found = 1.67 * steel.allowed_push_n(28.59, 23.9, 1.0)
    assert found == as_printed("683.3", "kip", "push at which it gives way, from the printed stress")


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


@pytest.mark.outside("strength.steel.column_stress_mpa", source="scipy")
@pytest.mark.parametrize("length_m", [1.5, 2.5])
def test_a_slender_column_carries_what_bows_it_out_less_its_crookedness(length_m):
    """The push that bows out 1 in tube by its own equation, solved by scipy, times 0.877 (from memory)."""
    tube = MEMBERS["emt-1"]
    bows = buckling_load(200e3 * tube.second_moment_mm4, length_m * 1000) / tube.area_mm2
    found = steel.column_stress_mpa(length_m * 1000 / tube.gyration_mm, 200e3, 207.0)
    assert found == as_worked(0.877 * bows, "MPa", f"critical stress of 1 in tube of {length_m:g} m", rel=1e-6)


@pytest.mark.outside(
    "strength.steel.effective_area_ratio", "strength.steel.tube_moment_n_mm", source="aisc-360-b4"
)  # fmt: skip
def test_walls_buckle_from_the_printed_slenderness_on():
    """Table B4.1, E 29 000 and Fy 50: 63.8 in compression and 40.6 in bending, as printed."""
    pushed = changes_at(lambda wall: "0.038" in steel.effective_area_ratio.shown(wall, KSI, 50.0).text, 30.0, 100.0)
    assert pushed == as_printed("63.8", "", "diameter over wall from which a pushed tube of 50 ksi is slender")
    bent = changes_at(lambda wall: "0.021" in steel.tube_moment_n_mm.shown(wall, 1.3, 1.0, KSI, 50.0).text, 30.0, 60.0)
    assert bent == as_printed("40.6", "", "diameter over wall from which a bent tube of 50 ksi is not compact")
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


# examples as the design examples of the code's institute give them, all from memory
@pytest.mark.outside("strength.steel.tube_moment_n_mm", "strength.steel.allowed_moment_n_m", source="aisc-360-f8")
def test_bending_of_a_remembered_pipe():
    """Pipe 8 x-strong, Fy 35: 35 x 31.0 in3 is 90.4 kip ft, 54.1 allowed (from memory)."""
    moment = steel.tube_moment_n_mm(18.6, 31.0, 23.1, KSI, 35.0) / 12
    assert moment == as_remembered("90.4", "kip ft", "moment at which Pipe 8 x-strong gives way")
    assert steel.allowed_moment_n_m(moment) == as_remembered("54.1", "kip ft", "moment that it may carry")


@pytest.mark.outside("strength.steel.allowed_pull_n", source="aisc-360-d2")
def test_pull_of_a_remembered_tube():
    """HSS6.000x0.500, Fy 42, 8.09 in2: 204 kip allowed (from memory)."""
    assert steel.allowed_pull_n(42.0, 8.09) == as_remembered("204", "kip", "pull of HSS6.000x0.500")


@pytest.mark.outside("strength.steel.allowed_shear_n", source="aisc-360-g")
def test_shear_of_a_remembered_tube():
    """HSS16.000x0.375, Fy 42, 17.2 in2: 217 kip, 130 allowed (from memory)."""
    assert steel.allowed_shear_n(45.8, 17.2, KSI, 42.0) == as_remembered("130", "kip", "shear of HSS16.000x0.375")


@pytest.mark.outside("strength.steel.interaction_ratio", source="aisc-360-h1")
def test_forces_together_of_a_remembered_column():
    """W14x99: 400 of 1130 kip, 250 of 642 and 80 of 311 kip ft: 0.928 (from memory)."""
    found = steel.interaction_ratio(400.0, 1130.0, 250 / 642 + 80 / 311, 1.0)
    assert found == as_remembered("0.928", "", "share that W14x99 uses, pushed and bent")


@pytest.mark.outside("strength.steel.interaction_ratio", source="aisc-360-h1")
@pytest.mark.parametrize("pushed", [0.1, 0.19, 0.21, 0.6, 0.9])
def test_limits_of_forces_together_lie_on_two_straight_lines(pushed):
    """Corners from memory: all of the push, a fifth of it with nine tenths of the moment, all of the moment."""
    line = np.interp(pushed, [0.0, 0.2, 1.0], [1.0, 0.9, 0.0])
    found = brentq(lambda bent: steel.interaction_ratio(pushed, 1.0, bent, 1.0) - 1, 0.0, 1.0)
    assert found == as_worked(line, "", f"moment share left at a push share of {pushed:g}")


def test_both_branches_of_forces_together():
    """By hand: 0.3 + 8/9 0.45 = 0.70; 0.1/2 + 0.45 = 0.50."""
    assert steel.interaction_ratio(300.0, 1000.0, 45.0, 100.0) == pytest.approx(0.70)
    assert steel.interaction_ratio(100.0, 1000.0, 45.0, 100.0) == pytest.approx(0.50)


@pytest.mark.outside("strength.steel.torsion_interaction_ratio", source="aisc-360-h3")
def test_torsion_joins_in():
    """By hand: 0.1 + 0.3 + (0.2 + 0.4)^2 = 0.76; along its limit a parabola whose shape is remembered."""
    found = steel.torsion_interaction_ratio(100.0, 1000.0, 30.0, 100.0, 20.0, 100.0, 40.0, 100.0)
    assert found == pytest.approx(0.76)
    shares = np.linspace(0.0, 1.0, 11)
    ours = [steel.torsion_interaction_ratio(0, 1, 0, 1, share, 2.0, share, 2.0) for share in shares]
    square = np.polynomial.polynomial.polyfit(shares, ours, 2)
    assert square == as_worked([0, 0, 1], "", "shear and twist together: nothing, linear, square", abs=1e-9)
    ours = [steel.torsion_interaction_ratio(share, 2.0, share, 2.0, 0, 1, 0, 1) for share in shares]
    straight = np.polynomial.polynomial.polyfit(shares, ours, 2)
    assert straight == as_worked([0, 1, 0], "", "push and bending together: nothing, linear, square", abs=1e-9)


@pytest.mark.outside(
    "strength.steel.resultant_moment_n_m", "strength.steel.resultant_shear_n", source="scipy"
)  # fmt: skip
def test_the_worst_plane_of_a_round_section():
    """Turned until the moment about one axis is largest, by scipy's search: that is the moment whatever the plane."""

    def worst(y, z):
        return -minimize_scalar(lambda t: -y * math.cos(t) - z * math.sin(t), bounds=(0, math.pi), method="bounded").fun

    assert steel.resultant_moment_n_m(34.0, 21.0) == as_worked(
        worst(34, 21), "N m", "moments of 34 and 21 N m about two axes, as one", rel=1e-8
    )
    assert steel.resultant_shear_n(-70.0, 45.0) == as_worked(
        worst(-70, 45), "N", "pushes of 70 N one way and 45 N across, as one", rel=1e-8
    )


@pytest.mark.outside("strength.steel.tube_moment_n_mm", "strength.steel.rod_moment_n_mm", source="scipy")
def test_plastic_moments_added_up_over_the_section():
    """Yield on one half and yield the other way on the other, by scipy's quad; a bar at most 1.6 times first yield."""
    tube, bar = MEMBERS["emt-1"], MEMBERS["bar-12"]
    inner = tube.outer_mm - 2 * tube.wall_mm
    worked = over_round(lambda y: 207.0 * abs(y), tube.outer_mm, inner)
    wall, modulus = tube.outer_mm / tube.wall_mm, tube.section_modulus_mm3
    found = steel.tube_moment_n_mm(wall, tube.plastic_modulus_mm3, modulus, 200e3, 207.0)
    assert found == as_worked(worked, "N mm", "1 in tube, plastic", rel=1e-6)
    first = over_round(lambda y: 250.0 * y**2 / 6.0, 12.0)
    found = steel.rod_moment_n_mm(250.0, bar.plastic_modulus_mm3, bar.section_modulus_mm3)
    assert found == as_worked(1.6 * first, "N mm", "12 mm bar, 1.6 times first yield", rel=1e-6)
    square = quad(lambda y: 250.0 * abs(y) * 12.0, -6, 6, points=[0.0])[0]
    found = steel.rod_moment_n_mm(250.0, 12.0**3 / 4, 12.0**3 / 6)
    assert found == as_worked(square, "N mm", "12 mm square bar, plastic", rel=1e-6)


@pytest.mark.outside("strength.steel.allowed_shear_n", "strength.steel.allowed_torsion_n_mm", source="scipy")
def test_shear_and_twist_added_up_round_the_ring():
    """1 in tube at 0.6 x 207/1.67 MPa: its shear flow goes as the sine round it; twisted, all of its wall yields."""
    tube, stress = MEMBERS["emt-1"], 0.6 * 207.0 / 1.67
    middle, inner = (tube.outer_mm - tube.wall_mm) / 2, tube.outer_mm / 2 - tube.wall_mm
    worked = quad(lambda t: stress * math.sin(t) ** 2 * tube.wall_mm * middle, 0, 2 * math.pi)[0]
    found = steel.allowed_shear_n(tube.outer_mm / tube.wall_mm, tube.area_mm2, 200e3, 207.0)
    assert found == as_worked(worked, "N", "shear of 1 in tube", rel=1e-6)
    worked = quad(lambda r: stress * 2 * math.pi * r**2, inner, tube.outer_mm / 2)[0]
    found = steel.allowed_torsion_n_mm(tube.outer_mm, tube.wall_mm, 200e3, 207.0)
    assert found == as_worked(worked, "N mm", "twist of 1 in tube", rel=2e-3)


@pytest.mark.outside("strength.steel.first_yield_load_n", "strength.steel.yield_by_test_mpa", source="PyNiteFEA")
def test_the_test_of_a_length_by_an_open_frame_program():
    """1 m of 1 in tube, its moment by PyNiteFEA and its stress by the section's integral."""
    tube = MEMBERS["emt-1"]
    inner = tube.outer_mm - 2 * tube.wall_mm
    modulus = over_round(lambda y: y**2, tube.outer_mm, inner) / (tube.outer_mm / 2)
    one = span(("pinned", "pinned"), 2527.65, [1.0], points=[(0.5, 1.0)]).moment_n_m("AB", 0.5) * 1000 / modulus
    load = steel.first_yield_load_n(207.0, tube.section_modulus_mm3, 1000.0)
    assert load == as_worked(207.0 / one, "N", "load under which 1 in tube first yields", rel=1e-6)
    found = steel.yield_by_test_mpa(800.0, 1000.0, tube.section_modulus_mm3)
    assert found == as_worked(800.0 * one, "MPa", "yield of a tube that stayed bent after 800 N", rel=1e-6)


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
