"""A range of plans: each point is the plan made alone, and a jump is where one more stick is needed."""

from itertools import pairwise

import pytest

import gardenframe
from gardenframe.builds import Trellis
from gardenframe.costs import cutting
from gardenframe.studies.across import across, field_to_vary, jumps


@pytest.fixture(scope="module")
def start():
    """Return the plan of the trellis as it comes."""
    return gardenframe.plan(Trellis())


@pytest.fixture(scope="module")
def points(start):
    """Return its height taken across its range, with time enough on a busy machine."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(cutting, "LIVE_S", 5.0)
        return across(start, "height_m")


def test_every_point_is_the_plan_made_alone(points):
    """Cost and sticks of some points against plans made directly, proved."""
    for point in points[::7]:
        plan = gardenframe.plan(Trellis(height_m=point.value))
        assert point.cost == pytest.approx(plan.cost.usual)
        assert point.sticks == plan.cutting["emt-1"].sticks


def test_the_range_and_the_readers_own_value_are_in_it(points, start):
    """It runs over the field's limits and through the reader's value; heights that rails do not fit are left out."""
    values = [point.value for point in points]
    assert values == sorted(values)
    assert start.build.height_m in values
    assert values[-1] == 3.0
    assert all(Trellis(height_m=value) for value in values)


def test_a_jump_is_within_a_millimetre_and_real(points):
    """On either side of a jump the number of sticks differs; every change on the chart is such a jump."""
    found = jumps(points)
    assert found
    for jump in found:
        assert 0 < jump.after.value - jump.before.value <= 0.001
        assert jump.before.sticks != jump.after.sticks
    changes = sum(a.sticks != b.sticks for a, b in pairwise(points))
    assert len(found) == changes


def test_the_first_jump_by_hand(points):
    """Three posts of h + 0.2432 m, a rail of 1.7565 m and four of 0.8562 m from sticks of 3.048 m with 1 mm a cut.

    Three sticks serve while one holds a post and the long rail, each other one a post and two short rails. The first is
    the tighter: post + 1 + 1756 <= 3048, so a post that rounds to 1291 mm, one under 1291.5 mm.
    """
    first = jumps(points)[0]
    assert first.before.sticks == 3
    assert first.before.value == pytest.approx(1.2915 - 0.2432, abs=0.001)


def test_a_build_without_such_a_length_has_no_chart(start):
    """Height comes first where a build has it."""
    assert field_to_vary(start) == "height_m"
