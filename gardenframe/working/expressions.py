"""Reading the expressions, conditions and calls of a formula: trees for the page and values, side by side.

What cannot be shown is refused by name: nothing is left out in silence.
"""

import ast
import builtins
import inspect
import math
import textwrap
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cache
from types import ModuleType
from typing import Any

from gardenframe.working.arithmetic import ARGUMENTS, DO, PI, FormulaError, Leaf, Op, Tree, plain
from gardenframe.working.suffixes import of_name, text_label

SIGNS: dict[type, str] = {ast.Add: "+", ast.Sub: "-", ast.Mult: "*", ast.Div: "/", ast.Pow: "**"}
COMPARES: dict[type, str] = {ast.Lt: "<", ast.LtE: "≤", ast.Gt: ">", ast.GtE: "≥", ast.Eq: "=", ast.NotEq: "≠"}
OPPOSITE = {"<": "≥", "≤": ">", ">": "≤", "≥": "<", "=": "≠", "≠": "="}


@dataclass(frozen=True)
class Held:
    """A comparison that held, or a choice by name (`right` is then text)."""

    left: Tree
    sign: str
    right: Tree | str


@dataclass
class Line:
    """One line of working: name = tree = value, because of what held."""

    name: str
    symbol: str
    tree: Tree
    value: Any
    held: list[Held] = field(default_factory=list)
    round: int = 0


@dataclass
class Trace:
    """One run of a formula: its lines in order, each called formula's trace before the line that uses it."""

    formula: Any
    inputs: dict[str, Any]
    lines: "list[Line | Trace]" = field(default_factory=list)
    value: Any = None
    result_symbol: str = ""


@cache
def source_tree(function: Callable[..., Any]) -> ast.FunctionDef:
    """Return the syntax tree of a function, read once."""
    try:
        parsed = ast.parse(textwrap.dedent(inspect.getsource(function))).body[0]
    except (OSError, TypeError, SyntaxError) as problem:
        raise FormulaError(
            function.__qualname__, "its source cannot be read, so its working cannot be shown"
        ) from problem
    if not isinstance(parsed, ast.FunctionDef):
        raise FormulaError(function.__qualname__, "only a plain def can be shown")
    return parsed


def symbol_of(formula: Any, name: str) -> str:
    """Return the symbol of a name in a formula: the declared one, else its words without the unit."""
    if name in formula.symbols:
        return str(formula.symbols[name])
    words = name.split("_")
    unit = of_name(name)
    for keep in range(1, len(words)):
        if unit and text_label(of_name("x_" + "_".join(words[keep:]))) == text_label(unit):
            return " ".join(words[:keep])
    return " ".join(words)


class Expressions:
    """The reader of expressions, with the names known so far. `trace.Walker` adds the statements."""

    def __init__(self, formula: Any, inputs: Mapping[str, Any]) -> None:
        self.formula = formula
        self.leaves: dict[str, Tree] = {}
        self.values: dict[str, Any] = dict(inputs)
        for name, value in inputs.items():
            self.leaves[name] = Leaf(value, symbol_of(formula, name), name)
        self.trace = Trace(formula, dict(inputs))
        self.held: list[Held] = []
        self.called: dict[str, list[Any]] = {}
        self.round = 0

    def refuse(self, node: ast.AST, problem: str = "") -> FormulaError:
        """Return the error for a node that cannot be shown."""
        line = getattr(node, "lineno", None)
        shown = ast.unparse(node).splitlines()[0]
        where = f"line {line} of it, `{shown}`," if line else f"`{shown}`"
        return FormulaError(self.formula.qualified, f"{where} {problem or 'cannot be shown as arithmetic'}")

    def record(self, line: Line) -> None:
        """Add a line with what held since the last one."""
        line.held, self.held, line.round = self.held, [], self.round
        self.trace.lines.append(line)

    def run_inner(self, formula: Any, inputs: Mapping[str, Any]) -> Trace:
        """Return the trace of a formula that this one calls."""
        raise NotImplementedError

    def condition(self, node: ast.expr) -> tuple[bool, list[Held]]:
        """Return whether a condition holds, and the comparisons that say so, turned round where it does not."""
        if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not):
            truth, held = self.condition(node.operand)
            return not truth, held
        if isinstance(node, ast.BoolOp):
            every = isinstance(node.op, ast.And)
            kept: list[Held] = []
            for part in node.values:
                truth, held = self.condition(part)
                if truth != every:  # this one alone decides
                    return truth, held
                kept.extend(held)
            return every, kept
        if isinstance(node, ast.Compare):
            return self.comparison(node)
        if isinstance(node, (ast.Name, ast.Constant)):
            value = self.values.get(node.id) if isinstance(node, ast.Name) else node.value
            if isinstance(value, bool):
                name = ast.unparse(node)
                return value, [Held(Leaf(0, symbol_of(self.formula, name)), "=", "yes" if value else "no")]
        raise self.refuse(node, "is no comparison")

    def comparison(self, node: ast.Compare) -> tuple[bool, list[Held]]:
        """Return whether a comparison (or a chain) holds."""
        held: list[Held] = []
        left = node.left
        for operator, right in zip(node.ops, node.comparators, strict=True):
            sign = COMPARES.get(type(operator))
            if sign is None:
                raise self.refuse(node)
            word = right.value if isinstance(right, ast.Constant) and isinstance(right.value, str) else None
            if word is not None and isinstance(left, ast.Name):
                truth = (self.values[left.id] == word) == (sign == "=")
                step = Held(Leaf(0, symbol_of(self.formula, left.id)), sign, word)
            else:
                (left_tree, a), (right_tree, b) = self.expression(left), self.expression(right)
                truth = (
                    {"<": a < b, "≤": a <= b, ">": a > b, "≥": a >= b}[sign]
                    if sign in "<≤>≥"
                    else (a == b) == (sign == "=")
                )
                step = Held(left_tree, sign, right_tree)
            if not truth:
                return False, [Held(step.left, OPPOSITE[sign], step.right)]
            held.append(step)
            left = right
        return True, held

    def expression(self, node: ast.expr) -> tuple[Tree, Any]:
        """Return an expression as a tree, and its value."""
        if isinstance(node, ast.Constant) and isinstance(node.value, (int, float)) and not isinstance(node.value, bool):
            return Leaf(node.value, literal=True), node.value
        if isinstance(node, (ast.Name, ast.Attribute)):
            return self.named(node)
        if isinstance(node, ast.BinOp) and type(node.op) in SIGNS:
            return self.operation(SIGNS[type(node.op)], [node.left, node.right])
        if isinstance(node, ast.BinOp) and isinstance(node.op, ast.FloorDiv):
            tree, value = self.operation("/", [node.left, node.right])
            return Op("floor", (tree,)), math.floor(plain(value))
        if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
            return self.operation("neg", [node.operand])
        if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.UAdd):
            return self.expression(node.operand)
        if isinstance(node, ast.IfExp):
            truth, held = self.condition(node.test)
            self.held.extend(held)
            return self.expression(node.body if truth else node.orelse)
        if isinstance(node, ast.Call):
            return self.call(node)
        raise self.refuse(node)

    def operation(self, kind: str, nodes: list[ast.expr]) -> tuple[Tree, Any]:
        """Return an operation on expressions."""
        parts = [self.expression(node) for node in nodes]
        return Op(kind, tuple(tree for tree, _ in parts)), DO[kind](*(value for _, value in parts))

    def resolve(self, node: ast.expr) -> Any:
        """Return what a name outside the formula stands for; attributes only of modules."""
        if isinstance(node, ast.Name):
            function = self.formula.function
            closed = zip(function.__code__.co_freevars, function.__closure__ or (), strict=True)
            for names in ({name: cell.cell_contents for name, cell in closed}, function.__globals__, vars(builtins)):
                if node.id in names:
                    return names[node.id]
        if isinstance(node, ast.Attribute):
            owner = self.resolve(node.value)
            if isinstance(owner, ModuleType) and hasattr(owner, node.attr):
                return getattr(owner, node.attr)
        raise self.refuse(node, "is not known in its module")

    def named(self, node: ast.Name | ast.Attribute) -> tuple[Tree, Any]:
        """Return an input, an earlier line, a constant of a module, or pi."""
        if isinstance(node, ast.Name) and node.id in self.leaves:
            return self.leaves[node.id], self.values[node.id]
        value = self.resolve(node)
        if value is math.pi:
            return PI, math.pi
        if isinstance(value, bool) or not isinstance(value, (int, float)):
            raise self.refuse(node, "is no number")
        name = ast.unparse(node).rpartition(".")[2]
        if self.formula.as_quantity is not None:
            value = self.formula.as_quantity(name, value)
        return Leaf(value, self.formula.symbols.get(name, ""), name, literal=name not in self.formula.symbols), value

    def call(self, node: ast.Call) -> tuple[Tree, Any]:
        """Return a function of math, min, max, abs, or another formula."""
        target = self.resolve(node.func)
        if hasattr(target, "shown") and hasattr(target, "formula"):
            return self.nested(node, target)
        kind = getattr(target, "__name__", "")
        known = getattr(math, kind, None) is target or target in (min, max, abs)
        if node.keywords or not known or any(isinstance(part, ast.Starred) for part in node.args):
            raise self.refuse(node, "calls something that is neither arithmetic nor a formula")
        if kind == "hypot":
            squares: list[ast.expr] = [ast.BinOp(part, ast.Pow(), ast.Constant(2)) for part in node.args]
            total = squares[0]
            for square in squares[1:]:
                total = ast.BinOp(total, ast.Add(), square)
            return self.operation("sqrt", [total])
        wanted = ARGUMENTS.get(kind, 1)
        if kind not in DO or (kind in ("min", "max") and len(node.args) < 2):
            raise self.refuse(node)
        if kind not in ("min", "max") and len(node.args) != wanted:
            raise self.refuse(node)
        return self.operation(kind, node.args)

    def nested(self, node: ast.Call, target: Any) -> tuple[Tree, Any]:
        """Trace a formula called by this one; its result is a leaf here."""
        inner = target.formula
        if any(isinstance(part, ast.Starred) for part in node.args) or any(word.arg is None for word in node.keywords):
            raise self.refuse(node)
        keywords = {word.arg: word.value for word in node.keywords if word.arg}
        bound = inspect.signature(inner.function).bind(*node.args, **keywords)
        for name, part in bound.arguments.items():
            bound.arguments[name] = self.argument(inner, name, part)
        bound.apply_defaults()
        trace = self.run_inner(inner if self.formula.as_quantity is None else inner.for_units(), bound.arguments)
        earlier = self.called.setdefault(inner.result, [])
        if trace.value not in earlier:
            earlier.append(trace.value)
            self.trace.lines.append(trace)
        index = earlier.index(trace.value) + 1
        symbol = inner.result if index == 1 else f"{inner.result}{'' if '_' in inner.result else '_'}{index}"
        trace.result_symbol = symbol
        return Leaf(trace.value, symbol, inner.function.__name__), trace.value

    def argument(self, inner: Any, name: str, node: ast.expr) -> Any:
        """Return the value of an argument; arithmetic in it gets a line of its own. Text and truth pass as they are."""
        if isinstance(node, ast.Constant) and isinstance(node.value, (str, bool)):
            return node.value
        if isinstance(node, ast.Name) and isinstance(self.values.get(node.id), (str, bool)):
            return self.values[node.id]
        tree, value = self.expression(node)
        if isinstance(tree, Op):
            self.record(Line(name, symbol_of(inner, name), tree, value))
        return value
