"""The list of workbooks says what is there, in the words of the workbooks themselves."""

import re
from pathlib import Path

import nbformat
import pytest

from gardenframe.teaching import copies, series

ROOT = Path(__file__).parents[2]


def test_every_workbook_that_is_shipped_has_its_row():
    """And every row has its file, in the order of their numbers."""
    assert [book.file for book in series.BOOKS] == [path.name for path in copies.shipped()]
    assert len({book.key for book in series.BOOKS}) == len(series.BOOKS)


@pytest.mark.parametrize("book", series.BOOKS, ids=lambda book: book.key)
def test_a_row_asks_what_its_workbook_asks(book):
    """The title of the file is the question; its minutes are those it says."""
    first = nbformat.read(copies.shipped_folder() / book.file, 4).cells[0].source
    assert first.splitlines()[0] == f"# {book.question}"
    assert f"About {book.minutes} minutes." in first


def test_the_readme_lists_the_same():
    """File and question, one line each."""
    found = re.findall(r"^\| `(\w+)` \| (.+) \|$", (ROOT / "README.md").read_text(encoding="utf-8"), re.MULTILINE)
    assert found == [(Path(book.file).stem, book.question) for book in series.BOOKS]


def test_only_what_is_there_is_listed(tmp_path):
    """A folder with one of them lists one; the table links to it."""
    (tmp_path / "01_trellis.ipynb").write_text("")
    found = series.present(tmp_path)
    assert [book.key for book in found] == ["trellis"]
    assert "| [Trellis](01_trellis.ipynb) | How long" in series.Table(found)._repr_markdown_()


def test_the_teachers_plan_is_a_class_of_90_minutes():
    """The parts add up to what their heading says, and each workbook it names is there."""
    text = "\n".join(c.source for c in nbformat.read(copies.shipped_folder() / "00_start_here.ipynb", 4).cells)
    plan = text.split("a class of 90 minutes")[1].split("##")[0]
    assert sum(int(minutes) for minutes in re.findall(r"^\| (\d+) \|", plan, re.MULTILINE)) == 90
    for name in re.findall(r"`(\d\d_\w+)`", plan):
        assert (copies.shipped_folder() / f"{name}.ipynb").is_file()
