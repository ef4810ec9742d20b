"""Numbers that people say in words: a bearing (south, SSW, 200°), a day of the year (17 Jul, 2026-07-17), a month.

A bearing is kept in degrees from north through east, a date as the day of a usual year, 1 to 365, a month as 1 to 12.
"""

import re
from datetime import date, timedelta

from gardenframe.errors import InputError

KINDS = ("bearing", "date", "month")
USUAL_YEAR = 2026
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
WHOLE_MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September", "October",
                "November", "December")  # fmt: skip
POINTS = ("N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE", "S", "SSW", "SW", "WSW", "W", "WNW", "NW", "NNW")
WORDS = {"N": "north", "E": "east", "S": "south", "W": "west"}
NEEDS = {
    "bearing": "a direction such as south, SSW or 200°",
    "date": "a day of the calendar such as 17 Jul or 2026-07-17",
    "month": "a month such as March or 3",
}
NUMBER = re.compile(r"(-?\d+(?:[.,]\d+)?)\s*(?:°|deg|degrees?)?", re.IGNORECASE)
DAY_MONTH, MONTH_DAY = re.compile(r"(\d{1,2})\.?\s*([a-z]+)\.?"), re.compile(r"([a-z]+)\.?\s*(\d{1,2})")
AS_DIGITS = re.compile(r"(?:(\d{4})-)?(\d{1,2})-(\d{1,2})")


def read(text: object, kind: str, name: str) -> float:
    """Return the number that a bearing, a date or a month in words means, or InputError naming the field.

    >>> read("south-west", "bearing", "faces"), read("SSE", "bearing", "faces"), read("200 °", "bearing", "faces")
    (225.0, 157.5, 200.0)
    >>> read("17 July", "date", "day"), read("2026-12-31", "date", "day"), read("13 Feb", "date", "day")
    (198.0, 365.0, 44.0)
    >>> read("March", "month", "month"), read("sep", "month", "month"), read("11", "month", "month")
    (3.0, 9.0, 11.0)
    """
    if isinstance(text, (int, float)) and not isinstance(text, bool):
        return float(text)
    found = None
    if isinstance(text, str):
        found = {"bearing": _bearing, "date": _date, "month": _month}[kind](text.strip())
    if found is None:
        raise InputError(name, text, NEEDS[kind])
    return found


def write(value: float, kind: str) -> str:
    """Return a bearing, a day of the year or a month as a reader sees it: short enough for its box.

    >>> write(180.0, "bearing"), write(225.0, "bearing"), write(200.0, "bearing"), write(198, "date"), write(3, "month")
    ('180° (south)', '225° (SW)', '200°', '17 Jul', 'March')
    """
    if kind == "month":
        return WHOLE_MONTHS[round(value) - 1] if 1 <= round(value) <= 12 else f"month {value:g}"
    if kind == "date":
        if not 1 <= round(value) <= 365:
            return f"day {value:g}"
        day = date(USUAL_YEAR, 1, 1) + timedelta(days=round(value) - 1)
        return f"{day.day} {MONTHS[day.month - 1]}"
    degrees = f"{value:.1f}".rstrip("0").rstrip(".") + "°"
    point = value % 360 / 22.5
    if abs(point - round(point)) > 1e-6:
        return degrees
    letters = POINTS[round(point) % 16]
    return f"{degrees} ({said(value) if len(letters) == 1 else letters})"


def said(bearing_deg: float) -> str:
    """Return the nearest of the sixteen points of the compass in words.

    >>> said(181.0), said(225.0), said(200.0)
    ('south', 'south-west', 'south-south-west')
    """
    letters = POINTS[round(bearing_deg % 360 / 22.5) % 16]
    words = [WORDS[letter] for letter in letters]
    return "-".join(words)


def month_of(day: float) -> int:
    """Return the month of a day of a usual year, 1 to 12."""
    return (date(USUAL_YEAR, 1, 1) + timedelta(days=round(day) - 1)).month


def _bearing(text: str) -> float | None:
    number = NUMBER.fullmatch(text.split("(")[0].strip() or text)
    if number:
        return float(number.group(1).replace(",", "."))
    if not re.fullmatch(r"[a-z .-]+", text.lower()):
        return None
    plain = re.sub(r"[^a-z]", "", text.lower())
    names = {point.lower(): n for n, point in enumerate(POINTS)}
    names |= {"".join(WORDS[letter] for letter in point): n for n, point in enumerate(POINTS)}
    return 22.5 * names[plain] if plain in names else None


def _date(text: str) -> float | None:
    plain, year = text.lower(), USUAL_YEAR
    if found := AS_DIGITS.fullmatch(plain):
        year, month, day = int(found.group(1) or USUAL_YEAR), int(found.group(2)), int(found.group(3))
    elif found := DAY_MONTH.fullmatch(plain):
        day, month = int(found.group(1)), _numbered(found.group(2))
    elif found := MONTH_DAY.fullmatch(plain):
        month, day = _numbered(found.group(1)), int(found.group(2))
    else:
        return None
    try:
        date(year, month, day)
        return float(date(USUAL_YEAR, month, min(day, 28)).timetuple().tm_yday + max(day - 28, 0))
    except ValueError:
        return None


def _month(text: str) -> float | None:
    word = text.lower().rstrip(".")
    number = int(word) if re.fullmatch(r"-?\d{1,6}", word) else _numbered(word)
    return float(number) if number or word == "0" else None


def _numbered(word: str) -> int:
    """Return the number of a month's name or its first letters, 0 for none."""
    for number, name in enumerate(WHOLE_MONTHS, 1):
        if len(word) >= 3 and name.lower().startswith(word):
            return number
    return 4 * (word == "sept") and 9
