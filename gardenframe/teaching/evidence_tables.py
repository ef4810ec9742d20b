"""What the numbers rest on, as tables: formulas, one of them worked out, tables, stages, sources, and what has nothing.

`evidence_results` shows the checks; this shows what they are held against, and what none of them speaks of. Text only.
"""

import inspect
from collections.abc import Iterable, Sequence

from gardenframe import working
from gardenframe.materials.sources import load_sources
from gardenframe.studies.evidence import HEARSAY, Evidence, FormulaRests, Rests, SourceRests, TableRests
from gardenframe.teaching.evidence_results import SHORT, kinds, percent
from gardenframe.teaching.page import Column, count, escape, note, stacked
from gardenframe.working import render
from gardenframe.working.suffixes import of_name, text_label

PLAIN = {"outer_mm": "outside diameter", "wall_mm": "thickness of the wall", "gyration_mm": "radius of gyration"}

# --- formulas


def formula_rows(formulas: Iterable[FormulaRests]) -> str:
    """Return formulas as a table."""
    columns = (
        Column("Formula"), Column("Part"), Column("Symbol"), Column("Source"), Column("Known"),
        Column("Checks", number=True), Column("Furthest off", "%", number=True),
    )  # fmt: skip
    rows = [
        (
            one.title, one.part, render.text_symbol(one.form.formula.result), one.source.source,
            SHORT[one.source.how_known], len(one.checks), percent(one.worst),
        )
        for one in formulas
    ]  # fmt: skip
    return stacked("Formulas", columns, rows)


def worked_out(one: FormulaRests, system: str) -> str:
    """Return a formula worked out on its example in both unit systems, and what its symbols stand for. With LaTeX."""
    form = one.form
    inputs = working.example_of(form)
    systems = (system, "us" if system == "metric" else "metric")
    blocks = "".join(
        f"<h4>{'Metric' if each == 'metric' else 'Feet, inches and pounds'}</h4>"
        + escape(working.latex([form.shown(**inputs, system=each)]))
        for each in systems
    )
    holds = (
        "It holds in any units that go together."
        if form.formula.kind == "consistent"
        else "It holds only in the units of its source; what is in other units is converted before and after."
    )
    plain = "" if form.formula.example else " The numbers are plain ones, to show the arithmetic: they build nothing."
    return f"<h4>{escape(one.title)}</h4>{blocks}{note(holds + plain)}{_symbols(one)}"


def _symbols(one: FormulaRests) -> str:
    record = one.form.formula
    inputs = working.example_of(one.form)
    given = list(inspect.signature(record.function).parameters)
    columns = (Column("Symbol"), Column("Stands for"), Column("Kept in"), Column("In the example", number=True))
    rows = [
        (_symbol(record.symbols.get(name, "")), _words(name), text_label(of_name(name)), _example(inputs.get(name)))
        for name in given
    ]
    for name, symbol in record.symbols.items():
        if name not in given:
            said = "a constant" if name.isupper() else "worked out on the way"
            value = _example(record.function.__globals__.get(name)) if name.isupper() else ""
            rows.append((_symbol(symbol), f"{_words(name)} ({said})", text_label(of_name(name)), value))
    name = record.function.__name__
    rows.append((_symbol(record.result), f"{_words(name)} (the result)", text_label(of_name(name)), ""))
    return stacked("Symbols", columns, rows)


def _symbol(symbol: str) -> str:
    return rf"\({render.latex_symbol(symbol)}\)" if symbol else "–"


def _example(value: object) -> str:
    return render.number(value) if isinstance(value, int | float) and not isinstance(value, bool) else str(value or "")


def _words(name: str) -> str:
    """Return what a name says, without the unit at its end.

    >>> _words("load_n_per_m"), _words("second_moment_mm4"), _words("STEEL_PA"), _words("porous_ratio")
    ('load', 'second moment', 'steel', 'porous ratio')
    """
    if name in PLAIN:
        return PLAIN[name]
    tokens, unit = name.lower().split("_"), of_name(name)
    short = [at for at in range(1, len(tokens)) if unit and of_name("x_" + "_".join(tokens[at:])) == unit]
    return " ".join(tokens[: short[-1]] if short else tokens)


def formula_source(one: FormulaRests) -> str:
    """Return where a formula is from, and why there is no check where there is none."""
    told = note(f"Source, {one.source.source}: {one.source.line}. In code: gardenframe.{one.name}.")
    if one.checks:
        return told
    why = "nothing outside to hold against" if one.hearsay else "no outside check speaks of it yet"
    return told + note(f"Checks: {why}.")


# --- tables, stages, sources


def table_rows(found: Iterable[TableRests]) -> str:
    """Return tables with their rows and how these are known."""
    columns = (
        Column("Table"), Column("Part"), Column("Rows", number=True), Column("Known"), Column("Sources"),
        Column("Checks", number=True), Column("Furthest off", "%", number=True),
    )  # fmt: skip
    rows = [
        (one.name.removeprefix("data/"), one.part, one.rows, _known(one), _few(one.sources), len(one.checks),
         percent(one.worst))
        for one in found
    ]  # fmt: skip
    told = note("Each row names its source; one that holds several numbers may name a source for each of them.")
    return stacked("Tables", columns, rows) + told


def _known(one: TableRests) -> str:
    return ", ".join(f"{number} {SHORT[how]}" for how, number in one.known)


def _few(names: Sequence[str], most: int = 3) -> str:
    more = f" and {len(names) - most} more" if len(names) > most else ""
    return ", ".join(names[:most]) + more


def stage_rows(stages: Iterable[Rests]) -> str:
    """Return the stages of the road with their checks."""
    columns = (
        Column("Stage"), Column("What it finds"), Column("Checks", number=True), Column("Of them"),
        Column("Furthest off", "%", number=True),
    )  # fmt: skip
    rows = [(s.name, s.title, len(s.checks), kinds(s.checks), percent(s.worst)) for s in stages]
    return stacked("Stages of the road", columns, rows)


def source_rows(found: Iterable[SourceRests]) -> str:
    """Return sources with how each is known and who uses it."""
    columns = (Column("Key"), Column("Source"), Column("Known"), Column("Used by"))
    rows = []
    for one in found:
        said = "; ".join(part for part in (one.source.title, one.source.edition, one.source.place) if part)
        rows.append((one.source.source, said, SHORT[one.source.how_known], _users(one)))
    return stacked("Sources", columns, rows)


def _users(one: SourceRests) -> str:
    said = [
        count(len(one.formulas), "formula") if one.formulas else "",
        _few([used.name.removeprefix("data/") for used in one.tables]),
        count(len(one.checks), "check") if one.checks else "",
        _few([module.rpartition(".")[2] for module in one.modules], 2),
    ]
    return ", ".join(part for part in said if part) or "nothing now"


# --- what nothing outside stands behind


def nothing_page(chosen: Evidence) -> str:
    """Return formulas and tables with nothing outside to hold against, and those that no check speaks of yet."""
    columns = (Column("What"), Column("Part"), Column("Known"), Column("Source"))
    page = ""
    if chosen.nothing_outside:
        page += "<h4>Nothing outside to hold against</h4>" + stacked(
            "Nothing outside to hold against", columns, [_unheld(one) for one in chosen.nothing_outside]
        )
    partly = [one for one in chosen.tables if not one.hearsay and _hearsay_in(one)]
    if partly:
        rows = [(one.name.removeprefix("data/"), one.part, _known(one), _from_nowhere(one)) for one in partly]
        page += "<h4>Tables of which some rows have none</h4>" + stacked("Partly", columns, rows)
    if chosen.not_yet:
        page += "<h4>With a source, and no outside check yet</h4>" + stacked(
            "No check yet", columns, [_unheld(one) for one in chosen.not_yet]
        )
    told = (
        "Common practice is what people in the trade do; invented rows are made up and say so: prices, fitting sizes, "
        "the Millbrook Lane garden. No test can hold them against anything: measure yours, and put your own tables in."
    )
    return page + note(told) if page else note("Nothing of what is chosen: all of it is held against something.")


def _unheld(one: Rests) -> tuple[str, ...]:
    if isinstance(one, FormulaRests):
        return (one.title, one.part, SHORT[one.source.how_known], one.source.source)
    if isinstance(one, TableRests):
        return (f"table {one.name.removeprefix('data/')}", one.part, _known(one), _few(one.sources))
    return (f"stage {one.name}", one.part, "worked out by the road", "–")


def _hearsay_in(one: TableRests) -> bool:
    return any(how in HEARSAY for how, _ in one.known)


def _from_nowhere(one: TableRests) -> str:
    known = load_sources()
    return _few([key for key in one.sources if known[key].how_known in HEARSAY])
