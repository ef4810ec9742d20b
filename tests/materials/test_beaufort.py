"""The Beaufort scale: its printed limits, the curve behind them, and what a gust in a mean wind is."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from printed import as_printed, as_worked

from gardenframe.errors import InputError
from gardenframe.materials import beaufort, constants

# beaufort (WMO limits, on which two sources agree) [m/s]
LOWEST = ("0", "0.3", "1.6", "3.4", "5.5", "8.0", "10.8", "13.9", "17.2", "20.8", "24.5", "28.5", "32.7")


@pytest.mark.outside("data/beaufort.csv", source="beaufort")
def test_every_row_begins_where_the_scale_prints():
    """Thirteen rows, 0 to 12."""
    rows = beaufort.scale()
    assert [row.force for row in rows] == [str(force) for force in range(13)]
    for row, printed in zip(rows, LOWEST, strict=True):
        assert row.from_m_per_s == as_printed(
            printed, "m/s", f"force {row.force}, {row.label}: lowest mean wind", copied=True
        )


@pytest.mark.outside("data/beaufort.csv", source="second-method")
def test_rows_begin_half_way_along_the_curve():
    """v = 0.836 B^1.5 (from memory), half a force below each number."""
    worked = [0.836 * (force - 0.5) ** 1.5 for force in range(1, 13)]
    found = [row.from_m_per_s for row in beaufort.scale()[1:]]
    assert found == as_worked(worked, "m/s", "lowest mean wind of a force, by the curve of the scale", abs=0.1)


def open_country(height_m, mean_10_m_per_s):
    """Return mean wind and peak gust over open country: the log profile and qp = (1 + 7 Iv) times the mean pressure.

    From memory of EN 1991-1-4, terrain II: kr 0.19, roughness 0.05 m.
    """
    depth = math.log(height_m / 0.05)
    mean = 0.19 * depth * mean_10_m_per_s
    return mean, mean * math.sqrt(1 + 7 / depth)


@pytest.mark.outside("materials.beaufort.mean_wind_m_per_s", source="en-1991-1-4-profile")
@pytest.mark.parametrize("wind", [12.0, 25.0])
def test_a_gust_in_open_country_is_about_one_and_a_half_times_the_mean(wind):
    """The mean that goes with a gust, against a wind code's profile at the 10 m of the scale: within 3 %."""
    mean, gust = open_country(10.0, wind)
    ours = beaufort.mean_wind_m_per_s(gust, constants.value("gust_ratio"))
    said = f"ten-minute mean behind a gust of {gust:.1f} m/s in open country"
    assert ours == as_worked(mean, "m/s", said, rel=0.03)


@pytest.mark.outside("materials.beaufort.mean_wind_m_per_s", "data/beaufort.csv", source="beaufort")
def test_the_gust_of_a_force_leads_back_to_its_row():
    """One and a half times the lowest wind of a row is a gust of that row; a little less is one of the row below."""
    for row, printed in zip(beaufort.scale()[1:], LOWEST[1:], strict=True):
        gust = 1.5 * float(printed)
        lowest = beaufort.mean_wind_m_per_s(gust, 1.5)
        assert lowest == as_printed(
            printed, "m/s", f"force {row.force}: mean behind 1.5 times its lowest wind", copied=True
        )
        assert beaufort.row_of_gust(gust + 1e-9, 1.5) is row
        assert int(beaufort.row_of_gust(gust - 1e-6, 1.5).force) == int(row.force) - 1


@given(st.floats(0, 90), st.floats(1, 3))
def test_a_stronger_gust_is_never_of_a_lower_row(gust, ratio):
    """Rows rise with the gust, and a gustier place has a lower mean."""
    force = int(beaufort.row_of_gust(gust, ratio).force)
    assert int(beaufort.row_of_gust(gust + 5, ratio).force) >= force
    assert int(beaufort.row_of_gust(gust, min(ratio + 0.2, 3.0)).force) <= force


def test_a_gust_below_its_mean_is_refused():
    """The sentence says what is usual."""
    with pytest.raises(InputError, match=r"^gust factor: got 0\.8, needs 1 to 3.* A gust is higher than the mean"):
        beaufort.row_of_gust(10.0, 0.8)
