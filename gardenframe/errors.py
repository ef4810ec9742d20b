"""Errors raised on purpose. Each is one sentence: what, what came, what is allowed, what to do."""

import math
from typing import Any


class GardenframeError(Exception):
    """Base of every error that gardenframe raises on purpose."""


def shown(value: Any) -> str:
    """Return what came, as a reader typed or meant it: text in quotes, numbers to six digits.

    >>> shown(22.9), shown("six"), shown(None)
    ('22.9', "'six'", 'nothing')
    """
    if value is None or (isinstance(value, str) and not value.strip()):
        return "nothing"
    if isinstance(value, float):
        return f"{value:.6g}"
    if isinstance(value, str):
        return repr(value if len(value) <= 40 else value[:37] + "...")
    return str(value)


def sentence(what: str, got: Any, needs: str, do: str) -> str:
    """Return the one sentence (and what to do) that every error shows."""
    text = f"{what}: got {shown(got)}, needs {needs}."
    return f"{text} {do}" if do else text


class InputError(GardenframeError, ValueError):
    """A value that a reader gave and that cannot be used. `name` is the field it belongs to."""

    def __init__(self, name: str, got: Any, needs: str, do: str = "") -> None:
        self.name, self.got, self.needs, self.do = name, got, needs, do
        super().__init__(sentence(name, got, needs, do))


class TableError(GardenframeError, ValueError):
    """A cell, row or heading of a CSV table that cannot be used."""

    def __init__(self, table: str, line: int | None, column: str | None, got: Any, needs: str, do: str = "") -> None:
        self.table, self.line, self.column, self.got, self.needs, self.do = table, line, column, got, needs, do
        where = [table] + ([f"line {line}"] if line is not None else []) + ([f"column {column}"] if column else [])
        super().__init__(sentence(", ".join(where), got, needs, do))


class FrameError(GardenframeError, ValueError):
    """A frame that cannot be built or solved. `where` names the joint or the run."""

    def __init__(self, where: str, problem: str, do: str = "") -> None:
        self.where, self.problem, self.do = where, problem, do
        super().__init__(f"{where}: {problem}. {do}".strip())


class FittingError(FrameError):
    """A joint that no fitting row serves in its tube size."""


def require_within(name: str, value: Any, low: float, high: float, unit: str, do: str = "") -> None:
    """Raise InputError unless a value is a finite number from low to high.

    >>> require_within("kerf", -1, 0, 10, "mm")
    Traceback (most recent call last):
    gardenframe.errors.InputError: kerf: got -1, needs 0 to 10 mm.
    """
    number = isinstance(value, int | float) and not isinstance(value, bool)
    if not (number and math.isfinite(value) and low <= value <= high):
        raise InputError(name, value, f"{low:g} to {high:g} {unit}", do)
