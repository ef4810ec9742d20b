"""What a hoop house takes beside its frame: leaves of doors, base boards, tubes to wind the sides on, and small goods.

Pieces that are cut go to the cut list with marks of their own, the rest to the bill. Gaps and laps are common
practice, no source.
"""

import math
from collections.abc import Iterator
from typing import Any

from gardenframe.builds.feet import foot_needs
from gardenframe.builds.fields import both
from gardenframe.costs.bill import Need
from gardenframe.geometry.pieces import Loose, even_parts

LEAF, BOARD = "timber-2x2", "timber-2x6"
GAP_M = 0.010  # between a leaf and its posts and header
OVER_GROUND_M = 0.030  # under a leaf
HANDLE_M = 0.15  # a tube that winds a side goes on past the front, to be turned
RAILS = 3  # of a leaf: bottom, middle, top
SCREWS_A_JOINT = 2
BATTEN_M, BOARD_SCREW_M = 2.4, 0.3


def doors_of(build: Any) -> int:
    """Return how many doors a house has."""
    return {"none": 0, "front": 1, "both ends": 2}[build.door] if build.end_walls else 0


def has_boards(build: Any) -> bool:
    """Return whether a house has base boards: on a bed its own boards do."""
    return bool(build.base_boards) and build.base != "timber bed"


def pieces(build: Any, plan: Any) -> Iterator[Loose]:
    """Yield what is cut beside the frame."""
    if doors_of(build):
        yield from leaf(build, plan)
    if has_boards(build):
        between = build.length_m - plan.shop.member(build.tube).outer_mm / 1000  # axes of the end hoops
        number, length = even_parts(between, plan.shop.longest_piece_mm(BOARD) / 1000)
        yield Loose(name="base boards", role="base board", member=BOARD, length_m=length, number=2 * number)
    if build.roll_up:
        number, length = wound(build, plan)
        yield Loose(name="roll-up sides", role="roll-up tube", member=build.tube, length_m=length, number=2 * number)


def leaf(build: Any, plan: Any) -> Iterator[Loose]:
    """Yield stiles, rails and braces of every door leaf: halved over each other, a brace in each of its two fields.

    Raises
    ------
    FieldError
        For a leaf whose stile, rail or brace is longer than the longest piece of its timber.
    """
    thick = plan.shop.member(LEAF).outer_mm / 1000
    longest = plan.shop.longest_piece_mm(LEAF) / 1000
    stile = build.door_height_m - GAP_M - OVER_GROUND_M
    rail = build.door_width_m - 2 * GAP_M
    if stile > longest:
        needs = f"at most {both(longest + GAP_M + OVER_GROUND_M)}: a stile of its leaf is one piece of timber"
        raise build.wrong("door_height_m", needs, "Or carry longer timber.")
    if rail > longest:
        needs = f"at most {both(longest + 2 * GAP_M)}: a rail of its leaf is one piece of timber"
        raise build.wrong("door_width_m", needs, "Or carry longer timber.")
    field = (stile - RAILS * thick) / (RAILS - 1)
    doors = doors_of(build)
    yield Loose(name="door leaf", role="door stile", member=LEAF, length_m=stile, number=2 * doors)
    yield Loose(name="door leaf", role="door rail", member=LEAF, length_m=rail, number=RAILS * doors)
    if field > thick:
        brace = math.hypot(rail - 2 * thick, field)
        if brace > longest:
            most = math.sqrt(longest**2 - field**2) + 2 * (thick + GAP_M)
            needs = f"at most {both(most)}: a brace of its leaf is one piece of timber"
            raise build.wrong("door_width_m", needs, "Or carry longer timber.")
        yield Loose(name="door leaf", role="door brace", member=LEAF, length_m=brace, number=(RAILS - 1) * doors)


def wound(build: Any, plan: Any) -> tuple[int, float]:
    """Return how many equal tubes wind one side, and how long each is. [m]"""
    return even_parts(build.length_m + HANDLE_M, plan.shop.longest_piece_mm(build.tube) / 1000)


def needs(build: Any, plan: Any) -> Iterator[Need]:
    """Yield what holds the feet, and the hinges, screws, battens, couplings, caps and clips of what is cut."""
    yield from foot_needs(plan.frame, build.tube, build.buried_m)
    doors = doors_of(build)
    if doors:
        yield Need(item="hinge-gate", number=doors, group="door")
        yield Need(item="latch-gate", number=doors, group="door")
        laps = doors * (2 * RAILS + 2 * (RAILS - 1))  # rails over stiles, both ends of each brace
        yield Need(item="screw-wood-10", number=laps * SCREWS_A_JOINT, group="door", note="door leaf", spare=True)
    if has_boards(build):
        yield Need(item="batten-20x40", number=2 * math.ceil(build.length_m / BATTEN_M), group="base boards")
        screws = 2 * math.ceil(build.length_m / BOARD_SCREW_M)
        yield Need(item="screw-batten", number=screws, group="base boards", spare=True)
    if build.roll_up:
        number, _ = wound(build, plan)
        yield Need(item=f"coupling-clamp-on-{build.tube}", number=2 * (number - 1), group="roll-up sides", spare=True)
        yield Need(item=f"cap-{build.tube}", number=4, group="small goods")
        clips = 2 * (math.ceil(build.length_m / build.clip_spacing_m) + 1)
        yield Need(item=f"clip-{build.tube}", number=clips, group="roll-up sides", spare=True)
