"""The page of sources and checks without a browser: its counts by another road, its controls, its pages of rows."""

import csv
import re

import pytest

import gardenframe
from gardenframe import tables
from gardenframe.teaching import controls
from gardenframe.teaching.controls.paged import ROWS, Paged
from gardenframe.teaching.page import Column, stacked

SHIPPED = {"site": gardenframe.Site(), "shop": gardenframe.Shop()}


@pytest.fixture
def page():
    """Return the page with every heading open."""
    made = controls.sources_and_checks(**SHIPPED)
    made.open()
    return made


def noted():
    """Return the rows of the file of outside checks by the csv module."""
    path = tables.data_folder() / "outside_checks.csv"
    return list(csv.DictReader(path.read_text(encoding="utf-8").splitlines()))


def test_its_counts_are_those_of_the_files(page):
    """Checks by kind, formulas with a check, tables, sources; a dot for each check in both charts."""
    rows = noted()
    kinds = [sum(row["kind"] == kind for row in rows) for kind in ("printed", "remembered", "worked")]
    assert page.number("checks") == str(len(rows))
    assert f"{kinds[0]} printed, {kinds[1]} remembered, {kinds[2]} worked" in page.page.value
    assert page.number("sources") == str(sum(1 for _ in (tables.data_folder() / "sources.csv").open()) - 1)
    close = [abs(float(r["off"])) <= 0.01 * abs(float(r["ours"]) - float(r["off"])) for r in rows]
    apart = [abs(float(r["ours"]) - float(r["off"])) > 1e-12 for r in rows]
    share = 100 * sum(c for c, a in zip(close, apart, strict=True) if a) / sum(apart)
    assert float(page.number("close").removesuffix(" %")) == pytest.approx(min(share, 99.9), abs=0.15)
    lower = page.held.value.split("<svg")[2]
    assert sum(int(number) for number in re.findall(r">[^<:]+: (\d+)</text>", lower)) == len(rows)


def test_every_row_can_be_reached(page):
    """By the two buttons, sixty at a time."""
    checks = page.lists["checks"]
    shown = checks.page.value.count("<tr>") - 1
    while not checks.later.disabled:
        checks.later.click()
        assert checks.page.value.count("<tr>") - 1 <= ROWS
        shown += checks.page.value.count("<tr>") - 1
    assert shown == len(noted())


def test_nonsense_is_said_and_leaves_no_number(page):
    """Words that stand nowhere: a sentence by the box, nothing under any heading; it all comes back."""
    before = page.number("checks")
    page.type("words", "no such <word>")
    said = "Words to find: got 'no such <word>', needs words that stand together in"
    assert page.error.startswith(said)
    assert "role='alert'" in page.inputs.controls["words"].note.value
    pages = [page.page, page.held, page.worked, page.nothing, *(paged.page for paged in page.lists.values())]
    assert [one.value for one in pages if re.search(r"\d", one.value)] == []
    assert page.sections.layout.display == "none"
    page.type("words", "  ")
    assert (page.error, page.number("checks"), page.sections.layout.display) == ("", before, None)


def test_every_choice_answers():
    """Swept in both systems; a part without formulas says so. The workbook sweeps it with every heading open."""
    page = controls.sources_and_checks(**SHIPPED, opened=("formula", "nothing"))
    swept = page.sweep()
    assert (swept.controls, swept.refused) == (3, 0)
    page.inputs.controls["part"].main.value = "Cutting"
    assert page.number("formulas") == "0"
    assert "No formula is of what is chosen." in page.lists["formula"].above.value
    assert page.worked.value == ""


def test_a_formula_is_worked_out_in_both_systems(page):
    """The reader's own first. By hand: 100 N/m over 2 m give 100 x 4 / 8 = 50 N m, 36.88 lbf ft."""
    page.type("words", "simple span uniform midspan moment")
    assert page.which.value == "strength.beams.simple_span_moment_n_m"
    step = page.chosen.formulas[0].form
    metric, us = (step.shown(**step.formula.example, system=system).result for system in ("metric", "us"))
    for system, first, second in (("metric", metric, us), ("us", us, metric)):
        page.use(system)
        plain = page.worked.value.replace(r"\,\mathrm{", " ").replace("}", "")
        assert 0 < plain.index(first.split(" ")[0]) < plain.index(second.split(" ")[0])
    assert r"\(w\)" in page.worked.value
    assert "gardenframe.strength.beams.simple_span_moment_n_m" in page.lists["formula"].above.value
    assert page.lists["formula"].page.value.count("<tr>") - 1 == len(page.chosen.formulas[0].checks)


def test_what_nothing_stands_behind_is_listed(page):
    """Prices and fittings by name; the table of members, of which some rows are invented or practice, by its rows."""
    assert "table fittings.csv" in page.nothing.value
    assert "table prices.csv" in page.nothing.value
    page.inputs.controls["known"].main.value = "seen"
    assert "table fittings.csv" not in page.nothing.value


def test_rows_go_on_and_back():
    """Of 130 rows the first page has 60, the last 10; nothing goes beyond either end."""
    paged = Paged()
    paged.show(range(130), lambda rows: f"{rows[0]}-{rows[-1]}")
    seen = [(paged.page.value, paged.earlier.disabled, paged.later.disabled)]
    for button in (paged.later, paged.later, paged.later, paged.earlier):
        button.click()
        seen.append((paged.page.value, paged.earlier.disabled, paged.later.disabled))
    assert [s[0] for s in seen] == ["0-59", "60-119", "120-129", "120-129", "60-119"]
    assert seen[0][1:] == (True, False)
    assert seen[2][1:] == (False, True)
    paged.show(range(3), lambda rows: str(len(rows)))
    assert (paged.page.value, paged.bar.layout.display) == ("3", "none")


def test_a_stacked_table_says_each_cell_and_escapes():
    """Where headings have no room each cell carries its own."""
    made = stacked("Of <it>", (Column("What"), Column("Off", "%", number=True)), [("a & b", "<1")])
    assert "<td data-label='Off' data-unit='%' class=gf-n>&lt;1</td>" in made
    assert "a &amp; b" in made
    assert "<it>" not in made
