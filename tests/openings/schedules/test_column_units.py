"""What the bare numbers of a column are in, decided for the column as a whole."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from openings.schedules import Meaning
from openings.schedules.headings.plain import Heading
from tests.openings.schedules.grids import MARK, RO, RO_H, RO_W, TableRead, rows, settled

UNIT = Meaning.UNIT_SIZE


def sizes(*cells: object, unit: str | None = None, **rest: Any) -> TableRead:
    """Return what a column of sizes gives; with a unit, a person settled it."""
    column: Meaning | Heading = RO if unit is None else settled(RO, unit)
    return rows([["Mark", "Size"], *([f"W{at}", cell] for at, cell in enumerate(cells))], MARK, column, **rest)


def sides(*pairs: tuple[object, object], **rest: Any) -> TableRead:
    lines = [["Mark", "Width", "Height"], *([f"W{at}", *pair] for at, pair in enumerate(pairs))]
    return rows(lines, MARK, RO_W, RO_H, **rest)


def read_as(read: TableRead) -> list[tuple[Decimal | None, Decimal | None]]:
    return [(row.ro_width_in, row.ro_height_in) for row in read.rows]


# "30x30" may be inches, "3030" is feet and inches: section 11.1 of the check values.
@pytest.mark.parametrize("cells", [("30x30", "30x46"), ("30 x 30",), ("30 x 30", "2'-0\" x 3'-0\"")], ids=str)
def test_column_of_two_digits_is_asked_once_and_read_in_inches_so_far(cells: tuple[str, ...]) -> None:
    read = sizes(*cells)
    [asked] = read.questions
    assert (asked.field, asked.heading, asked.choices) == ("columns.B.unit", "Size", ("in", "feet-inches"))
    assert "30 x 30 in or 3'-0\" x 3'-0\"" in asked.detail
    assert read_as(read)[0] == (30, 30)


SURE = [
    '36" x 48"', "36 1/2 x 48", "36 ½ x 48", "36.5 x 48", "36 x 100", "36 x 120", "09 x 48", "36 in. by 48 in",
]  # fmt: skip


@pytest.mark.parametrize("sure", SURE)
def test_one_size_in_inches_makes_the_column_inches_and_that_is_noted(sure: str) -> None:
    read = sizes("30x30", sure)
    assert read.questions == ()
    assert read_as(read)[0] == (30, 30)
    assert any(f"“30x30” is read in inches, as “{sure}”" in note for note in read.notes)


@pytest.mark.parametrize("other", ["3'-0\" x 4'-0\"", "5/0 x 4/6", "915 x 1830 mm", "3046", "0 x 0", "banana"])
def test_other_sizes_say_nothing_of_bare_ones(other: str) -> None:
    assert [asked.field for asked in sizes("30x30", other).questions] == ["columns.B.unit"]


def test_inches_of_10_that_make_17_ft_are_rather_run_together() -> None:
    read = sizes("28x210")
    assert read.questions[0].choices == ("feet-inches", "in")
    assert read_as(read) == [(32, 34)]


def test_type_and_size_are_asked_with_both_readings() -> None:
    # A-3648, type and inches: section 11.2 of the check values, from a secondary page.
    read = sizes("A-3648", "B-3050")
    [asked] = read.questions
    assert asked.choices == ("in", "feet-inches")
    assert "36 x 48 in or 3'-6\" x 4'-8\"" in asked.detail
    assert read_as(read) == [(36, 48), (30, 50)]


SETTLED = [("in", (30, 46)), ("feet-inches", (36, 54)), ("", (30, 46))]


@pytest.mark.parametrize(("unit", "size"), SETTLED, ids=["inches", "feet and inches", "meaning alone"])
def test_settled_column_is_never_asked_about(unit: str, size: tuple[int, int]) -> None:
    read = sizes("30x46", unit=unit)
    assert read.questions == ()
    assert read_as(read) == [size]
    assert any("read as in" in note for note in read.notes) is (unit == "")


@pytest.mark.parametrize("said", ["heading", "line above"])
def test_unit_of_the_heading_or_of_a_line_above_leaves_nothing_to_ask(said: str) -> None:
    if said == "heading":
        read = rows([["Mark", "Size (in)"], ["W1", "30x46"]], MARK, Heading(meaning=RO, unit="in"))
    else:
        read = sizes("30x46", unit=None, is_unit_stated=True)
    assert (read.questions, read_as(read)) == ((), [(30, 46)])


def test_call_sizes_are_no_question() -> None:
    # 3060 = 36 x 72: engineerfix.com.
    read = sizes("3060", 3068, "2860")
    assert (read.questions, read_as(read)) == ((), [(36, 72), (36, 80), (32, 72)])


# 0915x1830, metric: section 11.1 of the check values. Inch of 25.4 mm: NIST Handbook 44, Appendix C.
@pytest.mark.parametrize("cell", ["0915x1830", "915 x 1830"])
def test_sizes_too_large_for_inches_are_asked_and_read_in_millimeters_so_far(cell: str) -> None:
    read = sizes(cell, "600 x 450")
    [asked] = read.questions
    assert (asked.field, asked.choices) == ("columns.B.unit", ("mm", "in"))
    assert read_as(read)[0] == (Decimal("36.02362"), Decimal("72.04724"))


def test_one_size_too_large_among_inches_is_a_fault() -> None:
    read = sizes("36.5 x 54", "915 x 1830")
    assert read.questions == ()
    assert [(fault.row, "say mm in the heading" in fault.detail) for fault in read.faults] == [(3, True)]


@pytest.mark.parametrize(
    ("cells", "choices", "first"),
    [
        (("3 x 5", "2.5 x 4"), ("ft", "m", "in"), (36, 60)),
        (("0.9 x 1.2",), ("m", "ft", "in"), (Decimal("35.43307"),) * 2),
    ],
    ids=["feet", "meters"],
)
def test_sizes_too_small_for_inches_are_asked(cells: tuple[str, ...], choices: tuple[str, ...], first: Any) -> None:
    read = sizes(*cells)
    assert read.questions[0].choices == choices
    assert read_as(read)[0][0] == first[0]


@pytest.mark.parametrize("pair", [(30, 46), (36.5, 54.25), ("36", "54 1/2"), (110, 48), (9, 36)], ids=str)
def test_bare_sides_are_inches_without_a_question(pair: tuple[object, object]) -> None:
    assert sides(pair).questions == ()


def test_sides_too_large_for_inches_are_asked_for_both_columns() -> None:
    read = sides((915, 1830), (300, "0450"), ("", ""))
    assert [(asked.field, asked.choices) for asked in read.questions] == [
        ("columns.B.unit", ("mm", "in")), ("columns.C.unit", ("mm", "in")),
    ]  # fmt: skip
    assert read_as(read) == [
        (Decimal("36.02362"), Decimal("72.04724")), (Decimal("11.81102"), Decimal("17.71654")),
    ]  # fmt: skip


@pytest.mark.parametrize("pair", [(36, 915), (100, 1830), (13000, 1830)], ids=str)
def test_sides_that_can_all_be_no_millimeters_are_faults(pair: tuple[int, int]) -> None:
    read = sides(pair)
    assert read.questions == ()
    assert read.faults


def test_side_without_a_unit_beside_one_with_is_asked() -> None:
    columns = (Heading(meaning=RO_W, unit="mm"), RO_H)
    read = rows([["Mark", "Width (mm)", "Height"], ["W1", 915, 450]], MARK, *columns)
    assert [(asked.field, asked.choices) for asked in read.questions] == [("columns.C.unit", ("mm", "in"))]
    assert read_as(read) == [(Decimal("36.02362"), Decimal("17.71654"))]


def test_sides_too_small_for_inches_are_asked() -> None:
    read = sides((3, 4.5), (2.5, 5))
    assert [asked.choices for asked in read.questions] == [("ft", "m", "in")] * 2
    assert read_as(read) == [(36, 54), (30, 60)]


def test_settled_side_in_feet_and_inches_run_together() -> None:
    lines = [["Mark", "Width", "Height"], ["W1", 30, 210], ["W2", 3050, 46]]
    read = rows(lines, MARK, settled(RO_W, "feet-inches"), settled(RO_H, "feet-inches"))
    assert (read.questions, read_as(read)) == ((), [(36, 34)])
    assert "run together" in read.faults[0].detail


def test_height_above_the_floor_in_millimeters_is_asked() -> None:
    lines = [["Mark", "W", "H", "Sill"], ["W1", '36"', '54"', 0], ["W2", '36"', '54"', 900]]
    read = rows(lines, MARK, RO_W, RO_H, Meaning.SILL_ABOVE_FLOOR)
    assert [(asked.field, asked.choices) for asked in read.questions] == [("columns.D.unit", ("mm", "in"))]
    assert [row.facts for row in read.rows] == [
        {"sill_above_floor_in": 0}, {"sill_above_floor_in": Decimal("35.43307")},
    ]  # fmt: skip


@pytest.mark.parametrize(("height", "is_asked"), [(700, False), (4200, False), (9144, True)], ids=str)
def test_sill_may_lie_high_above_grade(height: int, is_asked: bool) -> None:
    read = rows([["Mark", "W", "H", "Sill"], ["W1", '36"', '54"', height]], MARK, RO_W, RO_H, Meaning.SILL_ABOVE_GRADE)
    assert bool(read.questions) is is_asked


def test_decimal_comma_is_no_thousands_comma() -> None:
    read = sizes("91,5 x 183,25", decimal_comma=True)
    assert (read.questions, read_as(read)) == ((), [(Decimal("91.5"), Decimal("183.25"))])
