"""How far the cells of a sheet reach, found out before they are laid out."""

from __future__ import annotations

import re
from xml.parsers import expat

from openings.errors import BadSchedule
from openings.schedules.grid import column_index

MAX_CELLS = 3_200_000
"""Laid out, a cell takes about 32 bytes, filled or not: two cells far apart could fill the memory."""
MAX_COLUMNS = 1_024
"""A heading is compared with all that are known; the widest schedules have some fifty (our choice)."""
MAX_LINES = 1_048_576
"""As many rows as a workbook has."""

# Two searches with a fixed beginning each are four times as fast as one for either (measured).
_FAR_CELL = re.compile(
    rb'<c(?! r="A?[A-Z][1-5]?\d{1,4}"(?:>| [st]="\w+"(?:>| t="\w+">| s="\d+">)))'
    rb'(?! r="[A-Z]{1,3}\d{1,7}"(?: [st]="\w+"){0,2} ?/>)[\s/>]'
)
_PREFIXED_CELL = re.compile(rb":c[\s/>]")
_PLACE = re.compile(r"([A-Z]{1,3})([1-9]\d{0,6})", re.ASCII)
_ROW_NUMBER = re.compile(r"[1-9]\d{0,6}", re.ASCII)


def require_room(height: int, width: int, *, what: str) -> None:
    """Return if so many rows of so many columns can be laid out.

    Args:
        what: the sheet or text, as the sentence calls it.

    Raises:
        BadSchedule: they cannot.
    """
    if width > MAX_COLUMNS or height * width > MAX_CELLS:
        raise BadSchedule(
            f"{what} reaches over {height:,} rows and {width:,} columns; copy the schedule alone, without what stands "
            "far from it, into a new file and upload that."
        )


def check_extent(xml: bytes, *, name: str) -> None:
    """Return if the cells of a sheet can be laid out.

    Nearly every sheet keeps its filled cells within A1:AZ59999, which one search shows; any other is gone through cell
    by cell.

    Args:
        xml: the sheet as it stands in the workbook.
        name: the sheet's name.

    Raises:
        BadSchedule: its outermost cells span too much, or a cell does not say properly where it stands.
    """
    if not _FAR_CELL.search(xml) and not _PREFIXED_CELL.search(xml):
        return
    require_room(*_Walk().extent_of(xml, name=name), what=f"The sheet “{name}”")


class _Walk:
    """Goes through the tags of a sheet as the reader does, and remembers the outermost cells that hold something.

    A cell that names no place stands right of the one before it, a row beneath the row before it.
    """

    def __init__(self) -> None:
        self._height = self._width = self._row = self._column = 0
        self._cell = (0, 0)

    def extent_of(self, xml: bytes, *, name: str) -> tuple[int, int]:
        # The reader takes every sheet for UTF-8, whatever it declares: so must this one.
        parser = expat.ParserCreate("utf-8")
        parser.StartElementHandler = self._start
        parser.EndElementHandler = self._end
        try:
            parser.Parse(xml, True)
        except (expat.ExpatError, ValueError) as error:
            raise BadSchedule(
                f"The sheet “{name}” is damaged ({error}); save the workbook again as .xlsx in a spreadsheet program."
            ) from error
        return self._height, self._width

    def _start(self, tag: str, attributes: dict[str, str]) -> None:
        kind = tag.rpartition(":")[2]
        place = attributes.get("r")
        if kind == "row" and place is not None:
            if not _ROW_NUMBER.fullmatch(place):
                raise ValueError(f"a row has the number {place[:20]}")
            self._row = int(place) - 1
        elif kind == "c":
            self._cell = (self._row, self._column)
            if place is not None:
                named = _PLACE.fullmatch(place)
                if not named:
                    raise ValueError(f"a cell stands at {place[:20]}")
                self._cell = (int(named[2]) - 1, column_index(named[1]))
                self._column = self._cell[1]
            self._column += 1
        elif kind in ("v", "is", "f"):
            row, column = self._cell
            self._height = max(self._height, row + 1)
            self._width = max(self._width, column + 1)

    def _end(self, tag: str) -> None:
        if tag.rpartition(":")[2] == "row":
            self._row += 1
            self._column = 0
