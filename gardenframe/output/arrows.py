"""Over a drawing: arrows of one load case, the deflected shape, and the swing of a gate in plan."""

import math
from collections.abc import Mapping, Sequence

from gardenframe.geometry.frame import Frame, Part
from gardenframe.geometry.vectors import Vector, add, minus, size, turned, unit
from gardenframe.output.labels import Taken, airy
from gardenframe.output.projection import AXES, View
from gardenframe.output.svg import (
    BLUE,
    CHAIN_TWO,
    DASHED,
    THIN_PX,
    VERMILION,
    arrowhead,
    lines,
    path,
    segment,
    text,
    text_box,
)

LONGEST_PX, LEAST_PX, HEAD_PX = 46.0, 4.0, 12.0


def arrows_drawn(arrows: Sequence[tuple[Vector, Vector, str]], view: View, taken: Taken) -> str:
    """Return arrows whose tips stand at their points, as long as their vectors are large, with words where they fit."""
    largest = max((size(vector) for _, vector, _ in arrows), default=0.0)
    if not largest:
        return ""
    u, v, _, _ = AXES[view.name]
    shafts, heads, said = [], [], []
    for point, vector, label in arrows:
        dx, dy = vector[u] / largest * LONGEST_PX, -vector[v] / largest * LONGEST_PX
        length = math.hypot(dx, dy)
        if length < LEAST_PX:
            continue
        x, y = view.point(point)
        shafts.append(segment(x - dx, y - dy, x, y))
        heads.append(arrowhead(x, y, dx / length, dy / length, min(HEAD_PX, length)))
        if label:
            at = (x - dx * 1.12, y - dy * 1.12 + (4 if abs(dx) > abs(dy) else -1 if dy > 0 else 9))
            anchor = "middle" if abs(dx) < abs(dy) else "end" if dx > 0 else "start"
            box = airy(text_box(*at, label, anchor))
            if taken.free(*box):
                taken.take(*box)
                said.append(text(*at, label, anchor, fill=VERMILION))
        taken.take_line((x - dx, y - dy), (x, y), 5.0)
    return lines("".join(shafts), 1.4, VERMILION) + f'<path d="{"".join(heads)}" fill="{VERMILION}"/>' + "".join(said)


def deflected_drawn(deflected: Mapping[str, Sequence[Vector]], view: View) -> str:
    """Return the deflected shape of runs as dashed lines."""
    return lines("".join(path(view.points(points)) for points in deflected.values()), 1.2, VERMILION, DASHED)


def swings_drawn(frame: Frame, view: View) -> str:
    """Return the swing of every hinged part whose axis is seen end on, and the place where it stands open."""
    _, _, depth, _ = AXES[view.name]
    drawn = []
    for part in frame.parts:
        if part.motion == "hinged" and abs(unit(part.axis)[depth]) > 0.99 and part.open_deg != part.closed_deg:
            points = _swing(frame, part)
            drawn.append(path(view.points(points)) + path(view.points([part.axis_at, points[-1]])))
    return lines("".join(drawn), THIN_PX, BLUE, CHAIN_TWO)


def _swing(frame: Frame, part: Part) -> list[Vector]:
    """Return the way of the part's point farthest from its axis."""
    axis = unit(part.axis)
    ends = [p for key, run in frame.runs.items() if run.part == part.key for p in frame.lines[key].points()]
    arms = [_arm(minus(p, part.axis_at), axis) for p in ends] or [(0.0, 0.0, 0.0)]
    arm = max(arms, key=size)
    swing = math.radians(part.open_deg - part.closed_deg)
    return [add(part.axis_at, turned(arm, axis, swing * i / 18)) for i in range(19)]


def _arm(spoke: Vector, axis: Vector) -> Vector:
    """Return a spoke less its part along the axis."""
    along = spoke[0] * axis[0] + spoke[1] * axis[1] + spoke[2] * axis[2]
    return minus(spoke, (axis[0] * along, axis[1] * along, axis[2] * along))
