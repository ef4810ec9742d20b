"""Laying out a traced formula: which units, how many digits, and the rows of text and LaTeX that a reader sees."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from gardenframe.working import render
from gardenframe.working.arithmetic import FormulaError, Leaf, Op, Tree, evaluate
from gardenframe.working.expressions import Held, Line, Trace
from gardenframe.working.render import LONGEST_ROW, number
from gardenframe.working.suffixes import Parts, Units, convert, latex_label, of_name, text_label

FEWEST_DIGITS, MOST_DIGITS = 5, 15
RESULT_DIGITS = 4
ROUNDING = {"ceil", "floor"}


@dataclass(frozen=True)
class Step:
    """One formula worked out: for the screen, for paper, and the exact value behind both.

    `value` is in `unit`, the unit of the formula's name; `result` is as the reader sees it. `numbers` is the last
    line's arithmetic in plain text. `inner` holds the steps of the formulas called, already part of `text`.
    """

    symbol: str
    formula: str
    numbers: str
    result: str
    value: float
    unit: str
    source: str
    lines: tuple[str, ...]
    rows: tuple[str, ...]
    inner: tuple["Step", ...] = ()

    @property
    def text(self) -> str:
        """Plain text, for paper."""
        return "\n".join(self.lines)

    @property
    def latex(self) -> str:
        """LaTeX rows aligned at the equals sign, without the dollar signs."""
        return r"\begin{aligned} " + r" \\[2pt] ".join(self.rows) + r" \end{aligned}"

    def _repr_latex_(self) -> str:
        return f"$$\\displaystyle {self.latex}$$"


def leaves(tree: Tree) -> Iterator[Leaf]:
    """Yield the leaves of a tree from left to right."""
    if isinstance(tree, Leaf):
        yield tree
    else:
        for part in tree.parts:
            yield from leaves(part)


def _kinds(tree: Tree) -> Iterator[str]:
    if isinstance(tree, Op):
        yield tree.kind
        for part in tree.parts:
            yield from _kinds(part)


def _held_trees(line: Line) -> Iterator[Tree]:
    for held in line.held:
        if not isinstance(held.right, str):
            yield held.left
            yield held.right


def layout(trace: Trace, system: str) -> Step:
    """Return the step for a trace, its numbers in enough digits to come to the result shown."""
    return _Layout(trace, system).step()


class _Layout:
    """One trace on its way to the page."""

    def __init__(self, trace: Trace, system: str) -> None:
        self.trace, self.record, self.system = trace, trace.formula, system
        self.own = [line for line in trace.lines if isinstance(line, Line)]
        trees = [tree for line in self.own for tree in (line.tree, *_held_trees(line))]
        self.used: dict[str, Leaf] = {}
        for leaf in (leaf for tree in trees for leaf in leaves(tree) if leaf.name):
            self.used.setdefault(leaf.name, leaf)  # an input that the body changes goes in as it came
        # whole numbers of metres and of inches round differently: a formula that rounds keeps its own units
        rounds = any(kind in ROUNDING for tree in trees for kind in _kinds(tree))
        fixed = self.record.kind == "empirical" or rounds
        names = [*self.used, *(line.name for line in self.own)]
        self.units = Units(names, system, fixed, self.record.lengths)
        self.digits = FEWEST_DIGITS
        for line in self.own:
            self.check_exact(line)
        while self.digits < MOST_DIGITS and not all(self.comes_out(line) for line in self.own):
            self.digits += 1

    # numbers -----------------------------------------------------------------------------------------------------

    def inside(self, name: str, value: float) -> float:
        """Return a value in the unit of the set shown."""
        return convert(value, of_name(name), self.units.inside(name))

    def exact(self, leaf: Leaf) -> float:
        """Return a leaf's value in the set shown, unrounded."""
        return self.inside(leaf.name, leaf.value) if leaf.name else leaf.value

    def shown(self, leaf: Leaf) -> str:
        """Return a leaf as a number."""
        if leaf.literal and leaf.symbol:
            return leaf.symbol
        if not leaf.name:
            return render.literal(leaf.value)
        degrees = "°" if of_name(leaf.name) == (("deg", 1),) else ""
        constant = leaf.literal or leaf.name.isupper()
        same = constant and self.units.inside(leaf.name) == of_name(leaf.name)
        return (render.literal(leaf.value) if same else number(self.exact(leaf), self.digits)) + degrees

    def reread(self, leaf: Leaf) -> float:
        """Return what a calculator is given for a leaf."""
        if leaf.literal and leaf.symbol:
            return leaf.value
        return render.read_number(self.shown(leaf))

    def check_exact(self, line: Line) -> None:
        """Refuse a formula that does not hold in the set shown: a factor hides in it, or a name lies about its unit."""
        wanted = self.inside(line.name, line.value)
        if not math.isfinite(wanted):
            return
        got = evaluate(line.tree, self.exact)
        scale = (
            max([abs(wanted), *(abs(self.exact(leaf)) for leaf in leaves(line.tree))]) if wanted == 0 else abs(wanted)
        )
        if abs(got - wanted) > 1e-7 * scale:
            problem = f"{line.symbol} comes to {wanted:.6g} as named and to {got:.6g} in the units shown"
            raise FormulaError(self.record.qualified, f"its units do not go together: {problem}")

    def comes_out(self, line: Line) -> bool:
        """Return whether the rounded numbers come to the result shown, and its comparisons still hold."""
        wanted = self.inside(line.name, line.value)
        try:
            got = evaluate(line.tree, self.reread)
            if math.isfinite(wanted) and abs(got - wanted) > self.half_unit(line, wanted):
                return False
            return all(self.still_holds(held) for held in line.held)
        except (ArithmeticError, ValueError):
            return False

    def half_unit(self, line: Line, wanted: float) -> float:
        """Return half of the last digit of a shown result; for nought, a millionth of what went in."""
        if wanted == 0:
            return 1e-6 * max((abs(self.exact(leaf)) for leaf in leaves(line.tree)), default=0.0)
        return 0.5 * 10.0 ** (math.floor(math.log10(abs(wanted))) - RESULT_DIGITS + 1)

    def still_holds(self, held: Held) -> bool:
        """Return whether a comparison reads true with the numbers shown."""
        if isinstance(held.right, str):
            return True
        a, b = (render.read_number(self.side(side)) for side in (held.left, held.right))
        exact_a, exact_b = (evaluate(side, self.exact) for side in (held.left, held.right))
        if exact_a == exact_b or held.sign == "=":
            return True
        return a < b if exact_a < exact_b else a > b

    def side(self, tree: Tree) -> str:
        """Return one side of a comparison as a number."""
        if isinstance(tree, Leaf):
            return self.shown(tree) if not tree.literal or tree.name else render.literal(tree.value)
        return number(evaluate(tree, self.exact), self.digits)

    # rows --------------------------------------------------------------------------------------------------------

    def symbol(self, leaf: Leaf) -> str:
        """Return a leaf in plain text: its symbol, or its value where it has none."""
        return render.text_symbol(leaf.symbol) if leaf.symbol else self.shown(leaf)

    def symbol_latex(self, leaf: Leaf) -> str:
        """Return a leaf in LaTeX."""
        if leaf.literal and leaf.symbol == "180°":
            return r"180^{\circ}"
        return render.latex_symbol(leaf.symbol) if leaf.symbol else render.latex_number(self.shown(leaf))

    def number_latex(self, leaf: Leaf) -> str:
        """Return a leaf's number in LaTeX."""
        return self.symbol_latex(leaf) if leaf.literal and leaf.symbol else render.latex_number(self.shown(leaf))

    def measure(self, value: float, parts: Parts, digits: int, words: str = "") -> tuple[str, str]:
        """Return a number with its unit, as text and as LaTeX."""
        figures, label = number(value, digits), words or text_label(parts)
        gap = "" if label == "°" or not label else " "
        unit = rf"\,\text{{{render.escape(words)}}}" if words else latex_label(parts)
        join = "" if label == "°" or not label or words else r"\,"
        return figures + gap + label, render.latex_number(figures) + join + (r"^{\circ}" if label == "°" else unit)

    def givens(self) -> Iterator[tuple[str, str, str, bool]]:
        """Yield what goes in: symbol, text, LaTeX, and whether it needs a row of its own for a conversion."""
        lines, called = {line.name for line in self.own} - set(self.trace.inputs), self.called_units()
        for name, leaf in self.used.items():
            words = self.record.coefficients.get(name, "")
            parts, reader = self.units.inside(name), self.units.reader(name)
            if name in called and name not in lines:
                reader = called[name]
            if name in lines or (name in called and reader == parts):
                continue
            if leaf.literal and not words and not parts:
                continue
            symbol = leaf.symbol or name.lower().replace("_", " ")
            if leaf.literal:  # a constant without a symbol: its value and unit alone
                digits = MOST_DIGITS if parts == of_name(name) else self.digits
                yield "", *self.measure(self.exact(leaf), parts, digits, words), False
                continue
            constant = name.isupper() and parts == of_name(name)
            text, tex = self.measure(self.exact(leaf), parts, MOST_DIGITS if constant else self.digits, words)
            if reader != parts:
                before = self.measure(convert(leaf.value, of_name(name), reader), reader, self.digits)
                text, tex = f"{before[0]} = {text}", f"{before[1]} = {tex}"
            yield symbol, text, tex, reader != parts

    def called_units(self) -> dict[str, Parts]:
        """Return the units in which the steps of called formulas end, by the formula's name."""
        called = [line for line in self.trace.lines if isinstance(line, Trace)]
        names = {inner.formula.function.__name__: inner for inner in called}
        return {name: _Layout(inner, self.system).units.inside(name) for name, inner in names.items()}

    def given_rows(self) -> tuple[list[str], list[str]]:
        """Return the rows of what goes in: conversions alone, the rest together."""
        texts: list[str] = []
        rows: list[str] = []
        together: list[tuple[str, str]] = []
        for symbol, text, tex, alone in self.givens():
            left, left_tex = (f"{render.text_symbol(symbol)} = ", render.latex_symbol(symbol)) if symbol else ("", "")
            if alone:
                texts.append(left + text)
                rows.append(f"{left_tex} &= {tex}")
            else:
                together.append((left + text, f"{left_tex} = {tex}" if symbol else tex))
        while together:
            count = 1
            while count < len(together) and len(", ".join(text for text, _ in together[: count + 1])) <= LONGEST_ROW:
                count += 1
            texts.append(", ".join(text for text, _ in together[:count]))
            rows.append("& " + r",\quad ".join(tex for _, tex in together[:count]))
            together = together[count:]
        return texts, rows

    def held_rows(self, held: Held) -> tuple[str, str]:
        """Return the row that says which condition held."""
        sign = {"<": r"\lt", "≤": r"\le", ">": r"\gt", "≥": r"\ge", "=": "=", "≠": r"\ne"}[held.sign]
        left, left_tex = render.text(held.left, self.symbol), render.latex(held.left, self.symbol_latex)
        if isinstance(held.right, str):
            return (
                f"as {left} {held.sign} {held.right}",
                rf"& \text{{as }} {left_tex} {sign} \text{{{render.escape(held.right)}}}",
            )
        right, right_tex = render.text(held.right, self.symbol), render.latex(held.right, self.symbol_latex)
        a, b = self.side(held.left), self.side(held.right)
        text, tex = f"as {left} {held.sign} {right}", rf"& \text{{as }} {left_tex} {sign} {right_tex}"
        numbers_tex = f"{render.latex_number(a)} {sign} {render.latex_number(b)}"
        return f"{text}: {a} {held.sign} {b}", rf"{tex}:\ {numbers_tex}"

    def line_rows(self, line: Line, last: bool) -> tuple[str, list[str], str, str, str]:
        """Return a line of working: text, LaTeX rows, formula, numbers, result."""
        parts = self.units.inside(line.name)
        digits = max(RESULT_DIGITS, self.digits - 1) if last else self.digits
        result, result_tex = self.measure(self.inside(line.name, line.value), parts, digits)
        formula, numbers = render.text(line.tree, self.symbol), render.text(line.tree, self.shown)
        formula_tex = render.latex(line.tree, self.symbol_latex)
        numbers_tex = render.latex(line.tree, self.number_latex, numbers=True)
        steps = [(formula, formula_tex)]
        if numbers != formula and not isinstance(line.tree, Leaf):
            steps.append((numbers, numbers_tex))
        if not (isinstance(line.tree, Leaf) and formula == result):
            steps.append((result, rf"\boldsymbol{{{result_tex}}}" if last else result_tex))
        name = self.trace.result_symbol if last and self.trace.result_symbol else line.symbol
        symbol, symbol_tex = render.text_symbol(name), render.latex_symbol(name)
        text = " = ".join([symbol, *(step for step, _ in steps)])
        note = f"  (round {line.round}, the last)" if line.round > 1 else ""
        note_tex = rf"\quad\text{{(round {line.round}, the last)}}" if line.round > 1 else ""
        if len(text) <= LONGEST_ROW:
            rows = [f"{symbol_tex} &= " + " = ".join(tex for _, tex in steps) + note_tex]
        else:
            rows = [f"{symbol_tex if at == 0 else ''} &= {tex}" for at, (_, tex) in enumerate(steps)]
            rows[-1] += note_tex
        return text + note, rows, formula, numbers, result

    def step(self) -> Step:
        """Return the finished step."""
        inner: list[Step] = []
        texts: list[str] = []
        rows: list[str] = []
        formula = numbers = result = ""
        given = False
        for line in self.trace.lines:
            if isinstance(line, Trace):
                inner.append(layout(line, self.system))
                texts.extend(inner[-1].lines)
                rows.extend(inner[-1].rows)
                continue
            if not given:
                given = True
                given_texts, given_rows = self.given_rows()
                texts.extend(given_texts)
                rows.extend(given_rows)
            for held in line.held:
                held_text, held_tex = self.held_rows(held)
                texts.append(held_text)
                rows.append(held_tex)
            text, line_tex, formula, numbers, result = self.line_rows(line, line is self.own[-1])
            texts.append(text)
            rows.extend(line_tex)
        result = self.convert_result(texts, rows, result)
        if self.record.source:
            texts[-1] += f"  [{self.record.source}]"
            rows[-1] += rf"\qquad\text{{[{render.escape(self.record.source)}]}}"
        name = self.record.function.__name__
        symbol = self.trace.result_symbol or self.record.result
        return Step(
            render.text_symbol(symbol), formula, numbers, result, self.trace.value, text_label(of_name(name)),
            self.record.source, tuple(texts), tuple(rows), tuple(inner),
        )  # fmt: skip

    def convert_result(self, texts: list[str], rows: list[str], result: str) -> str:
        """Add the row that turns the result into the reader's unit, where that differs; return what the reader sees."""
        name = self.record.function.__name__
        inside, reader = self.units.inside(name), self.units.reader(name)
        if reader == inside or inside in ((("mm", 1),), (("in", 1),)):  # a small length is read as it is
            return result
        value = self.trace.value
        ours = self.measure(self.inside(name, value), inside, max(RESULT_DIGITS, self.digits - 1))
        theirs = self.measure(convert(value, of_name(name), reader), reader, RESULT_DIGITS)
        symbol = self.trace.result_symbol or self.record.result
        texts.append(f"{render.text_symbol(symbol)} = {ours[0]} = {theirs[0]}")
        rows.append(rf"{render.latex_symbol(symbol)} &= {ours[1]} = \boldsymbol{{{theirs[1]}}}")
        return theirs[0]
