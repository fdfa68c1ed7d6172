"""Straps, screws and flange fasteners of one opening."""

from __future__ import annotations

from decimal import Decimal
from typing import NamedTuple

from materials.calc.lines import DrawLine, Rule, counted
from materials.calc.parts import Part
from openings.calc.anchorage import (
    Fastener,
    count_by_load,
    fastener_of,
    largest_spacing_in,
    strap_of,
    total_load_lb,
    withdrawal_lb_per_in,
)
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.figures import brief, half_up, plain
from openings.calc.geometry import (
    FLANGE,
    Points,
    anchor_points,
    anchor_points_by_spacing,
    area_sqft,
    flange_points,
    flange_points_by_spacing,
    is_held_at_jambs,
)
from openings.calc.units import THREE_PLACES, Units

NEWTONS_PER_POUND = Decimal("4.4482216")
"""Of force (NIST SP 811, appendix B)."""


class _Loaded(NamedTuple):
    """The two sides of a unit that carry its load."""

    where: str
    across_in: Decimal
    by_spacing: int


def _spaced(points: Points, *, corner_in: Decimal, spacing_in: Decimal, units: Units) -> str:
    sill = str(points.sill) if points.sill else "none"
    return (
        f"{points.jamb} on each jamb, {points.head} on the head, {sill} on the sill; first "
        f"{units.say(corner_in)} from the corner, at most {units.say(spacing_in)} apart"
    )


def _at_flange(opening: OpeningFacts, detail: DetailFacts, units: Units) -> str:
    corner_in, spacing_in = detail.flange_fastener_corner_in, detail.flange_fastener_spacing_in
    by_spacing = flange_points_by_spacing(opening, detail)
    if is_held_at_jambs(opening):
        loaded = _Loaded("each jamb, the long sides", opening.unit_width_in, by_spacing.jamb)
    else:
        loaded = _Loaded("each of head and sill, the long sides", opening.unit_height_in, by_spacing.head)
    spaced = _spaced(flange_points(opening, detail), corner_in=corner_in, spacing_in=spacing_in, units=units)
    return f"{spaced}; {_by_load(opening, loaded, _by_fastener(detail, units), units)}"


def _at_anchors(opening: OpeningFacts, detail: DetailFacts, units: Units) -> str:
    corner_in, spacing_in = detail.strap_corner_in, detail.strap_spacing_in
    by_spacing = anchor_points_by_spacing(opening, detail)
    where = "each jamb" if is_held_at_jambs(opening) else "each jamb, since none is on the sill (company default)"
    loaded = _Loaded(where, opening.unit_width_in, by_spacing.jamb)
    spaced = _spaced(anchor_points(opening, detail), corner_in=corner_in, spacing_in=spacing_in, units=units)
    one = _by_strap(detail, units) if detail.has_straps else _by_fastener(detail, units)
    return f"{spaced}; {_by_load(opening, loaded, one, units)}"


def _by_load(opening: OpeningFacts, loaded: _Loaded, one: tuple[Decimal | None, str], units: Units) -> str:
    """Return what the load asks for and which rule governs; `one` is what one anchor may take, and why."""
    allowable_lb, holds = one
    pressure_psf, width_in, height_in = opening.design_pressure_psf, opening.unit_width_in, opening.unit_height_in
    if pressure_psf is None:
        return "no design pressure is given, so only the spacing was counted"
    if allowable_lb is None:
        return (
            "only the spacing was counted: through a box frame a fastener is in shear, and the detail gives no "
            "allowable load for it"
        )
    load_lb = total_load_lb(pressure_psf=pressure_psf, width_in=width_in, height_in=height_in)
    needed = count_by_load(opening, allowable_lb)
    apart_in = largest_spacing_in(allowable_lb=allowable_lb, pressure_psf=pressure_psf, across_in=loaded.across_in)
    governs = "load" if needed > loaded.by_spacing else "spacing"
    return (
        f"load {units.say(pressure_psf, 'psf')} × {units.say(area_sqft(width_in, height_in), 'sqft')} = "
        f"{_force(load_lb, units)}, half on {loaded.where}; {_force(allowable_lb, units)} {holds}: {needed} a side, "
        f"{units.say(apart_in)} apart, where the spacing gives {loaded.by_spacing}; "
        f"{governs} governs"
    )


def _by_fastener(detail: DetailFacts, units: Units) -> tuple[Decimal | None, str]:
    """Return what one fastener may take, and why: the staged product's own figures, or what the detail assumes."""
    fastener = fastener_of(detail)
    return fastener.allowable_lb, _holds(fastener, detail, units)


def _by_strap(detail: DetailFacts, units: Units) -> tuple[Decimal | None, str]:
    strap = strap_of(detail)
    if strap.product:
        return strap.allowable_lb, f"a strap as rated, {strap.product} as staged"
    if strap.screws:
        screws = _holds(strap.screws, detail, units)
        return strap.allowable_lb, f"a strap, which {detail.framing_screws_per_strap} screws hold, each {screws}"
    return strap.allowable_lb, "a strap, as the detail assumes"


def _holds(fastener: Fastener, detail: DetailFacts, units: Units) -> str:
    if fastener.is_rated:
        return (
            f"a fastener as rated, {fastener.product} as staged"
            if fastener.product
            else ("a fastener, as the detail assumes")
        )
    kind = "nail" if fastener.is_nail else "screw"
    is_whose = f"as staged, {fastener.product}" if fastener.product else "assumed"
    return (
        f"a {kind} {_diameter(fastener.diameter_in, units)} {is_whose} (pull-out "
        f"{units.say(withdrawal_lb_per_in(detail, fastener), 'lb_per_in')} × "
        f"{units.say(fastener.penetration_in)} × load duration {plain(detail.load_duration_factor)})"
    )


def _diameter(diameter_in: Decimal, units: Units) -> str:
    """Return a diameter as fasteners have it on their box: in thousandths of an inch."""
    return units.say(diameter_in) if units.is_metric else f'{half_up(diameter_in, to=THREE_PLACES)}"'


def _force(force_lb: Decimal, units: Units) -> str:
    """Return a force with its unit; `units.say` takes pounds for a weight."""
    return f"{brief(force_lb * NEWTONS_PER_POUND)} N" if units.is_metric else units.say(force_lb, "lb")


_LOAD_SOURCE = (
    "load on two sides: AWDI manual p. 89; pull-out: NDS 12.2; load duration: company default, editable (source "
    "not checked)"
)
_ANCHOR_SOURCE = (
    f'AWDI manual p. 89 (first 8" to 24" from the corner); spacing: common practice, no source; {_LOAD_SOURCE}'
)

FLANGE_FASTENER = Rule(
    Part.FLANGE_FASTENER, _at_flange, f"company default, editable (AAMA 2400, text not checked); {_LOAD_SOURCE}"
)
STRAP = Rule(Part.STRAP, _at_anchors, _ANCHOR_SOURCE)
JAMB_SCREW = Rule(
    Part.JAMB_SCREW,
    lambda opening, detail, _units: (
        f"{anchor_points(opening, detail).total} straps × {detail.jamb_screws_per_strap} into the jamb"
    ),
    "common practice, no source",
)
FRAMING_SCREW = Rule(
    Part.FRAMING_SCREW,
    lambda opening, detail, _units: (
        f"{anchor_points(opening, detail).total} straps × {detail.framing_screws_per_strap} into the framing"
    ),
    "common practice, no source",
)
SCREW_THROUGH_FRAME = Rule(
    Part.FRAMING_SCREW,
    lambda opening, detail, units: f"through casing or frame, {_at_anchors(opening, detail, units)}",
    _ANCHOR_SOURCE,
)

CAUTION = (
    "Spacing by common practice; wind load only where a design pressure is given, and then by a simple rule: where "
    "local code, the manufacturer, a product approval or an engineer asks for more, that rules. Anchorage is to be "
    "confirmed by the product approval and by licensed practice."
)


def anchor_lines(opening: OpeningFacts, detail: DetailFacts) -> list[DrawLine]:
    """Return what holds the unit: flange fasteners, straps with their screws, or screws through the frame.

    A flange is always fastened through, and strapped as well where the detail has straps. Casing and box
    frame are strapped, or without straps screwed through at the same points.
    """
    lines = []
    if detail.mounting is FLANGE:
        lines.append(counted(FLANGE_FASTENER, flange_points(opening, detail).total, opening, detail))
    if detail.has_straps:
        lines += _strap_lines(opening, detail)
    elif detail.mounting is not FLANGE:
        lines.append(counted(SCREW_THROUGH_FRAME, anchor_points(opening, detail).total, opening, detail))
    return lines


def _strap_lines(opening: OpeningFacts, detail: DetailFacts) -> list[DrawLine]:
    straps = anchor_points(opening, detail).total
    lines = [counted(STRAP, straps, opening, detail)]
    if detail.jamb_screws_per_strap:
        lines.append(counted(JAMB_SCREW, straps * detail.jamb_screws_per_strap, opening, detail))
    if detail.framing_screws_per_strap:
        lines.append(counted(FRAMING_SCREW, straps * detail.framing_screws_per_strap, opening, detail))
    return lines
