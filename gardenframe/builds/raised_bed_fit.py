"""What of a raised bed does not go together: each refusal one sentence by its field, with what would do."""

import math
from typing import Any

from gardenframe.builds.fields import at_least, both
from gardenframe.builds.raised_bed_shape import COVERS, STRETCHER_M, Shape, least_gap_m, longest_m
from gardenframe.materials import members

LEAST_SOIL_M, LEAST_CLEAR_M = 0.10, 0.15
LEAST_BAY_M, LEAST_BEARER_M = 0.25, 0.12


def fit(build: Any) -> None:
    """Refuse sizes that do not go together, each with what would do."""
    outer = members.find(build.tube).outer_mm / 1000
    shape = Shape(build, outer)
    for key, clear in zip(("length_m", "width_m"), shape.clear_m):
        if clear < LEAST_CLEAR_M - 1e-9:
            needs = f"at least {at_least(getattr(build, key) + LEAST_CLEAR_M - clear)}"
            raise build.wrong(key, needs, f"Two posts and two walls leave {both(max(clear, 0.0))} for soil.")
    _rails_fit(build, shape, outer)
    if shape.soil_m < LEAST_SOIL_M - 1e-9:
        needs = f"at least {at_least(build.depth_m + LEAST_SOIL_M - shape.soil_m)}, gravel and rim taken off"
        raise build.wrong("depth_m", needs, f"Roots need {both(LEAST_SOIL_M)} of soil at the least.")
    _posts_fit(build, shape, outer)
    if build.mix == "own":
        rest = 1 - build.compost_share - build.sand_share - build.potting_share
        if rest < -1e-9:
            key = max(("compost_share", "sand_share", "potting_share"), key=lambda name: getattr(build, name))
            most = getattr(build, key) + rest
            raise build.wrong(key, f"at most {max(most, 0) * 100:.0f} % beside the others", "Shares add up to 100 %.")


def _rails_fit(build: Any, shape: Shape, outer: float) -> None:
    least = least_gap_m(outer)
    gap = (shape.top_z - shape.low_z) / (build.mid_rails + 1)
    if gap < least - 1e-9:
        if build.mid_rails:
            most = max(0, int((shape.top_z - shape.low_z) / least + 1e-9) - 1)
            raise build.wrong("mid_rails", f"at most {most} in a bed that deep", f"Rails lie {both(least)} apart.")
        needs = f"at least {at_least(build.depth_m + least - gap)} in this tube"
        raise build.wrong("depth_m", needs, "Two rails and their fittings lie above each other.")
    if shape.tied and shape.tie_level == "tie" and min(shape.tie_z - shape.low_z, shape.top_z - shape.tie_z) < least:
        needs = "at the rim in a bed that shallow"
        raise build.wrong("tie_at", needs, f"A tie needs {both(least)} to the rail above it.")
    if shape.on_legs and build.stretchers != "none" and build.legs_m < STRETCHER_M + least - outer / 2:
        needs = f"none under {at_least(STRETCHER_M + least - outer / 2)} of clear height"
        raise build.wrong("stretchers", needs, "There is no room for them.")

    if shape.on_legs and build.braces and not shape.brace_m:
        raise build.wrong("braces", "no: there is no room for them", "Longer legs or fewer bearers make room.")
    if shape.on_legs and build.held and build.under == "paving":
        raise build.wrong("held", "no on paving", "What an anchor in paving holds is its maker's to say.")


def _posts_fit(build: Any, shape: Shape, outer: float) -> None:
    if shape.bay_m < LEAST_BAY_M - 1e-9:
        most = max(1, int((build.length_m - outer) / LEAST_BAY_M))
        raise build.wrong("bays", f"at most {most} in that length", f"Posts stand {both(LEAST_BAY_M)} apart or more.")
    sold = longest_m(COVERS[build.wall])
    if shape.bay_m > min(sold, longest_m("boards-19")):
        least = math.ceil((build.length_m - outer) / min(sold, longest_m("boards-19")) - 1e-9)
        raise build.wrong("bays", f"at least {least} in that length", "A board or sheet ends at a post.")
    if shape.end_bay_m < LEAST_BAY_M - 1e-9 and build.end_posts:
        most = max(0, int((build.width_m - outer) / LEAST_BAY_M) - 1)
        raise build.wrong("end_posts", f"at most {most} in that width", f"Posts stand {both(LEAST_BAY_M)} apart.")
    if shape.on_legs and shape.bearer_gap_m < LEAST_BEARER_M - 1e-9:
        most = max(0, int(shape.bay_m / LEAST_BEARER_M) - 1)
        raise build.wrong("bearers", f"at most {most} in bays that short", f"They lie {both(LEAST_BEARER_M)} apart.")
