"""What of a trellis is not tube: its covering, the bed and the person beside it, and what its drawing measures."""

from collections.abc import Iterator
from itertools import pairwise

from gardenframe.builds.trellis_laid import BOARD_M, RAIL, Laid
from gardenframe.geometry.coverings import outline
from gardenframe.geometry.frame import Panel, Run
from gardenframe.geometry.scene import Body, Dimension

PERSON_M = 1.70
FIXINGS = {"ties": ("tie-200", 1.0), "wire": ("tie-wire", 0.3), "woven": ("woven", 0.0)}  # item, how much each takes


def panels(laid: Laid, runs: list[Run]) -> tuple[Panel, ...]:
    """Return the panels with the covering, and the runs that carry each."""
    covering = None if laid.build.covering == "none" else laid.build.covering
    found = []
    for face, corners in laid.faces:
        label = "" if face == "net" else f"{face} "
        posts = "post " if face == "net" else f"{face} "
        rails = tuple(label + RAIL[rail[:4]].format(rail) for rail in laid.rail_heights(laid.top_m))
        carriers = tuple(
            run.key
            for run in runs
            if run.key.split(".")[0] in rails or (run.role == "post" and run.key.startswith(posts))
        )
        points = [laid.joints[key].at for key in corners]
        key, each = FIXINGS[laid.build.fixing]
        found.append(
            Panel(
                key=face,
                carried_by=carriers,
                covering=covering,
                plant=laid.build.plant,
                outline=outline(points),
                overlap_m=laid.build.overlap_m,
                wrap_m=laid.build.wrap_m,
                fixing=key,
                fixing_each=each,
                fixing_spacing_m=laid.build.tie_spacing_m,
            )
        )
    return tuple(found)


def bodies(laid: Laid) -> Iterator[Body]:
    """Yield the bed, the soil and a person for scale."""
    build, width = laid.build, laid.build.width_m
    back = {"flat": build.bed_width_m, "A-frame": build.spread_m}.get(build.form, 0.0) or max(
        joint.y_m for joint in laid.joints.values()
    )
    edge = BOARD_M if build.base == "timber bed" else 0.0
    if build.base in ("timber bed", "tube bed"):
        front = 0.0 if build.form == "flat" else -edge - laid.outer_m
        far = back if build.form == "flat" else back + edge + laid.outer_m
        kind = "bed" if edge else "soil"
        yield Body(kind=kind, low=(-edge, front, 0.0), high=(width + edge, far, laid.soil_m), label="bed")
    yield Body(kind="person", low=(width + 0.35, 0.0, 0.0), high=(width + 0.95, 0.3, PERSON_M), label="1.7 m")


def dimensions(laid: Laid) -> Iterator[Dimension]:
    """Yield what the drawing measures."""
    build, width, top = laid.build, laid.build.width_m, laid.soil_m + laid.build.height_m
    yield Dimension(
        view="front", start=(0, 0, 0), end=(width, 0, 0), axis="x", name="Width", row=2, side="below",
        datum="outside",
    )  # fmt: skip
    yield Dimension(
        view="front", start=(laid.x_m[0], 0, 0), end=(laid.x_m[1], 0, 0), axis="x", name="Bay", side="below",
        datum="centre to centre",
    )  # fmt: skip
    yield Dimension(
        view="front", start=(0, 0, laid.soil_m), end=(0, 0, top), axis="z", name="Height", row=2, side="left"
    )
    if laid.soil_m:
        yield Dimension(
            view="front", start=(0, 0, 0), end=(0, 0, laid.soil_m), axis="z", name="Bed depth", row=2, side="left"
        )
    levels = list(laid.rail_heights(laid.top_m).values()) if build.form != "A-frame" else []
    for low, high in pairwise(levels):
        yield Dimension(
            view="front", start=(0, 0, low), end=(0, 0, high), axis="z", side="left", datum="centre to centre"
        )
    if build.form == "A-frame":
        yield Dimension(
            view="side", start=(0, 0, 0), end=(0, build.spread_m, 0), axis="y", name="Spread", side="below",
            datum="centre to centre",
        )  # fmt: skip
    elif build.form == "flat" and build.base in ("timber bed", "tube bed"):
        yield Dimension(
            view="side", start=(0, 0, 0), end=(0, build.bed_width_m, 0), axis="y", name="Bed width", side="below",
            datum="outside",
        )  # fmt: skip
    elif build.form == "sloped":
        back = laid.joints["prop 1 foot"].y_m
        yield Dimension(
            view="side", start=(0, 0, 0), end=(0, back, 0), axis="y", name="Prop", side="below",
            datum="centre to centre",
        )  # fmt: skip
