"""Example gardens: every example of every build is an idea; what is narrowed away says why."""

import math

import pytest

import gardenframe
from gardenframe import builds
from gardenframe.materials.ideas import NEEDS, load_ideas
from gardenframe.studies.ideas import FIRST, Place, fits, narrowed, seen, worked

IDEAS = load_ideas()


@pytest.fixture(scope="module")
def every():
    """Return every idea with its plan."""
    return [seen(idea) for idea in IDEAS.values()]


def test_every_example_is_an_idea_and_no_other():
    """At least 24, over all types of build; needs are those that a reader can choose."""
    assert {(idea.build, idea.example) for idea in IDEAS.values()} == {
        (key, name) for key, kind in builds.ALL.items() for name in kind.examples
    }
    assert len(IDEAS) >= 24
    assert all(idea.needs and set(idea.needs) <= set(NEEDS) for idea in IDEAS.values())
    assert {need for idea in IDEAS.values() for need in idea.needs} == set(NEEDS)
    assert all("invented" in idea.example for idea in IDEAS.values())


@pytest.mark.parametrize("key", list(IDEAS)[3::9])
def test_the_gust_in_the_table_is_that_of_the_plan(key):
    """Worked out again, to a tenth of a metre a second; if not, `python -m gardenframe.studies.ideas`."""
    again = worked(IDEAS[key])
    assert (again.gust_m_per_s is None) == (IDEAS[key].gust_m_per_s is None)
    if again.gust_m_per_s is not None:
        assert again.gust_m_per_s == pytest.approx(IDEAS[key].gust_m_per_s, abs=0.11)
    assert again.governs == IDEAS[key].governs


def test_nothing_is_asked_and_nothing_is_left_out(every):
    """A reader without limits sees every idea, cheapest first."""
    kept, out = narrowed(every, Place())
    assert (len(kept), out) == (len(every), {})
    costs = [found.plan.cost.usual for found in kept]
    assert costs == sorted(costs)


def test_every_reason_comes_up_and_all_add_up(every):
    """A small garden with little money and no tools: each idea is kept or has one reason."""
    place = Place(need="climb", across_m=3.0, deep_m=1.5, budget=600.0, bender=False, ladder=False, drill=False)
    kept, out = narrowed(every, place)
    assert len(kept) + sum(out.values()) == len(every)
    for found in kept:
        assert "climb" in found.idea.needs
        assert found.plan.cost.usual <= 600
        assert (found.bends, found.ladder, found.drill) == (False, False, False)
    assert out["for something else"] == sum("climb" not in found.idea.needs for found in every)


def test_a_build_may_stand_either_way(every):
    """A long narrow one fits a place that is narrow and long."""
    long = max(every, key=lambda found: found.across_m)
    sides = (long.across_m + 0.01, long.deep_m + 0.01)
    assert fits(long, Place(across_m=sides[0], deep_m=sides[1])) == ""
    assert fits(long, Place(across_m=sides[1], deep_m=sides[0])) == ""
    assert fits(long, Place(across_m=long.across_m - 0.1, deep_m=sides[1])) == "larger than the place"


def test_size_by_hand():
    """Over the outer faces: the trellis of plot 4 is 1830 mm by a tube of 29.5 mm, a house as wide as was asked for."""
    found = seen(IDEAS["trellis-1"])
    assert found.across_m == pytest.approx(1.830, abs=1e-4)
    assert found.deep_m == pytest.approx(0.0295, abs=1e-4)
    house = seen(IDEAS["hoop-house-1"])
    assert house.across_m == pytest.approx(house.plan.build.width_m, abs=1e-4)
    assert found.difficulty == FIRST
    assert found.plan.cost == gardenframe.plan(builds.Trellis()).cost
    assert math.isfinite(found.hours)
