"""The workbooks as shipped, and a reader's copies of them: new ones written, unchanged ones renewed, edited ones kept.

Beside the copies lies `.gardenframe.json`, which holds the hash of each file as it was copied. A copy that no longer
has that hash is the reader's own and is never written over; where we have a newer one, it is put beside it.
"""

import hashlib
import json
from pathlib import Path
from typing import Any, Literal, NamedTuple

from gardenframe.errors import InputError

RECORD = ".gardenframe.json"
NEWER = ".newer"
What = Literal["copied", "renewed", "as it was", "yours, kept"]


class Copied(NamedTuple):
    """What became of one workbook; `newer` is where ours lies if the reader's own stands in its place."""

    name: str
    what: What
    newer: str = ""

    def __str__(self) -> str:
        beside = f"; ours is newer and lies beside it as {self.newer}" if self.newer else ""
        return f"{self.name}: {self.what}{beside}"


def shipped_folder() -> Path:
    """Return the folder of the workbooks: inside the package in a wheel, beside the package in a clone."""
    package = Path(__file__).parents[1]
    for folder in (package / "workbooks", package.parent / "workbooks"):
        if any(folder.glob("*.ipynb")):
            return folder
    needs = f"notebooks in {package / 'workbooks'} or {package.parent / 'workbooks'}"
    raise InputError("workbooks", None, needs, "Install gardenframe again.")


def shipped(folder: Path | None = None) -> list[Path]:
    """Return the workbooks as shipped, in the order in which they are read."""
    return sorted((folder or shipped_folder()).glob("*.ipynb"))


def copy(target: Path, source: Path | None = None) -> list[Copied]:
    """Return what became of each workbook when copied into a folder; InputError where it cannot be written."""
    try:
        target.mkdir(parents=True, exist_ok=True)
        record = _record(target)
        done = [_copied(path, target, record) for path in shipped(source)]
        kept = json.dumps(record, indent=1, sort_keys=True) + "\n"
        if not (target / RECORD).is_file() or (target / RECORD).read_text(encoding="utf-8") != kept:
            (target / RECORD).write_text(kept, encoding="utf-8")
    except OSError as problem:
        needs = f"a folder that can be written ({problem.strerror or problem})"
        raise InputError("folder", str(target), needs, "Name another, such as my-garden.") from None
    return done


def _copied(path: Path, target: Path, record: dict[str, str]) -> Copied:
    ours, place = path.read_bytes(), target / path.name
    before = record.get(path.name)
    if not place.exists():
        _write(place, ours, record)
        return Copied(path.name, "copied")
    if _hash(place.read_bytes()) == _hash(ours):
        record[path.name] = _hash(ours)
        return Copied(path.name, "as it was")
    if _hash(place.read_bytes()) == before:
        _write(place, ours, record)
        return Copied(path.name, "renewed")
    if before == _hash(ours):  # what the reader changed is still our newest
        return Copied(path.name, "yours, kept")
    beside = target / f"{path.stem}{NEWER}{path.suffix}"
    if beside.exists() and _hash(beside.read_bytes()) not in (_hash(ours), record.get(beside.name)):
        return Copied(path.name, "yours, kept")  # and so is the one beside it
    _write(beside, ours, record)
    return Copied(path.name, "yours, kept", beside.name)


def _write(place: Path, content: bytes, record: dict[str, str]) -> None:
    place.write_bytes(content)
    record[place.name] = _hash(content)


def _hash(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()


def _record(target: Path) -> dict[str, str]:
    """Return what was copied before; a record that was lost or broken makes every file the reader's own."""
    try:
        found: Any = json.loads((target / RECORD).read_text(encoding="utf-8"))
    except (FileNotFoundError, ValueError):
        return {}
    return {str(name): str(value) for name, value in found.items()} if isinstance(found, dict) else {}
