"""What a unit weighs: as given, or estimated from its glass and frame."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from openings.calc.facts import OpeningFacts
from openings.calc.figures import half_up
from openings.calc.geometry import IN_PER_FT, area_sqft
from openings.calc.terms import FrameMaterial, Mounting
from openings.calc.units import US, Units

GLASS_LB_PER_SQFT_IN = Decimal("13.006")
"""A square foot of glass, one inch thick: 2500 kg/m3, 156 lb/ft3."""

USUAL_LITES_IN = (Decimal("0.125"), Decimal("0.125"))
"""Two lites of 1/8 in, where nobody says otherwise (from memory)."""

FRAME_LB_PER_FT = {
    FrameMaterial.VINYL: Decimal("1.5"),
    FrameMaterial.WOOD: Decimal("2.5"),
    FrameMaterial.ALUMINUM: Decimal("1.85"),
    FrameMaterial.FIBERGLASS: Decimal("1.65"),
}
"""Pounds a foot of frame, about the middle of what each material ranges over (from memory): vinyl 1 to 1.8,
wood 2 to 3, aluminum 1.2 to 2.5, fiberglass 1.3 to 2. A given weight always comes first."""

USUAL_MATERIALS = {
    Mounting.FLANGE: FrameMaterial.VINYL,
    Mounting.CASING: FrameMaterial.WOOD,
    Mounting.BOX_FRAME: FrameMaterial.VINYL,
}
"""What a frame is taken to be made of, where nobody says otherwise (from memory)."""

_WHOLE_POUND = Decimal(1)


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
    """Return the given weight, or else the estimate; glass or frame that nobody gave is taken as usual."""
    if opening.weight_lb is not None:
        return opening.weight_lb
    return estimate_lb(
        opening,
        lites_in=opening.lites_in or USUAL_LITES_IN,
        frame_lb_per_ft=FRAME_LB_PER_FT[opening.frame_material or USUAL_MATERIALS[mounting]],
    )


def weight_of(opening: OpeningFacts, *, mounting: Mounting, units: Units = US) -> UnitWeight:
    """Return the weight of the unit, whether it is an estimate, and the reason.

    >>> window = OpeningFacts(
    ...     ro_width_in=Decimal(36), ro_height_in=Decimal(54), unit_width_in=Decimal(35), unit_height_in=Decimal(53)
    ... )
    >>> found = weight_of(window, mounting=Mounting.FLANGE)
    >>> round(found.lb), found.is_estimate, found.reason.partition(":")[0]
    (64, True, 'about 64 lb')
    """
    lb = weight_lb(opening, mounting=mounting)
    if opening.weight_lb is not None:
        return UnitWeight(
            lb=lb,
            is_estimate=False,
            reason=f"{units.say(lb, 'lb')} as given for the unit",
            source="given with the opening",
        )
    return UnitWeight(
        lb=lb,
        is_estimate=True,
        reason=_estimate_reason(lb, opening, mounting=mounting, units=units),
        source=(
            "glass 2500 kg/m³, lites added up as in MIL-HDBK-1013/12; frame and usual glass: company default "
            "(source not checked)"
        ),
    )


def _estimate_reason(lb: Decimal, opening: OpeningFacts, *, mounting: Mounting, units: Units) -> str:
    material = opening.frame_material or USUAL_MATERIALS[mounting]
    # Rounded in the unit that is read: a pound hides nothing, a tenth of a kilogram neither.
    about = units.say(lb if units.is_metric else half_up(lb, to=_WHOLE_POUND), "lb")
    area = units.say(area_sqft(opening.unit_width_in, opening.unit_height_in), "sqft")
    lites = " + ".join(units.say(lite) for lite in opening.lites_in or USUAL_LITES_IN)
    around = units.say(2 * (opening.unit_width_in + opening.unit_height_in) / IN_PER_FT, "ft")
    return (
        f"about {about}: {area} of {lites} glass ({_as(bool(opening.lites_in))}), {around} of "
        f"{material} frame ({_as(opening.frame_material is not None)}) at "
        f"{units.say(FRAME_LB_PER_FT[material], 'lb_per_ft')}; no weight is given"
    )


def _as(is_given: bool) -> str:
    return "as given" if is_given else "as is usual"
