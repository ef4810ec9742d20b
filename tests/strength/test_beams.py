"""Closed forms against an open frame program, integrals and a handbook, and against our own frame solver."""

import math

import pytest
from frames_for_tests import beam, hoop, portal
from hypothesis import given, settings
from hypothesis import strategies as st
from other_roads import Flat, buckling_load, over_round, span
from printed import as_worked
from scipy.integrate import quad

from gardenframe.materials.members import load_members
from gardenframe.strength import beams
from gardenframe.strength.cases import Case, JointLoad, LineLoad, PointLoad
from gardenframe.strength.stiffness import solve

MEMBERS = load_members()
EI = 2527.65  # 1 in EMT, N m2

W, L, H, P = 100.0, 2.0, 1.2, 200.0  # N/m, m, m, N
RADIUS = 1.5


def other(formula, inputs, what, unit, worked):
    """Return one row of the table below, with the formula that it checks."""
    mark = pytest.mark.outside(f"strength.beams.{formula.__name__}")
    return pytest.param(formula, inputs, what, unit, worked, marks=mark, id=formula.__name__)


def simple(**load):
    """Return a span on two hinges, solved by PyNiteFEA."""
    return span(("pinned", "pinned"), EI, [L], **load)


def fast(**load):
    """Return a span fixed at both ends, solved by PyNiteFEA; a joint at its middle carries what stands there."""
    return span(("fixed", "fixed"), EI, [L], **load)


def stood(**load):
    """Return a post fixed at its foot A, laid down, solved by PyNiteFEA."""
    return span(("fixed", "free"), EI, [H], **load)


def frame(down_n_per_m=0.0, push_n=0.0, high_m=2.0, wide_m=3.0, top=EI):
    """Return a portal on hinges, solved by PyNiteFEA."""
    joints = {"A": (0, 0), "B": (0, high_m), "C": (wide_m, high_m), "D": (wide_m, 0)}
    bars = {"AB": ("A", "B", EI), "BC": ("B", "C", top), "DC": ("D", "C", EI)}
    found = Flat(joints, bars, {"A": "pinned", "D": "pinned"})
    return found.line("BC", down_n_per_m).push("B", push_n).solved()


THIRDS = ((L / 3, P), (2 * L / 3, P))
PYNITE = [
    other(beams.simple_span_moment_n_m, (W, L), "moment, 100 N/m on 2 m", "N m",
          lambda: simple(n_per_m=W).moment_n_m("AB", L / 2)),
    other(beams.simple_span_deflection_m, (W, L, EI), "sag, 100 N/m on 2 m of 1 in tube", "mm",
          lambda: simple(n_per_m=W).sag_m("AB", L / 2)),
    other(beams.simple_span_reaction_n, (W, L), "push of an end, 100 N/m on 2 m", "N",
          lambda: simple(n_per_m=W).pushed_up_n("A")),
    other(beams.simple_span_point_moment_n_m, (P, L), "moment, 200 N in the middle of 2 m", "N m",
          lambda: simple(points=[(L / 2, P)]).moment_n_m("AB", L / 2)),
    other(beams.simple_span_point_deflection_m, (P, L, EI), "sag, 200 N in the middle of 2 m of 1 in tube", "mm",
          lambda: simple(points=[(L / 2, P)]).sag_m("AB", L / 2)),
    other(beams.simple_span_two_points_moment_n_m, (P, L), "moment, 200 N at each third of 2 m", "N m",
          lambda: simple(points=THIRDS).moment_n_m("AB", L / 2)),
    other(beams.simple_span_two_points_deflection_m, (P, L, EI), "sag, 200 N at each third of 2 m of 1 in tube", "mm",
          lambda: simple(points=THIRDS).sag_m("AB", L / 2)),
    other(beams.cantilever_point_moment_n_m, (P, H), "moment, 200 N on the top of a post of 1.2 m", "N m",
          lambda: stood(points=[(H, P)]).moment_n_m("AB", 0.0)),
    other(beams.cantilever_point_deflection_m, (P, H, EI), "movement of the top, 200 N on 1.2 m of 1 in tube", "mm",
          lambda: stood(points=[(H, P)]).sag_m("AB", H)),
    other(beams.cantilever_moment_n_m, (W, H), "moment, 100 N/m on a post of 1.2 m", "N m",
          lambda: stood(n_per_m=W).moment_n_m("AB", 0.0)),
    other(beams.cantilever_deflection_m, (W, H, EI), "movement of the top, 100 N/m on 1.2 m of 1 in tube", "mm",
          lambda: stood(n_per_m=W).sag_m("AB", H)),
    other(beams.fixed_span_moment_n_m, (W, L), "moment, 100 N/m on 2 m, fixed ends", "N m",
          lambda: fast(n_per_m=W).moment_n_m("AB", 0.0)),
    other(beams.fixed_span_deflection_m, (W, L, EI), "sag, 100 N/m on 2 m of 1 in tube, fixed ends", "mm",
          lambda: fast(n_per_m=W).sag_m("AB", L / 2)),
    other(beams.fixed_span_point_moment_n_m, (P, L), "moment, 200 N in the middle of 2 m, fixed ends", "N m",
          lambda: fast(points=[(L / 2, P)]).moment_n_m("AB", 0.0)),
    other(beams.fixed_span_point_deflection_m, (P, L, EI), "sag, 200 N in the middle of 1 in tube, fixed ends", "mm",
          lambda: fast(points=[(L / 2, P)]).sag_m("AB", L / 2)),
    other(beams.two_spans_moment_n_m, (W, L), "moment, 100 N/m on two spans of 2 m, over the support", "N m",
          lambda: span(["pinned"] * 3, EI, [L, L], W).moment_n_m("AB", L)),
    other(beams.two_spans_field_moment_n_m, (W, L), "moment, 100 N/m on two spans of 2 m, between supports", "N m",
          lambda: span(["pinned"] * 3, EI, [L, L], W).largest_n_m("AB", 0.2, 0.6)),
    other(beams.three_spans_moment_n_m, (W, L), "moment, 100 N/m on three spans of 2 m, over a support", "N m",
          lambda: span(["pinned"] * 4, EI, [L] * 3, W).moment_n_m("AB", L)),
    other(beams.three_spans_field_moment_n_m, (W, L), "moment, 100 N/m on three spans of 2 m, in an outer one", "N m",
          lambda: span(["pinned"] * 4, EI, [L] * 3, W).largest_n_m("AB", 0.2, 0.6)),
    other(beams.portal_thrust_n, (W, 3, 2, 2 / 3), "push at a foot, 100 N/m on a portal 3 m wide, 2 m high", "N",
          lambda: frame(down_n_per_m=W).pushed_along_n("A")),
    other(beams.portal_corner_moment_n_m, (W, 3, 2 / 3), "moment at a corner, 100 N/m on that portal", "N m",
          lambda: frame(down_n_per_m=W).moment_n_m("BC", 0.0)),
    other(beams.portal_sway_m, (P, 2, 2 / 3, EI), "sway, 200 N at the eaves of that portal", "mm",
          lambda: frame(push_n=P).moved_m("B")),
]  # fmt: skip


@pytest.mark.outside(source="PyNiteFEA")
@pytest.mark.parametrize(("formula", "inputs", "what", "unit", "worked"), PYNITE)
def test_closed_forms_against_an_open_frame_program(formula, inputs, what, unit, worked):
    """One span, post or portal, solved by PyNiteFEA with bars that do not stretch."""
    scale = 1000 if unit == "mm" else 1
    assert scale * formula(*inputs) == as_worked(scale * worked(), unit, what, rel=2e-5)


@pytest.mark.outside("strength.beams.portal_ratio", "strength.beams.portal_thrust_n", source="PyNiteFEA")
@pytest.mark.parametrize("top", [0.5, 4.0])
def test_the_ratio_of_a_portal_says_how_stiff_its_beam_is(top):
    """A beam half or four times as stiff as its posts, 2.5 m wide and 1.9 m high."""
    ratio = beams.portal_ratio(1.9, 2.5, top, 1.0)
    worked = frame(down_n_per_m=W, high_m=1.9, wide_m=2.5, top=top * EI).pushed_along_n("A")
    found = beams.portal_thrust_n(W, 2.5, 1.9, ratio)
    assert found == as_worked(worked, "N", f"push at the feet, beam to post {top:g} : 1", rel=2e-5)


@pytest.mark.outside(
    "strength.beams.two_spans_moment_n_m", "strength.beams.two_spans_field_moment_n_m",
    "strength.beams.three_spans_moment_n_m", "strength.beams.three_spans_field_moment_n_m", source="beams-handbook",
)  # fmt: skip
def test_moments_follow_from_the_printed_reactions():
    """The handbook prints end reactions of 3/8 w L on two spans and 0.4 w L on three: by statics the moments follow."""
    for spans, printed, over, field in (
        ("two", 3 / 8, beams.two_spans_moment_n_m, beams.two_spans_field_moment_n_m),
        ("three", 0.4, beams.three_spans_moment_n_m, beams.three_spans_field_moment_n_m),
    ):
        end_n = printed * W * L
        assert over(W, L) == as_worked(W * L**2 / 2 - end_n * L, "N m", f"{spans} spans, over an inner support")
        assert field(W, L) == as_worked(end_n**2 / (2 * W), "N m", f"{spans} spans, where the shear is nothing")


def thrust_n(moment_n_m):
    """Return the push at pinned feet of a semicircle whose bending costs least: scipy's quad over half of it.

    `moment_n_m` is that of a straight beam on the same feet, by the angle from a foot.
    """
    upper = quad(lambda t: moment_n_m(t) * RADIUS * math.sin(t), 0, math.pi / 2)[0]
    return upper / quad(lambda t: (RADIUS * math.sin(t)) ** 2, 0, math.pi / 2)[0]


def crown_load(t):
    """Moment of a straight beam under 200 N in its middle. [N m]"""
    return P / 2 * RADIUS * (1 - math.cos(t))


def snow(t):
    """Likewise under 100 N on each metre of width. [N m]"""
    from_foot = RADIUS * (1 - math.cos(t))
    return W * from_foot * (2 * RADIUS - from_foot) / 2


def own_weight(t):
    """Likewise under 100 N on each metre of tube, added up piece by piece. [N m]"""
    piece = quad(lambda s: W * RADIUS * RADIUS * (math.cos(s) - math.cos(t)), 0, t)[0]
    return W * math.pi * RADIUS / 2 * RADIUS * (1 - math.cos(t)) - piece


@pytest.mark.outside(
    "strength.beams.hoop_crown_load_thrust_n", "strength.beams.hoop_crown_load_moment_n_m",
    "strength.beams.hoop_snow_thrust_n", "strength.beams.hoop_own_weight_thrust_n", source="scipy",
)  # fmt: skip
def test_hoops_by_the_least_work_of_bending():
    """Work of bending of a semicircle 3 m wide, integrated and made least."""
    push = thrust_n(crown_load)
    assert beams.hoop_crown_load_thrust_n(P) == as_worked(push, "N", "200 N at the crown, push at a foot")
    moment = crown_load(math.pi / 2) - push * RADIUS
    found = beams.hoop_crown_load_moment_n_m(P, RADIUS)
    assert found == as_worked(moment, "N m", "200 N at the crown, moment there")
    found = beams.hoop_snow_thrust_n(W, RADIUS)
    assert found == as_worked(thrust_n(snow), "N", "100 N on each metre of width, push at a foot")
    found = beams.hoop_own_weight_thrust_n(W, RADIUS)
    assert found == as_worked(thrust_n(own_weight), "N", "100 N on each metre of tube, push at a foot")


@pytest.mark.outside("strength.beams.euler_load_n", "strength.beams.bending_stiffness_n_m2", source="scipy")
def test_a_post_of_one_inch_tube_bows_out_where_its_own_equation_says():
    """E y dA over the ring, and the push whose bow comes back to the axis after 2 m, both by scipy."""
    tube = MEMBERS["emt-1"]
    inner = tube.outer_mm - 2 * tube.wall_mm
    worked = over_round(lambda y: 200e9 * (y * 1e-3) ** 2, tube.outer_mm, inner) * 1e-6
    stiff = beams.bending_stiffness_n_m2(200e9, tube.second_moment_mm4 * 1e-12)
    assert stiff == as_worked(worked, "N m²", "1 in tube, bent by one radian a metre", rel=1e-6)
    found = beams.euler_load_n(stiff, 2.0)
    assert found == as_worked(buckling_load(worked, 2.0), "N", "push that bows out a post of 2 m", rel=1e-6)


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


def test_the_working_shows_what_ran():
    """A step names its symbols and its result."""
    step = beams.simple_span_moment_n_m.shown(100.0, 2.0)
    assert step.value == pytest.approx(50.0)
    assert "w" in step.text
    assert "50 N m" in step.text
