"""What moves a limit: one field at a time, tried again by another way."""

import dataclasses

import pytest

import gardenframe
from gardenframe.builds import Trellis
from gardenframe.strength.limits import gust_limit
from gardenframe.studies.stronger import candidates, changes


def test_each_change_is_one_field():
    """A candidate differs in one field from the build; a tube goes one size up; nothing is taken away."""
    build = Trellis()
    for label, made in candidates(build):
        differs = [key for key in build.values() if getattr(build, key) != getattr(made, key)]
        assert len(differs) == 1, label
        assert getattr(made, differs[0]) != "none"
        if differs[0] == "tube":
            assert made.tube == "emt-1-1/4"


def test_changes_are_what_a_fresh_plan_says():
    """Before, after and cost of each change agree with plans made anew; sorted by cost for each m/s; all gain."""
    given = gardenframe.plan(Trellis())
    found = changes(given)
    assert len(found) >= 2
    assert [c.cost_of_a_metre_per_s for c in found] == sorted(c.cost_of_a_metre_per_s for c in found)
    for change in (found[0], found[-1]):
        fresh = gardenframe.plan(change.build, live=True)
        quick = dataclasses.replace(fresh.standing, order="amplified")
        assert change.after_m_per_s == pytest.approx(gust_limit(quick).value, rel=1e-6)
        assert change.more_cost == pytest.approx(fresh.cost.usual - given.cost.usual)
        assert change.gain_m_per_s > 0
