"""Marks on a sheet of SVG: text with its box, arrowheads as paths, hatches cut to an outline, and the sheet itself.

Positions in screen pixels come in, strings go out. Every sheet is self-contained: no style sheet, no ids, no fonts to
fetch, so it looks the same on the screen and on paper. Nothing here knows what is drawn.
"""

import math
from collections.abc import Iterable, Sequence
from functools import lru_cache
from html import escape
from itertools import pairwise

Point = tuple[float, float]
Box = tuple[float, float, float, float]  # left, top, right, bottom

TEXT_PX = 12.0
ASCENT, DESCENT = 0.80, 0.24  # of the size: above and below the base line, accents left out
FONT = "system-ui, -apple-system, 'Segoe UI', Roboto, 'Noto Sans', 'Liberation Sans', sans-serif"
THICK_PX, THIN_PX = 1.3, 0.65  # two widths at 2 : 1, as ISO 128 has them (from memory)
DASHED = "5 2.5"  # hidden edges
CHAIN = "12 2.5 2 2.5"  # centre lines
CHAIN_TWO = "12 2.5 2 2.5 2 2.5"  # neighbours and other positions of moving parts
ARROW_PX = 8.0
# colours: tubes and ink are dark slate; the rest is the colour-blind-safe palette of Okabe and Ito 2008 (from memory),
# tints of it on areas
INK, TUBE, STEEL, GREY, FAINT = "#1f2a33", "#3a4957", "#e3e9ee", "#6b7680", "#c3cad0"
ORANGE, SKY, GREEN, BLUE, VERMILION = "#E69F00", "#56B4E9", "#009E73", "#0072B2", "#D55E00"

# widest of the usual sans serif fonts, in em
_EM = {" ": 0.34, "/": 0.37, "×": 0.85, "%": 0.96, "≤": 0.85, "+": 0.85, "=": 0.85, "–": 0.55}
_EM |= dict.fromkeys("iljI.,:;'|!", 0.34) | dict.fromkeys('ftr()-[]°"', 0.46)
_EM |= dict.fromkeys("mMW@", 1.0) | dict.fromkeys("w", 0.85) | dict.fromkeys("ABCDEFGHKLNOPQRSTUVXYZ", 0.80)
_EM |= dict.fromkeys("0123456789", 0.64)
_OTHER_EM = 0.66


@lru_cache(maxsize=4096)
def text_width(text: str, bold: bool = False) -> float:
    """Width that a text takes at most. [px]

    >>> round(text_width("1830"), 1)
    30.7
    """
    em = _EM
    return sum([em.get(letter, _OTHER_EM) for letter in text]) * TEXT_PX * (1.1 if bold else 1.0)


def text_box(x: float, y: float, text: str, anchor: str = "middle", turn_deg: float = 0.0, bold: bool = False) -> Box:
    """Box round a text whose base line passes through a point.

    Parameters
    ----------
    anchor : str
        start, middle or end: which part of the text stands at the point.
    turn_deg : float
        Clockwise, as SVG turns. [deg]
    """
    width = text_width(text, bold)
    left = x - width * {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor]
    top, bottom = y - ASCENT * TEXT_PX, y + DESCENT * TEXT_PX
    if not turn_deg:
        return (left, top, left + width, bottom)
    c, s = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
    corners = [(px - x, py - y) for px in (left, left + width) for py in (top, bottom)]
    across = [x + px * c - py * s for px, py in corners]
    down = [y + px * s + py * c for px, py in corners]
    return (min(across), min(down), max(across), max(down))


def text(
    x: float, y: float, words: str, anchor: str = "middle", turn_deg: float = 0.0, bold: bool = False, fill: str = INK
) -> str:
    """Return a text element; letters stand on a white edge so that lines behind do not cross them."""
    turned = f' transform="rotate({turn_deg:.1f} {x:.1f} {y:.1f})"' if turn_deg else ""
    weight = ' font-weight="600"' if bold else ""
    colour = f' fill="{fill}"' if fill != INK else ""
    return f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}"{weight}{colour}{turned}>{escape(words)}</text>'


def path(points: Iterable[Point], closed: bool = False) -> str:
    """Return the `d` of a path through points."""
    return "M" + "L".join([f"{x:.1f} {y:.1f}" for x, y in points]) + ("Z" if closed else "")


def segment(ax: float, ay: float, bx: float, by: float) -> str:
    """Return the `d` of one line."""
    return f"M{ax:.1f} {ay:.1f}L{bx:.1f} {by:.1f}"


def box_path(box: Box) -> str:
    """Return the `d` of a rectangle."""
    return f"M{box[0]:.1f} {box[1]:.1f}H{box[2]:.1f}V{box[3]:.1f}H{box[0]:.1f}Z"


def arrowhead(x: float, y: float, ux: float, uy: float, size: float = ARROW_PX) -> str:
    """Return the `d` of a filled arrowhead whose tip is at a point and which points along a unit direction."""
    bx, by, half = x - ux * size, y - uy * size, size * 0.17
    return f"M{x:.1f} {y:.1f}L{bx - uy * half:.1f} {by + ux * half:.1f}L{bx + uy * half:.1f} {by - ux * half:.1f}Z"


def hatch(rings: Sequence[Sequence[Point]], angle_deg: float, spacing: float) -> str:
    """Return the `d` of parallel lines inside outlines: the first ring is the outside, others are holes.

    Parameters
    ----------
    angle_deg : float
        Of the lines from level, rising to the right. [deg]
    spacing : float
        Between the lines. [px]
    """
    c, s = math.cos(math.radians(angle_deg)), -math.sin(math.radians(angle_deg))
    edges = []
    for ring in rings:
        turned = [(x * c + y * s, y * c - x * s) for x, y in ring]
        edges += [(*a, *b) for a, b in pairwise([*turned, turned[0]]) if a[1] != b[1]]
    if not edges:
        return ""
    low = min(min(e[1], e[3]) for e in edges)
    high = max(max(e[1], e[3]) for e in edges)
    drawn, count = [], int((high - low) / spacing)
    start = low + (high - low - count * spacing) / 2  # equal margins at both sides
    for i in range(count + 1):
        level = start + i * spacing
        cuts = sorted(
            ax + (bx - ax) * (level - ay) / (by - ay) for ax, ay, bx, by in edges if (ay <= level) != (by <= level)
        )
        for left, right in zip(cuts[::2], cuts[1::2]):
            drawn.append(
                segment(left * c - level * s, left * s + level * c, right * c - level * s, right * s + level * c)
            )
    return "".join(drawn)


def grid(box: Box, spacing: float, angles: Sequence[int]) -> str:
    """Return the `d` of level (0) and upright (90) lines in a box, as `hatch` would draw them."""
    left, top, right, bottom = box
    drawn = []
    for angle in angles:
        low, high = (top, bottom) if angle == 0 else (left, right)
        count = int((high - low) / spacing)
        start = low + (high - low - count * spacing) / 2
        ends = f"M{left:.1f} %.1fH{right:.1f}" if angle == 0 else f"M%.1f {top:.1f}V{bottom:.1f}"
        drawn += [ends % (start + i * spacing) for i in range(count + 1)]
    return "".join(drawn)


def lines(d: str, width: float = THIN_PX, colour: str = INK, dash: str = "") -> str:
    """Return a path that is stroked and not filled; nothing for an empty one."""
    if not d:
        return ""
    dashed = f' stroke-dasharray="{dash}"' if dash else ""
    return f'<path d="{d}" fill="none" stroke="{colour}" stroke-width="{width:g}"{dashed}/>'


def area(d: str, fill: str, stroke: str = "none", width: float = THIN_PX, more: str = "") -> str:
    """Return a path that is filled; `more` are further attributes."""
    edge = f' stroke="{stroke}" stroke-width="{width:g}"' if stroke != "none" else ""
    return f'<path d="{d}" fill="{fill}"{edge}{more}/>' if d else ""


def sheet(body: str, width: float, height: float, title: str, description: str) -> str:
    """Return a whole SVG of a size in px, named and described for a reader who cannot see it."""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:.0f} {height:.0f}" width="{width:.0f}" '
        f'height="{height:.0f}" role="img" aria-label="{escape(title)}" style="max-width:100%;height:auto" '
        f'font-family="{FONT}" font-size="{TEXT_PX:g}" fill="{INK}">'
        f"<title>{escape(title)}</title><desc>{escape(description)}</desc>"
        f'<rect width="{width:.0f}" height="{height:.0f}" fill="#fff"/>{body}</svg>'
    )
