"""What workbooks hide, and workbooks that are none."""

from __future__ import annotations

import io
import re
import zipfile
from typing import Any

import pytest
from openpyxl import Workbook

from openings.errors import BadSchedule
from openings.schedules import read_schedule
from openings.schedules.readers import MAX_FILE_BYTES, MAX_MODEL_BYTES
from tests.openings.schedules.files import read_xlsx, repacked, saved, with_sheet, xlsx

HEADINGS = ["Mark", "Qty", "RO Width", "RO Height", "Floor"]
GOOD = [HEADINGS, ["A", 1, 36, 54, "1"], ["B", 2, 36, 54, "1"]]


def refusal(content: bytes, *, filename: str = "windows.xlsx") -> str:
    with pytest.raises(BadSchedule) as raised:
        read_schedule(filename=filename, content=content)
    return raised.value.detail


def test_formula_with_a_saved_value_is_taken_by_its_value() -> None:
    content = with_sheet(
        xlsx([*GOOD[:2], ["B", 2, "=35+1.5", 54, "1"]]),
        lambda part: re.sub(rb"(<f>35\+1\.5</f>)<v(?:></v>| ?/>)", rb"\1<v>36.5</v>", part),
    )
    assert str(read_schedule(filename="a.xlsx", content=content).rows[1].ro_width_in) == "36.50000"


def test_formula_without_a_saved_value_is_a_fault_that_names_the_cell() -> None:
    [fault] = read_xlsx([*GOOD, ["C", 1, "=1+1", 54, "1"]]).faults
    assert (fault.row, fault.field) == (4, "RO Width")
    assert "C4 is a formula without a saved value" in fault.detail


def test_error_in_a_cell_is_a_fault_that_names_the_cell() -> None:
    [fault] = read_xlsx([*GOOD, ["C", 1, 36, "#REF!", "1"]]).faults
    assert "D4 shows an error" in fault.detail


def test_formula_in_the_totals_is_passed_over() -> None:
    assert read_xlsx([*GOOD, ["Total", "=SUM(B2:B3)"]]).faults == ()


def test_hidden_rows_and_columns_are_read_and_noted() -> None:
    def hide(sheet: Any) -> None:
        sheet.row_dimensions[3].hidden = True
        sheet.column_dimensions["E"].hidden = True

    read = read_xlsx(GOOD, then=hide)
    assert [row.mark for row in read.rows] == ["A", "B"]
    assert "Hidden but read: row 3." in read.notes
    assert "Hidden but read: column E." in read.notes


def test_merged_floor_fills_down_and_is_noted() -> None:
    read = read_xlsx(
        [HEADINGS, ["A", 1, 36, 54, "Level 2"], ["B", 1, 36, 54, None], ["C", 1, 36, 54, "Level 3"]],
        then=lambda sheet: sheet.merge_cells("E2:E3"),
    )
    assert [row.floor for row in read.rows] == ["Level 2", "Level 2", "Level 3"]
    assert any("2 to 3" in note for note in read.notes)


def test_merged_quantity_is_not_counted_twice() -> None:
    read = read_xlsx([HEADINGS, ["A", 4, 36, 54], ["B", None, 36, 54]], then=lambda sheet: sheet.merge_cells("B2:B3"))
    assert [(fault.row, fault.field) for fault in read.faults] == [(3, "Qty")]


def test_schedule_is_found_on_whichever_visible_sheet_it_stands() -> None:
    book = Workbook()
    book.active.append(["Cover"])
    for name, mark, state in (("Old windows", "OLD", "hidden"), ("Openings", "NEW", "visible")):
        sheet = book.create_sheet(name)
        sheet.append(HEADINGS)
        sheet.append([mark, 1, 36, 54])
        sheet.sheet_state = state
    read = read_schedule(filename="a.xlsx", content=saved(book))
    assert [row.mark for row in read.rows] == ["NEW"]
    assert "The hidden sheet “Old windows” was not read." in read.notes


def test_two_sheets_that_could_be_the_schedule_are_asked_about() -> None:
    book = Workbook()
    for name in ("East", "West"):
        sheet = book.create_sheet(name)
        sheet.append(HEADINGS)
        sheet.append(["A", 1, 36, 54])
    [question] = read_schedule(filename="a.xlsx", content=saved(book)).questions
    assert (question.field, question.choices[:2]) == ("tables", ("East!1", "West!1"))


def test_sheet_named_windows_is_read_beside_one_of_doors() -> None:
    book = Workbook()
    for name in ("Doors", "Windows"):
        sheet = book.create_sheet(name)
        sheet.append(HEADINGS)
        sheet.append([name, 1, 36, 54])
    assert read_schedule(filename="a.xlsx", content=saved(book)).rows[0].mark == "Windows"


def test_sheet_with_prefixed_tags_is_read() -> None:
    def prefix(part: bytes) -> bytes:
        tags = part.replace(b"</", b"<x:/").replace(b"<", b"<x:").replace(b"<x:x:/", b"</x:")
        return tags.replace(b"xmlns=", b"xmlns:x=")

    content = with_sheet(xlsx([*GOOD, ["C", 1, "=1+1", 54]]), prefix)
    assert "C4" in read_schedule(filename="a.xlsx", content=content).faults[0].detail


def zip_of(parts: dict[str, bytes]) -> bytes:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, part in parts.items():
            archive.writestr(name, part)
    return packed.getvalue()


WRONG_FILES = [
    ("empty", "a.xlsx", b"", "empty"),
    ("too large", "a.xlsx", bytes(MAX_FILE_BYTES + 1), "at most 20,000,000"),
    ("model too large", "a.ifc", bytes(MAX_MODEL_BYTES + 1), "at most 60,000,000"),
    ("other ending", "a.docx", b"words", "neither .xlsx nor .csv"),
    ("old workbook by name", "a.xls", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "old .xls"),
    ("locked with a password", "a.xlsx", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600), "password"),
    ("macros by name", "a.xlsm", xlsx(GOOD), "macros"),
    ("text as workbook", "a.xlsx", b"Mark,Width,Height\nA,1,2\n", "not a workbook"),
    ("workbook as text", "a.csv", xlsx(GOOD), "give it the ending .xlsx"),
    ("pdf as workbook", "a.xlsx", b"%PDF-1.7 ...", "PDF"),
    ("other zip", "a.xlsx", zip_of({"readme.txt": b"hello"}), "no .xlsx workbook"),
    ("cut off", "a.xlsx", xlsx(GOOD)[:-200], "damaged or cut off"),
    ("only its first bytes", "a.xlsx", b"PK\x03\x04", "damaged or cut off"),
    ("many parts", "a.xlsx", zip_of({f"x{n}": b"" for n in range(2001)}), "more than 2000 parts"),
    ("bomb", "a.xlsx", zip_of({"xl/workbook.xml": bytes(30_000_000)}), "would unpack to 30,000,000 bytes"),
]


@pytest.mark.parametrize(
    ("filename", "content", "sentence"), [case[1:] for case in WRONG_FILES], ids=[case[0] for case in WRONG_FILES]
)
def test_file_that_cannot_be_taken_is_refused_with_a_sentence(filename: str, content: bytes, sentence: str) -> None:
    assert sentence in refusal(content, filename=filename)


def test_workbook_with_macros_is_refused() -> None:
    with_macros = io.BytesIO(xlsx(GOOD))
    with zipfile.ZipFile(with_macros, "a") as archive:
        archive.writestr("xl/vbaProject.bin", b"macro")
    assert "macros" in refusal(with_macros.getvalue())


def test_entities_are_refused_and_not_expanded() -> None:
    declared = b'<!DOCTYPE x [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;">]>'
    assert "declares entities" in refusal(with_sheet(xlsx(GOOD), lambda part: declared + part))


def test_part_longer_than_it_declares_is_refused() -> None:
    content = bytearray(xlsx(GOOD))
    with zipfile.ZipFile(io.BytesIO(bytes(content))) as archive:
        entry = archive.getinfo("xl/worksheets/sheet1.xml")
    directory = content.rindex(b"xl/worksheets/sheet1.xml") - 46
    content[directory + 24 : directory + 28] = (entry.file_size // 2).to_bytes(4, "little")
    assert "damaged or cut off" in refusal(bytes(content))


@pytest.mark.parametrize(
    "place", [b'r="XFD1048576"', b"r='XFD1048576'", b'\n r = "XFD1048576"', b's="0" r="XFD1048576"']
)
def test_cell_at_the_far_end_of_the_sheet_is_refused_before_it_fills_the_memory(place: bytes) -> None:
    content = with_sheet(xlsx(GOOD), lambda part: part.replace(b'r="E3"', place))
    assert "16,384 columns" in refusal(content)


@pytest.mark.parametrize("place", ["nlineStrF16", "3E", "e3"])
def test_cell_that_stands_nowhere_is_refused(place: str) -> None:
    assert f"a cell stands at {place}" in refusal(
        with_sheet(xlsx(GOOD), lambda part: part.replace(b'"E3"', f'"{place}"'.encode()))
    )


def test_cell_that_names_no_place_stands_right_of_the_one_before() -> None:
    content = with_sheet(xlsx(GOOD), lambda part: part.replace(b' r="E3"', b""))
    assert read_schedule(filename="a.xlsx", content=content).rows[1].floor == "1"


@pytest.mark.parametrize("missing", ["_rels/.rels", "xl/_rels/workbook.xml.rels", "xl/worksheets/sheet1.xml"])
def test_workbook_that_lacks_a_part_is_refused(missing: str) -> None:
    assert refusal(repacked(xlsx(GOOD), lambda name, part: None if name == missing else part))
