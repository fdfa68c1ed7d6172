"""Where the tables of a file stand, and which of them are read."""

from __future__ import annotations

import pytest

from openings.errors import BadSchedule
from openings.schedules import Layout, ScheduleRead
from tests.openings.schedules.layouts import Opening, book, lines, merged, sheet, taken, text_file, wanted

HEAD = "Mark | Qty | RO Width | RO Height"
W1, W2 = Opening("W1", 2, ro=(36, 54)), Opening("W2", 1, ro=(24, 36))
ROWS = "W1 | 2 | 36 | 54\nW2 | 1 | 24 | 36"

# All layouts below: common practice, no source.


def names(read: ScheduleRead, *, is_read: bool = True) -> list[str]:
    return [table.name for table in read.tables if table.is_read is is_read]


def marks(read: ScheduleRead) -> list[str]:
    return [row.mark for row in read.rows]


@pytest.mark.parametrize("above", [0, 1, 59, 150, 2000])
def test_headings_are_found_however_far_down_they_stand(above: int) -> None:
    read = sheet("", f"{'Cover |' + chr(10)}" * above + f"{HEAD}\n{ROWS}").read()
    assert names(read) == [f"Sheet!{above + 1}"]
    assert marks(read) == ["W1", "W2"]


def test_headings_in_other_words_are_found_within_two_hundred_rows() -> None:
    read = sheet("", "Cover |\n" * 190 + f"Makr | Quanity | Rough Widht | Rough Heigth\n{ROWS}").read()
    assert (names(read), read.questions, marks(read)) == (["Sheet!191"], (), ["W1", "W2"])


HEADINGS_OF_SEVERAL_ROWS = {
    "groups above": " | | Rough Opening | \nMark | Qty | Width | Height",
    "sides beneath": "Mark | Qty | Rough Opening |\n | | Width | Height",
    "broken in two": "Window | No. | Rough | Rough\nNo. | Req'd | Width | Height",
    "units beneath": "Mark | Qty | RO Width | RO Height\n- | ea | (in) | (in)",
    "three rows": "Mark | Qty | Rough Opening |\n | | Width | Height\n | | in | in",
    "three groups": "Mark | Qty | Sizes |\n | | R.O. |\n | | W | H",
}


@pytest.mark.parametrize("headings", HEADINGS_OF_SEVERAL_ROWS.values(), ids=list(HEADINGS_OF_SEVERAL_ROWS))
@pytest.mark.parametrize("title", ["", "WINDOW SCHEDULE\n"], ids=["bare", "titled"])
def test_headings_of_several_rows_are_read_as_one(headings: str, title: str) -> None:
    read = sheet("", f"{title}{headings}\n{ROWS}").read()
    assert (read.faults, read.questions) == ((), ())
    assert taken(read.rows, like=(W1, W2)) == wanted((W1, W2))


def test_group_of_another_kind_reaches_over_its_columns_and_no_further() -> None:
    text = (
        "Mark | Rough Opening | | Glazing | | Type\n | Width | Height | Type | Thick |\nA | 36 | 54 | IGU | 7/8 | fixed"
    )
    read = sheet("", text, then=merged("B1:C1", "D1:E1")).read()
    assert [(column.heading, column.meaning) for column in read.proposal][3:5] == [
        ("Glazing Type", None), ("Glazing Thick", None),
    ]  # fmt: skip
    assert read.rows[0].operation == "fixed"


STATED = {
    "above": ("All dimensions in mm", "", "mm"),
    "in the title": ("Window schedule (mm)", "", "mm"),
    "in a legend": ("", "All sizes in millimeters", "mm"),
    "feet and inches": ("Dimensions are in feet and inches", "", "in"),
    "feet": ("Dimensions are in feet", "", "ft"),
    "a number beside": ("Sizes of units vary by 10 mm", "", ""),
}


@pytest.mark.parametrize(("above", "beneath", "unit"), STATED.values(), ids=list(STATED))
def test_unit_stated_for_the_sheet_is_noted(above: str, beneath: str, unit: str) -> None:
    read = sheet("", f"{above}\n{HEAD}\nA | 1 | 30 | 30\n\n{beneath}".strip("\n")).read()
    told = [note for note in read.notes if "bare numbers are read as" in note]
    assert [note.rpartition(" ")[2] for note in told] == ([f"{unit}."] if unit else [])
    assert read.faults == ()


def test_tables_side_by_side_are_named_by_their_first_column() -> None:
    text = f"""
    WINDOW SCHEDULE | | | | | DOOR SCHEDULE
    {HEAD} | | Door No. | Qty | Width | Height
    W1 | 2 | 36 | 54 | | D1 | 3 | 36 | 80
     | | | | | D2 | 1 | 32 | 80
    """
    read = sheet("", text).read()
    assert (names(read), names(read, is_read=False)) == (["Sheet!A2"], ["Sheet!F2"])
    assert (marks(read), read.faults, read.questions) == (["W1"], (), ())
    assert any("Sheet!F2" in note and "doors" in note for note in read.notes)


def test_table_beside_that_begins_further_down_is_one_of_its_own() -> None:
    text = f"{HEAD} | |\nW1 | 2 | 36 | 54 | | Door | Width | Height\nW2 | 1 | 24 | 36 | | D1 | 36 | 80"
    read = sheet("", text).read()
    assert (names(read), names(read, is_read=False)) == (["Sheet!A1"], ["Sheet!F2"])
    assert marks(read) == ["W1", "W2"]


def test_list_set_in_two_blocks_is_read_whole() -> None:
    read = sheet("", f"{HEAD} | {HEAD}\nW1 | 2 | 36 | 54 | W2 | 1 | 24 | 36").read()
    assert (names(read), read.questions) == (["Sheet!A1", "Sheet!E1"], ())
    assert sorted(marks(read)) == ["W1", "W2"]


def test_table_ends_where_the_next_begins_and_goes_on_after_it() -> None:
    doors = f"Door schedule\n{HEAD}\nD1 | 2 | 36 | 80\n"
    read = sheet(
        "", f"Window schedule\n{HEAD}\n{ROWS}\n\n{doors}\nWindow schedule (cont.)\n{HEAD}\nW3 | 1 | 30 | 30"
    ).read()
    assert marks(read) == ["W1", "W2", "W3"]
    assert (read.questions, names(read, is_read=False)) == ((), ["Sheet!7"])


@pytest.mark.parametrize("title", ["Window schedule (continued)", "WINDOW SCHEDULE", ""])
def test_headings_repeated_on_a_new_page_end_nothing(title: str) -> None:
    read = sheet("", f"Window schedule\n{HEAD}\nW1 | 2 | 36 | 54\n{title}\n{HEAD}\nW2 | 1 | 24 | 36").read()
    assert (names(read), marks(read), read.faults, read.questions) == (["Sheet!2"], ["W1", "W2"], (), ())


def test_schedules_of_floors_in_one_sheet_give_their_floor() -> None:
    one = "Window schedule - Level {}\n" + f"{HEAD}\nW1 | 2 | 36 | 54\n"
    read = sheet("", one.format(1) + "\n" + one.format(2)).read()
    assert [(row.row, row.floor) for row in read.rows] == [(3, "Level 1"), (7, "Level 2")]
    assert read.questions == ()


@pytest.mark.parametrize("apart", ["Alternate 1", "Existing windows", "Option B"])
def test_what_stands_apart_is_asked_about_and_not_added(apart: str) -> None:
    read = sheet("", f"{HEAD}\nW1 | 2 | 36 | 54\n\nWindow schedule - {apart}\n{HEAD}\nW1 | 2 | 36 | 54").read()
    assert [(row.row, row.quantity) for row in read.rows] == [(2, 2)]
    assert [question.field for question in read.questions] == ["tables"]


def test_sheets_of_floors_are_proposed_together_and_asked_about() -> None:
    text = f"{HEAD}\n{ROWS}"
    read = book("", {"Level 1": text, "Level 2": text.replace("| 36 | 54", "| x | 54"), "Notes": "see | A-601"}).read()
    assert [(row.mark, row.sheet, row.floor) for row in read.rows] == [
        ("W1", "Level 1", "Level 1"), ("W2", "Level 1", "Level 1"), ("W2", "Level 2", "Level 2"),
    ]  # fmt: skip
    [question] = read.questions
    assert question.choices == ("Level 1!1, Level 2!1", "Level 1!1", "Level 2!1")
    assert [fault.field for fault in read.faults] == ["Level 2 › RO Width"]
    assert "The sheet “Notes” was not read." in read.notes


def test_sheets_that_name_no_floor_are_asked_about_one_by_one() -> None:
    read = book("", {"East": f"{HEAD}\n{ROWS}", "West": f"{HEAD}\n{ROWS}"}).read()
    assert read.questions[0].choices == ("East!1", "West!1", "East!1, West!1")
    assert names(read) == ["East!1"]


@pytest.mark.parametrize(
    ("answer", "read"),
    [
        (("West!1",), ["West!1"]),
        (("west",), ["West!1"]),
        (("East!1, West!1",), ["East!1", "West!1"]),
        (("West!1", "East!1"), ["East!1", "West!1"]),
    ],
    ids=["name", "sheet", "joined", "both"],
)
def test_answer_names_one_table_or_several(answer: tuple[str, ...], read: list[str]) -> None:
    case = book("", {"East": f"{HEAD}\n{ROWS}", "West": f"{HEAD}\n{ROWS}"})
    found = case.read(settled=Layout(tables=answer))
    assert (names(found), found.questions) == (read, ())


def test_table_that_is_not_there_is_refused_with_those_that_are() -> None:
    with pytest.raises(BadSchedule, match=r"no table “North!1”; there are: “Sheet!1”"):
        sheet("", f"{HEAD}\n{ROWS}").read(settled=Layout(tables=("North!1",)))


@pytest.mark.parametrize("others", [("Doors", "Skylights"), ("Door schedule", "Hardware")])
def test_windows_are_read_beside_other_schedules_and_these_are_noted(others: tuple[str, str]) -> None:
    read = book("", {others[0]: f"{HEAD}\n{ROWS}", "Windows": f"{HEAD}\n{ROWS}", others[1]: f"{HEAD}\n{ROWS}"}).read()
    assert (names(read), read.questions) == (["Windows!1"], ())
    assert all(any(f"“{name}!1”" in note for note in read.notes) for name in others)


def test_doors_alone_are_refused_unless_they_are_named() -> None:
    case = sheet("", f"DOOR SCHEDULE\n{HEAD}\nD1 | 1 | 36 | 80")
    with pytest.raises(BadSchedule, match="Sheet!2"):
        case.read()
    assert marks(case.read(settled=Layout(tables=("Sheet!2",)))) == ["D1"]


def test_text_without_sheets_names_its_table_by_the_row() -> None:
    assert names(text_file("", "Windows\nMark,Qty,RO Width,RO Height\nW1,2,36,54\n").read()) == ["2"]


def test_columns_far_to_the_right_do_not_take_forever() -> None:
    grid = [[*lines(HEAD)[0], *(f"note {'x' * (at % 50)}" for at in range(900))], ["W1", 2, 36, 54]]
    text = "\n".join(",".join(map(str, line)) for line in grid)
    assert len(text_file("", text).read().proposal) == 904
