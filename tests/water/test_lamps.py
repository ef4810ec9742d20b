"""Lamps: daily light worked apart, the share on a tier against an integral by quadrature, heights found again."""

import math

import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st
from printed import as_remembered, as_worked

from gardenframe.errors import InputError
from gardenframe.materials.stands import load_lamps
from gardenframe.water import energy, lamps

LAMPS = load_lamps()
unit = pint.get_application_registry().Quantity
SIDES = st.floats(0.3, 3.0)
HEIGHTS = st.floats(0.05, 1.0)


def lit(**changes):
    """Three bars of 36 W over 1.8 by 0.5 m, a quarter of a metre over the plants, 16 hours a day."""
    usual = {"lamp": LAMPS["bar-36"], "lamps": 3, "long_m": 1.8, "wide_m": 0.5, "hung_m": 0.25, "lit_h": 16.0}
    return lamps.Lit(**usual | changes)


DAILY = "water.lamps.daily_light_mol_per_m2_day", "water.lamps.wanted_light_umol_per_m2_s"


@pytest.mark.outside(*DAILY, source="second-method")
def test_daily_light_worked_apart():
    """200 umol at 16 h are 11.52 mol; 17 mol in 16 h take 295 umol, 12 in 14 h 238, 20 in 16 h 347.

    Again by a library of units.
    """
    ours = lamps.daily_light_mol_per_m2_day(200, 16)
    assert ours == as_worked(11.52, "mol/(m² day)", "light of 16 h at 200 µmol/(m² s)", "worked-apart", abs=0.0051)
    sums = (unit(200, "umol/m**2/s") * unit(16, "hour")).to("mol/m**2").magnitude
    assert ours == as_worked(sums, "mol/(m² day)", "light of 16 h at 200 µmol/(m² s), by units", "pint")
    for wanted, hours, light in ((17, 16, 295), (12, 14, 238), (20, 16, 347)):
        ours, what = lamps.wanted_light_umol_per_m2_s(wanted, hours), f"light for {wanted} mol in {hours} h"
        assert ours == as_worked(light, "µmol/(m² s)", what, abs=0.51)
        by_units = (unit(wanted, "mol/m**2") / unit(hours, "hour")).to("umol/m**2/s").magnitude
        assert ours == as_worked(by_units, "µmol/(m² s)", f"{what}, by units", "pint")


@pytest.mark.outside("water.lamps.share_on_tier", source="view-factor")
def test_share_of_two_squares_as_far_apart_as_they_are_wide():
    """Handbooks of heat transfer print 0.1998 (from memory)."""
    ours = lamps.share_on_tier(1.0, 1.0, 1.0)
    assert ours == as_remembered("0.1998", "", "light of a square on a like square as far away as it is wide")
    assert ours == pytest.approx(0.1998, abs=1e-4)


@pytest.mark.outside("water.lamps.light_umol_per_m2_s", source="pint")
def test_light_of_lamps_by_units():
    """3 lamps of 36 W at 2.3 µmol/J, half of it on 9 ft2: photons an hour over the area, by a library of units."""
    given = unit(3 * 36, "W") * unit(2.3, "umol/J") * unit(1, "hour") * 0.5
    theirs = (given / unit(9, "ft**2") / unit(3600, "s")).to("umol/m**2/s").magnitude
    ours = lamps.light_umol_per_m2_s(3, 36.0, 2.3, 0.5, 9 * 0.3048**2)
    assert ours == as_worked(theirs, "µmol/(m² s)", "light of three lamps on a tier")


NODES, WEIGHTS = np.polynomial.legendre.leggauss(120)


@pytest.mark.outside("water.lamps.share_on_tier", source="numpy")
@given(SIDES, SIDES, HEIGHTS)
def test_share_against_the_integral(long, wide, height):
    """Cosine law over both faces, summed by Gauss's rule: the four integrals come to two over the shift."""

    def spread(side):
        t = (NODES + 1) / 2  # sinh spreads the nodes where the light is narrow
        reach = math.asinh(side / height)
        return height * np.sinh(reach * t), WEIGHTS / 2 * reach * height * np.cosh(reach * t)

    (u, du), (v, dv) = spread(long), spread(wide)
    square = u[:, None] ** 2 + v[None, :] ** 2 + height**2
    inner = (long - u)[:, None] * (wide - v)[None, :] * height**2 / (math.pi * square**2)
    share = 4 * (du[:, None] * dv[None, :] * inner).sum() / (long * wide)
    ours = lamps.share_on_tier(long, wide, height)
    assert ours == as_worked(share, "", "share of a lit face's light on any tier, by Gauss's rule", rel=1e-6)


@given(SIDES, SIDES, HEIGHTS, st.floats(1.05, 2))
def test_a_higher_lamp_gives_less_and_the_height_is_found_again(long, wide, height, more):
    """The share falls with height, stays below one, and a day's light leads back to the height that gave it."""
    low, high = (lit(long_m=long, wide_m=wide, hung_m=h) for h in (height, min(height * more, 2.0)))
    assert 0 < high.share < low.share < 1
    assert low.hung_for_m(low.daily_light_mol_per_m2_day) == pytest.approx(height, rel=1e-6)


def test_light_of_the_usual_tier_by_hand():
    """3 x 36 W x 2.3 umol/J are 248.4 umol/s; a share of 0.5563 (integral above) on 0.9 m2 is 153.5, in 16 h 8.84."""
    found = lit()
    assert found.light_umol_per_m2_s == pytest.approx(248.4 * 0.5563 / 0.9, rel=1e-4)
    assert found.daily_light_mol_per_m2_day == pytest.approx(153.5 * 3600 * 16 / 1e6, rel=1e-3)
    assert energy.daily_kwh(found.power_w, found.lit_h) == pytest.approx(1.728)
    assert found.hung_for_m(60) is None
    assert found.working("us")[-1].value == pytest.approx(found.daily_light_mol_per_m2_day)
    assert "ft" not in found.working("us")[-1].text


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        (
            {"hung_m": -0.05},
            r"^lamp over the plants: got -0\.05, needs 0\.01 to 2 m\. A lamp hangs over its",
        ),
        ({"lamps": 0}, r"^lamps over a tier: got 0, needs 1 to 200 lamps\."),
        ({"lit_h": 25}, r"^hours of light: got 25, needs 0\.1 to 24 h\."),
    ],
)
def test_a_lamp_under_its_plants_is_refused(changes, sentence):
    """One sentence for each."""
    with pytest.raises(InputError, match=sentence):
        lit(**changes)
