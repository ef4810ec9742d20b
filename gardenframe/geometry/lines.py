"""Straight members as a designer draws them, laid as runs for the joining chosen.

Lines come in, each through all its joints; runs go out. Clamp-on: at a crossing one line passes and the rest stop.
Slip-on: a line passes only where a fitting row lets it. Bolted: every line passes, laid to its own side.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from gardenframe.geometry.fittings import shapes
from gardenframe.geometry.frame import Contact, Joint, Run
from gardenframe.geometry.vectors import Vector, minus, times, unit
from gardenframe.materials.fittings import FittingRow


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One straight member through joints, before it is known which of them cut it.

    `first` decides who passes where lines cross: the higher. `side` is the direction in which it is laid off the
    joints when bolted, in tube diameters: (0, -1, 0) is one diameter towards the reader.
    """

    key: str
    member: str
    joints: tuple[str, ...]
    role: str = "rail"
    first: int = 0
    side: Vector = (0.0, 0.0, 0.0)
    part: str = "frame"
    may_splice: bool = True


def lay(
    lines: Sequence[Line],
    joints: Iterable[Joint],
    joining: str,
    rows: Mapping[str, FittingRow],
    outer_m: Mapping[str, float],
) -> list[Run]:
    """Return the runs of lines for a joining.

    Parameters
    ----------
    lines : sequence of Line
        Each with at least two joints, in order along it.
    outer_m : mapping of member key to outside diameter
        For laying bolted tubes side by side. [m]
    """
    at = {joint.key: joint.at for joint in joints}
    if joining == "bolted":
        return [_whole(line, times(line.side, outer_m[line.member])) for line in lines]
    cuts: dict[str, set[str]] = {line.key: set() for line in lines}
    for joint, meeting in _meetings(lines).items():
        through = [line for line in meeting if joint not in (line.joints[0], line.joints[-1])]
        if len(meeting) == 1 or not through:
            continue
        ranked = sorted(through, key=lambda line: -line.first)
        passing = (
            ranked[0] if joining == "clamp-on" or _may_pass(joint, meeting, ranked[0], at, joining, rows) else None
        )
        for line in through:
            if line is not passing:
                cuts[line.key].add(joint)
    return [run for line in lines for run in _split(line, cuts[line.key])]


def _meetings(lines: Iterable[Line]) -> dict[str, list[Line]]:
    found: dict[str, list[Line]] = {}
    for line in lines:
        for joint in line.joints:
            found.setdefault(joint, []).append(line)
    return found


def _may_pass(
    joint: str,
    meeting: Sequence[Line],
    passing: Line,
    at: Mapping[str, Vector],
    joining: str,
    rows: Mapping[str, FittingRow],
) -> bool:
    """Whether a row of the joining takes one passing tube in the shape that the lines make."""
    words = shapes([_contact(joint, line, at, line is passing) for line in meeting])
    return any(
        row.joining == joining and row.fitting in words and row.passes == 1 and row.size == passing.member
        for row in rows.values()
    )


def _contact(joint: str, line: Line, at: Mapping[str, Vector], passes: bool) -> Contact:
    place = line.joints.index(joint)
    near = [line.joints[i] for i in (place - 1, place + 1) if 0 <= i < len(line.joints)]
    directions = tuple(unit(minus(at[key], at[joint])) for key in near)
    return Contact(joint, line.key, 0.0, (0.0, 0.0, 0.0), directions, "" if passes else "start")


def _whole(line: Line, offset_m: Vector) -> Run:
    return Run(
        key=line.key,
        member=line.member,
        path=line.joints,
        role=line.role,
        offset_m=offset_m,
        part=line.part,
        may_splice=line.may_splice,
    )


def _split(line: Line, cuts: set[str]) -> list[Run]:
    """Return the runs of one line, cut at joints; numbered in order where there is more than one."""
    paths: list[list[str]] = [[line.joints[0]]]
    for joint in line.joints[1:]:
        paths[-1].append(joint)
        if joint in cuts and joint != line.joints[-1]:
            paths.append([joint])
    if len(paths) == 1:
        return [_whole(line, (0.0, 0.0, 0.0))]
    return [
        Run(
            key=f"{line.key}.{i + 1}",
            member=line.member,
            path=tuple(path),
            role=line.role,
            part=line.part,
            may_splice=line.may_splice,
        )
        for i, path in enumerate(paths)
    ]
