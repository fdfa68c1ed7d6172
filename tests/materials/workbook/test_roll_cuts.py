"""The rolls as lines and as bars of cells."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import Any, NamedTuple

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl.cell import Cell

from materials.calc.roll_picture import roll_pictures
from materials.workbook import PullSheetBook, RollGroup, RollPiece, RollRow
from materials.workbook.roll_cuts import bar
from tests.materials.workbook.pull_sheets import BOOK, sheet_of, workbook_of

TITLE = "Roll cuts"
HEADINGS = ["Cut", "Take", "Length", "Cuts in order", "Left"]
BAR = 150
"""Columns of the longest roll."""


def piece(length: str | int, mark: str = "W3-01", part: str = "sill strip", job: str = "") -> RollPiece:
    return RollPiece(mark=mark, part=part, length_in=Decimal(length), job=job)


def roll(*pieces: RollPiece, **values: Any) -> RollRow:
    """Return a 75-ft roll of which nothing is left, unless the values say otherwise."""
    common = {"package": "roll", "number": 1, "length_in": Decimal(900), "left_in": Decimal(0), "is_kept": False}
    return RollRow(pieces=pieces, **common | values)


def book(*rolls: RollRow, **values: Any) -> PullSheetBook:
    common = {"product": "Membrane 9 in", "verdict": "2 rolls; no plan needs fewer"}
    return replace(BOOK, rolls=(RollGroup(rolls=rolls, **common | values),))


class Block(NamedTuple):
    """A merged cell: where it starts, how many columns it covers."""

    start: int
    columns: int
    cell: Cell


def lines(book: PullSheetBook) -> list[list[Block]]:
    """Return the merged cells below the headings, line by line."""
    sheet = sheet_of(book, TITLE)
    found: dict[int, list[Block]] = {}
    for merged in sorted(sheet.merged_cells.ranges, key=lambda one: (one.min_row, one.min_col)):
        block = Block(merged.min_col, merged.size["columns"], sheet.cell(merged.min_row, merged.min_col))
        found.setdefault(merged.min_row, []).append(block)
    return [found[row] for row in sorted(found) if row > 2]


def values(blocks: list[Block]) -> list[Any]:
    return [block.cell.value for block in blocks]


LAID = (piece(450, "W3-01"), piece(90, "W3-02", "jamb strip"), piece(30, "W3-03", "head strip"))


def test_a_product_has_its_verdict_and_a_line_for_each_roll():
    title, line, _drawn = lines(book(roll(*LAID, left_in=Decimal(330), is_kept=True), trim_in=Decimal("0.125")))
    assert values(title) == ['Membrane 9 in\n2 rolls; no plan needs fewer; 1/8" lost at each cut']
    assert dict(zip(HEADINGS, values(line), strict=True)) == {
        "Cut": "☐",
        "Take": "new roll 1\nMembrane 9 in",
        "Length": "75' 0\"",
        "Cuts in order": "37' 6\" W3-01 sill strip; 7' 6\" W3-02 jamb strip; 2' 6\" W3-03 head strip",
        "Left": "27' 6\" left: return to stock",
    }


def test_headings_stand_over_the_lines():
    book_of_one = book(roll(*LAID))
    sheet = sheet_of(book_of_one, TITLE)
    headings = {sheet.cell(2, block.start).value: block.start for block in lines(book_of_one)[1]}
    assert list(headings) == HEADINGS


def test_a_remnant_is_named_by_its_code_and_place():
    _title, line, _drawn = lines(book(roll(*LAID, remnant="R00012", place="North shelf", length_in=Decimal("570.5"))))
    assert values(line)[1:3] == ["remnant R00012\nMembrane 9 in, North shelf", "47' 6 1/2\""]


@pytest.mark.parametrize(
    ("left", "is_kept", "said", "on_bar"),
    [
        ("214.5", True, "17' 10 1/2\" left: return to stock", "17' 10 1/2\" left"),
        ("12", False, "scrap 1' 0\"", "scrap 1' 0\""),
        ("0", False, None, None),
    ],
    ids=["kept", "scrap", "nothing"],
)
def test_what_is_left_says_what_becomes_of_it(left, is_kept, said, on_bar):
    left_in = Decimal(left)
    _title, line, drawn = lines(book(roll(piece(900 - left_in), left_in=left_in, is_kept=is_kept)))
    assert values(line)[-1] == said
    assert values(drawn)[1:] == ([on_bar] if on_bar else [])


def test_a_bar_is_to_scale_and_each_piece_on_it_once():
    *_, drawn = lines(book(roll(*LAID, left_in=Decimal(330), is_kept=True)))
    # 900 in on 150 columns are 6 in a column.
    assert [(block.start, block.columns) for block in drawn] == [(1, 75), (76, 15), (91, 5), (96, 55)]
    assert values(drawn) == [
        "W3-01\nsill strip\n37' 6\"",
        "W3-02\njamb strip\n7' 6\"",
        "W3-03\nhead strip",
        "27' 6\" left",
    ]


def test_remnants_are_drawn_to_the_scale_of_the_longest_roll():
    short = roll(piece(150), length_in=Decimal(300), left_in=Decimal(150), is_kept=True, remnant="R00012")
    _title, _line, drawn, _line_2, whole = lines(book(short, roll(piece(900), number=2)))
    assert [(block.start, block.columns) for block in drawn] == [(1, 25), (26, 25)]
    assert [(block.start, block.columns) for block in whole] == [(1, BAR)]


def test_trims_are_lost_on_the_bar_without_a_gap():
    # Ten pieces of 84 in, each with a trim of 6 in, take 900 in to the last trim: 15 columns each.
    *_, drawn = lines(book(roll(*[piece(84)] * 10), trim_in=Decimal(6)))
    assert [block.columns for block in drawn] == [15] * 10


@given(st.lists(st.integers(1, 300), min_size=1, max_size=200), st.integers(0, 400))
def test_any_bar_is_whole_and_within_a_column_of_its_scale(lengths: list[int], left: int) -> None:
    length_in = sum(lengths) + left
    pieces = [piece(length, f"W{place}") for place, length in enumerate(lengths)]
    row = roll(*pieces, length_in=Decimal(length_in), left_in=Decimal(left))
    spans = list(bar(*roll_pictures([row], trim_in=Decimal(0))))
    assert sum(span.columns for span in spans) == BAR
    start, found = 0, []
    for span in spans:
        if (mark := str(span.value).partition("\n")[0]).startswith("W"):
            found.append(int(mark[1:]))
            assert abs(start - Decimal(sum(lengths[: found[-1]])) * BAR / length_in) <= 1
        start += span.columns
    assert found == sorted(set(found))
    if len(found) == len(lengths):
        for length, span in zip(lengths, spans, strict=False):
            assert abs(span.columns - Decimal(length) * BAR / length_in) <= 1


def test_a_short_piece_shows_its_mark_upright():
    # 30 in of 900 in, in a row of others like it.
    *_, drawn = lines(book(roll(*[piece(30, f"W3-{number:02}") for number in range(30)])))
    assert len(drawn) == 30
    for number, block in enumerate(drawn):
        assert block.cell.value.startswith(f"W3-{number:02}\nsill strip")
        assert block.cell.alignment.textRotation == 90


def test_more_pieces_than_columns_share_their_cells():
    book_of_crumbs = book(roll(*[piece(3, f"W{number}") for number in range(300)]))
    sheet = sheet_of(book_of_crumbs, TITLE)
    assert sheet.max_column == BAR
    cuts = values(lines(book_of_crumbs)[1])[3]
    assert cuts.replace("\n", " ") == "; ".join(f'3" W{number} sill strip' for number in range(300))


def test_bars_have_edges_all_round_and_no_color_but_gray():
    sheet = sheet_of(book(roll(*LAID, left_in=Decimal(330))), TITLE)
    for cell in sheet[5][:BAR]:
        assert cell.border.top.style == cell.border.bottom.style == "thin"
        red, green, blue = (cell.fill.fgColor.rgb[place : place + 2] for place in (2, 4, 6))
        assert red == green == blue


def test_the_job_is_named_where_it_is_given():
    _title, line, drawn = lines(book(roll(piece(450, job="ELM-12"), piece(450, job="OAK-3", part="jamb strip"))))
    assert values(line)[3] == "37' 6\" W3-01, ELM-12 sill strip; 37' 6\" W3-01, OAK-3 jamb strip"
    assert values(drawn) == ["W3-01, ELM-12\nsill strip\n37' 6\"", "W3-01, OAK-3\njamb strip\n37' 6\""]


@pytest.mark.parametrize("mark", ["=1+1", "+1", "-W3", "@SUM(A1)", "1E5"])
def test_text_on_a_bar_stays_text_whatever_it_begins_with(mark):
    _title, _line, drawn = lines(book(roll(piece(450, mark), piece(450, "W2")), product="=2+2"))
    first, second = (block.cell for block in drawn)
    assert (first.value.split("\n")[0], first.data_type) == (mark, "s")
    assert (bool(first.quotePrefix), bool(second.quotePrefix)) == (mark[0] in "=+-@", False)


def test_without_rolls_the_sheet_says_so():
    assert sheet_of(BOOK, TITLE)["A3"].value == "Nothing to cut from rolls."


def test_two_calls_give_the_same_cells():
    same = book(roll(*LAID, left_in=Decimal(330), is_kept=True))
    sheets = []
    for _ in range(2):
        workbook_of.cache_clear()
        sheet = sheet_of(same, TITLE)
        cells = [(cell.coordinate, cell.value, cell.style) for row in sheet.iter_rows() for cell in row]
        sheets.append((cells, sorted(map(str, sheet.merged_cells.ranges))))
    assert sheets[0] == sheets[1]
