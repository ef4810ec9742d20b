"""Steps and goods of a shade frame: an order that can be worked, laps that hold, bolts that reach through."""

import re

import pytest

import gardenframe
from gardenframe.builds.fields import FieldError
from gardenframe.builds.shade_frame import ShadeFrame
from gardenframe.materials.fixings import load_fixings
from gardenframe.materials.shop import Shop
from gardenframe.materials.site import Site

WIDE_WIRES = {"form": "wires", "length_m": 7.0, "width_m": 3.5, "bays": 2, "height_m": 2.2, "tube": "emt-2"}
VARIED = [
    *ShadeFrame.examples.values(),
    {"form": "wires", "base": "timber bed"},
    WIDE_WIRES,
    {"braces": False, "base": "stakes"},
    {"length_m": 5.0, "bays": 2, "width_m": 2.4, "rise_m": 0.4, "overhang_m": 0.2},
]


def planned(**fields):
    """Return the live plan of a shade frame at the usual site."""
    return gardenframe.plan(ShadeFrame(**fields), Site(), Shop(), live=True)


@pytest.mark.parametrize("fields", VARIED, ids=str)
def test_steps_come_in_an_order_that_can_be_worked(fields):
    """Sleeves before posts, every fitting tight before a cloth or a wire pulls, nothing spoken of that is not there."""
    plan = planned(**fields)
    build, steps = plan.build, list(plan.build.steps(plan))
    said = [step.step for step in steps]
    stages = [step.stage for step in steps]
    assert stages == sorted(stages, key=["ground", "standing", "after"].index)

    def at(words):
        return next(n for n, step in enumerate(said) if words in step)

    if build.base != "timber bed":
        assert at("Drive the") < at("Stand the pairs")
    assert (
        at("Stand the pairs") < at("tighten every fitting") < at("Drill the end" if build.form == "wires" else "still")
    )
    assert ("strap" in " ".join(said)) == (build.base == "timber bed")
    assert ("brace" in " ".join(said)) == build.braces
    assert ("ridge" in " ".join(said)) == (build.form == "pitched")
    if build.form == "wires":
        assert re.search(r"sag \d+ mm \(.* in\) in the middle", said[-1])


def test_a_cloth_that_slides_has_no_seam_across_its_way():
    """2.4 m of wire: one strip from a roll 1.83 m wide. 6.9 m are longer than a roll: two strips, lapped and tied."""
    short = planned(form="wires")
    assert [len(one.strips.strips) for one in short.covered] == [1]
    assert "tie-200" not in set(short.bill["item"])
    assert not any("strips" in step.step for step in short.build.steps(short))
    wide = planned(**WIDE_WIRES)
    strips = wide.covered[0].strips.strips
    assert len(strips) == 2
    ties = wide.bill.set_index("item").loc["tie-200", "needed"]
    assert ties >= strips[0].length_m / 0.2
    assert any("2 strips of cloth" in step.step for step in wide.build.steps(wide))


@pytest.mark.parametrize(("tube", "outer_mm"), [("emt-3/4", 23.4), ("emt-1-1/2", 44.2), ("emt-2", 55.8)])
def test_an_eye_bolt_reaches_through_its_tube(tube, outer_mm):
    """A washer, a nut and some thread want 12 mm beyond the tube: 60 mm do not reach through 2 in EMT."""
    plan = planned(form="wires", tube=tube)
    bolt = next(load_fixings()[item] for item in plan.bill["item"] if item.startswith("eye-bolt"))
    assert bolt.length_mm >= outer_mm + 12


def test_a_cloth_longer_than_its_rolls_both_ways_is_one_sentence():
    """8.6 m by 6.5 m: a roll of 20 ft, 6.10 m, reaches neither way."""
    big = {"length_m": 7.0, "width_m": 3.5, "bays": 2, "rise_m": 1.5, "overhang_m": 1.2, "behind_m": 1.2,
           "beside_m": 0.8, "height_m": 2.8, "tube": "emt-2", "rafters": 4}  # fmt: skip
    with pytest.raises(FieldError, match=r"^Overhang: .*at most 6\.10 m .* 8\.6\d m .* by 6\.4\d m .*Take off") as told:
        ShadeFrame(**big)
    assert told.value.field == "overhang_m"
    assert planned(**{**big, "behind_m": 0.4}).cost.usual > 0


def test_a_hidden_overhang_is_no_reason_to_move_a_neighbour():
    """A cloth on wires has none: a wall 1.5 m from its middle stands clear of 2.44 m by 1.22 m."""
    near = {"neighbour_m": 2.0, "neighbour_off_m": 1.5, "overhang_m": 1.2, "behind_m": 1.2}
    assert ShadeFrame(form="wires", **near).neighbour_m == 2.0
    with pytest.raises(FieldError, match=r"clear of the frame"):
        ShadeFrame(form="flat", **near)


def test_cases_with_the_cloth_out_are_said_in_words():
    """Its winds are no cases of the plan, whose cloth is gathered: each says in words from where it blows."""
    plan = gardenframe.plan(ShadeFrame(form="wires"), Site(), Shop())
    cases = [row.case for row in plan.check_rows if row.check.startswith("cloth out") and "W" in row.case]
    assert cases
    assert all(case.endswith(")") and "wind" in case.partition(" (")[0] for case in cases)


def test_the_sentence_and_the_row_of_a_wire_say_the_same_pull():
    """And that the gust is the reader's choice, beside another number that is the frame's limit."""
    plan = planned(form="wires", out_wind_m_per_s=12.0)
    row = next(row for row in plan.check_rows if row.check.startswith("wire: pull"))
    said = next(said for said in plan.warnings if "each wire" in said)
    assert said.startswith("You leave the cloth out up to gusts of 12.0 m/s (27 mph)")
    assert f"pulls {row.demand:.0f} N" in said
