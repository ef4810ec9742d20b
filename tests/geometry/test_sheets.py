"""Panels that one sheet covers; strips that end where their runs go into the ground: areas, rolls, clips by hand."""

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from frames_for_tests import hoop_house
from printed import as_worked

from gardenframe.errors import FrameError
from gardenframe.geometry.arcs import Arc, Straight, part_of, rounded
from gardenframe.geometry.coverings import cover, panel_area_m2, sheet_sides_m, sheets_of
from gardenframe.geometry.frame import Panel
from gardenframe.materials.coverings import load_rolls
from gardenframe.strength.strips import stretches_of

RADIUS, SPACING, HOOPS, WRAP = 1.2, 1.0, 4, 0.3


def tunnel(sheet="cover", **given):
    """Return a tunnel of half circles with a strip of film in each bay."""
    bare = hoop_house(hoops=HOOPS, radius_m=RADIUS, spacing_m=SPACING)
    panels = [
        Panel(
            key=f"bay {i}", carried_by=pair, swept=pair, covering="film-6mil", sheet=sheet, wrap_m=WRAP,
            fixing_spacing_m=0.5, **given,
        )
        for i, pair in enumerate(pairwise(f"hoop {i}" for i in range(HOOPS)))
    ]  # fmt: skip
    return replace(bare, panels=tuple(panels))


def price(key):
    """Return the same price for every roll: the least roll is then chosen."""
    return 10.0


@pytest.mark.outside("geometry.coverings", source="second-method")
def test_a_tunnel_is_covered_by_one_sheet():
    """Three bays: pi R by 3 m and the wraps; each hoop takes ceil(pi R / 0.5) + 1 clips, once."""
    frame = tunnel()
    (sheet,) = sheets_of(frame.panels)
    assert sheet_sides_m(frame, sheet) == pytest.approx((math.pi * RADIUS, 3.0))
    covered = cover(frame, sheet, load_rolls().values(), price)
    assert covered.panel == "cover"
    assert covered.panels == ("bay 0", "bay 1", "bay 2")
    assert covered.area_m2 == as_worked(math.pi * RADIUS * 3.0, "m2", "film over three bays of a tunnel")
    clips = HOOPS * (math.ceil(math.pi * RADIUS / 0.5) + 1)
    assert covered.fixings == as_worked(clips, "clips", "clips on four hoops", abs=0.0)
    sides = sorted((math.pi * RADIUS + 2 * WRAP, 3.0 + 2 * WRAP))
    assert covered.strips.length_m == pytest.approx(sides[0]) or covered.strips.length_m == pytest.approx(sides[1])
    assert covered.rolls == 1


def test_panels_without_a_sheet_are_covered_by_themselves():
    """Three bays, three coverings; a panel that has none is left out."""
    frame = tunnel(sheet="")
    assert [len(sheet) for sheet in sheets_of(frame.panels)] == [1, 1, 1]
    assert sheets_of([replace(frame.panels[0], covering=None)]) == []


def test_one_piece_is_refused_where_no_roll_is_as_wide():
    """A half circle of 9 m and a length of 12 m: neither side fits the widest roll of 24 ft."""
    frame = replace(
        hoop_house(hoops=4, radius_m=2.9, spacing_m=4.0),
        panels=tuple(
            Panel(
                key=f"bay {i}", carried_by=p, swept=p, covering="film-6mil", sheet="cover", one_piece=True, wrap_m=0.3
            )
            for i, p in enumerate(pairwise(f"hoop {i}" for i in range(4)))
        ),
    )
    with pytest.raises(FrameError, match=r"no roll of film-6mil gives a piece of 9\.71 m by 12\.60 m"):
        cover(frame, frame.panels, load_rolls().values(), price)


def test_a_strip_may_end_where_its_runs_go_into_the_ground():
    """Half a metre less at each end: area (pi R - 1) x 1 m; its loads lie on the same stretch of the runs."""
    between = (0.5, math.pi * RADIUS - 0.5)
    frame = tunnel(between_m=between)
    assert panel_area_m2(frame, frame.panels[0]) == pytest.approx(math.pi * RADIUS - 1.0, rel=1e-9)
    parts = stretches_of(frame, frame.panels[0])
    assert (parts[0].from_m, parts[-1].to_m) == pytest.approx(between)
    whole = [part.area for part in stretches_of(tunnel(), tunnel().panels[0])]
    angle = 0.5 / RADIUS  # area seen from above: chord of what is left, 2 R cos(angle), by the spacing of 1 m
    assert abs(sum(part.area[2] for part in parts)) == pytest.approx(2 * RADIUS * math.cos(angle), rel=1e-9)
    assert abs(sum(area[2] for area in whole)) == pytest.approx(2 * RADIUS, rel=1e-9)


def test_part_of_a_line():
    """A leg of 1 m, a half circle and a leg: the part from 0.4 m keeps 0.6 m of the leg and half of the arc."""
    line = rounded([(-1, 0, 0), (-1, 0, 2), (1, 0, 2), (1, 0, 0)], 1.0, "hoop")
    kept = part_of(line, 0.4, 1 + math.pi / 2)
    leg, arc = kept.pieces[0], kept.pieces[1]
    assert isinstance(leg, Straight)
    assert leg.length_m == pytest.approx(0.6)
    assert isinstance(arc, Arc)
    assert kept.length_m == pytest.approx(0.6 + math.pi / 2)
    assert kept.point(kept.length_m) == pytest.approx((0, 0, 2), abs=1e-9)
