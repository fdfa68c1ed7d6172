"""How one sender lays out schedules, as far as a person settled it."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any, TypeVar

from jobs.errors import Fault
from openings.errors import BadSchedule


class Meaning(StrEnum):
    """What a column of a window schedule says."""

    MARK = "mark"
    QUANTITY = "quantity"
    RO_WIDTH = "ro_width_in"
    RO_HEIGHT = "ro_height_in"
    RO_SIZE = "ro_size"
    UNIT_WIDTH = "unit_width_in"
    UNIT_HEIGHT = "unit_height_in"
    UNIT_SIZE = "unit_size"
    OPERATION = "operation"
    FLOOR = "floor"
    DETAIL = "detail"
    REMARKS = "remarks"
    WEIGHT = "weight_lb"
    COUNT_ON_FLOOR = "count_on_floor"
    FRAME_MATERIAL = "frame_material"
    LITES = "lites_in"
    DESIGN_PRESSURE = "design_pressure_psf"
    ACCESS = "access"
    STOREYS_UP = "storeys_up"
    SILL_ABOVE_FLOOR = "sill_above_floor_in"
    SILL_ABOVE_GRADE = "sill_above_grade_in"
    CLEAR_WIDTH = "clear_width_in"
    CLEAR_HEIGHT = "clear_height_in"
    CLEAR_SILL_ABOVE_FLOOR = "clear_sill_above_floor_in"
    PANE_WIDTH = "pane_width_in"
    PANE_HEIGHT = "pane_height_in"
    IS_EGRESS = "is_egress"
    IS_GRADE_FLOOR = "is_grade_floor"
    IS_NEAR_DOOR = "is_near_door"
    IS_NEAR_WALKWAY = "is_near_walkway"
    IS_WET_AREA = "is_wet_area"


FACTS = tuple(Meaning)[tuple(Meaning).index(Meaning.FRAME_MATERIAL) :]
"""Those that a row keeps in `facts`, named as the columns of an opening."""

NOT_READ = "not read"
NOTHING = "nothing"
"""The answer that no rows are left out by what a column says."""


Choice = TypeVar("Choice", bound=StrEnum)


LONGEST_FLOOR = 200


class Marks(StrEnum):
    """How a mark such as W1-W4 is meant."""

    RANGES = "ranges"
    AS_WRITTEN = "as written"


class Totals(StrEnum):
    """What counts where a total that a file states differs from its rows."""

    ROWS_AS_READ = "rows as read"


UNITS = ("in", "ft", "mm", "cm", "m", "feet-inches", "lb", "kg")
"""What bare numbers of a column can be in; feet-inches runs both together, so that 30 is 3'-0"."""

LENGTHS = frozenset(meaning for meaning in Meaning if meaning.endswith(("_in", "_size")))


SIDES_IN = frozenset(meaning for meaning in LENGTHS if meaning.endswith("_in")) - {Meaning.LITES}
"""Lengths whose feet and inches may stand in two columns: both with this meaning, one in ft and one in in."""

WHOLE_SIZES = frozenset((Meaning.RO_SIZE, Meaning.UNIT_SIZE))
"""What has both sides in one cell, so that their order counts."""

PAIRS = (
    (Meaning.RO_WIDTH, Meaning.RO_HEIGHT, Meaning.RO_SIZE),
    (Meaning.UNIT_WIDTH, Meaning.UNIT_HEIGHT, Meaning.UNIT_SIZE),
)
SIZES = {meaning for pair in PAIRS for meaning in pair}


def units_for(meaning: Meaning | None) -> tuple[str, ...]:
    """Return the units that bare numbers of a column can be in; none where a unit says nothing."""
    if meaning in LENGTHS:
        return ("in", "ft", "feet-inches", "mm", "cm", "m")
    return ("lb", "kg") if meaning is Meaning.WEIGHT else ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ColumnAnswer:
    """What a person settled about one column.

    Args:
        meaning: None if the column is not read.
        unit: one of `UNITS`; empty leaves it to the heading.
        floor: the floor that a column of counts stands for; empty takes the heading.
        height_first: whether its sizes have height before width; None leaves it to the heading.
        leave_out: rows with one of these values in the column are left out; None if nobody said, empty for none.
    """

    meaning: Meaning | None
    unit: str = ""
    floor: str = ""
    height_first: bool | None = None
    leave_out: tuple[str, ...] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """The settled reading of a file, remembered for the next file of that sender.

    Args:
        tables: names of the tables to read (see `TableFound`), each entry one name, a sheet's name, or several names
            with a comma and a space between them; empty leaves it to the reader.
        left_out: names of the tables that were found beside them and are not read; a file that has more is asked about.
        columns: by letter, or by heading in any case and spacing, in every table that is read, or by table and letter
            (`Level 2!5:B`) for one of several; of these the last counts most and the heading least.
        marks: None leaves it to the reader.
        weights: the weights that somebody confirmed, each in the words in which it was asked about: of one mark, size
            and glass. They hold for the file they were sent with and are not remembered.
        totals: what counts where a stated total differs from the rows; it holds for this file and is not remembered.
    """

    tables: tuple[str, ...] = ()
    left_out: tuple[str, ...] = ()
    columns: Mapping[str, ColumnAnswer] = field(default_factory=dict)
    marks: Marks | None = None
    weights: tuple[str, ...] = ()
    totals: Totals | None = None

    def as_json(self) -> dict[str, Any]:
        """Return the layout as JSON values, as `layout_of` takes them."""
        columns = {
            key: {
                "meaning": says.meaning.value if says.meaning else NOT_READ,
                **({"unit": says.unit} if says.unit else {}),
                **({"floor": says.floor} if says.floor else {}),
                **({} if says.height_first is None else {"height_first": says.height_first}),
                **({} if says.leave_out is None else {"leave_out": list(says.leave_out)}),
            }
            for key, says in self.columns.items()
        }
        return {
            **({"tables": list(self.tables)} if self.tables else {}),
            **({"left_out": list(self.left_out)} if self.left_out else {}),
            **({"columns": columns} if columns else {}),
            **({"marks": self.marks.value} if self.marks else {}),
            **({"weights": list(self.weights)} if self.weights else {}),
            **({"totals": self.totals.value} if self.totals else {}),
        }


def layout_of(given: Any) -> Layout:
    """Return the layout that JSON (text or values) describes; nothing gives an empty one.

    >>> layout_of('{"columns": {"B": "mark", "Wd": {"meaning": "unit_width_in", "unit": "mm"}}}').columns["B"].meaning
    <Meaning.MARK: 'mark'>

    Raises:
        BadSchedule: it is no layout; `faults` name every field that is wrong.
    """
    if isinstance(given, str):
        try:
            given = json.loads(given or "{}")
        except (ValueError, RecursionError) as error:
            raise _bad([Fault(field="mapping", value=given[:80], detail=f"it is not JSON ({error})"[:300])]) from error
    if given is None:
        return Layout()
    if not isinstance(given, dict):
        raise _bad([Fault(field="mapping", value=str(given)[:80], detail=_RIGHT)])
    faults = [
        Fault(field=f"mapping.{key}", value=str(key)[:80], detail=f"there is no such part; {_RIGHT}")
        for key in given
        if key not in ("tables", "left_out", "columns", "marks", "totals", "weights")
    ]
    layout = Layout(
        tables=_texts(given.get("tables", ()), "tables", faults),
        left_out=_texts(given.get("left_out", ()), "left_out", faults),
        columns=_columns(given.get("columns", {}), faults),
        marks=_choice(given["marks"], Marks, "mapping.marks", faults) if given.get("marks") else None,
        weights=_texts(
            given.get("weights", ()), "weights", faults, example='["W3: 50 lb, …"], as they were asked about'
        ),
        totals=_choice(given["totals"], Totals, "mapping.totals", faults) if given.get("totals") else None,
    )
    if faults:
        raise _bad(faults)
    return layout


_RIGHT = 'give an object like {"tables": ["Windows!5"], "columns": {"B": {"meaning": "mark"}}, "marks": "ranges"}'


def _bad(faults: list[Fault]) -> BadSchedule:
    return BadSchedule("The mapping cannot be used; " + faults[0].detail, faults=faults)


def _texts(given: Any, part: str, faults: list[Fault], *, example: str = '["Windows!5"]') -> tuple[str, ...]:
    named = [given] if isinstance(given, str) else given
    if not isinstance(named, list | tuple) or not all(isinstance(name, str) for name in named):
        faults.append(Fault(field=f"mapping.{part}", value=str(given)[:80], detail=f"give names like {example}"))
        return ()
    return tuple(named)


def _columns(given: Any, faults: list[Fault]) -> dict[str, ColumnAnswer]:
    if not isinstance(given, dict):
        detail = 'give an object by column letter or heading, like {"B": "mark"}'
        faults.append(Fault(field="mapping.columns", value=str(given)[:80], detail=detail))
        return {}
    return {key: _says(said, f"mapping.columns.{key}", faults) for key, said in given.items()}


def _says(said: Any, field_name: str, faults: list[Fault]) -> ColumnAnswer:
    parts = {"meaning": said} if isinstance(said, str) or said is None else said
    if not isinstance(parts, dict) or "meaning" not in parts:
        faults.append(Fault(field=field_name, value=str(said)[:80], detail='give {"meaning": …, "unit": …}'))
        return ColumnAnswer(meaning=None)
    for key in parts:
        if key not in ("meaning", "unit", "floor", "height_first", "leave_out"):
            detail = "there is no such part; a column has meaning, unit, floor, height_first and leave_out"
            faults.append(Fault(field=f"{field_name}.{key}", value=str(parts[key])[:80], detail=detail))
    named = parts["meaning"]
    meaning = None if named in (None, NOT_READ) else _choice(named, Meaning, f"{field_name}.meaning", faults)
    unit, floor, height_first = parts.get("unit") or "", parts.get("floor") or "", parts.get("height_first")
    if unit and unit not in (known := units_for(meaning)):
        detail = f"it must be one of {', '.join(known)}" if known else "a column of that meaning has none; leave it out"
        faults.append(Fault(field=f"{field_name}.unit", value=str(unit)[:80], detail=detail))
        unit = ""
    if not isinstance(floor, str) or len(floor) > LONGEST_FLOOR:
        detail = f"it must be a text of at most {LONGEST_FLOOR} letters"
        faults.append(Fault(field=f"{field_name}.floor", value=str(floor)[:80], detail=detail))
        floor = ""
    height_first = _TRUTHS.get(height_first, height_first) if isinstance(height_first, str) else height_first
    if not isinstance(height_first, bool | None):
        faults.append(
            Fault(field=f"{field_name}.height_first", value=str(height_first)[:80], detail="it must be true or false")
        )
        height_first = None
    leave_out = _values(parts.get("leave_out"), f"{field_name}.leave_out", faults)
    return ColumnAnswer(meaning=meaning, unit=unit, floor=floor, height_first=height_first, leave_out=leave_out)


def _values(given: Any, field_name: str, faults: list[Fault]) -> tuple[str, ...] | None:
    """Return values of a column; a text is one of them, and `NOTHING` is none."""
    if given is None or given == NOTHING:
        return None if given is None else ()
    named = [given] if isinstance(given, str) else given
    if not isinstance(named, list | tuple) or not all(isinstance(one, str) and one.strip() for one in named):
        faults.append(Fault(field=field_name, value=str(given)[:80], detail='give values like ["Door", "Alternate 1"]'))
        return None
    return tuple(one for one in named if one != NOTHING)


_TRUTHS = {"true": True, "false": False}
"""How the answers of a question, which are texts, say the order of the sides."""


def _choice(given: Any, kind: type[Choice], field_name: str, faults: list[Fault]) -> Choice | None:
    known = [member.value for member in kind]
    if given in known:
        return kind(given)
    known += [NOT_READ] if issubclass(kind, Meaning) else []
    faults.append(Fault(field=field_name, value=str(given)[:80], detail=f"it must be one of {', '.join(known)}"))
    return None
