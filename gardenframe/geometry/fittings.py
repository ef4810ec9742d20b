"""What joins the runs at each joint, and how far short of it each end stops.

A frame and the shop's fitting rows come in; one `Fitted` goes out for each joint where something is put on. Nothing
here changes a run: a joint that no row serves is an error that says what would.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from gardenframe.errors import FittingError
from gardenframe.geometry.frame import Contact, Frame, Part
from gardenframe.geometry.vectors import Vector, angle_deg, distance, dot, minus, times, unit
from gardenframe.materials.fittings import LABELS, FittingRow
from gardenframe.materials.members import Member

SQUARE_DEG = 2.0  # a fitting made at a right angle takes this much more or less (common practice, no source)
SQUARE_SIN, SQUARE_COS = math.sin(math.radians(SQUARE_DEG)), math.cos(math.radians(SQUARE_DEG))
HINGE_REACH_M = 0.1  # a joint of two parts farther than this from the axis is a latch
TOUCHING_M = 0.002  # tubes side by side may be this much nearer than touching
Index = Mapping[tuple[str, str, str, str, int], FittingRow]
Alike = dict[tuple[tuple[str, tuple[Vector, ...]], ...], tuple[FittingRow | None, tuple[float, ...]]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitted:
    """What is put on at one joint.

    `setbacks` gives, by run, how far its end stops short of the joint along its axis [m]; negative where it reaches
    beyond. `angles_deg` are those between the tubes. `row` is none for a cap, and where two parts meet.
    """

    joint: str
    fitting: str
    key: str | None
    size: str
    count: int
    angles_deg: tuple[float, ...]
    setbacks: Mapping[str, float]
    row: FittingRow | None

    @property
    def label(self) -> str:
        """Its name on paper."""
        return LABELS.get(self.fitting, self.fitting)


def fit(
    frame: Frame,
    rows: Mapping[str, FittingRow],
    members: Mapping[str, Member],
    before: tuple[Frame, Iterable[Fitted]] | None = None,
) -> tuple[Fitted, ...]:
    """Return what is put on at each joint, in the order of the joints.

    `before` is the frame that this one was coupled from, and what was put on there: joints that no changed run meets
    keep it.

    Raises
    ------
    FittingError
        Naming the joint, the angles found and what would serve.
    """
    index = index_rows(rows)
    kept = {fitted.joint: fitted for fitted in before[1]} if before else {}
    met = before[0].contacts if before else {}

    def same(joint: str, contacts: Sequence[Contact]) -> bool:
        known = met.get(joint)
        return known is not None and len(known) == len(contacts) and all(a is b for a, b in zip(contacts, known))

    alike: Alike = {}
    found = (
        kept.get(key) if same(key, contacts) else _fit_joint(frame, key, contacts, index, members, alike)
        for key, contacts in frame.contacts.items()
    )  # fmt: skip
    return tuple(fitted for fitted in found if fitted is not None)


def index_rows(rows: Mapping[str, FittingRow]) -> Index:
    """Return the rows by joining, fitting, sizes and how many tubes pass."""
    return {(r.joining, r.fitting, r.size, r.branch, r.passes): r for r in rows.values()}


def _fit_joint(
    frame: Frame, joint: str, contacts: Sequence[Contact], index: Index, members: Mapping[str, Member], alike: Alike
) -> Fitted | None:
    """Return what is put on at a joint; `alike` holds what joints of the same tubes and directions took."""
    if not contacts:
        return None
    if len(contacts) == 1:
        return _alone(frame, contacts[0], index, members)
    if len({frame.runs[contact.run].part for contact in contacts}) == len(contacts):
        return _between_parts(frame, joint, contacts)
    if frame.joining == "bolted":
        return _bolted(frame, joint, contacts, index, members)
    passing = sum(contact.passes for contact in contacts)
    beside = passing == 2 and len(contacts) == 2
    if beside:
        _side_by_side(frame, joint, contacts[0], contacts[1], members)
    shape = tuple((frame.runs[contact.run].member, contact.directions) for contact in contacts)
    if shape not in alike:
        alike[shape] = _row_for(frame, contacts, index, passing, beside)
    row, angles = alike[shape]
    return _made(frame, joint, contacts, row, angles) if row else _nothing(frame, joint, contacts, index, members)


def _row_for(
    frame: Frame, contacts: Sequence[Contact], index: Index, passing: int, beside: bool
) -> tuple[FittingRow | None, tuple[float, ...]]:
    """Return the row that serves tubes in their directions, none where none does, and the angles between them."""
    sizes = _sizes(frame, contacts)
    if beside:
        angle = line_angle_deg(contacts[0].directions[0], contacts[1].directions[0])
        word = "right_angle_coupler" if abs(angle - 90) <= SQUARE_DEG else "swivel_coupler"
        return index.get((frame.joining, word, *sizes, 2)), (angle,)
    rows = (index.get((frame.joining, word, *sizes, passing)) for word in shapes(contacts))
    return next((row for row in rows if row is not None), None), shape_angles(contacts)


def _alone(frame: Frame, contact: Contact, index: Index, members: Mapping[str, Member]) -> Fitted | None:
    """Return the coupling of a splice, the cap of an open end, or nothing."""
    run = frame.runs[contact.run]
    if contact.joint in run.splices:
        row = index.get((frame.joining, "coupling", run.member, run.member, 0))
        if row is None:
            label = members[run.member].label
            raise FittingError(f"joint {contact.joint}", f"no {frame.joining} coupling is made for {label}")
        return _made(frame, contact.joint, (contact,), row, (180.0,))
    if contact.passes or contact.joint in frame.held:
        return None
    return Fitted(
        joint=contact.joint, fitting="cap", key=None, size=run.member, count=1, angles_deg=(), setbacks={}, row=None
    )


def _between_parts(frame: Frame, joint: str, contacts: Sequence[Contact]) -> Fitted:
    """Return the hinge of a part that turns, where its axis is near, else a latch; the build says what is bought."""
    mine = {frame.runs[contact.run].part for contact in contacts}
    turning = [part for part in frame.parts if part.key in mine and part.motion == "hinged"]
    word = "hinge" if any(_near_axis(part, frame.joints[joint].at) for part in turning) else "latch"
    return Fitted(
        joint=joint, fitting=word, key=None, size=frame.runs[contacts[0].run].member, count=1, angles_deg=(),
        setbacks={}, row=None,
    )  # fmt: skip


def _near_axis(part: Part, point: Vector) -> bool:
    along = unit(part.axis)
    arm = minus(point, part.axis_at)
    return distance(arm, times(along, dot(arm, along))) <= HINGE_REACH_M


def _bolted(
    frame: Frame, joint: str, contacts: Sequence[Contact], index: Index, members: Mapping[str, Member]
) -> Fitted:
    """Return the bolts of tubes that lie side by side: each is bolted to the one nearest the joint."""
    ordered = sorted(contacts, key=lambda contact: math.dist(contact.offset, (0, 0, 0)))
    main = ordered[0]
    for other in ordered[1:]:
        _side_by_side(frame, joint, main, other, members)
    sizes = _sizes(frame, ordered)
    row = index.get(("bolted", "through_bolt", *sizes, 2)) or index.get(("bolted", "through_bolt", *sizes[::-1], 2))
    if row is None:
        return _nothing(frame, joint, contacts, index, members)
    angles = tuple(line_angle_deg(main.directions[0], other.directions[0]) for other in ordered[1:])
    return _made(frame, joint, contacts, row, angles, count=len(ordered) - 1)


def _made(
    frame: Frame,
    joint: str,
    contacts: Iterable[Contact],
    row: FittingRow,
    angles: tuple[float, ...],
    count: int = 1,
) -> Fitted:
    stops = {
        contact.run: row.centre_to_stop_mm / 1000
        for contact in contacts
        if contact.end or joint in frame.runs[contact.run].splices
    }
    return Fitted(
        joint=joint,
        fitting=row.fitting,
        key=row.key,
        size=row.size,
        count=count,
        angles_deg=angles,
        setbacks=stops,
        row=row,
    )


def _sizes(frame: Frame, contacts: Sequence[Contact]) -> tuple[str, str]:
    """Return the member that passes, or lies in line, and the one that ends at it."""
    others = [frame.runs[c.run].member for c in contacts]
    if len(set(others)) == 1:
        return others[0], others[0]
    directions = [d for contact in contacts for d in contact.directions]
    main = [c for c in contacts if c.passes] or [c for c in contacts if _opposed(c.directions[0], directions)]
    first = frame.runs[(main or contacts)[0].run].member
    return first, next((member for member in others if member != first), first)


def shapes(contacts: Sequence[Contact]) -> tuple[str, ...]:
    """Return the fittings that the directions at a joint ask for, the fixed ones before the swivel."""
    directions = unlike([d for contact in contacts for d in contact.directions])
    number = len(directions)
    opposed = sum(_opposed(d, directions) for d in directions) // 2
    if number == 2 and opposed:
        return ("coupling",)
    square = all(
        abs(dot(a, b)) <= SQUARE_SIN or dot(a, b) <= -SQUARE_COS
        for i, a in enumerate(directions)
        for b in directions[i + 1 :]
    )
    if not square:
        return ("swivel",) if number == 2 or (number == 3 and opposed) else ()
    fixed = {
        (2, 0): "elbow",
        (3, 1): "tee",
        (3, 0): "side_outlet_elbow",
        (4, 2): "cross",
        (4, 1): "side_outlet_tee",
        (5, 2): "side_outlet_cross",
        (6, 3): "six_socket_cross",
    }.get((number, opposed))
    turning = ("swivel",) if number == 2 or (number == 3 and opposed) else ()
    return (fixed, *turning) if fixed else turning


def shape_angles(contacts: Sequence[Contact]) -> tuple[float, ...]:
    """Return the angles between the first tube and each other direction at a joint. [deg]"""
    directions = unlike([d for contact in contacts for d in contact.directions])
    return tuple(round(angle_deg(directions[0], other), 2) for other in directions[1:])


def unlike(directions: Iterable[Vector]) -> list[Vector]:
    """Return the directions without those that repeat another."""
    kept: list[Vector] = []
    for direction in directions:
        if all(dot(direction, other) < SQUARE_COS for other in kept):
            kept.append(direction)
    return kept


def line_angle_deg(a: Vector, b: Vector) -> float:
    """Angle between two lines, 0 to 90. [deg]"""
    angle = angle_deg(a, b)
    return round(min(angle, 180 - angle), 2)


def _opposed(direction: Vector, others: Iterable[Vector]) -> bool:
    return any(dot(direction, other) <= -SQUARE_COS for other in others)


def _side_by_side(frame: Frame, joint: str, a: Contact, b: Contact, members: Mapping[str, Member]) -> None:
    """Refuse two tubes that pass through each other."""
    one, other = members[frame.runs[a.run].member], members[frame.runs[b.run].member]
    needed = (one.outer_mm + other.outer_mm) / 2000
    apart = distance(a.offset, b.offset)
    if apart < needed - TOUCHING_M:
        raise FittingError(
            f"joint {joint}",
            f"runs {a.run} and {b.run} both pass with their axes {apart * 1000:.0f} mm apart",
            f"Lay them side by side, {needed * 1000:.0f} mm apart, or end one of them there.",
        )


def _nothing(
    frame: Frame, joint: str, contacts: Sequence[Contact], index: Index, members: Mapping[str, Member]
) -> Fitted:
    """Raise the error that says what was found at a joint and what would serve."""
    runs = ", ".join(f"{c.run} {'passes' if c.passes else 'ends'}" for c in contacts)
    angles = shape_angles(contacts) or (0.0,)
    sizes = sorted({frame.runs[c.run].member for c in contacts})
    served = sorted(
        f"{LABELS[fitting]} ({angle_words(row)}{', one tube passes' if passes == 1 else ''})"
        for (joining, fitting, size, branch, passes), row in index.items()
        if joining == frame.joining and {size, branch} <= set(sizes)
    )
    found = ", ".join(f"{a:.0f}" for a in angles)
    tubes = " and ".join(members[size].label for size in sizes)
    what = f"{runs}; angles {found} deg; no {frame.joining} fitting in {tubes} serves"
    there = "There are: " + "; ".join(served) if served else "No fitting is made in that size"
    raise FittingError(
        f"joint {joint}", what, f"{there}. Move one run along so that fewer meet, or add a row to the fittings table."
    )


def angle_words(row: FittingRow) -> str:
    """Return the angle a fitting is made at, in words."""
    return "any angle" if row.angle == "any" else f"{row.angle} deg"
