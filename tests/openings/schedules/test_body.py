"""Which lines beneath the headings are openings, and what the others are."""

from __future__ import annotations

import time

import pytest

from openings.schedules import Meaning
from tests.openings.schedules.grids import MARK, QTY, RO_H, RO_W, rows, taken

HEADINGS = ["Mark", "Qty", "RO Width", "RO Height"]

BETWEEN = [
    ("rules", ["---", "--", "---", "***"], ""),
    ("headings again", ["MARK", "QTY", "RO WIDTH", "RO HEIGHT"], "was skipped"),
    ("subtotal with its label in the column of marks", ["Subtotal", 2, "", ""], "was skipped"),
    ("total of areas below a side", ["Total", 2, 90, ""], "was skipped"),
    ("total without a label", ["", 2, "", ""], "was skipped"),
    ("count that closes a group", ["Level 1: 2", "", "", ""], "was skipped"),
    ("group of a type", ["Type A windows", "", "", ""], "heads the rows below it; as it names no floor"),
    ("mark that is not used", ["W9", "NOT USED", "", ""], "was skipped"),
    ("note with its number apart", ["1.", "verify in field", "", ""], "was skipped"),
    ("title of a page", ["Window schedule (continued)", "", "", ""], "was skipped"),
]


@pytest.mark.parametrize(("line", "note"), [case[1:] for case in BETWEEN], ids=[case[0] for case in BETWEEN])
def test_line_between_the_rows_is_no_opening(line: list[object], note: str) -> None:
    # What stands between rows: common practice, no source.
    read = rows([HEADINGS, ["W1", 2, 36, 54], line, ["W2", 1, 24, 36]], MARK, QTY, RO_W, RO_H)
    assert (read.faults, read.questions) == ((), ())
    assert taken(read) == [("W1", 2), ("W2", 1)]
    assert [row.floor for row in read.rows] == ["", ""]
    assert any(said.startswith("Row 3") and note in said for said in read.notes) or not note


@pytest.mark.parametrize("line", [["", 3, "", ""], ["W3", "", "", ""], ["W3", 1, "varies", "by owner"]], ids=str)
def test_line_that_may_be_an_opening_is_reported_and_not_passed_over(line: list[object]) -> None:
    read = rows([HEADINGS, ["W1", 2, 36, 54], line, ["W2", 1, 24, 36]], MARK, QTY, RO_W, RO_H)
    assert {fault.row for fault in read.faults} == {3}


FLOORS = ["Level 2", "BUILDING A – NORTH", "LVL 02", "Roof", "Ground floor", "North elevation"]


@pytest.mark.parametrize("text", FLOORS)
def test_line_that_names_a_place_is_the_floor_of_the_rows_beneath(text: str) -> None:
    read = rows([HEADINGS, ["W1", 2, 36, 54], [text], ["W1", 1, 36, 54]], MARK, QTY, RO_W, RO_H)
    assert [row.floor for row in read.rows] == ["", text]


def test_floor_of_the_row_itself_counts_before_the_line_above_it() -> None:
    lines = [[*HEADINGS, "Room"], ["Level 2"], ["W1", 1, 36, 54, "Hall"], ["W2", 1, 36, 54, ""]]
    read = rows(lines, MARK, QTY, RO_W, RO_H, Meaning.FLOOR)
    assert [row.floor for row in read.rows] == ["Hall", "Level 2"]


def test_notes_beneath_are_passed_over_even_where_they_reach_into_the_sizes() -> None:
    lines = [
        HEADINGS, ["W1", 2, 36, 54], [], ["NOTES"],
        ["3.", "W3", "deleted", "by addendum 2"], ["* tempered"], ["W1: egress"],
    ]  # fmt: skip
    read = rows(lines, MARK, QTY, RO_W, RO_H)
    assert (read.faults, taken(read)) == ((), [("W1", 2)])
    assert sum("was skipped" in note for note in read.notes) == 4


def test_other_table_beneath_a_blank_row_is_passed_over() -> None:
    lines = [
        HEADINGS,
        ["W1", 2, 36, 54],
        [],
        ["Type", "Description", "Size of glass", ""],
        ["1", "Casement", "30 x 48", ""],
    ]
    read = rows(lines, MARK, QTY, RO_W, RO_H)
    assert (read.faults, taken(read)) == ((), [("W1", 2)])


def test_table_ends_where_the_headings_say() -> None:
    read = rows([HEADINGS, ["W1", 2, 36, 54], ["A", 1, 1, 1]], MARK, QTY, RO_W, RO_H, last_line=2)
    assert taken(read) == [("W1", 2)]


def test_remark_that_goes_on_in_the_next_row_is_joined() -> None:
    lines = [
        [*HEADINGS, "Remarks"], ["W1", 2, 36, 54, "tempered where"], ["", "", "", "", "near the door"],
        ["", "", "", "", "see A5"], ["W2", 1, 24, 36, ""],
    ]  # fmt: skip
    read = rows(lines, MARK, QTY, RO_W, RO_H, Meaning.REMARKS)
    assert read.faults == ()
    assert [row.remarks for row in read.rows] == ["tempered where near the door see A5", ""]
    assert "Row 3 “near the door” goes on with “Remarks” of the row above it." in read.notes


def test_remark_after_a_blank_row_belongs_to_no_row() -> None:
    lines = [
        [*HEADINGS, "Remarks"],
        ["W1", 2, 36, 54, ""],
        [],
        ["", "", "", "", "see sheet A-601 for everything below this"],
    ]
    read = rows(lines, MARK, QTY, RO_W, RO_H, Meaning.REMARKS)
    assert [row.remarks for row in read.rows] == [""]
    assert any("was skipped" in note for note in read.notes)


def test_rows_are_called_as_the_grid_calls_them() -> None:
    read = rows([HEADINGS, ["W1", 2, 36, 54], ["W2", 0, 24, 36]], MARK, QTY, RO_W, RO_H, row_numbers=(0, 311, 415))
    assert [row.row for row in read.rows] == [311]
    assert [fault.row for fault in read.faults] == [415]


def test_million_blank_rows_cost_little() -> None:
    lines: list[list[object]] = [HEADINGS, ["W1", 2, 36, 54], *[[""] * 4] * 1_000_000, ["W2", 1, 24, 36]]
    before = time.process_time()
    read = rows(lines, MARK, QTY, RO_W, RO_H)
    assert time.process_time() - before < _MUCH_S
    assert [row.row for row in read.rows] == [2, 1_000_003]


_MUCH_S = 5
