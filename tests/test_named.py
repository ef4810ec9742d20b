"""Bearings, dates and months: read in words, written back, and refused in one sentence."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenframe import named, units
from gardenframe.builds import fields
from gardenframe.errors import InputError


@pytest.mark.parametrize(
    ("text", "degrees"),
    [("south", 180), ("South", 180), ("S", 180), ("SSW", 202.5), ("south-south-west", 202.5), ("north east", 45),
     ("NE", 45), ("west", 270), ("200", 200), ("200°", 200), ("200 deg", 200), ("112,5", 112.5),
     ("180° (south)", 180), ("north", 0)],
)  # fmt: skip
def test_a_bearing_in_words_or_degrees(text, degrees):
    """From north through east, as a compass has it."""
    assert units.parse(text, "bearing", "us") == degrees


@pytest.mark.parametrize("text", ["up", "southish", "", "1.2.3", "SWW", "1e400", "E5", "30 ft", None, True])
def test_what_is_no_bearing_is_a_sentence(text):
    """Which field, what came, what would do."""
    with pytest.raises(InputError, match=r"^Front faces: got .*, needs a direction such as south, SSW or 200°\.$"):
        units.parse(text, "bearing", "metric", name="Front faces")


@given(st.integers(0, 15))
def test_the_sixteen_points_come_back(point):
    """Letters, words and degrees mean the same; what is written is read."""
    degrees = 22.5 * point
    assert named.read(named.POINTS[point], "bearing", "x") == degrees
    assert named.read(named.said(degrees), "bearing", "x") == degrees
    assert named.read(named.write(degrees, "bearing"), "bearing", "x") == degrees


@pytest.mark.parametrize("text", ["17 Jul", "17 July", "July 17", "jul. 17", "17. Jul", "2026-07-17", "07-17", "7-17"])
def test_a_date_in_many_ways(text):
    """31 + 28 + 31 + 30 + 31 + 30 + 17 days."""
    assert units.parse(text, "date", "metric") == 198


@pytest.mark.parametrize(
    "text", ["30 Feb", "2026-02-29", "31 June", "0 Jan", "13-01", "2026-00-10", "midsummer", "7/17", "198", ""]
)
def test_a_date_that_does_not_exist_is_a_sentence(text):
    """A month has its own days; 29 February only in its years; 7/17 could be read in two ways."""
    needs = r"^Day: got .*, needs a day of the calendar such as 17 Jul or 2026-07-17\.$"
    with pytest.raises(InputError, match=needs):
        units.parse(text, "date", "metric", name="Day")
    assert units.parse("2028-02-29", "date", "metric") == 60


@given(st.integers(1, 365))
def test_every_day_comes_back(day):
    """What is written is read; month and number are those of the calendar."""
    when = date(2026, 1, 1) + timedelta(days=day - 1)
    assert named.write(day, "date").startswith(f"{when.day} ")
    assert units.parse(named.write(day, "date"), "date", "us") == day
    assert named.month_of(day) == when.month


@pytest.mark.parametrize(
    ("text", "month"), [("March", 3), ("mar.", 3), ("DECEMBER", 12), ("sept", 9), ("5", 5), (7, 7)]
)
def test_a_month_by_name_or_number(text, month):
    """As the calendar counts them; its whole name comes back."""
    assert units.parse(text, "month", "metric") == month
    assert named.write(month, "month") == date(2026, month, 1).strftime("%B")


@pytest.mark.parametrize("text", ["Marsh", "ma", "spring", "", "3.5", "March 3", None])
def test_what_is_no_month_is_a_sentence(text):
    """Which field, what came, what would do."""
    with pytest.raises(InputError, match=r"^Month: got .*, needs a month such as March or 3\.$"):
        units.parse(text, "month", "metric", name="Month")


def test_fields_take_words_and_say_their_limits():
    """A build made in code takes the words too; what is beyond is refused with what came."""
    faces = fields.Field(key="faces_deg", label="Faces", kind="bearing", default=180.0, help="", low=0.0, high=360.0)
    day = fields.Field(key="day", label="Day", kind="date", default=198, help="", low=1, high=365)
    assert faces.check("south") == 180
    assert day.check("17 Jul") == 198
    assert faces.written(225.0) == "225° (SW)"
    for field, wrong, sentence in (
        (faces, -20.0, r"^Faces: got -20°, needs 0° \(north\) to 360° \(north\)\.$"),
        (day, 400, r"^Day: got day 400, needs 1 Jan to 31 Dec\.$"),
        (faces, "upwards", r"^Faces: got 'upwards', needs a direction such as south, SSW or 200°\.$"),
        (day, "30 Feb", r"^Day: got '30 Feb', needs a day of the calendar such as 17 Jul or 2026-07-17\.$"),
    ):
        with pytest.raises(InputError, match=sentence):
            field.check(wrong)
