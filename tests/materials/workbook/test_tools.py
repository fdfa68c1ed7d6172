from __future__ import annotations

from dataclasses import replace

from materials.workbook import HeldRow, ToolRow
from tests.materials.workbook.pull_sheets import BOOK, FIRST_ROW, row_of, sheet_of

STAPLES = ToolRow(name="staples or cap nails", amount="41", why="hold a strip along its edge")
KNIFE = ToolRow(name="utility knife", amount="", why="slits a membrane")
SAID = "Strip: fasten it along its top edge only"


def test_tools_are_ticked_with_amount_and_why():
    tools = sheet_of(replace(BOOK, tools=(STAPLES, KNIFE)), "Tools")
    row = row_of(tools)
    assert (row["Tool or supply"].value, row["Amount"].value, row["Why"].value) == (
        STAPLES.name, STAPLES.amount, STAPLES.why,
    )  # fmt: skip
    assert row["On"].value == "☐"
    assert row_of(tools, FIRST_ROW + 1)["Amount"].value is None


def test_how_strips_are_held_stands_below():
    tools = sheet_of(replace(BOOK, tools=(KNIFE,), held=(HeldRow(part="sill strip", said=SAID),)), "Tools")
    texts = [[cell.value for cell in row if cell.value] for row in tools.iter_rows(min_row=FIRST_ROW + 1)]
    assert texts == [[], ["How strips are held"], ["sill strip", SAID]]


def test_a_day_without_tools_says_so():
    assert sheet_of(BOOK, "Tools").cell(FIRST_ROW, 1).value == "Nothing to carry along."
