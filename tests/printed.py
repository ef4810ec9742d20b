"""Printed numbers as tolerances: a test says what a page prints, and the last printed digit says how close to be."""

from decimal import Decimal
from typing import Any

import pytest


def _number_and_place(printed: str) -> tuple[float, float]:
    """Return the number printed and the worth of its last digit; blanks part thousands."""
    number = Decimal(printed.replace(" ", "").replace("−", "-"))
    exponent = number.as_tuple().exponent
    if not isinstance(exponent, int):
        raise ValueError(f"printed: got {printed!r}, needs a finite number.")
    return float(number), 10.0**exponent


def as_printed(printed: str) -> Any:
    """Return what equals every number that rounds to the printed text: half a unit of its last digit, for seen values.

    >>> 1.2248 == as_printed("1.22"), 1.226 == as_printed("1.22"), 20610.7 == as_printed("20 611")
    (True, False, True)
    """
    number, place = _number_and_place(printed)
    return pytest.approx(number, rel=0, abs=place / 2 * (1 + 1e-9))


def as_remembered(printed: str) -> Any:
    """Return what equals a remembered number: one unit of its last digit or 0.5 %, whichever is wider.

    >>> 1.229 == as_remembered("1.22"), 1.24 == as_remembered("1.22"), 1004.9 == as_remembered("1000.0")
    (True, False, True)
    """
    number, place = _number_and_place(printed)
    return pytest.approx(number, rel=0, abs=max(place * (1 + 1e-9), 0.005 * abs(number)))
