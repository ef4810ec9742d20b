"""How results are read and laid out: units and widths, one heading of the page, how numbers are written."""

from collections.abc import Callable
from dataclasses import dataclass

from gardenframe import units
from gardenframe.geometry.pieces import Piece
from gardenframe.road import Plan

WIDE, HALF = "wide", "half"


@dataclass(frozen=True, slots=True)
class Reader:
    """How results are read: the unit system, and how wide they stand on the page. [px]"""

    system: str = "metric"
    width_px: float = 820.0
    column_px: float = 820.0  # drawings are never drawn narrower than they can be read; the figure has to fit


@dataclass(frozen=True, slots=True)
class Section:
    """One heading of the results.

    `page` and `sums_up` take a plan and how it is read. `kind` is html, math (typeset) or figure (drawn by `figures`).
    `strength` says that even its line asks whether the frame stands, `at_rest` that its page is only written at rest.
    """

    key: str
    heading: str
    page: Callable[[Plan, Reader], str]
    sums_up: Callable[[Plan, Reader], str]
    kind: str = "html"
    width: str = WIDE
    strength: bool = False
    at_rest: bool = False
    offered: Callable[[Plan], bool] = lambda plan: True


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


def money(amount: float, plan: Plan) -> str:
    """Return an amount in the price table's currency."""
    return units.write(amount, "money", "metric", unit=plan.cost.currency)


def exact(piece: Piece, system: str) -> str:
    """Return a piece's exact length: tenths of a mm, hundredths of an inch."""
    if system == "metric":
        return f"{piece.length_m * 1000:.1f}"
    return f"{piece.length_m / units.INCH_M:.2f}"
