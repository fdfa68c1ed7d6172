"""Text that is broken, mixed or no text at all: nothing is lost silently, and nothing but a refusal comes out.

Sources: quotation marks, RFC 4180 section 2; UTF-8, RFC 3629; Windows-1252, the code page registered with IANA.
"""

from __future__ import annotations

from contextlib import suppress

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from openings.errors import BadSchedule
from openings.schedules import ScheduleRead, read_schedule
from tests.openings.schedules.broken import GOOD
from tests.openings.schedules.files import xlsx

HEADINGS = "Mark,Qty,RO Width,RO Height,Remarks\n"
TEXT = HEADINGS + "W1,2,36½,54,façade\nW2,1,36,60,\n"


def read(content: bytes) -> ScheduleRead:
    return read_schedule(filename="windows.csv", content=content)


def refusal(content: bytes) -> str:
    with pytest.raises(BadSchedule) as raised:
        read(content)
    return raised.value.detail


def test_stray_bytes_amid_utf_8_are_read_and_the_first_line_is_named() -> None:
    found = read(
        (HEADINGS + "W1,2,36½,54,façade\n").encode() + "W2,1,36½,60,façade “x”\nW3,1,36,60,é\n".encode("cp1252")
    )
    assert [row.remarks for row in found.rows] == ["façade", "façade “x”", "é"]
    assert [str(row.ro_width_in) for row in found.rows] == ["36.50000", "36.50000", "36.00000"]
    [note] = [note for note in found.notes if "Windows-1252" in note]
    assert note.startswith("The text is UTF-8, but line 3 and 1 more of its lines hold bytes that are not")
    assert "W2,1,36½,60,façade" in note


def test_text_that_is_all_windows_1252_says_so_with_its_first_line() -> None:
    found = read(TEXT.encode("cp1252"))
    assert found.rows[0].remarks == "façade"
    assert "The text is encoded as Windows-1252, for line 2 is not UTF-8: “W1,2,36½,54,façade”." in found.notes


def test_byte_that_windows_1252_leaves_open_is_a_fault_in_its_row() -> None:
    found = read((HEADINGS + "W1,2,36½,54,ok\nW2,1,36,60,").encode() + b"a\x81b\n")
    assert [row.mark for row in found.rows] == ["W1"]
    assert [(fault.row, fault.field) for fault in found.faults] == [(3, "Remarks")]


def test_bytes_of_no_encoding_are_refused_with_their_line() -> None:
    assert "Line 3 of the file is neither UTF-8 nor Windows-1252" in refusal(
        HEADINGS.encode() + b"W1,2,36,54,\nW2\x81,1,3,4,"
    )


def test_mark_of_utf_8_in_the_middle_is_left_out() -> None:
    found = read(("\ufeff" + TEXT + "\ufeffW3,1,36,54,\n").encode())
    assert [row.mark for row in found.rows] == ["W1", "W2", "W3"]
    assert any("U+FEFF" in note for note in found.notes)


REFUSED = [
    ("zero character", TEXT.encode()[:40] + b"\x00\x00" + b"," * 3_000, "Line 2 "),
    ("zero character far down", TEXT.encode() + b"W3,1,36,54,\n" * 900 + b"W4\x00,1,36,54,\n", "Line 904 "),
    ("half a letter of UTF-16", TEXT.encode("utf-16-le") + b"\x0a", "or was cut off there"),
    ("lone surrogate in UTF-16", (HEADINGS + "W1").encode("utf-16") + b"\x00\xd8,\x00" * 9, "from line 2 on"),
    ("quotation mark never closed", (TEXT + 'W3,1,36,54,"to be\n' + "W4,1,36,54,\n" * 3).encode(),
     "in line 4 does not end"),
    ("quotation marks that swallow rows", (TEXT + 'W3,1,36,54,"a\n' + "W4,1,36,54,\n" * 3 + 'W8,1,2,3,"b"\n').encode(),
     "runs from line 4 to line 8 and holds whole rows"),
    ("cell of half the file", (HEADINGS + 'W1,1,36,54,"' + "x" * 200_000 + '"\n').encode(), "in line 2 does not end"),
    ("too many lines", TEXT.encode() + b"\n" * 1_100_000, "1,100,003 lines"),
    ("nothing but delimiters", b",,,,\n" * 9, ""),
    ("nothing but blanks", b" \r\n\t\n", ""),
    ("delimiter that is none", b'sep="\nMark"RO Width"RO Height\nA"36"54\n', "No row of headings"),
]  # fmt: skip


@pytest.mark.parametrize(("content", "sentence"), [case[1:] for case in REFUSED], ids=[case[0] for case in REFUSED])
def test_broken_text_is_refused_and_says_where(content: bytes, sentence: str) -> None:
    assert sentence in refusal(content)


def test_row_that_may_have_swallowed_another_is_noted() -> None:
    found = read((TEXT + 'W3,1,36,54,"see 1,2,3,4\nW4,1"\n').encode())
    assert any("from line 4 to line 5; look whether a quotation mark" in note for note in found.notes)


def test_remark_of_several_lines_is_no_swallowed_row() -> None:
    found = read((TEXT + 'W3,1,36,54,"tempered, obscure\nor laminated, see note\nand detail 4"\n').encode())
    assert found.rows[2].remarks == "tempered, obscure or laminated, see note and detail 4"
    assert not any("quotation mark" in note for note in found.notes)


def test_row_numbers_count_blank_rows() -> None:
    assert read((HEADINGS + "\n\nW1,0,36,54,\n").encode()).faults[0].row == 4


NAMES = st.sampled_from(["a.csv", "a.txt", "a.xlsx", "a.ifc", "a", "", "x" * 300, "a\x00.csv", "a.xls"])
PIECES = st.sampled_from(
    [HEADINGS, "W1,2,36,54,x\n", '"', ",", ";", "\t", "|", "\n", "\r", "\x00", "\x0b", "\u2028", "\ufeff", "é",
     "\u200e", "=1+1",
     "sep=;\n", "'", "½", "\x1a", "😀", "3'-0\"", "-", "%PDF-", "<html>"]
)  # fmt: skip
ENCODINGS = st.sampled_from(["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "utf-32"])


@settings(max_examples=150, deadline=2_000)
@given(filename=NAMES, content=st.binary(min_size=1, max_size=400))
def test_garbage_is_refused_and_nothing_else(filename: str, content: bytes) -> None:
    with pytest.raises(BadSchedule):
        read_schedule(filename=filename, content=content)


@settings(max_examples=300, deadline=2_000)
@given(
    filename=NAMES, pieces=st.lists(PIECES, min_size=1, max_size=25), encoding=ENCODINGS, garbage=st.binary(max_size=2)
)
def test_text_in_pieces_is_read_or_refused_and_shows_nothing_unseen(
    filename: str, pieces: list[str], encoding: str, garbage: bytes
) -> None:
    content = "".join(pieces).encode(encoding, "replace")
    middle = len(content) // 2
    try:
        found = read_schedule(filename=filename, content=content[:middle] + garbage + content[middle:] or b" ")
    except BadSchedule as error:
        shown = [error.detail]
    else:
        shown = [
            *found.notes,
            *(f"{fault.value}{fault.detail}" for fault in found.faults),
            *(r.mark for r in found.rows),
        ]
    assert not any(letter in sentence for sentence in shown for letter in "\x00\ud800\ufeff")


@settings(max_examples=60, deadline=5_000)
@given(cut=st.integers(0, 4_000), garbage=st.binary(min_size=1, max_size=8))
def test_workbook_with_garbage_in_it_is_read_or_refused(cut: int, garbage: bytes) -> None:
    book = xlsx(GOOD)
    with suppress(BadSchedule):
        read_schedule(filename="a.xlsx", content=book[:cut] + garbage + book[cut + len(garbage) :])
