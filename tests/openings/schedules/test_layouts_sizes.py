"""Sizes as people and models write them, and those that could mean two things."""

from __future__ import annotations

import datetime
import re
from typing import Any

import pytest

from openings.errors import BadSchedule
from openings.schedules import Layout, Meaning, ScheduleRead
from openings.schedules.layout import ColumnAnswer
from tests.openings.schedules.files import xlsx
from tests.openings.schedules.layouts import (
    BIM_CSV,
    CALL,
    COMMON,
    FIRST_HAND,
    NAVY,
    Case,
    Opening,
    Size,
    answered,
    check,
    is_quiet,
    mm,
    never_silent,
    said,
    sheet,
    taken,
    wanted,
)


def size(written: Any, inches: Size, source: str, *, heading: str = "Rough Opening (W x H)") -> Case:
    # Two digits a side may be feet and inches: section 11.1 of the check values. Whoever asks is right to.
    may_ask = r"columns\.C\.unit" if re.fullmatch(r"[3-5]\d\s*[xX*×]\s*[3-5]\d\u200f?", str(written)) else ""
    content = xlsx([["Mark", "Qty", heading], ["W1", 2, written]])
    return Case(
        name=f"{heading}: {written}",
        content=content,
        openings=(Opening("W1", 2, ro=inches),),
        may_ask=may_ask,
        source=source,
    )


SIZES = [
    size("36 x 54", (36, 54), COMMON),
    size("36X54", (36, 54), COMMON),
    size("36*54", (36, 54), COMMON),
    size("36 × 54", (36, 54), COMMON),
    size('36" x 54"', (36, 54), COMMON),
    size("36\u201d x 54\u201d", (36, 54), "section 11.2 of the check values: curly quotes, from memory"),
    size("36'' x 54''", (36, 54), "section 11.2 of the check values: doubled apostrophes, from memory"),
    size("36 in. x 54 in.", (36, 54), COMMON),
    size('36" wide by 54" high', (36, 54), COMMON),
    size('36"W x 54"H', (36, 54), COMMON),
    size("54 H x 36 W", (36, 54), "common practice, no source: letters beside the sides count before their order"),
    size("W: 36 x H: 54", (36, 54), COMMON),
    size("36.5 x 54.25", (36.5, 54.25), COMMON),
    size("35 1/2 x 59 1/2", (35.5, 59.5), COMMON),
    size("35½ x 59½", (35.5, 59.5), "section 11.2 of the check values: fractions of Unicode, from memory"),
    size("35 ½ × 59 ¾", (35.5, 59.75), "section 11.2 of the check values: fractions of Unicode, from memory"),
    size('35 1⁄2" x 59 1⁄2"', (35.5, 59.5), COMMON),
    size('31-7/8" x 62-27/32"', (31.875, 62.84375), "section 11.2 of the check values: least fraction seen is 1/32"),
    size("3'-0\" x 4'-6\"", (36, 54), COMMON),
    size("3'-0\" x 4'-0\"", (36, 48), "section 11.2 of the check values, read in real material"),
    size("3'0\" x 4'6\"", (36, 54), COMMON),
    size("3' x 4'-6\"", (36, 54), COMMON),
    size("3'-0 1/2\" x 4'-6 1/2\"", (36.5, 54.5), COMMON),
    size("3'-0½\" x 4'-6½\"", (36.5, 54.5), COMMON),
    size("3′-0″ × 4′-6″", (36, 54), "section 11.2 of the check values: primes U+2032 and U+2033, from memory"),
    size("3\u2019-0\u201d x 4\u2019-6\u201d", (36, 54), "section 11.2 of the check values: curly quotes, from memory"),
    size("3'-0'' x 4'-6''", (36, 54), "section 11.2 of the check values: doubled apostrophes, from memory"),
    size("5' - 0\" x 4' - 6\"", (60, 54), BIM_CSV),
    size("3-0' x 5-0'", (36, 60), "section 11.2 of the check values, from a secondary page"),
    size("2 ft 4 in. by 3 ft 10 in", (28, 46), NAVY),
    size("5/0X4/6", (60, 54), "section 11.2 of the check values: alpinedesign, width first"),
    size("1/6X2/0", (18, 24), "section 11.2 of the check values: alpinedesign, width first"),
    size("3/0 x 6/8", (36, 80), CALL),
    size("0915 x 1830mm", mm(915, 1830), "section 11.2 of the check values, read in IFC files"),
    size("2800mm x 2410mm", mm(2800, 2410), FIRST_HAND),
    size("1180 x 1170mm", mm(1180, 1170), FIRST_HAND),
    size("1810x1210mm", mm(1810, 1210), FIRST_HAND),
    size("36\N{NO-BREAK SPACE}x\N{NO-BREAK SPACE}54\u200f", (36, 54), COMMON),
    size("54 x 36", (36, 54), COMMON, heading="R.O. (H x W)"),
    size("54 x 36", (36, 54), COMMON, heading="Rough Opening HxW"),
    size("36 x 54", (36, 54), COMMON, heading="R.O. Size (W/H)"),
    size("915 x 1830", mm(915, 1830), FIRST_HAND, heading="Rough Opening (mm)"),
    size("4050", (48, 60), CALL, heading="Call Size"),
    size(3060, (36, 72), CALL, heading="Call Size"),
    size("2860", (32, 72), CALL, heading="Nominal Size"),
    size("2426", (28, 30), CALL, heading="Call Size"),
    size(3046, (36, 54), CALL, heading="Nominal"),
    size("24310", (28, 46), "section 11.1 of the check values, from memory", heading="Call Size"),
    size(210410, (34, 58), "section 11.1 of the check values, from memory", heading="Call Size"),
]


def sides(name: str, headings: str, cells: str, wide: Size) -> Case:
    return sheet(name, f"Mark | Qty | {headings}\nW1 | 2 | {cells}\n", Opening("W1", 2, ro=wide))


FORMS = [
    sides("numbers kept as text", "RO Width | RO Height", "'36 | '54.5", (36, 54.5)),
    sides("inch marks", "RO Width | RO Height", '36" | 54 1/2"', (36, 54.5)),
    sides("feet and inches", "RO Width | RO Height", "3'-0\" | 4'-6 1/2\"", (36, 54.5)),
    sides("feet and a fraction without a mark", "RO Width | RO Height", "3'-0 1/2 | 4'-6 3/4", (36.5, 54.75)),
    sides("feet, inches and a fraction in spaces", "RO Width | RO Height", "3' 0 1/2\" | 4' 6 3/4\"", (36.5, 54.75)),
    sides("feet and decimal inches", "RO Width | RO Height", "3'-0.5\" | 4'-6.75\"", (36.5, 54.75)),
    sides("fraction behind a hyphen", "RO Width | RO Height", '36-1/2" | 54-3/4"', (36.5, 54.75)),
    sides("fraction in one letter", "RO Width | RO Height", "36½ | 3'-6⅞\"", (36.5, 42.875)),
    sides("words for the units", "RO Width | RO Height", "3 ft 0-1/2 in | 4 feet 6 inches", (36.5, 54)),
    sides("sixty-fourths", "RO Width | RO Height", '36 1/64" | 54 63/64"', (36.01563, 54.98438)),
    sides("slashes", "RO Width | RO Height", "5/0 | 4/6", (60, 54)),
    sides("mixed tape and inches", "RO Width | RO Height", "3'-0\" | 54.5", (36, 54.5)),
    sides("unit in the cell", "RO Width | RO Height", "915 mm | 1830 mm", mm(915, 1830)),
    sides("unit in the cell counts before the heading", "RO Width (mm) | RO Height (mm)", "36 in | 54 in", (36, 54)),
    sides("noise of a model", "RO Width (m) | RO Height (m)", "0.9143999999999999 | 1.3716000000000002", (36, 54)),
    sides("float noise in inches", "RO Width | RO Height", "36.49999999999999 | 54.500000000001", (36.5, 54.5)),
    sides("leading zero in millimeters", "RO Width (mm) | RO Height (mm)", "0915 | 1830", mm(915, 1830)),
]


@pytest.mark.parametrize("case", SIZES, ids=lambda case: case.name)
def test_size_is_read(case: Case) -> None:
    check(case)


CASES = SIZES

NOTED = ["36 x 54 TEMP", "36 x 54 (tempered)", "36 x 54 V.I.F.", "36 x 54 - egress", '36" x 54" TYP.', "36 x 54 *"]


@pytest.mark.parametrize("written", NOTED)
def test_words_behind_a_size_are_kept_or_reported(written: str) -> None:
    # Common practice, no source: a note behind a size concerns the glass or the order and must not be lost.
    read = size(written, (36, 54), COMMON).read()
    if read.faults:
        assert [fault.row for fault in read.faults] == [2]
    else:
        [row] = read.rows
        assert (row.ro_width_in, row.ro_height_in) == (36, 54)
        note = written.split("54", 1)[1].strip(' -()"')
        assert note in " ".join([row.remarks, *read.notes])


# What can mean two things is reported with both readings: the issue, point 3; section 11.1 of the check values.
TWO_READINGS = [
    ("Call Size", "2210", ["2'-2\" x 1'-0\"", "2'-0\" x 2'-10\""]),
    ("Call Size", "2410", ["2'-4\" x 1'-0\"", "2'-0\" x 4'-10\""]),
    ("Rough Opening", "3,050", ["3050", "3.050"]),
    ("Rough Opening (W x H)", "A-3648", ["36", "48", "3'-6\"", "4'-8\""]),
]


@pytest.mark.parametrize(("heading", "written", "readings"), TWO_READINGS, ids=[case[1] for case in TWO_READINGS])
def test_size_of_two_readings_is_reported_with_both(heading: str, written: str, readings: list[str]) -> None:
    told = never_silent(xlsx([["Mark", "Qty", heading], ["W1", 2, written], ["W2", 2, "3'-0\" x 4'-6\""]]))
    assert all(reading in said(told) for reading in readings), said(told)


# "30x30" may be inches or feet and inches: section 11.1 of the check values.
BARE = xlsx([["Mark", "Qty", "Window Size"], ["W1", 2, "30x30"], ["W2", 1, "30x50"], ["W3", 1, "26x40"]])


def test_thirty_by_thirty_is_asked_with_both_readings() -> None:
    told = never_silent(BARE)
    assert re.search(r"\d\d x \d\d in .*\d'-\d\" x \d'-\d\"", said(told)), said(told)
    if isinstance(told, ScheduleRead) and not told.faults:
        [asked] = [asked for asked in told.questions if asked.field == "columns.C.unit"]
        assert {"in", "feet-inches"} <= set(asked.choices)


@pytest.mark.parametrize(
    ("unit", "first"), [("in", (30, 30)), ("feet-inches", (36, 36))], ids=["inches", "feet and inches"]
)
def test_thirty_by_thirty_is_read_as_answered(unit: str, first: Size) -> None:
    second, third = ((30, 50), (26, 40)) if unit == "in" else ((36, 60), (30, 48))
    openings = (Opening("W1", 2, unit=first), Opening("W2", unit=second), Opening("W3", unit=third))
    case = Case(name="30x30", content=BARE, openings=openings, source="section 11.1 of the check values")
    answered(case, {"C": ColumnAnswer(meaning=Meaning.UNIT_SIZE, unit=unit)})


# No reader can know these; a person must. Common practice, no source.
UNREADABLE = [
    "VARIES", "SEE ELEVATION", "banana", "36 x", "x 54", "36", "36 x 54 x 6", "36 x 54 / 36 x 60", "(2) 36 x 54",
    "36-42 x 54", "±36 x 54", "0 x 0", "-36 x 54", "36 x 0", "36,5 x 54", "3'-14\" x 4'-6\"", "5 x 3/7",
    "#REF!", "914 x 1372", "36 x W", "99999999999999999999 x 36", "8/10",
]  # fmt: skip


@pytest.mark.parametrize("written", UNREADABLE)
def test_size_that_nobody_can_know_is_reported_where_it_stands(written: str) -> None:
    content = xlsx([["Mark", "Qty", "Rough Opening"], ["W1", 2, "36 x 54"], ["W2", 1, written]])
    told = never_silent(content)
    if isinstance(told, ScheduleRead) and told.faults:
        assert {(fault.row, fault.field) for fault in told.faults} == {(3, "Rough Opening")}
        assert told.faults[0].value in (written, "")  # an error of a formula has no value
        assert [row.mark for row in told.rows] == ["W1"]


SPOILT = [datetime.date(2025, 3, 6), datetime.datetime(2025, 5, 4), datetime.time(3, 0)]  # noqa: DTZ001, a cell has no zone


@pytest.mark.parametrize("cell", SPOILT, ids=["3/6", "5/4", "3:0"])
@pytest.mark.parametrize("heading", ["Rough Opening", "RO Width"])
def test_date_that_a_spreadsheet_made_of_a_size_is_reported(cell: object, heading: str) -> None:
    # Common practice, no source: spreadsheet programs turn 3/6 into the sixth of March.
    rest = {"RO Height": 54} if heading == "RO Width" else {}
    read = never_silent(xlsx([["Mark", "Qty", heading, *rest], ["W1", 2, cell, *rest.values()]]))
    assert isinstance(read, ScheduleRead)
    assert [(fault.row, fault.field) for fault in read.faults] == [(2, heading)]
    assert "date" in read.faults[0].detail


@pytest.mark.parametrize("case", FORMS, ids=lambda case: case.name)
def test_sides_are_read_in_every_form(case: Case) -> None:
    check(case)


def test_thousands_comma_in_millimeters_is_no_point() -> None:
    # 1,200 mm is a window and 1.2 mm is none: common practice, no source; either way nothing is guessed in silence.
    case = sides("", "RO Width (mm) | RO Height (mm)", "1,200 | 1,500", mm(1200, 1500))
    read = case.read()
    assert read.faults or [(row.ro_width_in, row.ro_height_in) for row in read.rows] == [mm(1200, 1500)]


@pytest.mark.parametrize("blank", ["", "-", "n/a", "0", "null", "$"])
def test_row_without_a_size_is_reported(blank: str) -> None:
    # Section 11.1 and 11.4 of the check values: models leave sizes at nothing, 0 or $.
    content = xlsx([["Mark", "Qty", "RO Width", "RO Height"], ["W1", 1, blank, blank], ["W2", 1, 36, 54]])
    told = never_silent(content)
    assert isinstance(told, ScheduleRead)
    assert {fault.row for fault in told.faults} == {2}


def test_height_can_be_settled_to_stand_first() -> None:
    case = size("54 x 36", (36, 54), COMMON, heading="Rough Opening")
    settled = Layout(columns={"C": ColumnAnswer(meaning=Meaning.RO_SIZE, height_first=True)})
    assert case.read(settled=settled).rows[0].ro_width_in == 36


@pytest.mark.parametrize("blank", ["0", "", "n/a"])
def test_size_that_stands_in_the_name_of_a_type_alone_is_not_guessed(blank: str) -> None:
    # Section 11.4 of the check values: handover sheets leave the sizes at 0 and name the type Fixed:2800mm x 2410mm.
    line = ["W1", "Fixed:2800mm x 2410mm", blank, blank]
    told = never_silent(xlsx([["Mark", "Type", "Nominal Width", "Nominal Height"], line]))
    assert isinstance(told, BadSchedule) or not any(row.ro_width_in for row in told.rows) or told.questions


def test_full_line_of_a_drawing_is_read_or_reported() -> None:
    written = "No. 3, DH, 2 ft 4 in. by 3 ft 10 in, 12 LTS"
    read = size(written, (28, 46), NAVY).read()
    assert [fault.row for fault in read.faults] == [2] or [row.ro_height_in for row in read.rows] == [46]


def test_feet_and_inches_in_columns_of_their_own_are_not_guessed() -> None:
    # Common practice, no source: takeoff sheets split a side into a column of feet and one of inches.
    heads = ["Mark", "Qty", "RO Width (ft)", "RO Width (in)", "RO Height (ft)", "RO Height (in)"]
    case = Case(
        name="", content=xlsx([heads, ["W1", 2, 3, 0.5, 4, 6.5]]), openings=(Opening("W1", 2, ro=(36.5, 54.5)),)
    )
    try:
        read = case.read()
    except BadSchedule:
        return
    assert not is_quiet(read) or taken(read.rows, like=case.openings) == wanted(case.openings)


def test_file_of_sizes_alone_is_refused() -> None:
    with pytest.raises(BadSchedule):
        size("36 x 54", (36, 54), COMMON, heading="Glass Size").read()
