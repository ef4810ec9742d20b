"""Will it stand, on paper: limits in words and numbers, every check and what holds it, each with its source."""

import math
from collections.abc import Iterator

from gardenframe import units
from gardenframe.materials import constants
from gardenframe.materials.beaufort import mean_wind_m_per_s, row_of_gust
from gardenframe.output import markup, telling
from gardenframe.output.bars import ratio_words
from gardenframe.output.markup import Column
from gardenframe.output.sheet_front import chosen
from gardenframe.road import Plan
from gardenframe.strength.limits import FASTEST_M_PER_S, Limit
from gardenframe.strength.rows import CheckRow

ENDING = "Demand against capacity with code reserves. Local codes and licensed practice decide; nothing is called safe."


def parts(plan: Plan, system: str) -> Iterator[str]:
    """Yield the parts about strength."""
    yield markup.section("limits", "When to take the cover off", _limits(plan, system))
    yield markup.section("chosen", "What this sheet was worked out for", chosen(plan, system))
    checks = plan.standing.checks
    rows = _rows("Checks, the hardest worked first", plan, telling.rows_by_worst(plan), system)
    yield markup.section(
        "checks", "Will it stand", _over(plan), rows,
        markup.listed((*checks.cautions, *checks.unchecked)), markup.paragraph(ENDING, "note"),
    )  # fmt: skip
    yield markup.section("anchors", "What holds it down", _anchors(plan, system))


def _over(plan: Plan) -> str:
    over = [row for row in (*telling.rows_by_worst(plan), *telling.anchors_by_worst(plan)) if row.ratio > 1]
    if not over:
        return ""
    names = ", ".join(dict.fromkeys(row.check.split(":")[0] for row in over))
    where, do = "at this site", "find a sheltered place, or take the covering off before such wind"
    if plan.build.indoors:
        where, do = "where it stands", "or tie it to something that holds"
    told = f"Look again: {len(over)} of the checks on these pages are over their limit {where} ({names})."
    return markup.paragraph(f"{told} Change the build, {do}.", "warning")


def _rows(caption: str, plan: Plan, rows: list[CheckRow], system: str, anchors: bool = False) -> str:
    heads = (
        Column("Check"), Column("When"), Column("Where"), Column("Demand", number=True),
        Column("Capacity", number=True),
        Column("Holds over pulls" if anchors else "Ratio", number=True), Column("Source"),
    )  # fmt: skip
    lines = [
        (row.check, telling.said_of(plan, row.case), row.where, *telling.sides(row, system),
         telling.held_over_pulls(row) if anchors else telling.ratio(row), row.source)
        for row in rows
    ]  # fmt: skip
    return markup.table(caption, heads, lines, kind="close") if lines else ""


def _anchors(plan: Plan, system: str) -> str:
    rows, found = telling.anchors_by_worst(plan), plan.standing.anchors
    kept = markup.listed((*telling.lifted_together(found.cautions, system), *found.unchecked))
    if not rows:
        return markup.paragraph("Nothing holds it: it stands free.") + kept
    first = rows[0]
    told = markup.paragraph(f"Nearest to giving: {first.check} ({ratio_words(first.ratio)}).")
    return told + _rows("What holds, and how surely", plan, rows, system, anchors=True) + kept


def _limits(plan: Plan, system: str) -> str:
    gusts = [limit for limit in plan.limits if limit.what == "gust"]
    if not gusts:
        return ""
    snows = [limit for limit in plan.limits if limit.what == "snow"]
    unit = units.usual_unit("speed", system)
    heads = (
        Column("Frame"), Column("Gust", unit, number=True), Column("Mean", unit, number=True), Column("Beaufort"),
        Column("Bends near", unit, number=True), Column("Gives first"), Column("Source"),
    )  # fmt: skip
    page = markup.paragraph(telling.take_off(plan, system), "lead") + markup.table(
        "Gust at which the first check has used up its reserve", heads, [_gust(limit, plan, system) for limit in gusts]
    )
    if snows:
        snow_heads = (
            Column("Frame"), Column("Snow on the ground", number=True), Column("Bends near", number=True),
            Column("Gives first"), Column("Source"),
        )  # fmt: skip
        page += markup.table("Snow that it carries", snow_heads, [_snow(limit, plan, system) for limit in snows])
    told = (
        "Gusts are 3-second gusts at 10 m in the open, as forecasts give them. A Beaufort row is a mean over ten "
        f"minutes: the gust is divided by {constants.value('gust_ratio'):g} (from memory). Bends near: an estimate of "
        "what bends a tube or fitting for good, without the reserve. "
    )
    return page + markup.paragraph(told + telling.LOW_LIMITS, "note")


def _gust(limit: Limit, plan: Plan, system: str) -> tuple[str, ...]:
    def said(value: float) -> str:
        shown = units.write(min(value, FASTEST_M_PER_S), "speed", system).split(" ")[0]
        return f"over {shown}" if math.isinf(value) else shown

    name, (check, source) = telling.condition(limit, plan), _governs(limit)
    if math.isinf(limit.value):
        return name, said(limit.value), "", "", "", check, source
    row = row_of_gust(limit.value)
    mean = said(mean_wind_m_per_s(limit.value, constants.value("gust_ratio")))
    return name, said(limit.value), mean, f"{row.force}, {row.label}", said(limit.bent), check, source


def _snow(limit: Limit, plan: Plan, system: str) -> tuple[str, ...]:
    def said(value: float) -> str:
        return "more than is looked at" if math.isinf(value) else units.write(value, "pressure", system)

    return telling.condition(limit, plan), said(limit.value), said(limit.bent), *_governs(limit)


def _governs(limit: Limit) -> tuple[str, str]:
    return (limit.governs.check, limit.governs.source) if limit.governs else (telling.NOTHING_GIVES, "")
