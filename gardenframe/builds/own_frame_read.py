"""The tables of an own frame, read cell by cell: joints, runs, feet, coverings. Each bad cell is named.

Text comes in, records go out. What can be laid at a cell's door is said with its line and column; the rest is geometry.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from pathlib import Path
from typing import Any

from gardenframe import tables
from gardenframe.builds.fields import FieldError
from gardenframe.errors import FrameError, InputError, TableError
from gardenframe.geometry.arcs import TOUCH_M, rounded, turns_at
from gardenframe.geometry.coverings import FLAT_M
from gardenframe.geometry.vectors import Vector, add, cross, distance, dot, minus, size, times, unit
from gardenframe.materials.anchors import load_anchors
from gardenframe.materials.coverings import load_coverings
from gardenframe.materials.members import find
from gardenframe.materials.plants import load_plants
from gardenframe.tables import Column

FARTHEST_M, HIGHEST_M, MOST_ROWS = 30.0, 8.0, 500
ON_THE_WAY_M = 0.001  # how far off a straight run a joint may lie and still be on it
APART_M = 0.002  # nearer than this two joints are one place
ROLES = (
    *("post", "rail", "brace", "purlin", "ridge", "hoop", "sill", "header", "leg", "shelf rail", "stay"),
    *("rafter", "tie", "bearer", "stretcher", "end rail", "prop", "wire", "gate leaf", "lid"),
)
PLACE = Column(kind="number", low=-FARTHEST_M, high=FARTHEST_M)
OFFSET = Column(kind="number", low=-0.15, high=0.15, optional=True)
NAMES = {"joints": "Joints", "runs": "Runs", "feet": "Feet", "coverings": "Coverings"}
NEEDED: dict[str, tables.Schema] = {
    "joints": {
        "joint": Column(kind="key"),
        "x_m": PLACE,
        "y_m": PLACE,
        "z_m": Column(kind="number", low=-2.0, high=HIGHEST_M),
    },
    "runs": {"run": Column(), "member": Column(), "path": Column()},
    "feet": {"joint": Column(), "base": Column(kind="choice", choices=tuple(load_anchors()))},
    "coverings": {
        "panel": Column(),
        "corners": Column(),
        "covering": Column(kind="choice", choices=tuple(load_coverings())),
    },
}
MORE: dict[str, tables.Schema] = {
    "joints": {},
    "runs": {
        "bend_radius_m": Column(kind="number", low=0, high=FARTHEST_M, optional=True),
        "role": Column(kind="choice", choices=ROLES, optional=True),
        "also": Column(optional=True),
        "splices": Column(optional=True),
        "offset_x_m": OFFSET,
        "offset_y_m": OFFSET,
        "offset_z_m": OFFSET,
    },
    "feet": {
        "held": Column(optional=True),
        "spring_n_m_per_rad": Column(kind="number", low=0, high=1_000_000, optional=True),
    },
    "coverings": {
        "plant": Column(kind="choice", choices=tuple(load_plants()), optional=True),
        "side": Column(kind="choice", choices=("wall", "roof"), optional=True),
    },
}
ONCE = {"joints": "joint", "runs": "run", "feet": "joint", "coverings": "panel"}


class OwnTableError(FieldError):
    """A cell, or a run, of an own table that cannot be used: stands by the box of that table."""

    def __init__(self, field: str, error: TableError | FrameError, line: int | None = None) -> None:
        self.line = getattr(error, "line", None) or line
        self.column = getattr(error, "column", None)
        where = [NAMES[field]]
        if self.line is not None:
            where.append(f"line {self.line}")
        if isinstance(error, TableError):
            if self.column:
                where.append(f"column {self.column}")
            super().__init__(field, ", ".join(where), error.got, error.needs, error.do)
        else:
            super().__init__(field, ", ".join(where), None, "")
            said = f"{error.where}: {error.problem}"
            self.args = (f"{', '.join(where)}, {said}.{f' {error.do}' if error.do else ''}",)


@dataclass(frozen=True)
class Read:
    """The rows of the tables, each with its line in its table."""

    joints: tuple[Mapping[str, Any], ...]
    runs: tuple[Mapping[str, Any], ...]
    feet: tuple[Mapping[str, Any], ...]
    coverings: tuple[Mapping[str, Any], ...]

    def line(self, table: str, key: str) -> int | None:
        """Return the line of a row by its name; none where there is no such row."""
        rows: tuple[Mapping[str, Any], ...] = getattr(self, table)
        return next((int(row["line"]) for row in rows if row[ONCE[table]] == key), None)


def text_of(given: str, field: str) -> str:
    """Return the text of a table: what was typed, or the file that a single line names."""
    clean = given.strip()
    if "\n" in clean or not clean:
        return clean
    place = Path(clean)
    try:
        return place.read_text(encoding="utf-8-sig").strip()
    except (OSError, UnicodeDecodeError, ValueError):
        needs = "a table of a row of headings and rows of values, or the name of a CSV file beside the workbooks"
        raise OwnTableError(field, TableError(field, None, None, clean, needs)) from None


@lru_cache(maxsize=64)
def read(joints: str, runs: str, feet: str, coverings: str) -> Read:
    """Return the rows of the tables; OwnTableError at the first bad cell."""
    placed = _rows("joints", joints)
    laid = _rows("runs", runs)
    found = Read(
        tuple(placed), tuple(laid),
        tuple(_rows("feet", feet)) if feet else (), tuple(_rows("coverings", coverings)) if coverings else (),
    )  # fmt: skip
    at = {row["joint"]: (row["x_m"], row["y_m"], row["z_m"]) for row in placed}
    _apart(placed, at)
    for row in laid:
        _check_run(row, at)
    for row in found.feet:
        _check_foot(row, at, laid)
    for row in found.coverings:
        _check_covering(row, at)
    _all_named(found, at)
    return found


def _rows(field: str, text: str) -> list[Mapping[str, Any]]:
    if not text:
        raise _bad(field, None, None, None, "a row of headings and rows of values")
    try:
        _, lines = tables.records(text if "\n" in text else text + "\n")
        headings = lines[0][1]
        more = {heading: column for heading, column in MORE[field].items() if heading in headings}
        rows = tables.read(text + "\n", {**NEEDED[field], **more}, unique=(ONCE[field],), line_as="line")
    except TableError as error:
        raise OwnTableError(field, error) from None
    if len(rows) > MOST_ROWS:
        raise _bad(field, None, None, f"{len(rows)} rows", f"at most {MOST_ROWS}")
    return list(rows)


def _bad(field: str, line: int | None, column: str | None, got: Any, needs: str, do: str = "") -> OwnTableError:
    return OwnTableError(field, TableError(field, line, column, got, needs, do))


def _apart(rows: Sequence[Mapping[str, Any]], at: Mapping[str, Vector]) -> None:
    for n, row in enumerate(rows):
        for other in rows[:n]:
            if distance(at[row["joint"]], at[other["joint"]]) < APART_M:
                needs = f"a place at least {APART_M * 1000:.0f} mm from joint {other['joint']}"
                raise _bad("joints", row["line"], "joint", row["joint"], needs, "Use one joint for both.")


def words(row: Mapping[str, Any], column: str) -> tuple[str, ...]:
    """Return the joints that a cell names."""
    return tuple(str(row.get(column) or "").split())


def _known(field: str, row: Mapping[str, Any], column: str, at: Mapping[str, Vector]) -> tuple[str, ...]:
    names = words(row, column)
    for name in names:
        if name not in at:
            raise _bad(field, row["line"], column, name, "joints of the joints table, separated by spaces")
    return names


def _check_run(row: Mapping[str, Any], at: Mapping[str, Vector]) -> None:
    line = row["line"]
    try:
        find(row["member"])
    except InputError as error:
        raise _bad("runs", line, "member", row["member"], error.needs) from None
    path = _known("runs", row, "path", at)
    also = _known("runs", row, "also", at)
    if len(path) < 2:
        raise _bad("runs", line, "path", row["path"], "two joints or more", "Name where it starts and ends.")
    for a, b in pairwise(path):
        if a == b:
            raise _bad("runs", line, "path", row["path"], f"each joint once after another; {a} follows itself")
    radius = float(row.get("bend_radius_m") or 0.0)
    for a, b, c in zip(path, path[1:], path[2:]):
        if radius == 0 and turns_at(at[a], at[b], at[c]):
            do = "Give a bend_radius_m, or end the run there and start another."
            raise _bad(
                "runs", line, "path", row["path"], f"a straight line through {b}, since it has no bend radius", do
            )
    try:
        rounded([at[name] for name in path], radius, f"run {row['run']}")
    except FrameError as error:
        raise OwnTableError("runs", error, line) from None
    on_it = on_the_way(path, at) if straight(path, at) else path
    for name in _known("runs", row, "splices", at):
        if name not in (*on_it, *also):
            raise _bad("runs", line, "splices", name, "joints that the run goes through")


def _check_foot(row: Mapping[str, Any], at: Mapping[str, Vector], laid: Sequence[Mapping[str, Any]]) -> None:
    if row["joint"] not in at:
        raise _bad("feet", row["line"], "joint", row["joint"], "a joint of the joints table")
    if not any(row["joint"] in (*words(run, "path"), *words(run, "also")) for run in laid):
        raise _bad("feet", row["line"], "joint", row["joint"], "a joint that a run goes to")
    held = row.get("held") or "xyz"
    if not set(held) <= set("xyzXYZ"):
        raise _bad("feet", row["line"], "held", held, "letters of x y z X Y Z", "Capitals stop turning.")


def _check_covering(row: Mapping[str, Any], at: Mapping[str, Vector]) -> None:
    corners = _known("coverings", row, "corners", at)
    if len(corners) < 3 or len(set(corners)) != len(corners):
        raise _bad("coverings", row["line"], "corners", row["corners"], "three different joints or more, in order")
    normal = flat_normal([at[name] for name in corners])
    if normal is None:
        raise _bad("coverings", row["line"], "corners", row["corners"], "corners round an area, not in one line")
    for name in corners[1:]:
        off = abs(dot(minus(at[name], at[corners[0]]), normal))
        if off > FLAT_M:
            needs = f"corners in one plane; {name} lies {off * 1000:.0f} mm off it"
            raise _bad("coverings", row["line"], "corners", row["corners"], needs, "Cover it in two parts.")


def flat_normal(points: Sequence[Vector]) -> Vector | None:
    """Return the direction square to the plane of the first corners that are not in line; none where all are."""
    for b in points[1:]:
        for c in points[2:]:
            normal = cross(minus(b, points[0]), minus(c, points[0]))
            if size(normal) > 1e-6:
                return unit(normal)
    return None


def straight(path: Sequence[str], at: Mapping[str, Vector]) -> bool:
    """Whether a path has no corner."""
    return not any(turns_at(at[a], at[b], at[c]) for a, b, c in zip(path, path[1:], path[2:]))


def on_the_way(path: Sequence[str], at: Mapping[str, Vector]) -> tuple[str, ...]:
    """Return the joints of a straight path with those that lie on its way, in order."""
    start, end = at[path[0]], at[path[-1]]
    ahead, long = unit(minus(end, start)), distance(start, end)
    found = {}
    for key, place in at.items():
        along = dot(minus(place, start), ahead)
        beside = distance(place, add(start, times(ahead, along)))
        if beside <= ON_THE_WAY_M and -TOUCH_M <= along <= long + TOUCH_M:
            found[key] = along
    return tuple(sorted(found, key=found.__getitem__))


def _all_named(found: Read, at: Mapping[str, Vector]) -> None:
    """Refuse a joint that nothing goes to: mostly a name typed wrongly, or a place typed wrongly."""
    named = set(_named(found))
    for row in found.runs:
        path = words(row, "path")
        if straight(path, at):
            named |= set(on_the_way(path, at))
    for row in found.joints:
        if row["joint"] not in named:
            raise _bad("joints", row["line"], "joint", row["joint"], "a joint that a run or a covering goes to")


def _named(found: Read) -> Iterator[str]:
    for row in found.runs:
        yield from words(row, "path")
        yield from words(row, "also")
    for row in found.coverings:
        yield from words(row, "corners")
