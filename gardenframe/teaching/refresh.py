"""Run all workbooks and write them back, without widget state; refuse a printed number that changed unless told why.

`python -m gardenframe.teaching.refresh [--because "prices of spring"] [workbook ...]`

A workbook that still prints what it printed is left as it is, byte for byte, unless its file holds what it should not
(widget state, timings) or a cell has never been run.
"""

import argparse
import copy
import difflib
import re
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any, NamedTuple

from gardenframe.errors import GardenframeError
from gardenframe.teaching import copies

NUMBER = re.compile(r"\d")
ADDRESS = re.compile(r"0x[0-9a-f]{6,}")
WIDGET_VIEW = "application/vnd.jupyter.widget-view+json"


class RefreshError(GardenframeError, RuntimeError):
    """A workbook that does not run from its top to its end."""


class Refreshed(NamedTuple):
    """What became of a workbook, and its lines with numbers that changed, as - old and + new."""

    path: Path
    what: str
    changes: list[str]


def text_of(output: Any) -> str:
    """Return what an output shows, all of its kinds, without the addresses of objects."""
    kinds = {"": output.get("text", ""), **output.get("data", {})}
    shown = ["".join(kinds[kind]) if isinstance(kinds[kind], list) else str(kinds[kind]) for kind in sorted(kinds)]
    return ADDRESS.sub("0x", "\n".join(text for text in shown if text))


def printed(book: Any) -> list[str]:
    """Return every line that a notebook shows: text, tables, formulas, figures."""
    return [line for cell in book.cells for output in cell.get("outputs", []) for line in text_of(output).splitlines()]


def changed_numbers(before: Any, after: Any) -> list[str]:
    """Return the lines with numbers that differ, as - old and + new; pure prose may change freely."""
    found = difflib.unified_diff(printed(before), printed(after), lineterm="", n=0)
    lines = [line for line in list(found)[2:] if line[:1] in "+-"]  # the first two name the sides
    return [line for line in lines if NUMBER.search(line)]


def cleaned(book: Any) -> Any:
    """Return a copy without widget state, timings and views that only a live kernel could fill."""
    book = copy.deepcopy(book)
    for cell in book.cells:
        cell.metadata.pop("execution", None)
        for output in cell.get("outputs", []):
            output.get("data", {}).pop(WIDGET_VIEW, None)  # without a kernel it would hide the sentence beside it
    book.metadata.pop("widgets", None)
    return book


def executed(path: Path) -> Any:
    """Return a notebook run from the top, cleaned; RefreshError names the cell that stopped it."""
    import nbformat
    from nbclient import NotebookClient
    from nbclient.exceptions import CellExecutionError, DeadKernelError

    book = nbformat.read(path, 4)  # type: ignore[no-untyped-call]
    client = NotebookClient(
        book, timeout=300, kernel_name="python3", store_widget_state=False,
        resources={"metadata": {"path": str(path.parent)}},
    )  # fmt: skip
    try:
        client.execute()
    except CellExecutionError as error:
        said = f"{error.ename}: {error.evalue}".strip().rstrip(".")
        raise RefreshError(f"{path.name} stops: {said}. It is left as it was.") from None
    except DeadKernelError:
        raise RefreshError(f"{path.name} stops: its kernel died. It is left as it was.") from None
    return cleaned(book)


def as_before(before: Any, after: Any) -> bool:
    """Return whether a file may stay as it is: every cell was run, it is clean, and it shows what it would show."""
    ran = all(cell.execution_count for cell in before.cells if cell.cell_type == "code" and cell.source.strip())
    return ran and before == cleaned(before) and printed(before) == printed(after)


def refresh(paths: Sequence[Path], because: str = "") -> Iterator[Refreshed]:
    """Run workbooks, write those that show something else; yield each. A number that changed without a reason stays."""
    import nbformat

    for path in paths:
        before = nbformat.read(path, 4)  # type: ignore[no-untyped-call]
        try:
            after = executed(path)
        except RefreshError as error:
            yield Refreshed(path, str(error), [])
            continue
        ran_before = any(cell.get("execution_count") for cell in before.cells)
        changes = changed_numbers(before, after) if ran_before else []
        if as_before(before, after):
            yield Refreshed(path, "as it was", [])
        elif changes and not because:
            yield Refreshed(path, "refused", changes)
        else:
            nbformat.write(after, path)  # type: ignore[no-untyped-call]
            yield Refreshed(path, f"numbers changed: {because}" if changes else "written", changes)


def main(arguments: Sequence[str] | None = None) -> int:
    """Refresh the workbooks named, or all; return 1 where one does not run or a number changed without a reason."""
    parser = argparse.ArgumentParser(prog="python -m gardenframe.teaching.refresh", description=__doc__)
    parser.add_argument("workbooks", nargs="*", type=Path)
    parser.add_argument("--because", default="", help="why printed numbers changed")
    given = parser.parse_args(arguments)
    wrong = 0
    for path, what, changes in refresh(given.workbooks or copies.shipped(), given.because.strip()):
        wrong += what == "refused" or " stops: " in what
        sys.stdout.write("\n".join([what if " stops: " in what else f"{path.name}: {what}", *changes]) + "\n")
        if what == "refused":
            sys.stdout.write('Say why with --because "...", and see that a test outside the workbook agrees.\n')
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
