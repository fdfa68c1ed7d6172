"""Workbooks that are odd but right are read: what other programs write, and what stands over or around the cells."""

from __future__ import annotations

import re

import pytest
from openpyxl import Workbook

from openings.schedules import ScheduleRead, read_schedule
from tests.openings.schedules.broken import GOOD, HEADINGS, STRINGS, parts_of, with_part, with_rows, with_shared, zip_of
from tests.openings.schedules.files import SHEET, repacked, saved, with_sheet, xlsx

BOOK = xlsx(GOOD)
PARTS = parts_of(BOOK)


def read(content: bytes) -> ScheduleRead:
    return read_schedule(filename="windows.xlsx", content=content)


def changed(name: str, old: bytes, new: bytes) -> bytes:
    assert old in PARTS[name]
    return zip_of({**PARTS, name: PARTS[name].replace(old, new)})


def strict(name: str, part: bytes) -> bytes:
    # Source: ISO/IEC 29500-1, the namespaces of the strict variant.
    return part.replace(
        b"http://schemas.openxmlformats.org/spreadsheetml/2006/main", b"http://purl.oclc.org/ooxml/spreadsheetml/main"
    ).replace(
        b"http://schemas.openxmlformats.org/officeDocument/2006/relationships",
        b"http://purl.oclc.org/ooxml/officeDocument/relationships",
    )


RICH = b'<row r="4"><c r="A4" t="inlineStr"><is><r><t>C</t></r><r><rPr><b/></rPr><t>7</t></r></is></c>' + b"".join(
    b'<c r="%s4"><v>%d</v></c>' % (letter, value) for letter, value in ((b"B", 1), (b"C", 36), (b"D", 54))
) + b"</row>"  # fmt: skip

READ = [
    ("strict variant", repacked(BOOK, strict), "AB"),
    ("shared texts", with_shared(BOOK), "AB"),
    ("shared texts that say they are four thousand million",
     with_shared(BOOK, attributes=b' uniqueCount="4294967295"'), "AB"),
    ("no dimension", with_sheet(BOOK, lambda part: re.sub(rb"<dimension[^>]*>", b"", part)), "AB"),
    ("wrong dimension", with_sheet(BOOK, lambda part: part.replace(b'"A1:E3"', b'"A1:XFD1048576"')), "AB"),
    ("text in runs of several looks", with_rows(RICH), ["A", "B", "C7"]),
    ("dates from 1904", changed("xl/workbook.xml", b"<workbookPr ", b'<workbookPr date1904="1" '), "AB"),
    ("pictures over the cells", with_part("xl/media/image1.png", bytes(9_000)), "AB"),
    ("a million blank rows", with_rows(b"<row/>" * 1_000_000), "AB"),
    ("blank rows with a look", with_rows(b"".join(b'<row r="%d"><c r="A%d" s="0"/></row>' % (row, row)
     for row in range(4, 200_000))), "AB"),
    ("blank cells with a look in the last column", with_rows(b'<row r="4"><c r="XFD4" s="0"/></row>'), "AB"),
    ("rows out of order", with_rows(b'<row r="2"><c r="E2"><v>2</v></c></row>'), "AB"),
    ("parts with backslashes", zip_of({name.replace("/", "\\"): part for name, part in PARTS.items()}), "AB"),
    ("a million parts announced", BOOK.replace(BOOK[-14:-10], b"\xff\xff\xff\xff"), "AB"),
]  # fmt: skip


@pytest.mark.parametrize(("content", "marks"), [case[1:] for case in READ], ids=[case[0] for case in READ])
def test_odd_workbook_is_read(content: bytes, marks: str | list[str]) -> None:
    assert [row.mark for row in read(content).rows] == list(marks)


@pytest.mark.parametrize("name", ["Fenster & Türen <1>", "O'Neil", "_x0041_", "窓", "a" * 31, "Windows “A”"])
def test_sheet_may_have_any_name(name: str) -> None:
    book = Workbook()
    book.active.title = name
    for line in GOOD:
        book.active.append(line)
    assert len(read(saved(book)).rows) == 2


def test_very_hidden_sheets_and_sheets_of_charts_are_passed_over() -> None:
    book = Workbook()
    for line in GOOD:
        book.active.append(line)
    book.create_chartsheet("Chart")
    hidden = book.create_sheet("Old")
    hidden.append(HEADINGS)
    hidden.append(["OLD", 1, 36, 54])
    hidden.sheet_state = "veryHidden"
    assert [row.mark for row in read(saved(book)).rows] == ["A", "B"]


def test_marks_that_differ_in_what_nobody_sees_are_the_same() -> None:
    # Source: Unicode Standard, format characters (category Cf).
    found = read(xlsx([HEADINGS, ["\u200eA\u200b", 1, "36\u00a0", "\ufeff54"], ["\u202bB\u202c", 2, 36, 54]]))
    assert [(row.mark, row.ro_width_in, row.ro_height_in) for row in found.rows] == [("A", 36, 54), ("B", 36, 54)]
    assert any("U+200B, U+200E, U+202B, U+202C, U+FEFF" in note for note in found.notes)


def test_letters_written_as_references_are_left_out_too() -> None:
    content = with_sheet(BOOK, lambda part: part.replace(b"<t>A</t>", b"<t>&#8206;A&#x200B;</t>"))
    assert read(content).rows[0].mark == "A"


def test_hidden_columns_given_many_times_over_are_noted_once() -> None:
    columns = b"<cols>" + b'<col min="1" max="16384" hidden="1"/>' * 50_000 + b"</cols><sheetData>"
    found = read(with_sheet(BOOK, lambda part: part.replace(b"<sheetData>", columns)))
    assert "Hidden but read: column A, B, C, D, E." in found.notes


@pytest.mark.parametrize("missing", sorted({*PARTS, STRINGS} - {SHEET, "xl/workbook.xml"}))
def test_part_that_is_missing_is_never_a_crash(missing: str) -> None:
    parts = parts_of(with_shared(BOOK))
    try:
        found = read(zip_of({name: part for name, part in parts.items() if name != missing}))
    except Exception as error:
        assert type(error).__name__ == "BadSchedule"  # noqa: PT017 (either is right, nothing else is)
    else:
        assert [row.mark for row in found.rows] == ["A", "B"]
