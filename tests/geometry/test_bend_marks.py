"""Marks on the straight tube against the shape that was wanted, hand numbers, and bad input."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from printed import as_worked

from gardenframe.errors import InputError, TableError
from gardenframe.geometry import bending
from gardenframe.geometry.arcs import rounded
from gardenframe.geometry.bend_marks import bend_sheet, bend_sheets
from gardenframe.geometry.frame import Frame, Joint, Run
from gardenframe.geometry.pieces import Bend, Piece, Place, cut_pieces
from gardenframe.materials.benders import bender_for, load_benders
from gardenframe.materials.members import load_members

MEMBERS = load_members()
SIZES = ["emt-1/2", "emt-3/4", "emt-1", "emt-1-1/4"]


def piece(member, straights_m, bends, mark="H1"):
    """Return a piece of straights with a bend (radius_m, angle_deg, roll_deg) between each two."""
    at, made = straights_m[0], []
    for (radius, angle, roll), after in zip(bends, straights_m[1:], strict=True):
        end = at + radius * math.radians(angle)
        made.append(Bend(at, end, radius, angle, roll))
        at = end + after
    return Piece(
        mark=mark, member=member, role="hoop", length_m=at, cut=round(at * 1000), cut_m=at,
        places=(Place("hoop", 0.0, at),), bends=tuple(made),
    )  # fmt: skip


def sheet(member, straights_m, bends, kind="shoe", **options):
    """Return the bend sheet of such a piece with our own bender."""
    return bend_sheet(piece(member, straights_m, bends), MEMBERS[member], bender_for(member, kind), **options)


def arch_sheet(**options):
    """Return the sheet of two right angles in 3/4 in EMT: legs 600 mm, top 900 mm between the bends."""
    return sheet("emt-3/4", [0.6, 0.9, 0.6], [(0.1143, 90, 0), (0.1143, 90, 0)], **options)


@pytest.mark.outside("geometry.bend_marks", source="second-method")
def test_an_arch_of_two_right_angles_by_hand():
    """Arc 7.069 in (reference row for 3/4 in at 4-1/2 in): developed 600 + 900 + 600 + 2 arcs, 25 mm spare each end."""
    arc = 7.069 * 25.4
    marked = arch_sheet()
    assert marked.developed_mm == as_worked(2100 + 2 * arc, "mm", "tube of an arch of two right angles", abs=0.03)
    assert marked.cut_mm == as_worked(2150 + 2 * arc, "mm", "what it is cut to", abs=0.03)
    starts = [625.0, 625 + arc + 900]
    ours = [(b.start_mm, b.end_mm) for b in marked.bends]
    worked = [(start, start + arc) for start in starts]
    assert ours == as_worked(worked, "mm", "where its bends start and end", abs=0.03)
    # the back of a right angle is 4.5 in + 0.922 in / 2 beyond its start; the arrow stands 150 mm before it
    backs = [s + 114.3 + 11.71 for s in starts]
    arrows = [b.arrow_mm for b in marked.bends]
    assert arrows == as_worked([b - 150 for b in backs], "mm", "where the arrow stands", abs=0.03)
    assert [m.what for m in marked.marks] == ["trim", "arrow", "start", "end", "arrow", "start", "end", "trim"]


def test_the_arrow_of_a_stub_is_its_height_less_the_take_up():
    """The same mark by the trade's own rule and by the general one: stub to the back of the bend."""
    marked = arch_sheet(long_mm=0.0)
    back = 600 + 114.3 + MEMBERS["emt-3/4"].outer_mm / 2
    stub = bending.stub_arrow_mm(back, MEMBERS["emt-3/4"], bender_for("emt-3/4", "shoe"))
    assert marked.bends[0].arrow_mm == pytest.approx(stub)
    assert stub == pytest.approx(back - 150)


def test_ends_too_short_for_the_bender_are_cut_long():
    """A quarter bend that starts 20 mm from the end: the shoe needs 90 mm, so 70 mm and the spare are trimmed after."""
    marked = sheet("emt-3/4", [0.02, 0.03], [(0.1143, 90, 0)])
    assert marked.trim_near_mm == pytest.approx(70 + 25)
    assert marked.trim_far_mm == pytest.approx(20 + 25)
    assert marked.straights_mm == pytest.approx((20, 30))


@pytest.mark.outside("geometry.bend_marks", source="second-method")
def test_a_half_circle_drawn_as_two_quarters_is_one_bend():
    """A hoop of radius 0.84 m: 2.639 m of arc, the stick's last 409 mm at its ends (200 mm and half the rest)."""
    quarter = 0.84 * math.pi / 2
    marked = sheet("emt-3/4", [0.0, 0.0, 0.0], [(0.84, 90, 0), (0.84, 90, 0)], "jig")
    assert len(marked.bends) == 1
    assert marked.bends[0].bend_deg == pytest.approx(180)
    assert marked.cut_mm == pytest.approx(3048)
    worked = (3048 - 2000 * quarter) / 2
    assert marked.trim_near_mm == as_worked(worked, "mm", "what is trimmed at each end of a hoop")
    assert marked.bends[0].gain_mm is None


@pytest.mark.outside("geometry.bend_marks", "geometry.bending.offset_depth_mm", source="second-method")
def test_an_offset_is_told_by_its_depth():
    """Two 30 degree bends opposite ways: folding the axis by hand gives the depth between the level ends."""
    marked = sheet("emt-1", [0.5, 0.2, 0.5], [(0.14605, 30, 0), (0.14605, 30, 180)])
    ((first, second, depth),) = marked.offsets
    assert (first, second) == (1, 2)
    by_hand = 200 * math.sin(math.pi / 6) + 2 * 146.05 * (1 - math.cos(math.pi / 6))
    assert depth == as_worked(by_hand, "mm", "depth of two bends of 30° the opposite way", abs=1e-6)


@pytest.mark.outside("geometry.bending", source="second-method")
@given(st.floats(20, 400), st.floats(10, 60))
def test_offset_marks_fold_to_the_depth_and_end_at_the_obstacle(depth, angle):
    """Folded at its two marks by the angle, the tube reaches the depth just where the obstacle starts."""
    first, second = bending.offset_marks_mm(3000.0, depth, angle)
    reach = first + (second - first) * math.cos(math.radians(angle))
    assert reach == as_worked(3000.0, "mm", "folded at its marks: where the offset is complete")
    rise = (second - first) * math.sin(math.radians(angle))
    assert rise == as_worked(depth, "mm", "folded at its marks: depth")


def rolled(marked, steps=400):
    """Return points of the tube bent round its marks: curvature integrated in small steps, and turned by each face."""
    points = [np.zeros(3)]
    ahead, up = np.array([1.0, 0.0, 0.0]), np.array([0.0, 0.0, 1.0])
    at = marked.trim_near_mm
    ends = [*((b.start_mm, b.end_mm, b) for b in marked.bends), (marked.cut_mm - marked.trim_far_mm,) * 2 + (None,)]
    for start, end, bend in ends:
        points.append(points[-1] + ahead * (start - at))
        at = end
        if bend is None:
            break
        roll = math.radians(bend.roll_deg)
        up = up * math.cos(roll) + np.cross(ahead, up) * math.sin(roll)
        turn = (end - start) / bend.radius_mm / steps
        for _ in range(steps):
            middle = ahead * math.cos(turn / 2) + up * math.sin(turn / 2)
            points.append(points[-1] + middle * (end - start) / steps)
            ahead, up = ahead * math.cos(turn) + up * math.sin(turn), up * math.cos(turn) - ahead * math.sin(turn)
    return np.array(points)


corner = st.tuples(st.floats(5, 150), st.floats(-180, 180))


@pytest.mark.outside("geometry.bend_marks", "geometry.arcs", source="numpy")
@given(st.sampled_from(SIZES), st.lists(corner, min_size=1, max_size=4), st.data())
def test_bent_round_its_marks_a_tube_takes_the_wanted_shape(size, corners, data):
    """Marks rise, straights and arcs add up, and both ends and every corner's tangents come out as in the drawing.

    The wanted shape is built from its corners in space, the marks only from lengths and angles.
    """
    member, bender = MEMBERS[size], bender_for(size, "shoe")
    radius = bender.radius_mm / 1000
    straights = data.draw(st.lists(st.floats(0.001, 0.5), min_size=len(corners) + 1, max_size=len(corners) + 1))
    bends = [(radius, angle, roll if i else 0.0) for i, (angle, roll) in enumerate(corners)]
    made = piece(size, straights, bends)
    marked = bend_sheet(made, member, bender, stick_mm=20_000)
    assert all(a.at_mm <= b.at_mm for a, b in pairwise(marked.marks))
    assert all(0 <= m.at_mm <= marked.cut_mm for m in marked.marks)
    total = sum(marked.straights_mm) + sum(b.arc_mm for b in marked.bends)
    assert total == pytest.approx(marked.developed_mm)
    assert marked.cut_mm == pytest.approx(marked.developed_mm + marked.trim_near_mm + marked.trim_far_mm)
    assert marked.bends[0].start_mm >= bender.near_mm - 1e-6
    assert marked.cut_mm - marked.bends[-1].end_mm >= bender.far_mm - 1e-6
    points, wanted = rolled(marked), rounded(corners_of(straights, bends), radius, "wanted")
    assert wanted.length_m * 1000 == pytest.approx(marked.developed_mm, rel=1e-6)
    end = 1000 * np.array(wanted.point(wanted.length_m))
    assert end == as_worked(points[-1], "mm", "where a tube ends that is bent step by step round its marks", abs=0.05)


def corners_of(straights, bends):
    """Return the corner points of a shape in metres: each side is its straight and the reach of its corners."""
    reach = [0.0, *(r * math.tan(math.radians(a) / 2) for r, a, _ in bends), 0.0]
    ahead, up = np.array([1.0, 0.0, 0.0]), np.array([0.0, 0.0, 1.0])
    points = [np.zeros(3)]
    for i, straight in enumerate(straights):
        points.append(points[-1] + ahead * (reach[i] + straight + reach[i + 1]))
        if i < len(bends):
            _, angle, roll = (math.radians(value) for value in bends[i])
            up = up * math.cos(roll) + np.cross(ahead, up) * math.sin(roll)
            ahead, up = ahead * math.cos(angle) + up * math.sin(angle), up * math.cos(angle) - ahead * math.sin(angle)
    return [tuple(float(v) for v in point) for point in points]


@given(st.sampled_from(SIZES), st.floats(30, 180))
def test_a_bend_let_go_rests_at_its_angle_and_keeps_its_length(size, angle):
    """The tube in the bend does not grow: jig radius by bent-to angle is wanted radius by wanted angle."""
    jig = bender_for(size, "jig")
    radius = jig.radius_mm * 1.4 / 1000
    (bend,) = sheet(size, [0.3, 0.3], [(radius, angle, 0)], "jig", stick_mm=20_000).bends
    assert math.radians(bend.bend_to_deg) * bend.jig_radius_mm == pytest.approx(bend.arc_mm, rel=1e-6)
    assert bend.jig_radius_mm < bend.radius_mm
    assert bend.bend_to_deg > bend.bend_deg


@given(st.lists(st.tuples(st.floats(20, 140), st.floats(-178, 178)), min_size=2, max_size=4))
def test_a_piece_of_a_frame_knows_its_hand(corners):
    """Bends read back from a run in space have the angle and the roll, with its sign, that its corners were made by."""
    bends = [(0.15, angle, roll if i else 0.0) for i, (angle, roll) in enumerate(corners)]
    points = corners_of([0.3] * (len(bends) + 1), bends)
    joints = [Joint(f"J{i}", *point) for i, point in enumerate(points)]
    run = Run(key="bent", member="emt-1", path=tuple(joint.key for joint in joints), bend_radius_m=0.15, role="hoop")
    (made,) = cut_pieces(Frame.of(joints, [run]), (), round, float)
    assert [b.angle_deg for b in made.bends] == pytest.approx([angle for _, angle, _ in bends], abs=1e-4)
    assert [b.roll_deg for b in made.bends] == pytest.approx([roll for _, _, roll in bends], abs=1e-3)


def test_left_and_right_handed_pieces_are_not_one():
    """Two mirror images of one bent tube get two marks; the same tube elsewhere shares its mark."""
    joints, runs = [], []
    for name, side, at in (("left", 1, 0.0), ("right", -1, 3.0), ("left again", 1, 6.0)):
        shape = [(at, 0, 0), (at + 0.5, 0, 0), (at + 0.5, 0, 0.6), (at + 0.5, 0.5 * side, 0.6)]
        joints += [Joint(f"{name} {i}", *point) for i, point in enumerate(shape)]
        path = tuple(f"{name} {i}" for i in range(4))
        runs.append(Run(key=name, member="emt-1", path=path, bend_radius_m=0.15, role="hoop"))
    pieces = cut_pieces(Frame.of(joints, runs), (), round, float)
    assert sorted(piece.count for piece in pieces) == [1, 2]


BAD = {
    "straight": (
        "emt-3/4", [1.0], [], "shoe",
        r"^bends of piece H1: got 0, needs at least one\. It is straight",
    ),
    "below the published least": (
        "emt-3/4", [0.3, 0.3], [(0.09, 90, 0)], "shoe",
        r"^radius of bend 1 of piece H1: got 90, needs 114\.3 mm or more, the published least .*\. Use a larger radius",
    ),
    "wider than the shoe": (
        "emt-3/4", [0.3, 0.3], [(0.4, 90, 0)], "shoe",
        r"^radius of bend 1 of piece H1: got 400, needs 114\.3 mm, that of the hand .*\. Bend wider curves on a jig",
    ),
    "below the jig": (
        "emt-3/4", [0.3, 0.3], [(0.55, 90, 0)], "jig",
        r"^jig radius of bend 1 of piece H1: got \d+, needs 600 mm or more for the grooved .* springs back to 550 mm",
    ),
    "more than half a turn": (
        "emt-3/4", [0.3, 0.3], [(0.8, 200, 0)], "jig",
        r"^angle of bend 1 of piece H1: got 200, needs 180 degrees or less\. Make it of two pieces",
    ),
    "on the next one": (
        "emt-3/4", [0.3, -0.05, 0.3], [(0.1143, 90, 0), (0.1143, 90, 180)], "shoe",
        r"^start of bend 2 of piece H1: got 429\.5\d*, needs 479\.5\d* mm or more, where the bend before it ends\.",
    ),
    "longer than a stick": (
        "emt-3/4", [0.0, 0.0], [(0.9, 180, 0)], "jig",
        r"^straight tube for piece H1: got 3227, needs 3048 mm or less, one stick, with 200 and 200 mm of straight "
        r"ends\. Make it smaller \(a half circle up to 1686 mm wide\), couple it from two, or buy longer sticks\.$",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", BAD)
def test_what_cannot_be_bent_is_refused_in_one_sentence(name):
    """Which bend, what came, what is needed, what to do."""
    member, straights, bends, kind, said = BAD[name]
    with pytest.raises(InputError, match=said):
        sheet(member, straights, bends, kind)


def test_a_bender_for_another_tube_is_refused():
    """A shoe of the wrong size, and a member that is not bent cold."""
    made = piece("emt-1", [0.3, 0.3], [(0.14605, 90, 0)])
    with pytest.raises(InputError, match=r"^bender for piece H1: got .*3/4 in.*, needs one for emt-1\. A shoe"):
        bend_sheet(made, MEMBERS["emt-1"], bender_for("emt-3/4", "shoe"))
    with pytest.raises(InputError, match=r"^jig for bending: got 'pvc-1', needs one of emt-1/2, .*\. Add your own row"):
        bender_for("pvc-1", "jig")


def test_a_stub_or_offset_that_cannot_be_is_refused():
    """A stub lower than the shoe can hold, a jig for a stub, an offset without room."""
    member, shoe = MEMBERS["emt-3/4"], bender_for("emt-3/4", "shoe")
    with pytest.raises(InputError, match=r"^height of the stub: got 150, needs 216 mm or more .*\. Bend it longer"):
        bending.stub_arrow_mm(150, member, shoe)
    with pytest.raises(InputError, match=r"^bender for a stub: got 'grooved jig .*', needs a shoe with its take-up"):
        bending.stub_arrow_mm(500, member, bender_for("emt-3/4", "jig"))
    with pytest.raises(InputError, match=r"^angle of the offset: got 90, needs more than 0 and less than 90 degrees"):
        bending.offset_marks_mm(500, 100, 90)
    with pytest.raises(InputError, match=r"^depth of the offset: got 100, needs a depth above 0, and room for it"):
        bending.offset_marks_mm(100, 100, 20)


def test_a_readers_own_bender_takes_the_place_of_ours():
    """One row of text; a shoe without its take-up is refused by name."""
    heading = "key,label,kind,member,radius_mm,take_up_mm,near_mm,far_mm,source\n"
    mine = load_benders(heading + "mine,my bender,shoe,emt-3/4,118,152,80,45,own\n")["mine"]
    assert (mine.radius_mm, mine.take_up_mm) == (118, 152)
    with pytest.raises(InputError, match=r"^mine: take_up_mm: got nothing, needs a length: from the arrow"):
        load_benders(heading + "mine,my bender,shoe,emt-3/4,118,none,80,45,own\n")
    with pytest.raises(TableError, match=r"line 2, column radius_mm: got .*, needs a number from 20 to 5000"):
        load_benders(heading + "mine,my bender,shoe,emt-3/4,1,152,80,45,own\n")


def test_each_bent_piece_gets_the_bender_that_makes_it():
    """A shoe for its own radius, a jig for a wide curve, nothing for a straight piece; the stick may be longer."""
    tight = piece("emt-3/4", [0.3, 0.3], [(0.1143, 90, 0)], "H1")
    wide = piece("emt-3/4", [0.3, 0.3], [(0.9, 170, 0)], "H2")
    straight = piece("emt-1", [1.0], [], "P1")
    sheets = bend_sheets([straight, tight, wide], MEMBERS, {"emt-3/4": 6096})
    assert [(s.mark, s.bender.key) for s in sheets] == [("H1", "shoe-emt-3/4"), ("H2", "jig-emt-3/4")]
    with pytest.raises(InputError, match=r"^straight tube for piece H2: got 3270, needs 3048 mm or less"):
        bend_sheets([wide], MEMBERS)
    with pytest.raises(InputError, match=r"^tube to bend: got 'emt-2', needs one that a bender is listed for\."):
        bend_sheets([piece("emt-2", [0.5, 0.5], [(0.25, 90, 0)])], MEMBERS)


def test_our_benders_say_that_they_are_invented_and_keep_the_published_least():
    """Every row is marked, and no shoe is tighter than the published least radius."""
    for bender in load_benders().values():
        assert bender.source == "invented"
        assert bender.radius_mm >= MEMBERS[bender.member].min_bend_radius_mm
