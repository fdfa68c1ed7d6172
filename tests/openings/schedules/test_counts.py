"""Columns that count the openings of one floor each."""

from __future__ import annotations

from dataclasses import replace

import pytest

from openings.schedules import Meaning
from openings.schedules.headings.plain import Heading
from tests.openings.schedules.grids import COUNT, MARK, QTY, RO_H, RO_W, rows

COLUMNS = (MARK, RO_W, RO_H, COUNT, COUNT)
HEADS = ["Mark", "RO Width", "RO Height", "Level 1", "Level 2"]


def on_floors(read) -> list[tuple[str, int, str]]:  # type: ignore[no-untyped-def]
    return [(row.mark, row.quantity, row.floor) for row in read.rows]


# Counts a level in columns: the issue, point 2; common practice, no source.
def test_each_floor_with_a_count_is_a_row() -> None:
    read = rows([HEADS, ["W1", 36, 54, 2, 3], ["W2", 24, 36, "", 1]], *COLUMNS)
    assert (read.faults, read.questions) == ((), ())
    assert on_floors(read) == [("W1", 2, "Level 1"), ("W1", 3, "Level 2"), ("W2", 1, "Level 2")]
    assert [row.row for row in read.rows] == [2, 2, 3]


@pytest.mark.parametrize("none", ["", 0, "0", "-", "–", "n/a", None], ids=repr)
def test_blank_dash_and_0_are_no_openings(none: object) -> None:
    read = rows([HEADS, ["W1", 36, 54, none, 3]], *COLUMNS)
    assert on_floors(read) == [("W1", 3, "Level 2")]


def test_floor_of_a_column_can_be_named() -> None:
    east = replace(Heading(meaning=COUNT), floor="East wing")
    read = rows([["Mark", "RO Width", "RO Height", "E"], ["W1", 36, 54, 2]], MARK, RO_W, RO_H, east)
    assert on_floors(read) == [("W1", 2, "East wing")]


def test_building_of_a_line_between_the_rows_stands_before_the_floor() -> None:
    read = rows([HEADS, ["BUILDING A – NORTH"], ["W1", 36, 54, 2, ""]], *COLUMNS)
    assert on_floors(read) == [("W1", 2, "BUILDING A – NORTH, Level 1")]


def test_same_mark_on_other_floors_of_another_row_is_more_openings() -> None:
    read = rows([HEADS, ["W1", 36, 54, 2, ""], ["W1", 36, 54, "", 3]], *COLUMNS)
    assert on_floors(read) == [("W1", 2, "Level 1"), ("W1", 3, "Level 2")]


def test_row_of_counts_that_stands_twice_is_reported() -> None:
    read = rows([HEADS, ["W1", 36, 54, 2, ""], ["W1", 36, 54, 2, ""]], *COLUMNS)
    [fault] = read.faults
    assert "row 2 and in row 3 on floor “Level 1”" in fault.detail
    assert on_floors(read) == [("W1", 2, "Level 1")]


WITH_TOTAL = [*HEADS, "Total"]


@pytest.mark.parametrize("total", [5, "", "-"], ids=repr)
def test_total_that_agrees_or_is_blank_changes_nothing(total: object) -> None:
    read = rows([WITH_TOTAL, ["W1", 36, 54, 2, 3, total]], *COLUMNS, QTY)
    assert read.faults == ()
    assert on_floors(read) == [("W1", 2, "Level 1"), ("W1", 3, "Level 2")]


def test_total_that_is_not_the_sum_names_both() -> None:
    # Arithmetic: 2 + 3 = 5.
    read = rows([WITH_TOTAL, ["W1", 36, 54, 2, 3, 6]], *COLUMNS, QTY)
    [fault] = read.faults
    assert (fault.row, fault.field, fault.value) == (2, "Total", "6")
    assert "the total is 6, but the floors add up to 5 (2 + 3)" in fault.detail
    assert read.rows == ()


@pytest.mark.parametrize(("total", "hint"), [("", "fill in its counts"), (4, "the total of 4 does not say where")])
def test_row_without_a_count_is_reported(total: object, hint: str) -> None:
    read = rows([WITH_TOTAL, ["W1", 36, 54, "", 0, total]], *COLUMNS, QTY)
    [fault] = read.faults
    assert (fault.row, fault.field) == (2, "Level 1")
    assert hint in fault.detail


@pytest.mark.parametrize("count", ["few", -1, 1.5, 1000], ids=repr)
def test_count_that_is_no_whole_number_is_reported(count: object) -> None:
    read = rows([HEADS, ["W1", 36, 54, 2, count]], *COLUMNS)
    [fault] = read.faults
    assert (fault.row, fault.field) == (2, "Level 2")
    assert "whole number from 0 to 999" in fault.detail
    assert read.rows == ()


@pytest.mark.parametrize("label", ["Total", ""])
def test_row_of_totals_is_passed_over(label: str) -> None:
    lines = [WITH_TOTAL, ["W1", 36, 54, 2, 3, 5], ["W2", 24, 36, 1, "", 1], [label, "", "", 3, 3, 6]]
    read = rows(lines, *COLUMNS, QTY)
    assert read.faults == ()
    assert len(read.rows) == 3
    assert any("Row 4" in note and "was skipped" in note for note in read.notes)


def test_range_on_one_floor_is_one_opening_each() -> None:
    read = rows([HEADS, ["W1-W3", 36, 54, "", 3]], *COLUMNS)
    assert on_floors(read) == [("W1", 1, "Level 2"), ("W2", 1, "Level 2"), ("W3", 1, "Level 2")]


def test_range_over_two_floors_is_reported() -> None:
    read = rows([HEADS, ["W1-W3", 36, 54, 1, 2]], *COLUMNS)
    [fault] = read.faults
    assert "names 3 marks but counts 1 on “Level 1” and 2 on “Level 2”" in fault.detail


def test_rooms_of_their_own_column_stand_before_the_floor() -> None:
    lines = [[*HEADS, "Room"], ["W1", 36, 54, 2, "", "Hall"]]
    assert on_floors(rows(lines, *COLUMNS, Meaning.FLOOR)) == [("W1", 2, "Hall, Level 1")]
