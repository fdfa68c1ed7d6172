"""What is asked about columns, what answers make of it, and what is remembered."""

from __future__ import annotations

from dataclasses import replace

import pytest

from openings.errors import BadSchedule
from openings.schedules import NOT_READ, Layout, Meaning, layout_of
from openings.schedules.layout import ColumnAnswer
from openings.schedules.reading import REMEMBERED
from tests.openings.schedules.layouts import Case, book, sheet, text_file

# All layouts below: common practice, no source.

HALF = sheet("", "Mark | Qty | RO Width | Weigth\nW1 | 2 | 36 | 54")
BARE = sheet("", "Mark | Qty | RO Width | Height\nW1 | 2 | 36 | 54")
TWICE = sheet("", "Mark | Qty | RO Width | Rough Width | RO Height\nW1 | 2 | 36 | 37 | 54")
BESIDE = sheet("", "Mark | Qty | RO Width | RO Height | Weigth\nW1 | 2 | 36 | 54 | 120")
TYPE = sheet("", "Type | Qty | RO Width | RO Height\nA | 2 | 36 | 54")
SIDES = sheet("", "Mark | RO Width | RO Height | North | South\nW1 | 36 | 54 | 1 | 2")
UNFIT = sheet("", "Mark | Quanity | RO Width | RO Height\nW1 | about two | 36 | 54")

ASKED = [
    (HALF, "columns.D.meaning", (Meaning.RO_HEIGHT, Meaning.WEIGHT, Meaning.UNIT_HEIGHT, NOT_READ)),
    (BARE, "columns.D.meaning", (Meaning.RO_HEIGHT, Meaning.UNIT_HEIGHT, NOT_READ)),
    (TWICE, "columns.D.meaning", (NOT_READ, Meaning.RO_WIDTH, Meaning.UNIT_WIDTH)),
    (BESIDE, "columns.E.meaning", (Meaning.WEIGHT, Meaning.UNIT_HEIGHT, NOT_READ)),
    (TYPE, "columns.A.meaning", (Meaning.MARK, Meaning.OPERATION, NOT_READ)),
    (SIDES, "columns.D.meaning", (Meaning.COUNT_ON_FLOOR, NOT_READ)),
    (UNFIT, "columns.B.meaning", (Meaning.QUANTITY, NOT_READ)),
]
IDS = ["half a pair", "bare side", "two widths", "misspelt", "type for mark", "sides", "values that do not fit"]


@pytest.mark.parametrize(("case", "field", "choices"), ASKED, ids=IDS)
def test_what_is_unsure_is_asked_with_every_reading(case: Case, field: str, choices: tuple[str, ...]) -> None:
    read = case.read()
    question = read.questions[0]
    letter = field.split(".")[1]
    [column] = [column for column in read.proposal if column.letter == letter]
    assert (question.field, question.heading, question.choices) == (field, column.heading, choices)
    assert f"“{column.samples[0]}”" in question.detail
    assert column.confidence < 1


@pytest.mark.parametrize(("case", "field", "choices"), ASKED[:5], ids=IDS[:5])
def test_every_answer_ends_the_question(case: Case, field: str, choices: tuple[str, ...]) -> None:
    letter = field.split(".")[1]
    for choice in choices:
        try:
            read = case.read(settled=layout_of({"columns": {letter: choice}}))
        except BadSchedule:
            continue  # what is left makes no schedule
        assert field not in {question.field for question in read.questions}
        [column] = [column for column in read.proposal if column.letter == letter]
        assert (column.confidence, column.meaning or NOT_READ) == (1, choice)


@pytest.mark.parametrize("case", [case for case, *_ in ASKED], ids=IDS)
def test_layout_of_a_reading_reads_the_same_without_a_question(case: Case) -> None:
    read = case.read()
    again = case.read(settled=layout_of(read.layout.as_json()))
    assert (again.rows, again.questions, again.fingerprint) == (read.rows, (), read.fingerprint)


def test_settled_column_of_two_that_say_the_same_is_the_one_read() -> None:
    read = TWICE.read(settled=layout_of({"columns": {"D": "ro_width_in"}}))
    assert [(row.ro_width_in, read.questions) for row in read.rows] == [(37, ())]


def test_two_columns_settled_to_mean_the_same_are_refused() -> None:
    with pytest.raises(BadSchedule, match=r"“RO Width” \(C\) and “Rough Width” \(D\)"):
        TWICE.read(settled=layout_of({"columns": {"C": "ro_width_in", "D": "ro_width_in"}}))


def test_side_without_a_partner_is_refused_where_nothing_can_be_asked() -> None:
    with pytest.raises(BadSchedule, match=r"“Unit Width” \(D\) has no partner"):
        sheet("", "Mark | RO Width | RO Height | Unit Width\nA | 36 | 54 | 35").read()


def test_counts_of_floors_are_plain_and_a_total_beside_them_is_the_quantity() -> None:
    read = sheet("", "Mark | RO Width | RO Height | Level 1 | L2 | Total\nW1 | 36 | 54 | 1 | 2 | 3").read()
    assert [(row.floor, row.quantity) for row in read.rows] == [("Level 1", 1), ("L2", 2)]
    assert [column.meaning for column in read.proposal][3:] == [
        Meaning.COUNT_ON_FLOOR, Meaning.COUNT_ON_FLOOR, Meaning.QUANTITY,
    ]  # fmt: skip
    assert read.questions == ()


def test_floors_beneath_one_heading_are_counts() -> None:
    read = sheet("", "Mark | RO Width | RO Height | Qty per level |\n | | | 1 | 2\nW1 | 36 | 54 | 3 | 4").read()
    assert [row.quantity for row in read.rows] == [3, 4]


def test_marks_of_instances_count_before_those_of_types_and_it_is_noted() -> None:
    read = sheet("", "Type Mark | Mark | Rough Width | Rough Height\nA | 101 | 36 | 54\nA | 102 | 36 | 54").read()
    assert [row.mark for row in read.rows] == ["101", "102"]
    assert "“Mark” (B) is read as the mark, and “Type Mark” (A) is not." in read.notes


def test_type_is_the_mark_where_the_operation_stands_elsewhere() -> None:
    read = sheet("", "Type | Width | Height | Operation\nA | 36 | 54 | fixed\nB | 36 | 54 | casement").read()
    assert ([row.mark for row in read.rows], read.questions) == (["A", "B"], ())


ANSWERS = {"by letter": ("A", "C", "D"), "by heading": (" pos. ", "BREITE", "höhe"), "mixed": ("Pos.", "C", "Höhe")}


@pytest.mark.parametrize("keys", ANSWERS.values(), ids=list(ANSWERS))
def test_file_without_a_heading_that_is_understood_is_read_as_settled(keys: tuple[str, str, str]) -> None:
    case = sheet("", "Fensterliste\nPos. | Stk. | Breite | Höhe\nW1 | 2 | 36 | 54")
    meanings = (Meaning.MARK, Meaning.RO_WIDTH, Meaning.RO_HEIGHT)
    layout = Layout(columns={key: ColumnAnswer(meaning=meaning) for key, meaning in zip(keys, meanings, strict=True)})
    for settled in (layout, replace(layout, tables=("Sheet!2",))):
        [row] = case.read(settled=settled).rows
        assert (row.row, row.mark, row.ro_width_in, row.ro_height_in) == (3, "W1", 36, 54)


def test_file_without_any_headings_is_read_as_settled() -> None:
    columns = {"A": "mark", "B": "quantity", "C": "ro_width_in", "D": "ro_height_in"}
    read = text_file("", "W1,2,36,54\nW2,1,24,36\n").read(settled=layout_of({"columns": columns}))
    assert [(row.row, row.mark, row.quantity) for row in read.rows] == [(1, "W1", 2), (2, "W2", 1)]
    assert read.fingerprint == ""


@pytest.mark.parametrize("key", ["Z", "Wd", "Sheet!9:A"])
def test_column_that_is_not_there_is_refused_with_those_that_are(key: str) -> None:
    with pytest.raises(BadSchedule) as refused:
        BESIDE.read(settled=layout_of({"columns": {key: "mark"}}))
    assert [fault.field for fault in refused.value.faults] == [f"mapping.columns.{key}"]
    assert "“RO Width” (C)" in refused.value.detail


def test_heading_that_stands_twice_must_be_named_by_letter() -> None:
    with pytest.raises(BadSchedule, match="columns C and D are headed “Width” alike"):
        sheet("", "Mark | Qty | Width | Width | Height\nA | 1 | 36 | 37 | 54").read(
            settled=layout_of({"columns": {"Width": "ro_width_in"}})
        )


def test_columns_of_one_table_of_several_are_settled_by_table_and_letter() -> None:
    case = book(
        "",
        {
            "Level 1": "Mark | Qty | RO Width | RO Height\nW1 | 1 | 36 | 54",
            "Level 2": "Mark | Qty | Breite | Hoehe\nW1 | 1 | 915 | 1372",
        },
    )
    layout = {
        "Level 2!1:C": {"meaning": "ro_width_in", "unit": "mm"},
        "Level 2!1:D": {"meaning": "ro_height_in", "unit": "mm"},
    }
    read = case.read(settled=layout_of({"tables": ["Level 1!1", "Level 2!1"], "columns": layout}))
    assert [round(row.ro_width_in or 0) for row in read.rows] == [36, 36]
    again = case.read(settled=read.layout)
    assert (again.rows, again.questions) == (read.rows, ())


def test_what_was_settled_is_remembered_by_the_headings_and_noted() -> None:
    answered = TWICE.read(settled=layout_of({"columns": {"D": "ro_width_in", "C": NOT_READ}}))
    later = sheet("", "WINDOWS REV 2\n\nMark | Qty | RO Width | Rough Width | RO Height\nW7 | 1 | 30 | 31 | 60")
    read = later.read(remembered={"other": Layout(), answered.fingerprint: answered.layout})
    assert [(row.mark, row.ro_width_in) for row in read.rows] == [("W7", 31)]
    assert read.questions == ()
    assert REMEMBERED in read.notes


def test_settled_counts_before_remembered_column_by_column() -> None:
    answered = TWICE.read(settled=layout_of({"columns": {"D": "ro_width_in", "C": NOT_READ, "B": NOT_READ}}))
    settled = layout_of({"columns": {"C": "ro_width_in", "D": NOT_READ}})
    [row] = TWICE.read(settled=settled, remembered={answered.fingerprint: answered.layout}).rows
    assert (row.ro_width_in, row.quantity) == (36, 1)


@pytest.mark.parametrize(
    "changed",
    ["Mark | Qty | Rough Width | RO Width | RO Height", "Mark | Qty | RO Width | Rough Width | RO Height | X"],
)
def test_other_headings_are_another_layout(changed: str) -> None:
    assert sheet("", f"{changed}\nW1 | 2 | 36 | 37 | 54 | x").read().fingerprint != TWICE.read().fingerprint


def test_unit_stated_above_makes_another_layout() -> None:
    text = "Mark | Qty | RO Width | RO Height\nW1 | 2 | 36 | 54"
    assert sheet("", f"All dimensions in inches\n{text}").read().fingerprint != sheet("", text).read().fingerprint


def test_sheet_that_is_new_since_is_asked_about() -> None:
    text = "Mark | Qty | RO Width | RO Height\nW1 | 2 | 36 | 54"
    first = book("", {"East": text, "West": text})
    answered = first.read(settled=Layout(tables=("East!1",)))
    remembered = {answered.fingerprint: answered.layout}
    same = book("", {"East": f"Title\n{text}", "West": text}).read(remembered=remembered)
    more = book("", {"East": text, "West": text, "South": text}).read(remembered=remembered)
    assert (same.questions, [table.name for table in same.tables if table.is_read]) == ((), ["East!2"])
    assert [question.choices for question in more.questions] == [("East!1", "East!1, South!1")]
