"""The frame: physical members (runs) through joints, in parts, on supports, with panels.

A run is one member as built. Its centreline is straight and circular pieces. A joint lies on each of its runs at a
station, with an offset where axes do not meet. From that alone follow fitting, set-back, element and cut length.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Any

from gardenframe.errors import FrameError
from gardenframe.geometry.arcs import TOUCH_M, Centreline, part_of, rounded, straight_line, turns_at
from gardenframe.geometry.scene import Body, Dimension
from gardenframe.geometry.vectors import Vector, add, distance, dot, minus, size, times
from gardenframe.kept import cached_property

JOININGS = ("clamp-on", "slip-on", "bolted")
LARGEST_OFFSET_M = 0.15  # axes farther apart than this cannot be joined by one fitting


@dataclass(frozen=True, slots=True)
class Joint:
    """A point where runs meet or end. Metres; z is up, x along the front, y away from the reader."""

    key: str
    x_m: float
    y_m: float
    z_m: float

    @property
    def at(self) -> Vector:
        """Where it is. [m]"""
        return (self.x_m, self.y_m, self.z_m)


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """One physical member.

    Parameters
    ----------
    key : str
        Its own name, such as `post 1`.
    member : str
        Key of the members table (`emt-1`).
    path : tuple of str
        Joints in order. It ends at the first and last and passes through those between; where the path turns, the
        corner is rounded to `bend_radius_m` and is then not a joint of the run.
    role : str
        post, rail, brace, purlin, ridge, hoop, sill, header, leg, shelf rail, stay.
    bend_radius_m : float
        To the centreline. [m]
    also : tuple of str
        Joints that lie on it off its path: on a bend, or beside it.
    offset_m : (x, y, z)
        Its axis against its path: tubes bolted or coupled lie side by side. [m]
    part : str
        The part it belongs to.
    splices : tuple of str
        Those of its joints at which a coupling joins two pieces.
    may_splice : bool
        Whether it may be made of two pieces.
    """

    key: str
    member: str
    path: tuple[str, ...]
    role: str = "rail"
    bend_radius_m: float = 0.0
    also: tuple[str, ...] = ()
    offset_m: Vector = (0.0, 0.0, 0.0)
    part: str = "frame"
    splices: tuple[str, ...] = ()
    may_splice: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A fixed or moving whole of a frame: the cage, its gate, a lid.

    `motion` is fixed, hinged, sliding or lift-off. Hinged: turns about the line through `axis_at` along `axis` from
    `closed_deg` to `open_deg` by the right-hand rule. Sliding: moves by `travel_m` along `axis`.
    """

    key: str
    motion: str = "fixed"
    axis_at: Vector = (0.0, 0.0, 0.0)
    axis: Vector = (0.0, 0.0, 1.0)
    closed_deg: float = 0.0
    open_deg: float = 0.0
    travel_m: float = 0.0
    gap_m: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Support:
    """A joint held by the ground or by something that stands there.

    `base` is what does it (strap, stake, sleeve, foot, castor, sill). `held` says which movements it stops:
    letters of x y z (movement) and X Y Z (turning about that axis). `spring_n_m_per_rad` holds X and Y softly where
    they are not in `held`.
    """

    joint: str
    base: str
    held: str = "xyz"
    spring_n_m_per_rad: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """A surface that takes a covering: a flat outline with holes, or a strip swept between two like runs.

    `outline` closes on itself. `carried_by` lists the runs that carry it; `swept` names the two runs of a strip, which
    lies `between_m` two stations of theirs. Panels of one `sheet` lie side by side across their first sides and are
    covered as one. Strips of the covering overlap by `overlap_m` and wrap round the edges by `wrap_m`; fixings stand at
    most `fixing_spacing_m` apart along every carrying run.
    """

    key: str
    carried_by: tuple[str, ...]
    covering: str | None = None
    outline: Centreline | None = None
    holes: tuple[Centreline, ...] = ()
    swept: tuple[str, str] | None = None
    between_m: tuple[float, float] | None = None  # of a strip: not where its runs go on into the ground
    sheet: str = ""  # what it is covered together with
    pool: str = ""  # what it shares its rolls with
    one_piece: bool = False  # covered from one strip of a roll, never joined
    lay: str = ""  # strips only along its first side, or only across it: boards and ribs carry one way
    plant: str | None = None  # what climbs it: its mass hangs there, its leaves stop wind
    row_share: float = 1.0  # of a row's mass that hangs on it: a row may climb a side and go on over a top
    part: str = "frame"
    side: str = "wall"  # wall, roof, floor, door: what wind and snow make of it
    encloses: bool = False  # one side of a skin round a space: the wind also presses inside
    overlap_m: float = 0.1
    wrap_m: float = 0.05
    fixing: str = "tie-200"  # key of the fixings table, or woven
    fixing_each: float = 1.0  # how much of the item one fixing takes: metres of wire
    fixing_spacing_m: float = 0.3


@dataclass(frozen=True, slots=True)
class Contact:
    """One joint on one run: where on the run, how far off its axis, and which ways the run goes from there."""

    joint: str
    run: str
    station_m: float
    offset: Vector  # from the axis to the joint
    directions: tuple[Vector, ...]  # one where the run ends, two where it passes
    end: str  # start, finish or "" where it passes

    @property
    def passes(self) -> bool:
        """Whether the run goes on to both sides."""
        return not self.end


Meetings = list[tuple[int, float, Vector, Vector]]


@dataclass(frozen=True)
class Frame:
    """Everything that is built, where it is. Never changed; what follows is computed when first asked for."""

    joints: Mapping[str, Joint]
    runs: Mapping[str, Run]
    supports: tuple[Support, ...] = ()
    panels: tuple[Panel, ...] = ()
    parts: tuple[Part, ...] = (Part(key="frame"),)
    joining: str = "clamp-on"
    soil_m: float = 0.0  # height of the soil that plants grow in and heights are measured from
    bodies: tuple[Body, ...] = ()  # drawn, not built
    dimensions: tuple[Dimension, ...] = ()

    @classmethod
    def of(cls, joints: Iterable[Joint], runs: Iterable[Run], supports: Iterable[Support] = (), **rest: Any) -> "Frame":
        """Return a frame of lists of joints and runs, checked."""
        frame = cls(_by_key(joints, "joint"), _by_key(runs, "run"), tuple(supports), **rest)
        check(frame)
        return frame

    @classmethod
    def from_tables(
        cls, joints: Any, runs: Any, supports: Any = None, *, joining: str = "clamp-on", panels: Iterable[Panel] = ()
    ) -> "Frame":
        """Return a frame of tables (DataFrames, lists of dicts or CSV) as a reader writes them.

        Parameters
        ----------
        joints : table
            `joint, x_m, y_m, z_m`
        runs : table
            `run, member, path, bend_radius_m`; path: joint names separated by spaces. Further columns of `Run` may
            follow: `role, also, part, splices, offset_x_m, offset_y_m, offset_z_m`.
        supports : table, optional
            `joint, held, base`; by default every joint at the lowest level where a run ends is held as a pinned foot.

        Raises
        ------
        TableError, FrameError
            Naming the cell, the joint or the run.
        """
        from gardenframe.geometry.frame_tables import frame_of_tables

        return frame_of_tables(joints, runs, supports, joining, tuple(panels))

    @cached_property
    def lines(self) -> dict[str, Centreline]:
        """Centreline of each run, on its own axis."""
        return {key: self._line(run) for key, run in self.runs.items()}

    def _line(self, run: Run) -> Centreline:
        points = [add(self.joints[key].at, run.offset_m) for key in run.path]
        if len(points) == 2:
            return straight_line(points[0], points[1])
        return rounded(points, run.bend_radius_m, run.key)

    def sweep(self, panel: Panel) -> tuple[Centreline, Centreline]:
        """Return the two lines that a strip is swept between, as far as it lies between them."""
        if panel.swept is None:
            raise FrameError(f"panel {panel.key}", "it is not swept between two runs")
        first, second = (self._edge(run, panel.between_m) for run in panel.swept)
        return first, second

    def _edge(self, run: str, between_m: tuple[float, float] | None) -> Centreline:
        if between_m is None:
            return self.lines[run]
        if (run, between_m) not in self._parts:
            self._parts[run, between_m] = part_of(self.lines[run], *between_m)
        return self._parts[run, between_m]

    @cached_property
    def _parts(self) -> dict[tuple[str, tuple[float, float]], Centreline]:
        return {}

    @cached_property
    def contacts(self) -> dict[str, tuple[Contact, ...]]:
        """Contacts of each joint, in the order of the runs."""
        found: dict[str, list[Contact]] = {key: [] for key in self.joints}
        for contacts in self.on.values():
            for contact in contacts:
                found[contact.joint].append(contact)
        return {key: tuple(contacts) for key, contacts in found.items()}

    @cached_property
    def on(self) -> dict[str, tuple[Contact, ...]]:
        """Contacts along each run, by station."""
        return {key: self._along(run) for key, run in self.runs.items()}

    def _along(self, run: Run) -> tuple[Contact, ...]:
        line, joints = self.lines[run.key], self.joints
        if line.straight:
            return self._along_straight(run, line)
        names = (*run.path, *run.also)
        first = joints[names[0]].at
        shape = (run.bend_radius_m, run.offset_m, len(run.path), tuple(minus(joints[k].at, first) for k in names))
        if shape not in self._met or len(set(names)) < len(names):  # like hoops meet like tubes at like stations
            self._met[shape] = self._stations(run, line, names)
        return tuple(
            _contact(names[n], run.key, station, line.length_m, offset, ahead)
            for n, station, offset, ahead in self._met[shape]
        )

    def _stations(self, run: Run, line: Centreline, names: tuple[str, ...]) -> Meetings:
        """Return which joints lie on a bent run: place in the names, station, offset and direction there, in order."""
        joints = self.joints
        at = {key: joints[key].at for key in run.path}
        inner = [k for a, k, b in zip(run.path, run.path[1:], run.path[2:]) if not turns_at(at[a], at[k], at[b])]
        stations = {run.path[0]: 0.0, run.path[-1]: line.length_m}
        for key in (*inner, *run.also):
            stations[key] = line.nearest(add(joints[key].at, run.offset_m))
        return [
            (names.index(key), station, minus(joints[key].at, line.point(station)), line.tangent(station))
            for key, station in sorted(stations.items(), key=lambda item: item[1])
        ]

    @cached_property
    def _met(self) -> dict[Any, Meetings]:
        return {}

    def coupled(self, joints: Mapping[str, Joint], runs: Mapping[str, Run]) -> "Frame":
        """Return the frame with some runs changed and joints added; what is known of the other runs is kept."""
        frame = replace(self, joints=joints, runs=runs)
        same = {key for key, run in runs.items() if run is self.runs.get(key)}
        lines = {key: self.lines[key] if key in same else frame._line(run) for key, run in runs.items()}
        vars(frame)["lines"] = lines
        vars(frame)["on"] = {key: self.on[key] if key in same else frame._along(run) for key, run in runs.items()}
        return frame

    def _along_straight(self, run: Run, line: Centreline) -> tuple[Contact, ...]:
        """Return the contacts of a straight run: one direction serves them all."""
        start, ahead, length = self.joints[run.path[0]].at, line.tangent(0.0), line.length_m
        found = []
        for key in (*run.path, *run.also):
            from_start = minus(self.joints[key].at, start)
            station = min(max(dot(from_start, ahead), 0.0), length)
            offset = minus(minus(from_start, times(ahead, station)), run.offset_m)
            found.append(_contact(key, run.key, station, length, offset, ahead))
        return tuple(sorted(found, key=lambda contact: contact.station_m)) if run.also else tuple(found)

    @cached_property
    def held(self) -> dict[str, Support]:
        """Support of each held joint."""
        return {support.joint: support for support in self.supports}

    def tables(self) -> dict[str, Any]:
        """Return the frame as the tables that `from_tables` reads."""
        from gardenframe.geometry.frame_tables import tables_of_frame

        return tables_of_frame(self)


def _contact(joint: str, run: str, station_m: float, length_m: float, offset: Vector, ahead: Vector) -> Contact:
    if station_m < TOUCH_M:
        return Contact(joint, run, 0.0, offset, (ahead,), "start")
    back = times(ahead, -1)
    if station_m > length_m - TOUCH_M:
        return Contact(joint, run, length_m, offset, (back,), "finish")
    return Contact(joint, run, station_m, offset, (ahead, back), "")


def _by_key(things: Iterable[Any], kind: str) -> Mapping[str, Any]:
    found: dict[str, Any] = {}
    for thing in things:
        if thing.key in found:
            raise FrameError(f"{kind} {thing.key}", "the name is used twice", "Give each its own name.")
        found[thing.key] = thing
    return MappingProxyType(found)


def check(frame: Frame) -> None:
    """Raise FrameError, naming the joint or run, unless the frame can be built."""
    if frame.joining not in JOININGS:
        raise FrameError("joining", f"got {frame.joining!r}", f"Choose one of {', '.join(JOININGS)}.")
    parts = {part.key for part in frame.parts}
    for run in frame.runs.values():
        named = (*run.path, *run.also, *run.splices)
        missing = [key for key in named if key not in frame.joints]
        if missing:
            raise FrameError(f"run {run.key}", f"its path names joint {missing[0]!r}, which is not in the joints")
        if len(run.path) < 2:
            raise FrameError(f"run {run.key}", "its path has fewer than two joints", "Name where it starts and ends.")
        if run.part not in parts:
            raise FrameError(f"run {run.key}", f"its part {run.part!r} is not in the parts")
        for a, b in zip(run.path, run.path[1:]):
            if distance(frame.joints[a].at, frame.joints[b].at) < TOUCH_M:
                raise FrameError(f"run {run.key}", f"it has no length between joints {a} and {b}", "Move one of them.")
        for contact in frame.on[run.key]:
            if dot(contact.offset, contact.offset) > LARGEST_OFFSET_M**2:
                raise FrameError(
                    f"joint {contact.joint}",
                    f"it lies {size(contact.offset) * 1000:.0f} mm off the axis of run {run.key}",
                    f"Bring it within {LARGEST_OFFSET_M * 1000:.0f} mm or take it off the run.",
                )
    for support in frame.supports:
        if not frame.contacts.get(support.joint):
            raise FrameError(f"support at joint {support.joint}", "no run reaches it")
