"""Headings as people write them: short, long, misspelt, in two or three rows, with units."""

from __future__ import annotations

from decimal import Decimal

import pytest

from openings.schedules import Meaning
from openings.schedules.layout import ColumnAnswer
from tests.openings.schedules.layouts import (
    COLUMNS,
    NIST,
    Case,
    Opening,
    answered,
    check,
    merged,
    sheet,
    text_file,
)  # fmt: skip

BOTH = Opening("W1", 2, ro=(36.5, 54.5), unit=(36, 54))
ROUGH = Opening("W1", 2, ro=(36.5, 54.5))
UNIT = Opening("W1", 2, unit=(36, 54))


def row(name: str, headings: str, *, may_ask: str = "", cells: str = "W1 | 2 | 36.5 | 54.5 | 36 | 54") -> Case:
    return sheet(name, f"{headings}\n{cells}\n", BOTH, may_ask=may_ask)


SPELLINGS = [
    row("plain", "Mark | Quantity | Rough Opening Width | Rough Opening Height | Unit Width | Unit Height"),
    row("with points", "Mk. | Qty. | R.O. W. | R.O. H. | Unit W. | Unit H."),
    row("slashes and hashes", "Window # | # of units | R/O Width | R/O Height | Frame Width | Frame Height"),
    row("upper case", "TAG | QTY | RO WIDTH | RO HEIGHT | FRAME WIDTH | FRAME HEIGHT"),
    row("line breaks", "WINDOW⏎MARK | NO.⏎REQ'D | ROUGH⏎OPENING⏎W | ROUGH⏎OPENING⏎H | UNIT⏎WIDTH | UNIT⏎HEIGHT"),
    row("CamelCase", "WindowMark | Quantity | RoughOpeningWidth | RoughOpeningHeight | UnitWidth | UnitHeight"),
    row("snake_case", "mark | qty | rough_opening_width | rough_opening_height | unit_width | unit_height"),
    row("our own names", "mark | quantity | ro_width_in | ro_height_in | unit_width_in | unit_height_in"),
    row("camelCase with units", "mark | quantity | roWidthIn | roHeightIn | unitWidthIn | unitHeightIn"),
    row("dimension first", "Mark | Qty | Width (R.O.) | Height (R.O.) | Width (Unit) | Height (Unit)"),
    row("dashes", "Mark | Qty | R.O. - Width | R.O. - Height | Frame - Width | Frame - Height"),
    row("short sides", "Mark | Qty | RO WD | RO HT | FRAME WD | FRAME HT"),
    row("inch marks", 'Mark | Qty | RO W (") | RO H (") | Unit W (") | Unit H (")'),
    row("words for it", "Type Mark | Count | Rough Width | Rough Height | Frame Width | Frame Height"),
    row("colons and stars", "Mark: | Qty:* | RO Width:** | RO Height:** | Unit Width: | Unit Height:"),
    row("non-breaking spaces", "Mark | Qty | RO~Width | RO~Height | Unit  Width | Unit~Height".replace("~", "\xa0")),
]  # fmt: skip

MISSPELT = [
    row(name, headings, may_ask=r"columns\..*")
    for name, headings in (
        ("transposed letters", "Makr | Qty | RO Widht | RO Heigth | Unit Widht | Unit Heigth"),
        ("missing letters", "Mark | Quanity | Rough Openng Width | Rough Openng Height | Unit Widh | Unit Heght"),
        ("doubled letters", "Markk | Quantitty | Rough Oppening W | Rough Oppening H | Unnit Width | Unnit Height"),
        ("cut off", "Mark | Quant | Rough Open W | Rough Open H | Unit Wid | Unit Hgt"),
    )
]  # fmt: skip

DEEP = [
    sheet(
        "two rows, merged",
        """
        Mark | Qty | Rough Opening | | Unit | | Remarks
             |     | Width | Height | Width | Height |
        W1   | 2   | 36.5  | 54.5   | 36    | 54     | egress
        """,
        BOTH._replace(remarks="egress"),
        then=merged("A1:A2", "B1:B2", "C1:D1", "E1:F1", "G1:G2"),
    ),
    sheet(
        "two rows, not merged",
        """
             |     | Rough Opening | | Frame | |
        Mark | Qty | W     | H      | W     | H      | Type
        W1   | 2   | 36.5  | 54.5   | 36    | 54     | fixed
        """,
        BOTH._replace(operation="fixed"),
    ),
    sheet(
        "three rows",
        """
        Mark | Qty | Sizes | | | | Type
             |     | R.O.  | | Unit | |
             |     | W     | H      | W     | H      |
        W1   | 2   | 36.5  | 54.5   | 36    | 54     | fixed
        """,
        BOTH._replace(operation="fixed"),
        then=merged("A1:A3", "B1:B3", "C1:F1", "C2:D2", "E2:F2", "G1:G3"),
    ),
    sheet(
        "three rows with units in the last",
        """
        Mark | Qty | Rough Opening | | Unit Size | | Weight
             |     | Width | Height | Width | Height | each
             | ea  | mm    | mm     | mm    | mm     | kg
        W1   | 2   | 927.1 | 1384.3 | 914.4 | 1371.6 | 50
        """,
        BOTH._replace(weight=Decimal("110.23")),
        source=NIST,
    ),
    sheet(
        "unit row below one row of headings",
        """
        Mark | Qty | RO Width | RO Height | Unit Width | Unit Height
        -    | no. | (mm)     | (mm)      | (mm)       | (mm)
        W1   | 2   | 927.1    | 1384.3    | 914.4      | 1371.6
        """,
        BOTH,
        source=NIST,
    ),
    sheet(
        "unit in the upper of two rows",
        """
        Mark | Qty | Rough Opening (cm) | | Unit (cm) |
             |     | Width | Height | Width | Height
        W1   | 2   | 92.71 | 138.43 | 91.44 | 137.16
        """,
        BOTH,
        source=NIST,
    ),
]  # fmt: skip

OTHER_COLUMNS = [
    sheet(
        "head height and sill height beside the height",
        """
        Type Mark | Width | Height | Sill Height | Head Height | Count
        W1        | 36    | 54     | 30          | 84          | 2
        """,
        UNIT,
        may_ask=r"columns\.[BC]\.meaning",
    ),
    sheet(
        "sill and head in front of the height, shortened",
        """
        Mark | Qty | Sill Ht. AFF | Hd. Ht. AFF | RO W | RO H
        W1   | 2   | 30           | 84          | 36.5 | 54.5
        """,
        ROUGH,
    ),
    sheet(
        "glass, daylight and clear opening",
        """
        Mark | Glass Width | Glass Height | Daylight W | Daylight H | Clear Width | Clear Height | RO W | RO H | Qty
        W1   | 30          | 48           | 31         | 49         | 31.5        | 20.5         | 36.5 | 54.5 | 2
        """,
        ROUGH,
        source="section 11.3 of the check values: nominal, rough opening, frame and glass are kept distinct",
    ),
    sheet(
        "glass in the second row of headings",
        """
        Mark | Qty | Glass | | Rough Opening |
             |     | Width | Height | Width | Height
        W1   | 2   | 30    | 48     | 36.5  | 54.5
        """,
        ROUGH,
        then=merged("C1:D1", "E1:F1"),
    ),
    sheet(
        "glass size and size",
        """
        Mark | Qty | Glass Size | Unit Size
        W1   | 2   | 30 x 48    | 36 x 54
        """,
        UNIT,
        may_ask=r"columns\.D\.unit",
    ),
    sheet(
        "masonry opening, jamb and wall",
        """
        Mark | Qty | M.O. Width | M.O. Height | RO Width | RO Height | Jamb Depth | Wall Thickness | Frame Material
        W1   | 2   | 37         | 55          | 36.5     | 54.5      | 4.5625     | 6.5            | vinyl
        """,
        ROUGH,
    ),
    sheet(
        "rough opening, unit and nominal side by side",
        """
        Mark | Qty | Nominal Width | Nominal Height | RO Width | RO Height | Unit Width | Unit Height
        W1   | 2   | 40            | 60             | 36.5     | 54.5      | 36         | 54
        """,
        BOTH,
        source="section 11.3 of the check values: nominal, rough opening, frame and glass are kept distinct",
    ),
    sheet(
        "all the columns an architect has",
        """
        MARK | QTY | TYPE | MAKER    | MODEL | R.O. W | R.O. H | MATERIAL | GLAZING | FINISH | U-VALUE | SHGC | REMARKS
        W1   | 2   | CSMT | by owner | 300   | 36.5   | 54.5   | wood     | IGU     | white  | 0.29    | 0.31 | egress
        """,
        ROUGH._replace(operation="CSMT", remarks="egress"),
        source=COLUMNS,
    ),
    sheet(
        "least machine table",
        """
        Item | Height | Width | Area (sq ft)
        W1   | 54     | 36    | 13.5
        W1   | 54     | 36    | 13.5
        """,
        UNIT,
        may_ask=r"columns\.[BC]\.meaning",
        source="section 11.3 of the check values: the least machine table is item, height, width, area",
    ),
]  # fmt: skip


def metric(unit: str, cells: str) -> Case:
    return sheet(f"rough opening in {unit}", f"Mark | Qty | {unit}\nW1 | 2 | {cells}\n", ROUGH, source=NIST)


UNITS = [
    metric("RO Width (mm) | RO Height (mm)", "927.1 | 1384.3"),
    metric("RO WIDTH MM | RO HEIGHT MM", "927.1 | 1384.3"),
    metric("RO Width, cm | RO Height, cm", "92.71 | 138.43"),
    metric("RO Width [m] | RO Height [m]", "0.9271 | 1.3843"),
    metric("ro_width_mm | ro_height_mm", "927.1 | 1384.3"),
    metric("RoWidthMm | RoHeightMm", "927.1 | 1384.3"),
    metric("R.O. Width in millimeters | R.O. Height in millimeters", "927.1 | 1384.3"),
    metric("RO Width (decimal feet) | RO Height (decimal feet)", "3.0416666667 | 4.5416666667"),
    metric("RO Width (ft-in) | RO Height (ft-in)", "3'-0 1/2\" | 4'-6 1/2\""),
    metric("RO Width (mm) | RO Height (in)", "927.1 | 54.5"),
    metric("RO (W x H) mm", "927.1 x 1384.3"),
    metric("RO (H x W) in", "54.5 x 36.5"),
    metric("RO Height (mm) | RO Width (mm)", "1384.3 | 927.1"),
]

CASES: list[Case] = SPELLINGS + MISSPELT + DEEP + OTHER_COLUMNS + UNITS


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_headings_are_matched_by_what_they_mean(case: Case) -> None:
    check(case)


def test_bare_width_and_height_are_never_taken_without_a_word() -> None:
    # Section 11.3 of the check values: some architects leave out the rough opening, so a bare width may be either.
    case = sheet("bare", "Mark | Qty | Width | Height\nW1 | 2 | 36 | 54\n", UNIT, may_ask=r"columns\.[CD]\.meaning")
    read = check(case)
    assert any("unit" in text for text in [*read.notes, *(asked.detail for asked in read.questions)])


def test_answer_makes_rough_openings_of_bare_sides() -> None:
    case = sheet("bare", "Mark | Qty | Width | Height\nW1 | 2 | 36.5 | 54.5\n", ROUGH)
    answered(case, {"C": ColumnAnswer(meaning=Meaning.RO_WIDTH), "D": ColumnAnswer(meaning=Meaning.RO_HEIGHT)})


def test_proposal_names_every_heading_with_three_samples() -> None:
    # The issue: proposed meaning of each column, its confidence and three sample values.
    read = text_file(
        "csv", "Mark,Finish,RO Width,RO Height\nA,red,36,54\nB,blue,37,54\nC,tan,38,54\nD,red,39,54\n"
    ).read()
    assert [(column.letter, column.heading) for column in read.proposal] == [
        ("A", "Mark"), ("B", "Finish"), ("C", "RO Width"), ("D", "RO Height"),
    ]  # fmt: skip
    assert [column.meaning for column in read.proposal] == [Meaning.MARK, None, Meaning.RO_WIDTH, Meaning.RO_HEIGHT]
    assert read.proposal[1].samples == ("red", "blue", "tan")
    assert read.proposal[3].samples == ("54",)
    assert all(0 <= column.confidence <= 1 for column in read.proposal)


def test_other_columns_are_facts_of_the_opening() -> None:
    # Columns: birchlerarroyo.com; sill height and egress beside them: common practice, no source.
    case = sheet(
        "facts",
        """
        Mark | Qty | RO Width | RO Height | Frame Material | Egress | Sill Height AFF (mm) | DP (psf)
        W1   | 2   | 36.5     | 54.5      | vinyl          | yes    | 762                  | 50
        """,
        ROUGH,
        may_ask=r"columns\.[E-H]\.meaning",
    )
    facts = check(case).rows[0].facts
    expected = {"frame_material": "vinyl", "is_egress": True, "sill_above_floor_in": 30, "design_pressure_psf": 50}
    assert dict(facts) == expected
