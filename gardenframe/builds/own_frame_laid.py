"""The rows of an own runs table as runs: as written, or cut where tubes meet as the joining asks.

Rows come in, runs go out. Bent rows, and rows that say themselves to which side they lie, are one tube as written.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from gardenframe.builds.own_frame_read import on_the_way, straight, words
from gardenframe.errors import FrameError
from gardenframe.geometry.frame import Contact, Frame, Joint, Run
from gardenframe.geometry.lines import Line, lay
from gardenframe.geometry.vectors import Vector, add, distance, dot, minus, times, unit
from gardenframe.materials.shop import Shop

FIRST = {"post": 3, "leg": 3, "header": 2, "sill": 2, "ridge": 2, "rail": 1, "shelf rail": 1}  # who passes
BESIDE_M = 0.005  # how far axes may miss each other at a fitting


def as_written(row: Mapping[str, Any]) -> Run:
    """Return the run of a row, one tube."""
    return Run(
        key=row["run"], member=row["member"], path=words(row, "path"), role=row.get("role") or "rail",
        bend_radius_m=float(row.get("bend_radius_m") or 0.0), also=words(row, "also"),
        splices=words(row, "splices"), offset_m=_offset(row),
    )  # fmt: skip


def cut_where_they_meet(
    rows: Sequence[Mapping[str, Any]], joints: Sequence[Joint], at: Mapping[str, Vector], joining: str, shop: Shop
) -> list[Run]:
    """Return the runs of rows in the order of the table, straight ones laid for the joining.

    A row with an offset of its own is laid there whole, in place of what the joining would do with it.
    """
    lines: list[Line] = []
    found: dict[str, list[Run]] = {row["run"]: [] for row in rows}
    by_key = {row["run"]: row for row in rows}
    for row in rows:
        path = words(row, "path")
        if not straight(path, at):
            found[row["run"]].append(as_written(row))
        elif any(_offset(row)):
            found[row["run"]].append(_beside(row, path, at))
        else:
            lines.append(_line(row, path, at))
    thickest = max((shop.member(row["member"]).outer_mm / 1000 for row in rows), default=0.0)
    known = {line.key for line in lines}
    for run in lay(lines, joints, joining, shop.fittings, {line.member: thickest for line in lines}):
        found[run.key if run.key in known else run.key.rsplit(".", 1)[0]].append(run)
    for key in known:
        found[key] = _with_the_rest(by_key[key], found[key], at)
    return [run for row in rows for run in found[row["run"]]]


def check_joined(frame: Frame) -> None:
    """Raise FrameError for a coupling that cannot be, or an end in a fitting that lies beside the other tube."""
    for run in frame.runs.values():
        _check_couplings(frame, run)
        if frame.joining != "bolted":
            for contact in frame.on[run.key]:
                _check_end(frame, contact)


def _check_couplings(frame: Frame, run: Run) -> None:
    passed = {contact.joint for contact in frame.on[run.key] if contact.passes}
    for key in run.splices:
        if key not in passed:
            problem = f"a coupling is asked for at joint {key}, which it does not pass through"
            raise FrameError(f"run {run.key}", problem, "Couple it between its ends, where no tube cuts it.")
        others = [contact.run for contact in frame.contacts[key] if contact.run != run.key]
        if others:
            problem = f"a coupling is asked for at joint {key}, where it also meets run {others[0]}"
            do = "Couple it at a joint of its own, about a fifth of the way to the next post."
            raise FrameError(f"run {run.key}", problem, do)


def _check_end(frame: Frame, contact: Contact) -> None:
    """Refuse an end whose fitting would have to reach sideways; couplers hold tubes side by side where both pass."""
    for other in frame.contacts[contact.joint]:
        beside = distance(contact.offset, other.offset)
        if contact.end and beside > BESIDE_M:
            problem = f"it ends at joint {contact.joint}, {beside * 1000:.0f} mm beside the axis of run {other.run}"
            do = "Bring both axes to the joint, or let it go on past the other tube, so that a coupler holds both."
            raise FrameError(f"run {contact.run}", problem, do)


def _offset(row: Mapping[str, Any]) -> Vector:
    x, y, z = (float(row.get(f"offset_{axis}_m") or 0.0) for axis in "xyz")
    return (x, y, z)


def _beside(row: Mapping[str, Any], path: tuple[str, ...], at: Mapping[str, Vector]) -> Run:
    """Return a straight row as one tube beside its joints, through all on its way."""
    through = on_the_way(path, at)
    also = tuple(key for key in words(row, "also") if key not in through)
    role = row.get("role") or _role(at[path[0]], at[path[-1]])
    return replace(as_written(row), path=through, also=also, role=role)


def _with_the_rest(row: Mapping[str, Any], runs: Sequence[Run], at: Mapping[str, Vector]) -> list[Run]:
    """Return the runs of a row with the joints beside it and the couplings that the row names."""
    through = {key for run in runs for key in run.path}
    beside = [key for key in words(row, "also") if key not in through]
    mine: dict[str, list[str]] = {run.key: [] for run in runs}
    for key in beside:
        mine[min(runs, key=lambda run: _off(at[key], at[run.path[0]], at[run.path[-1]])).key].append(key)
    asked = words(row, "splices")
    return [
        replace(
            run, also=(*run.also, *mine[run.key]),
            splices=tuple(key for key in asked if key in run.path or key in mine[run.key]),
        )
        for run in runs
    ]  # fmt: skip


def _off(point: Vector, start: Vector, end: Vector) -> float:
    """Return how far a point lies from the stretch between two others. [m]"""
    long = distance(start, end)
    ahead = unit(minus(end, start))
    along = min(max(dot(minus(point, start), ahead), 0.0), long)
    return distance(point, add(start, times(ahead, along)))


def _line(row: Mapping[str, Any], path: tuple[str, ...], at: Mapping[str, Vector]) -> Line:
    role = row.get("role") or _role(at[path[0]], at[path[-1]])
    return Line(
        key=row["run"], member=row["member"], joints=on_the_way(path, at), role=role, first=FIRST.get(role, 0),
        side=_side(minus(at[path[-1]], at[path[0]])),
    )  # fmt: skip


def _role(start: Vector, end: Vector) -> str:
    """Return what a run is by the way it goes: upright a post, level a rail, else a brace."""
    ahead = unit(minus(end, start))
    return "post" if abs(ahead[2]) > 0.95 else "rail" if abs(ahead[2]) < 0.05 else "brace"


def _side(ahead: Vector) -> Vector:
    """Return to which side a bolted run lies: posts stay, level ones go across their way, braces to the other side.

    Level ones away from you lie a tube lower than those along the front, or their ends would meet in one place.
    """
    x, y, z = unit(ahead)
    if abs(z) > 0.95:
        return (0.0, 0.0, 0.0)
    level, along_x = abs(z) < 0.05, abs(x) >= abs(y)
    if along_x:
        return (0.0, -1.0 if level else 1.0, 0.0)
    return (-1.0, 0.0, -1.0) if level else (1.0, 0.0, 0.0)
