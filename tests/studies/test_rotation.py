"""Where crops go: families stay apart, what lives long stays, frames follow where they fit."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

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
