"""What stands round a frame, for the eye: bed, soil, ground, path, water, plants, a person or a wheelbarrow for scale.

A body and its view come in, SVG goes out. Colour never carries meaning alone: each kind has its line or pattern.
"""

import math
from functools import lru_cache

from gardenframe.geometry.scene import Body
from gardenframe.output.projection import View
from gardenframe.output.svg import (
    CHAIN_TWO,
    GREY,
    INK,
    THICK_PX,
    THIN_PX,
    Box,
    area,
    box_path,
    lines,
    path,
    segment,
)

LEAF = "#3f7d62"
SCALE_FIGURES = ("person", "wheelbarrow")
GROUND_PX = 8.0
DOTS = 90
JITTER = (0.0, 0.21, -0.13, 0.08, -0.24, 0.16, -0.05)
BOARD_M = 0.038  # a 2 in nominal board
FILLS = {
    "bed": "#efe3cd",
    "soil": "#eadfd3",
    "path": "#f1f1ef",
    "water": "#e1f0fa",
    "plant": "#dff0e6",
}
# half a standing figure, in heights, from the neck down: x to the side, y up; an own outline
HALF_FIGURE = (
    (0.022, 0.86), (0.03, 0.83), (0.095, 0.80), (0.112, 0.76), (0.13, 0.49), (0.118, 0.48), (0.085, 0.70), (0.08, 0.48),
    (0.072, 0.03), (0.09, 0.012), (0.03, 0.012), (0.012, 0.44),
)  # fmt: skip
FIGURE, ROUND = "#d5dbe0", 0.024


def seen(body: Body, view: View) -> Box:
    """Box of a body in a view. [px]"""
    (left, bottom), (right, top) = view.points([body.low, body.high])
    return (left, top, right, bottom)


def body_drawn(body: Body, view: View) -> str:
    """Return one body as it is seen in a view."""
    box = seen(body, view)
    kind = body.kind
    if kind in SCALE_FIGURES:
        return _figure(kind, box) if view.name == "front" else ""
    if kind in ("ground", "path", "soil"):
        return area(box_path(box), FILLS.get(kind, FILLS["soil"]), GREY) + (
            dots(box) if view.name == "plan" or kind == "soil" else ""
        )
    if kind == "bed":
        return _bed(box, view)
    if kind == "water":
        return area(box_path(box), FILLS[kind], GREY) + lines(_waves(box), THIN_PX, GREY)
    if kind in ("plant", "crop", "plants"):
        return _plant(box, view.name == "plan")
    return area(box_path(box), "#fff", GREY, THIN_PX, f' fill-opacity="0.6" stroke-dasharray="{CHAIN_TWO}"')


def _bed(box: Box, view: View) -> str:
    """Boards from the side; from above, boards round soil."""
    outside = area(box_path(box), FILLS["bed"], INK, THICK_PX)
    inset = BOARD_M * view.scale
    inner = (box[0] + inset, box[1] + inset, box[2] - inset, box[3] - inset)
    if view.name != "plan" or inner[0] >= inner[2] or inner[1] >= inner[3]:
        return outside + lines(_grain(box), 0.8, "#c4ab7d")
    return outside + area(box_path(inner), FILLS["soil"], INK) + dots(inner)


def _grain(box: Box) -> str:
    """Return a few strokes of wood grain."""
    height, strokes = box[3] - box[1], []
    for i in range(int(min((box[2] - box[0]) / 70, 12)) + 1):
        y = box[1] + height * (0.3 + 0.4 * ((i * 37 % 50) / 50))
        x = box[0] + 14 + i * 70
        if x + 26 < box[2]:
            strokes.append(segment(x, y, x + 26, y))
    return "".join(strokes)


def dots(box: Box) -> str:
    """Return loose dots over a box: soil or gravel."""
    left, top, right, bottom = box
    step = max(11.0, math.sqrt(max((right - left) * (bottom - top), 1.0) / DOTS))
    marks, wide = [], int((right - left) / step)
    for i in range(int((bottom - top) / step)):
        x, y = left + (0.3 + 0.4 * (i % 2)) * step, top + (i + 0.5) * step
        marks += [f"M{x + k * step:.1f} {y + step * JITTER[(3 * k + 5 * i) % 7]:.1f}h1.4" for k in range(wide)]
    return lines("".join(marks), 1.0, "#a08b74")


def _waves(box: Box) -> str:
    strokes = []
    for i in range(int((box[3] - box[1]) / 12)):
        for k in range(int((box[2] - box[0] - 10) / 44) + 1):
            x, y = box[0] + 5 + 44 * k + 20 * (i % 2), box[1] + 8 + 12 * i
            if x + 16 < box[2]:
                strokes.append(f"M{x:.1f} {y:.1f}q4 -3 8 0t8 0")
    return "".join(strokes)


def _plant(box: Box, from_above: bool) -> str:
    """Return a soft outline of small bows with leaves in it."""
    left, top, right, bottom = box
    width, height = right - left, bottom - top
    if width < 4 or height < 4:
        return ""
    x0, y0, square = left + width / 2, top + height / 2, 0.8 if from_above else 0.5
    rim = []
    for i in range(73):
        c, s = math.cos(math.pi * i / 36), math.sin(math.pi * i / 36)
        x, y = math.copysign(abs(c) ** square, c), math.copysign(abs(s) ** square, s)
        rim.append((x0 + (width / 2 - 2) * x, y0 + (height / 2 - 2) * y))
    bow = min(max((width + height) / 26, 6.0), 16.0)
    d, last = f"M{rim[0][0]:.1f} {rim[0][1]:.1f}", rim[0]
    for x, y in rim[1:]:
        far = math.hypot(x - last[0], y - last[1])
        if far >= bow or (x, y) == rim[-1]:
            d += f"A{0.62 * far:.1f} {0.62 * far:.1f} 0 0 1 {x:.1f} {y:.1f}"
            last = (x, y)
    leaves = []
    for i in range(min(int(width * height / 300), 50)):
        x, y = left + width * (0.14 + 0.68 * ((i * 0.618) % 1)), top + height * (0.14 + 0.72 * ((i * 0.367 + 0.1) % 1))
        leaves.append(f"M{x:.1f} {y:.1f}q3 -4 6 0q-3 4 -6 0")
    return area(f"{d}Z", FILLS["plant"], LEAF, 0.8, ' fill-opacity="0.75"') + lines("".join(leaves), THIN_PX, LEAF)


def _figure(kind: str, box: Box) -> str:
    """Return a person as tall as the box, or a wheelbarrow as large."""
    left, top, right, bottom = box
    height, middle = bottom - top, (left + right) / 2
    if kind == "person":
        half = [(middle + x * height, bottom - y * height) for x, y in HALF_FIGURE]
        other = [(2 * middle - x, y) for x, y in reversed(half)]
        soft = ' stroke-linejoin="round"'
        head = f'<ellipse cx="{middle:.1f}" cy="{top + 0.066 * height:.1f}" rx="{0.046 * height:.1f}" '
        return area(path([*half, *other], closed=True), FIGURE, FIGURE, ROUND * height, soft) + (
            f'{head}ry="{0.064 * height:.1f}" fill="{FIGURE}"/>'
        )
    width, wheel = right - left, 0.3 * height
    tray = [(0.22, 0.95), (0.80, 1.0), (0.66, 0.45), (0.36, 0.45)]
    d = path([(left + x * width, bottom - y * height) for x, y in tray], closed=True)
    bars = [(0.16, 0.3), (0.62, 0.45), (1.0, 0.62)]
    legs = segment(left + 0.6 * width, bottom - 0.45 * height, left + 0.68 * width, bottom)
    return (
        area(d, "#e6e9ec", GREY)
        + lines(path([(left + x * width, bottom - y * height) for x, y in bars]) + legs, THICK_PX, GREY)
        + f'<circle cx="{left + 0.16 * width:.1f}" cy="{bottom - wheel:.1f}" r="{wheel:.1f}" fill="#fff" '
        f'stroke="{GREY}" stroke-width="{THICK_PX}"/>'
    )


def ground(left: float, right: float, level: float) -> str:
    """Return the ground line with the short slanting strokes that say earth."""
    strokes = _earth(round((right - left) / 4) * 4)
    moved = f' transform="translate({left:.1f} {level:.1f})"'
    return f'<path d="{strokes}" fill="none" stroke="{GREY}" stroke-width="{THIN_PX}"{moved}/>' + lines(
        segment(left, level, right, level), THICK_PX, GREY
    )


@lru_cache(maxsize=64)
def _earth(width: int) -> str:
    """Return groups of three strokes along a width."""
    starts = [x + k * 5 for x in range(6, max(width - 18, 7), 34) for k in range(3)]
    return "".join([f"M{x + 6} 0L{x} {GROUND_PX:g}" for x in starts])
