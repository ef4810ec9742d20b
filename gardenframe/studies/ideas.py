"""What could I build here? Examples of every build, with size, cost, gust and how hard they are, narrowed by a place.

The table of ideas comes in; what each is, and which fit a need, a place, a budget and tools, go out. Limits take a
second each, so that the table keeps them: `python -m gardenframe.studies.ideas` works them out again.
"""

import csv
import math
import sys
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from gardenframe import builds
from gardenframe.builds.build import Build
from gardenframe.materials.ideas import SCHEMA, Idea, load_ideas
from gardenframe.materials.shop import Shop
from gardenframe.materials.site import Site
from gardenframe.road import Plan, plan
from gardenframe.tables import data_folder

FIRST, PRACTICE, HELP = "a first build", "with some practice", "with somebody who has built before"
MANY_PIECES, TALL_M = 36, 2.2


@dataclass(frozen=True)
class Seen:
    """An idea with its plan: what a reader compares.

    `across_m`, `deep_m` and `high_m` are of the tubes, above the ground.
    """

    idea: Idea
    plan: Plan
    across_m: float
    deep_m: float
    high_m: float
    pieces: int
    hours: float
    bends: bool
    ladder: bool
    drill: bool
    difficulty: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """What a reader has: a need, room, money and tools.

    Parameters
    ----------
    need : str
        A key of `NEEDS`, "" for any.
    across_m, deep_m : float
        Room along and across; a build may stand either way. [m]
    budget : float
        At usual prices, tax included; infinite for any.
    bender, ladder, drill : bool
        What is there.
    """

    need: str = ""
    across_m: float = math.inf
    deep_m: float = math.inf
    budget: float = math.inf
    bender: bool = True
    ladder: bool = True
    drill: bool = True


def build_of(idea: Idea) -> Build:
    """Return the build of an idea."""
    kind = builds.ALL[idea.build]
    return kind(**kind.examples[idea.example])


def seen(idea: Idea, site: Site | None = None, shop: Shop | None = None) -> Seen:
    """Return an idea with what a reader compares."""
    made = plan(build_of(idea), site, shop, live=True)
    (left, right), (front, back), (_, high) = outer_sides(made)
    across, deep = right - left, back - front
    tools = " ".join(made.steps["tool"])
    bends = any(piece.bends for piece in made.cut)
    pieces = sum(piece.count for piece in made.cut)
    hard = bends + (pieces > MANY_PIECES) + (high > TALL_M) + any(p.motion != "fixed" for p in made.frame.parts)
    return Seen(
        idea, made, across, deep, high, pieces, sum(made.steps["minutes"]) / 60, bends, "ladder" in tools,
        "drill" in tools, FIRST if not hard else PRACTICE if hard == 1 else HELP,
    )  # fmt: skip


def outer_sides(made: Plan) -> tuple[tuple[float, float], ...]:
    """Return least and most of x, y and z over the outer faces of all that is cut, as if no tube ended square. [m]"""
    low, high = [math.inf] * 3, [-math.inf] * 3
    for key, run in made.frame.runs.items():
        half = made.shop.member(run.member).outer_mm / 2000
        for point in made.frame.lines[key].points():
            for i in range(3):
                low[i], high[i] = min(low[i], point[i] - half), max(high[i], point[i] + half)
    return tuple(zip(low, high, strict=True))


def fits(found: Seen, place: Place) -> str:
    """Return why an idea does not go with a place, in a few words; "" where it does."""
    long, short = max(found.across_m, found.deep_m), min(found.across_m, found.deep_m)
    if place.need and place.need not in found.idea.needs:
        return "for something else"
    if long > max(place.across_m, place.deep_m) or short > min(place.across_m, place.deep_m):
        return "larger than the place"
    if found.plan.cost.usual > place.budget:
        return "above the budget"
    for asked, has, word in (
        (found.bends, place.bender, "bender or jig"), (found.ladder, place.ladder, "stepladder"),
        (found.drill, place.drill, "drill"),
    ):  # fmt: skip
        if asked and not has:
            return f"asks for a {word}"
    return ""


def narrowed(every: Iterable[Seen], place: Place) -> tuple[list[Seen], dict[str, int]]:
    """Return the ideas that go with a place, cheapest first, and how many do not for which reason."""
    kept: list[Seen] = []
    out: dict[str, int] = {}
    for found in every:
        why = fits(found, place)
        if why:
            out[why] = out.get(why, 0) + 1
        else:
            kept.append(found)
    return sorted(kept, key=lambda found: found.plan.cost.usual), out


def worked(idea: Idea) -> Idea:
    """Return an idea with its gust worked out at the site as shipped: that of the fullest condition."""
    found = [limit for limit in plan(build_of(idea)).limits if limit.what == "gust"]
    last = found[-1] if found else None
    told = last is not None and math.isfinite(last.value)
    return Idea(
        key=idea.key, build=idea.build, example=idea.example, needs=idea.needs,
        gust_m_per_s=round(last.value, 1) if last and told else None,
        condition=last.condition if last else None,
        governs=last.governs.check if last and told and last.governs else None,
        source=idea.source,
    )  # fmt: skip


def lines(ideas: Iterable[Idea]) -> Iterator[list[str]]:
    """Yield the rows of the table as text."""
    yield list(SCHEMA)
    for idea in ideas:
        cells = [getattr(idea, name) for name in SCHEMA]
        yield ["none" if c is None else " ".join(c) if isinstance(c, tuple) else str(c) for c in cells]


def main() -> int:
    """Work out the gust of every idea again and write the table."""
    rows = list(lines(worked(idea) for idea in load_ideas().values()))
    with (data_folder() / "ideas.csv").open("w", newline="", encoding="utf-8") as file:
        csv.writer(file, lineterminator="\n").writerows(rows)
    sys.stdout.write(f"{len(rows) - 1} ideas worked out\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
