"""What is left to walk through under an arch: clear width, headroom at the edge of the path, the shape across it.

Across the path `s` runs along the frame from the axis of its left leg to that of its right one; the frame stands askew
where the beds are out of line, and is then longer than the path is wide. Floats in metres, heights above the path.
"""

import math
from dataclasses import dataclass
from typing import Any

from gardenframe import units
from gardenframe.builds.fields import at_least, at_most
from gardenframe.errors import InputError
from gardenframe.geometry import clearance, hoops
from gardenframe.materials import members
from gardenframe.materials.benders import Bender, bender_for
from gardenframe.working import Formula, Step

BOARD_M = 0.038
LOW_RAIL_M = 0.15  # its axis above the boards
UNDER_TOP_M = 0.10  # the top rail of a side below the corner or coupling: room for both fittings
LEAST_SPACE_M = 0.2  # between the rails of a side
LEAST_RAFTER_M = 0.35  # room for the fittings on a slope


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """Where legs stand and what is left between and under them. [m]

    `left_x`, `right_x` are the axes of the legs from the face of the left bed; `span_m` is from axis to axis along the
    frame; `top_m` and `knee_m` are the levels of its axis at the top and where its roof begins; `radius_m` is 0 for a
    form without bends.
    """

    form: str
    outer_m: float
    left_x: float
    right_x: float
    span_m: float
    top_m: float
    knee_m: float
    radius_m: float
    pitch_deg: float
    between_m: float
    path_m: float
    hanging_m: float

    @property
    def clear_m(self) -> float:
        """Clear width: between the beds, or between the legs where these stand on the path. [m]"""
        return min(self.between_m, self.between_legs_m)

    @property
    def between_legs_m(self) -> float:
        """From leg to leg, square across the path. [m]"""
        return clearance.clear_width_mm((self.right_x - self.left_x) * 1000, self.outer_m * 1000) / 1000

    @property
    def edge_s_m(self) -> float:
        """Where the edge of the clear path lies on the frame, from the axis of a leg. [m]"""
        return (self.span_m - self.path_m * self.span_m / (self.right_x - self.left_x)) / 2

    def _under(self) -> tuple[Formula[..., float], tuple[float, ...]]:
        """Return the formula for the underside of the frame at the edge of the path, and its numbers in mm."""
        top, outer, edge = self.top_m * 1000, self.outer_m * 1000, self.edge_s_m * 1000
        if self.form == "gabled":
            return clearance.under_slope_mm, (self.knee_m * 1000, edge, self.pitch_deg, outer)
        bend = self.radius_m * 1000
        if bend and edge < bend:
            return clearance.under_bend_mm, (top - bend, bend, bend - edge, outer)
        return clearance.under_rail_mm, (top, outer)

    @property
    def under_m(self) -> float:
        """Underside of the frame at the edge of the clear path. [m]"""
        formula, numbers = self._under()
        return formula(*numbers) / 1000

    @property
    def headroom_m(self) -> float:
        """Headroom at the edge of the clear path, hanging plants taken off. [m]"""
        return clearance.headroom_left_mm(self.under_m * 1000, self.hanging_m * 1000) / 1000

    def headroom_steps(self, system: str = "metric") -> list[Step]:
        """Return the working of the headroom."""
        formula, numbers = self._under()
        left = clearance.headroom_left_mm.shown(self.under_m * 1000, self.hanging_m * 1000, system=system)
        return [formula.shown(*numbers, system=system), left]

    def clear_steps(self, system: str = "metric") -> list[Step]:
        """Return the working of the width from leg to leg."""
        return [clearance.clear_width_mm.shown((self.right_x - self.left_x) * 1000, self.outer_m * 1000, system=system)]


def room_of(build: Any) -> Room:
    """Return the room of an arch: feet inside timber boards, inside tube rails, or on the path against the beds."""
    outer = members.find(build.tube).outer_mm / 1000
    aside = {"timber bed": BOARD_M + outer / 2, "tube bed": 1.5 * outer}.get(build.base, -outer / 2)
    left, right = -aside, build.between_m + aside
    span, top = math.hypot(right - left, build.shift_m), build.height_m - outer / 2
    radius = {"half-hoop": span / 2, "two bends": _bend_radius_m(build)}.get(build.form, 0.0)
    rise = span / 2 * math.tan(math.radians(build.pitch_deg)) if build.form == "gabled" else radius
    return Room(
        form=build.form, outer_m=outer, left_x=left, right_x=right, span_m=span, top_m=top, knee_m=top - rise,
        radius_m=radius, pitch_deg=build.pitch_deg, between_m=build.between_m, path_m=build.path_m,
        hanging_m=build.hanging_m,
    )  # fmt: skip


def bender_of(build: Any) -> Bender:
    """Return the bender of a bent form; FieldError where there is none for its tube."""
    kind = "jig" if build.form == "half-hoop" else build.bend_with
    try:
        return bender_for(build.tube, kind, build.benders())
    except InputError:
        known = "up to EMT 1-1/4 in"
        raise build.wrong(
            "tube", f"a tube with a {kind} in the table of benders: {known}", "Or a form without bends."
        ) from None


def _bend_radius_m(build: Any) -> float:
    if build.form != "two bends":
        return 0.0
    return bender_of(build).radius_mm / 1000 if build.bend_with == "shoe" else float(build.radius_m)


def refuse(build: Any) -> None:
    """Raise FieldError for a bend, a path, a headroom or a leg that cannot be."""
    if build.form in ("half-hoop", "two bends"):
        _refuse_bends(build)
    room = room_of(build)
    if room.clear_m < build.path_m - 1e-9:
        least = build.between_m + build.path_m - room.clear_m
        what = "beds" if room.clear_m == build.between_m else "legs"
        raise build.wrong(
            "between_m", f"at least {at_least(least)} for that path: the {what} overlap it", "Or a narrower path."
        )
    _refuse_low(build, room)
    _refuse_headroom(build, room)


def _refuse_bends(build: Any) -> None:
    bender, room = bender_of(build), room_of(build)
    member, radius = members.find(build.tube), room.radius_m
    least = _least_radius_mm(bender, member) / 1000
    if bender.kind == "jig" and radius < least - 1e-9:
        if build.form == "two bends":
            raise build.wrong(
                "radius_m", f"at least {at_least(least)}, the least of the {bender.label}", "Or the hand bender."
            )
        wider = build.between_m + 2 * (least - radius)
        raise build.wrong(
            "between_m",
            f"about {at_least(wider)} or more: this half hoop has a radius of {_mm(radius)}, and what the "
            f"{bender.label} makes rests at {_mm(least)} or more",
            "Take a smaller tube, or two bends.",
        )
    if 2 * radius > room.span_m + 1e-9:
        apart = "else one bend overlaps the next"
        if bender.kind == "shoe":
            wider = at_least(build.between_m + 2 * radius - room.span_m)
            raise build.wrong("between_m", f"at least {wider} for two bends of the {bender.label}: {apart}")
        raise build.wrong("radius_m", f"at most {at_most(room.span_m / 2)}, half of what it spans: {apart}")
    ends = straight_needed_m(bender, member)
    if build.straight_m < ends - 1e-9:
        raise build.wrong("straight_m", f"at least {at_least(ends)}, what the {bender.label} holds straight")


def _mm(length_m: float) -> str:
    """Return a length in both unit systems, to the millimetre."""
    return f"{units.write(length_m, 'length', 'metric')} ({units.write(length_m, 'length', 'us')})"


def straight_needed_m(bender: Bender, member: Any) -> float:
    """Straight tube that a bender needs at either end of a bend: what it holds, and room for its arrow. [m]"""
    ahead = bender.take_up_mm - bender.radius_mm - member.outer_mm / 2 if bender.take_up_mm else 0.0
    return max(bender.near_mm, bender.far_mm, ahead) / 1000


def _least_radius_mm(bender: Bender, member: Any) -> float:
    """Return the least radius that a bend rests at: the jig's, sprung back; never below the published least. [mm]"""
    if bender.kind == "shoe":
        return bender.radius_mm
    low, high = bender.radius_mm, 10 * bender.radius_mm
    while high - low > 0.01:
        middle = (low + high) / 2
        low, high = (middle, high) if hoops.jig_radius_mm(middle, member) < bender.radius_mm else (low, middle)
    return max(high, member.min_bend_radius_mm or 0.0)


def low_rails_m(build: Any) -> tuple[float, float]:
    """Level of the lowest rail at each side, above the path: it clears the boards of its bed. [m]"""
    left, right = build.depths_m()
    return left + LOW_RAIL_M, right + build.level_m + LOW_RAIL_M


def leg_top_m(build: Any, room: Room) -> float:
    """Level at which the legs end: at the knee, or at the coupling below the bend. [m]"""
    return room.knee_m - (build.straight_m if room.radius_m else 0.0)


def _refuse_low(build: Any, room: Room) -> None:
    low = max(low_rails_m(build))
    space = leg_top_m(build, room) - UNDER_TOP_M - low
    least = LEAST_SPACE_M * (build.side_rails - 1)
    if space < least:
        needs = f"at least {at_least(build.height_m + least - space)} for the rails at the sides"
        raise build.wrong("height_m", needs, "Or fewer rails, lower boards, or a flatter top.")
    if build.form == "gabled" and room.span_m / 2 / math.cos(math.radians(room.pitch_deg)) < LEAST_RAFTER_M:
        raise build.wrong("between_m", "room for two slopes and their fittings", "Take a flat top.")


def _refuse_headroom(build: Any, room: Room) -> None:
    short = build.headroom_m - room.headroom_m
    if short > 1e-9:
        needs = f"at least {at_least(build.height_m + short)} for that headroom at the edge of the path"
        do = "Or let plants hang less, or choose a flatter top."
        raise build.wrong("height_m", needs, do)
