"""A list of crews or products is read from any workbook or text, with what is wrong named by row and heading."""

from __future__ import annotations

import datetime

import pytest

from openings.errors import BadList
from openings.schedules import FOR_A_REQUEST, CellRow, CellSheet, listed_rows, read_cells
from tests.openings.schedules.files import xlsx

COLUMNS = {"name": ("Crew", "Crew name"), "people": ("People", "Crew size"), "from_on": ("From",)}


def read(content: bytes, filename: str = "crews.xlsx") -> tuple[CellSheet, ...]:
    return read_cells(filename=filename, content=content, budget=FOR_A_REQUEST)


def listed(content: bytes, filename: str = "crews.xlsx"):
    return listed_rows(read(content, filename), columns=COLUMNS, required=["name", "people"])


def test_cells_come_as_a_person_would_type_them():
    noon = datetime.time(12, 30)
    day = datetime.date(2026, 11, 30)
    (sheet,) = read(xlsx([["North", 3, 0.1 + 0.2, 1e6, True, day, datetime.datetime.combine(day, noon), noon]]))
    assert sheet.rows == (
        CellRow(row=1, cells=("North", "3", "0.3", "1000000", "yes", "2026-11-30", "2026-11-30 12:30", "12:30")),
    )


@pytest.mark.parametrize(
    ("text", "filename"),
    [
        ("Crew,People\nNorth,3\n", "crews.csv"),
        ("Crew;People\nNorth;3\n", "crews.csv"),
        ("Crew\tPeople\nNorth\t3\n", "crews.tsv"),
        ("Our crews\n\nCREW NAME,crew_size,Color\nNorth,3,red\n,,\n", "crews.csv"),
    ],
    ids=["commas", "semicolons", "tabs", "title above, headings written otherwise"],
)
def test_headings_are_found_wherever_they_stand(text, filename):
    (line,) = listed(text.encode(), filename).rows
    assert line.values == {"name": "North", "people": "3"}


def test_what_is_not_read_is_named():
    found = listed(xlsx([["Crew", "People", "Color"], ["North", 3, "red"]]))
    assert found.notes == ("The column “Color” was not read.",)


def test_a_cell_without_a_value_is_a_fault_of_its_row_and_heading():
    found = listed(xlsx([["Crew", "People"], ["North", "=1+2"], ["South", 4]]))
    (fault,) = found.faults
    assert (fault.row, fault.field) == (2, "People")
    assert fault.detail.startswith("cell B2 is a formula without a saved value")
    assert [line.row for line in found.rows] == [2, 3]


def test_a_decimal_comma_counts_as_a_point_where_semicolons_divide():
    (line,) = listed(b"Crew;People\nNorth;2,5\n", "crews.csv").rows
    assert line.values["people"] == "2.5"


@pytest.mark.parametrize(
    ("content", "filename", "says"),
    [
        (b"", "crews.csv", "The file is empty; upload the list as .xlsx or .csv."),
        (b"%PDF-1.7 x", "crews.pdf", "ask for the list as .xlsx or .csv"),
        (b"PK\x03\x04 broken", "crews.xlsx", "The workbook is damaged"),
        (b"ISO-10303-21;", "crews.ifc", "A building model holds no list"),
        (b"Truck,Plate\n1,2\n", "crews.csv", "No row has the headings “Crew”, “People”. Head the columns with:"),
        (b"Crew,People\n", "crews.csv", "No line stands beneath the headings in row 1."),
        (b"Crew,Crew name,People\na,b,3\n", "crews.csv", "Row 1 has 2 columns for “Crew”; leave one of them."),
        (b"Crew,People\n" + b"a,3\n" * 5_001, "crews.csv", "The text has 5,002 rows and 2 columns; a list has at most"),
    ],
    ids=["empty", "pdf", "broken", "model", "other headings", "no lines", "twice the same", "too long"],
)
def test_what_is_no_list_is_refused_in_words(content, filename, says):
    with pytest.raises(BadList) as refused:
        listed(content, filename)
    assert says in refused.value.detail
    assert "schedule" not in refused.value.detail
