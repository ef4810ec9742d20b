"""Bends against printed rows, numbers worked by hand, and the shape that the marks give back."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from printed import as_printed, as_remembered, as_worked
from scipy import integrate, optimize

from gardenframe import working
from gardenframe.geometry import bending
from gardenframe.materials import sources
from gardenframe.materials.members import load_members

MEMBERS = load_members()
OURS = [form for name, form in working.FORMULAS.items() if name.startswith("gardenframe.geometry.bending.")]
INCH = 25.4
# one-shot radii [in] (seen in a trade table), with arc of a right angle, gain [in] and stretch [%] worked independently
RIGHT_ANGLES = {
    "emt-1/2": (4, "6.283", "1.717", "8.82"),
    "emt-3/4": (4.5, "7.069", "1.931", "10.24"),
    "emt-1": (5.75, "9.032", "2.468", "10.11"),
    "emt-1-1/4": (7.25, "11.388", "3.112", "10.41"),
    "emt-1-1/2": (8.25, "12.959", "3.541", "10.55"),
    "emt-2": (9.5, "14.923", "4.077", "11.56"),
}
# multiplier and shrink per unit of depth, worked independently
OFFSETS = {
    10: ("5.759", "0.0875"),
    15: ("3.864", "0.1317"),
    22.5: ("2.613", "0.1989"),
    30: ("2.000", "0.2679"),
    45: ("1.414", "0.4142"),
    60: ("1.155", "0.5774"),
}


@pytest.mark.parametrize("form", OURS, ids=lambda form: form.__name__)
def test_formula_keeps_its_word(form):
    """Fed quantities it gives the unit of its name, it shows in both systems, and its source is in the table."""
    working.check(form)
    assert sources.how_known(form.formula.source)


def half_digit(text):
    """Return half a unit of the last digit of another program's number."""
    return 0.5 * 10.0 ** -len(text.partition(".")[2]) * (1 + 1e-9)


@pytest.mark.outside("data/members.csv", source="emt-bend-radii")
@pytest.mark.parametrize(
    ("key", "printed"), {"emt-1/2": "4", "emt-3/4": "4.5", "emt-1": "5.75", "emt-1-1/4": "7.25"}.items()
)
def test_the_least_radius_is_the_one_shot_radius(key, printed):
    """4, 4-1/2, 5-3/4 and 7-1/4 in, as an article prints them for one-shot benders."""
    assert MEMBERS[key].min_bend_radius_mm / INCH == as_printed(
        printed, "in", f"{MEMBERS[key].label}: least bend radius", copied=True
    )


BENT = ("geometry.bending.arc_length_mm", "geometry.bending.gain_mm", "geometry.bending.stretch_ratio")


@pytest.mark.outside(*BENT, source="worked-apart")
@pytest.mark.parametrize("key", RIGHT_ANGLES)
def test_a_right_angle_at_the_one_shot_radius(key):
    """Arc, gain and stretch at the published least radius, to every digit that another program gave."""
    radius_in, *worked = RIGHT_ANGLES[key]
    member = MEMBERS[key]
    assert member.min_bend_radius_mm == pytest.approx(radius_in * INCH)
    ours = (
        bending.arc_length_mm(radius_in * INCH, 90) / INCH,
        bending.gain_mm(radius_in * INCH, 90) / INCH,
        100 * bending.stretch_ratio(member.outer_mm, radius_in * INCH),
    )
    said = (("in", "arc of a right angle"), ("in", "gain of a right angle"), ("%", "stretch at its outside"))
    for got, text, (unit, what) in zip(ours, worked, said, strict=True):
        assert got == as_worked(float(text), unit, f"{MEMBERS[key].label}: {what}", abs=half_digit(text))


@pytest.mark.outside(*BENT, source="numpy")
@given(st.floats(50, 3000), st.floats(1, 170), st.floats(0.02, 0.3))
def test_arc_gain_and_stretch_by_fine_chords(radius, angle, ratio):
    """Curves added up chord by chord: the axis, the way round its corner from two tangents, the outside fibre."""
    turn = np.linspace(0, math.radians(angle), 4001)
    x, y = radius * np.sin(turn), radius * (1 - np.cos(turn))
    curve = float(np.hypot(np.diff(x), np.diff(y)).sum())
    corner = y[-1] / math.sin(math.radians(angle)) + x[-1] - y[-1] / math.tan(math.radians(angle))
    outer = ratio * radius
    out = np.array([x + outer / 2 * np.sin(turn), y - outer / 2 * np.cos(turn)])
    longer = float(np.hypot(*np.diff(out)).sum()) / curve - 1
    ours = bending.arc_length_mm(radius, angle)
    assert ours == as_worked(curve, "mm", "length of a bend on its axis, chord by chord", rel=1e-6)
    saved = bending.gain_mm(radius, angle) / radius
    assert saved == as_worked((corner - curve) / radius, "radii", "gain: tangents less curve", abs=1e-5)
    stretched = bending.stretch_ratio(outer, radius)
    assert stretched == as_worked(longer, "", "stretch: outside fibre over axis, less one", rel=1e-6)


def folded(distances, turns_deg):
    """Return the ends of straight parts laid one after another, each turned from the last."""
    heading = np.radians(np.cumsum([0.0, *turns_deg]))
    steps = np.array(distances)[:, None] * np.column_stack([np.cos(heading), np.sin(heading)])
    return np.cumsum(steps, axis=0)


OFFSET = ("geometry.bending.offset_spacing_mm", "geometry.bending.offset_shrink_mm")


@pytest.mark.outside(*OFFSET, source="worked-apart")
@pytest.mark.parametrize("angle", OFFSETS)
def test_offset_multiplier_and_shrink(angle):
    """One unit of depth: distance between marks, and what the reach loses; by another program, and by folding."""
    multiplier, shrink = OFFSETS[angle]
    spacing, lost = bending.offset_spacing_mm(1.0, angle), bending.offset_shrink_mm(1.0, angle)
    assert spacing == as_worked(float(multiplier), "", f"multiplier of an offset of {angle:g}°", abs=0.00050001)
    assert lost == as_worked(float(shrink), "", f"shrink of an offset of {angle:g}°, of its depth", abs=0.000050001)
    found = optimize.brentq(lambda d: folded([1.0, d, 1.0], [angle, -angle])[-1, 1] - 1.0, 0.5, 20)
    assert spacing == as_worked(found, "", f"multiplier at {angle:g}°, found by folding", "scipy", rel=1e-9)
    reach = folded([1.0, found, 1.0], [angle, -angle])[-1, 0]
    assert lost == as_worked(2.0 + found - reach, "", f"shrink at {angle:g}°, straight less folded", "scipy", rel=1e-9)


@pytest.mark.outside("geometry.bending.offset_spacing_mm", source="bend-practice")
@pytest.mark.parametrize(("angle", "taught"), {22.5: "2.6", 30: "2.0", 45: "1.4", 60: "1.2"}.items())
def test_offset_multipliers_as_benders_are_taught(angle, taught):
    """The multipliers of the trade, to the tenth that people remember."""
    assert bending.offset_spacing_mm(1.0, angle) == as_remembered(taught, "", f"multiplier at {angle:g}°, as taught")


@pytest.mark.outside("geometry.bending.offset_depth_mm", "geometry.bending.gain_mm", source="scipy")
@given(st.floats(100, 900), st.floats(50, 900), st.floats(5, 60))
def test_the_depth_of_an_offset_by_integrating_its_heading(radius, straight, angle):
    """Height gained along the tube: sine of the heading, which rises over one bend and falls over the next."""
    arc, top = radius * math.radians(angle), math.radians(angle)

    def rise(along):
        return math.sin(np.interp(along, [0, arc, arc + straight, 2 * arc + straight], [0, top, top, 0]))

    depth = integrate.quad(rise, 0, 2 * arc + straight, points=[arc, arc + straight], limit=200)[0]
    ours = bending.offset_depth_mm(arc + straight, bending.gain_mm(radius, angle), angle)
    assert ours == as_worked(depth, "mm", "depth between the level ends of an offset", rel=1e-6)


@pytest.mark.outside("geometry.bending.arrow_from_start_mm", source="numpy")
@pytest.mark.parametrize("key", RIGHT_ANGLES)
def test_the_back_of_a_right_angle_stands_the_take_up_beyond_the_arrow(key):
    """Farthest point of a bent tube's skin, ahead of the bend's start, taken from points of it; a take-up of 150 mm."""
    member, radius = MEMBERS[key], RIGHT_ANGLES[key][0] * INCH
    turn = np.linspace(0, math.pi / 2, 2001)
    back = np.max((radius + member.outer_mm / 2 * np.array([[-1], [1]])) * np.sin(turn))
    ours = bending.arrow_from_start_mm(radius, member.outer_mm, 150.0)
    assert ours == as_worked(back - 150.0, "mm", f"{MEMBERS[key].label}: arrow beyond the start of its bend", rel=1e-9)


def moment_of_strip(x):
    """Return the moment, in Fy t2 of width, that bends a strip of depth t to x = R Fy/(E t), fibre by fibre."""
    # in yields: strain y t/R over yield strain Fy/E, and no fibre carries more than its yield
    return 2 * integrate.quad(lambda y: min(y / x, 1.0) * y, 0, 0.5, points=[x] if x < 0.5 else None)[0]


@pytest.mark.outside(
    "geometry.bending.spring_ratio", "geometry.bending.sprung_radius_mm", "geometry.bending.bend_to_deg",
    source="scipy",
)  # fmt: skip
@given(st.floats(0.005, 0.48), st.floats(100, 3000), st.floats(10, 180))
def test_spring_back_is_that_of_a_strip_let_go(x, radius, angle):
    """A strip's moment, added up fibre by fibre, springs it open by M/EI: 1/R - 1/R' = M/(EI); its length stays."""
    unbends = 12 * moment_of_strip(x) * x / radius  # M/EI, for EI = E t3/12 of width and R = x E t/Fy
    rests = 1 / (1 / radius - unbends)
    ours = bending.spring_ratio(x, 1.0, 1.0, 1.0)
    assert ours == as_worked(radius / rests, "", "share of its bend that a strip keeps", abs=1e-9)
    assert bending.sprung_radius_mm(radius, ours) == as_worked(rests, "mm", "radius that it opens to", rel=1e-6)
    turned = math.degrees(radius * math.radians(angle) / rests)  # the same length on the wider circle
    bent_to = bending.bend_to_deg(turned, ours)
    assert bent_to == as_worked(angle, "°", "angle to bend to for the angle that it rests at", rel=1e-6)


@pytest.mark.outside("geometry.bending.spring_ratio", "geometry.bending.sprung_radius_mm", source="worked-apart")
@pytest.mark.parametrize(
    ("key", "radius", "rests", "half"),
    [
        ("emt-1", 146.05, 148.7, 0.05),
        ("emt-1", 600, 647, 0.5),
        ("emt-1", 1200, 1405, 0.5),
        ("emt-3/4", 1200, 1470, 0.5),
    ],
)
def test_spring_back_opens_a_bend_as_worked_independently(key, radius, rests, half):
    """Formula from memory at a yield of 240 MPa, radii worked by another program."""
    kept = bending.spring_ratio(radius, 240.0, 200e3, MEMBERS[key].outer_mm)
    ours = bending.sprung_radius_mm(radius, kept)
    assert ours == as_worked(rests, "mm", f"{MEMBERS[key].label} bent to {radius:g} mm rests at", abs=half)


@pytest.mark.outside("geometry.bending.elastic_radius_mm", source="scipy")
@pytest.mark.parametrize(("key", "metres"), [("emt-1/2", 7.47), ("emt-3/4", 9.76), ("emt-1", 12.31)])
def test_a_tube_stays_elastic_above_the_known_radius(key, metres):
    """Where the outside fibre, by chords, stretches by the yield strain of 240 MPa; a bend there keeps nothing."""
    outer = MEMBERS[key].outer_mm
    turn = np.linspace(0, 0.1, 101)

    def beyond_yield(radius):
        chords = [np.hypot(*np.diff([r * np.sin(turn), r * np.cos(turn)])).sum() for r in (radius + outer / 2, radius)]
        return chords[0] / chords[1] - 1 - 240 / 200e3

    elastic = bending.elastic_radius_mm(200e3, outer, 240.0)
    found = optimize.brentq(beyond_yield, 1e3, 1e5, xtol=1e-9)
    assert elastic == as_worked(found, "mm", f"{MEMBERS[key].label}: radius at which its skin just yields", rel=1e-6)
    assert elastic / 1000 == as_worked(
        metres,
        "m",
        f"{MEMBERS[key].label}: radius at which its skin just yields, worked apart",
        "worked-apart",
        abs=0.005,
    )
    assert bending.spring_ratio(elastic, 240.0, 200e3, outer) == pytest.approx(0, abs=1e-9)
