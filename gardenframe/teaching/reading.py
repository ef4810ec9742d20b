"""How results are read and laid out: units and widths, one heading of the page, how numbers are written."""

from collections.abc import Callable
from dataclasses import dataclass

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
