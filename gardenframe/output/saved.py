"""Saved builds: what a reader chose, under a name, in a file of its own.

A build, a name and a site come in, a JSON file goes out, and back. One file for each build, not one for all: a file
that is broken by hand takes no other build with it, two workbooks that save at once cannot undo each other, and a build
can be copied, sent or thrown away as a file. Values are in kept units, whose names end their keys, so that a file can
be read and mended by hand; every value is checked by its field on the way in.
"""

import dataclasses
import json
from datetime import date
from pathlib import Path

from gardenframe.builds.build import Build
from gardenframe.errors import InputError
from gardenframe.materials.site import Site
from gardenframe.output.files import put
from gardenframe.output.saved_reading import ENDING, KEYS, KIND, MOST_BYTES, VERSION, Saved, file_name, read, usable
from gardenframe.tables import Found

__all__ = ["ENDING", "Saved", "broken_in", "file_name", "load", "save", "saved_in"]


def save(
    build: Build,
    name: str,
    folder: Path | str,
    *,
    site: Site | None = None,
    saved_on: date | None = None,
    replace: bool = False,
) -> Saved:
    """Return a build as saved under a name, its file written whole or not at all.

    Parameters
    ----------
    name : str
        As a reader wants to find it again. Names that differ only in capitals, spaces and signs are one name.
    folder : Path or str
        Made if it is not there.
    site : Site, optional
        The site it was planned for; none where the reader's own is to count.
    saved_on : date, optional
        Today unless given.
    replace : bool
        Whether it takes the place of the build of that kind saved under that name.

    Raises
    ------
    InputError
        For a name that cannot be used or is taken, a file there that cannot be read, a folder that cannot be written:
        whatever was there stays.
    """
    folder = Path(folder)
    name = usable(name)
    place = folder / file_name(build.key, name)
    saved = Saved(build=build, name=name, site=site, saved_on=saved_on or date.today(), place=place)
    data = _text(saved).encode("utf-8", "surrogatepass")
    if read(data, place) != saved:  # never save what would be read as something else
        raise InputError(name, Found("values that cannot be written exactly"), "values such as those of its fields")
    try:
        if not folder.is_dir():
            folder.mkdir(parents=True, exist_ok=True)
        if replace and place.exists():
            _may_go(place, name)
        _write(place, data, name, replace)
    except OSError as problem:
        needs = f"a folder that can be written ({problem.strerror or problem})"
        raise InputError("folder", str(folder), needs, "Nothing was changed.") from None
    return saved


def _may_go(place: Path, name: str) -> None:
    """Refuse to write over a file that cannot be read, which may be a newer one, or that holds another name."""
    there = load(place)
    if file_name(there.build.key, there.name) != place.name:
        do = f"The file {place.name} holds {there.name!r}: move it away, or choose another name."
        raise InputError("name", name, "a name whose file is its own", do)


def _write(place: Path, data: bytes, name: str, replace: bool) -> None:
    try:
        put(place, data, replace=replace)
    except FileExistsError:
        do = "Choose another name, or replace the one that is there."
        raise InputError("name", name, "a name that no saved build of this kind has", do) from None


def load(path: Path | str) -> Saved:
    """Return a saved build from its file, every value checked.

    Raises
    ------
    InputError
        Naming the file and what in it cannot be used. The file is never changed.
    """
    place = Path(path)
    try:
        if place.stat().st_size > MOST_BYTES:
            raise InputError(place.name, Found("a file of over a megabyte"), "a saved build")
        data = place.read_bytes()
    except FileNotFoundError:
        raise InputError(place.name, Found("no such file"), f"a saved build in {place.parent}") from None
    except OSError as problem:
        raise InputError(place.name, Found(problem.strerror or str(problem)), "a file that can be read") from None
    return read(data, place)


def saved_in(folder: Path | str, key: str | None = None) -> list[Saved]:
    """Return the saved builds of a folder, newest first; of one build type where its key is given.

    Files that cannot be read are left out here and told by `broken_in`.
    """
    found = [one for one in _all_in(folder) if isinstance(one, Saved) and key in (None, one.build.key)]
    return sorted(sorted(found, key=lambda one: one.name.casefold()), key=lambda one: one.saved_on, reverse=True)


def broken_in(folder: Path | str) -> list[str]:
    """Return one sentence for each saved build of a folder that cannot be read."""
    return [str(one) for one in _all_in(folder) if isinstance(one, InputError)]


def _text(saved: Saved) -> str:
    site = None if saved.site is None else dataclasses.asdict(saved.site)
    values = {key: list(value) if isinstance(value, tuple) else value for key, value in saved.build.values().items()}
    written = (KIND, VERSION, saved.name, saved.build.key, saved.saved_on.isoformat(), values, site)
    return json.dumps(dict(zip(KEYS, written, strict=True)), indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def _all_in(folder: Path | str) -> list[Saved | InputError]:
    found: list[Saved | InputError] = []
    for place in sorted(Path(folder).glob(f"*{ENDING}")):
        try:
            found.append(load(place))
        except InputError as error:
            found.append(error)
    return found
