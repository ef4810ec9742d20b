"""The build sheet: what a person takes to the shop and into the garden, as one HTML page that prints on A4 and Letter.

A plan, a name and a unit system come in, a page goes out that fetches nothing. Every number is the plan's; the parts
are written in `sheet_front`, `sheet_shop`, `sheet_bench`, `sheet_stand` and `sheet_end`.
"""

from datetime import date

from gardenframe.materials.shop import TAPES
from gardenframe.output import sheet_bench, sheet_end, sheet_front, sheet_shop, sheet_stand
from gardenframe.output.markup import escape
from gardenframe.output.sheet_style import style
from gardenframe.road import Plan

SYSTEM_OF_TAPE = dict(zip(TAPES, ("metric", "us"), strict=True))
NOTHING_FETCHED = "default-src 'none'; style-src 'unsafe-inline'"


def build_sheet(plan: Plan, system: str = "", *, name: str = "", written_on: date | None = None) -> str:
    """Return the build sheet of a plan as an HTML page.

    Parameters
    ----------
    plan : Plan
        One at rest: a live plan's cutting may not be proven, and the sheet says so.
    system : str
        "metric" or "us"; that of the shop's tape unless given.
    name : str
        What the build is called; its type unless given.
    written_on : date
        Today unless given.
    """
    system = system or SYSTEM_OF_TAPE[plan.shop.tape]
    name = "".join(letter if letter.isprintable() else " " for letter in name or plan.build.title)
    day = written_on or date.today()
    parts = (
        *sheet_front.parts(plan, system, name, day),
        *sheet_shop.parts(plan, system),
        *sheet_bench.parts(plan, system),
        *sheet_stand.parts(plan, system),
        *sheet_end.parts(plan, system),
    )
    return (
        "<!DOCTYPE html>\n"
        f'<html lang="en"><head><meta charset="utf-8"/><title>{escape(name)}: build sheet</title>'
        f'<meta http-equiv="Content-Security-Policy" content="{NOTHING_FETCHED}"/>'
        '<meta name="viewport" content="width=device-width, initial-scale=1"/>'
        f"<style>{style(f'{name}, {day.isoformat()}')}</style></head>\n<body><main>"
        + "\n".join(filter(None, parts))
        + "</main></body></html>\n"
    )
