"""Tanks and fish: levels by hand, water neither lost nor made, the FAO paper's worked ranges, what is refused."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenframe.errors import InputError, TableError
from gardenframe.materials import stands
from gardenframe.water import fish, tanks

TANKS, CROPS = stands.load_tanks(), stands.load_crops()


def test_levels_of_a_tank_by_hand():
    """600 x 400 x 270 mm with walls of 4 mm: 592 x 392 x 266 mm inside, nine tenths full 55.56 L; 10 L drain back."""
    tank = tanks.Tank(row=TANKS["tank-50"], carried_l=8.0, piped_l=2.0)
    assert tank.filled_l == pytest.approx(5.92 * 3.92 * 2.66 * 0.9)
    assert tank.running_l == pytest.approx(tank.filled_l - 10)
    assert tank.running_m == pytest.approx(0.9 * 0.266 - 10 / (592 * 392 / 1000))
    assert tank.least_l == pytest.approx(5.92 * 3.92 * 0.5)


def test_top_up_and_stock_of_lettuces_by_hand():
    """54 lettuces: 54 to 108 L of solution, 5.4 to 16.2 L a day (ranges from memory)."""
    low, high = CROPS["lettuce"].drinks_low_l_per_day, CROPS["lettuce"].drinks_high_l_per_day
    assert [tanks.top_up_l_per_day(54, each) for each in (low, high)] == pytest.approx([5.4, 16.2])
    assert [tanks.stock_l(54, each) for each in (1, 2)] == [54, 108]
    tank = tanks.Tank(row=TANKS["tank-50"], carried_l=8.0, piped_l=2.0)
    fewest, most = tank.days_lasting(CROPS["lettuce"], 54)
    assert fewest * 16.2 == pytest.approx(tank.spare_l)
    assert most == pytest.approx(3 * fewest)
    assert tank.working(CROPS["lettuce"], 54, "us")[-1].value == pytest.approx(fewest)


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


def test_four_square_metres_of_leafy_plants():
    """fao-589: 40-50 g/m2 a day, 20-25 plants/m2, fish eat 1-2 %: 160-200 g, 80-100 plants, 8-20 kg; tank 0.4-2 m3."""
    found = fish.Fish(area_m2=4.0)
    assert found.feed_g_per_day == pytest.approx((160, 200))
    assert found.plants == pytest.approx((80, 100))
    assert found.fish_kg == pytest.approx((8, 20))
    assert found.tank_l == pytest.approx((400, 2000))
    assert [step.value for step in found.working()] == pytest.approx([80, 100, 160, 200, 8, 20, 400, 2000])


def test_fruiting_plants():
    """fao-589: 50-80 g/m2 a day, 4-8 plants/m2; a fish of 100 g at 1-2 % eats 1-2 g."""
    found = fish.Fish(area_m2=10.0, kind="fruiting")
    assert found.feed_g_per_day == pytest.approx((500, 800))
    assert found.plants == pytest.approx((40, 80))
    assert fish.fish_kg(1.0, 0.01) == pytest.approx(0.1)
    assert fish.fish_kg(2.0, 0.02) == pytest.approx(0.1)


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
