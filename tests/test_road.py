"""The road over everything that a reader can choose: a plan with all of it read, or one sentence."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from whole_plan import READ, any_value, assert_cut_from_sticks, assert_in_balance

import gardenframe
from gardenframe.builds import ALL, Trellis
from gardenframe.builds.fields import FieldError
from gardenframe.errors import GardenframeError


def any_trellis():
    """Return a strategy over every field of a trellis; counts to what fits most sizes, so that most are not refused."""
    few = {"bays": st.integers(1, 6), "mid_rails": st.integers(0, 3)}
    return st.fixed_dictionaries({field.key: any_value(field) for field in Trellis.fields()} | few)


@settings(max_examples=150, deadline=None)
@given(any_trellis(), st.booleans())
def test_every_choice_gives_a_plan_or_a_sentence(values, live):
    """All fields random: no crash; what is cut is what the pieces add up to; the bill adds up."""
    said = ""
    try:
        plan = gardenframe.plan(Trellis(**values), live=live)
        for name in READ:
            getattr(plan, name)
        plan.worked("us")
    except GardenframeError as refused:
        said = str(refused)
    if said:
        assert said.rstrip().endswith((".", ")"))
        return
    assert_cut_from_sticks(plan)
    assert plan.bill["cost"].sum() == pytest.approx(plan.cost.usual)
    assert (plan.steps["minutes"] > 0).all()
    assert_in_balance(plan)


@pytest.mark.parametrize(
    "fields",
    [
        {
            "form": "A-frame",
            "height_m": 0.5,
            "width_m": 1.0,
            "bays": 1,
            "mid_rails": 0,
            "braces": True,
            "spread_m": 1.0,
        },
        {"form": "A-frame", "height_m": 0.4, "width_m": 1.0, "bays": 1, "mid_rails": 0, "tube": "emt-2"},
    ],
)
def test_too_low_for_its_rails_or_braces_is_a_sentence(fields):
    """A brace and a tie once fell on one point of a leg, and the plan crashed."""
    with pytest.raises(FieldError, match="needs"):
        Trellis(**fields)


def test_joints_a_hair_apart_cost_no_digits():
    """Two joints of this trellis lie 0.16 mm apart: a tube so short lost the balance of all others at 1 in 10,000."""
    values = dict(form="sloped", width_m=9.0, height_m=0.47081924465622604, bays=7, slope_deg=68.1632089724782)
    more = dict(tube="emt-2", joining="bolted", base="sleeves", bed_depth_m=0.9, stays="end posts", bottom=True)
    plan = gardenframe.plan(Trellis(**values, **more, spread_m=0.3), live=True)
    assert plan.standing.model.mesh.length_m.min() < 0.0005
    assert_in_balance(plan)


@pytest.mark.parametrize("key", list(ALL))
def test_every_build_type_stands_without_arguments(key):
    """A sensible example that people would build, with its title, pieces, price and cautions."""
    build = ALL[key]()
    plan = gardenframe.plan(build)
    assert build.key == key
    assert build.title
    assert len(plan.pieces) > 0
    assert plan.cost.usual > 0
    assert len(plan.cautions) > 3


def test_a_frame_goes_to_tables_and_back():
    """Written out as two small tables and read again, a trellis has the same lengths and contacts."""
    frame = gardenframe.plan(Trellis(width_m=5.0, bays=4, joining="bolted")).frame
    tables = frame.tables()
    again = gardenframe.Frame.from_tables(tables["joints"], tables["runs"], tables["supports"], joining="bolted")
    for key, line in frame.lines.items():
        assert again.lines[key].length_m == pytest.approx(line.length_m, abs=1e-12)
    assert len(again.supports) == len(frame.supports)


@pytest.mark.parametrize("kind", ["trellis", "hoop_house", "shade_frame", "enclosure", "cold_frame"])
def test_a_sleeve_in_the_ground_is_said_to_turn(kind):
    """Whatever stands in sleeves: they are solved as if they did not turn, and a reader is told."""
    told = {base: " ".join(gardenframe.plan(ALL[kind](base=base)).cautions) for base in ("sleeves", "timber bed")}
    assert "as if a ground sleeve did not turn" in told["sleeves"]
    assert "as if a ground sleeve did not turn" not in told["timber bed"]
