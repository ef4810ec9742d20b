"""Questions and guesses of a hoop house by hand."""

import math
import re

import pytest

from gardenframe.teaching import practice


@pytest.mark.parametrize("system", ["metric", "us"])
def test_the_film_question_by_hand(system):
    """Pi times half the width, two walls, two trenches; every slip is told by its name."""
    for seed in range(40):
        asked = practice.FILM.drawn(seed, system)
        n = asked.numbers
        by_hand = math.pi * n["width_m"] / 2 + 2 * n["wall_m"] + 2 * n["bury_m"]
        assert asked.answer == pytest.approx(by_hand, rel=1e-9)
        assert asked.judge(asked.written(asked.answer)).right


def test_the_tube_that_is_guessed_at_by_hand():
    """Pi R between four straights of 0.45 m; 1-1/4 in EMT is 1.510 in outside."""
    radius = (3.05 - 1.510 * 0.0254) / 2
    assert practice.HOUSE_GUESSES[0].answer("metric") == pytest.approx(math.pi * radius + 4 * 0.45, abs=1e-5)


def test_the_widest_hoop_by_hand():
    """What is left of the stick between two straight ends, over pi, twice."""
    for system in ("metric", "us"):
        for seed in range(40):
            asked = practice.LARGEST.drawn(seed, system)
            n = asked.numbers
            assert asked.answer == pytest.approx(2 * (n["stick_m"] - 2 * n["straight_m"]) / math.pi, rel=1e-9)
            assert asked.judge(asked.written(asked.answer)).right


@pytest.mark.parametrize("system", ["metric", "us"])
def test_the_heater_by_the_numbers_that_are_printed(system):
    """The question's own words, multiplied: watts for each square and degree, area, difference of both temperatures."""
    for seed in range(40):
        asked = practice.HEATER.drawn(seed, system)
        area, _, each = (float(found) for found in re.findall(r"([\d.]+) (?:m²|ft²|W)", asked.ask))
        cold, warm = (
            float(found) for found in re.findall(r"(-?\d+) °[CF](?= outside|\. How)", asked.ask.replace("−", "-"))
        )
        assert asked.answer == pytest.approx(area * each * (warm - cold), rel=1e-6)
        assert asked.judge(f"{area * each * (warm - cold):.0f} W").right
