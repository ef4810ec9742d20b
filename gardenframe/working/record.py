"""Shown arithmetic: one formula is one small function, and its working is made from its own source.

`@formula` leaves the function as it is (a call costs nothing extra) and adds `.shown(...)`, which runs the same source
step by step and writes symbol = formula = numbers = result, with units, conversions, conditions and source. The numbers
shown are few digits, but always enough that a calculator (set to degrees) comes to the result shown.
"""

import inspect
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Any, ParamSpec, Protocol, TypeVar, cast

from gardenframe.kept import cached_property
from gardenframe.working import render, suffixes, trace
from gardenframe.working.arithmetic import FormulaError
from gardenframe.working.expressions import Line
from gardenframe.working.layout import Step, layout
from gardenframe.working.suffixes import of_name

__all__ = [
    "FORMULAS",
    "Formula",
    "FormulaError",
    "Step",
    "check",
    "check_units",
    "example_of",
    "formula",
    "latex",
    "text",
]

P = ParamSpec("P")
R_co = TypeVar("R_co", covariant=True)
KINDS = ("consistent", "empirical")


@dataclass(frozen=True)
class Record:
    """What a formula says about itself. `as_quantity` is set only while its units are checked."""

    function: Callable[..., Any]
    result: str
    symbols: Mapping[str, str]
    source: str
    kind: str
    lengths: str | None
    coefficients: Mapping[str, str]
    example: Mapping[str, Any]
    as_quantity: Callable[[str, float], Any] | None = field(default=None, compare=False)

    @property
    def qualified(self) -> str:
        """The name under which FORMULAS holds it."""
        return f"{self.function.__module__}.{self.function.__qualname__}"

    @cached_property
    def signature(self) -> inspect.Signature:
        """Its inputs, in order."""
        return inspect.signature(self.function)

    @property
    def title(self) -> str:
        """The first line of its docstring."""
        return (inspect.getdoc(self.function) or "").partition("\n")[0]

    def for_units(self) -> "Record":
        """Return the record for a run on pint quantities: constants get the unit of their name."""
        return replace(self, as_quantity=_quantity)


class Formula(Protocol[P, R_co]):
    """A formula: the function itself, with its record and its working."""

    formula: Record
    __name__: str

    def __call__(self, *args: P.args, **kwargs: P.kwargs) -> R_co:
        """Return the result on plain floats."""

    def shown(self, *args: Any, system: str = "metric", **kwargs: Any) -> Step:
        """Return the step that shows this arithmetic, in "metric" or "us"."""


FORMULAS: dict[str, Formula[..., Any]] = {}


def formula(
    *,
    result: str,
    symbols: Mapping[str, str],
    source: str,
    kind: str = "consistent",
    lengths: str | None = None,
    coefficients: Mapping[str, str] | None = None,
    example: Mapping[str, Any] | None = None,
) -> Callable[[Callable[P, R_co]], Formula[P, R_co]]:
    """Return the decorator that gives a function its working.

    Parameters
    ----------
    result : str
        Symbol of the result, such as "M" or "F_cr"; Greek letters by name ("sigma_b").
    symbols : Mapping[str, str]
        Symbols of inputs, of lines in the body and of module constants. An input without one is shown by its words,
        a constant without one by its value.
    source : str
        Key into data/sources.csv.
    kind : str, default "consistent"
        "consistent": fed quantities, it returns the unit its name promises. "empirical": it holds only in the units of
        its names and is shown in those alone, with conversions before and after; its decimals are named constants.
    lengths : str, optional
        "m" or "mm" to say in which set the numbers read best; by default mm where a stress, a stiffness or a section
        value takes part.
    coefficients : Mapping[str, str], optional
        Unit in words of constants whose names do not end in one: {"PRESSURE_FACTOR": "Pa s²/m²"}.
    example : Mapping[str, Any], optional
        Inputs that make sense together, for the test of units and the page of formulas.
    """
    if kind not in KINDS or lengths not in (None, "m", "mm") or not source or not result:
        raise ValueError("formula: needs a result, a source, kind 'consistent' or 'empirical' and lengths 'm' or 'mm'.")
    if len(set(symbols.values())) != len(symbols):
        raise ValueError(f"formula {result}: two names share one symbol.")

    def decorate(function: Callable[P, R_co]) -> Formula[P, R_co]:
        record = Record(function, result, symbols, source, kind, lengths, coefficients or {}, example or {})
        formed = cast(Any, function)
        formed.formula = record

        @lru_cache(maxsize=64, typed=True)  # the last steps of a slider: most numbers of most headings stay
        def worked(value: Any, system: str, *args: Any, **kwargs: Any) -> Step:
            return _shown(record, value, args, kwargs, system)

        def shown(*args: Any, system: str = "metric", **kwargs: Any) -> Step:
            return worked(record.function(*args, **kwargs), system, *args, **kwargs)

        formed.shown = shown
        FORMULAS[record.qualified] = formed
        return cast(Formula[P, R_co], formed)

    return decorate


def _shown(record: Record, value: Any, args: tuple[Any, ...], kwargs: Mapping[str, Any], system: str) -> Step:
    """Return the step of a formula for these inputs, once the walk has come to what the function returned."""
    if system not in ("metric", "us"):
        raise ValueError(f"system: got {system!r}, needs 'metric' or 'us'.")
    bound = record.signature.bind(*args, **kwargs)
    bound.apply_defaults()
    run = trace.run(record, bound.arguments)
    if run.value != value and not (value != value and run.value != run.value):
        raise FormulaError(record.qualified, f"its working comes to {run.value!r}, its call to {value!r}")
    return layout(run, system)


def text(steps: Iterable[Step]) -> str:
    """Return the working of a plan for paper, a blank line between steps."""
    return "\n\n".join(step.text for step in steps)


def latex(steps: Iterable[Step]) -> str:
    """Return the working of a plan for the screen: one block aligned at the equals signs, for HTMLMath."""
    rows = r" \\[6pt] ".join(r" \\[2pt] ".join(step.rows) for step in steps)
    return rf"$$\begin{{aligned}} {rows} \end{{aligned}}$$" if rows else ""


def example_of(form: Formula[..., Any]) -> dict[str, Any]:
    """Return inputs that the formula takes: its own example, else the first plain set that it does not refuse."""
    record = form.formula
    names = list(inspect.signature(record.function).parameters)
    if record.example:
        return dict(record.example)
    for ratio in (0.6, 1.0, 1.7):
        tried = {name: 3.0 * ratio**at for at, name in enumerate(names)}
        try:
            record.function(**tried)
        except (ArithmeticError, ValueError, TypeError):
            continue
        return tried
    raise FormulaError(record.qualified, "it refuses plain numbers: give it an example=")


def _quantity(name: str, value: Any) -> Any:
    from gardenframe.units import Q

    unit = suffixes.pint_words(of_name(name))
    whole = isinstance(value, int) and not unit  # a count stays a plain number: it may be a power or a range
    return Q(value, unit) if isinstance(value, (int, float)) and not isinstance(value, bool) and not whole else value


def check_units(form: Formula[..., Any]) -> None:
    """Feed a consistent formula quantities; FormulaError unless each line and the result fit their names."""
    import pint

    from gardenframe.units import Q

    record, inputs = form.formula, example_of(form)
    expected = record.function(**inputs)
    bound = inspect.signature(record.function).bind(**inputs)
    bound.apply_defaults()
    fed = {name: _quantity(name, value) for name, value in bound.arguments.items()}
    try:
        run = trace.run(record.for_units(), fed)
        checked = [(line.name, line.value) for line in run.lines if isinstance(line, Line)]
        for name, value in checked:
            Q(value).to(suffixes.pint_words(of_name(name)))
        result = Q(run.value).to(suffixes.pint_words(of_name(record.function.__name__))).magnitude
    except pint.errors.PintError as problem:
        raise FormulaError(record.qualified, f"its units do not go together: {problem}") from problem
    if abs(result - expected) > 1e-9 * abs(expected):
        raise FormulaError(record.qualified, f"fed quantities it gives {result:.9g}, on plain numbers {expected:.9g}")


def check(form: Formula[..., Any]) -> None:
    """Check that a formula is what it says: units or named coefficients, known symbols, a working in both systems."""
    record, inputs = form.formula, example_of(form)
    known = trace.names_in(record.function)
    for name in (*record.symbols, *record.coefficients):
        if name not in known:
            raise FormulaError(record.qualified, f"it gives a symbol or a unit to {name}, which it does not use")
    if record.kind == "consistent":
        check_units(form)
    elif trace.unnamed_decimals(record.function):
        found = ", ".join(render.literal(number) for number in trace.unnamed_decimals(record.function))
        raise FormulaError(record.qualified, f"an empirical formula names its coefficients: make {found} a constant")
    for system in ("metric", "us"):
        form.shown(**inputs, system=system)
