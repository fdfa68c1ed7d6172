"""Which heading means what."""

from __future__ import annotations

import pytest

from openings.schedules import Meaning
from openings.schedules.headings.plain import is_foreign, read_heading

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
    ("Sill Height", Meaning.SILL_ABOVE_FLOOR),
    ("Sill Ht. AFF", Meaning.SILL_ABOVE_FLOOR),
    ("WINDOW NO'S", Meaning.MARK),
    ("RoughOpngWidth", Meaning.RO_WIDTH),
    ("RO_WIDTH_MM", Meaning.RO_WIDTH),
    ("roHeightIn", Meaning.RO_HEIGHT),
    ("Rough Open-\ning Width", Meaning.RO_WIDTH),
    ("Rough Opng. Hgt", Meaning.RO_HEIGHT),
    ("Family and Type", Meaning.OPERATION),
    ("Total", Meaning.QUANTITY),
    ("DP (psf)", Meaning.DESIGN_PRESSURE),
    ("Frame Mat'l", Meaning.FRAME_MATERIAL),
    ("Sizes Unit W", Meaning.UNIT_WIDTH),
]

# The headings that the export of a job writes: they must come back as what they were.
OWN_HEADINGS = [
    ("Sill above floor (in)", Meaning.SILL_ABOVE_FLOOR),
    ("Sill above grade (in)", Meaning.SILL_ABOVE_GRADE),
    ("Storeys up", Meaning.STOREYS_UP),
    ("Egress", Meaning.IS_EGRESS),
    ("Lites (in)", Meaning.LITES),
    ("Frame material", Meaning.FRAME_MATERIAL),
    ("Clear width (in)", Meaning.CLEAR_WIDTH),
    ("Clear height (in)", Meaning.CLEAR_HEIGHT),
    ("Clear sill above floor (in)", Meaning.CLEAR_SILL_ABOVE_FLOOR),
    ("Pane width (in)", Meaning.PANE_WIDTH),
    ("Pane height (in)", Meaning.PANE_HEIGHT),
    ("Grade floor", Meaning.IS_GRADE_FLOOR),
    ("Near door", Meaning.IS_NEAR_DOOR),
    ("Near walkway", Meaning.IS_NEAR_WALKWAY),
    ("Wet area", Meaning.IS_WET_AREA),
    ("Design pressure (psf)", Meaning.DESIGN_PRESSURE),
    ("Access", Meaning.ACCESS),
]


@pytest.mark.parametrize(
    ("text", "meaning"), [*HEADINGS, *OWN_HEADINGS], ids=[text for text, _ in [*HEADINGS, *OWN_HEADINGS]]
)
def test_heading_is_recognised_by_its_meaning(text: str, meaning: Meaning) -> None:
    heading = read_heading(text)
    assert heading is not None
    assert heading.meaning is meaning


@pytest.mark.parametrize(
    "text",
    [
        "Head Height",
        "Hd. Ht. AFF",
        "Glass Size",
        "Daylight Width",
        "Masonry Opening",
        "M.O. Width",
        "Jamb Depth",
        "Finish",
    ],
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


@pytest.mark.parametrize("meaning", [one for one in Meaning if one is not Meaning.COUNT_ON_FLOOR])
def test_every_meaning_is_read_by_its_own_name(meaning: Meaning) -> None:
    heading = read_heading(meaning.value)
    assert heading is not None
    assert heading.meaning is meaning


@pytest.mark.parametrize("text", ["Status", "Crew", "Crew day", "Holds", "Schedule mark", "Glazing", "Model", "SHGC"])
def test_heading_of_something_else_is_known_as_such(text: str) -> None:
    assert is_foreign(text)
    assert read_heading(text) is None


@pytest.mark.parametrize(("text", "confidence"), [("RO Width", "1"), ("Width", "0.9"), ("Call Size", "0.9")])
def test_heading_that_leaves_something_to_assume_is_less_sure(text: str, confidence: str) -> None:
    heading = read_heading(text)
    assert heading is not None
    assert str(heading.confidence) == confidence
