"""What of a grow stand does not go together: each refusal one sentence, by the field that would mend it."""

import math
from collections.abc import Callable
from typing import Any

from gardenframe import units
from gardenframe.builds.fields import at_least, both
from gardenframe.builds.grow_stand_pipes import between_m, cuts, length_m, sockets_m
from gardenframe.builds.grow_stand_sag import HandSag
from gardenframe.builds.grow_stand_shape import HANGER_M, OVER_PLANTS_M
from gardenframe.builds.grow_stand_water import ABOVE_TANK_M, DRAIN_SLOPE, DRAINS
from gardenframe.errors import InputError
from gardenframe.materials import members
from gardenframe.water.channels import LITRES, LONGEST_M, MANNING, SECONDS, manning_m3_per_s

DRAIN_ROOM_M = 0.16  # between the tank's brim and the lowest shelf: drain, elbow, fall
BESIDE_TANK_M = 0.02
BETWEEN_ROWS_M = 0.01
LEAST_ROWS_M = 0.10  # so that the tees of the drain fit between channels
LEAST_BEARERS_M = 0.10


def refuse(build: Any) -> None:
    """Raise FieldError for the first choice that does not go with the others."""
    for look in (_frame, _heights, _carried, _plants, _lamp, _tank_fits, _flows, _drains, _pumped):
        look(build)


def _frame(build: Any) -> None:
    """Refuse castors on a wall, bearers too close."""
    if build.stands == "wall" and build.feet == "castors":
        raise build.wrong("feet", "feet or plates where it is tied to a wall", "What is tied cannot roll.")
    shape = build.shape
    apart = shape.bay_m / (shape.bearers + 1)
    if shape.bearers and apart < LEAST_BEARERS_M:
        most = int(shape.bay_m / LEAST_BEARERS_M) - 1
        if most < build.field("bearers").low:
            needs = f"fewer in that length: bays of {both(2 * LEAST_BEARERS_M)} or more"
            raise build.wrong("bays", needs, "Each has a bearer, clear of the posts.")
        raise build.wrong("bearers", f"at most {most} in bays that long", f"They stand {both(LEAST_BEARERS_M)} apart.")


def _heights(build: Any) -> None:
    """Refuse more tiers than height."""
    shape = build.shape
    least = shape.grown_m + OVER_PLANTS_M + shape.fall_m + shape.d + HANGER_M
    if shape.pitch_m >= least:
        return
    most = int((build.height_m - build.low_m) / least + 1e-9)
    why = f"A tier takes {both(least)}: what it carries, grown plants, a lamp on its hanger."
    if most < 1:
        raise build.wrong("height_m", f"at least {both(build.low_m + least)} over that lowest shelf", why)
    raise build.wrong("tiers", f"at most {most} in that height", why)


def _carried(build: Any) -> None:
    """Refuse channels that lie too close, trays that do not fit."""
    shape = build.shape
    if shape.channel:
        each = max(shape.wide_m + BETWEEN_ROWS_M, LEAST_ROWS_M if build.rows > 1 else 0.0)
        most = int(build.depth_m / each + 1e-9)
        if build.rows > most:
            raise build.wrong("rows", f"at most {most} in that depth", f"Each takes {both(each)} of it.")
        return
    if shape.on_a_tier < 1:
        carrier = shape.carrier
        needs = f"a tier of at least {both(carrier.long_mm / 1000)} by {both(carrier.wide_mm / 1000)} for one of them"
        raise build.wrong("carries", needs)
    deepest = shape.deep_m - 0.02
    if build.water_m > deepest + 1e-9:
        raise build.wrong("water_m", f"at most {both(deepest)} in {shape.carrier.label}", "20 mm stay under the brim.")


def _plants(build: Any) -> None:
    """Refuse a stand without plants."""
    if build.plants_each < 1:
        raise build.wrong("plants_each", "1 or more", "A stand without plants has nothing to water or light.")


def _lamp(build: Any) -> None:
    """Refuse a lamp under the tier's plants, one in the tier above, one longer than the stand."""
    shape = build.shape
    if shape.lamp.long_mm / 1000 > build.length_m:
        raise build.wrong("lamp", f"one at most {both(build.length_m)} long, as the stand is")
    if build.lamp_m < OVER_PLANTS_M - 1e-9:
        why = "Lower than that it hangs in its own tier's grown plants, or under them."
        raise build.wrong("lamp_m", f"at least {both(OVER_PLANTS_M)}", why)
    most = shape.room_m - shape.grown_m
    if build.lamp_m > most + 1e-9:
        raise build.wrong("lamp_m", f"at most {both(most)}", "The rails that it hangs from are right above.")


def _tank_fits(build: Any) -> None:
    """Refuse a tank that does not go under the lowest shelf, or not in between the posts."""
    shape, tank = build.shape, build.shape.tank
    low = tank.deep_mm / 1000 + ABOVE_TANK_M + DRAIN_ROOM_M
    if build.low_m < low - 1e-9:
        needs = f"at least {both(low)} over that tank"
        raise build.wrong("low_m", needs, "The drain falls into it, and a hand takes off its lid.")
    for much, room, word in (
        (tank.long_mm / 1000, shape.bay_m - shape.d - BESIDE_TANK_M, "long"),
        (tank.wide_mm / 1000, shape.back_y - shape.d - BESIDE_TANK_M, "wide"),
    ):
        if much > room + 1e-9:
            raise build.wrong("tank", f"one at most {both(room)} {word}, to stand between the posts")


def _flows(build: Any) -> None:
    """Refuse a channel over its limit, one that runs full, drains that would."""
    shape = build.shape
    whole = build.length_m * build.tiers
    if shape.in_turn and whole > LONGEST_M:
        needs = f"channels of at most {both(LONGEST_M)} one after the other; these are {both(whole)}"
        raise build.wrong("fed", needs, "Feed each from the pump.")
    if shape.channel and shape.slope <= 0:
        raise build.wrong("slope_share", "more than 0 %", "The water would stand in the channels: raise the feed end.")
    keys = {"slope": "slope_share", "channel length": "length_m"}
    _asked(build, lambda: build.water.film, keys, "flow_l_per_min")
    _drained(build)
    _piped(build)


def _drained(build: Any) -> None:
    """Refuse more flow than half fills the widest drain, told for each feed as it is chosen."""
    try:
        _ = build.water.drain
    except InputError:
        feeds, bore = build.water.feeds, members.find(DRAINS[-1]).inner_mm / 1000
        most = manning_m3_per_s(math.pi * bore**2 / 8, math.pi * bore / 2, DRAIN_SLOPE, MANNING) * LITRES * SECONDS
        each = math.floor(100 * most / feeds) / 100
        why = f"All {feeds} feeds together then half fill the widest drain."
        if each < build.field("flow_l_per_min").low:
            raise build.wrong("tiers", "fewer, or fewer feeds on each", f"Drains take {most:.0f} L/min.") from None
        raise build.wrong("flow_l_per_min", f"at most {each:g} L/min", why) from None


def _piped(build: Any) -> None:
    """Refuse a pipe too short for the sockets of its fittings: of a drain that falls from a low shelf into the tank."""
    for cut in cuts(build):
        short = sockets_m(cut) - length_m(cut)
        if short <= 1e-9:
            continue
        if cut.name == "downpipe":
            needs = f"at least {at_least(build.low_m + short)} over that tank"
            raise build.wrong("low_m", needs, f"A drain of {cut.size[4:]} in pipe falls into it.")
        apart = at_least(between_m(*cut.ends, cut.size))
        raise build.wrong("rows" if build.shape.channel else "flow_l_per_min", f"fewer or less: drain tees of "
                          f"{cut.size[4:]} in stand {apart} apart")  # fmt: skip


def _drains(build: Any) -> None:
    """Refuse a slope that runs backwards under load, worked by hand as simple spans."""
    if build.shape.channel is None:
        return
    hand = HandSag(build.shape)
    if hand.slope_left > 0:
        return
    lost = build.shape.slope - hand.slope_left
    said = f"loaded, rails and channels sag and take {units.write(lost, 'share', 'metric')} at the drain end of a bay"
    if lost >= build.field("slope_share").high:
        raise build.wrong("slope_share", f"less sag: {said}", "Take more bearers, more bays or a stiffer tube.")
    raise build.wrong("slope_share", f"more: {said}", "Else take more bearers, more bays or a stiffer tube.")


def _pumped(build: Any) -> None:
    """Refuse a pump that cannot lift, a tank smaller than its drain-back."""
    _asked(build, build.water.require_lifting, {}, "pump")
    _asked(build, lambda: build.water.tank, {}, "tank")


def _asked(build: Any, ask: Callable[[], Any], keys: dict[str, str], usual: str) -> None:
    """Turn what a calculation refuses into a sentence by the field that would mend it."""
    try:
        ask()
    except InputError as refused:
        raise build.wrong(keys.get(refused.name, usual), refused.needs, refused.do) from None
