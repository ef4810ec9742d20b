"""Scale models: lengths against the real pieces, straws against a count of their own, sheets measured in print."""

import math
import os
import re
import shutil
import subprocess
import xml.etree.ElementTree as ET
from collections import Counter
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from printed import as_worked

import gardenframe
from gardenframe import builds, units
from gardenframe.errors import InputError
from gardenframe.output.projection import AXES
from gardenframe.output.scale_model import MATERIALS, model_length_m, scale_model
from gardenframe.output.scale_sheet import TALL_MM, WIDE_MM, _tiles, in_hand, scale_sheet, sheets_of, view_svg

CHROMIUM = os.environ.get("GF_CHROMIUM") or shutil.which("chromium") or shutil.which("chromium-browser") or ""
PRINTS = bool(CHROMIUM and shutil.which("pdftoppm"))


@pytest.fixture(scope="module", params=["trellis", "walkway_arch"])
def plan(request):
    """Return a plan of straight tubes, and one with bends."""
    return gardenframe.plan(builds.ALL[request.param](), live=True)


def drawings(page):
    """Return every drawing of a page as parsed SVG."""
    return [ET.fromstring(text) for text in re.findall(r"<svg.*?</svg>", page, re.DOTALL)]  # noqa: S314 - our own


def points_of(path):
    """Return the points of a path of lines as an array."""
    return np.array([[float(n) for n in pair.split()] for pair in path.get("d")[1:].split("L")])


def test_pieces_and_gaps_make_up_every_tube(plan):
    """Along each run, pieces of the model and the room of its fittings add up to the run divided by the scale."""
    model = scale_model(plan, 12)
    by_mark = {piece.mark: piece for piece in model.pieces}
    backs = Counter()  # a run that passes is stopped only at a coupling, and there on both sides
    for fitted in plan.fitted:
        for run, back in fitted.setbacks.items():
            (contact,) = [c for c in plan.frame.on[run] if c.joint == fitted.joint]
            coupled = fitted.joint in plan.frame.runs[run].splices
            backs[run] += back * (2 if coupled else 0 if contact.passes else 1)
    lengths = Counter()
    for mark, run, *_ in plan.marks:
        lengths[run] += by_mark[mark].length_m
    for run, line in plan.frame.lines.items():
        assert 12 * lengths[run] + backs[run] == pytest.approx(line.length_m, abs=1e-6)


@pytest.mark.outside("output.scale_model.model_length_m", source="pint")
@pytest.mark.parametrize(("inch_to_a_foot", "scale"), [(1.0, 12), (0.5, 24), (0.25, 48), (1.5, 8)])
def test_scales_in_inches_to_the_foot(inch_to_a_foot, scale):
    """Modellers' scales: 1:12 is an inch to the foot. A stick of 10 ft is so many inches, by a library of units."""
    stick = units.Q(10, "foot")
    worked = (stick * units.Q(inch_to_a_foot, "inch / foot")).to("inch").magnitude
    ours = model_length_m(stick.to("m").magnitude, scale) / 0.0254
    assert ours == as_worked(worked, "in", f"10 ft stick at {inch_to_a_foot:g} in to the foot, 1:{scale}")


@pytest.mark.outside("output.scale_model", source="second-method")
def test_joints_of_a_trellis_counted_by_hand():
    """Three posts, a top rail through, two rails in each of two bays.

    Top corners: two times 2 ends. The middle post ends under the top rail, and at two levels four rails end on the
    outer posts: five times 1 end on a tube. On the middle post two rails meet at two levels. Three feet stand free.
    """
    model = scale_model(gardenframe.plan(builds.Trellis(), live=True))
    found = {(k.ends, k.passing): k.count for k in model.joints}
    assert set(found) == {(2, 0), (1, 1), (2, 1), (1, 0)}
    ours = [found[kind] for kind in ((2, 0), (1, 1), (2, 1), (1, 0))]
    assert ours == as_worked([2, 5, 2, 3], "", "corners, ends on a tube, two on a tube, free feet", abs=0.0)
    assert model.joints_made == as_worked(9, "", "joints to make", abs=0.0)


def test_ends_of_all_joints_are_the_ends_of_all_runs(plan):
    """No end is forgotten and none counted twice."""
    joints = scale_model(plan).joints
    assert sum(kind.ends * kind.count for kind in joints) == 2 * len(plan.frame.runs)


@given(st.floats(2, 50), st.sampled_from(sorted(MATERIALS)))
@settings(deadline=None, max_examples=25)
def test_enough_straws_and_none_longer_than_one(scale, material):
    """Parts fit a straw and add up to the piece; the straws hold all of it, and a rule of thumb needs no fewer."""
    plan = gardenframe.plan(builds.Trellis(), live=True)
    model = scale_model(plan, scale, material)
    one = MATERIALS[material].long_m
    parts = []
    for piece, real in zip(model.pieces, plan.cut, strict=True):
        assert piece.length_m == pytest.approx(real.length_m / scale)
        assert piece.part_m <= one + 1e-9
        assert piece.part_m * piece.parts == pytest.approx(piece.length_m)
        assert (piece.parts - 1) * one < piece.length_m
        parts += [round(piece.part_m * 1e4)] * piece.count * piece.parts
    left = []
    for part in sorted(parts, reverse=True):
        place = next((n for n, room in enumerate(left) if room >= part), None)
        if place is None:
            left.append(round(one * 1e4) - part)
        else:
            left[place] -= part
    assert math.ceil(sum(parts) / round(one * 1e4)) <= model.number <= len(left)


def test_bends_are_the_real_ones_divided_by_the_scale():
    """Radius and start shrink, angles stay."""
    plan = gardenframe.plan(builds.WalkwayArch(), live=True)
    for piece, real in zip(scale_model(plan, 8, "wire").pieces, plan.cut, strict=True):
        wanted = [(b.radius_m / 8, b.angle_deg, b.start_m / 8) for b in real.bends]
        assert piece.bends == tuple(pytest.approx(w) for w in wanted)
    assert not scale_model(plan, 8, "wire").warnings
    assert "do not bend" in scale_model(plan, 8).warnings[0]


@pytest.mark.outside("output.projection", source="numpy")
@pytest.mark.parametrize("view", ["front", "side", "plan"])
def test_views_are_true_to_scale(plan, view):
    """Each axis drawn is the run's projection in millimetres divided by the scale, to the drawing's last digit."""
    inner, wide, tall = view_svg(scale_model(plan, 10), view)
    root = ET.fromstring(f"<svg>{inner}</svg>")  # noqa: S314 - our own
    axes = [points_of(path) for path in root.iter("path") if path.get("class") == "axis"]
    a, b, _, _ = AXES[view]
    for line, drawn in zip(plan.frame.lines.values(), axes, strict=True):
        ends = [line.point(0.0), line.point(line.length_m)]
        seen = math.hypot(ends[1][a] - ends[0][a], ends[1][b] - ends[0][b]) * 100
        apart = float(np.linalg.norm(drawn[0] - drawn[-1]))
        assert apart == as_worked(seen, "mm", f"{view}: from end to end of a tube drawn 1:10", abs=2e-3)
    corners = np.vstack(axes)
    assert np.all(corners >= -1e-3)
    assert np.all(corners <= np.array([wide, tall]) + 1e-3)


@pytest.mark.parametrize("system", ["metric", "us"])
def test_a_page_is_in_real_millimetres_and_every_scaled_sheet_has_its_bar(plan, system):
    """One unit of each drawing is one millimetre of paper; the bar is 100 of them; bars are as long as pieces."""
    model = scale_model(plan, 10)
    page = scale_sheet(model, system)
    found = drawings(page)
    checks = [p for svg in found for p in svg.iter() if p.get("class") == "check"]
    assert len(checks) == 1 + page.count("<section class='sheet'>")
    assert all(re.fullmatch(r"M0\.5 5h100", p.get("d")) for p in checks)
    for svg in found:
        _, _, wide, tall = map(float, svg.get("viewBox").split())
        assert svg.get("width") == f"{wide:.3f}mm"
        assert svg.get("height") == f"{tall:.3f}mm"
        assert wide <= WIDE_MM + 1e-6
        assert tall <= TALL_MM + 1e-6
    bars = re.search(r"<div class='bars'>(.*)</div></div>", page, re.DOTALL)[1].split("</div>")
    for text, piece in zip(bars, model.pieces, strict=False):
        drawn = sum(float(svg.get("viewBox").split()[2]) for svg in drawings(text))
        assert drawn == pytest.approx(piece.part_m * 1000, abs=0.002)


@given(st.floats(1, 900), st.floats(1, 900))
def test_tiles_cover_a_view_once(wide, tall):
    """Parts fit the sheet, do not overlap and leave nothing out."""
    tiles = list(_tiles(wide, tall))
    assert all(w <= WIDE_MM + 1e-6 and h <= TALL_MM + 1e-6 and w > -1e-9 for _, _, w, h in tiles)
    assert sum(w * h for _, _, w, h in tiles) == pytest.approx(wide * tall, rel=1e-6)
    assert len({(x, y) for x, y, _, _ in tiles}) == len(tiles)


@pytest.mark.parametrize(("key", "scale"), [("hoop_house", 2), ("grow_stand", 10), ("trellis", 50)])
def test_sheets_are_told_before_they_are_printed(key, scale):
    """As many as the page has: a hoop house at one to two takes over a hundred, which nobody wants by surprise."""
    model = scale_model(gardenframe.plan(builds.ALL[key](), live=True), scale)
    assert sheets_of(model) == scale_sheet(model).count("<section class='sheet'>")
    assert (sheets_of(model) > 100) == (key == "hoop_house")


@given(st.floats(0.005, 0.9))
def test_lengths_in_hand_are_read_back(length_m):
    """Half a tenth of a millimetre or a thirty-second of an inch, and no more, is lost."""
    assert float(in_hand(length_m, "metric").removesuffix(" mm")) / 1000 == pytest.approx(length_m, abs=0.0000501)
    assert units.parse(in_hand(length_m, "us"), "length", "us") == pytest.approx(length_m, abs=25.4e-3 / 64 + 1e-9)


def test_scales_that_cannot_be_made_are_refused():
    """One sentence."""
    with pytest.raises(InputError, match=r"^scale: got 1, needs 2 to 50 to one\. 10 makes a model of a tenth\."):
        scale_model(gardenframe.plan(builds.Trellis(), live=True), 1)


@pytest.mark.browser
@pytest.mark.skipif(not PRINTS, reason="needs a Chromium and pdftoppm")
def test_the_bar_is_100_mm_on_paper(tmp_path):
    """Printed to PDF on A4 and Letter and drawn at 127 dots to the inch: 500 dots; the 1800 mm rail at 1:12 has 750."""
    from playwright.sync_api import sync_playwright

    page = scale_sheet(scale_model(gardenframe.plan(builds.Trellis(), live=True), 12))
    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        tab = browser.new_page()
        tab.set_content(page)
        for paper in ("A4", "Letter"):
            tab.pdf(path=tmp_path / f"{paper}.pdf", format=paper)
        browser.close()
    for paper in ("A4", "Letter"):
        subprocess.run(["pdftoppm", "-r", "127", "-gray", tmp_path / f"{paper}.pdf", tmp_path / paper], check=True)
        front, side, plan = (_gray(place) for place in sorted(Path(tmp_path).glob(f"{paper}*.pgm"))[-3:])
        for dots in (front, side, plan):
            bar = next(run for row in dots < 150 if (run := _longest(row)) > 300)
            assert bar == pytest.approx(500, abs=3)
        assert max(_longest(row) for row in front < 150) == pytest.approx(750, abs=3)


def _gray(place):
    """Return a PGM picture as an array."""
    data = place.read_bytes()
    found = re.match(rb"P5\s+(\d+)\s+(\d+)\s+255\s", data)
    wide, tall = int(found[1]), int(found[2])
    return np.frombuffer(data, np.uint8, wide * tall, found.end()).reshape(tall, wide)


def _longest(row):
    """Return the longest run of dark dots of a row."""
    edges = np.flatnonzero(np.diff(np.concatenate(([0], row.astype(int), [0]))))
    return int((edges[1::2] - edges[::2]).max()) if len(edges) else 0
