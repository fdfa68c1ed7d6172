"""The pan of one opening: its membrane and corner pieces, and whether it holds back the water of a test."""

from __future__ import annotations

import math
from decimal import Decimal

from materials.calc.lines import DrawLine, Rule, counted, new_line
from materials.calc.parts import Part
from openings.calc.advice import Advice, Answer
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.figures import half_up, plain
from openings.calc.units import US, Units

LOWER_CORNERS = 2

WATER_PSF_PER_IN = Decimal("5.2")
"""An inch of standing water weighs this much on a square foot (constructionspecifier.com)."""

BACK_DAM = "back dam"
BACK_DAM_SOURCE = (
    "constructionspecifier.com, testing glazing in the field (15% or 20% of the design pressure, an inch of water "
    "for each 5.2 psf); back dam or slope: Building Science Corp. Info-302"
)

PAN_MEMBRANE = Rule(
    Part.PAN_MEMBRANE,
    lambda opening, detail, units: (
        f"rough-opening width {units.bare(opening.ro_width_in)} + 2 × {units.bare(detail.pan_turn_up_in)} up each "
        "trimmer"
    ),
    'Fine Homebuilding 2013 (4" to 6" up); JLC photo guide (6" up)',
)
CORNER_PIECE = Rule(
    Part.CORNER_PIECE,
    lambda _opening, _detail, _units: "one in each lower corner, under the membrane",
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


def back_dam_for(water_pressure_psf: Decimal) -> Decimal:
    """Return how high, in inches, water stands against that pressure: so high a dam must be.

    Source:
        An inch for each 5.2 psf: constructionspecifier.com.
    """
    return water_pressure_psf / WATER_PSF_PER_IN


def sill_fall_in(depth_in: Decimal, slope_deg: Decimal) -> Decimal:
    """Return how far a sloped sill falls over its depth, to five places.

    Source:
        JELD-WEN JII023 asks for 5 degrees: 0.48 in over a sill of 5-1/2 in.
    """
    return half_up(depth_in * Decimal(math.tan(math.radians(slope_deg))))


def back_dam_advice(opening: OpeningFacts, detail: DetailFacts, *, units: Units = US) -> Advice | None:
    """Return whether the back dam is as high as the water of a test would stand; None without a pan.

    What a sloped sill falls counts as height, since the dam stands that much above its outer edge (our choice).
    """
    if not detail.has_pan:
        return None
    pressure_psf = opening.design_pressure_psf
    if pressure_psf is None:
        missing = "need info: design pressure, which gives the water pressure of a test"
        return _advice(Answer.CANNOT_TELL, missing)
    water_psf = pressure_psf * detail.water_test_pct / 100
    needed_in = back_dam_for(water_psf)
    fall_in = sill_fall_in(detail.sill_depth_in, detail.sill_slope_deg)
    answer = Answer.MET if detail.back_dam_in + fall_in >= needed_in else Answer.NOT_MET
    reason = (
        f"water test at {plain(detail.water_test_pct)}% of {units.say(pressure_psf, 'psf')}, "
        f"{units.say(water_psf, 'psf')}, holds water {units.say(needed_in)} high ({units.say(Decimal(1))} for each "
        f"{units.say(WATER_PSF_PER_IN, 'psf')}); {_standing(detail, fall_in, units)}"
    )
    return _advice(answer, reason)


def _advice(answer: Answer, reason: str) -> Advice:
    return Advice(rule=BACK_DAM, answer=answer, reason=reason, source=BACK_DAM_SOURCE)


def _standing(detail: DetailFacts, fall_in: Decimal, units: Units) -> str:
    dam = f"the back dam is {units.say(detail.back_dam_in)} high"
    if not fall_in:
        return dam
    return (
        f"{dam}, and the sill falls {units.say(fall_in)} outward ({plain(detail.sill_slope_deg)}° over "
        f"{units.say(detail.sill_depth_in)}), so that the top of the dam stands "
        f"{units.say(detail.back_dam_in + fall_in)} above the outer edge of the sill (company "
        "default: the fall counts)"
    )
