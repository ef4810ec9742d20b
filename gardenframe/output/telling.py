"""How the numbers of a plan are said, on the page and on paper: one wording for both.

A plan or a row of it comes in, words with units go out. No HTML here.
"""

import math
import re
from collections.abc import Iterable

from gardenframe import units
from gardenframe.geometry.pieces import Piece
from gardenframe.road import Plan
from gardenframe.strength.anchors import factor_of
from gardenframe.strength.limits import FASTEST_M_PER_S, Limit
from gardenframe.strength.rows import CheckRow

MINUTES_AN_HOUR = 60
CONDITION = {"bare": "bare", "covered": "covered", "grown": "covered and grown"}
QUANTITY = {"N": "force", "N m": "moment", "mm": "length", "Pa": "pressure"}  # unit of a check -> kind of quantity
LEAST_MM = {"metric": 1.0, "us": 25.4 / 16}  # what whole marks of a tape show of a movement
TAKE_OFF = {"grown": "cut the plants back or take the net down", "covered": "take the cover off", "bare": "lay it down"}
UNCOVERED = {"grown": "cut the plants back"}  # what to do where there is no cover
LIFTED = re.compile(r"(?P<what>.+) at joint (?P<joint>.+) is lifted by (?P<pull>\d+) N under .+?; (?P<rest>.+)")
NOTHING_GIVES = "nothing that was checked"
LOW_LIMITS = (
    "Limits are lower than what many frames live through: leaves fold in a gust, gardens lie behind hedges, and the "
    "first bend of a tube is not yet a fall. They are where the reserve is used up, not where it falls. What a "
    "covering itself carries (net, film, sheet or pane) is in none of them: it may give before its frame."
)


def length(value_m: float, system: str) -> str:
    """Return a length for a column that names its unit: the bare number of mm, or feet and inches.

    >>> length(1.8923, "metric"), length(1.8923, "us")
    ('1892', '6 ft 2 1/2 in')
    """
    text = units.write(value_m, "length", system)
    return text.removesuffix(" mm") if system == "metric" else text


def unit_of_length(system: str) -> str:
    """Return the unit that heads a column of lengths; feet and inches stand in every cell."""
    return "mm" if system == "metric" else ""


def exact(piece: Piece, system: str) -> str:
    """Return a piece's exact length: tenths of a mm, hundredths of an inch."""
    if system == "metric":
        return f"{piece.length_m * 1000:.1f}"
    return f"{piece.length_m / units.INCH_M:.2f}"


def money(amount: float, plan: Plan) -> str:
    """Return an amount in the price table's currency."""
    return units.write(amount, "money", "metric", unit=plan.cost.currency)


def hours(minutes: float) -> str:
    """Return minutes as hours and minutes, to five minutes.

    >>> hours(192), hours(50), hours(58)
    ('3 h 10 min', '50 min', '1 h')
    """
    whole, rest = divmod(round(minutes / 5) * 5, MINUTES_AN_HOUR)
    words = ([f"{whole} h"] if whole else []) + ([f"{rest} min"] if rest or not whole else [])
    return " ".join(words)


# --- will it stand


def rows_by_worst(plan: Plan) -> list[CheckRow]:
    """Return the rows of the frame's checks, the hardest worked first."""
    return sorted(plan.check_rows, key=lambda row: -row.ratio)


def anchors_by_worst(plan: Plan) -> list[CheckRow]:
    """Return the rows of what holds it, the hardest worked first."""
    return sorted(plan.standing.anchors.rows, key=lambda row: -row.ratio)


def sides(row: CheckRow, system: str) -> tuple[str, str]:
    """Return demand and capacity of a row in the reader's units; a share of one where it is no quantity."""
    kind = QUANTITY.get(row.unit)
    if kind is None:
        unit = "" if row.unit in ("", "1", "share") else f" {row.unit}"
        return f"{row.demand:.2f}{unit}", f"{row.capacity:.2f}{unit}"
    if row.unit == "mm" and min(row.demand, row.capacity) < LEAST_MM[system]:  # else "0 in of 0 in"
        unit, digits = ("mm", 1) if system == "metric" else ("in", 2)
        demand, capacity = (
            units.write(mm / 1000, kind, system, unit=unit, digits=digits) for mm in (row.demand, row.capacity)
        )
        return demand, capacity
    kept = 1000.0 if row.unit == "mm" else 1.0
    return units.write(row.demand / kept, kind, system), units.write(row.capacity / kept, kind, system)


def asked(row: CheckRow, system: str) -> str:
    """Return demand and capacity of a row as words; nothing where they are shares, or there is no capacity."""
    demand, capacity = sides(row, system)
    return f"{demand} of {capacity}" if row.unit in QUANTITY and re.search("[1-9]", capacity) else ""


def ratio(row: CheckRow) -> str:
    """Return a ratio as a number that is never 1.00 for what is over, and never endless."""
    if row.ratio > 99:
        return "over 99"
    return "over 1.00" if row.ratio > 1 and round(row.ratio, 2) == 1 else f"{row.ratio:.2f}"


def said_of(plan: Plan, case: str) -> str:
    """Return a combination in words, and as a formula."""
    known = plan.standing.loads.combinations
    found = next((c.label for c in known if case in (c.key, c.key.replace("0.6 W", "W"))), "")  # of a forecast gust too
    return f"{found} ({case})" if found else case


def held_over_pulls(row: CheckRow) -> str:
    """Return the factor between what holds and what pulls, in words where nothing pulls."""
    factor = factor_of(row)
    return "nothing pulls" if math.isinf(factor) else f"{factor:.2f}"


def speed(value: float, system: str) -> str:
    """Return a speed as forecasts give it in each system."""
    if system == "us":
        return units.write(value, "speed", "us")
    return f"{units.write(value, 'speed', 'metric')} ({units.write(value, 'speed', 'metric', unit='km/h')})"


def take_off(plan: Plan, system: str) -> str:
    """Return the sentence that a gardener needs: above which gust to take what off; "" where no gust was looked at."""
    gusts = [limit for limit in plan.limits if limit.what == "gust"]
    if not gusts:
        return ""
    last = gusts[-1]
    if last.value == 0:
        return "It does not carry its own weight and what it holds: change it before building."
    opens = any(part.motion != "fixed" for part in plan.frame.parts)
    shut = " All that opens is taken as shut and latched." if opens else ""
    if plan.standing.checks.unchecked:
        shut += " What fixes the covering is not checked: it may give first."
    if math.isinf(last.value):
        most = speed(FASTEST_M_PER_S, system)
        return f"No gust up to {most} uses up the reserve of what was checked; wet ground may give before.{shut}"
    do = (TAKE_OFF if plan.covered else TAKE_OFF | UNCOVERED)[last.condition]
    return f"Above a forecast gust of {speed(last.value, system)}, {plan.build.in_a_gust or do}.{shut}"


def lifted_together(told: Iterable[str], system: str) -> list[str]:
    """Return sentences about what is lifted as one for like feet, with the largest pull in the reader's unit.

    >>> one = "foot at joint {} is lifted by {} N under D + 0.6 W+x; nothing holds it. Hold it down."
    >>> lifted_together(["Test it.", one.format("a", 3), one.format("b", 6)], "metric")
    ['Test it.', 'foot at joints a, b: lifted by up to 6 N; nothing holds them. Hold them down.']
    """
    found: list[str] = []
    like: dict[tuple[str, str], list[tuple[str, float]]] = {}
    for sentence in told:
        match = LIFTED.match(sentence)
        if match:
            like.setdefault((match["what"], match["rest"]), []).append((match["joint"], float(match["pull"])))
        else:
            found.append(sentence)
    for (what, rest), feet in like.items():
        pull = units.write(max(pull for _, pull in feet), "force", system)
        several = "s" if feet[1:] else ""
        says = rest.replace(" it", " them").replace("was held", "were held") if several else rest
        found.append(
            f"{what} at joint{several} {', '.join(joint for joint, _ in feet)}: lifted by up to {pull}; {says}"
        )
    return found


def sold_by(unit: str) -> str:
    """Return in what a shop sells an item, as it is written."""
    return "m³" if unit == "m3" else unit


def condition(limit: Limit, plan: Plan) -> str:
    """Return in words what a frame wears at a limit."""
    return "grown" if limit.condition == "grown" and not plan.covered else CONDITION[limit.condition]
