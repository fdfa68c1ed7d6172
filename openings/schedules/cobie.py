"""A COBie workbook → the windows among its components, as a schedule with plain headings.

Names of sheets and columns: COBie as in NBIMS-US V3, chapter 4.2, and BS 1192-4. Older ones say ExternalObject for
ExtObject. A cell that does not apply holds n/a.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation

from openings.errors import BadSchedule
from openings.schedules.building.marks import distinct_marks, operations_of_marks
from openings.schedules.building.sizes import Said, agreed, choices, in_texts, measured
from openings.schedules.building.words import is_rooflight, operation_in, remarks_of
from openings.schedules.grid import Cell, Grid, spans
from openings.schedules.lines.cells import shown

_NEEDED = ("type", "component")
_SEARCHED_LINES = 10
_BLANK = {"", "n/a", "na", "-", "0"}
_EXT_OBJECT = ("extobject", "externalobject", "exttypeobject", "externaltypeobject")
_EXT_IDENTIFIER = ("extidentifier", "externalidentifier", "exttypeidentifier", "externaltypeidentifier")

_METRES = {
    **dict.fromkeys(("meter", "metre", "m"), Decimal(1)),
    **dict.fromkeys(("centimeter", "centimetre", "cm"), Decimal("0.01")),
    **dict.fromkeys(("millimeter", "millimetre", "mm"), Decimal("0.001")),
    **dict.fromkeys(("inch", "inche", "in"), Decimal("0.0254")),
    **dict.fromkeys(("foot", "feet", "ft"), Decimal("0.3048")),
}
"""LinearUnits of the Facility sheet, without the s of the plural. Inch and foot: NIST Handbook 44, Appendix C."""

_OMNICLASS = re.compile(r"23[-. ]\d\d")
_OMNICLASS_WINDOW = re.compile(r"23[-. ]30[. ]20(?![. ]11(?!\d))")
"""OmniClass Table 23 (as in the pick lists of COBie workbooks): 23-30 20 are windows; 11 in it are their components."""
_NAMED_WINDOW = re.compile(
    r"\b(?:windows?|sky ?lights?|roof ?lights?)(?: units?)?(?: type)?(?:[ _-]+(?:[a-z]|\d{1,9}))*$", re.IGNORECASE
)
_FOR_WINDOWS = re.compile(r"\b(?:for|of|to) windows?\b", re.IGNORECASE)


def is_cobie(names: Collection[str]) -> bool:
    """Return whether a workbook with sheets of these names is one of COBie."""
    return set(_NEEDED) <= {name.strip().casefold() for name in names}


def cobie_grid(grids: Sequence[Grid]) -> Grid:
    """Return the windows of a COBie workbook, one line for each; lines are called by the rows of its Component sheet.

    Raises:
        BadSchedule: a column that is needed is missing, or no component is a window.
    """
    sheets = {grid.name.strip().casefold(): grid for grid in grids}
    records = {name: _records(sheets[name], name=name) for name in sheets if name in _COLUMNS}
    components = records.get("component", [])
    types = {record.text("name").casefold(): record for record in records.get("type", [])}
    floors = {record.text("name").casefold(): record.text("floorname") for record in records.get("space", [])}
    pairs = [(component, types.get(component.text("typename").casefold(), _NOTHING)) for component in components]
    windows = [(component, kind) for component, kind in pairs if _is_window(component, kind)]
    if not windows:
        raise BadSchedule(_no_windows(pairs))
    unit, metres = _linear_unit(records.get("facility", []))
    sizes = [_sizes_of(component, kind, metres=metres) for component, kind in windows]
    cells = [agreed(one) for one in sizes]
    places = [_floors_of(component, floors) for component, _ in windows]
    marks, sized = distinct_marks([_mark_of(component) for component, _ in windows], sizes)
    operations, joined = operations_of_marks(marks, [_operation_of(component, kind) for component, kind in windows])
    columns: dict[str, list[Cell]] = {
        "Mark": marks,
        "Unit Size": cells,
        "Operation": list(operations),
        "Floor": [next(iter(place), "") for place in places],
        "Remarks": [_remarks_of(component, kind) for component, kind in windows],
        **choices(sizes, cells),
    }
    return Grid(
        lines=[list(columns), *(list(line) for line in zip(*columns.values(), strict=True))],
        name=sheets["component"].name,
        row_numbers=(0, *(component.row for component, _ in windows)),
        notes=(
            *_notes(windows, sizes, places, unit=unit, metres=metres, others=len(components) - len(windows)),
            *sized,
            *joined,
        ),
    )


_COLUMNS = {"component": ("name", "typename"), "type": ("name",), "space": ("name", "floorname"), "facility": ("name",)}
"""The sheets that are read, and the columns that each must have."""


@dataclass(frozen=True, slots=True)
class _Record:
    """A row of a COBie sheet by the names of its columns, in small letters without anything between."""

    row: int
    cells: Mapping[str, Cell]

    def text(self, *names: str) -> str:
        """Return the text of the first of these columns; nothing where that does not apply."""
        for name in names:
            text = " ".join(shown(self.cells.get(name, "")).split())
            if text.casefold() not in _BLANK:
                return text
        return ""

    def number(self, name: str) -> Decimal | None:
        """Return a measure above 0."""
        try:
            number = Decimal(self.text(name))
        except InvalidOperation:
            return None
        return number if number.is_finite() and number > 0 else None


_NOTHING = _Record(row=0, cells={})

_Windows = Sequence[tuple[_Record, _Record]]
"""Components, each with its type."""


def _records(grid: Grid, *, name: str) -> list[_Record]:
    needed = _COLUMNS[name]
    for number, line in enumerate(grid.lines[:_SEARCHED_LINES]):
        heads = [re.sub(r"[^a-z]", "", shown(cell).casefold()) for cell in line]
        if set(needed) <= set(heads):
            rows = enumerate(grid.lines[number + 1 :], start=number + 2)
            return [_Record(row, dict(zip(heads, cells, strict=False))) for row, cells in rows if any(cells)]
    raise BadSchedule(
        f"The sheet “{grid.name}” of the COBie workbook lacks the columns {' and '.join(needed)} in its first row; "
        "export it again, or upload the schedule as a plain .xlsx."
    )


def _is_window(component: _Record, kind: _Record) -> bool:
    """Return whether a component is a window: by its class in a model, failing that by category, else by name."""
    classes = [record.text(*_EXT_OBJECT).casefold() for record in (component, kind)]
    classes = [name for name in classes if name.startswith("ifc")]
    if classes:
        return classes[0].startswith("ifcwindow")
    category = kind.text("category")
    if category:
        return _is_window_category(category)
    return any(_NAMED_WINDOW.search(name) for name in (component.text("typename"), component.text("name")))


def _is_window_category(category: str) -> bool:
    if _OMNICLASS.match(category):
        return _OMNICLASS_WINDOW.match(category) is not None
    return _NAMED_WINDOW.search(category) is not None and not _FOR_WINDOWS.search(category)


def _no_windows(pairs: _Windows) -> str:
    classes = Counter(component.text(*_EXT_OBJECT) or kind.text("category") or "not said" for component, kind in pairs)
    found = ", ".join(f"{count} {name}" for name, count in classes.most_common(5))
    return (
        f"None of the {len(pairs)} components of the COBie workbook is a window (ExtObject IfcWindow, or a category of "
        f"windows){f'; they are {found}' if found else ''}. Upload the workbook of the building, or the schedule as a "
        "plain .xlsx."
    )


def _linear_unit(facilities: Sequence[_Record]) -> tuple[str, Decimal | None]:
    text = next((record.text("linearunits") for record in facilities), "")
    return text, _METRES.get(text.casefold().strip(" .").rstrip("s"))


def _sizes_of(component: _Record, kind: _Record, *, metres: Decimal | None) -> list[Said]:
    """Return the sizes given for a window, the plainest first.

    NominalWidth is its width and NominalHeight its height; but many write the width as NominalLength, and some then
    the depth as NominalWidth. A text that gives the size tells which it is.
    """
    height = kind.number("nominalheight")
    sides = {name: kind.number(name.casefold()) for name in ("NominalWidth", "NominalLength")}
    measures = [
        measured(f"the {name}", width, height, metres=metres) for name, width in sides.items() if width and height
    ]
    texts = in_texts(
        "the description",
        [
            component.text("description"),
            kind.text("description"),
            kind.text("name"),
            component.text("name"),
            kind.text("size"),
        ],
    )
    if texts and len(measures) > 1:
        fitting = [one for one in measures if isinstance(agreed([one, *texts]), str)]
        measures = fitting or measures
    return [*measures, *texts]


def _mark_of(component: _Record) -> str:
    """Return the tag that the drawings give the component, failing that its type."""
    return component.text("tagnumber") or component.text("typename") or component.text("name")


def _operation_of(component: _Record, kind: _Record) -> str:
    texts = (component.text("description"), kind.text("description"), kind.text("category"), kind.text("name"))
    return next(filter(None, map(operation_in, texts)), "")


def _floors_of(component: _Record, floors: Mapping[str, str]) -> tuple[str, ...]:
    """Return the floors of the spaces that a component belongs to, without repeats."""
    names = (name.strip().casefold() for name in component.text("space").split(","))
    return tuple(dict.fromkeys(floor for name in names if (floor := floors.get(name, ""))))


def _remarks_of(component: _Record, kind: _Record) -> str:
    spaces, identifier = component.text("space"), component.text(*_EXT_IDENTIFIER)
    return remarks_of(
        "skylight" if _is_rooflight(component, kind) else "",
        component.text("name"),
        f"Space {spaces}" if spaces else "",
        f"GlobalId {identifier}" if identifier else "",
    )


def _is_rooflight(component: _Record, kind: _Record) -> bool:
    texts = (component.text("name"), component.text("description"), kind.text("name"), kind.text("category"))
    return any(map(is_rooflight, texts))


def _notes(
    windows: _Windows,
    sizes: Sequence[Sequence[Said]],
    places: Sequence[tuple[str, ...]],
    *,
    unit: str,
    metres: Decimal | None,
    others: int,
) -> Iterator[str]:
    yield (
        f"The workbook is one of COBie: {len(windows)} of its components are windows, each one opening; the other "
        f"{others} were skipped. Nominal sizes are read as the unit."
    )
    if metres is None:
        said = f"says LinearUnits “{unit}”, which is not a unit known here" if unit else "says no LinearUnits"
        yield f"The Facility sheet {said}, so nominal sizes have no unit."
    by = {
        name: [row.row for (row, _), one in zip(windows, sizes, strict=True) if one and one[0].by == name]
        for name in (_TEXT, _LENGTH)
    }
    if by[_TEXT]:
        yield f"The size is only in a description and was read from there: row {spans(by[_TEXT])}."
    if by[_LENGTH]:
        yield f"NominalLength was read as the width: row {spans(by[_LENGTH])}."
    if lost := [component.row for component, kind in windows if kind is _NOTHING]:
        yield f"The Type sheet lacks the type that is named: row {spans(lost)}."
    if several := [row.row for (row, _), place in zip(windows, places, strict=True) if len(place) > 1]:
        yield f"The spaces lie on several floors, of which the first was taken: row {spans(several)}."
    if rooflights := [component.row for component, kind in windows if _is_rooflight(component, kind)]:
        yield f"Skylights, which are in a roof and not in a wall: row {spans(rooflights)}."


_TEXT, _LENGTH = "the description", "the NominalLength"
