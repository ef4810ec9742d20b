"""What the reader chose, exactly, and what was typed that could not be read. No widget, no plan.

Values are kept in the kept units of their fields. Sliders and text boxes show them rounded in the reader's units;
showing a value, in either system, never changes it.
"""

import dataclasses
import math
from collections.abc import Iterable, Mapping
from typing import Any

from gardenframe import named, units
from gardenframe.builds.fields import Field
from gardenframe.errors import InputError

NUMERIC = ("length", "mass", "angle", "share", "count", "number", "speed", "pressure", "temperature", *named.KINDS)


@dataclasses.dataclass(frozen=True, slots=True)
class Scale:
    """A slider's range: whole steps of the reader's unit inside a field's limits.

    Places are whole numbers of steps. A browser works out a place from a share of the range; were it not whole, it
    would send its own last digits back, late, as if the reader had moved.
    """

    unit: str
    step: float
    low: int
    high: int

    def place(self, value: float) -> int:
        """Return where a kept value stands on the slider: its nearest whole step, inside the range."""
        return min(max(math.floor(units.in_unit(value, self.unit) / self.step + 0.5), self.low), self.high)

    def value(self, place: int) -> float:
        """Return the kept value of a place on the slider."""
        return units.from_unit(round(place * self.step, 9), self.unit)


def scale(field: Field, system: str) -> Scale | None:
    """Return the slider's range of a field, None where it has none: choices, text, no limits."""
    if field.kind not in NUMERIC or not (math.isfinite(field.low) and math.isfinite(field.high)):
        return None
    unit = units.usual_unit(field.kind, system)
    wide = field.step if system == "metric" else field.step_us
    step = round(units.in_unit(wide, unit) - units.in_unit(0.0, unit), 9)  # a thermometer's nought is not nought
    low = math.ceil(units.in_unit(field.low, unit) / step - 1e-6)
    high = math.floor(units.in_unit(field.high, unit) / step + 1e-6)
    return Scale(unit, step, low, high)


def name_of(field: Field) -> str:
    """Return the label of a field's control: what it is, and what it is measured to."""
    return f"{field.label} ({field.datum})" if field.datum else field.label


def help_of(field: Field, system: str) -> str:
    """Return the sentence of help beneath a control, with the limits in the reader's units."""
    if scale(field, system) is None:
        return field.help
    low, high = field.written(field.low, system), field.written(field.high, system)
    return f"{field.help} {low} to {high}."


class Values:
    """The values of some fields, what was typed wrongly, and the unit system they are shown in."""

    def __init__(self, fields: Iterable[Field], start: Mapping[str, Any], system: str = "metric") -> None:
        self.fields = {field.key: field for field in fields}
        self.kept = {key: start.get(key, field.default) for key, field in self.fields.items()}
        self.wrong: dict[str, InputError] = {}
        self.system = system

    def set(self, key: str, value: Any) -> None:
        """Keep a value, or note why it cannot be used and keep the one before."""
        try:
            self.kept[key] = self.fields[key].check(value, self.system)
            self.wrong.pop(key, None)
        except InputError as error:
            self.wrong[key] = error

    def type(self, key: str, text: str) -> None:
        """Keep what was typed, or note why it cannot be read and keep the value before."""
        field = self.fields[key]
        try:
            value = units.parse(text, field.kind, self.system, name=field.label) if field.kind in NUMERIC else text
        except InputError as error:
            self.wrong[key] = error
        else:
            self.set(key, value)

    def slide(self, key: str, place: int) -> None:
        """Keep the value of a place on the slider."""
        found = scale(self.fields[key], self.system)
        if found is None:
            raise InputError(self.fields[key].label, place, "a field with limits")
        low, high = self.fields[key].low, self.fields[key].high
        self.set(key, min(max(found.value(place), low), high))

    def replace(self, values: Mapping[str, Any]) -> None:
        """Start from other values; fields that are not named go back to their defaults, errors are forgotten."""
        self.wrong.clear()
        self.kept = {key: field.default for key, field in self.fields.items()}
        for key, value in values.items():
            self.set(key, value)

    def used(self, key: str) -> bool:
        """Whether a field matters for the values of the others."""
        return all(self.kept[other] in allowed for other, allowed in self.fields[key].when)

    def errors(self) -> dict[str, str]:
        """Return the sentence of every field that is shown and wrong."""
        return {key: str(error) for key, error in self.wrong.items() if self.used(key)}

    def written(self, key: str) -> str:
        """Return a value as its text box shows it."""
        return self.fields[key].written(self.kept[key], self.system)

    def place(self, key: str) -> int | None:
        """Return where a value stands on its slider."""
        found = scale(self.fields[key], self.system)
        return None if found is None else found.place(self.kept[key])
