"""Questions of a shade frame: answers worked by hand in both systems, every slip told."""

import pytest

from gardenframe.teaching import practice
from gardenframe.teaching.practice.questions import Drawn

FOOT, INCH, POUND = 0.3048, 0.0254, 4.4482216

BY_HAND = [
    # 1200 / tan 66 deg = 1200 / 2.24604 = 534.3
    (practice.OVERHANG, "metric", {"height_m": 1.2, "altitude_deg": 66.0}, "534 mm", 0.53427),
    # 48 / 1.42815 (tan 55 deg) = 33.610; nearest sixteenth 33 5/8 = 33.625
    (practice.OVERHANG, "us", {"height_m": 48 * INCH, "altitude_deg": 55.0}, "2 ft 9 5/8 in", 33.610 * INCH),
    # 1 - 0.4 x 0.6 = 0.76
    (practice.LIGHT, "metric", {"cloth_share": 0.4, "through_share": 0.6}, "76 %", 0.76),
    # 40 x 3^2 / (8 x 0.1) = 450
    (practice.PULL, "metric", {"load_n_per_m": 40.0, "span_m": 3.0, "sag_m": 0.1}, "450 N", 450.0),
    # 4 lbf/ft x 8^2 / (8 x 0.25 ft) = 128 lbf
    (practice.PULL, "us", {"load_n_per_m": 4 * POUND / FOOT, "span_m": 8 * FOOT, "sag_m": 3 * INCH}, "128 lbf",
     128 * POUND),
]  # fmt: skip


@pytest.mark.parametrize(("question", "system", "numbers", "typed", "answer"), BY_HAND)
def test_answers_worked_by_hand(question, system, numbers, typed, answer):
    """The sum stands beside each; what a reader types for it is right, and every slip is told as itself."""
    asked = Drawn(question, numbers, system)
    assert asked.answer == pytest.approx(answer, rel=1e-4)
    assert asked.judge(typed).right
    for slip, wrong in asked.slips:
        if slip in question.slips:
            told = asked.judge(f"{wrong * 1000:.6g} mm" if question.kind == "length" else asked.written(wrong))
            assert (told.right, told.slip) == (False, slip.name)


def test_guesses_stand_beside_their_answers():
    """The share lies between what the cloth alone lets through and all; the pull is more than it was strung to."""
    share, best, pull = practice.SHADE_GUESSES
    assert 0.6 < share.answer("metric") < 1
    assert 0 < best.answer("us") <= 1.2
    assert pull.beside(50.0, "metric").startswith("You guessed 50 N; it is ")
