"""What the reader chose is kept exactly, whatever is shown, slid, typed or switched."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenframe import units
from gardenframe.builds import ALL
from gardenframe.builds.fields import Field
from gardenframe.teaching.values import NUMERIC, Values, help_of, name_of, scale

SLID = [field for kind in ALL.values() for field in kind.fields() if scale(field, "metric")]


def a_width(**rest) -> Field:
    """Return a length field with limits that are no whole inches."""
    facts = {"key": "width_m", "label": "Width", "kind": "length", "default": 1.83, "help": "Over all."}
    return Field(**(facts | {"low": 0.4, "high": 9.0, "step": 0.01, "step_us": 0.0127, "datum": "outside"} | rest))


@pytest.mark.parametrize("system", units.SYSTEMS)
@pytest.mark.parametrize("field", SLID, ids=lambda field: field.key)
def test_every_slider_runs_in_whole_steps_inside_its_limits(field, system):
    """Both ends are within the field's limits and less than a step off, and every whole step is its own place."""
    found = scale(field, system)
    for end in (found.low, found.high):
        assert found.place(found.value(end)) == end
        field.check(min(max(found.value(end), field.low), field.high))
        assert found.value(end) == pytest.approx(min(max(found.value(end), field.low), field.high), abs=1e-6)
    assert found.low * found.step - units.in_unit(field.low, found.unit) < found.step
    assert units.in_unit(field.high, found.unit) - found.high * found.step < found.step


def test_a_slider_lands_on_the_number_that_it_shows():
    """Steps of 10 mm and of half an inch, worked by hand: 1830 mm is 1.83 m, 72.5 in is 1.8415 m."""
    assert scale(a_width(), "metric").value(183) == 1.83
    assert scale(a_width(), "us").value(145) == pytest.approx(1.8415, abs=1e-12)
    assert scale(a_width(), "us").low == 32  # 16 in: 0.4 m is 15.75 in


@given(st.lists(st.sampled_from(["metric", "us"]), max_size=6), st.floats(0.4, 9.0), st.booleans())
def test_switching_units_never_changes_a_value(switches, value, look):
    """Any sequence of switches, with everything shown in between, leaves the last bit as it was."""
    values = Values([a_width()], {})
    values.set("width_m", value)
    for system in switches:
        values.system = system
        if look:
            values.written("width_m"), values.place("width_m")
    assert values.kept["width_m"] == value


@given(st.integers(0, 11), st.integers(1, 14), st.integers(0, 15))
def test_feet_and_inches_are_kept_to_the_definition(inches, feet, sixteenths):
    """What is typed as feet, inches and sixteenths is kept as 0.3048 m, 0.0254 m and 0.0254/16 m say."""
    values = Values([a_width()], {})
    values.type("width_m", f"{feet} ft {inches} {sixteenths}/16 in")
    meant = feet * 0.3048 + (inches + sixteenths / 16) * 0.0254
    assert values.kept["width_m"] == pytest.approx(meant, abs=1e-12) or meant < 0.4 or meant > 9.0


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("six feet", "Width: got 'six feet', needs a length such as 1.8 m"),
        ("", "Width: got nothing, needs a length"),
        ("12 kg", "Width: got '12 kg'"),
        ("-1 m", "Width: got -1000 mm, needs 400 mm to 9000 mm."),
        ("90 m", "Width: got 90000 mm, needs 400 mm to 9000 mm."),
        ("nan", "Width: got 'nan'"),
    ],
)
def test_what_cannot_be_used_is_told_and_the_value_stays(text, sentence):
    """One sentence for each, and the last good value is still there."""
    values = Values([a_width()], {})
    values.type("width_m", text)
    assert values.errors()["width_m"].startswith(sentence)
    assert values.kept["width_m"] == 1.83
    values.type("width_m", "2 m")
    assert not values.errors()
    assert values.kept["width_m"] == 2.0


def test_a_hidden_field_says_nothing():
    """An error behind a choice that hides its field comes back with the field."""
    base = Field(
        key="base", label="Base", kind="choice", default="bed", help="", choices=(("bed", "bed"), ("stake", "stake"))
    )
    values = Values([base, a_width(when=(("base", ("bed",)),))], {})
    values.type("width_m", "no")
    values.set("base", "stake")
    assert values.errors() == {}
    values.set("base", "bed")
    assert "width_m" in values.errors()


def test_a_label_says_what_a_size_is_measured_to_and_help_its_limits():
    """Outside stands in the label; the limits stand in the reader's units in the help."""
    assert name_of(a_width()) == "Width (outside)"
    assert help_of(a_width(), "metric") == "Over all. 400 mm to 9000 mm."
    assert help_of(a_width(), "us") == "Over all. 1 ft 3 3/4 in to 29 ft 6 5/16 in."


def test_a_field_without_limits_has_no_slider():
    """A field that may be any number is typed only."""
    assert scale(a_width(high=math.inf), "metric") is None
    assert "length" in NUMERIC
