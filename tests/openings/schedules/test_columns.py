"""Which heading means what."""

from __future__ import annotations

import pytest

from openings.schedules.columns import Meaning, read_heading

# Columns that schedules commonly have: birchlerarroyo.com, what is a window and door schedule; the words for
# them and their short forms: common practice, no source.
HEADINGS = [
    ("Mark", Meaning.MARK),
    ("Window No.", Meaning.MARK),
    ("TAG", Meaning.MARK),
    ("ID", Meaning.MARK),
    ("Type Mark", Meaning.MARK),
    ("Qty.", Meaning.QUANTITY),
    ("No. of units", Meaning.QUANTITY),
    ("# of Windows", Meaning.QUANTITY),
    ("Count", Meaning.QUANTITY),
    ("R.O. Width", Meaning.RO_WIDTH),
    ("RO W", Meaning.RO_WIDTH),
    ("Width\n(R.O.)", Meaning.RO_WIDTH),
    ("Rough Opening Height", Meaning.RO_HEIGHT),
    ("Rough Opening", Meaning.RO_SIZE),
    ("R.O. (W x H)", Meaning.RO_SIZE),
    ("Call Size", Meaning.RO_SIZE),
    ("Nominal Width", Meaning.RO_WIDTH),
    ("Unit Width", Meaning.UNIT_WIDTH),
    ("Frame Size (WxH)", Meaning.UNIT_SIZE),
    ("Height", Meaning.UNIT_HEIGHT),
    ("Size", Meaning.UNIT_SIZE),
    ("Operation", Meaning.OPERATION),
    ("Type", Meaning.OPERATION),
    ("Style", Meaning.OPERATION),
    ("Floor / Location", Meaning.FLOOR),
    ("Level", Meaning.FLOOR),
    ("Elevation", Meaning.FLOOR),
    ("Installation Detail", Meaning.DETAIL),
    ("Mounting", Meaning.DETAIL),
    ("Comments", Meaning.REMARKS),
    ("Unit Weight (lb)", Meaning.WEIGHT),
]


@pytest.mark.parametrize(("text", "meaning"), HEADINGS, ids=[text for text, _ in HEADINGS])
def test_heading_is_recognised_by_its_meaning(text: str, meaning: Meaning) -> None:
    heading = read_heading(text)
    assert heading is not None
    assert heading.meaning is meaning


@pytest.mark.parametrize(
    "text", ["Sill Height", "Head Height", "Glass Size", "Daylight Width", "Masonry Opening", "Jamb Depth", "Finish"]
)
def test_other_dimensions_are_not_taken_for_the_opening_or_the_unit(text: str) -> None:
    assert read_heading(text) is None


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("Width (mm)", "mm"),
        ("WIDTH MM", "mm"),
        ("Width, cm", "cm"),
        ('Height (")', "in"),
        ("Height [inches]", "in"),
        ("RO Width (ft-in)", "in"),
        ("Width (ft)", "ft"),
        ("Weight (kg)", "kg"),
        ("Width", ""),
    ],
)
def test_heading_says_its_unit(text: str, unit: str) -> None:
    heading = read_heading(text)
    assert heading is not None
    assert heading.unit == unit


@pytest.mark.parametrize("text", ["Size (HxW)", "H x W", "RO Height x Width", "Rough Opening H × W"])
def test_heading_says_that_height_stands_first(text: str) -> None:
    heading = read_heading(text)
    assert heading is not None
    assert heading.height_first
