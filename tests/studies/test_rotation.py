"""Where crops go: families stay apart, what lives long stays, frames follow where they fit."""

import re

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from printed import as_worked
from scipy.optimize import linear_sum_assignment

from gardenframe.errors import InputError
from gardenframe.materials.plants import load_plants
from gardenframe.studies.rotation import REST, rotation

PLANTS = load_plants()


def test_three_families_and_a_rest_worked_by_hand():
    """Four beds in a ring: each crop may only take the bed that has been without its family for longest."""
    found = rotation({"1": ["tomato"], "2": ["pole-bean"], "3": ["cucumber"], "4": [REST]}, years=3)
    stood = {1: ["1"], 2: ["2"], 3: ["3"]}
    names = {"tomato": 1, "pole-bean": 2, "cucumber": 3}
    for move in found:
        if move.plant:
            beds = stood[names[move.plant]]
            assert move.from_bed == beds[-1]
            assert move.to_bed not in beds
            beds.append(move.to_bed)
    assert all(sorted(beds) == ["1", "2", "3", "4"] for beds in stood.values())


def test_the_same_family_counts_whatever_the_plant():
    """Beans and peas are Fabaceae: in two beds there is no way, and the sentence says what to do."""
    said = "needs an order that keeps a family away for 3 years. Leave a bed to another family, or take fewer years."
    with pytest.raises(InputError, match=re.escape(said)):
        rotation({"1": ["pea"], "2": ["pole-bean"]})


def test_grapes_stay():
    """What lives for many years keeps its bed; the others move round it."""
    found = rotation({"1": ["grape"], "2": ["tomato"], "3": ["cucumber"]}, years=1)
    assert {move.plant: move.to_bed for move in found} == {"grape": "1", "tomato": "3", "cucumber": "2"}


def test_the_order_in_which_most_frames_follow_is_taken():
    """A frame 1.8 m wide follows to the bed of 2 m, not to that of 1 m, though the latter comes first."""
    stood = {"1": ["tomato"], "2": [REST], "3": [REST]}
    found = rotation(stood, years=1, frames_m={"1": 1.8}, beds_m={"1": 2.0, "2": 1.0, "3": 2.0})
    tomato = next(move for move in found if move.plant == "tomato")
    assert (tomato.to_bed, tomato.frame_follows) == ("3", True)


@pytest.mark.parametrize(
    ("stood", "rest", "said"),
    [
        ({"1": ["pea"]}, {}, "beds: got 1, needs 2 to 7."),
        ({"1": ["pea"], "2": []}, {}, "bed 2: got 'no plant', needs at least this year's."),
        ({"1": ["pea"], "2": ["banana"]}, {}, "plant: got 'banana', needs one of"),
        ({"1": ["pea"], "2": [REST]}, {"years": 0}, "years ahead: got 0, needs 1 to 10 years."),
        ({"1": ["pea"], "2": [REST]}, {"gap_years": 9}, "years away: got 9, needs 1 to 6 years."),
    ],
)
def test_bad_input_is_one_sentence(stood, rest, said):
    """What came and what is allowed."""
    with pytest.raises(InputError, match=re.escape(said)):
        rotation(stood, **rest)


WIDE_M = {"1": 2.0, "2": 1.0, "3": 2.0, "4": 1.3, "5": 0.8}
GARDENS = [  # what stands in each bed, how wide its frame is
    ({"1": ["tomato"], "2": ["pole-bean"], "3": ["cucumber"], "4": [REST]}, {"1": 1.8, "2": 1.8, "3": 1.2, "4": 1.2}),
    ({"1": ["tomato"], "2": ["grape"], "3": ["pea"], "4": [REST], "5": ["cucumber"]}, {"1": 1.8, "3": 1.8, "5": 1.5}),
    ({"1": ["pea"], "2": ["pole-bean"], "3": [REST], "4": [REST], "5": ["tomato"]}, {"1": 1.9, "2": 1.9, "5": 1.1}),
]


@pytest.mark.outside("studies.rotation", source="scipy")
def test_as_many_frames_follow_as_an_assignment_lets():
    """Crops to beds as a library assigns jobs: no pair where a family or a grape bars it, a gain where a frame fits."""
    ours, theirs = [], []
    for stood, frames_m in GARDENS:
        found = rotation(stood, years=2, gap_years=1, frames_m=frames_m, beds_m=WIDE_M)
        at, now = {bed: bed for bed in stood}, {bed: keys[-1] for bed, keys in stood.items()}
        for year in (1, 2):
            moves = [move for move in found if move.year == year]
            cost = np.array([[_cost(stood[home][-1], at[home], now[bed], bed, frames_m.get(home, 0.0)) for bed in stood]
                             for home in stood])  # fmt: skip
            theirs.append(-cost[linear_sum_assignment(cost)].sum())
            ours.append(sum(move.frame_follows for move in moves))
            at = dict(zip(stood, (move.to_bed for move in moves), strict=True))
            now = {move.to_bed: move.plant for move in moves}
    assert min(theirs) < 4
    assert ours == as_worked(theirs, "", "crops that come to a bed as wide as their frame, three gardens, two years")


def _cost(plant, from_bed, before, to_bed, frame_m):
    """Return -1 where a frame fits, 0 where it does not, a million where the crop may not go."""
    mine, theirs = PLANTS.get(plant), PLANTS.get(before)
    stays, same = mine and mine.perennial, mine and theirs and mine.family == theirs.family
    barred = from_bed != to_bed if stays else same
    return 1e6 if barred else -float(frame_m <= WIDE_M[to_bed])


@settings(max_examples=60, deadline=None)
@given(st.lists(st.sampled_from([REST, *PLANTS]), min_size=2, max_size=5), st.integers(1, 4), st.integers(1, 4))
def test_no_family_comes_back_too_early(crops, years, gap):
    """Over random gardens: each year every crop has one bed, and no family returns within the gap."""
    stood = {str(i): [crop] for i, crop in enumerate(crops)}
    try:
        found = rotation(stood, years=years, gap_years=gap)
    except InputError:
        return
    history = {bed: list(keys) for bed, keys in stood.items()}
    for year in range(1, years + 1):
        moves = [move for move in found if move.year == year]
        assert sorted(move.to_bed for move in moves) == sorted(stood)
        for move in moves:
            plant = PLANTS.get(move.plant)
            if plant and not plant.perennial:
                recent = {PLANTS[key].family for key in history[move.to_bed][-gap:] if key}
                assert plant.family not in recent
        for move in moves:
            history[move.to_bed].append(move.plant)
