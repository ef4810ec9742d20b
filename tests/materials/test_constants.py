"""Constants in the units in which their sources give them, and what must be true of all."""

import pytest
import scipy.constants
from printed import as_printed, as_remembered, as_worked

from gardenframe.errors import InputError
from gardenframe.materials import constants, sources
from gardenframe.units import FOOT_M, INCH_M, POUND_N

INCH = INCH_M * 1000
KSI_MPA = POUND_N / INCH**2 * 1000
PSF_PA = POUND_N / FOOT_M**2
PCF = scipy.constants.pound / FOOT_M**3

# key: (as its source gives it, unit there, ours in one of that unit); seen or from memory, as its source says
GIVEN = {
    "steel_modulus_gpa": ("29.0", "1000 ksi", KSI_MPA),
    "steel_shear_modulus_gpa": ("11.2", "1000 ksi", KSI_MPA),
    "steel_density_kg_per_m3": ("490", "lb/ft3", PCF),
    "concrete_density_kg_per_m3": ("145", "lb/ft3", PCF),
    "water_density_kg_per_m3": ("62.4", "lb/ft3", PCF),
    "zinc_density_kg_per_m3": ("7.14", "g/cm3", 1000),
    "stake_hold_n": ("1000", "lb", POUND_N),
    "stake_wet_share": ("0.50", "", 1),
    "stake_tested_depth_mm": ("36", "in", INCH),
    "stake_tested_width_mm": ("1.0", "in", INCH),
    "lawn_psf_per_ft": ("100", "psf/ft", 1),
    "soil_short_ratio": ("2.0", "", 1),
    "little_weight_ratio": ("0.60", "", 1),
    "path_clear_mm": ("36", "in", INCH),
    "headroom_mm": ("80", "in", INCH),
    "gate_clear_mm": ("32", "in", INCH),
    "reach_mm": ("24", "in", INCH),
    "chair_low_mm": ("24", "in", INCH),
    "chair_high_mm": ("30", "in", INCH),
    "stand_low_mm": ("30", "in", INCH),
    "stand_high_mm": ("36", "in", INCH),
    "edge_low_mm": ("18", "in", INCH),
    "edge_high_mm": ("24", "in", INCH),
    "head_trap_low_mm": ("3.5", "in", INCH),
    "head_trap_high_mm": ("9.0", "in", INCH),
    "finger_trap_low_mm": ("3.0", "1/8 in", INCH / 8),
    "finger_trap_high_mm": ("1.0", "in", INCH),
    "deck_live_psf": ("40", "psf", 1),
    "deck_dead_psf": ("10", "psf", 1),
    "balcony_live_psf": ("60", "psf", 1),
    "gust_effect_ratio": ("0.85", "", 1),
    "wind_direction_ratio": ("0.85", "", 1),
    "minimum_wind_pa": ("16", "psf", PSF_PA),
    "minimum_roof_wind_pa": ("8", "psf", PSF_PA),
    "inside_open_ratio": ("0.55", "", 1),
    "inside_closed_ratio": ("0.18", "", 1),
    "thermal_cold_ratio": ("1.20", "", 1),
    "screw_wet_ratio": ("0.70", "", 1),
    "screw_thread_ratio": ("0.667", "", 1),
    "screw_bend_mpa": ("80", "ksi", KSI_MPA),
    "screw_reduction_ratio": ("2.20", "", 1),
    "strap_bearing_mpa": ("61.85", "ksi", KSI_MPA),
    "bearing_wet_ratio": ("0.67", "", 1),
    "board_mm": ("1.50", "in", INCH),
    "creep_wet_ratio": ("2.00", "", 1),
    "sheet_pitch_mm": ("2.67", "in", INCH),
    "sheet_depth_mm": ("0.50", "in", INCH),
    "sheet_yield_mpa": ("33", "ksi", KSI_MPA),
    "zinc_power": ("0.813", "", 1),
    "zinc_bend_years": ("20", "years", 1),
    "zinc_screen_mg_per_kg": ("160", "mg/kg", 1),
    "fish_feed_low_ratio": ("1.0", "% a day", 0.01),
    "fish_feed_high_ratio": ("2.0", "% a day", 0.01),
    "water_viscosity_m2_per_s": ("1.0", "mm2/s", 1e-6),
    "crack_strain_ratio": ("20", "%", 0.01),
    "kink_ratio": ("25", "diameters", 1),
    "solar_w_per_m2": ("1367", "W/m2", 1),
    "air_heat_w_h_per_m3_k": ("0.33", "W h/(m3 K)", 1),
    "discharge_ratio": ("0.65", "", 1),
    "wind_opening_ratio": ("0.30", "", 1),
    "one_sided_wind_ratio": ("0.025", "", 1),
    "inside_film_m2_k_per_w": ("0.13", "m2 K/W", 1),
    "plastic_manning": ("0.011", "", 1),
    "plastic_roughness_mm": ("1.5", "µm", 0.001),
    "laminar_reynolds": ("2000", "", 1),
    "fish_low_kg_per_m3": ("10", "kg/m3", 1),
    "fish_high_kg_per_m3": ("20", "kg/m3", 1),
    "tube_zinc_um": ("20", "µm", 1),
    "pvc_rated_degc": ("23", "°C", 1),
    "pvc_half_degc": ("43", "°C", 1),
}
WHOLE_MM = ("finger_trap_high_mm",)  # 1 in as 25 mm, further off than a change of units has to be


@pytest.mark.outside("data/constants.csv", "materials.constants", source="common-constants")
@pytest.mark.parametrize("key", GIVEN)
def test_a_constant_is_what_its_source_gives(key):
    """Turned back into the unit of its source."""
    row, (given, unit, one) = constants.constant(key), GIVEN[key]
    seen = sources.how_known(row.source) == "seen"
    copied = key not in WHOLE_MM
    assert row.value / one == (as_printed if seen else as_remembered)(given, unit, row.label, row.source, copied=copied)


@pytest.mark.outside("data/constants.csv", "materials.constants", source="stake-field")
def test_stakes_hold_what_their_builder_tells():
    """stake-field: like bars held from 100 to 300 kg."""
    assert constants.value("stake_spread") == as_worked(300 / 100, "", "what like stakes held, highest over lowest")


@pytest.mark.outside("data/constants.csv", "materials.constants", source="scipy")
def test_gravity_is_that_of_the_library():
    """Standard gravity of scipy's table, to one in two thousand."""
    gravity = constants.value("gravity_m_per_s2")
    assert gravity == as_worked(scipy.constants.g, "m/s2", "acceleration of gravity", rel=5e-4)


def test_a_constant_that_is_not_there_is_refused():
    """By its name."""
    with pytest.raises(InputError, match=r"^constant: got 'moon_m', needs a key of constants\.csv"):
        constants.constant("moon_m")
