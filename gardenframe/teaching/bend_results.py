"""Bend sheets on the page: the straight tube of every bent piece, with its marks. Plans come in, text goes out."""

from gardenframe import units
from gardenframe.output.bend_sheet import bend_drawing
from gardenframe.road import Plan
from gardenframe.teaching.page import count, note
from gardenframe.teaching.reading import Reader

TOLD = (
    "Cut long, mark, bend, then trim. Check the first on an arc drawn full size; each tube springs back its own way. "
    "Benders are invented: measure what yours cannot bend at the ends."
)


def bends_page(plan: Plan, reader: Reader) -> str:
    """Return the sheet of every bent piece."""
    drawn = (bend_drawing(sheet, reader.system, reader.width_px) for sheet in plan.bend_sheets)
    return "".join(drawn) + note(TOLD)


def bends_line(plan: Plan, reader: Reader) -> str:
    """Return how many pieces are bent, and how long the longest is cut."""
    number = sum(sheet.count for sheet in plan.bend_sheets)
    longest = max(sheet.cut_mm for sheet in plan.bend_sheets) / 1000
    return f"{count(number, 'bent piece')}, cut up to {units.write(longest, 'length', reader.system)}"


def bends_offered(plan: Plan) -> bool:
    """Whether anything is bent."""
    return bool(plan.bend_sheets)
