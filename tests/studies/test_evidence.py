"""What the numbers rest on, counted again from source text and CSV files, apart from the code that gathers it."""

import ast
import csv
from collections import Counter
from functools import cache
from pathlib import Path

import pytest

from gardenframe import tables
from gardenframe.materials import checked
from gardenframe.materials.sources import load_sources
from gardenframe.studies import evidence as ev
from gardenframe.studies.parts import PARTS, STAGES, part_of, parts_of

PACKAGE = Path(tables.__file__).parent
DATA = PACKAGE.parent / "data"


@pytest.fixture(scope="module")
def every():
    """Return all that the numbers rest on."""
    return ev.evidence()


@cache
def written_formulas():
    """Return the dotted name and the source of every function under @formula, read from the source text alone."""
    every = []
    for path in PACKAGE.rglob("*.py"):
        module, text = ".".join(path.relative_to(PACKAGE).with_suffix("").parts), path.read_text(encoding="utf-8")
        for node in ast.parse(text).body if "formula(" in text else ():
            for call in getattr(node, "decorator_list", []):
                if isinstance(call, ast.Call) and ast.unparse(call.func) in ("formula", "working.formula"):
                    found = {keyword.arg: keyword.value for keyword in call.keywords}
                    every.append((f"{module}.{node.name}", found["source"].value))
    return every


def rows_of(name):
    """Return the rows of a table by the csv module."""
    return list(csv.DictReader((DATA / name).read_text(encoding="utf-8").splitlines()))


def named_in_tables():
    """Yield table and source key of every cell of every column that ends in source."""
    for path in sorted(DATA.glob("*.csv")):
        if path.name not in ("sources.csv", checked.TABLE):
            for row in rows_of(path.name):
                yield from ((path.name, row[h]) for h in row if h.endswith("source") and row[h] != "none")


def test_every_formula_appears_once(every):
    """As many as stand in the source text, each with the source that stands there."""
    found = [(one.name, one.source.source) for one in every.formulas]
    assert len(found) == len(set(found))
    assert sorted(found) == sorted(written_formulas())


def test_every_source_names_who_uses_it(every):
    """Every row of sources.csv is there; formulas, tables and checks that name a key stand beside it."""
    by_key = {one.source.source: one for one in every.sources}
    assert sorted(by_key) == sorted(row["source"] for row in rows_of("sources.csv"))
    for name, key in written_formulas():
        assert name in [one.name for one in by_key[key].formulas]
    for table, key in set(named_in_tables()):
        assert f"data/{table}" in [one.name for one in by_key[key].tables]
    checks = Counter(row["source"] for row in rows_of(checked.TABLE))
    assert {key: len(one.checks) for key, one in by_key.items() if one.checks} == dict(checks)
    assert "builds.walkway_arch" in by_key["ada-2010"].modules  # it names it on a row of checks, in no formula


def test_tables_are_counted_as_they_lie(every):
    """Rows, and how many of their sources are known how."""
    known = {row["source"]: row["how_known"] for row in rows_of("sources.csv")}
    counted = {}
    for table, key in named_in_tables():
        counted.setdefault(f"data/{table}", Counter())[known[key]] += 1
    assert {one.name: Counter(dict(one.known)) for one in every.tables} == counted
    assert all(one.rows == len(rows_of(Path(one.name).name)) for one in every.tables)


def test_checks_stand_by_what_they_name(every):
    """Every name in the file's column `checks` leads to its formula, table or stage, as often as it is there."""
    named = Counter(name for row in rows_of(checked.TABLE) for name in set(row["checks"].split()))
    for one in (*every.formulas, *every.tables, *every.stages):
        assert len(one.checks) == named[one.name], one.name
        worst = max((check.off_ratio or 0 for check in one.checks), default=None)
        assert (one.worst or 0) == (worst or 0)


def test_what_nothing_stands_behind_is_said(every):
    """Common practice and invention, and nothing else; what has a source and no check is said apart from it."""
    hearsay = {name for name, key in written_formulas() if load_sources()[key].how_known in ev.HEARSAY}
    assert {one.name for one in every.nothing_outside if isinstance(one, ev.FormulaRests)} == hearsay
    assert "data/fittings.csv" in [one.name for one in every.nothing_outside]
    assert "data/members.csv" not in [one.name for one in every.nothing_outside]
    bare = ev.Evidence(stages=(ev.Rests(name="plan.cutting", title="", part=""),))
    assert [one.name for one in bare.not_yet] == ["plan.cutting"]


def test_parts_hold_what_is_there():
    """No part names a module, table or stage that is not, and none is named twice."""
    for what, there in (
        ("modules", lambda name: (PACKAGE / name.replace(".", "/")).with_suffix(".py").is_file()
         or (PACKAGE / name.replace(".", "/")).is_dir()),
        ("tables", lambda name: (DATA / f"{name}.csv").is_file()),
        ("stages", STAGES.__contains__),
    ):  # fmt: skip
        names = [name for part in PARTS for name in getattr(part, what).split()]
        assert [name for name in names if not there(name)] == []
        assert len(names) == len(set(names))
    assert {part_of(f"plan.{stage}") for stage in STAGES} <= {part.title for part in PARTS}


def test_choosing_narrows(every):
    """A part, a way of knowing and words each leave what fits and nothing else; together less than each."""
    wind = ev.narrowed(every, part="Wind")
    assert {one.part for one in (*wind.formulas, *wind.tables)} == {"Wind"}
    assert all("Wind" in parts_of(check.checks) for check in wind.checks)
    assert "asce7-kz" in [one.source.source for one in wind.sources]
    assert "nds-lag" not in [one.source.source for one in wind.sources]
    remembered = ev.narrowed(every, known="memory")
    assert {one.source.how_known for one in (*remembered.formulas, *remembered.sources)} == {"memory"}
    named = {one.name for one in (*remembered.formulas, *remembered.tables)}
    assert all(named & set(check.checks) for check in remembered.checks)
    friction = ev.narrowed(every, words="without FRICTION rounds")
    assert [one.name for one in friction.formulas] == ["water.pipes.swamee_jain"]
    assert ev.narrowed(every, part="Wind", words="without friction").formulas == ()
    assert ev.narrowed(every).checks == every.checks
