"""Charts of a hoop house: heat by hand, a season by the bill, the sun past it by a ray over the curve itself."""

import math

import numpy as np
import pytest

import gardenframe
from gardenframe.builds import hoop_house_charts as charts
from gardenframe.builds.hoop_house import HoopHouse
from gardenframe.climate.sun import at_solar_time

R, WALL = (3.05 - 1.510 * 0.0254) / 2, 0.45  # of the default house: 1-1/4 in tube is 1.510 in outside
SKIN_M2 = (math.pi * R + 2 * WALL) * 4.88 + 2 * (2 * R * WALL + math.pi * R**2 / 2)
VOLUME_M3 = (2 * R * WALL + math.pi * R**2 / 2) * 4.88


def chart(build, number, system="metric", **site):
    """Return one chart of a build."""
    plan = gardenframe.plan(build, site=gardenframe.Site(**site))
    return list(build.charts(plan, system))[number]


def line(made, name):
    """Return a line's points as a dict."""
    return dict(next(one for one in made.lines if one.name == name).points)


def test_the_heater_of_one_film_by_hand():
    """U A and leaks times the difference: U 6.25 to 6.81 from memory, 0.5 to 1 air change when new, 0.336 Wh/m3."""
    made = chart(HoopHouse(keep_degc=4.0), 0)
    watts = ((6.25 + 6.81) / 2 * SKIN_M2 + 0.75 * VOLUME_M3 * 0.336) * (4.0 + 14.0)
    assert line(made, "one film")[-14.0] == pytest.approx(watts / 1000, rel=0.01)
    order = [line(made, name)[-14.0] for name in ("one film", "two films", "two, one holds heat", "film and curtain")]
    assert order == sorted(order, reverse=True)
    assert [one.dashed for one in made.lines] == [False, True, True, True]
    us = line(chart(HoopHouse(keep_degc=4.0), 0, "us"), "one film")
    assert us[-14 * 1.8 + 32] == pytest.approx(watts * 3.412, rel=0.01)  # Btu/h


def test_open_sides_are_cooler_than_a_door_and_a_door_than_none():
    """Every month: outside, sides up, door open, shut; without the sun none is warmer than outside."""
    made, up = chart(HoopHouse(), 1), chart(HoopHouse(roll_up=True), 1)
    for month in range(12):
        outside, sides = line(made, "outside")[month], line(up, "sides up")[month]
        assert outside < sides < line(made, "door open")[month] < line(made, "shut")[month]
    dark = chart(HoopHouse(), 1, latitude_deg=80.0)
    assert line(dark, "shut")[11] == line(dark, "outside")[11]


def test_a_season_is_the_bill_divided():
    """Rolls of film on the bill, before tax, over 1 to 6 seasons; 3 and 4 are the lives printed for this film."""
    plan = gardenframe.plan(HoopHouse())
    rolls = plan.bill[plan.bill["item"].str.startswith("roll-film")]
    made = charts.life_chart(plan)
    cost = (rolls["bought"] * rolls["price"]).sum()
    assert line(made, "cost") == {float(n): pytest.approx(cost / (n + 1)) for n in range(6)}
    assert [made.names[int(x)] for x in line(made, "printed life")] == ["3", "4"]


@pytest.mark.parametrize("latitude", [42.0, -35.0, 20.0])
def test_the_sun_past_a_long_house_by_the_curve_itself(latitude):
    """A ray from 2 m away is followed to each point of the hoop's curve, fifty times an hour, month by month."""
    house = HoopHouse(length_m=15.0)
    made = chart(house, -1, latitude_deg=latitude)
    from_wall, away = 2.0, 1.0 if latitude > 0 else -1.0
    name = f"2 m {'north' if latitude > 0 else 'south'}"
    angles = np.linspace(0, math.pi, 721)
    curve = np.vstack(
        [[(R, h) for h in (0.0, WALL)], np.stack([R * np.cos(angles), WALL + R * np.sin(angles)], axis=1)]
    )
    away_m = R + from_wall - curve[:, 0]
    days = (17, 47, 75, 105, 135, 162, 198, 228, 258, 288, 318, 344)  # middles of months, from memory
    for month in (0, 2, 5, 9):
        sun = at_solar_time(latitude, days[month], np.arange(0, 24, 0.02)).to_sun
        east, up, over = sun[:, :1], sun[:, 2:], -away * sun[:, 1:2]
        with np.errstate(divide="ignore", invalid="ignore"):
            hit = (over > 0) & (away_m / over * up < curve[:, 1]) & (np.abs(away_m / over * east) < 7.5)
        past = (up[:, 0] > 0) & ~hit.any(axis=1)
        step = line(made, "open ground")[month] / charts.SUN_STEPS
        # slices are as high as their middles, so a ray may be off by one step at each edge of the day and of the shade
        assert line(made, name)[month] == pytest.approx(past.sum() * 0.02, abs=2.1 * step)


def test_charts_of_heat_are_those_of_a_closed_house_of_film():
    """A net, or a house without ends, has its season and its shade alone."""
    for build in (HoopHouse(covering="insect-net-1.3", door="none"), HoopHouse(end_walls=False)):
        assert [one.up for one in build.charts(gardenframe.plan(build), "us")] == [
            "USD a season", "hours of sun past the house",
        ]  # fmt: skip
