"""Marks of pieces beside them in the view that shows each longest; like pieces once with a number where it is crowded.

Pieces as (mark, run, stations of their ends) come in; labels in free places go out, and the marks that found none.
"""

from collections.abc import Iterable, Sequence
from math import hypot

from gardenframe.geometry.arcs import Centreline
from gardenframe.geometry.frame import Frame
from gardenframe.geometry.vectors import Vector, add, minus, times
from gardenframe.output.labels import Label, Taken, beside, led
from gardenframe.output.projection import Shape, View
from gardenframe.output.svg import Point

Mark = tuple[str, str, float, float]  # mark, run, from station, to station [m]
PREFERRED = 0.6  # of the longest sight of a piece: enough for an earlier view
MOST_LABELS = 26  # in one view; beyond, like pieces are named once
MOST_TRIES, LEADER_TRIES = 6, 2  # of like pieces, at which a single label is tried


def marked(
    frame: Frame, marks: Iterable[Mark], views: Sequence[View], runs: Sequence[Shape], taken: Taken
) -> tuple[list[Label], list[str]]:
    """Return labels in their places, and a text for each mark that found none."""
    wide = {shape.run.key: shape.wide_m for shape in runs}
    groups: dict[tuple[int, str], dict[tuple[int, int, int, int], tuple[int, tuple[Point, Point], float]]] = {}
    for mark, run, start, finish in marks:
        ends = _middle(frame.lines[run], start, finish)
        index, seen = _best(ends, views)
        where = groups.setdefault((index, mark), {})
        spot = (round(seen[0][0] / 4), round(seen[0][1] / 4), round(seen[1][0] / 4), round(seen[1][1] / 4))
        count = where[spot][0] + 1 if spot in where else 1
        where[spot] = (count, seen, max(wide[run][views[index].name] * views[index].scale, 2.0))
    in_view: dict[int, int] = {}
    for (index, _), where in groups.items():
        in_view[index] = in_view.get(index, 0) + len(where)
    labels: list[Label] = []
    missing: dict[str, int] = {}
    for (index, mark), where in groups.items():
        found = _each(mark, where.values(), taken) if in_view[index] <= MOST_LABELS else None
        total = sum(count for count, _, _ in where.values())
        if found is None:
            one = _once(mark, total, list(where.values()), taken)
            found = [one] if one else []
        if not found:
            missing[mark] = missing.get(mark, 0) + total
        labels += found
    return labels, [_counted(mark, count) for mark, count in missing.items()]


def _counted(mark: str, count: int) -> str:
    return mark if count == 1 else f"{count} × {mark}"


def _each(mark: str, spots: Iterable[tuple[int, tuple[Point, Point], float]], taken: Taken) -> list[Label] | None:
    """Return a label at every spot of a mark, or None, with nothing taken, where one finds no place."""
    before = list(taken.rows)
    found = []
    for count, ends, width in spots:
        label = beside(_counted(mark, count), ends, width, taken)
        if label is None:
            taken.rows[:] = before
            return None
        found.append(label)
    return found


def _once(mark: str, total: int, spots: Sequence[tuple[int, tuple[Point, Point], float]], taken: Taken) -> Label | None:
    """Return one label with the number of like pieces, by a leader where there is no room beside one."""
    words = _counted(mark, total)
    for _, ends, width in spots[:MOST_TRIES]:
        label = beside(words, ends, width, taken)
        if label:
            return label
    return next((label for _, ends, _ in spots[:LEADER_TRIES] if (label := led(words, ends, taken))), None)


def _middle(line: Centreline, start: float, finish: float) -> tuple[Vector, ...]:
    """Return the ends of a piece, and of a bent one also the ends of the short part at its middle."""
    if line.straight:
        piece = line.pieces[0]
        a, length = piece.start, line.length_m
        step = times(minus(piece.end, a), 1 / length)
        return add(a, times(step, start)), add(a, times(step, min(finish, length)))
    mid, half = (start + finish) / 2, (finish - start) / 20
    ends = (start, min(finish, line.length_m), mid - half, mid + half)
    return tuple(line.point(station) for station in ends)


def _best(ends: tuple[Vector, ...], views: Sequence[View]) -> tuple[int, tuple[Point, Point]]:
    """Return the view that shows a piece well, the earlier the better, and where."""
    seen = [view.points(ends) for view in views]
    sizes = [max(hypot(b[0] - a[0], b[1] - a[1]) for a, b in zip(p[::2], p[1::2])) for p in seen]
    good = PREFERRED * max(sizes)
    index = next(i for i, length in enumerate(sizes) if length >= good)
    return index, (seen[index][-2], seen[index][-1])
