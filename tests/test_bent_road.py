"""Bent pieces on the road: cut long for the bender, cut from sticks as long, and said so on the page."""

import pytest

import gardenframe
from gardenframe.builds import ALL
from gardenframe.builds.hoop_house import HoopHouse
from gardenframe.teaching import results
from gardenframe.teaching.reading import Reader

BENT = [(key, values) for key in ("walkway_arch", "hoop_house") for values in list(ALL[key].examples.values())[:2]]


@pytest.mark.parametrize(("key", "values"), BENT)
def test_a_bent_piece_is_cut_as_long_as_its_bender_needs(key, values):
    """Cut = finished and what is trimmed at each end, within a mark of the tape; sticks hold what is cut."""
    plan = gardenframe.plan(ALL[key](**values), live=True)
    pieces = plan.pieces.set_index("mark")
    assert plan.bend_sheets
    for sheet in plan.bend_sheets:
        piece = pieces.loc[sheet.mark]
        assert piece["length_mm"] == pytest.approx(sheet.developed_mm, abs=1e-6)
        trimmed = sheet.trim_near_mm + sheet.trim_far_mm
        assert piece["cut_mm"] == pytest.approx(piece["length_mm"] + trimmed, abs=0.51)
    wanted = {}
    for _, row in plan.pieces.iterrows():
        at = (row["member"], round(row["cut_mm"]))
        wanted[at] = wanted.get(at, 0) + row["count"]
    cut = {}
    for member, cutting in plan.cutting.items():
        for _, content, times in cutting.patterns:
            for length, number in content.items():
                cut[member, length] = cut.get((member, length), 0) + number * times
    assert cut == wanted


def test_bend_sheets_stand_on_the_page_where_something_is_bent():
    """A hoop's page has its sheet; a trellis has no such heading."""
    section = next(s for s in results.sections() if s.key == "bends")
    bent = gardenframe.plan(ALL["walkway_arch"](), live=True)
    assert section.offered(bent)
    assert bent.bend_sheets[0].mark in section.page(bent, Reader())
    assert not section.offered(gardenframe.plan(ALL["trellis"](), live=True))


def test_straight_ends_that_a_reader_measured_are_cut_and_trimmed():
    """A jig that holds 400 mm instead of 300: ends on the curve are cut 100 mm longer, pieces stay."""
    ours, mine = (gardenframe.plan(HoopHouse(held_m=held)).bend_sheets for held in (0.3, 0.4))
    table = gardenframe.plan(HoopHouse()).bend_sheets
    assert [sheet.cut_mm for sheet in ours] == [sheet.cut_mm for sheet in table]  # our jig for 1-1/4 holds 300
    for sheet, other in zip(ours, mine, strict=True):
        assert other.developed_mm == pytest.approx(sheet.developed_mm)
        curved = sum(straight < 1e-6 for straight in (sheet.straights_mm[0], sheet.straights_mm[-1]))
        assert other.cut_mm - sheet.cut_mm == pytest.approx(100 * curved)
