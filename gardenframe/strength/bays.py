"""Runs parted at what braces them: which element lies in which bay, and how long that bay is."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np

from gardenframe.geometry.arcs import TOUCH_M
from gardenframe.geometry.frame import Contact, Frame
from gardenframe.materials.members import Member
from gardenframe.strength.mesh import Floats, Ints, Mesh

APART_M = 1e4  # longer than any run: keeps the stations of runs apart in one list
UPRIGHT = frozenset({"post", "leg", "hoop"})  # roles that carry what lies on them
STEEP = 0.7  # share of a direction that goes up from which a member carries as a post does


@dataclass(frozen=True, slots=True)
class Bays:
    """Stretches of runs. Along a bend the stretch is the arc: what it can buckle over out of the plane of the bend.

    `of_element` says in which each element lies; `free_start` and `free_end` where a stretch ends in the air.
    """

    run: Ints
    from_m: Floats
    to_m: Floats
    free_start: "np.ndarray[tuple[int], np.dtype[np.bool_]]"
    free_end: "np.ndarray[tuple[int], np.dtype[np.bool_]]"
    of_element: Ints
    first: Ints  # first element of each
    last: Ints

    @property
    def length_m(self) -> Floats:
        """Length along the axis. [m]"""
        return self.to_m - self.from_m


def braced(frame: Frame, contact: Contact, members: Mapping[str, Member]) -> bool:
    """Whether something holds a run at a joint: a support, or another run that is not a wire."""
    if contact.joint in frame.held:
        return True
    for other in frame.contacts[contact.joint]:
        if other.run != contact.run and not members[frame.runs[other.run].member].tension_only:
            return True
    return False


def carried(frame: Frame, contact: Contact) -> bool:
    """Whether something carries a run at a joint: a support, a post, a leg, a hoop, anything steep."""
    if contact.joint in frame.held:
        return True
    for other in frame.contacts[contact.joint]:
        if other.run == contact.run:
            continue
        if frame.runs[other.run].role in UPRIGHT or abs(other.directions[0][2]) > STEEP:
            return True
    return False


def between_braces(mesh: Mesh, members: Mapping[str, Member]) -> Bays:
    """Return the bays between braces: the unbraced lengths of columns and beams."""
    return _bays(mesh, lambda contact: braced(mesh.frame, contact, members))


def between_posts(mesh: Mesh) -> Bays:
    """Return the spans between what carries a run: what a deflection is measured over."""
    return _bays(mesh, lambda contact: carried(mesh.frame, contact))


def _bays(mesh: Mesh, holds: Callable[[Contact], bool]) -> Bays:
    """Return the stretches between the contacts that hold, and to the ends."""
    run_of: list[int] = []
    marks: list[float] = []
    stops: list[float] = []
    free_start: list[bool] = []
    free_end: list[bool] = []
    frame, ends = mesh.frame, mesh.to_m[mesh.first[1:] - 1].tolist()
    for number, (key, end_m) in enumerate(zip(mesh.runs, ends, strict=True)):
        contacts = frame.on[key]
        inside = [c for c in contacts if TOUCH_M < c.station_m < end_m - TOUCH_M]
        inner = [c.station_m for c in inside if holds(c)]
        many = len(inner)
        run_of += [number] * (many + 1)
        marks += [0.0, *inner]
        stops += [*inner, end_m]
        tips = [c for c in contacts if not TOUCH_M < c.station_m < end_m - TOUCH_M]
        met = {c.end for c in tips if c.joint in frame.held or len(frame.contacts[c.joint]) > 1}
        free_start += ["start" not in met] + [False] * many
        free_end += [False] * many + ["finish" not in met]
    run, start, stop = np.array(run_of), np.array(marks), np.array(stops)
    middle = mesh.run * APART_M + (mesh.from_m + mesh.to_m) / 2
    of_element = np.searchsorted(run * APART_M + start, middle, "right") - 1
    # a bay shorter than any element holds none: it is left without one
    firsts = np.searchsorted(of_element, np.arange(len(run)))
    lasts = np.searchsorted(of_element, np.arange(len(run)), "right") - 1
    air = np.array(free_start), np.array(free_end)
    return Bays(run, start, stop, *air, of_element, np.minimum(firsts, lasts), lasts)


def place_in_words(frame: Frame, run: str, station_m: float) -> str:
    """Return where a station of a run is, by the joints that a reader knows: at one, or between two."""
    contacts = frame.on[run]
    near = min(contacts, key=lambda c: abs(c.station_m - station_m))
    if abs(near.station_m - station_m) < 0.005:
        return f"{run} at joint {near.joint}"
    before = [c.joint for c in contacts if c.station_m < station_m]
    after = [c.joint for c in contacts if c.station_m > station_m]
    if not before or not after:
        return f"{run} beyond joint {near.joint}"
    return f"{run} between joints {before[-1]} and {after[0]}"
