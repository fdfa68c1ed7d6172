"""Lengths and sizes as people write them."""

from __future__ import annotations

from decimal import Decimal

import pytest

from openings.calc.tape import Size, format_length, read_length, read_size
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
]


@pytest.mark.parametrize(("text", "inches"), METRIC, ids=[text for text, _ in METRIC])
def test_metric_length_becomes_inches_of_25_4_mm(text: str, inches: str) -> None:
    assert read_length(text) == Decimal(inches)


@pytest.mark.parametrize(("unit", "inches"), [("mm", "36.02362"), ("cm", "360.23622"), ("in", "915")])
def test_bare_number_is_in_the_unit_that_is_asked_for(unit: str, inches: str) -> None:
    assert read_length("915", unit=unit) == Decimal(inches)


def test_written_unit_overrides_the_one_of_the_heading() -> None:
    assert read_length("""36\"""", unit="mm") == 36


NO_LENGTHS = [
    ("", "no length"),
    ("abc", "no length"),
    ("'", "no length"),
    ("3 6", "no length"),
    ("36-", "no length"),
    ("35.5 1/2 1/2", "no length"),
    ("-36", "negative"),
    ("−36", "negative"),
    ("36,5", "decimal point"),
    ("""3'-14\"""", "under 12"),
    ("24-36", "under 12"),
    ("36 3/5", "on no tape"),
    ("36 4/4", "on no tape"),
    ("36 1/0", "on no tape"),
    ("30/46", "neither"),
    ("9" * 30, "no length"),
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


# Call sizes. 4050, 2668: greathousedesign.com, what window and door sizes represent. 3060, 3068: engineerfix.com,
# what size is a 3060 window. 2860, 2426: secondary pages. 3046, 24310, 210410: arithmetic from the same rule,
# the five and six digits from memory.
CALL_SIZES = [
    ("4050", 48, 60),
    ("2668", 30, 80),
    ("3060", 36, 72),
    ("3068", 36, 80),
    ("2860", 32, 72),
    ("2426", 28, 30),
    ("3046", 36, 54),
    ("24310", 28, 46),
    ("21024", 34, 28),
    ("210410", 34, 58),
]


@pytest.mark.parametrize(("text", "width_in", "height_in"), CALL_SIZES, ids=[row[0] for row in CALL_SIZES])
def test_call_size_is_feet_and_inches_width_first(text: str, width_in: int, height_in: int) -> None:
    assert read_size(text) == Size(width_in=Decimal(width_in), height_in=Decimal(height_in))


# Sources: as for LENGTHS; the metric ones stand in IFC models of buildingSMART.
SIZES = [
    ("""3'-0" x 4'-6\"""", "36", "54"),
    ("5/0 x 4/6", "60", "54"),
    ("5/0X4/6", "60", "54"),
    ("1/6X2/0", "18", "24"),
    ("5/8 x 4/6", "68", "54"),
    ("3-0' x 5-0'", "36", "60"),
    ("2 ft 4 in. by 3 ft 10 in", "28", "46"),
    ("35 ½ × 59 ½", "35.5", "59.5"),
    ("30x30", "30", "30"),
    ("36 1/2 x 54", "36.5", "54"),
    ("0915 x 1830mm", "36.02362", "72.04724"),
    ("2800mm x 2410mm", "110.23622", "94.88189"),
    ("1180 x 1170mm", "46.45669", "46.06299"),
    ("1.2 x 1.5 m", "47.24409", "59.05512"),
    ("""36"w x 48"h""", "36", "48"),
    ("48 H x 36 W", "36", "48"),
    ("W 36 x H 48", "36", "48"),
]


@pytest.mark.parametrize(("text", "width_in", "height_in"), SIZES, ids=[row[0] for row in SIZES])
def test_size_is_read_as_it_is_written(text: str, width_in: str, height_in: str) -> None:
    assert read_size(text) == Size(width_in=Decimal(width_in), height_in=Decimal(height_in))


def test_heading_decides_that_height_stands_first() -> None:
    assert read_size("54 x 36", height_first=True) == Size(width_in=Decimal(36), height_in=Decimal(54))


def test_letters_at_the_sides_outweigh_the_heading() -> None:
    assert read_size("36 W x 54 H", height_first=True) == Size(width_in=Decimal(36), height_in=Decimal(54))


@pytest.mark.parametrize(
    ("text", "readings"),
    [
        ("2210", ("""2'-2" x 1'-0\"""", """2'-0" x 2'-10\"""")),
        ("21110", ("""2'-11" x 1'-0\"""", """2'-1" x 1'-10\"""")),
    ],
)
def test_call_size_that_can_mean_two_things_names_both(text: str, readings: tuple[str, ...]) -> None:
    with pytest.raises(BadLength) as raised:
        read_size(text)
    assert all(reading in raised.value.detail for reading in readings)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("36", "no call size"),
        ("3006", "no call size"),
        ("3,050", "comma"),
        ("A-3648", "two sides"),
        ("8/10", "two sides"),
        ("30 46", "two sides"),
        ("36 x 60 x 4", "two sides"),
        ("3 x 5'", "feet on one side only"),
        ("3-0 x 5", "feet on one side only"),
        ("36 W x 48 W", "same side twice"),
        ("36 x", "no length"),
    ],
)
def test_what_is_no_size_is_refused_with_what_would_be_right(text: str, why: str) -> None:
    with pytest.raises(BadLength, match=why):
        read_size(text)


def test_call_size_under_a_height_first_heading_is_refused() -> None:
    with pytest.raises(BadLength, match="height first"):
        read_size("3046", height_first=True)


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
