"""The soil's push, walls and filling of a bed against printed values, quadrature and what must be true."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from printed import as_printed
from scipy.integrate import quad
from scipy.optimize import minimize_scalar

from gardenframe.materials import constants
from gardenframe.materials.soils import PCF_N_PER_M3, PSF_PA
from gardenframe.strength import beams, bed_soil, bed_walls, soil_push

DEPTHS, WEIGHTS = st.floats(0.05, 1.2), st.floats(2000, 21_000)


def test_the_published_wall():
    """A 3 m wall, phi 30, 20 kN/m³: the published answer is 30 kN/m (seen)."""
    ratio = soil_push.active_ratio(30.0)
    assert soil_push.push_n_per_m(ratio, 20_000.0, 3.0, 0.0) / 1000 == as_printed("30")


@pytest.mark.parametrize(
    ("angle", "printed"),
    [(20, "0.4903"), (25, "0.4059"), (28, "0.3610"), (30, "0.3333"), (32, "0.3073"), (35, "0.2710"), (38, "0.2379")],
)
def test_ratios_recomputed_apart(angle, printed):
    """Recomputed independently as tan²(45 - phi/2); the code has (1 - sin)/(1 + sin)."""
    assert soil_push.active_ratio(float(angle)) == as_printed(printed)
    assert soil_push.active_ratio(float(angle)) == pytest.approx(math.tan(math.radians(45 - angle / 2)) ** 2)


def test_a_bed_recomputed_apart():
    """0.45 m, 12 kN/m³, phi 30: 1.8 kPa at the foot, 0.405 kN/m, 0.0608 kN m/m (recomputed independently)."""
    given_ = (soil_push.active_ratio(30.0), 12_000.0, 0.45, 0.0)
    assert soil_push.push_pa(*given_) / 1000 == as_printed("1.8")
    assert soil_push.push_n_per_m(*given_) / 1000 == as_printed("0.405")
    assert soil_push.base_moment_n(*given_) / 1000 == as_printed("0.0608")


def test_the_code_s_fluid_of_clean_sand():
    """IBC's 30 pcf (seen) is 4.71 kN/m³ and gives 0.477 kN/m at 0.45 m (recomputed): a fluid has a ratio of 1."""
    fluid = 30 * PCF_N_PER_M3
    assert fluid / 1000 == as_printed("4.71")
    assert soil_push.push_n_per_m(1.0, fluid, 0.45, 0.0) / 1000 == as_printed("0.477")


@given(st.floats(5, 45), WEIGHTS, DEPTHS, st.floats(0, 5000))
def test_push_and_moment_are_sums_of_the_pressure(angle, weight, depth, on_top):
    """By quadrature of the pressure and its lever; at rest pushes harder than active."""
    active, rest = soil_push.active_ratio(angle), soil_push.rest_ratio(angle)
    assert active < rest < 1
    whole = quad(lambda z: soil_push.push_pa(active, weight, z, on_top), 0, depth)[0]
    moment = quad(lambda z: soil_push.push_pa(active, weight, z, on_top) * (depth - z), 0, depth)[0]
    assert soil_push.push_n_per_m(active, weight, depth, on_top) == pytest.approx(whole)
    assert soil_push.base_moment_n(active, weight, depth, on_top) == pytest.approx(moment)


@given(st.floats(0.2, 0.6), st.floats(11_000, 21_000), DEPTHS)
def test_water_in_the_bed_pushes_harder_than_soaked_soil(ratio, weight, depth):
    """At no depth less; of water alone (a floating soil that weighs nothing) as much as water."""
    water = 9810.0
    assert soil_push.flooded_push_pa(ratio, weight, water, depth, 0.0) > soil_push.push_pa(ratio, weight, depth, 0.0)
    assert soil_push.flooded_push_pa(ratio, water, water, depth, 0.0) == pytest.approx(water * depth)


@given(st.floats(0, 2000), st.floats(0, 4000), st.floats(0.1, 1.0))
def test_two_rails_share_what_lies_between(upper, more, height):
    """Shares by quadrature of pressure times lever over the height."""
    lower = upper + more

    def pressure(down):
        return upper + more * down / height

    top = quad(lambda down: pressure(down) * (height - down) / height, 0, height)[0]
    foot = quad(lambda down: pressure(down) * down / height, 0, height)[0]
    assert soil_push.upper_share_n_per_m(upper, lower, height) == pytest.approx(top)
    assert soil_push.lower_share_n_per_m(upper, lower, height) == pytest.approx(foot)


def test_the_post_under_a_triangle():
    """The largest moment of the simple span found by search: w x (h² - x²)/(6 h) along x from the free end."""
    foot, width, height = 1800.0, 0.8, 0.45
    load = foot * width

    def moment(x):
        return load * height * x / 6 - load * x**3 / (6 * height)

    found = minimize_scalar(lambda x: -moment(x), bounds=(0, height), method="bounded")
    assert soil_push.post_moment_n_m(foot, width, height) == pytest.approx(-found.fun, rel=1e-8)
    whole = load * height / 2
    assert soil_push.post_moment_n_m(foot, width, height) / (whole * height) == as_printed("0.1283")  # from memory


@pytest.mark.parametrize("flat", [0.25, 0.5])
def test_an_even_load_stands_for_a_sloping_one(flat):
    """The wall is worked with the mean of the push between two rails: within 3 % of the true largest moment."""
    upper, lower, span = 2000.0 * flat, 2000.0, 0.4

    def moment(x):
        share = soil_push.upper_share_n_per_m(upper, lower, span)
        return share * x - upper * x**2 / 2 - (lower - upper) * x**3 / (6 * span)

    true = -minimize_scalar(lambda x: -moment(x), bounds=(0, span), method="bounded").fun
    assert beams.simple_span_moment_n_m((upper + lower) / 2, span) == pytest.approx(true, rel=0.03)


# --- walls


@pytest.mark.parametrize(("depth", "pitch"), [(12.7, 67.7), (18.0, 76.0), (22.0, 90.0)])
def test_corrugated_sheet_against_its_true_arc(depth, pitch):
    """The sine integrated along its own length: the first term of the series is within 1 %."""

    def strip(x):
        y = depth / 2 * math.cos(2 * math.pi * x / pitch)
        slope = math.pi * depth / pitch * math.sin(2 * math.pi * x / pitch)
        return y**2 * math.sqrt(1 + slope**2)

    true = 0.5 * quad(strip, 0, pitch)[0] / pitch * 1000
    assert bed_walls.corrugated_second_moment_mm4(0.5, depth, pitch, 1000.0) == pytest.approx(true, rel=0.01)


def test_corrugated_sheet_against_a_handbook():
    """2-2/3 x 1/2 in sheet of 0.0598 in bare steel: 0.00189 in⁴/in in handbooks (from memory), as arcs."""
    mine = bed_walls.corrugated_second_moment_mm4(0.0598 * 25.4, 12.7, 67.73, 25.4) / 25.4**4
    assert mine == pytest.approx(0.00189, rel=0.05)


@given(st.floats(100, 6000), st.floats(0.1, 0.6), st.floats(0.03, 0.25))
def test_a_hung_fabric_is_in_balance(pressure, height, share):
    """Of half of it: pull x belly = push on the half x its lever; at the rail by Pythagoras."""
    sag = share * height
    pull = bed_walls.fabric_pull_n_per_m(pressure, height, sag)
    assert pull * sag == pytest.approx(pressure * height / 2 * height / 4)
    edge = bed_walls.fabric_edge_pull_n_per_m(pull, pressure, height)
    assert edge == pytest.approx(math.hypot(pull, pressure * height / 2))
    slope = edge / pull  # secant of the angle at the rail; tan = 4 f/h of a parabola
    assert slope == pytest.approx(math.hypot(1, 4 * sag / height))


# --- soil


def test_deck_loads_recomputed_apart():
    """0.45 m at 900 kg/m³ is 3.97 kPa, 83 psf; 0.20 m at 800 is 32.8 psf and leaves 7 of 40 (recomputed)."""
    deep = bed_soil.floor_pressure_pa(bed_soil.soil_mass_kg(0.45, 900.0), 9.81, 1.0, 0.0)
    shallow = bed_soil.floor_pressure_pa(bed_soil.soil_mass_kg(0.20, 800.0), 9.81, 1.0, 0.0)
    assert deep / 1000 == as_printed("3.97")
    assert deep / PSF_PA == as_printed("83")
    assert shallow / PSF_PA == as_printed("32.8")
    assert 40 - shallow / PSF_PA == as_printed("7")


@given(st.floats(0.1, 3), st.floats(0, 1), st.floats(0, 0.4))
def test_what_is_bought_settles_to_what_is_needed(volume, share, settling):
    """The bought volume less its settling is the component's share of the bed."""
    bought = bed_soil.bought_volume_m3(volume, share, settling)
    assert bought * (1 - settling) == pytest.approx(volume * share)
    assert bed_soil.season_drop_m(0.4, share, 0.2) <= 0.4 * 0.2 + 1e-12


def test_zinc_of_a_tube_in_a_tonne_of_soil():
    """1 m of 1 in EMT has 0.0928 m², 2.1 µm of it is 1.39 g (both recomputed): 1.39 mg/kg in 1000 kg."""
    face = math.pi * 0.0295402
    assert face == as_printed("0.0928")
    ratio = bed_soil.zinc_share_ratio(face, 2.1e-6, constants.value("zinc_density_kg_per_m3"), 1000.0)
    assert ratio * 1e6 == as_printed("1.39")


def test_zinc_on_sheet():
    """G60: 0.60 oz a square foot on both faces, at 7140 kg/m³: 12.8 µm a face (recomputed)."""
    a_face = 0.60 * 0.0283495 / 2 / 0.09290304
    assert a_face / 7140 * 1e6 == as_printed("12.8")
    assert constants.value("sheet_zinc_um") == 12.8
