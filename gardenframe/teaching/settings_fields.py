"""What the settings hold: one `Field` each for the form, the file and their sentences; lists of stock as text.

A field's key is the key in the file. `own_kerf` and `short_pieces` stand only in the form: in the file their length is
there or it is not.
"""

import math
import re
from collections.abc import Iterator, Mapping
from typing import Any

from gardenframe import tables, units
from gardenframe.builds.fields import Field, FieldError
from gardenframe.errors import InputError
from gardenframe.materials.members import load_members
from gardenframe.materials.prices import Prices
from gardenframe.materials.shop import CUTTERS, Shop
from gardenframe.materials.site import FASTEST_M_PER_S, Site
from gardenframe.materials.soils import load_soils

WITH_UNIT = ("length", "speed", "pressure")  # whose bare number would be read differently in the two systems
EXAMPLE = {"length": '"1830 mm" or "6 ft"', "speed": '"40 m/s" or "90 mph"', "pressure": '"1200 Pa" or "25 psf"'}
PLACE, CUTTING, STOCK, TABLES = "Site", "Shop", "Sticks and stock", "Your own tables"
FORM_ONLY = {"own_kerf": "kerf", "short_pieces": "carried"}
SECTIONS = {
    "site": ("wind", "wind_kind", "exposure", "shelter", "ground_snow", "soil", "latitude", "longitude"),
    "shop": ("cutter", "kerf", "trim", "carried", "tax", "spares"),
    "sticks": (),
    "on_hand": (),
    "leftovers": (),
    "tables": ("prices", "fittings"),
}
STICKS = "Lengths sold, such as emt-1: 10 ft, 20 ft; emt-3/4: 3 m. A tube that is not named comes in its usual stick."
ON_HAND = "Fittings, fixings and rolls that need not be bought, by their item in the price table, such as tie-200: 1."
LEFTOVERS = "Lengths of tube that are there, such as emt-1: 3 x 1200 mm, 1 x 4 ft 2 in."
OWN_TABLE = "A CSV file beside the workbooks; empty for ours, which is invented."


def _choices(table: str, key: str) -> tuple[tuple[str, str], ...]:
    """Return the keys of one of our tables with their labels."""
    column = tables.Column()
    names = (tables.data_folder() / table).read_text(encoding="utf-8").split("\n", 1)[0].split(",")
    return tuple((row[key], row["label"]) for row in tables.read(table, dict.fromkeys(names, column)))


def fields() -> tuple[Field, ...]:
    """Return every field of the settings, in the order in which a reader meets them."""
    return (*site_fields(), *_shop(), *_stock())


def site_fields() -> Iterator[Field]:
    """Yield the fields of a site."""
    at: dict[str, Any] = {"first": False, "group": PLACE}
    site = Site()
    yield Field(
        key="wind", label="Wind speed", kind="speed", default=site.wind_m_per_s, low=0.0, high=FASTEST_M_PER_S,
        step=1.0, step_us=units.from_unit(1, "mph"), help="3-second gust in the open, 10 m above the ground.", **at,
    )  # fmt: skip
    kinds = (("code", "design speed of the local code"), ("forecast", "gust of a forecast"))
    yield Field(
        key="wind_kind", label="Where it is from", kind="choice", default=site.wind_kind, choices=kinds,
        help="A forecast's gust holds for its day; a code's design speed is for the life of a building.", **at,
    )  # fmt: skip
    yield Field(
        key="exposure", label="Country round about", kind="choice", default=site.exposure,
        choices=_choices("exposures.csv", "exposure"), help="The roughness of the land upwind.", **at,
    )  # fmt: skip
    yield Field(
        key="shelter", label="Shelter close by", kind="choice", default=site.shelter,
        choices=_choices("shelters.csv", "shelter"), help="What stands upwind within a few heights of the frame.", **at,
    )  # fmt: skip
    yield Field(
        key="ground_snow", label="Ground snow", kind="pressure", default=site.ground_snow_pa, low=0.0, high=40_000.0,
        step=100.0, step_us=units.from_unit(5, "psf"), help="Ground snow load of the local code.", **at,
    )  # fmt: skip
    yield Field(
        key="soil", label="Soil", kind="choice", default=site.soil,
        choices=tuple((soil.key, soil.label) for soil in load_soils().values()),
        help="What stakes are driven into.", **at,
    )  # fmt: skip
    for key, default, limit, way in (("latitude", site.latitude_deg, 90.0, "North"), ("longitude", 0.0, 180.0, "East")):
        yield Field(
            key=key, label=key.capitalize(), kind="angle", default=default, low=-limit, high=limit, step=0.5,
            step_us=0.5, help=f"{way} is positive.", **at,
        )  # fmt: skip


def site_of(values: Mapping[str, Any]) -> Site:
    """Return the site that chosen values make."""
    return Site(
        wind_m_per_s=values["wind"], wind_kind=values["wind_kind"], exposure=values["exposure"],
        shelter=values["shelter"], ground_snow_pa=values["ground_snow"], soil=values["soil"],
        latitude_deg=values["latitude"], longitude_deg=values["longitude"],
    )  # fmt: skip


def values_of_site(site: Site) -> dict[str, Any]:
    """Return the chosen values that make a site."""
    return {
        "wind": site.wind_m_per_s, "wind_kind": site.wind_kind, "exposure": site.exposure, "shelter": site.shelter,
        "ground_snow": site.ground_snow_pa, "soil": site.soil, "latitude": site.latitude_deg,
        "longitude": site.longitude_deg,
    }  # fmt: skip


def _shop() -> Iterator[Field]:
    at: dict[str, Any] = {"first": False, "group": CUTTING}
    shop = Shop()
    sawn = tuple(
        (key, f"{key}, {kerf:g} mm a cut" if kerf else f"{key}, nothing lost") for key, kerf in CUTTERS.items()
    )
    yield Field(
        key="cutter", label="Cut with", kind="choice", default=shop.cutter, choices=sawn,
        help="What one cut removes is lost from the stick.", **at,
    )  # fmt: skip
    yield Field(
        key="own_kerf", label="I measured what a cut removes", kind="flag", default=False,
        help="Then it takes the place of the usual one.", **at,
    )  # fmt: skip
    yield Field(
        key="kerf", label="One cut removes", kind="length", default=0.001, low=0.0, high=0.01, step=0.0005,
        step_us=units.INCH_M / 32, help="Cut a stick in two and measure both.", when=(("own_kerf", (True,)),), **at,
    )  # fmt: skip
    yield Field(
        key="trim", label="Trimmed off each stick", kind="length", default=0.0, low=0.0, high=0.5, step=0.005,
        step_us=units.INCH_M / 4, help="For ends that are dented or not square.", **at,
    )  # fmt: skip
    yield Field(
        key="short_pieces", label="Sticks are too long to carry", kind="flag", default=False,
        help="Then no piece is planned longer than can be carried.", **at,
    )  # fmt: skip
    yield Field(
        key="carried", label="Longest that can be carried", kind="length", default=1.83, low=0.3, high=20.0, step=0.05,
        step_us=3 * units.INCH_M, help="In the car, on the bus, round the stairs.", when=(("short_pieces", (True,)),),
        **at,
    )  # fmt: skip
    yield Field(
        key="tax", label="Sales tax", kind="share", default=shop.tax, low=0.0, high=0.5, step=0.005, step_us=0.005,
        help="On top of the prices.", **at,
    )  # fmt: skip
    yield Field(
        key="spares", label="Spares", kind="share", default=shop.spares, low=0.0, high=1.0, step=0.01, step_us=0.01,
        help="More fittings and fixings than are counted.", **at,
    )  # fmt: skip


def _stock() -> Iterator[Field]:
    lists = (
        ("sticks", "Sticks sold", STICKS),
        ("on_hand", "Goods at hand", ON_HAND),
        ("leftovers", "Leftovers", LEFTOVERS),
    )
    for key, label, help_text in lists:
        yield Field(key=key, label=label, kind="text", default="", help=help_text, first=False, group=STOCK)
    for key, label in (("prices", "Price table"), ("fittings", "Fittings table")):
        yield Field(key=key, label=label, kind="text", default="", help=OWN_TABLE, first=False, group=TABLES)


# --- lists of stock, typed in one line


def listed(field: Field, text: str) -> dict[str, list[str]]:
    """Return what stands behind each name: `emt-1: 10 ft, 20 ft; emt-3/4: 3 m`; FieldError where it is not so."""
    found: dict[str, list[str]] = {}
    for part in filter(None, (part.strip() for part in text.split(";"))):
        name, colon, rest = (word.strip() for word in part.partition(":"))
        if not colon or not rest or not name or name in found:
            do = f"{name} stands there twice." if name in found else field.help
            raise FieldError(field.key, field.label, part, "a name, a colon and what there is of it, once", do)
        found[name] = [entry.strip() for entry in re.split(r",\s+|\n", rest)]
    return found


def one_line(entries: Mapping[str, list[str]]) -> str:
    """Return a list as it is typed.

    >>> one_line({"emt-1": ["10 ft", "20 ft"], "emt-3/4": ["3 m"]})
    'emt-1: 10 ft, 20 ft; emt-3/4: 3 m'
    """
    return "; ".join(f"{name}: {', '.join(entry)}" for name, entry in entries.items())


def sticks(field: Field, text: str) -> dict[str, tuple[int, ...]]:
    """Return the stick lengths of each tube named. [mm]"""
    found = {}
    for member, lengths in listed(field, text).items():
        _known(field, member, load_members())
        found[member] = tuple(math.floor(_length_m(field, one) * 1000 + 0.5) for one in lengths)
    return found


def leftovers(field: Field, text: str) -> dict[str, dict[int, int]]:
    """Return how many lengths of each tube are there, a part of a millimetre left out. [mm]"""
    found: dict[str, dict[int, int]] = {}
    for member, entries in listed(field, text).items():
        _known(field, member, load_members())
        found[member] = {}
        for entry in entries:
            times = re.fullmatch(r"(\d{1,4})\s*[x×]\s*(.+)", entry)
            number, length = (int(times[1]), times[2]) if times else (1, entry)
            length_mm = math.floor(_length_m(field, length) * 1000 + 1e-6)
            found[member][length_mm] = found[member].get(length_mm, 0) + number
    return found


def on_hand(field: Field, text: str, prices: Prices) -> dict[str, float]:
    """Return how many of each item of the price table are there."""
    found = {}
    for item, entries in listed(field, text).items():
        _known(field, item, prices)
        try:
            found[item] = units.parse(" ".join(entries), "number", "metric")
        except InputError as error:
            raise FieldError(field.key, field.label, error.got, error.needs, error.do) from None
        if not 0 <= found[item] <= 1e6:
            raise FieldError(field.key, field.label, entries[0], "0 to 1000000")
    return found


def _known(field: Field, name: str, names: Mapping[str, Any]) -> None:
    if name not in names:
        raise FieldError(field.key, field.label, name, _one_of(names), did_you_mean(name, names))


def _one_of(names: Mapping[str, Any]) -> str:
    shown = list(names)
    return f"one of {', '.join(shown)}" if len(shown) <= 24 else f"a key of the table, such as {', '.join(shown[:3])}"


def did_you_mean(name: str, names: Any) -> str:
    """Return the question after the nearest name, "" where none is near.

    >>> did_you_mean("cuter", ["cutter", "kerf"]), did_you_mean("zebra", ["kerf"])
    ('Did you mean cutter?', '')
    """
    from difflib import get_close_matches

    near = get_close_matches(str(name).lower(), list(names), 1)
    return f"Did you mean {near[0]}?" if near else ""


def _length_m(field: Field, text: str) -> float:
    """Return a length between 5 cm and 20 m. [m]"""
    length_m = with_unit(field, text, "length")
    if not 0.05 <= length_m <= 20:
        raise FieldError(field.key, field.label, text, "lengths from 50 mm to 20 m")
    return length_m


def with_unit(field: Field, text: str, kind: str) -> float:
    """Return the kept value of what was typed, refused where it has no unit: the two systems would differ."""
    try:
        value = units.parse(text, kind, "metric", name=field.label)
        same = value == units.parse(text, kind, "us", name=field.label)
    except InputError as error:
        raise FieldError(field.key, field.label, error.got, error.needs, error.do) from None
    if not same:
        raise FieldError(field.key, field.label, text, f"a {kind} with its unit, such as {EXAMPLE[kind]}")
    return value
