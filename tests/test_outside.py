"""Every formula, table and stage of the road is held against something outside the project, and the holding works."""

import importlib
import pkgutil

import outside
import pytest
from printed import as_printed, as_worked

import gardenframe
from gardenframe import tables, working
from gardenframe.materials import checked, sources

STAGES = ("frame", "fittings", "pieces", "cutting", "coverings", "loads", "checks", "anchors", "bill", "cost")
WORDS = {  # tables that hold no number that anybody outside could give
    "data/cautions.csv": "sentences",
    "data/before_building.csv": "sentences",
    "data/ideas.csv": "gusts worked out by this package, held against its plans by the tests of ideas",
}
HEARSAY = ("common practice", "invented")  # what nobody outside could confirm: said to be so on the page of sources


def formulas():
    """Return every formula of the package that more than common practice stands behind."""
    for module in pkgutil.walk_packages(gardenframe.__path__, "gardenframe."):
        if not module.name.endswith("__main__"):
            importlib.import_module(module.name)
    ours = {name: form for name, form in working.FORMULAS.items() if name.startswith("gardenframe.")}
    return {name: form for name, form in ours.items() if sources.how_known(form.formula.source) not in HEARSAY}


def sourced_tables():
    """Return the tables of which a row has more than common practice behind it."""
    for path in sorted(tables.data_folder().glob("*.csv")):
        if path.name in ("sources.csv", checked.TABLE) or f"data/{path.name}" in WORDS:
            continue
        _, lines = tables.records(path)
        places = [n for n, heading in enumerate(lines[0][1]) if heading.strip().endswith("source")]
        known = {cells[n].strip() for _, cells in lines[1:] for n in places} - {"none", ""}
        if any(sources.how_known(key) not in HEARSAY for key in known):
            yield f"data/{path.name}"


def unchecked(names):
    """Return those of the names that no outside check speaks of."""
    spoken = {name for check in checked.load_checks() for name in check.checks}
    return sorted(set(names) - spoken)


def test_every_formula_is_checked():
    """A formula stands on a printed, remembered or otherwise worked value."""
    assert unchecked(name.removeprefix("gardenframe.") for name in formulas()) == []


def test_every_table_is_checked():
    """So does each table that claims a source."""
    assert unchecked(sourced_tables()) == []


def test_every_stage_of_the_road_is_checked():
    """From the frame to its cost."""
    assert unchecked(f"plan.{stage}" for stage in STAGES) == []


def test_every_row_has_its_test():
    """No row outlives the test that noted it."""
    assert [check.test for check in checked.load_checks() if not outside.there(check.test)] == []


def test_no_row_is_further_off_than_allowed():
    """What is filed passed."""
    assert [check for check in checked.load_checks() if abs(check.off) > check.allowed * (1 + 1e-5)] == []


class Item:
    """A test as the notes see it."""

    def __init__(self, *args, **kwargs):
        self.path, self.originalname, self.function = outside.Path(outside.__file__), "of_nothing", lambda: None
        self.marks = [pytest.mark.outside(*args, **kwargs).mark]

    def iter_markers(self, _):
        """Return the marks."""
        return self.marks


def test_a_check_that_compares_nothing_or_calls_nothing_is_told():
    """A test that says it checks a formula has to call it, and to compare something."""
    idle = outside.notes_of(Item("strength.wind.exposure_ratio", source="asce7-kz"))
    assert "says it checks strength.wind.exposure_ratio, which never ran" in outside.problem(idle)
    empty = outside.notes_of(Item("data/exposures.csv", source="asce7-kz"))
    assert "compares nothing" in outside.problem(empty)
    empty.note("printed", "0.57", "", "a row", "", [(0.571, 0.001, 0.005)])
    assert outside.problem(empty) == ""
    assert "does not hold what was noted" in outside.not_as_filed(empty)
    with pytest.raises(ValueError, match="say the unit of '0\\.57'"):
        empty.note("printed", "0.57", None, "a row", "", [])
    with pytest.raises(ValueError, match=r"got 'strength\.gales', needs a formula, a module"):
        outside.notes_of(Item("strength.gales", source="asce7-kz"))


def test_the_worst_of_like_numbers_is_kept():
    """Of several numbers compared at once the row shows the one that uses up most of what it is allowed."""
    notes = outside.notes_of(Item("data/exposures.csv", source="asce7-kz"))
    outside.NOW.append(notes)
    try:
        assert as_worked([1.0, 2.0, 3.0], "m", abs=0.2) == [1.0, 2.1, 3.0]
        assert as_worked(2.0, "m", abs=0.1) != 2.15
        assert as_printed("0.57", "") == 0.574
    finally:
        outside.NOW.remove(notes)
    worked, printed = notes.rows.values()
    assert (worked.value, worked.ours, worked.count) == ("2", 2.15, 4)
    assert (printed.value, printed.ours) == ("0.57", 0.574)
