"""Where a run longer than a stick is coupled: where the moment is small, and not at the same place as its neighbour.

A frame, its set-backs and the longest piece come in; the frame goes out with a joint at each coupling. A coupling
stands about a fifth of the bay from an inner post (common practice, no source): never at mid-span, at a post or in a
bend; where there is a choice, the end piece lies on two posts or more. Couplings that a build has set itself stay.
"""

from collections.abc import Callable, Iterable
from dataclasses import replace
from itertools import pairwise

from gardenframe.errors import FrameError
from gardenframe.geometry.fittings import Fitted
from gardenframe.geometry.frame import Frame, Joint, Run
from gardenframe.geometry.vectors import minus

OF_BAY = 0.2  # how far from a post, as a share of the bay
CLEAR_M = 0.08  # room for the fitting and the coupling


def splice(frame: Frame, fitted: Iterable[Fitted], longest_m: Callable[[str], float]) -> Frame:
    """Return the frame with a coupling joint wherever a run is longer than its longest piece.

    Parameters
    ----------
    longest_m : function of a member key
        Longest piece of that member. [m]

    Raises
    ------
    FrameError
        For a run that may not be spliced, or that has no place for a coupling.
    """
    setbacks = {(run, f.joint): back for f in fitted for run, back in f.setbacks.items()}
    runs, joints, turn = dict(frame.runs), dict(frame.joints), 0
    for run in frame.runs.values():
        line = frame.lines[run.key]
        start = setbacks.get((run.key, run.path[0]), 0.0)
        finish = line.length_m - setbacks.get((run.key, run.path[-1]), 0.0)
        if finish - start <= longest_m(run.member) + 1e-9:
            continue
        marks = [start, *(c.station_m for c in frame.on[run.key] if c.joint in run.splices), finish]
        stations = [
            station
            for a, b in pairwise(marks)
            if b - a > longest_m(run.member) + 1e-9
            for station in _stations(frame, run, a, b, longest_m(run.member), backwards=turn % 2 == 1)
        ]
        if not stations:
            continue
        turn += 1
        keys = tuple(f"{run.key} coupling {i + 1}" for i in range(len(stations)))
        for key, station in zip(keys, stations):
            joints[key] = Joint(key, *minus(line.point(station), run.offset_m))
        runs[run.key] = replace(run, also=run.also + keys, splices=run.splices + keys)
    return frame if len(joints) == len(frame.joints) else frame.coupled(joints, runs)


def _stations(
    frame: Frame, run: Run, start_m: float, finish_m: float, longest_m: float, backwards: bool
) -> list[float]:
    """Return the fewest coupling stations, taken from one end or from the other."""
    if not run.may_splice:
        raise FrameError(
            f"run {run.key}",
            f"it is {finish_m - start_m:.3f} m long, its longest piece is {longest_m:.3f} m and it may not be coupled",
            "Make it shorter, or buy a longer stick.",
        )
    places, close = _places(frame, run), None
    found: list[float] = []
    here = finish_m if backwards else start_m
    end = start_m if backwards else finish_m
    while abs(end - here) > longest_m + 1e-9:
        within = [s for s in places if CLEAR_M < (here - s if backwards else s - here) <= longest_m]
        if not within:  # joints stand close all along: as far from the nearest as a coupling needs
            close = close or _places(frame, run, least_m=CLEAR_M)
            within = [s for s in close if CLEAR_M < (here - s if backwards else s - here) <= longest_m]
        if not within:
            raise FrameError(
                f"run {run.key}",
                f"no place for a coupling within {longest_m:.3f} m of {here:.3f} m along it",
                "Add a post or a rail between, or buy a longer stick.",
            )
        here = min(within) if backwards else max(within)
        found.append(here)
    if found:
        before = found[-2] if len(found) > 1 else finish_m if backwards else start_m
        held = [c.station_m for c in frame.on[run.key] if len(frame.contacts[c.joint]) > 1 or c.joint in frame.held]
        found[-1] = _moved_back(before, found[-1], end, [*places, *(close or ())], held, longest_m)
    return sorted(found)


def _moved_back(
    before_m: float, last_m: float, end_m: float, places_m: list[float], held_m: list[float], longest_m: float
) -> float:
    """Return the last coupling, moved back where the end piece would lie on one post or hoop alone. [m]

    >>> _moved_back(2.8, 5.6, 6.2, [3.8, 4.2, 4.8, 5.2, 5.6], [0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0], 3.0)
    4.8
    """

    def lies_on(a: float, b: float) -> int:
        return sum(min(a, b) - 1e-6 <= held <= max(a, b) + 1e-6 for held in held_m)

    if lies_on(last_m, end_m) > 1:
        return last_m
    back = [
        s
        for s in places_m
        if min(before_m, last_m) + CLEAR_M < s < max(before_m, last_m) - CLEAR_M
        and abs(end_m - s) <= longest_m
        and min(lies_on(before_m, s), lies_on(s, end_m)) > 1
    ]
    return min(back, key=lambda s: abs(s - last_m), default=last_m)


def _places(frame: Frame, run: Run, least_m: float = 0.0) -> list[float]:
    """Return the stations where a coupling may stand: near the posts of each bay, off the bends.

    `least_m` takes in bays too short for a fifth of them to clear the fitting: so far from their ends. [m]
    """
    posts = [contact.station_m for contact in frame.on[run.key]]
    bends = _bends(frame, run)
    places = []
    for left, right in pairwise(posts):
        if OF_BAY * (right - left) > CLEAR_M:
            places += [left + OF_BAY * (right - left), right - OF_BAY * (right - left)]
        elif least_m and right - left >= 2 * least_m:
            places += [left + least_m, right - least_m]
    return [s for s in places if not any(a - CLEAR_M < s < b + CLEAR_M for a, b in bends)]


def _bends(frame: Frame, run: Run) -> list[tuple[float, float]]:
    line = frame.lines[run.key]
    bent = [(s, s + p.length_m) for p, s in zip(line.pieces, line.starts_m) if p in line.bends]
    return [] if run.role == "hoop" else bent  # a hoop's ends are matched on the jig
