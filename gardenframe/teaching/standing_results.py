"""Will it stand, on the page: ratios as bars, limits in words, what acts on the frame. Plans come in, text goes out."""

import math
from collections.abc import Iterable

from gardenframe import units
from gardenframe.materials import constants
from gardenframe.materials.beaufort import mean_wind_m_per_s, row_of_gust
from gardenframe.output.bars import Ratio, ratio_bars, ratio_words
from gardenframe.output.drawings import drawing
from gardenframe.output.telling import (
    LOW_LIMITS,
    NOTHING_GIVES,
    anchors_by_worst,
    asked,
    condition,
    held_over_pulls,
    lifted_together,
    ratio,
    rows_by_worst,
    said_of,
    speed,
    take_off,
)
from gardenframe.road import Plan
from gardenframe.strength.limits import FASTEST_M_PER_S, Limit
from gardenframe.strength.rows import CheckRow, worst
from gardenframe.strength.shape import case_arrows, deflected, moments
from gardenframe.studies.stronger import changes
from gardenframe.teaching.page import Card, Column, count, lead, note, sentences, table, warning
from gardenframe.teaching.reading import Reader

LATER = Card("ratio", "Hardest worked", "\u2026", "when the sliders rest")


def strength_rows(plan: Plan) -> list[CheckRow]:
    """Return the rows of the frame's checks that ask for more than room, the hardest worked first."""
    return [row for row in rows_by_worst(plan) if row.asks != "room"]


def strength_card(plan: Plan) -> Card:
    """Return the key number of strength: the highest ratio, and what it means."""
    row = max((*strength_rows(plan), *anchors_by_worst(plan)), key=lambda row: row.ratio)
    told = "over its limit" if row.ratio > 1 else "of its limit"
    return Card("ratio", "Hardest worked", ratio(row), f"{told}: {row.check.split(':')[0]}")


def ratios_page(plan: Plan, reader: Reader) -> str:
    """Return every kind of check as a bar against its limit, the hardest worked first, and where each is."""
    rows = rows_by_worst(plan)
    bars = ratio_bars(
        [Ratio(row.check, row.ratio, asked(row, reader.system), row.asks) for row in rows],
        reader.width_px,
        title="Checks",
    )
    columns = (Column("Check"), Column("When"), Column("Where"), Column("Ratio", number=True))
    listed = [(row.check, said_of(plan, row.case), row.where, ratio(row)) for row in rows]
    checks = plan.standing.checks
    ending = "Demand against capacity with code reserves; local codes and licensed practice decide."
    kept = [*checks.cautions, *together(checks.unchecked)]
    return (
        advice(plan) + bars + table("Where each is worst", columns, listed)
        + (sentences(kept) if kept else "") + note(ending)
    )  # fmt: skip


def together(told: Iterable[str]) -> list[str]:
    """Return sentences that say the same of several things as one.

    >>> together(["front: no figure.", "back: no figure.", "Pull one."])
    ['front, back: no figure.', 'Pull one.']
    """
    names: dict[str, list[str]] = {}
    for sentence in told:
        name, mark, rest = sentence.partition(": ")
        names.setdefault(rest if mark else sentence, []).extend([name] if mark else [])
    return [f"{', '.join(found)}: {rest}" if found else rest for rest, found in names.items()]


def advice(plan: Plan) -> str:
    """Return what to do where a check is over its limit; nothing where none is."""
    over = [row for row in (*strength_rows(plan), *anchors_by_worst(plan)) if row.ratio > 1]
    if not over:
        return ""
    names = ", ".join(dict.fromkeys(row.check.split(":")[0] for row in over))
    if plan.build.indoors:
        return warning([f"{count(len(over), 'check')} over the limit ({names}): the table below says where and when."])
    return warning(
        [
            f"{count(len(over), 'check')} over the limit ({names}): 'When to take the cover off' says what it "
            "carries, 'What would make it stronger' which change brings most. A lower frame or shelter helps too."
        ]
    )


def ratios_line(plan: Plan, reader: Reader) -> str:
    """Return the highest ratio in words."""
    row = strength_rows(plan)[0]
    told = f"hardest worked: {row.check.split(':')[0]} {ratio_words(row.ratio, row.asks)}"
    short = [row for row in rows_by_worst(plan) if row.asks == "room" and row.ratio > 1]
    return told + (f"; {short[0].check} {ratio_words(short[0].ratio, 'room')}" if short else "")


def anchors_page(plan: Plan, reader: Reader) -> str:
    """Return what holds the build down and in place: each as a bar, and how many times what pulls is held."""
    rows = anchors_by_worst(plan)
    found = plan.standing.anchors
    if not rows:
        return note("Nothing holds it: it stands free.") + sentences(together(found.unchecked))
    bars = ratio_bars(
        [Ratio(row.check, row.ratio, asked(row, reader.system), row.asks) for row in rows],
        reader.width_px,
        title="Anchors",
    )
    columns = (Column("Check"), Column("When"), Column("Where"), Column("Holds over pulls", number=True))
    listed = [(row.check, said_of(plan, row.case), row.where, held_over_pulls(row)) for row in rows]
    kept = [*lifted_together(found.cautions, reader.system), *together(found.unchecked)]
    return bars + table("What holds, and how surely", columns, listed) + (sentences(kept) if kept else "")


def anchors_line(plan: Plan, reader: Reader) -> str:
    """Return the anchor that is nearest to giving."""
    rows = anchors_by_worst(plan)
    return f"{rows[0].check}: {ratio_words(rows[0].ratio)}" if rows else "it stands free"


def limits_page(plan: Plan, reader: Reader) -> str:
    """Return the gust and the snow at which the first check is used up, by condition, with the Beaufort row."""
    gusts = [limit for limit in plan.limits if limit.what == "gust"]
    snows = [limit for limit in plan.limits if limit.what == "snow"]
    unit = units.usual_unit("speed", reader.system)
    columns = (
        Column("Frame"), Column("Gust", unit, number=True), Column("Mean", unit, number=True), Column("Beaufort"),
        Column("Bends near", unit, number=True), Column("Gives first"),
    )  # fmt: skip
    page = lead(take_off(plan, reader.system)) + table(
        "Gust at which the first check has used up its reserve",
        columns,
        [_gust_row(limit, plan, reader) for limit in gusts],
    )
    if snows:
        heads = (
            Column("Frame"), Column("Snow on the ground", number=True), Column("Bends near", number=True),
            Column("Gives first"),
        )  # fmt: skip
        page += table("Snow that it carries", heads, [_snow_row(limit, plan, reader) for limit in snows])
    gust_ratio = constants.value("gust_ratio")
    told = (
        f"Gusts are 3-second gusts at 10 m in the open, as forecasts give them. A Beaufort row is a mean over ten "
        f"minutes: the gust is divided by {gust_ratio:g} (from memory) before the row is named. Bends near: an "
        "estimate of what bends a tube or fitting for good, without the reserve. "
    )
    return page + note(told + LOW_LIMITS)


def _gust_row(limit: Limit, plan: Plan, reader: Reader) -> tuple[str, str, str, str, str, str]:
    def said(value: float) -> str:
        shown = units.write(min(value, FASTEST_M_PER_S), "speed", reader.system).split(" ")[0]
        return f"over {shown}" if math.isinf(value) else shown

    name = condition(limit, plan)
    governs = limit.governs.check if limit.governs else NOTHING_GIVES
    if math.isinf(limit.value):
        return name, said(limit.value), "", "", "", governs
    row = row_of_gust(limit.value)
    mean = said(mean_wind_m_per_s(limit.value, constants.value("gust_ratio")))
    return name, said(limit.value), mean, f"{row.force}, {row.label}", said(limit.bent), governs


def _snow_row(limit: Limit, plan: Plan, reader: Reader) -> tuple[str, str, str, str]:
    def said(value: float) -> str:
        return "more than is looked at" if math.isinf(value) else units.write(value, "pressure", reader.system)

    governs = limit.governs.check if limit.governs else NOTHING_GIVES
    return condition(limit, plan), said(limit.value), said(limit.bent), governs


def limits_line(plan: Plan, reader: Reader) -> str:
    """Return the limit once it has been worked out: a folded heading costs nothing."""
    return take_off(plan, reader.system) if "limits" in vars(plan) else ""


def stronger_page(plan: Plan, reader: Reader) -> str:
    """Return what each change would bring and cost, the cheapest for what it brings first."""
    found = changes(plan)
    if not found:
        if any(limit.value == 0 for limit in plan.limits):
            return note("It gives without any wind: hold less, span less between supports, or take a larger tube.")
        if all(math.isinf(limit.value) for limit in plan.limits):
            return note("Nothing that is looked at uses up its reserve: no change is needed for that.")
        return note("No single change of this build raises its limit; a lower frame or a sheltered place does.")
    columns = (
        Column("Change"), Column("Gust limit then", number=True), Column("More cost", plan.cost.currency, number=True),
    )  # fmt: skip
    rows = [(one.label, _quick(one.after_m_per_s, reader), f"{one.more_cost:+.2f}") for one in found]
    told = (
        "Each change was tried on a plan of its own, one at a time, by the quick method of a moving slider. By it the "
        f"limit is {_quick(found[0].before_m_per_s, reader)} now: compare with that, not with the limit proved above."
    )
    return table("What moves the limit, the cheapest for each step of wind first", columns, rows) + note(told)


def _quick(value: float, reader: Reader) -> str:
    return f"over {speed(FASTEST_M_PER_S, reader.system)}" if math.isinf(value) else speed(value, reader.system)


def stronger_line(plan: Plan, reader: Reader) -> str:
    """Return what the heading is for."""
    return "tube, bays, braces, base: tried one by one"


def loads_page(plan: Plan, reader: Reader) -> str:
    """Return what acts on the frame: the hardest combination drawn with its shape, and every case as a sum."""
    row = worst(row for row in plan.standing.checks.rows if row.kind != "buckling") or plan.standing.checks.governing
    arrows = case_arrows(plan.standing, row.case, lambda force_n: units.write(force_n, "force", reader.system))
    shape, times = deflected(plan.standing, row.case)
    drawn = drawing(
        plan.frame, (), reader.system, ("front", "side"), arrows, reader.width_px,
        deflected=shape, members=plan.shop.members, title="Loads and deflected shape",
    )  # fmt: skip
    bent, most = moments(plan.standing, row.case)
    drawn_moments = drawing(
        plan.frame, (), reader.system, ("front", "side"), None, reader.width_px,
        deflected=bent, members=plan.shop.members, title="Bending moments",
    )  # fmt: skip
    largest = units.write(most[0], "moment", reader.system)
    told_moments = (
        f"Dashed: bending moments, on the stretched side of each tube. The largest is {largest}, in {most[1]}."
    )
    kind = "force"
    unit = "N" if reader.system == "metric" else "lbf"
    columns = (
        Column("Case"), Column("What it is"), Column("Right", unit, number=True), Column("Back", unit, number=True),
        Column("Up", unit, number=True),
    )  # fmt: skip
    bare = [
        (r["case"], r["what"], *(units.write(r[k], kind, reader.system).split(" ")[0] for k in ("x_n", "y_n", "z_n")))
        for r in plan.standing.loads.rows
    ]
    told = (
        f"Drawn: {said_of(plan, row.case)}. The dashed shape is the movement, {enlarged(times)}. "
        "Loads by ASCE 7; combinations are named by their expression."
    )
    whole = drawn + note(told) + drawn_moments + note(told_moments)
    return whole + table("Sum of each case", columns, bare)


def enlarged(times: float) -> str:
    """Return in words how many times a movement is enlarged."""
    return "as large as it is" if times == 1 else f"{times:g} times as large"


def loads_line(plan: Plan, reader: Reader) -> str:
    """Return how many cases in how many combinations."""
    loads = plan.standing.loads
    return f"{count(len(loads.cases), 'case')} in {count(len(loads.combinations), 'combination')}"
