"""The pan of one opening: its membrane and corner pieces."""

from __future__ import annotations

from materials.calc.lines import DrawLine, Rule, counted, new_line
from materials.calc.parts import Part
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.figures import plain

LOWER_CORNERS = 2

PAN_MEMBRANE = Rule(
    Part.PAN_MEMBRANE,
    lambda opening, detail: (
        f"rough-opening width {plain(opening.ro_width_in)} + 2 × {plain(detail.pan_turn_up_in)} up each trimmer"
    ),
    "Fine Homebuilding 2013 (4 to 6 in up); JLC photo guide (6 in up)",
)
CORNER_PIECE = Rule(
    Part.CORNER_PIECE,
    lambda _opening, _detail: "one in each lower corner, under the membrane",
    "common practice, no source",
)


def pan_lines(opening: OpeningFacts, detail: DetailFacts) -> list[DrawLine]:
    """Return corner pieces and pan membrane; nothing where the detail has no pan.

    Source:
        Membrane turned up 4 to 6 in at each end: Fine Homebuilding 2013; 12 in longer than the opening: JLC.
    """
    if not detail.has_pan:
        return []
    length_in = opening.ro_width_in + 2 * detail.pan_turn_up_in
    membrane = new_line((PAN_MEMBRANE, 1, length_in, length_in, opening, detail))
    if not detail.has_corner_pieces:
        return [membrane]
    return [counted(CORNER_PIECE, LOWER_CORNERS, opening, detail), membrane]
