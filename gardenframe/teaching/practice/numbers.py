"""The numbers of a question: drawn as a shop or a garden has them, written in the reader's units.

The unit ends a number's name, so a question's text needs no more than the name in braces: "a bay of {bay_m}".
"""

import math
from collections.abc import Mapping
from random import Random
from typing import Any

from gardenframe import units
from gardenframe.units import FOOT_M, INCH_M

Numbers = Mapping[str, Any]  # numbers, and names of goods
# end of a name -> kind, and what one of it is in the kept unit; longest first
ENDS: tuple[tuple[str, str, float], ...] = (
    ("_kg_per_m3", "density", 1.0),
    ("_kg_per_m2", "mass per area", 1.0),
    ("_kg_per_m", "mass per length", 1.0),
    ("_n_per_m", "line load", 1.0),
    ("_m_per_s", "speed", 1.0),
    ("_n_m", "moment", 1.0),
    ("_mpa", "stress", 1e6),
    ("_price", "money", 1.0),
    ("_share", "share", 1.0),
    ("_deg", "angle", 1.0),
    ("_m2", "area", 1.0),
    ("_m3", "volume", 1.0),
    ("_mm", "length", 0.001),
    ("_pa", "pressure", 1.0),
    ("_kg", "mass", 1.0),
    ("_m", "length", 1.0),
    ("_n", "force", 1.0),
)


class Said:
    """One number in a question's text: `{width_m}` as usual, `{outer_mm:exact}` to a hundredth of a millimetre."""

    def __init__(self, name: str, value: float | str, system: str) -> None:
        self.name, self.value, self.system = name, value, system

    def __format__(self, spec: str) -> str:
        """Return it in the reader's units: "exact", a unit such as "m" (metric readers only), or "" as usual."""
        if isinstance(self.value, str):
            return self.value
        kind, factor = next(((k, f) for end, k, f in ENDS if self.name.endswith(end)), ("number", 1.0))
        if spec == "exact":
            unit, digits = ("mm", 2) if self.system == "metric" else ("in", 3)
            text = units.write(self.value * factor, kind, self.system, unit, digits)
            figures, _, label = text.rpartition(" ")
            return f"{figures.rstrip('0').rstrip('.')} {label}"
        unit_or_none = spec if spec and self.system == "metric" else None
        return units.write(self.value * factor, kind, self.system, unit_or_none)


def fill(text: str, numbers: Numbers, system: str) -> str:
    """Return a text with the numbers that it names, in the reader's units.

    >>> fill("{bays} bays in {width_m}, {outer_mm:exact}", {"bays": 2, "width_m": 1.83, "outer_mm": 29.54}, "us")
    '2 bays in 6 ft 0 1/16 in, 1.163 in'
    """
    return text.format_map({name: Said(name, value, system) for name, value in numbers.items()})


def mark_m(system: str) -> float:
    """Return one mark of the reader's tape. [m]"""
    return 0.001 if system == "metric" else INCH_M / units.SIXTEENTHS_PER_INCH


def on_tape_m(length_m: float, system: str) -> float:
    """Return a length at the nearest mark of the reader's tape. [m]"""
    mark = mark_m(system)
    return math.floor(length_m / mark + 0.5) * mark


def drawn_m(rng: Random, system: str, low_m: float, high_m: float, step_m: float = 0.01, step_in: float = 1) -> float:
    """Return a length that a reader would measure out: a whole number of steps of their own unit. [m]"""
    step = step_m if system == "metric" else step_in * INCH_M
    return rng.randint(math.ceil(low_m / step - 1e-9), math.floor(high_m / step + 1e-9)) * step


def drawn(rng: Random, kind: str, system: str, low: float, high: float, step: float, step_us: float) -> float:
    """Return a round number of the reader's usual unit of a kind, kept; `low` and `high` are kept values."""
    unit, by = units.usual_unit(kind, system), step if system == "metric" else step_us
    first = math.ceil(units.in_unit(low, unit) / by - 1e-9)
    last = math.floor(units.in_unit(high, unit) / by + 1e-9)
    return units.from_unit(rng.randint(first, last) * by, unit)


def foot_or_metre_m(system: str) -> float:
    """Return the unit in which a reader says a span: a metre or a foot. [m]"""
    return 1.0 if system == "metric" else FOOT_M
