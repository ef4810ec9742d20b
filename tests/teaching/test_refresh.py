"""Refreshing a workbook keeps its numbers unless a reason is given."""

import nbformat
import pytest
from nbformat import v4

from gardenframe.teaching import refresh


def written(folder, source, *outputs, count=1, **metadata):
    """Write a notebook of one cell that was run when it showed `outputs`."""
    cell = v4.new_code_cell(source, execution_count=count, outputs=list(outputs))
    path = folder / "one.ipynb"
    nbformat.write(v4.new_notebook(cells=[cell], metadata=metadata), path)
    return path


def stream(text):
    """Return what a cell printed."""
    return v4.new_output("stream", text=text)


@pytest.fixture
def book(tmp_path):
    """Return a notebook file that was run when it printed 41, and prints 42 now."""
    return written(tmp_path, "print(6 * 7)", stream("41\n"), widgets={"state": {}})


def test_a_number_that_changed_is_refused_without_a_reason(book, capsys):
    """The file stays as it was and the difference is shown."""
    before = book.read_bytes()
    assert refresh.main([str(book)]) == 1
    said = capsys.readouterr().out.splitlines()
    assert said[:3] == ["one.ipynb: refused", "-41", "+42"]
    assert refresh.main([str(book), "--because", "  "]) == 1
    assert book.read_bytes() == before


def test_a_reason_lets_it_through_without_widget_state(book, capsys):
    """The new number is written, its reason said; widget state and timings are not kept."""
    assert refresh.main([str(book), "--because", "seven is right"]) == 0
    assert capsys.readouterr().out.startswith("one.ipynb: numbers changed: seven is right\n-41\n+42\n")
    after = nbformat.read(book, 4)
    assert refresh.printed(after) == ["42"]
    assert "widgets" not in after.metadata
    assert "execution" not in after.cells[0].metadata


def test_a_number_in_a_table_or_formula_counts_too(tmp_path, capsys):
    """What nbval compares is held as well: HTML and LaTeX, not only what was printed."""
    source = "from IPython.display import HTML, Latex, display\ndisplay(HTML('<b>42</b>'), Latex('$x = 42$'))"
    kinds = (("HTML", "text/html", "<b>42</b>"), ("Latex", "text/latex", "$x = 41$"))
    old = [
        v4.new_output("display_data", data={"text/plain": f"<IPython.core.display.{name} object>", kind: text})
        for name, kind, text in kinds
    ]
    assert refresh.main([str(written(tmp_path, source, *old))]) == 1
    assert capsys.readouterr().out.splitlines()[1:3] == ["-$x = 41$", "+$x = 42$"]


def test_a_table_that_starts_with_a_rule_counts_too(tmp_path, capsys):
    """A printed line of dashes or pluses is not taken for the head of a comparison."""
    assert refresh.main([str(written(tmp_path, "print('-- 2')", stream("-- 1\n")))]) == 1
    assert capsys.readouterr().out.splitlines()[1:3] == ["--- 1", "+-- 2"]


def test_what_has_not_changed_stays_byte_for_byte(tmp_path, capsys):
    """A second refresh touches nothing, whatever address an object has this time."""
    path = written(tmp_path, "print(42, object())", stream("42 <object object at 0x7f0000000000>\n"), count=7)
    before = path.read_bytes()
    assert refresh.main([str(path)]) == 0
    assert capsys.readouterr().out == "one.ipynb: as it was\n"
    assert path.read_bytes() == before


def test_words_may_change_and_a_new_workbook_needs_no_reason(tmp_path, capsys):
    """Only numbers are held; a cell never run has none."""
    assert refresh.main([str(written(tmp_path, "print('a rail')", stream("a post\n")))]) == 0
    new = written(tmp_path, "print(42)", count=None)
    assert refresh.main([str(new)]) == 0
    assert capsys.readouterr().out == "one.ipynb: written\none.ipynb: written\n"
    assert nbformat.read(new, 4).cells[0].execution_count == 1


def test_a_workbook_that_does_not_run_is_left_and_said(tmp_path, capsys):
    """One sentence instead of a page of traceback; the others are still refreshed."""
    path = written(tmp_path, "assert 2 + 2 == 5, 'four'", stream("42\n"))
    before = path.read_bytes()
    (tmp_path / "next").mkdir()
    other = written(tmp_path / "next", "print('a rail')", stream("a post\n"))
    assert refresh.main([str(path), str(other)]) == 1
    expected = "one.ipynb stops: AssertionError: four. It is left as it was.\none.ipynb: written\n"
    assert capsys.readouterr().out == expected
    assert path.read_bytes() == before
