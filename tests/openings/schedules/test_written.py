"""A schedule that was written comes back as it was, and its text stays text."""

from __future__ import annotations

import csv
from collections.abc import Callable, Sequence
from dataclasses import fields
from datetime import date
from decimal import Decimal
from io import BytesIO, StringIO
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl import load_workbook

from openings.calc.facts import MAX_SIDE_IN
from openings.calc.labor_rates import Access
from openings.calc.terms import FrameMaterial
from openings.schedules import ScheduleRead, WrittenOpening, read_schedule, schedule_csv, schedule_xlsx
from openings.schedules.layout import FACTS
from openings.schedules.written.fields import ALWAYS, HEADINGS, ONLY_WRITTEN, WHERE_SAID

ON = date(2026, 3, 2)
KINDS: dict[str, Callable[[Sequence[WrittenOpening]], bytes]] = {
    "csv": schedule_csv,
    "xlsx": lambda rows: schedule_xlsx(rows, title="Weir Cottage, Level 2 (weir)", on=ON),
}
ROW_COLUMNS = (
    "mark", "quantity", "ro_width_in", "ro_height_in", "unit_width_in", "unit_height_in", "operation", "floor",
    "detail", "weight_lb", "remarks",
)  # fmt: skip
SIDES = ROW_COLUMNS[2:6]
SIGNS = "=+-@＝＋－＠"
FULL = {
    "operation": "casement, left",
    "floor": "Level 2",
    "detail": "flange, over barrier",
    "weight_lb": Decimal("87.25"),
    "frame_material": "fiberglass",
    "lites_in": (Decimal("0.125"), Decimal("0.15625")),
    "design_pressure_psf": Decimal("50.5"),
    "access": "scaffold",
    "storeys_up": 2,
    "sill_above_floor_in": Decimal("0"),
    "sill_above_grade_in": Decimal("-12.34375"),
    "clear_width_in": Decimal("20.03125"),
    "clear_height_in": Decimal("24.5"),
    "clear_sill_above_floor_in": Decimal("44"),
    "pane_width_in": Decimal("30"),
    "pane_height_in": Decimal("40.25"),
    "is_egress": True,
    "is_grade_floor": False,
    "is_near_door": True,
    "is_near_walkway": False,
    "is_wet_area": True,
    "remarks": 'obscure, 1/8" glass; "north" side',
}


def opening(mark: str = "W1", **values: Any) -> WrittenOpening:
    sides = dict(zip(SIDES, map(Decimal, ("36", "54", "35.5", "53.5")), strict=True))
    return WrittenOpening(mark=mark, **sides | values)


def read(kind: str, *openings: WrittenOpening) -> ScheduleRead:
    return read_schedule(filename=f"windows.{kind}", content=KINDS[kind](openings))


def said(one: WrittenOpening) -> dict[str, Any]:
    """Return what an opening says, as its row would: nothing of what is not given."""
    facts = {fact: value for fact in FACTS if (value := getattr(one, fact)) not in (None, "", ())}
    return {name: getattr(one, name) for name in ROW_COLUMNS} | facts


def came_back(kind: str, *openings: WrittenOpening) -> list[dict[str, Any]]:
    """Return what the reader takes from the openings once written, without what every opening has unsaid."""
    found = read(kind, *openings)
    assert (found.faults, found.questions) == ((), ())
    unsaid = {"access": "clear", "storeys_up": 0}
    return [{name: getattr(row, name) for name in ROW_COLUMNS} | unsaid | dict(row.facts) for row in found.rows]


@pytest.fixture(params=KINDS)
def kind(request: pytest.FixtureRequest) -> str:
    return request.param


def test_every_field_has_a_heading_in_the_order_of_the_fields():
    assert [*HEADINGS] == [field.name for field in fields(WrittenOpening)]
    assert len(set(HEADINGS.values())) == len(HEADINGS)


def test_every_heading_that_a_schedule_can_say_is_read_plainly_and_no_other(kind):
    found = read(kind, opening(**FULL))
    assert {name: column.heading for name, column in found.columns.items()} == ALWAYS | WHERE_SAID
    (note,) = found.notes
    assert all(heading in note for heading in ONLY_WRITTEN.values())


def test_an_opening_of_which_everything_is_said_comes_back(kind):
    one = opening(**FULL)
    assert came_back(kind, one) == [said(one)]


@pytest.mark.parametrize("fact", WHERE_SAID)
def test_a_fact_of_one_opening_comes_back_and_is_no_fact_of_the_other(kind, fact):
    both = opening("W1", **{fact: FULL[fact]}), opening("W2")
    assert came_back(kind, *both) == [said(one) for one in both]


@pytest.mark.parametrize("value", [None, True, False])
@pytest.mark.parametrize("fact", [fact for fact in WHERE_SAID if fact.startswith("is_")])
def test_yes_no_and_nothing_said_stay_three_things(kind, fact, value):
    assert read(kind, opening(**{fact: value})).rows[0].facts == ({} if value is None else {fact: value})


def test_what_no_opening_says_has_no_column():
    heading = next(csv.reader(StringIO(schedule_csv([opening()]).decode("utf-8-sig"))))
    assert heading == [*ALWAYS.values(), *ONLY_WRITTEN.values()]


# 25.4 mm to the inch: NIST Handbook 44, Appendix C. Thirty-seconds: the finest that a tape has (common practice).
SIZES_IN = [
    pytest.param("36.03125", "48.96875", id="thirty-seconds"),
    pytest.param("36.02362", "59.05512", id="915 x 1500 mm"),
    pytest.param("0.0001", "480", id="smallest and largest"),
    pytest.param("36.5", "36.6", id="halves and tenths"),
]


@pytest.mark.parametrize(("width", "height"), SIZES_IN)
def test_a_size_comes_back_to_the_fifth_place(kind, width, height):
    one = opening(**dict(zip(SIDES, map(Decimal, (width, height, width, height)), strict=True)))
    assert came_back(kind, one) == [said(one)]


def test_numbered_marks_come_back_as_the_marks_they_are(kind):
    marks = [f"W3-{number:02}" for number in range(1, 13)]
    assert [(row.mark, row.quantity) for row in read(kind, *map(opening, marks)).rows] == [(mark, 1) for mark in marks]


ODD_MARKS = [
    "=1+1", "+5", "-7", "@SUM(1)", "＝1", "1.2", "007", "1E5", "MAR1", "true", "3'-0\"", "W;1|2", 'W"3"', "a_x0041_b",
    "_x005F_", "Fenêtre№7", "窓１", "☐1", "#REF!", "W1.", "'W1", "<b>&amp;", "sep=;",
]  # fmt: skip


@pytest.mark.parametrize("mark", ODD_MARKS)
def test_a_mark_comes_back_whatever_it_looks_like(kind, mark):
    one = opening(mark, operation=mark, floor=mark, detail=mark, remarks=mark)
    assert came_back(kind, one) == [said(one)]


def test_the_title_of_the_page_gives_no_opening_a_floor():
    assert read("xlsx", opening()).rows[0].floor == ""


def test_a_text_of_the_workbook_is_no_formula_and_stays_text_when_edited():
    sheet = load_workbook(BytesIO(KINDS["xlsx"]([opening("=1+1", remarks="=HYPERLINK(1)", crew="@x")]))).active
    texts = [cell for cell in sheet[2] if isinstance(cell.value, str)]
    assert {"=1+1", "=HYPERLINK(1)", "@x"} <= {cell.value for cell in texts}
    assert {(cell.data_type, cell.number_format) for cell in texts} == {("s", "@")}
    # ECMA-376 Part 1, 18.8.30 numFmts: 49, @, is text.
    assert sheet.column_dimensions["A"].number_format == "@"


def test_numbers_and_days_of_the_workbook_are_numbers_and_days():
    one = opening(weight_lb=Decimal("87.5"), status="assigned", crew="North", crew_day=ON, person_h=Decimal("3.25"))
    headings, line = load_workbook(BytesIO(KINDS["xlsx"]([one]))).active.iter_rows(values_only=True)
    cells = dict(zip(headings, line, strict=True))
    assert (cells["RO width (in)"], cells["Weight (lb)"], cells["Quantity"]) == (36, 87.5, 1)
    assert (cells["Crew day"].date(), cells["Hours planned"], cells["Status"]) == (ON, 3.25, "assigned")
    assert (cells["Operation"], cells["Holds"]) == (None, None)


def test_the_sheet_keeps_its_headings_in_sight_and_on_every_page():
    sheet = load_workbook(BytesIO(KINDS["xlsx"]([opening(), opening("W2")]))).active
    assert (sheet.freeze_panes, sheet.print_title_rows, sheet.print_title_cols) == ("B2", "$1:$1", "$A:$A")
    assert sheet.page_setup.orientation == "landscape"
    assert sheet.oddHeader.left.text == "Window schedule: Weir Cottage, Level 2 (weir)"
    assert sheet.oddHeader.right.text == "As of Mon, Mar 2, 2026"


@pytest.mark.parametrize("field", ["mark", "operation", "floor", "detail", "remarks", "crew"])
@pytest.mark.parametrize("start", [*SIGNS, "1-", "3/", "00", "Mar 1", "1e", "(5"])
def test_no_cell_of_the_text_begins_like_a_formula_a_date_or_a_number(field, start):
    """The signs at which spreadsheet programs see a formula: common practice, no source."""
    text = schedule_csv([opening(**{"mark": "W1", field: f"{start}1"})]).decode("utf-8-sig")
    headings, line = csv.reader(StringIO(text, newline=""))
    assert dict(zip(headings, line, strict=True))[HEADINGS[field]] == f"\t{start}1"


@pytest.mark.parametrize("mark", ["101", "0", "W3-01", "A", "Marble"])
def test_a_text_that_stays_itself_has_no_tab(mark):
    assert schedule_csv([opening(mark)]).decode("utf-8-sig").splitlines()[1].startswith(f"{mark},1,")


def test_a_negative_height_is_a_number_and_no_formula():
    assert ",-12.5," in schedule_csv([opening(sill_above_grade_in=Decimal("-12.50000"))]).decode("utf-8-sig")


def test_the_text_is_rfc_4180_with_a_byte_order_mark():
    """RFC 4180, section 2: lines end in CRLF, cells with commas or quotation marks are quoted, these doubled."""
    content = schedule_csv([opening(remarks='a, "b"', holds=("not measured", "weather"))])
    assert content.startswith(b"\xef\xbb\xbfOpening mark,Quantity,")
    assert content.count(b"\n") == content.count(b"\r\n") == 2
    assert content.endswith(b'"a, ""b""",,,,,"not measured, weather"\r\n')


def test_what_no_cell_can_hold_is_shown_as_such():
    sheet = load_workbook(BytesIO(KINDS["xlsx"]([opening(remarks="a\x0bb\ufffe")]))).active
    assert "a\ufffdb\ufffd" in [cell.value for cell in sheet[2]]


def test_a_job_without_openings_has_headings_alone():
    assert schedule_csv([]).decode("utf-8-sig").splitlines() == [",".join([*ALWAYS.values(), *ONLY_WRITTEN.values()])]
    assert load_workbook(BytesIO(KINDS["xlsx"]([]))).active.max_row == 1


SMALLEST = Decimal("0.0001")
sides = st.decimals(SMALLEST, MAX_SIDE_IN, places=5)
pairs = st.tuples(sides, sides)
heights = st.none() | st.just(Decimal(0)) | sides
words = st.text(st.characters(categories=("L", "N", "P", "S")), max_size=12)
texts = st.lists(words, max_size=3).map(lambda parts: " ".join(filter(None, parts)))
yes_or_no = st.sampled_from([None, True, False])
facts = st.fixed_dictionaries(
    {
        **dict.fromkeys(["operation", "floor", "detail", "remarks"], texts),
        "weight_lb": st.none() | st.decimals(Decimal("0.01"), 10_000, places=2),
        "frame_material": st.sampled_from(["", *map(str, FrameMaterial)]),
        "lites_in": st.lists(st.decimals(SMALLEST, 3, places=5), max_size=4).map(tuple),
        "design_pressure_psf": st.none() | st.decimals(SMALLEST, 1000, places=5),
        "access": st.sampled_from([*map(str, Access)]),
        "storeys_up": st.integers(0, 100),
        **dict.fromkeys(["sill_above_floor_in", "clear_sill_above_floor_in"], heights),
        "sill_above_grade_in": st.none()
        | st.decimals(1, 99_999, places=5).flatmap(lambda high: st.sampled_from([high, -high])),
        **dict.fromkeys(["clear_width_in", "clear_height_in", "pane_width_in", "pane_height_in"], st.none() | sides),
        **dict.fromkeys([fact for fact in WHERE_SAID if fact.startswith("is_")], yes_or_no),
    }
)
# Numbered, so that no two are one; what can name several marks is no matter of writing.
starts = st.tuples(st.sampled_from(["", *SIGNS]), st.text("=@_.#'\"()WwÉ窓0159", max_size=6)).map("".join)


@settings(max_examples=30, deadline=None)
@given(st.lists(st.tuples(starts, pairs, pairs, facts), min_size=1, max_size=4))
def test_whatever_openings_say_comes_back(rows):
    openings = [
        opening(f"{start}x{place}", **dict(zip(SIDES, (*ro, *map(min, ro, unit)), strict=True)), **values)
        for place, (start, ro, unit, values) in enumerate(rows)
    ]
    for kind in KINDS:
        assert came_back(kind, *openings) == [said(one) for one in openings]
