"""Areas against closed forms; strips cover a width once, plus overlaps."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from printed import as_worked
from scipy import integrate

import gardenframe
from gardenframe.builds import Trellis
from gardenframe.builds.cold_frame import ColdFrame
from gardenframe.builds.enclosure import Enclosure
from gardenframe.builds.hoop_house import HoopHouse
from gardenframe.builds.walkway_arch import WalkwayArch
from gardenframe.errors import FrameError, InputError
from gardenframe.geometry.arcs import Arc, Centreline, Straight
from gardenframe.geometry.coverings import (
    area_vector_m2,
    flat,
    outline,
    panel_area_m2,
    sheet_sides_m,
    strips,
    strips_needed,
    ties,
)
from gardenframe.geometry.frame import Frame, Joint, Panel, Run
from gardenframe.geometry.vectors import size


@pytest.mark.outside("geometry.coverings", source="scipy")
def test_a_half_disc_and_a_rectangle_with_a_round_hole():
    """Widths of the half disc added up by quadrature; the same for the hole in 2 by 3 m."""
    r = 1.5
    half = Centreline((Straight((-r, 0, 0), (r, 0, 0)), Arc((r, 0, 0), (0, 0, 0), (0, -1, 0), math.pi)))
    worked = integrate.quad(lambda z: 2 * math.sqrt(r**2 - z**2), 0, r)[0]
    assert size(area_vector_m2(half)) == as_worked(worked, "m2", "half disc of 1.5 m", rel=1e-9)
    hole = Centreline(
        (Arc((1.3, 1, 0), (1, 1, 0), (0, 0, 1), math.pi), Arc((0.7, 1, 0), (1, 1, 0), (0, 0, 1), math.pi))
    )
    frame = Frame.of([Joint("A", 0, 0, 0), Joint("B", 1, 0, 0)], [Run(key="r", member="emt-1", path=("A", "B"))])
    panel = Panel(
        key="p", carried_by=("r",), outline=outline([(0, 0, 0), (2, 0, 0), (2, 3, 0), (0, 3, 0)]), holes=(hole,)
    )
    cut = integrate.quad(lambda y: 2 * math.sqrt(0.09 - y**2), -0.3, 0.3)[0]
    assert panel_area_m2(frame, panel) == as_worked(6 - cut, "m2", "2 by 3 m less a round hole of 0.6 m", rel=1e-9)


@given(st.floats(0.2, 5), st.floats(0.2, 5), st.floats(0, 360), st.floats(0, 180))
def test_area_does_not_depend_on_how_a_rectangle_lies(a, b, yaw, pitch):
    """Turned any way, a rectangle keeps a x b."""
    c, s, p, q = (f(math.radians(x)) for x in (yaw, pitch) for f in (math.cos, math.sin))

    def turned(x, y):
        return (c * x - s * p * y, s * x + c * p * y, q * y)

    assert size(area_vector_m2(outline([turned(0, 0), turned(a, 0), turned(a, b), turned(0, b)]))) == pytest.approx(
        a * b
    )


def test_an_outline_that_is_not_flat():
    """One corner lifted by 50 mm."""
    with pytest.raises(FrameError, match=r"^panel roof: its outline is not flat: one corner is \d+ mm off"):
        flat("roof", outline([(0, 0, 0), (1, 0, 0), (1, 1, 0.05), (0, 1, 0)]))


@given(st.floats(0.3, 12), st.floats(0.4, 4), st.floats(0, 0.3))
def test_strips_cover_a_width_and_one_fewer_would_not(width, roll, overlap):
    """n rolls less n - 1 overlaps reach across; n - 1 do not."""
    n = strips_needed(width, roll, overlap)
    assert n * roll - (n - 1) * overlap >= width - 1e-6
    assert n == 1 or (n - 1) * roll - (n - 2) * overlap < width


def test_a_roll_no_wider_than_its_overlap():
    """The sentence gives both."""
    with pytest.raises(InputError, match=r"^roll width: got '100 mm', needs more than the overlap of 100 mm\.$"):
        strips("p", (1.0, 1.0), 1.0, 0.1, 0.1, 0.0)


def test_ties_by_hand():
    """1.8 m at 0.3 m is 6 spaces and 7 ties; 0.85 m is 3 spaces and 4."""
    assert ties([1.8, 0.85], 0.3) == 11


@pytest.mark.outside("plan.coverings", source="second-method")
def test_the_net_of_a_trellis_by_hand():
    """Posts 1800.46 mm apart by 1715.23 mm of rails; with 50 mm of wrap the net is 1900.46 mm across.

    Width 1830 less one tube of 1.163 in; lowest rail 100 mm above boards of 280 mm, highest half a tube below 2110 mm.
    """
    plan = gardenframe.plan(Trellis())
    outer = 1.163 * 25.4
    wide, tall = 1830 - outer, (280 + 1830 - outer / 2) - 380
    (row,) = plan.coverings.to_dict("records")
    assert row["area_m2"] == as_worked(wide * tall / 1e6, "m2", "net of the usual trellis", rel=1e-9)
    across = math.ceil((wide + 100 - 100) / (1524 - 100))  # rolls of 5 ft that overlap by 100 mm
    assert row["strips"] == as_worked(across, "strips", "strips of that net", abs=0.0)
    assert row["strip_length_mm"] == as_worked(tall + 100, "mm", "length of a strip", rel=1e-9)
    along = [2110 - outer / 2] * 3 + [wide / 2] * 4 + [wide]  # three posts, two rails in each bay, one top rail through
    ties = sum(math.ceil(length / 300) + 1 for length in along)
    assert row["fixings"] == as_worked(ties, "ties", "ties at most 300 mm apart", abs=0.0)


@pytest.mark.outside("geometry.coverings", source="numpy")
def test_a_skin_that_leans_takes_more_of_a_roll():
    """Hoops askew by 0.6 m over 1.52 m of path: along the path the skin reaches from the first foot to the last."""
    plan = gardenframe.plan(WalkwayArch(shift_m=0.6, height_m=2.6), live=True)
    swept = [panel for panel in plan.frame.panels if panel.swept]
    points = np.array([p for panel in swept for line in plan.frame.sweep(panel) for p in line.points(1.0)])
    ends = plan.frame.sweep(swept[0])
    way = np.subtract(ends[1].point(0.0), ends[0].point(0.0))
    reach = points @ (way / np.linalg.norm(way))
    ours = sheet_sides_m(plan.frame, swept)[1]
    assert ours == as_worked(reach.max() - reach.min(), "m", "reach along the path of a top askew", rel=1e-6)


def skin_m2(frame, panel):
    """Return the area of a panel from points alone: triangles between two lines, or the polygon round it less holes."""

    def halves(p, q, r):
        return np.linalg.norm(np.cross(q - p, r - p), axis=1).sum() / 2

    def ring(line):
        points = np.array(line.points(0.1)) - line.points(90)[0]
        return np.linalg.norm(np.cross(points[:-1], points[1:]).sum(axis=0)) / 2

    if panel.swept:
        shares = np.linspace(0, 1, 1001)
        a, b = (np.array([line.point(share * line.length_m) for share in shares]) for line in frame.sweep(panel))
        return halves(a[:-1], a[1:], b[:-1]) + halves(a[1:], b[1:], b[:-1])
    return ring(panel.outline) - sum(ring(hole) for hole in panel.holes)


@pytest.mark.outside("plan.coverings", "geometry.coverings", source="numpy")
@pytest.mark.parametrize(
    "build",
    [Trellis(), HoopHouse(), WalkwayArch(), WalkwayArch(shift_m=0.6, height_m=2.6), Enclosure(), ColdFrame()],
    ids=["trellis", "hoop house", "arch", "arch askew", "enclosure", "cold frame"],
)
def test_every_covering_by_triangles_and_polygons(build):
    """Each covering of a build against the sum over its panels' points; one arch stands askew between its beds."""
    plan = gardenframe.plan(build, live=True)
    panels = {panel.key: panel for panel in plan.frame.panels}
    for covered in plan.covered:
        worked = sum(skin_m2(plan.frame, panels[key]) for key in covered.panels)
        (ours,) = plan.coverings.loc[plan.coverings["panel"] == covered.panel, "area_m2"]
        assert ours == as_worked(worked, "m2", f"{covered.panel}: area from points of its edge", rel=2e-5)
