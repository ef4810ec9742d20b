"""CSV tables read and checked cell by cell against a declared schema. The first bad cell is named.

A table is ours (a name in `data/`), a reader's file (a path), an uploaded file (bytes) or pasted text (str with lines).
Comma between cells, dot in numbers, UTF-8, one heading row, `none` where there is nothing.
"""

import csv
import io
import math
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any, Literal, TypeVar

from gardenframe.errors import TableError

Kind = Literal["text", "number", "whole", "choice", "key", "ref", "source", "date", "flag", "tags"]
Table = str | bytes | Path
Row = dict[str, Any]
T = TypeVar("T")

PASTED = "your table"
LONGEST_TEXT = 2000
NUMBER = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d+)?", re.ASCII)
DECIMAL_COMMA = re.compile(r"[+-]?[\d.]*\d,\d+", re.ASCII)
DAY = re.compile(r"\d{4}-\d\d-\d\d", re.ASCII)
KEY = re.compile(r"[A-Za-z0-9][A-Za-z0-9._/:+-]*", re.ASCII)
COMMAND = re.compile(r"[=+\-@\t\r]")  # what a spreadsheet would run when the file is opened


@dataclass(frozen=True, slots=True)
class Found:
    """What came, in our words and so shown without quotes."""

    words: str

    def __str__(self) -> str:
        return self.words


OTHER_SEPARATORS = {";": "semicolons", "\t": "tabs"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """What one column may hold.

    `text`; `number` and `whole` within `low` to `high`; `choice` of `choices`; `key` (one word, used once); `ref` (one
    word, of `choices` if any); `source` (a key of sources.csv); `date` (2025-03-31); `flag` (yes or no); `tags` (words
    separated by spaces). An `optional` cell may hold `none`.
    """

    kind: Kind = "text"
    low: float | None = None
    high: float | None = None
    choices: tuple[str, ...] = ()
    optional: bool = False

    @property
    def needs(self) -> str:
        """The sentence part that says what a cell may hold."""
        said = {
            "text": f"text of at most {LONGEST_TEXT} letters",
            "number": f"a number{self._limits}",
            "whole": f"a whole number{self._limits}",
            "choice": "one of " + ", ".join(self.choices),
            "key": "one word of letters, digits and . _ / : + -",
            "ref": "one of " + ", ".join(self.choices)
            if self.choices
            else "one word of letters, digits and . _ / : + -",
            "source": "a key of sources.csv (a reader's own figure is `own`)",
            "date": "a date such as 2025-03-31",
            "flag": "yes or no",
            "tags": "words separated by spaces",
        }[self.kind]
        return f"{said}, or none" if self.optional else said

    @property
    def _limits(self) -> str:
        if self.low is not None and self.high is not None:
            return f" from {self.low:g} to {self.high:g}"
        if self.low is not None:
            return f", {self.low:g} or more"
        return f", at most {self.high:g}" if self.high is not None else ""


Schema = Mapping[str, Column]


@cache
def data_folder() -> Path:
    """Return the folder of our tables: inside the package in a wheel, beside the package in a clone."""
    inside = Path(__file__).parent / "data"
    beside = Path(__file__).parents[1] / "data"
    for folder in (inside, beside):  # inside first: beside a wheel lies whatever else is installed
        if (folder / "sources.csv").is_file():
            return folder
    raise TableError(
        "sources.csv", None, None, Found("no data folder"), f"{inside} or {beside}", "Install gardenframe again."
    )


def read(
    table: Table, schema: Schema, folder: Path | None = None, unique: tuple[str, ...] = (), line_as: str = ""
) -> list[Row]:
    """Return the rows of a table with typed values; raise TableError at the first bad cell.

    Parameters
    ----------
    table : str, bytes or Path
        A name in `folder` or a path; text with more than one line, or bytes, are the table itself.
    schema : mapping of column name to Column
        Every column of the table, neither more nor fewer.
    folder : Path
        Where names are looked for; our own data folder unless given.
    unique : tuple of str
        Columns that together name a row only once; the column of kind `key` unless given.
    line_as : str
        Where given, each row also holds its line in the file under this name.
    """
    rows, problems = check(table, schema, folder, unique, line_as)
    if problems:
        raise problems[0]
    return rows


def check(
    table: Table, schema: Schema, folder: Path | None = None, unique: tuple[str, ...] = (), line_as: str = ""
) -> tuple[list[Row], list[TableError]]:
    """Return the good rows and every bad cell in the order of the file; raise only if the file cannot be read."""
    name, text = _text(table, folder)
    lines = _records(name, text)
    if not lines:
        raise TableError(name, None, None, Found("an empty file"), "a row of headings and rows of values")
    headings = _headings(name, lines[0][1], schema)
    unique = unique or tuple(heading for heading, column in schema.items() if column.kind == "key")
    rows: list[Row] = []
    problems: list[TableError] = []
    seen: dict[tuple[Any, ...], int] = {}
    for line, cells in lines[1:]:
        row = _row(name, line, headings, cells, schema, problems)
        if row is None:
            continue
        names = tuple(row[column] for column in unique)
        if unique and names in seen:
            got = " ".join(str(part) for part in names)
            needs = f"each used once; it stands in line {seen[names]} already"
            problems.append(TableError(name, line, " ".join(unique), got, needs))
            continue
        seen[names] = line
        rows.append(row | {line_as: line} if line_as else row)
    if not rows and not problems:
        raise TableError(name, None, None, Found("no rows"), "at least one row under the headings")
    return rows, problems


def records(
    table: Table, folder: Path | None = None, *, any_separator: bool = False
) -> tuple[str, list[tuple[int, list[str]]]]:
    """Return what a table is called, and (line, cells) of every line that holds anything, headings first.

    For a table whose columns are not known beforehand; raise TableError only if it cannot be read at all.
    `any_separator`: semicolons or tabs part the cells where headings hold no comma, as many spreadsheets write.
    """
    name, text = _text(table, folder)
    head = text.lstrip("\r\n").partition("\n")[0]
    other = next((one for one in OTHER_SEPARATORS if any_separator and one in head and "," not in head), ",")
    lines = _records(name, text, other)
    if not lines:
        raise TableError(name, None, None, Found("an empty file"), "a row of headings and rows of values")
    _comma_separated(name, lines[0][1])
    return name, lines


def is_command(cell: str) -> bool:
    """Whether a spreadsheet would run a cell when the file is opened: it starts as one, and is no number."""
    return bool(COMMAND.match(cell)) and not NUMBER.fullmatch(cell)


_KEPT: dict[str, dict[str, Any]] = {}


def keyed(name: str, schema: Schema, make: Callable[..., T], table: Table | None = None) -> dict[str, T]:
    """Return the records of a table by key: ours (read once, a fresh dict each time) or a reader's own `table`."""
    key = next(heading for heading, column in schema.items() if column.kind == "key")
    if table is not None:
        return {row[key]: make(**row) for row in read(table, schema)}
    if name not in _KEPT:
        _KEPT[name] = {row[key]: make(**row) for row in read(name, schema)}
    return dict(_KEPT[name])


@cache
def source_keys() -> frozenset[str]:
    """Return the keys of sources.csv."""
    return frozenset(row["source"] for row in read("sources.csv", SOURCES))


SOURCES: Schema = {
    "source": Column(kind="key"),
    "title": Column(),
    "edition": Column(optional=True),
    "place": Column(optional=True),
    "url": Column(optional=True),
    "read_on": Column(kind="date", optional=True),
    "how_known": Column(kind="choice", choices=("seen", "computed", "memory", "common practice", "invented")),
}


def name_of(table: Table) -> str:
    """Return how a table is called in messages: the name of its file, or `your table` for pasted or uploaded text."""
    return PASTED if _is_content(table) else Path(str(table)).name


def _is_content(table: Table) -> bool:
    """True for bytes and for text of more than one line: the table itself and not where it lies."""
    return isinstance(table, bytes) or (
        isinstance(table, str) and ("\n" in table or "\r" in table or not table.strip())
    )


def _text(table: Table, folder: Path | None) -> tuple[str, str]:
    """Return the name to show and the text, decoded."""
    if isinstance(table, bytes):
        return PASTED, _decoded(PASTED, table)
    if isinstance(table, str) and _is_content(table):
        return PASTED, table.removeprefix("\ufeff")
    path = Path(table)
    if len(path.parts) == 1 and (folder is not None or isinstance(table, str)):
        path = (folder or data_folder()) / path
        path = path if path.is_file() or folder is not None else Path(table)
    try:
        return path.name, _decoded(path.name, path.read_bytes())
    except FileNotFoundError:
        raise TableError(path.name, None, None, Found("no such file"), f"a file at {path}") from None
    except OSError as problem:
        reason = problem.strerror or str(problem)
        raise TableError(path.name, None, None, Found(reason), f"a file that can be read at {path}") from None


def _decoded(name: str, content: bytes) -> str:
    """Return the text of a file, or say how to save it."""
    if content.startswith(b"PK\x03\x04"):
        do = "Open it and save the sheet as CSV (UTF-8)."
        raise TableError(name, None, None, Found("a spreadsheet file"), "a CSV file", do)
    do = "Save it again as CSV with the character set UTF-8."
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as problem:
        line = content.count(b"\n", 0, problem.start) + 1
        raise TableError(name, line, None, Found("a letter that is not UTF-8"), "a CSV file in UTF-8", do) from None
    if "\x00" in text:
        raise TableError(name, None, None, Found("a file that is not UTF-8"), "a CSV file in UTF-8", do)
    return text


def _records(name: str, text: str, separator: str = ",") -> list[tuple[int, list[str]]]:
    """Return (line, cells) of every line that holds anything."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    found = []
    line = 1
    try:
        for cells in reader:
            if any(cell.strip() for cell in cells):
                found.append((line, [cell.strip(" ") for cell in cells]))
            line = reader.line_num + 1
    except csv.Error as problem:
        do = "A cell that opens with a quote must close with one."
        word = OTHER_SEPARATORS.get(separator, "commas")
        raise TableError(name, line, None, Found(str(problem)), f"cells separated by {word}", do) from None
    return found


def _headings(name: str, cells: list[str], schema: Schema) -> list[str]:
    """Return the headings, or say which is missing, unknown or doubled."""
    if len(schema) > 1:
        _comma_separated(name, cells)
    for heading in schema:
        if heading not in cells:
            raise TableError(name, 1, heading, Found("no such column"), "all columns: " + ", ".join(schema))
    for position, heading in enumerate(cells):
        if heading not in schema:
            raise TableError(
                name, 1, heading or str(position + 1), Found("an extra column"), "only " + ", ".join(schema)
            )
        if heading in cells[:position]:
            raise TableError(name, 1, heading, Found("the same column twice"), "each column once")
    return cells


def _comma_separated(name: str, headings: list[str]) -> None:
    for separator, word in OTHER_SEPARATORS.items():
        if len(headings) == 1 and separator in headings[0]:
            do = "Save it again with commas between cells and dots in numbers."
            raise TableError(name, 1, None, Found(f"cells separated by {word}"), "cells separated by commas", do)


def _row(
    name: str, line: int, headings: list[str], cells: list[str], schema: Schema, problems: list[TableError]
) -> Row | None:
    """Return one row with typed values, or add its bad cells to the problems and return None."""
    if len(cells) != len(headings):
        do = "A comma inside a cell needs quotes round the cell; numbers take a dot."
        problems.append(TableError(name, line, None, Found(f"{len(cells)} cells"), f"{len(headings)} cells", do))
        return None
    row: Row = {}
    before = len(problems)
    for heading, cell in zip(headings, cells, strict=True):
        try:
            row[heading] = value(cell, schema[heading], name, line, heading)
        except TableError as problem:
            problems.append(problem)
    return row if len(problems) == before else None


def value(cell: str, column: Column, table: str = PASTED, line: int | None = None, heading: str | None = None) -> Any:
    """Return the typed value of one cell; None for `none`; TableError where it is not what the column holds."""

    def refuse(needs: str = "", do: str = "") -> TableError:
        return TableError(table, line, heading, cell, needs or column.needs, do)

    if not cell.strip():
        raise refuse(do="Write none where there is nothing." if column.optional else "")
    if cell.lower() == "none":
        if column.optional:
            return None
        raise refuse()
    if is_command(cell):
        raise refuse(do="It starts like a spreadsheet command; type the value itself.")
    if column.kind in ("number", "whole"):
        return _number(cell, column, refuse)
    return _word(cell, column, refuse)


def _number(cell: str, column: Column, refuse: Callable[..., TableError]) -> float | int:
    """Return a finite number inside the limits."""
    if DECIMAL_COMMA.fullmatch(cell):
        raise refuse(do="Write a dot before the decimals and nothing between thousands.")
    if not NUMBER.fullmatch(cell) or not math.isfinite(float(cell)):
        raise refuse()
    number = float(cell)
    too_low = column.low is not None and number < column.low
    too_high = column.high is not None and number > column.high
    if too_low or too_high or (column.kind == "whole" and number != int(number)):
        raise refuse()
    return int(number) if column.kind == "whole" else number


def _word(cell: str, column: Column, refuse: Callable[..., TableError]) -> Any:
    """Return text, a key, a date, a flag or tags."""
    if len(cell) > LONGEST_TEXT:
        raise refuse()
    match column.kind:
        case "choice" | "ref" if column.choices and cell not in column.choices:
            raise refuse()
        case "key" | "ref" | "source" if not KEY.fullmatch(cell):
            raise refuse()
        case "source" if cell not in source_keys():
            raise refuse()
        case "date":
            try:  # fromisoformat alone would also take 20250331
                if not DAY.fullmatch(cell):
                    raise refuse()
                return date.fromisoformat(cell)
            except ValueError:
                raise refuse() from None
        case "flag":
            if cell not in ("yes", "no"):
                raise refuse()
            return cell == "yes"
        case "tags":
            return tuple(cell.split())
    return cell
