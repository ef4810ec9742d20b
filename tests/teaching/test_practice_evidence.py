"""Questions of sources and checks: answers worked by hand, every slip told."""

import pytest

from gardenframe.teaching import practice
from gardenframe.teaching.practice.questions import Drawn

BY_HAND = [
    # the last digit of 0.57 is worth 0.01; half of it
    (practice.ROUNDED, {"printed": "0.57"}, "0.005", 0.005),
    # of 36, whole numbers
    (practice.ROUNDED, {"printed": "36"}, "0.5", 0.5),
    # 44 - 36 = 8; 8 / 44 = 0.1818
    (practice.APART, {"theirs": 44, "ours": 36}, "18.2 %", 0.18182),
    # 230 - 200 = 30; 30 / 200 = 0.15
    (practice.APART, {"theirs": 200, "ours": 230}, "15 %", 0.15),
]


@pytest.mark.parametrize(("question", "numbers", "typed", "answer"), BY_HAND)
@pytest.mark.parametrize("system", ["metric", "us"])
def test_answers_worked_by_hand(question, numbers, typed, answer, system):
    """The sum stands beside each; what a reader types for it is right, and every slip is told as itself."""
    asked = Drawn(question, numbers, system)
    assert asked.answer == pytest.approx(answer, rel=1e-4)
    assert asked.judge(typed).right
    for slip, wrong in asked.slips:
        told = asked.judge(asked.written(wrong)) if wrong >= 0.001 else None
        assert told is None or (told.right, told.slip) == (False, slip.name)


def test_a_bare_number_is_asked_for_without_a_unit():
    """A share has one, half a unit of a digit has none."""
    assert practice.ROUNDED.drawn(1).asks_for == "A number. Right within 1%."
    assert "read as %" in practice.APART.drawn(1).asks_for


def test_guesses_stand_beside_their_answers():
    """Half a unit of 0.57; its formula by hand, 2.01 (15/1200)^(2/7) = 0.57472, is 0.83 % over 0.57."""
    half, exposure = practice.EVIDENCE_GUESSES
    assert half.beside(half.read("0.005", "us"), "us") == "You guessed 0.005; it is 0.005: the same."
    assert exposure.answer("metric") == pytest.approx(2.01 * (15 / 1200) ** (2 / 7) / 0.57 - 1, rel=1e-9)
    assert exposure.beside(0.02, "metric").startswith("You guessed 2 %; it is 0.8 %:")
