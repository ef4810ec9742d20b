"""Last pages of a build sheet: care through the seasons, the arithmetic as text, and where every number is from."""

import re
from collections.abc import Iterator

from gardenframe.builds.inside import tags_of
from gardenframe.materials import sources
from gardenframe.materials.coverings import load_coverings
from gardenframe.materials.looks import looks_for
from gardenframe.materials.settling import to_settle
from gardenframe.output import markup
from gardenframe.output.markup import Column, escape
from gardenframe.road import Plan
from gardenframe.working import Step

SYMBOL = re.compile(r"\b([A-Za-z\u0391-\u03c9]{1,2})_([A-Za-z0-9]+)(?![A-Za-z0-9])")  # a small 2 counts as a letter
NAMED = re.compile(r"\[([a-z0-9-]+)\]")  # a source named inside a sentence
EMPTY_LINES = 6  # to write on


def parts(plan: Plan, system: str) -> Iterator[str]:
    """Yield the last parts."""
    yield markup.section("care", "Care", _care(plan), _life(plan, system), _notes())
    yield markup.section("working", "Appendix: the arithmetic", *_working(plan, system))
    yield markup.section("sources", "Appendix: sources", _sources(plan, system))


# --- care


def _care(plan: Plan) -> str:
    heads = (Column("What"), Column("When"), Column("Look for"), Column("Do"))
    rows = [(row.part, row.when, row.look_for, row.do) for row in looks_for(tags_of(plan))]
    told = "Common practice, no source. Write down what was done: the next person who looks will want to know."
    return markup.table("Look after it", heads, rows) + markup.paragraph(told, "note")


def _life(plan: Plan, system: str) -> str:
    coverings = load_coverings()
    used = [coverings[key] for key in dict.fromkeys(one.covering for one in plan.covered) if key in coverings]
    rows = [(row.label, f"{row.life_low_seasons:g} to {row.life_high_seasons:g}", row.life_source) for row in used]
    heads = (Column("Covering"), Column("Seasons", number=True), Column("Source"))
    return markup.table("How long a covering lasts", heads, rows) if rows else ""


def _notes() -> str:
    lines = "<tr><td></td><td></td></tr>" * EMPTY_LINES
    return (
        "<table class='write'><caption>What was done</caption><thead><tr><th>Date</th><th>What</th></tr></thead>"
        f"<tbody>{lines}</tbody></table>"
    )


# --- arithmetic


def _working(plan: Plan, system: str) -> Iterator[str]:
    worked = {heading: steps for heading, steps in plan.worked(system).items() if steps}
    if worked:
        yield markup.paragraph(
            "Each line is symbol = formula = numbers = result, as it was computed; in square brackets the source. A "
            "calculator set to degrees comes to the results shown."
        )
    for heading, steps in worked.items():
        yield f"<h3>{escape(heading)}</h3>" + "".join(_step(step) for step in steps)


def _step(step: Step) -> str:
    lines = "".join(f"<p>{_with_marks(line)}</p>" for line in step.lines)
    return f"<div class='step'>{lines}</div>"


def _with_marks(line: str) -> str:
    """Return a line of working with what stands below a symbol set below it."""
    return SYMBOL.sub(r"\1<sub>\2</sub>", escape(line))


# --- sources


def source_keys(plan: Plan, system: str) -> list[str]:
    """Return the key of every source that the sheet names, in order."""
    found: list[str] = []

    def steps_of(steps: list[Step] | tuple[Step, ...]) -> Iterator[str]:
        for step in steps:
            yield from steps_of(step.inner)
            yield step.source

    found += [row.source for row in plan.caution_rows]
    found += [row.source for row in to_settle(plan.build.indoors)]
    found += [row.source for row in (*plan.check_rows, *plan.standing.anchors.rows)]
    found += [limit.governs.source for limit in plan.limits if limit.governs]
    coverings = load_coverings()
    found += [coverings[one.covering].life_source for one in plan.covered if one.covering in coverings]
    found += [row.source for row in looks_for(tags_of(plan))]
    for steps in plan.worked(system).values():
        found += list(steps_of(steps))
    checks, held = plan.standing.checks, plan.standing.anchors
    told = (*plan.warnings, *checks.cautions, *checks.unchecked, *held.cautions, *held.unchecked)
    found += NAMED.findall(" ".join(told))
    return sorted(dict.fromkeys(filter(None, found)))


def _sources(plan: Plan, system: str) -> str:
    known = sources.load_sources()
    rows = [(key, known[key].line if key in known else "the reader's own") for key in source_keys(plan, system)]
    return markup.table(
        "Sources named on these pages, and how each is known", (Column("Source"), Column("What it is")), rows
    )
