"""The live things of the first workbook, and its form of settings, without a browser."""

import dataclasses

import pytest

import gardenframe
from gardenframe import units
from gardenframe.builds import Trellis
from gardenframe.errors import TableError
from gardenframe.materials.shop import Shop
from gardenframe.materials.site import Site
from gardenframe.teaching import controls, start
from gardenframe.teaching.controls.sweep import nonsense_for
from gardenframe.teaching.settings import FILE, load_settings


@pytest.fixture(autouse=True)
def here(tmp_path, monkeypatch):
    """Return a fresh working folder."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_a_length_is_shown_on_both_tapes():
    """Worked by hand: 74 1/2 in x 25.4 = 1892.3 mm; 189 cm = 74.409 in, to a sixteenth 6 ft 2 7/16 in."""
    typed = controls.typed_length()
    typed.type("length_m", "6 ft 2 1/2 in")
    assert (typed.number("metric"), typed.number("us")) == ("1892 mm", "6 ft 2 1/2 in")
    typed.type("length_m", "189 cm")
    assert (typed.number("metric"), typed.number("us")) == ("1890 mm", "6 ft 2 7/16 in")
    typed.use("us")
    typed.type("length_m", "72")
    assert (typed.number("metric"), typed.number("us")) == ("1829 mm", "6 ft 0 in")


def test_what_cannot_be_read_stands_by_the_box_and_leaves_no_number():
    """The sentence goes when a length is there again."""
    typed = controls.typed_length()
    typed.type("length_m", "quite long")
    assert typed.error.startswith("Your length: got 'quite long', needs a length such as")
    assert "role='alert'" in typed.inputs.controls["length_m"].note.value
    assert typed.page.value == ""
    typed.type("length_m", "2 m")
    assert (typed.error, typed.number("metric")) == ("", "2000 mm")


@pytest.mark.parametrize("system", units.SYSTEMS)
def test_one_slider_is_a_whole_plan(system):
    """At both ends of the slider the page says what the package computes, in both unit systems."""
    small = controls.one_slider(Trellis, "width_m", 1.0, 3.0)
    small.use(system)
    shop = Shop(tape={"metric": "mm", "us": "1/16 in"}[system])
    slider = small.inputs.controls["width_m"].slider
    for place in (slider.min, slider.max):
        slider.value = place
        plan = gardenframe.plan(Trellis(width_m=small.values.kept["width_m"]), shop=shop)
        assert small.number("cost") == f"${plan.cost.usual:.2f}"
        assert small.number("sticks") == str(sum(cutting.sticks for cutting in plan.cutting.values()))
        assert "<svg" in small.page.value


def test_every_small_thing_answers_or_says_why():
    """Swept in both systems, nonsense typed; afterwards as before."""
    for small in (controls.typed_length(), controls.one_slider(Trellis, "width_m", 1.0, 3.0), controls.settings_form()):
        before, error = dict(small.values.kept), small.error
        swept = small.sweep()
        nonsense = sum(len(nonsense_for(field)) for field in small.values.fields.values())
        assert swept.controls == len(small.values.fields)
        assert swept.refused == 2 * nonsense  # nothing that a slider or a list offers is refused
        assert (small.values.kept, small.error) == (before, error)


def test_a_sweep_notices_a_page_that_says_nothing(monkeypatch):
    """An empty answer without a sentence is refused by name."""
    small = controls.typed_length()
    monkeypatch.setattr(small, "shows", lambda: "")
    with pytest.raises(AssertionError, match=r"^length_m: no answer and no sentence$"):
        small.sweep()


def test_a_page_without_a_kernel_shows_the_sentence():
    """Beside each live view, in words."""
    for small in (controls.typed_length(), controls.one_slider(Trellis, "width_m", 1.0, 3.0), controls.settings_form()):
        data, _ = small._repr_mimebundle_()
        assert start.SENTENCE in data["text/html"]
        assert "<img" not in data["text/html"]  # the picture stands once on the page, in its first lines
        assert data["text/plain"] == start.SENTENCE


def test_what_is_saved_in_the_form_moves_a_panel(here):
    """Tax, units and a price of one's own: saved here, read there; and the form opens with them again."""
    form = controls.settings_form()
    assert "Nothing is saved yet" in form.said.value
    form.use("us")
    form.type("tax", "25 %")
    assert "Changed, not saved yet." in form.said.value
    assert not (here / FILE).exists()
    form.save()
    assert f"Saved in {FILE}, beside the workbooks." in form.said.value
    panel = controls.panel(Trellis)
    taxed = gardenframe.plan(Trellis(), shop=Shop(tax=0.25, tape="1/16 in")).cost.usual
    assert (panel.system, panel.number("cost")) == ("us", f"${taxed:.2f}")
    again = controls.settings_form()
    assert again.inputs.controls["tax"].main.value == "25 %"
    assert again.units.value == "us"
    assert "These are the settings saved in" in again.said.value


def test_what_is_wrong_is_not_saved(here):
    """The sentence stands by its control, its heading opens, the file stays away."""
    form = controls.settings_form()
    for key, text, said in (
        ("wind", "gale", "Wind speed: got 'gale', needs a speed such as 40 m/s or 90 mph."),
        ("sticks", "emt-1", "Sticks sold: got 'emt-1', needs a name, a colon and what there is of it, once."),
        ("prices", "mine.csv", "Price table: got 'mine.csv', needs a CSV file; there is none at"),
    ):
        form.type(key, text)
        assert form.error.startswith(said)
        assert said.split("'")[0] in form.inputs.controls[key].note.value
        assert form.inputs.folds[form.values.fields[key].group].is_open
        form.save()
        assert form.said.value.startswith(f"<span role='status'>Not saved: mend {form.values.fields[key].label} first.")
        form.type(key, "40 m/s" if key == "wind" else "")
        assert form.error == ""
    assert not list(here.iterdir())


def test_our_tables_are_copied_to_be_edited_and_change_nothing_at_first(here):
    """The copy gives our plan; a cell broken in it is named by the box; a copy that is there is never written over."""
    form = controls.settings_form()
    form.own_copy("prices")
    form.own_copy("fittings")
    form.save()
    ours = Shop()
    as_own = dataclasses.replace(ours, prices=dataclasses.replace(ours.prices, own=tuple(ours.prices)))
    assert load_settings(here).shop == as_own
    mine = here / "my_prices.csv"
    mine.write_text(mine.read_text().replace(",9.00,", ",free,", 1))
    form.changed()
    assert form.error.startswith("my_prices.csv, line 2, column usual: got 'free', needs a number")
    assert "role='alert'" in form.inputs.controls["prices"].note.value
    form.own_copy("prices")
    assert ",free," in mine.read_text()
    with pytest.raises(TableError):
        load_settings(here)


def test_a_broken_file_is_said_above_the_form_until_saved(here):
    """The form opens on the defaults, says what is wrong and what saving does; the old file is kept."""
    (here / FILE).write_text('[shop]\ncuter = "hacksaw"\n')
    form = controls.settings_form()
    form.type("tax", "8 %")
    assert "line 2: got a key that is not known, cuter" in form.above.value
    assert "keeps yours as garden_settings.before.toml" in form.above.value
    form.save()
    assert form.above.value == ""
    assert "The one before is kept as garden_settings.before.toml." in form.said.value
    assert (here / "garden_settings.before.toml").read_text() == '[shop]\ncuter = "hacksaw"\n'
    assert load_settings(here).shop.tax == 0.08


def test_a_folder_that_cannot_be_written_is_said_in_the_form(tmp_path, here):
    """Above the form; nothing is called saved."""
    (here / "file").write_text("")
    form = controls.settings_form(here / "file")
    form.save()
    assert "needs a folder that can be written (Not a directory)." in form.above.value
    assert "Not saved." in form.said.value
    form.own_copy("prices")
    assert "needs a folder that can be written" in form.above.value
    assert Site() == controls.panel(Trellis).plan.site
