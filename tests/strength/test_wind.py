"""Wind and snow against printed rows of ASCE 7, as transcribed in open test files and permit sheets."""

import pytest
from printed import as_printed

from gardenframe.errors import InputError
from gardenframe.materials.site import Site
from gardenframe.strength import snow, wind

# source: open test files that transcribe ASCE 7-16 Table 26.10-1 (B, C, D)
KZ = {
    15: ("0.57", "0.85", "1.03"),
    20: ("0.62", "0.90", "1.08"),
    30: ("0.70", "0.98", "1.16"),
    50: ("0.81", "1.09", "1.27"),
}


@pytest.mark.outside("strength.wind.exposure_ratio", "data/exposures.csv", source="asce7-kz")
@pytest.mark.parametrize(("height_ft", "printed"), KZ.items())
def test_exposure_rows(height_ft, printed):
    """Every entry to the two digits printed."""
    for row, text in zip(wind.rows("exposures.csv"), printed, strict=True):
        ours = wind.exposure_ratio(height_ft, row["alpha"], row["gradient_height_ft"])
        assert ours == as_printed(text, "", f"exposure {row['exposure']}, {height_ft} ft up")


def test_velocity_pressure_worked():
    """40 m/s, C: 708.6 Pa; 115 mph (51.41 m/s), C: 1170.5 Pa = 24.46 psf (worked independently)."""
    assert wind.velocity_pressure_pa(0.85, 0.85, 1.0, 40.0) == as_printed("708.6")
    assert wind.velocity_pressure_pa(0.85, 0.85, 1.0, 51.41) == pytest.approx(1170.5, abs=0.1)


def test_a_forecast_gust_keeps_no_directionality_and_shelter_takes_its_share():
    """Ks 0.5 halves the pressure; Kd 0.85 is a code's alone."""
    code = wind.site_pressure_pa(Site(wind_m_per_s=30, exposure="C", shelter="open"), 2.0)
    gust = wind.site_pressure_pa(Site(wind_m_per_s=30, wind_kind="forecast", exposure="C", shelter="open"), 2.0)
    walled = wind.site_pressure_pa(Site(wind_m_per_s=30, exposure="C", shelter="walled"), 2.0)
    assert code / gust == pytest.approx(0.85)
    assert walled / code == pytest.approx(0.5)


@pytest.mark.parametrize(
    ("solidity", "flat", "rounded"),
    [(0.05, 2.0, 1.2), (0.1, 1.8, 1.3), (0.29, 1.8, 1.3), (0.3, 1.6, 1.5), (0.7, 1.6, 1.5)],
)
def test_lattice_rows(solidity, flat, rounded):
    """ASCE 7-16 Table 29.4-2, seen in a city permit sheet and a national code text."""
    assert wind.lattice_coefficient(solidity, round_bars=False) == flat
    assert wind.lattice_coefficient(solidity) == rounded


def test_a_bare_trellis_worked():
    """Five members of 1.8 m, 29.5 mm: solid 0.2655 m², Cf 1.2, q 708.6: 191.9 N (worked independently)."""
    assert 5 * 1.8 * wind.tube_wind_n_per_m(708.6, 0.85, 1.2, 0.0295) == as_printed("191.9")


def test_wall_rows_and_between_them():
    """ASCE 7 Figure 29.3-1: s/h 1, B/s 1 is 1.45 and B/s 10 is 1.30; s/h 0.5, B/s 2 is 1.70."""
    assert wind.wall_coefficient(2.0, 2.0, 2.0) == pytest.approx(1.45)
    assert wind.wall_coefficient(20.0, 2.0, 2.0) == pytest.approx(1.30)
    assert wind.wall_coefficient(2.0, 1.0, 2.0) == pytest.approx(1.70)
    assert 1.40 < wind.wall_coefficient(3.0, 2.0, 2.0) < 1.45


@pytest.mark.parametrize(("solidity", "printed"), [(1.0, "1.0000"), (0.9, "0.9684"), (0.8, "0.9106"), (0.7, "0.8357")])
def test_porous_share(solidity, printed):
    """1 - (1 - e)^1.5."""
    assert wind.porous_ratio(solidity) == as_printed(printed)


def test_free_and_arched_roofs():
    """Pitched 15 degrees A 1.1 / -0.4; level monoslope 1.2 / 0.3 and -1.1 / -0.1; semicircle +0.70 / -1.20 / -0.50."""
    assert wind.free_roof_coefficients("pitched", 15.0)[0] == (1.1, -0.4)
    assert wind.free_roof_coefficients("monoslope", 0.0) == [(1.2, 0.3), (-1.1, -0.1)]
    assert wind.arched_coefficients(0.5) == pytest.approx((0.70, -1.20, -0.50))
    assert wind.arched_coefficients(0.25, from_ground=False)[0] == pytest.approx(0.075)
    with pytest.raises(
        InputError, match=r"^rise over span of an arched roof: got 0\.8, needs more than 0 and at most 0\.6"
    ):
        wind.arched_coefficients(0.8)


def test_flat_snow_worked():
    """Lancaster: ground 30 psf gives 21 psf with every factor one; 25.2 with Ct 1.2."""
    assert snow.flat_snow_pa(1.0, 1.0, 1.0, 30.0) == pytest.approx(21.0)
    assert snow.flat_snow_pa(1.0, 1.2, 1.0, 30.0) == pytest.approx(25.2)


def test_slope_factor_lines():
    """Cold and rough: 1 to 45 deg then 1 - (a - 45)/25; slippery: 1 to 15 deg; none from 70 deg."""
    assert snow.slope_ratio(45.0, 45.0) == 1
    assert snow.slope_ratio(55.0, 45.0) == pytest.approx(1 - 10 / 25)
    assert snow.slope_ratio(15.0, 15.0) == 1
    assert snow.slope_ratio(70.0, 15.0) == 0
    assert snow.slope_ratio(89.0, 15.0) == 0
