"""The list of a class: a line for each build that somebody makes, as CSV or pasted cells, read cell by cell.

A table comes in; entries that can be planned and a sentence for every bad cell go out. A line needs an alias and a
build; every other column names a field, and an empty cell leaves that field as it is in the build or in its example.
"""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any

from gardenframe import builds, named, tables, units
from gardenframe.builds.build import Build
from gardenframe.builds.fields import Field, FieldError
from gardenframe.errors import InputError, TableError
from gardenframe.tables import Found

ALIAS, BUILD, UNITS, EXAMPLE = "alias", "build", "units", "example"
OWN = (ALIAS, BUILD, UNITS, EXAMPLE)
SYSTEMS = {"metric": "metric", "us": "us", "feet and inches": "us", "": "metric"}
YES_NO = {"yes": True, "no": False, "y": True, "n": False, "true": True, "false": False}
LONGEST_ALIAS = 30
MOST_LINES = 5000
WORDS = ("choice", "choices", "flag", "text")
UNIT_END = re.compile(r"_(m|mm|kg|pa|l|w|h|n|deg|degc|share)\d?(_per_[a-z]+\d?)?$")  # of a key: width_m, sun_w_per_m2


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One line of the list that can be planned."""

    line: int
    alias: str
    build: Build
    columns: tuple[tuple[str, str], ...] = ()  # key of a field that was given, and the heading it was given under

    def where(self, field: str) -> str:
        """Return the heading to look under for what is wrong with a field."""
        return dict(self.columns).get(field, BUILD)


@dataclass(frozen=True, slots=True, kw_only=True)
class Listed:
    """A list as it was read: what it is called, the entries that can be planned, every bad cell."""

    name: str
    entries: tuple[Entry, ...]
    problems: tuple[TableError, ...]


def plain(text: str) -> str:
    """Return a heading or a choice without what people write differently: capitals, blanks, lines, dots.

    >>> plain("Tube_size "), plain("Walkway-arch")
    ('tubesize', 'walkwayarch')
    """
    return re.sub(r"[\s_\-.,()]+", "", text.casefold())


def short_key(key: str) -> str:
    """Return the key of a field without its unit, as a heading.

    >>> short_key("width_m"), short_key("joining"), short_key("wind_m_per_s")
    ('width', 'joining', 'wind')
    """
    return UNIT_END.sub("", key) or key


@cache
def names_of(kind: type[Build]) -> dict[str, str]:
    """Return the heading of each field of a build by key: without its unit, unless another field has that name."""
    found: dict[str, str] = {}
    for field in sorted(kind.fields(), key=lambda field: field.key != short_key(field.key)):
        short = short_key(field.key)
        found[field.key] = field.key if short in found.values() else short
    return found


@cache
def headings_of(kind: type[Build]) -> dict[str, str]:
    """Return every heading that a field of a build may stand under, plainly, with the field's key."""
    found: dict[str, str] = {}
    names = names_of(kind)
    for way in (lambda f: f.key, lambda f: names[f.key], lambda f: f.label):
        for field in kind.fields():
            found.setdefault(plain(way(field)), field.key)
    return found


@cache
def _kinds() -> dict[str, type[Build]]:
    named_by_key = {plain(key): kind for key, kind in builds.ALL.items()}
    return {plain(kind.title): kind for kind in builds.ALL.values()} | named_by_key


def read_class(table: tables.Table) -> Listed:
    """Return a class's list; raise TableError only where the file cannot be read or lacks alias or build.

    Parameters
    ----------
    table : str, bytes or Path
        A path; text with more than one line, or bytes, are the table itself.
    """
    name, lines = tables.records(table, any_separator=True)
    headings = [plain(cell) for cell in lines[0][1]]
    problems: list[TableError] = list(_bad_headings(name, headings, lines[0][1]))
    if len(lines) - 1 > MOST_LINES:
        raise TableError(name, None, None, Found(f"{len(lines) - 1} lines"), f"at most {MOST_LINES} builds")
    entries: list[Entry] = []
    seen: dict[str, int] = {}
    for line, cells in lines[1:]:
        if len(cells) > len(headings) and not any(cell.strip() for cell in cells[len(headings) :]):
            cells = cells[: len(headings)]
        cells = [*cells, *[""] * (len(headings) - len(cells))]
        row = _Line(name, line, lines[0][1], headings, cells)
        entry = row.entry(seen)
        problems += row.problems
        if entry:
            entries.append(entry)
    if not entries and not problems:
        raise TableError(name, None, None, Found("no rows"), "at least one row under the headings")
    return Listed(name=name, entries=tuple(entries), problems=tuple(problems))


def _bad_headings(name: str, headings: list[str], written: list[str]) -> Iterator[TableError]:
    """Yield the headings that no build has; raise where the list cannot be read without them."""
    for needed in (ALIAS, BUILD):
        if needed not in headings:
            do = "Start from the template."
            raise TableError(name, 1, needed, Found("no such column"), f"the columns {ALIAS} and {BUILD}", do)
    known = {plain(own) for own in OWN} | {one for kind in builds.ALL.values() for one in headings_of(kind)}
    for place, heading in enumerate(headings):
        if heading and headings.index(heading) != place:
            raise TableError(name, 1, written[place], Found("the same column twice"), "each column once")
        if heading and heading not in known:
            do = "Lines with an empty cell there are planned."
            yield TableError(name, 1, written[place], Found("a heading that no build has"), "the name of a field", do)


class _Line:
    """One line on its way to an entry: every cell that cannot be used is noted."""

    def __init__(self, name: str, line: int, written: list[str], headings: list[str], cells: list[str]) -> None:
        self.name, self.line, self.problems = name, line, list[TableError]()
        self.written = dict(zip(headings, written, strict=True))
        self.cells = {heading: cell.strip() for heading, cell in zip(headings, cells)}
        self.extra = cells[len(headings) :]

    def wrong(self, heading: str, got: Any, needs: str, do: str = "") -> None:
        """Note a bad cell."""
        self.problems.append(TableError(self.name, self.line, self.written.get(heading, heading), got, needs, do))

    def entry(self, seen: dict[str, int]) -> Entry | None:
        """Return the entry, None where any cell of the line is bad."""
        if self.extra:
            do = "A comma inside a cell needs quotes round the cell; numbers take a dot."
            found = Found(f"{len(self.written) + len(self.extra)} cells")
            self.problems.append(TableError(self.name, self.line, None, found, f"{len(self.written)} cells", do))
            return None
        for heading, cell in self.cells.items():
            if tables.is_command(cell):
                self.wrong(heading, cell, "the value itself", "It starts like a spreadsheet command.")
        alias, kind, system = self._alias(seen), self._kind(), self._system()
        if self.problems or kind is None:
            return None
        values = self._example(kind) | self._given(kind, system)
        return None if self.problems else self._built(alias, kind, values)

    def _alias(self, seen: dict[str, int]) -> str:
        alias = " ".join(self.cells[ALIAS].split())
        if not alias or len(alias) > LONGEST_ALIAS or not alias.isprintable():
            self.wrong(ALIAS, alias or None, f"1 to {LONGEST_ALIAS} letters", "No real name is needed.")
        elif plain(alias) in seen:
            do = f"For a second build write {alias} 2."
            self.wrong(ALIAS, alias, f"each used once; it stands in line {seen[plain(alias)]} already", do)
        else:
            seen[plain(alias)] = self.line
        return alias

    def _kind(self) -> type[Build] | None:
        kind = _kinds().get(plain(self.cells[BUILD]))
        if kind is None:
            self.wrong(BUILD, self.cells[BUILD], f"one of {', '.join(builds.ALL)}")
        return kind

    def _system(self) -> str:
        said = self.cells.get(UNITS, "").casefold()
        if said not in SYSTEMS:
            self.wrong(UNITS, said, "metric or us")
        return SYSTEMS.get(said, "metric")

    def _example(self, kind: type[Build]) -> dict[str, Any]:
        said = self.cells.get(EXAMPLE, "")
        for name, values in kind.examples.items():
            if plain(name) == plain(said):
                return dict(values)
        if said:
            self.wrong(EXAMPLE, said, f"one of {', '.join(kind.examples)}", "Or leave the cell empty.")
        return {}

    def _given(self, kind: type[Build], system: str) -> dict[str, Any]:
        """Return the values of the cells that hold anything."""
        found: dict[str, Any] = {}
        known, theirs = headings_of(kind), [plain(own) for own in OWN]
        for heading, cell in self.cells.items():
            if not cell or heading in theirs:
                continue
            if heading not in known:
                self.wrong(heading, cell, f"an empty cell: {kind.title} has no such field")
                continue
            field = kind.field(known[heading])
            try:
                found[field.key] = field.check(value_of(field, cell, system), system)
            except InputError as error:
                self.wrong(heading, cell, error.needs, error.do or _reminder(field, cell, system))
        return found

    def _built(self, alias: str, kind: type[Build], values: dict[str, Any]) -> Entry | None:
        known = headings_of(kind)
        given = tuple((known[h], self.written[h]) for h, cell in self.cells.items() if cell and h in known)
        try:
            return Entry(line=self.line, alias=alias, build=kind(**values), columns=given)
        except FieldError as error:  # fields that are each allowed but do not go together
            self.wrong(dict(given).get(error.field, BUILD), error.got, f"{error.name} {error.needs}", error.do)
            return None


def _reminder(field: Field, cell: str, system: str) -> str:
    """Return how a bare number is read, where that may be what went wrong."""
    unit = "" if field.kind in WORDS else units.usual_unit(field.kind, system)
    bare = bool(re.fullmatch(r"[\d.,\s/]+", cell)) and unit
    return f"A bare number means {'inches' if unit == 'ft-in' else unit}: write the unit behind it." if bare else ""


def value_of(field: Field, cell: str, system: str) -> Any:
    """Return what a cell says of a field; InputError where it cannot be read.

    Numbers come with or without their unit, choices by key or by label, several choices parted by semicolons.
    """
    if field.kind == "text":
        return cell
    if field.kind == "flag":
        return YES_NO.get(cell.casefold(), cell)
    if field.kind == "choice":
        return _choice(field, cell)
    if field.kind == "choices":
        return tuple(_choice(field, part) for part in re.split(r"[;,/]", cell) if part.strip())
    if field.kind in named.KINDS:
        return named.read(cell, field.kind, field.label)
    return units.parse(cell, field.kind, system, name=field.label)


def _choice(field: Field, cell: str) -> Any:
    for value, label in field.choices:
        if plain(cell) in (plain(str(value)), plain(str(label))):
            return value
    return cell


def template(kinds: Iterable[str] | None = None, system: str = "metric") -> str:
    """Return a list to start from as CSV: a column for each field that comes first, a line for each build as it is.

    Parameters
    ----------
    kinds : iterable of str
        Keys of builds; all unless given.
    system : str
        metric or us: how the values in it are written.
    """
    chosen = [builds.ALL[key] for key in (builds.ALL if kinds is None else kinds)]
    fields = dict.fromkeys(names_of(kind)[field.key] for kind in chosen for field in kind.fields() if field.first)
    rows = [[ALIAS, BUILD, UNITS, *fields]]
    for kind in chosen:
        build, mine = kind(), {names_of(kind)[field.key]: field for field in kind.fields() if field.first}
        cells = [_cell(mine[key], build, system) if key in mine else "" for key in fields]
        rows.append([f"gardener {len(rows)}", kind.key, system, *cells])
    return "".join(",".join(_quoted(cell) for cell in row) + "\r\n" for row in rows)


def _cell(field: Field, build: Build, system: str) -> str:
    """Return a value as `value_of` reads it again."""
    value = getattr(build, field.key)
    if not build.used(field):
        return ""
    if field.kind == "choice":
        return str(value)
    if field.kind == "choices":
        return "; ".join(map(str, value))
    return field.written(value, system)


def _quoted(cell: str) -> str:
    return '"' + cell.replace('"', '""') + '"' if re.search(r'[",;\r\n]', cell) else cell
