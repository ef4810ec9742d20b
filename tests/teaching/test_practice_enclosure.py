"""Questions and guesses of the enclosure: answers worked by hand, every slip told apart, guesses held to the plan."""

import pytest

from gardenframe.teaching import practice
from gardenframe.teaching.practice import Drawn

# question, numbers, what is typed, the answer: each worked with pencil and paper
BY_HAND = [
    # 1.2, then 1.2 - 0.1 each: 1.2, 2.3, 3.4
    (practice.STRIPS, {"high_m": 2.35, "roll_m": 1.2, "overlap_m": 0.1}, "3", 3.0),
    # 3, 4, 5
    (practice.SQUARE, {"wide_m": 0.9, "tall_m": 1.2}, "1500 mm", 1.5),
    # 10 kg is 98.07 N, half a metre of lever, hinges 1 m apart
    (practice.HANGS, {"mass_kg": 10.0, "wide_m": 1.0, "apart_m": 1.0}, "49 N", 49.03325),
]


@pytest.mark.parametrize(("question", "numbers", "typed", "answer"), BY_HAND, ids=["strips", "square", "hangs"])
def test_an_answer_worked_by_hand_is_right(question, numbers, typed, answer):
    """The package comes to what pencil and paper come to."""
    drawn = Drawn(question, numbers, "metric")
    assert drawn.answer == pytest.approx(answer, abs=5e-5)
    assert drawn.judge(typed).right


@pytest.mark.parametrize("question", practice.ENCLOSURE, ids=lambda q: q.key)
@pytest.mark.parametrize("system", ["metric", "us"])
def test_every_slip_is_told_by_its_name(question, system):
    """Whatever numbers are drawn, the right answer is taken and each slip is recognised."""
    for seed in range(40):
        drawn = question.drawn(seed, system)
        assert drawn.judge(drawn.written(drawn.answer)).right
        for slip, wrong in drawn.slips:
            unit = {"length": f"{wrong * 1000:.9g} mm", "force": f"{wrong:.9g} N", "count": f"{wrong:.0f}"}
            verdict = drawn.judge(unit[question.kind])
            assert not verdict.right
            assert verdict.slip == slip.name


def test_guesses_agree_with_the_cage():
    """About 95 m of roll width by hand: walls of 24 m², 1.2 m strips, over 15 m rolls; the gate near 13 kg."""
    rolls, mass, hinge = practice.ENCLOSURE_GUESSES
    assert rolls.answer("metric") in (2.0, 3.0)
    # two stiles of 1.943 m, two rails of 0.8 m, a diagonal of 1.871 m at 1.497 kg/m; 1.7 m² at 1.052 kg/m²
    by_hand = (2 * 1.9433 + 2 * 0.7996 + 1.871) * 1.497 + 1.6999 * 1.052
    assert mass.answer("metric") == pytest.approx(by_hand, rel=0.005)
    assert hinge.answer("metric") > 0
