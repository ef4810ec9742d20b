"""A plan as files for other programs: tables as CSV and XLSX, drawings as SVG and DXF, the tubes as GLB.

A plan goes in, names and bytes of files come out; `write_all` puts them into a folder, each whole or not at all.
CSV and SVG need nothing; XLSX, DXF and GLB need a library each, which comes with the extra `exports`.
"""

import csv
import importlib.util
import io
import re
import zipfile
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from gardenframe import units
from gardenframe.errors import InputError
from gardenframe.output.bars import cutting_bars
from gardenframe.output.bend_sheet import bend_drawing
from gardenframe.output.drawings import drawing
from gardenframe.output.exports_tables import Cell, Table, tables_of
from gardenframe.output.files import put
from gardenframe.output.picture import picture
from gardenframe.output.sticks import stick_rows
from gardenframe.road import Plan
from gardenframe.tables import NUMBER, Found

KINDS = ("csv", "svg", "xlsx", "dxf", "glb")
LIBRARY = {"xlsx": "xlsxwriter", "dxf": "ezdxf", "glb": "trimesh"}
# signs with which a spreadsheet takes a cell for a formula, also behind blanks, and behind what may part two cells
FORMULA = re.compile(r"((?:^|[;\t\r\n])[\s\0\u200b\ufeff]*)(?=[=+\-@＝＋－＠])")
BEND_PX, PICTURE_PX = 1100.0, 640.0


def write_all(plan: Plan, folder: Path | str, system: str = "metric", kinds: Sequence[str] | None = None) -> list[Path]:
    """Return the paths of every file written of a plan.

    Parameters
    ----------
    folder : Path or str
        Made if it is not there. Files of the same name are replaced.
    system : str
        "metric" or "us".
    kinds : sequence of str, optional
        Any of csv, svg, xlsx, dxf, glb; those that can be written here unless given.

    Raises
    ------
    InputError
        For a kind that there is not, a library that is missing, a folder that cannot be written. For the first two,
        nothing is written.
    """
    chosen = [kind for kind in KINDS if can_write(kind)] if kinds is None else list(dict.fromkeys(kinds))
    units.usual_unit("length", system)
    for kind in chosen:
        require(kind)
    return put_in(folder, (file for kind in chosen for file in files_of(plan, kind, system)))


def put_in(folder: Path | str, files: Iterable[tuple[str, bytes]]) -> list[Path]:
    """Return the paths of files written into a folder, which is made if it is not there.

    Raises
    ------
    InputError
        For a folder that cannot be written.
    """
    place, written = Path(folder), []
    try:
        place.mkdir(parents=True, exist_ok=True)
        for name, data in files:
            put(place / name, data)
            written.append(place / name)
    except OSError as problem:
        needs = f"a folder that can be written ({problem.strerror or problem})"
        raise InputError("folder", str(folder), needs, "Choose another folder.") from None
    return written


def can_write(kind: str) -> bool:
    """Return whether a kind of file can be written here."""
    return kind not in LIBRARY or importlib.util.find_spec(LIBRARY[kind]) is not None


def require(kind: str) -> None:
    """Raise InputError for a kind of file that there is not, or whose library is missing."""
    if kind not in KINDS:
        raise InputError("kind of file", kind, f"one of {', '.join(KINDS)}")
    if not can_write(kind):
        do = f"Install it with: pip install {LIBRARY[kind]}."
        raise InputError(f"{kind} file", Found("no library for it"), f"the library {LIBRARY[kind]}", do)


def files_of(plan: Plan, kind: str, system: str = "metric") -> Iterator[tuple[str, bytes]]:
    """Yield the name and bytes of every file of a kind.

    Raises
    ------
    InputError
        For a kind that there is not or whose library is missing.
    """
    require(kind)
    if kind == "csv":
        for table in tables_of(plan, system):
            yield f"{table.key}.csv", csv_file(table)
    elif kind == "svg":
        for name, text in svg_of(plan, system):
            yield f"{name}.svg", text.encode("utf-8")
    else:
        yield from _with_library(plan, kind, system)


def one_file(plan: Plan, kind: str, name: str, system: str = "metric") -> bytes:
    """Return one file of a kind by its name; a zip of all of them where the name ends in zip."""
    found = dict(files_of(plan, kind, system))
    if not name.endswith("zip"):
        return found[name]
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as box:
        for inner, data in found.items():
            box.writestr(inner, data)
    return packed.getvalue()


def _with_library(plan: Plan, kind: str, system: str) -> Iterator[tuple[str, bytes]]:
    """Yield the files that need a library, which is loaded only here."""
    if kind == "xlsx":
        from gardenframe.output.exports_xlsx import workbook_of

        yield "plan.xlsx", workbook_of(plan, system)
    elif kind == "dxf":
        from gardenframe.output.exports_dxf import centre_lines, views

        yield "centre-lines.dxf", centre_lines(plan, system)
        yield "drawing.dxf", views(plan, system)
    else:
        from gardenframe.output.exports_glb import tubes

        yield "tubes.glb", tubes(plan)


# --- CSV


def csv_file(table: Table) -> bytes:
    """Return a table as the bytes of a CSV file, marked as UTF-8 so that a spreadsheet shows every sign."""
    return csv_of(table.headings, table.rows).encode("utf-8-sig")


def csv_of(headings: Sequence[str], rows: Sequence[Sequence[Cell]]) -> str:
    """Return a table as CSV: text in quotes, numbers bare, no text that a spreadsheet would run."""
    page = io.StringIO()
    writer = csv.writer(page, quoting=csv.QUOTE_NONNUMERIC)
    writer.writerow(headings)
    for row in rows:
        writer.writerow([harmless(cell) if isinstance(cell, str) else "" if cell is None else cell for cell in row])
    return page.getvalue()


def harmless(text: str) -> str:
    """Return text with an apostrophe before every sign that would make a spreadsheet take it for a formula.

    A number stays a number.

    >>> harmless("=1+1"), harmless("EMT 3/4 in"), harmless(" @x"), harmless("a;=b"), harmless("-3.5")
    ("'=1+1", 'EMT 3/4 in', "' '@x", "a;'=b", '-3.5')
    """
    if NUMBER.fullmatch(text):
        return text
    made = FORMULA.sub(r"\1'", text)
    return f"'{made}" if made != text and text[:1].isspace() else made


# --- SVG


def svg_of(plan: Plan, system: str = "metric") -> Iterator[tuple[str, str]]:
    """Yield the name and text of every drawing: three views, a picture, the sticks as they are cut, bend sheets."""
    members, title = plan.shop.members, plan.build.title
    yield "drawing", drawing(plan.frame, plan.marks, system, members=members, title=f"{title}, dimensioned")
    yield "picture", picture(plan.frame, PICTURE_PX, members=members, title=title)
    for member in plan.cutting:
        label = plan.shop.member(member).label
        bars = cutting_bars(stick_rows(plan, member), system, title=f"Cutting plan, {label}")
        yield f"cutting-{_plain(member)}", bars
    for sheet in plan.bend_sheets:
        yield f"bends-{_plain(sheet.mark)}", bend_drawing(sheet, system, BEND_PX)


def _plain(name: str) -> str:
    return re.sub(r"[^\w.]+", "-", name)
