"""The files that a panel offers to write for a plan: one line each.

A plan, a folder, a name and a unit system come in, a file is written, its place comes out. To offer another file, add a
row to `OFFERED`; a writer that needs an optional package raises InputError where it is missing.
"""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from gardenframe.errors import InputError
from gardenframe.output.exports import one_file
from gardenframe.output.files import put
from gardenframe.output.saved import ENDING, file_name
from gardenframe.output.saved_reading import usable
from gardenframe.output.scale_model import scale_model
from gardenframe.output.scale_sheet import scale_sheet
from gardenframe.output.sheet import build_sheet
from gardenframe.road import Plan

FOLDER = "my_builds"  # beside the workbooks
Write = Callable[[Plan, Path, str, str], Path]  # plan, folder, name, system -> the file written


@dataclass(frozen=True, slots=True)
class Offer:
    """A file that can be written: what its button says, one sentence of what it is for, and what writes it."""

    label: str
    help: str
    write: Write


def place_for(plan: Plan, folder: Path, name: str, ending: str) -> Path:
    """Return where a file of a build goes, its folder made; beside its saved build, under the same name.

    Raises
    ------
    InputError
        For a name that cannot be used, or a folder that cannot be made.
    """
    stem = file_name(plan.build.key, usable(name)).removesuffix(ENDING)
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as problem:
        needs = f"a folder that can be written ({problem.strerror or problem})"
        raise InputError("folder", str(folder), needs, "Nothing was changed.") from None
    return folder / f"{stem}{ending}"


def written(place: Path, data: bytes) -> Path:
    """Return the place of a file, written whole or not at all; one of that name is replaced.

    Raises
    ------
    InputError
        Where it cannot be written; what was there stays.
    """
    try:
        put(place, data)
    except OSError as problem:
        needs = f"a place that can be written ({problem.strerror or problem})"
        raise InputError(place.name, str(place.parent), needs, "Nothing was changed.") from None
    return place


def write_sheet(plan: Plan, folder: Path, name: str, system: str) -> Path:
    """Return where the build sheet was written."""
    page = build_sheet(plan, system, name=usable(name))
    return written(place_for(plan, folder, name, ".sheet.html"), page.encode("utf-8"))


def write_model(plan: Plan, folder: Path, name: str, system: str) -> Path:
    """Return where the sheets of a scale model were written."""
    page = scale_sheet(scale_model(plan, 10.0), system)
    return written(place_for(plan, folder, name, ".model.html"), page.encode("utf-8"))


def file_of(kind: str, ending: str) -> Write:
    """Return what writes the export of a kind whose name ends so; several tables go into one zip."""

    def write(plan: Plan, folder: Path, name: str, system: str) -> Path:
        data = one_file(plan, kind, ending, system)
        return written(place_for(plan, folder, name, f".{ending}"), data)

    return write


OFFERED: tuple[Offer, ...] = (
    Offer(
        "Build sheet", "Pages for the shop and the garden: open the file and print it, on A4 or Letter.", write_sheet
    ),
    Offer("Scale model", "Sheets for a model of straws, a tenth of the size and true to scale.", write_model),
    Offer("Tables", "Pieces, cutting, bill, checks and anchors as CSV files in one zip.", file_of("csv", "tables.zip")),
    Offer("Spreadsheet", "The same tables as one XLSX file, a sheet each.", file_of("xlsx", "plan.xlsx")),
    Offer("Drawing", "The dimensioned drawing as SVG, for a page of your own.", file_of("svg", "drawing.svg")),
    Offer("DXF drawing", "The three views, full size, for a drawing program.", file_of("dxf", "drawing.dxf")),
    Offer("DXF lines", "The centre lines of all tubes in space.", file_of("dxf", "centre-lines.dxf")),
    Offer("3D tubes", "The tubes as GLB, to turn in your hand on a phone.", file_of("glb", "tubes.glb")),
)
