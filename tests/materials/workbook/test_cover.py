"""The first sheet."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from decimal import Decimal

import pytest

from materials.workbook import STANDING_CAUTIONS
from tests.materials.workbook.pull_sheets import BOOK, facts_of, sheet_of


@pytest.mark.parametrize(
    ("label", "value", "number_format"),
    [
        ("Crew", "Heron", "General"),
        ("Truck", "Truck 2", "General"),
        ("Day", datetime.fromisoformat("2026-06-08"), "[$-409]ddd, mmm d, yyyy"),
        ("People", 4, "General"),
        ("Assigned", 27.5, '#,##0.00 "labor hours"'),
        ("Capacity", 32, '#,##0.00 "labor hours"'),
        ("Room left", 4.5, '#,##0.00 "labor hours"'),
        ("Written", datetime.fromisoformat("2026-06-05T16:00"), "[$-409]ddd, mmm d, yyyy h:mm AM/PM"),
        ("ELM-12", "Elm Street house\n12 Elm Street", "General"),
        ("Change 1", "Opening W3-04 left the day.", "General"),
        ("Today", "Built in 1924: lead-safe work.", "General"),
    ],
)
def test_cover_says(label: str, value: object, number_format: str) -> None:
    fact = facts_of(sheet_of(BOOK, "Cover"))[label]
    assert (fact.value, fact.number_format) == (value, number_format)


def test_cover_names_what_goes_over_the_capacity() -> None:
    facts = facts_of(sheet_of(replace(BOOK, assigned_person_h=Decimal(40)), "Cover"))
    assert facts["Over capacity"].value == 8
    assert "Room left" not in facts


def test_first_revision_speaks_of_no_change() -> None:
    facts = facts_of(sheet_of(replace(BOOK, revision=1, changes=()), "Cover"))
    assert not [label for label in facts if label and "hange" in str(label)]


def test_a_long_caution_goes_on_in_rows_of_their_own() -> None:
    words = [f"W{number}" for number in range(600)]
    sheet = sheet_of(replace(BOOK, cautions=(" ".join(words),)), "Cover")
    at = next(row for row in range(1, sheet.max_row) if sheet.cell(row, 1).value == "Today")
    following = iter(range(at + 1, sheet.max_row))
    parts = [sheet.cell(at, 2).value]
    while not sheet.cell(row := next(following), 1).value:
        parts.append(sheet.cell(row, 2).value)
    assert " ".join(parts).split() == words
    # No row of a worksheet is higher than 409 pt: limits of the file format, Excel specifications.
    assert all(sheet.row_dimensions[row].height <= 409 for row in range(at, at + len(parts)))


def test_every_standing_caution_is_on_the_cover() -> None:
    facts = facts_of(sheet_of(replace(BOOK, cautions=()), "Cover"))
    assert {topic: facts[topic].value for topic, _ in STANDING_CAUTIONS} == dict(STANDING_CAUTIONS)
    assert {"Lifting", "Glass", "Heights", "Lead paint", "Anchorage"} <= facts.keys()


def test_cover_without_jobs_says_so() -> None:
    assert facts_of(sheet_of(replace(BOOK, jobs=()), "Cover"))["None"].value == "No job is on this sheet."


def test_a_part_without_a_product_stands_on_the_cover_with_the_reason() -> None:
    why = 'sill strip is to be 1\' 0" wide, but Tape is only 9" wide'
    row = replace(BOOK.staging[0], product_code="", product="", parts="sill strip", packages=0, note=why)
    cover = sheet_of(replace(BOOK, staging=(row, *BOOK.staging)), "Cover")
    assert facts_of(cover)["sill strip"].value == why
    titles = [cell.value for cell in cover["A"]]
    assert titles.index("Not complete: 1 part without a product") < titles.index("Job")
    assert not [one.value for one in sheet_of(BOOK, "Cover")["A"] if one.value and "complete" in str(one.value)]
