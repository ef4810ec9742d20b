"""Bend sheets measured against their own numbers, their words against each other, and what they say."""

import math
import re
from itertools import combinations, pairwise
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gardenframe.geometry.bend_marks import bend_sheet
from gardenframe.geometry.pieces import Bend, Piece, Place
from gardenframe.materials.benders import bender_for
from gardenframe.materials.members import load_members
from gardenframe.output.bend_sheet import NARROWEST_PX, bend_drawing, hour
from gardenframe.output.wrapping import spread

MEMBERS = load_members()
NAME = "{http://www.w3.org/2000/svg}"
# letter widths of DejaVu Sans, the widest of the usual system fonts, rounded up (from memory, its digits 0.636 em)
EM = {" ": 0.32, "m": 0.98, "M": 0.87, "W": 0.99, "w": 0.82, "%": 0.96, "f": 0.36, "t": 0.40, "r": 0.42}
EM |= dict.fromkeys("ijl'", 0.28) | dict.fromkeys("/.,:;", 0.34) | dict.fromkeys("ABCDEFGHKLNOPQRSTUVXYZ", 0.79)


def marked(member, straights_m, bends, kind="shoe", count=1):
    """Return the sheet of straights with a bend (radius_m, angle_deg, roll_deg) between each two."""
    at, made = straights_m[0], []
    for (radius, angle, roll), after in zip(bends, straights_m[1:], strict=True):
        end = at + radius * math.radians(angle)
        made.append(Bend(at, end, radius, angle, roll))
        at = end + after
    places = tuple(Place(f"hoop {i}", 0.0, at) for i in range(count))
    piece = Piece(mark="H1", member=member, role="hoop", length_m=at, cut=0, cut_m=at, places=places, bends=tuple(made))
    return bend_sheet(piece, MEMBERS[member], bender_for(member, kind), stick_mm=20_000)


def arch():
    """Return two right angles in 3/4 in EMT with legs of 600 mm and 900 mm between."""
    return marked("emt-3/4", [0.6, 0.9, 0.6], [(0.1143, 90, 0), (0.1143, 90, 0)], count=4)


def written(svg):
    """Return the text elements of a sheet."""
    return list(ElementTree.fromstring(svg).iter(f"{NAME}text"))  # noqa: S314 - our own drawing


def texts(svg):
    """Return every text with its box, turned ones too."""
    found = []
    for node in written(svg):
        x, y, words = float(node.get("x")), float(node.get("y")), node.text
        bold = 1.1 if node.get("font-weight") else 1.0
        width = sum(EM.get(letter, 0.64) for letter in words) * 12 * bold
        left = x - width * {"start": 0.0, "middle": 0.5, "end": 1.0}[node.get("text-anchor")]
        box = (left, y - 9.0, left + width, y + 2.6)
        if turn := node.get("transform"):
            assert re.match(r"rotate\(-90\.0 ", turn)
            box = (x - 9.0, y + (x - box[2]), x + 2.6, y + (x - box[0]))  # left of the point becomes below it
        found.append((words, box))
    return found


def upright(svg):
    """Return the upright texts of the distances, left to right."""
    nodes = [n for n in written(svg) if n.get("transform")]
    return [n.text for n in sorted(nodes, key=lambda n: float(n.get("x")))]


def strokes(svg):
    """Return the upright strokes through the tube: where each mark stands. [px]"""
    found = re.findall(r'd="M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)"[^>]*stroke-width="1"', svg)
    return sorted(float(ax) for ax, ay, bx, by in found if ax == bx and 27 < float(by) - float(ay) < 29)


@pytest.mark.parametrize("system", ["metric", "us"])
def test_every_mark_stands_where_its_number_says(system):
    """Strokes measured on the sheet at its scale are the distances of hand sums, and the numbers are theirs."""
    svg = bend_drawing(arch(), system)
    arc = 7.069 * 25.4  # reference row: arc of a right angle in 3/4 in EMT
    starts = [625.0, 625 + arc + 900]
    arrows = [s + 114.3 + 11.709 - 150 for s in starts]
    by_hand = sorted([25.0, *starts, *(s + arc for s in starts), *arrows, 2125 + 2 * arc])
    cut = 2150 + 2 * arc
    scale = (820 - 2 * 20) / cut
    assert [(x - 20) / scale for x in strokes(svg)] == pytest.approx(by_hand, abs=0.3)
    assert f"cut {'2509' if system == 'metric' else '8 ft 2 13/16 in'}" in [words for words, _ in texts(svg)]
    if system == "metric":
        assert upright(svg) == [str(round(at)) for at in by_hand]
    else:
        assert upright(svg)[:3] == ["1 in", "1 ft 11 11/16 in", "2 ft 0 5/8 in"]


def test_a_sheet_says_what_to_do_in_order():
    """Heading, count, what to cut, each mark with its sentence, spring-back, and that the bender is invented."""
    said = " ".join(words for words, _ in texts(bend_drawing(arch()))).replace("\u00a0", " ")
    assert "H1: 4 pieces of EMT 3/4 in, bent on the hand bender for EMT 3/4 in" in said
    assert "Cut 2509 mm straight; after bending trim to 2459 mm" in said
    assert "so that it rests at 90°, radius 114 mm, towards 12 o'clock." in said
    assert said.index("Trim: cut here") < said.index("Arrow of bend 1") < said.index("Start of bend 1.")
    assert said.index("End of bend 1.") < said.index("Arrow of bend 2")
    assert "invented: measure your own" in said
    assert "Bend one, check it on a full-size arc" in said


def test_a_hoop_on_a_jig_says_its_radius():
    """3/4 in EMT round a jig of 723 mm rests at 800 mm: 4x3 - 3x + 1 at x = 723 x 207/(200 000 x 23.42) is 0.904."""
    x = 723 * 207 / (200_000 * 23.4188)
    assert 723 / (4 * x**3 - 3 * x + 1) == pytest.approx(800, abs=1)
    said = " ".join(w for w, _ in texts(bend_drawing(marked("emt-3/4", [0, 0], [(0.8, 180, 0)], "jig"))))
    assert "round a jig of radius 723 mm, so that it rests at 180°, radius 800 mm" in said.replace("\u00a0", " ")
    assert "Arrow" not in said
    assert "hook" not in said


def test_the_clock_shows_which_way_each_bend_goes():
    """Seen along the tube from the marked end the right-hand rule turns clockwise: 90 degrees is 3 o'clock."""
    svg = bend_drawing(marked("emt-1", [0.3, 0.3, 0.3], [(0.14605, 90, 0), (0.14605, 90, 90)]))
    said = " ".join(words for words, _ in texts(svg)).replace("\u00a0", " ")
    assert "towards 3 o'clock" in said
    assert [hour(a) for a in (0, 90, 195, 359)] == ["12 o'clock", "3 o'clock", "half past 6", "12 o'clock"]
    hands = re.findall(r'</?circle cx="([\d.]+)" cy="([\d.]+)"[^>]*/><path d="M[\d.]+ [\d.]+L([\d.]+) ([\d.]+)"', svg)
    (up, across) = [(float(ex) - float(cx), float(ey) - float(cy)) for cx, cy, ex, ey in hands]
    assert up == pytest.approx((0, -10), abs=0.11)
    assert across == pytest.approx((10, 0), abs=0.11)


bend = st.tuples(st.floats(3, 175), st.sampled_from([0.0, 180.0, 90.0, -90.0, 33.0]))


@settings(deadline=None, max_examples=60)
@given(
    st.sampled_from(["emt-1/2", "emt-3/4", "emt-1", "emt-1-1/4"]),
    st.lists(bend, min_size=1, max_size=6),
    st.floats(0.001, 1.2),
    st.sampled_from(["metric", "us"]),
    st.sampled_from([NARROWEST_PX, 560.0, 820.0]),
)
def test_no_words_lie_on_words_or_off_the_sheet(member, bends, straight, system, width):
    """Whatever the bends, units and width: boxes in the widest usual font part, and all are on the sheet."""
    radius = bender_for(member, "shoe").radius_mm / 1000
    sheet = marked(
        member, [straight] * (len(bends) + 1), [(radius, a, r if i else 0) for i, (a, r) in enumerate(bends)]
    )
    svg = bend_drawing(sheet, system, width)
    height = float(re.search(r'height="(\d+)"', svg)[1])
    boxes = texts(svg)
    for (a, one), (b, other) in combinations(boxes, 2):
        apart = one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]
        assert apart, f"{a!r} lies on {b!r}"
    for words, (left, top, right, bottom) in boxes:
        assert left >= 0, words
        assert right <= width, words
        assert top >= 0, words
        assert bottom <= height, words


@given(st.lists(st.floats(0, 100), min_size=1, max_size=8), st.floats(1, 12))
def test_places_spread_keep_their_order_and_move_no_more_than_they_must(wished, apart):
    """Neighbours stand apart, inside the limits, and no other such row that was tried is nearer to what was wished."""
    wished = sorted(wished)
    moved = spread(wished, apart, 0.0, 100.0)
    assert all(b - a >= apart - 1e-9 for a, b in pairwise(moved))
    assert moved[0] >= -1e-9
    assert moved[-1] <= 100 + 1e-9
    cost = sum((a - b) ** 2 for a, b in zip(moved, wished, strict=True))
    for i in range(len(moved)):
        for step in (-0.01, 0.01):
            tried = [*moved[:i], moved[i] + step, *moved[i + 1 :]]
            fits = all(b - a >= apart for a, b in pairwise(tried)) and tried[0] >= 0 and tried[-1] <= 100
            if fits:
                assert sum((a - b) ** 2 for a, b in zip(tried, wished, strict=True)) >= cost - 1e-9


def test_a_sheet_too_narrow_is_refused():
    """The sentence gives the least width."""
    with pytest.raises(ValueError, match=r"^width_px: got 200, needs 360 or more\."):
        bend_drawing(arch(), width_px=200)
    many = marked("emt-3/4", [0.2] * 13, [(0.1143, 30, 180)] * 12)
    with pytest.raises(ValueError, match=r"^width_px: got 360, needs 613 or more\."):  # 38 marks, 15 px each, and edges
        bend_drawing(many, width_px=360)
