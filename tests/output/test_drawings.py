"""Drawings measured against their own numbers, their words against each other, and their lines against geometry."""

import math
import os
import re
import shutil
from itertools import combinations, pairwise
from xml.etree import ElementTree

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial import ConvexHull

from gardenframe.geometry.coverings import outline
from gardenframe.geometry.frame import Frame, Joint, Panel, Part, Run
from gardenframe.geometry.scene import Body, Dimension
from gardenframe.output import bars, svg
from gardenframe.output.dimensions import length_text
from gardenframe.output.drawings import drawing, view
from gardenframe.output.members_drawn import hull, inside
from gardenframe.output.picture import picture
from gardenframe.output.projection import View, seen_in, shapes

NAME = "{http://www.w3.org/2000/svg}"
# letter widths of DejaVu Sans, the widest of the usual system fonts, rounded up (from memory, its digits 0.636 em);
# the browser test below measures the texts as they come out
EM = {" ": 0.32, "m": 0.98, "M": 0.87, "W": 0.99, "w": 0.82, "×": 0.84, "%": 0.96, "f": 0.36, "t": 0.40, "r": 0.42}
EM |= dict.fromkeys("ijl", 0.28) | dict.fromkeys("/.,:", 0.34) | dict.fromkeys("ABCDEFGHKLNOPQRSTUVXYZ", 0.79)
OUTER_M = 0.0295402  # outside diameter of EMT 1 in (1.163 in)


def trellis(width_m=1.83, height_m=1.83, bays=2, mid_rails=1, bed_m=0.28, member="emt-1"):
    """Return a flat trellis in a timber bed with dimensions and marks, made by hand."""
    xs = [width_m * i / bays for i in range(bays + 1)]
    zs = [bed_m + 0.1 + (height_m - 0.1) * k / (mid_rails + 1) for k in range(mid_rails + 2)]
    y, top = 0.6, bed_m + height_m
    joints = [Joint(f"p{i}-{k}", x, y, z) for i, x in enumerate(xs) for k, z in enumerate([0.0, *zs])]
    runs = [
        Run(key=f"post {i}", member=member, path=tuple(f"p{i}-{k}" for k in range(len(zs) + 1)), role="post")
        for i in range(bays + 1)
    ]
    marks = [("P1", run.key, 0.0, top) for run in runs]
    for k in range(1, len(zs) + 1):
        for i in range(bays):
            runs.append(Run(key=f"rail {k}.{i}", member=member, path=(f"p{i}-{k}", f"p{i + 1}-{k}")))
            marks.append((f"R{1 + k % 2}", runs[-1].key, 0.02, width_m / bays - 0.02))
    dims = [
        Dimension(view="front", start=(0, 0, 0), end=(width_m, 0, 0), axis="x", name="Width", row=2, datum="outside"),
        Dimension(view="front", start=(0, 0, bed_m), end=(0, 0, top), axis="z", name="Height", row=2),
        Dimension(view="front", start=(0, 0, 0), end=(0, 0, bed_m), axis="z", name="Bed depth", row=2),
        Dimension(view="side", start=(0, 0, 0), end=(0, 0.8, 0), axis="y", name="Bed width", datum="outside"),
        Dimension(view="side", start=(0, 0, 0), end=(0, y, top), axis="aligned", name="Slant"),
    ]
    dims += [
        Dimension(view="front", start=(a, 0, 0), end=(b, 0, 0), axis="x", datum="centre to centre")
        for a, b in pairwise(xs)
    ]
    dims += [
        Dimension(view="front", start=(0, 0, a), end=(0, 0, b), axis="z", datum="centre to centre")
        for a, b in pairwise(zs)
    ]
    bodies = (
        Body(kind="bed", low=(-0.05, 0, 0), high=(width_m + 0.05, 0.8, bed_m), label="bed"),
        Body(kind="person", low=(width_m + 0.3, 0, 0), high=(width_m + 0.9, 0.3, 1.7)),
    )
    corners = [(0, y, zs[0]), (width_m, y, zs[0]), (width_m, y, zs[-1]), (0, y, zs[-1])]
    net = Panel(key="net", carried_by=(), covering="trellis-net-150", outline=outline(corners))
    frame = Frame.of(joints, runs, (), panels=(net,), bodies=bodies, dimensions=tuple(dims), soil_m=bed_m)
    return frame, marks


def hoop():
    """Return two hoops and a ridge, with film swept between them and a hinged gate before them."""
    joints, runs = [], []
    for i, y in enumerate((0.0, 2.0)):
        joints += [Joint(f"A{i}", -1, y, 0), Joint(f"P{i}", -1, y, 1.8), Joint(f"Q{i}", 1, y, 1.8)]
        joints += [Joint(f"B{i}", 1, y, 0), Joint(f"T{i}", 0, y, 1.8)]
        path = tuple(f"{k}{i}" for k in "APQB")
        runs.append(Run(key=f"hoop {i}", member="emt-3/4", path=path, bend_radius_m=0.6, also=(f"T{i}",), role="hoop"))
    joints += [Joint("g0", 0, -0.1, 0.5), Joint("g1", 0.8, -0.1, 0.5)]
    runs.append(Run(key="ridge", member="emt-3/4", path=("T0", "T1"), role="ridge"))
    runs.append(Run(key="gate rail", member="emt-1/2", path=("g0", "g1"), part="gate"))
    gate = Part(key="gate", motion="hinged", axis_at=(0, -0.1, 0), closed_deg=0, open_deg=-90)
    film = Panel(key="film", carried_by=("hoop 0", "hoop 1"), covering="film-6mil", swept=("hoop 0", "hoop 1"))
    return Frame.of(joints, runs, (), panels=(film,), parts=(Part(key="frame"), gate))


def parsed(text):
    """Return the tree of a sheet that was drawn here."""
    return ElementTree.fromstring(text)  # noqa: S314 - our own text


def words(text):
    """Return every text of a sheet with its box, by this module's own letter width."""
    found = []
    for element in parsed(text).iter(f"{NAME}text"):
        said, x, y = element.text or "", float(element.get("x")), float(element.get("y"))
        bold = 1.08 if element.get("font-weight") else 1.0
        wide = sum(EM.get(letter, 0.64) for letter in said) * 12 * bold
        left = x - wide * {"start": 0, "middle": 0.5, "end": 1}[element.get("text-anchor")]
        corners = [(px - x, py - y) for px in (left, left + wide) for py in (y - 9, y + 2.4)]
        turned = re.match(r"rotate\(([-\d.]+)", element.get("transform", ""))
        angle = math.radians(float(turned.group(1))) if turned else 0.0
        c, s = math.cos(angle), math.sin(angle)
        across, down = [x + a * c - b * s for a, b in corners], [y + a * s + b * c for a, b in corners]
        found.append((said, min(across), min(down), max(across), max(down)))
    return found


def sheet_size(text):
    """Return width and height of a sheet. [px]"""
    return tuple(float(v) for v in parsed(text).get("viewBox").split()[2:])


def overlapping(text):
    """Return pairs of texts that lie on each other, and texts that leave the sheet."""
    found, (width, height) = words(text), sheet_size(text)
    pairs = [
        (a[0], b[0]) for a, b in combinations(found, 2) if a[1] < b[3] and b[1] < a[3] and a[2] < b[4] and b[2] < a[4]
    ]
    return pairs + [t for t in found if t[1] < 0 or t[2] < 0 or t[3] > width or t[4] > height]


SIZES = {
    "width_m": st.floats(0.5, 4.0),
    "height_m": st.floats(0.4, 3.0),
    "bays": st.integers(1, 8),
    "mid_rails": st.integers(0, 6),
    "bed_m": st.floats(0.15, 0.9),
}
VIEW_SETS = [("front", "side", "plan"), ("front",), ("side",), ("plan",), ("front", "side"), ("front", "plan")]


@settings(max_examples=60, deadline=None)
@given(**SIZES, system=st.sampled_from(["metric", "us"]), views=st.sampled_from(VIEW_SETS))
def test_no_words_lie_on_words_or_leave_the_sheet(system, views, **sizes):
    """Wherever the sliders stand, every text is by itself and on the sheet."""
    frame, marks = trellis(**sizes)
    assert overlapping(drawing(frame, marks, system, views)) == []


@settings(max_examples=40, deadline=None)
@given(**SIZES, system=st.sampled_from(["metric", "us"]))
def test_every_piece_is_marked_or_said_to_have_no_room(system, **sizes):
    """The numbers of pieces at the labels add up to the pieces given."""
    frame, marks = trellis(**sizes)
    said = " ".join(w[0] for w in words(drawing(frame, marks, system)))
    for mark in {m[0] for m in marks}:
        counted = sum(int(n or 1) for n in re.findall(rf"(?:(\d+) × )?\b{mark}\b", said))
        assert counted == sum(m[0] == mark for m in marks)


def arrow_tips(text):
    """Return the tips of all filled arrowheads. [px]"""
    heads = [p.get("d") for p in parsed(text).iter(f"{NAME}path") if p.get("fill") is None]
    return [(float(x), float(y)) for d in heads for x, y in re.findall(r"M([-\d.]+) ([-\d.]+)", d)]


@settings(max_examples=30, deadline=None)
@given(width_m=st.floats(1.0, 4.0), height_m=st.floats(1.0, 3.0))
def test_a_dimension_is_as_long_as_its_number_by_the_scale_bar(width_m, height_m):
    """Measured with the sheet's own scale bar, the arrows stand as far apart as the number between them says."""
    frame, _ = trellis(width_m, height_m, bays=1, mid_rails=0)
    sheet = drawing(frame, (), "metric", ("front",))
    bar, bar_text = re.search(r"v8M[-\d.]+ [-\d.]+h([\d.]+)m0 -4v8[^<]*<text[^>]*>(\d+)<", sheet).groups()
    mm_per_px = float(bar_text) / float(bar)
    number, _, _, _, bottom = next(w for w in words(sheet) if w[0].startswith("Width"))
    tips = sorted(x for x, y in arrow_tips(sheet) if 0 < y - bottom < 4)
    drawn = (tips[-1] - tips[0]) * mm_per_px
    assert drawn == pytest.approx(width_m * 1000, rel=0.004)
    assert int(re.search(r"\d+", number).group()) == round(width_m * 1000)


def test_views_stand_in_third_angle():
    """The plan stands above the front, the side seen from the right to its right, in line and at one scale."""
    frame, marks = trellis()
    at = {said: (x, y) for said, x, y, _, _ in words(drawing(frame, marks))}
    assert at["Plan, from above"][1] < at["Front"][1]
    assert at["Side, from the right"][0] > at["Front"][0]
    assert at["Side, from the right"][1] == at["Front"][1]
    front, side, plan = (View(name, 100, 0, 0) for name in ("front", "side", "plan"))
    right, away, up = (1, 0, 0), (0, 1, 0), (0, 0, 1)
    assert front.point(right) == plan.point(right) == (100, 0)
    assert front.point(up) == side.point(up) == (0, -100)
    assert side.point(away) == (100, 0)  # from the right, what lies far from the reader is on the right
    assert plan.point(away) == (0, -100)
    assert front.depth(away) > 0 > side.depth(right)
    assert plan.depth(up) < 0


def test_a_tube_is_drawn_as_wide_as_it_is_but_never_too_thin_to_see():
    """Width by the outside diameter of the table; 2 px where that would be less."""
    frame, _ = trellis()
    for scale in (20.0, 200.0):
        seen = seen_in(View("front", scale, 0, 0), shapes(frame))
        assert seen[0].width == pytest.approx(max(OUTER_M * scale, 2.0), rel=1e-4)


@pytest.mark.parametrize(("metres", "metric", "us"), [(1.8923, "1892", "6 ft 2 1/2 in"), (0.3048, "305", "1 ft 0 in")])
def test_lengths_are_written_in_the_readers_units(metres, metric, us):
    """74 1/2 in is 1892.3 mm and a foot 304.8 mm, by the exact inch of 25.4 mm."""
    assert (length_text(metres, "metric"), length_text(metres, "us")) == (metric, us)


def test_like_spaces_in_a_row_are_one_dimension():
    """Seven rails stand in six like spaces: one line says so."""
    frame, marks = trellis(height_m=1.9, mid_rails=5)
    said = [w[0] for w in words(drawing(frame, marks))]
    assert "6 × 300" in " ".join(said)
    assert "300" not in said


def test_hidden_edges_are_dashed_and_only_there():
    """Posts behind the boards are dashed; without the bed nothing is."""
    frame, _ = trellis()
    bare = Frame.of(frame.joints.values(), frame.runs.values())
    dashed = f'stroke-dasharray="{svg.DASHED}"'
    assert dashed in drawing(frame, (), views=("front",))
    assert dashed not in drawing(bare, (), views=("front",))


@pytest.mark.parametrize("made", [drawing, picture])
def test_a_sheet_stands_alone_and_says_what_it_is(made):
    """Named and described, and nothing in it points outside itself or can clash with another sheet on the page."""
    for frame in (trellis()[0], hoop()):
        text = made(frame, title="Bed <4> & path")
        root = parsed(text)
        assert root.get("role") == "img"
        assert root.find(f"{NAME}title").text == "Bed <4> & path"
        assert len(root.find(f"{NAME}desc").text) > 20
        assert not [e for e in root.iter() if e.get("id") or e.get("class") or e.tag.endswith(("style", "marker"))]
        assert "url(" not in text
        assert "nan" not in text


def test_a_label_that_looks_like_markup_is_written_as_it_is():
    """A bed called after a tag is text."""
    frame, _ = trellis()
    bed = Body(kind="bed", low=(0, 0, 0), high=(1.83, 0.8, 0.28), label="<b>&")
    marked = Frame.of(frame.joints.values(), frame.runs.values(), bodies=(bed,))
    assert "<b>&" in [w[0] for w in words(drawing(marked))]


def test_arrows_gate_and_deflected_shape_are_drawn():
    """One load case on the drawing: its word, its shaft, the dashed shape; and the swing of the gate in plan."""
    frame = hoop()
    plain = drawing(frame)
    loaded = drawing(
        frame,
        case_arrows=[((0, 0, 1.8), (0, 0, -300), "300 N")],
        deflected={"ridge": [(0, 0, 1.8), (0, 1, 1.7), (0, 2, 1.8)]},
    )
    assert "300 N" in [w[0] for w in words(loaded)]
    assert overlapping(loaded) == []
    assert loaded.count(svg.VERMILION) > plain.count(svg.VERMILION) == 0
    still = Frame.of(frame.joints.values(), frame.runs.values(), parts=(Part(key="frame"), Part(key="gate")))
    swing = f'stroke="{svg.BLUE}" stroke-width="{svg.THIN_PX:g}" stroke-dasharray="{svg.CHAIN_TWO}"'
    assert swing in plain
    assert swing not in drawing(still)


def test_a_view_that_there_is_not_is_refused():
    """The sentence names the view and those there are."""
    with pytest.raises(ValueError, match=r"^views: got back, needs any of front, side, plan\.$"):
        view(trellis()[0], "back")


# --- lines against geometry


POLYGON = st.lists(st.floats(0, 2 * math.pi), min_size=3, max_size=9, unique=True).map(sorted)


@given(POLYGON, st.floats(0, 179), st.integers(40, 120))
def test_a_hatch_covers_its_outline_and_no_more(turns, angle, radius):
    """Lines times their spacing make the area (shoelace), within the two strips at the edges."""
    ring = [(200 + radius * math.cos(t), 200 + radius * math.sin(t)) for t in turns]
    area = abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise([*ring, ring[0]]))) / 2
    drawn = re.findall(r"M([-\d.]+) ([-\d.]+)L([-\d.]+) ([-\d.]+)", svg.hatch([ring], angle, 2.0))
    total = sum(math.hypot(float(c) - float(a), float(d) - float(b)) for a, b, c, d in drawn)
    assert total * 2.0 == pytest.approx(area, abs=2.0 * 2 * radius + 4)


@given(*[st.tuples(st.floats(-20, 20), st.floats(-20, 20)) for _ in range(2)])
def test_the_part_of_a_line_in_a_box_is_where_its_points_are_in_it(a, b):
    """Clipped shares against a thousand points tried one by one."""
    box = (-5.0, -8.0, 9.0, 4.0)
    tried = np.linspace(0, 1, 1001)
    x, y = a[0] + (b[0] - a[0]) * tried, a[1] + (b[1] - a[1]) * tried
    within = tried[(box[0] <= x) & (x <= box[2]) & (box[1] <= y) & (y <= box[3])]
    part = inside(a, b, box)
    if part is None:
        assert not len(within) or math.hypot(b[0] - a[0], b[1] - a[1]) * (within[-1] - within[0]) < 2.1
    else:
        assert part == pytest.approx((within[0], within[-1]), abs=0.0011)


@given(st.lists(st.tuples(st.integers(0, 50), st.integers(0, 50)), min_size=6, max_size=30, unique=True))
def test_the_outline_of_a_swept_strip_is_convex_and_whole(points):
    """Area of the outline against Qhull."""
    spread = np.array(points, dtype=float)
    if np.linalg.matrix_rank(spread - spread[0]) < 2:
        return
    ring = hull([(float(x), float(y)) for x, y in points])
    area = abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise([*ring, ring[0]]))) / 2
    assert area == pytest.approx(ConvexHull(spread).volume)


# --- bars


def rectangles(text, fills=None):
    """Return left, top, right, bottom, fill of every filled rectangle."""
    found = []
    for p in parsed(text).iter(f"{NAME}path"):
        match = re.fullmatch(r"M([-\d.]+) ([-\d.]+)H([-\d.]+)V([-\d.]+)H[-\d.]+Z", p.get("d"))
        if match and (fills is None or p.get("fill") in fills):
            found.append((*map(float, match.groups()), p.get("fill")))
    return found


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.tuples(st.sampled_from(["P1", "R1", "R2", "B1"]), st.floats(0.05, 0.5)), min_size=1, max_size=6),
    st.sampled_from([0.0, 0.001, 0.003]),
    st.sampled_from(["metric", "us"]),
)
def test_a_stick_is_divided_as_its_pieces_are_long(pieces, kerf, system):
    """Each piece takes its share of the stick; words lie on no words."""
    text = bars.cutting_bars([(3.048, pieces, kerf, 3)], system)
    stick = rectangles(text, ["none"])[0]
    drawn = [r for r in rectangles(text, bars.PIECE_FILLS)]
    shares = [(r[2] - r[0]) / (stick[2] - stick[0]) for r in drawn]
    assert shares == pytest.approx([length / 3.048 for _, length in pieces], abs=0.0003)
    assert drawn[-1][2] <= stick[2]
    assert overlapping(text) == []
    assert "3 ×" in [w[0] for w in words(text)]


def test_an_offcut_is_what_the_pieces_and_their_cuts_leave():
    """3048 - 2 x (1200 + 3) = 642 mm, by hand."""
    text = bars.cutting_bars([(3.048, [("P1", 1.2), ("P1", 1.2)], 0.003, 1)])
    assert "offcut 642" in [w[0] for w in words(text)]


def test_bars_of_checks_say_number_and_words_and_hatch_what_is_over():
    """A bar ends at its ratio of the way to the limit; above it, other colour, hatch and words."""
    text = bars.ratio_bars([("Bending", 0.62), ("Uplift", 1.18, "wind from behind")])
    said = [w[0] for w in words(text)]
    assert {"0.62", "1.18", "uses 62 % of what it can carry", "over its limit by 18 %", "limit 1.00"} <= set(said)
    tracks, limit = rectangles(text, ["#f3f5f6"]), next(w for w in words(text) if w[0] == "limit 1.00")
    to_limit = (limit[1] + limit[3]) / 2 - tracks[0][0]
    (under,), (over,) = rectangles(text, ["#cfe1ef"]), rectangles(text, ["#f6d9c6"])
    assert (under[2] - under[0]) / to_limit == pytest.approx(0.62, abs=0.003)
    assert (over[2] - over[0]) / to_limit == pytest.approx(1.18, abs=0.003)
    assert text.count(f'stroke="{svg.VERMILION}"') == 2  # its edge and its hatch
    assert overlapping(text) == []


@given(st.floats(0.0, 60.0))
def test_a_ratio_over_its_limit_never_reads_as_within_it(ratio):
    """Words and number agree with the ratio on which side of 1 it is."""
    text = bars.ratio_bars([("Sway", ratio)])
    said = [w[0] for w in words(text)]
    assert any("over its limit" in w for w in said) == (ratio > 1)
    assert ("1.00" in said) <= (ratio <= 1)


def test_a_ratio_that_is_not_a_number_is_said():
    """No bar pretends to know."""
    assert bars.ratio_words(float("nan")) == "could not be worked out"
    assert bars.ratio_words(float("inf")) == "cannot carry this at all"
    assert bars.ratio_words(1.11, "room") == "needs 11 % more room than there is"
    assert [bars.short_words(r, "limit") for r in (0.4, 1.2, 0.0)] == ["40 % used", "20 % over", "nothing here"]


def test_nothing_to_cut_or_to_check_is_a_sentence():
    """Empty rows give a sheet that says so."""
    assert "Nothing to cut." in bars.cutting_bars([])
    assert "Nothing to check." in bars.ratio_bars([])


# --- the picture


@settings(max_examples=20, deadline=None)
@given(width_m=SIZES["width_m"], height_m=SIZES["height_m"], width_px=st.integers(120, 600))
def test_a_picture_fits_its_sheet_and_has_no_words(width_m, height_m, width_px):
    """Every point of every line is on the sheet."""
    text = picture(trellis(width_m, height_m)[0], width_px)
    width, height = sheet_size(text)
    assert words(text) == []
    assert width == width_px
    assert height <= 0.8 * width + 20
    for x, y in re.findall(r"[ML]([-\d.]+) ([-\d.]+)", text):
        assert -1 <= float(x) <= width + 1
        assert -1 <= float(y) <= height + 1


# --- in a browser


@pytest.mark.browser
def test_words_as_a_browser_sets_them_are_no_wider_than_their_boxes(tmp_path):
    """Every text measured by Chromium is within the width it was given, and lies on no other."""
    chromium = os.environ.get("GF_CHROMIUM") or shutil.which("chromium")
    if not chromium:
        pytest.skip("no Chromium found")
    sync_api = pytest.importorskip("playwright.sync_api")
    page_file = tmp_path / "sheets.html"
    sheets = [drawing(*trellis(w, h, b, m), s) for w, h, b, m in BROWSER_SIZES for s in ("metric", "us")]
    sheets.append(bars.cutting_bars([(3.048, [("P1", 1.2), ("R1", 0.09), ("R2", 0.06)], 0.001, 2)], "us"))
    sheets.append(bars.ratio_bars([("Bending of post 1", 0.62, "wind from behind"), ("Uplift", 1.18)]))
    page_file.write_text(f"<meta charset=utf-8>{''.join(sheets)}")
    with sync_api.sync_playwright() as started:
        browser = started.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        page = browser.new_page(viewport={"width": 900, "height": 900})
        page.goto(page_file.as_uri())
        measured = page.evaluate(MEASURE)
        browser.close()
    assert len(measured) == len(sheets)
    for texts in measured:
        assert len(texts) > 4
        for said, wide, bold, *_ in texts:
            assert wide <= svg.text_width(said, bold) + 0.5, said
        overlaps = [
            (a[0], b[0])
            for a, b in combinations(texts, 2)
            if a[3] < b[5] and b[3] < a[5] and a[4] + 2 < b[6] and b[4] + 2 < a[6]  # 2 px: room for accents
        ]
        assert overlaps == []


BROWSER_SIZES = [(0.5, 0.4, 1, 0), (1.83, 1.83, 2, 1), (4.0, 3.0, 8, 6), (0.6, 3.0, 2, 6), (4.0, 0.5, 8, 0)]
MEASURE = """() => [...document.querySelectorAll('svg')].map(s => [...s.querySelectorAll('text')].map(t => {
    const r = t.getBoundingClientRect();
    const bold = t.getAttribute('font-weight') === '600';
    return [t.textContent, t.getComputedTextLength(), bold, r.left, r.top, r.right, r.bottom];
}))"""


def test_what_carries_a_body_is_drawn_and_what_stands_in_it_is_not():
    """A leg under soil that begins at 0.5 m is seen; the same leg in soil from the ground to above its top is not."""
    joints = [Joint("foot", 0.1, 0.1, 0.0), Joint("top", 0.1, 0.1, 1.0), Joint("far", 1.1, 0.1, 1.3)]
    runs = [Run(key="leg", member="emt-1", path=("foot", "top")), Run(key="rail", member="emt-1", path=("top", "far"))]
    tubes = []
    for low in (0.5, 0.0):
        soil = Body(kind="soil", low=(0.0, 0.0, low), high=(1.2, 0.6, 1.1), label="soil")
        tubes.append(picture(Frame.of(joints, runs, bodies=(soil,))).count("<path"))
    assert tubes[0] > tubes[1]
