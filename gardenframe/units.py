"""Metric and US customary, in and out: what a reader types becomes an SI float, a float becomes what a tape shows.

Lengths are kept in m, masses in kg, forces in N, pressures in Pa; three kinds are kept as names say them
everywhere: angles in degrees, temperatures in degrees Celsius, shares as a ratio (30 % is 0.30). Factors are the exact
definitions (25.4 mm to the inch, 0.45359237 kg to the pound, 9.80665 m/s² for g; NIST SP 811, from memory) and the
tests hold every one against pint. Text is made here alone, never by pint, whose text differs between versions.
"""

import math
from dataclasses import dataclass
from functools import cache
from typing import Any

from gardenframe import named

INCH_M = 0.0254
FOOT_M = 0.3048
POUND_KG = 0.45359237
G_M_PER_S2 = 9.80665
POUND_N = POUND_KG * G_M_PER_S2
GALLON_M3 = 231 * INCH_M**3
SIXTEENTHS_PER_INCH = 16


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit: what it measures, its size in the kept unit, its zero, the decimals shown, and how people type it."""

    kind: str
    factor: float
    digits: int
    typed: tuple[str, ...] = ()
    zero: float = 0.0


UNITS: dict[str, Unit] = {
    "mm": Unit("length", 0.001, 0, ("millimetre", "millimetres", "millimeter", "millimeters")),
    "cm": Unit("length", 0.01, 1, ("centimetre", "centimetres", "centimeter", "centimeters")),
    "m": Unit("length", 1.0, 3, ("metre", "metres", "meter", "meters")),
    "in": Unit("length", INCH_M, 4, ("inch", "inches", '"', "in.")),
    "ft": Unit("length", FOOT_M, 2, ("foot", "feet", "'", "ft.")),
    "yd": Unit("length", 3 * FOOT_M, 2, ("yard", "yards")),
    "g": Unit("mass", 0.001, 0, ("gram", "grams")),
    "kg": Unit("mass", 1.0, 2, ("kilo", "kilos", "kilogram", "kilograms")),
    "t": Unit("mass", 1000.0, 3, ("tonne", "tonnes")),
    "oz": Unit("mass", POUND_KG / 16, 1, ("ounce", "ounces")),
    "lb": Unit("mass", POUND_KG, 1, ("lbs", "pound", "pounds", "lb.")),
    "N": Unit("force", 1.0, 0, ("newton", "newtons")),
    "kN": Unit("force", 1000.0, 2),
    "kgf": Unit("force", G_M_PER_S2, 1),
    "lbf": Unit("force", POUND_N, 1, ("lb", "lbs", "pound", "pounds")),
    "Pa": Unit("pressure", 1.0, 0, ("N/m2",)),
    "kPa": Unit("pressure", 1000.0, 2, ("kN/m2",)),
    "psf": Unit("pressure", POUND_N / FOOT_M**2, 1, ("lb/ft2", "lbf/ft2", "lb/sq ft")),
    "psi": Unit("pressure", POUND_N / INCH_M**2, 0, ("lb/in2", "lbf/in2")),
    "MPa": Unit("stress", 1e6, 1, ("N/mm2",)),
    "ksi": Unit("stress", 1000 * POUND_N / INCH_M**2, 2),
    "m/s": Unit("speed", 1.0, 1),
    "km/h": Unit("speed", 1 / 3.6, 0, ("kph", "kmh")),
    "mph": Unit("speed", 5280 * FOOT_M / 3600, 0, ("miles/h", "mi/h")),
    "kn": Unit("speed", 1852 / 3600, 0, ("kt", "knot", "knots")),
    "°": Unit("angle", 1.0, 1, ("deg", "degree", "degrees")),
    "rad": Unit("angle", 180 / math.pi, 4, ("radian", "radians")),
    "arcmin": Unit("angle", 1 / 60, 1, ("'",)),
    "arcsec": Unit("angle", 1 / 3600, 0, ('"',)),
    "°C": Unit("temperature", 1.0, 1, ("C", "deg C", "degC", "° C")),
    "°F": Unit("temperature", 5 / 9, 1, ("F", "deg F", "degF", "° F"), zero=-160 / 9),
    "K": Unit("temperature", 1.0, 1, ("kelvin",), zero=-273.15),
    "mm²": Unit("area", 1e-6, 0, ("mm2",)),
    "m²": Unit("area", 1.0, 2, ("m2", "sq m")),
    "in²": Unit("area", INCH_M**2, 3, ("in2", "sq in")),
    "ft²": Unit("area", FOOT_M**2, 1, ("ft2", "sq ft", "sqft", "square feet")),
    "L": Unit("volume", 0.001, 1, ("litre", "litres", "liter", "liters")),
    "m³": Unit("volume", 1.0, 3, ("m3",)),
    "gal": Unit("volume", GALLON_M3, 1, ("gallon", "gallons")),
    "ft³": Unit("volume", FOOT_M**3, 2, ("ft3", "cu ft", "cubic feet")),
    "yd³": Unit("volume", 27 * FOOT_M**3, 2, ("yd3", "cu yd", "cubic yards")),
    "N/m": Unit("line load", 1.0, 0),
    "lbf/ft": Unit("line load", POUND_N / FOOT_M, 1, ("lb/ft", "plf")),
    "N m": Unit("moment", 1.0, 1, ("Nm",)),
    "lbf ft": Unit("moment", POUND_N * FOOT_M, 1, ("lb ft", "ft lb")),
    "kg/m": Unit("mass per length", 1.0, 3),
    "lb/ft": Unit("mass per length", POUND_KG / FOOT_M, 3),
    "kg/m²": Unit("mass per area", 1.0, 2, ("kg/m2",)),
    "lb/ft²": Unit("mass per area", POUND_KG / FOOT_M**2, 3, ("lb/ft2",)),
    "kg/m³": Unit("density", 1.0, 0, ("kg/m3",)),
    "lb/ft³": Unit("density", POUND_KG / FOOT_M**3, 1, ("lb/ft3", "pcf")),
    "L/min": Unit("flow", 0.001 / 60, 2),
    "L/h": Unit("flow", 0.001 / 3600, 0),
    "gal/min": Unit("flow", GALLON_M3 / 60, 2, ("gpm",)),
    "W": Unit("power", 1.0, 0, ("watt", "watts")),
    "kWh": Unit("energy", 3.6e6, 2),
    "%": Unit("share", 0.01, 1, ("percent", "per cent")),
    "": Unit("number", 1.0, 3),
    "pcs": Unit("count", 1.0, 0, ("pieces",)),
}

# what is written, and read where a bare number is typed, when a field names no unit of its own: (metric, us)
USUAL: dict[str, tuple[str, str]] = {
    "length": ("mm", "ft-in"),
    "mass": ("kg", "lb"),
    "force": ("N", "lbf"),
    "pressure": ("Pa", "psf"),
    "stress": ("MPa", "psi"),
    "speed": ("m/s", "mph"),
    "angle": ("°", "°"),
    "temperature": ("°C", "°F"),
    "area": ("m²", "ft²"),
    "volume": ("L", "gal"),
    "line load": ("N/m", "lbf/ft"),
    "moment": ("N m", "lbf ft"),
    "mass per length": ("kg/m", "lb/ft"),
    "mass per area": ("kg/m²", "lb/ft²"),
    "density": ("kg/m³", "lb/ft³"),
    "flow": ("L/min", "gal/min"),
    "power": ("W", "W"),
    "energy": ("kWh", "kWh"),
    "share": ("%", "%"),
    "number": ("", ""),
    "count": ("", ""),
    "money": ("USD", "USD"),
}
SYSTEMS = ("metric", "us")
CURRENCY_MARKS = {"USD": "$", "EUR": "€", "GBP": "£"}
# short figures read better without trailing zeros: 45°, not 45.0°
TRIMMED = ("angle", "temperature", "share", "number")


def __getattr__(name: str) -> Any:
    """Return the one pint registry `ureg`, or its Quantity `Q`, made at first use: it costs 0.3 s."""
    if name == "ureg":
        return _registry()
    if name == "Q":
        return _registry().Quantity
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")


@cache
def _registry() -> Any:
    import pint

    return pint.UnitRegistry()


def usual_unit(kind: str, system: str, unit: str | None = None) -> str:
    """Return the unit a field is shown in: its own where it names one, else the usual one of the system.

    >>> usual_unit("pressure", "us"), usual_unit("length", "metric", "m")
    ('psf', 'm')
    """
    if system not in SYSTEMS:
        raise ValueError(f"system: got {system!r}, needs 'metric' or 'us'.")
    if kind in named.KINDS:
        return ""
    if kind not in USUAL:
        raise ValueError(f"kind: got {kind!r}, needs one of {', '.join(USUAL)}.")
    return USUAL[kind][SYSTEMS.index(system)] if unit is None else unit


def unit_label(kind: str, system: str, unit: str | None = None) -> str:
    """Return the unit as a column heading or a control's label shows it, "" where there is none.

    >>> unit_label("length", "us"), unit_label("area", "metric"), unit_label("money", "us", "EUR")
    ('ft in', 'm²', 'EUR')
    """
    label = usual_unit(kind, system, unit)
    return "ft in" if label == "ft-in" else label


def in_unit(value: float, unit: str) -> float:
    """Return a kept value in a unit of `UNITS` (feet and inches: in inches), for tables and charts.

    >>> in_unit(1.8, "mm"), round(in_unit(957.6, "psf"), 2), in_unit(20.0, "°F")
    (1800.0, 20.0, 68.0)
    """
    found = UNITS["in" if unit == "ft-in" else unit]
    if _is_whole(
        1 / found.factor
    ):  # 1000 mm to the m: a whole number keeps 1.8 m at 1800 mm, without the noise of 0.001
        return (value - found.zero) * round(1 / found.factor)
    return (value - found.zero) / found.factor


def from_unit(number: float, unit: str) -> float:
    """Return the kept value of a number in a unit of `UNITS` (feet and inches: of inches).

    >>> from_unit(72, "in"), from_unit(50, "%"), from_unit(68, "°F")
    (1.8288, 0.5, 20.0)
    """
    found = UNITS["in" if unit == "ft-in" else unit]
    if _is_whole(1 / found.factor):
        return number / round(1 / found.factor) + found.zero
    return number * found.factor + found.zero


def _is_whole(number: float) -> bool:
    return number >= 1 and abs(number - round(number)) < 1e-9 * number


def tape_mm(length_mm: float) -> int:
    """Return the whole millimetre nearest to a length, as a metric tape shows it. [mm].

    >>> tape_mm(1889.5), tape_mm(1889.49)
    (1890, 1889)
    """
    return math.floor(length_mm + 0.5)


def tape_sixteenths(length_mm: float) -> int:
    """Return the whole sixteenths of an inch nearest to a length, as an inch tape shows it. [1/16 in].

    >>> tape_sixteenths(1892.3)
    1192
    """
    return math.floor(length_mm * SIXTEENTHS_PER_INCH / 25.4 + 0.5)


def feet_inches(sixteenths: int, feet: bool = True) -> str:
    """Return sixteenths of an inch as a tape reads, with or without feet.

    >>> feet_inches(1192), feet_inches(1192, feet=False), feet_inches(1160), feet_inches(8)
    ('6 ft 2 1/2 in', '74 1/2 in', '6 ft 0 1/2 in', '1/2 in')
    """
    whole_feet, rest = divmod(abs(sixteenths), 12 * SIXTEENTHS_PER_INCH) if feet else (0, abs(sixteenths))
    inches, part = divmod(rest, SIXTEENTHS_PER_INCH)
    words = [f"{whole_feet} ft"] if whole_feet else []
    if inches or whole_feet or not part:
        words.append(str(inches))
    if part:
        shrink = math.gcd(part, SIXTEENTHS_PER_INCH)
        words.append(f"{part // shrink}/{SIXTEENTHS_PER_INCH // shrink}")
    return ("-" if sixteenths < 0 else "") + " ".join(words) + " in"


def write(value: float, kind: str, system: str, unit: str | None = None, digits: int | None = None) -> str:
    """Return a kept value as a reader sees it, number and unit, rounded as the unit is usually read.

    Parameters
    ----------
    value : float
        In the kept unit of its kind (see the module).
    kind, system : str
        A key of `USUAL`; "metric" or "us".
    unit : str, optional
        The field's own unit: a key of `UNITS`, "ft-in", or for money a currency code. Inches are written in
        sixteenths unless `digits` asks for decimals.
    digits : int, optional
        Decimals shown; the unit's own where absent.

    Examples
    --------
    >>> write(1.8923, "length", "us"), write(1.8923, "length", "metric"), write(1.8923, "length", "metric", "m")
    ('6 ft 2 1/2 in', '1892 mm', '1.892 m')
    >>> write(0.3, "share", "us"), write(45, "angle", "metric"), write(1234.5, "money", "us")
    ('30 %', '45°', '$1,234.50')
    """
    label = usual_unit(kind, system, unit)
    if not math.isfinite(value):
        return "none"
    if kind in named.KINDS:
        return named.write(value, kind)
    if kind == "money":
        return _write_money(value, label, 2 if digits is None else digits)
    if label == "ft-in" or (label == "in" and digits is None):
        return feet_inches(tape_sixteenths(value * 1000), feet=label == "ft-in")
    if label and UNITS[label].kind != kind and {UNITS[label].kind, kind} != {"pressure", "stress"}:
        raise ValueError(f"unit: got {label!r}, needs a unit of {kind}.")
    places = (0 if kind == "count" else UNITS[label].digits) if digits is None else digits
    text = f"{in_unit(value, label):.{places}f}"
    if digits is None and kind in TRIMMED and "." in text:
        text = text.rstrip("0").rstrip(".")
    if float(text) == 0:
        text = text.lstrip("-")
    return f"{text}{'' if label == '°' else ' '}{label}".rstrip()


def _write_money(amount: float, currency: str, digits: int) -> str:
    text = f"{abs(amount):,.{digits}f}"
    sign = "-" if amount < 0 and float(text.replace(",", "")) else ""
    mark = CURRENCY_MARKS.get(currency)
    return f"{sign}{mark}{text}" if mark else f"{sign}{text} {currency}".rstrip()


def parse(text: object, kind: str, system: str, unit: str | None = None, name: str | None = None) -> float:
    """Return the kept value of what a reader typed; InputError with one clear sentence where it cannot be read.

    Reading lives in `gardenframe.typed`; see there for what is understood. A bare number is taken in the field's own
    `unit`, else in the usual unit of the system. `name` is the field named in the error, the kind where absent.

    >>> parse("6 ft 2 1/2 in", "length", "metric"), parse("1,89 m", "length", "us"), parse("30 %", "share", "us")
    (1.8923, 1.89, 0.3)
    """
    from gardenframe import typed

    if kind in named.KINDS:
        return named.read(text, kind, name or kind)
    return typed.read(text, kind, usual_unit(kind, system, unit), name or kind)
