"""A person leans on a frame: a push at a height within reach, from each side, on a rail and on a post."""

from collections.abc import Iterator

from gardenframe.geometry.frame import Frame
from gardenframe.geometry.vectors import Vector, times
from gardenframe.materials import constants
from gardenframe.strength.cases import Case, PointLoad
from gardenframe.strength.setting import FROM, WAYS

Spot = tuple[str, float, Vector]
LEVEL = 0.2  # sine of the slope of a run that a person leans across
ALONG = 0.7  # cosine above which a push goes along a run and not across it
NEAR_M = 0.02
STANDING = ("post", "leg", "hoop")


def leans(frame: Frame) -> Iterator[Case]:
    """Yield the pushes: across a level run in mid-length, else on an upright, nearest to where a push is strong.

    A rail shares a push between its posts, so posts that reach that height are pushed too: the outermost, which has a
    neighbour on one side only.
    """
    push, reach = constants.value("lean_n"), constants.value("lean_height_m")
    level, upright = _level(frame), _upright(frame, reach)
    posts = [spot for spot in upright if frame.runs[spot[0]].role in STANDING and spot[2][2] > reach - NEAR_M]
    for way, direction in WAYS.items():
        across = [spot for spot, ahead in level if abs(ahead[0] * direction[0] + ahead[1] * direction[1]) < ALONG]
        spots = across or upright
        if not spots:
            continue
        chosen = {"": _nearest(spots, reach)}
        if across and posts:
            chosen[" post"] = _nearest(posts, reach)
        for on, (carrier, station, _) in chosen.items():
            yield Case(
                key=f"L{way}{on}",
                loads=(PointLoad(run=carrier, station_m=station, force_n=times(direction, push)),),
                label=f"a person leans{' on a post' if on else ''} {FROM[way]}",
            )


def _nearest(spots: list[Spot], reach_m: float) -> Spot:
    return min(spots, key=lambda spot: (round(abs(spot[2][2] - reach_m), 6), spot[2][0]))


def _level(frame: Frame) -> list[tuple[Spot, Vector]]:
    """Return the middles of level straight runs within reach, and which way the runs go."""
    low, high = constants.value("reach_low_m"), constants.value("reach_high_m")
    found = []
    for key, line in frame.lines.items():
        ahead = line.tangent(0.0)
        if line.straight and abs(ahead[2]) < LEVEL and low <= line.point(0.0)[2] <= high:
            found.append(((key, line.length_m / 2, line.point(line.length_m / 2)), ahead))
    return found


def _upright(frame: Frame, reach_m: float) -> list[Spot]:
    """Return the point of each rising run that lies at a height, or its top where it is lower."""
    found = []
    for key, line in frame.lines.items():
        if line.straight and abs(line.tangent(0.0)[2]) < LEVEL:
            continue
        low, high = 0.0, line.length_m if line.straight else line.length_m / 2  # an arch rises to its middle
        if line.point(high)[2] < line.point(low)[2]:
            low, high = high, low
        z_low, z_high = line.point(low)[2], line.point(high)[2]
        target = min(max(reach_m, z_low), z_high)
        if line.straight:
            rising = (target - z_low) / (z_high - z_low)
            low = high = low + (high - low) * rising
        for _ in range(0 if line.straight else 30):  # halving: a bend rises unevenly
            middle = (low + high) / 2
            low, high = (middle, high) if line.point(middle)[2] < target else (low, middle)
        found.append((key, high, line.point(high)))
    return found
