"""How far the cells of a sheet reach, found out before they are laid out."""

from __future__ import annotations

import re
from xml.parsers import expat

from openings.errors import BadSchedule
from openings.schedules.grid import column_index

MAX_CELLS = 3_200_000
"""Laid out, a cell takes about 32 bytes, filled or not: two cells far apart could fill the memory."""

# Two searches with a fixed beginning each are four times as fast as one for either (measured).
_FAR_CELL = re.compile(rb'<c(?! r="A?[A-Z][1-5]?\d{1,4}")[\s/>]')
_PREFIXED_CELL = re.compile(rb":c[\s/>]")
_PLACE = re.compile(r"([A-Z]{1,3})([1-9]\d{0,6})", re.ASCII)


def check_extent(xml: bytes, *, name: str) -> None:
    """Return if the cells of a sheet can be laid out.

    Nearly every sheet keeps within A1:AZ59999, which one search shows; any other is gone through cell by cell.

    Args:
        xml: the sheet as it stands in the workbook.
        name: the sheet's name.

    Raises:
        BadSchedule: its outermost cells span too much, or a cell does not say properly where it stands.
    """
    if not _FAR_CELL.search(xml) and not _PREFIXED_CELL.search(xml):
        return
    height, width = _Walk().extent_of(xml, name=name)
    if height * width > MAX_CELLS:
        raise BadSchedule(
            f"The sheet “{name}” reaches over {height:,} rows and {width:,} columns; copy the schedule "
            "alone into a new workbook and send that."
        )


class _Walk:
    """Goes through the tags of a sheet; a cell that names no place stands right of the one before it."""

    def __init__(self) -> None:
        self._height = self._width = self._row = self._column = 0

    def extent_of(self, xml: bytes, *, name: str) -> tuple[int, int]:
        parser = expat.ParserCreate()
        parser.StartElementHandler = self._start
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
        if kind == "row":
            self._row = int(place) if place else self._row + 1
            self._column = 0
        elif kind == "c":
            if place:
                named = _PLACE.fullmatch(place)
                if not named:
                    raise ValueError(f"a cell stands at {place}")
                self._row, self._column = int(named[2]), column_index(named[1])
            self._column += 1
        self._height = max(self._height, self._row)
        self._width = max(self._width, self._column)
