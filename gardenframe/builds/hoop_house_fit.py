"""Which sizes of a hoop house do not go together: each refusal is one sentence by the field that is to be changed."""

import math
from itertools import pairwise
from typing import Any

from gardenframe.builds.fields import both
from gardenframe.builds.hoop_house_laid import APEX_M, CLEAR_M, UNDER_PURLIN_M, Laid
from gardenframe.builds.hoop_house_shape import Section
from gardenframe.errors import FrameError, InputError
from gardenframe.geometry import bending, hoops
from gardenframe.materials import benders, coverings, members
from gardenframe.materials.coverings import load_rolls
from gardenframe.materials.shop import Shop

LEAST_BAY_M = 0.3
LEG_DEG = 45.0  # flatter legs push their feet apart


def check(b: Any, outer: float) -> None:
    """Raise FieldError for the first field of a hoop house that does not go with the others."""
    check_form(b, outer)
    section = b.section(outer)
    if b.form != "gable":
        check_bend(b, section)
    check_base(b, section)
    if b.end_walls and b.door != "none":
        check_door(b, section, outer)
    check_along(b, outer)
    check_cover(b, section)


def check_form(b: Any, outer: float) -> None:
    """Refuse a top that is not above the walls, or too far above them."""
    half = (b.width_m - outer) / 2
    if b.form == "half circle":
        return
    rise = b.height_m - outer / 2 - b.wall_m
    least = 0.15 if b.form == "segment" else 0.25 * half
    if rise < least:
        needs = f"{both(b.wall_m + least + outer / 2)} or more: higher than its side walls"
        raise b.wrong("height_m", needs, "Lower the walls or raise the top.")
    if b.form == "segment" and rise > half:
        needs = f"at most {both(b.wall_m + half + outer / 2)} on that width: then it is a half circle"
        raise b.wrong("height_m", needs, "Widen it, raise the walls or choose the half circle.")
    if b.form == "gable":
        if b.wall_m < 0.6:
            raise b.wrong("wall_m", f"{both(0.6)} or more under a gable", "Its knee braces need the room.")
        if rise > 2 * half:
            raise b.wrong("height_m", f"at most {both(b.wall_m + 2 * half)} on that width")


def check_bend(b: Any, section: Section) -> None:
    """Refuse a hoop that no jig bends: its radius, its tube or the slope of its legs."""
    if b.tube not in {one.member for one in benders.load_benders().values() if one.kind == "jig"}:
        raise b.wrong("tube", "a size that a jig bends, up to 1-1/4 in", "Or choose the gable: nothing is bent.")
    if math.degrees(section.slope_rad) < LEG_DEG:
        raise b.wrong("height_m", f"legs steeper than {LEG_DEG:.0f} degrees", "Raise the top or lower the walls.")
    jig, member = benders.bender_for(b.tube, "jig"), members.find(b.tube)
    bent = hoops.jig_radius_mm(section.radius_m * 1000, member)
    if bent < jig.radius_mm:
        least = bending.sprung_radius_mm(jig.radius_mm, hoops.kept_ratio(jig.radius_mm, member)) / 1000
        needs = f"a hoop of radius {both(least)} or more in {member.label}: this one has {both(section.radius_m)}"
        raise b.wrong("width_m", needs, "Widen it or take a thinner tube.")


def check_base(b: Any, section: Section) -> None:
    """Refuse walls lower than a bed, and openings higher than the sides."""
    if b.base == "timber bed" and b.wall_m < b.bed_depth_m:
        needs = f"at least the bed depth, {both(b.bed_depth_m)}: straps hold straight tube"
        raise b.wrong("wall_m", needs)
    top = section.up_at_height(b.roll_up_m) if b.roll_up and b.roll_up_m < section.top_m else math.inf
    if b.roll_up and top > 0.6 * section.half_length_m:
        raise b.wrong("roll_up_m", "lower than the side: at most 60 % of the way up to the ridge")
    if b.roll_up and b.form == "gable" and b.roll_up_m > b.wall_m - 2 * APEX_M:
        raise b.wrong("roll_up_m", f"at most {both(b.wall_m - 2 * APEX_M)} under those eaves")


def check_door(b: Any, section: Section, outer: float) -> None:
    """Refuse a door wider than the end wall, or taller than the house over its posts."""
    post = b.door_width_m / 2 + outer / 2
    if post > section.half_width_m - CLEAR_M:
        needs = f"at most {both(2 * (section.half_width_m - CLEAR_M) - outer)}: narrower than the end wall"
        raise b.wrong("door_width_m", needs)
    free = section.height_at(post) - outer - CLEAR_M
    if b.door_height_m > free:
        needs = (
            f"at most {both(max(free, 0.0))} where its posts meet the hoop" if free > 0.3 else "a wider, taller house"
        )
        raise b.wrong("door_height_m", needs, "Lower or narrow the door, or raise the house.")
    if b.base == "timber bed" and b.door_height_m <= b.bed_depth_m:
        raise b.wrong("door_height_m", "more than the bed depth")


def check_along(b: Any, outer: float) -> None:
    """Refuse hoops, purlins and braces without room."""
    bay = (b.length_m - outer) / b.bays(outer)
    if bay < LEAST_BAY_M:
        raise b.wrong("hoop_spacing_m", f"hoops {both(LEAST_BAY_M)} apart or more")
    laid = Laid(b, Shop())
    ups = sorted(laid.purlins_m.values())
    low = b.soil_m + CLEAR_M
    if ups and (ups[0] < low or any(b - a < 0.99 * CLEAR_M for a, b in pairwise(ups))):
        raise b.wrong("purlins", f"fewer on that hoop: they stand {both(CLEAR_M)} apart and from the ground or more")
    if b.braces and laid.brace_m[1] - laid.brace_m[0] < 0.15:
        needs = f"{both(UNDER_PURLIN_M + CLEAR_M + 0.15)} below the lowest purlin"
        raise b.wrong("braces", needs, "Take fewer purlins or go without.")


def check_cover(b: Any, section: Section) -> None:
    """Refuse a covering that no roll gives, or not in one piece."""
    across = 2 * section.half_length_m + 2 * b.wrap_m
    near, far = sorted((across, b.length_m + 2 * b.wrap_m))
    rolls = [roll for roll in load_rolls().values() if roll.covering == b.covering]
    label = coverings.load_coverings()[b.covering].label
    if not any(roll.length_mm / 1000 >= near and roll.width_mm / 1000 > b.overlap_m for roll in rolls):
        longest = max(roll.length_mm for roll in rolls) / 1000
        needs = f"one sold in rolls of {both(near)} or more: {label} comes in {both(longest)} at most"
        raise b.wrong("covering", needs)
    widest = max(roll.width_mm for roll in rolls if roll.length_mm / 1000 >= near) / 1000
    if b.one_piece and not any(
        min(roll.width_mm, roll.length_mm) / 1000 >= near and max(roll.width_mm, roll.length_mm) / 1000 >= far
        for roll in rolls
    ):
        needs = f"no: {label} is {both(widest)} wide at most, the cover {both(near)} by {both(far)}"
        raise b.wrong("one_piece", needs)


def check_couplings(b: Any, laid: Laid, shop: Shop) -> None:
    """Refuse a hoop longer than a stick without purlins where its couplings must stand, saying how many serve."""
    try:
        laid.couplings  # noqa: B018 - worked out here, kept for the frame
    except FrameError as refused:
        for number in range(b.purlins + 1, int(b.field("purlins").high) + 1):
            try:
                Laid(b.changed(purlins=number), shop).couplings  # noqa: B018
            except (FrameError, InputError):
                continue
            needs = f"{number} or more: a hoop longer than a stick is coupled beside a purlin, off the ridge"
            raise b.wrong("purlins", needs, "Or take longer sticks.") from refused
        raise b.wrong("width_m", "a hoop that can be made of sticks", refused.do) from refused
