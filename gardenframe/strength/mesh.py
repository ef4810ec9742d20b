"""A frame as elements: runs divided at their joints and along their bends, with the unknowns that move each element.

What comes out is arrays, one row an element, that the solver reads; nothing is solved here.
"""

import math
from bisect import bisect_left
from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any, Protocol

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array

from gardenframe.errors import FrameError, InputError
from gardenframe.geometry.arcs import TOUCH_M, Arc, Centreline, Straight
from gardenframe.geometry.frame import Contact, Frame
from gardenframe.geometry.vectors import cross, minus
from gardenframe.kept import Keeps, cached_property
from gardenframe.strength.connections import RIGID, Bodies, Springs, join, stiffness_at

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
FINEST_DEG = 6.0  # 30 chords in a semicircle: thrust within 0.4 % of the true arch (found against quadrature)
LEAST_CHORDS = 16  # in a flatter arch: its rise is small, and each chord lies a larger share of it too low
COARSEST_FACTOR = 4.0  # a bend that is a small share of its run may be this much coarser
LEAST_M = 0.002  # a shorter element is as stiff as one this long: beyond that it only costs the others their digits
STRAIGHT_PARTS = 4  # of the longest straight stretch of a run of one bay, where buckling between joints matters
STUB_M = 0.002  # a bend that starts this near a joint starts there: a stub between would drown the rest in rounding
HELD_LETTERS = "xyzXYZ"


class Section(Protocol):
    """What the solver asks of a member; `materials.members.Member` has it all."""

    @property
    def modulus_pa(self) -> float:
        """Young's modulus. [Pa]"""
        ...

    @property
    def shear_modulus_pa(self) -> float:
        """Shear modulus. [Pa]"""
        ...

    @property
    def area_mm2(self) -> float:
        """Area. [mm2]"""
        ...

    @property
    def second_moment_mm4(self) -> float:
        """Second moment of area about the flat axis. [mm4]"""
        ...

    @property
    def second_moment_weak_mm4(self) -> float:
        """The same about the upright axis. [mm4]"""
        ...

    @property
    def torsion_mm4(self) -> float:
        """Torsion constant. [mm4]"""
        ...

    @property
    def tension_only(self) -> bool:
        """Whether it is a wire."""
        ...


@dataclass(frozen=True)
class Mesh(Keeps):
    """Elements of a frame.

    The twelve movements of an element in its own axes (x along it, z as upright as can be) are `turn` times the
    unknowns at `unknowns`.
    """

    frame: Frame
    runs: tuple[str, ...]
    run: Ints  # of each element
    from_m: Floats  # station along the run at which the element starts
    to_m: Floats
    length_m: Floats
    axes: Floats  # (elements, 3, 3), rows x y z
    stiff: Floats  # (elements, 4): EA, EI about y, EI about z, GJ [N, N m2]
    wire: NDArray[np.bool_]
    unknowns: Ints  # (elements, m)
    turn: Floats  # (elements, 12, m)
    count: int  # unknowns in all
    free: Ints  # number of each unknown among the free ones, -1 where held
    springs: Floats  # on each unknown [N m/rad]
    joint_unknowns: Ints  # (joints, 6), -1 for a joint that no run reaches
    joint_arm: Floats  # (joints, 3) from its body's point to the joint
    joint_keys: tuple[str, ...]
    idle: NDArray[np.bool_]  # unknowns that nothing stiffens: where only wires meet
    _kept: dict[Hashable, Any] = field(default_factory=dict, repr=False, compare=False)  # filled by `once`

    @cached_property
    def elements(self) -> int:
        """How many."""
        return len(self.run)

    @cached_property
    def first(self) -> Ints:
        """First element of each run, and last how many there are."""
        return np.searchsorted(self.run, np.arange(len(self.runs) + 1))

    @cached_property
    def run_index(self) -> dict[str, int]:
        """Number of each run."""
        return {key: i for i, key in enumerate(self.runs)}

    @cached_property
    def joint_index(self) -> dict[str, int]:
        """Number of each joint."""
        return {key: i for i, key in enumerate(self.joint_keys)}

    @cached_property
    def gathering(self) -> Any:
        """Sparse: adds up on the unknowns (unknowns and one more) what elements put on theirs, (elements x m)."""
        every = self.unknowns.ravel()
        starts = np.searchsorted(np.sort(every), np.arange(self.count + 2))
        order = np.argsort(every, kind="stable")
        return csr_array((np.ones(len(every)), order, starts), shape=(self.count + 1, len(every)))

    def followed(self, unknowns: Floats) -> Floats:
        """Return movements (unknowns, cases) as those that elements have a part in: (elements, m, cases)."""
        return np.concatenate([unknowns, np.zeros((1, unknowns.shape[1]))])[self.unknowns]

    @cached_property
    def free_unknowns(self) -> Ints:
        """The unknowns that are not held."""
        return np.flatnonzero(self.free >= 0)


def divided(line: Centreline, marks: Sequence[float], fine: bool) -> list[float]:
    """Return the stations that part a run into elements. [m]

    Parameters
    ----------
    line : Centreline
        The run's axis.
    marks : sequence of float
        Stations of its joints. [m]
    fine : bool
        Whether straight stretches are divided too, as buckling between joints needs.
    """
    bends = (s for s in line.starts_m if all(abs(s - mark) > STUB_M for mark in marks))
    ends = sorted({*marks, *bends})
    ends = [ends[0]] + [b for a, b in pairwise(ends) if b - a > TOUCH_M]
    if not fine and line.straight:
        return ends
    stretches = list(pairwise(ends))
    longest = max(b - a for a, b in stretches)
    finest_deg = min(FINEST_DEG, math.degrees(sum(arc.angle_rad for arc in line.bends)) / LEAST_CHORDS)
    stations = [ends[0]]
    for a, b in stretches:
        piece, _ = line._piece((a + b) / 2)
        if isinstance(piece, Arc):
            share = line.length_m / (8 * piece.radius_m)
            largest_deg = finest_deg if share <= 1.0 else FINEST_DEG * min(share, COARSEST_FACTOR)
            parts = math.ceil(math.degrees((b - a) / piece.radius_m) / largest_deg - 1e-6)
        elif not fine or b - a < longest / 2:
            parts = 1
        else:
            parts = max(2, round(STRAIGHT_PARTS * (b - a) / line.length_m))
        stations += [a + (b - a) * (i + 1) / parts for i in range(parts)]
    return stations


def points_at(line: Centreline, stations: Sequence[float] | Floats) -> Floats:
    """Return the points at stations, rows x y z. [m]"""
    s = np.asarray(stations)
    if line.straight:
        near, far = np.array(line.pieces[0].start), np.array(line.pieces[0].end)
        return np.asarray(near + (s / line.length_m)[:, None] * (far - near))
    out = np.empty((len(s), 3))
    for piece, start, end in zip(line.pieces, line.starts_m, line.starts_m[1:], strict=False):
        inside = (s >= start - TOUCH_M) & (s <= end + TOUCH_M)
        along = (s[inside] - start)[:, None]
        if isinstance(piece, Straight):
            out[inside] = np.array(piece.start) + along * np.array(piece.tangent(0.0))
        else:
            centre, spoke = np.array(piece.centre), minus(piece.start, piece.centre)
            angle = along / piece.radius_m
            out[inside] = centre + np.cos(angle) * np.array(spoke) + np.sin(angle) * np.array(cross(piece.axis, spoke))
    return out


def local_axes(along: Floats, normal: Floats) -> Floats:
    """Return the axes of elements: x along, y flat or square to the plane of a bent run, z the third.

    Parameters
    ----------
    along : array (elements, 3)
        Unit vectors from start to end.
    normal : array (elements, 3)
        Square to the plane of the bend; zeros for a straight run.
    """
    upright = np.abs(along[:, 2]) > 0.9999
    reference = np.where(upright[:, None], [1.0, 0.0, 0.0], [0.0, 0.0, 1.0])
    y = np.where(np.abs(normal).sum(axis=1, keepdims=True) > 0, normal, np.cross(reference, along))
    y = y - (y * along).sum(axis=1, keepdims=True) * along
    y /= np.linalg.norm(y, axis=1, keepdims=True)
    return np.stack([along, y, np.cross(along, y)], axis=1)


class _Drawn:
    """Nodes and elements of all runs, as they are laid out one run after another."""

    def __init__(self, frame: Frame, wires: set[str], springs: Springs, fine: bool) -> None:
        self.at: list[Floats] = []
        self.total = 0
        self.start: list[int] = []
        self.run: list[int] = []
        self.from_m: list[float] = []
        self.to_m: list[float] = []
        self.normal: list[Any] = []
        self.nodes: dict[tuple[str, str], tuple[int, ...]] = {}
        for number, (key, run) in enumerate(frame.runs.items()):
            line, contacts = frame.lines[key], frame.on[key]
            if line.length_m < TOUCH_M:
                raise FrameError(f"run {key}", "it has no length", "Move one of its ends.")
            marks = [c.station_m for c in contacts]
            stations = marks if key in wires else divided(line, marks, fine)
            parted = [c for c in contacts if c.joint in run.splices and stiffness_at(springs, c.joint, key) != RIGID]
            bends = line.bends
            self._lay(number, line, _merged(stations), contacts, parted)
            self.normal += [bends[0].axis if bends else (0.0, 0.0, 0.0)] * (len(self.run) - len(self.normal))

    def _lay(
        self, number: int, line: Centreline, stations: list[float], contacts: Sequence[Contact], parted: list[Contact]
    ) -> None:
        """Lay out one run: its nodes, twice where a splice parts it, and the elements between."""
        twice = {_nearest(stations, c.station_m) for c in parted}
        first = self.total
        node_of: list[tuple[int, ...]] = []
        kept: list[float] = []
        for i, station in enumerate(stations):
            at = first + len(kept)
            copies: tuple[int, ...] = (at, at + 1) if i in twice else (at,)
            kept += [station] * len(copies)
            node_of.append(copies)
        for i in range(len(stations) - 1):
            self.start.append(node_of[i][-1])
            self.from_m.append(stations[i])
            self.to_m.append(stations[i + 1])
            self.run.append(number)
        self.at.append(points_at(line, kept))
        self.total += len(kept)
        spliced = {c.joint for c in parted}
        for c in contacts:
            copies = node_of[_nearest(stations, c.station_m)]
            self.nodes[c.joint, c.run] = copies if c.joint in spliced else copies[:1]


def _merged(stations: Sequence[float]) -> list[float]:
    ordered = sorted(stations)
    return [ordered[0]] + [b for a, b in pairwise(ordered) if b - a > TOUCH_M]


def _nearest(stations: list[float], station: float) -> int:
    after = bisect_left(stations, station - TOUCH_M)
    return min(after, len(stations) - 1)


def section_row(section: Section, run: str) -> tuple[float, float, float, float]:
    """Return EA, EI about the flat axis, EI about the upright one, GJ. [N, N m2]"""
    e, g = section.modulus_pa, section.shear_modulus_pa
    row = (
        e * section.area_mm2 * 1e-6,
        e * section.second_moment_mm4 * 1e-12,
        e * section.second_moment_weak_mm4 * 1e-12,
        g * section.torsion_mm4 * 1e-12,
    )
    if not all(math.isfinite(value) and value > 0 for value in row):
        raise InputError(f"section of run {run}", row, "stiffness above 0")
    return row


def mesh(frame: Frame, members: Mapping[str, Section], springs: Springs | None = None, fine: bool = False) -> Mesh:
    """Return the elements of a frame.

    Parameters
    ----------
    frame : Frame
        The frame.
    members : mapping
        Sections by the key that runs name.
    springs : mapping, optional
        Turning stiffness by (joint, run); rigid where none is given. [N m/rad]
    fine : bool
        Divide straight stretches too.

    Raises
    ------
    FrameError
        For a member that is not in the table, or no supports.
    """
    springs = springs or {}
    for run in frame.runs.values():
        if run.member not in members:
            raise FrameError(f"run {run.key}", f"its member {run.member!r} is not among the members")
    if not frame.supports:
        raise FrameError("supports", "no joint is held", "Hold at least one: on a foot, a stake, a sleeve or a strap.")
    wires = {run.key for run in frame.runs.values() if members[run.member].tension_only}
    drawn = _Drawn(frame, wires, springs, fine)
    bodies = join(frame, drawn.nodes, wires, springs)
    at = np.concatenate(drawn.at)
    for node in range(drawn.total):
        if node not in bodies.of_node:
            bodies.of_node[node] = bodies.new(tuple(at[node]))
    rows = {key: section_row(members[key], key) for key in {run.member for run in frame.runs.values()}}
    by_run = np.array([rows[run.member] for run in frame.runs.values()])
    is_wire = np.array([key in wires for key in frame.runs])
    start, run_of = np.array(drawn.start), np.array(drawn.run)
    chord = at[start + 1] - at[start]
    length = np.linalg.norm(chord, axis=1)
    axes = local_axes(chord / length[:, None], np.array(drawn.normal))
    shape = dict(run=run_of, from_m=np.array(drawn.from_m), to_m=np.array(drawn.to_m), length_m=length, axes=axes)
    no_stiffer = np.minimum(1.0, length / LEAST_M)[:, None] ** 3
    shape |= dict(stiff=by_run[run_of] * no_stiffer, wire=is_wire[run_of])
    return Mesh(
        frame=frame, runs=tuple(frame.runs), **shape, **_numbered(frame, bodies, at, start, axes, is_wire[run_of])
    )


def _numbered(
    frame: Frame, bodies: Bodies, at: Floats, start: Ints, axes: Floats, wire: NDArray[np.bool_]
) -> dict[str, Any]:
    """Number the unknowns and write each element's movements in them."""
    body = np.array([bodies.found(bodies.of_node[node]) for node in range(len(at))])
    place = np.array(bodies.places)
    homes = np.array([bodies.found(home) for home in bodies.homes], dtype=int)
    links = np.stack([body[start], body[start + 1]])
    base, angle_at, count = _order(homes, np.unique(body), len(place))
    most = np.bincount([turn.node for turn in bodies.turns], minlength=1).max() if bodies.turns else 0
    unknown = np.full((len(at), 6 + most), count)  # one beyond the last: a column of zeros
    moved = np.zeros((len(at), 6, 6 + most))
    unknown[:, :6] = base[body][:, None] + np.arange(6)
    moved[:, :6, :6] = arm_matrices(at - place[body])
    if bodies.turns:
        node, angle = np.array([(turn.node, turn.unknown) for turn in bodies.turns]).T
        move, axis = np.array([(turn.move, turn.axis) for turn in bodies.turns]).transpose(1, 0, 2)
        column = 6 + _ranks(node)
        unknown[node, column] = angle_at[angle]
        moved[node, :3, column] = move
        moved[node, 3:, column] = axis
    m = 6 + most
    local = np.zeros((len(start), 12, 2 * m))
    for end, nodes in enumerate((start, start + 1)):
        for half in (0, 3):
            rows = slice(6 * end + half, 6 * end + half + 3)
            local[:, rows, m * end : m * end + m] = axes @ moved[nodes, half : half + 3]
    unknowns = np.concatenate([unknown[start], unknown[start + 1]], axis=1)
    return _held(frame, bodies, base, angle_at, count, links[:, ~wire]) | {"unknowns": unknowns, "turn": local}


def arm_matrices(arms: Floats) -> Floats:
    """Return, for points at arms from a body's point, their six movements in terms of the body's six."""
    out = np.zeros((len(arms), 6, 6))
    out[:, range(6), range(6)] = 1.0
    x, y, z = arms.T
    out[:, 0, 4], out[:, 0, 5] = z, -y
    out[:, 1, 3], out[:, 1, 5] = -z, x
    out[:, 2, 3], out[:, 2, 4] = y, -x
    return out


def _order(homes: Ints, used: Ints, bodies: int) -> tuple[Ints, Ints, int]:
    """Return the first unknown of each body, that of each angle, and how many there are."""
    extra = np.bincount(homes, minlength=bodies)
    base = np.zeros(bodies, dtype=int)
    base[used] = np.concatenate([[0], np.cumsum(6 + extra[used])[:-1]])
    return base, base[homes] + 6 + _ranks(homes), int((6 + extra[used]).sum())


def _ranks(numbers: Ints) -> Ints:
    """Return how many equal numbers stand before each."""
    order = np.argsort(numbers, kind="stable")
    ordered = numbers[order]
    out = np.empty(len(numbers), dtype=int)
    out[order] = np.arange(len(numbers)) - np.searchsorted(ordered, ordered)
    return out


def _held(frame: Frame, bodies: Bodies, base: Ints, angle_at: Ints, count: int, stiff_links: Ints) -> dict[str, Any]:
    """Return which unknowns are held, sprung or idle, and where each joint is among them."""
    held, idle = np.zeros(count, dtype=bool), np.zeros(count, dtype=bool)
    springs = np.zeros(count)
    springs[angle_at] = bodies.springs
    keys = tuple(frame.joints)
    of = np.array([base[bodies.found(bodies.of_joint[key])] if key in bodies.of_joint else -1 for key in keys])
    for support in frame.supports:
        first = base[bodies.found(bodies.of_joint[support.joint])]
        for letter in support.held:
            if letter not in HELD_LETTERS:
                raise FrameError(f"support at joint {support.joint}", f"got {letter!r}", "Hold x y z X Y Z.")
            held[first + HELD_LETTERS.index(letter)] = True
        if support.spring_n_m_per_rad > 0:
            springs[first + 3 : first + 5] += support.spring_n_m_per_rad
    bare = np.ones(len(bodies.places), dtype=bool)
    bare[stiff_links.ravel()] = False
    for body in {bodies.found(b) for b in bodies.of_joint.values()}:
        if bare[body]:
            idle[base[body] + 3 : base[body] + 6] = True
    for body in {bodies.found(b) for b in bodies.still}:
        idle[base[body] + 3 : base[body] + 6] = True
    idle &= (springs == 0) & ~held
    free = np.full(count + 1, -1)
    moving = np.flatnonzero(~(held | idle))
    free[moving] = np.arange(len(moving))
    place = np.array(
        [bodies.places[bodies.found(bodies.of_joint[k])] if k in bodies.of_joint else (0, 0, 0) for k in keys]
    )
    points = np.array([frame.joints[key].at for key in keys])
    return {
        "count": count,
        "free": free,
        "springs": springs,
        "idle": idle,
        "joint_unknowns": np.where(of[:, None] < 0, -1, of[:, None] + np.arange(6)),
        "joint_arm": points - place,
        "joint_keys": keys,
    }
