"""Rows of a schedule, and every wrong one."""

from __future__ import annotations

import datetime
from decimal import Decimal
from typing import Any

import pytest

from openings.errors import BadSchedule
from openings.schedules import Meaning, ScheduleRow
from tests.openings.schedules.files import read_csv, read_xlsx
from tests.openings.schedules.grids import MARK, QTY, RO, RO_H, RO_W, rows

HEADINGS = ["Mark", "Qty", "RO Width", "RO Height"]


def test_row_carries_everything_the_schedule_says() -> None:
    read = read_xlsx(
        [
            ["Remarks", "Height", "Mark", "Width", "Qty", "Type", "Level", "Detail", "Weight", "RO (W x H)"],
            [
                "egress",
                "4'-6\"",
                "W3",
                "3'-0\"",
                12,
                "casement",
                2,
                "flange over, wrap before",
                "120 lb",
                "36 1/2 x 55",
            ],
        ]
    )
    assert read.faults == ()
    assert read.rows == (
        ScheduleRow(
            row=2,
            mark="W3",
            quantity=12,
            ro_width_in=Decimal("36.5"),
            ro_height_in=Decimal(55),
            unit_width_in=Decimal(36),
            unit_height_in=Decimal(54),
            operation="casement",
            floor="2",
            detail="flange over, wrap before",
            remarks="egress",
            weight_lb=Decimal(120),
        ),
    )


def test_columns_say_what_was_read_and_where() -> None:
    read = read_xlsx([["Tag", "Glazing", "RO  Width", "RO Height"], ["A", "double", 36, 54]])
    assert {key: (column.heading, column.letter) for key, column in read.columns.items()} == {
        "mark": ("Tag", "A"),
        "ro_width_in": ("RO Width", "C"),
        "ro_height_in": ("RO Height", "D"),
    }
    assert "Not read: “Glazing” (B)." in read.notes


def test_headings_decide_which_is_the_width_and_never_position() -> None:
    row = read_xlsx([["Mark", "RO Height", "RO Width"], ["A", 54, 36]]).rows[0]
    assert (row.ro_width_in, row.ro_height_in) == (36, 54)


def test_size_column_that_says_height_first_is_followed() -> None:
    row = read_xlsx([["Mark", "Rough Opening (H x W)"], ["A", "54 x 36"]]).rows[0]
    assert (row.ro_width_in, row.ro_height_in) == (36, 54)


def test_numbers_are_in_the_unit_of_the_heading() -> None:
    row = read_xlsx([["Mark", "RO Width (mm)", "RO Height (cm)", "Weight (kg)"], ["A", 915, 91.5, 50]]).rows[0]
    # NIST Handbook 44, Appendix C: 25.4 mm to the inch, 0.45359237 kg to the pound.
    assert (row.ro_width_in, row.ro_height_in) == (Decimal("36.02362"), Decimal("36.02362"))
    assert row.weight_lb == Decimal("110.23")


def test_unit_stated_above_the_headings_holds_for_all_and_is_noted() -> None:
    read = read_xlsx([["All dimensions in mm"], HEADINGS, ["A", 1, 915, 1830]])
    assert read.rows[0].ro_width_in == Decimal("36.02362")
    assert any("bare numbers are read as mm" in note for note in read.notes)


def test_call_size_is_read_as_the_rough_opening_and_noted() -> None:
    # Call size 3046 is 36 × 54: feet and inches, width first (greathousedesign.com). That vinyl units are made
    # 1/2 in less than it: groklab.org, a secondary page.
    read = read_xlsx([["Mark", "Call Size"], ["A", 3046]])
    assert (read.rows[0].ro_width_in, read.rows[0].ro_height_in) == (36, 54)
    assert any("call size" in note for note in read.notes)


def test_headings_of_two_lines_are_read_together() -> None:
    read = read_xlsx(
        [
            ["Mark", "Rough Opening", None, "Unit", None, "Type"],
            [None, "Width", "Height", "Width", "Height", None],
            ["A", 36.5, 54.5, 36, 54, "fixed"],
        ]
    )
    row = read.rows[0]
    assert (row.ro_width_in, row.ro_height_in, row.unit_width_in, row.unit_height_in) == (
        Decimal("36.5"), Decimal("54.5"), 36, 54,
    )  # fmt: skip
    assert row.operation == "fixed"


def test_titles_blank_lines_repeated_headings_and_totals_are_passed_over() -> None:
    read = read_xlsx(
        [
            ["Window schedule"], [], HEADINGS, ["A", 1, 36, 54], [], HEADINGS, ["B", 2, 36, 54],
            ["Total", 3], [], ["Notes: verify in field"],
        ]
    )  # fmt: skip
    assert read.faults == ()
    assert [(row.row, row.mark) for row in read.rows] == [(4, "A"), (7, "B")]
    assert "Row 8 “Total” was skipped." in read.notes


def test_line_that_names_a_floor_heads_the_rows_beneath_it() -> None:
    read = read_xlsx([HEADINGS, ["First Floor"], ["A", 1, 36, 54], ["Second Floor"], ["B", 1, 36, 54]])
    assert [row.floor for row in read.rows] == ["First Floor", "Second Floor"]


def test_schedule_without_quantities_has_one_opening_a_row() -> None:
    read = read_xlsx([["Mark", "RO Width", "RO Height"], ["A", 36, 54]])
    assert read.rows[0].quantity == 1
    assert any("no quantity column" in note for note in read.notes)


@pytest.mark.parametrize(("cell", "text"), [(101.0, "101"), (101, "101"), (1.5, "1.5"), ("=1+1", "=1+1")])
def test_mark_is_text_as_the_sheet_shows_it(cell: object, text: str) -> None:
    def put(sheet: Any) -> None:
        sheet["A2"].value = cell
        sheet["A2"].data_type = "s" if isinstance(cell, str) else "n"

    assert read_xlsx([HEADINGS, ["", 1, 36, 54]], then=put).rows[0].mark == text


WRONG_CELLS = [
    ("RO Width", "banana", "not a length"),
    ("RO Width", 0, "one side of the rough opening is missing"),
    ("RO Width", "$", "one side of the rough opening is missing"),
    ("Mark", "-", "not a mark"),
    ("Mark", "ditto", "write that out"),
    ("RO Width", -36, "negative"),
    ("RO Width", 480.01, "at most 40' 0"),
    ("RO Width", 915, "say mm in the heading"),
    ("RO Width", None, "one side of the rough opening is missing"),
    ("RO Width", datetime.date(2025, 3, 6), "made a date"),
    ("RO Width", "5/8", "can mean"),
    ("Qty", 0, "whole number from 1 to 999"),
    ("Qty", -1, "whole number"),
    ("Qty", 1.5, "whole number"),
    ("Qty", "a few", "whole number"),
    ("Qty", 1000, "whole number"),
    ("Qty", None, "whole number"),
    ("Mark", None, "no mark"),
    ("Mark", "W" * 51, "at most 50"),
    ("Mark", datetime.date(2025, 1, 2), "made a date"),
    ("Remarks", "r" * 201, "at most 200"),
    ("Weight", 0, "above 0"),
    ("Weight", "heavy", "like 120"),
]


@pytest.mark.parametrize(("heading", "cell", "right"), WRONG_CELLS, ids=[f"{c[0]}={c[1]!s:.12}" for c in WRONG_CELLS])
def test_wrong_cell_is_reported_with_row_heading_and_what_would_be_right(
    heading: str, cell: object, right: str
) -> None:
    line = {"Mark": "A", "Qty": 1, "RO Width": 36, "RO Height": 54, "Remarks": "", "Weight": 100} | {heading: cell}
    read = read_xlsx([["Schedule"], list(line), list(line.values())])
    assert read.rows == ()
    [fault] = read.faults
    assert (fault.row, fault.field) == (3, heading)
    assert right in fault.detail


def test_every_wrong_row_is_reported_and_not_only_the_first() -> None:
    read = read_xlsx(
        [
            HEADINGS,
            ["A", 1, 36, 54],
            ["B", 0, "banana", 54],
            ["A", 1, 36, 54],
            ["C", 1, None, None],
            ["D", 1, 36, 54],
        ]
    )
    assert [(fault.row, fault.field, fault.value) for fault in read.faults] == [
        (3, "Qty", "0"),
        (3, "RO Width", "banana"),
        (4, "Mark", "A"),
        (5, "RO Width", ""),
    ]
    assert [row.mark for row in read.rows] == ["A", "D"]


@pytest.mark.parametrize("second", ["W3", " W3 ", "w3"])
def test_repeated_mark_names_both_rows(second: str) -> None:
    read = read_xlsx([HEADINGS, ["W3", 2, 36, 54], [second, 2, 36, 54]])
    [fault] = read.faults
    assert "row 2" in fault.detail
    assert "row 3" in fault.detail


def test_unit_larger_than_its_rough_opening_is_reported() -> None:
    read = read_xlsx([["Mark", "RO", "Unit Size"], ["A", "36 x 54", "36 1/2 x 53 1/2"]])
    assert "larger than its rough opening" in read.faults[0].detail


def test_control_characters_are_reported_and_not_shown() -> None:
    read = read_csv("Mark,RO Width,RO Height,Remarks\nA,36,54,bell\x07\n")
    assert "control characters" in read.faults[0].detail
    assert "\x07" not in read.faults[0].value


WRONG_TABLES = [
    ("no headings", [["some", "words"], ["and", "others"]], "No row of headings"),
    ("no size", [["Mark", "Qty", "Type"], ["A", 1, "fixed"]], "“Mark” (A), “Qty” (B), “Type” (C), but"),
    ("no mark", [["Qty", "RO Width", "RO Height"], [1, 36, 54]], "a schedule needs a mark"),
    ("height without width", [["Mark", "RO Height", "Qty"], ["A", 54, 1]], "a schedule needs a mark"),
    ("no rows", [HEADINGS, ["Total", 0]], "no rows below the headings"),
    ("half a pair", [[*HEADINGS, "Unit Width"], ["A", 1, 1, 1, 1]], "no partner"),
]


@pytest.mark.parametrize(("lines", "sentence"), [case[1:] for case in WRONG_TABLES], ids=[c[0] for c in WRONG_TABLES])
def test_table_that_is_no_schedule_is_refused_with_a_sentence(lines: list[list[object]], sentence: str) -> None:
    with pytest.raises(BadSchedule) as raised:
        read_xlsx(lines)
    assert sentence in raised.value.detail


def test_unit_of_a_row_without_a_rough_opening_is_enough() -> None:
    # Models of buildings leave a size that nobody gave at 0 or $: IFC files, section 11.4 of the check values.
    lines = [["Mark", "RO W", "RO H", "Unit"], *([f"W{at}", none, none, '36" x 54"'] for at, none in enumerate(NONE))]
    read = rows(lines, MARK, RO_W, RO_H, Meaning.UNIT_SIZE)
    assert read.faults == ()
    assert {(row.ro_width_in, row.unit_width_in) for row in read.rows} == {(None, Decimal(36))}


NONE = [0, "0", "$", "n/a", "N/A", "null", "", "-", "–", None, "0'-0\"", "0 mm"]


@pytest.mark.parametrize("none", [*NONE, "0 x 0", "0x0mm"], ids=repr)
def test_null_size_is_none_and_never_a_size_of_0(none: object) -> None:
    read = rows([["Mark", "RO", "Unit"], ["W1", none, '36" x 54"'], ["W2", none, ""]], MARK, RO, Meaning.UNIT_SIZE)
    assert [(row.mark, row.ro_width_in) for row in read.rows] == [("W1", None)]
    [fault] = read.faults
    assert (fault.row, "neither a rough opening nor a unit" in fault.detail) == (3, True)


def test_only_the_size_is_read_of_a_longer_text_and_that_is_noted() -> None:
    # The line: NAVEDTRA 14069 p. 6-45.
    text = "No. 3, DH, 2 ft 4 in. by 3 ft 10 in, 12 LTS"
    read = rows([["Mark", "Size"], ["3", text], ["4", "2'-4\" x 3'-10\""]], MARK, RO)
    assert {(row.ro_width_in, row.ro_height_in) for row in read.rows} == {(Decimal(28), Decimal(46))}
    assert f"“Size”: only the size was read of “{text}” (row 2)." in read.notes


def test_two_sizes_in_a_text_are_reported() -> None:
    read = rows([["Mark", "Size"], ["3", '36" x 48" or 30" x 40"']], MARK, RO)
    assert "gives 2 sizes" in read.faults[0].detail


def test_marks_nobody_sees_change_nothing() -> None:
    read = rows(
        [HEADINGS, ["\u200fW1\u200e", "\u2066 2\u2069", "3\u00a0'-0\"\ufeff", "\u202a54\u202c"]], MARK, QTY, RO_W, RO_H
    )
    assert read.faults == ()
    [row] = read.rows
    assert (row.mark, row.quantity, row.ro_width_in, row.ro_height_in) == ("W1", 2, 36, 54)
