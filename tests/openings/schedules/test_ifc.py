"""Windows of IFC models. The models are invented; the standard is ISO 16739-1, for IFC 2x3 its own documentation."""

from __future__ import annotations

import importlib.util
import subprocess
from pathlib import Path
from typing import Any

import ifcopenshell
import pytest

from openings.errors import BadSchedule
from openings.schedules import Layout, Meaning, ifc
from openings.schedules.building.ifc_child import what_windows_say
from openings.schedules.grid import Grid, Refused
from openings.schedules.layout import ColumnAnswer
from tests.openings.schedules.ifc_models import (
    FOURTH,
    METRE,
    described,
    guid,
    held,
    length_property,
    model,
    property_set,
    text_property,
    typed,
    window,
)

FOOT = "IFCCONVERSIONBASEDUNIT(#6,.LENGTHUNIT.,'FOOT',#110)"
INCH = "IFCCONVERSIONBASEDUNIT(#6,.LENGTHUNIT.,'INCH',#110)"
EXACT_FOOT = "IFCMEASUREWITHUNIT(IFCLENGTHMEASURE(0.3048),#120)"
EXACT_INCH = "IFCMEASUREWITHUNIT(IFCLENGTHMEASURE(0.0254),#120)"


def grid_of(text: str) -> Grid:
    return ifc.model_grid(what_windows_say(ifcopenshell.file.from_string(text), content=text.encode()))


def lines_of(grid: Grid) -> list[dict[str, Any]]:
    heads, *lines = grid.lines
    return [dict(zip(heads, line, strict=True)) for line in lines]


def only_line(text: str) -> dict[str, Any]:
    (line,) = lines_of(grid_of(text))
    return line


def imperial(unit: str, exact: str, one: str) -> str:
    """Return a model whose unit is made by conversion: #101 is the window, #110 the factor, #120 the metre."""
    entities = [one, *["IFCCARTESIANPOINT((0.,0.))"] * 8, exact, *["IFCCARTESIANPOINT((0.,0.))"] * 9, METRE]
    return model(entities, unit=unit)


@pytest.mark.parametrize(
    ("text", "size"),
    [
        # IFC 2x3 TC1, IfcWindow: attribute 9 is OverallHeight, 10 OverallWidth.
        pytest.param(model([window(1, height="1200.", width="900.")]), "900 x 1200 mm", id="height-stands-first"),
        # ISO 16739-1, IfcWindow: the same two, then PredefinedType, PartitioningType, UserDefinedPartitioningType.
        pytest.param(model([window(1, more=FOURTH)], schema="IFC4"), "900 x 1200 mm", id="ifc4"),
        pytest.param(model([window(1, more=FOURTH)], schema="IFC4X3_ADD2"), "900 x 1200 mm", id="ifc4x3"),
        # ISO 16739-1, IfcSIUnit: without a prefix the unit itself. The noise is that of check values 11.4.
        pytest.param(
            model([window(1, height="2.409999999999996", width="2.8")], unit=METRE),
            "2800 x 2410 mm",
            id="metres-with-noise",
        ),
        # ISO 16739-1, IfcConversionBasedUnit; foot and inch: NIST Handbook 44, Appendix C.
        pytest.param(
            imperial(FOOT, EXACT_FOOT, window(1, height="4.666666667", width="3.041666667")), '36.5" x 56"', id="feet"
        ),
        pytest.param(
            imperial(INCH, EXACT_INCH, window(1, height="54.", width="36.03125")), '36.03125" x 54"', id="inches"
        ),
        pytest.param(model([window(1)], unit=None), "900 x 1200", id="no-unit-named"),
        # check values 11.4: a writer without a size leaves it out ($) or puts 0; the name may still give it.
        pytest.param(model([window(1, height="$", width="$")]), "", id="sizes-left-out"),
        pytest.param(model([window(1, height="0.", width="0.")]), "", id="sizes-zero"),
        pytest.param(
            model([window(1, name="Fixed:0915 x 1830mm", height="$", width="$")]),
            "915 x 1830 mm",
            id="only-in-the-name",
        ),
        pytest.param(
            model([window(1, name="Fixed:0915 x 1830mm", height="1.83", width="0.915")], unit=METRE),
            "915 x 1830 mm",
            id="name-agrees",
        ),
        pytest.param(
            model([window(1, name="Fixed:900 x 1200mm", height="1211.", width="908.")]),
            "908 x 1211 mm",
            id="within-1-pct",
        ),
    ],
)
def test_size(text: str, size: str) -> None:
    assert only_line(text)["Unit Size"] == size


def test_sizes_that_disagree_are_refused_with_both_readings() -> None:
    # check values 11.4: a model whose name says 1180 x 1170 and whose attributes H .6348, W 1.1725.
    text = model([window(1, name="Sky:1180 x 1170mm", height="0.6348", width="1.1725"), window(2)], unit=METRE)
    line, _ = lines_of(grid_of(text))
    assert isinstance(line["Unit Size"], Refused)
    assert "1172.5 x 634.8 mm by the attributes but 1180 x 1170 mm by the name" in line["Unit Size"].detail
    assert (line["By attributes"], line["By name"]) == ("1172.5 x 634.8 mm", "1180 x 1170 mm")


def test_base_quantities_stand_in_for_attributes() -> None:
    # ISO 16739-1, Qto_WindowBaseQuantities: Width, Height.
    text = model(
        [
            window(1, height="$", width="$"),
            "IFCQUANTITYLENGTH('Width',$,$,900.)",
            "IFCQUANTITYLENGTH('Height',$,$,1200.)",
            f"IFCELEMENTQUANTITY('{guid(4)}',$,'BaseQuantities',$,$,(#102,#103))",
            described(104, 101),
        ]
    )
    assert only_line(text)["Unit Size"] == "900 x 1200 mm"


def test_rough_sizes_are_the_rough_opening() -> None:
    # Properties of that name: common practice of exports, no source.
    text = model(
        [
            window(1),
            length_property("Rough Width", "925."),
            length_property("Rough Height", "1225."),
            property_set(4, "Dimensions", 102, 103),
            described(104, 101),
        ]
    )
    assert only_line(text)["Rough Opening"] == "925 x 1225 mm"


LONG = "A very long name of a family of windows"

STYLE = f"IFCWINDOWSTYLE('{guid(2)}',$,'Style A',$,$,$,$,$,.NOTDEFINED.,.NOTDEFINED.,.F.,.F.)"


@pytest.mark.parametrize(
    ("entities", "mark"),
    [
        # Type mark: common practice of exports, no source.
        pytest.param(
            [window(1), text_property("Type Mark", "W3"), property_set(3, "Data", 102), described(103, 101)],
            "W3",
            id="type-mark",
        ),
        # ISO 16739-1, Pset_WindowCommon: Reference, the reference of the type in the project (such as A-1).
        pytest.param(
            [
                window(1),
                text_property("Reference", "A-1"),
                property_set(3, "Pset_WindowCommon", 102),
                described(103, 101),
            ],
            "A-1",
            id="reference",
        ),
        pytest.param(
            [window(1), text_property("Type Mark", "Type Mark"), property_set(3, "Data", 102), described(103, 101)],
            "Window",
            id="a-placeholder-is-no-mark",
        ),
        pytest.param([window(1), STYLE, typed(102, 101)], "Style A", id="name-of-the-type"),
        pytest.param([window(1, name=f"{LONG} and more:W7")], "W7", id="end-of-a-name-too-long-for-a-mark"),
        pytest.param([window(1, name="")], "#101", id="nothing-but-the-number-of-the-entity"),
    ],
)
def test_mark(entities: list[str], mark: str) -> None:
    assert only_line(model(entities))["Mark"] == mark


def test_a_mark_of_several_sizes_is_told_apart() -> None:
    grid = grid_of(model([window(1), window(2), window(3, width="600."), window(4, name="Other")]))
    assert [line["Mark"] for line in lines_of(grid)] == [
        "Window 900 x 1200 mm",
        "Window 900 x 1200 mm",
        "Window 600 x 1200 mm",
        "Other",
    ]
    note = "The size was added to marks that stand for several sizes: “Window” (900 x 1200 mm, 600 x 1200 mm)."
    assert note in grid.notes


def test_floor_is_the_storey_that_holds_the_window_or_its_wall() -> None:
    # ISO 16739-1: IfcRelContainedInSpatialStructure; IfcRelFillsElement and IfcRelVoidsElement lead to the wall.
    text = model(
        [
            window(1),
            window(2),
            window(3),
            held(3, 101),
            f"IFCWALL('{guid(10)}',$,'Wall',$,$,$,$,$)",
            f"IFCOPENINGELEMENT('{guid(11)}',$,'Opening',$,$,$,$,$)",
            f"IFCRELVOIDSELEMENT('{guid(12)}',$,$,$,#105,#106)",
            f"IFCRELFILLSELEMENT('{guid(13)}',$,$,$,#106,#102)",
            held(4, 105),
        ]
    )
    grid = grid_of(text)
    assert [line["Floor"] for line in lines_of(grid)] == ["Ground Floor", "First Floor", ""]
    assert grid.row_numbers[1:] == (101, 102, 103)


def test_parts_that_hold_each_other_have_no_floor() -> None:
    assert only_line(model([window(1), f"IFCRELAGGREGATES('{guid(2)}',$,$,$,#101,(#101))"]))["Floor"] == ""


PANEL = "IFCWINDOWPANELPROPERTIES('{guid}',$,'Panel',$,.{operation}.,.MIDDLE.,$,$,$)"


@pytest.mark.parametrize(
    ("operation", "name", "word"),
    [
        # ISO 16739-1, IfcWindowPanelOperationEnum; the words of the trade are from memory.
        pytest.param("SIDEHUNGLEFTHAND", "Window", "casement", id="side-hung"),
        pytest.param("TOPHUNG", "Window", "awning", id="top-hung"),
        pytest.param("BOTTOMHUNG", "Window", "hopper", id="bottom-hung"),
        pytest.param("FIXEDCASEMENT", "Window", "fixed", id="fixed-casement-does-not-open"),
        pytest.param("SLIDINGHORIZONTAL", "Casement", "sliding", id="panel-before-name"),
        pytest.param("NOTDEFINED", "Double-Hung", "double hung", id="name-where-the-panel-says-nothing"),
        pytest.param("NOTDEFINED", "Window", "", id="nobody-says"),
    ],
)
def test_operation(operation: str, name: str, word: str) -> None:
    kind = f"IFCWINDOWTYPE('{guid(2)}',$,'Type A',$,$,(#103),$,$,$,.WINDOW.,.SINGLE_PANEL.,$,$)"
    panel = PANEL.format(guid=guid(3), operation=operation)
    text = model([window(1, name=name, more=FOURTH), kind, panel, typed(102, 101)], schema="IFC4")
    assert only_line(text)["Operation"] == word


def test_rooflights_are_read_and_noted() -> None:
    # ISO 16739-1, IfcWindowTypeEnum: SKYLIGHT.
    grid = grid_of(model([window(1, more=",.SKYLIGHT.,.SINGLE_PANEL.,$")], schema="IFC4"))
    assert lines_of(grid)[0]["Remarks"].startswith("skylight; ")
    assert "Skylights, which are in a roof and not in a wall: 101." in grid.notes


def test_what_a_broken_reference_takes_away_is_refused() -> None:
    grid = grid_of(model([window(1), window(2), held(77, 101), typed(88, 102)]))
    first, second = lines_of(grid)
    assert isinstance(first["Floor"], Refused)
    assert first["Floor"].detail.startswith("#103 (IfcRelContainedInSpatialStructure) refers to #77")
    assert isinstance(second["Mark"], Refused)
    assert any("2 references lead to nothing, such as #77 in #103" in note for note in grid.notes)


def test_model_without_windows_says_what_it_has() -> None:
    text = model([f"IFCDOOR('{guid(1)}',$,'Door',$,$,$,$,$,2000.,900.)"])
    with pytest.raises(BadSchedule, match=r"no window \(IfcWindow\); it has 1 IfcDoor\. Upload the architect's model"):
        grid_of(text)


WHOLE = model([window(1)])


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        pytest.param(WHOLE[:-30], r"breaks off: its last line \(END-ISO-10303-21;\) is missing", id="truncated"),
        pytest.param(model([], schema="IFC5"), "schema “IFC5”; IFC2X3, IFC4 and IFC4X3 are read", id="ifc5"),
        pytest.param(model([], schema="AP214"), "schema “AP214”", id="another-standard"),
        pytest.param("ISO-10303-21;\nDATA;\n", "does not say which IFC schema it follows", id="no-header"),
        pytest.param("\x00\x01\x02" * 1000, "does not say which IFC schema it follows", id="garbage"),
        pytest.param("<ifcXML/>", "does not say which IFC schema it follows", id="xml"),
    ],
)
def test_what_is_no_whole_model_is_refused(text: str, sentence: str) -> None:
    with pytest.raises(BadSchedule, match=sentence):
        ifc.checked(text.encode())


@pytest.mark.parametrize(
    ("schema", "known"),
    [("IFC4X3", "IFC4X3_ADD2"), ("IFC4_ADD2", "IFC4"), ("ifc2x3", "IFC2X3")],
)
def test_schemas_with_the_same_windows_are_read_alike(schema: str, known: str) -> None:
    assert f"FILE_SCHEMA(('{known}'))".encode() in ifc.checked(model([], schema=schema).encode())


def read(content: bytes) -> Any:
    return ifc.read_model(content, settled=Layout(), remembered={})


def test_model_through_its_own_process() -> None:
    text = model([window(1), window(2, name="Sky:1180 x 1170mm"), window(3, height="$", width="$"), held(3, 101)])
    found = read(text.encode())
    (row,) = found.rows
    assert (row.row, row.mark, row.quantity, row.floor) == (101, "Window", 1, "Ground Floor")
    assert row.unit_width_in * 254 / 10 == pytest.approx(900, abs=1e-3)
    assert row.unit_height_in * 254 / 10 == pytest.approx(1200, abs=1e-3)
    assert [(fault.row, fault.field) for fault in found.faults] == [(102, "Unit Size"), (103, "Unit Size")]
    assert found.questions == ()


def test_without_the_extra_it_says_how_to_install_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(ifc, "find_spec", lambda name: None)
    with pytest.raises(BadSchedule, match=r"optional extra `ifc`; install it with pip install '\.\[ifc\]', or upload"):
        read(WHOLE.encode())
    assert importlib.util.find_spec("ifcopenshell")


@pytest.mark.parametrize(
    ("program", "sentence"),
    [
        pytest.param("import os; os.abort()", "broke down over this one", id="crash"),
        pytest.param("import time; time.sleep(30)", "took longer than 0.5 s", id="too-long"),
        pytest.param('print(\'{"refused": "memory"}\')', "takes more memory than it may", id="too-large"),
    ],
)
def test_the_service_outlives_the_reader(
    program: str, sentence: str, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    child = tmp_path / "child.py"
    child.write_text(program)
    monkeypatch.setattr(ifc, "_CHILD", child)
    monkeypatch.setattr(ifc, "PATIENCE_S", 0.5 if "sleep" in program else 30)
    with pytest.raises(BadSchedule, match=sentence):
        read(WHOLE.encode())


def test_the_reader_gets_no_secrets(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SECRET_KEY", "hidden")
    given: dict[str, Any] = {}

    def run(*args: Any, **kwargs: Any) -> Any:
        given.update(kwargs)
        return subprocess.CompletedProcess(args, 0, stdout=b'{"refused": "seen"}')

    monkeypatch.setattr(subprocess, "run", run)
    with pytest.raises(BadSchedule, match="seen"):
        read(WHOLE.encode())
    assert "SECRET_KEY" not in given["env"]


@pytest.fixture
def _in_this_process(monkeypatch: pytest.MonkeyPatch) -> None:
    def parsed(content: bytes) -> dict[str, Any]:
        return what_windows_say(ifcopenshell.file.from_string(content.decode()), content=content)

    monkeypatch.setattr(ifc, "_parsed", parsed)


@pytest.mark.usefixtures("_in_this_process")
@pytest.mark.parametrize(("column", "width_mm"), [("By attributes", 900), ("By name", 1180)])
def test_a_person_settles_which_size_holds(column: str, width_mm: int) -> None:
    text = model([window(1, name="Sky:1180 x 1170mm"), window(2)])
    layout = Layout(columns={"Unit Size": ColumnAnswer(meaning=None), column: ColumnAnswer(meaning=Meaning.UNIT_SIZE)})
    found = ifc.read_model(text.encode(), settled=layout, remembered={})
    assert found.faults == ()
    first, second = found.rows
    assert float(first.unit_width_in or 0) == pytest.approx(width_mm / 25.4, abs=1e-4)
    assert float(second.unit_width_in or 0) == pytest.approx(900 / 25.4, abs=1e-4)


@pytest.mark.usefixtures("_in_this_process")
def test_a_model_that_names_no_unit_is_asked_about() -> None:
    found = read(model([window(1)], unit=None).encode())
    assert [question.field for question in found.questions] == ["columns.B.unit"]
