"""The gallery of ideas as a page: a picture, size, cost, gust, how hard it is, and where to start. Text only."""

from collections.abc import Mapping, Sequence

from gardenframe import units
from gardenframe.materials.ideas import NEEDS
from gardenframe.output.picture import picture
from gardenframe.output.telling import hours, money
from gardenframe.studies.ideas import Seen
from gardenframe.teaching.links import to_workbook
from gardenframe.teaching.page import Card, cards, count, escape, note
from gardenframe.teaching.reading import Reader
from gardenframe.teaching.series import BOOKS

GRID = "display:grid;grid-template-columns:repeat(auto-fill,minmax(236px,1fr));gap:14px;margin:8px 0"
BOX = "border:1px solid #c9d2da;border-radius:6px;padding:10px;display:flex;flex-direction:column;gap:4px"
PICTURE_PX = 216.0
MOST_SHOWN = 12  # a page of all of them is slow to follow a slider


def gallery_page(kept: Sequence[Seen], left_out: Mapping[str, int], pictures: Mapping[str, str], reader: Reader) -> str:
    """Return the ideas that go with a place, each with its picture by key, and for what others were left out."""
    found = cards((Card("ideas", "Ideas that fit", str(len(kept)), f"of {len(kept) + sum(left_out.values())}"),))
    reasons = ", ".join(f"{number} {why}" for why, number in sorted(left_out.items(), key=lambda item: -item[1]))
    told = note(f"Left out: {reasons}." if reasons else "")
    boxes = "".join(_box(one, pictures[one.idea.key], reader) for one in kept[:MOST_SHOWN])
    more = len(kept) - MOST_SHOWN
    told += note(f"The {MOST_SHOWN} cheapest are shown; narrow it down to see the other {more}." if more > 0 else "")
    last = note(
        "Gardens and prices are invented. Sizes are those of the tubes above ground, costs at usual prices. The gust "
        "is the forecast gust, 10 m up, at which the first check is used up: covered and full-grown, in a suburban "
        "place as the settings are shipped. How hard it is to build is judged by bends, height, pieces, moving parts."
    )
    return f"{found}{told}<div style='{GRID}' role='list'>{boxes}</div>{last}"


def name_of(one: Seen) -> str:
    """Return what a picture is called."""
    return f"{one.plan.build.title}: {one.idea.example}"


def picture_of(one: Seen) -> str:
    """Return the picture of an idea, drawn from its plan."""
    return picture(one.plan.frame, PICTURE_PX, members=one.plan.shop.members, title=name_of(one))


def _box(one: Seen, drawn: str, reader: Reader) -> str:
    idea, made, name = one.idea, one.plan, name_of(one)
    book = next((book for book in BOOKS if book.key == idea.build), None)
    size = " by ".join(units.write(side, "length", reader.system) for side in sorted((one.across_m, one.deep_m))[::-1])
    rows = (
        ("Size", f"{size}, {units.write(one.high_m, 'length', reader.system)} high"),
        ("Cost", f"{money(made.cost.usual, made)} ({money(made.cost.low, made)} to {money(made.cost.high, made)})"),
        ("Gust", _gust(one, reader)),
        ("Work", f"{hours(one.hours * 60)}, {count(one.pieces, 'piece')}, {one.difficulty}"),
        ("For", ", ".join(NEEDS[need] for need in idea.needs)),
    )
    lines = "".join(f"<div><span class='gf-quiet'>{label}</span> {escape(text)}</div>" for label, text in rows)
    where = ""
    if book:
        drawn = to_workbook(book.file, drawn, f"Open {book.file} for {name}")
        link = to_workbook(book.file, book.file.removesuffix(".ipynb"))
        where = f"<div>{link}, <i>start from</i>: {escape(idea.example)}</div>"
    return f"<div style='{BOX}' role='listitem'>{drawn}<b>{escape(name.split(' (')[0])}</b>{lines}{where}</div>"


def _gust(one: Seen, reader: Reader) -> str:
    if one.plan.build.indoors:
        return "stands under a roof"
    if one.idea.gust_m_per_s is None:
        return "none of those looked at uses it up"
    return f"{units.write(one.idea.gust_m_per_s, 'speed', reader.system)}, {one.idea.condition}"
