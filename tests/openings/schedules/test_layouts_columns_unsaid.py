"""Columns that no heading explains: quantities without a name, numbers headed like marks.

How people head a quantity and number their rows: common practice, no source.
"""

from __future__ import annotations

from typing import Any

import pytest

from openings.schedules import ScheduleRead, layout_of, read_schedule
from tests.openings.schedules.files import xlsx


def read(lines: list[list[Any]], mapping: dict[str, Any] | None = None) -> ScheduleRead:
    return read_schedule(filename="windows.xlsx", content=xlsx(lines), settled=layout_of(mapping))


def taken(found: ScheduleRead) -> list[tuple[str, int]]:
    return [(row.mark, row.quantity) for row in found.rows]


UNSAID = [
    "No.", "#", "Req.", "Req'd", "How many", "Nos", "Pcs", "Ea", "Units", "Anz.", "Needed", "To set", "x", "Model",
    "Sheet", None,
]  # fmt: skip


@pytest.mark.parametrize("heading", UNSAID)
@pytest.mark.parametrize("quantities", [(4, 2, 11), ("4 ea", "2 ea", "11 ea")], ids=["bare", "ea"])
def test_small_whole_numbers_are_never_passed_over_where_no_quantity_is_known(
    heading: str | None, quantities: tuple[Any, ...]
) -> None:
    sizes = [36, 24, 48]
    lines = [["Mark", heading, "RO Width", "RO Height"]]
    lines += [[f"W{n}", many, size, 54] for n, many, size in zip((1, 2, 3), quantities, sizes, strict=True)]
    found = read(lines)
    asked = [one for one in found.questions if one.field == "columns.B.meaning"]
    if not asked:
        assert taken(found) == [("W1", 4), ("W2", 2), ("W3", 11)] or found.faults
        return
    assert "quantity" in asked[0].choices
    assert "“4" in asked[0].detail
    answered = read(lines, {"columns": {"B": "quantity"}})
    assert answered.questions == ()
    if isinstance(quantities[0], int):
        assert taken(answered) == [("W1", 4), ("W2", 2), ("W3", 11)]
    left = read(lines, {"columns": {"B": "not read"}})
    assert (left.questions, taken(left)) == ((), [("W1", 1), ("W2", 1), ("W3", 1)])


def test_of_two_columns_of_small_numbers_both_are_asked_about() -> None:
    lines = [["Mark", "Req.", "Sets", "RO Width", "RO Height"], ["W1", 4, 2, 36, 54], ["W2", 1, 3, 24, 36]]
    found = read(lines)
    assert {one.field for one in found.questions} == {"columns.B.meaning", "columns.C.meaning"}
    assert read(lines, {"columns": {"B": "quantity"}}).questions == ()
    second = read(lines, {"columns": {"B": "not read"}})
    assert [one.field for one in second.questions] == ["columns.C.meaning"]
    assert taken(read(lines, {"columns": {"B": "not read", "C": "quantity"}})) == [("W1", 2), ("W2", 3)]


def test_numbers_of_rows_are_no_quantity_and_a_known_quantity_asks_nothing() -> None:
    numbered = [["Row", "Mark", "RO Width", "RO Height"], *([n, f"W{n}", 36, 54] for n in range(1, 10))]
    assert read(numbered).questions == ()
    known = [["No.", "Mark", "Qty", "RO Width", "RO Height"], [7, "W1", 2, 36, 54], [9, "W2", 3, 24, 36]]
    assert (read(known).questions, taken(read(known))) == ((), [("W1", 2), ("W2", 3)])


NUMBERS = [("Mark", "Item"), ("Tag", "Code"), ("Mark", "Pos."), ("Window No.", "Symbol"), ("Mk", "What")]


@pytest.mark.parametrize(("numbers", "marks"), NUMBERS)
def test_numbers_are_no_marks_where_another_column_reads_as_marks(numbers: str, marks: str) -> None:
    rows = [(101, "W1", 2), (102, "A-101", 1), (103, "B2", 4)]
    lines = [[numbers, marks, "Qty", "RO Width", "RO Height"], *([n, mark, q, 36, 54] for n, mark, q in rows)]
    found = read(lines)
    assert [one.field for one in found.questions] == ["columns.B.meaning"]
    assert taken(found) == [("W1", 2), ("A-101", 1), ("B2", 4)]
    as_marks = read(lines, {"columns": {"B": "mark"}})
    assert (as_marks.questions, taken(as_marks)) == ((), taken(found))
    as_numbers = read(lines, {"columns": {"B": "not read"}})
    assert (as_numbers.questions, taken(as_numbers)) == ((), [("101", 2), ("102", 1), ("103", 4)])


def test_type_that_reads_as_marks_is_asked_about_beside_numbers() -> None:
    lines = [["Mark", "Type", "Qty", "RO Width", "RO Height"], [1, "W1", 2, 36, 54], [2, "W2", 1, 24, 36]]
    found = read(lines)
    assert [one.field for one in found.questions] == ["columns.B.meaning"]
    assert taken(read(lines, {"columns": {"B": "mark"}})) == [("W1", 2), ("W2", 1)]
    assert taken(read(lines, {"columns": {"B": "operation"}})) == [("1", 2), ("2", 1)]


def test_numbers_stay_marks_where_nothing_else_reads_as_marks() -> None:
    lines = [["Mark", "Type", "Qty", "RO Width", "RO Height"], [101, "fixed", 2, 36, 54], [102, "awning", 1, 24, 36]]
    found = read(lines)
    assert (found.questions, taken(found)) == ((), [("101", 2), ("102", 1)])


HEAD = ["Mark", "Qty", "RO Width", "RO Height"]
W1, W2, W3 = ["W1", 4, 36, 54], ["W2", 2, 24, 36], ["W3", 5, 48, 60]
DIFFERING = [
    ("of quantities", [HEAD, W1, W2, W3, ["Total", 12, None, None]]),
    ("of quantities in a text", [HEAD, W1, W2, W3, ["Total windows: 12", None, None, None]]),
    ("of quantities under a size", [HEAD, W1, W2, W3, [None, None, None, "Total units 12"]]),
    ("of rows", [HEAD, W1, W2, W3, ["Total types: 4", None, None, None]]),
    ("grand", [HEAD, W1, ["Subtotal", 4], W2, W3, ["Subtotal", 7], ["Grand total", 12]]),
    ("of a group", [HEAD, W1, W2, ["Subtotal", 7], W3, ["Total", 11]]),
    ("of a floor", [HEAD, ["Level 1"], W1, W2, ["Level 1 total", 5], ["Level 2"], W3, ["Level 2 total", 5]]),
    ("of a floor at its end", [HEAD, W1, W2, ["Level 1: 7"], W3, ["Level 2: 5"]]),
    ("said in words", [HEAD, W1, W2, W3, ["12 windows in all"]]),
    ("sum", [HEAD, W1, W2, W3, ["Sum", 10]]),
]


@pytest.mark.parametrize("lines", [lines for _, lines in DIFFERING], ids=[name for name, _ in DIFFERING])
def test_total_that_differs_from_the_rows_is_asked_about_until_the_rows_are_taken(lines: list[list[Any]]) -> None:
    found = read(lines)
    [asked] = found.questions
    assert (asked.field, asked.choices) == ("totals", ("rows as read",))
    assert "states" in asked.detail
    assert found.faults == ()
    settled = read(lines, {"totals": "rows as read"})
    assert (settled.questions, taken(settled)) == ((), [("W1", 4), ("W2", 2), ("W3", 5)])
    assert read(lines, settled.layout.as_json()).questions == ()
    remembered = read_schedule(
        filename="windows.xlsx", content=xlsx(lines), remembered={settled.fingerprint: settled.layout}
    )
    assert [one.field for one in remembered.questions] == ["totals"]


EQUAL = [
    ("of quantities", [HEAD, W1, W2, W3, ["Total", 11, None, None]]),
    ("of quantities under a size", [HEAD, W1, W2, W3, [None, None, None, "Total units 11"]]),
    ("of rows", [HEAD, W1, W2, W3, ["Total types: 3", None, None, None]]),
    ("grand", [HEAD, W1, ["Subtotal", 4], W2, W3, ["Subtotal", 7], ["Grand total", 11]]),
    ("of a floor", [HEAD, ["Level 1"], W1, W2, ["Level 1 total", 6], ["Level 2"], W3, ["Level 2 total", 5]]),
    ("of a floor at its end", [HEAD, W1, W2, ["Level 1: 6"], W3, ["Level 2: 5"]]),
    ("without a number", [HEAD, W1, W2, W3, ["Total", None]]),
]


@pytest.mark.parametrize("lines", [lines for _, lines in EQUAL], ids=[name for name, _ in EQUAL])
def test_total_that_the_rows_come_to_asks_nothing(lines: list[list[Any]]) -> None:
    found = read(lines)
    assert (found.questions, found.faults) == ((), ())
    assert taken(found) == [("W1", 4), ("W2", 2), ("W3", 5)]
