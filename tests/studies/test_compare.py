"""Variants side by side: each is the plan made alone, sums are those of the bill, all is swapped."""

import dataclasses
import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import gardenframe
from gardenframe import builds
from gardenframe.errors import GardenframeError, InputError
from gardenframe.materials.lives import load_lives
from gardenframe.strength import screws
from gardenframe.strength.cases import Case, JointLoad
from gardenframe.strength.stiffness import solve
from gardenframe.studies import compare, prices, varied
from gardenframe.studies.instead import instead, screw_side_n, screwed

SHOP = gardenframe.Shop()


@pytest.fixture(scope="module")
def start():
    """Return the plan of the trellis as it comes."""
    return gardenframe.plan(builds.Trellis(), live=True)


@pytest.fixture(scope="module")
def found(start):
    """Return every variant of it, by name."""
    return {one.label: one for one in compare.compare(start)}


def test_every_way_that_the_reader_asks_about_is_there(found):
    """Six sizes, three joinings, five pipes, four timbers bolted and four screwed: 21 with the build itself."""
    groups = [one.variant.group for one in found.values()]
    assert [groups.count(group) for group in compare.GROUPS] == [5, 2, 5, 4, 4]
    assert len(found) == 21
    assert not [one.refused for one in found.values() if one.refused]


def test_a_size_or_a_joining_is_the_plan_made_alone(found):
    """Cost, mass and sticks of two variants against plans of those fields."""
    for label, fields in (("EMT 3/4 in", {"tube": "emt-3/4"}), ("joined slip-on", {"joining": "slip-on"})):
        alone = gardenframe.plan(builds.Trellis(**fields))
        assert found[label].cost == alone.cost
        metres = sum(alone.pieces["length_mm"] * alone.pieces["count"]) / 1000
        tube = SHOP.member(alone.build.tube)
        assert found[label].mass_kg == pytest.approx(metres * math.pi * (tube.outer_mm - tube.wall_mm) * tube.wall_mm
                                                     * 1e-6 * tube.density_kg_per_m3)  # fmt: skip


def test_cost_is_the_sum_of_the_rows_as_a_pocket_calculator_adds_them(found):
    """Bought times price at low, usual and high, row by row, from the price table itself."""
    for one in found.values():
        for part in ("low", "usual", "high"):
            total = sum(row.bought * getattr(SHOP.prices[row.item], part) for row in one.plan.bill_rows)
            assert getattr(one.cost, part) == pytest.approx(total)


def test_nothing_of_tube_is_left_in_pipe_or_timber(found):
    """Every stick and fitting is of the new member; what is still bought as for tube is named."""
    for one in found.values():
        if one.variant.group in (compare.PVC, compare.BOLTED, compare.SCREWED):
            assert {piece.member for piece in one.plan.cut} == {one.plan.build.member}
            left = [row.label for row in one.plan.bill_rows if "EMT" in row.label]
            assert left == [note.removeprefix("priced as for tube: ") for note in one.notes]
            assert not [row for row in one.plan.bill_rows if row.item == "zinc-paint"]


def test_bolted_timber_lies_side_by_side_as_wide_as_it_is(found):
    """The axes of two bolted 4x4 lie 88.9 mm apart: 3 1/2 in, its dressed width."""
    offsets = {round(max(map(abs, run.offset_m)), 4) for run in found["timber 4x4 in, bolts"].plan.frame.runs.values()}
    assert offsets == {0.0, 0.0889}


def test_pipe_bends_as_many_times_more_as_it_is_softer():
    """The frame of tube and that of pipe, rigidly joined, under one push at the top: movements go as 1/EI, by hand."""
    tube, pipe = SHOP.member("emt-1"), SHOP.member("pvc-1")

    def ei(member):
        bore = member.outer_mm - 2 * member.wall_mm
        return member.modulus_gpa * math.pi * (member.outer_mm**4 - bore**4) / 64

    build = builds.Trellis(joining="slip-on", covering="none", base="stakes")
    made = [gardenframe.plan(each, live=True) for each in (build, instead(build, "pvc-1", SHOP))]
    top = max(made[0].frame.joints.values(), key=lambda joint: (joint.z_m, joint.x_m)).key
    push = [Case(key="push", loads=(JointLoad(joint=top, force_n=(0.0, 10.0, 0.0)),))]
    moved = []
    for each in made:
        fixed = [dataclasses.replace(s, held="xyzXYZ") for s in each.frame.supports]
        frame = dataclasses.replace(each.frame, supports=tuple(fixed))
        moved.append(abs(solve(frame, push).joint_movements[0, list(frame.joints).index(top), 1]))
    assert moved[1] / moved[0] == pytest.approx(ei(tube) / ei(pipe), rel=0.06)  # twist goes as GJ, a little otherwise


def test_screws_against_the_yield_modes_worked_here():
    """One No. 10 x 3 in screw in SPF, G = 0.42, wood to wood, wet: NDS modes written out again, from memory."""
    root, bend, less, wet = 4.826 * 0.8, 552.0, 2.2, 0.7
    wood = 16600 * 0.42**1.84 * 0.00689476
    side = 38.1
    mode_is = root * side * wood / less
    k3 = -1 + math.sqrt(2 * 2 / 1 + 2 * bend * 3 * root**2 / (3 * wood * side**2))
    mode_iiis = k3 * root * side * wood / (3 * less)
    mode_iv = root**2 / less * math.sqrt(2 * wood * bend / (3 * 2))
    held = min(mode_is, mode_iiis, mode_iv) * wet
    assert screw_side_n(SHOP.member("timber-2x4")) == pytest.approx(held, rel=1e-4)
    assert screws.wood_bearing_psi(0.42) == pytest.approx(wood / 0.00689476)
    row = screwed(SHOP).fittings["through-bolt-bolted-timber-2x4"]
    assert row.slip_n == pytest.approx(2 * held, rel=1e-4)
    assert row.moment_n_m == pytest.approx(held * 0.0381 / 2, rel=1e-4)


def test_a_season_is_each_row_over_its_own_life(found):
    """The trellis by hand: netting lasts 2 seasons, the rest 15 (tube) or 6 (timber)."""
    for label, life in (("as it is", 15), ("timber 2x4 in, bolts", 6)):
        one = found[label]
        net = sum(row.cost for row in one.plan.bill_rows if row.item.startswith("roll-trellis-net"))
        assert net > 0
        assert one.a_season == pytest.approx(net / 2 + (one.cost.usual - net) / life)


def test_a_thicker_tube_never_carries_less(found):
    """Limits rise with the size until straps or ground govern; then they fall by the wind that a wider tube meets."""
    sizes = ["EMT 1/2 in", "EMT 3/4 in", "as it is", "EMT 1-1/4 in", "EMT 1-1/2 in", "EMT 2 in"]
    for thin, thick in pairwise(sizes):
        held = any(word in found[thin].worst_check for word in ("timber", "ground"))
        assert found[thin].gust_m_per_s <= found[thick].gust_m_per_s * (1.01 if held else 1.0)
        assert found[thin].mass_kg < found[thick].mass_kg
        assert found[thin].cost.usual < found[thick].cost.usual


@pytest.mark.parametrize(
    ("kind", "member", "sentence"),
    [
        ("walkway_arch", "pvc-1", "needs a build that can be joined slip-on"),
        ("hoop_house", "timber-2x4", "needs a build that can be joined bolted"),
        ("trellis", "emt-1", "needs plastic pipe or timber"),
        ("trellis", "wire-9", "needs plastic pipe or timber"),
    ],
)
def test_what_cannot_be_swapped_says_so(kind, member, sentence):
    """One sentence; the comparison keeps the variant with it."""
    with pytest.raises(InputError, match=sentence):
        instead(builds.ALL[kind](), member, SHOP)


def test_a_refused_variant_stays_in_the_list_with_its_sentence():
    """A walkway arch of bent tube: too large for its jig, not in pipe, not in timber; the rest is compared."""
    made = compare.compare(gardenframe.plan(builds.ALL["walkway_arch"](), live=True))
    assert all(one.refused for one in made if one.variant.group in (compare.PVC, compare.SCREWED))
    assert [one.label for one in made if not one.refused][:2] == ["as it is", "EMT 1/2 in"]


@settings(max_examples=8, deadline=None)
@given(data=st.data())
def test_any_trellis_of_any_member_is_a_plan_or_a_sentence(data):
    """Random fields, random member: everything is read, or one sentence of ours."""
    values = {
        "form": data.draw(st.sampled_from(["flat", "A-frame", "sloped"])),
        "bays": data.draw(st.integers(1, 3)),
        "braces": data.draw(st.booleans()),
        "width_m": data.draw(st.floats(0.6, 4.0)),
        "base": data.draw(st.sampled_from(["timber bed", "stakes", "sleeves"])),
    }
    member = data.draw(st.sampled_from([k for k, m in SHOP.members.items() if m.family in ("pvc", "timber")]))
    try:
        build = instead(builds.Trellis(**values), member, SHOP)
        one = compare.summed_up(compare.Variant(label="x", group="x", build=build, shop=SHOP),
                                gardenframe.plan(build, live=True))  # fmt: skip
    except GardenframeError:
        return
    assert one.cost.low <= one.cost.usual <= one.cost.high
    assert one.a_season > one.cost.usual / 30
    assert one.worst_ratio > 0


def test_progress_is_told_step_by_step(start):
    """One, two, three of three."""
    told = []
    compare.compare(start, [compare.JOINED], progress=lambda done, of: told.append((done, of)))
    assert told == [(1, 3), (2, 3), (3, 3)]


# --- prices


def test_a_swing_is_the_cost_with_that_one_price_changed(start):
    """Each swing against a plan from a shop where only that price is low, or high."""
    swings = prices.swings(start, most=30)
    assert [s.width for s in swings] == sorted((s.width for s in swings), reverse=True)
    for swing in swings[:4]:
        for part in ("low", "high"):
            price = SHOP.prices[swing.item]
            table = dict(SHOP.prices.by_item) | {swing.item: dataclasses.replace(price, usual=getattr(price, part))}
            shop = dataclasses.replace(SHOP, prices=dataclasses.replace(SHOP.prices, by_item=table))
            changed = gardenframe.plan(start.build, shop=shop).cost.usual
            assert getattr(swing, part) == pytest.approx(changed)
    assert sum(s.high - s.usual for s in prices.swings(start)) == pytest.approx(start.cost.high - start.cost.usual)


def test_at_the_even_price_both_cost_the_same(found):
    """Put the price that evens them out into the table: two plans, one cost."""
    one, other = found["as it is"], found["joined slip-on"]
    even = next(e for e in prices.even_prices(one.plan, other.plan) if e.price is not None)
    price = SHOP.prices[even.item]
    table = dict(SHOP.prices.by_item) | {even.item: dataclasses.replace(price, usual=even.price)}
    shop = dataclasses.replace(SHOP, prices=dataclasses.replace(SHOP.prices, by_item=table))
    costs = [gardenframe.plan(each.plan.build, shop=shop).cost.usual for each in (one, other)]
    assert costs[0] == pytest.approx(costs[1])


def test_at_the_even_life_a_season_costs_the_same(found):
    """Timber that lasts so long costs a season what tube does; and no life evens what the net alone costs more."""
    tube, timber = found["as it is"], found["timber 2x4 in, bolts"]
    life = prices.even_life(tube, timber)
    assert compare.a_season(timber.plan, life) == pytest.approx(tube.a_season, rel=1e-6)
    assert prices.even_life(dataclasses.replace(tube, a_season=1.0), timber) is None


def test_spending_goes_up_when_something_is_worn_out(found):
    """Tube at 15 seasons: bought at the start and in season 15; the net every second season."""
    one = found["as it is"]
    years = dict(prices.spent(one.plan, 15, 17))
    net = sum(row.cost for row in one.plan.bill_rows if row.item.startswith("roll-trellis-net"))
    assert years[0] == pytest.approx(one.cost.usual)
    assert years[2] - years[1] == pytest.approx(net)
    assert years[15] - years[14] == pytest.approx(one.cost.usual - net)
    assert prices.crosses([(0, 5), (1, 5), (2, 5)], [(0, 3), (1, 6), (2, 9)]) == [1]


# --- cost against a field


@pytest.mark.parametrize("key", ["width_m", "tie_spacing_m", "bays", "base", "bottom"])
def test_places_are_plans_made_alone_and_steps_are_real(start, key):
    """Any field: a place costs what its plan costs, a step says what is bought, its sentence adds up to its cost."""
    places = varied.varied(start, key, points=9)
    for place in [p for p in places if not p.refused][::5]:
        alone = gardenframe.plan(start.build.changed(**{key: place.value}), live=True)
        assert place.cost == pytest.approx(alone.cost.usual)
    assert getattr(start.build, key) in [place.value for place in places]
    for step in varied.steps_of(start, key, places):
        assert step.before.bought != step.after.bought
        more = [dict(side.bought) for side in (step.before, step.after)]
        items = set(more[0]) | set(more[1])
        moved = sum((more[1].get(i, 0) - more[0].get(i, 0)) * SHOP.prices[i].usual for i in items)
        assert step.more_cost == pytest.approx(moved, abs=0.01)
        assert step.why
        if varied.slides(start.build.field(key)):
            assert step.after.value - step.before.value <= 0.001


def test_every_change_between_two_places_is_found(start):
    """Taller than 2.8 m come couplings and, a little higher, one more stick: both are steps, none is a slope."""
    places = varied.varied(start, "height_m")
    steps = varied.steps_of(start, "height_m", places)
    changes = [(a, b) for a, b in pairwise(places) if not (a.refused or b.refused) and a.bought != b.bought]
    assert len(steps) == len(changes)
    assert steps[-1].before.value - steps[-2].before.value < 0.13
    assert all(b.value - a.value <= 0.001 for a, b in changes)


def test_the_step_of_the_ties_by_hand(start):
    """Ties come 100 to a pack: more than 95 of them, with 5 % spares, take a second pack."""
    step = next(s for s in varied.steps_of(start, "tie_spacing_m", varied.varied(start, "tie_spacing_m")))
    assert "1 fewer pack of cable tie" in step.why
    ties = [sum(c.fixings for c in gardenframe.plan(start.build.changed(tie_spacing_m=v)).covered)
            for v in (step.before.value, step.after.value)]  # fmt: skip
    assert math.ceil(ties[0] * 1.05) > 100 >= math.ceil(ties[1] * 1.05)


def test_lives_rise_from_low_to_high():
    """Each family in the table, with the words that say what it stands for."""
    lives = load_lives()
    assert set(lives) == {"emt", "pvc", "timber"}
    with pytest.raises(InputError, match="low, usual and high seasons in rising order"):
        dataclasses.replace(lives["emt"], low_seasons=40.0)
