"""Which side of a size stands first: the letters in the cell say it, else the heading, else a person.

Width first is the habit of the trade, and common practice, no source; so are the ways to write the order.
"""

from __future__ import annotations

import pytest

from openings.schedules import Layout, Meaning, ScheduleRead, layout_of, read_schedule
from openings.schedules.headings.plain import height_stated_first
from openings.schedules.layout import ColumnAnswer
from tests.openings.schedules.files import xlsx


def file_of(heading: str, *sizes: str) -> bytes:
    rows = [[f"W{number}", 1, size] for number, size in enumerate(sizes, start=1)]
    return xlsx([["Mark", "Qty", heading], *rows])


def read(heading: str, *sizes: str, settled: Layout | None = None) -> ScheduleRead:
    return read_schedule(filename="windows.xlsx", content=file_of(heading, *sizes), settled=settled)


def sizes_of(found: ScheduleRead) -> list[tuple[object, object]]:
    return [(row.ro_width_in or row.unit_width_in, row.ro_height_in or row.unit_height_in) for row in found.rows]


HEIGHT_FIRST = [
    "RO H x W",
    "Rough Openning H x W",
    "Structural opening H x W",
    "HxW clear",
    "Rough Opening (h × w)",
    "Height x Width of masonry opening",
    "Ht/Wd",
    "Opening size, height by width",
    "R.O. (Height / Width)",
    "Hgt. × Wdth.",
    "Size in wall: height and width",
]


@pytest.mark.parametrize("heading", HEIGHT_FIRST)
def test_order_that_a_heading_states_is_kept_whether_guessed_or_answered(heading: str) -> None:
    assert height_stated_first(heading) is True
    for meaning in (Meaning.RO_SIZE, Meaning.UNIT_SIZE):
        found = read(heading, '54" x 36"', settled=Layout(columns={"C": ColumnAnswer(meaning=meaning)}))
        assert sizes_of(found) == [(36, 54)]
        assert found.questions == ()
        again = read_schedule(
            filename="windows.xlsx",
            content=file_of(heading, '60" x 24"'),
            remembered={found.fingerprint: layout_of(found.layout.as_json())},
        )
        assert sizes_of(again) == [(24, 60)]


@pytest.mark.parametrize("heading", ["RO H x W", "Rough Openning H x W", "Rough Opening (h × w)", "Ht/Wd"])
def test_order_that_a_heading_states_is_kept_where_nobody_answered(heading: str) -> None:
    assert sizes_of(read(heading, '54" x 36"')) == [(36, 54)]


@pytest.mark.parametrize("heading", ["Structural opening W x H", "Width by height of opening", "Wd/Ht", "W x H clear"])
def test_width_stated_first_asks_nothing(heading: str) -> None:
    found = read(heading, '36" x 54"', settled=layout_of({"columns": {"C": "ro_size"}}))
    assert (sizes_of(found), found.questions) == ([(36, 54)], ())


LETTERED = ["36W x 54H", "H54 x W36", 'W 36" H 54"', '54" high, 36" wide', "54 H x 36 W", "Wd 36 / Ht 54"]


@pytest.mark.parametrize("heading", ["RO W x H", "RO H x W", "Rough Openning", "Rough Opening"])
@pytest.mark.parametrize("size", LETTERED)
def test_letters_in_the_cell_win_over_the_heading(heading: str, size: str) -> None:
    found = read(heading, size)
    assert sizes_of(found) == [(36, 54)]
    assert not [asked for asked in found.questions if asked.field.endswith("height_first")]


@pytest.mark.parametrize("heading", ["Lichtmaß", "Masonry opening", "Description", "Rough Openning"])
def test_order_is_asked_where_neither_heading_nor_cell_says(heading: str) -> None:
    as_size = {"meaning": "ro_size", "unit": "in"}
    found = read(heading, "54 x 36", "30 x 30", settled=layout_of({"columns": {"C": as_size}}))
    [asked] = found.questions
    assert (asked.field, asked.choices) == ("columns.C.height_first", ("false", "true"))
    assert "“54 x 36”" in asked.detail
    for choice, size in (("false", (54, 36)), ("true", (36, 54)), (False, (54, 36)), (True, (36, 54))):
        settled = layout_of({"columns": {"C": as_size | {"height_first": choice}}})
        answered = read(heading, "54 x 36", "30 x 30", settled=settled)
        assert answered.questions == ()
        assert sizes_of(answered) == [size, (30, 30)]
        again = read_schedule(
            filename="windows.xlsx",
            content=file_of(heading, "54 x 36"),
            remembered={answered.fingerprint: layout_of(answered.layout.as_json())},
        )
        assert (sizes_of(again), again.questions) == ([size], ())


@pytest.mark.parametrize("heading", ["Rough Opening", "R.O. Size", "Unit Size", "Size", "Call Size"])
def test_heading_that_is_known_to_mean_a_size_has_width_first(heading: str) -> None:
    found = read(heading, '36" x 54"')
    assert (sizes_of(found), found.questions) == ([(36, 54)], ())


def test_squares_and_call_sizes_leave_no_order_open() -> None:
    # A call size is feet and inches of the width, then of the height: greathousedesign.com, engineerfix.com.
    found = read("Rough Openning", '36" x 36"', "3046")
    assert sizes_of(found) == [(36, 36), (36, 54)]
    assert not [asked for asked in found.questions if asked.field.endswith("height_first")]
