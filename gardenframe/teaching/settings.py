"""The settings that all workbooks of a folder share: units, site, shop, the reader's own tables, in one file.

`garden_settings.toml` lies beside the workbooks and can be written by the form or by hand. A file that cannot be used
is one sentence that names the line; nothing is guessed and no default steps in for it. It stands on this floor and not
beside the records it makes, because its checks are the fields of the form.
"""

import dataclasses
import re
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from gardenframe import units
from gardenframe.builds.fields import Field, FieldError
from gardenframe.errors import InputError
from gardenframe.materials.fittings import load_fittings
from gardenframe.materials.prices import load_prices
from gardenframe.materials.shop import Shop
from gardenframe.materials.site import Site
from gardenframe.output.files import put
from gardenframe.tables import Found, data_folder
from gardenframe.teaching import settings_fields as known
from gardenframe.teaching import settings_text

FILE, VERSION = "garden_settings.toml", 1
TAPE = {"metric": "mm", "us": "1/16 in"}
TOP = ("version", "units", *known.SECTIONS)
NOT_HERE = {
    "tape": "The tape follows `units`: millimetres, or sixteenths of an inch.",
    "currency": "The price table says the currency.",
    "members": "Tubes are not set here.",
}
START_AGAIN = "Or move the file away and save again from 00_start_here."


@dataclasses.dataclass(frozen=True, kw_only=True)
class Settings:
    """What a folder's workbooks start from. `where` is the file, None where there is none; `values` are as chosen."""

    system: str = "metric"
    site: Site = dataclasses.field(default_factory=Site)
    shop: Shop = dataclasses.field(default_factory=Shop)
    where: Path | None = None
    values: Mapping[str, Any] = dataclasses.field(default_factory=lambda: {f.key: f.default for f in known.fields()})


def load_settings(folder: Path | str | None = None) -> Settings:
    """Return the settings of a folder (the working folder unless given), the defaults where it has none.

    Raises
    ------
    InputError
        Where the file cannot be read or a line cannot be used: which line, what came, what is allowed, what to do.
    TableError
        At the first bad cell of the reader's own price or fittings table.
    """
    place = Path(folder or Path.cwd())
    try:
        text = (place / FILE).read_bytes().decode("utf-8-sig")
    except FileNotFoundError:
        return Settings()
    except UnicodeDecodeError:
        raise InputError(FILE, Found("letters that are not UTF-8"), "text saved as UTF-8", START_AGAIN) from None
    except OSError as problem:
        raise InputError(
            FILE, Found(problem.strerror or str(problem)), "a file that can be read", START_AGAIN
        ) from None
    return _Reading(text).settings(place)


def made(values: Mapping[str, Any], system: str, folder: Path, where: Path | None = None) -> Settings:
    """Return the settings that chosen values make; FieldError or TableError where they make none."""
    fields = {field.key: field for field in known.fields()}
    tables = {key: _table(fields[key], values[key], folder) for key in ("prices", "fittings")}
    prices = load_prices(tables["prices"])
    site = known.site_of(values)
    shop = Shop(
        cutter=values["cutter"], kerf_mm=values["kerf"] * 1000 if values["own_kerf"] else None,
        trim_mm=values["trim"] * 1000, carried_mm=values["carried"] * 1000 if values["short_pieces"] else None,
        sticks=known.sticks(fields["sticks"], values["sticks"]),
        on_hand=known.on_hand(fields["on_hand"], values["on_hand"], prices),
        leftovers=known.leftovers(fields["leftovers"], values["leftovers"]),
        tape=TAPE[system], tax=values["tax"], spares=values["spares"],
        fittings=load_fittings(tables["fittings"]), prices=prices,
    )  # fmt: skip
    return Settings(system=system, site=site, shop=shop, where=where, values=dict(values))


def _table(field: Field, name: str, folder: Path) -> Path | None:
    """Return where a reader's own table lies, None for ours."""
    if not name.strip():
        return None
    try:
        path = folder / Path(name.strip()).expanduser()
        there = path.is_file()
    except (OSError, RuntimeError, ValueError):  # no such person's folder, too long for a name
        path, there = folder / "...", False
    if not there:
        do = "Mend the name, or leave it out to use our invented table."
        raise FieldError(field.key, field.label, name, f"a CSV file; there is none at {path}", do)
    return path


def save_settings(values: Mapping[str, Any], system: str, folder: Path | str | None = None) -> Settings:
    """Return the settings, written into a folder's file, all of it or nothing; the file before is kept beside it.

    Raises
    ------
    FieldError, TableError
        Where the values make no settings: nothing is written.
    InputError
        Where the folder cannot be written.
    """
    place = Path(folder or Path.cwd())
    settings = made(values, system, place, place / FILE)
    written = settings_text.text_of(values, system, VERSION)
    again = _Reading(written).settings(place)
    if (again.site, again.shop, again.system) != (
        settings.site,
        settings.shop,
        settings.system,
    ):  # never save what would be read as something else
        raise InputError(FILE, Found("values that cannot be written exactly"), "values such as those shown")
    kept = before_of(place)
    try:
        if kept is not None and (before := (place / FILE).read_bytes()) != written.encode():
            put(kept, before)
        put(place / FILE, written.encode())
    except OSError as problem:
        raise _unwritable(place, problem) from None
    return settings


def own_copy(key: str, folder: Path | str | None = None) -> Path:
    """Return where a copy of our price or fittings table (`prices`, `fittings`) lies to be edited; never over another.

    Its rows say `invented` under source until a reader writes `own` beside what they measured or paid.
    """
    folder = Path(folder or Path.cwd())
    place = folder / f"my_{key}.csv"
    try:
        if not place.exists():
            put(place, (data_folder() / f"{key}.csv").read_bytes())
    except OSError as problem:
        raise _unwritable(folder, problem) from None
    return place


def _unwritable(folder: Path, problem: OSError) -> InputError:
    needs = f"a folder that can be written ({problem.strerror or problem})"
    do = "Copy the workbooks into a folder of your own: python -m gardenframe my-garden."
    return InputError("settings", str(folder), needs, do)


def before_of(folder: Path) -> Path | None:
    """Return where the file that a save replaces is kept, None where there is no file yet."""
    return folder / FILE.replace(".toml", ".before.toml") if (folder / FILE).exists() else None


class _Reading:
    """One text on its way to settings, so that every refusal can name its line."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.fields = {field.key: field for field in known.fields()}

    def settings(self, folder: Path) -> Settings:
        """Return the settings of the text."""
        found = self.parsed()
        self.check_keys(found)
        values = {field.key: field.default for field in self.fields.values()}
        for section, keys in known.SECTIONS.items():
            if not keys and found.get(section):
                values[section] = self.list_of(section, found[section])
            for key in keys:
                if key in found.get(section, {}):
                    values[key] = self.value(section, key, found[section][key])
        for switch, key in known.FORM_ONLY.items():
            values[switch] = key in found.get("shop", {})
        try:
            return made(values, found.get("units", "metric"), folder, folder / FILE)
        except FieldError as error:
            section = next((s for s, keys in known.SECTIONS.items() if error.field in keys), error.field)
            key = self.named(found[section], error.got) if section == error.field else error.field
            raise self.wrong(section, key, error.got, error.needs, error.do) from None

    def parsed(self) -> dict[str, Any]:
        """Return the text as TOML, or say in which line it stops being that."""
        try:
            return tomllib.loads(self.text)
        except tomllib.TOMLDecodeError as problem:
            told = str(problem)
            at = re.search(r"\(at line (\d+)", told)
            line = int(at[1]) if at else self.text.rstrip().count("\n") + 1
            reason = told.split(" (at")[0]
            do = f"Write one `key = value` a line, text in quotes. {START_AGAIN}"
            raise InputError(f"{FILE}, line {line}", Found(f"text that is not TOML ({reason})"), "TOML", do) from None

    def check_keys(self, found: Mapping[str, Any]) -> None:
        """Refuse another version, other units, a key that is not known, a section that is none."""
        version = found.get("version", VERSION)
        if version != VERSION:
            newer = isinstance(version, int) and version > VERSION
            do = "It is from a newer gardenframe: update this one, or start again." if newer else START_AGAIN
            raise self.wrong("", "version", version, str(VERSION), do)
        if found.get("units", "metric") not in units.SYSTEMS:
            raise self.wrong("", "units", found["units"], "one of metric, us")
        self.check_names("", found, TOP)
        for section, keys in known.SECTIONS.items():
            inside = found.get(section, {})
            if not isinstance(inside, dict):
                raise self.wrong("", section, inside, f"a heading [{section}] with lines under it")
            if keys:
                self.check_names(section, inside, keys)

    def check_names(self, section: str, found: Mapping[str, Any], names: tuple[str, ...]) -> None:
        """Refuse the first key that is not known, with the nearest that is."""
        for name in found:
            if name not in names:
                elsewhere = next((s for s, keys in known.SECTIONS.items() if name in keys), "")
                do = f"It belongs under [{elsewhere}]." if elsewhere else ""
                do = do or NOT_HERE.get(name) or known.did_you_mean(name, names)
                line = self.where(section, name)
                raise InputError(line, Found(f"a key that is not known, {name}"), f"one of {', '.join(names)}", do)

    def value(self, section: str, key: str, given: Any) -> Any:
        """Return one value, checked as the form checks it."""
        field = self.fields[key]
        try:
            if isinstance(given, str) and field.kind in known.WITH_UNIT:
                return field.check(known.with_unit(field, given, field.kind))
            if isinstance(given, str) and field.kind in ("angle", "share"):
                return field.check(units.parse(given, field.kind, "metric"))
            if field.kind in known.WITH_UNIT and given != 0 and not isinstance(given, bool):
                needs = f"a {field.kind} with its unit, in quotes, such as {known.EXAMPLE[field.kind]}"
                raise FieldError(key, field.label, given, needs)
            if field.kind == "text" and not isinstance(given, str):
                raise FieldError(key, field.label, given, "text in quotes")
            return field.check(given)
        except InputError as error:
            do = error.do or (known.did_you_mean(given, [k for k, _ in field.choices]) if field.choices else "")
            raise self.wrong(section, key, error.got, error.needs, do) from None

    def list_of(self, section: str, found: Mapping[str, Any]) -> str:
        """Return a section of stock as it is typed in the form."""
        entries = {}
        for name, given in found.items():
            many = given if isinstance(given, list) else [given]
            numbers = section == "on_hand"
            for one in many:
                good = isinstance(one, str) or (numbers and isinstance(one, int | float) and not isinstance(one, bool))
                if not good or any(mark in f"{name}{one}" for mark in ";:\n"):
                    needs = "a number" if numbers else 'lengths with their units, such as ["10 ft", "20 ft"]'
                    raise self.wrong(
                        section, name, one if isinstance(one, str | int | float) else type(one).__name__, needs
                    )
            entries[name] = [str(one) for one in many]
        return known.one_line(entries)

    def named(self, section: Mapping[str, Any], got: Any) -> str:
        """Return the name in a section of stock under which something stands, "" where it is not found."""
        inside = (name for name, one in section.items() if got in (name, *(one if isinstance(one, list) else [one])))
        return next(inside, "")

    def wrong(self, section: str, key: str, got: Any, needs: str, do: str = "") -> InputError:
        """Return the error for a key, naming its line."""
        return InputError(f"{self.where(section, key)}, {key or section}", got, needs, do)

    def where(self, section: str, key: str) -> str:
        """Return the file and, where it can be found, the line of a key."""
        inside, head = "", 0
        for number, line in enumerate(self.text.splitlines(), 1):
            heading = re.match(r"\s*\[\s*[\"']?([\w-]+)[\"']?\s*\]", line)
            if heading:
                inside = heading[1]
                head = number if inside == section else head
            elif inside == section and key and re.match(rf"\s*([\"']?){re.escape(key)}\1\s*[=.]", line):
                return f"{FILE}, line {number}"
        return f"{FILE}, line {head}" if head else FILE
