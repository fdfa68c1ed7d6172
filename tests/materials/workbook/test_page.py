"""How a pull sheet prints."""

from __future__ import annotations

import pytest

from tests.materials.workbook.pull_sheets import BOOK, SHEETS, sheet_of, workbook_of


def test_sheets_stand_in_the_order_of_the_work() -> None:
    workbook = workbook_of(BOOK)
    assert tuple(workbook.sheetnames) == SHEETS
    assert workbook.properties.title == "Pull sheet PS-0042 revision 2"
    assert workbook.properties.lastModifiedBy is None


@pytest.mark.parametrize("sheet_title", SHEETS)
def test_sheet_prints_one_page_wide_on_letter_with_its_number(sheet_title: str) -> None:
    sheet = sheet_of(BOOK, sheet_title)
    assert sheet.sheet_properties.pageSetUpPr.fitToPage
    assert (sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight) == (1, 0)
    # ECMA-376 part 1, 18.3.1.63: paper size 1 is Letter.
    assert sheet.page_setup.paperSize == 1
    assert sheet.oddFooter.left.text == "PS-0042 revision 2"
    assert sheet.oddFooter.right.text == "Page &P of &N"


@pytest.mark.parametrize(
    ("title", "orientation", "area"),
    [
        ("Staging", "landscape", "$A$1:$J$3"),
        ("Tools", "portrait", "$A$1:$D$3"),
        ("Roll cuts", "landscape", "$A$1:$ET$3"),
        ("Cuts", "portrait", "$A$1:$G$3"),
        ("Openings", "landscape", "$A$1:$M$3"),
    ],
)
def test_table_repeats_its_headings_on_every_page(title: str, orientation: str, area: str) -> None:
    sheet = sheet_of(BOOK, title)
    assert sheet.page_setup.orientation == orientation
    assert sheet.print_title_rows == "$1:$2"
    assert sheet.freeze_panes == "A3"
    assert sheet.print_area == f"'{title}'!{area}"
    assert sheet["A1"].value == f"{title}: PS-0042 revision 2, Mon, Jun 8, 2026, Heron, Truck 2"
