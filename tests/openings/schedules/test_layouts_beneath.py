"""What stands beneath the rows of a schedule: totals, legends, notes."""

from __future__ import annotations

import pytest

from tests.openings.schedules.layouts import Case, Opening, check, sheet

W1, W2 = Opening("W1", 2, ro=(36, 54)), Opening("W2", 1, ro=(24, 36))
A, B = Opening("A", 2, ro=(36, 54)), Opening("B", 1, ro=(24, 36))

CASES: list[Case] = [
    sheet(
        "total below the quantity alone",
        """
        Mark | Qty | RO Width | RO Height
        W1   | 2   | 36       | 54
        W2   | 1   | 24       | 36
             | 3   |          |
        """,
        W1, W2,
    ),
    sheet(
        "total in the column of marks, and an area in its own",
        """
        Mark | Qty | RO Width | RO Height | Area (sq ft)
        W1   | 2   | 36       | 54        | 27
        W2   | 1   | 24       | 36        | 6
        TOTAL: | 3 |          |           | 33
        """,
        W1, W2,
        source="section 11.3 of the check values: the least machine table is item, height, width, area",
    ),
    sheet(
        "total that stands to the left of its number",
        """
        Mark | Location | Qty | RO Width | RO Height
        W1   | Kitchen  | 2   | 36       | 54
        W2   | Bath     | 1   | 24       | 36
             | Total number of windows | 3 | |
        """,
        W1, W2,
    ),
    sheet(
        "general notes that mention sizes and marks",
        """
        Mark | Qty | RO Width | RO Height
        W1   | 2   | 36       | 54
        W2   | 1   | 24       | 36

        GENERAL NOTES:
        1. W1 to be tempered where within 24" of a door.
        2. Provide 36 x 54 screens at all W1.
        3. | Verify all rough openings in field before ordering.
        4. | W3 | deleted | by addendum 2
        """,
        W1, W2,
    ),
    sheet(
        "short notes in the column of marks",
        """
        Mark | Qty | RO Width | RO Height
        W1   | 2   | 36       | 54
        W2   | 1   | 24       | 36

        NOTES
        * tempered
        ** by others
        W1: egress
        """,
        W1, W2,
    ),
    sheet(
        "legend of abbreviations under the table",
        """
        Mark | Qty | RO Width | RO Height | Operation
        A    | 2   | 36       | 54        | C
        B    | 1   | 24       | 36        | F

        LEGEND
        C    | Casement
        F    | Fixed
        DH   | Double hung
        """,
        A._replace(operation="C"), B._replace(operation="F"),
    ),
    sheet(
        "legend with headings of its own",
        """
        Mark | Qty | RO Width | RO Height | Type
        A    | 2   | 36       | 54        | 1
        B    | 1   | 24       | 36        | 2

        Type | Description | Size of glass
        1    | Casement    | 30 x 48
        2    | Fixed       | 18 x 30
        """,
        A._replace(operation="1"), B._replace(operation="2"),
        may_ask="tables",
    ),
    sheet(
        "signature and revisions below",
        """
        Mark | Qty | RO Width | RO Height
        W1   | 2   | 36       | 54
        W2   | 1   | 24       | 36

        Prepared by: | J. Doe | Date: | 2025-03-06
        Rev | Date | Description
        1   | 2025-02-01 | W2 was 30 x 36
        2   | 2025-03-06 | Quantity of W1
        """,
        W1, W2,
        may_ask="tables",
    ),
]  # fmt: skip


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_what_stands_beneath_is_no_opening(case: Case) -> None:
    check(case)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_what_is_passed_over_beneath_is_noted(case: Case) -> None:
    # Nothing guessed silently: the office can see which lines were left out. Our rule.
    read = case.read()
    assert any("skipped" in note.lower() or "not read" in note.lower() for note in read.notes) or read.questions
