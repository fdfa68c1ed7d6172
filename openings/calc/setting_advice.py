"""What is worth a look before a unit is set: whether its bead lands on the wall, and what it lands on itself."""

from __future__ import annotations

from decimal import Decimal

from openings.calc.advice import Advice, Answer
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.geometry import BOX_FRAME, CASING, NOTHING, head_gap_in, jamb_gap_in
from openings.calc.lay_looks import bead_in
from openings.calc.units import US, Units
from openings.calc.weight import weight_of

FIN_WIDTH_IN = Decimal("1.5")
"""How wide the fin of a flange is, about (brickcontainer.com, secondary)."""

HEAVY_LB = Decimal(100)
"""Many units exceed this (common practice, no source)."""

SETTING_BEAD, CORNERS = "setting bead on the wall", "corners under a heavy unit"


def over_the_gap_in(detail: DetailFacts) -> Decimal:
    """Return how far casing or fin reach from the frame, over the gap and onto the wall."""
    return detail.casing_width_in if detail.mounting is CASING else FIN_WIDTH_IN


def setting_advice(opening: OpeningFacts, detail: DetailFacts, *, units: Units = US) -> tuple[Advice, ...]:
    """Return what is worth a look before the unit of one opening is set, as far as its detail has use for a rule."""
    bead = bead_advice(detail, gap_in=max(jamb_gap_in(opening), head_gap_in(opening)), units=units)
    return tuple(advice for advice in (bead, _corners(opening, detail, units)) if advice)


def bead_advice_of_detail(detail: DetailFacts, *, units: Units = US) -> Advice | None:
    """Return what `bead_advice` says of an opening with the clearance that the detail asks for."""
    clearance_in = max(detail.ro_clearance_width_in, detail.ro_clearance_height_in)
    return bead_advice(detail, gap_in=clearance_in / 2, units=units)


def bead_advice(detail: DetailFacts, *, gap_in: Decimal, units: Units = US) -> Advice | None:
    """Return whether the bead in which a unit is set lands on the wall; None for a box frame, or without a bead.

    Casing or fin reach over the gap onto the wall, and the bead needs its own width there. It is met where it has that
    with all of the clearance on one side too (our choice), worth care where the unit must stand centered for it.

    Args:
        gap_in: the widest gap between frame and framing, the unit centered.
    """
    size_in = bead_in(detail)
    if detail.mounting is BOX_FRAME or not size_in:
        return None
    if detail.mounting is CASING:
        what, source = "casing", "geometry; bead: common practice, no source"
    else:
        what, source = "fin", "geometry; fin about 1-1/2 in wide: brickcontainer.com (trade page)"
    over_in = over_the_gap_in(detail)
    centered_in, aside_in = over_in - gap_in, over_in - 2 * gap_in
    figures = (
        f"{what} {units.say(over_in)} wide over a gap of {units.say(gap_in)} leaves "
        f"{units.say(max(NOTHING, centered_in))} on the wall for a bead of {units.say(size_in)}"
    )
    if centered_in < size_in:
        answer, reason = Answer.NOT_MET, f"{figures}: it would lie in the gap; close the gap or take a wider {what}"
    elif aside_in < size_in:
        answer, reason = Answer.TAKE_CARE, f"{figures}: enough only where the unit stands centered in its opening"
    else:
        answer, reason = Answer.MET, figures
    return Advice(rule=SETTING_BEAD, answer=answer, reason=reason, source=source)


def _corners(opening: OpeningFacts, detail: DetailFacts, units: Units) -> Advice:
    """Return whether corner pieces take the knock where a heavy unit is tilted up on its sill."""
    weight = weight_of(opening, mounting=detail.mounting, units=units)
    lb = f"{units.say(weight.lb, 'lb')}{' (estimated)' if weight.is_estimate else ''}"
    if weight.lb < HEAVY_LB:
        answer, reason = Answer.MET, f"the unit weighs {lb}, less than {units.say(HEAVY_LB, 'lb')}"
    elif detail.has_pan and detail.has_corner_pieces:
        answer = Answer.MET
        reason = f"the unit weighs {lb}: the corner pieces under the membrane take the knock where it lands"
    else:
        answer = Answer.TAKE_CARE
        reason = (
            f"the unit weighs {lb} and lands on the lower corners, which have no corner pieces: lower it with care, "
            "and look at membrane and strip before it is tilted up"
        )
    return Advice(rule=CORNERS, answer=answer, reason=reason, source="common practice, no source")
