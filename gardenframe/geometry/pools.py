"""Panels covered from the same rolls: what is left of a roll after one panel goes on to the next.

Panels and rolls come in; each panel as it is covered goes out, with the rolls that are opened for it.
"""

from collections.abc import Callable, Iterable, Sequence

from gardenframe.geometry.coverings import (
    Covered,
    Strips,
    carried_m,
    cover,
    panel_area_m2,
    sheet_sides_m,
    sheets_of,
    strips,
    ties,
)
from gardenframe.geometry.frame import Frame, Panel
from gardenframe.materials.coverings import Roll

Sheet = tuple[Panel, ...]


def cover_all(
    frame: Frame, panels: Iterable[Panel], rolls: Iterable[Roll], price: Callable[[str], float]
) -> tuple[Covered, ...]:
    """Return how every panel that has a covering, or each sheet of panels, is covered.

    Panels of one `pool` that take the same covering share their rolls: one kind for all of them, the cheapest, unless
    rolls of their own cost less.

    Raises
    ------
    FrameError
        As `cover` does.
    """
    known = tuple(rolls)
    sheets = sheets_of(panels)
    pools: dict[tuple[str, str], list[Sheet]] = {}
    for sheet in sheets:
        if sheet[0].pool:
            pools.setdefault((sheet[0].pool, sheet[0].covering or ""), []).append(sheet)
    shared: dict[str, Covered] = {}
    for pool in pools.values():
        shared |= {sheet[0].key: one for sheet, one in zip(pool, _pooled(frame, pool, known, price))}
    return tuple(shared.get(sheet[0].key) or cover(frame, sheet, known, price) for sheet in sheets)


def _pooled(
    frame: Frame, sheets: Sequence[Sheet], rolls: Sequence[Roll], price: Callable[[str], float]
) -> list[Covered]:
    """Return the sheets of one pool as they are covered from the roll that costs least in all, or each by itself."""
    found = []
    sizes = [(sheet_sides_m(frame, sheet), sum(panel_area_m2(frame, one) for one in sheet)) for sheet in sheets]
    for roll in rolls:
        if roll.covering == sheets[0][0].covering:
            ways = [_way(sheet[0], *size, roll) for sheet, size in zip(sheets, sizes)]
            cut = [way for way in ways if way is not None]
            if len(cut) == len(ways):
                opened = packed([[s.length_m for s in way.strips] for way in cut], roll.length_mm / 1000)
                total = sum(way.length_m for way in cut)
                found.append((sum(opened) * price(roll.key), total, roll.key, roll, cut, opened))
    if not found:  # no width serves them all: each by itself, which says what is wrong
        return [cover(frame, sheet, rolls, price) for sheet in sheets]
    cost, total, _, roll, cut, opened = min(found, key=lambda one: one[:3])
    apart = [cover(frame, sheet, rolls, price) for sheet in sheets]
    if sum(one.rolls * price(one.roll) for one in apart) < cost - 1e-9:
        return apart
    used = total / (sum(opened) * roll.length_mm / 1000)
    return [_covered(frame, *one, roll, used) for one in zip(sheets, cut, opened)]


def _way(panel: Panel, sides_m: tuple[float, float], area_m2: float, roll: Roll) -> Strips | None:
    """Return the way of covering a sheet that takes the least of a roll; None where its strips are longer than it."""
    name, width = panel.sheet or panel.key, roll.width_mm / 1000
    ways = strips(name, sides_m, area_m2, width, panel.overlap_m, panel.wrap_m)
    fitting = [
        way
        for way in ways
        if way.strips[0].length_m <= roll.length_mm / 1000 + 1e-9
        and not (panel.one_piece and len(way.strips) > 1)
        and not (panel.lay and way.strips[0].across != (panel.lay == "across"))
    ]
    return min(fitting, key=lambda way: (way.length_m, len(way.strips)), default=None)


def packed(lengths_m: Sequence[Sequence[float]], roll_m: float) -> list[int]:
    """Return how many rolls each group of strips opens: the longest strips first, each into the first with room.

    >>> packed([[3.0, 3.0], [4.0], [1.0]], 7.0)
    [1, 1, 0]
    """
    opened = [0] * len(lengths_m)
    left: list[float] = []
    every = sorted(((-length, i) for i, group in enumerate(lengths_m) for length in group))
    for minus_length, group in every:
        place = next((i for i, room in enumerate(left) if room >= -minus_length - 1e-9), None)
        if place is None:
            left.append(roll_m + minus_length)
            opened[group] += 1
        else:
            left[place] += minus_length
    return opened


def _covered(frame: Frame, sheet: Sheet, way: Strips, opened: int, roll: Roll, used: float) -> Covered:
    panel = sheet[0]
    made = 0 if panel.fixing == "woven" else ties(carried_m(frame, sheet), panel.fixing_spacing_m)
    return Covered(
        panel=panel.sheet or panel.key, covering=panel.covering or "", area_m2=way.covered_m2, roll=roll.key,
        roll_width_m=roll.width_mm / 1000, rolls=opened, strips=way, used_share=used, fixing=panel.fixing,
        fixings=made, fixing_each=panel.fixing_each, panels=tuple(one.key for one in sheet),
        pool=panel.pool,
    )  # fmt: skip
