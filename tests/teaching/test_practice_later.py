"""Questions and guesses of later seasons: answers worked with pencil and paper, slips told apart."""

import pytest

import gardenframe
from gardenframe.builds import Trellis
from gardenframe.teaching import practice
from gardenframe.teaching.practice import later
from gardenframe.teaching.practice.questions import Drawn

BY_HAND = [
    (practice.ZINC, {"coat": 15, "rate": 2.6}, "5.77 years"),  # 15 / 2.6 = 5.769
    (practice.LOSS, {"rate": 2.1, "years": 10}, "13.65"),  # 10^0.813 = 6.501; x 2.1
    # 1.7 / 0.8: 2 each, 3 x 2 = 6; 13 - 6 = 7; 3.048 / 0.8: 3 a stick; 7 / 3: 3. By length (10.4 - 5.1) / 3.048: 2
    (practice.AGAIN, {"old_pieces": 3, "old_m": 1.7, "new_pieces": 13, "new_m": 0.8, "stick_m": 3.048}, "3 sticks"),
]


@pytest.mark.parametrize(("question", "numbers", "answer"), BY_HAND)
def test_worked_with_pencil_and_paper(question, numbers, answer):
    """The hand's answer is right, twice it is not, and the working ends in it."""
    asked = Drawn(question, numbers, "metric")
    assert asked.judge(answer).right
    assert not asked.judge(asked.written(2 * asked.answer)).right
    assert asked.working()[-1].text.startswith("Answer")


def test_added_lengths_are_told_as_such():
    """Ends too short for a piece do not add up: two sticks would be right by length alone."""
    asked = Drawn(practice.AGAIN, BY_HAND[2][1], "metric")
    assert asked.judge("2").slip == "by length"


@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize("question", practice.LATER, ids=lambda question: question.key)
def test_every_slip_is_told(question, system):
    """Whatever is drawn, the answer is right and each slip is named."""
    for seed in range(25):
        asked = question.drawn(seed, system)
        assert asked.judge(asked.written(asked.answer)).right
        for slip, wrong in asked.slips:
            assert abs(wrong - asked.answer) > asked.tolerance, slip.name


def test_guesses_worked_apart():
    """(20 / 2.1) to the power 1 / 0.813 is 16.0; three years away is back in the fourth; old tube makes it cheaper."""
    zinc, cost, back = (guess.answer("metric") for guess in practice.LATER_GUESSES)
    assert (zinc, back) == (round((20 / 2.1) ** (1 / 0.813), 1), 4)
    alone = gardenframe.plan(Trellis(**Trellis.examples[later.NEW])).cost.usual
    assert f"${alone:,.2f}" in practice.LATER_GUESSES[1].ask  # the question says its price in words
    assert 0 < cost < alone / 2
