"""How many: quantities in words and numbers, counts a floor, totals that do not agree."""

from __future__ import annotations

import pytest

from openings.schedules import Meaning, ScheduleRead
from openings.schedules.layout import ColumnAnswer
from tests.openings.schedules.files import xlsx
from tests.openings.schedules.layouts import COMMON, Case, Opening, answered, check, merged, never_silent, sheet

RO = (36, 54)


def floors(mark: str, size: tuple[float, float], **counts: int) -> tuple[Opening, ...]:
    return tuple(Opening(mark, count, ro=size, floor=floor) for floor, count in counts.items())


COUNTED = (*floors("W1", RO, L1=2, L2=3, L3=4), *floors("W2", (24, 36), L1=1, L3=2))

FLOORS = [
    sheet(
        "a column a level",
        """
        Mark | L1 | L2 | L3 | RO Width | RO Height
        W1   | 2  | 3  | 4  | 36       | 54
        W2   | 1  |    | 2  | 24       | 36
        """,
        *COUNTED,
        may_ask=r"columns\.[BCD]\..*",
    ),
    sheet(
        "a column a level with a total",
        """
        Mark | RO Width | RO Height | L1 | L2 | L3 | Total
        W1   | 36       | 54        | 2  | 3  | 4  | 9
        W2   | 24       | 36        | 1  | 0  | 2  | 3
        """,
        *COUNTED,
        may_ask=r"columns\.[DEFG]\..*",
    ),
    sheet(
        "levels below a merged quantity, and a row of totals",
        """
        Mark | RO Width | RO Height | Quantity | | |
             |          |           | L1 | L2 | L3 | Total
        W1   | 36       | 54        | 2  | 3  | 4  | 9
        W2   | 24       | 36        | 1  | -  | 2  | 3
        Total |         |           | 3  | 3  | 6  | 12
        """,
        *COUNTED,
        then=merged("A1:A2", "B1:B2", "C1:C2", "D1:G1"),
        may_ask=r"columns\.[DEFG]\..*",
    ),
    sheet(
        "floors by their names",
        """
        Mark | 1st Floor | 2nd Floor | Qty | RO Width | RO Height
        W1   | 2         | 3         | 5   | 36       | 54
        """,
        *floors("W1", RO, **{"1st Floor": 2, "2nd Floor": 3}),
        may_ask=r"columns\.[BCD]\..*",
    ),
    sheet(
        "Level 1 and Level 2 with quantities in their headings",
        """
        Mark | Level 1 Qty | Level 2 Qty | Total Qty | RO Width | RO Height
        W1   | 2           | 3           | 5         | 36       | 54
        """,
        *floors("W1", RO, **{"Level 1": 2, "Level 2": 3}),
        may_ask=r"columns\.[BCD]\..*",
    ),
    sheet(
        "basement and ground floor",
        """
        Mark | Basement | Ground | First | RO Width | RO Height
        W1   | 1        | 2      | 3     | 36       | 54
        """,
        *floors("W1", RO, Basement=1, Ground=2, First=3),
        may_ask=r"columns\.[BCD]\..*",
    ),
]  # fmt: skip


def counted(written: str, count: int, heading: str = "Qty") -> Case:
    text = f"Mark | {heading} | RO Width | RO Height\nW1 | {written} | 36 | 54\nW2 | 1 | 24 | 36\n"
    return sheet(f"{heading} {written}", text, Opening("W1", count, ro=RO), Opening("W2", ro=(24, 36)), source=COMMON)


NUMBERS = [
    counted("2", 2),
    counted("'2", 2),
    counted("2.0", 2),
    counted("12", 12, "No. Req'd"),
    counted("12", 12, "# of Units"),
    counted("12", 12, "TOTAL QTY"),
    counted("12", 12, "Count"),
    counted("12", 12, "No. of Windows"),
]

MISSING = [
    sheet(
        "one row an opening",
        """
        Window No. | RO Width | RO Height
        101        | 36       | 54
        102        | 36       | 54
        103        | 24       | 36
        """,
        Opening("101", ro=RO), Opening("102", ro=RO), Opening("103", ro=(24, 36)),
    ),
]  # fmt: skip

CASES: list[Case] = FLOORS + NUMBERS + MISSING


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_counts_are_read(case: Case) -> None:
    check(case)


@pytest.mark.parametrize("written", ["2 ea", "2 EA.", "(2)", "2 pcs", "x2", "two", "2 units", "2no.", "2 (1 L, 1 R)"])
def test_quantity_in_words_is_two_or_reported(written: str) -> None:
    # Common practice, no source. Our rule: the number itself, or a fault at that cell, never another number.
    read = Case(
        name="", content=xlsx([["Mark", "Qty", "RO Width", "RO Height"], ["W1", written, *RO]]), openings=()
    ).read()
    if read.faults:
        assert [(fault.row, fault.field, fault.value) for fault in read.faults] == [(2, "Qty", written)]
    else:
        assert [row.quantity for row in read.rows] == [2]


@pytest.mark.parametrize("written", ["1.5", -2, "?", "2-3", "2+1", "TBD", "1/2", 1000000, "2 x 3", "#N/A", "as req'd"])
def test_quantity_that_nobody_can_know_is_reported(written: object) -> None:
    told = never_silent(xlsx([["Mark", "Qty", "RO Width", "RO Height"], ["W1", written, *RO], ["W2", 1, *RO]]))
    assert isinstance(told, ScheduleRead)
    assert [(fault.row, fault.field) for fault in told.faults] == [(2, "Qty")]
    assert [row.mark for row in told.rows] == ["W2"]


def test_missing_quantity_column_is_named() -> None:
    assert any("quantity" in note.lower() for note in MISSING[0].read().notes)


@pytest.mark.parametrize("total", [8, 90])
def test_total_that_is_not_the_sum_of_its_floors_is_reported(total: int) -> None:
    # Arithmetic: 2 + 3 + 4 = 9.
    content = xlsx([["Mark", "L1", "L2", "L3", "Total Qty", "RO Width", "RO Height"], ["W1", 2, 3, 4, total, *RO]])
    told = never_silent(content)
    assert isinstance(told, ScheduleRead)
    assert {fault.row for fault in told.faults} == {2}
    assert "9" in told.faults[0].detail
    assert str(total) in told.faults[0].detail + told.faults[0].value


def test_floor_of_a_column_of_counts_can_be_settled() -> None:
    case = sheet(
        "columns that say nothing",
        """
        Mark | East | West | RO Width | RO Height
        W1   | 2    | 3    | 36       | 54
        """,
        *floors("W1", RO, **{"East wing": 2, "West": 3}),
    )
    columns = {
        "B": ColumnAnswer(meaning=Meaning.COUNT_ON_FLOOR, floor="East wing"),
        "C": ColumnAnswer(meaning=Meaning.COUNT_ON_FLOOR),
    }
    answered(case, columns)


def test_row_counted_on_no_floor_is_not_dropped_in_silence() -> None:
    content = xlsx([["Mark", "L1", "L2", "RO Width", "RO Height"], ["W1", 2, 3, *RO], ["W2", None, 0, *RO]])
    read = Case(name="", content=content, openings=()).read()
    assert "W2" not in {row.mark for row in read.rows}
    assert any("3" in note for note in read.notes) or 3 in {fault.row for fault in read.faults}
