"""What an enclosure refuses: fields that are each allowed and do not go together, each with one sentence."""

import math
from typing import Any

from gardenframe.builds.enclosure_laid import LOW_RAIL_M, RIDGE_M
from gardenframe.builds.enclosure_walls import SILL_M, gateways, walls_of
from gardenframe.builds.fields import both
from gardenframe.materials import members

LEAST_BAY_M, MOST_BAY_M = 0.40, 3.05
RAILS_APART_M = 0.25
LEAST_LEAF_M = 0.25
HIGHEST_M = {"walk-in": 3.0, "reach-in": 1.6, "low": 1.2}
LEAST_M = {"walk-in": 0.8, "reach-in": 0.6, "low": 0.3}
DEEPEST_LID_M, LEAST_LID_M, WIDEST_LID_M = 1.5, 0.45, 2.6
LEAST_PATH_M = 0.30
DEEPEST_GABLE_M = 4.5  # its ties hang free from wall to wall
ENDS_M = 0.45  # free ground at the ends of beds inside


def refuse(build: Any) -> None:
    """Raise FieldError for the first thing that does not fit, naming what would."""
    if not build.animals:
        raise build.wrong("animals", "at least one animal ticked", "The mesh and all that follows depends on them.")
    if build.gated and not build.gate_walls:
        raise build.wrong("gate_walls", "at least one wall ticked", "Or take a low one, with lids.")
    outer = members.find(build.tube).outer_mm / 1000
    _heights(build, outer)
    _bays(build, outer)
    if build.gated:
        gateways(build, outer)
    else:
        _lids(build)
    if build.gabled:
        if build.depth_m > DEEPEST_GABLE_M:
            raise build.wrong("depth_m", f"at most {both(DEEPEST_GABLE_M)} under a gable", "Or take the box.")
        least = RIDGE_M + 0.30 * build.purlins + 0.30
        most = int((build.depth_m / 2 / math.cos(math.radians(build.pitch_deg)) - RIDGE_M - 0.30) / 0.30)
        if build.depth_m / 2 / math.cos(math.radians(build.pitch_deg)) < least:
            if most < 0:
                raise build.wrong("depth_m", f"at least {both(1.0)} under a gable", "Or take the box.")
            raise build.wrong("purlins", f"at most {most} on a slope that long", "They stand 300 mm apart or more.")
    if build.over == "beds" and build.base not in ("timber bed", "bed rails"):
        _beds(build)


def _heights(build: Any, outer: float) -> None:
    low, high = LEAST_M[build.size], HIGHEST_M[build.size]
    if not low - 1e-9 <= build.height_m <= high + 1e-9:
        words = {"walk-in": "to walk in", "reach-in": "to reach in by a door", "low": "with lids"}[build.size]
        raise build.wrong("height_m", f"{both(low)} to {both(high)} {words}")
    base = SILL_M if build.base == "sill holes" else 0.0
    room = build.height_m - outer / 2 - base - LOW_RAIL_M
    if room / (build.mid_rails + 1) < RAILS_APART_M and build.mid_rails:
        most = max(0, int(room / RAILS_APART_M) - 1)
        raise build.wrong("mid_rails", f"at most {most} in that height", "They stand 250 mm apart or more.")
    if not build.gated:
        return
    foot = LOW_RAIL_M + base + outer / 2 if build.size == "reach-in" else max(base, 0.038)
    tall = min(build.gate_height_m, build.height_m - foot - outer)
    if tall - 2 * build.gap_m - outer < LEAST_LEAF_M:
        needs = f"at least {both(math.ceil((LEAST_LEAF_M + 2 * build.gap_m + outer) * 100) / 100)} of height for a gate"
        raise build.wrong("gate_height_m" if tall == build.gate_height_m else "height_m", needs)


def _bays(build: Any, outer: float) -> None:
    for key, wall in (("bays", "front"), ("side_bays", "left")):
        long = walls_of(build, outer)[wall].length_m
        bay = long / getattr(build, key)
        if bay < LEAST_BAY_M:
            raise build.wrong(key, f"at most {max(1, int(long / LEAST_BAY_M))} in that length",
                              f"Posts stand {both(LEAST_BAY_M)} apart or more.")  # fmt: skip
        if bay > MOST_BAY_M:
            raise build.wrong(key, f"at least {math.ceil(long / MOST_BAY_M - 1e-9)} in that length",
                              f"Posts stand at most {both(MOST_BAY_M)} apart.")  # fmt: skip


def _lids(build: Any) -> None:
    if build.depth_m > DEEPEST_LID_M:
        raise build.wrong("depth_m", f"at most {both(DEEPEST_LID_M)} under a lid", "A longer lid is too heavy.")
    wide = build.width_m / build.lids
    if wide < LEAST_LID_M:
        raise build.wrong("lids", f"at most {max(1, int(build.width_m / LEAST_LID_M))} in that width")
    if wide > WIDEST_LID_M:
        raise build.wrong("lids", f"at least {math.ceil(build.width_m / WIDEST_LID_M)} in that width",
                          f"A lid is at most {both(WIDEST_LID_M)} wide.")  # fmt: skip


def _beds(build: Any) -> None:
    if build.path_m < LEAST_PATH_M:
        most = int((build.width_m - LEAST_PATH_M) / (build.bed_width_m + LEAST_PATH_M))
        if most < 2:
            most_wide = (build.width_m - LEAST_PATH_M * (build.beds + 1)) / build.beds
            if most_wide < 0.4:
                raise build.wrong("width_m", f"room for {build.beds} beds and paths of {both(LEAST_PATH_M)} between")
            raise build.wrong("bed_width_m", f"at most {both(int(most_wide * 100) / 100)} for {build.beds} beds")
        raise build.wrong("beds", f"at most {most} of that width", f"Paths are {both(LEAST_PATH_M)} wide or more.")
    if build.depth_m < 2 * ENDS_M + 0.5:
        raise build.wrong("depth_m", f"at least {both(2 * ENDS_M + 0.5)} round beds", "Or let it stand over one bed.")
