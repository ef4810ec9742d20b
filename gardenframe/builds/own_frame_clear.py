"""What of an own frame would take the same room: tubes that run through one another, fittings that stand too close.

A frame comes in; a tube through a tube is refused where tubes are laid for the joining, and a sentence where they are
taken as written; close fittings are a sentence, since the sizes of fittings are the reader's to measure.
"""

from collections.abc import Iterable, Iterator, Mapping
from itertools import pairwise
from typing import Any

import numpy as np
from numpy.typing import NDArray

from gardenframe.errors import FrameError
from gardenframe.geometry.fittings import Fitted
from gardenframe.geometry.frame import Frame
from gardenframe.geometry.vectors import Vector, distance
from gardenframe.materials.members import Member

INTO_M = 0.003  # tubes nearer than they are thick by so much run through one another
AT_JOINT_M = 0.08  # so near a joint of both, a fitting joins them
LEAST_SPREAD = 1e-12

Floats = NDArray[np.float64]


def check_clear(frame: Frame, members: Mapping[str, Member]) -> None:
    """Raise FrameError for the first run that passes through another where no joint joins them."""
    for run, problem in through(frame, members):
        raise FrameError(f"run {run}", problem, "Put a joint there, or lay one of them beside the other.")


def through(frame: Frame, members: Mapping[str, Member]) -> Iterator[tuple[str, str]]:
    """Yield each run that passes through another where no joint joins them, and what is wrong with it."""
    runs, starts, ends = _stretches(frame)
    if len(runs) < 2:
        return
    first, second = np.triu_indices(len(runs), 1)
    apart, places = _nearest(starts[first], ends[first], starts[second], ends[second])
    thick = np.array([members[frame.runs[key].member].outer_mm / 2000 for key in runs])
    for pair in np.flatnonzero(apart < thick[first] + thick[second] - INTO_M):
        one, other = runs[first[pair]], runs[second[pair]]
        x, y, z = (float(value) for value in places[pair])
        if one != other and not _joined(frame, one, other, (x, y, z)):
            yield other, f"it passes through run {one} at x {x:.2f}, y {y:.2f}, z {z:.2f} m, where no joint joins them"


def _stretches(frame: Frame) -> tuple[list[str], Floats, Floats]:
    """Return the straight stretches of all runs, bends in short chords: run, start, end."""
    runs, starts, ends = [], [], []
    for key, line in frame.lines.items():
        for a, b in pairwise(line.points()):
            if distance(a, b) > 0:
                runs.append(key)
                starts.append(a)
                ends.append(b)
    return runs, np.array(starts, float), np.array(ends, float)


def _nearest(p: Floats, q: Floats, u: Floats, v: Floats) -> tuple[Floats, Floats]:
    """Return how near each stretch p q comes to its stretch u v, and where on the first. [m]"""
    d, e, r = q - p, v - u, p - u
    dd, ee, de = (np.einsum("ij,ij->i", a, b) for a, b in ((d, d), (e, e), (d, e)))
    dr, er = (np.einsum("ij,ij->i", a, r) for a in (d, e))
    spread = dd * ee - de**2
    along = np.where(spread > LEAST_SPREAD, (de * er - dr * ee) / np.maximum(spread, LEAST_SPREAD), 0.0).clip(0, 1)
    other = ((de * along + er) / ee).clip(0, 1)
    along = ((de * other - dr) / dd).clip(0, 1)  # again, for where the other ends
    places = p + along[:, None] * d
    return np.linalg.norm(places - u - other[:, None] * e, axis=1), places


def _joined(frame: Frame, one: str, other: str, place: Vector) -> bool:
    mine = {contact.joint for contact in frame.on[one]}
    return any(
        contact.joint in mine and distance(frame.joints[contact.joint].at, place) < AT_JOINT_M
        for contact in frame.on[other]
    )


def crowded(frame: Frame, fitted: Iterable[Fitted]) -> Iterator[str]:
    """Yield a sentence for the first two fittings that would touch along a run."""
    room = {one.joint: one for one in fitted if one.row is not None}
    for key in frame.runs:
        there = [contact for contact in frame.on[key] if contact.joint in room]
        for a, b in pairwise(there):
            takes = sum(_reach_m(room[contact.joint].row, bool(contact.end)) for contact in (a, b))
            apart = b.station_m - a.station_m
            if apart < takes - INTO_M:
                where = f"On run {key} the fittings at joints {a.joint} and {b.joint}"
                yield (
                    f"{where} stand {apart * 1000:.0f} mm apart and take {takes * 1000:.0f} mm, as the fittings table "
                    "has them: move a joint, or measure yours."
                )
                return


def _reach_m(row: Any, ends: bool) -> float:
    """How far a fitting goes along a run from its joint: over a socket where the run ends, half its width else. [m]"""
    stop: float = row.centre_to_stop_mm / 1000
    return stop + row.socket_depth_mm / 1000 if ends else stop
