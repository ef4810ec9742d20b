"""The film question by hand, guesses by hand, and both charts against arithmetic on the plan's own bill."""

import math

import pytest

import gardenframe
from gardenframe.builds.hoop_house import HoopHouse
from gardenframe.teaching import charts_hoop_house, practice


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


def test_a_better_glazing_needs_a_smaller_heater():
    """One film loses more than two, two more than two with one that holds heat rays back; one bar stands out."""
    chart = charts_hoop_house.heat_by_glazing(gardenframe.plan(HoopHouse()))
    by_label = {bar.label: bar.value for bar in chart.bars}
    one, two, ir = (
        next(v for k, v in by_label.items() if k.startswith(s))
        for s in ("one film", "two films with", "two films, one")
    )
    assert one > two > ir > 0
    assert sum(bar.known for bar in chart.bars) == 1
    assert chart._repr_html_().count("<rect") == len(chart.bars)


def test_cost_for_a_season_is_the_bill_divided():
    """Rolls of film on the bill, before tax, over 1 to 6 seasons; 3 and 4 stand out, as printed for this film."""
    plan = gardenframe.plan(HoopHouse())
    rolls = plan.bill[plan.bill["item"].str.startswith("roll-film")]
    chart = charts_hoop_house.cost_by_life(plan)
    assert chart.bars[0].value == pytest.approx((rolls["bought"] * rolls["price"]).sum())
    assert chart.bars[3].value == pytest.approx(chart.bars[0].value / 4)
    assert [bar.known for bar in chart.bars] == [False, False, True, True, False, False]
