"""Where strips, beads, fasteners and shims run and stand on an opening.

The draw and the labor both count from here, so that each rule stands once.
"""

from __future__ import annotations

from decimal import Decimal
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

from openings.calc.anchorage import (
    SQIN_PER_SQFT,
    anchor_allowable_lb,
    anchor_product,
    count_by_load,
    fastener_of,
)
from openings.calc.facts import DetailFacts, OpeningFacts, require_fit
from openings.calc.figures import ceil_ratio
from openings.calc.terms import HeadFlashing, Mounting, SillBead

FLANGE, CASING, BOX_FRAME = Mounting.FLANGE, Mounting.CASING, Mounting.BOX_FRAME
OPEN, DRAIN_GAPS = SillBead.OPEN, SillBead.DRAIN_GAPS
"""Looked up once: in Python 3.11 reading a member off its enum costs as much as two multiplications."""

IN_PER_FT = 12

SHIM_WIDTH_IN = Decimal("1.5")
"""A shim nearer to a strap than it is wide is the strap's shim (our choice)."""

LEAST_HEAD_CUT_IN, HEAD_CUT_STEP_IN = Decimal(6), Decimal("0.25")
"""The cuts at the head of the barrier are 6 in at least (JLC, flashing a window in new construction)."""

NOTHING = Decimal(0)


class StripRuns(NamedTuple):
    """Lengths of the flashing strips around one opening, inches."""

    sill_in: Decimal
    jamb_in: Decimal
    head_in: Decimal

    @property
    def total_in(self) -> Decimal:
        """Return the length of all four strips: one sill, two jambs, one head."""
        return self.sill_in + 2 * self.jamb_in + self.head_in


class Points(NamedTuple):
    """How many points of support or fastening stand on each side; `jamb` is one of two."""

    jamb: int
    head: int = 0
    sill: int = 0

    @property
    def total(self) -> int:
        """Return the points on all sides together."""
        return 2 * self.jamb + self.head + self.sill


def area_sqft(width_in: Decimal, height_in: Decimal) -> Decimal:
    """Return the area of a rectangle in square feet.

    >>> area_sqft(Decimal(48), Decimal(60))
    Decimal('20')
    """
    return width_in * height_in / SQIN_PER_SQFT


@lru_cache(maxsize=4096)
def count_by_spacing(*, length_in: Decimal, corner_in: Decimal, spacing_in: Decimal) -> int:
    """Return how many points stand along a side: one near each corner, none further apart than the spacing.

    Args:
        length_in: the side, corner to corner.
        corner_in: from each corner to the first point, >= 0.
        spacing_in: largest distance between neighbors, > 0.

    Returns:
        ceil((length - 2 × corner) / spacing) + 1, so at least 2; 1 where the side is too short for two.
        Remembered, since the units of a job have few sizes and draw and labor both ask.
    """
    between_in = length_in - 2 * corner_in
    if between_in <= 0:
        return 1
    whole, rest = divmod(between_in, spacing_in)
    return int(whole) + (2 if rest else 1)


def is_flashed_here(detail: DetailFacts) -> bool:
    """Return whether the strips are part of this installation.

    A box frame in a wall that has its barrier already goes into an opening that was flashed when the barrier
    went on; every other unit gets its strips with it (common practice, no source).
    """
    return detail.mounting is not BOX_FRAME or not detail.barrier_before_window


def strip_runs(opening: OpeningFacts, detail: DetailFacts) -> StripRuns:
    """Return the lengths of sill, jamb and head strip; both jambs are alike.

    >>> from openings.calc.starting_details import STARTING_DETAILS
    >>> window = OpeningFacts(
    ...     ro_width_in=Decimal(36), ro_height_in=Decimal(54), unit_width_in=Decimal(35), unit_height_in=Decimal(53)
    ... )
    >>> strip_runs(window, STARTING_DETAILS["flange over, wrap after"])
    StripRuns(sill_in=Decimal('60'), jamb_in=Decimal('77.0'), head_in=Decimal('60'))

    Source:
        Sill and head, rough-opening width + 2 × strip width: AAMA 2400-10 note 3.
        Jamb, rough-opening height + 2 × (strip width - 1/2), so that it stops short of the far edges of sill and
        head strip: AAMA 2400, from memory.
    """
    across_in = opening.ro_width_in + 2 * detail.strip_width_in
    jamb_in = opening.ro_height_in + 2 * (detail.strip_width_in - detail.jamb_strip_short_in)
    return StripRuns(across_in, jamb_in, across_in)


def outer_width_in(opening: OpeningFacts, detail: DetailFacts) -> Decimal:
    """Return the width of the unit over its casing; without casing, of the unit."""
    return opening.unit_width_in + 2 * detail.casing_width_in


def head_membrane_in(opening: OpeningFacts, detail: DetailFacts) -> Decimal:
    """Return the length of the membrane over the head: past casing or unit by the lap at each side."""
    return outer_width_in(opening, detail) + 2 * detail.head_membrane_lap_in


def pan_width_in(detail: DetailFacts) -> Decimal:
    """Return how wide the pan membrane must be: over the sill, up the back dam and down the face over the sill strip.

    Source:
        A pan dams at its back and laps over the drainage plane below: Building Science Corp. Info-302; the sum:
        geometry.
    """
    return detail.sill_depth_in + detail.back_dam_in + detail.pan_front_lap_in


def laps_over_sill_strip(detail: DetailFacts) -> bool:
    """Return whether the pan is slit at its front corners and folded down over a sill strip."""
    return detail.has_pan and detail.pan_front_lap_in > 0 and is_flashed_here(detail)


CAP_LEG_IN = Decimal("1.5")
"""How tall the upright leg of a drip cap is; no detail says it, so it is our choice."""

ROOT_OF_2 = Decimal("1.41422")


def head_flap_in(detail: DetailFacts) -> Decimal:
    """Return how high the flap of a WRB must open over the head, so that all flashing there fits under it.

    Its cuts rise at 45°, so that it is as much wider at each side as it is high: it must reach the upper corners of
    every piece, the tops of the jamb strips among them, whichever lies further from the rough opening.
    """
    over_in, past_in = detail.casing_width_in, detail.casing_width_in + detail.head_membrane_lap_in
    if detail.head_flashing is not HeadFlashing.NONE:
        over_in += CAP_LEG_IN / 2
    reaches = [detail.strip_width_in]
    if has_head_strip(detail):
        reaches.append(over_in + detail.strip_width_in)
    if has_head_membrane(detail):
        reaches += [over_in + detail.head_membrane_width_in, past_in]
    if has_second_strip(detail):
        reaches += [over_in + detail.strip_width_in, past_in + detail.drip_cap_past_in]
    return max(reaches)


def head_cut_in(detail: DetailFacts) -> Decimal:
    """Return how long the cuts at the head of the barrier are, up to the next 1/4 in.

    At 45° from a top corner of the rough opening a cut opens its length over √2: shorter cuts leave no room for what
    lies at the head under the flap.

    Source:
        45° and 6 in at least: JLC, flashing a window in new construction; the length: geometry.
    """
    steps = ceil_ratio(head_flap_in(detail) * ROOT_OF_2, HEAD_CUT_STEP_IN)
    return max(LEAST_HEAD_CUT_IN, steps * HEAD_CUT_STEP_IN)


def drip_cap_in(opening: OpeningFacts, detail: DetailFacts) -> Decimal:
    """Return the length of the metal head flashing: past the trim at both sides."""
    return outer_width_in(opening, detail) + 2 * detail.drip_cap_past_in


def three_sides_in(opening: OpeningFacts, _detail: DetailFacts) -> Decimal:
    """Return the length of a bead along both jambs and the head of the frame; the sill is left to drain."""
    return opening.unit_width_in + 2 * opening.unit_height_in


def flashed_in(opening: OpeningFacts, detail: DetailFacts) -> Decimal:
    """Return the length of the strips that this detail has around one opening, without one over a drip cap's leg."""
    if not is_flashed_here(detail):
        return NOTHING
    runs = strip_runs(opening, detail)
    return runs.total_in if detail.has_head_strip else runs.total_in - runs.head_in


def setting_edge_in(opening: OpeningFacts, detail: DetailFacts) -> Decimal:
    """Return the length of the bead in which the unit is set: along the frame, or the outer edge of its casing.

    Two jambs and the head, and along the sill what the detail says: nothing, all but a gap at each end, or all.

    Source:
        Sill open: Building Science Corp. Info-302. Gaps of 1/2 in: Pella 80WW0101.
    """
    across_in = opening.unit_width_in
    jambs_in = 2 * opening.unit_height_in
    if detail.mounting is CASING:
        across_in += 2 * detail.casing_width_in
        jambs_in += 2 * detail.casing_width_in
    open_in = across_in + jambs_in
    if detail.sill_bead is OPEN:
        return open_in
    if detail.sill_bead is DRAIN_GAPS:
        return open_in + max(NOTHING, across_in - 2 * detail.sill_drain_gap_in)
    return open_in + across_in


def is_bedded_drip_cap(detail: DetailFacts) -> bool:
    """Return whether the metal head flashing goes on over the membrane and is bedded in sealant."""
    return detail.head_flashing is HeadFlashing.AFTER_MEMBRANE


def has_second_strip(detail: DetailFacts) -> bool:
    """Return whether a second strip covers the upright leg of the metal head flashing."""
    return detail.head_flashing is HeadFlashing.UNDER_SECOND_STRIP


def has_head_membrane(detail: DetailFacts) -> bool:
    """Return whether a membrane over the head is part of this installation."""
    return detail.has_head_membrane and is_flashed_here(detail)


def has_head_strip(detail: DetailFacts) -> bool:
    """Return whether a strip above everything at the head is part of this installation."""
    return detail.has_head_strip and is_flashed_here(detail)


def is_cap_under_head_strip(detail: DetailFacts) -> bool:
    """Return whether it is the head strip that covers the upright leg of the metal head flashing."""
    is_first = detail.head_flashing is HeadFlashing.BEFORE_MEMBRANE
    return is_first and has_head_strip(detail) and not has_head_membrane(detail)


def second_strip_in(opening: OpeningFacts, detail: DetailFacts) -> Decimal:
    """Return the length of the strip over the upright leg of the metal head flashing: past it at both sides."""
    return drip_cap_in(opening, detail) + 2 * detail.head_membrane_lap_in


def jamb_gap_in(opening: OpeningFacts) -> Decimal:
    """Return the gap between frame and framing at each jamb, the unit centered."""
    return (opening.ro_width_in - opening.unit_width_in) / 2


def head_gap_in(opening: OpeningFacts) -> Decimal:
    """Return the gap between frame and framing at head and sill, the unit centered."""
    return (opening.ro_height_in - opening.unit_height_in) / 2


def air_seal_in(opening: OpeningFacts) -> Decimal:
    """Return the length of the seal around the unit from inside: every side that has a gap."""
    run_in = Decimal(0)
    if opening.ro_width_in > opening.unit_width_in:
        run_in += 2 * opening.unit_height_in
    if opening.ro_height_in > opening.unit_height_in:
        run_in += 2 * opening.unit_width_in
    return run_in


def anchor_points(opening: OpeningFacts, detail: DetailFacts) -> Points:
    """Return the places of straps, or of screws through casing or frame: jambs and head; the sill holds the pan.

    >>> from openings.calc.starting_details import STARTING_DETAILS
    >>> window = OpeningFacts(
    ...     ro_width_in=Decimal(36), ro_height_in=Decimal(54), unit_width_in=Decimal(35), unit_height_in=Decimal(53)
    ... )
    >>> anchor_points(window, STARTING_DETAILS["casing, paper after"])
    Points(jamb=4, head=3, sill=0)

    By spacing, and by load where a design pressure is given: whichever asks for more. Since none stands on the
    sill, the two jambs carry the load, however wide the unit (our choice).
    """
    points = anchor_points_by_spacing(opening, detail)
    if opening.design_pressure_psf is None:
        return points
    needed = count_by_load(opening, anchor_allowable_lb(detail), product=anchor_product(detail))
    return Points(max(points.jamb, needed), points.head)


def anchor_points_by_spacing(opening: OpeningFacts, detail: DetailFacts) -> Points:
    """Return the places of straps, or of screws through casing or frame, if only spacing counts.

    Source:
        First point 8 to 24 in from the corner, short sides spaced about as the long: AWDI manual p. 89.
    """
    corner_in, spacing_in = detail.strap_corner_in, detail.strap_spacing_in
    return Points(
        count_by_spacing(length_in=opening.unit_height_in, corner_in=corner_in, spacing_in=spacing_in),
        count_by_spacing(length_in=opening.unit_width_in, corner_in=corner_in, spacing_in=spacing_in),
    )


def is_held_at_jambs(opening: OpeningFacts) -> bool:
    """Return whether the jambs are the two long sides, which carry the load of a unit that is held all around."""
    return opening.unit_height_in >= opening.unit_width_in


def flange_points(opening: OpeningFacts, detail: DetailFacts) -> Points:
    """Return the places of the fasteners of the flange: all four sides.

    By spacing, and by load where a design pressure is given, whichever asks for more. The two long sides carry
    the load, as in the clip formula of AWDI manual p. 89; straps that may stand beside are not set off against it.
    """
    points = flange_points_by_spacing(opening, detail)
    if opening.design_pressure_psf is None:
        return points
    fastener = fastener_of(detail)
    needed = count_by_load(opening, fastener.allowable_lb, product=fastener.product)
    jamb, head, sill = points
    if is_held_at_jambs(opening):
        return Points(max(jamb, needed), head, sill)
    return Points(jamb, max(head, needed), max(sill, needed))


def flange_points_by_spacing(opening: OpeningFacts, detail: DetailFacts) -> Points:
    """Return the places of the fasteners of the flange if only spacing counts (AAMA 2400, from memory)."""
    corner_in, spacing_in = detail.flange_fastener_corner_in, detail.flange_fastener_spacing_in
    across = count_by_spacing(length_in=opening.unit_width_in, corner_in=corner_in, spacing_in=spacing_in)
    return Points(
        count_by_spacing(length_in=opening.unit_height_in, corner_in=corner_in, spacing_in=spacing_in),
        across,
        across,
    )


def spread(length_in: Decimal, *, count: int, corner_in: Decimal) -> tuple[Decimal, ...]:
    """Return the places of points along a side: the outer ones `corner_in` from its ends, the others evenly between.

    >>> [int(at) for at in spread(Decimal(40), count=3, corner_in=Decimal(4))]
    [4, 20, 36]
    """
    if count == 1:
        return (length_in / 2,)
    if length_in <= 2 * corner_in:  # more points than the corners leave room for, as a load may ask for
        corner_in = length_in / (2 * count)
    step_in = (length_in - 2 * corner_in) / (count - 1)
    return tuple(corner_in + number * step_in for number in range(count))


def anchor_places_in(opening: OpeningFacts, detail: DetailFacts) -> tuple[tuple[Decimal, ...], tuple[Decimal, ...]]:
    """Return where straps, or screws through casing or frame, stand: down each jamb of the unit, and along its head."""
    points, corner_in = anchor_points(opening, detail), detail.strap_corner_in
    return (
        spread(opening.unit_height_in, count=points.jamb, corner_in=corner_in),
        spread(opening.unit_width_in, count=points.head, corner_in=corner_in),
    )


def jamb_shim_places_in(opening: OpeningFacts, detail: DetailFacts) -> tuple[Decimal, ...]:
    """Return where pairs of shims stand down each jamb of the unit, those at straps among them, from the top."""
    at_straps = anchor_places_in(opening, detail)[0] if has_shimmed_straps(detail) else ()
    return tuple(sorted((*at_straps, *jamb_shims_beside_straps_in(opening, detail))))


def jamb_shims_beside_straps_in(opening: OpeningFacts, detail: DetailFacts) -> tuple[Decimal, ...]:
    """Return where pairs of shims stand down each jamb of the unit beside those at straps, from the top.

    One near each end, unless a strap's own stands there, and as many between neighbors as keep them no further apart
    than the spacing, evenly.
    """
    straps = anchor_points(opening, detail).jamb if has_shimmed_straps(detail) else 0
    return _beside_straps_in(
        opening.unit_height_in, straps, detail.strap_corner_in, detail.shim_end_in, detail.jamb_shim_spacing_in
    )


@lru_cache(maxsize=4096)
def _beside_straps_in(
    length_in: Decimal, straps: int, corner_in: Decimal, end_in: Decimal, spacing_in: Decimal
) -> tuple[Decimal, ...]:
    """Return the places of `jamb_shims_beside_straps_in`; remembered, as the units of a job have few sizes."""
    at_straps = spread(length_in, count=straps, corner_in=corner_in) if straps else ()
    ends = (end_in, length_in - end_in) if length_in > 2 * end_in else (length_in / 2,)
    own = [at for at in ends if all(abs(at - strap) >= SHIM_WIDTH_IN for strap in at_straps)]
    stand = sorted((*at_straps, *own))
    for above_in, below_in in pairwise(stand):
        between = ceil_ratio(below_in - above_in, spacing_in)
        own += [above_in + (below_in - above_in) * number / between for number in range(1, between)]
    return tuple(sorted(own))


def shim_points(opening: OpeningFacts, detail: DetailFacts) -> Points:
    """Return the places of the shims beside those at straps: sill and jambs.

    A strap's shims are the jamb's shims where they meet: each is counted once.

    Source:
        First sill shim about 1/2 in from the corner: JELD-WEN JII-90025. Sill shims 14 to 16 in apart, jamb
        shims near top and bottom and every 20 to 24 in: trade page (greenyplace), secondary.
    """
    return Points(
        jamb=len(jamb_shims_beside_straps_in(opening, detail)),
        sill=count_by_spacing(
            length_in=opening.unit_width_in, corner_in=detail.shim_end_in, spacing_in=detail.sill_shim_spacing_in
        ),
    )


def has_shimmed_straps(detail: DetailFacts) -> bool:
    """Return whether every strap has shims behind it."""
    return detail.has_straps and detail.has_shims_at_straps


def strap_shim_points(opening: OpeningFacts, detail: DetailFacts) -> int:
    """Return how many straps have shims behind them."""
    return anchor_points(opening, detail).total if has_shimmed_straps(detail) else 0


def shimmed_points(opening: OpeningFacts, detail: DetailFacts) -> int:
    """Return at how many points the unit is shimmed: sill and jambs, straps, locks and hinges."""
    spaced = shim_points(opening, detail).total
    return spaced + strap_shim_points(opening, detail) + detail.lock_hinge_shim_points


def require_detail(opening: OpeningFacts, detail: DetailFacts) -> None:
    """Refuse a detail that this opening cannot take, or by which it cannot be anchored.

    Raises:
        BadDetail: as `require_fit`, or the load asks for more anchors than a side has room for.
    """
    require_fit(opening, detail)
    anchor_points(opening, detail)
    if detail.mounting is FLANGE:
        flange_points(opening, detail)
