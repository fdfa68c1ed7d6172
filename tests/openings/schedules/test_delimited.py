"""Delimited text in the encodings and with the delimiters that spreadsheet programs save."""

from __future__ import annotations

from decimal import Decimal

import pytest

from openings.errors import BadSchedule
from openings.schedules import read_schedule
from tests.openings.schedules.files import read_csv

TEXT = "Mark,Qty,RO Width,RO Height,Remarks\nW1,2,36½,54,façade\n"


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252"])
def test_encoding_does_not_matter(encoding: str) -> None:
    read = read_csv(TEXT, encoding=encoding)
    [row] = read.rows
    assert (row.ro_width_in, row.remarks) == (Decimal("36.5"), "façade")


@pytest.mark.parametrize("delimiter", [",", ";", "\t", "|"])
def test_delimiter_does_not_matter(delimiter: str) -> None:
    [row] = read_csv(TEXT.replace(",", delimiter)).rows
    assert (row.mark, row.quantity, row.ro_height_in) == ("W1", 2, 54)


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_line_end_does_not_matter(end: str) -> None:
    assert read_csv(TEXT.replace("\n", end)).rows[0].row == 2


def test_line_that_states_the_delimiter_is_followed() -> None:
    assert read_csv("sep=;\r\n" + TEXT.replace(",", ";")).rows[0].mark == "W1"


def test_semicolons_go_with_decimal_commas() -> None:
    read = read_csv("Mark;RO Width;RO Height;Rough;Remarks\nA;35,875;59,5;;1,5 turns\n")
    assert (read.rows[0].ro_width_in, read.rows[0].ro_height_in) == (Decimal("35.875"), Decimal("59.5"))
    assert read.rows[0].remarks == "1,5 turns"


def test_comma_in_a_number_between_commas_is_never_guessed() -> None:
    [fault] = read_csv('Mark,Rough Opening\nA,"3,050"\n').faults
    assert "comma" in fault.detail


def test_inch_marks_may_stand_bare_or_doubled() -> None:
    # Exports of building models leave the inch mark undoubled between quotes (seen in real files).
    doubled = '"Mark","RO Width","RO Height"\n"A","5\' - 0""","4\' - 6"""\n'
    undoubled = '"Mark","RO Width","RO Height"\n"A","5\' - 0"","4\' - 6""\n'
    unquoted = "Mark,RO Width,RO Height\nA,5' - 0\",4' - 6\"\n"
    rows = [read_csv(text).rows for text in (doubled, undoubled, unquoted)]
    assert [(row.ro_width_in, row.ro_height_in) for [row] in rows] == [(60, 54)] * 3


def test_short_lines_are_filled_up() -> None:
    [row] = read_csv("Mark,RO Width,RO Height,Remarks\nA,36,54\n").rows
    assert row.remarks == ""


def test_row_number_counts_rows_and_not_lines_of_text() -> None:
    read = read_csv('Mark,RO Width,RO Height,Remarks\nA,36,54,"two\nlines"\nB,0,54,\n')
    assert read.rows[0].remarks == "two lines"
    assert read.faults[0].row == 3


@pytest.mark.parametrize("content", [bytes(range(256)) * 20, b"\x00" * 100, b"\xff\xfe\x00"])
def test_binary_is_refused(content: bytes) -> None:
    with pytest.raises(BadSchedule):
        read_schedule(filename="a.csv", content=content)
