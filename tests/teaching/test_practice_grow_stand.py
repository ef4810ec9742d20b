"""Questions and guesses of the grow stand: answers worked by hand, every slip told apart, guesses held to the plan."""

import pytest

import gardenframe
from gardenframe.builds.grow_stand import GrowStand
from gardenframe.teaching import practice
from gardenframe.teaching.practice import Drawn

# question, numbers, what is typed, the answer: each worked with pencil and paper
BY_HAND = [
    # 2 m at 1 in 40: 50 mm
    (practice.FALL, {"length_m": 2.0, "ratio": 40.0}, "50 mm", 0.05),
    # 100 x 50 mm x 2 m: 10 L
    (practice.WATER, {"length_m": 2.0, "wide_m": 0.1, "deep_m": 0.05}, "10 kg", 10.0),
    # 40 kg are 392.3 N; 0.3 m of lever, 1.2 m up: a quarter of it
    (practice.PUSH, {"mass_kg": 40.0, "depth_m": 0.6, "height_m": 1.2}, "98 N", 98.0665),
]


@pytest.mark.parametrize(("question", "numbers", "typed", "answer"), BY_HAND, ids=["fall", "water", "push"])
def test_an_answer_worked_by_hand_is_right(question, numbers, typed, answer):
    """The package comes to what pencil and paper come to."""
    drawn = Drawn(question, numbers, "metric")
    assert drawn.answer == pytest.approx(answer, rel=1e-6)
    assert drawn.judge(typed).right


@pytest.mark.parametrize("question", practice.STAND, ids=lambda q: q.key)
@pytest.mark.parametrize("system", ["metric", "us"])
def test_every_slip_is_told_by_its_name(question, system):
    """Whatever numbers are drawn, the right answer is taken and each slip is recognised."""
    units = {"length": ("mm", 1000.0), "mass": ("kg", 1.0), "force": ("N", 1.0)}
    label, factor = units[question.kind]
    for seed in range(25):
        drawn = question.drawn(seed, system)
        assert drawn.judge(drawn.written(drawn.answer)).right
        assert drawn.working()
        for slip, wrong in drawn.slips:
            verdict = drawn.judge(f"{wrong * factor:.9g} {label}")
            assert not verdict.right
            assert verdict.slip == slip.name


def test_guesses_answer_what_the_panel_shows():
    """Sag of a channel, a push that tips, the cost of a head: each from the default plan."""
    sag, push, cost = (guess.answer("metric") for guess in practice.STAND_GUESSES)
    plan = gardenframe.plan(GrowStand())
    title = next(iter(plan.build.charts(plan, "metric"))).title
    assert f"sags {sag * 1000:.2g} mm" in title
    weight = sum(
        plan.shop.member(p.member).mass_kg_per_m * p.length_m * p.count for p in plan.cut if "pipe" not in p.role
    )
    assert push == pytest.approx(
        (weight + 12 * 0.9) * 9.81 * 0.29 / 1.20, rel=0.08
    )  # half the depth, the push on a post 1.20 m up
    assert cost == pytest.approx((6.912 + plan.build.water.pump_kwh) * 0.15 * 35 / 81)
