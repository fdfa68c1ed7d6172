"""Hours that somebody worked, as people write them. 60 minutes an hour: NIST Handbook 44, appendix C."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from openings.calc.hours import read_hours, say_hours
from openings.errors import BadHours


@pytest.mark.parametrize(
    ("text", "minutes"),
    [
        ("8", 480), ("8.0", 480), ("4", 240), ("2.5", 150), ("1", 60), ("0.5", 30), (".5", 30), ("8.", 480),
        ("2:15", 135), ("0:45", 45), (":45", 45), ("2:20", 140), ("24:00", 1440), ("24", 1440), ("2:15 h", 135),
        ("45 min", 45), ("45min", 45), ("45 minutes", 45), ("90 m", 90), ("1 min", 1), ("45 min.", 45),
        ("2 hr", 120), ("2 hrs", 120), ("2h", 120), ("2.5 hours", 150), ("1 hour", 60),
        ("1 h 30 min", 90), ("1h30", 90), ("1h 5m", 65), ("1 hr 30 mins", 90), ("1 hour and 15 minutes", 75),
        ("1 1/2", 90), ("1/2", 30), ("1-1/2", 90), ("3/4 h", 45), ("1½", 90), ("½", 30), ("2 ¾", 165),
        (" 2 : 15".replace(" ", ""), 135), ("  8  ", 480), ("1 H 30 MIN", 90),
    ],
)  # fmt: skip
def test_a_time_is_read_as_people_write_it(text: str, minutes: int):
    assert abs(Fraction(read_hours(text)) * 60 - minutes) < Fraction(1, 1000)


@pytest.mark.parametrize(
    "text",
    [
        "", " ", "eight", "8 pm", "-1", "+2", "2:60", "2:5", "2:5:00", "8,5", "1/0", "8 h 75 min", "0", "0:00", "0 min",
        "24.01", "24:01", "25", "1e1", "nan", "inf", "٨", "2 15", "45 min 1 h", "1/2/3", "9" * 41, "8 " * 30,
    ],
)  # fmt: skip
def test_what_is_no_time_of_a_day_is_refused_with_what_would_be_right(text: str):
    with pytest.raises(BadHours, match=r"write it like 8, 2.5, 2:15, 45 min"):
        read_hours(text)


@given(st.integers(min_value=1, max_value=24 * 60))
def test_every_minute_of_a_day_is_kept(minutes: int):
    written = f"{minutes // 60}:{minutes % 60:02d}"
    hours = read_hours(written)
    assert round(hours * 60) == minutes
    assert read_hours(say_hours(hours)) == hours


@pytest.mark.parametrize(
    ("hours", "said"),
    [("8", "8"), ("2.5", "2.5"), ("2.25", "2.25"), ("2.33333", "2:20"), ("6.99999", "7"), ("0.01667", "0:01"),
     ("40.00002", "40"), ("2.34", "2.34"), ("0", "0")],
)  # fmt: skip
def test_hours_are_said_to_the_minute(hours: str, said: str):
    assert say_hours(Decimal(hours)) == said
