"""What people type and what they read: exact factors against pint, every way to type a length, and round trips."""

import math
import re
import subprocess
import sys

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from printed import as_remembered, as_worked

from gardenframe import typed, units
from gardenframe.errors import InputError
from gardenframe.units import Q, in_unit, parse, tape_mm, tape_sixteenths, unit_label, write

# our labels in pint's words, where the two differ
PINT = {
    "°": "deg", "°C": "degC", "°F": "degF", "K": "kelvin", "mm²": "mm**2", "m²": "m**2", "in²": "in**2", "ft²": "ft**2",
    "m³": "m**3", "ft³": "ft**3", "yd³": "yd**3", "gal": "gallon", "t": "tonne", "kn": "knot", "km/h": "km/hour",
    "mph": "mile/hour", "psf": "lbf/ft**2", "N m": "N*m", "lbf ft": "lbf*ft", "kg/m²": "kg/m**2", "lb/ft²": "lb/ft**2",
    "kg/m³": "kg/m**3", "lb/ft³": "lb/ft**3", "L/min": "liter/minute", "L/h": "liter/hour", "gal/min": "gallon/minute",
    "L": "liter", "arcmin": "arcminute", "arcsec": "arcsecond", "%": "percent",
}  # fmt: skip
KEPT = {
    "length": "m", "mass": "kg", "force": "N", "pressure": "Pa", "stress": "Pa", "speed": "m/s", "angle": "deg",
    "temperature": "degC", "area": "m**2", "volume": "m**3", "line load": "N/m", "moment": "N*m", "share": "",
    "mass per length": "kg/m", "mass per area": "kg/m**2", "density": "kg/m**3", "flow": "m**3/s", "power": "W",
    "energy": "J",
}  # fmt: skip
MEASURED = [label for label, unit in units.UNITS.items() if unit.kind in KEPT]
BOTH = pytest.mark.parametrize("system", units.SYSTEMS)


def plain(unit):
    """Return a unit in pint's words as a page shows it."""
    return unit.replace("**", "").replace("*", " ").replace("degC", "°C").replace("deg", "°")


@pytest.mark.outside("units", source="pint")
@pytest.mark.parametrize("kind", KEPT)
def test_every_factor_agrees_with_pint(kind):
    """A unit is as large, and has its zero where, an independent library has it; there and back."""
    numbers = [-40.0, 0.0, 3.7]
    for label in (label for label in MEASURED if units.UNITS[label].kind == kind):
        kept = [Q(number, PINT.get(label, label)).to(KEPT[kind]).magnitude for number in numbers]
        ours = [units.from_unit(number, label) for number in numbers]
        said = as_worked(kept, plain(KEPT[kind]), f"{kind}: -40, 0 and 3.7 of every unit of it", rel=1e-12, abs=1e-12)
        assert ours == said, label
        assert [in_unit(each, label) for each in kept] == pytest.approx(numbers, rel=1e-12, abs=1e-12)


# source: NIST SP 811 appendix B, from memory: one unit in the kept unit, as printed
REMEMBERED = {
    "in": "0.0254", "ft": "0.3048", "yd": "0.9144", "lb": "0.45359237", "oz": "0.02834952", "lbf": "4.448222",
    "psf": "47.88026", "psi": "6894.757", "mph": "0.44704", "gal": "0.003785412", "ft²": "0.09290304",
    "lbf/ft": "14.59390", "lbf ft": "1.355818", "lb/ft³": "16.01846", "kn": "0.5144444", "kgf": "9.80665",
}  # fmt: skip


@pytest.mark.outside("units", source="nist-sp-811")
@pytest.mark.parametrize(("label", "printed"), REMEMBERED.items())
def test_factors_as_remembered_from_the_tables(label, printed):
    """The factors are those that conversion tables print; one unit of the last digit, nothing wider."""
    assert units.from_unit(1, label) == as_remembered(printed, plain(KEPT[units.UNITS[label].kind]), f"one {label}")
    assert units.from_unit(1, label) == pytest.approx(float(printed), rel=1e-6)


# the right side of each is arithmetic on the definition of the inch and the foot
SAME_LENGTH = [
    "6 ft 2 1/2 in", "6'2.5\"", "6' 2-1/2\"", "6'-2 1/2\"", "6′ 2½″", "6’ 2 ½”", "6 ft 2½", "74 1/2 in", "74.5\"",
    "74,5 in", "74-1/2 in", "6ft2.5in", "6 FT 2.5 IN", "6 feet 2.5 inches", "6 ft, 2 1/2 in", "1.8923 m", "1,8923 m",
    "189.23 cm", "1 m 89.23 cm", "1892.3mm", "1 892.3 mm", "1,892.3 mm", "1.892,3 mm", "+1892.3 mm", " 1892.3\u00a0mm ",
    "6' 2 1⁄2''", "1.8923e3 mm",
]  # fmt: skip


@pytest.mark.outside("units", "typed", source="pint")
@BOTH
def test_one_length_typed_in_many_ways(system):
    """However 6 ft 2 1/2 in is typed, it is (6 x 12 + 2.5) x 25.4 mm."""
    worked = (Q(6, "foot") + Q(2.5, "inch")).to("m").magnitude
    assert worked == pytest.approx(74.5 * 25.4 / 1000, rel=1e-12)
    for text in SAME_LENGTH:
        ours = parse(text, "length", system)
        assert ours == as_worked(worked, "m", "6 ft 2 1/2 in, typed in many ways", rel=1e-12), text


@pytest.mark.parametrize(("mark", "words"), typed.FRACTIONS.items())
def test_every_fraction_sign_is_the_number_it_shows(mark, words):
    """The sign and its own Unicode value agree, alone and after a whole number."""
    import unicodedata

    top, bottom = words.split("/")
    assert unicodedata.numeric(mark) == pytest.approx(int(top) / int(bottom), abs=1e-7)
    assert parse(f"3{mark} in", "length", "us") == pytest.approx((3 + unicodedata.numeric(mark)) * 0.0254, abs=1e-8)


OTHERS = [
    ("90 mph", "speed", 90 * 1609.344 / 3600), ("40 m/s", "speed", 40), ("72 km/h", "speed", 20),
    ("20 psf", "pressure", 20 * 4.4482216152605 / 0.3048**2), ("1.2 kPa", "pressure", 1200),
    ("205 MPa", "stress", 205e6),
    ("15 kg", "mass", 15), ("30 lb", "mass", 30 * 0.45359237), ("5 lb 4 oz", "mass", 5.25 * 0.45359237),
    ("30 lb", "force", 30 * 4.4482216152605), ("45°", "angle", 45), ("45 deg", "angle", 45),
    ("41° 52' 30\"", "angle", 41.875),
    ("30 %", "share", 0.3), ("30", "share", 0.3), ("-5 °C", "temperature", -5), ("−5", "temperature", -5),
    ("50 °F", "temperature", 10), ("$12.50", "money", 12.5), ("12,50", "money", 12.5), ("$1,234.50", "money", 1234.5),
    ("-$3", "money", -3), ("3", "count", 3), ("1,200", "count", 1200), ("27 sq ft", "area", 27 * 0.3048**2),
    ("2 m²", "area", 2), ("2 m^2", "area", 2), ("200 L", "volume", 0.2), ("1 yd³", "volume", 0.9144**3),
    ("1,5", "number", 1.5),
]  # fmt: skip


@pytest.mark.outside("units", "typed", source="second-method")
@pytest.mark.parametrize("kind", dict.fromkeys(kind for _, kind, _ in OTHERS))
def test_other_kinds_are_read(kind):
    """Each kind reads the units that people type for it; what they are worth is written out above."""
    for text, of, kept in OTHERS:
        if of == kind:
            said = as_worked(kept, plain(KEPT.get(kind, "")), f"{kind}, as people type it", rel=1e-12)
            assert parse(text, kind, "metric") == said, text


@pytest.mark.parametrize(
    ("text", "system", "unit", "kept"),
    [
        ("1890", "metric", None, 1.89),
        ("1.89", "metric", "m", 1.89),
        ("74.5", "us", None, 1.8923),
        ("6", "us", "ft", 1.8288),
    ],
)
def test_a_bare_number_is_in_the_fields_unit(text, system, unit, kept):
    """No unit typed: the field's own, else mm or inches."""
    assert parse(text, "length", system, unit) == pytest.approx(kept, rel=1e-12)
    assert parse(float(text), "length", system, unit) == pytest.approx(kept, rel=1e-12)


NEEDS_LENGTH = "needs a length such as 1.8 m, 189 cm or 6 ft 2 1/2 in."
REFUSED = [
    ("", "length", f"height: got nothing, {NEEDS_LENGTH}"),
    (None, "length", f"height: got nothing, {NEEDS_LENGTH}"),
    (True, "length", f"height: got True, {NEEDS_LENGTH}"),
    (math.nan, "length", f"height: got nan, {NEEDS_LENGTH}"),
    (math.inf, "length", f"height: got inf, {NEEDS_LENGTH}"),
    ("nan", "length", f"height: got 'nan', {NEEDS_LENGTH}"),
    ("inf m", "length", f"height: got 'inf m', {NEEDS_LENGTH}"),
    ("1e999 m", "length", f"height: got '1e999 m', {NEEDS_LENGTH}"),
    ("tall", "length", f"height: got 'tall', {NEEDS_LENGTH}"),
    ("=1+1", "length", f"height: got '=1+1', {NEEDS_LENGTH}"),
    ("2*3", "length", f"height: got '2*3', {NEEDS_LENGTH}"),
    ("1..2 m", "length", f"height: got '1..2 m', {NEEDS_LENGTH}"),
    ("--3 m", "length", f"height: got '--3 m', {NEEDS_LENGTH}"),
    ("5 kg", "length", f"height: got '5 kg', {NEEDS_LENGTH} kg is the unit of a mass."),
    ("6 m2", "length", f"height: got '6 m2', {NEEDS_LENGTH} m2 is the unit of an area."),
    ("5 furlong", "length", f"height: got '5 furlong', {NEEDS_LENGTH} The unit furlong is not known here."),
    ("1,234 mm", "length", f"height: got '1,234 mm', {NEEDS_LENGTH} "
     "The comma can be read in two ways: type 1.234 or 1234."),
    ("1/0 in", "length", f"height: got '1/0 in', {NEEDS_LENGTH} Type a fraction such as 1/2."),
    ("2 5/4 in", "length", f"height: got '2 5/4 in', {NEEDS_LENGTH} Type a fraction such as 1/2."),
    ("6 ft 14 in", "length", f"height: got '6 ft 14 in', {NEEDS_LENGTH} After ft, type less than 1 ft in in."),
    ("1'234", "length", f'height: got "1\'234", {NEEDS_LENGTH} After ft, type less than 1 ft in in.'),
    ("2 in 6 ft", "length", f"height: got '2 in 6 ft', {NEEDS_LENGTH} ft cannot follow in."),
    ("1.5 ft 2 in", "length", f"height: got '1.5 ft 2 in', {NEEDS_LENGTH} Type a whole number of ft before the in."),
    ("1 m 89", "length", f"height: got '1 m 89', {NEEDS_LENGTH} Type the unit of the last number too."),
    ("3.5", "count", "height: got '3.5', needs a whole number such as 3. Type a whole number."),
    ("€5", "money", "height: got '€5', needs an amount such as 12.50. Amounts here are in USD."),
    ("1.234", "money", "height: got '1.234', needs an amount such as 12.50. "
     "The point can be read in two ways: type 1.2340 or 1234."),
    ("5 kg", "force", "height: got '5 kg', needs a force such as 200 N or 45 lbf. kg is the unit of a mass."),
]  # fmt: skip


@pytest.mark.parametrize(("text", "kind", "sentence"), REFUSED, ids=lambda value: str(value)[:14])
def test_what_cannot_be_read_is_refused_in_one_sentence(text, kind, sentence):
    """The sentence names the field, what came, and an example of what to type."""
    with pytest.raises(InputError, match="^" + re.escape(sentence) + "$"):
        parse(text, kind, "us", name="height")


@given(st.text(alphabet="0123456789 .,/'\"-+e½ftinmk*=g", max_size=14), st.sampled_from(units.SYSTEMS))
def test_any_text_is_a_finite_length_or_an_input_error(text, system):
    """Nothing that can be typed raises anything else."""
    try:
        value = parse(text, "length", system)
    except InputError:
        return
    assert math.isfinite(value)


@given(st.sampled_from(sorted(units.USUAL)), st.sampled_from(units.SYSTEMS), st.floats(-50_000, 50_000))
def test_what_is_written_reads_back_within_its_rounding(kind, system, number):
    """Round trip over every kind in both systems: half the last digit shown, or half a sixteenth."""
    label = units.usual_unit(kind, system)
    kept = number if kind == "money" else units.from_unit(round(number) if kind == "count" else number, label)
    again = parse(write(kept, kind, system), kind, system)
    if label == "ft-in":
        half = 0.0254 / 32
    elif kind in ("money", "count"):
        half = 0.005
    else:
        half = 0.5 * 10.0 ** -units.UNITS[label].digits * units.UNITS[label].factor
    assert abs(again - kept) <= half * (1 + 1e-6) + 1e-12


@given(st.sampled_from(MEASURED), st.sampled_from(units.SYSTEMS), st.floats(-5000, 5000), st.integers(1, 5))
def test_every_unit_reads_back_what_it_writes(label, system, number, digits):
    """Each unit of the table can be named by a field and typed again as it was written."""
    kind = units.UNITS[label].kind
    kept = units.from_unit(number, label)
    again = parse(write(kept, kind, system, label, digits), kind, system, label)
    assert in_unit(again, label) == pytest.approx(number, rel=1e-9, abs=0.5 * 10.0**-digits * (1 + 1e-6))


@given(st.integers(-40_000, 40_000), st.booleans())
def test_tape_marks_survive_writing_exactly(sixteenths, feet):
    """Feet, inches and sixteenths are whole numbers: not one mark is lost."""
    text = units.feet_inches(sixteenths, feet)
    assert tape_sixteenths(1000 * parse(text, "length", "us")) == sixteenths
    assert not feet or "12 in" not in text


@given(st.floats(0, 20_000))
def test_a_tape_is_never_more_than_half_a_mark_off(length_mm):
    """Whole millimetres and sixteenths are the nearest ones."""
    assert abs(tape_mm(length_mm) - length_mm) <= 0.5 + 1e-9
    assert abs(tape_sixteenths(length_mm) * 25.4 / 16 - length_mm) <= 25.4 / 32 + 1e-9


@given(st.floats(0.1, 9999), st.sampled_from(["m", "ft", "cm"]))
def test_a_decimal_comma_is_a_decimal_point(number, unit):
    """Both marks give the same length wherever the comma cannot part thousands."""
    text = f"{number:.2f} {unit}"
    assert parse(text.replace(".", ","), "length", "metric") == parse(text, "length", "metric")


@given(st.integers(1, 999), st.integers(0, 999))
def test_a_comma_before_three_digits_is_never_guessed(left, right):
    """1,234 mm may be a metre or a millimetre: refused, with both readings named."""
    assume(not str(left).startswith("0"))
    with pytest.raises(InputError, match="can be read in two ways: type"):
        parse(f"{left},{right:03d} mm", "length", "metric")


def test_written_forms():
    """One readable form for each kind, the same everywhere."""
    assert write(1.8923, "length", "us") == "6 ft 2 1/2 in"
    assert write(1.8923, "length", "us", "in") == "74 1/2 in"
    assert write(1.8288, "length", "us") == "6 ft 0 in"
    assert write(-0.0127, "length", "us") == "-1/2 in"
    assert write(0.0, "length", "us") == "0 in"
    assert write(12 * 0.0254 - 1e-5, "length", "us") == "1 ft 0 in"
    assert write(1.8923, "length", "metric") == "1892 mm"
    assert write(1.8923, "length", "metric", "m", 2) == "1.89 m"
    assert write(-0.0001, "length", "metric") == "0 mm"
    assert write(45.0, "angle", "us") == "45°"
    assert write(22.5, "angle", "us") == "22.5°"
    assert write(0.3, "share", "metric") == "30 %"
    assert write(1234.5, "money", "us") == "$1,234.50"
    assert write(-0.001, "money", "us") == "$0.00"
    assert write(12.5, "money", "metric", "EUR") == "€12.50"
    assert write(12.5, "money", "metric", "CHF") == "12.50 CHF"
    assert write(3, "count", "us") == "3"
    assert write(math.nan, "length", "us") == "none"


@pytest.mark.outside("units", source="worked-apart")
def test_psf_and_mph_of_a_design_wind():
    """115 mph is 51.41 m/s, and its pressure in exposure C, 1170.5 Pa, is 24.46 psf (by another program)."""
    assert in_unit(1170.5, "psf") == as_worked(24.46, "psf", "pressure of 115 mph in exposure C", abs=0.015)
    assert in_unit(51.41, "mph") == as_worked(115, "mph", "51.41 m/s", abs=0.005)


def test_labels_and_wrong_names():
    """A heading says its unit; a program's slip in a kind, system or unit is an error, not a number."""
    assert [unit_label("length", s) for s in units.SYSTEMS] == ["mm", "ft in"]
    assert unit_label("share", "us") == "%"
    with pytest.raises(ValueError, match=r"^system: got 'imperial', needs 'metric' or 'us'"):
        unit_label("length", "imperial")
    with pytest.raises(ValueError, match=r"^kind: got 'colour', needs one of length"):
        unit_label("colour", "us")
    with pytest.raises(ValueError, match=r"^unit: got 'kg', needs a unit of length"):
        write(1.0, "length", "us", "kg")
    with pytest.raises(AttributeError, match="has no attribute 'furlong'"):
        _ = units.furlong
    assert set(typed.EXAMPLES) == set(units.USUAL)


def test_importing_units_does_not_import_pint():
    """The registry is made at first use, so that the package starts fast."""
    code = "import sys, gardenframe.units as u; assert 'pint' not in sys.modules; u.Q; assert 'pint' in sys.modules"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
