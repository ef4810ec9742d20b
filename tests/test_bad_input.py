"""What a reader can get wrong: one clear sentence each, with what came, what is allowed and what to do."""

import dataclasses
import math

import pytest

import gardenframe
from gardenframe.builds import Trellis
from gardenframe.builds.fields import FieldError
from gardenframe.errors import FittingError, FrameError, GardenframeError, InputError, TableError
from gardenframe.geometry.frame import Frame, Joint, Run, Support
from gardenframe.geometry.splices import splice
from gardenframe.materials import members, prices
from gardenframe.materials.fittings import load_fittings
from gardenframe.materials.shop import Shop
from gardenframe.materials.site import Site

FITTING_HEAD = (
    "key,fitting,joining,size,branch,passes,angle,centre_to_stop_mm,socket_depth_mm,slip_n,moment_n_m,"
    "rotation_n_m_per_rad,source\n"
)


@pytest.mark.parametrize(
    ("value", "sentence"),
    [
        (0.0, r"^Width: got 0 mm, needs 400 mm to 9000 mm\.$"),
        (-1.8, r"^Width: got -1800 mm, needs 400 mm to 9000 mm\.$"),
        (1e9, r"^Width: got .* mm, needs 400 mm to 9000 mm\.$"),
        (math.nan, r"^Width: got nan, needs a number, 400 mm to 9000 mm\.$"),
        (math.inf, r"^Width: got inf, needs a number, 400 mm to 9000 mm\.$"),
        ("", r"^Width: got nothing, needs a number, 400 mm to 9000 mm\.$"),
        ("wide", r"^Width: got 'wide', needs a number, 400 mm to 9000 mm\.$"),
        (None, r"^Width: got nothing, needs a number, 400 mm to 9000 mm\.$"),
        (True, r"^Width: got True, needs a number"),
    ],
)
def test_a_width_that_cannot_be_used(value, sentence):
    """Zero, negative, huge, NaN, infinite, empty, text, nothing, a tick: the field and its limits are named."""
    with pytest.raises(FieldError, match=sentence) as caught:
        Trellis(width_m=value)
    assert caught.value.field == "width_m"


@pytest.mark.parametrize("typed", ["6 kg", "six feet", "", "=1+1", "1.2.3 m", "6 ft 2 m 3"])
def test_a_typed_length_that_cannot_be_read(typed):
    """A wrong unit, words, nothing, a spreadsheet formula: told with an example of what can be typed."""
    with pytest.raises(InputError, match=r"needs a length such as 1\.8 m, 189 cm or 6 ft 2 1/2 in"):
        Trellis.typed(width_m=typed)


def test_a_count_that_is_no_whole_number():
    """Half a bay."""
    with pytest.raises(FieldError, match=r"^Bays: got 2\.5, needs a whole number, 1 to 12\.$"):
        Trellis(bays=2.5)


@pytest.mark.parametrize("tube", ["emt-7/8", "EMT 7/8 in", ""])
def test_a_tube_that_does_not_exist(tube):
    """The sizes there are stand in the sentence."""
    with pytest.raises(FieldError, match=r"^Tube: got .*, needs one of: emt-1/2, emt-3/4, emt-1,"):
        Trellis(tube=tube)
    with pytest.raises(InputError, match=r"1/2.*3/4.*1-1/4"):
        members.find(tube or "7/8")


@pytest.mark.parametrize(
    ("fields", "key", "sentence"),
    [
        ({"form": "A-frame", "base": "tube bed"}, "base", "under an A-frame or a slope"),
        ({"height_m": 0.5, "mid_rails": 6}, "mid_rails", r"at most 1 in that height\. Rails stand 0\.15 m"),
        ({"width_m": 0.6, "bays": 6}, "bays", r"at most 2 in that width\. A bay is at least 250 mm"),
        ({"width_m": 8.0, "bays": 1}, "bays", "at least 3 in that width"),
        ({"form": "A-frame", "base": "stakes", "height_m": 0.8, "spread_m": 2.5}, "spread_m", "twice the height"),
    ],
)
def test_fields_that_do_not_go_together(fields, key, sentence):
    """The sentence stands by the field to change."""
    with pytest.raises(FieldError, match=sentence) as caught:
        Trellis(**fields)
    assert caught.value.field == key


def star(number):
    """Return a frame of tubes that all end at one joint, evenly round, held at their far ends."""
    far = [
        Joint(f"F{i}", math.cos(2 * math.pi * i / number), math.sin(2 * math.pi * i / number), 0) for i in range(number)
    ]
    runs = [Run(key=f"arm {i}", member="emt-1", path=("J", f"F{i}")) for i in range(number)]
    return Frame.of([Joint("J", 0, 0, 0), *far], runs, [Support(joint=j.key, base="foot") for j in far])


def test_a_joint_that_nothing_fits():
    """Five tubes in a star: the joint, the angles found and what would serve are named."""
    shop = Shop()
    with pytest.raises(
        FittingError, match=r"^joint J: arm 0 ends, .*angles 72, 144, 144, 72 deg; no clamp-on fitting"
    ) as e:
        gardenframe.geometry.fittings.fit(star(5), shop.fittings, shop.members)
    assert "There are: coupling" in e.value.do


def test_a_fitting_that_is_not_made_in_that_size():
    """A reader's table without 1 in tees and swivels: a default trellis cannot be joined, and the joint says so."""
    rows = {k: row for k, row in load_fittings().items() if row.size != "emt-1" or row.fitting not in ("tee", "swivel")}
    with pytest.raises(FittingError, match=r"^joint post 1 bottom: .* no clamp-on fitting in EMT 1 in serves"):
        _ = gardenframe.plan(Trellis(), shop=Shop(fittings=rows)).fittings


def test_tubes_that_pass_through_each_other():
    """Two runs through one joint on the same axis line need to lie side by side."""
    joints = [Joint(k, x, y, 0) for k, x, y in (("J", 0, 0), ("A", -1, 0), ("B", 1, 0), ("C", 0, -1), ("D", 0, 1))]
    runs = [Run(key="one", member="emt-1", path=("A", "J", "B")), Run(key="two", member="emt-1", path=("C", "J", "D"))]
    frame = Frame.of(joints, runs)
    with pytest.raises(FittingError, match=r"^joint J: runs one and two both pass with their axes 0 mm apart"):
        gardenframe.geometry.fittings.fit(frame, load_fittings(), members.load_members())


def test_a_piece_longer_than_any_stick_where_no_splice_is_allowed():
    """The run, its length and the longest piece are named."""
    frame = Frame.of(
        [Joint("A", 0, 0, 0), Joint("B", 4, 0, 0)], [Run(key="sill", member="emt-1", path=("A", "B"), may_splice=False)]
    )
    with pytest.raises(
        FrameError, match=r"^run sill: it is 4\.000 m long, its longest piece is 3\.048 m and it may not"
    ):
        splice(frame, (), lambda key: 3.048)


@pytest.mark.parametrize(
    ("joints", "runs", "sentence"),
    [
        ([("A", 0, 0), ("A", 1, 0)], [], r"^joint A: the name is used twice"),
        ([("A", 0, 0)], [("r", ("A", "B"))], r"^run r: its path names joint 'B'"),
        ([("A", 0, 0)], [("r", ("A",))], r"^run r: its path has fewer than two joints"),
        ([("A", 0, 0), ("B", 0, 0)], [("r", ("A", "B"))], r"^run r: it has no length between joints A and B"),
        ([("A", 0, 0), ("B", 1, 0), ("C", 1, 1)], [("r", ("A", "B", "C"))], r"^r: its path turns by 90 deg"),
    ],
)
def test_a_frame_that_cannot_be(joints, runs, sentence):
    """Names twice, missing joints, no length, a kink."""
    with pytest.raises(FrameError, match=sentence):
        Frame.of([Joint(k, x, 0, z) for k, x, z in joints], [Run(key=k, member="emt-1", path=p) for k, p in runs])


@pytest.mark.parametrize(
    ("table", "sentence"),
    [
        ("item,label\nemt-1,x\n", r"^your table, line 1, column unit: got no such column, needs all columns"),
        ("", r"an empty file"),
        ("item,label,unit,pack,low,usual,high,currency,priced_on,source\n", r"no rows"),
        (b"item,label\xff\xfe\n", r"UTF-8"),
    ],
)
def test_a_price_table_that_cannot_be_read(table, sentence):
    """A missing column, an empty file, no rows, a wrong encoding."""
    with pytest.raises(TableError, match=sentence):
        prices.load_prices(table)


@pytest.mark.parametrize(("cell", "sentence"), [("-3", "column low: got '-3'"), ("=1+1", "column low: got '=1\\+1'")])
def test_a_price_that_cannot_be_used(cell, sentence):
    """A negative price, a formula in a cell: table, line and column are named."""
    head = "item,label,unit,pack,low,usual,high,currency,priced_on,source\n"
    with pytest.raises(TableError, match=rf"^your table, line 2, {sentence}"):
        prices.load_prices(f"{head}emt-1,EMT 1 in,stick,1,{cell},23,30,USD,2026-01-01,own\n")


def test_a_fittings_table_with_a_bad_cell():
    """A reader's own table: the cell is named."""
    with pytest.raises(TableError, match=r"^your table, line 2, column centre_to_stop_mm: got 'wide', needs a number"):
        load_fittings(FITTING_HEAD + "mine,tee,clamp-on,emt-1,emt-1,1,90,wide,30,900,40,2000,own\n")


@pytest.mark.parametrize(
    ("fields", "sentence"),
    [
        ({"cutter": "teeth"}, r"^cutter: got 'teeth', needs one of wheel cutter, hacksaw, chop saw"),
        ({"kerf_mm": -1.0}, r"^kerf: got -1, needs 0 to 10 mm"),
        ({"tax": 8.0}, r"^tax: got 8, needs 0 to 0\.5 of one\. Write 8 % as 0\.08"),
        ({"carried_mm": math.nan}, r"^longest carried length: got nan"),
        ({"tape": "cubits"}, r"^tape: got 'cubits'"),
        ({"on_hand": {"tie-200": -4}}, r"^on hand tie-200: got -4"),
    ],
)
def test_a_shop_that_cannot_be(fields, sentence):
    """Cutter, kerf, tax, carried length, tape, what is on hand."""
    with pytest.raises(InputError, match=sentence):
        Shop(**fields)


@pytest.mark.parametrize(
    ("fields", "sentence"),
    [
        ({"wind_m_per_s": 400.0}, r"^wind speed: got 400, needs 0 to 120 m/s\. The fastest gust recorded"),
        ({"ground_snow_pa": -5.0}, r"^ground snow: got -5, needs 0 to 40000 Pa"),
        ({"latitude_deg": 95.0}, r"^latitude: got 95, needs -90 to 90 deg"),
        ({"exposure": "A"}, r"^exposure: got 'A', needs one of B, C, D"),
    ],
)
def test_a_site_that_cannot_be(fields, sentence):
    """A gust above any recorded, negative snow, a latitude outside the earth, an unknown exposure."""
    with pytest.raises(InputError, match=sentence):
        Site(**fields)


def test_an_unknown_field_is_named_with_those_there_are():
    """A misspelt field of a build."""
    with pytest.raises(InputError, match=r"^Trellis: got 'widht_m', needs one of: form, width_m"):
        Trellis().changed(widht_m=2.0)


def test_every_error_is_of_one_family():
    """A caller can catch them all by one name."""
    for kind in (InputError, TableError, FrameError, FittingError, FieldError):
        assert issubclass(kind, GardenframeError)
    assert dataclasses.is_dataclass(Trellis)
