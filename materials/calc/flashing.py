"""Strips, head membrane and drip cap of one opening."""

from __future__ import annotations

from materials.calc.lines import DrawLine, Rule, new_line
from materials.calc.parts import Part
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.geometry import (
    drip_cap_in,
    has_second_strip,
    head_membrane_in,
    is_flashed_here,
    outer_width_in,
    second_strip_in,
    strip_runs,
)
from openings.calc.terms import HeadFlashing
from openings.calc.units import Units


def _across(opening: OpeningFacts, detail: DetailFacts, units: Units) -> str:
    return (
        f"rough-opening width {units.bare(opening.ro_width_in)} + 2 × {units.bare(detail.strip_width_in)} strip width"
    )


def _outer(opening: OpeningFacts, detail: DetailFacts, units: Units) -> str:
    return f"width over unit and casing {units.bare(outer_width_in(opening, detail))}"


SILL_STRIP = Rule(Part.SILL_STRIP, _across, "AAMA 2400-10 note 3")
HEAD_STRIP = Rule(Part.HEAD_STRIP, _across, "AAMA 2400-10 note 3")
JAMB_STRIP = Rule(
    Part.JAMB_STRIP,
    lambda opening, detail, units: (
        f"rough-opening height {units.bare(opening.ro_height_in)} + 2 × ({units.bare(detail.strip_width_in)} strip "
        f"width − {units.bare(detail.jamb_strip_short_in)}), one a side"
    ),
    "company default, editable (AAMA 2400, text not checked)",
)
HEAD_MEMBRANE = Rule(
    Part.HEAD_MEMBRANE,
    lambda opening, detail, units: (
        f"{_outer(opening, detail, units)} + 2 × {units.bare(detail.head_membrane_lap_in)} lap past it"
    ),
    "common practice, no source",
)
DRIP_CAP = Rule(
    Part.DRIP_CAP,
    lambda opening, detail, units: (
        f"{_outer(opening, detail, units)} + 2 × {units.bare(detail.drip_cap_past_in)} past the trim"
    ),
    "AWDI manual p. 23 (past the trim at both sides); how far: company default, editable",
)
COUNTER_FLASHING_STRIP = Rule(
    Part.COUNTER_FLASHING_STRIP,
    lambda opening, detail, units: (
        f"drip cap {units.bare(drip_cap_in(opening, detail))} + 2 × {units.bare(detail.head_membrane_lap_in)} lap past "
        "it, over its upright leg"
    ),
    "common practice, no source",
)


def flashing_lines(opening: OpeningFacts, detail: DetailFacts) -> list[DrawLine]:
    """Return strips, head membrane, drip cap and counter-flashing strip, as far as the detail has them.

    The method (A, A1, B, B1) changes when a strip goes on, not how long it is. A box frame whose wall has its
    barrier already takes no strips and no head membrane; it takes a drip cap where the detail asks for one.
    """
    lines = []
    if is_flashed_here(detail):
        sill_in, jamb_in, head_in = strip_runs(opening, detail)
        lines += [
            new_line((SILL_STRIP, 1, sill_in, sill_in, opening, detail)),
            new_line((JAMB_STRIP, 2, jamb_in, 2 * jamb_in, opening, detail)),
        ]
        if detail.has_head_strip:
            lines.append(new_line((HEAD_STRIP, 1, head_in, head_in, opening, detail)))
        if detail.has_head_membrane:
            length_in = head_membrane_in(opening, detail)
            lines.append(new_line((HEAD_MEMBRANE, 1, length_in, length_in, opening, detail)))
    if detail.head_flashing is not HeadFlashing.NONE:
        lines += _drip_cap_lines(opening, detail)
    return lines


def _drip_cap_lines(opening: OpeningFacts, detail: DetailFacts) -> list[DrawLine]:
    cap_in = drip_cap_in(opening, detail)
    lines = [new_line((DRIP_CAP, 1, cap_in, cap_in, opening, detail))]
    if has_second_strip(detail):
        strip_in = second_strip_in(opening, detail)
        lines.append(new_line((COUNTER_FLASHING_STRIP, 1, strip_in, strip_in, opening, detail)))
    return lines
