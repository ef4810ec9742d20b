"""Bars: pieces on the sticks they are cut from, and what is asked of a frame against what it can carry.

Lengths in metres or ratios come in, SVG goes out. Every bar also says its number and its words.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from gardenframe import units
from gardenframe.output.dimensions import length_text
from gardenframe.output.svg import (
    BLUE,
    FAINT,
    GREY,
    INK,
    ORANGE,
    THIN_PX,
    TUBE,
    VERMILION,
    Box,
    area,
    box_path,
    hatch,
    lines,
    segment,
    sheet,
    text,
    text_width,
)

StickRow = tuple[float, Sequence[tuple[str, float]], float, int]  # stick, (mark, length) of its pieces, kerf, times

EDGE_PX, BAR_PX, ROW_PX = 10.0, 26.0, 40.0
WORDS_PX = 17.0  # a row of words under a stick
LABEL_PX = 60.0  # for "12 ×"
TICKS_M = {"metric": (0.1, 0.2, 0.5, 1.0, 2.0, 5.0), "us": (0.1524, 0.3048, 0.6096, 1.524, 3.048)}
LEAST_TICK_PX = 64.0
PIECE_FILLS = ("#dbe7f1", "#f8e8c8", "#d6ece4", "#f3dfea", "#e6e9ec", "#e3f1fa")  # tints of the palette
HATCH_PX = 6.0
# ratios
NEAR = 0.9  # from here on a ratio is said to be close to its limit
LIMIT_AT, MOST_RATIO = 0.66, 1.5  # the 1.00 line stands here along the bar; a bar ends at 1.5
CHECK_ROW_PX, CHECK_BAR_PX = 44.0, 13.0


def cutting_bars(
    plan_rows: Iterable[StickRow], system: str = "metric", width_px: float = 780, *, title: str = "Cutting plan"
) -> str:
    """Return a cutting plan as SVG: each stick a bar divided into pieces, the offcut hatched, a scale below.

    Parameters
    ----------
    plan_rows : iterable of (stick, pieces, kerf, times)
        Length of the stick, (mark, length) of each piece in the order it is cut, what a cut removes, and how many
        sticks are cut so. [m]
    system : str
        "metric" (whole mm) or "us" (feet, inches, sixteenths).
    width_px : float
        Width of the sheet.

    Examples
    --------
    >>> svg = cutting_bars([(3.048, [("P1", 1.8), ("R1", 0.9)], 0.001, 2)])
    >>> "2 ×" in svg, "P1 1800" in svg, "offcut 346" in svg
    (True, True, True)
    """
    rows = list(plan_rows)
    if not rows:
        return sheet(text(EDGE_PX, 22, "Nothing to cut.", "start"), width_px, 36, title, "Nothing to cut.")
    longest = max(row[0] for row in rows)
    scale = (width_px - 2 * EDGE_PX - LABEL_PX) / longest
    fills = _fills(rows)
    drawn, said, y = [], [], EDGE_PX
    for row in rows:
        svg, below = _stick(row, EDGE_PX + LABEL_PX, y, scale, system, fills)
        drawn.append(svg)
        said.append(_stick_words(row, system))
        y += ROW_PX + below
    drawn.append(_scale(EDGE_PX + LABEL_PX, y, longest, scale, system, width_px))
    return sheet("".join(drawn), width_px, y + 36, title, f"{title}. " + " ".join(said))


def _fills(rows: Sequence[StickRow]) -> dict[str, str]:
    """Return a tint for each mark; marks are written on the pieces, so that a tint may be used twice."""
    marks = dict.fromkeys(mark for row in rows for mark, _ in row[1])
    return {mark: PIECE_FILLS[i % len(PIECE_FILLS)] for i, mark in enumerate(marks)}


def left_m(row: StickRow) -> float:
    """Length left of a stick after its pieces, each with the cut that frees it. [m]"""
    stick, pieces, kerf, _ = row
    return max(stick - sum(length + kerf for _, length in pieces), 0.0)


def _stick(row: StickRow, x: float, y: float, scale: float, system: str, fills: dict[str, str]) -> tuple[str, float]:
    """Return one stick, and how much room its words take below it. [px]"""
    stick, pieces, kerf, times = row
    end, at, left = x + stick * scale, x, left_m(row)
    drawn = [text(x - 10, y + BAR_PX / 2 + 4, f"{times} ×", "end", bold=True)] if times > 1 else []
    below: list[tuple[float, str]] = []  # where a leader starts, and the words at its foot
    named: set[str] = set()
    for mark, length in pieces:
        box = (at, y, at + length * scale, y + BAR_PX)
        drawn.append(area(box_path(box), fills[mark], TUBE, 1.0))
        whole = f"{mark} {length_text(length, system)}"
        said = _fitting(box, [whole, mark])
        drawn.append(_centred(box, said))
        if said != whole and mark not in named:  # a mark without its length: once below
            below.append(((box[0] + box[2]) / 2, whole))
        named.add(mark)
        at += (length + kerf) * scale
    if left > 0.0005:
        box = (min(at, end), y, end, y + BAR_PX)
        corners = [(box[0], y), (end, y), (end, box[3]), (box[0], box[3])]
        drawn.append(area(box_path(box), "#fff", GREY, THIN_PX) + lines(hatch([corners], 45, HATCH_PX), THIN_PX, FAINT))
        whole = f"offcut {length_text(left, system)}"
        said = _fitting(box, [whole])
        drawn.append(_centred(box, said, ground=True) if said else "")
        if not said:
            below.append(((box[0] + end) / 2, whole))
    drawn.append(area(box_path((x, y, end, y + BAR_PX)), "none", TUBE, 1.3))
    svg, rows = _beneath(below, y + BAR_PX)
    return "".join(drawn) + svg, WORDS_PX * rows


def _fitting(box: Box, words: Sequence[str]) -> str:
    """Return the first words that fit in a box, "" where none do."""
    return next((said for said in words if text_width(said) + 6 <= box[2] - box[0]), "")


def _centred(box: Box, said: str, ground: bool = False) -> str:
    """Return words in the middle of a box."""
    if not said:
        return ""
    middle, half = (box[0] + box[2]) / 2, text_width(said) / 2 + 3
    white = area(box_path((middle - half, box[1] + 5, middle + half, box[3] - 5)), "#fff") if ground else ""
    return white + text(middle, (box[1] + box[3]) / 2 + 4, said)


def _beneath(below: Sequence[tuple[float, str]], top: float) -> tuple[str, int]:
    """Return words under a stick, each ending at its leader so that no later leader crosses it, and their rows."""
    ends: list[float] = []  # right end of the last words of each row
    drawn = []
    for foot, said in below:
        left = max(foot + 4 - text_width(said), EDGE_PX)
        row = next((i for i, end in enumerate(ends) if left >= end + 6), len(ends))
        ends[row : row + 1] = [left + text_width(said)]
        base = top + 15 + WORDS_PX * row
        drawn.append(lines(segment(foot, top - 4, foot, base - 10)) + text(left + text_width(said), base, said, "end"))
    return "".join(drawn), len(ends)


def _stick_words(row: StickRow, system: str) -> str:
    stick, pieces, _, times = row
    listed = ", ".join(f"{mark} {length_text(length, system)}" for mark, length in pieces)
    return f"{times} × {length_text(stick, system)}: {listed}, left {length_text(left_m(row), system)}."


def _scale(x: float, y: float, longest: float, scale: float, system: str, width_px: float) -> str:
    """Return a scale along the sticks."""
    step = next((s for s in TICKS_M[system] if s * scale >= LEAST_TICK_PX), TICKS_M[system][-1])
    drawn, said = [segment(x, y, x + longest * scale, y)], []
    for i in range(int(longest / step + 1e-6) + 1):
        at = x + i * step * scale
        drawn.append(segment(at, y, at, y + 5))
        words = _tick(i * step, system) if i else "0"
        said.append(text(min(at, width_px - 3 - text_width(words) / 2), y + 18, words))
    unit = "mm" if system == "metric" else ""
    return lines("".join(drawn), 0.9) + "".join(said) + (text(x - 10, y + 18, unit, "end") if unit else "")


def _tick(length_m: float, system: str) -> str:
    """Return a length on the scale: whole feet without inches."""
    feet = length_m / units.FOOT_M
    whole = system == "us" and abs(feet - round(feet)) < 1e-6
    return f"{round(feet)} ft" if whole else length_text(length_m, system)


@dataclass(frozen=True, slots=True)
class Ratio:
    """One check to draw: what is checked, demand / capacity, what more to say, and what it asks for (`WORDS`)."""

    label: str
    ratio: float
    note: str = ""
    asks: str = "carry"


# what a check asks for -> within its limit, over it, nothing asked; the same where room is short
WORDS = {
    "carry": ("uses {} of what it can carry", "over its limit by {}", "carries nothing here"),
    "limit": ("uses {} of its limit", "over its limit by {}", "nothing here"),
    "room": ("needs {} of the room there is", "needs {} more room than there is", "needs no room"),
}
SHORT = {
    "carry": ("{} used", "{} over", "carries nothing"),
    "limit": ("{} used", "{} over", "nothing here"),
    "room": ("{} needed", "{} short", "needs none"),
}


def ratio_words(ratio: float, asks: str = "carry", words: Mapping[str, tuple[str, str, str]] = WORDS) -> str:
    """What a ratio of demand to capacity means, in words.

    >>> ratio_words(0.62), ratio_words(1.18), ratio_words(0.0)
    ('uses 62 % of what it can carry', 'over its limit by 18 %', 'carries nothing here')
    >>> ratio_words(0.62, "room"), ratio_words(0.004, "limit")
    ('needs 62 % of the room there is', 'uses less than 1 % of its limit')
    """
    within, over, nothing = words[asks]
    if math.isnan(ratio):
        return "could not be worked out"
    if math.isinf(ratio):
        return "there is none of it" if asks == "room" else "cannot carry this at all"
    if ratio <= 0:
        return nothing
    share = units.tape_mm((ratio - 1 if ratio > 1 else ratio) * 100)
    return (over if ratio > 1 else within).format(f"{share} %" if share else "less than 1 %")


def short_words(ratio: float, asks: str = "carry") -> str:
    """What a ratio means in fewer words, for where room is short.

    >>> short_words(0.62), short_words(1.18), short_words(0.0), short_words(1.18, "room")
    ('62 % used', '18 % over', 'carries nothing', '18 % short')
    """
    return ratio_words(ratio, asks, SHORT).replace(" carry this at all", " carry it")


def ratio_bars(
    rows: Iterable[Ratio | tuple[str, float] | tuple[str, float, str]],
    width_px: float = 780,
    *,
    title: str = "Demand against capacity",
) -> str:
    """Return bars of demand / capacity as SVG, with the 1.00 line, the number and what it means in words.

    Parameters
    ----------
    rows : iterable of (what is checked, ratio) or (what, ratio, note)
        A ratio above 1 is hatched and drawn in another colour; a bar ends at 1.5, with a broken end beyond.
    width_px : float
        Width of the sheet.
    """
    checks = [row if isinstance(row, Ratio) else Ratio(*row) for row in rows]
    if not checks:
        return sheet(text(EDGE_PX, 22, "Nothing to check.", "start"), width_px, 36, title, "Nothing to check.")
    bar = width_px - 2 * EDGE_PX - text_width("88.88", bold=True) - 12
    top = EDGE_PX + 16
    limit = EDGE_PX + bar * LIMIT_AT
    drawn = [_check(check, top + i * CHECK_ROW_PX, bar, width_px) for i, check in enumerate(checks)]
    bottom = top + CHECK_ROW_PX * len(checks)
    bars_at = [top + 19 + i * CHECK_ROW_PX for i in range(len(checks))]
    marks = [segment(limit, y - 4, limit, y + CHECK_BAR_PX + 4) for y in bars_at]
    over = lines("".join(marks), 1.6, INK) + text(limit, top - 4, "limit 1.00")
    said = ". ".join(f"{c.label}: {_number(c.ratio)}, {ratio_words(c.ratio, c.asks)}" for c in checks)
    return sheet("".join(drawn) + over, width_px, bottom + 4, title, f"{title}. {said}.")


def _number(ratio: float) -> str:
    """Return a ratio as it is read: never 1.00 for what is over."""
    if not math.isfinite(ratio):
        return "∞" if ratio > 0 else "–"
    if ratio > 1 and round(ratio, 2) == 1:
        return "> 1.00"
    return f"{ratio:.2f}" if ratio < 100 else "> 99"


def _check(check: Ratio, y: float, bar: float, width_px: float) -> str:
    """Return one check: words above its bar, the number at its end."""
    ratio = 0.0 if math.isnan(check.ratio) else check.ratio
    over, close = ratio > 1, NEAR <= ratio <= 1
    full = bar * LIMIT_AT
    length = max(min(ratio, MOST_RATIO) * full, 1.0)
    at = (EDGE_PX, y + 19, EDGE_PX + length, y + 19 + CHECK_BAR_PX)
    corners = [(at[0], at[1]), (at[2], at[1]), (at[2], at[3]), (at[0], at[3])]
    fill, edge = ("#f6d9c6", VERMILION) if over else ("#fbe7bd", ORANGE) if close else ("#cfe1ef", BLUE)
    track = (EDGE_PX, at[1], EDGE_PX + bar, at[3])
    drawn = area(box_path(track), "#f3f5f6") + area(box_path(at), fill, edge, 1.2)
    if over:
        drawn += lines(hatch([corners], 60, HATCH_PX), 1.1, edge)
    if ratio > MOST_RATIO:
        drawn += area(f"M{at[2] - 9:.1f} {at[3]:.1f}l5 {-CHECK_BAR_PX}h4l-5 {CHECK_BAR_PX}Z", "#fff")
    words = f"{ratio_words(check.ratio, check.asks)}{', close to its limit' if close else ''}"
    room = width_px - 2 * EDGE_PX - text_width(check.label, bold=True) - 24
    if text_width(words, bold=True) > room:
        words = short_words(check.ratio, check.asks)
    label = _cut(check.label, width_px - 2 * EDGE_PX - text_width(words) - 24)
    note_room = width_px - 2 * EDGE_PX - text_width(words) - text_width(label, bold=True) - 48
    note = check.note if text_width(check.note, bold=True) <= note_room else ""
    drawn += text(EDGE_PX, y + 13, label, "start", bold=True)
    if note:
        drawn += text(EDGE_PX + text_width(label, bold=True) + 10, y + 13, note, "start", fill=GREY)
    drawn += text(width_px - EDGE_PX, y + 13, words, "end")
    return drawn + text(width_px - EDGE_PX, at[3] - 2, _number(check.ratio), "end", bold=over)


def _cut(words: str, room: float) -> str:
    """Return words, shortened with dots where they would be wider than their room."""
    if text_width(words, bold=True) <= room:
        return words
    while words and text_width(f"{words} ...", bold=True) > room:
        words = words[:-1]
    return f"{words.rstrip()} ..." if words else ""
