"""The field cards in a pull sheet's workbook."""

from __future__ import annotations

from dataclasses import replace

import pytest
from openpyxl.worksheet.worksheet import Worksheet

from materials.workbook import DetailCard, SizeOnCard, ToolRow
from openings.calc.card import card_of
from openings.calc.next_trade import left_for_next_trade
from openings.calc.starting_details import STARTING_DETAILS
from tests.materials.workbook.pull_sheets import BOOK, SHEETS, sheet_of, workbook_of
from tests.openings.calc.card.variations import opening
from tests.plain_words import faults

CASING = STARTING_DETAILS["casing, paper after"]


def size(marks: tuple[str, ...], width_in: object, height_in: object) -> SizeOnCard:
    facts = opening(width_in, height_in)
    return SizeOnCard(marks=marks, opening=facts, detail=CASING, steps=card_of(facts, CASING))


SIZES = (size(("W1", "W2"), 28, 54), size(("W3",), 72, 60))
CARD = DetailCard(
    job="ELM-12",
    detail="casing, paper after",
    sizes=SIZES,
    tools=(
        ToolRow(name="shim stock", amount="", why="makes up the shims"),
        ToolRow(name="sheathing tape", amount="4' 0\"", why="closes the cuts"),
    ),
    next_trade=left_for_next_trade(CASING),
)
WITH_CARD = replace(BOOK, cards=(CARD,))
TITLE = "Card 1 casing, paper after"


def rows_of(sheet: Worksheet) -> list[list[object]]:
    return [[cell.value for cell in row if cell.value is not None] for row in sheet.iter_rows()]


def test_a_card_follows_the_sheets_of_the_day():
    assert tuple(workbook_of(WITH_CARD).sheetnames) == (*SHEETS, TITLE)


def test_a_card_says_each_step_what_to_see_and_why():
    rows = rows_of(sheet_of(WITH_CARD, TITLE))
    assert rows[0] == ["Field card: casing, paper after, job ELM-12, method B"]
    for drawn in SIZES[0].steps:
        (row,) = [row for row in rows if len(row) > 3 and row[0] == drawn.number and row[3] == drawn.step.why]
        assert str(row[1]).startswith(drawn.step.title)
        assert row[2] == "\n".join(drawn.step.see)
        assert ("Hold point" in str(row[1])) == drawn.step.is_hold_point


def test_each_size_has_its_measures_beside_the_others():
    rows = rows_of(sheet_of(WITH_CARD, TITLE))
    assert ["Step", "Measure", "W1; W2\nRO 2' 4\" × 4' 6\"", "W3\nRO 6' 0\" × 5' 0\""] in rows
    # Common practice, no source: the pan is as long as the rough opening is wide, + 12 in.
    assert [3, "pan membrane, cut from the roll", "3' 4\"", "7' 0\""] in rows


def test_the_pan_is_drawn_rolled_out_for_each_size():
    rows = rows_of(sheet_of(WITH_CARD, TITLE))
    heads = [str(row[0]) for row in rows if row and str(row[0]).startswith("Pan membrane rolled out")]
    assert len(heads) == 2
    assert heads[0].endswith('openings W1, W2: marks from the end of the roll at 0", 6", 2\' 10", 3\' 4"')
    assert ['turn-up 6"', 'sill 2\' 4" × 5 1/2"', 'turn-up 6"'] in rows


def test_a_card_lists_what_is_carried_along_and_what_the_next_trade_finds():
    rows = rows_of(sheet_of(WITH_CARD, TITLE))
    tools = rows.index(["Tools and small supplies"])
    assert rows[tools + 1 : tools + 4] == [
        ["Tool or supply", "Amount", "Why"],
        ["shim stock", "makes up the shims"],
        ["sheathing tape", "4' 0\"", "closes the cuts"],
    ]
    next_trade = rows.index(["What the next trade finds"])
    assert rows[next_trade + 1 :] == [[left] for left in left_for_next_trade(CASING)]


def test_a_card_with_nothing_left_to_lay_lists_no_tools():
    sheet = sheet_of(replace(BOOK, cards=(replace(CARD, tools=()),)), TITLE)
    assert ["Tools and small supplies"] not in rows_of(sheet)


@pytest.mark.parametrize("name", ["a/b [c]: *?", "x" * 80])
def test_the_tab_of_a_card_bears_a_name_that_a_workbook_takes(name):
    book = replace(BOOK, cards=(replace(CARD, detail=name), replace(CARD, detail=name)))
    titles = workbook_of(book).sheetnames[len(SHEETS) :]
    assert [title[:6] for title in titles] == ["Card 1", "Card 2"]
    assert all(len(title) <= 31 for title in titles)


def test_a_card_is_said_in_plain_words():
    sheet = sheet_of(WITH_CARD, TITLE)
    texts = [str(cell.value) for row in sheet.iter_rows() for cell in row if cell.value is not None]
    assert [fault for text in texts for fault in faults(text)] == []
