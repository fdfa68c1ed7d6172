"""Sizes as models of buildings and their handover sheets give them: by measures, or only in a text, or in both."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from openings.calc.figures import plain
from openings.calc.tape import Size, read_size, size_in_text
from openings.errors import BadLength
from openings.schedules.grid import Cell, Refused

MOST_APART = Decimal("0.01")
"""Sizes that differ by more on a side are two sizes (our choice)."""

_METRIC_TEXT = re.compile(r"\d ?(?:mm|cm|m|(?:milli|centi)?met(?:er|re)s?)\b", re.IGNORECASE)
_METRES_OF_AN_INCH = Decimal("0.0254")
_TENTH = Decimal("0.1")
_SIXTY_FOURTH = 64
_NOISE_IN = Decimal("0.0005")
"""A sixty-fourth is meant where floating point is so near to it (our choice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """A size and who says it, such as “the name”; `text` is how it is written, width first."""

    by: str
    text: str
    size: Size | None


def measured(by: str, width: Decimal, height: Decimal, *, metres: Decimal | None) -> Said:
    """Return the size that two measures give.

    Args:
        metres: how many metres their unit is; None if nothing says, and then the size has no unit either.
    """
    if metres is None:
        return Said(by=by, text=f"{plain(width)} x {plain(height)}", size=None)
    text = _metric(width, height, metres=metres) if _is_metric(metres) else _inches(width, height, metres=metres)
    try:
        return Said(by=by, text=text, size=read_size(text))
    except BadLength:
        return Said(by=by, text=text, size=None)


def in_texts(by: str, texts: Iterable[str]) -> list[Said]:
    """Return the first size that stands in one of the texts with its unit, or nothing."""
    found = ((text, size_in_text(text)) for text in texts)
    return next(([Said(by=by, text=_written(size, like=text), size=size)] for text, size in found if size), [])


def agreed(said: Sequence[Said]) -> Cell:
    """Return the cell of the first size if the others agree with it, and one that names them all if not.

    What has no unit counts only where nothing has one.
    """
    known = [one for one in said if one.size] or said
    if not known:
        return ""
    if not any(_is_apart(known[0].size, one.size) for one in known[1:]):
        return known[0].text
    readings = " but ".join(f"{one.text} by {one.by}" for one in known)
    others = " or ".join(f"“{heading(one.by)}”" for one in known)
    return Refused(
        shown="; ".join(one.text for one in known),
        detail=f"the size is {readings}; correct the file, or take the column {others} as the size instead of this one",
    )


def heading(by: str) -> str:
    """Return the heading of the column that follows one of those who say sizes."""
    return f"By {by.removeprefix('the ')}"


def choices(rows: Sequence[Sequence[Said]], cells: Sequence[Cell]) -> dict[str, list[Cell]]:
    """Return columns to choose from where sizes disagree: each follows one of those who say otherwise.

    Args:
        cells: what `agreed` gave for each row; it stands where that one says nothing of a row.
    """
    speakers = dict.fromkeys(
        one.by for said, cell in zip(rows, cells, strict=True) if isinstance(cell, Refused) for one in said if one.size
    )
    return {
        heading(by): [
            next((one.text for one in said if one.by == by and one.size), cell)
            for said, cell in zip(rows, cells, strict=True)
        ]
        for by in speakers
    }


def _is_apart(one: Size | None, other: Size | None) -> bool:
    if one is None or other is None:
        return False
    sides = ((one.width_in, other.width_in), (one.height_in, other.height_in))
    return any(abs(a - b) > MOST_APART * max(a, b) for a, b in sides)


def _written(size: Size, *, like: str) -> str:
    write = _metric if _METRIC_TEXT.search(like) else _inches
    return write(size.width_in, size.height_in, metres=_METRES_OF_AN_INCH)


def _is_metric(metres: Decimal) -> bool:
    """Return whether a unit is a power of ten of the metre."""
    return metres.normalize().as_tuple().digits == (1,)


def _metric(width: Decimal, height: Decimal, *, metres: Decimal) -> str:
    """Return millimetres to a tenth: what stands behind it is noise of floating point or of drawing."""
    sides = ((side * metres * 1000).quantize(_TENTH, ROUND_HALF_UP) for side in (width, height))
    return " x ".join(map(plain, sides)) + " mm"


def _inches(width: Decimal, height: Decimal, *, metres: Decimal) -> str:
    return " x ".join(f'{plain(_near(side * metres / _METRES_OF_AN_INCH))}"' for side in (width, height))


def _near(inches: Decimal) -> Decimal:
    sixty_fourth = (inches * _SIXTY_FOURTH).to_integral_value(ROUND_HALF_UP) / _SIXTY_FOURTH
    return sixty_fourth if abs(inches - sixty_fourth) <= _NOISE_IN else inches
