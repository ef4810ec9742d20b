"""The settings file as text: every key with its help, the value exactly, what is not set as a comment."""

import json
from collections.abc import Iterator, Mapping
from typing import Any

from gardenframe import units
from gardenframe.builds.fields import Field
from gardenframe.teaching import settings_fields as known

HEAD = """\
# Settings of all gardenframe workbooks in this folder. Change them in 00_start_here, or here by hand.
# Lengths, speeds and loads are written with their unit, in quotes: "6 ft 2 1/2 in", "90 mph", "25 psf".
version = {version}
# metric or us: the units in which workbooks start, and so the tape
units = {units}
"""
KEPT = {"length": "m", "speed": "m/s", "pressure": "Pa"}
LISTED = {
    "sticks": '"emt-1" = ["10 ft", "20 ft"]',
    "on_hand": '"tie-200" = ["1"]',
    "leftovers": '"emt-1" = ["3 x 1200 mm", "1 x 4 ft 2 in"]',
}


def text_of(values: Mapping[str, Any], system: str, version: int) -> str:
    """Return the text of a settings file."""
    fields = {field.key: field for field in known.fields()}
    lines = [HEAD.format(version=version, units=quoted(system))]
    for section, keys in known.SECTIONS.items():
        lines.append(f"[{section}]")
        if keys:
            for key in keys:
                lines += _line(fields[key], values, system)
        else:
            lines += _list(fields[section], values[section])
        lines.append("")
    return "\n".join(lines)


def _line(field: Field, values: Mapping[str, Any], system: str) -> Iterator[str]:
    one_of = f" One of: {', '.join(key for key, _ in field.choices)}." if field.choices else ""
    yield f"# {field.label}. {field.help}{one_of}"
    unset = not values[field.key] if field.kind == "text" else any(not values[key] for key, _ in field.when)
    text = exact(field, values[field.key], system)
    yield f"# {field.key} = {text}" if unset else f"{field.key} = {text}"


def _list(field: Field, text: str) -> Iterator[str]:
    yield f"# {field.label}, such as {LISTED[field.key]}"
    for name, entries in known.listed(field, text).items():
        yield f"{quoted(name)} = [{', '.join(quoted(entry) for entry in entries)}]"


def exact(field: Field, value: Any, system: str) -> str:
    """Return a value so that reading it gives the same value again."""
    if field.kind in ("text", "choice"):
        return quoted(value)
    if field.kind == "angle":
        return repr(float(value))
    for other in (system, *units.SYSTEMS):
        written = field.written(value, other)
        if units.parse(written, field.kind, other) == value:
            return quoted(written)
    if field.kind == "share":
        return repr(float(value))
    return quoted(f"{float(value)!r} {KEPT[field.kind]}")


def quoted(text: str) -> str:
    """Return text as TOML holds it: in quotes, what would end them marked."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
