"""The same windows written in other ways are the same openings."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl import Workbook

from openings.schedules import read_schedule
from tests.openings.schedules.files import saved, xlsx
from tests.openings.schedules.layouts import Opening, Sheet, merged, taken, wanted

# What the tests hold is common practice, no source: layout says nothing about windows. Units: NIST Handbook 44.
HEADINGS = ["Mark", "Qty", "Level", "Type", "RO Width", "RO Height"]
LONG_HEADINGS = ["Window Mark", "Quantity", "Floor", "Operation", "Rough Opening Width", "Rough Opening Height"]
ROWS: Sheet = [
    ["W1", 4, "Level 1", "casement", 36, 54.5],
    ["W2", 2, "Level 1", "fixed", 24.25, 36],
    ["W1", 3, "Level 2", "casement", 36, 54.5],
    ["W3", 6, "Level 2", "double hung", 60, 48.125],
    ["A-4", 1, "Level 2", "awning", 30, 24],
]
OPENINGS = tuple(
    Opening(mark, count, ro=(width, height), floor=floor, operation=kind)
    for mark, count, floor, kind, width, height in ROWS
)


def assert_alike(content: bytes, *, filename: str = "windows.xlsx") -> None:
    read = read_schedule(filename=filename, content=content)
    assert read.faults == ()
    assert taken(read.rows, like=OPENINGS) == wanted(OPENINGS)
    assert read.questions == ()


def reordered(order: list[int], rows: Sheet, headings: list[Any] = HEADINGS) -> Sheet:
    return [[line[index] if index < len(line) else None for index in order] for line in [headings, *rows]]


def in_unit(unit: str, per_inch: float) -> Sheet:
    heads = [f"{heading} ({unit})" if heading.startswith("RO") else heading for heading in HEADINGS]
    return [heads, *([*row[:4], round(row[4] * per_inch, 9), round(row[5] * per_inch, 9)] for row in ROWS)]


def tape(inches: float) -> str:
    feet, rest = divmod(inches, 12)
    eighths = int(rest % 1 * 8)
    return f"{int(feet)}'-{int(rest)}{f' {eighths}/8' if eighths else ''}\""


def split() -> Sheet:
    """Return every quantity one by one, each in a row of its own."""
    return [HEADINGS, *([row[0], 1, *row[2:]] for row in ROWS for _ in range(row[1]))]


def grouped() -> Sheet:
    heads = [heading for heading in HEADINGS if heading != "Level"]
    levels = [[[level], *([*row[:2], *row[3:]] for row in ROWS if row[2] == level)] for level in ("Level 1", "Level 2")]
    return [heads, *levels[0], *levels[1]]


WRITTEN: dict[str, Sheet] = {
    "as it is": [HEADINGS, *ROWS],
    "titles above": [["Window schedule"], [], ["Issued for construction", None, "Sheet A-601"], HEADINGS, *ROWS],
    "blank rows": [HEADINGS, [], *(line for row in ROWS for line in (row, []))],
    "columns at the right": [[None, None, *line] for line in [HEADINGS, *ROWS]],
    "reversed columns": reordered([5, 4, 3, 2, 1, 0], ROWS),
    "reversed rows": [HEADINGS, *reversed(ROWS)],
    "upper case": [[heading.upper() for heading in HEADINGS], *ROWS],
    "line breaks": [[heading.replace(" ", "\n") for heading in HEADINGS], *ROWS],
    "snake_case": [[heading.lower().replace(" ", "_") for heading in HEADINGS], *ROWS],
    "other columns": [[*HEADINGS, "Glazing", "Finish", "Maker"], *([*row, "IGU", "white", "by owner"] for row in ROWS)],
    "total": [HEADINGS, *ROWS, ["Total", 16]],
    "notes": [HEADINGS, *ROWS, [], ["NOTES:"], ["1. W1 is 36 x 54 where tempered."], ["2. Verify in field."]],
    "headings repeated": [HEADINGS, *ROWS[:2], HEADINGS, *ROWS[2:]],
    "numbers as text": [HEADINGS, *([str(cell) for cell in row] for row in ROWS)],
    "millimeters": in_unit("mm", 25.4),
    "centimeters": in_unit("cm", 2.54),
    "meters": in_unit("m", 0.0254),
    "feet": in_unit("ft", 1 / 12),
    "inches": in_unit("in", 1),
    "tape": [HEADINGS, *([*row[:4], tape(row[4]), tape(row[5])] for row in ROWS)],
    "one size": [[*HEADINGS[:4], "Rough Opening"], *([*row[:4], f"{row[4]} x {row[5]}"] for row in ROWS)],
    "one size, height first": [[*HEADINGS[:4], "R.O. (H x W)"], *([*row[:4], f"{row[5]} x {row[4]}"] for row in ROWS)],
    "one size on the tape": [
        [*HEADINGS[:4], "Rough Opening (W x H)"],
        *([*row[:4], f"{tape(row[4])} x {tape(row[5])}"] for row in ROWS),
    ],
    "two rows of headings": [
        [*HEADINGS[:4], "Rough Opening", None],
        [None, None, None, None, "Width", "Height"],
        *ROWS,
    ],
    "a row an opening": split(),
    "no quantity": [[*line[:1], *line[2:]] for line in split()],
    "quantities in two rows": [
        HEADINGS,
        *([row[0], part, *row[2:]] for row in ROWS for part in (row[1] // 3, row[1] - row[1] // 3) if part),
    ],
    "floors above their rows": grouped(),
    "long words": [
        ["Window Mark", "Quantity", "Floor", "Operation", "Rough Opening Width", "Rough Opening Height"],
        *ROWS,
    ],
}


@pytest.mark.parametrize("written", WRITTEN.values(), ids=list(WRITTEN))
def test_workbook_gives_the_same_openings(written: Sheet) -> None:
    assert_alike(xlsx(written))


def _parts(text: str) -> list[str]:
    return re.split(r"([,\n])", text)


TEXTS: dict[str, Callable[[str], tuple[str, str]]] = {
    "commas": lambda text: (text, "utf-8"),
    "semicolons": lambda text: (text.replace(",", ";"), "utf-8"),
    "semicolons and decimal commas": lambda text: (text.replace(",", ";").replace(".", ","), "utf-8"),
    "tabs": lambda text: (text.replace(",", "\t"), "utf-8"),
    "tabs and UTF-16": lambda text: (text.replace(",", "\t"), "utf-16"),
    "mark of order": lambda text: (text, "utf-8-sig"),
    "line ends": lambda text: (text.replace("\n", "\r\n"), "cp1252"),
    "quotes": lambda text: (
        "\n".join(",".join(f'"{cell}"' for cell in line.split(",")) for line in text.split("\n")),
        "ascii",
    ),
}


@pytest.mark.parametrize("change", TEXTS.values(), ids=list(TEXTS))
def test_text_gives_the_same_openings(change: Callable[[str], tuple[str, str]]) -> None:
    text, encoding = change("\n".join(",".join(str(cell) for cell in line) for line in [HEADINGS, *ROWS]))
    assert_alike(text.encode(encoding), filename="windows.csv")


@pytest.mark.parametrize("name", ["Sheet1", "Windows", "A-601", "Fenster (2)", "Rev. 3 'final'", "Level 9"])
def test_name_of_the_sheet_changes_nothing(name: str) -> None:
    book = Workbook()
    book.active.title = name
    for line in [HEADINGS, *ROWS]:
        book.active.append(line)
    assert_alike(saved(book))


@pytest.mark.parametrize("others", [["Legend"], ["Cover", "Notes"], ["Sheet2", "Sheet3"]])
def test_other_sheets_change_nothing(others: list[str]) -> None:
    book = Workbook()
    for line in [HEADINGS, *ROWS]:
        book.active.append(line)
    for position, other in enumerate(others):
        page = book.create_sheet(other, index=position)
        page.append(["C = casement, F = fixed, W1 is 36 x 54"])
    assert_alike(saved(book))


def test_merged_headings_and_sizes_change_nothing() -> None:
    written: Sheet = [["Window schedule"], HEADINGS, *(list(row) for row in ROWS)]
    assert_alike(xlsx(written, then=merged("A1:F1")))


@settings(max_examples=30, deadline=None)
@given(
    order=st.permutations(range(6)),
    rows=st.permutations(ROWS),
    titles=st.lists(st.sampled_from(["Window schedule", "Hillside, Lot 12", None, "Issued 2025-03-06"]), max_size=4),
    blanks=st.sets(st.integers(min_value=1, max_value=5)),
    shift=st.integers(min_value=0, max_value=3),
    unit=st.sampled_from([("in", 1.0), ("mm", 25.4), ("cm", 2.54)]),
    ends=st.sampled_from([[], [["Total", 16]], [[None], ["Notes: see W1, 36 x 54"]]]),
)
def test_any_mixture_of_layouts_gives_the_same_openings(
    order: list[int],
    rows: Sheet,
    titles: list[str | None],
    blanks: set[int],
    shift: int,
    unit: tuple[str, float],
    ends: list[list[Any]],
) -> None:
    heads = [f"{heading} ({unit[0]})" if heading.startswith("RO") else heading for heading in HEADINGS]
    sized = [[*row[:4], round(row[4] * unit[1], 6), round(row[5] * unit[1], 6)] for row in rows]
    body: Sheet = []
    for number, line in enumerate(reordered(order, sized, heads)):
        body += [[], line] if number in blanks else [line]
    assert_alike(
        xlsx(
            [
                [*[None] * shift, *line]
                for line in [*([title] for title in titles), *body, *reordered(order, ends, [None] * 6)]
            ]
        )
    )
