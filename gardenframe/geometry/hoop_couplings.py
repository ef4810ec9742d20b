"""Which couplings a bent piece longer than a stick takes: few, beside purlins, every piece short enough to be bent.

Length, stick and places come in; the best choices of stations go out.
"""

from collections.abc import Iterator, Sequence

from gardenframe.errors import FrameError

MOST = 5  # couplings that are tried
CLOSE_M = 1e-9
Choice = tuple[float, ...]


def straight_needed_m(from_m: float, to_m: float, bends_m: Sequence[tuple[float, float]], held_m: float) -> float:
    """Return the straight tube that a piece takes: one that ends on a curve is bent long and trimmed. [m]

    Parameters
    ----------
    from_m, to_m : float
        Where the piece begins and ends along the whole. [m]
    bends_m : sequence of (start, end)
        Bends of the whole. [m]
    held_m : float
        Straight end that the bender needs. [m]

    Examples
    --------
    >>> straight_needed_m(0.0, 3.0, [(0.5, 6.0)], 0.25)  # straight at one end, on the curve at the other
    3.25
    """
    inside = [(max(start, from_m), min(end, to_m)) for start, end in bends_m if start < to_m and end > from_m]
    if not inside:
        return to_m - from_m
    short = max(held_m - (inside[0][0] - from_m), 0.0) + max(held_m - (to_m - inside[-1][1]), 0.0)
    return to_m - from_m + short


def choices_of_couplings(
    length_m: float,
    stick_m: float,
    places_m: Sequence[float],
    bends_m: Sequence[tuple[float, float]],
    held_m: float,
) -> list[Choice]:
    """Return the choices of stations with the fewest couplings, the one with the shortest longest piece first. [m]

    The one choice of none where a stick makes the whole.

    Raises
    ------
    FrameError
        Where no choice of the places serves.

    Examples
    --------
    >>> choices_of_couplings(5.0, 3.2, [1.9, 2.1, 2.9, 3.1], [(1.0, 4.0)], 0.2)
    [(2.1,), (2.9,)]
    """
    for number in range(MOST + 1):
        found = [
            (round(longest, 6), chosen)
            for chosen, longest in _chosen(0.0, number, length_m, stick_m, tuple(places_m), bends_m, held_m)
        ]
        if found:
            return [chosen for _, chosen in sorted(found)]
    raise FrameError(
        "hoop",
        f"it takes {straight_needed_m(0.0, length_m, bends_m, held_m):.2f} m of straight tube, the longest stick is "
        f"{stick_m:.2f} m, and no coupling beside a purlin serves",
        "Take more purlins, a smaller hoop or longer sticks.",
    )


def _chosen(
    from_m: float,
    number: int,
    length_m: float,
    stick_m: float,
    places_m: tuple[float, ...],
    bends_m: Sequence[tuple[float, float]],
    held_m: float,
) -> Iterator[tuple[Choice, float]]:
    """Yield a number of stations beyond one, with the longest piece that they leave; none longer than the stick."""
    if not number:
        last = straight_needed_m(from_m, length_m, bends_m, held_m)
        if last <= stick_m + CLOSE_M:
            yield (), last
        return
    if length_m - from_m > (number + 1) * stick_m:
        return
    for i, place in enumerate(places_m):
        here = straight_needed_m(from_m, place, bends_m, held_m)
        if here <= stick_m + CLOSE_M:
            rest = places_m[i + 1 :]
            for chosen, longest in _chosen(place, number - 1, length_m, stick_m, rest, bends_m, held_m):
                yield (place, *chosen), max(here, longest)
