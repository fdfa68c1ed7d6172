"""Marks as people write them: one, several, ranges, merged, repeated."""

from __future__ import annotations

import datetime

import pytest

from openings.schedules import Layout, ScheduleRead
from openings.schedules.layout import Marks
from tests.openings.schedules.files import xlsx
from tests.openings.schedules.layouts import (
    Case,
    Opening,
    check,
    is_quiet,
    merged,
    never_silent,
    said,
    sheet,
    taken,
    wanted,
)

RO = (36, 54)


def openings(*marks: str, quantity: int = 1) -> tuple[Opening, ...]:
    return tuple(Opening(mark, quantity, ro=RO) for mark in marks)


def one(mark: str, *marks: str, quantity: object = None, each: int = 1) -> Case:
    """Return a schedule with one row; a range of marks may always be asked about."""
    heads = ["Mark", "RO Width", "RO Height"] + (["Qty"] if quantity is not None else [])
    line = [mark, *RO] + ([quantity] if quantity is not None else [])
    return Case(
        name=f"{mark} {quantity or ''}".strip(),
        content=xlsx([heads, line, ["Z", 24, 36, 1][: len(heads)]]),
        openings=(*openings(*marks, quantity=each), Opening("Z", ro=(24, 36))),
        may_ask="marks",
    )


# Ranges and lists of marks stand for one opening each: the issue, point 2; common practice, no source.
SEVERAL = [
    one("W1-W4", "W1", "W2", "W3", "W4"),
    one("W1 - W4", "W1", "W2", "W3", "W4"),
    one("W1–W4", "W1", "W2", "W3", "W4"),
    one("W1 to W4", "W1", "W2", "W3", "W4"),
    one("W1 thru W4", "W1", "W2", "W3", "W4"),
    one("W1 through W4", "W1", "W2", "W3", "W4"),
    one("W08-W11", "W08", "W09", "W10", "W11"),
    one("101-104", "101", "102", "103", "104"),
    one("A-C", "A", "B", "C"),
    one("A, B & C", "A", "B", "C"),
    one("A,B,C", "A", "B", "C"),
    one("A and B", "A", "B"),
    one("A & B", "A", "B"),
    one("W1, W3-W5", "W1", "W3", "W4", "W5"),
    one("W1; W2", "W1", "W2"),
    one("W1-W4", "W1", "W2", "W3", "W4", quantity=4),
    one("A, B & C", "A", "B", "C", quantity=3),
]

# A mark with a hyphen is one mark where its parts are no two marks of one kind. Common practice, no source.
SINGLE = [
    one(mark, mark, quantity=2, each=2)
    for mark in ("W-1", "W1-A", "2A-1", "1A", "W1.2", "W#3", "W1 (alt)", "N-101", "A1/B2", "WIN 01", "3050-SH")
]

PLACED = [
    sheet(
        "mark merged over its floors",
        """
        Mark | Level | Qty | RO Width | RO Height
        W1   | 1     | 2   | 36       | 54
             | 2     | 3   | 36       | 54
        W2   | 1     | 1   | 24       | 36
        """,
        Opening("W1", 2, ro=RO, floor="1"), Opening("W1", 3, ro=RO, floor="2"), Opening("W2", ro=(24, 36), floor="1"),
        then=merged("A2:A3"),
        may_ask="marks",
    ),
    sheet(
        "size and type merged over their marks",
        """
        Mark | Qty | RO Width | RO Height | Type
        W1   | 2   | 36       | 54        | fixed
        W2   | 3   |          |           |
        W3   | 1   |          |           |
        """,
        *(Opening(mark, count, ro=RO, operation="fixed") for mark, count in (("W1", 2), ("W2", 3), ("W3", 1))),
        then=merged("C2:C4", "D2:D4", "E2:E4"),
    ),
    sheet(
        "the same mark in several rooms",
        """
        Mark | Room    | Qty | RO Width | RO Height
        W1   | Kitchen | 2   | 36       | 54
        W1   | Bath    | 3   | 36       | 54
        W1   | Kitchen | 1   | 36       | 54
        """,
        Opening("W1", 3, ro=RO, floor="Kitchen"), Opening("W1", 3, ro=RO, floor="Bath"),
    ),
    sheet(
        "one row an opening with the same mark, as models of buildings write them",
        """
        Type Mark | Level   | Rough Width | Rough Height
        W1        | Level 1 | 36          | 54
        W1        | Level 1 | 36          | 54
        W1        | Level 2 | 36          | 54
        """,
        Opening("W1", 2, ro=RO, floor="Level 1"), Opening("W1", 1, ro=RO, floor="Level 2"),
    ),
    sheet(
        "numbers as marks",
        """
        No. | Qty | RO Width | RO Height
        1   | 2   | 36       | 54
        2   | 1   | 24       | 36
        """,
        Opening("1", 2, ro=RO), Opening("2", 1, ro=(24, 36)),
    ),
    sheet(
        "item number beside the mark",
        """
        Item | Mark | Qty | RO Width | RO Height
        1    | W7   | 2   | 36       | 54
        2    | W9   | 1   | 24       | 36
        """,
        Opening("W7", 2, ro=RO), Opening("W9", 1, ro=(24, 36)),
        may_ask=r"columns\.[AB]\.meaning",
    ),
    sheet(
        "letters that surround a mark",
        "Mark | Qty | RO Width | RO Height\n\u200fW1\u200e | 2 | 36 | 54\n\u00a0W2\u00a0\u200b | 1 | 24 | 36\n",
        Opening("W1", 2, ro=RO), Opening("W2", 1, ro=(24, 36)),
    ),
]  # fmt: skip

CASES: list[Case] = SEVERAL + SINGLE + PLACED


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_marks_are_read(case: Case) -> None:
    check(case)


@pytest.mark.parametrize("case", SEVERAL, ids=lambda case: case.name)
def test_range_is_never_opened_in_silence(case: Case) -> None:
    read = case.read()
    written = case.name.removesuffix(" 4").removesuffix(" 3")
    assert written in " ".join([*read.notes, *(asked.detail for asked in read.questions)])


@pytest.mark.parametrize("mark", ["W1-W4", "A, B & C", "101-104"])
def test_marks_can_be_kept_as_written(mark: str) -> None:
    case = one(mark, mark, quantity=2, each=2)
    read = case.read(settled=Layout(marks=Marks.AS_WRITTEN))
    assert (read.faults, read.questions) == ((), ())
    assert taken(read.rows, like=case.openings) == wanted(case.openings)


@pytest.mark.parametrize("case", SEVERAL, ids=lambda case: case.name)
def test_ranges_are_opened_without_a_question_once_settled(case: Case) -> None:
    read = case.read(settled=Layout(marks=Marks.RANGES))
    assert (read.faults, read.questions) == ((), ())
    assert taken(read.rows, like=case.openings) == wanted(case.openings)


# A quantity that the marks do not share out evenly, or a range that runs nowhere: common practice, no source.
DOUBTFUL = [("W1-W4", 3), ("W1-W4", 7), ("A, B & C", 2), ("W4-W1", 4), ("W1-W9999", 9999), ("W1, W1", 2)]


@pytest.mark.parametrize(("mark", "quantity"), DOUBTFUL, ids=[f"{mark} {quantity}" for mark, quantity in DOUBTFUL])
def test_doubtful_range_is_asked_or_reported(mark: str, quantity: int) -> None:
    content = xlsx([["Mark", "Qty", "RO Width", "RO Height"], [mark, quantity, *RO], ["Z", 1, 24, 36]])
    told = never_silent(content)
    assert isinstance(told, ScheduleRead)
    assert mark in said(told) or {(fault.row, fault.value) for fault in told.faults} <= {(2, mark), (2, str(quantity))}


def test_even_multiple_over_a_range_is_shared_or_asked() -> None:
    # 8 of W1-W4 may be 2 each or 8 each: common practice, no source. The reader says which, or asks.
    read = one("W1-W4", "W1", quantity=8).read()
    told = " ".join([*read.notes, said(read)])
    assert "W1-W4" in told
    assert "8" in told


DITTO = ["", '"', "''", "do.", "ditto", "-"]


@pytest.mark.parametrize("written", DITTO)
def test_row_without_a_mark_of_its_own_is_filled_with_a_word_or_reported(written: str) -> None:
    # Common practice, no source: a blank or a ditto mark repeats the mark above, or was forgotten.
    content = xlsx([["Mark", "Qty", "RO Width", "RO Height"], ["W1", 2, *RO], [written, 3, 24, 36]])
    case = Case(name="", content=content, openings=())
    read = case.read()
    if is_quiet(read):
        assert [(row.mark, row.quantity) for row in read.rows] == [("W1", 2), ("W1", 3)]
        assert any("3" in note for note in read.notes)
    else:
        assert {fault.row for fault in read.faults} <= {3}


@pytest.mark.parametrize("cell", [datetime.date(2025, 1, 2), datetime.datetime(2025, 3, 1)], ids=["1-2", "Mar-1"])  # noqa: DTZ001, a cell has no zone
def test_date_that_a_spreadsheet_made_of_a_mark_is_reported(cell: object) -> None:
    told = never_silent(xlsx([["Mark", "Qty", "RO Width", "RO Height"], [cell, 2, *RO], ["Z", 1, 24, 36]]))
    assert isinstance(told, ScheduleRead)
    assert [(fault.row, fault.field) for fault in told.faults] == [(2, "Mark")]


@pytest.mark.parametrize("words", ["NOT USED", "void", "deleted", "(omitted)", "RESERVED"])
def test_mark_that_is_not_used_is_no_opening(words: str) -> None:
    # Common practice, no source: a number that fell away stays in the list so that nobody gives it again.
    content = xlsx([["Mark", "Qty", "RO Width", "RO Height"], ["W1", 2, *RO], ["W2", words], ["W3", 1, 24, 36]])
    read = Case(name="", content=content, openings=()).read()
    assert [row.mark for row in read.rows] == ["W1", "W3"]
    assert any("3" in note for note in read.notes) or {fault.row for fault in read.faults} == {3}


def test_one_mark_with_two_sizes_is_reported_with_both_rows() -> None:
    # Common practice, no source: a mark names one kind of window.
    content = xlsx([["Mark", "Qty", "RO Width", "RO Height"], ["W1", 2, *RO], ["Z", 1, *RO], ["w1", 1, 24, 36]])
    told = never_silent(content)
    assert "2" in said(told)
    assert "4" in said(told)


@pytest.mark.parametrize("quantities", [(2, 2), (4, 2, 2), (2, 4, 2)], ids=str)
def test_row_that_says_the_same_as_an_earlier_one_is_reported(quantities: tuple[int, ...]) -> None:
    # Common practice, no source: a row copied by mistake would order as many windows more.
    content = xlsx([["Mark", "Qty", "RO Width", "RO Height"], *(["W1", quantity, *RO] for quantity in quantities)])
    told = never_silent(content)
    assert isinstance(told, ScheduleRead)
    assert {fault.row for fault in told.faults} == {len(quantities) + 1}
