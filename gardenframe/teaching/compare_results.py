"""The pages of a comparison: variants side by side, prices that matter, cost along a field, break-even, three kept.

A plan and how it is asked come in, text for the page goes out. Sections of a panel as those of `results` are.
"""

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace

from gardenframe import named, units
from gardenframe.builds.chart import Chart, ChartLine
from gardenframe.builds.fields import Field
from gardenframe.materials.lives import Life, load_lives
from gardenframe.output.charts import chart
from gardenframe.output.ranges import Range, ranges
from gardenframe.output.telling import hours, money
from gardenframe.road import Plan
from gardenframe.strength.limits import FASTEST_M_PER_S
from gardenframe.studies import compare, prices, varied
from gardenframe.studies.compare import HERE, Compared
from gardenframe.studies.instead import LIMITS
from gardenframe.teaching import results
from gardenframe.teaching.page import Column, count, lead, note, sentences, table
from gardenframe.teaching.reading import Reader, Section

SEASONS = 25  # that spending is followed for
FROM_RESULTS = ("drawing", "ratios", "cutting", "bill", "turn", "cautions")
MOST_STEPS = 12


@dataclass(frozen=True, slots=True)
class Asked(Reader):
    """How a comparison is asked: what is compared, which field is taken along, which two, the lives, what is kept."""

    groups: tuple[str, ...] = compare.GROUPS
    vary: str = ""
    first: str = HERE
    second: str = ""
    seasons: tuple[tuple[str, float], ...] = ()
    kept: tuple[tuple[str, Plan], ...] = ()
    progress: Callable[[int, int], None] | None = field(default=None, compare=False)

    @property
    def lives(self) -> dict[str, Life]:
        """The lives, the reader's own seasons in place of ours."""
        found = load_lives()
        for family, seasons in self.seasons:
            life = found[family]
            found[family] = replace(
                life, usual_seasons=seasons, low_seasons=min(life.low_seasons, seasons),
                high_seasons=max(life.high_seasons, seasons), source="own" if seasons != life.usual_seasons
                else life.source,
            )  # fmt: skip
        return found


# --- side by side

_KEPT: list[tuple[Plan, tuple[str, ...], Mapping[str, Life], list[Compared]]] = []


def compared(plan: Plan, asked: Asked) -> list[Compared]:
    """Return what every variant comes to; the last comparison is kept, since several pages read it."""
    lives = asked.lives
    for before, groups, with_lives, found in _KEPT:
        if (before, groups, with_lives) == (plan, asked.groups, lives):
            return found
    made = compare.compare(plan, asked.groups, lives=lives, progress=asked.progress)
    _KEPT[:] = [(plan, asked.groups, lives, made)]
    return made


def compare_page(plan: Plan, asked: Asked) -> str:
    """Return variants side by side, dearest last, and why some cannot be."""
    found = compared(plan, asked)
    made = sorted((one for one in found if one.plan), key=lambda one: one.cost.usual)
    system, currency = asked.system, plan.cost.currency
    columns = (
        Column("Built of"), Column("Cost", currency, number=True), Column("A season", currency, number=True),
        Column("Mass", units.usual_unit("mass", system), number=True), Column("Hardest", number=True),
        Column("Moves", number=True), Column("Gust", units.usual_unit("speed", system), number=True),
    )  # fmt: skip
    rows = [_row(one, asked) for one in made]
    bars = ranges(
        [
            Range(
                name=_name(one), low=one.cost.low, usual=one.cost.usual, high=one.cost.high,
                words=f"{one.cost.low:,.0f} to {one.cost.high:,.0f}", here=one.label == HERE,
            )
            for one in made
        ],
        asked.width_px, title="Cost at low, usual and high prices", unit=currency,
    )  # fmt: skip
    return lead(_sentence(compare_line(plan, asked))) + table("Side by side", columns, rows) + bars + _left_out(found)


def _name(one: Compared) -> str:
    """Return the name of a variant; the build as it is by its own tubes and joining."""
    if one.label != HERE or one.plan is None:
        return one.label
    members = dict.fromkeys(one.plan.shop.member(piece.member).label for piece in one.plan.cut if not piece.loose)
    return f"{' and '.join(list(members)[:2])}, {one.plan.frame.joining}"


def _row(one: Compared, asked: Asked) -> tuple[str, ...]:
    name = f"{_name(one)}{' (yours)' if one.label == HERE else ''}{' *' if one.notes else ''}"
    mass = units.write(one.mass_kg, "mass", asked.system, digits=1).split(" ")[0]
    return (
        name, f"{one.cost.usual:,.0f}", f"{one.a_season:,.2f}", mass, _ratio(one.worst_ratio),
        _ratio(one.moves_ratio), gust_said(one, asked),
    )  # fmt: skip


def _ratio(value: float) -> str:
    return "> 10" if value > 10 else f"{value:.2f}"  # beyond it has long swayed away: its figures say no more


def gust_said(one: Compared, asked: Reader) -> str:
    """Return the gust limit of a variant as a bare number, in words where it is beyond what is looked at."""
    if one.gust_m_per_s == 0:
        return "none"
    shown = units.write(min(one.gust_m_per_s, FASTEST_M_PER_S), "speed", asked.system).split(" ")[0]
    if one.plan is not None and one.plan.build.indoors:
        return "indoors"
    return f"over {shown}" if math.isinf(one.gust_m_per_s) else shown


def compare_line(plan: Plan, reader: Reader) -> str:
    """Return the cheapest of those that carry at least as much wind as the build as it is."""
    if not isinstance(reader, Asked):
        return ""
    found = [one for one in compared(plan, reader) if one.plan]
    mine = found[0]
    as_good = [one for one in found if one.gust_m_per_s >= mine.gust_m_per_s - 0.05]
    cheapest = min(as_good, key=lambda one: one.cost.usual)
    lasting = min(found, key=lambda one: one.a_season)
    if cheapest is mine:
        told = "nothing cheaper carries as much wind as yours"
    else:
        less = money(mine.cost.usual - cheapest.cost.usual, plan)
        told = f"{_name(cheapest)} carries as much wind as yours for {less} less"
    none = "" if any(one.worst_ratio <= 1 for one in found) else "; none meets every check in this site's wind"
    return f"{told}; cheapest a season: {_name(lasting)}, {money(lasting.a_season, plan)}{none}"


def _sentence(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}."


def _left_out(found: list[Compared]) -> str:
    """Return the variants that cannot be, like reasons together, and what the estimate leaves out."""
    why: dict[str, list[str]] = {}
    for one in found:
        if one.refused:
            needs = one.refused.split(", needs ", 1)[-1]
            why.setdefault(needs, []).append(one.label)
    not_built = [f"{', '.join(names)}: needs {needs}" for needs, names in why.items()]
    page = f"<h4>Not among them</h4>{sentences(not_built)}" if not_built else ""
    swapped = any(one.plan and one.variant.group in (compare.PVC, compare.BOLTED, compare.SCREWED) for one in found)
    notes = "; ".join(dict.fromkeys(text for one in found for text in one.notes))
    page += f"<h4>What a swap leaves out</h4>{sentences(LIMITS)}" if swapped else ""
    told = (
        f"A season: each thing over its life, a covering over its own, the frame over {_lives_said(found)}. Hardest: "
        "the most used check of strength and hold in the site's wind; Moves: of bending and leaning; above 1.00 is "
        "over the limit. Gust: the forecast gust that uses up the first check, none where the load alone does. Quick "
        "answers, as of a moving slider. No result is called safe."
    )
    return page + note((f"* {notes}. " if notes else "") + told)


def _lives_said(found: list[Compared]) -> str:
    lives = {compare.family_said(one.plan): one.life_seasons for one in found if one.plan}
    return ", ".join(f"{seasons:g} seasons ({family})" for family, seasons in lives.items())


# --- prices


def prices_page(plan: Plan, asked: Asked) -> str:
    """Return which price moves the cost most, from its low to its high."""
    found = prices.swings(plan)
    rows = [
        Range(name=s.label, low=s.low, usual=s.usual, high=s.high, words=f"{s.low:,.0f} to {s.high:,.0f}")
        for s in found
    ]
    drawn = ranges(
        rows, asked.width_px, title="What each price does to the whole cost, from its low to its high",
        unit=plan.cost.currency, middle=plan.cost.usual,
    )  # fmt: skip
    told = "All other prices usual, numbers bought as they are. Prices are ours and invented until you put in your own."
    return lead(_sentence(prices_line(plan, asked))) + drawn + note(told)


def prices_line(plan: Plan, reader: Reader) -> str:
    """Return the price that matters most."""
    first = prices.swings(plan)[0]
    return f"ask first for the price of {first.label}: it moves the cost by {money(first.width, plan)}"


# --- along a field


def vary_page(plan: Plan, asked: Asked) -> str:
    """Return cost along the field, and what changes at each step."""
    made = plan.build.field(asked.vary)
    places = varied.varied(plan, asked.vary, progress=asked.progress)
    steps = varied.steps_of(plan, asked.vary, places)
    kept = [place for place in places if not place.refused]
    names = tuple(made.written(place.value, asked.system) for place in kept) if not varied.slides(made) else ()
    points = tuple(
        (float(n) if names else _shown(place.value, made, asked), place.cost) for n, place in enumerate(kept)
    )
    mine = next((n for n, place in enumerate(kept) if place.value == getattr(plan.build, asked.vary)), None)
    drawn = Chart(
        title=_vary_title(made, kept, steps, plan, asked), across=_axis(made, asked),
        up=f"cost, {plan.cost.currency}", names=names, here=None if mine is None else points[mine][0],
        lines=(ChartLine(name="usual prices", points=points, places=bool(names)),),
    )  # fmt: skip
    columns = (Column(made.label), Column("Changes the cost by", plan.cost.currency, number=True), Column("Because"))
    rows = [
        (_step_said(step, made, asked), f"{step.more_cost:+,.2f}", step.why or "nothing of the bill") for step in steps
    ]
    refused = [f"{made.written(p.value, asked.system)}: {p.refused}" for p in places if p.refused]
    page = chart(drawn, asked.width_px)
    if rows:
        page += table("Steps", columns, rows[:MOST_STEPS])
    if refused:
        page += note(f"{count(len(refused), 'value')} left out, such as {refused[0]}")
    return page


def _shown(value: float, made: Field, asked: Reader) -> float:
    if made.kind in named.KINDS:
        return float(value)
    unit = units.usual_unit(made.kind, asked.system)
    return units.in_unit(value, unit) if unit else float(value)


def _axis(made: Field, asked: Reader) -> str:
    unit = "" if made.kind in ("choice", "flag", *named.KINDS) else units.usual_unit(made.kind, asked.system)
    unit = "in" if unit == "ft-in" else unit
    return f"{made.label.lower()}{f', {unit}' if unit else ''}"


def _vary_title(
    made: Field, kept: list[varied.Place], steps: list[varied.Step], plan: Plan, asked: Reader
) -> str:  # fmt: skip
    if not kept:
        return f"No value of {made.label.lower()} goes with the others"
    low, high = min(kept, key=lambda p: p.cost), max(kept, key=lambda p: p.cost)
    if high.cost - low.cost < 0.005:
        return f"{made.label} does not change the cost"
    largest = max(steps, key=lambda step: abs(step.more_cost), default=None)
    told = (
        f"{made.label}: {money(low.cost, plan)} at {made.written(low.value, asked.system)}, "
        f"{money(high.cost, plan)} at {made.written(high.value, asked.system)}"
    )
    if largest is None:
        return told
    up = "up" if largest.more_cost > 0 else "down"
    return f"{told}; the largest step is {money(abs(largest.more_cost), plan)} {up}"


def _step_said(step: varied.Step, made: Field, asked: Reader) -> str:
    if varied.slides(made):
        return f"over {made.written(step.before.value, asked.system)}"
    return f"{made.written(step.before.value, asked.system)} to {made.written(step.after.value, asked.system)}"


def vary_line(plan: Plan, reader: Reader) -> str:
    """Return the field that is taken along."""
    return f"along {plan.build.field(reader.vary).label.lower()}" if isinstance(reader, Asked) else ""


# --- two of them


def pair(plan: Plan, asked: Asked) -> tuple[Compared, Compared]:
    """Return the two that are set against each other; the build as it is where one is not among the compared."""
    ways = {way.label: way for way in compare.variants(plan) if way.build is not None}
    chosen = [ways.get(label, ways[HERE]) for label in (asked.first, asked.second)]
    first, second = compare.of_variants(plan, chosen, lives=asked.lives)
    return (first, second) if first.plan and second.plan else (first, first)


def even_page(plan: Plan, asked: Asked) -> str:
    """Return at which price and which life two choices cost the same, and what both have cost season by season."""
    first, second = pair(plan, asked)
    if first.plan is None or second.plan is None or first.label == second.label:
        return note("Choose two different ones under What to compare; one that cannot be built counts as yours.")
    gap = second.cost.usual - first.cost.usual
    told = f"{_name(second)} costs {money(abs(gap), plan)} {'more' if gap > 0 else 'less'} than {_name(first)}"
    life = prices.even_life(first, second)
    lasts = (
        "no life evens them out" if life is None else f"to cost as little a season it has to last {life:.1f} seasons"
    )
    return (
        lead(_sentence(f"{told}; {lasts}")) + _spending(first, second, plan, asked) + _even_prices(first, second, plan)
    )


def _even_prices(first: Compared, second: Compared, plan: Plan) -> str:
    if first.plan is None or second.plan is None:
        return ""
    found = [even for even in prices.even_prices(first.plan, second.plan) if even.price is not None][:6]
    if not found:
        return note("No single price evens them out.")
    columns = (
        Column("If only this price changed"), Column("Now", plan.cost.currency, number=True),
        Column("Even at", plan.cost.currency, number=True), Column(f"{_name(first)} buys", number=True),
        Column(f"{_name(second)} buys", number=True),
    )  # fmt: skip
    rows = [
        (even.label, f"{even.now:,.2f}", f"{even.price:,.2f}", f"{even.first_buys:g}", f"{even.second_buys:g}")
        for even in found
        if even.price is not None
    ]
    return table("Prices at which both cost the same", columns, rows)


def _spending(first: Compared, second: Compared, plan: Plan, asked: Asked) -> str:
    spent = [prices.spent(one.plan, one.life_seasons, SEASONS + 1) for one in (first, second) if one.plan]
    crossed = prices.crosses(*spent)
    if crossed:
        title = (
            f"{_name(first)} and {_name(second)} change places in season {', '.join(f'{c + 1:g}' for c in crossed[:3])}"
        )
    else:
        title = f"One stays the cheaper for {SEASONS} seasons"
    drawn = Chart(
        title=title, across="seasons since it was built", up=f"spent so far, {plan.cost.currency}",
        lines=(
            ChartLine(name=_name(first), points=_stairs(spent[0])),
            ChartLine(name=_name(second), points=_stairs(spent[1]), dashed=True),
        ),
    )  # fmt: skip
    return chart(drawn, asked.width_px) + note(
        "Each thing is bought again when its life is over, at today's prices; work is not counted."
    )


def _stairs(points: list[tuple[float, float]]) -> tuple[tuple[float, float], ...]:
    found = [points[0]]
    for x, y in points[1:]:
        found += [(x, found[-1][1]), (x, y)]
    return tuple(found)


def even_line(plan: Plan, reader: Reader) -> str:
    """Return which two are set against each other."""
    return f"{reader.first} against {reader.second}" if isinstance(reader, Asked) else ""


# --- three kept


def kept_page(plan: Plan, asked: Asked) -> str:
    """Return the kept builds beside each other: what differs, and what each comes to."""
    if not asked.kept:
        return note("Press Keep as A, then change something and keep it as B: both then stand here side by side.")
    ways = [(name, compare.summed_up(_as_variant(name, made), made, asked.lives)) for name, made in asked.kept]
    columns = (Column(""), *(Column(name, number=True) for name, _ in ways))
    rows = [*_differences(asked), *_outcomes(ways, plan, asked)]
    return table("Kept side by side", columns, rows)


def _as_variant(name: str, made: Plan) -> compare.Variant:
    return compare.Variant(label=name, group=HERE, build=made.build, shop=made.shop)


def _differences(asked: Asked) -> Iterator[tuple[str, ...]]:
    builds = [made.build for _, made in asked.kept]
    yield ("Build", *(build.title for build in builds))
    if len({type(build) for build in builds}) > 1:
        return
    for one in builds[0].fields():
        values = [getattr(build, one.key) for build in builds]
        if any(value != values[0] for value in values) and any(build.used(one) for build in builds):
            yield (one.label, *(one.written(value, asked.system) for value in values))


def _outcomes(ways: list[tuple[str, Compared]], plan: Plan, asked: Asked) -> Iterator[tuple[str, ...]]:
    found = [one for _, one in ways]
    yield ("Cost", *(money(one.cost.usual, plan) for one in found))
    yield ("Low to high", *(f"{one.cost.low:,.0f} to {one.cost.high:,.0f}" for one in found))
    yield ("A season", *(money(one.a_season, plan) for one in found))
    yield ("Mass of pieces", *(units.write(one.mass_kg, "mass", asked.system, digits=1) for one in found))
    yield ("Sticks", *(str(one.sticks) for one in found))
    yield ("Pieces", *(str(one.pieces) for one in found))
    yield ("Hardest worked", *(_ratio(one.worst_ratio) for one in found))
    unit = units.usual_unit("speed", asked.system)
    yield (f"Gust limit, {unit}", *(gust_said(one, asked) for one in found))
    yield ("Time to build", *(hours(sum(one.plan.steps["minutes"])) for one in found if one.plan))


def kept_line(plan: Plan, reader: Reader) -> str:
    """Return which are kept."""
    names = [name for name, _ in reader.kept] if isinstance(reader, Asked) else []
    return " and ".join(names) + " kept" if names else "nothing kept yet"


def sections() -> Iterator[Section]:
    """Yield the sections of a comparison in the order of the page, then those of a plan that belong here."""
    yield Section("compare", "Side by side", _asks(compare_page), _later("sizes, joinings, pipe, timber"), at_rest=True)
    yield Section("prices", "Which price matters most", _asks(prices_page), prices_line)
    yield Section("vary", "Cost along one field", _asks(vary_page), vary_line, at_rest=True)
    yield Section("even", "Two of them: when are they even", _asks(even_page), even_line, at_rest=True)
    yield Section("kept", "Three kept side by side", _asks(kept_page), kept_line, at_rest=True)
    yield from (section for section in results.sections() if section.key in FROM_RESULTS)


def _asks(page: Callable[[Plan, Asked], str]) -> Callable[[Plan, Reader], str]:
    """Return a page that is asked as a comparison is, whatever reader comes."""

    def asked(plan: Plan, reader: Reader) -> str:
        given = reader if isinstance(reader, Asked) else Asked(reader.system, reader.width_px, reader.column_px)
        return page(plan, given)

    return asked


def _later(words: str) -> Callable[[Plan, Reader], str]:
    return lambda plan, reader: words
