"""What stands round a hoop house in its drawing, and what the drawing measures."""

from collections.abc import Iterator
from typing import Any

from gardenframe.builds.hoop_house_laid import Laid
from gardenframe.geometry.scene import Body, Dimension

PERSON_M = 1.70


def bodies(build: Any, laid: Laid) -> Iterator[Body]:
    """Yield the bed that it stands on, and a person for scale."""
    half = build.width_m / 2
    if build.base == "timber bed":
        board = 0.038
        yield Body(
            kind="bed", low=(-half - board, -board, 0.0),
            high=(half + board, build.length_m + board, build.bed_depth_m),
            label="bed",
        )  # fmt: skip
    yield Body(kind="person", low=(half + 0.5, 0.0, 0.0), high=(half + 1.1, 0.3, PERSON_M), label="1.7 m")


def dimensions(build: Any, laid: Laid) -> Iterator[Dimension]:
    """Yield width, height, walls and door in front, length and spacing at the side."""
    half, outer = build.width_m / 2, laid.outer_m
    top = laid.section.top_m + outer / 2
    yield Dimension(
        view="front",
        start=(-half, 0, 0),
        end=(half, 0, 0),
        axis="x",
        name="Width",
        row=2,
        side="below",
        datum="outside",
    )
    yield Dimension(
        view="front",
        start=(-half, 0, 0),
        end=(-half, 0, top),
        axis="z",
        name="Height",
        row=2,
        side="left",
        datum="outside",
    )
    if build.wall_m > 0.05:
        yield Dimension(
            view="front", start=(-half, 0, 0), end=(-half, 0, build.wall_m), axis="z", name="Side walls", side="left"
        )
    if build.end_walls and laid.has_door("front"):
        door = build.door_width_m / 2
        yield Dimension(
            view="front",
            start=(-door, 0, 0),
            end=(door, 0, 0),
            axis="x",
            name="Door width",
            side="below",
            datum="clear",
        )
    yield Dimension(
        view="side", start=(0, 0, 0), end=(0, build.length_m, 0), axis="y", name="Length", row=2, side="below",
        datum="outside",
    )  # fmt: skip
    yield Dimension(
        view="side", start=(0, laid.y_m[0], 0), end=(0, laid.y_m[1], 0), axis="y", name="Hoop spacing", side="below",
        datum="centre to centre",
    )  # fmt: skip
