"""Moves every control of a panel as a reader would, to both ends and back, and refuses to go on where the page lies.

After every move there is either a plan with its numbers on the page, or one sentence by a control and no number at all.
"""

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any, NamedTuple

from gardenframe.teaching.values import NUMERIC, Values

if TYPE_CHECKING:
    from gardenframe.teaching.controls.panel import Panel

NONSENSE = ("", "six feet", "-1", "0/0", "1e400", "nan", "12 parsecs", "<b>9</b>", "=1+1")
RESTS = 4  # controls between two looks at rest


class Swept(NamedTuple):
    """How many controls were moved, in how many moves, and how many moves were refused with a sentence."""

    controls: int
    moves: int
    refused: int


def sweep(panel: "Panel") -> Swept:
    """Return what was moved; AssertionError where a move leaves neither a plan nor a sentence.

    Fields that other fields hide are uncovered first. Values are afterwards what they were, to the last digit. Every
    move is looked at as it is while sliding; the last end of every fourth control, and the whole at the end, also at
    rest: proofs of the largest builds take seconds.
    """
    panel.rest.held = True
    try:
        found = _swept(panel)
    finally:
        panel.rest.held = False
    _at_rest(panel)
    return found


def _at_rest(panel: "Panel") -> None:
    if panel.plan is not None:
        panel.refine()
    true_to_page(panel)


def _swept(panel: "Panel") -> Swept:
    true_to_page(panel)
    if panel.error:
        raise AssertionError(f"before the sweep: {panel.error}")
    controls = moves = refused = 0
    for inputs in panel.inputs:
        for key in inputs.controls:
            before = dict(inputs.values.kept)
            _uncover(panel, inputs.values, key)
            for end in _ends(panel.control(key)):
                _move(panel.control(key), end)
                true_to_page(panel)
                moves += 1
                refused += bool(panel.error)
            if controls % RESTS == 0:
                _at_rest(panel)
            inputs.values.replace(before)
            panel.refresh()
            true_to_page(panel)
            if panel.error or inputs.values.kept != before:
                raise AssertionError(f"{key}: back at its value, the panel says {panel.error or 'another value'}")
            controls += 1
    return Swept(controls, moves, refused)


def nonsense(panel: "Panel") -> int:
    """Return how many boxes took nonsense: each said one sentence, blanked the results, and let them come back."""
    panel.rest.held = True
    try:
        boxes = _nonsense(panel)
    finally:
        panel.rest.held = False
    _at_rest(panel)
    return boxes


def _nonsense(panel: "Panel") -> int:
    boxes = 0
    for inputs in panel.inputs:
        for key, control in inputs.controls.items():
            if control.field.kind not in NUMERIC:
                continue
            before = dict(inputs.values.kept)
            _uncover(panel, inputs.values, key)
            for text in nonsense_for(control.field):
                panel.type(key, text)
                true_to_page(panel)
                if not panel.error or control.main.value != text:
                    raise AssertionError(f"{key}: {text!r} was taken, or not left in its box")
            inputs.values.replace(before)
            panel.refresh()
            if panel.error:
                raise AssertionError(f"{key}: {panel.error}")
            boxes += 1
    return boxes


def true_to_page(panel: "Panel") -> None:
    """Raise AssertionError unless the page shows a whole plan, or one sentence and no number of a result."""
    if panel.unexpected:
        raise AssertionError(f"not expected: {panel.unexpected!r}") from panel.unexpected
    shown = panel.shown
    pages = [page.value for key, page in shown.pages.items() if shown.sections[key].kind != "figure"]
    lines = [fold.head.description.removeprefix(fold.heading) for fold in shown.folds.values()]
    if panel.plan is None:
        by_control = [c for inputs in panel.inputs for c in inputs.controls.values() if "gf-error" in c.note.value]
        if not panel.error or not (by_control or "gf-error" in shown.above.value):
            raise AssertionError("no plan, and no sentence that says why")
        left = [text for text in (shown.numbers.value, *pages, *lines) if text]
        if left or (shown.figure is not None and any(trace.get("x") for trace in shown.figure.figure["data"])):
            raise AssertionError(f"a number is left on the page: {left[:1]}")
        return
    opened = [key for key, fold in shown.folds.items() if fold.is_open and shown.sections[key].offered(panel.plan)]
    missing = [key for key in opened if shown.sections[key].kind != "figure" and not shown.pages[key].value]
    if panel.error or not re.search(r"\d", shown.numbers.value) or missing:
        raise AssertionError(f"a plan, but {panel.error or 'nothing under ' + ', '.join(missing)}")


def sweep_small(small: Any) -> Swept:
    """Return what was moved, in both unit systems; AssertionError where a move leaves neither an answer nor a sentence.

    `small` has `inputs`, `use`, `error` and `answered` (whether an answer stands on the page): what is less than a
    panel. Nonsense typed into its boxes counts as a move that must be refused.
    """
    moves = refused = 0
    values, system = small.inputs.values, small.inputs.values.system
    for other in ("metric", "us"):
        small.use(other)
        for key, control in small.inputs.controls.items():
            before = dict(values.kept)
            for over, allowed in control.field.when:
                small.inputs.controls[over].main.value = allowed[0]
            for end in _ends(control):
                _move(control, end)
                moves, refused = moves + 1, refused + _one_of_both(small, key)
            for text in nonsense_for(control.field):
                control.main.value = text
                if not _one_of_both(small, key):
                    raise AssertionError(f"{key}: {text!r} was taken")
                moves, refused = moves + 1, refused + 1
            values.replace(before)
            small.refresh()
    small.use(system)
    return Swept(len(small.inputs.controls), moves, refused)


def nonsense_for(field: Any) -> list[str]:
    """Return what no box of a field may take: a longitude may be -1."""
    return [text for text in NONSENSE if text != "-1" or field.low >= 0] if field.kind in NUMERIC else []


def _one_of_both(small: Any, key: str) -> bool:
    """Return whether the last move was refused; AssertionError where the page says both or nothing."""
    said = any("gf-error" in control.note.value for control in small.inputs.controls.values())
    if bool(small.error) == small.answered or (small.error and not (said or "gf-error" in small.above.value)):
        raise AssertionError(f"{key}: {small.error or 'no answer and no sentence'}")
    return bool(small.error)


def _ends(control: Any) -> Iterator[Any]:
    """Yield where a control can be moved to: both ends of a slider, both limits typed, every choice."""
    field = control.field
    if field.kind == "flag":
        yield from (True, False)
    elif field.kind == "choice":
        yield from (value for value, _ in field.choices)
    elif field.kind == "choices":
        yield from ((), tuple(value for value, _ in field.choices))
    elif control.slider:
        yield from (("slide", control.slider.min), ("slide", control.slider.max))
        yield from (("type", repr(field.low)), ("type", repr(field.high))) if field.kind == "count" else ()


def _move(control: Any, end: Any) -> None:
    if isinstance(end, tuple) and end and end[0] == "slide":
        control.slider.value = end[1]
    elif isinstance(end, tuple) and end and end[0] == "type":
        control.main.value = end[1]
    else:
        control.main.value = end


def _uncover(panel: "Panel", values: Values, key: str) -> None:
    """Give other fields the values for which a field is seen."""
    for other, allowed in values.fields[key].when:
        _uncover(panel, values, other)
        if values.kept[other] not in allowed:
            panel.set(other, allowed[0])
