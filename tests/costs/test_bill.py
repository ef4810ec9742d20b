"""What is needed, taken from the shelf, bought and paid."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

import gardenframe
from gardenframe.builds import Trellis
from gardenframe.costs.bill import Need, bill_rows, total
from gardenframe.errors import InputError
from gardenframe.materials.prices import load_prices
from gardenframe.materials.shop import Shop

HEAD = "item,label,unit,pack,low,usual,high,currency,priced_on,source\n"
PRICES = load_prices(
    HEAD + "tie-200,tie,pack,100,5,9,12,USD,2026-01-01,own\nemt-1,tube,stick,1,20,23,30,USD,2026-01-01,own\n"
)


def need(item, number, **rest):
    """Return a need for a number of an item."""
    return Need(item=item, number=number, group="g", **rest)


def test_packs_spares_and_shelf_by_hand():
    """130 ties and 5 % is 136.5, so 137; 20 are on hand; 117 are two packs of 100: 18."""
    (row,) = bill_rows(
        [need("tie-200", 52, spare=True), need("tie-200", 78, spare=True)], PRICES, {"tie-200": 20}, 0.05
    )
    assert (row.needed, row.on_hand, row.bought, row.cost) == (137, 20, 2, 18.0)
    assert (row.cost_low, row.cost_high) == (10.0, 24.0)


def test_tax_by_hand():
    """Three sticks at 23 with 8 % tax: 74.52."""
    rows = bill_rows([need("emt-1", 3)], PRICES, {}, 0.05)
    assert total(rows, 0.08, "USD").usual == pytest.approx(74.52)


@given(st.integers(1, 5000), st.integers(0, 6000), st.floats(0, 1))
def test_never_too_few_never_a_pack_too_many(number, shelf, spares):
    """Bought and shelf cover the need; one pack less would not."""
    (row,) = bill_rows([need("tie-200", number, spare=True)], PRICES, {"tie-200": shelf}, spares)
    assert row.on_hand + 100 * row.bought >= number * (1 + spares) - 1e-6
    assert row.bought == 0 or row.on_hand + 100 * (row.bought - 1) < number * (1 + spares)
    assert row.cost_low <= row.cost <= row.cost_high


def test_an_item_without_a_price_is_named():
    """Never a silent zero."""
    with pytest.raises(InputError, match="left-handed-tee"):
        bill_rows([need("left-handed-tee", 1)], PRICES, {}, 0.0)


@pytest.mark.parametrize(("joining", "caps"), [("clamp-on", 0), ("slip-on", 0), ("bolted", 9)])
def test_caps_are_counted_by_hand(joining, caps):
    """A flat trellis of three posts and three rails: bolted, each rail has two open ends and each post its top."""
    plan = gardenframe.plan(Trellis(joining=joining, bays=2, mid_rails=1))
    assert sum(plan.open_ends.values()) == caps


def test_leftovers_and_longer_sticks_are_used():
    """Four leftovers of 2.1 m hold the posts: no stick is bought for them; 20 ft sticks cost twice a 10 ft one."""
    build = Trellis()
    plain = gardenframe.plan(build)
    spare = gardenframe.plan(build, shop=Shop(leftovers={"emt-1": {2100: 3}}))
    assert spare.cost.usual < plain.cost.usual
    long = gardenframe.plan(build, shop=Shop(sticks={"emt-1": (3048, 6096)}))
    assert long.cost.usual <= plain.cost.usual
    sticks = long.bill[long.bill["item"] == "emt-1"]
    assert (sticks["price"] / sticks["bought"] > 0).all()


def test_the_bill_adds_up():
    """The rows sum to the cost, and every row is bought for a need."""
    for values in Trellis.examples.values():
        plan = gardenframe.plan(Trellis(**values))
        assert plan.bill["cost"].sum() == pytest.approx(plan.cost.usual)
        assert plan.cost.low <= plan.cost.usual <= plan.cost.high
        assert (plan.bill["bought"] > 0).all()
