"""What the numbers rest on: every formula, table, stage of the road and source, with the outside checks that name it.

Read from the package, its tables and the rows that tests noted; nothing is typed here a second time.
"""

import importlib
import re
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from gardenframe import tables, working
from gardenframe.materials import checked, sources
from gardenframe.materials.checked import OutsideCheck
from gardenframe.materials.sources import Source
from gardenframe.studies.parts import STAGES, part_of, parts_of
from gardenframe.working.suffixes import POWERS, of_name

KNOWN = ("seen", "computed", "memory", "common practice", "invented")
HEARSAY = ("common practice", "invented")  # nobody outside could confirm it
NOT_READ = ("sources.csv", checked.TABLE)  # they are what the pages are made of
ROOT = "gardenframe."


@dataclass(frozen=True, slots=True, kw_only=True)
class Rests:
    """One formula, table or stage, and the outside checks that name it."""

    name: str
    title: str
    part: str
    checks: tuple[OutsideCheck, ...] = ()

    @property
    def worst(self) -> float | None:
        """Largest difference of its checks over the value, None where there is none."""
        return worst(self.checks)

    @property
    def hearsay(self) -> bool:
        """Whether only common practice, or invention, stands behind it."""
        return False


@dataclass(frozen=True, slots=True, kw_only=True)
class FormulaRests(Rests):
    """A formula: `form` works it out, `source` says where it is from."""

    form: working.Formula[..., object]
    source: Source

    @property
    def hearsay(self) -> bool:
        """Whether only common practice, or invention, stands behind it."""
        return self.source.how_known in HEARSAY


@dataclass(frozen=True, slots=True, kw_only=True)
class TableRests(Rests):
    """A table: its rows, and how many of its sources are known how. A row may name several sources."""

    rows: int
    known: tuple[tuple[str, int], ...]
    sources: tuple[str, ...]

    @property
    def hearsay(self) -> bool:
        """Whether only common practice, or invention, stands behind all of it."""
        return all(how in HEARSAY for how, _ in self.known)


@dataclass(frozen=True, slots=True, kw_only=True)
class SourceRests:
    """A source, and who uses it: formulas, tables, modules that name it in code, and how many checks."""

    source: Source
    formulas: tuple[FormulaRests, ...] = ()
    tables: tuple[TableRests, ...] = ()
    modules: tuple[str, ...] = ()
    checks: tuple[OutsideCheck, ...] = ()

    @property
    def used(self) -> bool:
        """Whether anything uses it."""
        return bool(self.formulas or self.tables or self.modules or self.checks)


@dataclass(frozen=True, slots=True, kw_only=True)
class Evidence:
    """Everything, or what was chosen of it."""

    formulas: tuple[FormulaRests, ...] = ()
    tables: tuple[TableRests, ...] = ()
    stages: tuple[Rests, ...] = ()
    checks: tuple[OutsideCheck, ...] = ()
    sources: tuple[SourceRests, ...] = ()

    @property
    def nothing_outside(self) -> tuple[Rests, ...]:
        """Formulas and tables that only common practice or invention stands behind."""
        return tuple(one for one in (*self.formulas, *self.tables) if one.hearsay)

    @property
    def not_yet(self) -> tuple[Rests, ...]:
        """Formulas, tables and stages that claim more, and that no check speaks of."""
        claim = [one for one in (*self.formulas, *self.tables) if not one.hearsay]
        return tuple(one for one in (*claim, *self.stages) if not one.checks)


def worst(checks: Iterable[OutsideCheck]) -> float | None:
    """Return the largest difference over the value, None where there is none to tell."""
    return max((ratio for check in checks if (ratio := check.off_ratio) is not None), default=None)


@cache
def evidence() -> Evidence:
    """Return all that there is. Every module that holds a formula is imported, once."""
    checks = checked.load_checks()
    by_name: dict[str, list[OutsideCheck]] = {}
    for check in checks:
        for name in check.checks:
            by_name.setdefault(name, []).append(check)
    naming = {name: tuple(found) for name, found in by_name.items()}
    shipped = sources.load_sources()
    formulas = tuple(_formulas(naming, shipped))
    read = tuple(_tables(naming, shipped))
    return Evidence(
        formulas=formulas,
        tables=read,
        stages=tuple(
            Rests(name=f"plan.{key}", title=said, part=part_of(f"plan.{key}"), checks=naming.get(f"plan.{key}", ()))
            for key, said in STAGES.items()
        ),
        checks=checks,
        sources=tuple(_sources(shipped, formulas, read, checks)),
    )


def _formulas(naming: dict[str, tuple[OutsideCheck, ...]], shipped: dict[str, Source]) -> Iterator[FormulaRests]:
    for module, written in _written().items():
        if re.search(r"^@(working\.)?formula\(", written, re.MULTILINE):
            importlib.import_module(f"{ROOT}{module}")
    for name, form in working.FORMULAS.items():
        if name.startswith(ROOT):
            short = name.removeprefix(ROOT)
            yield FormulaRests(
                name=short,
                title=_title(form.formula.title),
                part=part_of(short),
                checks=naming.get(short, ()),
                form=form,
                source=shipped[form.formula.source],
            )


def _title(line: str) -> str:
    """Return the first line of a docstring as a page has it: without its unit and full stop, powers and roots drawn.

    >>> _title("Second moment of a round tube, I = pi (D^4 - d^4)/64. [mm4]")
    'Second moment of a round tube, I = π (D⁴ − d⁴)/64'
    """
    bare = re.sub(r"\.?\s*(\[[^]]*\])?\.?$", "", line)
    bare = re.sub(r"`(\w+)`", lambda name: _said(name[1]), bare)
    for plain, drawn in ((r"\bpi\b", "π"), (r"\brho\b", "ρ"), (r"\bsqrt\b", "√"), (" - ", " − ")):
        bare = re.sub(plain, drawn, bare)
    return re.sub(r"\^([2-6])", lambda power: power[1].translate(POWERS), bare)


def _said(name: str) -> str:
    """Return a name of the code in words, without the unit at its end."""
    return (name.rpartition("_")[0] if of_name(name) else name).replace("_", " ")


def _tables(naming: dict[str, tuple[OutsideCheck, ...]], shipped: dict[str, Source]) -> Iterator[TableRests]:
    for path in sorted(tables.data_folder().glob("*.csv")):
        if path.name in NOT_READ:
            continue
        _, lines = tables.records(path)
        places = [n for n, heading in enumerate(lines[0][1]) if heading.endswith("source")]
        keys = Counter(cells[n] for _, cells in lines[1:] for n in places if cells[n] in shipped)
        if not keys:
            continue  # the list of a class that readers start from: what they choose, no number of ours
        known = Counter[str]()
        for key, number in keys.items():
            known[shipped[key].how_known] += number
        name = f"data/{path.name}"
        yield TableRests(
            name=name,
            title=path.stem.replace("_", " ").capitalize(),
            part=part_of(name),
            checks=naming.get(name, ()),
            rows=len(lines) - 1,
            known=tuple((how, known[how]) for how in KNOWN if known[how]),
            sources=tuple(sorted(keys)),
        )


def _sources(
    shipped: dict[str, Source],
    formulas: tuple[FormulaRests, ...],
    read: tuple[TableRests, ...],
    checks: tuple[OutsideCheck, ...],
) -> Iterator[SourceRests]:
    named = _named_in_code(shipped, formulas)
    for key, source in shipped.items():
        yield SourceRests(
            source=source,
            formulas=tuple(one for one in formulas if one.source.source == key),
            tables=tuple(one for one in read if key in one.sources),
            modules=tuple(module for module, keys in named.items() if key in keys),
            checks=tuple(check for check in checks if check.source == key),
        )


def _named_in_code(shipped: dict[str, Source], formulas: tuple[FormulaRests, ...]) -> dict[str, set[str]]:
    """Return the sources that each module names besides those of its formulas: on rows of checks, on sentences."""
    own = Counter((one.name.rpartition(".")[0], one.source.source) for one in formulas)
    found: dict[str, set[str]] = {}
    for module, whole in _written().items():
        written = re.sub(r"(?m)^ *>>>.*$", "", whole)  # an example uses nothing
        said = Counter(re.findall(r'source(?:=|": ?)"([\w./:+-]+)"', written))
        # a key of several words is a key wherever it stands
        said |= Counter(key for key in re.findall(r'"([\w./:+-]+)"', written) if "-" in key)
        keys = {key for key, number in said.items() if key in shipped and number > own[module, key]}
        if keys:
            found[module] = keys
    return found


@cache
def _written() -> dict[str, str]:
    """Return the source text of every module but those of the pages, which only show."""
    root = Path(tables.__file__).parent
    found = {".".join(p.relative_to(root).with_suffix("").parts): p for p in sorted(root.rglob("*.py"))}
    return {name: p.read_text(encoding="utf-8") for name, p in found.items() if not name.startswith("teaching")}


def narrowed(every: Evidence, part: str = "", known: str = "", words: str = "") -> Evidence:
    """Return what is of a part, known in a way, and holds all of the words; "" leaves everything.

    How it is known narrows formulas, tables and sources; the checks are then those that name what is left.
    """
    wanted = words.casefold().split()

    def said(*texts: str) -> bool:
        whole = " ".join(texts).casefold()
        return all(word in whole for word in wanted)

    def of_part(one: Rests) -> bool:
        return part in ("", one.part)

    formulas = tuple(
        one for one in every.formulas
        if of_part(one) and known in ("", one.source.how_known)
        and said(one.name, one.title, one.part, one.source.source, one.source.line)
    )  # fmt: skip
    read = tuple(
        one for one in every.tables
        if of_part(one) and (not known or known in dict(one.known)) and said(one.name, one.title, *one.sources)
    )  # fmt: skip
    left = {one.name for one in every.formulas if known in ("", one.source.how_known)}
    left |= {one.name for one in every.tables if not known or known in dict(one.known)}
    checks = tuple(
        check for check in every.checks
        if (not part or part in parts_of(check.checks)) and (not known or left & set(check.checks))
        and said(check.what, check.test, check.kind, check.unit or "", check.source, *check.checks,
                 *parts_of(check.checks))
    )  # fmt: skip
    return Evidence(
        formulas=formulas,
        tables=read,
        stages=tuple(one for one in every.stages if of_part(one) and said(one.name, one.title)),
        checks=checks,
        sources=tuple(
            one for one in every.sources
            if known in ("", one.source.how_known) and (not part or part in _parts_of(one))
            and said(one.source.source, one.source.line)
        ),
    )  # fmt: skip


def _parts_of(one: SourceRests) -> set[str]:
    named = {used.part for used in (*one.formulas, *one.tables)} | {part_of(module) for module in one.modules}
    return named.union(*(parts_of(check.checks) for check in one.checks))
