"""Tanks and fish: levels by hand, water neither lost nor made, the FAO paper's worked ranges, what is refused."""

from fractions import Fraction

import fluids
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st
from printed import as_printed, as_remembered, as_worked

from gardenframe.errors import InputError, TableError
from gardenframe.materials import stands
from gardenframe.water import fish, tanks

unit = pint.get_application_registry().Quantity
TANKS, CROPS = stands.load_tanks(), stands.load_crops()


LEVELS = "water.tanks.volume_l", "water.tanks.drain_back_l", "water.tanks.running_l", "water.tanks.depth_m"


@pytest.mark.outside(*LEVELS, source="pint")
def test_levels_of_a_tank_by_hand():
    """600 x 400 x 270 mm with walls of 4 mm: 592 x 392 x 266 mm inside, nine tenths full 55.56 L; 10 L drain back."""
    tank = tanks.Tank(row=TANKS["tank-50"], carried_l=8.0, piped_l=2.0)
    floor = unit(592, "mm") * unit(392, "mm")
    filled = floor * unit(266, "mm") * 0.9
    assert tank.filled_l == as_worked(filled.to("L").magnitude, "L", "water of a tank at rest")
    left = filled - unit(8, "L") - unit(2, "L")
    assert tank.running_l == as_worked(left.to("L").magnitude, "L", "water left while 8 L run above and 2 L in pipes")
    assert tank.running_m == as_worked((left / floor).to("m").magnitude, "m", "depth of what is left in the tank")
    least = (floor * unit(50, "mm")).to("L").magnitude
    assert tank.least_l == as_worked(least, "L", "water that has to cover the pump")


@pytest.mark.outside("water.tanks.held_kg", source="fluids")
def test_water_of_a_channel_by_its_shape():
    """Half of a round channel of 75 mm, 1.83 m long: the library's cylinder of water, at a kilogram a litre."""
    whole_l = unit(fluids.geometry.V_cylinder(D=0.075, L=1.83), "m**3").to("L").magnitude
    ours = tanks.held_kg(fluids.geometry.A_partial_circle(D=0.075, h=0.0375), 1.83)
    assert ours == as_worked(whole_l / 2, "kg", "water of a half-full round channel")


PLANTS = "water.tanks.top_up_l_per_day", "water.tanks.stock_l", "water.tanks.days_lasting", "data/water_crops.csv"


@pytest.mark.outside(*PLANTS, source="water-crops")
def test_top_up_and_stock_of_lettuces_by_hand():
    """54 lettuces: 54 to 108 L of solution, 5.4 to 16.2 L a day (ranges from memory), plant by plant and day by day."""
    crop = CROPS["lettuce"]
    for low, high, each_low, each_high, unit_told, what in (
        (crop.drinks_low_l_per_day, crop.drinks_high_l_per_day, "0.1", "0.3", "L/day", "drunk by a lettuce"),
        (crop.stock_low_l, crop.stock_high_l, "1", "2", "L", "solution for a lettuce"),
    ):
        assert low == as_remembered(each_low, unit_told, f"{what}, least", copied=True)
        assert high == as_remembered(each_high, unit_told, f"{what}, most", copied=True)
        assert (low, high) == (float(each_low), float(each_high))
    drunk = [float(sum(Fraction(each) for _ in range(54))) for each in ("0.1", "0.3")]
    ours = [tanks.top_up_l_per_day(54, each) for each in (0.1, 0.3)]
    assert ours == as_worked(drunk, "L/day", "drunk by 54 lettuces, one by one", "second-method")
    stock = [float(sum(Fraction(each) for _ in range(54))) for each in (1, 2)]
    ours = [tanks.stock_l(54, each) for each in (1, 2)]
    assert ours == as_worked(stock, "L", "solution for 54 lettuces, one by one", "second-method")
    left, hours = Fraction(20), 0
    while left > 0:
        left, hours = left - Fraction(10, 24), hours + 1
    assert tanks.days_lasting(20.0, 10.0) == as_worked(hours / 24, "days", "20 L drunk hour by hour", "second-method")
    tank = tanks.Tank(row=TANKS["tank-50"], carried_l=8.0, piped_l=2.0)
    fewest, most = tank.days_lasting(crop, 54)
    assert fewest * 16.2 == pytest.approx(tank.spare_l)
    assert most == pytest.approx(3 * fewest)
    assert tank.working(crop, 54, "us")[-1].value == pytest.approx(fewest)


@pytest.mark.outside("data/water_crops.csv", source="water-crops")
def test_light_and_water_of_crops_are_the_printed_and_remembered_ones():
    """Tomato 20-30 mol/m2 a day is printed in an encyclopaedia; lettuce 12-17, and a tomato's water, from memory."""
    tomato, lettuce, light = CROPS["dwarf-tomato"], CROPS["lettuce"], "mol/(m² day)"
    printed = "light-encyclopaedia"
    assert tomato.light_low_mol_per_m2_day == as_printed("20", light, "light of a tomato, least", printed, copied=True)
    assert tomato.light_high_mol_per_m2_day == as_printed("30", light, "light of a tomato, most", printed, copied=True)
    assert lettuce.light_low_mol_per_m2_day == as_remembered("12", light, "light of lettuce, least", copied=True)
    assert lettuce.light_high_mol_per_m2_day == as_remembered("17", light, "light of lettuce, most", copied=True)
    assert tomato.drinks_high_l_per_day == as_remembered("3", "L/day", "drunk by a tomato, most", copied=True)
    assert tomato.stock_low_l == as_remembered("4", "L", "solution for a tomato, least", copied=True)
    assert tomato.stock_high_l == as_remembered("8", "L", "solution for a tomato, most", copied=True)
    assert (lettuce.light_low_mol_per_m2_day, lettuce.light_high_mol_per_m2_day) == (12, 17)
    assert (tomato.drinks_high_l_per_day, tomato.stock_low_l, tomato.stock_high_l) == (3, 4, 8)


@given(st.sampled_from(sorted(TANKS)), st.floats(0, 400), st.floats(0, 50))
def test_water_is_neither_lost_nor_made(key, carried, piped):
    """What stands in the tank while the pump runs and what hangs above it are what stands in it at rest; or refused."""
    row = TANKS[key]
    try:
        tank = tanks.Tank(row=row, carried_l=carried, piped_l=piped)
    except InputError:
        inside = row.floor_m2 * row.inside_m * 1000
        assert carried + piped > 0.9 * inside - row.floor_m2 * 50
        return
    assert tank.running_l + carried + piped == pytest.approx(tank.filled_l)
    assert tank.running_m + 1e-9 >= 0.05
    assert tank.running_m < row.inside_m


def test_a_tank_smaller_than_its_drain_back_is_refused():
    """The sentence says how much drains back and how much room there is: 55.6 less 11.6 L."""
    needs = "room for the 46 L that drain back; over its pump and under its brim this one has 44 L"
    with pytest.raises(InputError, match=rf"^tank: got 'tank 600 x 400 x 270 mm', needs {needs}\. Take a larger"):
        tanks.Tank(row=TANKS["tank-50"], carried_l=40.0, piped_l=6.0)


def test_a_bad_row_of_a_reader_s_own_tank_is_named():
    """Walls that meet are refused by name; a bad cell by its place."""
    heading = "key,label,long_mm,wide_mm,deep_mm,wall_mm,mass_kg,source\n"
    with pytest.raises(InputError, match=r"^a: wall_mm: got 50, needs less than half the tank\."):
        stands.load_tanks(heading + "a,own,300,100,200,50,1,own\n")
    with pytest.raises(TableError, match=r"^your table, line 2, column deep_mm: got 'deep', needs a number"):
        stands.load_tanks(heading + "a,own,300,100,deep,5,1,own\n")


# fish ----------------------------------------------------------------------------------------------------------------


FISH = "water.fish.feed_g_per_day", "water.fish.plants_for", "water.fish.fish_kg", "data/aquaponics.csv"


@pytest.mark.outside(*FISH, source="fao-589")
@pytest.mark.parametrize(
    ("kind", "feed", "plants"),
    [("leafy", ("40", "50"), ("20", "25")), ("fruiting", ("50", "80"), ("4", "8"))],
    ids=["leafy", "fruiting"],
)
def test_ratios_of_a_square_metre_are_printed(kind, feed, plants):
    """fao-589: feed and plants of a square metre; a fish of 100 g at 1 to 2 % eats 1 to 2 g a day."""
    found = fish.Fish(area_m2=1.0, kind=kind)
    for ours, printed, which in zip(found.feed_g_per_day, feed, ("least", "most"), strict=True):
        assert ours == as_printed(printed, "g/(m² day)", f"feed for {kind} plants, {which}", copied=True)
    for ours, printed, which in zip(found.plants, plants, ("fewest", "most"), strict=True):
        assert ours == as_printed(printed, "1/m²", f"{kind} plants on a square metre, {which}", copied=True)
    for eaten, share in ((1.0, fish.EATS_LOW), (2.0, fish.EATS_HIGH)):
        ours = fish.fish_kg(eaten, share) * 1000
        assert ours == as_printed("100", "g", f"fish that eats {eaten:g} g a day")
        assert ours == pytest.approx(100)


@pytest.mark.outside(*FISH, "water.fish.fish_tank_l", source="second-method")
def test_four_square_metres_of_leafy_plants():
    """fao-589: 40-50 g/m2 a day, 20-25 plants/m2, fish eat 1-2 %: 160-200 g, 80-100 plants, 8-20 kg; tank 0.4-2 m3.

    10 to 20 kg of fish in a thousand litres, from memory.
    """
    found = fish.Fish(area_m2=4.0)
    assert found.feed_g_per_day == as_worked((160, 200), "g/day", "feed for 4 m² of lettuces")
    assert found.plants == as_worked((80, 100), "", "lettuces on 4 m²")
    assert found.fish_kg == as_worked((8, 20), "kg", "fish that eat that feed")
    assert found.tank_l == as_worked((400, 2000), "L", "tank for these fish")
    for held in (fish.STOCK_LOW, fish.STOCK_HIGH):
        what = f"tank of {held:g} kg of fish"
        assert fish.fish_tank_l(held, held) == as_remembered("1000", "L", what, "fish-stocking")
    assert (fish.STOCK_LOW, fish.STOCK_HIGH) == (10, 20)
    assert [step.value for step in found.working()] == pytest.approx([80, 100, 160, 200, 8, 20, 400, 2000])


def test_fruiting_plants():
    """fao-589: 50-80 g/m2 a day, 4-8 plants/m2: ten times on ten."""
    found = fish.Fish(area_m2=10.0, kind="fruiting")
    assert found.feed_g_per_day == pytest.approx((500, 800))
    assert found.plants == pytest.approx((40, 80))


@given(st.floats(0.01, 10_000), st.sampled_from(["leafy", "fruiting"]))
def test_ranges_keep_their_order_and_grow_with_the_area(area, kind):
    """Low before high for each; twice the area, twice of each."""
    one, two = fish.Fish(area_m2=area, kind=kind), fish.Fish(area_m2=min(2 * area, 10_000), kind=kind)
    for name in ("feed_g_per_day", "plants", "fish_kg", "tank_l"):
        low, high = getattr(one, name)
        assert 0 < low < high
        if area <= 5000:
            assert getattr(two, name) == pytest.approx((2 * low, 2 * high))


def test_no_growing_area_is_refused():
    """Fish without plants foul their water."""
    with pytest.raises(InputError, match=r"^growing area: got 0, needs 0\.01 to 10000 m²\."):
        fish.Fish(area_m2=0.0)
