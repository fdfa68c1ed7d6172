"""An IFC model (ISO 16739-1) → the rows of the windows in it, one an opening.

The model is parsed by a process of its own, see `building/ifc_child`. What that says is laid out as a grid with the
headings of a plain schedule, which goes the way of all schedules; its lines are called by the numbers of the entities.
"""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Mapping, Sequence
from decimal import Decimal
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from openings.errors import BadSchedule
from openings.schedules.building.marks import distinct_marks, operations_of_marks
from openings.schedules.building.sizes import Said, agreed, choices, in_texts, measured
from openings.schedules.building.words import is_rooflight, operation_in, remarks_of
from openings.schedules.file.kinds import MODEL
from openings.schedules.grid import Cell, Grid, Refused, spans
from openings.schedules.layout import Layout
from openings.schedules.lines.body import MAX_ROWS
from openings.schedules.reading import read_grids
from openings.schedules.rows import MAX_MARK_LETTERS, ScheduleRead

PATIENCE_S = 120

READ_AS = {
    "IFC2X3": "IFC2X3",
    **dict.fromkeys(("IFC4", "IFC4_ADD1", "IFC4_ADD2", "IFC4_ADD2_TC1"), "IFC4"),
    **dict.fromkeys(("IFC4X1", "IFC4X2", "IFC4X3", "IFC4X3_TC1", "IFC4X3_ADD1", "IFC4X3_ADD2"), "IFC4X3_ADD2"),
}
"""Schemas whose windows are read, and the one by which the library reads each: windows are alike in them."""

_CHILD = Path(__file__).parent / "building" / "ifc_child.py"
_PASSED_ON = ("PATH", "HOME", "LANG", "TMPDIR", "LD_LIBRARY_PATH", "PYTHONPATH", "SYSTEMROOT")
"""A file from outside must not get at the secrets among the rest."""

_HEADER_BYTES = 20_000
_SCHEMA = re.compile(rb"FILE_SCHEMA\s*\(\s*\(\s*'([^']*)'", re.IGNORECASE)
_END, _END_BYTES = b"END-ISO-10303-21;", 2_000
_AGAIN = "export the model again"

_OPERATIONS = {
    "SIDEHUNGRIGHTHAND": "casement",
    "SIDEHUNGLEFTHAND": "casement",
    "TILTANDTURNRIGHTHAND": "tilt and turn",
    "TILTANDTURNLEFTHAND": "tilt and turn",
    "TOPHUNG": "awning",
    "BOTTOMHUNG": "hopper",
    "PIVOTHORIZONTAL": "pivot",
    "PIVOTVERTICAL": "pivot",
    "SLIDINGHORIZONTAL": "sliding",
    "SLIDINGVERTICAL": "vertical sliding",
    "REMOVABLECASEMENT": "removable casement",
    "FIXEDCASEMENT": "fixed",
}
"""IfcWindowPanelOperationEnum (ISO 16739-1) in the words of the trade; what says nothing is left out."""


def read_model(content: bytes, *, settled: Layout, remembered: Mapping[str, Layout]) -> ScheduleRead:
    """Return the windows of an IFC model as rows.

    Raises:
        BadSchedule: the optional extra is not installed, the file is damaged, of another schema or too hard to
            read, or there is no window in it.
    """
    if find_spec("ifcopenshell") is None:
        raise BadSchedule(
            "IFC models are read by the optional extra `ifc`; install it with pip install '.[ifc]', or upload the "
            "schedule as .xlsx, .csv or COBie."
        )
    grid = model_grid(_parsed(checked(content)))
    return read_grids([grid], settled=settled, remembered=remembered, kind=MODEL)


def checked(content: bytes) -> bytes:
    """Return a model that has a beginning and an end, under the name of a schema that the library knows.

    Raises:
        BadSchedule: it has not; the sentence says what to do.
    """
    schema = _SCHEMA.search(content, 0, _HEADER_BYTES)
    if schema is None:
        raise BadSchedule(f"The file does not say which IFC schema it follows (FILE_SCHEMA); {_AGAIN} as .ifc.")
    name = schema[1].decode("ascii", "replace").strip()[:40]
    known = READ_AS.get(name.upper())
    if known is None:
        raise BadSchedule(f"The model follows the schema “{name}”; IFC2X3, IFC4 and IFC4X3 are read; {_AGAIN} as one.")
    if _END not in content[-_END_BYTES:]:
        raise BadSchedule(f"The model breaks off: its last line ({_END.decode()}) is missing. Upload it again whole.")
    return content[: schema.start(1)] + known.encode() + content[schema.end(1) :]


def model_grid(said: Mapping[str, Any]) -> Grid:
    """Return the windows that the child found as a schedule with plain headings.

    Raises:
        BadSchedule: the child gave up, or there is no window.
    """
    if refused := said.get("refused"):
        what = "takes more memory than it may" if refused == "memory" else f"is damaged ({refused})"
        raise BadSchedule(f"The model {what}; {_AGAIN}, with the windows and the walls they stand in alone.")
    windows: Sequence[Mapping[str, Any]] = said["windows"]
    if not windows:
        raise BadSchedule(_no_windows(said["others"]))
    if len(windows) > MAX_ROWS:
        raise BadSchedule(f"The model has more than {MAX_ROWS:,} windows; upload it in parts, such as story by story.")
    metres = None if said["metres"] is None else _decimal(said["metres"])
    sizes = [_sizes_of(window, metres=metres) for window in windows]
    cells = [agreed(one) for one in sizes]
    marks, sized = distinct_marks([_mark_of(window) for window in windows], sizes)
    operations, joined = operations_of_marks(marks, [_operation_of(window) for window in windows])
    columns: dict[str, list[Cell]] = {"Mark": marks, "Unit Size": cells}
    roughs = [_pair("the properties", window["rough"], metres=metres) for window in windows]
    if any(roughs):
        columns["Rough Opening"] = [agreed(one) for one in roughs]
    columns |= {
        "Operation": list(operations),
        "Floor": [_floor_of(window) for window in windows],
        "Remarks": [_remarks_of(window) for window in windows],
        **choices(sizes, cells),
    }
    return Grid(
        lines=[list(columns), *(list(line) for line in zip(*columns.values(), strict=True))],
        name="IfcWindow",
        row_numbers=(0, *(window["id"] for window in windows)),
        notes=(*_notes(said, sizes), *sized, *joined),
    )


def _sizes_of(window: Mapping[str, Any], *, metres: Decimal | None) -> list[Said]:
    stated = _pair("the attributes", window["overall"], metres=metres)
    counted = _pair("the quantities", window["quantities"], metres=metres)
    return [*(stated or counted), *in_texts("the name", window["texts"])]


def _pair(by: str, sides: Sequence[float | None], *, metres: Decimal | None) -> list[Said]:
    width, height = sides
    return [measured(by, _decimal(width), _decimal(height), metres=metres)] if width and height else []


def _decimal(number: float) -> Decimal:
    return Decimal(repr(number))


def _mark_of(window: Mapping[str, Any]) -> Cell:
    """Return the type mark, failing that the reference or name of the type; the first that is no longer than a mark."""
    if why := window["lacks"].get("mark"):
        return _lost(why, "what gives the window its type and its mark")
    names: list[str] = [window[part].strip() for part in ("type_mark", "reference", "type_name", "object_type", "name")]
    given = [name for name in names if name] or [f"#{window['id']}"]
    short = [part.strip() for name in given for part in (name, name.rpartition(":")[2])]
    return next((name for name in short if 0 < len(name) <= MAX_MARK_LETTERS), given[0])


def _floor_of(window: Mapping[str, Any]) -> Cell:
    if not window["storey"] and (why := window["lacks"].get("floor")):
        return _lost(why, "what says on which floor the window is")
    return str(window["storey"])


def _lost(why: str, what: str) -> Refused:
    return Refused(shown="", detail=f"{why}, which is not in the file, so {what} is lost; {_AGAIN}")


def _operation_of(window: Mapping[str, Any]) -> str:
    panels = dict.fromkeys(_OPERATIONS[panel] for panel in window["panels"] if panel in _OPERATIONS)
    return ", ".join(panels) or _operation_named(window)


def _operation_named(window: Mapping[str, Any]) -> str:
    return next(filter(None, map(operation_in, [*window["texts"], window["reference"]])), "")


def _remarks_of(window: Mapping[str, Any]) -> str:
    rooflight = "skylight" if _is_rooflight(window) else ""
    own_mark = f"Mark {window['own_mark']}" if window["own_mark"] else ""
    return remarks_of(
        rooflight, own_mark, window["name"], f"GlobalId {window['global_id']}" if window["global_id"] else ""
    )


def _is_rooflight(window: Mapping[str, Any]) -> bool:
    return window["is_rooflight"] or any(map(is_rooflight, [*window["texts"], window["reference"]]))


def _notes(said: Mapping[str, Any], sizes: Sequence[Sequence[Said]]) -> list[str]:
    windows = said["windows"]
    by = Counter(one[0].by for one in sizes if one)
    notes = [
        "Every window of the model is one opening; its row is the number of its entity. Its overall width and "
        "height are read as the unit."
    ]
    if by["the name"]:
        notes.append(f"The size of {by['the name']} windows is only in a name and was read from there.")
    if by["the quantities"]:
        notes.append(f"The size of {by['the quantities']} windows was taken from their base quantities.")
    if said["metres"] is None:
        notes.append("The model does not say in which unit its lengths are.")
    if named := sum(not any(panel in _OPERATIONS for panel in window["panels"]) for window in windows):
        notes.append(f"The panels of {named} windows say no operation, so it was read from their names where these do.")
    if rooflights := sorted(window["id"] for window in windows if _is_rooflight(window)):
        notes.append(f"Skylights, which are in a roof and not in a wall: {spans(rooflights)}.")
    if broken := said["broken"]:
        maker, name, target = broken[0]
        notes.append(
            f"The model is damaged: {len(broken)} references lead to nothing, such as #{target} in #{maker} ({name}). "
            f"Windows or what is known of them may be missing; {_AGAIN}."
        )
    return notes


def _no_windows(others: Mapping[str, int]) -> str:
    found = ", ".join(f"{count} {name}" for name, count in Counter(others).most_common(5))
    return (
        f"The model has no window (IfcWindow); {f'it has {found}' if found else 'nor any other element'}. "
        "Upload the architect's model, exported with its windows, or the schedule as .xlsx, .csv or COBie."
    )


def _parsed(content: bytes) -> dict[str, Any]:
    """Return the values of a model's windows, read by a process of its own."""
    with tempfile.TemporaryDirectory(prefix="weatherlap-") as folder:
        path = Path(folder) / "model.ifc"
        path.write_bytes(content)
        try:
            done = subprocess.run(  # noqa: S603 (our own words)
                [sys.executable, "-P", str(_CHILD), str(path)],
                stdin=subprocess.DEVNULL,
                capture_output=True,
                timeout=PATIENCE_S,
                check=False,
                cwd=folder,
                env={
                    **{name: os.environ[name] for name in _PASSED_ON if name in os.environ},
                    "OPENBLAS_NUM_THREADS": "1",
                },
            )
        except subprocess.TimeoutExpired as error:
            raise BadSchedule(
                f"Reading the model took longer than {PATIENCE_S} s; {_AGAIN}, with the windows and the walls alone."
            ) from error
    try:
        said: dict[str, Any] = json.loads(done.stdout)
    except ValueError as error:
        raise BadSchedule(
            f"The reader of models broke down over this one (exit {done.returncode}); the model is damaged or too "
            f"large. {_AGAIN.capitalize()}, with the windows and the walls they stand in alone."
        ) from error
    return said
