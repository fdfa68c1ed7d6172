"""Sizes as people write them, and those that can mean two things."""

from __future__ import annotations

import contextlib
import itertools
from decimal import Decimal

import pytest

from openings.calc.tape import LengthUnit, Size, bare_size, read_size, size_in_text
from openings.errors import BadLength

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
    ("30x100", "30", "100"),
    ("36 1/2 x 54", "36.5", "54"),
    ("0915 x 1830mm", "36.02362", "72.04724"),
    ("2800mm x 2410mm", "110.23622", "94.88189"),
    ("1180 x 1170mm", "46.45669", "46.06299"),
    ("1.2 x 1.5 m", "47.24409", "59.05512"),
    ("""36"w x 48"h""", "36", "48"),
    ("48 H x 36 W", "36", "48"),
    ("W 36 x H 48", "36", "48"),
    ("W: 36 x H: 48", "36", "48"),
    ("""36" wide by 48" high""", "36", "48"),
    ('48" height x 36" width', "36", "48"),
    ("1810x1210mm", "71.25984", "47.63780"),
    ('36\N{NO-BREAK SPACE}1/2" x 54\N{RIGHT-TO-LEFT MARK}"', "36.5", "54"),
]


@pytest.mark.parametrize(("text", "width_in", "height_in"), SIZES, ids=[row[0] for row in SIZES])
def test_size_is_read_as_it_is_written(text: str, width_in: str, height_in: str) -> None:
    assert read_size(text) == Size(width_in=Decimal(width_in), height_in=Decimal(height_in))


def test_heading_decides_that_height_stands_first() -> None:
    assert read_size("54 x 36", unit="in", height_first=True) == Size(width_in=Decimal(36), height_in=Decimal(54))


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


# Section 11.1 of the check values: "30x30" may be inches, "3030" is feet and inches; A-3648 is type and size.
TWO_READINGS = [
    ("30x30", ("30 x 30 in", """3'-0" x 3'-0\"""")),
    ("36 x 54", ("36 x 54 in", """3'-6" x 5'-4\"""")),
    ("28x210", ("28 x 210 in", """2'-8" x 2'-10\"""")),
    ("A-3648", ("36 x 48 in", """3'-6" x 4'-8\"""")),
    ("DH3046", ("30 x 46 in", """3'-0" x 4'-6\"""")),
    ("3 x 5", ("3 x 5 in", """3'-0" x 5'-0\"""")),
]


@pytest.mark.parametrize(("text", "readings"), TWO_READINGS, ids=[case[0] for case in TWO_READINGS])
def test_bare_size_can_mean_two_things_until_somebody_says_its_unit(text: str, readings: tuple[str, str]) -> None:
    with pytest.raises(BadLength) as raised:
        read_size(text)
    assert " or ".join(readings) in raised.value.detail
    bare = bare_size(text)
    assert bare
    assert bare.readings == readings


SAID_UNITS: list[tuple[str, LengthUnit, str, str]] = [
    ("30x30", "in", "30", "30"),
    ("30x30", "feet-inches", "36", "36"),
    ("30x46", "feet-inches", "36", "54"),
    ("28x210", "feet-inches", "32", "34"),
    ("A-3648", "in", "36", "48"),
    ("A-3648", "feet-inches", "42", "56"),
    ("3046", "in", "36", "54"),
    ("3046", "feet-inches", "36", "54"),
    ("3 x 5", "ft", "36", "60"),
    ("0915x1830", "mm", "36.02362", "72.04724"),
    ("91.5 x 183", "cm", "36.02362", "72.04724"),
]


@pytest.mark.parametrize(
    ("text", "unit", "width_in", "height_in"), SAID_UNITS, ids=[f"{c[0]} {c[1]}" for c in SAID_UNITS]
)
def test_bare_size_is_in_the_unit_that_was_said(text: str, unit: LengthUnit, width_in: str, height_in: str) -> None:
    assert read_size(text, unit=unit) == Size(width_in=Decimal(width_in), height_in=Decimal(height_in))


def test_two_sides_run_together_mean_what_their_call_size_means() -> None:
    # 3060 and 30x60: greathousedesign.com, a call size is feet, inches of the width, then of the height.
    sides = [f"{feet}{inches}" for feet in range(1, 10) for inches in range(10)]
    for width, height in itertools.product(sides, sides):
        with contextlib.suppress(BadLength):  # such as 2110, which can be cut in two ways
            assert read_size(f"{width}x{height}", unit="feet-inches") == read_size(width + height)


@pytest.mark.parametrize(("text", "unit"), [("3046", "mm"), ("A-3648", "mm"), ("0915x1830", "feet-inches")])
def test_size_that_cannot_be_in_the_unit_that_was_said_is_refused(text: str, unit: LengthUnit) -> None:
    with pytest.raises(BadLength):
        read_size(text, unit=unit)


# Navy line: NAVEDTRA 14069 p. 6-45. Names of types with sizes: IFC files of buildingSMART (Duplex) and exports of
# building models; the rest common practice, no source.
IN_TEXTS = [
    ("No. 3, DH, 2 ft 4 in. by 3 ft 10 in, 12 LTS", "28", "46"),
    ("Fixed:2800mm x 2410mm", "110.23622", "94.88189"),
    ("Fixed: 0915 x 1830mm", "36.02362", "72.04724"),
    ("Fixed_0610x1220mm", "24.01575", "48.03150"),
    ("Skylight:1180 x 1170mm:348112", "46.45669", "46.06299"),
    ("0915 x 1830mm:0915 x 1830mm", "36.02362", "72.04724"),
    ('Fixed 36" x 48"', "36", "48"),
    ('DH-36"x48"', "36", "48"),
    ("Double hung: 3'-0\" x 5'-0\" TYP.", "36", "60"),
    ('36 1/2" x 48 3/4" (tempered)', "36.5", "48.75"),
    ("wood, 3 ft x 4 ft, glass 6mm x 6mm", "36", "48"),
]


@pytest.mark.parametrize(("text", "width_in", "height_in"), IN_TEXTS, ids=[case[0] for case in IN_TEXTS])
def test_one_size_with_its_unit_is_found_in_a_text(text: str, width_in: str, height_in: str) -> None:
    found = size_in_text(text)
    assert found == Size(width_in=Decimal(width_in), height_in=Decimal(height_in))
    assert found == read_size(text)
    assert found.found_in == text


@pytest.mark.parametrize(
    "text",
    [
        "Fixed 30 x 48", "W3", "", "3'-0\" x 5'-0\" x 4\"", "6mm x 12mm x 6mm", "36\" x 48\" or 30\" x 40\"",
        "glass 2 x 4mm", "x" * 400, "1" * 400, "9 x " * 100,
    ],
)  # fmt: skip
def test_text_without_exactly_one_marked_size_gives_none(text: str) -> None:
    assert size_in_text(text) is None


def test_two_sizes_in_a_text_are_both_named() -> None:
    with pytest.raises(BadLength) as raised:
        read_size('36" x 48" or 30" x 40"')
    assert "gives 2 sizes (3' 0\" x 4' 0\", 2' 6\" x 3' 4\")" in raised.value.detail


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("36", "not a call size"),
        ("3006", "not a call size"),
        ("3,050", "comma"),
        ("8/10", "light of glass of 8 x 10 in or one side of 8'-10\""),
        ("10/12", "light of glass of 10 x 12 in;"),
        ("30 46", "two sides"),
        ("36 x 60 x 4", "two sides"),
        ("3 x 5'", "feet on one side only"),
        ("3-0 x 5", "feet on one side only"),
        ("36 W x 48 W", "same side twice"),
        ("36 x", "not a length"),
    ],
)
def test_what_is_no_size_is_refused_with_what_would_be_right(text: str, why: str) -> None:
    with pytest.raises(BadLength, match=why):
        read_size(text)


def test_call_size_under_a_height_first_heading_is_refused() -> None:
    with pytest.raises(BadLength, match="height first"):
        read_size("3046", height_first=True)
