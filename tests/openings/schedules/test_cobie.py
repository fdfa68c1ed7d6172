"""Windows of COBie workbooks. The workbooks are invented; the standard is COBie in NBIMS-US V3, chapter 4.2."""

from __future__ import annotations

import io
from collections.abc import Mapping, Sequence
from typing import Any

import pytest
from openpyxl import Workbook

from openings.errors import BadSchedule
from openings.schedules import read_schedule
from openings.schedules.cobie import cobie_grid, is_cobie
from openings.schedules.grid import Grid, Refused

Line = Sequence[Any]

TYPE = ("Name", "Category", "Description", "ExtObject", "NominalLength", "NominalWidth", "NominalHeight")
COMPONENT = ("Name", "TypeName", "Space", "Description", "ExtObject", "ExtIdentifier", "TagNumber")
FIXED_WINDOWS = "23-30 20 17 11: Fixed Windows"
SPACES = (("Name", "FloorName"), ("101", "Level 1"), ("102", "Level 1"), ("201", "Level 2"))


def kind(
    name: str = "Type A",
    *,
    category: str = FIXED_WINDOWS,
    says: str = "n/a",
    ext: str = "IfcWindowType",
    sizes: Line = (0, 0.9, 1.2),
) -> Line:
    return (name, category, says, ext, *sizes)


def component(
    name: str = "Type A-1",
    *,
    of: str = "Type A",
    space: str = "101",
    says: str = "n/a",
    ext: str = "IfcWindow",
    tag: str = "n/a",
) -> Line:
    return (name, of, space, says, ext, "0Invented", tag)


def sheets(
    components: Sequence[Line] = (component(),), types: Sequence[Line] = (kind(),), unit: str = "meters"
) -> dict[str, Sequence[Line]]:
    return {
        "Facility": [("Name", "LinearUnits"), ("Invented house", unit)],
        "Space": SPACES,
        "Type": [TYPE, *types],
        "Component": [COMPONENT, *components],
    }


def grid_of(tables: Mapping[str, Sequence[Line]]) -> Grid:
    return cobie_grid([Grid(name=name, lines=[list(line) for line in lines]) for name, lines in tables.items()])


def lines_of(tables: Mapping[str, Sequence[Line]]) -> list[dict[str, Any]]:
    heads, *lines = grid_of(tables).lines
    return [dict(zip(heads, line, strict=True)) for line in lines]


@pytest.mark.parametrize(
    ("names", "expected"),
    [
        (["Contact", "Type", "Component"], True),
        (["TYPE", " component "], True),
        (["Type", "Windows"], False),
        (["Component"], False),
    ],
)
def test_a_workbook_of_types_and_components_is_cobie(names: list[str], expected: bool) -> None:
    assert is_cobie(names) is expected


@pytest.mark.parametrize(
    ("tables", "size"),
    [
        pytest.param(sheets(), "900 x 1200 mm", id="nominal-width-and-height-in-meters"),
        pytest.param(sheets(types=[kind(sizes=(0, 900, 1200))], unit="millimeters"), "900 x 1200 mm", id="millimeters"),
        # Inch and foot: NIST Handbook 44, Appendix C.
        pytest.param(sheets(types=[kind(sizes=(0, 36.5, 54))], unit="inches"), '36.5" x 54"', id="inches"),
        pytest.param(sheets(types=[kind(sizes=(0, 3, 4.5))], unit="Feet"), '36" x 54"', id="feet"),
        # check values 11.4: in real workbooks the nominal sizes are mostly 0 and only a text has the size.
        pytest.param(
            sheets(types=[kind(says="Fixed:2800mm x 2410mm", sizes=(0, 0, 0))]),
            "2800 x 2410 mm",
            id="only-in-a-text",
        ),
        pytest.param(sheets(types=[kind(sizes=("n/a", "n/a", "n/a"))]), "", id="not-applicable"),
        # Width as NominalLength: seen in the workbook of check values 11.4.
        pytest.param(sheets(types=[kind(sizes=(0.819, 0, 0.759))]), "819 x 759 mm", id="length-is-the-width"),
        pytest.param(
            sheets(types=[kind(says="0819 x 0759mm", sizes=(0.819, 0.1, 0.759))]),
            "819 x 759 mm",
            id="text-tells-width-from-depth",
        ),
        pytest.param(sheets(types=[kind(sizes=(0, 0.9, 1.2))], unit="n/a"), "0.9 x 1.2", id="no-unit-named"),
    ],
)
def test_size(tables: dict[str, Sequence[Line]], size: str) -> None:
    assert lines_of(tables)[0]["Unit Size"] == size


@pytest.mark.parametrize(
    ("types", "readings"),
    [
        pytest.param(
            [kind(says="Fixed:1000mm x 1200mm")],
            ["900 x 1200 mm by the NominalWidth", "1000 x 1200 mm by the description"],
            id="text-against-measures",
        ),
        pytest.param(
            [kind(sizes=(0.9, 0.1, 1.2))],
            ["100 x 1200 mm by the NominalWidth", "900 x 1200 mm by the NominalLength"],
            id="length-against-width",
        ),
    ],
)
def test_sizes_that_disagree_are_refused_with_both_readings(types: list[Line], readings: list[str]) -> None:
    cell = lines_of(sheets(types=types))[0]["Unit Size"]
    assert isinstance(cell, Refused)
    assert " but ".join(readings) in cell.detail


@pytest.mark.parametrize(
    ("one", "of", "is_window"),
    [
        # ISO 16739-1: IfcWindow, IfcWindowStyle (IFC 2x3), IfcWindowType.
        pytest.param(component(ext="IfcWindow"), kind(category="n/a"), True, id="class-of-the-component"),
        pytest.param(component(ext="IfcDoor"), kind(), False, id="another-class"),
        pytest.param(component(ext="n/a"), kind(category="n/a", ext="IfcWindowStyle"), True, id="class-of-the-type"),
        # OmniClass Table 23, as in the pick lists of COBie: 23-30 20 windows, 23-30 20 11 their components,
        # 23-30 40 14 hardware for windows.
        pytest.param(component(ext="n/a"), kind(ext="n/a"), True, id="omniclass-windows"),
        pytest.param(
            component(ext="n/a"),
            kind(ext="n/a", category="23-30 20 11 14: Window Linings and Boards"),
            False,
            id="omniclass-components-of-windows",
        ),
        pytest.param(
            component(ext="n/a"),
            kind(ext="n/a", category="23-30 40 14: Hardware for Windows"),
            False,
            id="omniclass-hardware",
        ),
        # Other classifications by their words: our choice.
        pytest.param(component(ext="n/a"), kind(ext="n/a", category="X_1 : Timber window units"), True, id="words"),
        pytest.param(component(ext="n/a"), kind(ext="n/a", category="X_2 : Window blinds"), False, id="other-words"),
        pytest.param(
            component(ext="n/a", of="Window Type A"),
            kind("Window Type A", ext="n/a", category="n/a"),
            True,
            id="name-alone",
        ),
        pytest.param(
            component(ext="n/a", of="Window Sill"),
            kind("Window Sill", ext="n/a", category="n/a"),
            False,
            id="other-name",
        ),
    ],
)
def test_which_components_are_windows(one: Line, of: Line, is_window: bool) -> None:
    tables = sheets([component("Sure-1", of="Sure"), one], [kind("Sure"), of])
    assert len(lines_of(tables)) == 1 + is_window


def test_line_of_a_window() -> None:
    tables = sheets(
        [
            component(says="Casement:900 x 1200mm", space="201, 101"),
            component("Door-1", of="Door", ext="IfcDoor"),
            component("Type A-2", tag="W-17"),
            component("Lost-1", of="Lost", space="999"),
        ],
    )
    first, second, lost = lines_of(tables)
    grid = grid_of(tables)
    assert (first["Mark"], first["Operation"], first["Floor"]) == ("Type A", "casement", "Level 2")
    assert first["Remarks"] == "Type A-1; Space 201, 101; GlobalId 0Invented"
    assert (second["Mark"], second["Operation"], second["Floor"]) == ("W-17", "fixed", "Level 1")
    assert (lost["Mark"], lost["Unit Size"], lost["Floor"]) == ("Lost", "", "")
    assert grid.row_numbers[1:] == (2, 4, 5)
    assert "The Type sheet lacks the type that is named: row 5." in grid.notes
    assert "The spaces lie on several floors, of which the first was taken: row 2." in grid.notes


def test_operations_of_one_type_are_named_together() -> None:
    # check values 11.4: a type of windows of which some are called fixed and some casement.
    tables = sheets([component(says="Fixed"), component("Type A-2", says="Casement")])
    assert [line["Operation"] for line in lines_of(tables)] == ["fixed, casement", "fixed, casement"]
    note = "Windows of one mark have several operations, which each row names all: “Type A” (fixed, casement)."
    assert note in grid_of(tables).notes


def test_old_names_of_columns_are_known() -> None:
    tables = sheets()
    tables["Component"] = [("Name", "TypeName", "Space", "ExternalObject"), ("A-1", "Type A", "101", "IfcWindow")]
    assert lines_of(tables)[0]["Mark"] == "Type A"


@pytest.mark.parametrize(
    ("tables", "sentence"),
    [
        pytest.param(
            sheets([component(ext="IfcDoor")]),
            r"None of the 1 components .* is a window .* they are 1 IfcDoor",
            id="no-window",
        ),
        pytest.param(sheets([]), "None of the 0 components", id="no-component"),
        pytest.param(
            {**sheets(), "Component": [("Name", "Space")]},
            "“Component” .* lacks the columns name and typename",
            id="no-column",
        ),
    ],
)
def test_what_holds_no_windows_is_refused(tables: dict[str, Sequence[Line]], sentence: str) -> None:
    with pytest.raises(BadSchedule, match=sentence):
        grid_of(tables)


def test_workbook_of_cobie_goes_the_way_of_all_schedules() -> None:
    book = Workbook()
    book.remove(book.active)
    tables = sheets(
        [component(), component("Type A-2"), component("B-1", of="B")], [kind(), kind("B", sizes=(0, 0, 0))]
    )
    for name, lines in tables.items():
        sheet = book.create_sheet(name)
        for line in lines:
            sheet.append(line)
    packed = io.BytesIO()
    book.save(packed)
    found = read_schedule(filename="handover.xlsx", content=packed.getvalue())
    assert [(row.row, row.mark, row.quantity, row.floor) for row in found.rows] == [
        (2, "Type A", 1, "Level 1"),
        (3, "Type A", 1, "Level 1"),
    ]
    assert [(fault.row, fault.field) for fault in found.faults] == [(4, "Unit Size")]
    assert found.questions == ()
