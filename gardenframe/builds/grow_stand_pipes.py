"""The pipe of a grow stand: every straight length between two fittings, and the fittings.

A pipe is cut to the distance between the centres of its fittings, less what each takes (their dimensions are invented:
measure yours). Supply goes from the tank to the high end, up, and across each tier; drains fall at the low end.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from gardenframe.builds.grow_stand_water import BESIDE_M
from gardenframe.geometry.pieces import Loose, even_parts
from gardenframe.materials.stands import load_pipe_fittings

DROP_M = 0.10  # from the bottom of a channel to its drain
NIPPLE_M = 0.15  # from an elbow to the valve, and from the valve to the union; on a short stand a third of the way
SPOUT_M = 0.12  # from over the brim down into the tank
INTO_M = 0.03  # the drain passes so much lower over the brim than the supply


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """One straight length of pipe between the centres of two fittings; a fitting that is none ends the pipe open."""

    name: str
    role: str
    size: str
    centres_m: float
    ends: tuple[str, str]
    number: int = 1


def cuts(build: Any) -> list[Cut]:
    """Return every straight length of pipe."""
    return [*supply(build), *drains(build)]


def supply(build: Any) -> Iterator[Cut]:
    """Yield the pipe from the pump to the headers."""
    shape, water, size = build.shape, build.water, build.pipe
    said = {"role": "supply pipe", "size": size}
    yield Cut(name="from the pump", centres_m=water.up_m, ends=("", "elbow"), **said)
    nipple = min(NIPPLE_M, water.over_m / 3)
    yield Cut(name="to the valve", centres_m=nipple, ends=("elbow", "valve"), **said)
    yield Cut(name="to the union", centres_m=nipple, ends=("valve", "union"), **said)
    yield Cut(name="along", centres_m=water.over_m - 2 * nipple, ends=("union", "elbow"), **said)
    yield Cut(name="to the riser", centres_m=shape.back_y / 2, ends=("elbow", "elbow"), **said)
    risers = water.risers_m
    for k, length in enumerate(risers):
        low, high = "tee" if k else "elbow", "elbow" if k == len(risers) - 1 else "tee"
        yield Cut(name="riser", centres_m=length, ends=(low, high), **said)
    tees = len(risers) - 1
    if tees:
        yield Cut(name="header", centres_m=build.depth_m, ends=("tee", "cap"), number=tees, **said)
    yield Cut(name="header", centres_m=build.depth_m, ends=("elbow", "cap"), **said)


def drains(build: Any) -> Iterator[Cut]:
    """Yield the pipe from channels or trays to the tank."""
    shape, water = build.shape, build.water
    said = {"role": "drain pipe", "size": water.drain_size}
    ways = 1 if shape.in_turn else int(build.tiers)  # tiers that drain to the header
    outlets, rows, drop = shape.across * shape.along, rows_of_drains(shape), drop_m(water.drain_size)
    yield Cut(name="drop", centres_m=drop, ends=("bulkhead", "elbow"), number=rows * ways, **said)
    if outlets > rows:
        yield Cut(name="drop", centres_m=drop, ends=("bulkhead", "tee"), number=(outlets - rows) * ways, **said)
    if shape.in_turn and build.tiers > 1:
        fall = shape.pitch_m - shape.fall_m
        number = shape.across * (build.tiers - 1)
        yield Cut(
            name="drop to the next tier", centres_m=fall - shape.deep_m / 2, ends=("bulkhead", ""), number=number,
            **said,
        )  # fmt: skip
    if shape.carrier:
        long = shape.carrier.long_mm / 1000
        along = [*[long] * (shape.along - 1), build.length_m - long * (shape.along - 0.5) + BESIDE_M]
        yield from _row("drain along", along, "elbow", ways, said)
        if rows > 1:
            yield from _row("drain along", along, "tee", ways * (rows - 1), said)
    across = [*[shape.spacing_m] * (shape.across - 1), shape.spacing_m / 2 + BESIDE_M]
    yield from _row("drain across", across, "tee", ways, said)
    if ways > 1:
        yield Cut(name="downpipe", centres_m=shape.pitch_m, ends=("tee", "tee"), number=ways - 1, **said)
    low = min(shape.axis_z(0, x) for x in (shape.posts_x[0], shape.posts_x[-1])) + shape.d / 2 - drop
    yield Cut(name="downpipe", centres_m=low - water.pass_m + INTO_M, ends=("tee", "elbow"), **said)
    yield Cut(name="over the tank", centres_m=shape.back_y / 2 + BESIDE_M, ends=("elbow", "elbow"), **said)
    yield Cut(name="spout", centres_m=SPOUT_M, ends=("elbow", ""), **said)


def rows_of_drains(shape: Any) -> int:
    """How many rows of outlets a tier has: one across the ends of channels, one along each row of trays."""
    return int(shape.across) if shape.carrier else 1


def _row(name: str, centres_m: list[float], into: str, number: int, said: dict[str, str]) -> Iterator[Cut]:
    """Yield the pipes of a row of outlets, from each to the next: an elbow turns the first drop into it."""
    for n, centre_m in enumerate(centres_m):
        ends = "tee" if n else "elbow", "tee" if n < len(centres_m) - 1 else into
        yield Cut(name=name, centres_m=centre_m, ends=ends, number=number, **said)


def stop_m(fitting: str, size: str) -> float:
    """How far from the centre of a fitting a pipe stops; none where it ends open. [m]"""
    return load_pipe_fittings()[f"{fitting}-{size}"].centre_to_stop_mm / 1000 if fitting else 0.0


def length_m(cut: Cut) -> float:
    """Length that is cut. [m]"""
    return cut.centres_m - sum(stop_m(end, cut.size) for end in cut.ends)


def sockets_m(cut: Cut) -> float:
    """Least length that goes all the way into the fittings at both ends. [m]"""
    rows = load_pipe_fittings()
    return sum(rows[f"{end}-{cut.size}"].socket_depth_mm for end in cut.ends if end) / 1000


def drop_m(size: str) -> float:
    """From the bottom of a channel to the middle of its drain: room for both sockets at least. [m]"""
    return max(DROP_M, between_m("bulkhead", "tee", size))


def between_m(one: str, other: str, size: str) -> float:
    """Least distance between the centres of two fittings of a size, their sockets close together. [m]"""
    cut = Cut(name="", role="", size=size, centres_m=0.0, ends=(one, other))
    return sockets_m(cut) - length_m(cut)


def parts(plan: Any, cut: Cut) -> tuple[int, float]:
    """Return of how many equal parts a length of pipe is made, and how long each is: unions take room too. [m]"""
    whole, longest = length_m(cut), plan.shop.longest_piece_mm(cut.size) / 1000
    number, _ = even_parts(whole, longest)
    return number, (whole - 2 * (number - 1) * stop_m("union", cut.size)) / number


def pipes(plan: Any) -> Iterator[Loose]:
    """Yield the pieces of pipe; what is longer than a stick is made of equal parts with unions between them."""
    for cut in cuts(plan.build):
        number, length = parts(plan, cut)
        yield Loose(name=cut.name, role=cut.role, member=cut.size, length_m=length, number=number * cut.number)


def fittings(plan: Any) -> Counter[str]:
    """Return how many of each pipe fitting: two ends of pipe share an elbow, two or three a tee.

    A row of drains begins with an elbow, and so does what gathers rows of trays; the topmost tee stays open, as a vent.
    """
    build, found = plan.build, Counter[str]()
    size, drain, shape = build.pipe, build.water.drain_size, build.shape
    tees = len(build.water.risers_m) - 1
    found.update({f"elbow-{size}": 4, f"valve-{size}": 1, f"union-{size}": 1})
    found.update({f"tee-{size}": tees, f"cap-{size}": tees + 1})
    ways = 1 if shape.in_turn else int(build.tiers)
    outlets = shape.across * shape.along
    channels = shape.across * build.tiers if shape.channel else 0
    begun = ways * (1 + (rows_of_drains(shape) if shape.carrier else 0))
    found.update({f"bulkhead-{drain}": max(channels, outlets * ways), f"elbow-{drain}": begun + 2})
    found.update({f"tee-{drain}": outlets * ways})
    for cut in cuts(build):
        number, _ = parts(plan, cut)
        found[f"union-{cut.size}"] += (number - 1) * cut.number
    return found
