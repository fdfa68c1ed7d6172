"""Lengths and sizes as people write them."""

from __future__ import annotations

import contextlib
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from openings.calc.tape import bare_size, format_length, read_length, read_size, size_in_text
from openings.errors import BadLength

# Notations seen in real material: operable-size codes of a window maker (5/0, 1/6), schedules and takeoff sheets
# (31-7/8", 62-27/32", 3-0'), NAVEDTRA 14069 p. 6-45 (2 ft 4 in.), CSV exports of building models (5' - 0").
# Curly quotes, primes and doubled apostrophes: from memory.
LENGTHS = [
    ("""3'-0\"""", "36"),
    ("""3' 0 1/2\"""", "36.5"),
    ("""3'0\"""", "36"),
    ("3'6", "42"),
    ("3'", "36"),
    ("3.5'", "42"),
    ("""3'-1/2\"""", "36.5"),
    ("""5' - 0\"""", "60"),
    ("36", "36"),
    ("35.5", "35.5"),
    (".5", "0.5"),
    ("36 1/2", "36.5"),
    ("""36-1/2\"""", "36.5"),
    ("""31-7/8\"""", "31.875"),
    ("""62-27/32\"""", "62.84375"),
    ("""59 1/2\"""", "59.5"),
    ("36 in.", "36"),
    ("5/0", "60"),
    ("1/6", "18"),
    ("3-0'", "36"),
    ("3-6 1/2", "42.5"),
    ("2 ft 4 in.", "28"),
    ("2 feet 4 inches", "28"),
    ("13/16", "0.8125"),
    ("""5/8\"""", "0.625"),
    ("36½", "36.5"),
    ("36 ⅜”", "36.375"),
    ("36³⁄₈", "36.375"),
    ("3′-6″", "42"),
    ("3’-6”", "42"),
    ("3'-6''", "42"),
    ('2`-4 1/2"', "28.5"),
    ("2'` -4 1/2\"", "28.5"),
    ("35.99999999999", "36"),
    ("\N{RIGHT-TO-LEFT MARK}36\N{LEFT-TO-RIGHT MARK}", "36"),
    ("\N{ZERO WIDTH NO-BREAK SPACE}3'-\N{ZERO WIDTH SPACE}6\"\u2069", "42"),
    ("3'\N{EN DASH}6\"", "42"),
    ("3'\N{NO-BREAK SPACE}6\"", "42"),
]


@pytest.mark.parametrize(("text", "inches"), LENGTHS, ids=[text for text, _ in LENGTHS])
def test_length_is_read_as_it_is_written(text: str, inches: str) -> None:
    assert read_length(text) == Decimal(inches)


# NIST Handbook 44, Appendix C: 1 in = 25.4 mm exactly; five places, half up.
METRIC = [
    ("915 mm", "36.02362"),
    ("0915mm", "36.02362"),
    ("91.5 cm", "36.02362"),
    ("0.915 m", "36.02362"),
    ("1.2 m", "47.24409"),
    ("25.4 mm", "1"),
    ("2410 millimetres", "94.88189"),
    ("914.4000000000001 mm", "36"),
    ("0.9144000000000001 m", "36"),
]


@pytest.mark.parametrize(("text", "inches"), METRIC, ids=[text for text, _ in METRIC])
def test_metric_length_becomes_inches_of_25_4_mm(text: str, inches: str) -> None:
    assert read_length(text) == Decimal(inches)


@pytest.mark.parametrize(("unit", "inches"), [("mm", "36.02362"), ("cm", "360.23622"), ("in", "915")])
def test_bare_number_is_in_the_unit_that_is_asked_for(unit: str, inches: str) -> None:
    assert read_length("915", unit=unit) == Decimal(inches)


def test_written_unit_overrides_the_one_of_the_heading() -> None:
    assert read_length("""36\"""", unit="mm") == 36


# Section 11.1 of the check values: inches of 10 and 11 take two digits; 30 is 3'-0" by the rule of call sizes.
RUN_TOGETHER = [
    ("30", "36"),
    ("36", "42"),
    ("210", "34"),
    ("411", "59"),
    ("3-6", "42"),
    ("5/8", "68"),
    ("36 in", "36"),
]


@pytest.mark.parametrize(("text", "inches"), RUN_TOGETHER, ids=[text for text, _ in RUN_TOGETHER])
def test_side_of_feet_and_inches_run_together(text: str, inches: str) -> None:
    assert read_length(text, unit="feet-inches") == Decimal(inches)


@pytest.mark.parametrize("text", ["3050", "3", "36.5", "120", "07"])
def test_what_is_no_side_of_feet_and_inches_run_together_is_refused(text: str) -> None:
    with pytest.raises(BadLength, match="run together; write it like 30 for 3'-0\""):
        read_length(text, unit="feet-inches")


NO_LENGTHS = [
    ("", "not a length"),
    ("abc", "not a length"),
    ("'", "not a length"),
    ("3 6", "not a length"),
    ("36-", "not a length"),
    ("35.5 1/2 1/2", "not a length"),
    ("-36", "negative"),
    ("−36", "negative"),
    ("36,5", "decimal point"),
    ("""3'-14\"""", "under 12"),
    ("24-36", "under 12"),
    ("36 3/5", "on no tape"),
    ("36 4/4", "on no tape"),
    ("36 1/0", "on no tape"),
    ("30/46", "neither"),
    ("9" * 30, "not a length"),
    ("9" * 61, "too long"),
]


@pytest.mark.parametrize(("text", "why"), NO_LENGTHS, ids=[text[:12] for text, _ in NO_LENGTHS])
def test_what_is_no_length_is_refused_with_what_would_be_right(text: str, why: str) -> None:
    with pytest.raises(BadLength, match=why) as raised:
        read_length(text)
    assert text[:60] in raised.value.detail


@pytest.mark.parametrize(
    ("text", "readings"),
    [("5/8", ("5/8 in", """5'-8\"""")), ("1/2", ("1/2 in", """1'-2\"""")), ("3,050", ("3050", "3.050", "call size"))],
)
def test_what_can_mean_two_lengths_names_both(text: str, readings: tuple[str, ...]) -> None:
    with pytest.raises(BadLength) as raised:
        read_length(text)
    assert all(reading in raised.value.detail for reading in readings)


def test_fraction_under_a_metric_heading_is_refused() -> None:
    with pytest.raises(BadLength, match="heading says mm"):
        read_length("36 1/2", unit="mm")


@pytest.mark.parametrize(
    ("inches", "shown"),
    [
        ("0", '0"'),
        ("0.5", '1/2"'),
        ("11.96875", '11 31/32"'),
        ("12", """1' 0\""""),
        ("36.5", """3' 0 1/2\""""),
        ("36.02362", """3' 0 1/32\""""),
        ("-0.125", '-1/8"'),
        ("-0.001", '0"'),
    ],
)
def test_length_is_shown_in_tape_notation_to_the_nearest_thirty_second(inches: str, shown: str) -> None:
    assert format_length(Decimal(inches)) == shown


def test_every_thirty_second_up_to_40_ft_comes_back_exactly() -> None:
    lengths = [(Decimal(count) / 32).quantize(Decimal("0.00001")) for count in range(480 * 32 + 1)]
    assert [read_length(format_length(length)) for length in lengths] == lengths


_SIGNS = st.text(alphabet="0123456789 .,/-'\"xXbymcftinhw½¼×′″\u200f\xa0aé٣", max_size=40) | st.text(max_size=250)


@given(_SIGNS)
def test_any_text_is_a_length_or_is_refused_in_words(text: str) -> None:
    for read in (read_length, read_size, size_in_text, bare_size):
        with contextlib.suppress(BadLength):
            read(text)
