"""What a grow stand takes beside its frame: pipe with its fittings, channels, pump, tank, lamps, small goods.

A pipe is cut to the distance between the centres of its fittings, less what each takes (their dimensions are invented:
measure yours). Supply goes from the tank to the high end, up, and across each tier; drains fall at the low end.
"""

import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from gardenframe.builds.feet import foot_needs
from gardenframe.builds.grow_stand_water import BESIDE_M
from gardenframe.builds.method import BuildStep
from gardenframe.costs.bill import Need
from gardenframe.geometry.pieces import Loose, even_parts
from gardenframe.materials.stands import load_pipe_fittings

DROP_M = 0.10  # from the bottom of a channel to its drain
NIPPLE_M = 0.15  # from an elbow to the valve, and from the valve to the union
SPOUT_M = 0.12  # from over the brim down into the tank
STRAP_M, TIE_M = 0.30, 0.50  # metal strap over a channel; a tie on each length of pipe
CABLE_TIES = 2  # for each lamp
FLANGE_SCREWS = 4
CASTOR, PLATE = "castor-75", "plate-150"


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
    yield Cut(name="to the valve", centres_m=NIPPLE_M, ends=("elbow", "valve"), **said)
    yield Cut(name="to the union", centres_m=NIPPLE_M, ends=("valve", "union"), **said)
    yield Cut(name="along", centres_m=water.over_m - 2 * NIPPLE_M, ends=("union", "elbow"), **said)
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
    outlets, top = shape.across * shape.along, "elbow" if shape.channel else "bulkhead"
    yield Cut(name="drop", centres_m=DROP_M, ends=(top, "tee"), number=outlets * ways, **said)
    if shape.in_turn and build.tiers > 1:
        fall = shape.pitch_m - shape.fall_m
        number = shape.across * (build.tiers - 1)
        yield Cut(
            name="drop to the next tier", centres_m=fall - shape.deep_m / 2, ends=("elbow", ""), number=number, **said
        )
    if shape.along > 1:
        long = shape.carrier.long_mm / 1000
        yield Cut(name="drain along", centres_m=long, ends=("tee", "tee"),
                  number=shape.across * (shape.along - 1) * ways, **said)  # fmt: skip
    if shape.carrier:
        end = build.length_m - shape.carrier.long_mm / 1000 * (shape.along - 0.5) + BESIDE_M
        yield Cut(name="drain along", centres_m=end, ends=("tee", "tee"), number=shape.across * ways, **said)
    if shape.across > 1:
        yield Cut(name="drain across", centres_m=shape.spacing_m, ends=("tee", "tee"),
                  number=(shape.across - 1) * ways, **said)  # fmt: skip
    yield Cut(name="drain across", centres_m=shape.spacing_m / 2 + BESIDE_M, ends=("tee", "tee"), number=ways, **said)
    if ways > 1:
        yield Cut(name="downpipe", centres_m=shape.pitch_m, ends=("tee", "tee"), number=ways - 1, **said)
    low = min(shape.axis_z(0, x) for x in (shape.posts_x[0], shape.posts_x[-1])) + shape.d / 2 - DROP_M
    yield Cut(name="downpipe", centres_m=low - water.pass_m + 0.03, ends=("tee", "elbow"), **said)
    yield Cut(name="over the tank", centres_m=shape.back_y / 2 + BESIDE_M, ends=("elbow", "elbow"), **said)
    yield Cut(name="spout", centres_m=SPOUT_M, ends=("elbow", ""), **said)


def stop_m(fitting: str, size: str) -> float:
    """How far from the centre of a fitting a pipe stops; none where it ends open. [m]"""
    return load_pipe_fittings()[f"{fitting}-{size}"].centre_to_stop_mm / 1000 if fitting else 0.0


def length_m(cut: Cut) -> float:
    """Length that is cut. [m]"""
    return cut.centres_m - sum(stop_m(end, cut.size) for end in cut.ends)


def pipes(plan: Any) -> Iterator[Loose]:
    """Yield the pieces of pipe; what is longer than a stick is made of equal parts with unions between them."""
    for cut in cuts(plan.build):
        number, length = even_parts(length_m(cut), plan.shop.longest_piece_mm(cut.size) / 1000)
        yield Loose(name=cut.name, role=cut.role, member=cut.size, length_m=length, number=number * cut.number)


def fittings(plan: Any) -> Counter[str]:
    """Return how many of each pipe fitting: two ends of pipe share an elbow, two or three a tee."""
    build, found = plan.build, Counter[str]()
    size, drain, shape = build.pipe, build.water.drain_size, build.shape
    tees = len(build.water.risers_m) - 1
    found.update({f"elbow-{size}": 4, f"valve-{size}": 1, f"union-{size}": 1})
    found.update({f"tee-{size}": tees, f"cap-{size}": tees + 1})
    ways = 1 if shape.in_turn else int(build.tiers)
    outlets = shape.across * shape.along
    channels = shape.across * build.tiers if shape.channel else 0
    found.update({f"bulkhead-{drain}": max(channels, outlets * ways), f"elbow-{drain}": channels + 2})
    found.update({f"tee-{drain}": (outlets + (shape.across if shape.carrier else 0) + 1) * ways})
    for cut in cuts(build):
        number, _ = even_parts(length_m(cut), plan.shop.longest_piece_mm(cut.size) / 1000)
        found[f"union-{cut.size}"] += (number - 1) * cut.number
    return found


def needs(plan: Any) -> Iterator[Need]:
    """Yield all that is bought beyond the tubes, their fittings and sticks of pipe."""
    build = plan.build
    yield from _feet(plan)
    for item, number in fittings(plan).items():
        yield Need(item=item, number=number, group="plumbing")
    yield from _carried(build)
    water = build.water
    tube = water.feeds * water.feed_tube_m
    yield Need(item="feed-tube", number=tube, group="plumbing", note=f"{water.feeds} feeds")
    yield Need(item="feed-valve", number=water.feeds, group="plumbing", spare=True)
    yield Need(item="pvc-cement", number=1, group="plumbing")
    yield Need(item=f"pump-{build.pump}", number=1, group="water and light")
    yield Need(item=build.tank, number=1, group="water and light")
    lamps = build.lamps * build.tiers
    yield Need(item=f"lamp-{build.lamp}", number=lamps, group="water and light")
    yield Need(item="lamp-hanger", number=lamps, group="water and light")
    timers = (build.lit_h < 24) + (build.pump_h < 24)
    yield Need(item="timer-socket", number=timers, group="water and light")
    yield Need(item="rcd-adaptor", number=1, group="water and light", note="where the circuit has none")
    pipe = sum(cut.centres_m * cut.number for cut in cuts(build))
    ties = math.ceil(pipe / TIE_M) + CABLE_TIES * lamps
    yield Need(item="tie-200", number=ties, group="small goods", spare=True, note="pipes and cables")


def _feet(plan: Any) -> Iterator[Need]:
    build, posts = plan.build, 2 * len(plan.build.shape.posts_x)
    yield from foot_needs(plan.frame, build.tube)
    if build.feet == "castors":
        yield Need(item=CASTOR, number=posts, group="feet")
    else:
        yield Need(item=f"foot-{build.tube}", number=posts, group="feet")
    if build.feet == "plates":
        yield Need(item=PLATE, number=posts, group="feet")
    if build.stands == "wall":
        yield Need(item="wall-flange", number=2, group="feet", note="ties to the wall")
        yield Need(item="screw-wood-10", number=2 * FLANGE_SCREWS, group="feet", note="into the studs", spare=True)


def _carried(build: Any) -> Iterator[Need]:
    """Yield channels with their ends and straps, or trays with their overflows; net cups for the plants."""
    shape, group = build.shape, "channels and trays"
    number = shape.on_a_tier * build.tiers
    if shape.channel:
        yield Need(item=f"channel-{build.carries}", number=number * build.length_m, group=group)
        yield Need(item=f"channel-end-{build.carries}", number=2 * number, group=group)
        yield Need(item="strap-metal", number=2 * number * STRAP_M, group=group, note="two on each channel")
    else:
        yield Need(item=build.carries, number=number, group=group)
        yield Need(item="overflow-pipe", number=number, group=group)
    if shape.channel or shape.carrier.kind != "tray":
        yield Need(item="net-cup-50", number=shape.plants, group=group, spare=True)


def steps(plan: Any) -> Iterator[BuildStep]:
    """Yield how frame, water and light are put together, in order."""
    build, shape = plan.build, plan.build.shape
    number = shape.on_a_tier * build.tiers
    yield BuildStep(
        "ground", "Put the two end frames together flat, their shelf joints at the heights drawn.", "tape", 2, 30
    )
    yield BuildStep(
        "standing", "Stand the ends up, put the rails, bearers and braces between.", "hex key", 2, 15 * build.tiers
    )
    yield BuildStep(
        "standing", "Level it by its feet along and across, with the top rails level.", "spirit level", 2, 15
    )
    if build.stands == "wall":
        yield BuildStep(
            "standing", "Screw both ties into the studs of the wall before anything heavy goes on.", "drill", 2, 20
        )
    if shape.channel:
        fall = f"{shape.slope * 1000:.0f} mm in each metre"
        yield BuildStep(
            "standing",
            f"Lay the channels, check their fall of {fall} with a level, strap them.",
            "level",
            2,
            8 * number,
        )
    else:
        yield BuildStep(
            "standing", "Set the trays or tubs level on the bearers, fit their overflows.", "level", 2, 6 * number
        )
    glued = sum(fittings(plan).values())
    yield BuildStep(
        "bench",
        "Put all pipe together dry, mark each joint, then cement it with the window open.",
        "brush",
        1,
        3 * glued,
    )
    yield BuildStep(
        "standing",
        "Fill the tank with plain water; run it an hour; look for drips, low places and the level at rest.",
        "eyes",
        1,
        60,
    )
    yield BuildStep(
        "standing",
        "Then fill every tier, lowest first, and look at the slope, the feet and the wall again.",
        "level",
        2,
        30,
    )
    lamps = build.lamps * build.tiers
    yield BuildStep(
        "after",
        "Timer and residual-current adaptor first; hang the lamps: a drip loop in each cable, sockets above water.",
        "ties",
        2,
        10 * lamps,
    )
