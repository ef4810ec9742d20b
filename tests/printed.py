"""Other people's numbers as tolerances: a test says what a page prints, and the last digit says how close to be."""

from decimal import Decimal
from typing import Any

import numpy as np
from outside import Compared


def _number_and_place(printed: str) -> tuple[float, float]:
    """Return the number printed and the worth of its last digit; blanks part thousands."""
    number = Decimal(printed.replace(" ", "").replace("−", "-"))
    exponent = number.as_tuple().exponent
    if not isinstance(exponent, int):
        raise ValueError(f"printed: got {printed!r}, needs a finite number.")
    return float(number), 10.0**exponent


def as_printed(printed: str, unit: str | None = None, what: str = "", source: str = "", copied: bool = False) -> Any:
    """Return what equals every number that rounds to the printed text: half a unit of its last digit, for seen values.

    `unit`, `what` and `source` go into the row of an outside check; see outside.py. `copied`: ours is no result but the
    number itself, copied into a table, so that only a change of units may move it: 0.5 % at most.

    >>> 1.2248 == as_printed("1.22"), 1.226 == as_printed("1.22"), 20610.7 == as_printed("20 611")
    (True, False, True)
    >>> 0.31 == as_printed("0.3"), 0.31 == as_printed("0.3", copied=True)
    (True, False)
    """
    number, place = _number_and_place(printed)
    allowed = place / 2 * (1 + 1e-9)
    return Compared("printed", printed, number, min(allowed, _moved(number, copied)), unit, what, source)


def as_remembered(printed: str, unit: str | None = None, what: str = "", source: str = "", copied: bool = False) -> Any:
    """Return what equals a remembered number: one unit of its last digit or 0.5 %, whichever is wider.

    `copied` as for what is printed: a table's number that was written down from memory is that number.

    >>> 1.229 == as_remembered("1.22"), 1.24 == as_remembered("1.22"), 1004.9 == as_remembered("1000.0")
    (True, False, True)
    """
    number, place = _number_and_place(printed)
    allowed = max(place * (1 + 1e-9), 0.005 * abs(number))
    return Compared("remembered", printed, number, min(allowed, _moved(number, copied)), unit, what, source)


def _moved(number: float, copied: bool) -> float:
    """Return how far a change of units may move a number that was copied."""
    return 0.005 * abs(number) if copied else float("inf")


def as_worked(
    number: Any, unit: str | None = None, what: str = "", source: str = "", rel: float = 1e-9, abs: float = 0.0
) -> Any:
    """Return what equals a number, or an array of them, worked out by another method or library, within rel or abs.

    >>> 0.30000000001 == as_worked(0.3), 0.31 == as_worked(0.3), [1.0, 2.0] == as_worked([1.0, 2.0])
    (True, False, True)
    """
    sizes = np.abs(np.asarray(number, dtype=float))
    return Compared("worked", "", number, np.maximum(rel * sizes, abs), unit, what, source)
