"""The settings file: saved and read again exactly, and one sentence for each way to break it by hand."""

import tomllib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import gardenframe
from gardenframe import tables
from gardenframe.builds import Trellis
from gardenframe.builds.fields import FieldError
from gardenframe.errors import InputError, TableError
from gardenframe.materials.shop import Shop
from gardenframe.materials.site import Site
from gardenframe.output import files
from gardenframe.teaching import controls, settings_fields
from gardenframe.teaching.controls import sweep
from gardenframe.teaching.settings import FILE, Settings, load_settings, save_settings
from gardenframe.teaching.settings_text import quoted

FIELDS = {field.key: field for field in settings_fields.fields()}
DEFAULTS = dict(Settings().values)
PRICED = "item,label,unit,pack,low,usual,high,currency,priced_on,source\nemt-1,none,none,none,1,{},300,none,none,none\n"


def write(folder, text):
    """Write a settings file by hand."""
    (folder / FILE).write_text(text, encoding="utf-8")


def test_without_a_file_everything_is_as_shipped(tmp_path):
    """Site and shop are those of a plan made with no arguments."""
    found = load_settings(tmp_path)
    assert (found.system, found.site, found.shop, found.where) == ("metric", Site(), Shop(), None)
    assert not list(tmp_path.iterdir())


def test_what_is_saved_is_read_by_everyone(tmp_path):
    """Every field of site and shop; the file is TOML that another program reads too."""
    chosen = {
        "wind": 40.2336, "wind_kind": "forecast", "exposure": "C", "shelter": "open", "ground_snow": 1197.0,
        "soil": "sand", "latitude": -37.5, "longitude": 144.25, "cutter": "chop saw", "own_kerf": True,
        "kerf": 0.0015875, "trim": 0.005, "short_pieces": True, "carried": 6 * 0.3048, "tax": 0.0825, "spares": 0.1,
        "sticks": "emt-1: 10 ft, 20 ft; emt-3/4: 3 m", "on_hand": "tie-200: 2",
        "leftovers": "emt-1: 3 x 1200 mm, 4 ft 2 in",
    }  # fmt: skip
    saved = save_settings(DEFAULTS | chosen, "us", tmp_path)
    found = load_settings(tmp_path)
    assert found == saved
    assert found.where == tmp_path / FILE
    assert found.site == Site(
        wind_m_per_s=40.2336, wind_kind="forecast", exposure="C", shelter="open", ground_snow_pa=1197.0, soil="sand",
        latitude_deg=-37.5, longitude_deg=144.25,
    )  # fmt: skip
    shop = found.shop
    assert (shop.cutter, shop.kerf, shop.trim_mm, shop.carried_mm) == ("chop saw", 1.5875, 5.0, 6 * 0.3048 * 1000)
    assert (shop.tape, shop.tax, shop.spares) == ("1/16 in", 0.0825, 0.1)
    assert shop.sticks == {"emt-1": (3048, 6096), "emt-3/4": (3000,)}
    assert shop.on_hand == {"tie-200": 2}
    assert shop.leftovers == {"emt-1": {1200: 3, 1270: 1}}  # 50 x 25.4
    plain = tomllib.loads((tmp_path / FILE).read_text(encoding="utf-8"))
    assert plain["site"]["wind"] == "90 mph"
    assert plain["shop"]["carried"] == "6 ft 0 in"
    assert plain["shop"]["trim"] == "5 mm"


@settings(max_examples=40)
@given(st.data())
def test_any_setting_that_a_control_can_reach_is_kept_exactly(tmp_path_factory, data):
    """Saved and read, every value is the same float in either system."""
    folder = tmp_path_factory.mktemp("kept")
    chosen = {}
    for key, field in FIELDS.items():
        if field.kind == "choice":
            chosen[key] = data.draw(st.sampled_from([value for value, _ in field.choices]))
        elif field.kind == "flag":
            chosen[key] = True
        elif field.kind != "text":
            chosen[key] = data.draw(st.floats(field.low, field.high))
    save_settings(DEFAULTS | chosen, data.draw(st.sampled_from(["metric", "us"])), folder)
    assert load_settings(folder).values == DEFAULTS | chosen


@given(st.text(max_size=30))
def test_text_in_quotes_is_toml(text):
    """Whatever is in a path or a name, another reader of TOML gets it back."""
    clean = text.encode("utf-8", "ignore").decode()
    assert tomllib.loads(f"a = {quoted(clean)}") == {"a": clean}


BROKEN = [
    ('units = "metric', 1, "got text that is not TOML (", "Write one `key = value` a line, text in quotes."),
    ('version = 1\n\n[site\nwind = "40 m/s"', 3, "got text that is not TOML (", "text in quotes. Or move the file"),
    ("version = 2", 1, "version: got 2, needs 1.", "It is from a newer gardenframe: update this one, or start again."),
    ('version = "one"', 1, "version: got 'one', needs 1.", "save again from 00_start_here."),
    ('units = "feet"', 1, "units: got 'feet', needs one of metric, us.", ""),
    ('unit = "us"', 1, "got a key that is not known, unit, needs one of version, units", "Did you mean units?"),
    ('[shop]\n\ncuter = "hacksaw"', 3, "got a key that is not known, cuter, needs one of cutter,", "mean cutter?"),
    ('[shop]\nwind = "40 m/s"', 2, "got a key that is not known, wind, needs", "It belongs under [site]."),
    ('[shop]\ncurrency = "EUR"', 2, "a key that is not known, currency, needs", "The price table says the currency."),
    ('[shop]\ncutter = "hacksaws"', 2, "cutter: got 'hacksaws', needs one of: wheel cutter,", "mean hacksaw?"),
    ("[shop]\nkerf = 1.5", 2, "kerf: got 1.5, needs a length with its unit, in quotes, such as", ""),
    ('[shop]\nkerf = "2"', 2, "kerf: got '2', needs a length with its unit, such as", ""),
    ('[shop]\nkerf = "two"', 2, "kerf: got 'two', needs a length such as", ""),
    ('[shop]\nkerf = "1/2 in"', 2, "kerf: got 13 mm, needs 0 mm to 10 mm.", ""),
    ("[shop]\ntax = 8", 2, "tax: got 800 %, needs 0 % to 50 %.", ""),
    ("[shop]\ncutter = true", 2, "cutter: got True, needs one of:", ""),
    ("[site]\nlatitude = 91", 2, "latitude: got 91°, needs -90° to 90°.", ""),
    ("[site]\nlatitude = nan", 2, "latitude: got nan, needs a number, -90° to 90°.", ""),
    ('[site]\nsoil = "sandy"', 2, "soil: got 'sandy', needs one of: garden-soil, sand,", "Did you mean sand?"),
    ('site = "Millbrook Lane"', 1, "site: got 'Millbrook Lane', needs a heading [site] with lines under it.", ""),
    ('[sticks]\n"emt-9" = ["10 ft"]', 2, "emt-9: got 'emt-9', needs one of emt-1/2,", "Did you mean emt-"),
    ('[sticks]\n"emt-1" = ["10"]', 2, "emt-1: got '10', needs a length with its unit", ""),
    ('[sticks]\n"emt-1" = [3048]', 2, "emt-1: got 3048, needs lengths with their units, such as", ""),
    ("[on_hand]\ntie-20 = 1", 2, "tie-20: got 'tie-20', needs a key of the table", "Did you mean tie-200?"),
    ('[on_hand]\ntie-200 = "some"', 2, "tie-200: got 'some', needs a number", ""),
    ('[tables]\nprices = "mine.csv"', 2, "prices: got 'mine.csv', needs a CSV file; there is none at", "Mend the name"),
    ('[tables]\nprices = "~nobody-at-all/p.csv"', 2, "prices: got '~nobody-at-all/p.csv', needs a CSV file", "Mend"),
    (f'[tables]\nprices = "{"x" * 300}"', 2, "prices: got 'xxxx", "Mend the name, or leave it out"),
    ("[tables]\nprices = 3", 2, "prices: got 3, needs text in quotes.", ""),
]


@pytest.mark.parametrize(("text", "line", "said", "do"), BROKEN, ids=[text[:28] for text, *_ in BROKEN])
def test_a_file_broken_by_hand_is_one_sentence(tmp_path, text, line, said, do):
    """File, line, what came, what is allowed, what to do."""
    write(tmp_path, text)
    with pytest.raises(InputError) as caught:
        load_settings(tmp_path)
    sentence = str(caught.value)
    assert sentence.startswith(f"{FILE}, line {line}"), sentence
    assert said in sentence
    assert do in sentence
    assert "\n" not in sentence


def test_a_file_that_cannot_be_read_at_all(tmp_path):
    """Another character set, and a folder in its place."""
    (tmp_path / FILE).write_bytes("[shop]\ncutter = 'säge'".encode("latin-1"))
    with pytest.raises(InputError, match=r"^garden_settings\.toml: got letters that are not UTF-8, needs text saved"):
        load_settings(tmp_path)
    (tmp_path / FILE).unlink()
    (tmp_path / FILE).mkdir()
    with pytest.raises(InputError, match=r"^garden_settings\.toml: got Is a directory, needs a file that can be read"):
        load_settings(tmp_path)


def test_own_tables_take_the_place_of_ours(tmp_path):
    """A price and a fitting, each changed in one cell, are what the shop then has."""
    prices = (tables.data_folder() / "prices.csv").read_text(encoding="utf-8")
    fittings = (tables.data_folder() / "fittings.csv").read_text(encoding="utf-8")
    (tmp_path / "p.csv").write_text("\n".join([prices.split("\n", 1)[0], "emt-1,none,none,none,1,2,3,none,none,none"]))
    first, row, _ = fittings.split("\n", 2)
    cells = row.split(",")
    cells[7] = "99"
    (tmp_path / "f.csv").write_text(f"{first}\n{','.join(cells)}\n")
    write(tmp_path, '[tables]\nprices = "p.csv"\nfittings = "f.csv"\n')
    shop = load_settings(tmp_path).shop
    assert shop.prices.price("emt-1").usual == 2
    assert [row.centre_to_stop_mm for row in shop.fittings.values()] == [99]
    (tmp_path / "p.csv").write_text((tmp_path / "p.csv").read_text().replace(",1,2,3,", ",1,cheap,3,"))
    with pytest.raises(TableError, match=r"^p\.csv, line 2, column usual: got 'cheap', needs a number"):
        load_settings(tmp_path)


def test_a_folder_that_cannot_be_written_is_said_and_nothing_is_left(tmp_path, monkeypatch):
    """A file where the folder should be, and a folder closed to us."""
    (tmp_path / "file").write_text("")
    with pytest.raises(
        InputError, match=r"^settings: got .*, needs a folder that can be written \(Not a directory\)\."
    ):
        save_settings(DEFAULTS, "metric", tmp_path / "file")

    def closed(*_, **__):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(files.tempfile, "mkstemp", closed)
    with pytest.raises(InputError, match=r"\(Permission denied\)\. Copy the workbooks into a folder of your own: "):
        save_settings(DEFAULTS, "metric", tmp_path)
    assert [path.name for path in tmp_path.iterdir()] == ["file"]


def test_values_that_make_no_settings_are_not_saved(tmp_path):
    """The form's sentence belongs to a field; the file that is there stays as it is."""
    save_settings(DEFAULTS, "metric", tmp_path)
    before = (tmp_path / FILE).read_bytes()
    with pytest.raises(FieldError, match=r"^Sticks sold: got 'ten feet', needs a length") as caught:
        save_settings(DEFAULTS | {"sticks": "emt-1: ten feet"}, "metric", tmp_path)
    assert caught.value.field == "sticks"
    with pytest.raises(FieldError, match=r"^Goods at hand: got 'tie-200', needs a name, a colon"):
        save_settings(DEFAULTS | {"on_hand": "tie-200"}, "metric", tmp_path)
    assert (tmp_path / FILE).read_bytes() == before
    assert [path.name for path in tmp_path.iterdir()] == [FILE]


def test_the_file_before_is_kept(tmp_path):
    """What was written by hand, broken or not, lies beside the new one."""
    write(tmp_path, "[shop\n# my own words")
    save_settings(DEFAULTS, "metric", tmp_path)
    assert (tmp_path / "garden_settings.before.toml").read_text() == "[shop\n# my own words"
    assert load_settings(tmp_path).shop == Shop()
    save_settings(DEFAULTS, "metric", tmp_path)  # saving twice does not lose it
    assert (tmp_path / "garden_settings.before.toml").read_text() == "[shop\n# my own words"


def test_a_disk_that_fills_up_leaves_the_settings_that_were_there(tmp_path, monkeypatch):
    """The file before is written first; where the new one then cannot be, the old one still stands in its place."""
    save_settings(DEFAULTS | {"tax": 0.25}, "metric", tmp_path)
    before = (tmp_path / FILE).read_bytes()

    def full(place, data, **rest):
        if place.name == FILE:
            raise OSError(28, "No space left on device")
        files.put(place, data, **rest)

    monkeypatch.setattr("gardenframe.teaching.settings.put", full)
    with pytest.raises(InputError, match=r"\(No space left on device\)"):
        save_settings(DEFAULTS, "metric", tmp_path)
    assert (tmp_path / FILE).read_bytes() == before
    assert load_settings(tmp_path).shop.tax == 0.25


@pytest.fixture
def here(tmp_path, monkeypatch):
    """Return a folder that is the working folder, as a workbook's is."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_a_panel_starts_from_the_settings_of_its_folder(here):
    """Units, shop and prices; what the page shows is what the package computes with them."""
    save_settings(DEFAULTS | {"cutter": "chop saw", "tax": 0.25, "on_hand": "tie-200: 5"}, "us", here)
    panel = controls.panel(Trellis)
    assert (panel.system, panel.units.value, panel.error) == ("us", "us", "")
    assert panel.number("longest").endswith(" in")
    shop = Shop(cutter="chop saw", tax=0.25, on_hand={"tie-200": 5}, tape="1/16 in")
    assert panel.number("cost") == f"${gardenframe.plan(Trellis(), shop=shop).cost.usual:.2f}"
    assert panel.number("cost") != controls.panel(Trellis, shop=Shop()).number("cost")
    assert controls.panel(Trellis, site=Site(), shop=Shop()).system == "metric"


def test_a_broken_file_stands_above_empty_results_until_it_is_mended(here):
    """No number while it is broken, in a panel that is open and in a new one; then they come back by themselves."""
    opened = controls.panel(Trellis)
    cost = opened.number("cost")
    write(here, '[shop]\ncutter = "hacksaw\n')
    panels = (opened, controls.panel(Trellis))
    for panel in panels:
        panel.set("bays", 3)
        assert panel.error.startswith(f"{FILE}, line 2: got text that is not TOML")
        assert "gf-error" in panel.shown.above.value
        assert "line 2" in panel.shown.above.value
        assert panel.plan is None
        assert panel.number("cost") == panel.shown.numbers.value == ""
        sweep.true_to_page(panel)
    write(here, '[shop]\ncutter = "hacksaw"\n')
    for panel in panels:
        panel.set("bays", 2)
        assert panel.error == ""
        assert panel.number("cost") == cost


def test_a_price_table_is_read_again_when_it_changes(here):
    """A cell broken in the table is said, and mended when the table is."""
    (here / "p.csv").write_text(PRICED.format(2))
    write(here, '[tables]\nprices = "p.csv"\n')
    panel = controls.panel(Trellis)
    cheap = panel.number("cost")
    for cell, cost in (("dear", ""), ("200", "more"), ("2", cheap)):
        (here / "p.csv").write_text(PRICED.format(cell))
        panel.refresh()
        if cell == "dear":
            assert panel.error.startswith("p.csv, line 2, column usual: got 'dear', needs a number")
        assert panel.number("cost") == cost if cost != "more" else panel.number("cost") not in ("", cheap)
