"""Closed forms against printed numbers and against the frame solver, an independent method."""

import pytest
from frames_for_tests import beam, hoop, portal
from hypothesis import given, settings
from hypothesis import strategies as st
from printed import as_printed

from gardenframe.materials.members import load_members
from gardenframe.strength import beams
from gardenframe.strength.cases import Case, JointLoad, LineLoad, PointLoad
from gardenframe.strength.stiffness import solve

MEMBERS = load_members()
EI = 2527.65  # 1 in EMT, N m2

# worked numbers, recomputed independently: (formula, inputs, in what the table prints, printed)
WORKED = [
    (beams.simple_span_moment_n_m, (100, 2), 1, "50.0"),
    (beams.simple_span_deflection_m, (100, 2, EI), 1e3, "8.242"),
    (beams.simple_span_point_moment_n_m, (200, 2), 1, "100.0"),
    (beams.simple_span_point_deflection_m, (200, 2, EI), 1e3, "13.187"),
    (beams.cantilever_point_moment_n_m, (100, 1.2), 1, "120.0"),
    (beams.cantilever_point_deflection_m, (100, 1.2, EI), 1e3, "22.788"),
    (beams.cantilever_moment_n_m, (50, 1.2), 1, "36.0"),
    (beams.cantilever_deflection_m, (50, 1.2, EI), 1e3, "5.127"),
    (beams.fixed_span_moment_n_m, (100, 2), 1, "33.33"),
    (beams.fixed_span_deflection_m, (100, 2, EI), 1e3, "1.648"),
    (beams.fixed_span_point_moment_n_m, (200, 2), 1, "50.0"),
    (beams.fixed_span_point_deflection_m, (200, 2, EI), 1e3, "3.297"),
    (beams.two_spans_moment_n_m, (100, 2), 1, "50.0"),
    (beams.two_spans_field_moment_n_m, (100, 2), 1, "28.1"),
    (beams.three_spans_moment_n_m, (100, 2), 1, "40"),
    (beams.three_spans_field_moment_n_m, (100, 2), 1, "32"),
    (beams.portal_ratio, (2, 3, 1.0, 1.0), 1, "0.6667"),
    (beams.portal_thrust_n, (100, 3, 2, 2 / 3), 1, "25.96"),
    (beams.portal_corner_moment_n_m, (100, 3, 2 / 3), 1, "51.92"),
    (beams.portal_sway_m, (100, 2, 2 / 3, EI), 1e3, "92.3"),
    (beams.hoop_crown_load_thrust_n, (200,), 1, "63.66"),
    (beams.hoop_crown_load_moment_n_m, (200, 1.5), 1, "54.5"),
    (beams.hoop_snow_thrust_n, (1, 1), 1, "0.42441"),
]


@pytest.mark.parametrize(("formula", "inputs", "scale", "printed"), WORKED, ids=lambda v: getattr(v, "__name__", ""))
def test_formulas_give_the_worked_numbers(formula, inputs, scale, printed):
    """Each to the last printed digit."""
    assert formula(*inputs) * scale == as_printed(printed)


LOAD, SPAN = st.floats(5, 500), st.floats(0.4, 4.0)


def middle(frame, *loads):
    response = solve(frame, Case(key="c", loads=loads))
    along = response.along("beam", 3)
    return -along.moment_y_n_m[0], -along.deflection_m[0, :, 2], response.mesh.stiff[0, 1]


@settings(max_examples=40, deadline=None)
@given(LOAD, SPAN, st.sampled_from(["emt-1/2", "emt-1", "emt-2"]))
def test_one_span_by_hand_and_by_the_solver(w, span, member):
    """Simple and fixed spans under uniform, middle and third-point loads: the two ways agree."""
    simple, fixed = (beam([span], held, member) for held in (("xyzX", "yz"), ("xyzXYZ", "xyzXYZ")))
    uniform = LineLoad(run="beam", force_n_per_m=(0, 0, -w))
    point = PointLoad(run="beam", station_m=span / 2, force_n=(0, 0, -w))
    thirds = [PointLoad(run="beam", station_m=span * i / 3, force_n=(0, 0, -w)) for i in (1, 2)]
    m, d, ei = middle(simple, uniform)
    assert m[1] == pytest.approx(beams.simple_span_moment_n_m(w, span))
    assert d[1] == pytest.approx(beams.simple_span_deflection_m(w, span, ei))
    m, d, _ = middle(simple, point)
    assert m[1] == pytest.approx(beams.simple_span_point_moment_n_m(w, span))
    assert d[1] == pytest.approx(beams.simple_span_point_deflection_m(w, span, ei))
    m, d, _ = middle(simple, *thirds)
    assert m[1] == pytest.approx(beams.simple_span_two_points_moment_n_m(w, span))
    assert d[1] == pytest.approx(beams.simple_span_two_points_deflection_m(w, span, ei))
    m, d, _ = middle(fixed, uniform)
    assert -m[0] == pytest.approx(beams.fixed_span_moment_n_m(w, span))
    assert d[1] == pytest.approx(beams.fixed_span_deflection_m(w, span, ei))
    m, d, _ = middle(fixed, point)
    assert -m[0] == pytest.approx(beams.fixed_span_point_moment_n_m(w, span))
    assert d[1] == pytest.approx(beams.fixed_span_point_deflection_m(w, span, ei))


@settings(max_examples=20, deadline=None)
@given(LOAD, SPAN, st.floats(0.5, 3.0))
def test_portals_and_hoops_by_hand_and_by_the_solver(w, span, height):
    """Within 1 %: the solver's tubes also shorten, and its hoops are chords."""
    frame = portal(span, height, "xyzXZ")
    ratio = beams.portal_ratio(height, span, 1.0, 1.0)
    ei = 200e9 * MEMBERS["emt-1"].second_moment_mm4 * 1e-12
    loads = LineLoad(run="top", force_n_per_m=(0, 0, -w)), JointLoad(joint="B", force_n=(w, 0, 0))
    response = solve(frame, [Case(key="w", loads=loads[:1]), Case(key="p", loads=loads[1:])])
    assert response.support_forces[0, 0, 0] == pytest.approx(beams.portal_thrust_n(w, span, height, ratio), rel=0.01)
    corner = abs(response.along("top", 2).moment_y_n_m[0, 0])
    assert corner == pytest.approx(beams.portal_corner_moment_n_m(w, span, ratio), rel=0.01)
    sway = response.joint_movements[1, 1, 0]
    assert sway == pytest.approx(beams.portal_sway_m(w, height, ratio, ei), rel=0.01)
    radius = span / 2 + 0.3
    arch = hoop(radius)
    crown = Case(key="P", loads=(JointLoad(joint="T", force_n=(0, 0, -w)),))
    own = Case(key="g", loads=(LineLoad(run="hoop", force_n_per_m=(0, 0, -w)),))
    response = solve(arch, [crown, own])
    assert response.support_forces[0, 0, 0] == pytest.approx(beams.hoop_crown_load_thrust_n(w), rel=0.01)
    assert response.support_forces[1, 0, 0] == pytest.approx(beams.hoop_own_weight_thrust_n(w, radius), rel=0.01)
    crown_moment = abs(response.along("hoop", 3).moment_y_n_m[0, 1])
    assert crown_moment == pytest.approx(beams.hoop_crown_load_moment_n_m(w, radius), rel=0.01)


def test_euler_by_hand_for_a_two_metre_post():
    """pi2 EI/L2 of 1 in EMT: Fe 48.81 MPa on 127.78 mm2 at 2.0 m (recomputed)."""
    assert beams.euler_load_n(EI, 2.0) / 127.78 == pytest.approx(48.81, rel=5e-4)


def test_the_working_shows_what_ran():
    """A step names its symbols and its result."""
    step = beams.simple_span_moment_n_m.shown(100.0, 2.0)
    assert step.value == pytest.approx(50.0)
    assert "w" in step.text
    assert "50 N m" in step.text
