"""The formulas of this floor: units go together, and what is shown is what ran."""

import pytest

from gardenframe import working
from gardenframe.materials import coverings, sections, sources

OURS = [form for name, form in working.FORMULAS.items() if name.startswith("gardenframe.materials.")]


@pytest.mark.parametrize("form", OURS, ids=lambda form: form.__name__)
def test_formula_keeps_its_word(form):
    """Fed quantities it gives the unit of its name, it shows in both systems, and its source is in the table."""
    working.check(form)
    assert sources.how_known(form.formula.source)


def test_all_of_them_are_seen():
    """Every public formula of the two modules is in the list above."""
    assert {form.__name__ for form in OURS} >= {
        *(name for name in vars(sections) if name.startswith(("tube_", "rectangle_", "rod_", "mass_"))),
        *(name for name in vars(coverings) if name.startswith("mesh_")),
    }
