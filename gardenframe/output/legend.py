"""The foot of a drawing: its units, its projection with the symbol, a scale bar, and what found no room."""

from collections.abc import Sequence

from gardenframe.output.layout import EDGE_PX, Layout
from gardenframe.output.svg import CHAIN, FAINT, GREY, INK, THIN_PX, lines, segment, text, text_width
from gardenframe.units import FOOT_M, INCH_M

LINE_PX, SYMBOL_PX, BETWEEN_PX = 20.0, 46.0, 26.0
BARS = {
    "metric": ((0.1, "100"), (0.2, "200"), (0.5, "500"), (1.0, "1000"), (2.0, "2000"), (5.0, "5000")),
    "us": ((4 * INCH_M, "4 in"), (FOOT_M / 2, "6 in"), (FOOT_M, "1 ft"), (2 * FOOT_M, "2 ft"), (5 * FOOT_M, "5 ft"),
           (10 * FOOT_M, "10 ft")),
}  # fmt: skip
LONGEST_BAR_PX = 130.0


def legend(layout: Layout, system: str, left_out: Sequence[str], width_px: float) -> tuple[str, float]:
    """Return the foot of a sheet and the height of the whole. [px]"""
    top = layout.height + 8.0
    scale = next(iter(layout.views.values())).scale
    bar = [(length * scale, label) for length, label in BARS[system] if length * scale <= LONGEST_BAR_PX][-1:]
    units = "Dimensions in mm" if system == "metric" else "Dimensions in feet and inches"
    items = [(units, 0.0), ("Third-angle projection", SYMBOL_PX)]
    items += [(label, length + 8) for length, label in bar]
    drawn = [lines(segment(EDGE_PX, top, width_px - EDGE_PX, top), THIN_PX, FAINT)]
    x, y = EDGE_PX, top + 17.0
    for i, (label, extra) in enumerate(items):
        wide = text_width(label) + extra
        if x + wide > width_px - EDGE_PX and x > EDGE_PX:
            x, y = EDGE_PX, y + LINE_PX
        if i == 1:
            drawn.append(text(x, y, label, "start") + _symbol(x + text_width(label) + 4, y - 4))
        elif i == 2:
            drawn.append(_bar(x, y - 3, extra - 8) + text(x + extra, y, label, "start"))
        else:
            drawn.append(text(x, y, label, "start"))
        x += wide + BETWEEN_PX
    for line in _wrapped(left_out, width_px - 2 * EDGE_PX):
        y += LINE_PX
        drawn.append(text(EDGE_PX, y, line, "start"))
    return "".join(drawn), y + 11.0


def _symbol(x: float, y: float) -> str:
    """Return the sign of third-angle projection: the small end of a cone faces its own view."""
    circle = '<circle cx="{:.1f}" cy="{:.1f}" r="{}" fill="none" stroke="{}" stroke-width="1"/>'
    rings = circle.format(x + 8, y, 3, INK) + circle.format(x + 8, y, 6, INK)
    cone = f"M{x + 20:.1f} {y - 3:.1f}L{x + 34:.1f} {y - 6:.1f}V{y + 6:.1f}L{x + 20:.1f} {y + 3:.1f}Z"
    axes = segment(x, y, x + 38, y) + segment(x + 8, y - 8, x + 8, y + 8)
    return rings + lines(cone, 1.0) + lines(axes, 0.5, GREY, CHAIN)


def _bar(x: float, y: float, length: float) -> str:
    return lines(f"M{x:.1f} {y - 4:.1f}v8M{x:.1f} {y:.1f}h{length:.1f}m0 -4v8", 1.0)


def _wrapped(left_out: Sequence[str], width: float) -> list[str]:
    """Return the sentence on what found no room, in lines that fit."""
    if not left_out:
        return []
    rows, line = [], "No room for"
    for i, mark in enumerate(left_out):
        more = f"{line} {mark}{',' if i < len(left_out) - 1 else ''}"
        if text_width(more) > width:
            rows.append(line)
            more = mark
        line = more
    return [*rows, line]
