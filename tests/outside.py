"""What a test compares with something outside the project, noted as it runs.

Such a test says what it checks and where the other value is from:

    @pytest.mark.outside("strength.wind.exposure_ratio", "data/exposures.csv", source="asce7-16")
    def test_exposure_rows(...):
        assert wind.exposure_ratio(15.0, 7.0, 1200.0) == as_printed("0.57", "", "exposure at 15 ft")

Each comparison becomes a row of data/outside_checks.csv, which `pytest -m outside -n 0 --note-outside` writes. A test
whose rows differ from the file fails, and so does one whose formulas and modules were never called.
"""

import csv
import importlib
import math
import sys
from collections import Counter
from dataclasses import asdict, dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np

from gardenframe import road, tables, working
from gardenframe.materials import checked, sources

PACKAGE = Path(road.__file__).parent
HEADINGS = list(checked.SCHEMA)


@dataclass
class Row:
    """One row while the test runs: the worst of the like numbers so far."""

    kind: str
    value: str
    unit: str
    what: str
    source: str
    ours: float = math.nan
    off: float = 0.0
    allowed: float = 0.0
    count: int = 0


@dataclass
class Notes:
    """What one test notes: its rows, and which of the things it says it checks have been called."""

    test: str
    case: str
    what: str
    checks: tuple[str, ...]
    source: str
    rows: dict[tuple[str, ...], Row] = field(default_factory=dict)
    waiting: dict[str, Any] = field(default_factory=dict)

    def note(self, kind: str, value: str, unit: str | None, what: str, source: str, found: Any) -> None:
        """Add a comparison; `found` is ours, off and allowed of each number compared."""
        if unit is None:
            raise ValueError(
                f"{self.test}: say the unit of {value!r} ('' for a bare number), for it is an outside check."
            )
        what, source = _plain(what or self.what), source or self.source
        said = value if kind != "worked" else ""
        row = self.rows.setdefault((kind, said, unit, what, source), Row(kind, value, unit, what, source))
        for ours, off, allowed in found:
            row.count += 1
            if row.count == 1 or abs(off) * (row.allowed or 1e-300) > abs(row.off) * (allowed or 1e-300):
                row.value = value if kind != "worked" else f"{ours - off:.6g}"
                row.ours, row.off, row.allowed = ours, off, allowed

    def called(self, frame: Any, event: str, _: Any) -> None:
        """Watch, as a profiler does, until everything that is checked has been called."""
        if event != "call":
            return
        code = frame.f_code
        for name, mark in tuple(self.waiting.items()):
            if code is mark or code.co_filename == mark:
                del self.waiting[name]
                if not self.waiting:
                    sys.setprofile(None)

    def written(self) -> list[dict[str, str]]:
        """Return the rows as the file holds them."""
        same = {"test": self.test, "case": self.case or "none", "checks": " ".join(self.checks)}
        return [
            same
            | {key: str(value) or "none" for key, value in asdict(row).items()}
            | {key: f"{getattr(row, key) + 0.0:.6g}" for key in ("ours", "off", "allowed")}
            for row in self.rows.values()
        ]


NOW: list[Notes] = []  # the outside check that runs; at most one
NOTED: list[Notes] = []


def note(kind: str, value: str, unit: str | None, what: str, source: str, found: Any) -> None:
    """Note a comparison where an outside check runs."""
    if NOW:
        NOW[-1].note(kind, value, unit, what, source, found)


class Compared:
    """A number, or several, of somebody else; equal to ours within what is allowed, and noted when compared."""

    __array_ufunc__ = None  # so that an array of ours is compared whole
    __hash__ = None

    def __init__(self, kind: str, value: str, number: Any, allowed: Any, unit: str | None, what: str, source: str):
        self.told = (kind, value, unit, what, source)
        self.number = np.asarray(number, dtype=float)
        self.allowed = np.broadcast_to(np.asarray(allowed, dtype=float), self.number.shape)

    def __eq__(self, ours: Any) -> bool:
        ours = np.asarray(ours, dtype=float)
        if ours.shape != self.number.shape:
            return False
        off = ours - self.number
        kind, value, unit, what, source = self.told
        found = zip(ours.ravel().tolist(), off.ravel().tolist(), self.allowed.ravel().tolist(), strict=True)
        note(kind, value, unit, what, source, found)
        return bool(np.all(np.abs(off) <= self.allowed))

    def __repr__(self) -> str:
        return f"{self.told[1] or self.number} ± {np.max(self.allowed, initial=0.0):.3g} ({self.told[0]})"


def _plain(text: str) -> str:
    """Return a text that no spreadsheet runs: one that starts with a minus is put behind a word."""
    return f"at {text}" if tables.is_command(text) else text


def target(name: str) -> Any:
    """Return what a call of the thing named looks like: a code, a file, or None where no call can be seen."""
    place, _, last = name.rpartition(".")
    if name.startswith("data/"):
        if not (tables.data_folder() / name.removeprefix("data/")).is_file():
            raise ValueError(f"outside: got {name!r}, needs a table that is there.")
        return None
    if place == "plan":
        made = getattr(road.Plan, last)
        return (made.fget if isinstance(made, property) else made.func).__code__
    if (PACKAGE / (place.replace(".", "/") + ".py")).is_file():
        importlib.import_module(f"gardenframe.{place}")
    found = working.FORMULAS.get(f"gardenframe.{name}")
    if found is not None:
        return found.formula.function.__code__
    path = PACKAGE / (name.replace(".", "/") + ".py")
    if not path.is_file():
        raise ValueError(f"outside: got {name!r}, needs a formula, a module, plan.stage or data/table.csv.")
    return str(path)


def notes_of(item: Any) -> Notes | None:
    """Return the notes of a test that makes outside checks, None for another."""
    marks = list(item.iter_markers("outside"))  # the nearest first
    if not marks:
        return None
    checks = tuple(dict.fromkeys(name for mark in marks for name in mark.args))
    source = next((mark.kwargs["source"] for mark in marks if "source" in mark.kwargs), "")
    sources.how_known(source)
    test = f"{item.path.relative_to(Path(__file__).parent)}::{item.originalname}"
    case = item.callspec.id if hasattr(item, "callspec") else ""
    case = _plain(case)
    what = (item.function.__doc__ or "").strip().partition("\n")[0]
    notes = Notes(test, case, what, checks, source)
    notes.waiting = {name: mark for name in checks if (mark := target(name)) is not None}
    return notes


def problem(notes: Notes) -> str:
    """Return what is wrong with the notes of a test, "" where nothing is."""
    if notes.waiting:
        return f"{notes.test}: says it checks {', '.join(notes.waiting)}, which never ran."
    if not notes.rows:
        return f"{notes.test}: is an outside check and compares nothing (as_printed, as_remembered, as_worked)."
    return ""


def not_as_filed(notes: Notes) -> str:
    """Return how the notes differ from the file; numbers worked out may differ in size, never in what they are."""
    mine = Counter(_key(row) for row in notes.written())
    filed = _by_test().get((notes.test, notes.case or "none"), Counter())
    if mine == filed:
        return ""
    return f"{notes.test}: {checked.TABLE} does not hold what was noted; run pytest -m outside -n 0 --note-outside."


def _key(row: dict[str, str]) -> tuple[str, ...]:
    said = row["value"] if row["kind"] != "worked" else ""
    return (row["what"], row["checks"], row["kind"], said, row["unit"], row["source"])


@cache
def _by_test() -> dict[tuple[str, str], Counter[tuple[str, ...]]]:
    """Return the rows on file of each case of each test, read once: writing reads anew."""
    found: dict[tuple[str, str], Counter[tuple[str, ...]]] = {}
    for row in _filed():
        found.setdefault((row["test"], row["case"]), Counter())[_key(row)] += 1
    return found


def _filed() -> list[dict[str, str]]:
    path = tables.data_folder() / checked.TABLE
    if not path.is_file():
        return []
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def write() -> None:
    """Put what was noted into the file in place of the same tests' rows; rows of tests that are gone go."""
    run = {notes.test for notes in NOTED}
    kept = [row for row in _filed() if row["test"] not in run and there(row["test"])]
    rows = sorted(kept + [row for notes in NOTED for row in notes.written()], key=lambda r: (r["test"], r["case"]))
    with (tables.data_folder() / checked.TABLE).open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, HEADINGS, lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)


def there(test: str) -> bool:
    """Whether the test of a row still stands in its file."""
    path, _, name = test.partition("::")
    place = Path(__file__).parent / path
    return place.is_file() and f"def {name}(" in place.read_text(encoding="utf-8")
