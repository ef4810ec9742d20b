"""Builds of all types drawn at random, every field with a site and a shop: a whole plan that agrees with itself.

A few run with all tests; `pytest tests/test_any_build.py --builds 1000` runs the slow set.
"""

import random
from datetime import date

import pytest
from read_sheet import TAPE, parsed, sheet_is_the_plans
from whole_plan import READ, assert_cut_from_sticks, assert_in_balance

import gardenframe
from gardenframe import Shop, Site, builds
from gardenframe.errors import GardenframeError
from gardenframe.materials.coverings import load_rolls
from gardenframe.materials.shop import CUTTERS
from gardenframe.materials.site import EXPOSURES, SHELTERS, WIND_KINDS
from gardenframe.materials.soils import load_soils
from gardenframe.output.saved import load, save
from gardenframe.output.sheet import build_sheet

KINDS = list(builds.KINDS)
ODDITY = (0.05, 0.3, 1.0)  # share of fields that leave an example: near it, further off, anything at all


def pytest_generate_tests(metafunc):
    """Draw as many builds as were asked for."""
    if "seed" in metafunc.fixturenames:
        metafunc.parametrize("seed", range(metafunc.config.getoption("builds")))


def drawn_value(field, pick):
    """Return a value that the control of a field can reach."""
    if field.kind == "choice":
        return pick.choice([key for key, _ in field.choices])
    if field.kind == "choices":
        return tuple(key for key, _ in field.choices if pick.random() < 0.5)
    if field.kind == "flag":
        return pick.random() < 0.5
    if field.kind == "count":
        return pick.randint(int(field.low), int(field.high))
    return pick.choice((pick.uniform(field.low, field.high), field.low, field.high))


def drawn_build(kind, pick):
    """Return a build: an example of which some fields are drawn anew, or all of them."""
    values = dict(pick.choice(list(kind.examples.values())))
    share = pick.choice(ODDITY)
    for field in kind.fields():
        if field.kind not in ("text", "table") and pick.random() < share:
            values[field.key] = drawn_value(field, pick)
    return kind(**values)


def drawn_site(pick):
    """Return a site anywhere on Earth."""
    return Site(
        wind_m_per_s=pick.uniform(0, 70), wind_kind=pick.choice(WIND_KINDS), exposure=pick.choice(EXPOSURES),
        shelter=pick.choice(SHELTERS), ground_snow_pa=pick.choice((0.0, pick.uniform(0, 3000))),
        soil=pick.choice(list(load_soils())), latitude_deg=pick.uniform(-70, 70), longitude_deg=pick.uniform(-180, 180),
    )  # fmt: skip


def drawn_shop(pick, system):
    """Return a shop with its cutter, tax, spares, trim and the longest piece that is carried."""
    return Shop(
        cutter=pick.choice(list(CUTTERS)), tape=TAPE[system], tax=pick.uniform(0, 0.25), spares=pick.uniform(0, 0.2),
        trim_mm=pick.choice((0.0, 10.0)), carried_mm=pick.choice((None, None, pick.uniform(1500, 3100))),
    )  # fmt: skip


def test_any_build_is_a_plan_or_a_sentence(seed, tmp_path, record_property):
    """Pieces fill the sticks, reactions balance loads, rolls cover faces, the bill adds up, file and sheet agree."""
    pick = random.Random(seed)  # noqa: S311 - the same builds every time
    kind = builds.KINDS[KINDS[seed % len(KINDS)]]
    system, said = pick.choice(("metric", "us")), ""
    record_property("kind", kind.key)
    try:
        site, shop = drawn_site(pick), drawn_shop(pick, system)
        plan = gardenframe.plan(drawn_build(kind, pick), site, shop, live=seed % 3 > 0)
        for name in (*READ, "limits"):
            getattr(plan, name)
    except GardenframeError as refused:
        said = str(refused)
    record_property("refused", said)
    if said:
        assert said.rstrip().endswith((".", ")"))
        return
    assert_cut_from_sticks(plan)
    assert_in_balance(plan)
    rolls_cover(plan)
    assert plan.bill["cost"].sum() * (1 + shop.tax) == pytest.approx(plan.cost.usual)
    assert plan.cost.low <= plan.cost.usual <= plan.cost.high
    assert (plan.steps["minutes"] > 0).all()
    assert load(save(plan.build, "any", tmp_path, site=site).place).build == plan.build
    page = parsed(build_sheet(plan, system, written_on=date(2025, 3, 31)))
    sheet_is_the_plans(plan, page, system)


def rolls_cover(plan):
    """Strips are as wide as their roll and cover their face; a roll is never longer than sold."""
    rolls = load_rolls()
    for one in plan.covered:
        long = [strip.length_m for strip in one.strips.strips]
        assert sum(long) * one.roll_width_m >= one.area_m2 * (1 - 1e-9)
        assert max(long) <= rolls[one.roll].length_mm / 1000 + 1e-9
    for key in dict.fromkeys(one.pool or one.panel for one in plan.covered):
        shared = [one for one in plan.covered if (one.pool or one.panel) == key]
        for roll in {one.roll for one in shared}:
            mine = [one for one in shared if one.roll == roll]
            used_m = sum(strip.length_m for one in mine for strip in one.strips.strips)
            assert used_m <= sum(one.rolls for one in mine) * rolls[roll].length_mm / 1000 + 1e-9
