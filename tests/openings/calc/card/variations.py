"""Every detail that a card may be drawn for: the starting ones with each choice that changes its steps."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from itertools import product

from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.starting_details import STARTING_DETAILS
from openings.calc.terms import HeadFlashing, SillBead

FLAGS = ("has_pan", "has_straps", "has_head_strip", "has_head_membrane", "has_corner_pieces")


def details() -> Iterator[DetailFacts]:
    """Yield the starting details with each head, and with each other choice that changes steps turned over."""
    for detail, head in product(STARTING_DETAILS.values(), HeadFlashing):
        chosen = replace(detail, head_flashing=head)
        yield chosen
        for flag in FLAGS:
            yield replace(chosen, **{flag: not getattr(chosen, flag)})
        for sill_bead in SillBead:
            yield replace(chosen, sill_bead=sill_bead, has_pan=False)
        yield replace(chosen, has_pan=False, has_straps=not chosen.has_straps, has_head_strip=False)


def opening(width_in: object, height_in: object) -> OpeningFacts:
    """Return a rough opening of that size with a unit that has 1/4 in around it."""
    wide_in, high_in = Decimal(str(width_in)), Decimal(str(height_in))
    clear_in = Decimal("0.5")
    return OpeningFacts(
        ro_width_in=wide_in, ro_height_in=high_in, unit_width_in=wide_in - clear_in, unit_height_in=high_in - clear_in
    )
