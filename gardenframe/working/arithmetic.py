"""Arithmetic as trees: what expressions become, and what each operation does to floats and to quantities."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from gardenframe.errors import GardenframeError


class FormulaError(GardenframeError):
    """A formula whose working cannot be shown. `formula` names it, `problem` says what is in the way."""

    def __init__(self, formula: str, problem: str) -> None:
        self.formula, self.problem = formula, problem
        super().__init__(f"{formula}: {problem}.")


@dataclass(frozen=True)
class Leaf:
    """A value with its symbol. `name` carries the unit; a literal has no symbol and is shown as typed."""

    value: float
    symbol: str = ""
    name: str = ""
    literal: bool = False


@dataclass(frozen=True)
class Op:
    """An operation (+ - * / ** neg) or a function of trees."""

    kind: str
    parts: tuple["Tree", ...]


Tree = Leaf | Op


PI = Leaf(math.pi, "π", literal=True)
HALF_TURN = Leaf(180.0, "180°", literal=True)


def plain(value: Any) -> float:
    """Return a ratio as a float; a quantity with a unit raises pint's own DimensionalityError."""
    return float(value.to("").magnitude) if hasattr(value, "to") else float(value)


def _power(base: Any, power: Any) -> Any:
    return base ** (power if isinstance(power, int) else plain(power))


def _radians(angle: Any) -> Any:
    return angle.to("radian") if hasattr(angle, "to") else math.radians(angle)


def _degrees(angle: Any) -> Any:
    return angle.to("degree") if hasattr(angle, "to") else math.degrees(angle)


def _on_ratio(function: Callable[[float], float]) -> Callable[[Any], float]:
    return lambda value: function(plain(value))


def _arc(function: Callable[..., float]) -> Callable[..., Any]:
    """Return an inverse function that gives radians: as a quantity where it was fed one."""

    def angle(*values: Any) -> Any:
        if not any(hasattr(value, "to") for value in values):
            return function(*values)
        given = next(value for value in values if hasattr(value, "to"))
        alike = [value.to(given.units).magnitude if len(values) == 2 else plain(value) for value in values]
        return given.__class__(function(*alike), "radian")

    return angle


_PLAIN: dict[str, Callable[..., Any]] = {
    "+": lambda a, b: a + b, "-": lambda a, b: a - b, "*": lambda a, b: a * b, "/": lambda a, b: a / b, "**": _power,
    "neg": lambda a: -a, "min": min, "max": max, "abs": abs, "radians": _radians, "degrees": _degrees,
    "sqrt": lambda a: a**0.5 if hasattr(a, "to") else math.sqrt(a),
}  # fmt: skip
_ARCS = ("asin", "acos", "atan", "atan2")
_RATIOS = ("sin", "cos", "tan", "exp", "log", "log10", "sinh", "cosh", "tanh", "asinh", "ceil", "floor")
DO: dict[str, Callable[..., Any]] = (
    _PLAIN
    | {name: _arc(getattr(math, name)) for name in _ARCS}
    | {name: _on_ratio(getattr(math, name)) for name in _RATIOS}
)
ARGUMENTS = {"atan2": 2}


def evaluate(tree: Tree, value: Callable[[Leaf], Any]) -> Any:
    """Return what a tree comes to, its leaves as `value` gives them."""
    if isinstance(tree, Leaf):
        return value(tree)
    return DO[tree.kind](*(evaluate(part, value) for part in tree.parts))
