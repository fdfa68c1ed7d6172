"""Shims of one opening."""

from __future__ import annotations

from materials.calc.lines import DrawLine, Rule, counted
from materials.calc.parts import Part
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.figures import plain
from openings.calc.geometry import shim_points

PAIR = 2
JAMBS = 2

SILL_SHIM = Rule(
    Part.SHIM,
    lambda opening, detail: (
        f"sill, one at each of {shim_points(opening, detail).sill} points, first {plain(detail.shim_end_in)} "
        f"in from the corner of the unit, at most {plain(detail.sill_shim_spacing_in)} in apart"
    ),
    "JELD-WEN JII-90025 (end); spacing from a trade page (greenyplace), secondary",
)
JAMB_SHIM = Rule(
    Part.SHIM,
    lambda opening, detail: (
        f"jambs, a pair at each of 2 × {shim_points(opening, detail).jamb} points, first "
        f"{plain(detail.shim_end_in)} in from the corner of the unit, at most "
        f"{plain(detail.jamb_shim_spacing_in)} in apart"
    ),
    "trade page (greenyplace), secondary",
)


def shim_lines(opening: OpeningFacts, detail: DetailFacts) -> list[DrawLine]:
    """Return the shims: single ones under the sill, opposing pairs at the jambs."""
    points = shim_points(opening, detail)
    return [
        counted(SILL_SHIM, points.sill, opening, detail),
        counted(JAMB_SHIM, JAMBS * PAIR * points.jamb, opening, detail),
    ]
