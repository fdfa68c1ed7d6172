"""Rules of the building code, and of makers, that are worth a look at one opening.

Advice only: the figures are those of the edition named beside each. The code adopted on site may have others, and
later editions number the sections otherwise.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from decimal import Decimal

from jobs.calc.say import field_name
from jobs.errors import Fault
from openings.calc.advice import Advice, Answer
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.geometry import area_sqft
from openings.calc.operation import WHOLE_TEXT, WORDS
from openings.calc.rules import Part, asked_where_all, claim, compare, say, say_missing
from openings.calc.units import US, Units
from openings.errors import BadLength

CAUTION = (
    "Advice only, from the facts given. The code adopted on site, the authority having jurisdiction, the maker's "
    "instructions and licensed practice rule; check the adopted edition before ordering or building."
)

LEAD_PAINT_BEFORE = 1978
"""Paint in a building from before that year counts as lead paint until a test says otherwise."""

ESCAPE_SQFT, GRADE_FLOOR_ESCAPE_SQFT = Decimal("5.7"), Decimal("5.0")
ESCAPE_WIDTH_IN, ESCAPE_HEIGHT_IN, ESCAPE_SILL_IN = Decimal(20), Decimal(24), Decimal(44)
GRADE_FLOOR_WITHIN_IN = Decimal(44)
FALL_DROP_IN, FALL_SILL_IN, FALL_SPHERE_IN = Decimal(72), Decimal(24), Decimal(4)
LARGE_PANE_SQFT, LOW_PANE_IN, PANE_TOP_IN = Decimal(9), Decimal(18), Decimal(36)
DOOR_REACH_IN, WALK_REACH_IN, GLASS_BELOW_IN = Decimal(24), Decimal(36), Decimal(60)
LEVEL_LAP_IN, UPRIGHT_LAP_IN = Decimal(2), Decimal(6)
ENGINEER_ABOVE_IN = Decimal(35 * 12)


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteFacts:
    """Where an opening lies and what it must do; None where nobody said.

    Args:
        sill_above_floor_in: above the floor, or above what one stands on there, such as a tub.
        sill_above_grade_in: above the ground or whatever lies below outside; negative in a well.
        clear_width_in, clear_height_in: what the unit leaves free when open.
        clear_sill_above_floor_in: bottom of that clear opening; where unknown the sill stands for it.
        is_egress: must serve as emergency escape.
        is_near_door: a pane within 24 in of a door's edge.
        is_near_walkway: a walking surface within 36 in.
        pane_width_in, pane_height_in: the largest pane; where unknown the unit stands for it, which is larger.

    Raises:
        BadLength: a measure is negative.
    """

    sill_above_floor_in: Decimal | None = None
    sill_above_grade_in: Decimal | None = None
    clear_width_in: Decimal | None = None
    clear_height_in: Decimal | None = None
    clear_sill_above_floor_in: Decimal | None = None
    is_egress: bool | None = None
    is_grade_floor: bool | None = None
    is_near_door: bool | None = None
    is_near_walkway: bool | None = None
    is_wet_area: bool | None = None
    pane_width_in: Decimal | None = None
    pane_height_in: Decimal | None = None
    built_year: int | None = None

    def __post_init__(self) -> None:
        measures = {field.name: getattr(self, field.name) for field in fields(self) if field.name.endswith("_in")}
        faults = [
            Fault(
                field=name,
                value=str(figure),
                detail=f"the {field_name(name)} is {US.say(figure)}; it must not be negative",
            )
            for name, figure in measures.items()
            if figure is not None and figure < 0 and name != "sill_above_grade_in"
        ]
        if faults:
            raise BadLength("; ".join(fault.detail for fault in faults), faults=faults)


_SAFETY_GLASS = "order safety glass and look for its label"


def code_advice(
    site: SiteFacts, opening: OpeningFacts, detail: DetailFacts, *, units: Units = US
) -> tuple[Advice, ...]:
    """Return the advice of each rule on this opening, every rule once and always in the same order.

    A rule that surely asks nothing here is MET and says why; one that lacks facts names their fields. Whether the
    glass is safety glass or a guard is fitted is not known here, so rules that ask for them end in TAKE_CARE.
    """
    return (
        _escape(site, opening, units),
        _fall(site, opening, units),
        _near_door(site, units),
        _large_low_pane(site, opening, units),
        _wet_area(site, units),
        _laps(units),
        _stucco(detail),
        _lead_paint(site),
        _height(site, units),
    )


def _escape(site: SiteFacts, opening: OpeningFacts, units: Units) -> Advice:
    answer, reason = _escape_answer(
        site,
        (
            _opens(opening),
            _clear_area(site, units),
            compare("height", "clear_height_in", site.clear_height_in, "at least", ESCAPE_HEIGHT_IN, units=units),
            compare("width", "clear_width_in", site.clear_width_in, "at least", ESCAPE_WIDTH_IN, units=units),
            _clear_bottom(site, "at most", ESCAPE_SILL_IN, units),
        ),
    )
    return Advice(
        rule="emergency escape",
        answer=answer,
        reason=reason,
        source="IRC 2015 R310.2.1, R310.2.2 (section numbers not checked; figures: Lincoln Windows, clear openings)",
    )


def _escape_answer(site: SiteFacts, parts: tuple[Part, ...]) -> tuple[Answer, str]:
    """Return the answer and its reason: all conditions must hold where the opening must serve for escape."""
    failed = [part for part in parts if part.holds is False]
    unknown = [part for part in parts if part.holds is None]
    if site.is_egress is False:
        return Answer.MET, "not asked here: need not serve as emergency escape"
    if not failed and not unknown:
        return Answer.MET, say(parts)
    if site.is_egress is None and failed:
        return (
            Answer.CANNOT_TELL,
            f"need info: emergency escape; for that it would not do: {say(failed)}",
        )
    if failed:
        return Answer.NOT_MET, say(failed)
    asked = claim("is_egress", site.is_egress, "emergency escape")
    return Answer.CANNOT_TELL, say_missing([*([] if asked.holds else [asked]), *unknown])


def _clear_area(site: SiteFacts, units: Units) -> Part:
    width_in, height_in = site.clear_width_in, site.clear_height_in
    if width_in is None or height_in is None:
        sides = {"clear_width_in": width_in, "clear_height_in": height_in}
        return Part(None, missing=tuple(name for name, side_in in sides.items() if side_in is None))
    is_grade_floor, clear_sqft = _is_grade_floor(site), area_sqft(width_in, height_in)
    part = compare(
        f"clear {units.bare(width_in)} × {units.say(height_in)} =",
        "clear_width_in",
        clear_sqft,
        "at least",
        GRADE_FLOOR_ESCAPE_SQFT if is_grade_floor else ESCAPE_SQFT,
        measure="sqft",
        units=units,
    )
    if is_grade_floor is None and GRADE_FLOOR_ESCAPE_SQFT <= clear_sqft < ESCAPE_SQFT:
        return part._replace(holds=None, missing=("is_grade_floor",))
    return part


def _is_grade_floor(site: SiteFacts) -> bool | None:
    """Return whether the opening is at grade floor: sill within 44 in of the ground outside (IRC R202, from memory)."""
    if site.is_grade_floor is None and site.sill_above_grade_in is not None:
        return abs(site.sill_above_grade_in) <= GRADE_FLOOR_WITHIN_IN
    return site.is_grade_floor


def _clear_bottom(site: SiteFacts, relation: str, limit_in: Decimal, units: Units) -> Part:
    """Return the condition on the bottom of the clear opening; where it is not given, the sill counts."""
    bottom_in, name = site.clear_sill_above_floor_in, "clear opening above floor"
    if bottom_in is None:
        bottom_in, name = site.sill_above_floor_in, "sill above floor"
    return compare(name, "sill_above_floor_in", bottom_in, relation, limit_in, units=units)


def _opens(opening: OpeningFacts) -> Part:
    """Return the condition that the unit opens: it does unless its operation is fixed and nothing else (our choice)."""
    text = opening.operation.strip().casefold()
    is_fixed = WORDS.get(text, WHOLE_TEXT.get(text, text)) == "fixed"
    otherwise = "the unit opens" if text else "operation not given, taken to open"
    return Part(not is_fixed, "a fixed unit does not open" if is_fixed else otherwise)


def _fall(site: SiteFacts, opening: OpeningFacts, units: Units) -> Advice:
    return asked_where_all(
        "window fall protection",
        (
            _opens(opening),
            _above_grade(site, FALL_DROP_IN, units),
            _clear_bottom(site, "below", FALL_SILL_IN, units),
        ),
        then=f"let no {units.say(FALL_SPHERE_IN)} sphere pass, or fit a device after ASTM F2090",
        source='IRC 2012 R312.2.1; the IBC sets 36" for the 24" above the floor (trade page; check the adopted code)',
    )


def _near_door(site: SiteFacts, units: Units) -> Advice:
    return asked_where_all(
        "safety glazing near doors",
        (
            claim("is_near_door", site.is_near_door, f"a pane within {units.say(DOOR_REACH_IN)} of a door's edge"),
            _pane_bottom(site, GLASS_BELOW_IN, units),
        ),
        then=_SAFETY_GLASS,
        source="IRC 2015 R308.4.2",
    )


def _large_low_pane(site: SiteFacts, opening: OpeningFacts, units: Units) -> Advice:
    """Return the advice on a large low pane; where sill and top of the unit do not count, no pane does."""
    sill_in = site.sill_above_floor_in
    top_in = None if sill_in is None else sill_in + opening.unit_height_in
    return asked_where_all(
        "safety glazing of large low panes",
        (
            _pane_area(site, opening, units),
            _pane_bottom(site, LOW_PANE_IN, units),
            compare("top above floor", "sill_above_floor_in", top_in, "above", PANE_TOP_IN, units=units),
            claim("is_near_walkway", site.is_near_walkway, f"a walking surface within {units.say(WALK_REACH_IN)}"),
        ),
        then=_SAFETY_GLASS,
        source="IRC 2015 R308.4.3: all four together",
    )


def _pane_area(site: SiteFacts, opening: OpeningFacts, units: Units) -> Part:
    width_in, height_in, name = site.pane_width_in, site.pane_height_in, "pane"
    if width_in is None or height_in is None:
        width_in, height_in, name = opening.unit_width_in, opening.unit_height_in, "pane, at most the unit:"
    return compare(
        f"{name} {units.bare(width_in)} × {units.say(height_in)} =",
        "pane_width_in",
        area_sqft(width_in, height_in),
        "above",
        LARGE_PANE_SQFT,
        measure="sqft",
        units=units,
    )


def _pane_bottom(site: SiteFacts, limit_in: Decimal, units: Units) -> Part:
    return compare("sill above floor", "sill_above_floor_in", site.sill_above_floor_in, "below", limit_in, units=units)


def _wet_area(site: SiteFacts, units: Units) -> Advice:
    return asked_where_all(
        "safety glazing in wet areas",
        (claim("is_wet_area", site.is_wet_area, "a wet area"), _pane_bottom(site, GLASS_BELOW_IN, units)),
        then=_SAFETY_GLASS,
        source="IRC 2015 R308.4.5 (text not checked; check the adopted code)",
    )


def _laps(units: Units) -> Advice:
    return Advice(
        rule="WRB laps",
        answer=Answer.TAKE_CARE,
        reason=(
            f"upper courses lap over lower ones by at least {units.say(LEVEL_LAP_IN)}, "
            f"upright joints by at least {units.say(UPRIGHT_LAP_IN)}"
        ),
        source="IRC 2015 R703.2",
    )


def _stucco(detail: DetailFacts) -> Advice:
    return asked_where_all(
        "two layers behind stucco",
        (claim("is_behind_stucco", detail.is_behind_stucco, "behind stucco"),),
        then=(
            "over wood sheathing two layers as good as Grade D paper, each laid by itself, the flashing led between "
            "them; or one of 60 minutes behind a drainage space"
        ),
        source="IRC 2015 R703.7.3",
    )


def _lead_paint(site: SiteFacts) -> Advice:
    year = site.built_year
    is_old = None if year is None else year < LEAD_PAINT_BEFORE
    return asked_where_all(
        "lead-safe work",
        (Part(is_old, f"built {year}, {'' if is_old else 'not '}before {LEAD_PAINT_BEFORE}", ("built_year",)),),
        then="presume lead paint until a test says otherwise; certified people work lead-safe",
        source="40 CFR part 745 subpart E",
    )


def _height(site: SiteFacts, units: Units) -> Advice:
    return asked_where_all(
        "height above ground",
        (_above_grade(site, ENGINEER_ABOVE_IN, units),),
        then="an architect or engineer designs the installation",
        source="JELD-WEN JII023, JII032",
    )


def _above_grade(site: SiteFacts, limit_in: Decimal, units: Units) -> Part:
    return compare("sill above grade", "sill_above_grade_in", site.sill_above_grade_in, "above", limit_in, units=units)
