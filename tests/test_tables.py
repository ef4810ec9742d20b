"""Tables: every bad cell gets its own sentence, and every table of ours is sound."""

import csv
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenframe import tables
from gardenframe.errors import TableError
from gardenframe.tables import Column

SCHEMA = {
    "key": Column(kind="key"),
    "label": Column(),
    "kind": Column(kind="choice", choices=("tube", "rod")),
    "outer_mm": Column(kind="number", low=1, high=100),
    "count": Column(kind="whole", low=0),
    "depth_mm": Column(kind="number", optional=True),
    "sharp": Column(kind="flag"),
    "seen_on": Column(kind="date", optional=True),
    "tags": Column(kind="tags"),
    "source": Column(kind="source"),
}
HEAD = "key,label,kind,outer_mm,count,depth_mm,sharp,seen_on,tags,source\n"
GOOD = "a-1/2,one tube,tube,12.5,3,none,yes,2025-03-31,long thin,invented\n"
NAMES = HEAD.strip().split(",")


def row(**cells: str) -> str:
    """Return the good row with some cells replaced."""
    return ",".join(cells.get(name, cell) for name, cell in zip(NAMES, GOOD.strip().split(","), strict=True)) + "\n"


def sentence(table: tables.Table, schema: tables.Schema = SCHEMA) -> str:
    """Return the sentence that a table is refused with."""
    with pytest.raises(TableError) as caught:
        tables.read(table, schema)
    return str(caught.value)


def test_a_good_row_is_typed():
    """Each kind of column gives its own type; none is None."""
    assert tables.read(HEAD + GOOD, SCHEMA) == [
        {
            "key": "a-1/2",
            "label": "one tube",
            "kind": "tube",
            "outer_mm": 12.5,
            "count": 3,
            "depth_mm": None,
            "sharp": True,
            "seen_on": date(2025, 3, 31),
            "tags": ("long", "thin"),
            "source": "invented",
        }
    ]


BAD_CELLS = {
    ("outer_mm", "twelve"): "column outer_mm: got 'twelve', needs a number from 1 to 100.",
    ("outer_mm", "-3"): "column outer_mm: got '-3', needs a number from 1 to 100.",
    ("outer_mm", "101"): "column outer_mm: got '101', needs a number from 1 to 100.",
    (
        "outer_mm",
        '"12,5"',
    ): "column outer_mm: got '12,5', needs a number from 1 to 100. Write a dot before the decimals",
    ("outer_mm", '"1.200,5"'): "column outer_mm: got '1.200,5', needs a number from 1 to 100. Write a dot",
    ("outer_mm", "nan"): "column outer_mm: got 'nan', needs a number",
    ("outer_mm", "inf"): "column outer_mm: got 'inf', needs a number",
    ("outer_mm", "-inf"): "column outer_mm: got '-inf', needs a number",
    ("outer_mm", "1e999"): "column outer_mm: got '1e999', needs a number",
    ("outer_mm", "1_0"): "column outer_mm: got '1_0', needs a number",
    ("outer_mm", "١٢"): "column outer_mm: got '١٢', needs a number",
    (
        "outer_mm",
        "=1+1",
    ): "column outer_mm: got '=1+1', needs a number from 1 to 100. It starts like a spreadsheet command",
    ("outer_mm", "none"): "column outer_mm: got 'none', needs a number from 1 to 100.",
    ("outer_mm", ""): "column outer_mm: got nothing, needs a number from 1 to 100.",
    ("depth_mm", ""): "column depth_mm: got nothing, needs a number, or none. Write none where there is nothing.",
    ("count", "2.5"): "column count: got '2.5', needs a whole number, 0 or more.",
    ("count", "-1"): "column count: got '-1', needs a whole number, 0 or more.",
    (
        "label",
        "=cmd",
    ): "column label: got '=cmd', needs text of at most 2000 letters. It starts like a spreadsheet command",
    ("label", "@SUM(A1)"): "column label: got '@SUM(A1)', needs text",
    ("label", "+evil"): "column label: got '+evil', needs text",
    ("label", "-evil"): "column label: got '-evil', needs text",
    ("label", "x" * 2001): "needs text of at most 2000 letters.",
    ("kind", "pipe"): "column kind: got 'pipe', needs one of tube, rod.",
    ("key", "a b"): "column key: got 'a b', needs one word",
    ("sharp", "maybe"): "column sharp: got 'maybe', needs yes or no.",
    ("seen_on", "31.3.2025"): "column seen_on: got '31.3.2025', needs a date such as 2025-03-31, or none.",
    ("seen_on", "2025-02-30"): "column seen_on: got '2025-02-30', needs a date",
    ("seen_on", "20250331"): "column seen_on: got '20250331', needs a date",
    ("source", "hearsay"): "column source: got 'hearsay', needs a key of sources.csv",
}


@pytest.mark.parametrize(("cell", "said"), BAD_CELLS.items(), ids=[f"{c}={v[:12]}" for c, v in BAD_CELLS])
def test_a_bad_cell_is_named(cell, said):
    """Line, column, value and limit are in the sentence; the good row above is not blamed."""
    column, bad = cell
    changed = {"key": "b"} | {column: bad}
    told = sentence(HEAD + GOOD + row(**changed))
    assert told.startswith("your table, line 3, ")
    assert said in told


BAD_TABLES = {
    "empty": ("", "your table: got an empty file, needs a row of headings and rows of values."),
    "blank lines": ("\n \n", "your table: got an empty file"),
    "no rows": (HEAD, "your table: got no rows, needs at least one row under the headings."),
    "missing column": (
        HEAD.replace("sharp,", ""),
        "your table, line 1, column sharp: got no such column, needs all columns: key, label, kind",
    ),
    "extra column": (
        HEAD.replace("sharp", "sharp,colour"),
        "your table, line 1, column colour: got an extra column, needs only key, label",
    ),
    "column twice": (
        HEAD.replace("sharp", "sharp,key"),
        "your table, line 1, column key: got the same column twice, needs each column once.",
    ),
    "semicolons": (
        (HEAD + GOOD).replace(",", ";"),
        "your table, line 1: got cells separated by semicolons, needs cells separated by commas. Save it again",
    ),
    "tabs": ((HEAD + GOOD).replace(",", "\t"), "your table, line 1: got cells separated by tabs"),
    "key twice": (
        HEAD + GOOD + GOOD,
        "your table, line 3, column key: got 'a-1/2', needs each used once; it stands in line 2 already.",
    ),
    "decimal comma without quotes": (
        HEAD + row(outer_mm="12,5"),
        "your table, line 2: got 11 cells, needs 10 cells. A comma inside a cell needs quotes",
    ),
    "quote left open": (HEAD + row(label='"open'), "your table, line 2: got unexpected end of data"),
    "utf-16": ((HEAD + GOOD).encode("utf-16"), "got a letter that is not UTF-8, needs a CSV file in UTF-8. Save it"),
    "utf-16 without mark": (
        (HEAD + GOOD).encode("utf-16-le"),
        "your table: got a file that is not UTF-8, needs a CSV file in UTF-8. Save it again as CSV",
    ),
    "latin-1": (
        (HEAD + row(label="Röhre")).encode("latin-1"),
        "your table, line 2: got a letter that is not UTF-8, needs a CSV file in UTF-8.",
    ),
    "spreadsheet": (b"PK\x03\x04rest", "your table: got a spreadsheet file, needs a CSV file. Open it and save"),
}


@pytest.mark.parametrize("case", BAD_TABLES)
def test_a_bad_table_is_named(case):
    """What cannot be read at all says why and how to mend it."""
    table, said = BAD_TABLES[case]
    assert said in sentence(table)


def test_a_file_that_is_not_there_is_named(tmp_path):
    """A mistyped path says where it looked; a folder is not a table."""
    assert sentence(tmp_path / "no.csv") == f"no.csv: got no such file, needs a file at {tmp_path / 'no.csv'}."
    assert "needs a file that can be read" in sentence(tmp_path)


def test_a_file_names_itself(tmp_path):
    """The file's own name stands in the sentence."""
    path = tmp_path / "mine.csv"
    path.write_text(HEAD + row(kind="pipe"), encoding="utf-8")
    assert sentence(path).startswith("mine.csv, line 2, column kind: ")


def test_byte_order_mark_windows_lines_and_blank_rows_are_accepted(tmp_path):
    """What spreadsheets add to a file does no harm, and line numbers stay those of the file."""
    text = "\ufeff" + (HEAD + "\n" + GOOD + ",,,,,,,,,\n").replace("\n", "\r\n")
    path = tmp_path / "mine.csv"
    path.write_bytes(text.encode())
    assert tables.read(path, SCHEMA, line_as="line")[0]["line"] == 3
    assert len(tables.read(text, SCHEMA)) == 1
    assert len(tables.read(text.encode(), SCHEMA)) == 1


def test_columns_may_stand_in_any_order():
    """Headings name the cells; their order is the reader's."""
    order = list(reversed(NAMES))
    text = ",".join(order) + "\n" + ",".join(reversed(GOOD.strip().split(","))) + "\n"
    assert tables.read(text, SCHEMA) == tables.read(HEAD + GOOD, SCHEMA)


def test_check_gives_good_rows_and_every_problem():
    """For a class order: good rows are still planned, each bad cell is named."""
    rows, problems = tables.check(HEAD + GOOD + row(key="b", kind="pipe", count="x") + row(key="c"), SCHEMA)
    assert [one["key"] for one in rows] == ["a-1/2", "c"]
    assert [(problem.line, problem.column) for problem in problems] == [(3, "kind"), (3, "count")]


def test_columns_together_can_name_a_row():
    """Two rows may share a key where the pair of columns is what names them."""
    schema = {"item": Column(kind="ref"), "size": Column(kind="ref")}
    text = "item,size\ntee,1\ntee,2\n"
    assert len(tables.read(text, schema, unique=("item", "size"))) == 2
    with pytest.raises(TableError, match="line 4, column item size: got 'tee 1', needs each used once"):
        tables.read(text + "tee,1\n", schema, unique=("item", "size"))


@given(st.floats(allow_nan=False, allow_infinity=False, width=64))
def test_every_finite_number_survives_the_table(number):
    """What Python writes, the reader reads back exactly; so do limits hold exactly."""
    assert tables.value(repr(number), Column(kind="number")) == number


@given(st.text(max_size=60))
def test_any_text_is_read_or_refused_in_a_sentence(text):
    """No cell, however odd, gets past the kinds or crashes the reader."""
    for column in SCHEMA.values():
        got = said = None
        try:
            got = tables.value(text, column)
        except TableError as refused:
            said = str(refused)
        assert "needs" in said if said else got is None or isinstance(got, (str, float, int, date, tuple))


@given(st.binary(max_size=200))
def test_any_bytes_are_refused_in_a_sentence(content):
    """An uploaded file of any kind gives TableError and nothing else; no 200 random bytes make our headings."""
    assert sentence(content).startswith("your table")


def test_our_data_folder_is_found_and_every_source_is_used_or_listed():
    """The folder holds the sources; each is known in one of the five ways."""
    assert (tables.data_folder() / "sources.csv").is_file()
    rows = tables.read("sources.csv", tables.SOURCES)
    assert {entry["how_known"] for entry in rows} == {"seen", "computed", "memory", "common practice", "invented"}


def test_every_source_cell_of_every_table_is_a_source():
    """Read without any schema: each column whose heading ends in `source` holds keys of sources.csv."""
    known = tables.source_keys()
    checked = 0
    for path in sorted(Path(tables.data_folder()).glob("*.csv")):
        with path.open(encoding="utf-8", newline="") as file:
            for line, cells in enumerate(csv.DictReader(file), start=2):
                for heading, cell in cells.items():
                    if heading.endswith("source") and path.name != "sources.csv" and cell != "none":
                        assert cell in known, f"{path.name}, line {line}: {cell}"
                        checked += 1
    assert checked > 500
