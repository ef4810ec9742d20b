"""Sill, boards, battens and steps of an enclosure: long enough, clear of holes, in an order that can be worked."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

import gardenframe
from gardenframe.builds import enclosure_goods
from gardenframe.builds.enclosure import Enclosure
from gardenframe.builds.enclosure_steps import to_the_mark
from gardenframe.materials.shop import Shop
from gardenframe.materials.site import Site

SITE, SHOP = Site(), Shop()
SILLED = {"size": "reach-in", "height_m": 1.0, "base": "sill holes", "mid_rails": 0, "tube": "emt-1", "bays": 2}


def planned(**fields):
    """Return the live plan of an enclosure at the usual site."""
    return gardenframe.plan(Enclosure(**fields), SITE, SHOP, live=True)


def bought(plan):
    """Return what is bought, by item."""
    return {row.item: row.bought for row in plan.bill_rows}


@given(st.floats(0.6, 9.0), st.lists(st.floats(0.45, 3.05), min_size=1, max_size=6))
def test_no_hole_of_a_sill_lies_where_its_timbers_meet(first, bays):
    """Parts add up to the side, none is longer than a stick, and every hole lies at least 150 mm from a joint."""
    holes = [0.0445]
    for bay in (first, *bays):
        holes.append(holes[-1] + max(0.4, min(bay, 3.05)))
    long = holes[-1] + 0.0445
    parts = enclosure_goods.sill_parts_m(long, holes, 2.4384)
    assert sum(parts) == pytest.approx(long)
    assert max(parts) <= 2.4384 + 1e-9
    joints = [sum(parts[:n]) for n in range(1, len(parts))]
    assert all(abs(hole - joint) > 0.15 - 1e-9 for hole in holes for joint in joints)


def test_a_sill_reaches_round_the_outside_of_its_posts():
    """2.40 m by 1.22 m in EMT 1 in (29.54 mm): front and back 2400 + 89 - 29.54 mm, the sides between them.

    An 8 ft timber (2438.4 mm) is too short for the front, though not for the width: it takes two parts.
    """
    plan = planned(**SILLED, width_m=2.40, depth_m=1.22, gate_width_m=1.0, gate_place="left")
    sill = plan.pieces[plan.pieces["role"] == "sill"]
    assert set(sill["member"]) == {"timber-4x4"}
    whole = (sill["length_mm"] * sill["count"]).sum()
    assert whole == pytest.approx(2 * (2400 + 89 - 29.54) + 2 * (1220 + 89 - 29.54 - 2 * 89), abs=0.5)
    assert sill["length_mm"].max() <= 2438.4
    assert len(plan.pieces[(plan.pieces["role"] == "sill") & (plan.pieces["length_mm"] < 1000)]) == 1  # the short parts
    assert bought(plan)["timber-4x4"] == 4


def test_a_board_lies_under_a_gate_only_where_nothing_else_does():
    """Past both posts by 100 mm; on a sill or a bed the way in has its timber already."""
    plan = planned(gate_width_m=0.91)
    board = plan.pieces[plan.pieces["role"] == "base board"]
    assert board["length_mm"].tolist() == pytest.approx([910 + 200], abs=0.5)
    wide = planned(width_m=6.0, bays=2, gate_width_m=2.4)
    parts = wide.pieces[wide.pieces["role"] == "base board"]
    assert parts["count"].sum() == 2
    assert (parts["length_mm"] * parts["count"]).sum() == pytest.approx(2400 + 200, abs=0.5)
    for base in ("timber bed", "sill holes"):
        none = planned(base=base)
        assert "base board" not in set(none.pieces["role"])
        assert "timber-2x6" not in bought(none)
        assert not any("board under the gate" in step.step for step in Enclosure(base=base).steps(none))


def test_battens_are_long_enough_to_be_cut_from_those_that_are_bought():
    """A gate of 1.3 m by 1.3 m takes four battens of 2.4 m, one for each side; their screws are bought too."""
    plan = planned(strips=True, width_m=3.66, gate_width_m=1.3, gate_height_m=1.3)
    cut = enclosure_goods.battens_m(plan, enclosure_goods.gates_of(plan))
    assert len(cut) == 4
    assert min(cut) > 1.2
    assert bought(plan)["batten-20x40"] == 4
    assert bought(plan)["screw-batten"] >= 1
    low = planned(strips=True, width_m=3.66, gate_width_m=0.9, gate_height_m=1.3)
    assert bought(low)["batten-20x40"] == 2  # an upright and a level one come from one batten


VARIED = [
    *Enclosure.examples.values(),
    {"floor": True, "strips": True},
    {"animals": ("gopher", "rabbit"), "floor": True, "skirt": "none"},
    {"size": "low", "height_m": 0.5, "depth_m": 1.2, "mid_rails": 0, "lids": 2, "floor": True, "base": "timber bed"},
    {"animals": ("woodchuck",), "skirt": "apron", "inner_posts": True},
]


@pytest.mark.parametrize("fields", VARIED, ids=str)
def test_steps_come_in_an_order_that_can_be_worked(fields):
    """What is dug comes before what stands on it, rails before tubes overhead, a board before its gate."""
    plan = planned(**fields)
    build, said = plan.build, [step.step for step in plan.build.steps(plan)]
    stages = [step.stage for step in plan.build.steps(plan)]
    assert stages == sorted(stages, key=["ground", "standing", "after"].index)

    def at(words):
        return next((n for n, step in enumerate(said) if words in step), None)

    assert (at("mesh floor") is not None) == build.floor
    assert (at(" hinges") is not None or at("Hang ") is not None) == (build.gated or build.lid == "hinged")
    assert (at("battens") is not None) == (build.strips and build.gated)
    skirted = build.buried_mesh_m or build.apron_m
    assert (at("Dig a trench") is not None or at("stand the skirt") is not None) == bool(skirted)
    assert (at("stepladder") is not None) <= (build.size == "walk-in")
    assert (at("Dig in ") is not None) == ("timber-2x6" in bought(plan))
    for before, after in (("mesh floor", "low and the top rails"), ("Dig in ", "Hang "), ("low and", "overhead")):
        if at(before) is not None and at(after) is not None:
            assert at(before) < at(after)


def test_a_gate_is_squared_by_a_diagonal_to_the_mark():
    """852 by 1995 mm: 2169.3 mm, which 2.17 m would leave 1 mm to chance; a sixteenth of an inch beside it."""
    plan = planned()
    gate = enclosure_goods.gates_of(plan)[0]
    square = math.hypot(gate.width_m, gate.tall_m)
    assert to_the_mark(square).startswith(f"{square * 1000:.0f} mm (7 ft 1 ")
    assert any(to_the_mark(square) in step.step for step in plan.build.steps(plan))


def test_one_piece_of_timber_is_told_as_one():
    """The board under the gate: not 1 pieces."""
    assert any("saw the one piece of timber" in step for step in planned().steps["step"])


def test_a_caution_about_lids_goes_with_lids():
    """And that about a way out with what is walked into."""
    tags = {size: set(Enclosure(size=size, height_m=high, depth_m=1.2, mid_rails=0, lids=2).cautions())
            for size, high in (("walk-in", 2.1), ("reach-in", 1.2), ("low", 0.6))}  # fmt: skip
    assert "lid" in tags["low"]
    assert not {"lid", "hinge"} & (tags["walk-in"] | tags["reach-in"])
    assert "gate" in tags["walk-in"]
    assert "gate" not in tags["reach-in"]


def test_the_tubes_of_a_lid_are_called_so():
    """Not gate leaf: a low enclosure has no gate."""
    low = planned(**Enclosure.examples["Salad bed with a hinged lid (plot 2, invented)"])
    assert "lid" in set(low.pieces["role"])
    assert "gate leaf" not in set(low.pieces["role"])
    assert "gate leaf" in set(planned().pieces["role"])


def test_a_lid_that_does_not_lean_back_has_a_prop():
    """At 60 degrees hinge, front edge and front rail make a triangle of equal sides: the prop is as long as the lid."""
    lid = {
        **Enclosure.examples["Salad bed with a hinged lid (plot 2, invented)"],
        "opened_deg": 60.0,
        "tube": "emt-3/4",
    }
    plan = planned(**lid)
    prop = plan.pieces[plan.pieces["role"] == "prop"]
    assert prop["length_mm"].tolist() == pytest.approx([910 - 23.4], abs=0.1)  # EMT 3/4 in is 23.4 mm outside
    assert "timber-2x2" in bought(plan)
    assert any("its prop" in step.step for step in plan.build.steps(plan))
    leaning = planned(**{**lid, "opened_deg": 100.0})
    assert "prop" not in set(leaning.pieces["role"])
    assert not any("its prop" in step.step for step in leaning.build.steps(leaning))
