"""The pages of class orders and scale models: what stands there is what was planned, and the files hold all of it."""

import csv
import re
from collections import Counter

import openpyxl
import pytest

import gardenframe
from gardenframe import builds
from gardenframe.output.saved import save
from gardenframe.output.scale_model import scale_model
from gardenframe.teaching import class_results, class_tables, practice
from gardenframe.teaching.controls import class_order, model_page
from gardenframe.teaching.controls.model_page import ModelPage
from gardenframe.teaching.settings_source import Source

THREE = "alias,build,width\nFern,trellis,6 ft\nWren,trellis,2.4 m\nMoss,trellis,90 m\n"


@pytest.fixture
def page(tmp_path, monkeypatch):
    """Return the page of a class of three, one of whom cannot build, planned in a folder of its own."""
    monkeypatch.chdir(tmp_path)
    made = class_order(site=gardenframe.Site(), shop=gardenframe.Shop())
    made.list.value = THREE
    made.plan()
    return made


def rows_of(folder, name):
    """Return the rows of a CSV file that was written."""
    with (folder / "my_class" / name).open(encoding="utf-8-sig", newline="") as file:
        return list(csv.DictReader(file))


def test_the_page_shows_what_was_planned(page):
    """Cost, sticks and shares are the order's; the bad line stands in a heading of its own."""
    assert page.error == ""
    assert f"<strong id='gf-class-sticks'>{page.order.sticks}</strong>" in page.numbers.value
    assert f"${page.order.cost.usual:,.2f}" in page.numbers.value
    for kit in page.order.kits:
        assert f">{page.order.shares[kit.number]:.2f}<" in page.pages["kits"].value
    assert "line 4, column width" in page.pages["problems"].value
    assert page.folds["problems"].box.layout.display is None
    assert page.which.options == (("1 Fern", 1), ("2 Wren", 2))
    page.which.value = 2
    assert "2-P1" in page.pages["kit"].value


def test_a_kit_is_handed_out_in_words(page):
    """Coverings by their labels, in the reader's units; paint by the ends it is for, never as so many cans."""
    kit = page.pages["kit"].value
    every = "".join(one.value for one in page.pages.values()) + class_results.printed(page.order, "us")
    assert "1524 mm wide" in kit
    assert "trellis netting 150 mm" in kit
    assert "trellis-net-150" not in every
    assert re.search(r"paint for \d+ cut ends<", kit)
    assert "(one can" not in kit
    assert "5 ft 0 in wide" in class_results.kit_page(page.order, 1, "us")
    wire = page.order.shop.prices.price("tie-wire")
    assert class_results.measured(wire, 3.048) == "3.048 m (10 ft) of tie wire, galvanised 1.6 mm"
    soil = page.order.shop.prices.price("soil-mix-m3")
    assert class_results.measured(soil, 0.764555) == "0.765 m³ (27 ft³) of bed soil mix, delivered"  # a cubic yard


def test_a_kit_names_nothing_of_which_it_takes_none(page):
    """A short grow stand needs no union in its drain: its list does not speak of 0 of them."""
    page.list.value = "alias,build\nFern,grow stand\n"
    page.plan()
    assert any(need.number == 0 for need in page.order.kits[0].goods)
    assert not re.search(r">0 ", page.pages["kit"].value.partition("</table>")[2])


def test_rolls_are_cut_by_the_page_as_they_were_planned(page):
    """Every strip of every kit lies on a roll of the page, and the printed pages have it too."""
    told = class_results.rolls_page(page.order, "metric")
    rows = [re.findall(r"<td[^>]*>(.*?)</td>", row) for row in re.findall(r"<tr>(.*?)</tr>", told, re.DOTALL)]
    cut = Counter()
    for _, _, times, strips in (row for row in rows if row):
        for many, length in re.findall(r"(\d+) × (\d+)", strips):
            cut[int(length)] += int(times) * int(many)
    asked = Counter()
    for kit in page.order.kits:
        for lengths in kit.strips.values():
            asked.update(lengths)
    assert cut == asked
    assert told in page.pages["cutting"].value
    assert told in class_results.printed(page.order, "metric")


def test_a_class_of_one_is_told_as_one(page):
    """One kit, not 1 kits."""
    page.list.value = "alias,build\nFern,trellis\n"
    page.plan()
    assert "<p>1 kit, 8 pieces, 4 sticks;" in class_results.printed(page.order, "metric")


def test_settings_that_cannot_be_read_leave_a_sentence_and_no_number(tmp_path, monkeypatch):
    """A file of settings that somebody broke after the class was planned: no cost of the settings before it stays."""
    monkeypatch.chdir(tmp_path)
    made = class_order()
    made.list.value = THREE
    made.plan()
    assert made.numbers.value
    (tmp_path / "garden_settings.toml").write_text("[shop")
    made.plan_button.click()
    assert made.error.startswith("garden_settings.toml, line 1: got text that is not TOML")
    assert made.numbers.value == ""
    assert made.order is None


def test_a_list_that_cannot_be_planned_leaves_a_sentence_and_no_number(page):
    """So does a surprise; a list that was only changed is told to be planned again."""
    page.list.value = "alias,build\nFern,shed\n"
    assert "plan the class again" in page.said.value
    page.plan()
    assert "column build: got" in page.said.value
    assert page.numbers.value == ""
    assert all(part.value == "" for part in page.pages.values())
    page.write()
    assert "plan the class first" in page.said.value


def test_the_files_hold_every_piece_stick_and_share(page, tmp_path):
    """Kits, sheets and bill add up; the pages to print name every mark and fetch nothing; a spreadsheet has it all."""
    page.write()
    order = page.order
    cut = [row["Mark"] for row in rows_of(tmp_path, "cutting.csv") if row["Kit"] != "left over"]
    asked = Counter()
    for row in rows_of(tmp_path, "pieces.csv"):
        asked[row["Mark"]] += int(row["Count"])
    assert Counter(cut) == asked
    assert sum(asked.values()) == order.pieces
    shares = sum(float(row["Share (USD)"]) for row in rows_of(tmp_path, "kits.csv"))
    assert shares == pytest.approx(sum(float(row["Cost (USD)"]) for row in rows_of(tmp_path, "bill.csv")), abs=0.006)
    assert len(rows_of(tmp_path, "not-planned.csv")) == 1
    printed = (tmp_path / "my_class" / "class.html").read_text(encoding="utf-8")
    assert all(mark in printed for mark in asked)
    assert not re.search(r"https?://|<script|<link", printed)
    book = openpyxl.load_workbook(tmp_path / "my_class" / "class.xlsx")
    assert book.sheetnames == [table.key for table in class_tables.tables_of(order)]
    assert book["cutting"].max_row == len(rows_of(tmp_path, "cutting.csv")) + 1


def test_each_stick_of_the_written_sheet_ends_where_its_pieces_do(page, tmp_path):
    """Pieces follow each other a kerf apart, read from the file alone."""
    page.write()
    at = {}
    for row in rows_of(tmp_path, "cutting.csv"):
        stick = (row["Member"], row["Stick"])
        if row["Kit"] != "left over":
            at[stick] = at.get(stick, -1.0) + 1.0 + float(row["Length (mm)"])
            assert float(row["Ends at (mm)"]) == pytest.approx(at[stick])
            assert at[stick] <= float(row["Stick (mm)"])


def test_units_change_the_tape_and_plan_again(page):
    """In feet and inches pieces are cut to sixteenths."""
    page.units.value = "us"
    assert page.order.shop.tape == "1/16 in"
    assert "6 ft" in page.pages["kit"].value
    assert page.error == ""


def test_strength_is_shown_where_it_is_asked_for(page):
    """The column of the hardest check is there then, and not before."""
    assert "Hardest check" not in page.pages["kits"].value
    page.strength.value = True
    page.plan()
    assert "Hardest check" in page.pages["kits"].value
    assert all(kit.hardest for kit in page.order.kits)


def test_what_is_left_over_in_packs_is_what_was_bought_beyond_the_need(page):
    """Ties come by the hundred: bought less needed is told."""
    told = class_results.leftovers_page(page.order, "metric")
    row = next(row for row in page.order.bill_rows if row.item.startswith("tie"))
    more = row.bought * page.order.shop.prices.price(row.item).pack - row.needed
    assert f"{more:.4g} × {row.label}" in told


def test_a_model_page_holds_what_the_model_has(tmp_path, monkeypatch):
    """Numbers of the page are the model's; saved builds stand in the list; the sheets are written once asked for."""
    monkeypatch.chdir(tmp_path)
    save(builds.Trellis(bays=3), "Beans", tmp_path / "my_builds")
    page = ModelPage(Source(gardenframe.Site(), gardenframe.Shop()), tmp_path)
    page.values.set("build", "saved 0")
    page.type("scale", "12")
    model = scale_model(gardenframe.plan(builds.Trellis(bays=3), live=True), 12)
    assert page.number("straws") == str(model.number)
    assert page.number("joints") == str(model.joints_made)
    page.type("scale", "1")
    assert page.number("straws") == ""
    page.write()
    assert "Nothing was written" in page.said.value
    page.type("scale", "12")
    page.write()
    assert "one to 12" in (tmp_path / "my_models" / "trellis-1-to-12.html").read_text(encoding="utf-8")


def test_every_control_of_a_model_page_can_be_moved():
    """Both ends in both systems, and nonsense: a model or one sentence."""
    assert model_page(site=gardenframe.Site(), shop=gardenframe.Shop()).sweep().controls == 3


@pytest.mark.parametrize("question", [*practice.CLASS, *practice.MODEL], ids=lambda question: question.key)
def test_questions_know_their_answers_and_slips(question):
    """In both unit systems: the answer is right, each slip is told by its name."""
    for seed in range(25):
        for system in ("metric", "us"):
            asked = question.drawn(seed, system)
            assert asked.judge(asked.written(asked.answer)).right
            assert list(question.working(asked.numbers, system))


def test_sticks_saved_worked_by_hand():
    """Five people, each 5 pieces of 1 m from 3.048 m: 3 to a stick; alone 2 each, 10; together 25 / 3, 9; 1 saved."""
    numbers = {"people": 5, "each": 5, "length_m": 1.0, "stick_m": 3.048}
    assert practice.PACKED.answer(numbers) == 1
    assert practice.SHARED.answer(
        {"mine_price": 50.0, "second_price": 30.0, "third_price": 20.0, "together_price": 80.0}
    ) == pytest.approx(40.0)
