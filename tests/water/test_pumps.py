"""Pumps: a worked power, the duty point by another root finder, energy by hand, what is refused."""

import math
from fractions import Fraction

import fluids
import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st
from printed import as_worked
from scipy.interpolate import make_interp_spline
from scipy.optimize import brentq

from gardenframe.errors import InputError, TableError
from gardenframe.materials.pumps import load_pumps
from gardenframe.water import energy, pumps
from gardenframe.water.pipes import Pipe, System

PUMPS = load_pumps()
LIFTS = st.floats(0, 0.95)
KEYS = st.sampled_from(sorted(PUMPS))
BORES = st.floats(0.008, 0.03)
unit = pint.get_application_registry().Quantity
HEADING = "pump,label,flow_l_per_min,head_m,power_w,source\n"


def system(lift=1.2, bore=0.0158, length=3.0):
    """A supply with a few fittings."""
    fittings = {"entrance": 1, "elbow": 3, "valve": 1}
    return System(lift_m=lift, pipes=(Pipe(label="supply", length_m=length, bore_m=bore, fittings=fittings),))


POWER = "water.pumps.water_power_w", "water.pumps.socket_power_w", "water.pumps.efficiency_ratio"


@pytest.mark.outside(*POWER, source="second-method")
def test_power_worked_apart_from_this_code():
    """20 L/min, 2 m, 0.4 of the power: 6.53 W in the water, 16.3 W from the socket (water of 998.2 kg/m3).

    Again as buckets: 20 kg carried up 2 m each minute, in the time that 1 kJ from the socket lasts.
    """
    water = pumps.water_power_w(20 / 60_000, 2.0) * 0.9982
    assert water == as_worked(6.53, "W", "power in 20 L/min lifted 2 m", "worked-apart", abs=0.0051)
    assert pumps.socket_power_w(water, 0.4) == as_worked(
        16.3, "W", "power from the socket at 0.4 of it", "worked-apart", abs=0.051
    )
    bucket_j = unit(20, "kg") * unit(9.81, "m/s**2") * unit(2, "m")
    lifted = (bucket_j / unit(1, "minute")).to("W").magnitude
    assert water / 0.9982 == as_worked(lifted, "W", "power in a bucket carried up each minute", "pint")
    spent_w = 1000 / (0.4 * 1000 / lifted)  # of 1 kJ, 0.4 is carried up, and so long it lasts
    assert pumps.socket_power_w(lifted, 0.4) == as_worked(spent_w, "W", "power from the socket for it")
    share = bucket_j.to("watt_hour").magnitude / (spent_w / 60)
    assert pumps.efficiency_ratio(lifted, spent_w) == as_worked(share, "", "share of a minute's energy in the bucket")


ENERGY = "water.energy.daily_kwh", "water.energy.yearly_kwh", "water.energy.energy_cost", "water.energy.cost_of_each"


@pytest.mark.outside(*ENERGY, source="pint")
def test_energy_of_a_year_by_hand():
    """20 W day and night are 0.48 kWh a day and 175.2 kWh a year; at 0.15 a kWh that is 26.28.

    Energy by a library of units, money by adding up day after day in exact fractions.
    """
    daily = (unit(20, "W") * unit(24, "hour")).to("kWh").magnitude
    assert energy.daily_kwh(20, 24) == as_worked(daily, "kWh", "20 W for a day")
    yearly = (unit(20, "W") * unit(365, "day")).to("kWh").magnitude
    assert energy.yearly_kwh(0.48) == as_worked(yearly, "kWh", "20 W for a year")
    paid = sum(Fraction(48, 100) * Fraction(15, 100) for _ in range(365))
    cost = energy.energy_cost(energy.yearly_kwh(0.48), 0.15)
    assert cost == as_worked(float(paid), "", "a year of it at 0.15 a kWh, day by day", "second-method")
    each = sum(Fraction(4, 10) for _ in range(30)) / 24
    ours = energy.cost_of_each(0.4, 30, 24)
    assert ours == as_worked(float(each), "", "30 days at 0.40, shared by 24 plants", "second-method")
    assert (float(paid), float(each)) == pytest.approx((26.28, 0.5))


@pytest.mark.outside("water.pumps.table_head_m", source="scipy")
def test_head_between_rows_by_a_library():
    """The middle pump's curve, straight between its rows, at 40 flows; two rows of the table are given to ours."""
    pump = PUMPS["middle-20"]
    flows, heads = pump.flows_l_per_min, pump.heads_m
    asked = np.linspace(flows[0], flows[-1], 42)[1:-1]
    theirs = make_interp_spline(flows, heads, k=1)(asked)
    after = np.searchsorted(flows, asked)
    ours = [
        pumps.table_head_m(q, flows[k - 1], flows[k], heads[k - 1], heads[k]) for q, k in zip(asked, after, strict=True)
    ]
    assert ours == as_worked(theirs, "m", "head of a pump between two rows of its table", abs=1e-12)


@pytest.mark.outside("water.pumps", source="scipy")
@given(KEYS, LIFTS, BORES, st.floats(0.5, 10))
def test_duty_point_by_another_root_finder(key, share, bore, length):
    """Brent's root of the two curves: the table's rows by numpy, lift and pipes by a library of hydraulics."""
    pump = PUMPS[key]
    lift = share * pump.most_head_m
    works = system(lift, bore, length)

    def spare(flow):
        speed = flow / 60_000 / (math.pi * bore**2 / 4)
        number = fluids.Reynolds(V=speed, D=bore, nu=1e-6)
        factor = 64 / max(number, 1e-9) if number < 2000 else fluids.friction_factor(Re=number, eD=1.5e-6 / bore)
        loss = fluids.K_from_f(fd=factor, L=length, D=bore) + 0.5 + 3 * 0.9 + 0.1
        piped = fluids.head_from_K(K=loss, V=speed, g=9.81)
        return np.interp(flow, pump.flows_l_per_min, pump.heads_m) - lift - piped

    found = pumps.duty(pump, works)
    most = pump.flows_l_per_min[-1]
    root = brentq(spare, 0, most, xtol=1e-12)
    assert found.flow_l_per_min == as_worked(root, "L/min", "where a pump's curve meets its pipes' need", rel=1e-6)
    assert spare(found.flow_l_per_min * 0.999) > 0 > spare(found.flow_l_per_min * 1.001)
    assert found.valve_m == pytest.approx(found.head_m - works.head_m(found.flow_l_per_min), abs=1e-9)


@given(KEYS, st.floats(0, 0.8), st.floats(0.05, 0.99))
def test_a_valve_takes_what_is_left(key, share, part):
    """Held to part of its open flow, pump head = system head + valve, and less reaches the water than is paid for."""
    pump = PUMPS[key]
    works = system(share * pump.most_head_m)
    wanted = part * pumps.duty(pump, works).flow_l_per_min
    found = pumps.duty(pump, works, wanted)
    assert found.flow_l_per_min == wanted
    assert found.valve_m > 0
    assert found.head_m == pytest.approx(works.head_m(wanted) + found.valve_m)
    assert 0 < found.efficiency_ratio < 1
    assert found.power_w <= max(pump.powers_w)


@given(KEYS, st.floats(0.05, 0.8), st.floats(0.01, 0.1))
def test_a_higher_lift_gives_less(key, share, more):
    """Flow falls as the lift grows."""
    pump = PUMPS[key]
    low, high = (pumps.duty(pump, system(s * pump.most_head_m)).flow_l_per_min for s in (share, share + more))
    assert high < low


def test_a_duty_between_rows_by_hand():
    """No pipe at all: lift 1.0 m meets the middle pump between 12 L/min (1.28 m) and 18 (0.73): 12 + 6 x 28/55."""
    found = pumps.duty(PUMPS["middle-20"], System(lift_m=1.0))
    assert found.flow_l_per_min == pytest.approx(12 + 6 * 0.28 / 0.55)
    assert found.power_w == pytest.approx(16.5 + (18.2 - 16.5) * 0.28 / 0.55)
    assert found.yearly_kwh(12) == pytest.approx(found.power_w * 12 * 365 / 1000)
    assert found.working(0.15)[0].value == pytest.approx(1.0)
    assert found.working(0.15, 12, "us")[-1].value == pytest.approx(found.yearly_cost(0.15, 12))


def test_the_least_power_that_does_it_is_chosen():
    """Every pump tried by hand: 4 L/min over 0.5 m takes the small one, over 1.2 m the middle, 20 over 2 m none."""
    assert pumps.choose(PUMPS, system(0.5), 4).pump.key == "small-8"
    assert pumps.choose(PUMPS, system(1.2), 4).pump.key == "middle-20"
    with pytest.raises(
        InputError, match=r"^flow wanted from the pump: got 30, needs a pump that gives it against [\d.]+"
    ):
        pumps.choose(PUMPS, system(2.0), 30)


def test_every_row_says_that_it_is_invented():
    """No pump of ours is a product."""
    assert {pump.source for pump in PUMPS.values()} == {"invented"}


@pytest.mark.parametrize(
    ("call", "sentence"),
    [
        (lambda: pumps.duty(PUMPS["small-8"], system(1.4)),
         r"^pump: got 'small-8', needs a head over the lift of 1\.4 m; this one ends at 1 m\. Choose a stronger pump"),
        (lambda: pumps.duty(PUMPS["small-8"], system(0.5), 9),
         r"^flow wanted from the pump: got 9, needs at most [\d.]+ L/min, where its curve meets the system's\. Choose"),
        (lambda: pumps.duty(PUMPS["small-8"], system(0.5), 0), r"^flow wanted from the pump: got 0, needs 0\.001 to"),
        (lambda: pumps.duty(PUMPS["small-8"], system(0.5)).yearly_kwh(25), r"^hours a day: got 25, needs 0 to 24 h\."),
        (lambda: load_pumps(HEADING + "a,pump a,0,2,10,own\na,pump a,10,1,10,own\n"),
         r"^pump a: got '2 rows from 0 L/min to 1 m', needs two rows or more, the first at no flow and the last at no"),
        (lambda: load_pumps(HEADING + "a,pump a,0,2,10,own\na,pump a,10,3,10,own\na,pump a,20,0,10,own\n"),
         r"^pump a: got 'rows out of order', needs more flow and less head in each next row\."),
    ],
)  # fmt: skip
def test_a_pump_that_cannot_lift_is_refused(call, sentence):
    """One sentence for each."""
    with pytest.raises(InputError, match=sentence):
        call()


def test_a_reader_s_own_table_takes_the_place_of_ours():
    """Two rows are a straight line; a bad cell is named."""
    own = load_pumps(HEADING + "a,pump a,0,2,10,own\na,pump a,10,0,20,own\n")
    assert pumps.duty(own["a"], System(lift_m=1.0)).flow_l_per_min == pytest.approx(5)
    with pytest.raises(
        TableError, match=r"^your table, line 2, column head_m: got 'high', needs a number from 0 to 100"
    ):
        load_pumps(HEADING + "a,pump a,0,high,10,own\n")
