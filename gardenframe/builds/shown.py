"""The arithmetic of a plan that a learner should be able to do alone: lengths, sticks, strips, mass.

A plan comes in; headings with shown steps go out. It reads frames, pieces and coverings, and never asks which build.
"""

from collections.abc import Iterator
from typing import Any

from gardenframe.geometry import lengths
from gardenframe.geometry.coverings import sheet_sides_m
from gardenframe.working import Step

Shown = tuple[str, list[Step]]


def quantities(plan: Any, system: str = "metric") -> Iterator[Shown]:
    """Yield cut lengths by mark, sticks by member, strips by panel and the mass of tube."""
    yield "Cut lengths", [step for _, step in cut_lengths(plan, system)]
    sticks = [
        lengths.fewest_sticks.shown(_total_mm(plan, key), float(max(plan.shop.stick_lengths(key))), system=system)
        for key in plan.cutting
    ]
    yield "Fewest sticks, if nothing were lost in cutting", sticks
    strips = [_strips(plan, covered, system) for covered in plan.covered]
    if strips:
        yield "Strips of covering", strips
    masses = [
        lengths.tube_mass_kg.shown(_total_mm(plan, key) / 1000, plan.shop.member(key).mass_kg_per_m, system=system)
        for key in plan.cutting
    ]
    yield "Mass of tube" if len(masses) == 1 else "Mass, by what is cut", masses


def cut_lengths(plan: Any, system: str = "metric") -> Iterator[tuple[str, Step]]:
    """Yield (mark, step) for each kind of straight piece that is a whole run."""
    stops = {f.joint: f.row.centre_to_stop_mm for f in plan.fitted if f.row}
    for piece in plan.cut:
        if piece.loose:
            continue
        run = plan.frame.runs[piece.places[0].run]
        if piece.bends or run.splices:
            continue
        apart = plan.frame.lines[run.key].length_m * 1000
        start, end = stops.get(run.path[0], 0.0), stops.get(run.path[-1], 0.0)
        yield piece.mark, lengths.piece_length_mm.shown(apart, start, end, system=system)


def _total_mm(plan: Any, key: str) -> float:
    return float(sum(piece.length_m * 1000 * piece.count for piece in plan.cut if piece.member == key))


def _strips(plan: Any, covered: Any, system: str) -> Step:
    sheet = [panel for panel in plan.frame.panels if panel.key in covered.panels]
    panel, sides = sheet[0], sheet_sides_m(plan.frame, sheet)
    width = sides[0] if covered.strips.strips[0].across else sides[1]
    return lengths.strips_across.shown(
        (width + 2 * panel.wrap_m) * 1000, covered.roll_width_m * 1000, panel.overlap_m * 1000, system=system
    )
