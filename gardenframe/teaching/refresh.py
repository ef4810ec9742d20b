"""Run all workbooks and write them back, without widget state; refuse a printed number that changed unless told why.

`python -m gardenframe.teaching.refresh [--because "prices of spring"] [workbook ...]`
"""

import argparse
import difflib
import re
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

NUMBER = re.compile(r"\d")
WIDGET_VIEW = "application/vnd.jupyter.widget-view+json"


def printed(book: Any) -> list[str]:
    """Return every printed line of a notebook: what nbval compares."""
    lines: list[str] = []
    for cell in book.cells:
        for output in cell.get("outputs", []):
            text = output.get("text") or output.get("data", {}).get("text/plain", "")
            lines += ("".join(text) if isinstance(text, list) else text).splitlines()
    return lines


def changed_numbers(before: Any, after: Any) -> list[str]:
    """Return the lines with numbers that differ, as - old and + new."""
    found = difflib.unified_diff(printed(before), printed(after), lineterm="", n=0)
    return [line for line in found if line[:1] in "+-" and not line.startswith(("---", "+++")) and NUMBER.search(line)]


def executed(path: Path) -> Any:
    """Return a notebook run from the top, without widget state and timings."""
    import nbformat
    from nbclient import NotebookClient

    book = nbformat.read(path, 4)  # type: ignore[no-untyped-call]
    resources = {"metadata": {"path": str(path.parent)}}
    NotebookClient(book, timeout=300, kernel_name="python3", store_widget_state=False, resources=resources).execute()
    for cell in book.cells:
        cell.metadata.pop("execution", None)
        for output in cell.get("outputs", []):
            output.get("data", {}).pop(WIDGET_VIEW, None)  # without a kernel it would hide the sentence beside it
    book.metadata.pop("widgets", None)
    return book


def refresh(paths: Sequence[Path], because: str = "") -> Iterator[tuple[Path, list[str]]]:
    """Run and write workbooks; yield each with the numbers that changed. One that changed without a reason is kept."""
    import nbformat

    for path in paths:
        before, after = nbformat.read(path, 4), executed(path)  # type: ignore[no-untyped-call]
        ran_before = any(cell.get("execution_count") for cell in before.cells)
        changes = changed_numbers(before, after) if ran_before else []
        if not changes or because:
            nbformat.write(after, path)  # type: ignore[no-untyped-call]
        yield path, changes


def main(arguments: Sequence[str] | None = None) -> int:
    """Refresh the workbooks named, or all; return 1 where a number changed and no reason was given."""
    parser = argparse.ArgumentParser(prog="python -m gardenframe.teaching.refresh", description=__doc__)
    parser.add_argument("workbooks", nargs="*", type=Path)
    parser.add_argument("--because", default="", help="why printed numbers changed")
    given = parser.parse_args(arguments)
    folder = Path(__file__).parents[2] / "workbooks"
    refused = 0
    for path, changes in refresh(given.workbooks or sorted(folder.glob("*.ipynb")), given.because):
        said = f"numbers changed: {given.because}" if changes and given.because else "refused" if changes else "written"
        refused += bool(changes and not given.because)
        sys.stdout.write("\n".join([f"{path.name}: {said}", *changes]) + "\n")
    return 1 if refused else 0


if __name__ == "__main__":
    sys.exit(main())
