"""Running a formula's own source step by step, keeping what a reader needs to follow it.

The same walk runs on floats (to show the working) and on quantities (to check units). What it cannot show, it refuses
by name: nothing is left out in silence.
"""

import ast
from collections.abc import Callable, Iterator, Mapping
from typing import Any

from gardenframe.working.arithmetic import FormulaError, Leaf, plain
from gardenframe.working.expressions import Expressions, Line, Trace, source_tree, symbol_of
from gardenframe.working.suffixes import of_name

MOST_ROUNDS = 10_000


class _Return(Exception):  # noqa: N818 (no error: it unwinds)
    """Unwinds to the end of the formula."""


class _Break(Exception):  # noqa: N818 (no error: it unwinds)
    """Unwinds to the end of a loop."""


class _Continue(Exception):  # noqa: N818 (no error: it unwinds)
    """Unwinds to the next round of a loop."""


def run(formula: Any, inputs: Mapping[str, Any]) -> Trace:
    """Return the trace of a formula for these inputs (floats, or quantities for a check of units)."""
    walker = Walker(formula, inputs)
    try:
        walker.block(source_tree(formula.function).body)
    except _Return:
        return walker.trace
    raise FormulaError(formula.qualified, "it ends without a return")


class Walker(Expressions):
    """The walk itself. Every node kind it meets is either handled here or refused."""

    def run_inner(self, formula: Any, inputs: Mapping[str, Any]) -> Trace:
        """Return the trace of a formula that this one calls."""
        return run(formula, inputs)

    def block(self, body: list[ast.stmt]) -> None:
        """Run statements in order."""
        for node in body:
            handler = getattr(self, f"do_{type(node).__name__.lower()}", None)
            if handler is None:
                raise self.refuse(node)
            handler(node)

    def do_expr(self, node: ast.Expr) -> None:
        """A docstring, or a guard named require_...: neither is arithmetic."""
        if isinstance(node.value, ast.Constant) and isinstance(node.value.value, str):
            return
        call = node.value
        if not (isinstance(call, ast.Call) and ast.unparse(call.func).rpartition(".")[2].startswith("require_")):
            raise self.refuse(node)

    def do_assign(self, node: ast.Assign) -> None:
        """Keep one line: name = expression."""
        if len(node.targets) != 1 or not isinstance(node.targets[0], ast.Name):
            raise self.refuse(node, "assigns to more than one plain name")
        self.assign(node.targets[0].id, node.value)

    def do_annassign(self, node: ast.AnnAssign) -> None:
        """Keep one line: name: float = expression."""
        if not isinstance(node.target, ast.Name) or node.value is None:
            raise self.refuse(node)
        self.assign(node.target.id, node.value)

    def do_augassign(self, node: ast.AugAssign) -> None:
        """Keep one line: name = name + expression."""
        if not isinstance(node.target, ast.Name):
            raise self.refuse(node)
        self.assign(node.target.id, ast.BinOp(ast.Name(node.target.id, ast.Load()), node.op, node.value))

    def assign(self, name: str, node: ast.expr) -> None:
        """Record a line and make its name a leaf of later ones."""
        tree, value = self.expression(node)
        symbol = symbol_of(self.formula, name)
        self.record(Line(name, symbol, tree, value))
        self.values[name] = value
        self.leaves[name] = Leaf(value, symbol, name)

    def do_return(self, node: ast.Return) -> None:
        """Record the last line; a bare name just assigned is that line already."""
        if node.value is None:
            raise self.refuse(node, "returns nothing")
        name = self.formula.function.__name__
        tree, value = self.expression(node.value)
        last = next((line for line in reversed(self.trace.lines) if isinstance(line, Line)), None)
        known = isinstance(tree, Leaf) and last is not None and tree.name == last.name and not tree.literal
        if known and last is not None and not self.held and of_name(last.name) == of_name(name):
            last.name, last.symbol = name, self.formula.result
        else:
            self.record(Line(name, self.formula.result, tree, value))
        self.trace.value = value
        raise _Return

    def do_if(self, node: ast.If) -> None:
        """Take the branch whose condition holds, and remember the condition unless it only guards or stops."""
        truth, held = self.condition(node.test)
        quiet = all(isinstance(child, (ast.Raise, ast.Break, ast.Continue)) for child in node.body) and not node.orelse
        if not quiet:
            self.held.extend(held)
        self.block(node.body if truth else node.orelse)

    def do_pass(self, node: ast.Pass) -> None:
        """Do nothing."""

    def do_raise(self, node: ast.Raise) -> None:
        """Refuse inputs the formula refuses; calling it raises first, so this is a guard that no float run reaches."""
        raise self.refuse(node, "was reached")

    def do_break(self, node: ast.Break) -> None:
        """Leave the loop."""
        raise _Break

    def do_continue(self, node: ast.Continue) -> None:
        """Go to the next round."""
        raise _Continue

    def do_for(self, node: ast.For) -> None:
        """Go round `for _ in range(...)` and keep the last round only."""
        call = node.iter
        ranged = isinstance(call, ast.Call) and isinstance(call.func, ast.Name) and call.func.id == "range"
        if not ranged or not isinstance(call, ast.Call) or not isinstance(node.target, ast.Name) or node.orelse:
            raise self.refuse(node, "loops over something else than a range")
        bounds = [int(plain(self.expression(part)[1])) for part in call.args]
        name = node.target.id

        def rounds() -> Iterator[None]:
            for index in range(*bounds):
                self.values[name], self.leaves[name] = index, Leaf(index, symbol_of(self.formula, name), name)
                yield

        self.loop(node.body, rounds())

    def do_while(self, node: ast.While) -> None:
        """Go round while the condition holds and keep the last round only."""
        if node.orelse:
            raise self.refuse(node)

        def rounds() -> Iterator[None]:
            for _ in range(MOST_ROUNDS):
                if not self.condition(node.test)[0]:
                    return
                yield
            raise self.refuse(node, f"did not end in {MOST_ROUNDS} rounds")

        self.loop(node.body, rounds())

    def loop(self, body: list[ast.stmt], rounds: Iterator[None]) -> None:
        """Run the rounds; each one drops the lines of the one before."""
        start, outer = len(self.trace.lines), self.round
        for count, _ in enumerate(rounds, start=1):
            del self.trace.lines[start:]
            self.called.clear()
            self.round = count
            try:
                self.block(body)
            except _Break:
                break
            except _Continue:
                continue
        self.round = outer


def names_in(function: Callable[..., Any]) -> set[str]:
    """Return every name in a formula's source: inputs, lines, constants (by their last word)."""
    tree = source_tree(function)
    named = {node.id for node in ast.walk(tree) if isinstance(node, ast.Name)}
    return (
        named
        | {node.attr for node in ast.walk(tree) if isinstance(node, ast.Attribute)}
        | {node.arg for node in ast.walk(tree) if isinstance(node, ast.arg)}
    )


def unnamed_decimals(function: Callable[..., Any]) -> list[float]:
    """Return the decimal numbers in a formula's source, powers apart."""
    # the body alone: the example in the decorator has decimals of its own
    tree = ast.Module(body=source_tree(function).body, type_ignores=[])
    powers = {
        id(inner)
        for node in ast.walk(tree)
        if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Pow)
        for inner in ast.walk(node.right)
    }
    numbers = [node for node in ast.walk(tree) if isinstance(node, ast.Constant) and isinstance(node.value, float)]
    return [node.value for node in numbers if id(node) not in powers and node.value != round(node.value)]  # type: ignore[arg-type,misc]
