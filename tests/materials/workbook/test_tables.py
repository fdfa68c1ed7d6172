"""What to load, to cut and to set."""

from __future__ import annotations

from dataclasses import replace

import pytest

from materials.calc.product import Measure
from tests.materials.workbook.pull_sheets import BOOK, FIRST_ROW, MEMBRANE, OPENING, row_of, sheet_of


def test_staging_gives_packages_of_the_shelf_and_the_exact_length() -> None:
    row = row_of(sheet_of(BOOK, "Staging"))
    assert [row[heading].value for heading in ("Staged", "Product", "Code", "For")] == [
        "☐",
        "Self-adhered membrane 12 in",
        "SAM-12",
        "sill strip, head strip",
    ]
    assert [row[heading].value for heading in ("Take", "Package", "Exactly", "Exactly, in")] == [
        2,
        "roll",
        "100' 4 1/16\"",
        1204.0625,
    ]
    # 1204 in = 100 ft 4 in: twelve inches to the foot.


@pytest.mark.parametrize("heading", ["Loaded", "Returned"])
def test_staging_leaves_a_framed_cell_to_write_in(heading: str) -> None:
    cell = row_of(sheet_of(BOOK, "Staging"))[heading]
    assert cell.value is None
    assert cell.border.left.style == cell.border.bottom.style == "medium"


@pytest.mark.parametrize(("measure", "said"), [(Measure.COUNT, "1204.0625"), (Measure.VOLUME, "1204.0625 cu in")])
def test_only_lengths_are_shown_in_feet(measure: Measure, said: str) -> None:
    book = replace(BOOK, staging=(replace(MEMBRANE, measure=measure),))
    row = row_of(sheet_of(book, "Staging"))
    assert (row["Exactly"].value, row["Exactly, in"].value) == (said, None)


def test_parts_without_a_product_are_staged_as_such() -> None:
    unchosen = replace(MEMBRANE, product="", product_code="", packages=0, package="", note="choose one")
    row = row_of(sheet_of(replace(BOOK, staging=(unchosen,)), "Staging"))
    assert row["Product"].value == "no product chosen"
    assert row["For"].value == "sill strip, head strip\nchoose one"
    assert (row["Take"].value, row["Take"].number_format) == (0, '#,##0;-#,##0;"–"')


def test_cut_keeps_its_thirty_seconds() -> None:
    row = row_of(sheet_of(BOOK, "Cuts"))
    assert (row["Opening"].value, row["Part"].value, row["Pieces"].value) == ("W3-01", "sill strip", 1)
    assert (row["Length"].value, row["Length, in"].value) == ("4' 6 17/32\"", 54.53125)
    assert row["Length, in"].number_format == "#,##0.00###"
    assert [row[heading].value for heading in ("Width", "Width, in", "Cut from")] == ["1' 0\"", 12, "roll 1"]


def test_opening_gives_width_before_height_in_tape_and_decimals() -> None:
    row = row_of(sheet_of(BOOK, "Openings"))
    assert row["Rough opening, w × h"].value == "3' 0 1/2\" ×\n4' 6 1/2\""
    assert row["Unit, w × h"].value == "3' 0\" ×\n4' 6\""
    decimals = ("RO width, in", "RO height, in", "Unit width, in", "Unit height, in")
    assert [row[heading].value for heading in decimals] == [36.5, 54.5, 36, 54]
    assert row["Detail, method"].value == "Flange, wrap before window, A1"
    assert (row["People to lift"].value, row["Labor hours"].value) == (2, 2.25)


@pytest.mark.parametrize(
    ("is_estimate", "needs_aid", "note"),
    [(True, False, "est."), (False, True, "aid"), (True, True, "est.\naid"), (False, False, None)],
)
def test_opening_marks_estimates_and_lifting_aids(is_estimate: bool, needs_aid: bool, note: str | None) -> None:
    opening = replace(OPENING, weight_is_estimate=is_estimate, needs_aid=needs_aid)
    row = row_of(sheet_of(replace(BOOK, openings=(opening,)), "Openings"))
    assert (row["Weight, lb"].value, row["Weight, lb"].data_type) == (66, "n")
    assert row["Lift note"].value == note


def test_opening_marks_a_lift_that_somebody_decides_first() -> None:
    opening = replace(OPENING, weight_is_estimate=True, needs_aid=True, needs_decision=True)
    assert row_of(sheet_of(replace(BOOK, openings=(opening,)), "Openings"))["Lift note"].value == "est.\naid\nask"


@pytest.mark.parametrize(
    ("title", "sentence"),
    [("Staging", "Nothing to load."), ("Cuts", "Nothing to cut."), ("Openings", "No openings.")],
)
def test_empty_table_says_so(title: str, sentence: str) -> None:
    book = replace(BOOK, staging=(), cuts=(), openings=())
    assert sheet_of(book, title)[f"A{FIRST_ROW}"].value == sentence
