"""The formulas of this floor: units go together, what is shown is what ran, every source is in the table."""

import pytest

from gardenframe import working
from gardenframe.climate import frames, heat, shade, sky, sun  # noqa: F401 (registers)
from gardenframe.materials import sources

OURS = [form for name, form in working.FORMULAS.items() if name.startswith("gardenframe.climate.")]


@pytest.mark.parametrize("form", OURS, ids=lambda form: form.__name__)
def test_formula_keeps_its_word(form):
    """Fed quantities it gives the unit of its name, it shows in both systems, and its source is in the table."""
    working.check(form)
    assert sources.how_known(form.formula.source)


def test_none_is_missing():
    """The list above is not empty by accident."""
    assert len(OURS) >= 25
