"""Sections against printed rows of a shapes database, against an integral, and against what must be true."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from printed import as_printed, as_remembered, as_worked
from scipy import integrate

from gardenframe.materials import sections

TUBE = [
    f"materials.sections.tube_{name}"
    for name in (
        "area_mm2", "second_moment_mm4", "section_modulus_mm3", "gyration_mm", "plastic_modulus_mm3", "torsion_mm4",
    )
]  # fmt: skip
RECTANGLE = [
    f"materials.sections.rectangle_{name}"
    for name in ("area_mm2", "second_moment_mm4", "section_modulus_mm3", "gyration_mm", "plastic_modulus_mm3")
]
ROD = [name.replace("tube_", "rod_") for name in TUBE]

# aisc-shapes, as transcribed openly: outside diameter, design wall, then A, I, S, r, Z, J in inches as printed.
# Left out: A of Pipe 1 STD and Pipe 2 STD, which does not follow from the design wall; I and J of Pipe 1/2 STD, where
# the printed J is twice the printed I, already rounded.
AISC = {
    "Pipe 1/2 STD": (0.840, 0.101, "0.234", None, "0.0388", "0.264", "0.0555", None),
    "Pipe 3/4 STD": (1.050, 0.105, "0.312", "0.035", "0.0671", "0.336", "0.0942", "0.070"),
    "Pipe 1 STD": (1.315, 0.124, None, "0.083", "0.126", "0.423", "0.177", "0.166"),
    "Pipe 1-1/4 STD": (1.660, 0.130, "0.625", "0.184", "0.222", "0.543", "0.305", "0.368"),
    "Pipe 1-1/2 STD": (1.900, 0.135, "0.749", "0.293", "0.309", "0.626", "0.421", "0.586"),
    "Pipe 2 STD": (2.375, 0.143, None, "0.627", "0.528", "0.791", "0.713", "1.25"),
    "HSS1.900x0.120": (1.900, 0.111, "0.624", "0.251", "0.264", "0.634", "0.356", "0.501"),
    "HSS2.375x0.125": (2.375, 0.116, "0.823", "0.527", "0.443", "0.800", "0.592", "1.05"),
}
COLUMNS = (
    sections.tube_area_mm2,
    sections.tube_second_moment_mm4,
    sections.tube_section_modulus_mm3,
    sections.tube_gyration_mm,
    sections.tube_plastic_modulus_mm3,
    sections.tube_torsion_mm4,
)
SAID = (
    ("in2", "area"), ("in4", "second moment"), ("in3", "section modulus"), ("in", "radius of gyration"),
    ("in3", "plastic modulus"), ("in4", "torsion constant"),
)  # fmt: skip
# outside diameter, nominal wall [in], printed lb/ft
AISC_WEIGHT = {
    "Pipe 1/2 STD": (0.840, 0.109, "0.85"),
    "Pipe 3/4 STD": (1.050, 0.113, "1.13"),
    "Pipe 1 STD": (1.315, 0.133, "1.68"),
    "Pipe 1-1/4 STD": (1.660, 0.140, "2.27"),
    "Pipe 1-1/2 STD": (1.900, 0.145, "2.72"),
    "Pipe 2 STD": (2.375, 0.154, "3.66"),
    "HSS2.375x0.125": (2.375, 0.125, "3.01"),
}


@pytest.mark.outside(*TUBE, source="aisc-shapes")
@pytest.mark.parametrize("shape", AISC)
def test_tube_matches_the_printed_row(shape):
    """Every property agrees to each digit printed; inches in, inches out, since the formulas are consistent."""
    outer, wall, *printed = AISC[shape]
    for formula, text, (unit, what) in zip(COLUMNS, printed, SAID, strict=True):
        ours = formula(outer, wall)
        if text is not None:
            assert ours == as_printed(text, unit, f"{shape}: {what}"), formula.__name__


@pytest.mark.outside("materials.sections.mass_kg_per_m", "materials.sections.tube_area_mm2", source="aisc-shapes")
@pytest.mark.parametrize("shape", AISC_WEIGHT)
def test_weight_matches_the_printed_row(shape):
    """Weight per foot follows from the nominal wall and steel at 490 lb/ft3, which is 7849 kg/m3 (from memory)."""
    density_kg_per_m3 = 490 * 0.45359237 / 0.3048**3
    outer_in, wall_in, printed = AISC_WEIGHT[shape]
    area_m2 = sections.tube_area_mm2(outer_in * 25.4, wall_in * 25.4) * 1e-6
    pounds = sections.mass_kg_per_m(area_m2, density_kg_per_m3) * 0.3048 / 0.45359237
    assert pounds == as_printed(printed, "lb/ft", f"{shape}: weight")


def chord(diameter, y):
    """Return how wide a disc is at a height above its middle."""
    return 2 * math.sqrt(max((diameter / 2) ** 2 - y**2, 0.0))


def summed(width, depth, power, inner=0.0):
    """Return the integral of y^power over the upper half of a section from how wide it is at each height."""
    stops = [inner / 2] if inner else None
    return integrate.quad(lambda y: width(y) * y**power, 0, depth / 2, points=stops, limit=400)[0]


def properties(width, depth, inner=0.0):
    """Return A, I, S, Z and r of a section that is alike on both sides of its axes, from integrals alone."""
    area, first, second = (2 * summed(width, depth, power, inner) for power in (0, 1, 2))
    return area, second, second / (depth / 2), first, math.sqrt(second / area)


NAMES = (("mm2", "area"), ("mm4", "second moment"), ("mm3", "section modulus"), ("mm3", "plastic modulus"),
         ("mm", "radius of gyration"))  # fmt: skip


def assert_integrals(ours, worked, said):
    """Hold five properties against their integrals."""
    for got, number, (unit, what) in zip(ours, worked, NAMES, strict=True):
        assert got == as_worked(number, unit, f"{said}: {what} by integration", rel=1e-6)


@pytest.mark.outside(*TUBE, source="scipy")
@pytest.mark.parametrize(("outer", "wall"), [(17.9324, 1.0668), (29.5402, 1.4478), (55.8038, 1.651)])
def test_tube_matches_integrals_over_its_ring(outer, wall):
    """Width of the ring at each height, integrated; torsion as the integral of r2 round the ring."""
    bore, said = outer - 2 * wall, f"tube of {outer:.1f} mm"
    worked = properties(lambda y: chord(outer, y) - chord(bore, y), outer, bore)
    area, moment, modulus, gyration, plastic, torsion = (formula(outer, wall) for formula in COLUMNS)
    assert_integrals((area, moment, modulus, plastic, gyration), worked, said)
    around = integrate.quad(lambda r: 2 * math.pi * r**3, bore / 2, outer / 2)[0]
    assert torsion == as_worked(around, "mm4", f"{said}: torsion constant by integration")


@pytest.mark.outside(*ROD, source="scipy")
@pytest.mark.parametrize("outer", [2.032, 10.0, 12.0])
def test_rod_matches_integrals_over_its_disc(outer):
    """Width of the disc at each height, integrated; torsion as the integral of r2."""
    said, of = f"rod of {outer:g} mm", sections
    ours = (of.rod_area_mm2(outer), of.rod_second_moment_mm4(outer), of.rod_section_modulus_mm3(outer),
            of.rod_plastic_modulus_mm3(outer), of.rod_gyration_mm(outer))  # fmt: skip
    assert_integrals(ours, properties(lambda y: chord(outer, y), outer), said)
    around = integrate.quad(lambda r: 2 * math.pi * r**3, 0, outer / 2)[0]
    assert sections.rod_torsion_mm4(outer) == as_worked(around, "mm4", f"{said}: torsion constant by integration")


@pytest.mark.outside(*RECTANGLE, source="scipy")
@pytest.mark.parametrize(("width", "depth"), [(38.1, 88.9), (139.7, 38.1)], ids=["2x4 upright", "2x6 flat"])
def test_rectangle_matches_integrals_over_its_face(width, depth):
    """Timber on edge and on the flat."""
    of, said = sections, f"timber {width:g} by {depth:g} mm"
    ours = (of.rectangle_area_mm2(width, depth), of.rectangle_second_moment_mm4(width, depth),
            of.rectangle_section_modulus_mm3(width, depth), of.rectangle_plastic_modulus_mm3(width, depth),
            of.rectangle_gyration_mm(depth))  # fmt: skip
    assert_integrals(ours, properties(lambda y: width, depth), said)


# ps20 sizes: S and I of a 2x4, 2x6 and 4x4 in inches, recomputed independently (I of 2x2 likewise)
TIMBER = {
    (1.5, 3.5): ("3.0625", "5.359"),
    (1.5, 5.5): ("7.5625", "20.797"),
    (3.5, 3.5): ("7.146", "12.505"),
    (1.5, 1.5): (None, "0.4219"),
}


@pytest.mark.outside("materials.sections.rectangle_second_moment_mm4", source="worked-apart")
@pytest.mark.parametrize("size", TIMBER, ids=str)
def test_rectangle_matches_known_timber_sizes(size):
    """Section modulus and second moment of dressed timber, worked by another program to the digits kept here."""
    (modulus, moment), name = TIMBER[size], f"timber {size[0]:g} x {size[1]:g} in"
    places = 10.0 ** -len(moment.partition(".")[2])
    second = sections.rectangle_second_moment_mm4(*size)
    assert second == as_worked(float(moment), "in4", f"{name}: second moment", abs=places / 2)
    if modulus:
        places = 10.0 ** -len(modulus.partition(".")[2])
        elastic = sections.rectangle_section_modulus_mm3(*size)
        assert elastic == as_worked(float(modulus), "in3", f"{name}: section modulus", abs=places / 2)


# J/(a^3 c) for long over short side, as handbooks of torsion tabulate it (from memory)
BETA = {1.0: "0.141", 1.5: "0.196", 2.0: "0.229", 3.0: "0.263", 4.0: "0.281", 10.0: "0.312"}


@pytest.mark.outside("materials.sections.rectangle_torsion_mm4", source="rectangle-torsion")
@pytest.mark.parametrize(("ratio", "remembered"), BETA.items())
def test_torsion_of_a_rectangle_as_handbooks_tabulate_it(ratio, remembered):
    """Share of a^3 c for a bar so much wider than thick."""
    share = sections.rectangle_torsion_mm4(1.0, ratio) / ratio
    assert share == as_remembered(remembered, "", f"torsion share of a bar {ratio:g} times as wide as thick")


def torsion_series(short: float, long: float) -> float:
    """Return Saint-Venant's series for the torsion constant of a rectangle: a second method."""
    odd = np.arange(1, 200, 2)
    total = float(np.sum(np.tanh(odd * math.pi * long / (2 * short)) / odd**5))
    return short**3 * long / 3 * (1 - 192 * short / (math.pi**5 * long) * total)


@pytest.mark.outside("materials.sections.rectangle_torsion_mm4", source="second-method")
@pytest.mark.parametrize("ratio", [1, 1.2, 1.5, 2, 7 / 3, 11 / 3, 10, 100], ids="{:.3g}".format)
def test_torsion_of_a_rectangle_is_within_a_percent_of_the_series(ratio):
    """The short formula holds from a square to a strip."""
    series, said = torsion_series(38.1, 38.1 * ratio), f"torsion of 38.1 mm by {ratio:.3g} times as much, by the series"
    assert sections.rectangle_torsion_mm4(38.1, 38.1 * ratio) == as_worked(series, "mm4", said, rel=0.01)


@given(st.floats(10, 120), st.floats(0.02, 0.48))
def test_more_wall_is_stiffer_but_never_beats_the_solid_rod(outer, ratio):
    """Order holds over all sizes a reader can enter, and the properties of one tube agree with each other."""
    wall = ratio * outer
    thinner = sections.tube_second_moment_mm4(outer, 0.9 * wall)
    moment = sections.tube_second_moment_mm4(outer, wall)
    assert thinner < moment < sections.rod_second_moment_mm4(outer)
    assert sections.tube_torsion_mm4(outer, wall) == pytest.approx(2 * moment)
    area = sections.tube_area_mm2(outer, wall)
    assert sections.tube_gyration_mm(outer, wall) == pytest.approx((moment / area) ** 0.5)
    assert sections.tube_section_modulus_mm3(outer, wall) < sections.tube_plastic_modulus_mm3(outer, wall)


@given(st.floats(0.5, 60))
def test_a_tube_whose_wall_closes_is_a_rod(outer):
    """At the limit of the wall every property of the tube is that of the rod."""
    half = outer / 2
    assert sections.tube_area_mm2(outer, half) == pytest.approx(sections.rod_area_mm2(outer))
    assert sections.tube_second_moment_mm4(outer, half) == pytest.approx(sections.rod_second_moment_mm4(outer))
    assert sections.tube_section_modulus_mm3(outer, half) == pytest.approx(sections.rod_section_modulus_mm3(outer))
    assert sections.tube_plastic_modulus_mm3(outer, half) == pytest.approx(sections.rod_plastic_modulus_mm3(outer))
    assert sections.tube_torsion_mm4(outer, half) == pytest.approx(sections.rod_torsion_mm4(outer))
    assert sections.tube_gyration_mm(outer, half) == pytest.approx(sections.rod_gyration_mm(outer))


@given(st.floats(5, 200), st.floats(1, 10))
def test_a_rectangle_agrees_with_itself(width, ratio):
    """Gyration, modulus and second moment of one rectangle fit together; the shape factor is 1.5."""
    depth = width * ratio
    moment, area = sections.rectangle_second_moment_mm4(width, depth), sections.rectangle_area_mm2(width, depth)
    assert sections.rectangle_gyration_mm(depth) == pytest.approx((moment / area) ** 0.5)
    assert sections.rectangle_section_modulus_mm3(width, depth) == pytest.approx(moment / (depth / 2))
    plastic = sections.rectangle_plastic_modulus_mm3(width, depth)
    assert plastic == pytest.approx(1.5 * sections.rectangle_section_modulus_mm3(width, depth))
