"""Rows that are no windows of the work, and lengths in two columns.

What such columns say and how feet and inches are put side by side: common practice, no source.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from openings.errors import BadSchedule
from openings.schedules import ScheduleRead, layout_of, read_schedule
from tests.openings.schedules.files import xlsx
from tests.openings.schedules.layouts import merged


def read(lines: list[list[Any]], mapping: dict[str, Any] | None = None, **more: Any) -> ScheduleRead:
    return read_schedule(filename="windows.xlsx", content=xlsx(lines, **more), settled=layout_of(mapping))


def marks(found: ScheduleRead) -> list[str]:
    return [row.mark for row in found.rows]


def mixed(heading: str, *values: str) -> list[list[Any]]:
    rows = [[f"W{n}", value, n, 36, 54] for n, value in enumerate(values, start=1)]
    return [["Mark", heading, "Qty", "RO Width", "RO Height"], *rows]


CATEGORIES = [
    ("Category", ("Window", "Door", "Window"), ["Door"]),
    ("Item type", ("WINDOW", "SLIDING DOOR", "WINDOW"), ["SLIDING DOOR"]),
    ("Type", ("Window", "Door", "Window"), ["Door"]),
    ("W/D", ("W", "D", "W"), ["D"]),
    ("Ctg", ("Win", "Dr", "Win"), ["Dr"]),
    ("Kind", ("W", "D", "W"), ["D"]),
    ("Operation", ("fixed", "Swing door", "awning"), ["Swing door"]),
    ("", ("Window", "Door", "Window"), ["Door"]),
    ("Bid", ("Base", "Alternate 1", "Base"), ["Alternate 1"]),
    ("Scope", ("Base", "Alt. 2", "Base"), ["Alt. 2"]),
    ("Status", ("new", "DELETED", "new"), ["DELETED"]),
    ("Supplied", ("us", "By others", "us"), ["By others"]),
    ("Work", ("new", "Existing to remain", "new"), ["Existing to remain"]),
    ("Contract", ("yes", "N.I.C.", "yes"), ["N.I.C."]),
    ("In contract", ("Yes", "No", "Yes"), ["No"]),
    ("NIC", ("", "X", ""), ["X"]),
    ("Remarks", ("egress", "Not in contract", "tempered"), ["Not in contract"]),
]


@pytest.mark.parametrize(("heading", "values", "apart"), CATEGORIES, ids=[heading for heading, *_ in CATEGORIES])
def test_rows_that_may_be_no_windows_of_the_work_are_asked_about(
    heading: str, values: tuple[str, ...], apart: list[str]
) -> None:
    lines = mixed(heading, *values)
    found = read(lines)
    [asked] = found.questions
    assert asked.field == "columns.B.leave_out"
    assert asked.choices[:2] == (", ".join(apart), "nothing")
    assert all(f"“{value}” (" in asked.detail for value in values if value)
    assert marks(found) == ["W1", "W3"]
    meaning = {"Type": "operation", "Operation": "operation", "Remarks": "remarks"}.get(heading, "not read")
    for answer, left in ((apart, ["W1", "W3"]), (apart[0], ["W1", "W3"]), ("nothing", ["W1", "W2", "W3"])):
        settled = read(lines, {"columns": {"B": {"meaning": meaning, "leave_out": answer}}})
        assert (settled.questions, marks(settled)) == ((), left)
        later = mixed(heading, *values[::-1], *values)
        again = read_schedule(
            filename="windows.xlsx",
            content=xlsx(later),
            remembered={settled.fingerprint: layout_of(settled.layout.as_json())},
        )
        assert again.questions == ()
        assert len(again.rows) == (4 if left == ["W1", "W3"] else 6)


def test_several_values_can_be_left_out_and_it_is_said_of_which_and_how_many_rows() -> None:
    lines = mixed("Category", "Window", "Door", "Alternate 1", "Window", "Door")
    for answer in (["Door", "Alternate 1"], "Door, Alternate 1", ["door", "ALTERNATE 1"]):
        found = read(lines, {"columns": {"Category": {"meaning": None, "leave_out": answer}}})
        assert marks(found) == ["W1", "W4"]
        assert any("“Door” (2), “Alternate 1” (1); kept: “Window” (2)" in note for note in found.notes)


def test_lines_between_the_rows_that_head_doors_are_asked_about() -> None:
    head = ["Mark", "Qty", "RO Width", "RO Height"]
    rows = [["Windows"], ["W1", 2, 36, 54], ["W2", 1, 36, 54], ["Exterior doors"], ["E1", 1, 38, 82], ["Total", 4]]
    found = read([head, *rows])
    [asked] = found.questions
    assert (asked.field, asked.choices) == ("columns.A.leave_out", ("Exterior doors", "nothing", "Windows"))
    assert asked.detail.startswith("The lines between the rows say “Windows” (2), “Exterior doors” (1).")
    for answer, left in (("Exterior doors", ["W1", "W2"]), ("nothing", ["W1", "W2", "E1"])):
        settled = read([head, *rows], {"columns": {"A": {"meaning": "mark", "leave_out": answer}}})
        assert (settled.questions, marks(settled)) == ((), left)
        again = read([head, *rows], settled.layout.as_json())
        assert (again.questions, marks(again)) == ((), left)


def test_value_that_no_row_has_is_said_to_leave_nothing_out() -> None:
    found = read(
        mixed("Scope", "ours", "Alt 3", "ours"), {"columns": {"B": {"meaning": "not read", "leave_out": "Alternate 3"}}}
    )
    [note] = [note for note in found.notes if "left out" in note]
    assert note == (
        "No row is left out by what “Scope” (B) says: “Alternate 3” is not there, only “ours” (2), “Alt 3” (1)."
    )


def test_values_of_merged_cells_hold_for_each_row() -> None:
    lines = mixed("Category", "Window", "Door", "", "Window")
    found = read(lines, {"columns": {"B": {"meaning": None, "leave_out": ["Door"]}}}, then=merged("B3:B4"))
    assert marks(found) == ["W1", "W4"]


def test_total_may_count_what_is_left_out_or_not() -> None:
    lines = mixed("Category", "Window", "Door", "Window")
    mapping = {"columns": {"B": {"meaning": None, "leave_out": ["Door"]}}}
    for total, fields in ((4, []), (6, []), (5, ["totals"])):
        found = read([*lines, ["Total", None, total]], mapping)
        assert [asked.field for asked in found.questions] == fields


def test_nothing_is_left_of_a_file_only_by_refusing_it() -> None:
    lines = mixed("Category", "Door", "Door")
    assert read(lines).questions[0].choices[0] == "nothing"
    with pytest.raises(BadSchedule, match="Every row would be left out"):
        read(lines, {"columns": {"B": {"meaning": None, "leave_out": ["Door"]}}})


@pytest.mark.parametrize(
    ("heading", "values"),
    [
        ("Category", ("Window", "Window")),
        ("Maker", ("by owner", "by owner")),
        ("Remarks", ("next to the door", "existing wall")),
        ("Type", ("fixed", "sliding")),
    ],
)
def test_columns_that_set_no_row_apart_ask_nothing(heading: str, values: tuple[str, ...]) -> None:
    assert read(mixed(heading, *values)).questions == ()


@pytest.mark.parametrize("leave_out", [3, [3], [""], {"Door": 1}])
def test_values_that_are_no_texts_are_refused(leave_out: Any) -> None:
    with pytest.raises(BadSchedule) as refused:
        layout_of({"columns": {"B": {"meaning": None, "leave_out": leave_out}}})
    assert refused.value.faults[0].field == "mapping.columns.B.leave_out"


# 3'-6 1/2" x 4'-0" and 2'-0" x 5'-3", 12 inches to the foot: NIST Handbook 44, Appendix C.
FEET = [["W1", 2, 3, "6 1/2", 4, 0], ["W2", 1, 2, None, 5, 3]]
JOINED = [(Decimal("42.5"), 48), (24, 63)]
HEADS = [
    [["Mark", "Qty", "RO Width ft", "RO Width in", "RO Height ft", "RO Height in"]],
    [["Mark", "Qty", "W (ft)", "(in)", "H (ft)", "(in)"]],
    [["Mark", "Qty", "Width ft.", "in.", "Height ft.", "in."]],
    [["Mark", "Qty", "W'", 'W"', "H'", 'H"']],
    [["Mark", "Qty", "Width", None, "Height", None], [None, None, "ft", "in", "ft", "in"]],
    [["Mark", "Qty", "Rough Opening"], [None, None, "Width", None, "Height"], [None, None, "ft", "in", "ft", "in"]],
]


def sizes(found: ScheduleRead) -> list[tuple[Any, Any]]:
    return [(row.ro_width_in or row.unit_width_in, row.ro_height_in or row.unit_height_in) for row in found.rows]


@pytest.mark.parametrize(
    "heads", HEADS, ids=["both named", "in alone", "with points", "signs", "under a side", "three lines"]
)
def test_feet_and_inches_of_two_columns_are_one_length(heads: list[list[Any]]) -> None:
    found = read([*heads, *FEET])
    assert (found.questions, found.faults, sizes(found)) == ((), (), JOINED)
    assert sum("has the feet" in note for note in found.notes) == 2
    again = read([*heads, *FEET], found.layout.as_json())
    assert (again.questions, sizes(again)) == ((), JOINED)


def test_inches_headed_so_beside_feet_that_are_not_are_asked_about() -> None:
    lines = [["Mark", "Qty", "RO Width", "in.", "RO Height", "in."], *FEET]
    found = read(lines)
    assert {asked.field for asked in found.questions} == {"columns.D.meaning", "columns.F.meaning"}
    assert sizes(found) == JOINED
    said = {"D": {"meaning": "ro_width_in"}, "F": {"meaning": "ro_height_in"}}
    settled = read(lines, {"columns": said})
    assert (settled.questions, sizes(settled)) == ((), JOINED)


def test_inches_without_a_heading_are_asked_about() -> None:
    lines = [["Mark", "Qty", "RO Width", None, "RO Height", None], *FEET]
    found = read(lines, then=merged("C1:D1", "E1:F1"))
    assert {asked.field for asked in found.questions} == {"columns.D.meaning", "columns.F.meaning"}
    assert sizes(found) == JOINED
    said = {"D": {"meaning": "ro_width_in"}, "F": {"meaning": "ro_height_in", "unit": "in"}}
    settled = read(lines, {"columns": said}, then=merged("C1:D1", "E1:F1"))
    assert (settled.questions, sizes(settled)) == ((), JOINED)
    unread = read(lines, {"columns": {"D": "not read", "F": "not read"}}, then=merged("C1:D1", "E1:F1"))
    assert {asked.field for asked in unread.questions} == {"columns.C.unit", "columns.E.unit"}


def test_feet_and_inches_are_joined_where_headings_say_nothing_and_a_person_does() -> None:
    lines = [["Pos", "Stk", "Bf", "Bz", "Hf", "Hz"], *FEET]
    sides = [("C", "ro_width_in", "ft"), ("D", "ro_width_in", "in"), ("E", "ro_height_in", "ft")]
    columns = {letter: {"meaning": meaning, "unit": unit} for letter, meaning, unit in sides}
    columns |= {"F": {"meaning": "ro_height_in", "unit": "in"}, "A": {"meaning": "mark"}, "B": {"meaning": "quantity"}}
    found = read(lines, {"columns": columns})
    assert (found.questions, found.faults, sizes(found)) == ((), (), JOINED)


def test_same_width_in_feet_and_again_in_inches_is_no_pair() -> None:
    tall = "4'-6\""
    lines = [["Mark", "Qty", "RO Width ft", "RO Width in", "RO Height"], ["W1", 2, 3, 36, tall], ["W2", 1, 2, 24, tall]]
    found = read(lines)
    assert "columns.D.meaning" in [asked.field for asked in found.questions]
    assert [row.ro_width_in for row in found.rows] == [36, 24]


@pytest.mark.parametrize(("feet", "inches"), [(3.5, 6), (3, 14), ("3x", 2)])
def test_feet_and_inches_that_make_no_length_are_a_fault(feet: Any, inches: Any) -> None:
    lines = [
        ["Mark", "Qty", "RO Width ft", "RO Width in", "RO Height"],
        *([f"W{n}", 1, n + 1, n, 54] for n in range(9)),
    ]
    found = read([*lines, ["W9", 1, feet, inches, 54]])
    assert [fault.row for fault in found.faults] == [11]
