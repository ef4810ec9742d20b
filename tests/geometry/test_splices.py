"""Where long runs are coupled."""

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from printed import as_worked

import gardenframe
from gardenframe.builds import Trellis
from gardenframe.builds.hoop_house import HoopHouse
from gardenframe.geometry.splices import CLEAR_M, OF_BAY
from gardenframe.materials.shop import Shop


def coupled(plan):
    """Yield each coupled run with its posts' stations and its couplings' stations."""
    for run in plan.frame.runs.values():
        if run.splices:
            stations = {c.joint: c.station_m for c in plan.frame.on[run.key]}
            yield run, [s for j, s in stations.items() if j not in run.splices], [stations[j] for j in run.splices]


@settings(max_examples=40, deadline=None)
@given(
    st.floats(3.2, 9.0), st.integers(3, 8), st.integers(0, 3), st.sampled_from(["clamp-on", "bolted"]),
    st.sampled_from(["flat", "A-frame", "sloped"]),
)  # fmt: skip
def test_couplings_stand_a_fifth_into_a_bay_and_no_piece_is_too_long(width, bays, rails, joining, form):
    """Off the posts, off mid-span, a fifth of the bay from one of its posts; every piece fits a stick."""
    build = Trellis(width_m=width, bays=bays, mid_rails=rails, joining=joining, form=form, base="stakes")
    plan = gardenframe.plan(build)
    for _, posts, couplings in coupled(plan):
        for at in couplings:
            left, right = max(s for s in posts if s < at), min(s for s in posts if s > at)
            share = (at - left) / (right - left)
            assert min(share, 1 - share) == pytest.approx(OF_BAY)
            assert min(at - left, right - at) >= CLEAR_M
    assert max(plan.pieces["length_mm"]) <= 3048
    fewest = {run.key: -(-plan.frame.lines[run.key].length_m // 3.048) - 1 for run, _, _ in coupled(plan)}
    for run, _, couplings in coupled(plan):
        assert fewest[run.key] <= len(couplings) <= fewest[run.key] + 1


@pytest.mark.outside("geometry.splices", source="second-method")
@pytest.mark.parametrize(("width", "bays"), [(5.5, 3), (4.0, 2), (7.4, 5)])
def test_a_long_rail_has_the_fewest_couplings_a_fifth_into_a_bay(width, bays):
    """Bolted rails: every set of places a fifth of a bay from a post is tried, so that no piece outgrows 10 ft."""
    plan = gardenframe.plan(Trellis(width_m=width, bays=bays, mid_rails=0, joining="bolted"))
    bay = (width - 1.163 * 0.0254) / bays
    places = [bay * (n + share) for n in range(bays) for share in (0.2, 0.8)]
    whole = bay * bays
    fewest = next(
        number
        for number in range(1, 6)
        for chosen in itertools.combinations(places, number)
        if max(b - a for a, b in itertools.pairwise((-0.03, *chosen, whole + 0.03))) <= 3.048
    )
    for _, posts, couplings in coupled(plan):
        assert len(couplings) == as_worked(fewest, "", f"couplings of a rail of {width:g} m, every set tried", abs=0.0)
        from_post = [min(abs(at - post) for post in posts) for at in couplings]
        assert from_post == as_worked(
            [bay / 5] * fewest, "m", f"from a post to the coupling of a rail of {width:g} m", rel=1e-9
        )


def test_neighbouring_rails_are_not_coupled_at_one_place():
    """Bolted rails of 5.5 m, one above the other: each coupling stands elsewhere than in the rail beside it."""
    plan = gardenframe.plan(Trellis(width_m=5.5, bays=3, mid_rails=2, joining="bolted"))
    places = [couplings for _, _, couplings in coupled(plan)]
    assert len(places) == 4
    for one, other in itertools.pairwise(places):
        assert not {round(s, 3) for s in one} & {round(s, 3) for s in other}


def test_no_piece_is_longer_than_can_be_carried():
    """A bicycle trailer takes 2.1 m: no piece is longer, and the steps say that the shop cuts first."""
    plan = gardenframe.plan(Trellis(width_m=4.0, bays=4, height_m=1.6, joining="bolted"), shop=Shop(carried_mm=2100))
    assert max(plan.pieces["cut_mm"]) <= 2100
    assert plan.steps["stage"][0] == "shop"
    assert "2.10 m" in plan.steps["step"][0]


@pytest.mark.parametrize("length", [6.2, 9.3, 12.4, 14.6])
def test_every_piece_of_a_purlin_lies_on_two_hoops(length):
    """No end piece hangs on one coupler and its coupling; no more pieces than before."""
    plan = gardenframe.plan(HoopHouse(length_m=length, hoop_spacing_m=0.8))
    for key in ("ridge", "left purlin 1", "right purlin 1"):
        run = plan.frame.runs[key]
        stations = {c.joint: c.station_m for c in plan.frame.on[key]}
        hoops = [s for j, s in stations.items() if j not in run.splices and len(plan.frame.contacts[j]) > 1]
        marks = [0.0, *sorted(stations[j] for j in run.splices), plan.frame.lines[key].length_m]
        assert all(sum(a <= s <= b for s in hoops) >= 2 for a, b in itertools.pairwise(marks))
        assert math.ceil(length / 3.048) - 1 <= len(run.splices) <= math.ceil(length / 3.048)
