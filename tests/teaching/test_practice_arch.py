"""Questions and guesses of the arch: answers worked by hand, every slip told apart, guesses held to the plan."""

import math

import pytest

import gardenframe
from gardenframe.builds import WalkwayArch
from gardenframe.teaching import practice
from gardenframe.teaching.practice import Drawn

# question, numbers, what is typed, the answer in metres: each worked with pencil and paper
BY_HAND = [
    # pi x 1 + 2 x 0.25 = 3.6416
    (practice.HOOP, {"width_m": 2.0, "straight_m": 0.25}, "3642 mm", math.pi + 0.5),
    # inside radius 1300, half the path 500: 1200 up (5, 12, 13); 1500 + 1200 - 100 = 2600
    (practice.HEADROOM, {"spring_m": 1.5, "radius_m": 1.31, "path_m": 1.0, "hanging_m": 0.1, "tube": "a tube",
                         "outer_mm": 20.0}, "2.6 m", 2.6),
    # 500 + 1000 + 500 less 2 x 0.4292 x 100 = 1914.2
    (practice.GAIN, {"label": "bender", "radius_m": 0.1, "height_m": 0.5, "across_m": 1.0}, "1914 mm", 1.91416),
]  # fmt: skip


@pytest.mark.parametrize(("question", "numbers", "typed", "answer"), BY_HAND, ids=["hoop", "headroom", "gain"])
def test_an_answer_worked_by_hand_is_right(question, numbers, typed, answer):
    """The package comes to what pencil and paper come to."""
    drawn = Drawn(question, numbers, "metric")
    assert drawn.answer == pytest.approx(answer, abs=5e-6)
    assert drawn.judge(typed).right


@pytest.mark.parametrize("question", practice.ARCH, ids=lambda q: q.key)
@pytest.mark.parametrize("system", ["metric", "us"])
def test_every_slip_is_told_by_its_name(question, system):
    """Whatever numbers are drawn, the right answer is taken and each slip is recognised."""
    for seed in range(40):
        drawn = question.drawn(seed, system)
        assert drawn.judge(drawn.written(drawn.answer)).right
        for slip, wrong in drawn.slips:
            verdict = drawn.judge(f"{wrong * 1000:.9g} mm")
            assert not verdict.right
            assert verdict.slip == slip.name


def test_guesses_agree_with_lengths_by_hand():
    """The bent piece, and the underside 457.5 mm aside in a hoop of 659.7 mm less half a tube."""
    tube, edge, sticks = practice.ARCH_GUESSES
    radius, outer = (1220 + 76 + 23.4188) / 2, 23.4188
    assert tube.answer("metric") * 1000 == pytest.approx(math.pi * radius + 500 - 2, abs=0.51)
    spring = 2400 - outer / 2 - radius
    up = math.sqrt((radius - outer / 2) ** 2 - 457.5**2)
    assert edge.answer("metric") * 1000 == pytest.approx(spring + up, abs=1)
    assert sticks.answer("metric") == gardenframe.plan(WalkwayArch()).cutting["emt-3/4"].sticks
