"""Every workbook is complete, committed executed, and small to read."""

import ast
import re
from pathlib import Path

import nbformat
import pytest

from gardenframe.tables import source_keys

FOLDER = Path(__file__).parents[1] / "workbooks"
BOOKS = sorted(FOLDER.glob("*.ipynb"))
LARGEST_OUTPUT = 50_000
MOST_CELLS = 24


@pytest.fixture(params=BOOKS, ids=lambda path: path.stem)
def book(request):
    """Return one workbook."""
    return nbformat.read(request.param, 4)


def code_cells(book):
    """Return the code cells that hold anything."""
    return [cell for cell in book.cells if cell.cell_type == "code" and cell.source.strip()]


def prose(book):
    """Return all text of a workbook."""
    return "\n".join(cell.source for cell in book.cells if cell.cell_type == "markdown")


def test_there_are_workbooks():
    """The tests below have something to look at."""
    assert BOOKS


def test_the_title_asks_a_question_and_the_moments_are_there(book):
    """Title, how to start, goal, guess first, check yourself, takeaway, sources."""
    first = book.cells[0].source.splitlines()[0]
    assert first.startswith("# ")
    assert first.endswith("?")
    text = prose(book).lower()
    for moment in ("to start", "you will be able to", "guess first", "check yourself", "takeaway", "sources"):
        assert moment in text, moment
    assert any("check" in cell.metadata.get("tags", []) for cell in code_cells(book))
    assert len(book.cells) <= MOST_CELLS


def test_it_is_committed_executed_and_without_errors(book):
    """A cell that was never run would pass nbval whatever it prints."""
    for cell in code_cells(book):
        assert cell.execution_count is not None, cell.source
        assert all(output.output_type != "error" for output in cell.outputs)
        assert not [o for o in cell.outputs if o.output_type == "stream" and o.name == "stderr"]
        assert all(len(str(output)) < LARGEST_OUTPUT for output in cell.outputs)
    assert "widgets" not in book.metadata


def test_nothing_of_the_machine_it_ran_on_is_kept(book):
    """No view that only a live kernel could fill, no time, no path of somebody's folder."""
    for cell in code_cells(book):
        assert "execution" not in cell.metadata
        for output in cell.outputs:
            assert "application/vnd.jupyter.widget-view+json" not in output.get("data", {})
            assert not re.search(r"/(home|root|tmp|Users)/|[A-Z]:\\\\", str(output.get("text", output.get("data")))), (
                cell.source
            )


def test_no_cell_is_kept_from_the_comparison(book):
    """What a cell shows is compared when the tests run; none is skipped or ignored."""
    for cell in book.cells:
        assert not [tag for tag in cell.metadata.get("tags", []) if tag.startswith("nbval")], cell.source
        assert "# NBVAL" not in cell.source


def test_code_is_collapsed_plain_and_short(book):
    """No magics, no star imports, no long functions; a reader need not open any of it."""
    for cell in code_cells(book):
        assert cell.metadata.get("jupyter", {}).get("source_hidden") is True, cell.source
        assert not re.search(r"^\s*[%!]", cell.source, re.MULTILINE), cell.source
        for node in ast.walk(ast.parse(cell.source)):
            if isinstance(node, ast.ImportFrom):
                assert all(alias.name != "*" for alias in node.names), cell.source
            if isinstance(node, ast.FunctionDef):
                assert node.end_lineno - node.lineno <= 5, node.name


def test_every_link_and_source_key_exists(book):
    """Links lead to files that are there; keys in backquotes under Sources are keys of sources.csv."""
    for target in re.findall(r"\]\(([^)#]+)\)", prose(book)):
        if not target.startswith(("http", "attachment:")):
            assert (FOLDER / target).exists(), target
    sources = next(
        cell.source for cell in book.cells if cell.cell_type == "markdown" and "sources" in cell.source.lower()
    )
    for key in re.findall(r"`([a-z0-9][a-z0-9-]+)`", sources):
        assert key in source_keys(), key
