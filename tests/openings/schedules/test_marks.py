"""Rows that name several marks, and marks that stand in several rows."""

from __future__ import annotations

import contextlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from openings.errors import BadSchedule
from openings.schedules import Meaning
from openings.schedules.layout import Marks
from openings.schedules.lines.mark_ranges import MOST_MARKS, several_in
from tests.openings.schedules.grids import MARK, QTY, RO_H, RO_W, rows, taken

HEADS = ["Mark", "RO Width", "RO Height"]
COLUMNS = (MARK, RO_W, RO_H)


def one(mark: str, quantity: object = None, marks: Marks | None = None):  # type: ignore[no-untyped-def]
    """Return what a schedule of one row gives."""
    if quantity is None:
        return rows([HEADS, [mark, 36, 54]], *COLUMNS, marks=marks)
    return rows([[*HEADS, "Qty"], [mark, 36, 54, quantity]], *COLUMNS, QTY, marks=marks)


# How schedules name several marks in one row: the issue, point 2; common practice, no source.
SEVERAL = [
    ("W1-W4", ["W1", "W2", "W3", "W4"]),
    ("W1 - W4", ["W1", "W2", "W3", "W4"]),
    ("W1 thru W4", ["W1", "W2", "W3", "W4"]),
    ("W1 to W4", ["W1", "W2", "W3", "W4"]),
    ("W1 through 4", ["W1", "W2", "W3", "W4"]),
    ("W1\N{EN DASH}4", ["W1", "W2", "W3", "W4"]),
    ("W1\N{EN DASH}W4", ["W1", "W2", "W3", "W4"]),
    ("W-1..W-4", ["W-1", "W-2", "W-3", "W-4"]),
    ("W-1-W-3", ["W-1", "W-2", "W-3"]),
    ("2W1-2W3", ["2W1", "2W2", "2W3"]),
    ("101A-101C", ["101A", "101B", "101C"]),
    ("101 to 103", ["101", "102", "103"]),
    ("A thru C", ["A", "B", "C"]),
    ("W01-W03", ["W01", "W02", "W03"]),
    ("W08-W11", ["W08", "W09", "W10", "W11"]),
    ("A, B & C", ["A", "B", "C"]),
    ("A and B", ["A", "B"]),
    ("W1; W2", ["W1", "W2"]),
    ("101, 102 & 105", ["101", "102", "105"]),
    ("W1, W3-W5", ["W1", "W3", "W4", "W5"]),
]


@pytest.mark.parametrize(("mark", "marks"), SEVERAL, ids=[case[0] for case in SEVERAL])
@pytest.mark.parametrize("has_quantity", [False, True], ids=["no quantity", "as many"])
def test_range_or_list_is_one_opening_each(mark: str, marks: list[str], has_quantity: bool) -> None:
    read = one(mark, len(marks) if has_quantity else None)
    assert (read.faults, read.questions) == ((), ())
    assert taken(read) == [(each, 1) for each in marks]
    assert {row.row for row in read.rows} == {2}
    assert any(f"“{mark}” (row 2)" in note for note in read.notes)


# Common practice, no source: W3-01 is the first opening of W3, and a mark may hold a hyphen, a slash or words.
SINGLE = [
    "W3-01", "W3-12-01", "W-1", "W1", "101", "1-101", "104-101", "2-A", "W1-A", "A1-D1", "1/A5", "A1/B2", "W1 (alt)",
    "3050-SH", "Bed & Bath", "W1 & W2 similar", "Stair to roof", "N-101", "W4-1",
]  # fmt: skip


@pytest.mark.parametrize("mark", SINGLE)
def test_mark_with_a_hyphen_or_words_stays_one(mark: str) -> None:
    read = one(mark, 2)
    assert (read.faults, read.questions) == ((), ())
    assert taken(read) == [(mark, 2)]


# What can be a range or a mark is asked: the issue, nothing guessed silently.
OPEN = [
    ("101-104", None, ["101", "102", "103", "104"]),
    ("101-104", 4, ["101", "102", "103", "104"]),
    ("W1-4", None, ["W1", "W2", "W3", "W4"]),
    ("A-C", None, ["A", "B", "C"]),
    ("A/B/C", None, ["A", "B", "C"]),
    ("W1/W2", 2, ["W1", "W2"]),
    ("W1-W4", 1, ["W1", "W2", "W3", "W4"]),
    ("101-103, 110", None, ["101", "102", "103", "110"]),
]


@pytest.mark.parametrize(("mark", "quantity", "marks"), OPEN, ids=[f"{case[0]} {case[1] or ''}" for case in OPEN])
def test_what_can_be_one_mark_or_several_is_asked_once(mark: str, quantity: int | None, marks: list[str]) -> None:
    read = one(mark, quantity)
    [asked] = read.questions
    assert (asked.field, asked.heading, asked.choices) == ("marks", "Mark", ("ranges", "as written"))
    assert f"“{mark}” in row 2 can mean {len(marks)} marks, {', '.join(marks)}" in asked.detail
    assert "or one mark" in asked.detail
    assert taken(read) == [(each, 1) for each in marks]


@pytest.mark.parametrize(("mark", "quantity", "marks"), OPEN, ids=[f"{case[0]} {case[1] or ''}" for case in OPEN])
@pytest.mark.parametrize("way", list(Marks))
def test_marks_are_read_as_settled(mark: str, quantity: int | None, marks: list[str], way: Marks) -> None:
    read = one(mark, quantity, way)
    assert (read.faults, read.questions) == ((), ())
    assert taken(read) == ([(each, 1) for each in marks] if way is Marks.RANGES else [(mark, quantity or 1)])


@pytest.mark.parametrize("quantity", [1, 2, 8], ids=str)
def test_open_mark_whose_quantity_clashes_is_rather_one(quantity: int) -> None:
    read = one("101-104", quantity)
    assert read.questions[0].choices == ("as written", "ranges")
    assert taken(read) == [("101-104", quantity)]


def test_many_open_marks_are_one_question() -> None:
    read = rows([HEADS, ["101-102", 36, 54], ["201-203", 36, 54], ["A-B", 24, 36]], *COLUMNS)
    [asked] = read.questions
    assert "There are 2 more like it." in asked.detail
    assert len(read.rows) == 7


@pytest.mark.parametrize("other", ["2-1", "1-101", "3-01"])
def test_numbering_by_floor_shows_that_hyphens_are_no_ranges(other: str) -> None:
    # Common practice, no source: 1-2 is the second window of floor 1 where 2-1 is the first of floor 2.
    read = rows([HEADS, ["1-2", 36, 54], [other, 36, 54]], *COLUMNS)
    assert read.questions == ()
    assert [mark for mark, _ in taken(read)] == ["1-2", other]
    assert any("“1-2” (row 2) is one mark" in note for note in read.notes)


WRONG = [
    ("W1-W4", 8, "2 of each or 8 of each"),
    ("W1-W4", 7, "7 in all or 7 of each"),
    ("A, B & C", 2, "2 in all or 2 of each"),
    ("W4-W1", None, "does not rise"),
    ("W1-W1", None, "does not rise"),
    ("C thru A", None, "does not rise"),
    ("W1-W1000", None, f"names 1,000 marks; one row names at most {MOST_MARKS}"),
    ("W1, 2, 3", None, "“2” in “W1, 2, 3” can mean W2 or 2"),
    ("W1, w1", None, "names W1 twice"),
    ("ditto", None, "is not a mark"),
    ('"', None, "is not a mark"),
    ("W" * 51, None, "at most 50"),
]


@pytest.mark.parametrize(("mark", "quantity", "why"), WRONG, ids=[f"{case[0][:12]} {case[1] or ''}" for case in WRONG])
def test_marks_that_cannot_be_told_are_reported(mark: str, quantity: int | None, why: str) -> None:
    read = one(mark, quantity)
    assert read.rows == ()
    [fault] = read.faults
    assert (fault.row, fault.field, fault.value) == (2, "Mark", mark)
    assert why in fault.detail


def test_range_of_999_marks_is_the_longest() -> None:
    assert len(one("W1-W999").rows) == MOST_MARKS


def test_falling_range_is_reported_once_ranges_are_settled() -> None:
    assert "does not rise" in one("104-101", marks=Marks.RANGES).faults[0].detail


def test_long_list_kept_as_written_is_too_long_for_a_mark() -> None:
    text = ", ".join(f"W{number}" for number in range(1, 20))
    assert len(one(text).rows) == 19
    assert "at most 50" in one(text, 19, Marks.AS_WRITTEN).faults[0].detail


def test_mark_may_stand_in_many_rows_where_each_is_an_opening() -> None:
    # Exports of building models have a row an opening: common practice, no source.
    read = rows([HEADS, ["W1", 36, 54], ["W2", 24, 36], ["W1", 36, 54], ["w1", 36, 54]], *COLUMNS)
    assert read.faults == ()
    assert taken(read) == [("W1", 1), ("W2", 1), ("W1", 1), ("W1", 1)]
    assert "Marks in several rows: W1 in 3; each is one opening." in read.notes
    assert "“w1” in row 5 is taken as W1." in read.notes


def test_rows_of_one_mark_with_two_sizes_are_reported_with_both() -> None:
    read = rows([HEADS, ["W1", 36, 54], ["W2", 24, 36], ["W1", 38, 54]], *COLUMNS)
    [fault] = read.faults
    assert (fault.row, fault.field, fault.value) == (4, "RO Width", "38")
    assert "W1 has the rough opening width 3' 0\" in row 2 but the rough opening width 3' 2\" in row 4" in fault.detail
    assert taken(read) == [("W1", 1), ("W2", 1)]


@pytest.mark.parametrize("meaning", [Meaning.OPERATION, Meaning.DETAIL])
def test_rows_of_one_mark_that_differ_otherwise_are_reported_with_both(meaning: Meaning) -> None:
    read = rows([[*HEADS, "Other"], ["W1", 36, 54, "fixed"], ["W1", 36, 54, "casement"]], *COLUMNS, meaning)
    [fault] = read.faults
    assert (fault.row, fault.field) == (3, "Other")
    assert "“fixed” in row 2" in fault.detail
    assert "“casement” in row 3" in fault.detail


def test_size_column_is_named_where_sizes_of_one_mark_differ() -> None:
    read = rows([["Mark", "RO"], ["W1", '36" x 54"'], ["W1", '36" x 60"']], MARK, Meaning.RO_SIZE)
    assert [(fault.row, fault.field) for fault in read.faults] == [(3, "RO")]


def test_range_that_repeats_a_mark_of_another_row_is_looked_at_too() -> None:
    read = rows([HEADS, ["W1-W4", 36, 54], ["W3", 36, 60]], *COLUMNS)
    [fault] = read.faults
    assert "W3 has the rough opening height 4' 6\" in row 2" in fault.detail


def test_quantities_of_a_mark_are_added_up_but_the_same_row_twice_is_reported() -> None:
    heads = [*HEADS, "Qty", "Floor"]
    lines = [heads, ["W1", 36, 54, 2, "1"], ["W1", 36, 54, 3, "2"], ["W1", 36, 54, 1, "2"], ["w1", 36, 54, 3, "2"]]
    read = rows(lines, *COLUMNS, QTY, Meaning.FLOOR)
    assert taken(read) == [("W1", 2), ("W1", 3), ("W1", 1)]
    [fault] = read.faults
    assert "row 3 and in row 5 on floor “2”" in fault.detail
    assert any("added up" in note for note in read.notes)


def test_mark_may_stand_on_floors_that_lines_between_the_rows_name() -> None:
    read = rows([[*HEADS, "Qty"], ["Level 1"], ["W1", 36, 54, 2], ["Level 2"], ["W1", 36, 54, 3]], *COLUMNS, QTY)
    assert read.faults == ()
    assert [(row.mark, row.quantity, row.floor) for row in read.rows] == [("W1", 2, "Level 1"), ("W1", 3, "Level 2")]


def test_mark_of_another_size_on_another_floor_is_reported() -> None:
    read = rows([[*HEADS, "Qty"], ["Level 1"], ["W1", 36, 54, 2], ["Level 2"], ["W1", 38, 54, 3]], *COLUMNS, QTY)
    assert [(fault.row, fault.field) for fault in read.faults] == [(5, "RO Width")]


_MARKS = st.text(alphabet="W0123456789A -–.,;&/to\u0663", max_size=30) | st.text(max_size=60)


@given(_MARKS, st.booleans())
def test_any_text_names_different_marks_or_one_or_is_refused(text: str, is_settled: bool) -> None:
    with contextlib.suppress(BadSchedule):
        several = several_in(text, is_settled=is_settled)
        if several:
            assert 1 < len({mark.casefold() for mark in several.marks}) == len(several.marks) <= MOST_MARKS
