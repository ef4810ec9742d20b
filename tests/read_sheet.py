"""A build sheet read back: its tables as text, and each of them held against the plan."""

import re
import xml.etree.ElementTree as ET

import pytest

from gardenframe import units

TAPE = {"metric": "mm", "us": "1/16 in"}
AREA = {"metric": "m²", "us": "ft²"}
MARK_M = {"metric": 0.001, "us": 0.0254 / 16}


def parsed(raw):
    """Return a page as a tree; a page that is not well formed is an error."""
    return ET.fromstring(raw)  # noqa: S314 - our own page


def table(page, caption):
    """Return the rows of a table as lists of text, boxes to tick left out, by its caption; [] where there is none."""
    for found in page.iter("table"):
        if "".join(found.find("caption").itertext()) == caption:
            rows = found.find("tbody").findall("tr")
            return [["".join(c.itertext()) for c in row if c.get("class") != "ticks"] for row in rows]
    return []


def number(text):
    """Return a written number as a float."""
    return float(text.replace(",", "").replace("\N{MINUS SIGN}", "-"))


def length_m(text, system):
    """Return what a written length says. [m]"""
    return units.parse(text, "length", system)


def exactly(value_m, system):
    """Return the length that a tape shows nearest to a value. [m]"""
    return pytest.approx(round(value_m / MARK_M[system]) * MARK_M[system], abs=1e-9)


def pieces_are_the_plans(plan, page, system):
    """Hold the cut list against the table of pieces."""
    *rows, total = table(page, "Pieces to cut")
    assert [row[0] for row in rows] == list(plan.pieces["mark"])
    inch = {"metric": 1.0, "us": 25.4}[system]
    for row, (_, piece) in zip(rows, plan.pieces.iterrows(), strict=True):
        assert length_m(row[3], system) == exactly(piece["cut_mm"] / 1000, system)
        assert number(row[4]) * inch == pytest.approx(piece["length_mm"], abs=0.0051 * inch + 0.05 * (inch == 1))
        assert int(row[5]) == piece["count"]
    assert int(total[-1]) == plan.pieces["count"].sum()


def sticks_are_the_plans(plan, page, system):
    """Hold the sticks against the cutting plans: number, stock and every piece."""
    for key, cutting in plan.cutting.items():
        rows = table(page, f"Sticks of {plan.shop.member(key).label}")
        assert sum(int(row[0]) for row in rows) == cutting.sticks
        cut = {}
        for times, _, content, _ in rows:
            for piece in content.split("; "):
                mark, _, long = piece.partition(" ")
                cut[mark, long] = cut.get((mark, long), 0) + int(times)
        mine = plan.pieces[plan.pieces["member"] == key]
        wanted = {(r["mark"], markless(r["cut_mm"] / 1000, system)): r["count"] for _, r in mine.iterrows()}
        assert cut == wanted


def markless(value_m, system):
    """Return a length as it stands in a table of the sheet."""
    return units.write(value_m, "length", system).removesuffix(" mm")


def bill_is_the_plans(plan, page):
    """Hold the shopping list against the bill."""
    *rows, total = table(page, "Shopping list")
    for row, (_, line) in zip(rows, plan.bill.iterrows(), strict=True):
        assert row[0].startswith(line["label"])
        assert number(row[1]) == pytest.approx(line["needed"] - line["on_hand"], rel=1e-5)
        assert (int(row[2]), row[3]) == (line["bought"], line["unit"].replace("m3", "m³"))
        assert number(row[4]) == pytest.approx(line["price"], abs=0.005001)
        assert number(row[5]) == pytest.approx(line["cost"], abs=0.005001)
    assert number(total[-1]) == pytest.approx(plan.cost.usual, abs=0.005001)


def the_rest_is_the_plans(plan, page, system):
    """Hold steps, coverings, checks, anchors, cautions and sources."""
    steps = table(page, "Steps of building")
    assert [row[1] for row in steps] == list(plan.steps["step"])
    assert [int(row[4]) for row in steps] == [round(m) for m in plan.steps["minutes"]]
    strips = table(page, "Strips of covering")
    for row, (_, one) in zip(strips, plan.coverings.iterrows(), strict=True):
        assert (row[0], int(row[2]), int(row[6])) == (one["panel"], one["strips"], one["fixings"])
        assert length_m(row[3], system) == exactly(one["strip_length_mm"] / 1000, system)
        assert number(row[5]) == pytest.approx(units.in_unit(one["area_m2"], AREA[system]), abs=0.051)
    checks = plan.checks.sort_values("ratio", ascending=False, kind="stable")
    rows = table(page, "Checks, the hardest worked first")
    assert [(row[0], row[2], row[6]) for row in rows] == list(
        checks[["check", "where", "source"]].itertuples(index=False, name=None)
    )
    for row, ratio in zip(rows, checks["ratio"], strict=True):
        assert row[5] in (f"{ratio:.2f}", "over 1.00", "over 99")
        assert ratio <= 1 or not row[5].startswith(("0", "1.00"))
    held = table(page, "What holds, and how surely")
    assert sorted(row[0] for row in held) == sorted(plan.anchors["check"])
    text = " ".join(page.find("body").itertext())
    assert [caution for caution in plan.cautions if caution not in text] == []
    named = {row[-1] for row in (*rows, *held)} | set(re.findall(r"\[([a-z0-9-]+)\]", text))
    listed = [row[0] for row in table(page, "Sources named on these pages, and how each is known")]
    assert named <= set(listed)
    assert listed == sorted(set(listed))


def sheet_is_the_plans(plan, page, system):
    """Hold every table of a sheet against the plan."""
    pieces_are_the_plans(plan, page, system)
    sticks_are_the_plans(plan, page, system)
    bill_is_the_plans(plan, page)
    the_rest_is_the_plans(plan, page, system)
