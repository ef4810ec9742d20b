"""A module imports only from floors below its own or, without a circle, from its own folder."""

import ast
import subprocess
import sys
from graphlib import TopologicalSorter
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[1] / "gardenframe"
FLOORS = [
    {"errors", "kept", "units", "typed", "named", "tables", "working"},
    {"materials"},
    {"geometry"},
    {"strength", "climate", "water", "costs"},
    {"builds"},
    {"road"},
    {"studies", "output"},
    {"teaching"},
]
FLOOR = {name: number for number, names in enumerate(FLOORS) for name in names}
MODULES = sorted(
    path for path in PACKAGE.rglob("*.py") if path.parent != PACKAGE or path.stem not in ("__init__", "__main__")
)


def name_of(path):
    """Return the dotted name of a module, a package by its own name."""
    parts = path.relative_to(PACKAGE.parent).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def imports_of(path):
    """Return every module name that a file imports outside TYPE_CHECKING, with what it takes from it."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    skipped = {
        id(inner)
        for node in ast.walk(tree)
        if isinstance(node, ast.If) and "TYPE_CHECKING" in ast.unparse(node.test)
        for inner in ast.walk(node)
    }
    for node in ast.walk(tree):
        if id(node) in skipped:
            continue
        if isinstance(node, ast.Import):
            yield from ((alias.name, "") for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path.name} imports by dots, line {node.lineno}"
            yield from ((node.module, alias.name) for alias in node.names)


@pytest.mark.parametrize("path", MODULES, ids=name_of)
def test_a_module_imports_only_from_below_or_beside(path):
    """Floors, and who may import the screen libraries."""
    mine = name_of(path)
    top = mine.split(".")[1]
    for module, taken in imports_of(path):
        if module.split(".")[0] in ("ipywidgets", "anywidget"):
            assert mine.startswith("gardenframe.teaching.controls"), f"{mine} imports {module}"
        if module.split(".")[0] == "plotly":
            assert mine.startswith("gardenframe.teaching.figures"), f"{mine} imports {module}"
        if module.split(".")[0] == "gardenframe":
            target = f"{module}.{taken}" if module == "gardenframe" else module
            other = target.split(".")[1]
            beside = top == other or FLOOR[top] == 0 == FLOOR[other]
            assert beside or FLOOR[other] < FLOOR[top], f"{mine} imports {target}"


def test_no_circles():
    """The imports at the top of modules can be put in an order."""
    names = {name_of(path) for path in MODULES}
    graph = {}
    for path in MODULES:
        found = set()
        for node in ast.parse(path.read_text(encoding="utf-8")).body:
            if isinstance(node, ast.ImportFrom) and node.module:
                found |= {f"{node.module}.{alias.name}" for alias in node.names} & names
                found |= {node.module} & names if path.stem != "__init__" else set()
        graph[name_of(path)] = found - {name_of(path)} - {name_of(path).rpartition(".")[0]}
    list(TopologicalSorter(graph).static_order())


def test_importing_the_package_loads_no_screen_library():
    """A script that only plans pays for neither widgets nor figures."""
    code = "import sys, gardenframe; print([m for m in ('plotly', 'ipywidgets', 'nbformat') if m in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
