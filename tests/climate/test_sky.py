"""Clear-sky light against remembered worked examples and a reference library."""

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st
from printed import as_printed, as_remembered, as_worked

from gardenframe.climate import sky, sun
from gardenframe.errors import InputError

pvlib = pytest.importorskip("pvlib")


@pytest.mark.outside("climate.sky.incidence_cosine", source="duffie-beckman")
def test_incidence_of_a_worked_example():
    """Duffie and Beckman example 1.6.1 (seen): lat 43, 13 February, 10:30, slope 45, 15° west of south: 35°."""
    height = sun.altitude_deg(43, -14, -22.5)
    place = sun.at_solar_time(43, 44, 10.5)
    cosine = sky.incidence_cosine(height, float(place.azimuth_deg) - 195, 45)
    angle = float(np.degrees(np.arccos(cosine)))
    assert angle == as_printed("35", "°", "sun to the normal of a face, 13 February, 10:30")
    assert angle == as_worked(35.18, "°", "sun to the normal of that face, more digits", "worked-apart", abs=0.25)


@pytest.mark.outside("climate.sky.incidence_cosine", source="nrel-spa-memory")
def test_incidence_of_the_published_worked_case():
    """Sun 39.888378° high at 194.340241° (seen), a face tilted by 30° and turned 10° east of south: 25.187°."""
    angle = float(np.degrees(np.arccos(sky.incidence_cosine(39.888378, 194.340241 - 170, 30.0))))
    assert angle == as_remembered("25.187", "°", "sun to the normal of the worked case's face")
    assert angle == pytest.approx(25.187, abs=0.001)


@pytest.mark.outside("climate.sky.incidence_cosine", source="pvlib")
def test_incidence_on_any_face_by_the_reference_library():
    """200 suns on 200 faces, in front of them and behind."""
    rng = np.random.default_rng(5)
    height, turned, tilt = rng.uniform(-90, 90, 200), rng.uniform(-180, 180, 200), rng.uniform(0, 180, 200)
    theirs = pvlib.irradiance.aoi_projection(tilt, 30.0, 90 - height, 30.0 + turned)
    ours = [sky.incidence_cosine(*row) for row in zip(height, turned, tilt, strict=True)]
    assert ours == as_worked(theirs, "", "cosine of the sun to a face's normal", abs=1e-12)


@pytest.mark.outside("climate.sky.outside_air_w_per_m2", source="clear-sky")
def test_beam_of_a_remembered_example():
    """Madison, 22 August, 11:30, standard air: through-share 0.62, beam near 830 W/m2 (from memory, summer air)."""
    place = sun.at_solar_time(43, 234, 11.5)
    light = sky.clear_light(place.altitude_deg, 234, 270)
    assert sky.outside_air_w_per_m2(234) == as_remembered("1339", "W/m²", "sun above the air, 22 August")
    assert float(light.normal_w_per_m2) == pytest.approx(830, rel=0.03)


@pytest.mark.outside("climate.sky", source="pvlib")
@given(st.floats(-60, 60), st.integers(1, 365), st.floats(6, 18), st.floats(0, 90), st.floats(0, 360))
def test_a_tilted_face_is_the_librarys(latitude, day, hour, tilt, azimuth):
    """Given the same beam and diffuse, an even sky and 0.2 from the ground give the same light on any face."""
    place = sun.at_solar_time(latitude, day, hour)
    light = sky.clear_light(place.altitude_deg, day)
    mine = float(sky.on_face(light, place, tilt, azimuth))
    theirs = pvlib.irradiance.get_total_irradiance(
        tilt, azimuth, 90 - float(place.altitude_deg), float(place.azimuth_deg), float(light.normal_w_per_m2),
        float(light.level_w_per_m2), float(light.diffuse_w_per_m2), albedo=0.2, model="isotropic")  # fmt: skip
    assert mine == as_worked(float(theirs["poa_global"]), "W/m²", "light on any face, given beam and sky", abs=1e-6)


@pytest.mark.outside("climate.sky", "climate.sky.outside_air_w_per_m2", source="pvlib")
def test_clear_sky_is_near_two_other_models():
    """From a little to 22 % less than either on level ground above 25°; the sun above the air within 0.5 %."""
    heights, days = (grid.ravel() for grid in np.meshgrid(np.linspace(25, 90, 27), np.arange(1, 366, 7)))
    mine = sky.clear_light(heights, days).level_w_per_m2
    haurwitz = pvlib.clearsky.haurwitz(pd.Series(90.0 - heights))["ghi"].to_numpy()
    solis = pvlib.clearsky.simplified_solis(heights, dni_extra=pvlib.irradiance.get_extra_radiation(days))["ghi"]
    for name, theirs in (("Haurwitz's", haurwitz), ("Solis's", np.asarray(solis))):
        assert (mine < theirs).all()
        assert mine == as_worked(
            theirs, "W/m²", f"clear light on level ground, a fifth below {name} model at most", rel=0.22
        )
    above = pvlib.irradiance.get_extra_radiation(np.arange(1, 366), solar_constant=1367)
    ours = [sky.outside_air_w_per_m2(float(day)) for day in range(1, 366)]
    assert ours == as_worked(above, "W/m²", "sun above the air, all days, by a finer series", rel=0.005)


def test_months_are_the_sums_of_their_hours_and_follow_the_sun():
    """Sums by another rule over fine hours; a south face beats level ground in winter; polar night gives nothing."""
    level, south = sky.monthly_kwh_per_m2_day(45), sky.monthly_kwh_per_m2_day(45, 60, 180)
    for month in (1, 7):
        day = sun.MIDDLE_DAYS[month - 1]
        hours = np.linspace(0, 24, 2881)
        power = sky.clear_light(sun.at_solar_time(45, day, hours).altitude_deg, day).level_w_per_m2
        assert level[month - 1] == pytest.approx(np.trapezoid(power, hours) / 1000, rel=2e-3)
    assert south[11] > 2 * level[11]
    assert south[5] < level[5]
    assert sky.monthly_kwh_per_m2_day(80)[[0, 11]].tolist() == [0, 0]


@pytest.mark.parametrize(
    ("call", "sentence"),
    [
        (lambda: sky.clear_light(30, 1, 4000), r"^height above the sea: got 4000, needs -430 to 2500 m\."),
        (lambda: sky.monthly_kwh_per_m2_day(45, 200), r"^tilt: got 200, needs 0 to 180 deg\."),
        (lambda: sky.monthly_kwh_per_m2_day(-91), r"^latitude: got -91, needs -90 to 90 deg\."),
    ],
)
def test_bad_input_is_a_sentence(call, sentence):
    """Which input, what came, what is needed."""
    with pytest.raises(InputError, match=sentence):
        call()
