"""Refreshing a workbook keeps its numbers unless a reason is given."""

import nbformat
import pytest
from nbformat import v4

from gardenframe.teaching import refresh


@pytest.fixture
def book(tmp_path):
    """Return a notebook file that was run when it printed 41, and prints 42 now."""
    cell = v4.new_code_cell("print(6 * 7)", execution_count=1, outputs=[v4.new_output("stream", text="41\n")])
    path = tmp_path / "one.ipynb"
    nbformat.write(v4.new_notebook(cells=[cell], metadata={"widgets": {"state": {}}}), path)
    return path


def test_a_number_that_changed_is_refused_without_a_reason(book, capsys):
    """The file stays as it was and the difference is shown."""
    before = book.read_text()
    assert refresh.main([str(book)]) == 1
    assert "-41" in capsys.readouterr().out
    assert book.read_text() == before


def test_a_reason_lets_it_through_without_widget_state(book):
    """The new number is written; widget state and timings are not."""
    assert refresh.main([str(book), "--because", "seven is right"]) == 0
    after = nbformat.read(book, 4)
    assert refresh.printed(after) == ["42"]
    assert "widgets" not in after.metadata
    assert "execution" not in after.cells[0].metadata
