"""Keep it and print it: saved builds in every list to start from, files at a button, and nothing written unasked."""

import json

import pytest

from gardenframe import Site
from gardenframe.builds import Trellis
from gardenframe.output.offered import FOLDER, OFFERED
from gardenframe.output.saved import load, save
from gardenframe.teaching import controls
from gardenframe.teaching.controls.keep import SAVED


@pytest.fixture
def panel(tmp_path, monkeypatch):
    """Return a trellis's panel in an empty folder."""
    monkeypatch.chdir(tmp_path)
    return controls.panel(Trellis, opened=())


def test_nothing_is_written_before_a_button_is_pressed(panel, tmp_path):
    """A panel that is made, moved and switched leaves the folder as it was."""
    panel.type("width_m", "1.5 m")
    panel.use("us")
    panel.keeper.fold.open()
    assert list(tmp_path.iterdir()) == []


def test_a_saved_build_is_in_the_list_of_this_and_the_next_panel(panel, tmp_path):
    """Saved, changed, started from again: the value is the one typed, to the last bit."""
    panel.type("width_m", "1.5 m")
    panel.keeper.name.value = "North side"
    panel.keeper.save_button.click()
    place = tmp_path / FOLDER / "trellis.north-side.build.json"
    assert "Saved as" in panel.keeper.said.value
    assert f"{FOLDER}/{place.name}" in panel.keeper.said.value
    assert load(place).build == panel.plan.build
    assert panel.begin.value == f"{SAVED}North side"
    for one in (panel, controls.panel(Trellis, opened=())):
        one.start_from(next(iter(Trellis.examples)))
        assert one.values.kept["width_m"] != 1.5
        one.start_from(f"{SAVED}North side")
        assert one.values.kept["width_m"] == 1.5
        assert one.begin.value == f"{SAVED}North side"


def test_a_saved_build_that_was_changed_by_hand_counts_at_once(panel, tmp_path):
    """An editor writes into the file that is there: the panel reads it again, or says that it cannot."""
    panel.keeper.name.value = "North side"
    panel.keeper.save_button.click()
    (place,) = (tmp_path / FOLDER).iterdir()
    before = place.read_text(encoding="utf-8")
    place.write_text(before.replace('"bays": 2', '"bays": 3'), encoding="utf-8")
    panel.refresh()
    panel.start_from(f"{SAVED}North side")
    assert panel.values.kept["bays"] == 3
    place.write_text(before[:40], encoding="utf-8")
    panel.refresh()
    assert "needs a whole saved build" in panel.unreadable.value
    assert f"{SAVED}North side" not in panel.begin.options


def test_a_name_that_is_taken_is_asked_about_and_then_replaced(panel, tmp_path):
    """The first stays until the second button is pressed; another name hides that button again."""
    keeper = panel.keeper
    keeper.save_button.click()
    (place,) = (tmp_path / FOLDER).iterdir()
    before = place.read_bytes()
    panel.type("width_m", "1.5 m")
    keeper.save_button.click()
    assert "needs a name that no saved build of this kind has" in keeper.said.value
    assert place.read_bytes() == before
    assert keeper.replace_button.layout.display is None
    keeper.replace_button.click()
    assert load(place).build.width_m == 1.5
    assert keeper.replace_button.layout.display == "none"
    keeper.name.value = "//"
    keeper.save_button.click()
    assert "name: got &#x27;//&#x27;, needs 1 to 60 letters" in keeper.said.value
    assert list((tmp_path / FOLDER).iterdir()) == [place]


def test_broken_and_newer_files_are_one_sentence_each_and_stay(panel, tmp_path):
    """The panel lists what it can read, says what it cannot, and a file mended by its maker comes back."""
    good = save(Trellis(width_m=1.4), "Good", tmp_path / FOLDER)
    newer = json.loads(good.place.read_text(encoding="utf-8")) | {"version": 99}
    (tmp_path / FOLDER / "trellis.newer.build.json").write_text(json.dumps(newer), encoding="utf-8")
    (tmp_path / FOLDER / "trellis.torn.build.json").write_text('{"gardenframe": "saved', encoding="utf-8")
    (tmp_path / FOLDER / "hoop_house.torn.build.json").write_text("{", encoding="utf-8")
    files = {path: path.read_bytes() for path in (tmp_path / FOLDER).iterdir()}
    panel.refresh()
    assert panel.unreadable.value.count("<p ") == 2  # that of another build is told by its own workbook
    assert (
        "trellis.newer.build.json, version: got 99, needs 1. It is from a newer gardenframe" in panel.unreadable.value
    )
    assert "trellis.torn.build.json, line 1: got text that stops short" in panel.unreadable.value
    assert panel.error == ""
    assert [name for name in panel.begin.options if name.startswith(SAVED)] == [f"{SAVED}Good"]
    assert {path: path.read_bytes() for path in (tmp_path / FOLDER).iterdir()} == files
    for name in ("trellis.newer.build.json", "trellis.torn.build.json"):
        (tmp_path / FOLDER / name).unlink()
    panel.refresh()
    assert panel.unreadable.value == ""


def test_the_build_sheet_is_written_from_the_proved_plan_in_the_readers_units(panel, tmp_path):
    """Its button says where the file lies; what is offered to open is that file."""
    sent = []
    panel.keeper.opener.send = sent.append
    panel.use("us")
    panel.keeper.name.value = "Beans"
    panel.keeper.buttons["Build sheet"].click()
    place = tmp_path / FOLDER / "trellis.beans.sheet.html"
    assert f"Build sheet written: {FOLDER}/{place.name}." in panel.keeper.said.value
    page = place.read_text(encoding="utf-8")
    assert "6 ft 0 1/16 in" in page
    assert not panel.plan.live
    assert sent[-1]["page"] == page
    assert len(panel.keeper.buttons) == len(OFFERED)


def test_while_something_is_wrong_nothing_is_written(panel, tmp_path):
    """The buttons go with the results; pressed all the same, they say so."""
    panel.type("width_m", "rubbish")
    panel.keeper.save()
    panel.keeper.write(OFFERED[0])
    assert "Nothing was written" in panel.keeper.said.value
    assert list(tmp_path.iterdir()) == []


def test_a_file_that_cannot_be_written_is_one_sentence(panel, tmp_path):
    """Where the folder's name is taken by a file, both buttons say what is there and what is needed."""
    (tmp_path / FOLDER).write_text("mine")
    panel.keeper.save_button.click()
    assert "needs a folder that can be written" in panel.keeper.said.value
    panel.keeper.buttons["Build sheet"].click()
    assert "needs a folder that can be written" in panel.keeper.said.value
    assert (tmp_path / FOLDER).read_text() == "mine"


def test_the_site_is_saved_where_the_panel_has_controls_of_it(tmp_path, monkeypatch):
    """Wind typed, saved, moved away and started from again: the wind comes back too; elsewhere none is saved."""
    monkeypatch.chdir(tmp_path)
    windy = controls.panel(Trellis, extra=(controls.site_controls(),), opened=())
    windy.type("wind", "31 m/s")
    windy.keeper.name.value = "Windy"
    windy.keeper.save()
    kept = load(tmp_path / FOLDER / "trellis.windy.build.json")
    assert kept.site == Site(wind_m_per_s=31.0)
    windy.start_from(next(iter(Trellis.examples)))
    windy.type("wind", "20 m/s")
    windy.type("width_m", "1.2 m")
    windy.start_from(f"{SAVED}Windy")
    assert windy.plan.site.wind_m_per_s == 31.0
    plain = controls.panel(Trellis, opened=())
    plain.keeper.name.value = "Plain"
    plain.keeper.save()
    assert load(tmp_path / FOLDER / "trellis.plain.build.json").site is None
