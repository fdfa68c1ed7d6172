"""Draw, labor and lift of 10,000 mixed openings, against the same arithmetic bare."""

from __future__ import annotations

import random
from collections.abc import Sequence
from decimal import Decimal
from math import atan2

from config.bench.sample import GAP_IN, sides
from config.bench.timing import Row, compare
from materials.calc.draw import draw_of
from materials.calc.joint import ROD_SIZES_IN
from materials.calc.sealant import PI
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.labor import labor_of
from openings.calc.labor_rates import STARTING_RATES
from openings.calc.starting_details import STARTING_DETAILS
from openings.calc.terms import HeadFlashing, Mounting, SillBead
from openings.calc.unit_lift import team_to_set

OPENINGS = 10_000

Pair = tuple[OpeningFacts, DetailFacts]


def draw_row() -> Row:
    """Measure both computations, each opening's lines let go before the next, as totals read them."""
    pairs = mixed_pairs(OPENINGS)
    return compare(
        name=f"draw, labor and lift of {OPENINGS:,} openings",
        reference="the bare arithmetic in a loop",
        aim=3,
        ours=lambda: calculate(pairs),
        bare=lambda: bare_arithmetic(pairs),
    )


def calculate(pairs: Sequence[Pair]) -> None:
    """Compute draw, labor and lift of each opening, its lines let go before the next."""
    for opening, detail in pairs:
        draw_of(opening, detail)
        labor_of(opening, detail)
        team_to_set(opening, mounting=detail.mounting)


def mixed_pairs(count: int) -> list[Pair]:
    """Return so many invented openings with the starting details in turn; a third have a design pressure."""
    chance = random.Random(7)  # noqa: S311 (chance of no secret)
    details = list(STARTING_DETAILS.values())
    pairs = []
    for number in range(count):
        width_in, height_in = sides(chance)
        opening = OpeningFacts(
            ro_width_in=width_in,
            ro_height_in=height_in,
            unit_width_in=width_in - GAP_IN,
            unit_height_in=height_in - GAP_IN,
            weight_lb=Decimal(90) if number % 4 == 0 else None,
            design_pressure_psf=Decimal(40) if number % 3 == 0 else None,
        )
        pairs.append((opening, details[number % len(details)]))
    return pairs


RATES = STARTING_RATES
HALF, QUARTER, EIGHTH = Decimal("0.5"), Decimal("0.25"), Decimal("0.125")
LITE_IN, GLASS_PSF_PER_IN, LIFT_LIMIT_LB, NOTHING = Decimal("0.125"), Decimal("13.006"), Decimal(51), Decimal(0)


def bare_arithmetic(pairs: Sequence[Pair]) -> Decimal:
    """Compute every quantity and every person-hour of `draw_of` and `labor_of`, once each, keeping nothing."""
    total = NOTHING
    sections: dict[Decimal, Decimal] = {}  # of the air seal, by gap: details have few, and an arc tangent is dear
    for opening, detail in pairs:
        total += RATES.prepare.person_h * 1 + RATES.clean_up.person_h * 1
        total += _flashing(opening, detail) + _beads(opening, detail)
        if detail.has_air_seal:
            total += _air_seal(opening, detail, sections)
        total += _setting(opening, detail)
        allowable_lb, load_lb = _allowable_lb(detail), _load_lb(opening)
        if detail.mounting is Mounting.FLANGE:
            total += _flange(opening, detail, load_lb=load_lb, allowable_lb=allowable_lb)
        straps = 0
        if detail.has_straps or detail.mounting is not Mounting.FLANGE:
            straps, hours = _straps(opening, detail, load_lb=load_lb, allowable_lb=allowable_lb)
            total += hours
        total += _shims(opening, detail, straps=straps)
    return total


def _flashing(o: OpeningFacts, d: DetailFacts) -> Decimal:
    """Return the hours of strips, head membrane, drip cap and pan."""
    hours = NOTHING
    outer = o.unit_width_in + 2 * d.casing_width_in
    if d.mounting is not Mounting.BOX_FRAME or not d.barrier_before_window:
        strip = d.strip_width_in
        sill = o.ro_width_in + 2 * strip
        jambs = 2 * (o.ro_height_in + 2 * (strip - d.jamb_strip_short_in))
        head = sill if d.has_head_strip else NOTHING
        hours += (sill + jambs + head) / 12 * RATES.flash.person_h
        if d.has_head_membrane:
            membrane = outer + 2 * d.head_membrane_lap_in
            hours += RATES.head_membrane.person_h * 1
    if d.head_flashing is not HeadFlashing.NONE:
        cap = outer + 2 * d.drip_cap_past_in
        hours += RATES.head_flashing.person_h * 1
        if d.head_flashing is HeadFlashing.UNDER_SECOND_STRIP:
            counter = cap + 2 * d.head_membrane_lap_in
    if d.has_pan:
        pan = o.ro_width_in + 2 * d.pan_turn_up_in
        hours += RATES.pan.person_h * 1
    return hours


def _beads(o: OpeningFacts, d: DetailFacts) -> Decimal:
    """Return the hours of all beads but the air seal."""
    waste = 100 + d.sealant_waste_pct
    three = o.unit_width_in + 2 * o.unit_height_in
    outer = o.unit_width_in + 2 * d.casing_width_in
    along_sill = outer
    if d.sill_bead is SillBead.OPEN:
        along_sill = NOTHING
    elif d.sill_bead is SillBead.DRAIN_GAPS:
        along_sill -= 2 * d.sill_drain_gap_in
    sealed = three + along_sill
    if d.mounting is Mounting.FLANGE:
        bead = _bead(sealed, d.flange_bead_in, waste)
    elif d.mounting is Mounting.CASING:
        joint = _bead(three, d.joint_bead_in, waste)
        around = three + 4 * d.casing_width_in + along_sill
        bead = _bead(around, d.setting_bead_in, waste)
        sealed = three + around
    else:
        bead = _bead(sealed, d.setting_bead_in, waste)
    if d.head_flashing is HeadFlashing.AFTER_MEMBRANE:
        cap = outer + 2 * d.drip_cap_past_in
        bed = _bead(cap, d.setting_bead_in, waste)
        sealed += cap
    return sealed / 12 * RATES.seal.person_h


def _bead(length_in: Decimal, across_in: Decimal, waste: Decimal) -> Decimal:
    return length_in * (PI * across_in * across_in / 4) * waste / 100


def _air_seal(o: OpeningFacts, d: DetailFacts, sections: dict[Decimal, Decimal]) -> Decimal:
    w, h = o.unit_width_in, o.unit_height_in
    gap_w, gap_h = (o.ro_width_in - w) / 2, (o.ro_height_in - h) / 2
    for gap in (gap_w, gap_h):
        if gap not in sections:
            depth = max(QUARTER, min(gap / 2, HALF))
            size = gap + EIGHTH if gap < 3 * QUARTER else gap * 5 * QUARTER
            radius = next(s for s in ROD_SIZES_IN if s >= size) / 2
            middle = ((radius - gap / 2) * (radius + gap / 2)).sqrt()
            arc = Decimal(atan2(gap / 2, middle))
            sections[gap] = gap * (depth + radius) - gap / 2 * middle - radius * radius * arc
    air = 2 * (h * sections[gap_w] + w * sections[gap_h]) * (100 + d.sealant_waste_pct) / 100
    rod = NOTHING
    if gap_w > 0:
        rod += 2 * h
    if gap_h > 0:
        rod += 2 * w
    return rod / 12 * RATES.air_seal.person_h


def _setting(o: OpeningFacts, d: DetailFacts) -> Decimal:
    """Return the hours to set the unit, by its weight and the people whom that takes."""
    w, h = o.unit_width_in, o.unit_height_in
    lb = o.weight_lb
    if lb is None:
        frame = Decimal("2.5") if d.mounting is Mounting.CASING else Decimal("1.5")
        lb = w * h / 144 * (GLASS_PSF_PER_IN * (LITE_IN + LITE_IN)) + 2 * (w + h) / 12 * frame
    if lb * 3 <= 2 * LIFT_LIMIT_LB * 2:
        return RATES.set_unit.person_h * 2
    hours = RATES.set_unit.person_h * 3
    return hours + RATES.rig_aid.person_h * 1 if lb * 2 > 3 * LIFT_LIMIT_LB else hours


def _allowable_lb(d: DetailFacts) -> Decimal:
    if d.fastener_allowable_lb is not None:
        return d.fastener_allowable_lb
    g = d.framing_specific_gravity
    return 2850 * g * g * d.fastener_diameter_in * d.fastener_penetration_in * d.load_duration_factor


def _load_lb(o: OpeningFacts) -> Decimal:
    if o.design_pressure_psf is None:
        return NOTHING
    return o.design_pressure_psf * o.unit_width_in * o.unit_height_in / 144 / 2


def _flange(o: OpeningFacts, d: DetailFacts, *, load_lb: Decimal, allowable_lb: Decimal) -> Decimal:
    """Return the hours of the fasteners of a flange."""
    w, h = o.unit_width_in, o.unit_height_in
    along_h = _spaced(h - 2 * d.flange_fastener_corner_in, d.flange_fastener_spacing_in)
    along_w = _spaced(w - 2 * d.flange_fastener_corner_in, d.flange_fastener_spacing_in)
    if load_lb and h >= w:
        along_h = max(along_h, _needed(load_lb, allowable_lb))
    elif load_lb:
        along_w = max(along_w, _needed(load_lb, allowable_lb))
    return RATES.flange.person_h * Decimal(2 * along_h + 2 * along_w)


def _straps(o: OpeningFacts, d: DetailFacts, *, load_lb: Decimal, allowable_lb: Decimal) -> tuple[int, Decimal]:
    """Return how many straps, or screws in their stead, and their hours."""
    along_h = _spaced(o.unit_height_in - 2 * d.strap_corner_in, d.strap_spacing_in)
    along_w = _spaced(o.unit_width_in - 2 * d.strap_corner_in, d.strap_spacing_in)
    if load_lb and (d.has_straps or d.mounting is not Mounting.BOX_FRAME):
        along_h = max(along_h, _needed(load_lb, d.strap_allowable_lb if d.has_straps else allowable_lb))
    straps = 2 * along_h + along_w
    if not d.has_straps:
        screws = Decimal(straps)
        return straps, RATES.screw.person_h * straps
    jamb_screws = Decimal(straps * d.jamb_screws_per_strap)
    framing_screws = Decimal(straps * d.framing_screws_per_strap)
    return straps, RATES.strap.person_h * Decimal(straps)


def _shims(o: OpeningFacts, d: DetailFacts, *, straps: int) -> Decimal:
    h, end, apart = o.unit_height_in, d.shim_end_in, d.jamb_shim_spacing_in
    along_h = _spaced(h - 2 * end, apart)
    along_w = _spaced(o.unit_width_in - 2 * end, d.sill_shim_spacing_in)
    if d.has_straps and d.has_shims_at_straps:
        at_jamb = (straps - _spaced(o.unit_width_in - 2 * d.strap_corner_in, d.strap_spacing_in)) // 2
        corner = d.strap_corner_in if h > 2 * d.strap_corner_in else h / (2 * at_jamb)
        between = _needed((h - 2 * corner) / (at_jamb - 1), apart) - 1 if at_jamb > 1 else 0
        at_end = _needed(corner - end, apart) if corner - end >= 3 * HALF else 0
        along_h = 2 * at_end + (at_jamb - 1) * between
    sill_shims, jamb_shims = Decimal(along_w), Decimal(4 * along_h)
    points = 2 * along_h + along_w + d.lock_hinge_shim_points
    if d.has_straps and d.has_shims_at_straps:
        points += straps
    return RATES.shim.person_h * points


def _spaced(length_in: Decimal, spacing_in: Decimal) -> int:
    """Return how many stand along a length, one at each end and none farther apart than the spacing."""
    if length_in <= 0:
        return 1
    whole, rest = divmod(length_in, spacing_in)
    return int(whole) + (rest > 0) + 1


def _needed(load_lb: Decimal, allowable_lb: Decimal) -> int:
    whole, rest = divmod(load_lb, allowable_lb)
    return int(whole) + (rest > 0)
