"""Shims of one opening."""

from __future__ import annotations

from decimal import Decimal

from materials.calc.lines import DrawLine, Rule, counted
from materials.calc.parts import Part
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.geometry import has_shimmed_straps, shim_points, strap_shim_points
from openings.calc.units import Units

PAIR = 2
JAMBS = 2


def _spaced(detail: DetailFacts, spacing_in: Decimal, units: Units) -> str:
    return f"first {units.say(detail.shim_end_in)} from the corner of the unit, at most {units.say(spacing_in)} apart"


def _beside_straps(detail: DetailFacts) -> str:
    return " beside the straps, whose own shims count" if has_shimmed_straps(detail) else ""


SILL_SHIM = Rule(
    Part.SHIM,
    lambda opening, detail, units: (
        f"sill, one at each of {shim_points(opening, detail).sill} points, "
        f"{_spaced(detail, detail.sill_shim_spacing_in, units)}"
    ),
    "JELD-WEN JII-90025 (end); spacing: company default, editable (trade page greenyplace)",
)
JAMB_SHIM = Rule(
    Part.SHIM,
    lambda opening, detail, units: (
        f"jambs, a pair at each of 2 × {shim_points(opening, detail).jamb} points{_beside_straps(detail)}, "
        f"{_spaced(detail, detail.jamb_shim_spacing_in, units)}"
    ),
    "company default, editable (trade page greenyplace); a strap's shims count as the jamb's: common practice, no "
    "source",
)
STRAP_SHIM = Rule(
    Part.SHIM,
    lambda opening, detail, _units: f"straps, a pair at each of {strap_shim_points(opening, detail)} straps",
    "company default, editable (pairs: trade page greenyplace; at every strap: source not checked)",
)
LOCK_HINGE_SHIM = Rule(
    Part.SHIM,
    lambda _opening, detail, _units: (
        f"locks and hinges, a pair at each of {detail.lock_hinge_shim_points} points that the detail names"
    ),
    "company default, editable (pairs: trade page greenyplace; at locks and hinges: source not checked)",
)


def shim_lines(opening: OpeningFacts, detail: DetailFacts) -> list[DrawLine]:
    """Return the shims: single ones under the sill, opposing pairs at jambs, straps, locks and hinges, each once."""
    points = shim_points(opening, detail)
    lines = [counted(SILL_SHIM, points.sill, opening, detail)]
    if points.jamb:
        lines.append(counted(JAMB_SHIM, JAMBS * PAIR * points.jamb, opening, detail))
    if at_straps := strap_shim_points(opening, detail):
        lines.append(counted(STRAP_SHIM, PAIR * at_straps, opening, detail))
    if detail.lock_hinge_shim_points:
        lines.append(counted(LOCK_HINGE_SHIM, PAIR * detail.lock_hinge_shim_points, opening, detail))
    return lines
