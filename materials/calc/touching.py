"""Which parts touch one another in a detail."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from materials.calc.parts import Part
from openings.calc.facts import DetailFacts
from openings.calc.geometry import (
    BOX_FRAME,
    FLANGE,
    has_head_membrane,
    has_head_strip,
    has_second_strip,
    is_bedded_drip_cap,
    is_flashed_here,
)
from openings.calc.terms import HeadFlashing, SillBead


class Contact(NamedTuple):
    """Two parts that touch, the one laid later first, and where."""

    part: Part
    neighbor: Part
    where: str


def touching(detail: DetailFacts) -> tuple[Contact, ...]:
    """Return what touches in a detail, in lay order: whatever sticks to another part of the draw or seals it.

    Fasteners, straps and shims are left out, and so is the joint bead, which touches casing and jamb alone. Primer lies
    under whatever needs it and is to come from the same maker (JLC, choosing flexible flashings 3).

    Source:
        What laps over what is the lay order: AWDI manual p. 23, AAMA 2400-10 cl. 5.7.3; else common practice, no
        source.
    """
    has = _parts(detail)
    contacts = (*_LAPS, *_around_unit(detail), *_at_drip_cap(detail), *_AT_HEAD, *_INSIDE)
    return tuple(contact for contact in contacts if contact.part in has and contact.neighbor in has)


def _parts(detail: DetailFacts) -> set[Part]:
    """Return which of the parts that may touch this detail has; a bead of size 0 is none."""
    is_flashed = is_flashed_here(detail)
    is_set_in_bead = detail.mounting is not FLANGE or is_bedded_drip_cap(detail)
    present = {
        Part.SILL_STRIP: is_flashed,
        Part.JAMB_STRIP: is_flashed,
        Part.HEAD_STRIP: has_head_strip(detail),
        Part.HEAD_MEMBRANE: has_head_membrane(detail),
        Part.DRIP_CAP: detail.head_flashing is not HeadFlashing.NONE,
        Part.COUNTER_FLASHING_STRIP: has_second_strip(detail),
        Part.PAN_MEMBRANE: detail.has_pan,
        Part.CORNER_PIECE: detail.has_pan and detail.has_corner_pieces,
        Part.FLANGE_BEAD: detail.mounting is FLANGE and detail.flange_bead_in > 0,
        Part.SETTING_BEAD: is_set_in_bead and detail.setting_bead_in > 0,
        Part.AIR_SEAL_BEAD: detail.has_air_seal,
        Part.BACKER_ROD: detail.has_air_seal,
    }
    return {part for part, is_there in present.items() if is_there}


_LAPS = (
    Contact(Part.CORNER_PIECE, Part.SILL_STRIP, "in the lower corners"),
    Contact(Part.PAN_MEMBRANE, Part.SILL_STRIP, "along the sill"),
    Contact(Part.PAN_MEMBRANE, Part.CORNER_PIECE, "in the lower corners"),
    Contact(Part.JAMB_STRIP, Part.SILL_STRIP, "where the jamb strips lap over it"),
    Contact(Part.JAMB_STRIP, Part.CORNER_PIECE, "in the lower corners"),
    Contact(Part.JAMB_STRIP, Part.PAN_MEMBRANE, "at the ends of the pan"),
)
_AT_HEAD = (
    Contact(Part.HEAD_MEMBRANE, Part.JAMB_STRIP, "at the upper corners"),
    Contact(Part.COUNTER_FLASHING_STRIP, Part.HEAD_MEMBRANE, "along the head"),
    Contact(Part.HEAD_STRIP, Part.JAMB_STRIP, "at the upper corners"),
    Contact(Part.HEAD_STRIP, Part.COUNTER_FLASHING_STRIP, "along the head"),
    Contact(Part.HEAD_STRIP, Part.HEAD_MEMBRANE, "along the head"),
)
_INSIDE = (
    Contact(Part.AIR_SEAL_BEAD, Part.BACKER_ROD, "inside, over the rod"),
    Contact(Part.AIR_SEAL_BEAD, Part.PAN_MEMBRANE, "inside, at the sill and where the pan turns up"),
)


def _around_unit(detail: DetailFacts) -> Iterator[Contact]:
    """Yield what the bead touches in which the unit is set, sill first."""
    bead = Part.FLANGE_BEAD if detail.mounting is FLANGE else Part.SETTING_BEAD
    at_sill = "at the lower ends of the bead" if detail.sill_bead is SillBead.OPEN else "along the sill"
    yield Contact(bead, Part.SILL_STRIP, at_sill)
    turned_up = " and where the pan turns up" if detail.mounting is BOX_FRAME else ""
    yield Contact(bead, Part.PAN_MEMBRANE, at_sill + turned_up)
    squeezed_out = "where it squeezes out from under the flange, " if detail.jamb_flashing_over_flange else ""
    yield Contact(bead, Part.JAMB_STRIP, f"{squeezed_out}along the jambs")
    covering = Part.HEAD_MEMBRANE if detail.has_head_membrane else Part.HEAD_STRIP
    yield Contact(bead, covering, "where it squeezes out, along the head")


def _at_drip_cap(detail: DetailFacts) -> Iterator[Contact]:
    """Yield what touches the drip cap: its bed, or the strip or membrane over its leg, the first that covers it."""
    if is_bedded_drip_cap(detail):
        yield Contact(Part.SETTING_BEAD, Part.DRIP_CAP, "bed of the drip cap")
        yield Contact(Part.SETTING_BEAD, Part.HEAD_MEMBRANE, "bed of the drip cap")
        yield Contact(Part.HEAD_STRIP, Part.DRIP_CAP, "over its upright leg")
    elif has_second_strip(detail):
        yield Contact(Part.COUNTER_FLASHING_STRIP, Part.DRIP_CAP, "over its upright leg")
    else:
        covering = Part.HEAD_MEMBRANE if detail.has_head_membrane else Part.HEAD_STRIP
        yield Contact(covering, Part.DRIP_CAP, "over its upright leg")
