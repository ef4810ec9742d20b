"""Heat, air and dew against worked examples, exact balances and what must be true over all that a slider can reach."""

import math

import fluids
import numpy as np
import pint
import pvlib
import pytest
from hypothesis import given
from hypothesis import strategies as st
from printed import as_remembered, as_worked
from scipy.integrate import quad
from scipy.optimize import brentq

from gardenframe.climate import covers, frames, heat
from gardenframe.errors import InputError

unit = pint.get_application_registry().Quantity
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


LOSSES = "climate.heat.cover_loss_w_per_k", "climate.heat.air_loss_w_per_k"


@pytest.mark.outside(*LOSSES, "climate.heat.heat_loss_w", source="worked-apart")
def test_heater_of_a_tunnel_worked_by_hand():
    """Half a cylinder 4 by 6 m with ends, U 4.0, 15 K, one change: 3016 + 187 = 3203 W, worked apart from this code."""
    cover = math.pi * 2 * 6 + math.pi * 2**2
    lost = heat.heat_loss_w(heat.cover_loss_w_per_k(4.0, cover), 15.0)
    leaked = heat.heat_loss_w(heat.air_loss_w_per_k(1.0, math.pi * 2**2 / 2 * 6), 15.0)
    assert lost == as_worked(3016, "W", "lost through the cover of a small tunnel at night", abs=0.5)
    assert leaked == as_worked(187, "W", "lost with the air of a small tunnel at night", abs=0.5)
    assert house().heater_w(10, -5) == as_worked(3203, "W", "heater of the tunnel", abs=1)
    assert house().heater_w(10, 12) == 0


@pytest.mark.outside(*LOSSES, "climate.heat.heat_loss_w", source="pint")
def test_heater_of_a_house_in_customary_units():
    """1000 ft2 of two films, 60 F: 42 000 Btu/h, and 3240 for the air of 3000 ft3, 0.018 Btu for each ft3 and F.

    The customary sums are made of the customary numbers that are remembered, by a library of units.
    """
    u, warmer = unit(0.70, "Btu/(hour ft**2 delta_degF)"), unit(60, "delta_degF")
    cover = u * unit(1000, "ft**2") * warmer
    air = unit(0.018, "Btu/(ft**3 delta_degF hour)") * unit(3000, "ft**3") * warmer
    assert cover.to("Btu/hour").magnitude == pytest.approx(42_000)
    lost = heat.cover_loss_w_per_k(0.70 * U_BTU, 1000 * 0.3048**2)
    leaked = heat.air_loss_w_per_k(1.0, 3000 * 0.3048**3)
    rise = 60 / 1.8
    assert heat.heat_loss_w(lost, rise) == as_worked(cover.to("W").magnitude, "W", "1000 ft² of two films", rel=1e-6)
    # 0.33 in metric, 0.018 in customary: both are rounded
    assert heat.heat_loss_w(leaked, rise) == as_worked(air.to("W").magnitude, "W", "air of 3000 ft³", rel=0.02)


@pytest.mark.outside("climate.heat.air_loss_w_per_k", source="fluids")
def test_heat_of_air_is_density_times_specific_heat():
    """A library's standard air by its density; 1005 J/(kg K), from memory; between 0 and 2 km the number is less."""
    for height, most in ((0.0, 0.05), (600.0, 0.03)):
        theirs = 1005 * fluids.ATMOSPHERE_1976(height).rho * 50.0 / 3600
        what = f"1 air change of 50 m³, air as at {height:g} m"
        assert heat.air_loss_w_per_k(1.0, 50.0) == as_worked(theirs, "W/K", what, rel=most)


COVERS = [("film-single", "1.1", "1.2"), ("film-double", "0.70", "0.70"), ("film-double-ir", "0.5", "0.6"),
          ("glass-single", "1.1", "1.13"), ("triple-wall-16", "0.40", "0.40"), ("twin-wall-8", "0.55", "0.65"),
          ("film-curtain", "0.3", "0.5")]  # fmt: skip
LIGHT = {"film-single": "0.88", "film-double": "0.77", "film-double-ir": "0.76", "glass-single": "0.88",
         "twin-wall-6": "0.82", "twin-wall-8": "0.80", "triple-wall-16": "0.74"}  # fmt: skip


@pytest.mark.outside("data/cover_heat.csv", source="cover-heat")
def test_values_of_covers_are_the_remembered_ones_in_metric():
    """Rows kept in W/(m2 K) against what is remembered in Btu/(h ft2 F), to more digits than memory has."""
    found = covers.load_covers()
    for key, low, high in COVERS:
        row, unit_told = found[key], "Btu/(h ft² °F)"
        assert row.u_low_w_per_m2_k / U_BTU == as_remembered(
            low, unit_told, f"{row.label}: heat loss, lower value", copied=True
        )
        assert row.u_high_w_per_m2_k / U_BTU == as_remembered(
            high, unit_told, f"{row.label}: heat loss, higher value", copied=True
        )
        assert row.u_low_w_per_m2_k == pytest.approx(float(low) * U_BTU, abs=0.006)
        assert row.u_high_w_per_m2_k == pytest.approx(float(high) * U_BTU, abs=0.006)
    for key, share in LIGHT.items():
        assert found[key].light_share == as_remembered(share, "", f"{found[key].label}: share of light", copied=True)


LEAKS = [("new-glass", "0.75", "1.5"), ("new-film", "0.5", "1.0"), ("old-tight", "1.0", "2.0"),
         ("old-leaky", "2.0", "4.0")]  # fmt: skip


@pytest.mark.outside("data/air_leaks.csv", source="house-air")
def test_air_changes_of_houses_are_the_remembered_ones():
    """By age and repair, an hour."""
    found = covers.load_leaks()
    assert set(found) == {key for key, *_ in LEAKS}
    for key, low, high in LEAKS:
        row = found[key]
        assert row.changes_low_per_h == as_remembered(low, "1/h", f"{row.label}: air changes, fewest", copied=True)
        assert row.changes_high_per_h == as_remembered(high, "1/h", f"{row.label}: air changes, most", copied=True)
        assert (row.changes_low_per_h, row.changes_high_per_h) == (float(low), float(high))


@pytest.mark.outside("climate.heat.fan_m3_per_s", "climate.heat.air_changes_per_h", source="house-air")
def test_fan_of_a_small_house():
    """12 by 24 ft at 10 cfm a square foot: 2880 cfm; 8 cfm under 8 ft, 2304 cfm, is one air change a minute."""
    fan = unit(heat.fan_m3_per_s(12 * 24 * 0.3048**2), "m**3/s").to("ft**3/min").magnitude
    assert fan == as_remembered("2880", "cfm", "summer fan of 12 by 24 ft, 10 cfm a square foot")
    eight, house_m3 = unit(8 * 12 * 24, "ft**3/min").to("m**3/s").magnitude, unit(8 * 12 * 24, "ft**3").to("m**3")
    changes = heat.air_changes_per_h(eight, house_m3.magnitude)
    assert changes / 60 == as_remembered("1.00", "1/min", "air changes of a house 8 ft high at 8 cfm a square foot")
    theirs = (unit(0.5, "m**3/s") / unit(36.0, "m**3")).to("1/hour").magnitude
    assert heat.air_changes_per_h(0.5, 36.0) == as_worked(theirs, "1/h", "air changes of half a m³ a second", "pint")


@pytest.mark.outside("climate.heat.dew_point_degc", source="magnus")
@pytest.mark.parametrize(("air", "humidity", "dew"), [(20, 0.5, "9.3"), (25, 0.6, "16.7"), (20, 1.0, "20.0")])
def test_dew_point_as_tables_give_it(air, humidity, dew):
    """From memory of any psychrometric table."""
    what = f"dew point of air of {air} °C and {humidity:.0%}"
    assert heat.dew_point_degc(air, humidity) == as_remembered(dew, "°C", what)


@pytest.mark.outside("climate.heat.dew_point_degc", source="pvlib")
def test_dew_point_by_a_library():
    """From frost to a hot house, from dry to nearly soaked."""
    air, humidity = (grid.ravel() for grid in np.meshgrid(np.linspace(-10, 45, 12), np.linspace(0.05, 1, 20)))
    theirs = pvlib.atmosphere.tdew_from_rh(air, 100 * humidity)
    ours = [heat.dew_point_degc(*row) for row in zip(air, humidity, strict=True)]
    assert ours == as_worked(theirs, "°C", "dew point, -10 to 45 °C", abs=1e-9)


@pytest.mark.outside("climate.heat.cover_degc", source="second-method")
def test_inner_face_of_a_cover_by_heat_that_passes_on():
    """What comes to the face through a film of still air, 0.13 m2 K/W, goes on through the rest: a root of the two."""

    def unspent(face, inside, outside, u):
        return (inside - face) / 0.13 - (face - outside) / (1 / u - 0.13)

    for inside, outside, u in ((12.0, 0.0, 6.25), (18.0, -15.0, 3.97), (5.0, 25.0, 2.27)):
        theirs = brentq(unspent, -60, 60, args=(inside, outside, u), xtol=1e-12)
        what = f"inner face, {inside:g} in and {outside:g} °C out, U {u:g}"
        assert heat.cover_degc(inside, outside, u) == as_worked(theirs, "°C", what, "scipy", abs=1e-9)


@pytest.mark.outside("climate.heat.stack_m_per_s", source="second-method")
def test_warmth_drives_air_as_the_weights_of_two_columns_do():
    """Two equal vents, ideal gas in and out: the pressure that lets in as much as goes out is found, and what comes in.

    Ours takes the two densities as one, as handbooks do: 1 % at 12 K.
    """
    outside, inside, height, discharge = 278.15, 290.15, 1.7, 0.65
    cold, warm = (101_325 / (287.05 * kelvin) for kelvin in (outside, inside))

    def in_less_out(low_pa):
        high_pa = (cold - warm) * 9.81 * height - low_pa
        return discharge * (math.sqrt(2 * cold * low_pa) - math.sqrt(2 * warm * high_pa))

    low_pa = brentq(in_less_out, 1e-9, (cold - warm) * 9.81 * height - 1e-9)
    theirs = discharge * math.sqrt(2 * low_pa / cold)
    ours = heat.stack_m_per_s(height, 12.0, inside)
    assert ours == as_worked(theirs, "m/s", "fresh air into each m² of low vent, vents 1.7 m apart", rel=0.015)


@pytest.mark.outside("climate.heat.vent_m_per_s", source="second-method")
def test_warmth_and_wind_push_together():
    """Each drives its own flow by a pressure that goes with its square; the pressures add, and drive one flow."""
    for stack, wind in ((0.37, 2.0), (0.5, 0.0), (0.1, 6.0)):
        pressures = [0.6 * (speed / 0.65) ** 2 for speed in (stack, 0.3 * wind)]
        together = 0.65 * math.sqrt(sum(pressures) / 0.6)
        what = f"air by warmth, {stack:g} m/s, and wind, {wind:g} m/s"
        assert heat.vent_m_per_s(stack, wind) == as_worked(together, "m/s", what)


@pytest.mark.outside("climate.frames.one_sided_m3_per_s", source="scipy")
def test_one_opening_breathes_by_warmth_over_its_height():
    """Cold in below the middle, warm out above: speed grows with the root of the distance from it, and is summed.

    By wind it is 0.025 of its speed through the whole opening, from memory.
    """
    wide, high, rise, inside = 1.3, 0.4, 9.0, 298.15
    theirs = 0.65 * wide * quad(lambda z: math.sqrt(2 * 9.81 * z * rise / inside), 0, high / 2)[0]
    ours = frames.one_sided_m3_per_s(wide * high, high, rise, inside, 0.0)
    assert ours == as_worked(theirs, "m³/s", "air through one opening 0.4 m high", rel=1e-7)
    blown = frames.one_sided_m3_per_s(2.0, 0.1, 1.0, 293.15, 8.0) / (2.0 * 8.0)
    assert blown == as_remembered("0.025", "", "share of the wind that one opening exchanges", "vent-flow")


@pytest.mark.outside("climate.frames.prop_opening_m2", source="scipy")
def test_opening_of_a_propped_lid_is_summed_round_its_edges():
    """A slot as long as the front, and at each end a gap that grows from the hinge: summed along the end."""
    theirs = 1.8 * 0.13 + 2 * quad(lambda back: 0.13 * back / 0.9, 0, 0.9)[0]
    ours = frames.prop_opening_m2(0.13, 1.8, 0.9)
    assert ours == as_worked(theirs, "m²", "opening of a lid propped 130 mm", rel=1e-9)


# floor 24 m2 and U A 4.0 x 50.27 + 0.33 x 37.70 of the tunnel, 0.8 let through, a quarter evaporated
HELD = "climate.heat.solar_gain_w", "climate.heat.needed_flow_m3_per_s", "climate.heat.vent_area_m2"


@pytest.mark.outside(*HELD, "climate.heat.vent_m_per_s", "climate.heat.stack_m_per_s", source="scipy")
def test_vent_of_a_tunnel_by_a_root_of_its_balance():
    """Sun in = cover + leaks + vent: the vent that closes it for 5 K over 18 °C at 800 W/m2 is found by halving."""

    def spare(vent_m2):
        each = math.hypot(0.65 * math.sqrt(9.81 * 1.0 * 5 / 296.15), 0.3 * 1.5)
        return 800 * 24 * 0.8 * 0.75 - (4.0 * 50.27 + 0.33 * 37.70 + 0.33 * 3600 * vent_m2 * each) * 5

    theirs = brentq(spare, 0, 100, xtol=1e-13)
    assert house().vent_m2(18.0, 800.0, 5.0, 1.5) == as_worked(theirs, "m²", "low vent of a tunnel in sun", rel=1e-9)


@pytest.mark.outside("climate.frames.overheating_sun_w_per_m2", "climate.heat.closed_rise_k", source="scipy")
def test_sun_that_overheats_a_frame_by_a_root_of_its_balance():
    """Loss 12 W/K, lid 1.65 m2 that lets 0.8 through, a quarter evaporated: the sun that holds 15 K, and 300 W/m2."""
    theirs = brentq(lambda sun: sun * 1.65 * 0.8 * 0.75 - 12 * 15, 0, 1500, xtol=1e-12)
    ours = frames.overheating_sun_w_per_m2(15.0, 12.0, 1.65, 0.8, 0.25)
    assert ours == as_worked(theirs, "W/m²", "sun that brings a closed frame to its limit", rel=1e-9)
    theirs = brentq(lambda rise: 300 * 1.65 * 0.8 * 0.75 - 12 * rise, 0, 500, xtol=1e-12)
    ours = heat.closed_rise_k(heat.solar_gain_w(300.0, 1.65, 0.8, 0.25), 12.0)
    assert ours == as_worked(theirs, "K", "how much warmer that frame gets in 300 W/m²", rel=1e-9)


@pytest.mark.outside("climate.heat.solar_gain_w", "climate.heat", source="scipy")
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

    root = brentq(left, 0, 500)
    assert inside - outside == as_worked(root, "K", "how much warmer a tunnel gets, shut or open", abs=1e-6)


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
