"""What a grow stand takes beside its frame: channels, pump, tank, lamps, small goods, and how it is put together.

A plan comes in, what is bought beyond tubes and pipes goes out, and the steps.
"""

import math
from collections.abc import Iterator
from typing import Any

from gardenframe.builds.feet import foot_needs
from gardenframe.builds.fields import both
from gardenframe.builds.grow_stand_pipes import cuts, fittings
from gardenframe.builds.method import BuildStep
from gardenframe.costs.bill import Need
from gardenframe.materials import constants

STRAP_M, TIE_M = 0.30, 0.50  # metal strap over a channel; a tie on each length of pipe
CABLE_TIES = 2  # for each lamp
FLANGE_SCREWS = 4
SOCKETS = 6  # of one strip
CIRCUIT_W = constants.value("socket_circuit_w")
CUP = "50 mm (2 in)"
STANDING = {"tray": "trays", "raft": "tubs", "bucket": "buckets"}
CASTOR, PLATE = "castor-75", "plate-150"


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
    yield Need(item="pump-adaptor", number=1, group="plumbing", note="from the pump's outlet to the pipe")
    yield Need(item=build.tank, number=1, group="water and light")
    lamps = build.lamps * build.tiers
    yield Need(item=f"lamp-{build.lamp}", number=lamps, group="water and light")
    yield Need(item="lamp-hanger", number=lamps, group="water and light")
    shares = math.ceil(water.lit.power_w * build.tiers / CIRCUIT_W)  # each on a circuit and a timer of its own
    timers = shares * (build.lit_h < 24) + (build.pump_h < 24)
    yield Need(item="timer-socket", number=timers, group="water and light")
    yield Need(item="rcd-adaptor", number=shares, group="water and light", note="where the circuit has none")
    if lamps > 1:
        strips = math.ceil(lamps / SOCKETS)
        yield Need(item="socket-strip", number=strips, group="water and light", note="fewer where lamps link")
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
        apart, each = both(shape.crop.apart_mm / 1000), shape.plants_each
        holes = f"{each} holes of {CUP} for net cups, {apart} apart" if each > 1 else f"a hole of {CUP} for its net cup"
        yield BuildStep(
            "bench",
            f"Cut the channels {both(build.length_m)} long and close both ends. In each, cut {holes}, and one in the "
            "bottom near the low end for its drain.",
            "saw, hole saw",
            1,
            (10 + shape.plants_each) * number,
        )
        fall = f"{shape.slope * 1000:.0f} mm in each metre"
        yield BuildStep(
            "standing",
            f"Lay the channels, check their fall of {fall} with a level, strap them.",
            "level",
            2,
            8 * number,
        )
    else:
        what = STANDING[shape.carrier.kind]
        yield BuildStep(
            "standing", f"Set the {what} level on the bearers, fit their overflows.", "level", 2, 6 * number
        )
    glued = sum(fittings(plan).values())
    yield BuildStep(
        "bench",
        "Put all pipe together dry, mark each joint, then cement it with the window open; the topmost drain tee stays "
        "open, as a vent.",
        "brush",
        1,
        3 * glued,
    )
    yield BuildStep(
        "standing",
        "Plug in the residual-current adaptor and the timers: sockets above water, a drip loop in each cable.",
        "eyes",
        1,
        15,
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
        "Pull the plugs, then hang the lamps: a drip loop in each cable.",
        "ties",
        2,
        10 * lamps,
    )
