"""Questions and guesses of a raised bed: answers worked with pencil and paper, slips told apart."""

import math

import pytest

from gardenframe.teaching import practice
from gardenframe.teaching.practice.questions import Drawn

IN, FT3 = 0.0254, 0.3048**3
LB_FT3 = 0.45359237 / FT3


BY_HAND = [
    # 0.5 x 1200 x 9.81 x 0.25 = 1471.5
    (practice.FOOT, "metric", {"density_kg_per_m3": 1200.0, "depth_m": 0.25, "push": 0.5}, "1471.5 Pa"),
    # 0.4 x 90 lb/ft3 x 1.5 ft = 54 psf; 9.81 for 9.80665 is 0.03 % more
    (practice.FOOT, "us", {"density_kg_per_m3": 90 * LB_FT3, "depth_m": 18 * IN, "push": 0.4}, "54 psf"),
    # a third of 900 x 1.2 = 360
    (practice.TIE, "metric", {"push_n_per_m": 900.0, "bay_m": 1.2}, "360 N"),
    # a third of 45 x 4 = 60
    (practice.TIE, "us", {"push_n_per_m": 45 * 4.4482216 / 0.3048, "bay_m": 48 * IN}, "60 lbf"),
    # 2 x 1 x 0.3 = 0.6; / 0.75 = 0.8; / 0.04 = 20
    (practice.BAGS, "metric", {"length_m": 2.0, "width_m": 1.0, "depth_m": 0.3, "settling_share": 0.25, "bag": "40 L",
                               "bag_m3": 0.04}, "20 bags"),
    # 4 x 3 x 1 = 12; / 0.8 = 15; / 0.75 = 20
    (practice.BAGS, "us", {"length_m": 48 * IN, "width_m": 36 * IN, "depth_m": 12 * IN, "settling_share": 0.2,
                           "bag": "0.75 cubic feet", "bag_m3": 0.75 * FT3}, "20"),
]  # fmt: skip


@pytest.mark.parametrize(("question", "system", "numbers", "answer"), BY_HAND)
def test_worked_with_pencil_and_paper(question, system, numbers, answer):
    """The hand's answer is right, twice it is not, and the working ends in it."""
    asked = Drawn(question, numbers | {"system": system}, system)
    assert asked.judge(answer).right
    assert not asked.judge(asked.written(2 * asked.answer)).right
    assert asked.working()[-1].text.startswith("Answer")


@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize("question", practice.BED, ids=lambda question: question.key)
def test_every_slip_is_told(question, system):
    """Whatever is drawn, the answer is right and each slip is named."""
    for seed in range(25):
        asked = question.drawn(seed, system)
        assert asked.judge(asked.written(asked.answer)).right
        for slip, wrong in asked.slips:
            assert abs(wrong - asked.answer) > asked.tolerance, slip.name


def test_guesses_worked_apart():
    """Soil 2.3545 x 1.1345 x 0.42 m at 1375 kg/m³; half its weight sideways over 2.44 m; 40 psf over its weight."""
    mass, push, deck = (guess.answer("metric") for guess in practice.BED_GUESSES)
    side = 0.0295402 + 0.0132
    assert mass == pytest.approx((2.44 - 2 * side) * (1.22 - 2 * side) * 0.42 * 1375)
    assert push == pytest.approx(0.5 * 1375 * 9.81 * 0.42**2 / 2 * 2.44)
    assert deck == pytest.approx(40 * 47.880259 / (1375 * 9.81))
    assert math.isclose(deck, 0.142, abs_tol=5e-4)
