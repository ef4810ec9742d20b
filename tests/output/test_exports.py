"""Exports read back by libraries that did not write them: openpyxl, ezdxf's recovery, a plain reader, pygltflib."""

import csv
import importlib.util
import io
import math
import re
import subprocess
import sys
import xml.etree.ElementTree as ET
import zipfile

import numpy as np
import openpyxl
import pygltflib
import pytest
from ezdxf import recover
from hypothesis import given
from hypothesis import strategies as st

import gardenframe
from gardenframe import builds, units
from gardenframe.errors import InputError
from gardenframe.output import exports
from gardenframe.output.exports import csv_of, files_of, harmless, write_all
from gardenframe.output.offered import OFFERED

SIGNS = "=+-@"


@pytest.fixture(scope="module", params=["trellis", "walkway_arch"])
def plan(request):
    """Return a plan of straight tubes, and one with bends."""
    return gardenframe.plan(builds.ALL[request.param]())


@pytest.fixture(scope="module")
def shop_plan():
    """Return a trellis bought with tax."""
    return gardenframe.plan(builds.Trellis(), shop=gardenframe.Shop(tax=0.08))


def files(plan, kind, system="metric"):
    """Return the files of a kind by name."""
    return dict(files_of(plan, kind, system))


def read_csv(data):
    """Return the headings and rows of a CSV file as texts."""
    rows = list(csv.reader(io.StringIO(data.decode("utf-8-sig"), newline="")))
    return rows[0], [dict(zip(rows[0], row, strict=True)) for row in rows[1:]]


# --- CSV


def test_every_table_holds_the_numbers_of_the_plan(plan):
    """Pieces, bill and checks as the plan has them, lengths as its tape shows; the bill's costs add up to its cost."""
    found = {name: read_csv(data)[1] for name, data in files(plan, "csv").items()}
    assert set(found) == {"pieces.csv", "cutting.csv", "bill.csv", "checks.csv", "anchors.csv"}
    told = [(row["Mark"], float(row["Cut (mm)"]), int(row["Count"])) for row in found["pieces.csv"]]
    assert told == [(p.mark, pytest.approx(p.cut_m * 1000), p.count) for p in plan.cut]
    assert sum(float(row["Cost (USD)"]) for row in found["bill.csv"]) == pytest.approx(plan.cost.usual)
    ratios = [float(row["Demand over capacity"]) for row in found["checks.csv"]]
    assert ratios == pytest.approx(list(plan.checks["ratio"]))


def test_tax_is_a_row_of_its_own(shop_plan):
    """With it, the costs add up to what is paid."""
    _, rows = read_csv(files(shop_plan, "csv")["bill.csv"])
    assert rows[-1]["Name"] == "Sales tax 8 %"
    assert sum(float(row["Cost (USD)"]) for row in rows) == pytest.approx(shop_plan.cost.usual)


@pytest.mark.parametrize("system", ["metric", "us"])
def test_the_cutting_table_can_be_cut(plan, system):
    """On each stick pieces end one kerf after another, what is left closes it, and every piece is there."""
    unit = "mm" if system == "metric" else "in"
    _, rows = read_csv(files(plan, "csv", system)["cutting.csv"])
    kerf = plan.shop.kerf * (1 if unit == "mm" else 1 / 25.4)
    marks, sticks = [], {}
    for row in rows:
        sticks.setdefault((row["Member"], row["Stick"]), []).append(row)
        marks += [row["Mark"]] if row["What"] == "piece" else []
    for on_stick in sticks.values():
        at = 0.0
        for row in on_stick:
            at += float(row[f"Length ({unit})"])
            assert float(row[f"Ends at ({unit})"]) == pytest.approx(at, abs=1e-6)
            at += kerf
        assert on_stick[-1]["What"] == "left over"
        assert float(on_stick[-1][f"Ends at ({unit})"]) == float(on_stick[0][f"Stick, trimmed ({unit})"])
    assert sorted(marks) == sorted(p.mark for p in plan.cut for _ in range(p.count))


def test_inches_are_millimetres_over_25_4(shop_plan):
    """The US table holds the same lengths as decimal inches, and as a tape reads them."""
    _, rows = read_csv(files(shop_plan, "csv", "us")["pieces.csv"])
    for row, piece in zip(rows, shop_plan.cut, strict=True):
        assert float(row["Cut (in)"]) == pytest.approx(piece.cut_m * 1000 / 25.4)
        assert units.parse(row["Cut, on the tape"], "length", "us") == pytest.approx(piece.cut_m, abs=25.4e-3 / 32)


@given(st.text(), st.sampled_from(["", " ", "\t", "\n", "\u200b"]), st.sampled_from(SIGNS))
def test_no_text_starts_as_a_formula(text, blank, sign):
    """Whatever a reader names a thing: after blanks, and after what may part two cells, no such sign stands first."""
    made = harmless(blank + sign + text)
    for part in re.split(r"[;\t\r\n]", made):
        first = part.strip().lstrip("\u200b\ufeff\0")[:1]
        assert first not in SIGNS or not first or _is_number(made)
    assert made.replace("'", "") == (blank + sign + text).replace("'", "")


def _is_number(text):
    try:
        return math.isfinite(float(text))
    except ValueError:
        return False


@given(st.floats(allow_nan=False, allow_infinity=False), st.integers())
def test_numbers_stay_numbers(number, whole):
    """A negative number is read back as it was, and as text it is left as it is."""
    text = csv_of(("a", "b"), [(number, whole)])
    assert list(csv.reader(io.StringIO(text), quoting=csv.QUOTE_NONNUMERIC))[1] == [number, whole]
    assert harmless(repr(number)) == repr(number)


def test_a_name_that_is_a_formula_is_harmless_in_every_file(shop_plan):
    """A row whose label a spreadsheet would run is text in CSV and in XLSX."""
    evil = '=HYPERLINK("x")'
    (row, *_) = csv.reader(io.StringIO(csv_of(("name",), [(evil,)]).split("\r\n", 1)[1]))
    assert row == ["'" + evil]
    from gardenframe.output.exports_tables import Table
    from gardenframe.output.exports_xlsx import workbook_with

    table = Table(key="names", title="", headings=("name",), rows=((evil,), ("-1+2",), (-3.5,)))
    sheet = openpyxl.load_workbook(io.BytesIO(workbook_with([table], "t")))["names"]
    assert [sheet.cell(line, 1).data_type for line in (2, 3, 4)] == ["s", "s", "n"]
    assert [sheet.cell(line, 1).value for line in (2, 3, 4)] == [evil, "-1+2", -3.5]


# --- SVG


def test_every_drawing_is_whole_and_says_what_it_is(plan):
    """Well formed, with a title for who cannot see it: three views, picture, one of cutting for each member."""
    drawn = files(plan, "svg")
    assert {"drawing.svg", "picture.svg"} <= set(drawn)
    assert sum(name.startswith("cutting-") for name in drawn) == len(plan.cutting)
    assert sum(name.startswith("bends-") for name in drawn) == len(plan.bend_sheets)
    for data in drawn.values():
        root = ET.fromstring(data)  # noqa: S314 - our own
        assert root.tag.endswith("svg")
        assert next(node.text for node in root.iter() if node.tag.endswith("title"))


# --- XLSX


def test_a_spreadsheet_reads_what_the_csv_says(shop_plan):
    """Openpyxl finds the same cells as in the CSV, numbers as numbers, and sums that follow the rows."""
    (data,) = files(shop_plan, "xlsx").values()
    book = openpyxl.load_workbook(io.BytesIO(data))
    for name, content in files(shop_plan, "csv").items():
        sheet = book[name.removesuffix(".csv")]
        headings, rows = read_csv(content)
        assert [cell.value for cell in sheet[1]] == headings
        for line, row in enumerate(rows, 2):
            for cell, text in zip(sheet[line], row.values(), strict=False):
                if isinstance(cell.value, int | float):
                    assert cell.value == pytest.approx(float(text))
                else:
                    assert (cell.value or "") == text
    bill, last = book["bill"], len(read_csv(files(shop_plan, "csv")["bill.csv"])[1]) + 2
    column = next(cell.column for cell in bill[1] if cell.value == "Cost (USD)")
    letter = bill.cell(1, column).column_letter
    assert bill.cell(last, column).value == f"=SUM({letter}2:{letter}{last - 1})"
    numbers = [bill.cell(line, column).value for line in range(2, last)]
    assert sum(number or 0 for number in numbers) == pytest.approx(shop_plan.cost.usual)
    shown = openpyxl.load_workbook(io.BytesIO(data), data_only=True)["bill"].cell(last, column).value
    assert shown == pytest.approx(shop_plan.cost.usual)


# --- DXF


def group_codes(data):
    """Return (code, value) pairs of a DXF file, read without any library."""
    lines = data.decode("utf-8").splitlines()
    return [(int(code), value) for code, value in zip(lines[::2], lines[1::2], strict=False)]


def entities(data):
    """Return the entities of a DXF file as (type, {code: last value}), read without any library."""
    found, inside = [], False
    for code, value in group_codes(data):
        if code == 2 and value == "ENTITIES":
            inside = True
        elif code == 0 and value == "ENDSEC":
            inside = False
        elif inside and code == 0:
            found.append((value, {}))
        elif inside and found:
            found[-1][1][code] = value
    return found


@pytest.mark.parametrize(("system", "per_m", "insunits"), [("metric", 1000, "4"), ("us", 1 / 0.0254, "1")])
def test_centre_lines_are_as_long_as_the_tubes(plan, system, per_m, insunits):
    """A plain reader adds up lines and arcs: the developed length of every run, role by role; the unit is said."""
    data = files(plan, "dxf", system)["centre-lines.dxf"]
    found = {}
    for kind, codes in entities(data):
        values = {code: float(value) for code, value in codes.items() if code in (10, 20, 30, 11, 21, 31, 40, 50, 51)}
        if kind == "LINE":
            length = math.dist([values[c] for c in (10, 20, 30)], [values[c] for c in (11, 21, 31)])
        elif kind == "ARC":
            length = math.radians((values[51] - values[50]) % 360) * values[40]
        else:
            continue
        found[codes[8]] = found.get(codes[8], 0.0) + length
    wanted = {}
    for key, run in plan.frame.runs.items():
        wanted[run.role] = wanted.get(run.role, 0.0) + plan.frame.lines[key].length_m * per_m
    assert found == pytest.approx(wanted)
    pairs = group_codes(data)
    assert pairs[pairs.index((9, "$INSUNITS")) + 1] == (70, insunits)


@pytest.mark.parametrize("system", ["metric", "us"])
def test_drawings_pass_the_audit_and_measure_what_they_say(plan, system):
    """Read back with recovery there is nothing to mend; each dimension measures the distance of the plan."""
    per_m = 1000 if system == "metric" else 1 / 0.0254
    for data in files(plan, "dxf", system).values():
        document, auditor = recover.read(io.BytesIO(data))
        assert not auditor.has_errors
        assert not auditor.has_fixes
    measured = sorted(d.get_measurement() for d in document.modelspace().query("DIMENSION"))
    wanted = [
        math.dist(d.start, d.end) if d.axis == "aligned" else abs(d.end[i] - d.start[i])
        for d in plan.frame.dimensions
        for i in ["xyz".find(d.axis)]
    ]
    assert measured == pytest.approx(sorted(length * per_m for length in wanted))
    marks = [text.dxf.text for text in document.modelspace().query('TEXT[layer=="marks"]')]
    assert sorted(marks) == sorted(mark for mark, *_ in plan.marks)


def test_arcs_start_and_end_where_the_tube_does():
    """In space every arc of the file meets the straight pieces: its ends are those of the plan's bends."""
    plan = gardenframe.plan(builds.WalkwayArch())
    document, _ = recover.read(io.BytesIO(files(plan, "dxf")["centre-lines.dxf"]))
    arcs = document.modelspace().query("ARC")
    drawn = sorted(tuple(round(c, 3) for c in p) for arc in arcs for p in (arc.start_point, arc.end_point))
    bends = [bend for line in plan.frame.lines.values() for bend in line.bends]
    wanted = sorted(tuple(round(c * 1000, 3) for c in p) for bend in bends for p in (bend.start, bend.end))
    assert np.allclose(drawn, wanted, atol=0.01)


# --- GLB


def bodies(data):
    """Return corners (metres) and triangles of every named body of a GLB file, by pygltflib and numpy alone."""
    gltf = pygltflib.GLTF2.load_from_bytes(data)
    blob, found = gltf.binary_blob(), {}
    for node in gltf.nodes:
        if node.mesh is None:
            continue
        assert node.matrix is None or np.allclose(node.matrix, np.eye(4).ravel())
        (primitive,) = gltf.meshes[node.mesh].primitives
        arrays = []
        for index, kind in ((primitive.attributes.POSITION, np.float32), (primitive.indices, np.uint32)):
            accessor = gltf.accessors[index]
            assert accessor.componentType == {np.float32: 5126, np.uint32: 5125}[kind]
            start = (gltf.bufferViews[accessor.bufferView].byteOffset or 0) + (accessor.byteOffset or 0)
            size = accessor.count * (3 if kind is np.float32 else 1)
            arrays.append(np.frombuffer(blob, kind, size, start).reshape(-1, 3))
        found[node.name] = arrays
    return found


def test_every_piece_is_a_closed_body_of_its_own_size(plan):
    """Volume by the divergence theorem: area of a 16-sided tube times developed length; names hold the mark."""
    (data,) = files(plan, "glb").values()
    found = bodies(data)
    names = [f"{p.mark} {place.run}" for p in plan.cut for place in p.places]
    assert sorted(name.rsplit(" (", 1)[0] for name in found) == sorted(names)
    for piece in plan.cut:
        radius = plan.shop.member(piece.member).outer_mm / 2000
        area = 16 / 2 * math.sin(2 * math.pi / 16) * radius**2
        for place in piece.places:
            corners, faces = next(b for name, b in found.items() if name.startswith(f"{piece.mark} {place.run} ("))
            a, b, c = (corners[faces[:, i]].astype(float) for i in range(3))
            volume = np.einsum("ij,ij->i", a, np.cross(b, c)).sum() / 6
            assert volume == pytest.approx(area * (place.end_m - place.start_m), rel=2e-3)


def test_the_body_stands_upright_where_the_frame_does(plan):
    """Heights of the file's y are heights of the frame's z; its outside is the frame's, tubes included."""
    corners = np.vstack([body[0] for body in bodies(files(plan, "glb")["tubes.glb"]).values()])
    ends = [line.points(2.0) for line in plan.frame.lines.values()]
    points = np.array([p for line in ends for p in line])
    half = max(plan.shop.member(run.member).outer_mm for run in plan.frame.runs.values()) / 2000
    back = np.column_stack([corners[:, 0], -corners[:, 2], corners[:, 1]])
    assert np.all(back.min(axis=0) >= points.min(axis=0) - half - 1e-4)
    assert np.all(back.max(axis=0) <= points.max(axis=0) + half + 1e-4)
    assert back[:, 2].max() == pytest.approx(points[:, 2].max(), abs=half + 0.01)


# --- all of them


def test_all_files_are_written_and_named(shop_plan, tmp_path):
    """One folder, no unfinished files, every kind there; written again they are replaced."""
    for _ in range(2):
        written = write_all(shop_plan, tmp_path / "out", kinds=["csv", "svg", "xlsx", "dxf", "glb"])
        assert sorted(path.name for path in written) == sorted(path.name for path in (tmp_path / "out").iterdir())
    assert {path.suffix for path in written} == {".csv", ".svg", ".xlsx", ".dxf", ".glb"}


@pytest.mark.parametrize(("kind", "library"), exports.LIBRARY.items())
def test_a_missing_library_is_one_sentence_and_nothing_is_written(shop_plan, tmp_path, monkeypatch, kind, library):
    """It says which library, and how to get it."""
    real = importlib.util.find_spec
    monkeypatch.setattr(importlib.util, "find_spec", lambda name: None if name == library else real(name))
    sentence = (
        rf"^{kind} file: got no library for it, needs the library {library}\. Install .*: pip install {library}\.$"
    )
    with pytest.raises(InputError, match=sentence):
        write_all(shop_plan, tmp_path / "out", kinds=["csv", kind])
    assert not (tmp_path / "out").exists()
    assert kind not in {path.suffix[1:] for path in write_all(shop_plan, tmp_path / "out")}


def test_libraries_are_loaded_only_when_a_file_needs_them():
    """Importing exports and writing CSV loads none of the three."""
    code = (
        "import sys, gardenframe; from gardenframe.output import exports;"
        "list(exports.files_of(gardenframe.plan(gardenframe.builds.Trellis()), 'svg'));"
        "print([m for m in ('xlsxwriter', 'ezdxf', 'trimesh') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_every_file_that_a_panel_offers_is_the_export_of_its_name(shop_plan, tmp_path):
    """Each button's file lies beside the saved build under its name; the zip holds every table."""
    for offer in OFFERED:
        place = offer.write(shop_plan, tmp_path, "Beans", "metric")
        assert place.parent == tmp_path
        assert place.name.startswith("trellis.beans.")
    with zipfile.ZipFile(tmp_path / "trellis.beans.tables.zip") as box:
        assert {name: box.read(name) for name in box.namelist()} == files(shop_plan, "csv")
    assert (tmp_path / "trellis.beans.drawing.svg").read_bytes() == files(shop_plan, "svg")["drawing.svg"]


def test_kinds_and_folders_that_cannot_be_are_refused(shop_plan, tmp_path):
    """One sentence each."""
    with pytest.raises(InputError, match=r"^kind of file: got 'pdf', needs one of csv, svg, xlsx, dxf, glb"):
        write_all(shop_plan, tmp_path, kinds=["pdf"])
    (tmp_path / "file").write_text("")
    with pytest.raises(InputError, match=r"^folder: got .*, needs a folder that can be written \("):
        write_all(shop_plan, tmp_path / "file", kinds=["csv"])
