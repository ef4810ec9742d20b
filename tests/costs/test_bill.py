"""What is needed, taken from the shelf, bought and paid."""

import math
from decimal import Decimal

import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st
from printed import as_worked

import gardenframe
from gardenframe import tables
from gardenframe.builds import Trellis
from gardenframe.builds.cold_frame import ColdFrame
from gardenframe.builds.enclosure import Enclosure
from gardenframe.builds.hoop_house import HoopHouse
from gardenframe.builds.walkway_arch import WalkwayArch
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


@pytest.mark.outside("costs.bill", source="second-method")
def test_packs_spares_and_shelf_by_hand():
    """130 ties and 5 % is 136.5, so 137; 20 are on hand; 117 are two packs of 100: 18."""
    (row,) = bill_rows(
        [need("tie-200", 52, spare=True), need("tie-200", 78, spare=True)], PRICES, {"tie-200": 20}, 0.05
    )
    ours = (row.needed, row.on_hand, row.bought)
    assert ours == as_worked((137, 20, 2), "", "ties needed and on hand, packs bought", abs=0.0)
    costs = (row.cost_low, row.cost, row.cost_high)
    assert costs == as_worked((2 * 5, 2 * 9, 2 * 12), "USD", "two packs at low, usual and high price", abs=0.0)


@pytest.mark.outside("costs.bill", source="second-method")
def test_tax_by_hand():
    """Three sticks at 23 with 8 % tax: 69 and 5.52."""
    rows = bill_rows([need("emt-1", 3)], PRICES, {}, 0.05)
    assert total(rows, 0.08, "USD").usual == as_worked(69 + 5.52, "USD", "three sticks with tax")


def price_rows():
    """Return the price table as its file has it, every cell text. The prices are invented; their sums are not."""
    return pd.read_csv(tables.data_folder() / "prices.csv", dtype=str).set_index("item")


# the usual trellis of three posts and three rails in two bays, counted on its drawing: item, needed, and whether a
# twentieth more is bought for loss
COUNTED = [
    ("emt-1", 4, False),  # two posts of 2073 mm take a stick each; the third a 856 rail; 1756 + 856; two rails more
    ("tee-clamp-on-emt-1", 5, True),  # two rails end on each outer post, and the middle post under the top rail
    ("elbow-clamp-on-emt-1", 2, True),
    ("cross-clamp-on-emt-1", 2, True),
    ("roll-trellis-net-150-5ftx30ft", 1, False),  # two strips of 1.82 m from a roll of 9.14 m
    ("tie-200", 52, True),  # at most 300 mm apart: 8 on each post, 5 on each of four rails, 8 on the top rail
    ("strap-2-emt-1", 6, False),  # two to a post
    ("lag-1/4", 12, False),  # two to a strap
    ("zinc-paint", 16, False),  # both ends of eight tubes
]


@pytest.mark.outside("plan.bill", "plan.cost", "costs.bill", source="pandas")
@pytest.mark.parametrize("tax", ["0", "0.0825"])
def test_the_bill_of_the_usual_trellis_made_by_hand(tax):
    """Counts from the drawing, prices from the file, whole packs, exact decimals: each row and the sum with tax."""
    plan, rows = gardenframe.plan(Trellis(), shop=Shop(tax=float(tax))), price_rows()
    assert plan.bill["item"].to_list() == [item for item, _, _ in COUNTED]
    sums = dict.fromkeys(("low", "usual", "high"), Decimal(0))
    for (item, number, spare), row in zip(COUNTED, plan.bill.to_dict("records"), strict=True):
        wanted = math.ceil(Decimal(number) * (Decimal("1.05") if spare else 1))
        packs = math.ceil(Decimal(wanted) / Decimal(rows["pack"][item]))
        ours = (row["needed"], row["bought"])
        assert ours == as_worked((wanted, packs), "", f"{item}: needed and bought, counted by hand", abs=0.0)
        for column in sums:
            sums[column] += packs * Decimal(rows[column][item])
    costs = (plan.cost.low, plan.cost.usual, plan.cost.high)
    worked = [float(each * (1 + Decimal(tax))) for each in sums.values()]
    assert costs == as_worked(worked, "USD", f"cost at low, usual and high prices with {tax} tax", rel=1e-12)


@pytest.mark.outside("plan.bill", "plan.cost", source="pandas")
@pytest.mark.parametrize(
    "build",
    [WalkwayArch(), ColdFrame(), Enclosure(), HoopHouse()],
    ids=["arch", "cold frame", "enclosure", "hoop house"],
)
def test_a_bill_is_added_up_again_from_the_price_file(build):
    """What is needed in whole packs at the prices of the file, in exact decimals; nothing on hand, 7 % tax."""
    plan, rows = gardenframe.plan(build, shop=Shop(tax=0.07)), price_rows()
    bill = plan.bill.set_index("item")
    packs = {item: math.ceil(Decimal(str(n)) / Decimal(rows["pack"][item])) for item, n in bill["needed"].items()}
    assert bill["bought"].to_list() == as_worked(
        list(packs.values()), "", f"{build.title}: whole packs of each item", abs=0.0
    )
    sums = [sum(n * Decimal(rows[column][item]) for item, n in packs.items()) for column in ("low", "usual", "high")]
    costs = (plan.cost.low, plan.cost.usual, plan.cost.high)
    worked = [float(each * Decimal("1.07")) for each in sums]
    assert costs == as_worked(worked, "USD", f"{build.title}: cost at low, usual and high prices with tax", rel=1e-12)
    fitted = {fitted.key: 0 for fitted in plan.fitted if fitted.key}
    for one in plan.fitted:
        if one.key:
            fitted[one.key] += one.count
    wanted = [math.ceil(Decimal(number) * Decimal("1.05")) for number in fitted.values()]
    assert bill["needed"][list(fitted)].to_list() == as_worked(
        wanted, "", f"{build.title}: fittings and a twentieth more", abs=0.0
    )


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


def test_a_stick_of_another_length_has_its_own_price_or_goes_by_length():
    """The row emt-1:6096 prices a 20 ft stick; a reader who prices emt-1 alone pays twice that, as by the metre."""
    ours = Shop(sticks={"emt-1": (6096,), "emt-2": (6096,)})
    assert ours.stock("emt-1") == [(6096, ours.prices["emt-1:6096"].usual, None)]
    assert ours.stock("emt-2") == [(6096, pytest.approx(2 * ours.prices["emt-2"].usual), None)]
    plan = gardenframe.plan(Trellis(), shop=ours)
    (row,) = (row for row in plan.bill_rows if row.group == "sticks")
    assert (row.item, row.label, row.price) == ("emt-1:6096", "EMT 1 in, 20 ft stick", ours.prices[row.item].usual)
    theirs = load_prices(HEAD + "emt-1,none,none,none,20,25,30,none,none,own\n")
    assert Shop(sticks={"emt-1": (6096,)}, prices=theirs).stock("emt-1") == [(6096, 50.0, None)]
    both = load_prices(
        HEAD + "emt-1,none,none,none,20,25,30,none,none,own\nemt-1:6096,none,none,none,40,45,50,none,none,own\n"
    )
    assert Shop(sticks={"emt-1": (6096,)}, prices=both).stock("emt-1") == [(6096, 45.0, None)]


def test_the_bill_adds_up():
    """The rows sum to the cost, and every row is bought for a need."""
    for values in Trellis.examples.values():
        plan = gardenframe.plan(Trellis(**values))
        assert plan.bill["cost"].sum() == pytest.approx(plan.cost.usual)
        assert plan.cost.low <= plan.cost.usual <= plan.cost.high
        assert (plan.bill["bought"] > 0).all()
