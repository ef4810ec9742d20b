"""The formulas of water and light: units go together, what is shown is what ran, every source is in the table."""

import importlib
import pkgutil

import pytest

from gardenframe import water, working
from gardenframe.materials import sources

for module in pkgutil.iter_modules(water.__path__, "gardenframe.water."):
    importlib.import_module(module.name)
OURS = [form for name, form in working.FORMULAS.items() if name.startswith("gardenframe.water.")]


@pytest.mark.parametrize("form", OURS, ids=lambda form: form.__name__)
def test_formula_keeps_its_word(form):
    """Fed quantities it gives the unit of its name, it shows in both systems, and its source is in the table."""
    working.check(form)
    assert sources.how_known(form.formula.source)


def test_none_is_missing():
    """The list above is not empty by accident."""
    assert len(OURS) >= 9
