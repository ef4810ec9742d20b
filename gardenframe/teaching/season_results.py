"""What the workbook of later seasons shows: zinc, looks, spending, months, old into new, crops. Text only."""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Any, NamedTuple

from gardenframe import builds, units
from gardenframe.builds.build import Build
from gardenframe.builds.chart import Chart, ChartLine
from gardenframe.climate.covers import load_garden
from gardenframe.climate.weathering import BEND_YEARS, early_loss_um, late_loss_um, zinc_loss_um, zinc_years
from gardenframe.materials.corrosion import Category
from gardenframe.materials.coverings import load_coverings
from gardenframe.materials.lives import load_lives
from gardenframe.materials.plants import Plant, load_plants
from gardenframe.output.charts import chart
from gardenframe.output.saved import Saved
from gardenframe.output.telling import length, money, unit_of_length
from gardenframe.road import Plan
from gardenframe.studies.compare import life_of
from gardenframe.studies.next_season import Reuse, looks, take_down
from gardenframe.studies.prices import spent
from gardenframe.studies.rotation import Move
from gardenframe.teaching.page import Card, Column, cards, count, note, table
from gardenframe.teaching.reading import Reader

SEASONS = 10
LONG_YEARS = 100  # beyond it nobody plans
COLD_DEGC, HOT_DEGC = 5.0, 27.0  # colder nights want film, hotter days shade: common practice, no source
RAISED = str.maketrans("0123456789.b", "⁰¹²³⁴⁵⁶⁷⁸⁹·ᵇ")  # of a power, in plain text
COVERS = {"insect-net-0.8": "Net", "shade-cloth-50": "Cloth", "film-6mil": "Film"}  # and what heads their column
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


class Offered(NamedTuple):
    """A build in a list to choose from, made when it is asked for."""

    label: str
    kind: type[Build]
    values: Mapping[str, Any]


def builds_to_choose(saved: Iterable[Saved] = ()) -> dict[str, Offered]:
    """Return by key what a list offers: the examples of every build, saved builds before them."""
    yours = {
        f"saved {one.place.name}": Offered(f"Yours: {one.build.title}: {one.name}", type(one.build), one.build.values())
        for one in saved
    }
    return yours | {
        f"{key}: {name}": Offered(f"{kind.title}: {name}", kind, values)
        for key, kind in builds.ALL.items()
        for name, values in kind.examples.items()
    }


# --- zinc and spending


def zinc_page(category: Category, coating_um: float, made: Plan, reader: Reader) -> str:
    """Return how long the zinc lasts in a place and what the build has cost by each season."""
    slow, fast = zinc_years(category.low_um, coating_um), zinc_years(category.high_um, coating_um)
    spending = spent(made, life_of(made, load_lives()), SEASONS)
    a_season = spending[-1][1] / SEASONS
    found = (
        Card("zinc", "Zinc lasts, years", _years(fast, slow), f"{coating_um:g} µm in {category.label}"),
        Card("season", "Cost of a season", money(a_season, made), f"over {SEASONS} seasons, usual prices"),
        Card("spent", f"Spent in {SEASONS} seasons", money(spending[-1][1], made), "covering bought again"),
    )
    words = note(
        f"{category.label}: {category.where}. Years are those of a face in open air by ISO 9223 and 9224; in soil, "
        "under straps and in salt spray zinc goes faster. When it is used up steel rusts; the tube is not yet gone."
    )
    by_hand = note("By hand, at the faster end: " + "; ".join(_zinc_by_hand(category.high_um, fast)))
    spending_chart = chart(_spending(made, spending), reader.width_px, 240)
    return cards(found) + chart(_zinc(category, coating_um), reader.width_px, 260) + words + by_hand + spending_chart


def _years(low: float, high: float) -> str:
    def said(years: float) -> str:
        return f"{years:.0f}" if years >= 10 else f"{years:.1f}"

    if low >= LONG_YEARS:
        return f"over {LONG_YEARS}"
    return f"{said(low)} to {said(high)}" if high < LONG_YEARS else f"{said(low)} or more"


def _zinc(category: Category, coating_um: float) -> Chart:
    years = range(0, 31, 2)
    slow, fast = (tuple((float(y), zinc_loss_um(rate, y) if y else 0.0) for y in years) for rate in _ends(category))
    return Chart(
        title=f"Zinc lost in {category.label}, against a coat of {coating_um:g} µm",
        across="years", up="zinc lost, µm",
        lines=(
            ChartLine(name="fastest", points=fast), ChartLine(name="slowest", points=slow),
            ChartLine(name="the coat", points=((0.0, coating_um), (30.0, coating_um)), dashed=True),
        ),
    )  # fmt: skip


def _zinc_by_hand(rate_um: float, years: float) -> Iterator[str]:
    formula = early_loss_um if years <= BEND_YEARS else late_loss_um
    for line in formula.shown(rate_um, round(years, 1)).text.splitlines():
        told = re.sub(r"\bt = ([\d.]+)", r"t = \1 years", line.strip())
        yield re.sub(r"\^\(([\db.]+)\)", lambda power: power[1].translate(RAISED), told).replace("t_0", "t₀")


def _ends(category: Category) -> tuple[float, float]:
    return category.low_um, category.high_um


def _spending(made: Plan, spending: Sequence[tuple[float, float]]) -> Chart:
    steps = [(season, before) for (season, _), (_, before) in zip(spending[1:], spending, strict=False)]
    points = sorted([*spending, *steps], key=lambda point: (point[0], point[1]))
    shown = tuple((season + 1, amount) for season, amount in points)
    jumps = sum(b > a + 0.005 for (_, a), (_, b) in pairwise(spending))
    told = f"bought again {count(jumps, 'time')}" if jumps else "nothing is bought again"
    return Chart(
        title=f"What has been spent by each season: {told}",
        across="season", up=f"spent, {made.cost.currency}", lines=(ChartLine(name="spent", points=shown),),
    )  # fmt: skip


def looks_page(made: Plan) -> str:
    """Return what to look at each season."""
    columns = (Column("Part"), Column("When"), Column("Look for"), Column("Then"))
    rows = [(look.part, look.when, look.look_for, look.do) for look in looks(made)]
    return table("What to look at", columns, rows) + note("Common practice, no source. Look again after every storm.")


def take_down_page(made: Plan) -> str:
    """Return what comes off first, with what to write on it."""
    columns = (
        Column("", number=True),
        Column("Comes off"),
        Column("Label"),
        Column("Count", number=True),
        Column("How"),
    )
    rows = [(i, off.what, off.label, off.number, off.how) for i, off in enumerate(take_down(made), 1)]
    told = "Write the label on tape at the upper end before anything is loosened. The order is common practice."
    return table("Taking it down", columns, rows) + note(told)


# --- the same frame by month


def months_page() -> str:
    """Return the year of the invented garden: light under a net, a cloth and film, and which suits the month."""
    garden, covers = load_garden(), load_coverings()
    shown = [covers[key] for key in COVERS]
    columns = (
        Column("Month"), Column("Night", "°C (°F)", number=True), Column("Day", "°C (°F)", number=True),
        Column("Sun", number=True), *(Column(COVERS[cover.key], number=True) for cover in shown), Column("Usual cover"),
    )  # fmt: skip
    rows = [
        (
            MONTHS[number - 1], _degrees(month.cold_night_degc), _degrees(month.warm_day_degc),
            f"{month.sun_kwh_per_m2_day:.1f}",
            *(f"{month.sun_kwh_per_m2_day * (cover.light_share or 0.0):.1f}" for cover in shown),
            usual_cover(month.cold_night_degc, month.warm_day_degc),
        )
        for number, month in sorted(garden.items())
    ]  # fmt: skip
    under = ", ".join(cover.label.split(",")[0] for cover in shown)
    told = (
        f"Light in kWh/m² a day: in the open, and under {under}. A cold "
        "night and a warm day of each month in the Millbrook Lane garden (invented). Film where nights are colder than "
        f"{COLD_DEGC:.0f} °C ({COLD_DEGC * 1.8 + 32:.0f} °F), shade cloth where days are warmer than {HOT_DEGC:.0f} °C "
        f"({HOT_DEGC * 1.8 + 32:.0f} °F), else a net or nothing: common practice, no source."
    )
    return table("The same frame by month", columns, rows) + note(told)


def _degrees(degc: float) -> str:
    """Return a temperature in °C, and in °F in brackets."""
    return f"{degc:.0f} ({degc * 1.8 + 32:.0f})".replace("-", "\u2212")


def usual_cover(cold_night_degc: float, warm_day_degc: float) -> str:
    """Return the cover that gardeners put on in a month.

    >>> usual_cover(-3, 10), usual_cover(10, 30), usual_cover(3, 28)
    ('film', 'shade cloth', 'film at night, shade by day')
    """
    cold, hot = cold_night_degc < COLD_DEGC, warm_day_degc > HOT_DEGC
    if cold and hot:
        return "film at night, shade by day"
    return "film" if cold else "shade cloth" if hot else "net or none"


# --- a new build out of an old one


def reuse_page(found: Reuse, reader: Reader) -> str:
    """Return what a new build costs alone and out of the old one, what is cut from what, and what is left."""
    old_pieces = sum(sum(lengths.values()) for lengths in found.used.values())
    bought = sum(sum(cutting.bought.values()) for cutting in found.out_of_old.cutting.values())
    shown = cards(
        (
            Card("saved", "Saved", money(found.saved, found.alone), "at usual prices"),
            Card("cost", "It then costs", money(found.out_of_old.cost.usual, found.alone),
                 f"{money(found.alone.cost.usual, found.alone)} bought alone"),
            Card("used", "Old pieces used", str(old_pieces), f"{count(bought, 'new stick')} bought"),
        )
    )  # fmt: skip
    return shown + _cut_from(found, reader) + _left(found, reader)


def _cut_from(found: Reuse, reader: Reader) -> str:
    rows = []
    for member, cutting in found.out_of_old.cutting.items():
        for (stock, content, times), own in zip(cutting.patterns, cutting.from_hand, strict=True):
            cut = ", ".join(
                f"{number} of {_marks(size, found, reader)}" for size, number in sorted(content.items(), reverse=True)
            )
            label = found.out_of_old.shop.member(member).label
            for number, whose in ((own, "old piece"), (times - own, "new stick")):
                if number:
                    rows.append((number, f"{whose} of {label}", _marks(stock, found, reader), cut))
    columns = (
        Column("Count", number=True), Column("From"), Column("Length", unit_of_length(reader.system), number=True),
        Column("Cut"),
    )  # fmt: skip
    told = "Drilled holes and dents make a piece shorter than it is: look where they come before you cut."
    return table("What is cut from what", columns, rows) + note(told)


def _marks(marks: int, found: Reuse, reader: Reader) -> str:
    shop = found.alone.shop
    return length(marks * shop.tape_mm(1e6) / shop.on_the_tape(1e6) / 1000, reader.system)


def _left(found: Reuse, reader: Reader) -> str:
    rows = [
        (number, found.old.shop.member(member).label, length(mm / 1000, reader.system))
        for member, lengths in found.left.items()
        for mm, number in sorted(lengths.items(), reverse=True)
    ]
    if not rows:
        return note("No straight piece of the old build is left over.")
    columns = (
        Column("Left over", number=True),
        Column("Of"),
        Column("Length", unit_of_length(reader.system), number=True),
    )
    return table("What is left of the old build", columns, rows)


# --- crops


def crops_page(
    moves: Sequence[Move], stood: Mapping[str, Sequence[str]], frames_m: Mapping[str, float], reader: Reader
) -> str:
    """Return which crop goes to which bed in each coming year, and whether its frame can follow."""
    plants = load_plants()
    years = sorted({move.year for move in moves})
    columns = (Column("Year"), *(Column(bed.capitalize().replace(" ", "\u00a0")) for bed in stood))
    rows = [
        ("This year", *(_name(plants, keys[-1]) for keys in stood.values())),
        *((_in_years(year), *(_name(plants, _in_bed(moves, year, bed).plant) for bed in stood)) for year in years),
    ]
    following = list(_following(moves, frames_m, reader))
    moved = sum(1 for move in moves if move.plant and move.year == 1 and move.to_bed != move.from_bed)
    shown = cards((Card("moved", "Crops that move next year", str(moved), f"of {count(len(stood), 'bed')}"),))
    return shown + table("Which crop stands where", columns, rows) + "".join(note(text) for text in following)


def _in_years(year: int) -> str:
    return "Next year" if year == 1 else f"In {year} years"


def _in_bed(moves: Sequence[Move], year: int, bed: str) -> Move:
    return next(move for move in moves if move.year == year and move.to_bed == bed)


def _name(plants: Mapping[str, Plant], key: str) -> str:
    return plants[key].label.split(",")[0] if key in plants else "other"


def _following(moves: Sequence[Move], frames_m: Mapping[str, float], reader: Reader) -> Iterator[str]:
    for move in moves:
        if move.year == 1 and move.plant and move.to_bed != move.from_bed and frames_m.get(move.from_bed):
            long = units.write(frames_m[move.from_bed], "length", reader.system)
            can = "can follow" if move.frame_follows else "is too long: build one for that bed, or grow it without"
            yield f"The frame of {move.from_bed}, {long} long: to {move.to_bed} it {can}."
