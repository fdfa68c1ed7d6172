"""A row shows all of its text."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from materials.workbook.fitting import line_count, listed
from tests.materials.workbook.pull_sheets import BOOK, FIRST_ROW, OPENING, sheet_of


def test_row_is_tall_enough_for_its_longest_text() -> None:
    short, long = OPENING, replace(OPENING, remarks="Stack the old sash in the garage. " * 8)
    sheet = sheet_of(replace(BOOK, openings=(short, long)), "Openings")
    # At least a full line of 22 characters each, 11 pt type: 272 / 22 lines.
    assert sheet.row_dimensions[FIRST_ROW + 1].height >= math.ceil(272 / 22) * 11
    assert sheet.row_dimensions[FIRST_ROW].height < 60


def test_row_is_no_taller_than_a_worksheet_allows() -> None:
    sheet = sheet_of(replace(BOOK, openings=(replace(OPENING, remarks="long " * 2000),)), "Openings")
    # 409 points: the row height limit in Microsoft's "Excel specifications and limits".
    assert sheet.row_dimensions[FIRST_ROW].height == 409


@pytest.mark.parametrize(
    ("text", "digits", "lines"),
    [
        pytest.param("", 10, 1, id="nothing"),
        pytest.param("roll 1", 10, 1, id="short"),
        pytest.param("roll 1\nroll 2\n", 10, 3, id="line ends"),
        pytest.param("0" * 25, 10, 3, id="one long word"),
        pytest.param("窓窓窓窓窓窓", 6, 2, id="wide characters"),
        pytest.param("iiiiiiiiii", 7, 1, id="narrow characters"),
    ],
)
def test_lines_are_counted_by_the_width_of_letters(text: str, digits: float, lines: int) -> None:
    assert line_count(text, digits=digits) == lines


@pytest.mark.parametrize(
    ("items", "digits", "text"),
    [
        pytest.param([], 10, "", id="nothing"),
        pytest.param(["54 in W1", "36 in W2"], 40, "54 in W1; 36 in W2", id="one line"),
        pytest.param(["54 in W1", "36 in W2"], 15, "54 in W1;\n36 in W2", id="whole items only"),
        pytest.param(["54 in W1", "36 in W2"], 3, "54 in W1;\n36 in W2", id="none fits"),
    ],
)
def test_items_of_a_list_are_not_broken(items: list[str], digits: float, text: str) -> None:
    assert listed(items, digits=digits) == text
