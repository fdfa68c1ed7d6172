"""Draw, labor and lift of 10,000 mixed openings, against the same arithmetic in one straight loop."""

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


def bare_arithmetic(pairs: Sequence[Pair]) -> Decimal:
    """Compute every quantity and every person-hour of `draw_of` and `labor_of`, once each, keeping nothing."""
    r = STARTING_RATES
    half, quarter, eighth, glass = Decimal("0.5"), Decimal("0.25"), Decimal("0.125"), Decimal("13.006")
    lite, limit, nothing = Decimal("0.125"), Decimal(51), Decimal(0)
    total = Decimal(0)
    sections: dict[Decimal, Decimal] = {}  # of the air seal, by gap: details have few, and an arc tangent is dear
    for o, d in pairs:
        ro_w, ro_h, w, h = o.ro_width_in, o.ro_height_in, o.unit_width_in, o.unit_height_in
        flange, casing = d.mounting is Mounting.FLANGE, d.mounting is Mounting.CASING
        box = d.mounting is Mounting.BOX_FRAME
        flashed = (d.mounting is Mounting.BOX_FRAME and not d.barrier_before_window) or flange or casing
        waste = 100 + d.sealant_waste_pct
        hours = r.prepare.person_h * 1
        outer = w + 2 * d.casing_width_in
        if flashed:  # strips, head membrane
            strip = d.strip_width_in
            sill = ro_w + 2 * strip
            jamb = ro_h + 2 * (strip - d.jamb_strip_short_in)
            jambs = 2 * jamb
            hours += (sill + jambs + sill) / 12 * r.flash.person_h
            if d.has_head_membrane:
                membrane = outer + 2 * d.head_membrane_lap_in
                hours += r.head_membrane.person_h * 1
        if d.head_flashing is not HeadFlashing.NONE:
            cap = outer + 2 * d.drip_cap_past_in
            hours += r.head_flashing.person_h * 1
            if d.head_flashing is HeadFlashing.BEFORE_MEMBRANE:
                counter = cap + 2 * d.head_membrane_lap_in
        if d.has_pan:
            pan = ro_w + 2 * d.pan_turn_up_in
            hours += r.pan.person_h * 1
        # beads
        three = w + 2 * h
        sealed = nothing
        along_sill = w + 2 * d.casing_width_in
        if d.sill_bead is SillBead.OPEN:
            along_sill = nothing
        elif d.sill_bead is SillBead.DRAIN_GAPS:
            along_sill -= 2 * d.sill_drain_gap_in
        if flange:
            sealed = three + along_sill
            bead = sealed * (PI * d.flange_bead_in * d.flange_bead_in / 4) * waste / 100
        elif casing:
            joint = three * (PI * d.joint_bead_in * d.joint_bead_in / 4) * waste / 100
            edge = three + 4 * d.casing_width_in + along_sill
            bead = edge * (PI * d.setting_bead_in * d.setting_bead_in / 4) * waste / 100
            sealed = three + edge
        else:
            sealed = three + along_sill
            bead = sealed * (PI * d.setting_bead_in * d.setting_bead_in / 4) * waste / 100
        if d.head_flashing is HeadFlashing.AFTER_MEMBRANE:
            bed = cap * (PI * d.setting_bead_in * d.setting_bead_in / 4) * waste / 100
            sealed += cap
        hours += sealed / 12 * r.seal.person_h
        if d.has_air_seal:
            gap_w, gap_h = (ro_w - w) / 2, (ro_h - h) / 2
            for gap in (gap_w, gap_h):
                if gap not in sections:
                    depth = max(quarter, min(gap / 2, half))
                    size = gap + eighth if gap < 3 * quarter else gap * 5 * quarter
                    radius = next(s for s in ROD_SIZES_IN if s >= size) / 2
                    middle = ((radius - gap / 2) * (radius + gap / 2)).sqrt()
                    arc = Decimal(atan2(gap / 2, middle))
                    sections[gap] = gap * (depth + radius) - gap / 2 * middle - radius * radius * arc
            air = 2 * (h * sections[gap_w] + w * sections[gap_h]) * waste / 100
            rod = nothing
            if gap_w > 0:
                rod += 2 * h
            if gap_h > 0:
                rod += 2 * w
            hours += rod / 12 * r.air_seal.person_h
        # weight and people
        lb = o.weight_lb
        if lb is None:
            frame = Decimal("2.5") if casing else Decimal("1.5")
            lb = w * h / 144 * (glass * (lite + lite)) + 2 * (w + h) / 12 * frame
        if lb * 3 <= 2 * limit * 2:
            people = 2
        else:
            people = 3
            if lb * 2 > 3 * limit:
                hours += r.rig_aid.person_h * 1
        hours += r.set_unit.person_h * people
        # anchors
        load = nothing
        if o.design_pressure_psf is not None:
            load = o.design_pressure_psf * w * h / 144 / 2
        allowable = d.fastener_allowable_lb
        if allowable is None:
            g = d.framing_specific_gravity
            allowable = 2850 * g * g * d.fastener_diameter_in * d.fastener_penetration_in * d.load_duration_factor
        if flange:
            c, s = d.flange_fastener_corner_in, d.flange_fastener_spacing_in
            n_h = n_w = 1
            x = h - 2 * c
            if x > 0:
                q, rest = divmod(x, s)
                n_h = int(q) + (rest > 0) + 1
            x = w - 2 * c
            if x > 0:
                q, rest = divmod(x, s)
                n_w = int(q) + (rest > 0) + 1
            if load:
                q, rest = divmod(load, allowable)
                n = int(q) + (rest > 0)
                if h >= w:
                    n_h = max(n_h, n)
                else:
                    n_w = max(n_w, n)
            fasteners = Decimal(2 * n_h + 2 * n_w)
            hours += r.flange.person_h * fasteners
        if d.has_straps or not flange:
            c, s = d.strap_corner_in, d.strap_spacing_in
            n_h = n_w = 1
            x = h - 2 * c
            if x > 0:
                q, rest = divmod(x, s)
                n_h = int(q) + (rest > 0) + 1
            x = w - 2 * c
            if x > 0:
                q, rest = divmod(x, s)
                n_w = int(q) + (rest > 0) + 1
            if load and (d.has_straps or not box):
                q, rest = divmod(load, d.strap_allowable_lb if d.has_straps else allowable)
                n_h = max(n_h, int(q) + (rest > 0))
            straps = 2 * n_h + n_w
            if d.has_straps:
                strap_d = Decimal(straps)
                jamb_screws = Decimal(straps * d.jamb_screws_per_strap)
                framing_screws = Decimal(straps * d.framing_screws_per_strap)
                hours += r.strap.person_h * straps
            else:
                screws = Decimal(straps)
                hours += r.screw.person_h * straps
        # shims
        e = d.shim_end_in
        n_h = n_w = 1
        x = h - 2 * e
        if x > 0:
            q, rest = divmod(x, d.jamb_shim_spacing_in)
            n_h = int(q) + (rest > 0) + 1
        x = w - 2 * e
        if x > 0:
            q, rest = divmod(x, d.sill_shim_spacing_in)
            n_w = int(q) + (rest > 0) + 1
        sill_shims, jamb_shims = Decimal(n_w), Decimal(4 * n_h)
        points = 2 * n_h + n_w + d.lock_hinge_shim_points
        if d.has_straps and d.has_shims_at_straps:
            points += straps
        hours += r.shim.person_h * points
        hours += r.clean_up.person_h * 1
        total += hours
    return total
