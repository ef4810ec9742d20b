"""How runs hold together: nodes on runs gathered into rigid bodies at joints, with springs, pins and hinges between.

A node that is rigidly joined moves with its body (an offset is an exact rigid arm). A node joined through a spring, a
pin or a hinge moves with the body too, but turns by one to three angles of its own, each a further unknown. A latch
keeps a leaf from swinging and does nothing else: its node also slides freely along the leaf, since the catch has play
and a leaf that nobody hung square must not be counted on to brace the wall it closes.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from gardenframe.errors import InputError
from gardenframe.geometry.frame import Contact, Frame, Part
from gardenframe.geometry.vectors import Vector, add, cross, distance, dot, minus, size, times, unit

HINGE_REACH_M = 0.1  # a joint farther from the axis than this is a latch, not a hinge
RIGID = math.inf
PINNED = 0.0
X, Y, Z = (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)
NOT_TURNED = (0.0, 0.0, 0.0)

Springs = Mapping[tuple[str, str], float]
"""Turning stiffness of what joins a run at a joint, by (joint, run): 0 a pin, infinite rigid. [N m/rad]"""


@dataclass(slots=True)
class Turn:
    """One angle or slide of a node against its body: how far it moves and turns as the unknown grows by one."""

    node: int
    unknown: int
    move: Vector
    axis: Vector


@dataclass(slots=True)
class Bodies:
    """Which body each node and joint belongs to, and the angles between."""

    places: list[Vector] = field(default_factory=list)  # point of reference of each body
    of_node: dict[int, int] = field(default_factory=dict)
    of_joint: dict[str, int] = field(default_factory=dict)
    turns: list[Turn] = field(default_factory=list)
    springs: list[float] = field(default_factory=list)  # of each angle
    homes: list[int] = field(default_factory=list)  # the body that each angle is measured from
    still: list[int] = field(default_factory=list)  # bodies that do not turn
    same: dict[int, int] = field(default_factory=dict)  # a body that turned out to be another

    def new(self, place: Vector) -> int:
        """Return a new body."""
        self.places.append(place)
        return len(self.places) - 1

    def new_angle(self, body: int, spring: float) -> int:
        """Return a new angle against a body."""
        self.springs.append(spring)
        self.homes.append(body)
        return len(self.springs) - 1

    def found(self, body: int) -> int:
        """Return the body that a body became part of."""
        while body in self.same:
            body = self.same[body]
        return body


def stiffness_at(springs: Springs, joint: str, run: str) -> float:
    """Return the turning stiffness between a run and a joint, rigid where none is given. [N m/rad]"""
    value = springs.get((joint, run), RIGID)
    if not value >= 0:
        raise InputError(f"stiffness of run {run} at joint {joint}", value, "0 (pinned) or more N m/rad")
    return value


def join(frame: Frame, nodes: Mapping[tuple[str, str], tuple[int, ...]], wires: set[str], springs: Springs) -> Bodies:
    """Return the bodies of a frame.

    Parameters
    ----------
    frame : Frame
        The frame.
    nodes : mapping
        Node of each (joint, run); two where a splice parts the run.
    wires : set of str
        Runs that carry tension only: their ends turn freely by nature.
    springs : mapping
        Turning stiffness by (joint, run).
    """
    bodies = Bodies()
    parts = {part.key: part for part in frame.parts}
    hinged = {part.key: part for part in frame.parts if part.motion == "hinged" and latched(frame, part)}
    for joint, contacts in frame.contacts.items():
        if not contacts:
            continue
        at = frame.joints[joint].at
        body = bodies.of_joint[joint] = bodies.new(at)
        held = frame.held.get(joint)
        turning_held = held is not None and (held.spring_n_m_per_rad > 0 or "X" in held.held or "Y" in held.held)
        groups: dict[str, list[Contact]] = {}
        for contact in contacts:
            part = frame.runs[contact.run].part
            key = part if part in hinged and off_axis_m(parts[part], at) <= HINGE_REACH_M else ""
            if not key and part in hinged and latches(frame, contacts, parts):
                _latch(bodies, nodes[joint, contact.run], times(contact.offset, -1), body, in_leaf(parts[part], at))
            else:
                groups.setdefault(key, []).append(contact)
        for key, group in groups.items():
            free: list[tuple[int, Vector]] = []
            if key and len(groups) > 1:
                free = [(bodies.new_angle(body, PINNED), unit(parts[key].axis))]
            _join_group(bodies, group, nodes, wires, springs, at, body, free, turning_held and not free)
    return bodies


def latches(frame: Frame, contacts: Sequence[Contact], parts: Mapping[str, Part]) -> bool:
    """Whether runs that meet are those of a leaf and of what stands still, as at a latch and not at a prop."""
    return any(
        key not in parts or parts[key].motion == "fixed"
        for key in (frame.runs[contact.run].part for contact in contacts)
    )


def in_leaf(part: Part, at: Vector) -> tuple[Vector, Vector]:
    """Return the ways in which a latch does not hold a leaf: along the line of its hinges, and away from it."""
    axis = unit(part.axis)
    return axis, unit(cross(cross(axis, minus(at, part.axis_at)), axis))


def _latch(bodies: Bodies, pieces: tuple[int, ...], lever: Vector, body: int, slides: Sequence[Vector]) -> None:
    """Join the node of a leaf where a latch holds it: it turns freely about the latch, and slides."""
    for node in pieces:
        if node not in bodies.of_node:  # else another joint is at the same place of the run
            bodies.of_node[node] = body
            turns = [(cross(axis, lever), axis) for axis in (X, Y, Z)] + [(way, NOT_TURNED) for way in slides]
            bodies.turns += [Turn(node, bodies.new_angle(body, PINNED), *way) for way in turns]


def _join_group(
    bodies: Bodies,
    group: list[Contact],
    nodes: Mapping[tuple[str, str], tuple[int, ...]],
    wires: set[str],
    springs: Springs,
    at: Vector,
    body: int,
    hinge: list[tuple[int, Vector]],
    turning_held: bool,
) -> None:
    """Join the runs of one part at one joint to the joint's body."""
    stiff = {c.run: RIGID if c.run in wires else stiffness_at(springs, c.joint, c.run) for c in group}
    tubes = [c for c in group if c.run not in wires]
    first = next((c.run for c in tubes if c.passes), None)
    if first is None and tubes and max(stiff[c.run] for c in tubes) == PINNED:
        if turning_held:
            bodies.still.append(body)  # a foot that is held and to which nothing is fixed does not turn
        else:
            first = tubes[0].run  # the fitting itself has to go with one of them
    for contact in group:
        pieces = nodes[contact.joint, contact.run]
        for number, node in enumerate(pieces):
            through = RIGID if contact.run == first and number == 0 else stiff[contact.run]
            _attach(bodies, node, contact, at, body, hinge, through)


def _attach(
    bodies: Bodies,
    node: int,
    contact: Contact,
    at: Vector,
    body: int,
    hinge: list[tuple[int, Vector]],
    stiffness: float,
) -> None:
    """Join one node: rigidly, or by angles of its own."""
    if node in bodies.of_node:  # two joints at one place of a run: one body
        ours, theirs = bodies.found(bodies.of_node[node]), bodies.found(body)
        if ours != theirs:
            bodies.same[theirs] = ours
        return
    bodies.of_node[node] = body
    lever = times(contact.offset, -1)
    angles = list(hinge)
    if stiffness != RIGID:
        along, across, third = axes_along(contact.directions[0])
        axes = [across, third] if stiffness == PINNED else [along, across, third]
        angles += [(bodies.new_angle(body, stiffness), axis) for axis in axes]
    bodies.turns += [Turn(node, angle, cross(axis, lever), axis) for angle, axis in angles]


def axes_along(along: Vector) -> tuple[Vector, Vector, Vector]:
    """Return a direction and two at right angles to it and each other."""
    across = unit(cross(Z if abs(along[2]) < 0.9 else X, along))
    return along, across, cross(along, across)


def off_axis_m(part: Part, point: Vector) -> float:
    """Distance of a point from the axis of a hinged part. [m]"""
    axis, arm = unit(part.axis), minus(point, part.axis_at)
    return distance(point, add(part.axis_at, times(axis, dot(arm, axis))))


def latched(frame: Frame, part: Part) -> bool:
    """Whether a hinged part is held somewhere off its axis; one that is not is taken as held at its hinges."""
    if size(part.axis) == 0:
        raise InputError(f"axis of part {part.key}", part.axis, "a direction", "Give the line that it turns about.")
    for joint, contacts in frame.contacts.items():
        kinds = {frame.runs[c.run].part == part.key for c in contacts}
        away = off_axis_m(part, frame.joints[joint].at) > HINGE_REACH_M
        if away and (len(kinds) == 2 or (kinds == {True} and joint in frame.held)):
            return True
    return False
