"""Zinc in air against ISO 9223 and 9224 as an open model has them, and lives recomputed from them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
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


@pytest.mark.parametrize(
    ("rate", "losses"),
    [(0.7, (0.70, 2.59, 4.55, 8.00, 11.25)), (2.1, (2.10, 7.77, 13.65, 23.99, 33.74))],
)
def test_loss_after_years(rate, losses):
    """ISO 9224, r t^0.813, straight after 20 years: recomputed apart for 1, 5, 10, 20 and 30 years."""
    found = [weathering.zinc_loss_um(rate, years) for years in (1, 5, 10, 20, 30)]
    assert found == pytest.approx(losses, abs=0.0051)


@pytest.mark.parametrize(("coating", "lives"), [(10, (26.2, 6.8, 2.9)), (20, (56.9, 16.0, 6.8))])
def test_life_of_a_coat(coating, lives):
    """Recomputed apart for 0.7, 2.1 and 4.2 um in the first year."""
    found = [weathering.zinc_years(rate, coating) for rate in (0.7, 2.1, 4.2)]
    assert found == pytest.approx(lives, abs=0.051)


def test_first_year_by_the_air():
    """ISO 9223 equation 2 at 10 degC, 75 %, 5 and 3 mg/m2 a day: 0.825 + 0.140 = 0.965 um, category C3."""
    found = weathering.first_year_um(10.0, 75.0, 5.0, 3.0)
    assert found == pytest.approx(0.965, abs=0.0006)
    rows = corrosion.load_corrosion()
    assert rows["C3"].low_um < found < rows["C3"].high_um


def test_categories_are_those_of_the_standard():
    """ISO 9223:2012: 0.1, 0.7, 2.1, 4.2, 8.4 um in the first year, each beginning where the last ends."""
    rows = list(corrosion.load_corrosion().values())
    assert [row.high_um for row in rows] == [0.1, 0.7, 2.1, 4.2, 8.4]
    assert [row.low_um for row in rows[1:]] == [row.high_um for row in rows[:-1]]


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
