"""What a unit weighs: as given, or estimated from its glass and frame."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from openings.calc.facts import Mounting, OpeningFacts
from openings.calc.figures import brief, half_up, plain
from openings.calc.geometry import IN_PER_FT, area_sqft

GLASS_LB_PER_SQFT_IN = Decimal("13.006")
"""A square foot of glass, one inch thick: 2500 kg/m3, 156 lb/ft3."""

USUAL_LITES_IN = (Decimal("0.125"), Decimal("0.125"))
"""Two lites of 1/8 in, where nobody says otherwise (from memory)."""

USUAL_FRAME_LB_PER_FT = {
    Mounting.FLANGE: Decimal("1.5"),
    Mounting.CASING: Decimal("2.5"),
    Mounting.BOX_FRAME: Decimal("1.5"),
}
"""Pounds a foot of frame: a flange or box frame taken as vinyl, a casing as wood (from memory)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitWeight:
    """A weight and how far it can be trusted."""

    lb: Decimal
    is_estimate: bool
    reason: str
    source: str


def glass_lb_per_sqft(thickness_in: Decimal) -> Decimal:
    """Return the weight of one lite.

    Args:
        thickness_in: nominal thickness, > 0.

    Source:
        Density of float glass, 2500 kg/m3.
    """
    return GLASS_LB_PER_SQFT_IN * thickness_in


def estimate_lb(opening: OpeningFacts, *, lites_in: Iterable[Decimal], frame_lb_per_ft: Decimal) -> Decimal:
    """Return the weight of the unit: glass over its whole face, which is an upper bound, and frame around it.

    Args:
        lites_in: nominal thickness of each lite; air spaces weigh nothing.

    Source:
        Glass as the sum of its lites: MIL-HDBK-1013/12, tables 29 and 30.
    """
    width_in, height_in = opening.unit_width_in, opening.unit_height_in
    glass_lb = area_sqft(width_in, height_in) * glass_lb_per_sqft(sum(lites_in, Decimal(0)))
    return glass_lb + 2 * (width_in + height_in) / IN_PER_FT * frame_lb_per_ft


def weight_lb(opening: OpeningFacts, *, mounting: Mounting) -> Decimal:
    """Return the given weight, or else the estimate with the usual glass and frame."""
    if opening.weight_lb is not None:
        return opening.weight_lb
    return estimate_lb(opening, lites_in=USUAL_LITES_IN, frame_lb_per_ft=USUAL_FRAME_LB_PER_FT[mounting])


def weight_of(opening: OpeningFacts, *, mounting: Mounting) -> UnitWeight:
    """Return what the unit weighs, whether that is an estimate, and why."""
    lb = weight_lb(opening, mounting=mounting)
    if opening.weight_lb is not None:
        return UnitWeight(
            lb=lb,
            is_estimate=False,
            reason=f"{plain(lb)} lb as given for the unit",
            source="given with the opening",
        )
    feet = 2 * (opening.unit_width_in + opening.unit_height_in) / IN_PER_FT
    return UnitWeight(
        lb=lb,
        is_estimate=True,
        reason=(
            f"about {plain(half_up(lb, to=Decimal(1)))} lb: "
            f"{brief(area_sqft(opening.unit_width_in, opening.unit_height_in))} sq ft of "
            f"{' + '.join(plain(lite) for lite in USUAL_LITES_IN)} in glass, {brief(feet)} ft of frame at "
            f"{plain(USUAL_FRAME_LB_PER_FT[mounting])} lb/ft; no weight is given"
        ),
        source="glass 2500 kg/m3, lites summed as in MIL-HDBK-1013/12; usual glass and frame from memory",
    )
