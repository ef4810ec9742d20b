"""Zinc in air against ISO 9223 and 9224 as an open model has them, and lives recomputed from them."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from printed import as_printed, as_worked
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from gardenframe import working
from gardenframe.climate import weathering
from gardenframe.errors import InputError
from gardenframe.materials import corrosion, sources

OURS = [form for name, form in working.FORMULAS.items() if name.startswith("gardenframe.climate.weathering.")]


@pytest.mark.parametrize("form", OURS, ids=lambda form: form.__name__)
def test_formula_keeps_its_word(form):
    """It shows in both systems and its source is in the table."""
    working.check(form)
    assert sources.how_known(form.formula.source)


LOSSES = {0.7: (0.70, 2.59, 4.55, 8.00, 11.25), 2.1: (2.10, 7.77, 13.65, 23.99, 33.74)}
WORN = "climate.weathering.early_loss_um", "climate.weathering.late_loss_um"


@pytest.mark.outside(*WORN, source="worked-apart")
@pytest.mark.parametrize("rate", LOSSES)
def test_loss_after_years(rate):
    """ISO 9224, r t^0.813, straight after 20 years: recomputed apart for 1, 5, 10, 20 and 30 years."""
    found = [weathering.zinc_loss_um(rate, years) for years in (1, 5, 10, 20, 30)]
    assert found == as_worked(LOSSES[rate], "µm", f"zinc lost in 1 to 30 years, {rate:g} µm in the first", abs=0.0051)


@pytest.mark.outside(*WORN, source="scipy")
def test_loss_as_a_rate_that_falls():
    """The loss grows by 0.813 of itself over its age, until its rate stays what it is at 20 years: stepped on in time.

    A stepper of differential equations starts from the loss of the first year; the power of the years is not written.
    """

    def rate_um(years, lost_um):
        return 0.813 * lost_um / years if years <= 20 else slope

    early = solve_ivp(rate_um, (1, 20), [1.7], t_eval=[2, 6, 13, 20], rtol=1e-11, atol=1e-12)
    slope = rate_um(20, early.y[0, -1])
    late = solve_ivp(rate_um, (20.0001, 60), [early.y[0, -1] + 0.0001 * slope], t_eval=[25, 60], rtol=1e-11, atol=1e-12)
    theirs = [*early.y[0], *late.y[0]]
    ours = [weathering.zinc_loss_um(1.7, years) for years in (2, 6, 13, 20, 25, 60)]
    assert ours == as_worked(theirs, "µm", "zinc lost in 2 to 60 years, stepped on in time", rel=1e-8)


@pytest.mark.outside("climate.weathering", source="worked-apart")
@pytest.mark.parametrize(("coating", "lives"), [(10, (26.2, 6.8, 2.9)), (20, (56.9, 16.0, 6.8))], ids=["10", "20"])
def test_life_of_a_coat(coating, lives):
    """Recomputed apart for 0.7, 2.1 and 4.2 um in the first year."""
    found = [weathering.zinc_years(rate, coating) for rate in (0.7, 2.1, 4.2)]
    assert found == as_worked(lives, "years", f"life of {coating} µm of zinc, mild to harsh", abs=0.051)


@pytest.mark.outside("climate.weathering.first_year_um", source="second-method")
def test_first_year_by_the_air():
    """ISO 9223 equation 2 at 10 degC, 75 %, 5 and 3 mg/m2 a day: 0.825 + 0.140 = 0.965 um, category C3.

    A second place, warm and salt, 20 degC, 80 %, 10 and 30 mg/m2 a day, by logarithms to the base of 10.
    """
    found = weathering.first_year_um(10.0, 75.0, 5.0, 3.0)
    assert found == as_worked(0.965, "µm", "zinc lost in a first year inland", "worked-apart", abs=0.0006)
    rows = corrosion.load_corrosion()
    assert rows["C3"].low_um < found < rows["C3"].high_um
    to_ten = math.log10(math.e)
    sulphur = 10 ** (math.log10(0.0129) + 0.44 * math.log10(10) + (0.046 * 80 - 0.71) * to_ten)
    salt = 10 ** (math.log10(0.0175) + 0.57 * math.log10(30) + (0.008 * 80 + 0.085 * 20) * to_ten)
    warm = weathering.first_year_um(20.0, 80.0, 10.0, 30.0)
    assert warm == as_worked(sulphur + salt, "µm", "zinc lost in a first year by a warm sea", rel=1e-12)


@pytest.mark.outside("data/corrosion.csv", source="iso-9223")
def test_categories_are_those_of_the_standard():
    """ISO 9223:2012: 0.1, 0.7, 2.1, 4.2, 8.4 um in the first year, each beginning where the last ends."""
    rows = corrosion.load_corrosion()
    for key, printed in (("C1", "0.1"), ("C2", "0.7"), ("C3", "2.1"), ("C4", "4.2"), ("C5", "8.4")):
        assert rows[key].high_um == as_printed(printed, "µm", f"most zinc lost in the first year, {key}", copied=True)
    ends = list(rows.values())
    assert [row.high_um for row in ends] == [0.1, 0.7, 2.1, 4.2, 8.4]
    assert [row.low_um for row in ends[1:]] == [row.high_um for row in ends[:-1]]


@given(st.floats(0.01, 25), st.floats(1, 300))
def test_life_is_when_the_loss_equals_the_coat(rate, coating):
    """Against a root found by bisection; never shorter than the coat over the loss of the first year."""
    years = weathering.zinc_years(rate, coating)
    again = brentq(lambda t: weathering.zinc_loss_um(rate, t) - coating, 1e-9, 1e7, xtol=1e-12, rtol=1e-12)
    assert years == pytest.approx(again, rel=1e-6)
    if coating >= rate:
        assert years >= coating / rate * (1 - 1e-9)


@pytest.mark.parametrize(("rate", "coating"), [(0, 10), (-1, 10), (1, 0), (1, 400), (float("nan"), 10)])
def test_nonsense_is_named(rate, coating):
    """A rate or a coat that cannot be."""
    with pytest.raises(InputError, match="loss in the first year|zinc coating"):
        weathering.zinc_years(rate, coating)
