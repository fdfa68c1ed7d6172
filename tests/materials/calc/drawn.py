"""Openings and lines of their draw, for the tests of one kind of part after the other."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal
from typing import Any

from materials.calc.lines import DrawLine
from materials.calc.parts import Part
from openings.calc.facts import OpeningFacts
from openings.calc.starting_details import STARTING_DETAILS

FLANGED = replace(STARTING_DETAILS["flange over, wrap after"], strip_width_in=Decimal(9))
CASED = STARTING_DETAILS["casing, paper after"]
REPLACEMENT = STARTING_DETAILS["box frame replacement"]


def opening(
    width: Decimal | int | str, height: Decimal | int | str, *, clearance: str = "0.5", **facts: Any
) -> OpeningFacts:
    """Return a rough opening of that size and a unit that is smaller by the clearance."""
    width_in, height_in = Decimal(width), Decimal(height)
    return OpeningFacts(
        ro_width_in=width_in,
        ro_height_in=height_in,
        unit_width_in=width_in - Decimal(clearance),
        unit_height_in=height_in - Decimal(clearance),
        **facts,
    )


def line_of(part: Part, lines: Iterable[DrawLine]) -> DrawLine:
    """Return the first line of a part."""
    return next(line for line in lines if line.part is part)


def parts_of(lines: Iterable[DrawLine]) -> set[Part]:
    """Return which parts have a line."""
    return {line.part for line in lines}
