"""How many anchors wind asks for: what a fastener holds, and what a rated unit hands on to the framing.

A check of counts, never a design: anchorage is confirmed by the product approval and by licensed practice.
"""

from __future__ import annotations

from decimal import Decimal

from jobs.errors import Fault
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.figures import ceil_ratio, plain
from openings.calc.terms import Mounting
from openings.errors import BadDetail

MOST_A_SIDE = 500
"""More anchors on one side are a slip of the pen or of the unit (our choice)."""

BOX_FRAME = Mounting.BOX_FRAME

SQIN_PER_SQFT = 144
LOADED_SIDES = 2


def screw_withdrawal_lb_per_in(*, specific_gravity: Decimal, diameter_in: Decimal) -> Decimal:
    """Return the withdrawal load of a wood screw in side grain, for an inch of thread in the wood.

    Args:
        specific_gravity: of the framing, oven-dry, > 0.
        diameter_in: of the shank, > 0.

    Source:
        2850 G² D: NDS 12.2, as engineeringtoolbox.com prints it.
    """
    return 2850 * specific_gravity**2 * diameter_in


def nail_withdrawal_lb_per_in(*, specific_gravity: Decimal, diameter_in: Decimal) -> Decimal:
    """Return the withdrawal load of a nail in side grain, for an inch of it in the wood.

    Source:
        1380 G^2.5 D: NDS 12.2, as engineeringtoolbox.com prints it; a fifth of the ultimate 6900 G^2.5 D of FPL-093.
    """
    return 1380 * specific_gravity**2 * specific_gravity.sqrt() * diameter_in


def withdrawal_lb_per_in(detail: DetailFacts) -> Decimal:
    """Return the withdrawal load of the detail's fastener in its framing, for an inch, before the load duration."""
    withdrawal = nail_withdrawal_lb_per_in if detail.fastener_is_nail else screw_withdrawal_lb_per_in
    return withdrawal(specific_gravity=detail.framing_specific_gravity, diameter_in=detail.fastener_diameter_in)


def fastener_allowable_lb(detail: DetailFacts) -> Decimal | None:
    """Return the allowable load of one fastener of flange, casing or frame; None where it cannot be worked out.

    As the detail states it, or else withdrawal × penetration × load duration. Withdrawal acts where the fastener goes
    square into the framing: through flange or casing. Through a box frame it is in shear, which is not worked out here.
    """
    if detail.fastener_allowable_lb is not None:
        return detail.fastener_allowable_lb
    if detail.mounting is BOX_FRAME:
        return None
    return withdrawal_lb_per_in(detail) * detail.fastener_penetration_in * detail.load_duration_factor


def anchor_allowable_lb(detail: DetailFacts) -> Decimal | None:
    """Return the allowable load of one strap, or without straps of one fastener."""
    return detail.strap_allowable_lb if detail.has_straps else fastener_allowable_lb(detail)


def stagnation_pressure_psf(mph: Decimal) -> Decimal:
    """Return the pressure of a wind that is brought to a stop: 0.00256 V² (ASCE 7, from memory)."""
    return Decimal("0.00256") * mph**2


def total_load_lb(*, pressure_psf: Decimal, width_in: Decimal, height_in: Decimal) -> Decimal:
    """Return the load of the pressure on the whole unit."""
    return pressure_psf * width_in * height_in / SQIN_PER_SQFT


def clips_each_long_side(*, pressure_psf: Decimal, width_in: Decimal, height_in: Decimal) -> int:
    """Return the number of clips on each of the two long sides: P × W × H × 0.0001 / 4, rounded up.

    Source:
        AWDI installation manual p. 89. Of a curved unit take the rectangle around it; count each unit of a mulled one.
    """
    return ceil_ratio(pressure_psf * width_in * height_in, Decimal(40_000))


def largest_spacing_in(*, allowable_lb: Decimal, pressure_psf: Decimal, across_in: Decimal) -> Decimal:
    """Return the largest spacing of anchors along a loaded side: 144 × allowable / (pressure × half width).

    Args:
        across_in: from one loaded side to the other.
    """
    return SQIN_PER_SQFT * allowable_lb * LOADED_SIDES / (pressure_psf * across_in)


def count_by_load(opening: OpeningFacts, allowable_lb: Decimal | None) -> int:
    """Return the number of anchors on each of the two loaded sides: half the load by the allowable of one, rounded up.

    0 where no design pressure is given, or not known what an anchor may take.

    Raises:
        BadDetail: no side has room for so many.
    """
    pressure_psf = opening.design_pressure_psf
    if pressure_psf is None or allowable_lb is None:
        return 0
    load_lb = total_load_lb(pressure_psf=pressure_psf, width_in=opening.unit_width_in, height_in=opening.unit_height_in)
    if load_lb > MOST_A_SIDE * LOADED_SIDES * allowable_lb:
        sentence = (
            f"{plain(load_lb)} lb of wind on the unit would take more than {MOST_A_SIDE} anchors a side at "
            f"{plain(allowable_lb)} lb each; check the design pressure and the allowable load of an anchor"
        )
        value = str(pressure_psf)
        raise BadDetail(sentence, faults=[Fault(field="design_pressure_psf", value=value, detail=sentence)])
    return ceil_ratio(load_lb, LOADED_SIDES * allowable_lb)
