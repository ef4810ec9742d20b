"""Fields of a build: what a reader chooses, its limits, its help. Panels, errors and saved builds read these."""

import dataclasses
import math
from collections.abc import Callable, Iterable
from typing import Any

from gardenframe import named, units
from gardenframe.errors import InputError

KINDS = (
    *("length", "mass", "angle", "share", "count", "number", "speed", "pressure", "temperature"),
    *named.KINDS,
    *("choice", "choices", "flag", "text", "table"),
)


class FieldError(InputError):
    """A field's value that cannot be used; `field` is its key, so that the sentence can stand by its control."""

    def __init__(self, field: str, label: str, got: Any, needs: str, do: str = "") -> None:
        self.field = field
        super().__init__(label, got, needs, do)


@dataclasses.dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """One thing that a reader chooses.

    Parameters
    ----------
    key : str
        Name of the attribute; the unit of its value ends it (`width_m`).
    label : str
        What it is called on the screen, without unit.
    kind : str
        One of `KINDS`; `length` in m, `mass` in kg, `angle` in deg, `share` as a fraction of one,
        `speed` in m/s, `pressure` in Pa, `temperature` in °C, `bearing` in deg from north through east, `date` as
        the day of a usual year.
    low, high, step, step_us : float
        Limits and slider steps in the value's own unit; `step_us` is the step in US units, also in the value's own.
    default : object
        The value of a build made with no arguments.
    help : str
        One sentence.
    choices : tuple of (value, label)
        For `choice` and `choices`.
    first : bool
        Whether a beginner sees it at once; else it is folded under `group`.
    datum : str
        What a size is measured to: outside, clear, centre to centre, or nothing.
    when : tuple of (key, values)
        Other fields' values for which it matters; elsewhere it is hidden and ignored.
    """

    key: str
    label: str
    kind: str
    default: Any
    help: str
    low: float = -math.inf
    high: float = math.inf
    step: float = 1.0
    step_us: float = 1.0
    choices: tuple[tuple[Any, str], ...] = ()
    first: bool = True
    group: str = "More"
    datum: str = ""
    when: tuple[tuple[str, tuple[Any, ...]], ...] = ()

    def written(self, value: Any, system: str = "metric") -> str:
        """Return a value as a reader sees it, with its unit."""
        if self.kind == "choice":
            return str(dict(self.choices).get(value, value))
        if self.kind == "choices":
            return ", ".join(dict(self.choices).get(v, str(v)) for v in value) or "none"
        if self.kind in ("flag", "text", "table"):
            return str({True: "yes", False: "no"}.get(value, value))
        return units.write(value, self.kind, system)

    def check(self, value: Any, system: str = "metric") -> Any:
        """Return the value as the build keeps it, or raise FieldError with one sentence in the reader's units."""
        if self.kind in ("choice", "choices"):
            return self._chosen(value)
        if self.kind == "flag":
            if not isinstance(value, bool):
                raise FieldError(self.key, self.label, value, "yes or no")
            return value
        if self.kind in ("text", "table"):
            return str(value)
        return self._within(value, system)

    def _chosen(self, value: Any) -> Any:
        allowed = [key for key, _ in self.choices]
        many = self.kind == "choices"
        wrong = [v for v in (value if many and not isinstance(value, str) else [value]) if v not in allowed]
        if wrong:
            raise FieldError(self.key, self.label, wrong[0], f"one of: {', '.join(map(str, allowed))}")
        return tuple(key for key in allowed if key in value) if many else value

    def _within(self, value: Any, system: str) -> float | int:
        limits = f"{self.written(self.low, system)} to {self.written(self.high, system)}"
        if self.kind in named.KINDS and isinstance(value, str):
            value = units.parse(value, self.kind, system, name=self.label)
        if isinstance(value, bool) or not (isinstance(value, int | float) or hasattr(value, "__float__")):
            raise FieldError(self.key, self.label, value, f"a number, {limits}")
        number = float(value)
        if not math.isfinite(number):
            raise FieldError(self.key, self.label, number, f"a number, {limits}")
        if self.kind == "count" and number != round(number):
            raise FieldError(self.key, self.label, number, f"a whole number, {limits}")
        slack = 1e-9 * max(1.0, abs(number))
        if not self.low - slack <= number <= self.high + slack:
            raise FieldError(self.key, self.label, Written(self.written(number, system)), limits)
        return round(number) if self.kind in ("count", "date", "month") else number


class Written(str):
    """Text already written with its unit: shown without quotes."""

    __slots__ = ()

    def __repr__(self) -> str:
        return str(self)


def field(**facts: Any) -> Any:
    """Return a dataclass field that carries a `Field`; its key is filled in by the build."""
    return dataclasses.field(default=facts["default"], metadata={"field": facts})


def length(default: float, low: float, high: float, label: str, help: str, **rest: Any) -> Any:
    """Return a field for a length. [m] Steps default to 10 mm and half an inch."""
    given = {"step": 0.01, "step_us": 0.0127} | rest
    return field(kind="length", default=default, low=low, high=high, label=label, help=help, **given)


def count(default: int, low: int, high: int, label: str, help: str, **rest: Any) -> Any:
    """Return a field for a whole number."""
    return field(kind="count", default=default, low=low, high=high, label=label, help=help, **rest)


def number(kind: str, default: float, low: float, high: float, label: str, help: str, **rest: Any) -> Any:
    """Return a field for a number of a kind: share, angle, mass, number."""
    return field(kind=kind, default=default, low=low, high=high, label=label, help=help, **rest)


def choice(default: Any, choices: Iterable[tuple[Any, str]], label: str, help: str, **rest: Any) -> Any:
    """Return a field for one of several, given as (value, label)."""
    return field(kind="choice", default=default, choices=tuple(choices), label=label, help=help, **rest)


def ticked(default: Iterable[Any], choices: Iterable[tuple[Any, str]], label: str, help: str, **rest: Any) -> Any:
    """Return a field for any number of several, given as (value, label); its value is a tuple in their order."""
    return field(kind="choices", default=tuple(default), choices=tuple(choices), label=label, help=help, **rest)


def flag(default: bool, label: str, help: str, **rest: Any) -> Any:
    """Return a field for yes or no."""
    return field(kind="flag", default=default, label=label, help=help, **rest)


def table(default: str, label: str, help: str, **rest: Any) -> Any:
    """Return a field for a small CSV table, typed or pasted over several lines, or the name of a file."""
    return field(kind="table", default=default, label=label, help=help, **rest)


def both(length_m: float) -> str:
    """Return a length in both unit systems, for sentences that do not know the reader's.

    >>> both(1.8288)
    '1.83 m (6 ft 0 in)'
    """
    return f"{units.write(length_m, 'length', 'metric', unit='m', digits=2)} ({units.write(length_m, 'length', 'us')})"


def at_least(length_m: float) -> str:
    """Return the least length that serves in both unit systems, each rounded up: what is told is then enough.

    >>> at_least(0.6512), at_least(0.65)
    ('0.652 m (2 ft 1 11/16 in)', '0.65 m (2 ft 1 5/8 in)')
    """
    return _rounded(length_m, math.ceil, -1e-6)


def at_most(length_m: float) -> str:
    """Return the greatest length that serves in both unit systems, each rounded down.

    >>> at_most(0.6597), at_most(0.66)
    ('0.659 m (2 ft 1 15/16 in)', '0.66 m (2 ft 1 15/16 in)')
    """
    return _rounded(length_m, math.floor, 1e-6)


def _rounded(length_m: float, way: Callable[[float], int], slack: float) -> str:
    millimetres = way(length_m * 1000 + slack)
    metric = units.write(millimetres / 1000, "length", "metric", unit="m", digits=3 if millimetres % 10 else 2)
    sixteenth = units.INCH_M / 16
    return f"{metric} ({units.write(way(length_m / sixteenth + slack) * sixteenth, 'length', 'us')})"
