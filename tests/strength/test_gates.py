"""A gate's statics against a frame program, moments, energy and points that are turned, each worked apart."""

import cmath
import math

import pytest
import scipy.constants
from hypothesis import given
from hypothesis import strategies as st
from printed import as_printed, as_worked
from Pynite import FEModel3D
from scipy.optimize import brentq

from gardenframe.materials.coverings import load_coverings
from gardenframe.materials.members import load_members
from gardenframe.strength import gates
from gardenframe.units import FOOT_M, POUND_KG

STEEL_PA, TUBE_M2 = 2.0e11, 1.28e-4


def leaf(width, rise, loads):
    """Return a leaf as pinned bars, solved by PyNiteFEA: hung at A (below) and B, its diagonal from A up to D.

    All but the diagonal are as good as rigid. `loads` are forces down at joints.
    """
    model = FEModel3D()
    for key, x, y in (("A", 0.0, 0.0), ("B", 0.0, rise), ("C", width, 0.0), ("D", width, rise)):
        model.add_node(key, x, y, 0.0)
    model.add_material("steel", STEEL_PA, STEEL_PA / 2.6, 0.3, 0.0)
    for key, area in (("bar", TUBE_M2), ("stiff", TUBE_M2 * 1e6)):
        model.add_section(key, area, 1e-8, 1e-8, 1e-8)
    for a, b in ("AC", "BD", "CD", "AD"):
        model.add_member(a + b, a, b, "steel", "bar" if a + b == "AD" else "stiff")
        model.def_releases(a + b, Rzi=True, Rzj=True)
    model.def_support("A", True, True, True, True, True, True)
    model.def_support("B", True, True, True, True, True, True)
    for key in "CD":
        model.def_support(key, False, False, True, True, True, True)
    for key, down in loads.items():
        model.add_node_load(key, "FY", -down, "Case 1")
    model.add_load_combo("Combo 1", {"Case 1": 1.0})
    model.analyze_linear()
    return model


@pytest.mark.outside(
    "strength.gates.hinge_pull_n", "strength.gates.diagonal_m", "strength.gates.brace_force_n",
    "strength.gates.brace_sag_m", source="PyNiteFEA",
)  # fmt: skip
@pytest.mark.parametrize(("width", "rise"), [(0.9, 1.6), (1.4, 0.7)])
def test_a_leaf_against_a_frame_program(width, rise):
    """90 N hung at half its width and a person of 250 N on its far side: pull, push of the diagonal, sag."""
    weight, person, said = 90.0, 250.0, f"leaf {width:g} by {rise:g} m"
    model = leaf(width, rise, {"B": weight / 2, "D": weight / 2 + person})
    long = gates.diagonal_m(width, rise)
    assert long == as_worked(model.members["AD"].L(), "m", f"diagonal, {said}")
    pull = gates.hinge_pull_n(weight, person, width, rise)
    assert pull == as_worked(-model.nodes["B"].RxnFX["Combo 1"], "N", f"pull of the upper hinge, {said}", rel=1e-6)
    force = gates.brace_force_n(weight, person, long, rise)
    pushed = model.members["AD"].max_axial("Combo 1")
    assert force == as_worked(abs(pushed), "N", f"push along the diagonal, {said}", rel=1e-5)
    sag = gates.brace_sag_m(force, long, TUBE_M2, STEEL_PA, rise)
    sunk = -model.nodes["D"].DY["Combo 1"] * 1000
    assert sag * 1000 == as_worked(sunk, "mm", f"sag of the far side, {said}", rel=1e-4)


@pytest.mark.outside("strength.gates.gate_mass_kg", source="emt-dimensions")
def test_a_gate_is_weighed():
    """Its tubes by the printed 67 and 101 lb for 100 ft; its mesh with every wire counted: 2 by 4 in, 14 gauge."""
    for key, printed in (("emt-1", "67"), ("emt-1-1/4", "101")):
        tube = load_members()[key]
        pounds = gates.gate_mass_kg(100 * FOOT_M, tube.mass_kg_per_m, 0.0, 1.0) / POUND_KG
        what = f"a gate of 100 ft of {tube.label}, without mesh"
        if key == "emt-1":
            assert pounds == as_printed(printed, "lb", what)
        else:  # 100.4 lb: the printed weights are nominal
            assert pounds == as_worked(float(printed), "lb", what, rel=0.01)
    wide, tall = 24 * 2 * 0.0254, 18 * 4 * 0.0254  # 24 openings across, 18 up
    wires = 24 * tall + 18 * wide  # each opening has one wire of each way
    counted = wires * math.pi / 4 * 0.002032**2 * 7850
    mesh = load_coverings()["welded-mesh-2x4-14ga"]
    ours = gates.gate_mass_kg(0.0, 1.0, wide * tall, mesh.mass_kg_per_m2)
    assert ours == as_worked(counted, "kg", "a gate's mesh, 24 by 18 openings", source="second-method", rel=0.01)


@pytest.mark.outside("strength.gates.weight_n", source="scipy")
def test_weight_by_a_library_s_gravity():
    """Ten kilograms under standard gravity."""
    assert gates.weight_n(10.0) == as_worked(10 * scipy.constants.g, "N", "weight of 10 kg")


@given(st.floats(20, 400), st.floats(0, 400), st.floats(0.3, 2.5), st.floats(0.3, 2.2))
def test_hinges_hold_the_gate_in_balance(weight, person, width, apart):
    """Moments about the upper hinge, which the code does not use, come to nothing."""
    pull = gates.hinge_pull_n(weight, person, width, apart)
    assert pull * apart - weight * width / 2 - person * width == pytest.approx(0.0, abs=1e-6)


@pytest.mark.outside("strength.gates.brace_force_n", "strength.gates.brace_sag_m", source="second-method")
@given(st.floats(50, 500), st.floats(0.4, 2.0), st.floats(0.4, 2.0))
def test_the_sag_of_a_diagonal_against_its_energy(load, width, rise):
    """Work of the load, P s / 2, is the energy in the bar, F² L/(2 A E); F from the triangle of forces."""
    long = math.hypot(width, rise)
    force = gates.brace_force_n(0.0, load, long, rise)
    theirs = load / math.sin(math.atan2(rise, width))
    assert force == as_worked(theirs, "N", "push along a diagonal, by the triangle of forces")
    sag = gates.brace_sag_m(force, long, TUBE_M2, STEEL_PA, rise)
    energy = force**2 * long / (2 * TUBE_M2 * STEEL_PA)
    assert load * sag / 2 == as_worked(energy, "J", "work of what hangs on the far side")


@pytest.mark.outside("strength.gates.slack_sag_m", source="second-method")
@pytest.mark.parametrize(("width", "apart"), [(0.9, 1.2), (1.5, 0.6)])
def test_play_turns_the_leaf(width, apart):
    """The leaf turned about its lower hinge until the upper pin has moved by 1 mm: how far its far corner sinks."""
    turned = cmath.exp(-1j * math.asin(0.001 / apart))
    sunk = -(complex(width, 0) * turned).imag
    ours = gates.slack_sag_m(0.001, width, apart)
    what = f"sag from 1 mm of play, {width:g} m wide, hinges {apart:g} m apart"
    assert ours * 1000 == as_worked(sunk * 1000, "mm", what, rel=1e-5)


@pytest.mark.outside("strength.gates.hole_play_mm", source="scipy")
def test_a_post_leans_in_its_hole():
    """A tube of 29 mm in a hole 30 mm wide and 50 or 300 mm deep, leant until it touches at mouth and bottom."""
    for deep, most in ((50.0, 0.01), (300.0, 0.001)):
        # across the hole: the tube's width seen aslant, and what its lean takes over the depth
        lean = brentq(lambda a, deep=deep: 29 * math.cos(a) + deep * math.sin(a) - 30, 0.0, 0.2)
        ours = gates.hole_play_mm(1.0, deep, 2000.0)
        theirs = 2000.0 * math.tan(lean)
        assert ours == as_worked(theirs, "mm", f"play 2 m up a post in a hole {deep:g} mm deep", rel=most)


@pytest.mark.outside("strength.gates.swing_m", source="second-method")
@pytest.mark.parametrize(("width", "thick", "gap"), [(0.39, 0.3, 0.02), (0.9, 0.0384, 0.012)])
def test_what_a_gate_sweeps(width, thick, gap):
    """Every point round the leaf turned about the pin, half the gap beside it in one face: the farthest that comes."""
    edge = [complex(gap / 2 + width * i / 200, y) for i in range(201) for y in (0.0, thick)]
    swept = max(abs(point * cmath.exp(1j * math.radians(turn))) for point in edge for turn in range(0, 95, 5))
    assert gates.swing_m(width, thick, gap) == as_worked(swept, "m", f"reach of a leaf {width:g} m wide")
