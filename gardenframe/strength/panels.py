"""A panel's load shared to the runs that carry it: force and moment of what is shared equal the panel's.

A flat panel is cut into strips, once along its first side and once across. In each strip the load between two carriers
goes half to each; beyond the last carrier it is levered over the last two. Half of the load takes each way, all of it
the one way where the other has not two carriers everywhere.
"""

import math
from collections.abc import Callable, Iterator, Sequence
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

from gardenframe.errors import FrameError
from gardenframe.geometry.arcs import Arc, Centreline
from gardenframe.geometry.coverings import area_vector_m2
from gardenframe.geometry.frame import Frame, Panel
from gardenframe.geometry.vectors import Vector, cross, dot, minus, unit

CURVED_STEPS = 24  # strips over the whole of a panel with an arc or a hole, and one at each corner
SAME_M = 1e-6
OVERHANG = 2.0  # of what lies between the outer two carriers of a strip; beyond it the other way of strips serves alone
Plane = tuple[float, float]
Side = tuple[float, float, Plane, Plane]  # lowest and highest level of a stretch of outline, and its ends


class Carrier(NamedTuple):
    """A straight stretch of a run in the panel's plane: its ends, and their stations on the run."""

    run: str
    a: Plane
    b: Plane
    from_m: float
    to_m: float


Reaching = tuple[float, float, Carrier]  # its lowest and highest level, and a carrier


class Share(NamedTuple):
    """Load on a stretch of a run, per metre of it, as width of panel carried [m] at both ends."""

    run: str
    from_m: float
    to_m: float
    from_width_m: float
    to_width_m: float


def normal(frame: Frame, panel: Panel) -> Vector:
    """Unit normal of a flat panel."""
    if panel.outline is None:
        raise ValueError(f"{panel.key} is swept: its normal changes along it")
    return _normal(panel.outline)


@lru_cache(maxsize=1024)
def _normal(edge: Centreline) -> Vector:
    return unit(area_vector_m2(edge))


def shares_of(frame: Frame, panel: Panel) -> list[Share]:
    """Return the width of a flat panel that each stretch of its carriers takes; kept for panels of the same shape."""
    if panel.outline is None:
        raise ValueError(f"{panel.key} is swept")
    if not panel.carried_by:
        return []  # it lies in or on the ground
    carried = tuple((key, frame.lines[key], tuple(c.station_m for c in frame.on[key])) for key in panel.carried_by)
    return _shares(panel.key, panel.outline, panel.holes, carried)


@lru_cache(maxsize=1024)
def _shares(
    name: str,
    edge: Centreline,
    holes: tuple[Centreline, ...],
    carried: tuple[tuple[str, Centreline, tuple[float, ...]], ...],
) -> list[Share]:
    """Return the shares of a panel by its shape alone: edge, holes, and each carrier with its contacts."""
    origin = edge.pieces[0].start
    along = unit(minus(edge.pieces[0].point(edge.pieces[0].length_m), origin))
    across = unit(cross(unit(area_vector_m2(edge)), along))

    def flat(point: Vector) -> Plane:
        return dot(minus(point, origin), along), dot(minus(point, origin), across)

    outlines = [_edges(line, flat) for line in (edge, *holes)]
    carriers = [c for key, line, _ in carried for c in _carriers(line, key, flat)]
    points = [p for c in carriers for p in c[1:3]]
    points += [flat(line.point(station)) for _, line, stations in carried for station in stations]
    curved = bool(holes) or bool(edge.bends) or any(not line.straight for _, line, _ in carried)
    ways: list[list[Share]] = []
    for furthest in (OVERHANG, math.inf):
        tried = (_one_way(outlines, carriers, points, swap, curved, furthest) for swap in (False, True))
        ways = ways or [found for found in tried if found is not None]
    if not ways:
        do = "Lay a run along the side across from one that is there, or leave the covering off."
        raise FrameError(f"panel {name}", "no two of its runs lie across from each other", do)
    return [
        Share(s.run, s.from_m, s.to_m, s.from_width_m / len(ways), s.to_width_m / len(ways))
        for way in ways
        for s in way
    ]


def _edges(line: Centreline, flat: Callable[[Vector], Plane]) -> list[tuple[Plane, Plane]]:
    points = [flat(point) for point in line.points(3.0)]
    return list(pairwise(points))


def _carriers(line: Centreline, key: str, flat: Callable[[Vector], Plane]) -> Iterator[Carrier]:
    """Yield the straight stretches of a run, arcs as chords of 3 degrees."""
    for piece, start in zip(line.pieces, line.starts_m):
        steps = max(1, round(piece.angle_rad / 0.0524)) if isinstance(piece, Arc) else 1
        stations = [piece.length_m * i / steps for i in range(steps + 1)]
        for a, b in pairwise(stations):
            yield Carrier(key, flat(piece.point(a)), flat(piece.point(b)), start + a, start + b)


def _one_way(
    outlines: list[list[tuple[Plane, Plane]]],
    carriers: list[Carrier],
    points: Sequence[Plane],
    swap: bool,
    curved: bool,
    furthest: float,
) -> list[Share] | None:
    """Return the shares of strips in one direction, or None where some strip has not two carriers.

    None too where a strip overhangs its outer two carriers by more than `furthest` times what lies between them: near
    a slanting corner these cross, and levers there have no bound. A new strip starts at every corner and at every one
    of the points where carriers end or cross.
    """
    u, v = (1, 0) if swap else (0, 1)
    low, high = (f(e[v] for edge in outlines[0] for e in edge) for f in (min, max))
    marks = [e[v] for edges in outlines for edge in edges for e in edge] + [p[v] for p in points]
    levels = sorted(min(max(mark, low), high) for mark in marks)
    levels = [level for i, level in enumerate(levels) if not i or level - levels[i - 1] > SAME_M]
    reaching = [(min(c.a[v], c.b[v]), max(c.a[v], c.b[v]), c) for c in carriers]
    reaching = [one for one in reaching if one[1] - one[0] > SAME_M]
    sides = [(min(a[v], b[v]), max(a[v], b[v]), a, b) for edges in outlines for a, b in edges]
    shares: list[Share] = []
    for bottom, top in pairwise(levels):
        steps = max(1, round(CURVED_STEPS * (top - bottom) / (high - low))) if curved else 1
        for i in range(steps):
            a, b = (bottom + (top - bottom) * j / steps for j in (i, i + 1))
            if b - a < SAME_M:
                continue
            found = _strip(sides, reaching, u, v, a, b, furthest)
            if found is None:
                return None
            shares += found
    return _joined(shares)


def _strip(
    sides: list[Side], reaching: list[Reaching], u: int, v: int, low: float, high: float, furthest: float
) -> list[Share] | None:
    """Return the shares of one strip between two levels; crossings move in straight lines within it."""
    inset = (high - low) * 1e-9
    crossing = [c for least, most, c in reaching if least <= low + inset and most >= high - inset]
    if len(crossing) < 2:
        return None
    middle = (low + high) / 2
    crossing.sort(key=lambda c: _at(c, u, v, middle))
    widths = []
    for level in (low + inset, high - inset):
        places = [_at(c, u, v, level) for c in crossing]
        inside = sorted(_cuts(sides, u, v, level))
        if inside and _overhung(places, inside[0], inside[-1]) > furthest:
            return None
        widths.append(levered(places, list(zip(inside[::2], inside[1::2]))))
    shares = []
    for carrier, low_width, high_width in zip(crossing, *widths):
        stations = [_station(carrier, v, level) for level in (low, high)]
        slant = (high - low) / abs(stations[1] - stations[0])  # load per metre of level becomes per metre of run
        ends = sorted(zip(stations, (low_width * slant, high_width * slant)))
        if max(abs(low_width), abs(high_width)) > SAME_M:
            shares.append(Share(carrier.run, ends[0][0], ends[1][0], ends[0][1], ends[1][1]))
    return shares


def _overhung(places: Sequence[float], start: float, end: float) -> float:
    """Return how far a load reaches beyond the outer of a row of supports, over the distance to the next one in."""
    before, after = places[0] - start, end - places[-1]
    return max(
        before / max(places[1] - places[0], SAME_M) if before > SAME_M else 0.0,
        after / max(places[-1] - places[-2], SAME_M) if after > SAME_M else 0.0,
    )


def levered(places: Sequence[float], spans: Sequence[tuple[float, float]]) -> list[float]:
    """Return what each of the supports in a row carries of an even load of one on spans, neighbours sharing by lever.

    >>> levered([0.0, 1.0, 3.0], [(0.0, 3.0)])
    [0.5, 1.5, 1.0]
    """
    found = [0.0] * len(places)
    for start, end in spans:
        cuts = [start, *(x for x in places[1:-1] if start < x < end), end]
        for a, b in pairwise(cuts):
            middle = (a + b) / 2
            i = next((k for k in range(len(places) - 2, 0, -1) if places[k] <= middle), 0)
            right = (middle - places[i]) / (places[i + 1] - places[i]) if places[i + 1] > places[i] else 0.5
            found[i] += (b - a) * (1 - right)
            found[i + 1] += (b - a) * right
    return found


def _at(carrier: Carrier, u: int, v: int, level: float) -> float:
    share = (level - carrier.a[v]) / (carrier.b[v] - carrier.a[v])
    return carrier.a[u] + share * (carrier.b[u] - carrier.a[u])


def _station(carrier: Carrier, v: int, level: float) -> float:
    share = (level - carrier.a[v]) / (carrier.b[v] - carrier.a[v])
    return carrier.from_m + share * (carrier.to_m - carrier.from_m)


def _cuts(sides: list[Side], u: int, v: int, level: float) -> list[float]:
    """Return where a level crosses closed outlines."""
    return [
        a[u] + (level - a[v]) / (b[v] - a[v]) * (b[u] - a[u]) for least, most, a, b in sides if least <= level < most
    ]


def _joined(shares: list[Share]) -> list[Share]:
    """Return shares with neighbours of the same run and width made one."""
    joined: list[Share] = []
    for share in sorted(shares):
        last = joined[-1] if joined else None
        if last and last.run == share.run and abs(last.to_m - share.from_m) < SAME_M and _even(last, share):
            joined[-1] = Share(last.run, last.from_m, share.to_m, last.from_width_m, share.to_width_m)
        else:
            joined.append(share)
    return joined


def _even(a: Share, b: Share) -> bool:
    """Whether two neighbouring shares are one load of the same width all along."""
    widths = (a.from_width_m, a.to_width_m, b.from_width_m, b.to_width_m)
    return max(widths) - min(widths) < SAME_M
