"""What stands above the rows of a schedule and between them: titles, groups, subtotals."""

from __future__ import annotations

from typing import Any

import pytest

from tests.openings.schedules.layouts import COLUMNS, Case, Opening, check, merged, sheet

W1, W2 = Opening("W1", 2, ro=(36, 54)), Opening("W2", 1, ro=(24, 36))

ABOVE = [
    sheet(
        "nothing above",
        """
        Mark | Qty | RO Width | RO Height | Remarks
        W1   | 2   | 36       | 54        | egress
        W2   | 1   | 24       | 36        |
        """,
        W1._replace(remarks="egress"), W2,
        source=COLUMNS,
    ),
    sheet(
        "title, address and date",
        """
        WINDOW SCHEDULE
        Hillside Townhouses, Building C
        Sheet A-601 | | | Issued 2025-03-06 | Rev. 2

        Mark | Qty | RO Width | RO Height
        W1   | 2   | 36       | 54
        W2   | 1   | 24       | 36
        """,
        W1, W2,
    ),
    sheet(
        "title merged across all columns",
        """
        WINDOW SCHEDULE - ALL DIMENSIONS IN INCHES
        Mark | Qty | RO Width | RO Height
        W1   | 2   | 36       | 54
        W2   | 1   | 24       | 36
        """,
        W1, W2,
        then=merged("A1:D1"),
    ),
    sheet(
        "fields of the title block that look like headings",
        """
        Project No. | 2417 | Type     | Residential
        Drawing No. | A601 | Location | Lot 12
        Size        | 24 x 36 | Scale | 1/4" = 1'-0"
        Number of sheets | 3 | Height of building | 31'-6"

        Mark | Qty | RO Width | RO Height
        W1   | 2   | 36       | 54
        W2   | 1   | 24       | 36
        """,
        W1, W2,
    ),
    sheet(
        "notes above with sizes and marks",
        """
        Window schedule
        Note: W1 and W2 have tempered glass where wider than 30 x 48.
        Mark | Qty | RO Width | RO Height
        W1   | 2   | 36       | 54
        W2   | 1   | 24       | 36
        """,
        W1, W2,
    ),
    sheet(
        "thirty lines above and two empty columns at the left",
        "\n".join(["Scope of work"] + ["General condition"] * 29)
        + """
         | | Mark | Qty | RO Width | RO Height
         | | W1   | 2   | 36       | 54
         | | W2   | 1   | 24       | 36
        """.replace("\n        ", "\n"),
        W1, W2,
    ),
    sheet(
        "millimeters stated in the title",
        """
        Window schedule
        All dimensions in mm unless noted otherwise
        Mark | Qty | RO Width | RO Height
        W1   | 2   | 914.4    | 1371.6
        W2   | 1   | 609.6    | 914.4
        """,
        W1, W2,
    ),
]  # fmt: skip

BETWEEN = [
    sheet(
        "blank rows and rules between",
        """
        Mark | Qty | RO Width | RO Height

        W1   | 2   | 36       | 54


        ---- | --- | ---      | ---
        W2   | 1   | 24       | 36
        """,
        W1, W2,
    ),
    sheet(
        "headings again on every page",
        """
        Mark | Qty | RO Width | RO Height
        W1   | 2   | 36       | 54
        Window schedule (continued)
        MARK | QTY | RO WIDTH | RO HEIGHT
        W2   | 1   | 24       | 36
        """,
        W1, W2,
        may_ask="tables",
    ),
    sheet(
        "number of the page between",
        """
        Mark | Qty | RO Width | RO Height
        W1   | 2   | 36       | 54
             |     |          | Page 1 of 2
        W2   | 1   | 24       | 36
        """,
        W1, W2,
    ),
    sheet(
        "upright title merged at the left",
        """
        WINDOWS | Mark | Qty | RO Width | RO Height
                | W1   | 2   | 36       | 54
                | W2   | 1   | 24       | 36
        """,
        W1, W2,
        then=merged("A1:A3"),
        may_ask=r"columns\.A\.meaning",
    ),
    sheet(
        "rows that name floors",
        """
        Mark | Qty | RO Width | RO Height
        Level 1
        W1   | 2   | 36       | 54
        Level 2
        W1   | 3   | 36       | 54
        W2   | 1   | 24       | 36
        """,
        W1._replace(floor="Level 1"), W1._replace(quantity=3, floor="Level 2"), W2._replace(floor="Level 2"),
    ),
    sheet(
        "merged rows that name floors, with subtotals and a grand total",
        """
        Mark | Qty | RO Width | RO Height
        GROUND FLOOR
        W1   | 2   | 36       | 54
        Subtotal | 2
        SECOND FLOOR
        W1   | 3   | 36       | 54
        W2   | 1   | 24       | 36
        Sub-total: | 4
        GRAND TOTAL | 6
        """,
        W1._replace(floor="Ground floor"), W1._replace(quantity=3, floor="Second floor"),
        W2._replace(floor="Second floor"),
        then=merged("A2:D2", "A5:D5"),
    ),
    sheet(
        "rows with counts that close a group, as models of buildings write them",
        """
        Type Mark | Level | Rough Width | Rough Height | Count
        W1 | Level 1 | 36 | 54 | 2
        Level 1: 2
        W1 | Level 2 | 36 | 54 | 3
        W2 | Level 2 | 24 | 36 | 1
        Level 2: 4
        Grand total: 6
        """,
        W1._replace(floor="Level 1"), W1._replace(quantity=3, floor="Level 2"), W2._replace(floor="Level 2"),
    ),
]  # fmt: skip

CASES: list[Case] = ABOVE + BETWEEN


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_rows_are_what_they_are_whatever_stands_around_them(case: Case) -> None:
    check(case)


def test_group_of_operations_is_not_taken_for_a_floor() -> None:
    # Common practice, no source: builders group by operation as often as by floor.
    case = sheet(
        "groups by operation",
        """
        Mark | Qty | RO Width | RO Height
        FIXED UNITS
        W1   | 2   | 36       | 54
        CASEMENT UNITS
        W2   | 1   | 24       | 36
        """,
        W1, W2,
        then=merged("A2:D2", "A4:D4"),
        may_ask=".*",
    )  # fmt: skip
    read = check(case)
    assert [row.floor for row in read.rows] == ["", ""]
    assert any("FIXED UNITS" in note for note in read.notes)


def test_hidden_rows_and_columns_are_read_and_named() -> None:
    # Common practice, no source: a spreadsheet hides what somebody folded away, which may still be ordered.
    def hide(page: Any) -> None:
        page.row_dimensions[3].hidden = True
        page.column_dimensions["B"].hidden = True

    case = sheet(
        "hidden",
        """
        Mark | Qty | RO Width | RO Height
        W1   | 2   | 36       | 54
        W2   | 1   | 24       | 36
        """,
        W1, W2,
        then=hide,
        may_ask=".*",
    )  # fmt: skip
    told = " ".join([*check(case).notes, *(asked.detail for asked in case.read().questions)]).lower()
    assert "hidden" in told
    assert "row 3" in told
    assert "“qty”" in told or "column b" in told
