"""Text stays text, and comes back as it was."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.materials.workbook.pull_sheets import BOOK, FIRST_ROW, OPENING, facts_of, row_of, sheet_of


@pytest.mark.parametrize("text", ["=1+1", "+1", "-W3", "@SUM(A1)", "#N/A", "=", "1E5", "TRUE", "2026-06-08"])
def test_text_stays_text_whatever_it_begins_with(text: str) -> None:
    book = replace(BOOK, openings=(replace(OPENING, mark=text, remarks=text),))
    row = row_of(sheet_of(book, "Openings"))
    for cell in (row["Opening"], row["Remarks"]):
        assert (cell.value, cell.data_type) == (text, "s")
        assert bool(cell.quotePrefix) is (text[0] in "=+-@")


def test_a_guarded_text_does_not_guard_the_next() -> None:
    book = replace(BOOK, openings=tuple(replace(OPENING, mark=mark) for mark in ("=1+1", "W3-01", "")))
    sheet = sheet_of(book, "Openings")
    marks = [row_of(sheet, FIRST_ROW + place)["Opening"] for place in range(3)]
    assert [(mark.value, bool(mark.quotePrefix)) for mark in marks] == [
        ("=1+1", True),
        ("W3-01", False),
        (None, False),
    ]


@settings(deadline=None)  # a whole workbook written and read takes its time on a busy machine
@given(remarks=st.lists(st.text(max_size=60), min_size=1, max_size=8))
def test_any_text_comes_back_as_it_was(remarks: list[str]) -> None:
    book = replace(BOOK, openings=tuple(replace(OPENING, remarks=text) for text in remarks))
    sheet = sheet_of(book, "Openings")
    cells = [row_of(sheet, FIRST_ROW + place)["Remarks"] for place in range(len(remarks))]
    # XML 1.0, production 2: the characters a document can hold.
    not_xml = re.compile("[^\t\n\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
    one_line_end = [re.sub("\r\n?", "\n", text) for text in remarks]
    assert [cell.value or "" for cell in cells] == [not_xml.sub("\ufffd", text) for text in one_line_end]
    assert all(cell.data_type == "s" for cell in cells if cell.value)


@pytest.mark.parametrize("character", ["\x00", "\x0b", "\x1f", "\ud800", "\uffff"])
def test_what_a_cell_cannot_hold_is_replaced(character: str) -> None:
    cover = sheet_of(replace(BOOK, crew=f"He{character}ron"), "Cover")
    assert facts_of(cover)["Crew"].value == "He\ufffdron"
