"""Build sheets without a browser: well formed, fetching nothing, and every number of their tables the plan's own."""

import re
from dataclasses import replace
from datetime import date
from functools import lru_cache

import pytest
from hypothesis import given
from hypothesis import strategies as st
from read_sheet import TAPE, exactly, length_m, parsed, sheet_is_the_plans, table

import gardenframe
from gardenframe import Shop, Site, builds
from gardenframe.costs.carrying import parts_to_carry
from gardenframe.errors import InputError
from gardenframe.output import markup
from gardenframe.output.offered import FOLDER, OFFERED, write_sheet
from gardenframe.output.sheet import build_sheet
from gardenframe.output.sticks import shop_cuts, stick_rows

DAY = date(2025, 3, 31)
KINDS = list(builds.ALL)
EXAMPLES = [(key, name) for key in KINDS for name in list(builds.ALL[key].examples)[:2]]


@lru_cache(maxsize=4)
def sheet_of(key, system, example="", carried_mm=None):
    """Return a live plan and its parsed sheet."""
    kind = builds.ALL[key]
    shop = Shop(tape=TAPE[system], carried_mm=carried_mm)
    plan = gardenframe.plan(kind(**kind.examples.get(example, {})), Site(), shop, live=True)
    return plan, parsed(build_sheet(plan, system, name=example or kind.title, written_on=DAY))


# --- two examples of every build, one in each unit system


@pytest.mark.parametrize(("key", "example"), EXAMPLES, ids=str)
def test_the_sheet_of_examples_is_well_formed_and_says_what_its_plan_says(key, example):
    """Pieces, sticks, bill, steps, coverings, checks and anchors, row by row, in turn in both unit systems."""
    system = ("metric", "us")[EXAMPLES.index((key, example)) % 2]
    plan, page = sheet_of(key, system, example)
    sheet_is_the_plans(plan, page, system)


@pytest.mark.parametrize("system", TAPE)
def test_every_part_that_a_person_needs_is_there(system):
    """Headings in their order; the list before building names fence, footing, boundary, rules and services."""
    _, page = sheet_of("trellis", system)
    wanted = [
        "cautions", "before", "buy", "shopcuts", "drawings", "cuts", "cutting", "fittings", "coverings", "steps",
        "limits", "chosen", "checks", "anchors", "care", "working", "sources",
    ]  # fmt: skip
    assert [section.get("id") for section in page.iter("section")] == wanted
    before = next(" ".join(s.itertext()) for s in page.iter("section") if s.get("id") == "before")
    for word in (
        "Fence height",
        "Footing",
        "Boundary",
        "Landlord",
        "garden rules",
        "Buried",
        "Overhead",
        "No legal limit",
    ):
        assert word in before
    assert len(list(page.iter("{http://www.w3.org/2000/svg}svg"))) >= 3  # picture, drawing, cutting plan


@pytest.mark.parametrize(("key", "opens"), [("cold_frame", True), ("trellis", False)])
def test_a_gust_limit_says_that_lids_are_taken_as_shut(key, opens):
    """On the first page and beside the limits, only where something opens."""
    _, page = sheet_of(key, "metric")
    leads = ["".join(p.itertext()) for p in page.iter("p") if p.get("class") == "lead"]
    told = [text for text in leads if "forecast gust" in text or "No gust" in text]
    assert len(told) == 2
    assert all(("All that opens is taken as shut and latched." in text) == opens for text in told)


def test_under_a_roof_nothing_is_said_of_wind():
    """A stand that tips is tied; no covering comes off and no sheltered place is looked for."""
    kind = builds.ALL["grow_stand"]
    tips = next(name for name in kind.examples if "castors" in name)
    _, page = sheet_of("grow_stand", "metric", tips)
    told = next(t for p in page.iter("p") if (t := "".join(p.itertext())).startswith("Look again") and "checks" in t)
    assert told.endswith("Change the build, or tie it to something that holds.")


def test_under_a_roof_other_things_are_settled_first():
    """A build for indoors asks about floor and power, not about frost and neighbours."""
    indoors = [key for key, kind in builds.ALL.items() if kind.indoors]
    for key in indoors:
        before = next(
            " ".join(s.itertext()) for s in sheet_of(key, "metric")[1].iter("section") if s.get("id") == "before"
        )
        assert "Floor:" in before
        assert "Fence height" not in before


def test_bent_pieces_have_their_sheets():
    """Each bend sheet of the plan is a drawing under its heading, which says what to cut."""
    plan, page = sheet_of("walkway_arch", "metric")
    bends = next(s for s in page.iter("section") if s.get("id") == "bends")
    said = [" ".join(svg.itertext()) for svg in bends.iter("{http://www.w3.org/2000/svg}svg")]
    assert len(said) == len(plan.bend_sheets) > 0
    for text, sheet in zip(said, plan.bend_sheets, strict=True):
        assert f"Cut {sheet.cut_mm:.0f} mm straight" in text


def test_the_arithmetic_is_text_that_prints_without_a_network():
    """Every step of the plan's working, symbols set plainly; no address, script or markup of a typesetter anywhere."""
    plan, page = sheet_of("trellis", "metric")
    text = " ".join("".join(p.itertext()) for p in page.iter("p"))
    for steps in plan.worked("metric").values():
        for step in steps:
            assert step.lines[-1].replace("_", "") in text.replace("_", "")
    raw = build_sheet(plan, "metric")
    assert re.findall(r"https?://(?!www\.w3\.org/2000/svg)|<script|<link|<img|url\(|@import|\\\\", raw) == []


def test_what_stands_below_a_symbol_is_set_below_it_also_where_a_power_follows():
    """The wind through a vent has v_s² and v_w in it: no underscore is left."""
    _, page = sheet_of("hoop_house", "metric")
    steps = [p for p in page.iter("p") if "vent-flow" in "".join(p.itertext())]
    assert any(sub.text == "s" and (sub.tail or "").startswith("²") for p in steps for sub in p.iter("sub"))
    assert not any("_" in "".join(p.itertext()) for p in steps)


def test_what_a_reader_types_as_a_name_stays_a_name():
    """Markup and style in a name are text on the page, in its title and at the foot of every page."""
    name = "</style><script>alert('6\" tube')</script> & \\ \n beans\x00"
    plan, _ = sheet_of("trellis", "metric")
    raw = build_sheet(plan, "metric", name=name)
    page = parsed(raw)
    assert "<script" not in raw
    assert raw.count("</style>") == 1
    assert "".join(page.find(".//h1").itertext()).startswith("</style><script>alert('6\" tube')")


def test_a_live_plan_whose_cutting_is_not_proven_says_so():
    """The sheet never claims a proof that is not there."""
    plan, _ = sheet_of("trellis", "metric")
    fresh = gardenframe.plan(plan.build, plan.site, plan.shop, live=True)
    fresh.__dict__["cutting"] = {key: replace(c, proven=False) for key, c in plan.cutting.items()}
    text = build_sheet(fresh, "metric")
    assert "a cheaper one is not ruled out" in text
    assert "No plan buys less" not in text


# --- cuts at the shop


@given(
    st.lists(st.integers(50, 1500), min_size=1, max_size=8),
    st.integers(0, 3),
    st.integers(0, 2500),
    st.integers(1500, 3500),
)
def test_parts_that_are_carried_hold_every_piece_and_nothing_is_lost(pieces, kerf, left, longest):
    """No part with a piece is longer than can be carried; parts and the kerfs between them make up the stick."""
    stock = sum(piece + kerf for piece in pieces) + left
    parts = parts_to_carry(stock, pieces, kerf, longest)
    assert sorted(at for part in parts for at in part.pieces) == list(range(len(pieces)))
    assert all(part.length <= longest for part in parts if part.pieces)
    spent = sum(part.length for part in parts) + kerf * (len(parts) - 1)
    assert stock - kerf <= spent <= stock  # a last kerf that leaves nothing is no part
    for part in parts:
        inside = [pieces[at] for at in part.pieces]
        assert part.length >= sum(inside) + kerf * (len(inside) - 1) if inside else part.length > 0
    fits_in = -(-stock // longest)
    assert len(parts) >= fits_in or stock - kerf <= longest * fits_in


def test_a_stick_that_can_be_carried_is_not_cut_at_the_shop():
    """By hand: 3048 with 1800 and 900 carried to 2000 is cut once, at 1800; carried to 3048, never."""
    assert [(part.pieces, part.length) for part in parts_to_carry(3048, (1800, 900), 1, 2000)] == [
        ((0,), 1800),
        ((1,), 1247),
    ]
    assert len(parts_to_carry(3048, (1800, 900), 1, 3048)) == 1
    # 2147 left over is too long for a car of 1000: it is named as a part of its own
    assert [part.length for part in parts_to_carry(3048, (900,), 1, 1000)] == [900, 2147]


@pytest.mark.parametrize("system", TAPE)
def test_cuts_at_the_shop_make_every_piece_of_the_cutting_plan(system):
    """Carried to 1.83 m: every stick of the plan is there, its cuts in order, its pieces in the parts."""
    plan, page = sheet_of("trellis", system, "", 1830.0)
    cuts, rows = shop_cuts(plan), table(page, "Cuts at the shop, before all others")
    assert [int(row[0]) for row in rows] == [cut.times for cut in cuts]
    assert sum(cut.times for cut in cuts) == sum(c.sticks for c in plan.cutting.values())
    for row, cut in zip(rows, cuts, strict=True):
        assert [length_m(text, system) for text in row[3].split(", ")] == [exactly(at, system) for at in cut.cuts_m]
        assert all(long <= 1.83 for long, _ in cut.parts)
    marks = sorted(m for cut in cuts for _, ms in cut.parts for m in ms * cut.times)
    assert marks == sorted(m for k in plan.cutting for _, ps, _, n in stick_rows(plan, k) for m, _ in ps * n)
    assert "Have every stick cut to at most 1.83 m (6 ft 0 1/16 in)" in " ".join(plan.steps["step"])


# --- files


def test_the_sheet_is_written_beside_the_saved_build_of_its_name(tmp_path):
    """Its file's name is made from the name; one that is there is replaced whole."""
    plan, _ = sheet_of("trellis", "metric")
    folder = tmp_path / FOLDER
    place = write_sheet(plan, folder, "Bean row, north side", "metric")
    assert place == folder / "trellis.bean-row-north-side.sheet.html"
    first = place.read_bytes()
    assert b"Bean row, north side" in first
    assert write_sheet(plan, folder, "bean ROW north side", "metric") == place
    assert [path.name for path in folder.iterdir()] == [place.name]
    assert any(offer.write is write_sheet for offer in OFFERED)


def test_a_name_or_folder_that_cannot_be_used_is_one_sentence(tmp_path):
    """Nothing is written."""
    plan, _ = sheet_of("trellis", "metric")
    with pytest.raises(InputError, match=r"^name: got '//', needs 1 to 60 letters, figures and spaces\."):
        write_sheet(plan, tmp_path, "//", "metric")
    (tmp_path / "taken").write_text("a file")
    with pytest.raises(
        InputError, match=r"^folder: got .*, needs a folder that can be written .*Nothing was changed\.$"
    ):
        write_sheet(plan, tmp_path / "taken", "Beans", "metric")
    assert [path.name for path in tmp_path.iterdir()] == ["taken"]


def test_many_boxes_become_one():
    """Twelve pieces have a box each, six to a line; thirteen have one for all."""
    assert markup.boxes(12).count("tick") == 12
    assert markup.boxes(12).count("<br/>") == 1
    assert markup.boxes(13).count("tick") == markup.boxes(1).count("tick") == 1
