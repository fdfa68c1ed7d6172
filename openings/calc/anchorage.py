"""How many anchors wind asks for: what a fastener holds, and what a rated unit hands on to the framing.

A check of counts, never a design: anchorage is confirmed by the product approval and by licensed practice.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from typing import NamedTuple

from jobs.errors import Fault
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.figures import ceil_ratio, plain
from openings.calc.staged import StagedFastener
from openings.calc.terms import FastenerKind, Mounting
from openings.errors import BadDetail

MOST_A_SIDE = 500
"""More anchors on one side are a slip of the pen or of the unit (our choice)."""

FLANGE, BOX_FRAME = Mounting.FLANGE, Mounting.BOX_FRAME
NOTHING = Decimal(0)

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


@dataclass(frozen=True, slots=True, kw_only=True)
class Fastener:
    """The fastener by which the anchors of a detail are counted.

    Args:
        product: the one that is staged; empty where the detail's own is assumed.
        allowable_lb: what it may take, None where that cannot be worked out.
        is_rated: `allowable_lb` is stated, so that its size does not matter.
    """

    product: str
    is_nail: bool
    diameter_in: Decimal
    penetration_in: Decimal
    allowable_lb: Decimal | None
    is_rated: bool


class Strap(NamedTuple):
    """What one strap may take, and what says so.

    `product` is rated for it; without one `screws`, so many of them, hold less than the strap that is assumed; with
    neither the detail's own is assumed.
    """

    allowable_lb: Decimal
    product: str = ""
    screws: Fastener | None = None


def fastener_of(detail: DetailFacts) -> Fastener:
    """Return the fastener of flange, casing or frame: the one that is staged, if its product says what it holds.

    Otherwise the one that the detail assumes. What is stated goes before withdrawal × penetration × load duration.
    Withdrawal acts where the fastener goes square into the framing: through flange or casing. Through a box frame it is
    in shear, which is not worked out here.
    """
    staged = detail.staged.flange_fastener if detail.mounting is FLANGE else detail.staged.framing_screw
    is_across = detail.mounting is BOX_FRAME
    if staged and (staged.allowable_lb is not None or not is_across):
        return _staged(staged, detail)
    assumed = _assumed(detail)
    return replace(assumed, allowable_lb=None) if is_across and not assumed.is_rated else assumed


def _staged(staged: StagedFastener, detail: DetailFacts) -> Fastener:
    return _fastener(
        detail,
        product=staged.name,
        is_nail=staged.kind is FastenerKind.NAIL,
        diameter_in=staged.diameter_in or NOTHING,
        penetration_in=staged.penetration_in or NOTHING,
        rated_lb=staged.allowable_lb,
    )


def _assumed(detail: DetailFacts) -> Fastener:
    return _fastener(
        detail,
        product="",
        is_nail=detail.fastener_is_nail,
        diameter_in=detail.fastener_diameter_in,
        penetration_in=detail.fastener_penetration_in,
        rated_lb=detail.fastener_allowable_lb,
    )


def _fastener(
    detail: DetailFacts, *, product: str, is_nail: bool, diameter_in: Decimal, penetration_in: Decimal,
    rated_lb: Decimal | None,
) -> Fastener:  # fmt: skip
    lb_per_in = _withdrawal_lb_per_in(detail, is_nail=is_nail, diameter_in=diameter_in)
    return Fastener(
        product=product,
        is_nail=is_nail,
        diameter_in=diameter_in,
        penetration_in=penetration_in,
        allowable_lb=lb_per_in * penetration_in * detail.load_duration_factor if rated_lb is None else rated_lb,
        is_rated=rated_lb is not None,
    )


def _withdrawal_lb_per_in(detail: DetailFacts, *, is_nail: bool, diameter_in: Decimal) -> Decimal:
    withdrawal = nail_withdrawal_lb_per_in if is_nail else screw_withdrawal_lb_per_in
    return withdrawal(specific_gravity=detail.framing_specific_gravity, diameter_in=diameter_in)


def withdrawal_lb_per_in(detail: DetailFacts, fastener: Fastener) -> Decimal:
    """Return the withdrawal load of a fastener in the detail's framing, for an inch, before the load duration."""
    return _withdrawal_lb_per_in(detail, is_nail=fastener.is_nail, diameter_in=fastener.diameter_in)


def fastener_allowable_lb(detail: DetailFacts) -> Decimal | None:
    """Return the allowable load of one fastener of flange, casing or frame; None where it cannot be worked out."""
    return fastener_of(detail).allowable_lb


def strap_of(detail: DetailFacts) -> Strap:
    """Return what one strap may take: what the staged one is rated for, else what the detail assumes.

    A staged strap without a rating holds no more than the screws that are staged to fasten it to the framing.

    Source:
        The weakest link counts: our choice, on the safe side.
    """
    staged, screw = detail.staged.strap, detail.staged.framing_screw
    if staged:
        return Strap(staged.allowable_lb, staged.name)
    if screw and detail.framing_screws_per_strap:
        screws = _staged(screw, detail)
        screws_lb = detail.framing_screws_per_strap * (screws.allowable_lb or NOTHING)
        if screws_lb < detail.strap_allowable_lb:
            return Strap(screws_lb, screws=screws)
    return Strap(detail.strap_allowable_lb)


def anchor_allowable_lb(detail: DetailFacts) -> Decimal | None:
    """Return the allowable load of one strap, or without straps of one fastener."""
    return strap_of(detail).allowable_lb if detail.has_straps else fastener_allowable_lb(detail)


def anchor_product(detail: DetailFacts) -> str:
    """Return the staged product that says what an anchor of the frame may take; nothing where that is assumed."""
    if not detail.has_straps:
        return fastener_of(detail).product
    strap = strap_of(detail)
    return strap.screws.product if strap.screws else strap.product


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


def count_by_load(opening: OpeningFacts, allowable_lb: Decimal | None, *, product: str = "") -> int:
    """Return the number of anchors on each of the two loaded sides: half the load by the allowable of one, rounded up.

    0 where no design pressure is given, or not known what an anchor may take.

    Args:
        product: the staged one that says what an anchor may take.

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
            f"{plain(allowable_lb)} lb each{f', as {product} holds' if product else ''}; check the design pressure and "
            f"{'what holds the unit' if product else 'the allowable load of an anchor'}"
        )
        value = str(pressure_psf)
        raise BadDetail(sentence, faults=[Fault(field="design_pressure_psf", value=value, detail=sentence)])
    return ceil_ratio(load_lb, LOADED_SIDES * allowable_lb)
