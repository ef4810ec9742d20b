"""Arithmetic as plain text for paper and as LaTeX for the screen, with brackets where the reading needs them.

A tree is a `Leaf` or an `Op`. Angles: a calculator set to degrees is assumed everywhere, so a sine of radians is
written with its 180°/π and an arc tangent in radians with its π/180°.
"""

import math
from collections.abc import Callable

from gardenframe.working import suffixes
from gardenframe.working.arithmetic import HALF_TURN, PI, Leaf, Op, Tree

Show = Callable[["Leaf"], str]
SUM, PRODUCT, MINUS, POWER, ATOM = 1, 2, 3, 4, 5
LONGEST_ROW = 64

GREEK = {
    "alpha": "α", "beta": "β", "gamma": "γ", "delta": "δ", "epsilon": "ε", "zeta": "ζ", "eta": "η", "theta": "θ",
    "kappa": "κ", "lambda": "λ", "mu": "μ", "nu": "ν", "xi": "ξ", "pi": "π", "rho": "ρ", "sigma": "σ", "tau": "τ",
    "phi": "φ", "chi": "χ", "psi": "ψ", "omega": "ω", "Delta": "Δ", "Sigma": "Σ", "Omega": "Ω", "Phi": "Φ",
    "varphi": "ϕ",
}  # fmt: skip
TO_LATEX = {letter: "\\" + name for name, letter in GREEK.items()}
FUNCTIONS = {"sin": "sin", "cos": "cos", "tan": "tan", "asin": "arcsin", "acos": "arccos", "atan": "arctan"} | {
    name: name for name in ("sinh", "cosh", "tanh", "min", "max")
} | {"log": "ln", "log10": "log10", "asinh": "arsinh", "atan2": "arctan2", "exp": "exp"}  # fmt: skip
IN_LATEX = {"asinh": r"\operatorname{arsinh}", "atan2": r"\operatorname{arctan2}", "log10": r"\log_{10}"}


PLAIN_POWERS = {shown: plain for plain, shown in suffixes.POWERS.items()}


def number(value: float, digits: int = 5) -> str:
    """Return a number to so many significant digits, whole numbers whole, in powers of ten where very small or large.

    >>> number(2.0), number(0.0824216), number(12637.9912), number(1.26379e-8), number(-3.5e9)
    ('2', '0.082422', '12638', '1.2638×10⁻⁸', '−3.5×10⁹')
    """
    if not math.isfinite(value):
        return "undefined" if math.isnan(value) else "∞" if value > 0 else "−∞"
    if isinstance(value, int) or (value == round(value) and abs(value) < 1e7):
        return f"{value:.0f}".replace("-", "−") if value else "0"
    if 1e-4 <= abs(value) < 1e7:
        places = max(0, digits - 1 - math.floor(math.log10(abs(value))))
        text = f"{float(f'{value:.{digits - 1}e}'):.{places}f}"
        return (text.rstrip("0").rstrip(".") if "." in text else text).replace("-", "−")
    mantissa, _, power = f"{value:.{digits - 1}e}".partition("e")
    mantissa = mantissa.rstrip("0").rstrip(".") if "." in mantissa else mantissa
    return f"{mantissa}×10{str(int(power)).translate(suffixes.POWERS)}".replace("-", "−")


def read_number(text: str) -> float:
    """Return the value of what `number` wrote.

    >>> read_number("1.2638×10⁻⁸"), read_number("−3")
    (1.2638e-08, -3.0)
    """
    return float(text.rstrip("°").replace("−", "-").translate(PLAIN_POWERS).replace("×10", "e"))


def literal(value: float) -> str:
    """Return a number of the formula itself, to all its digits."""
    return number(value, 15)


def text_symbol(symbol: str) -> str:
    """Return a symbol for plain text: theta is θ, F_cr stays.

    >>> text_symbol("theta_1"), text_symbol("F_cr"), text_symbol("Delta T"), text_symbol("cos theta")
    ('θ_1', 'F_cr', 'ΔT', 'cos θ')
    """
    base, mark, below = symbol.partition("_")
    return " ".join(GREEK.get(word, word) for word in base.split(" ")).replace("Δ ", "Δ") + mark + below


def latex_symbol(symbol: str) -> str:
    r"""Return a symbol for LaTeX.

    >>> latex_symbol("theta_1"), latex_symbol("F_cr"), latex_symbol("clear width")
    ('\\theta_{\\mathrm{1}}', 'F_{\\mathrm{cr}}', '\\text{clear width}')
    >>> latex_symbol("Delta T"), latex_symbol("cos theta")
    ('\\Delta T', '\\cos \\theta')
    """
    base, _, below = symbol.partition("_")
    parts = [TO_LATEX.get(GREEK.get(word, word)) or _letter(word) for word in base.split(" ")]
    shown = " ".join(parts) if all(parts) else rf"\text{{{escape(base)}}}"
    return shown + (rf"_{{\mathrm{{{escape(below.replace('_', ','))}}}}}" if below else "")


def _letter(word: str) -> str:
    """Return one letter or a function's name for LaTeX, empty for other words."""
    return word if len(word) == 1 else f"\\{word}" if word in ("sin", "cos", "tan") else ""


def escape(words: str) -> str:
    r"""Return words for a LaTeX \text{}; blanks and letters stay as they are."""
    for letter in "\\{}$%#&_^~":
        words = words.replace(letter, " " if letter in "\\{}^~" else "\\" + letter)
    return words.replace("<", "").replace(">", "")


def latex_number(text: str) -> str:
    r"""Return what `number` wrote as LaTeX.

    >>> latex_number("1.2638×10⁻⁸"), latex_number("30°")
    ('1.2638\\times 10^{-8}', '30^{\\circ}')
    """
    if "×10" in text:
        powers = {chr(shown): chr(plain) for plain, shown in suffixes.POWERS.items()}
        mantissa, _, power = text.partition("×10")
        text = rf"{mantissa}\times 10^{{{''.join(powers.get(letter, letter) for letter in power)}}}"
    return text.replace("−", "-").replace("°", r"^{\circ}")


def simplify_angles(tree: Tree) -> Tree:
    """Return the tree for a calculator set to degrees: conversions that cancel go, those that stay are written out."""
    if isinstance(tree, Leaf):
        return tree
    inner = tree.parts[0]
    if tree.kind in ("sin", "cos", "tan"):
        if isinstance(inner, Op) and inner.kind == "radians":
            return Op(tree.kind, (simplify_angles(inner.parts[0]),))
        return Op(tree.kind, (_times(simplify_angles(inner), "180°", "π"),))
    if tree.kind == "degrees" and isinstance(inner, Op) and inner.kind in ("asin", "acos", "atan", "atan2"):
        return Op(inner.kind, tuple(simplify_angles(part) for part in inner.parts))
    shown = Op(tree.kind, tuple(simplify_angles(part) for part in tree.parts))
    if tree.kind in ("asin", "acos", "atan", "atan2"):
        return _times(shown, "π", "180°")
    if tree.kind == "radians":
        return _times(shown.parts[0], "π", "180°")
    return _times(shown.parts[0], "180°", "π") if tree.kind == "degrees" else shown


def _times(tree: Tree, above: str, below: str) -> Tree:
    ends = {"π": PI, "180°": HALF_TURN}
    return Op("/", (Op("*", (tree, ends[above])), ends[below]))


def text(tree: Tree, show: Show) -> str:
    """Return a tree as plain text, its leaves as `show` writes them."""
    return _text(simplify_angles(tree), show)[0]


def latex(tree: Tree, show: Show, numbers: bool = False) -> str:
    """Return a tree as LaTeX; products of numbers get a cross, of symbols a thin space."""
    return _latex(simplify_angles(tree), show, numbers)[0]


def _strength(shown: str) -> int:
    """Return how tightly a leaf's text holds together."""
    if shown.startswith(("−", "-")):
        return MINUS
    return PRODUCT if "×" in shown or r"\times" in shown else ATOM


def _text(tree: Tree, show: Show) -> tuple[str, int]:
    if isinstance(tree, Leaf):
        shown = show(tree)
        return shown, _strength(shown)

    def at_least(part: Tree, strength: int, first: bool = False) -> str:
        shown, own = _text(part, show)
        # a minus sign may stand first in a sum or a product, never after another sign
        held = own >= strength and (first or not shown.startswith("−"))
        return shown if held else f"({shown})"

    left = tree.parts[0]
    if tree.kind in "+-":
        right = at_least(tree.parts[1], SUM if tree.kind == "+" else PRODUCT)
        return f"{at_least(left, SUM, first=True)} {'+' if tree.kind == '+' else '−'} {right}", SUM
    if tree.kind == "*":
        return f"{at_least(left, PRODUCT)} × {at_least(tree.parts[1], PRODUCT)}", PRODUCT
    if tree.kind == "/":
        return f"{at_least(left, PRODUCT)} / {at_least(tree.parts[1], POWER)}", PRODUCT
    if tree.kind == "neg":
        return f"−{at_least(left, PRODUCT)}", MINUS
    if tree.kind == "**":
        return _text_power(tree, show, at_least)
    inside = ", ".join(_text(part, show)[0] for part in tree.parts)
    around = {"ceil": ("⌈", "⌉"), "floor": ("⌊", "⌋"), "abs": ("abs(", ")"), "sqrt": ("√(", ")")}.get(tree.kind)
    start, end = around or (f"{FUNCTIONS[tree.kind]}(", ")")
    return f"{start}{inside}{end}", ATOM


def _text_power(tree: Op, show: Show, at_least: Callable[..., str]) -> tuple[str, int]:
    base, power = tree.parts
    if isinstance(power, Leaf) and power.literal and power.value == 0.5:
        return f"√({_text(base, show)[0]})", ATOM
    below = at_least(base, ATOM)
    if isinstance(base, Op) and not below.startswith("("):
        below = f"({below})"  # (sin(x))², not sin(x)²
    if isinstance(power, Leaf) and power.literal and power.value in (2, 3, 4, 5, 6):
        return below + str(int(power.value)).translate(suffixes.POWERS), POWER
    return f"{below}^({_text(power, show)[0]})", POWER


def _latex(tree: Tree, show: Show, numbers: bool) -> tuple[str, int]:
    if isinstance(tree, Leaf):
        shown = show(tree)
        return shown, _strength(shown)

    def bracket(shown: str) -> str:
        return rf"\left({shown}\right)"

    def at_least(part: Tree, strength: int, first: bool = False) -> str:
        shown, own = _latex(part, show, numbers)
        held = own >= strength and (first or not shown.startswith("-"))
        return shown if held else bracket(shown)

    def plain(part: Tree) -> str:
        return _latex(part, show, numbers)[0]

    left = tree.parts[0]
    if tree.kind in "+-":
        right = at_least(tree.parts[1], SUM if tree.kind == "+" else PRODUCT)
        return f"{at_least(left, SUM, first=True)} {tree.kind} {right}", SUM
    if tree.kind == "*":
        right = at_least(tree.parts[1], PRODUCT)
        cross = r"\times " if numbers else (r"\cdot " if right[0].isdigit() or right.startswith(r"\left(") else r"\,")
        return f"{at_least(left, PRODUCT)} {cross}{right}", PRODUCT
    if tree.kind == "/":
        return rf"\frac{{{plain(left)}}}{{{plain(tree.parts[1])}}}", PRODUCT
    if tree.kind == "neg":
        return f"-{at_least(left, PRODUCT)}", MINUS
    if tree.kind == "**":
        power = tree.parts[1]
        if isinstance(power, Leaf) and power.literal and power.value == 0.5:
            return rf"\sqrt{{{plain(left)}}}", ATOM
        shown, own = _latex(left, show, numbers)
        below = bracket(shown) if isinstance(left, Op) or own < ATOM or r"\circ" in shown else shown
        return rf"{below}^{{{plain(power)}}}", POWER
    return _latex_function(tree, [plain(part) for part in tree.parts]), ATOM


def _latex_function(tree: Op, inside: list[str]) -> str:
    if tree.kind == "sqrt":
        return rf"\sqrt{{{inside[0]}}}"
    marks = {"ceil": (r"\lceil ", r"\rceil"), "floor": (r"\lfloor ", r"\rfloor"), "abs": ("|", "|")}.get(tree.kind)
    if marks:
        return rf"\left{marks[0]}{inside[0]}\right{marks[1]}"
    name = IN_LATEX.get(tree.kind, "\\" + FUNCTIONS[tree.kind])
    return rf"{name}\left({', '.join(inside)}\right)"
