"""True length and mark of every piece that is cut.

A frame with its couplings, what joins it and the tape come in; pieces go out, like ones grouped under one mark.
Length on the axis, less the set-back at each end: nothing else is taken off.
"""

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from gardenframe.errors import FrameError
from gardenframe.geometry.arcs import Arc
from gardenframe.geometry.fittings import Fitted
from gardenframe.geometry.frame import Frame, Run
from gardenframe.geometry.vectors import Vector, angle_deg, cross, dot

LETTERS = {
    "post": "P",
    "rail": "R",
    "brace": "B",
    "stay": "Y",
    "purlin": "N",
    "ridge": "G",
    "hoop": "H",
    "sill": "S",
    "header": "E",
    "leg": "L",
    "shelf rail": "F",
    "wire": "W",
    "gate leaf": "T",
    "lid": "D",
    "rafter": "A",
    "tie": "C",
    "roll-up tube": "U",
    "base board": "K",
    "door stile": "T",
    "door rail": "T",
    "door brace": "T",
}
SHORTEST_M = 0.03  # a shorter piece cannot be held in two fittings
SAME_M = 1e-6
SAME_DEG = 0.5
NUDGE_MM = 3e-5  # keeps equal lengths that differ in the last bit on one side of a rounding edge


@dataclass(frozen=True, slots=True)
class Bend:
    """One bend of a piece: where it starts and ends along the straight tube, and how its plane turns from the last.

    `roll_deg` is clockwise seen along the tube from its start, -180 to 180: left- and right-handed pieces differ.
    """

    start_m: float
    end_m: float
    radius_m: float
    angle_deg: float
    roll_deg: float


@dataclass(frozen=True, slots=True)
class Place:
    """One piece as it lies in the frame: the run, and the stations of its two ends."""

    run: str
    start_m: float
    end_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Loose:
    """Straight pieces cut and bought with the rest that no load of the frame goes through: a leaf, a board, a pipe.

    `name` says which thing they make, `number` are cut alike.
    """

    name: str
    role: str
    member: str
    length_m: float
    number: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One kind of piece: `count` of them are cut alike. A loose one's places name the thing that it makes.

    `length_m` is exact; `cut` is the length in marks of the tape (mm or sixteenths of an inch), `cut_m` the same in
    metres. `bends` are empty for a straight piece.
    """

    mark: str
    member: str
    role: str
    length_m: float
    cut: int
    cut_m: float
    places: tuple[Place, ...]
    bends: tuple[Bend, ...] = ()
    loose: bool = False

    @property
    def count(self) -> int:
        """How many are cut alike."""
        return len(self.places)


def even_parts(length_m: float, longest_m: float) -> tuple[int, float]:
    """Return the fewest equal parts that a length is made of where none may be longer: number, length of each. [m]

    >>> even_parts(7.0, 3.0)[0], even_parts(6.0, 3.0)
    (3, (2, 3.0))
    """
    number = max(1, math.ceil(length_m / longest_m - 1e-9))
    return number, length_m / number


def cut_pieces(
    frame: Frame,
    fitted: Iterable[Fitted],
    on_the_tape: Callable[[float], int],
    tape_mm: Callable[[float], float],
    loose: Iterable[Loose] = (),
) -> tuple[Piece, ...]:
    """Return every piece, like ones together, longest first within a role.

    Parameters
    ----------
    on_the_tape, tape_mm : functions of a length in mm
        Its nearest mark of the tape, as a number of marks and in mm.
    loose : iterable of Loose
        What is cut beside the frame.

    Raises
    ------
    FrameError
        For a run that its set-backs leave nothing of.
    """
    setbacks = {(run, f.joint): back for f in fitted for run, back in f.setbacks.items()}
    groups: dict[tuple[str, str, float, tuple[Bend, ...], bool], list[tuple[float, Place]]] = {}
    for run in frame.runs.values():
        for place in _places(frame, run, setbacks):
            length = place.end_m - place.start_m
            bends = _bends(frame, place)
            key = (run.role, run.member, round(length * 1000 + NUDGE_MM, 3), _alike(bends), False)
            groups.setdefault(key, []).append((length, place))
    for one in loose:
        like = (one.role, one.member, round(one.length_m * 1000 + NUDGE_MM, 3), (), True)
        groups.setdefault(like, []).extend([(one.length_m, Place(one.name, 0.0, one.length_m))] * one.number)
    ordered = sorted(groups.items(), key=lambda item: (_letter(item[0][0]), -item[0][2], item[0][1]))
    numbers: dict[str, int] = {}
    pieces = []
    for (role, member, _, _, is_loose), alike in ordered:
        letter = _letter(role)
        numbers[letter] = numbers.get(letter, 0) + 1
        length, place = alike[0]
        pieces.append(
            Piece(
                mark=f"{letter}{numbers[letter]}",
                member=member,
                role=role,
                length_m=length,
                cut=on_the_tape(length * 1000),
                cut_m=tape_mm(length * 1000) / 1000,
                places=tuple(p for _, p in alike),
                bends=() if is_loose else _bends(frame, place),
                loose=is_loose,
            )
        )
    return tuple(pieces)


def _letter(role: str) -> str:
    return LETTERS.get(role, role[:1].upper())


def _places(frame: Frame, run: Run, setbacks: dict[tuple[str, str], float]) -> Iterator[Place]:
    """Yield the pieces of one run: from end to end, or from coupling to coupling."""
    line, stations = frame.lines[run.key], {c.joint: c.station_m for c in frame.on[run.key]}
    here = setbacks.get((run.key, run.path[0]), 0.0)
    for joint in sorted(run.splices, key=stations.__getitem__):
        half_gap = setbacks.get((run.key, joint), 0.0)
        yield _place(run, here, stations[joint] - half_gap)
        here = stations[joint] + half_gap
    yield _place(run, here, line.length_m - setbacks.get((run.key, run.path[-1]), 0.0))


def _place(run: Run, start_m: float, end_m: float) -> Place:
    if end_m - start_m < SHORTEST_M:
        raise FrameError(
            f"run {run.key}",
            f"its fittings leave a piece of {(end_m - start_m) * 1000:.0f} mm and {SHORTEST_M * 1000:.0f} mm is needed",
            "Move its joints apart.",
        )
    return Place(run.key, start_m, end_m)


def _bends(frame: Frame, place: Place) -> tuple[Bend, ...]:
    """Return the bends of a piece, measured along it from its start."""
    line = frame.lines[place.run]
    if line.straight:
        return ()
    bends: list[Bend] = []
    last: Arc | None = None
    for arc, start in zip(line.pieces, line.starts_m):
        a, b = max(start, place.start_m), min(start + arc.length_m, place.end_m)
        if not isinstance(arc, Arc) or b - a < SAME_M:
            continue
        roll = _roll_deg(last.axis, arc.axis, arc.tangent(0.0)) if last else 0.0
        turned = math.degrees((b - a) / arc.radius_m)
        bends.append(Bend(a - place.start_m, b - place.start_m, arc.radius_m, turned, roll))
        last = arc
    return tuple(bends)


def _roll_deg(before: Vector, after: Vector, ahead: Vector) -> float:
    """Angle from one bend's axis to the next, clockwise seen along the tube; half a turn is always 180. [deg]"""
    roll = math.copysign(angle_deg(before, after), dot(cross(before, after), ahead))
    return 180.0 if roll < SAME_DEG - 180 else roll


def _alike(bends: tuple[Bend, ...]) -> tuple[Bend, ...]:
    """Return bends rounded so that two pieces bent alike compare equal."""
    return tuple(
        Bend(round(b.start_m, 4), round(b.end_m, 4), round(b.radius_m, 4), round(b.angle_deg, 1), round(b.roll_deg))
        for b in bends
    )
