"""Units at the end of names: `load_n_per_m` is in N/m, `second_moment_mm4` in mm⁴, `drag_ratio` in nothing.

A unit is a tuple of (token, power). Everything after a `per` divides: `u_w_per_m2_k` is W/(m² K). Here too is
the choice of the set in which a formula's numbers are shown: N mm MPa or N m Pa, lbf in psi or lbf ft psf.
"""

import re
from collections.abc import Iterable
from functools import cache

from gardenframe.units import FOOT_M, GALLON_M3, INCH_M, POUND_KG, POUND_N

Parts = tuple[tuple[str, int], ...]

# token: label, size in SI, pint's word
TOKENS: dict[str, tuple[str, float, str]] = {
    "um": ("µm", 1e-6, "um"),
    "mm": ("mm", 0.001, "mm"),
    "cm": ("cm", 0.01, "cm"),
    "m": ("m", 1.0, "m"),
    "in": ("in", INCH_M, "inch"),
    "ft": ("ft", FOOT_M, "ft"),
    "n": ("N", 1.0, "N"),
    "kn": ("kN", 1e3, "kN"),
    "lbf": ("lbf", POUND_N, "lbf"),
    "pa": ("Pa", 1.0, "Pa"),
    "kpa": ("kPa", 1e3, "kPa"),
    "mpa": ("MPa", 1e6, "MPa"),
    "psf": ("psf", POUND_N / FOOT_M**2, "(lbf/ft**2)"),
    "psi": ("psi", POUND_N / INCH_M**2, "psi"),
    "mg": ("mg", 1e-6, "mg"),
    "g": ("g", 0.001, "g"),
    "kg": ("kg", 1.0, "kg"),
    "lb": ("lb", POUND_KG, "lb"),
    "s": ("s", 1.0, "s"),
    "min": ("min", 60.0, "minute"),
    "h": ("h", 3600.0, "hour"),
    "day": ("day", 86400.0, "day"),
    "mph": ("mph", 5280 * FOOT_M / 3600, "mph"),
    "deg": ("°", 1.0, "deg"),
    "rad": ("rad", 1.0, "rad"),
    "degc": ("°C", 1.0, "degC"),
    "degf": ("°F", 5 / 9, "degF"),
    "k": ("K", 1.0, "K"),
    "w": ("W", 1.0, "W"),
    "kwh": ("kWh", 3.6e6, "kWh"),
    "j": ("J", 1.0, "J"),
    "l": ("L", 0.001, "L"),
    "gal": ("gal", GALLON_M3, "gallon"),
    "umol": ("µmol", 1e-6, "umol"),
    "mol": ("mol", 1.0, "mol"),
}
DIVIDES = "per"
AFTER_PER = {"min", "day"}  # clear_min is a least clearance, not minutes
POWERS = str.maketrans("0123456789-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻")
STRESS_WORDS = {"modulus", "stress", "yield", "strength"}
PRESSURES = {"pa", "kpa", "mpa", "psf", "psi"}


@cache
def of_name(name: str) -> Parts:
    """Return the unit at the end of a name, () where there is none.

    >>> of_name("load_n_per_m"), of_name("u_w_per_m2_k"), of_name("solidity_ratio")
    ((('n', 1), ('m', -1)), (('w', 1), ('m', -2), ('k', -1)), ())
    """
    tokens = name.lower().split("_")
    for start in range(1, len(tokens)):
        parts = _read(tokens[start:])
        if parts is not None:
            return parts
    return ()


def _read(tokens: list[str]) -> Parts | None:
    powers: dict[str, int] = {}
    sign = 1
    for at, token in enumerate(tokens):
        if token == DIVIDES:
            if at == len(tokens) - 1 or tokens[at + 1] == "per":
                return None
            sign = -1
            continue
        found = re.fullmatch(r"([a-z]+)([2-6]?)", token)
        if not found or found[1] not in TOKENS or (found[1] in AFTER_PER and sign > 0):
            return None
        powers[found[1]] = powers.get(found[1], 0) + sign * int(found[2] or 1)
    return tuple((token, power) for token, power in powers.items() if power)


def _labels(parts: Parts, power: str, blank: str) -> str:
    def word(token: str, times: int) -> str:
        return TOKENS[token][0] + (power.format(times) if times > 1 else "")

    above = blank.join(word(token, times) for token, times in parts if times > 0)
    below = [word(token, -times) for token, times in parts if times < 0]
    if not below:
        return above
    return f"{above or '1'}/{below[0]}" if len(below) == 1 else f"{above or '1'}/({blank.join(below)})"


def text_label(parts: Parts) -> str:
    """Return a unit as plain text.

    >>> text_label(of_name("stress_n_per_mm2")), text_label(of_name("u_w_per_m2_k"))
    ('N/mm²', 'W/(m² K)')
    """
    return re.sub(r"\^(\d)", lambda found: found[1].translate(POWERS), _labels(parts, "^{}", " "))


def latex_label(parts: Parts) -> str:
    r"""Return a unit as LaTeX.

    >>> latex_label(of_name("stress_n_per_mm2"))
    '\\mathrm{N/mm^{2}}'
    """
    label = _labels(parts, "^{{{}}}", r"\,").replace("°", r"^{\circ}").replace("µ", r"\mu ")
    return rf"\mathrm{{{label}}}" if label else ""


def pint_words(parts: Parts) -> str:
    """Return a unit in pint's words.

    >>> pint_words(of_name("load_n_per_m"))
    'N**1*m**-1'
    """
    return "*".join(TOKENS[token][2] + ("" if "deg" in token else f"**{power}") for token, power in parts)


def factor(parts: Parts) -> float:
    """Return the size of a unit in SI."""
    size = 1.0
    for token, power in parts:
        size *= TOKENS[token][1] ** power
    return size


def convert(value: float, given: Parts, wanted: Parts) -> float:
    """Return a value in another unit of the same kind.

    >>> convert(100.0, of_name("w_n_per_m"), of_name("w_n_per_mm")), convert(20.0, of_name("t_degc"), of_name("t_degf"))
    (0.1, 68.0)
    """
    if given == wanted:
        return value
    if given == (("degc", 1),):
        return value * 1.8 + 32
    if given == (("degf", 1),):
        return (value - 32) / 1.8
    ratio = factor(given) / factor(wanted)
    return value * ratio if ratio >= 1 else value / (factor(wanted) / factor(given))


TO_SET: dict[str, dict[str, str]] = {
    "mm": {"m": "mm", "cm": "mm", "kn": "n", "pa": "mpa", "kpa": "mpa"},
    "m": {},
    "in": {
        "m": "in", "mm": "in", "cm": "in", "n": "lbf", "kn": "lbf", "pa": "psi", "kpa": "psi", "mpa": "psi", "kg": "lb",
    },
    "ft": {
        "m": "ft", "mm": "ft", "cm": "ft", "n": "lbf", "kn": "lbf", "pa": "psf", "kpa": "psf", "mpa": "psf", "kg": "lb",
    },
}  # fmt: skip
READER: dict[str, dict[str, str]] = {
    "metric": {
        "in": "mm", "ft": "m", "lbf": "n", "lb": "kg", "psf": "pa", "psi": "mpa", "gal": "l", "degf": "degc",
    },
    "us": {
        "mm": "in", "cm": "in", "m": "ft", "n": "lbf", "kn": "lbf", "kg": "lb", "g": "lb", "pa": "psf", "kpa": "psf",
        "mpa": "psi", "l": "gal", "degc": "degf",
    },
}  # fmt: skip
US_TOKENS = {"in", "ft", "lbf", "psf", "psi", "lb", "mph", "gal", "degf"}


def swap(parts: Parts, names: dict[str, str]) -> Parts:
    """Return a unit with its tokens replaced."""
    powers: dict[str, int] = {}
    for token, power in parts:
        powers[names.get(token, token)] = powers.get(names.get(token, token), 0) + power
    return tuple((token, power) for token, power in powers.items() if power)


def is_stress(name: str, parts: Parts) -> bool:
    """Return whether a name holds a stress, a stiffness or a section value, better read in mm or inches."""
    if parts == (("m", 4),):
        return True
    stiff = parts == (("m", 3),) or any(token in PRESSURES for token, _ in parts)
    return stiff and bool(STRESS_WORDS & set(name.lower().split("_")))


class Units:
    """The units in which one formula is shown: inside its numbers, and to the reader before and after."""

    def __init__(self, names: Iterable[str], system: str, empirical: bool, lengths: str | None) -> None:
        self._inside: dict[str, Parts] = {}  # filled by `inside`
        units = {name: of_name(name) for name in names}
        tokens = {token for parts in units.values() for token, _ in parts}
        small = "mm" in tokens or any(is_stress(name, parts) for name, parts in units.items())
        short = lengths or ("mm" if small else "m")
        self.system = system
        self.set = "as named" if empirical or tokens & US_TOKENS else short
        self.plain_lengths = tokens <= {"m", "mm", "deg", "rad"} and all(
            power == 1 for parts in units.values() for _, power in parts
        )
        # pounds of mass and of force do not go together in one coherent set: such a sum stays metric inside
        able = tokens <= {"m", "mm", "cm", "n", "kn", "pa", "kpa", "mpa", "deg", "rad", "s", "h", "min", "kg"}
        mixed = "kg" in tokens and bool(tokens & ({"n", "kn", "s"} | PRESSURES))
        if self.set != "as named" and system == "us" and able and not mixed:
            self.set = "in" if short == "mm" or self.plain_lengths else "ft"

    def inside(self, name: str) -> Parts:
        """Return the unit of a name within the numbers."""
        if name not in self._inside:
            parts = of_name(name)
            self._inside[name] = parts if self.set == "as named" else swap(parts, TO_SET[self.set])
        return self._inside[name]

    def reader(self, name: str) -> Parts:
        """Return the unit in which the reader knows a name."""
        parts, inside = of_name(name), self.inside(name)
        if {token for token, _ in parts} & {"umol", "mol"}:  # light for plants is told per square metre everywhere
            return parts
        if self.system == "metric" and parts == (("mph", 1),):
            return (("m", 1), ("s", -1))
        if self.system == "us" and parts == (("m", 1), ("s", -1)):
            return (("mph", 1),)
        if is_stress(name, parts) or (self.plain_lengths and self.set != "as named"):
            ours = inside if (self.system == "us") == bool({token for token, _ in inside} & US_TOKENS) else None
            return ours if ours is not None else swap(parts, READER[self.system] | {"pa": "psi", "m": "in"})
        return swap(parts, READER[self.system])
