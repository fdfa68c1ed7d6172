"""Files that are no schedule, are broken, or were built to do harm: each is refused with what to do, and quickly.

Sources: the kinds of file by their first bytes and parts: the open formats' own documents (ISO/IEC 29500 workbooks,
ISO/IEC 26300 open documents, ISO 10303-21 models, RFC 1952 gzip, ISO 32000 PDF); limits of a sheet, 1,048,576 rows and
16,384 columns: from memory.
"""

from __future__ import annotations

import gzip
import time
import zipfile

import pytest

from openings.errors import BadSchedule
from openings.schedules import read_schedule
from tests.openings.schedules.broken import (
    GOOD,
    STRINGS,
    parts_of,
    with_part,
    with_rows,
    with_shared,
    zip_of,
)
from tests.openings.schedules.files import SHEET, with_sheet, xlsx

OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
BOOK = xlsx(GOOD)
PARTS = parts_of(BOOK)


def refusal(content: bytes, *, filename: str = "windows.xlsx") -> str:
    started = time.perf_counter()
    with pytest.raises(BadSchedule) as raised:
        read_schedule(filename=filename, content=content)
    assert time.perf_counter() - started < 10
    assert raised.value.detail.endswith(".")
    return raised.value.detail


def marks(content: bytes, *, filename: str = "windows.xlsx") -> list[str]:
    return [row.mark for row in read_schedule(filename=filename, content=content).rows]


def changed(name: str, old: bytes, new: bytes) -> bytes:
    assert old in PARTS[name]
    return zip_of({**PARTS, name: PARTS[name].replace(old, new)})


OTHER_KINDS = [
    ("old workbook", "a.xls", OLE + bytes(600), "old .xls"),
    ("old workbook renamed", "a.xlsx", OLE + bytes(600), "old .xls"),
    ("password", "a.xlsx", OLE + bytes(600) + "EncryptedPackage".encode("utf-16-le"), "locked with a password; save"),
    ("password by flag", "a.xlsx", zip_of({"xl/workbook.xml": b"x"}).replace(b"PK\x01\x02\x14\x03\x14\x00\x00",
     b"PK\x01\x02\x14\x03\x14\x00\x01"), "locked with a password"),
    ("new workbook under the old ending", "a.xls", BOOK, "give it the ending .xlsx"),
    ("macros renamed", "a.xlsx", changed("[Content_Types].xml", b"sheet.main+xml", b"sheet.macroEnabled.main+xml"),
     "carries macros"),
    ("macros elsewhere", "a.xlsx", with_part("custom/VBAProject.BIN", b"x"), "carries macros"),
    ("macros by type", "a.xlsx", changed("[Content_Types].xml", b"</Types>", b'<Default Extension="bin" '
     b'ContentType="application/vnd.ms-office.vbaProject"/></Types>'), "carries macros"),
    ("macro sheets", "a.xlsx", with_part("xl/macrosheets/sheet1.xml", b"<x/>"), "carries macros"),
    ("binary workbook", "a.xlsb", BOOK, ".xlsb"),
    ("binary workbook renamed", "a.xlsx", zip_of({"xl/workbook.bin": b"x"}), ".xlsb"),
    ("open document", "a.ods", zip_of({"content.xml": b"x"}), ".ods"),
    ("open document renamed", "a.xlsx", zip_of({"content.xml": b"x"}), ".ods"),
    ("pages of numbers", "a.numbers", zip_of({"Index/Document.iwa": b"x"}), "export it as .xlsx"),
    ("pages of numbers renamed", "a.xlsx", zip_of({"Index/Document.iwa": b"x"}), "export it as .xlsx"),
    ("text document renamed", "a.xlsx", zip_of({"word/document.xml": b"x"}), "text document"),
    ("workbook in a zip", "a.zip", zip_of({"Windows.xlsx": BOOK}), "unpack it"),
    ("workbook in a zip renamed", "a.xlsx", zip_of({"Windows.xlsx": BOOK}), "holds “Windows.xlsx”; unpack it"),
    ("gzip", "a.csv.gz", gzip.compress(b"Mark"), "unpack it"),
    ("gzip renamed", "a.csv", gzip.compress(b"Mark"), "unpack it"),
    ("web page under the old ending", "a.xls", b"\r\n<html xmlns:o='x'><table><tr><td>Mark", "web page"),
    ("web page renamed", "a.xlsx", b"\xef\xbb\xbf<!DOCTYPE html><table>", "web page"),
    ("table of a web page", "a.csv", b"<table><tr><td>Mark", "web page"),
    ("workbook as XML", "a.xls", b'<?xml version="1.0"?>'
     b'<Workbook xmlns="urn:schemas-microsoft-com:office:spreadsheet"/>',
     "written as XML"),
    ("picture", "a.csv", b"\x89PNG\r\n\x1a\n", "picture"),
    ("text document", "a.csv", rb"{\rtf1", "text document"),
    ("PDF after a blank", "a.csv", b"\n%PDF-1.4", "is a PDF"),
    ("model as text", "a.csv", b"ISO-10303-21;", "ending .ifc"),
    ("zipped model", "a.ifczip", zip_of({"a.ifc": b"x"}), "unpack it"),
    ("no model", "a.ifc", b"Mark,RO Width,RO Height", "not a building model"),
    ("no ending", "schedule", b"Mark,RO Width,RO Height", "“schedule” is neither"),
    ("no name", "", b"Mark,RO Width,RO Height", "“” is neither"),
    ("long name", "n" * 300, b"Mark,RO Width,RO Height", f"“{'n' * 80}” is neither"),
    ("name with characters nobody sees", "a\x00\x1b[2J\u202ecod", b"Mark", "“a��[2J�cod” is neither"),
    ("workbook without an ending", "schedule", BOOK, "give it the ending .xlsx"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("filename", "content", "sentence"), [case[1:] for case in OTHER_KINDS], ids=[case[0] for case in OTHER_KINDS]
)
def test_file_of_another_kind_is_named_and_what_to_do_is_said(filename: str, content: bytes, sentence: str) -> None:
    assert sentence in refusal(content, filename=filename)


@pytest.mark.parametrize("filename", ["a.txt", "a.tsv", "A.CSV", "a.csv "])
def test_text_is_read_under_its_other_endings(filename: str) -> None:
    assert marks(b"Mark\tRO Width\tRO Height\nA\t36\t54\n", filename=filename) == ["A"]


@pytest.mark.parametrize("number", range(50))
def test_workbook_cut_off_anywhere_is_refused(number: int) -> None:
    assert refusal(BOOK[: len(BOOK) * number // 50])


ENTITIES = b'<!DOCTYPE x [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]>'
EXTERNAL = b'<!DOCTYPE x [<!ENTITY a SYSTEM "file:///etc/hostname">]>'


@pytest.mark.parametrize("declared", [ENTITIES, EXTERNAL], ids=["expanding", "external"])
@pytest.mark.parametrize("name", [SHEET, STRINGS, "xl/workbook.xml", "xl/_rels/workbook.xml.rels", "xl/styles.xml"])
def test_entities_are_refused_in_every_part(name: str, declared: bytes) -> None:
    parts = parts_of(with_shared(BOOK))
    assert "declares entities" in refusal(zip_of({**parts, name: declared + parts[name]}))


BROKEN = [
    ("part twice", BOOK.replace(b"xl/theme/theme1.xml", b"xl/workbook.xml\x00\x00\x00\x00"), ""),
    ("packed another way", zip_of(PARTS, way=zipfile.ZIP_BZIP2), "packed in a way"),
    ("text that is not there", with_rows(b'<row r="4"><c r="A4" t="s"><v>9</v></c></row>'), "cannot be read"),
    ("cell before the first", with_rows(b'<row r="4"><c r="A-4"><v>9</v></c></row>'), "stands at A-4"),
    ("cell in no column", with_rows(b'<row r="4"><c r="4"><v>9</v></c></row>'), "stands at 4"),
    ("row before the first", with_rows(b'<row r="-4"><c><v>9</v></c></row>'), "number -4"),
    ("row beyond the last", with_rows(b'<row r="4294967295"><c><v>9</v></c></row>'), "number 4294967295"),
    ("cell that names two places", with_rows(b'<row r="4"><c r="A4" r="XFD1048576"><v>9</v></c></row>'), "duplicate"),
    ("last column", with_rows(b'<row r="4"><c r="XFD4"><v>9</v></c></row>'), "4 rows and 16,384 columns"),
    ("last row", with_rows(b'<row r="1048576"><c r="A1048576"><v>9</v></c></row>'), "1,048,576 rows and 5 columns"),
    ("tabs that share a part", zip_of({**PARTS, "xl/workbook.xml": PARTS["xl/workbook.xml"].replace(
        b"<sheets>", b'<sheets><sheet xmlns:r="r" name="Twin" sheetId="9" r:id="rId1"/>')}), ""),
    ("merged over each other", with_sheet(BOOK, lambda part: part.replace(b"</sheetData>", b"</sheetData><mergeCells>"
     + b'<mergeCell ref="A1:XFD1048576"/>' * 9_000 + b"</mergeCells>")), "lie over each other"),
    ("nothing in it", zip_of({}), "not a workbook"),
    ("no sheet", zip_of({**PARTS, "xl/workbook.xml": b"<workbook/>"}), "nothing on a visible sheet"),
    ("empty sheet", xlsx([]), ""),
]  # fmt: skip


@pytest.mark.parametrize(("content", "sentence"), [case[1:] for case in BROKEN], ids=[case[0] for case in BROKEN])
@pytest.mark.filterwarnings("ignore:Duplicate name")
def test_workbook_that_cannot_be_true_is_refused(content: bytes, sentence: str) -> None:
    assert sentence in refusal(content)
