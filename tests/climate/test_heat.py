"""Heat, air and dew against worked examples, exact balances and what must be true over all that a slider can reach."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from printed import as_printed, as_remembered
from scipy.optimize import brentq

from gardenframe.climate import covers, frames, heat
from gardenframe.errors import InputError

BTU_W = 0.29307107  # a Btu an hour, exact definition to eight digits
U_BTU = BTU_W / 0.3048**2 * 1.8  # Btu/(h ft2 F) in W/(m2 K)


def house(**changes):
    """A walk-in tunnel 4 by 6 m, half a circle, of one film."""
    usual = {"cover_m2": 50.27, "floor_m2": 24.0, "volume_m3": 37.70, "u_w_per_m2_k": 4.0, "light_ratio": 0.8}
    return heat.House(**usual | changes)


def frame(**changes):
    """Three by six feet, twelve inches in front, eighteen behind."""
    usual = {"width_m": 1.83, "depth_m": 0.914, "front_m": 0.305, "back_m": 0.457, "u_lid_w_per_m2_k": 3.4,
             "u_wall_w_per_m2_k": 3.4, "light_ratio": 0.8}  # fmt: skip
    return frames.ColdFrame(**usual | changes)


def test_heater_of_a_tunnel_worked_by_hand():
    """Half a cylinder 4 by 6 m with ends, U 4.0, 15 K, one change: 3016 + 187 = 3203 W, worked apart from this code."""
    cover = math.pi * 2 * 6 + math.pi * 2**2
    assert heat.cover_loss_w_per_k(4.0, cover) * 15 == as_printed("3016")
    assert heat.air_loss_w_per_k(1.0, math.pi * 2**2 / 2 * 6) * 15 == as_printed("187")
    assert house().heater_w(10, -5) == pytest.approx(3203, abs=1)
    assert house().heater_w(10, 12) == 0


def test_heater_of_a_house_in_customary_units():
    """1000 ft2 of two films, 60 F: 42 000 Btu/h, and 3240 for the air of 3000 ft3: worked apart from this code."""
    cover = heat.cover_loss_w_per_k(0.70 * U_BTU, 1000 * 0.3048**2) * 60 / 1.8
    air = heat.air_loss_w_per_k(1.0, 3000 * 0.3048**3) * 60 / 1.8
    assert cover / BTU_W == pytest.approx(42_000, rel=1e-4)
    assert air / BTU_W == pytest.approx(3240, rel=0.02)  # 0.33 in metric, 0.018 in customary: both are rounded


def test_values_of_covers_are_the_remembered_ones_in_metric():
    """Rows kept in W/(m2 K) against what is remembered in Btu/(h ft2 F)."""
    found = covers.load_covers()
    for key, low, high in (("film-single", 1.1, 1.2), ("film-double", 0.70, 0.70), ("film-double-ir", 0.5, 0.6),
                           ("glass-single", 1.1, 1.13), ("triple-wall-16", 0.4, 0.4), ("twin-wall-8", 0.55, 0.65),
                           ("film-curtain", 0.3, 0.5)):  # fmt: skip
        assert found[key].u_low_w_per_m2_k == pytest.approx(low * U_BTU, abs=0.006)
        assert found[key].u_high_w_per_m2_k == pytest.approx(high * U_BTU, abs=0.006)


def test_fan_of_a_small_house():
    """12 by 24 ft at 8 cfm a square foot is 2304 cfm (worked apart); ours is 10: 2880 cfm."""
    assert heat.fan_m3_per_s(12 * 24 * 0.3048**2) / 0.3048**3 * 60 == pytest.approx(2880, rel=0.001)
    assert heat.air_changes_per_h(0.5, 36.0) == as_printed("50")


@pytest.mark.parametrize(("air", "humidity", "dew"), [(20, 0.5, "9.3"), (25, 0.6, "16.7"), (20, 1.0, "20.0")])
def test_dew_point_as_tables_give_it(air, humidity, dew):
    """From memory of any psychrometric table."""
    assert heat.dew_point_degc(air, humidity) == as_remembered(dew)


@given(st.floats(-20, 35), st.floats(0, 1000), st.floats(0, 8), st.floats(0, 8))
def test_the_balance_closes(outside, sun, vent, wind):
    """What the sun gives leaves by cover, leaks and vent; the root is found by another method."""
    place = house()
    inside = place.inside_degc(outside, sun, vent, wind)
    gain = sun * 24 * 0.8 * 0.75

    def left(rise):
        stack = 0.65 * math.sqrt(9.81 * 1.0 * rise / (outside + rise + 273.15))
        air = 0.33 * 3600 * vent * math.hypot(stack, 0.3 * wind)
        return gain - (4.0 * 50.27 + 0.33 * 37.70 + air) * rise

    assert inside - outside == pytest.approx(brentq(left, 0, 500), abs=1e-6)


@given(st.floats(-20, 35), st.floats(1, 1000), st.floats(0.5, 15), st.floats(0, 8))
def test_vent_asked_for_keeps_the_rise_and_more_never_heats(outside, sun, rise, wind):
    """The vent for a rise gives that rise back, or less where it may stay shut."""
    place = house()
    vent = place.vent_m2(outside, sun, rise, wind)
    assert place.inside_degc(outside, sun, vent, wind) - outside <= rise + 1e-6
    if vent:
        assert place.inside_degc(outside, sun, vent, wind) - outside == pytest.approx(rise, abs=1e-6)
    assert place.inside_degc(outside, sun, vent + 1, wind) <= place.inside_degc(outside, sun, vent, wind) + 1e-9


def test_lid_of_the_usual_frame():
    """12 and 18 in over 3 ft: 9.5° by hand; a house without sun is as cold as outside."""
    assert frame().tilt_deg == pytest.approx(math.degrees(math.atan(6 / 36)), abs=0.05)
    assert house().inside_degc(-4) == pytest.approx(-4)


@given(st.floats(-15, 24), st.floats(0, 1000), st.floats(0, 5))
def test_prop_keeps_the_limit_exactly(outside, sun, wind):
    """At the prop asked for the heat balance closes at the limit; closed or off are said where that is so."""
    cold = frame()
    prop = cold.prop_m(outside, sun, 25, wind)
    gain, rise = sun * cold.lid_m2 * 0.8 * 0.75, 25 - outside
    if prop == 0:
        assert gain <= cold.loss_w_per_k * rise + 1e-9
    else:
        used = prop if prop is not None else 0.6
        speed = max(0.65 / 3 * math.sqrt(9.81 * used * rise / 298.15), 0.025 * wind)
        carried = 0.33 * 3600 * used * (1.83 + 0.914) * speed * rise
        balance = gain - cold.loss_w_per_k * rise - carried
        assert balance > 0 if prop is None else balance == pytest.approx(0, abs=1e-6 * gain)


@given(st.floats(-15, 20))
def test_at_its_limit_of_sun_the_closed_frame_is_at_its_limit(outside):
    """The sun at which it overheats brings it to exactly that temperature."""
    cold = frame()
    assert cold.closed_degc(outside, min(cold.limit_sun_w_per_m2(outside, 24), 1500)) <= 24 + 1e-9
    if cold.limit_sun_w_per_m2(outside, 24) < 1500:
        assert cold.closed_degc(outside, cold.limit_sun_w_per_m2(outside, 24)) == pytest.approx(24)


def test_advice_is_a_sentence():
    """Closed, propped, off."""
    assert frame().advice(0, 0, 24) == "Leave the lid closed: the frame comes to about 0 °C (32 °F)."
    assert frame().advice(10, 600, 24).startswith("Prop the lid ")
    assert frame().advice(30, 900, 24).startswith("Take the lid off: closed, the frame would pass 24 °C")


def test_lid_and_noon_sun_by_month():
    """Angles by hand: 90° less altitude less tilt; nothing in polar night."""
    rows = frame().lid_sun(45)
    for height, angle, power in rows:
        assert angle == pytest.approx(abs(90 - height - frame().tilt_deg), abs=1e-6)
        assert power > 100
    assert frame().lid_sun(80)[11][2] == 0


def test_water_condenses_on_a_cold_single_cover_first():
    """Damp air at 12 °C over frost: one film drips; dry air does not."""
    assert heat.condenses(12, -5, 0.9, 6.25)
    assert not heat.condenses(12, -5, 0.3, 2.0)


def test_garden_has_twelve_invented_months():
    """Each colder by night than by day, and said to be invented."""
    months = covers.load_garden()
    assert sorted(months) == list(range(1, 13))
    for month in months.values():
        assert month.cold_night_degc < month.mean_degc < month.warm_day_degc
        assert month.source == "invented"
    assert covers.load_leaks()["new-film"].changes_low_per_h == 0.5


@pytest.mark.parametrize(
    ("call", "sentence"),
    [
        (lambda: house(cover_m2=-1), r"^cover area: got -1, needs 0\.01 to 100000 m2\.$"),
        (lambda: house(light_ratio=1.2), r"^share of light let through: got 1\.2, needs 0 to 1 "),
        (lambda: house().vent_m2(20, 800, 0), r"^rise over outside: got 0, needs 0\.5 to 60 K\. Vents alone never"),
        (lambda: house(vent_height_m=0).vent_m2(20, 800, 5), r"^height between vents: got 0, needs more than 0 m"),
        (lambda: frame(front_m=0.6), r"^front_m: got 0\.6, needs at most 0\.457 m, the back\. Turn the frame round\.$"),
        (lambda: frame().closed_degc(10, 5000), r"^sun on the lid: got 5000, needs 0 to 1500 W/m2\.$"),
        (lambda: heat.condenses(12, 0, 55, 4), r"^relative humidity: got 55, needs 0\.01 to 1 "),
        (lambda: covers.find_cover("velvet"), r"^cover: got 'velvet', needs one of film-single, "),
    ],
)
def test_bad_input_is_a_sentence(call, sentence):
    """Which input, what came, what is needed."""
    with pytest.raises(InputError, match=sentence):
        call()
