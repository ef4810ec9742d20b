"""Prices: everything that can be bought has one, and a reader's own table replaces ours cell by cell."""

import csv

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenframe import tables
from gardenframe.errors import InputError, TableError
from gardenframe.materials.coverings import load_rolls
from gardenframe.materials.fixings import load_fixings
from gardenframe.materials.members import load_members
from gardenframe.materials.prices import SCHEMA, load_prices

HEAD = ",".join(SCHEMA) + "\n"
KEEP = "emt-1,none,none,none,{low},{usual},{high},{currency},none,none\n"


def own(low="none", usual="none", high="none", currency="none") -> str:
    """Return a reader's table of one row."""
    return HEAD + KEEP.format(low=low, usual=usual, high=high, currency=currency)


def fitting_keys() -> list[str]:
    """Return the keys of the fittings table, read without its schema."""
    with (tables.data_folder() / "fittings.csv").open(encoding="utf-8", newline="") as file:
        return [row["key"] for row in csv.DictReader(file)]


@pytest.mark.parametrize("keys", [load_members, load_rolls, load_fixings, fitting_keys])
def test_everything_that_can_be_bought_has_a_price(keys):
    """No bill can meet an item without a price."""
    assert [key for key in keys() if key not in load_prices()] == []


def test_our_prices_say_that_they_are_invented():
    """Every row of ours is invented, in one currency, in rising order, above nothing."""
    prices = load_prices()
    assert prices.invented
    assert prices.currency == "USD"
    for price in prices.values():
        assert price.source == "invented"
        assert 0 < price.low <= price.usual <= price.high


def test_packs_of_fixings_agree_with_the_fixings_table():
    """What the bill divides by is what the shop sells."""
    for key, fixing in load_fixings().items():
        price = load_prices().price(key)
        assert (price.pack, price.unit) == (fixing.pack, fixing.unit)


def test_a_cell_replaces_a_cell():
    """Only what the reader gave changes; its source becomes the reader's own."""
    ours, theirs = load_prices(), load_prices(own(usual="24"))
    assert theirs.price("emt-1").usual == 24
    assert theirs.price("emt-1").source == "own"
    assert theirs.price("emt-1").low == ours.price("emt-1").low
    assert theirs.price("emt-2") == ours.price("emt-2")
    assert theirs.own == ("emt-1",)
    assert ours.price("emt-1").usual != 24


def test_a_usual_price_beyond_our_range_widens_it():
    """A reader who gives one price is not asked for three."""
    price = load_prices(own(usual="99")).price("emt-1")
    assert (price.usual, price.high) == (99, 99)
    price = load_prices(own(usual="1")).price("emt-1")
    assert (price.low, price.usual) == (1, 1)


def test_a_new_item_can_be_priced():
    """An item of the reader's own fittings table gets its price here."""
    row = "my-tee,my tee,each,1,2,3,4,USD,2025-05-01,own\n"
    assert load_prices(HEAD + row).price("my-tee").usual == 3


@pytest.mark.parametrize(
    ("table", "said"),
    [
        (own(low="-1"), r"^your table, line 2, column low: got '-1', needs a number from 0 to 100000, or none\."),
        (own(usual="=1+1"), r"column usual: got '=1\+1', needs a number .* It starts like a spreadsheet command"),
        (own(usual='"23,50"'), r"column usual: got '23,50', .* Write a dot before the decimals"),
        (own(usual="nan"), r"column usual: got 'nan', needs a number"),
        (own(usual="cheap"), r"column usual: got 'cheap', needs a number"),
        (
            own(low="30", usual="20", high="40"),
            r"line 2, column low: got 30, needs at most 20, the usual price\. Give low",
        ),
        (own(low="1", usual="50", high="40"), r"column usual: got 50, needs at most 40, the high price\."),
        (own(currency="EUR"), r"column currency: got 'EUR', needs USD, the currency of the \d+ rows that your table"),
        (own(currency="XXX"), r"column currency: got 'XXX', needs one of USD, "),
        (HEAD.replace("usual,", "") + "emt-1\n", r"line 1, column usual: got no such column, needs all columns: item"),
        (
            HEAD + "my-tee,my tee,each,1,2,none,4,USD,2025-05-01,own\n",
            r"column usual: got nothing, needs a value, since we",
        ),
        (HEAD, r"^your table: got no rows"),
        (own() + own()[len(HEAD) :], r"line 3, column item: got 'emt-1', needs each used once"),
        ((own()).encode("utf-16"), r"got a letter that is not UTF-8"),
        (own().replace(",", ";"), r"got cells separated by semicolons"),
    ],
)
def test_a_price_table_that_cannot_be_used_is_named(table, said):
    """One sentence for each way to spoil a price table."""
    with pytest.raises(TableError, match=said):
        load_prices(table)


def test_a_whole_table_in_another_currency_is_accepted():
    """Ours, written out with euros in every row, is a table of its own."""
    rows = [HEAD]
    for price in load_prices().values():
        cells = (price.item, "none", "none", "none", price.low, price.usual, price.high, "EUR", "none", "own")
        rows.append(",".join(str(cell) for cell in cells) + "\n")
    theirs = load_prices("".join(rows))
    assert theirs.currency == "EUR"
    assert not theirs.invented


def test_an_item_without_a_price_is_named():
    """The way out is in the sentence."""
    with pytest.raises(InputError, match=r"^price: got 'gold', needs an item of the price table\. Add a row for it"):
        load_prices().price("gold")


@given(st.lists(st.floats(0, 1000).map(lambda x: round(x, 2)), min_size=3, max_size=3).map(sorted))
def test_any_three_rising_prices_are_taken_as_they_are(three):
    """What a reader types is what the bill uses."""
    low, usual, high = three
    price = load_prices(own(low=low, usual=usual, high=high)).price("emt-1")
    assert (price.low, price.usual, price.high) == (low, usual, high)
