"""A given weight held against what glass and frame of that size can weigh."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal

from jobs.errors import Fault
from openings.calc.facts import MAX_LITE_IN, OpeningFacts
from openings.calc.figures import TWO_PLACES, half_up, plain
from openings.calc.geometry import IN_PER_FT, area_sqft
from openings.calc.terms import FrameMaterial
from openings.calc.units import CONVERSIONS, US, Units
from openings.calc.weight import USUAL_LITES_IN, glass_lb_per_sqft
from openings.errors import BadWeight

THINNEST_LITE_IN = Decimal("0.09375")
"""3/32 in, single strength: the thinnest window glass (ASTM C1036; a square foot weighs 1.22 lb)."""

GLASS_NARROWER_BY_IN = Decimal(6)
GLASS_LOWER_BY_IN = Decimal(10)
"""How much the glass of a double-hung window is narrower and lower than its rough opening (USDA Wood-Frame House
Construction, from memory). Held against the unit, which is smaller still, it leaves less glass than any unit has."""

LIGHTEST_FRAME_LB_PER_FT = {
    FrameMaterial.VINYL: Decimal(1),
    FrameMaterial.WOOD: Decimal(2),
    FrameMaterial.ALUMINUM: Decimal("1.2"),
    FrameMaterial.FIBERGLASS: Decimal("1.3"),
}
HEAVIEST_FRAME_LB_PER_FT = Decimal(3)
"""The ends of what a foot of frame weighs: vinyl 1 to 1.8 lb, wood 2 to 3, aluminum 1.2 to 2.5, fiberglass 1.3 to 2
(from memory)."""

ABSURD_TIMES = 2
"""More often than this the heaviest glass and frame is no unit: mullions, casing and thicker frames do not double it
(our choice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Doubt:
    """Why a given weight cannot be that of the unit, and what would be right.

    Args:
        may_be_kilograms: whether the number in kilograms would be a weight of the unit.
    """

    weight_lb: Decimal
    reason: str
    may_be_kilograms: bool = False

    @property
    def detail(self) -> str:
        """Return the reason with the way out."""
        return f"{self.reason}. Give the maker's weight, or confirm this one if it is right"


def doubt_of(opening: OpeningFacts, *, units: Units = US) -> Doubt | None:
    """Return the doubt about a given weight; None where there is none, or no weight is given.

    A weight is doubted below the least that glass and frame of that size weigh, and far above the most.

    >>> unit = OpeningFacts(
    ...     ro_width_in=Decimal(96), ro_height_in=Decimal(120), unit_width_in=Decimal(96), unit_height_in=Decimal(120),
    ...     lites_in=(Decimal("0.25"), Decimal("0.25")), weight_lb=Decimal(250),
    ... )
    >>> doubt_of(unit).reason.rpartition("36 lb. ")[2]
    'If 250 was meant in kilograms, it is 551.16 lb'

    Source:
        Glass: density 2500 kg/m3; the lites of a unit add up, MIL-HDBK-1013/12.
    """
    weight_lb = opening.weight_lb
    if weight_lb is None:
        return None
    given = units.say(weight_lb, "lb")
    if weight_lb > most_lb(opening):
        reason = f"{given} is far more than this unit can weigh: {_most_said(opening, units)}"
        return Doubt(weight_lb=weight_lb, reason=reason)
    if weight_lb < least_lb(opening):
        reason = f"{given} is less than this unit can weigh: {_least_said(opening, units)}"
        kilograms = "" if units.is_metric else _kilograms_said(opening, weight_lb)
        return Doubt(weight_lb=weight_lb, reason=f"{reason}{kilograms}", may_be_kilograms=bool(kilograms))
    return None


def require_weight(opening: OpeningFacts, *, how: str, units: Units = US) -> None:
    """Refuse a given weight that is in doubt.

    Args:
        how: how to confirm it where it is right.

    Raises:
        BadWeight: it is less or far more than glass and frame can weigh.
    """
    if doubt := doubt_of(opening, units=units):
        detail = f"{doubt.detail}: {how}"
        raise BadWeight(detail, faults=[Fault(field="weight_lb", value=plain(doubt.weight_lb), detail=detail)])


def least_lb(opening: OpeningFacts) -> Decimal:
    """Return the least that the unit can weigh.

    What is not glass is frame, and the more of it there is, the less glass: so the lesser of glass all over, and of
    glass inside the widest frame with the lightest frame around it. Where the glass is not known, only the thinnest
    there is, in one lite, inside the widest frame.
    """
    if not opening.lites_in:
        return _inside_lb(opening)
    return min(_face_lb(opening), _inside_lb(opening) + _lightest_frame_lb(opening))


def most_lb(opening: OpeningFacts) -> Decimal:
    """Return more than the unit can weigh.

    Twice its glass all over and the heaviest frame around it. Where the glass is not known, glass as thick as any
    and that frame once.
    """
    frame_lb = _around_ft(opening) * HEAVIEST_FRAME_LB_PER_FT
    if not opening.lites_in:
        return _face_sqft(opening) * glass_lb_per_sqft(MAX_LITE_IN) + frame_lb
    return ABSURD_TIMES * (_face_lb(opening) + frame_lb)


def _glass_psf(opening: OpeningFacts) -> Decimal:
    """Return the weight of a square foot of its glass, of the thinnest there is where nobody said."""
    return glass_lb_per_sqft(sum(opening.lites_in, Decimal(0)) if opening.lites_in else THINNEST_LITE_IN)


def _face_sqft(opening: OpeningFacts) -> Decimal:
    return area_sqft(opening.unit_width_in, opening.unit_height_in)


def _inside_sqft(opening: OpeningFacts) -> Decimal:
    return area_sqft(
        max(Decimal(0), opening.unit_width_in - GLASS_NARROWER_BY_IN),
        max(Decimal(0), opening.unit_height_in - GLASS_LOWER_BY_IN),
    )


def _inside_lb(opening: OpeningFacts) -> Decimal:
    return _inside_sqft(opening) * _glass_psf(opening)


def _face_lb(opening: OpeningFacts) -> Decimal:
    return _face_sqft(opening) * _glass_psf(opening)


def _around_ft(opening: OpeningFacts) -> Decimal:
    return 2 * (opening.unit_width_in + opening.unit_height_in) / IN_PER_FT


def _lightest_frame_lb(opening: OpeningFacts) -> Decimal:
    material = opening.frame_material
    lightest = min(LIGHTEST_FRAME_LB_PER_FT.values()) if material is None else LIGHTEST_FRAME_LB_PER_FT[material]
    return _around_ft(opening) * lightest


def _least_said(opening: OpeningFacts, units: Units) -> str:
    inside = (
        f"{units.say(_inside_sqft(opening), 'sqft')} of {_glass_said(opening, units)} inside the widest frame and sash "
        f"weighs {units.say(_inside_lb(opening), 'lb')}"
    )
    if not opening.lites_in:
        return f"{inside}, and no window glass is thinner (its glass is not given)"
    if _face_lb(opening) <= _inside_lb(opening) + _lightest_frame_lb(opening):
        face = units.say(_face_sqft(opening), "sqft")
        return f"{face} of {_glass_said(opening, units)} alone weighs {units.say(_face_lb(opening), 'lb')}"
    return f"{inside}, and the lightest frame {units.say(_lightest_frame_lb(opening), 'lb')}"


def _most_said(opening: OpeningFacts, units: Units) -> str:
    frame = units.say(_around_ft(opening) * HEAVIEST_FRAME_LB_PER_FT, "lb")
    face = units.say(_face_sqft(opening), "sqft")
    if not opening.lites_in:
        glass_lb = _face_sqft(opening) * glass_lb_per_sqft(MAX_LITE_IN)
        thick = units.say(MAX_LITE_IN)
        return f"{face} of glass {thick} thick weighs {units.say(glass_lb, 'lb')}, and the heaviest frame {frame}"
    return (
        f"{face} of {_glass_said(opening, units)} weighs {units.say(_face_lb(opening), 'lb')}, the heaviest frame "
        f"{frame}, and it is more than {ABSURD_TIMES} times both"
    )


def _glass_said(opening: OpeningFacts, units: Units) -> str:
    lites = " + ".join(units.say(lite) for lite in opening.lites_in or (THINNEST_LITE_IN,))
    return f"{lites} glass"


def _kilograms_said(opening: OpeningFacts, given: Decimal) -> str:
    """Return the number in pounds as if it was in kilograms, where a unit of usual glass can weigh that.

    Source:
        Pound of 0.45359237 kg: NIST Handbook 44, appendix C.
    """
    usual = replace(opening, lites_in=opening.lites_in or USUAL_LITES_IN)
    as_kilograms_lb = half_up(CONVERSIONS["lb"].from_metric(given), to=TWO_PLACES)
    if not _inside_lb(usual) <= as_kilograms_lb <= most_lb(usual):
        return ""
    return f". If {plain(given)} was meant in kilograms, it is {US.say(as_kilograms_lb, 'lb')}"
