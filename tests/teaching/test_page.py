"""Tables and notes: what a reader sees is what came in, and nothing that came in is taken for HTML."""

import re
from html.parser import HTMLParser

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenframe.teaching.page import Card, Column, alert, cards, note, sentences, table, warning


class Read(HTMLParser):
    """Reads text and tags back, as a browser would."""

    def __init__(self, page: str) -> None:
        super().__init__(convert_charrefs=True)
        self.tags: list[str] = []
        self.cells: list[str] = []
        self.feed(page)

    def handle_starttag(self, tag, attrs):
        """Note a tag, and that a cell starts."""
        self.tags.append(tag)
        if tag in ("td", "li", "strong"):
            self.cells.append("")

    def handle_data(self, data):
        """Add to the last cell."""
        if self.cells:
            self.cells[-1] += data


@given(st.text(alphabet=st.characters(blacklist_categories=("Cs", "Cc")), min_size=1))
def test_no_text_is_taken_for_html(text):
    """Any text in a cell comes back whole and makes no tag of its own."""
    page = table("t", (Column("a"),), [(text,)])
    read = Read(page)
    assert set(read.tags) <= {"div", "table", "caption", "thead", "tbody", "tr", "th", "td"}
    assert read.cells == [text]


def test_a_formula_and_a_tag_in_a_cell_stay_text():
    """What a price table may hold: a script, a quote, a formula."""
    nasty = "<script>alert('x')</script> =1+1 \"&amp;"
    for page in (table("t", (Column("a"),), [(nasty,)]), sentences([nasty]), cards([Card("k", "l", nasty)])):
        assert "<script" not in page
        assert nasty in Read(page).cells
    for page in (note(nasty), alert(nasty), warning([nasty])):
        assert "<script" not in page
        assert "&lt;script&gt;" in page


def test_numbers_stand_right_and_units_stand_in_the_heading():
    """A number's cell and its heading are marked alike; the unit is in the heading alone."""
    page = table("t", (Column("Mark"), Column("Cut", "mm", number=True)), [("P1", 2073)], ("Together", 2073))
    assert re.search(r"<th scope='col' class=gf-n>Cut <span class='gf-unit'>mm</span></th>", page)
    assert page.count("class=gf-n") == 3
    assert page.count("mm") == 1


def test_a_row_that_does_not_fit_its_headings_is_refused():
    """A missing cell would shift numbers under another heading."""
    with pytest.raises(ValueError, match="shorter"):
        table("t", (Column("a"), Column("b")), [("1",)])


def test_an_error_is_spoken_at_once_and_not_by_colour_alone():
    """The sentence has the alert role and a sign before it; nothing to say is nothing at all."""
    assert "role='alert'" in alert("Width: got 9.")
    assert "&#10007;" in alert("Width: got 9.")
    assert alert("") == ""
    assert warning([]) == ""
