"""Reading what people type: numbers, fractions, feet and inches, marks and signs, or one sentence why not.

Nothing is guessed: where a comma could part thousands or decimals, both readings are named and the reader chooses.
"""

import math
import re
from functools import cache

from gardenframe.errors import InputError
from gardenframe.units import CURRENCY_MARKS, UNITS, from_unit, unit_label

EXAMPLES = {
    "length": "a length such as 1.8 m, 189 cm or 6 ft 2 1/2 in",
    "mass": "a mass such as 15 kg or 30 lb",
    "force": "a force such as 200 N or 45 lbf",
    "pressure": "a pressure such as 1.2 kPa or 20 psf",
    "stress": "a stress such as 205 MPa or 30 ksi",
    "speed": "a speed such as 40 m/s or 90 mph",
    "angle": "an angle such as 45°",
    "temperature": "a temperature such as 18 °C or 65 °F",
    "area": "an area such as 2.5 m² or 27 ft²",
    "volume": "a volume such as 200 L or 50 gal",
    "share": "a share such as 30 %",
    "number": "a number such as 1.5",
    "count": "a whole number such as 3",
    "money": "an amount such as 12.50",
    "line load": "a load such as 100 N/m or 7 lbf/ft",
    "moment": "a moment such as 50 N m or 37 lbf ft",
    "mass per length": "a mass per length such as 1.0 kg/m or 0.67 lb/ft",
    "mass per area": "a mass per area such as 1.2 kg/m² or 0.25 lb/ft²",
    "density": "a density such as 900 kg/m³ or 56 lb/ft³",
    "flow": "a flow such as 2 L/min or 0.5 gal/min",
    "power": "a power such as 40 W",
    "energy": "an energy such as 1.2 kWh",
}
# the unit of a bare number after another unit: 6 ft 2, 5 lb 4
NEXT = {"ft": "in", "lb": "oz", "°": "arcmin"}
FRACTIONS = {
    "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5",
    "⅙": "1/6", "⅚": "5/6", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "⅒": "1/10",
}  # fmt: skip
MARKS = str.maketrans(
    {"′": "'", "’": "'", "‘": "'", "´": "'", "ʹ": "'", "″": '"', "”": '"', "“": '"', "ʺ": '"'}
    | {"−": "-", "–": "-", "‐": "-", "‑": "-", "⁄": "/", "∕": "/", "²": "2", "³": "3", "º": "°"}
    | {"\u00a0": " ", "\u2009": " ", "\u202f": " ", "\u2007": " ", "\t": " "}
)
# in this order: 2 1/2 or 2-1/2, then 3/4, then 12 345, then 1.5 or 1,5 or 1.5e3
NUMBER = re.compile(
    r"(?P<mixed>\d+)(?:\s+|\s*-\s*)(?P<over>\d+)\s*/\s*(?P<under>\d+)(?![\d.,])"
    r"|(?P<top>\d+)\s*/\s*(?P<bottom>\d+)(?![\d.,])"
    r"|(?P<spaced>\d{1,3}(?: \d{3})+(?:[.,]\d+)?)(?![\d/.,])"
    r"|(?P<plain>(?:\d[\d.,]*|[.,]\d+)(?:e[+-]?\d+)?)",
    re.ASCII | re.IGNORECASE,
)
LONGEST_TEXT = 60


def read(text: object, kind: str, unit: str, name: str) -> float:
    """Return the kept value of `text`, a bare number being in `unit`; else InputError that names the field."""
    reading = _Reading(text, kind, unit, name)
    if isinstance(text, (int, float)) and not isinstance(text, bool):
        return reading.kept(float(text), unit)
    if not isinstance(text, str) or not text.strip() or len(text) > LONGEST_TEXT:
        raise reading.refusal()
    clean = text.translate(MARKS).replace("''", '"').replace("^", "").strip()
    for mark, words in FRACTIONS.items():
        clean = clean.replace(mark, f" {words}")
    clean = clean.strip()
    sign = -1.0 if clean.startswith("-") else 1.0
    clean = clean[1:].lstrip() if clean[:1] in ("-", "+") else clean
    return reading.value(clean, sign)


class _Reading:
    """One text on its way to a value, so that every refusal can quote it whole."""

    def __init__(self, text: object, kind: str, unit: str, name: str) -> None:
        self.text, self.kind, self.unit, self.name = text, kind, unit, name

    def refusal(self, do: str = "") -> InputError:
        """Return the error to raise; `do` adds why this text cannot be read."""
        return InputError(self.name, self.text, EXAMPLES[self.kind], do)

    def kept(self, number: float, unit: str) -> float:
        """Return a number in `unit` as it is kept, refused where it is no finite number or no whole count."""
        value = number if self.kind == "money" else from_unit(number, unit)
        if not math.isfinite(value):
            raise self.refusal()
        if self.kind == "count" and value != round(value):
            raise self.refusal("Type a whole number.")
        return value

    def value(self, clean: str, sign: float) -> float:
        """Return the value of cleaned text, its sign taken off."""
        if self.kind == "money":
            clean, sign = self.without_currency(clean, sign)
        parts = self.parts(clean)
        if len(parts) == 1:
            return self.kept(sign * parts[0][0], parts[0][1])
        return sign * math.fsum(self.kept(number, unit) for number, unit in parts)

    def parts(self, clean: str) -> list[tuple[float, str]]:
        """Return (number, unit) for each part, larger units first: 6 ft and 2 1/2 in."""
        parts: list[tuple[float, str]] = []
        at = 0
        while at < len(clean):
            found = NUMBER.match(clean, at)
            if not found:
                raise self.refusal()
            number, at = self.number(found), found.end()
            unit, at = self.typed_unit(clean, at, parts)
            parts.append((number, unit))
            if len(parts) > 1:
                self.check_order(parts[-2], parts[-1])
            # 6'-2" and 6 ft, 2 in: what parts the two is no sign
            at += len(re.match(r"\s*(?:[-,]\s*)?(?=\d)|\s*", clean[at:]).group())  # type: ignore[union-attr]
        if not parts:
            raise self.refusal()
        return parts

    def check_order(self, before: tuple[float, str], after: tuple[float, str]) -> None:
        """Refuse 6 ft 14 in, 2 in 6 ft and 1.5 ft 2 in: each is more likely a slip than meant."""
        larger, smaller = before[1], after[1]
        if UNITS[larger].factor <= UNITS[smaller].factor * (1 + 1e-12):
            raise self.refusal(f"{smaller} cannot follow {larger}.")
        if before[0] != round(before[0]):
            raise self.refusal(f"Type a whole number of {larger} before the {smaller}.")
        if after[0] * UNITS[smaller].factor >= UNITS[larger].factor * (1 - 1e-12):
            raise self.refusal(f"After {larger}, type less than 1 {larger} in {smaller}.")

    def typed_unit(self, clean: str, at: int, parts: list[tuple[float, str]]) -> tuple[str, int]:
        """Return the unit typed at `at`, or the one a bare number has there, and where it ends."""
        found = _pattern(self.kind).match(clean, at)
        if found and found.group(1):
            return _names(self.kind)[_plain(found.group(1))], found.end()
        rest = clean[at:].strip()
        if rest:
            raise self.refusal(self.why_not(rest))
        if not parts:
            return self.unit, len(clean)
        if parts[-1][1] not in NEXT:
            raise self.refusal("Type the unit of the last number too.")
        return NEXT[parts[-1][1]], len(clean)

    def why_not(self, rest: str) -> str:
        """Return what is wrong with the unit `rest`, where that is known."""
        for kind, words in EXAMPLES.items():
            if kind != self.kind and _plain(rest) in _names(kind):
                return f"{rest} is the unit of {words.split(' such as')[0]}."
        return f"The unit {rest[:12]} is not known here." if re.fullmatch(r"[^\W\d_]+", rest) else ""

    def number(self, found: re.Match[str]) -> float:
        """Return the number matched by NUMBER."""
        got = found.groupdict()
        over, under = got["over"] or got["top"], got["under"] or got["bottom"]
        if over:
            if int(under) == 0 or (got["mixed"] and int(over) >= int(under)):
                raise self.refusal("Type a fraction such as 1/2.")
            return int(got["mixed"] or 0) + int(over) / int(under)
        return self.decimal((got["spaced"] or got["plain"]).replace(" ", ""))

    def decimal(self, digits: str) -> float:
        """Return digits with points and commas as a number; refuse what could be read in two ways."""
        mantissa, _, power = digits.lower().partition("e")
        whole = self.kind in ("money", "count")
        if re.fullmatch(r"[1-9]\d{0,2}(,\d{3})", mantissa) and not whole:
            loose, tight = mantissa.replace(",", "."), mantissa.replace(",", "")
            raise self.refusal(f"The comma can be read in two ways: type {loose} or {tight}.")
        if re.fullmatch(r"[1-9]\d{0,2}(\.\d{3})", mantissa) and whole:
            raise self.refusal(f"The point can be read in two ways: type {mantissa}0 or {mantissa.replace('.', '')}.")
        for thousands, point in (",.", ".,"):
            grouped = rf"[1-9]\d{{0,2}}(\{thousands}\d{{3}})+(\{point}\d+)?"
            once = whole or point in mantissa or mantissa.count(thousands) > 1
            if once and thousands in mantissa and re.fullmatch(grouped, mantissa):
                mantissa = mantissa.replace(thousands, "").replace(point, ".")
                break
        else:
            mantissa = mantissa.replace(",", ".")
        try:
            return float(f"{mantissa}e{power}" if power else mantissa)
        except ValueError:
            raise self.refusal() from None

    def without_currency(self, clean: str, sign: float) -> tuple[str, float]:
        """Return an amount without its currency mark or code; a currency that is not the field's is refused."""
        for code in {*CURRENCY_MARKS, self.unit}:
            for mark in filter(None, (code, CURRENCY_MARKS.get(code))):
                if clean.upper().startswith(mark) or clean.upper().endswith(mark):
                    if code != self.unit:
                        raise self.refusal(f"Amounts here are in {unit_label('money', 'us', self.unit)}.")
                    cut = clean[len(mark) :] if clean.upper().startswith(mark) else clean[: -len(mark)]
                    cut = cut.strip()
                    return (cut[1:].lstrip(), -sign) if cut.startswith("-") and sign > 0 else (cut, sign)
        return clean, sign


def _plain(typed: str) -> str:
    """Return a typed unit as the name tables hold it: small letters, no blanks."""
    return typed.lower().replace(" ", "").replace("²", "2").replace("³", "3").replace("·", "")


@cache
def _names(kind: str) -> dict[str, str]:
    """Return every way to type a unit of a kind, plainly, with the unit it means."""
    same = {"pressure": ("pressure", "stress"), "stress": ("stress", "pressure")}.get(kind, (kind,))
    names: dict[str, str] = {}
    for wanted in same:
        for label, unit in UNITS.items():
            if unit.kind == wanted:
                for typed in filter(None, (label, *unit.typed)):
                    names.setdefault(_plain(typed), label)
    return names


@cache
def _pattern(kind: str) -> re.Pattern[str]:
    """Return the pattern of a unit of this kind, longest first; m does not match in m2, nor in metric."""
    ways = sorted(_names(kind), key=len, reverse=True)
    spaced = ["\\s*".join(re.escape(letter) for letter in way) for way in ways]
    ends = [way + (r"(?![^\W\d_]|/|[23]\s*$)" if way[-1].isalpha() else "") for way in spaced]
    return re.compile(r"\s*(" + "|".join(ends or ["(?!)"]) + ")", re.IGNORECASE)
