"""The pages under each heading against the plan they come from, in both unit systems."""

import functools
import html
import re

import pytest

import gardenframe
from gardenframe import units
from gardenframe.builds import ALL, Trellis
from gardenframe.materials.shop import Shop
from gardenframe.output.sticks import stick_rows
from gardenframe.studies.stronger import changes
from gardenframe.teaching import results, standing_results
from gardenframe.teaching.reading import Reader

READERS = [Reader("metric"), Reader("us")]


def cells_of(page: str, columns: int) -> list[list[str]]:
    """Return the cells of a table's body, row by row, as text."""
    body = page.split("<tbody>")[1].split("</tbody>")[0]
    cells = [html.unescape(cell) for cell in re.findall(r"<td[^>]*>(.*?)</td>", body)]
    return [cells[i : i + columns] for i in range(0, len(cells), columns)]


def plan_of(reader: Reader, **values):
    """Return a trellis's plan with the tape of the reader's units."""
    return gardenframe.plan(Trellis(**values), shop=Shop(tape="mm" if reader.system == "metric" else "1/16 in"))


@functools.cache
def example(kind, name):
    """Return the plan of an example, for both readers; all but the first by the quick methods of a moving slider."""
    return gardenframe.plan(kind(**kind.examples[name]), live=name != next(iter(kind.examples)))


@functools.cache
def example_changes(kind, name):
    """Return what would make an example stronger, worked out once for both readers."""
    return changes(example(kind, name))


@pytest.fixture
def changes_once(monkeypatch):
    """Let the page of each example have its changes from the same one search."""

    def known(plan):
        kind = type(plan.build)
        name = next(name for name in kind.examples if example(kind, name) is plan)
        return example_changes(kind, name)

    monkeypatch.setattr(standing_results, "changes", known)


@pytest.mark.usefixtures("changes_once")
@pytest.mark.parametrize("reader", READERS, ids=lambda reader: reader.system)
@pytest.mark.parametrize("kind", ALL.values(), ids=lambda kind: kind.key)
def test_every_page_of_every_example_is_written(kind, reader):
    """Every heading has its line and its page, for every example of every build; all but the first as while sliding.

    What is only written at rest tries a dozen other plans: for the first example.
    """
    for number, name in enumerate(kind.examples):
        plan = example(kind, name)
        for section in results.sections():
            if section.offered(plan) and section.kind != "figure" and not (number and section.at_rest):
                assert section.page(plan, reader)
                assert section.sums_up(plan, reader)


@pytest.mark.parametrize("reader", READERS, ids=lambda reader: reader.system)
def test_pieces_are_those_of_the_plan(reader):
    """Marks, cut lengths and counts of the table are the plan's DataFrame, written by `units`."""
    plan = plan_of(reader, bays=3, mid_rails=2)
    rows = cells_of(results.pieces_page(plan, reader), 5)
    for row, piece in zip(rows, plan.pieces.to_dict("records"), strict=True):
        cut = units.write(piece["cut_mm"] / 1000, "length", reader.system).removesuffix(" mm")
        assert row[0] == piece["mark"]
        assert row[2] == cut
        assert float(row[3]) == pytest.approx(
            piece["length_mm"] / (1 if reader.system == "metric" else 25.4), abs=0.051
        )
        assert row[4] == str(piece["count"])


def test_the_bill_adds_up():
    """The costs in the table sum to the amount beneath them, which is the plan's."""
    plan = plan_of(READERS[0])
    page = results.bill_page(plan, READERS[0])
    costs = [float(row[-1]) for row in cells_of(page, 6)]
    together = float(re.findall(r">([\d.,]+)</td></tr></tfoot>", page)[0].replace(",", ""))
    assert sum(costs) == pytest.approx(together, abs=0.005)
    assert together == pytest.approx(plan.cost.usual, abs=0.005)


@pytest.mark.parametrize("values", [{}, {"bays": 4, "mid_rails": 3, "braces": True}, {"form": "A-frame"}], ids=str)
def test_every_piece_is_cut_once_and_fits_its_stick(values):
    """The bars hold each mark as often as the pieces do, and no stick holds more than its length."""
    plan = plan_of(READERS[0], **values)
    drawn: dict[str, int] = {}
    for member in plan.cutting:
        for stock, pieces, kerf, times in stick_rows(plan, member):
            assert sum(length for _, length in pieces) + kerf * (len(pieces) - 1) <= stock + 1e-9
            for mark, _ in pieces:
                drawn[mark] = drawn.get(mark, 0) + times
    assert drawn == {piece.mark: piece.count for piece in plan.cut}


def test_mass_is_that_of_the_tube_by_hand():
    """3 x 2073.23 + 1756.46 + 4 x 856.23 mm of 1 in EMT at the table's mass of a metre."""
    plan = plan_of(READERS[0])
    metres = (3 * 2073.23 + 1756.46 + 4 * 856.23) / 1000
    assert results.tube_mass_kg(plan) == pytest.approx(metres * plan.shop.member("emt-1").mass_kg_per_m, abs=1e-3)


def test_fittings_leave_out_none():
    """The counts in the table sum to the fittings of the plan, caps included."""
    plan = plan_of(READERS[0], joining="slip-on")
    counts = [int(row[-1]) for row in cells_of(results.fittings_page(plan, READERS[0]), 4)]
    assert sum(counts) == int(plan.fittings["count"].sum())


def test_the_working_shows_both_systems():
    """The same headings; a bay by hand is (1830 - 29.54) / 2 = 900.2 mm, 35.44 in."""
    plan = plan_of(READERS[0])
    metric, us = (results.working_page(plan, reader) for reader in READERS)
    assert re.findall(r"<h4>(.*?)</h4>", metric) == re.findall(r"<h4>(.*?)</h4>", us)
    assert r"900.2\,\mathrm{mm}" in metric
    assert r"35.44\,\mathrm{in}" in us


def test_cautions_are_all_there_and_nothing_is_called_safe():
    """Every caution of the plan stands in the list; the note defers to codes and licensed practice."""
    plan = plan_of(READERS[0])
    page = results.cautions_page(plan, READERS[0])
    assert page.count("<li>") == len(plan.cautions)
    assert "Local codes and licensed practice come first" in page
