"""A frame as two small tables, as a reader writes them, and back again.

Tables come in as DataFrames, lists of dicts, or CSV (a path or pasted text); every bad cell is named.
"""

from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

import pandas as pd

from gardenframe import tables
from gardenframe.errors import InputError, TableError
from gardenframe.geometry.arcs import TOUCH_M
from gardenframe.geometry.frame import Frame, Joint, Panel, Part, Run, Support
from gardenframe.materials.members import find
from gardenframe.tables import Found

NAMES = {"joints": ("joint", "x_m", "y_m", "z_m"), "runs": ("run", "member", "path"), "supports": ("joint", "held")}
FARTHEST_M = 1000.0
HARDEST_N_M_PER_RAD = 1e9


def frame_of_tables(joints: Any, runs: Any, supports: Any, joining: str, panels: tuple[Panel, ...]) -> Frame:
    """Return the frame of a table of joints and a table of runs; see `Frame.from_tables`."""
    placed = [_joint(line, row) for line, row in _rows("joints", joints)]
    laid = [_run(line, row) for line, row in _rows("runs", runs)]
    held = (
        _stood(placed, laid) if supports is None else [_support(line, row) for line, row in _rows("supports", supports)]
    )
    parts = tuple(Part(key=key) for key in dict.fromkeys(run.part for run in laid))
    return Frame.of(placed, laid, held, joining=joining, panels=panels, parts=parts)


def tables_of_frame(frame: Frame) -> dict[str, pd.DataFrame]:
    """Return `joints`, `runs` and `supports` of a frame, as `frame_of_tables` reads them."""
    runs = [
        {
            "run": run.key,
            "member": run.member,
            "path": " ".join(_word(key) for key in run.path),
            "bend_radius_m": run.bend_radius_m,
            "role": run.role,
            "also": " ".join(_word(key) for key in run.also if key not in run.splices) or "none",
            "offset_x_m": run.offset_m[0],
            "offset_y_m": run.offset_m[1],
            "offset_z_m": run.offset_m[2],
        }
        for run in frame.runs.values()
    ]
    coupled = {key for run in frame.runs.values() for key in run.splices}
    joints = [(_word(j.key), j.x_m, j.y_m, j.z_m) for j in frame.joints.values() if j.key not in coupled]
    supports = [(_word(s.joint), s.base, s.held, s.spring_n_m_per_rad) for s in frame.supports]
    return {
        "joints": pd.DataFrame(joints, columns=["joint", "x_m", "y_m", "z_m"]),
        "runs": pd.DataFrame(runs),
        "supports": pd.DataFrame(supports, columns=["joint", "base", "held", "spring_n_m_per_rad"]),
    }


def _word(key: str) -> str:
    """Return a joint's name as one word, since a path separates names by spaces."""
    return key.replace(" ", "_")


def _rows(name: str, table: Any) -> list[tuple[int, Mapping[str, Any]]]:
    """Return (line, row) of a table, or say which column is missing."""
    headings, rows = _written(name, table) if isinstance(table, str | Path) else _given(table)
    for column in NAMES[name]:
        if column not in headings:
            raise TableError(name, 1, column, Found("no such column"), "all columns: " + ", ".join(NAMES[name]))
    if not rows:
        raise TableError(name, None, None, Found("no rows"), "at least one row under the headings")
    return rows


def _written(name: str, table: str | Path) -> tuple[list[str], list[tuple[int, Mapping[str, Any]]]]:
    """Return the headings and the (line, row)s of CSV, every row as long as the headings."""
    _, ((_, headings), *lines) = tables.records(table)
    for line, cells in lines:
        if len(cells) != len(headings):
            raise TableError(name, line, None, Found(f"{len(cells)} cells"), f"{len(headings)} cells")
    return headings, [(line, dict(zip(headings, cells, strict=True))) for line, cells in lines]


def _given(table: Any) -> tuple[list[str], list[tuple[int, Mapping[str, Any]]]]:
    frame = table if isinstance(table, pd.DataFrame) else pd.DataFrame(list(table))
    rows = [{str(heading): cell for heading, cell in row.items()} for row in frame.to_dict("records")]
    return [str(heading) for heading in frame.columns], list(enumerate(rows, start=2))


def _joint(line: int, row: Mapping[str, Any]) -> Joint:
    key = _text("joints", line, "joint", row)
    if " " in key:
        raise TableError("joints", line, "joint", key, "a name of one word", "Join its words with _.")
    return Joint(key, *(_number("joints", line, column, row) for column in ("x_m", "y_m", "z_m")))


def _run(line: int, row: Mapping[str, Any]) -> Run:
    offset = tuple(_number("runs", line, f"offset_{axis}_m", row, 0.0) for axis in "xyz")
    return Run(
        key=_text("runs", line, "run", row),
        member=_member(line, row),
        path=tuple(_text("runs", line, "path", row).split()),
        role=_optional(row, "role", "rail"),
        bend_radius_m=_number("runs", line, "bend_radius_m", row, 0.0),
        also=tuple(_optional(row, "also", "").split()),
        splices=tuple(_optional(row, "splices", "").split()),
        offset_m=(offset[0], offset[1], offset[2]),
        part=_optional(row, "part", "frame"),
    )


def _member(line: int, row: Mapping[str, Any]) -> str:
    text = _text("runs", line, "member", row)
    try:
        return find(text).key
    except InputError as error:
        raise TableError("runs", line, "member", text, error.needs, error.do) from None


def _support(line: int, row: Mapping[str, Any]) -> Support:
    held = _text("supports", line, "held", row)
    if not set(held) <= set("xyzXYZ"):
        raise TableError("supports", line, "held", held, "letters of x y z X Y Z", "Capitals stop turning.")
    return Support(
        joint=_text("supports", line, "joint", row),
        base=_optional(row, "base", "foot"),
        held=held,
        spring_n_m_per_rad=_spring(line, row),
    )


def _spring(line: int, row: Mapping[str, Any]) -> float:
    spring = _number("supports", line, "spring_n_m_per_rad", row, 0.0, HARDEST_N_M_PER_RAD, "N m/rad")
    if spring < 0:
        raise TableError("supports", line, "spring_n_m_per_rad", spring, "0 N m/rad or more")
    return spring


def _stood(joints: Iterable[Joint], runs: Iterable[Run]) -> list[Support]:
    """Return a pinned foot at every end of a run on the lowest level."""
    level = min(joint.z_m for joint in joints)
    ends = {key for run in runs for key in (run.path[0], run.path[-1])}
    return [Support(joint=j.key, base="foot") for j in joints if j.key in ends and j.z_m < level + TOUCH_M]


def _empty(value: Any) -> bool:
    return value is None or value != value or str(value).strip().lower() in ("", "none")


def _optional(row: Mapping[str, Any], column: str, default: str) -> str:
    value = row.get(column)
    return default if _empty(value) else str(value).strip()


def _text(table: str, line: int, column: str, row: Mapping[str, Any]) -> str:
    value = row[column]
    if _empty(value):
        raise TableError(table, line, column, None, "a name")
    text = str(value).strip()
    if text[0] in "=+-@":
        raise TableError(table, line, column, text, "a name", "It starts like a spreadsheet command.")
    return text


def _number(
    table: str,
    line: int,
    column: str,
    row: Mapping[str, Any],
    default: float | None = None,
    farthest: float = FARTHEST_M,
    unit: str = "m",
) -> float:
    value = row.get(column)
    if _empty(value) and default is not None:
        return default
    try:
        number = float(value)  # type: ignore[arg-type]
    except (TypeError, ValueError):
        raise TableError(table, line, column, value, f"a number in {unit}") from None
    if not -farthest <= number <= farthest:
        raise TableError(table, line, column, number, f"a number from -{farthest:g} to {farthest:g} {unit}")
    return number
