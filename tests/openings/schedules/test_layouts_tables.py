"""Several tables: stacked, side by side, on several sheets; doors, legends and older issues beside the windows."""

from __future__ import annotations

import pytest

from openings.errors import BadSchedule
from openings.schedules import Layout, read_schedule
from tests.openings.schedules.files import xlsx
from tests.openings.schedules.layouts import (
    Case,
    Opening,
    book,
    check,
    is_quiet,
    lines,
    merged,
    never_silent,
    said,
    sheet,
    taken,
    wanted,
    workbook,
)  # fmt: skip

W1, W2, W3 = Opening("W1", 2, ro=(36, 54)), Opening("W2", 1, ro=(24, 36)), Opening("W3", 4, ro=(30, 48))

WINDOWS = """
    Mark | Qty | RO Width | RO Height
    W1   | 2   | 36       | 54
    W2   | 1   | 24       | 36
"""
DOORS = """
    Door | Qty | Width | Height | Thickness | Hardware
    D1   | 3   | 36    | 80     | 1.75      | set 4
    D2   | 1   | 32    | 80     | 1.375     | set 2
"""
ROOM_FINISHES = """
    Room | Floor | Base | Walls | Ceiling height
    101  | oak   | wood | paint | 108
"""
LEGEND = """
    Type | Description
    C    | Casement
    F    | Fixed 36 x 54
"""

SHEETS = [
    book("windows and doors", {"Doors": DOORS, "Windows": WINDOWS}, W1, W2, may_ask="tables"),
    book("windows and a legend", {"Legend": LEGEND, "Schedule": WINDOWS}, W1, W2),
    book("cover, finishes and windows", {"Cover": "Hillside Townhouses", "Finishes": ROOM_FINISHES, "Sheet3": WINDOWS},
         W1, W2, may_ask="tables"),
    book("empty sheets", {"Sheet1": WINDOWS, "Sheet2": "", "Sheet3": ""}, W1, W2),
    book("older issue on a hidden sheet", {"Windows": WINDOWS, "old": WINDOWS.replace("54", "60")}, W1, W2,
         hidden=["old"], may_ask="tables"),
    book(
        "a sheet a level",
        {
            "Level 1": WINDOWS,
            "Level 2": """
                Mark | Qty | RO Width | RO Height
                W1   | 5   | 36       | 54
                W3   | 4   | 30       | 48
            """,
        },
        W1._replace(floor="Level 1"), W2._replace(floor="Level 1"),
        W1._replace(quantity=5, floor="Level 2"), W3._replace(floor="Level 2"),
        may_ask="tables",
    ),
    book(
        "sheets with the columns in another order",
        {
            "Building A": WINDOWS,
            "Building B": """
                Window schedule, building B

                RO Height | RO Width | Mark | Qty
                48        | 30       | W3   | 4
            """,
        },
        W1, W2, W3,
        may_ask="tables",
    ),
]  # fmt: skip

STACKED = [
    sheet("door schedule above the window schedule",
          f"DOOR SCHEDULE{DOORS.rstrip()}\n\nWINDOW SCHEDULE{WINDOWS}", W1, W2, may_ask="tables"),
    sheet("door schedule below the window schedule",
          f"WINDOW SCHEDULE{WINDOWS.rstrip()}\n\nDOOR SCHEDULE{DOORS}", W1, W2, may_ask="tables"),
    sheet(
        "two window schedules with other columns",
        """
        WINDOW SCHEDULE - LEVEL 1
        Mark | Qty | RO Width | RO Height
        W1   | 2   | 36       | 54
        W2   | 1   | 24       | 36

        WINDOW SCHEDULE - LEVEL 2
        Mark | RO Height | RO Width | Type | Qty
        W3   | 48        | 30       | fixed | 4
        """,
        W1, W2, W3,
        may_ask="tables",
    ),
    sheet(
        "storefront with its own headings in the rows of the windows",
        """
        Mark | Qty | RO Width | RO Height | Remarks
        W1   | 2   | 36       | 54        |
        W2   | 1   | 24       | 36        |

        Mark | Qty | RO Width (mm) | RO Height (mm) | Remarks
        W3   | 4   | 762           | 1219.2         | metric
        """,
        W1, W2, W3,
        may_ask="tables",
    ),
]  # fmt: skip

BESIDE = [
    sheet(
        "doors to the right of the windows",
        """
        WINDOW SCHEDULE | | | | | DOOR SCHEDULE
        Mark | Qty | RO Width | RO Height | | Door | Qty | Width | Height
        W1   | 2   | 36       | 54        | | D1   | 3   | 36    | 80
        W2   | 1   | 24       | 36        | | D2   | 1   | 32    | 80
             |     |          |           | | D3   | 1   | 32    | 80
        """,
        W1, W2,
        then=merged("A1:D1", "F1:I1"),
        may_ask="tables",
    ),
    sheet(
        "a long schedule set in two blocks",
        """
        Mark | Qty | RO Width | RO Height | | Mark | Qty | RO Width | RO Height
        W1   | 2   | 36       | 54        | | W3   | 4   | 30       | 48
        W2   | 1   | 24       | 36        | |      |     |          |
        """,
        W1, W2, W3,
        may_ask="tables",
    ),
    sheet(
        "legend to the right of the windows",
        """
        Mark | Qty | RO Width | RO Height | Operation | | Operation | Meaning
        W1   | 2   | 36       | 54        | C         | | C         | casement
        W2   | 1   | 24       | 36        | F         | | F         | fixed
             |     |          |           |           | | DH        | double hung
        """,
        W1._replace(operation="C"), W2._replace(operation="F"),
        may_ask=r"tables|columns\.[EGH]\.meaning",
    ),
]  # fmt: skip

CASES: list[Case] = SHEETS + STACKED + BESIDE


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_windows_are_found_and_nothing_else(case: Case) -> None:
    check(case)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_what_was_read_is_named_and_has_a_place(case: Case) -> None:
    read = case.read()
    assert len({table.name for table in read.tables}) == len(read.tables)
    assert any(table.is_read for table in read.tables)
    assert all(table.first_row <= table.last_row for table in read.tables)


TWICE = {"Windows": WINDOWS, "Windows (2)": WINDOWS.replace("| 2   | 36       | 54", "| 2   | 36       | 60")}


def test_two_issues_of_one_schedule_are_asked_about() -> None:
    # Common practice, no source: a copy of the sheet with one size changed is a revision, not as many windows more.
    told = never_silent(workbook(TWICE))
    assert "Windows (2)" in said(told)


@pytest.mark.parametrize("chosen", [0, 1], ids=["first", "second"])
def test_table_that_is_chosen_is_read_alone(chosen: int) -> None:
    case = Case(
        name="",
        content=workbook(TWICE),
        openings=(W1._replace(ro=(36, (54, 60)[chosen])), W2),
    )
    names = [table.name for table in case.read().tables]
    read = case.read(settled=Layout(tables=(names[chosen],)))
    assert (read.faults, read.questions) == ((), ())
    assert taken(read.rows, like=case.openings) == wanted(case.openings)
    assert [table.name for table in read.tables if table.is_read] == [names[chosen]]


def test_same_rows_on_two_sheets_are_not_added_up_in_silence() -> None:
    # Common practice, no source: a sheet copied as it is was hardly meant to double the order.
    never_silent(workbook({"Windows": WINDOWS, "Windows (2)": WINDOWS}))


def test_all_tables_can_be_chosen() -> None:
    case = next(case for case in STACKED if case.name == "two window schedules with other columns")
    read = case.read(settled=Layout(tables=tuple(table.name for table in case.read().tables)))
    assert (read.faults, read.questions) == ((), ())
    assert taken(read.rows, like=case.openings) == wanted(case.openings)


ACROSS = {
    "marks in a row": """
        Mark      | W1 | W2 | W3
        Qty       | 2  | 1  | 4
        RO Width  | 36 | 24 | 30
        RO Height | 54 | 36 | 48
    """,
    "marks in a row below a title": """
        WINDOW SCHEDULE
        Mark          | W1      | W2      | W3
        Rough Opening | 36 x 54 | 24 x 36 | 30 x 48
        Quantity      | 2       | 1       | 4
    """,
    "marks in a row, sizes first": """
        RO Width  | 36 | 24 | 30
        RO Height | 54 | 36 | 48
        Mark      | W1 | W2 | W3
        Qty       | 2  | 1  | 4
    """,
}


@pytest.mark.parametrize("text", ACROSS.values(), ids=list(ACROSS))
def test_schedule_laid_out_across_is_refused_or_read_but_never_nonsense(text: str) -> None:
    # Common practice, no source: small schedules on elevation sheets have the marks across the top.
    try:
        read = read_schedule(filename="windows.xlsx", content=xlsx(lines(text)))
    except BadSchedule:
        return
    assert not is_quiet(read) or taken(read.rows, like=(W1, W2, W3)) == wanted((W1, W2, W3))


def test_door_schedule_alone_is_asked_about_or_refused() -> None:
    # Common practice, no source: a crew that sets windows must not be sent doors in silence.
    never_silent(xlsx(lines(f"DOOR SCHEDULE{DOORS}")))


@pytest.mark.parametrize(
    "text", [LEGEND, ROOM_FINISHES, "WINDOW SCHEDULE\nsee A-601"], ids=["legend", "rooms", "title"]
)
def test_workbook_without_a_schedule_is_refused(text: str) -> None:
    with pytest.raises(BadSchedule) as refused:
        read_schedule(filename="windows.xlsx", content=xlsx(lines(text)))
    assert refused.value.detail
