"""Straps, screws and flange fasteners of one opening."""

from __future__ import annotations

from decimal import Decimal

from materials.calc.lines import DrawLine, Rule, counted
from materials.calc.parts import Part
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.figures import plain
from openings.calc.geometry import FLANGE, Points, anchor_points, flange_points


def _spaced(points: Points, *, corner_in: Decimal, spacing_in: Decimal) -> str:
    sill = str(points.sill) if points.sill else "none"
    return (
        f"{points.jamb} on each jamb, {points.head} on the head, {sill} on the sill; first "
        f"{plain(corner_in)} in from the corner, at most {plain(spacing_in)} in apart"
    )


def _at_flange(opening: OpeningFacts, detail: DetailFacts) -> str:
    corner_in, spacing_in = detail.flange_fastener_corner_in, detail.flange_fastener_spacing_in
    return _spaced(flange_points(opening, detail), corner_in=corner_in, spacing_in=spacing_in)


def _at_anchors(opening: OpeningFacts, detail: DetailFacts) -> str:
    corner_in, spacing_in = detail.strap_corner_in, detail.strap_spacing_in
    return _spaced(anchor_points(opening, detail), corner_in=corner_in, spacing_in=spacing_in)


_ANCHOR_SOURCE = "AWDI manual p. 89 (first 8 to 24 in from the corner); spacing: common practice, no source"

FLANGE_FASTENER = Rule(Part.FLANGE_FASTENER, _at_flange, "AAMA 2400, from memory")
STRAP = Rule(Part.STRAP, _at_anchors, _ANCHOR_SOURCE)
JAMB_SCREW = Rule(
    Part.JAMB_SCREW,
    lambda opening, detail: (
        f"{anchor_points(opening, detail).total} straps × {detail.jamb_screws_per_strap} into the jamb"
    ),
    "common practice, no source",
)
FRAMING_SCREW = Rule(
    Part.FRAMING_SCREW,
    lambda opening, detail: (
        f"{anchor_points(opening, detail).total} straps × {detail.framing_screws_per_strap} into the framing"
    ),
    "common practice, no source",
)
SCREW_THROUGH_FRAME = Rule(
    Part.FRAMING_SCREW,
    lambda opening, detail: f"through casing or frame, {_at_anchors(opening, detail)}",
    _ANCHOR_SOURCE,
)

CAUTION = (
    "Spacing by common practice, not by wind load: where local code, the manufacturer, a product approval or "
    "an engineer asks for more, that rules."
)


def anchor_lines(opening: OpeningFacts, detail: DetailFacts) -> list[DrawLine]:
    """Return what holds the unit: flange fasteners, straps with their screws, or screws through the frame.

    A flange is always fastened through, and strapped as well where the detail has straps. Casing and box
    frame are strapped, or without straps screwed through at the same points.
    """
    lines = []
    if detail.mounting is FLANGE:
        lines.append(counted(FLANGE_FASTENER, flange_points(opening, detail).total, opening, detail))
    if detail.has_straps:
        lines += _strap_lines(opening, detail)
    elif detail.mounting is not FLANGE:
        lines.append(counted(SCREW_THROUGH_FRAME, anchor_points(opening, detail).total, opening, detail))
    return lines


def _strap_lines(opening: OpeningFacts, detail: DetailFacts) -> list[DrawLine]:
    straps = anchor_points(opening, detail).total
    lines = [counted(STRAP, straps, opening, detail)]
    if detail.jamb_screws_per_strap:
        lines.append(counted(JAMB_SCREW, straps * detail.jamb_screws_per_strap, opening, detail))
    if detail.framing_screws_per_strap:
        lines.append(counted(FRAMING_SCREW, straps * detail.framing_screws_per_strap, opening, detail))
    return lines
