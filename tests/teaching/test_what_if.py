"""The panels of comparisons and of own frames: what stands on the page is what was worked out, or one sentence."""

import gardenframe
from gardenframe import builds
from gardenframe.builds.own_frame import OwnFrame
from gardenframe.studies import compare
from gardenframe.teaching import controls

GIVEN = {"site": gardenframe.Site(), "shop": gardenframe.Shop()}


def test_a_comparison_is_on_the_page_and_three_are_kept():
    """Costs of the study on the page; kept ones stay as the build moves on; the life that was set counts."""
    panel = controls.what_if(builds.Trellis, **GIVEN, opened=())
    panel.set("groups", (compare.JOINED,))
    panel.open("compare")
    page = panel.shown.pages["compare"].value
    for one in compare.compare(panel.plan, (compare.JOINED,)):
        assert f">{one.cost.usual:,.0f}</td>" in page
        assert f"{one.a_season:,.2f}" in page
    panel.keep("A")
    panel.set("tube", "emt-3/4")
    panel.keep("B")
    kept = panel.shown.pages["kept"].value
    for fields in ({}, {"tube": "emt-3/4"}):
        assert f"${gardenframe.plan(builds.Trellis(**fields)).cost.usual:,.2f}" in kept
    assert "EMT 3/4 in" in kept
    panel.set("emt_seasons", 5.0)
    mine = compare.compare(panel.plan, ())[0]
    net = sum(row.cost for row in mine.plan.bill_rows if row.item.startswith("roll-"))
    assert f"{net / 2 + (mine.cost.usual - net) / 5:,.2f}" in panel.shown.pages["compare"].value
    panel.forget()
    assert "Press Keep as A" in panel.shown.pages["kept"].value


def test_a_wrong_size_blanks_the_comparison():
    """One sentence, no number; the progress bar is gone."""
    panel = controls.what_if(builds.Trellis, **GIVEN, opened=("prices",))
    panel.type("width_m", "wide")
    assert panel.error
    assert panel.shown.pages["prices"].value == ""
    panel.keep("A")
    assert panel.kept == {}
    assert panel.progress.layout.display == "none"


def test_one_choice_of_build_types_shows_each():
    """The second is made when it is first chosen."""
    both = controls.what_ifs({key: builds.ALL[key] for key in ("trellis", "walkway_arch")}, **GIVEN, opened=())
    assert list(both.made) == ["trellis"]
    both.choice.value = "walkway_arch"
    assert both.panel.kind is builds.ALL["walkway_arch"]
    assert both.panel.error == ""


def test_tables_are_taken_edited_written_and_read(tmp_path, monkeypatch):
    """From a build into the boxes, into files, and a file's name in a box is its table."""
    monkeypatch.chdir(tmp_path)
    panel = controls.own_frame(**GIVEN, opened=(), folder=tmp_path)
    panel.take_from("cold_frame", next(iter(builds.ALL["cold_frame"].examples)))
    assert "Left out, since it moves: lid 1, lid 2" in panel.said.value
    panel.start_from(next(iter(OwnFrame.examples)))
    panel.name.value = "screen"
    panel.write()
    assert "screen_joints.csv, screen_runs.csv, screen_coverings.csv" in panel.said.value
    cost = panel.number("cost")
    panel.type("runs", "screen_runs.csv")
    assert panel.number("cost") == cost
    panel.type("runs", "no_such_file.csv")
    assert "no_such_file.csv" in panel.error
    assert panel.number("cost") == ""
    panel.write()
    assert "Nothing was written" in panel.said.value
