"""A saved build from the bytes of its file: every line checked, every refusal one sentence that names file and line.

Nothing is guessed: a key or field that is not known, a value of another type or out of its limits is refused. A field
that the file lacks, added since it was saved, takes its default, and the record says so.
"""

import dataclasses
import json
import re
import unicodedata
from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any

from gardenframe import builds
from gardenframe.builds.build import Build
from gardenframe.builds.fields import Field, FieldError
from gardenframe.errors import InputError
from gardenframe.materials.site import Site
from gardenframe.materials.soils import load_soils
from gardenframe.tables import Found

KIND, VERSION, ENDING = "saved build", 1, ".build.json"
KEYS = ("gardenframe", "version", "name", "build", "saved_on", "values", "site")
MOST_BYTES = 1_000_000  # a saved build has about two thousand
LONGEST_NAME, LONGEST_FILE = 60, 180  # letters; bytes of a file's name, which may be 255
FAR = 1e12  # beyond any limit of a field
AGAIN = "Mend it, or move the file away and save the build again."
NEWER = "It may be from a newer gardenframe: update this one. The file stays as it is."


@dataclasses.dataclass(frozen=True, kw_only=True)
class Saved:
    """A saved build. `filled` are fields that the file did not have and that took their defaults."""

    build: Build
    name: str
    site: Site | None
    saved_on: date
    place: Path
    filled: tuple[str, ...] = ()


def file_name(key: str, name: str) -> str:
    """Return what the file of a saved build is called.

    >>> file_name("trellis", "Bean row, North side")
    'trellis.bean-row-north-side.build.json'
    """
    plain = unicodedata.normalize("NFC", unicodedata.normalize("NFKC", name).casefold())
    slug = re.sub(r"\W+", "-", plain).strip("-")
    return f"{key}.{slug}{ENDING}"


def usable(name: str) -> str:
    """Return a name without spare spaces, or say why it cannot be one."""
    name = " ".join(name.split())
    file = file_name("", name)
    good = name.isprintable() and file != f".{ENDING}" and any(letter.isalnum() for letter in name)
    if not good or len(name) > LONGEST_NAME or len(file.encode()) > LONGEST_FILE:
        raise InputError(
            "name", name, f"1 to {LONGEST_NAME} letters, figures and spaces", "Such as: beans, north side."
        )
    return name


def read(data: bytes, place: Path) -> Saved:
    """Return the saved build of a file's bytes."""
    file, found = place.name, _parsed(data, place.name)
    if not isinstance(found, dict) or found.get("gardenframe") != KIND:
        raise InputError(file, Found("something else"), "a saved build", AGAIN)
    version = found.get("version")
    if isinstance(version, bool) or not isinstance(version, int) or version != VERSION:
        newer = isinstance(version, int) and version > VERSION
        do = "It is from a newer gardenframe: update this one. The file stays as it is." if newer else AGAIN
        raise InputError(f"{file}, version", version, str(VERSION), do)
    for key in KEYS:
        if key not in found:
            raise InputError(f"{file}, {key}", None, "a line for it", AGAIN)
    for key in found:
        if key not in KEYS:
            raise InputError(file, Found(f"a key that is not known, {key}"), f"one of {', '.join(KEYS)}", NEWER)
    kind = found["build"]
    if not isinstance(kind, str) or kind not in builds.KINDS:
        raise InputError(f"{file}, build", _told(kind), f"one of {', '.join(builds.ALL)}", NEWER)
    build, filled = _build(file, builds.KINDS[kind], found["values"])
    return Saved(
        build=build,
        name=_name(file, found["name"]),
        site=None if found["site"] is None else _site(file, found["site"]),
        saved_on=_date(file, found["saved_on"]),
        place=place,
        filled=filled,
    )


def _parsed(data: bytes, file: str) -> Any:
    """Return bytes as JSON, or say in which line they stop being that."""
    try:
        text = data.decode("utf-8-sig", "surrogatepass")
    except UnicodeDecodeError:
        raise InputError(file, Found("letters that are not UTF-8"), "text saved as UTF-8", AGAIN) from None
    if not text.strip("\0 \t\r\n"):
        raise InputError(file, Found("an empty file"), "a saved build", AGAIN)
    try:
        return json.loads(text, object_pairs_hook=_once, parse_int=_whole, parse_constant=_no_number)
    except json.JSONDecodeError as problem:
        short = problem.pos >= len(text.rstrip()) or "Unterminated" in problem.msg
        told = "text that stops short" if short else f"text that is not JSON ({problem.msg})"
        raise InputError(f"{file}, line {problem.lineno}", Found(told), "a whole saved build", AGAIN) from None
    except (ValueError, RecursionError) as problem:
        told = "brackets too deep" if isinstance(problem, RecursionError) else str(problem)
        raise InputError(file, Found(told), "a saved build", AGAIN) from None


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """Return an object, every key of which stands there once."""
    found = dict(pairs)
    if len(found) != len(pairs):
        twice = next(key for n, (key, _) in enumerate(pairs) if key in [k for k, _ in pairs[:n]])
        raise ValueError(f"{twice} twice")
    return found


def _whole(digits: str) -> int | float:
    return int(digits) if len(digits) <= 18 else float(digits)  # a longer one may be too long to be an int


def _no_number(word: str) -> Any:
    raise ValueError(f"{word}, which is no number")


def _build(file: str, kind: type[Build], values: Any) -> tuple[Build, tuple[str, ...]]:
    """Return the build of a file's values, and the fields that these did not have."""
    if not isinstance(values, dict):
        raise InputError(f"{file}, values", _told(values), "a value for each field in curly brackets", AGAIN)
    fields = {field.key: field for field in kind.fields()}
    for key in values:
        if key not in fields:
            raise InputError(file, Found(f"a field that {kind.title} has not, {key}"), "its own fields", NEWER)
    try:
        build = kind(**{key: _value(fields[key], value) for key, value in values.items()})
    except InputError as error:
        raise InputError(f"{file}, {error.name}", error.got, error.needs, error.do or AGAIN) from None
    return build, tuple(key for key in fields if key not in values)


def _value(field: Field, value: Any) -> Any:
    """Return a value as its field is given it; lists, texts and choices of another type are not guessed at."""
    if field.kind == "choices":
        if not isinstance(value, list):
            raise FieldError(field.key, field.label, _told(value), "a list in square brackets")
        return tuple(_chosen(field, one) for one in value)
    if field.kind == "choice":
        return _chosen(field, value)
    if field.kind in ("text", "table") and not isinstance(value, str):
        raise FieldError(field.key, field.label, _told(value), "text in quotes")
    if isinstance(value, dict | list) or (isinstance(value, float | int) and abs(value) > FAR):
        return field.check(_told(value))
    return value


def _chosen(field: Field, value: Any) -> Any:
    """Return the choice that a value is, of its own type."""
    for key, _ in field.choices:
        if key == value and isinstance(key, bool) == isinstance(value, bool):
            return key
    raise FieldError(field.key, field.label, _told(value), f"one of: {', '.join(str(key) for key, _ in field.choices)}")


def _told(value: Any) -> Any:
    """Return a value as a sentence shows it."""
    if isinstance(value, list | dict):
        return Found("a list" if isinstance(value, list) else "curly brackets")
    return Found("a number far too large") if isinstance(value, float | int) and abs(value) > FAR else value


def _name(file: str, name: Any) -> str:
    if not isinstance(name, str):
        raise InputError(f"{file}, name", _told(name), "text in quotes", AGAIN)
    try:
        return usable(name)
    except InputError as error:
        raise InputError(f"{file}, name", error.got, error.needs, AGAIN) from None


def _date(file: str, written: Any) -> date:
    try:
        return date.fromisoformat(written)
    except (TypeError, ValueError):
        raise InputError(f"{file}, saved_on", _told(written), "a date such as 2025-03-31", AGAIN) from None


def _site(file: str, found: Any) -> Site:
    """Return the site of a file."""
    names = {field.name: field for field in dataclasses.fields(Site)}
    if not isinstance(found, dict):
        raise InputError(f"{file}, site", _told(found), "null, or a value for each of its lines", AGAIN)
    for key in found:
        if key not in names:
            raise InputError(file, Found(f"a line of the site that is not known, {key}"), ", ".join(names), NEWER)
    values: dict[str, Any] = {}
    for key, value in found.items():
        values[key] = _site_value(f"{file}, {key}", names[key].default, value)
    try:
        site = Site(**values)
    except InputError as error:
        raise InputError(f"{file}, {error.name}", error.got, error.needs, error.do or AGAIN) from None
    soils: Mapping[str, Any] = load_soils()
    if site.soil not in soils:
        raise InputError(f"{file}, soil", site.soil, f"one of {', '.join(soils)}", NEWER)
    return site


def _site_value(where: str, usual: Any, value: Any) -> Any:
    """Return a value of a site, text where text is wanted and a number where a number is."""
    number = isinstance(value, int | float) and not isinstance(value, bool)
    if isinstance(usual, str) != isinstance(value, str) or not (number or isinstance(value, str)):
        raise InputError(where, _told(value), "text in quotes" if isinstance(usual, str) else "a number", AGAIN)
    return value
