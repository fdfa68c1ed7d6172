"""Installation details that ship as starting points; a job takes a copy and makes it its own."""

from __future__ import annotations

from decimal import Decimal

from openings.calc.facts import DetailFacts
from openings.calc.terms import HeadFlashing, Mounting, SillBead

STARTING_DETAILS: dict[str, DetailFacts] = {
    "flange over, wrap after": DetailFacts(
        mounting=Mounting.FLANGE, barrier_before_window=False, jamb_flashing_over_flange=True
    ),
    "flange over, wrap before": DetailFacts(
        mounting=Mounting.FLANGE, barrier_before_window=True, jamb_flashing_over_flange=True
    ),
    "flange behind, wrap after": DetailFacts(
        mounting=Mounting.FLANGE, barrier_before_window=False, jamb_flashing_over_flange=False
    ),
    "flange behind, wrap before": DetailFacts(
        mounting=Mounting.FLANGE, barrier_before_window=True, jamb_flashing_over_flange=False
    ),
    "casing, paper after": DetailFacts(
        mounting=Mounting.CASING,
        barrier_before_window=False,
        jamb_flashing_over_flange=False,
        has_head_strip=False,
        head_flashing=HeadFlashing.BEFORE_MEMBRANE,
        casing_width_in=Decimal(2),
        has_straps=True,
    ),
    "box frame replacement": DetailFacts(
        mounting=Mounting.BOX_FRAME,
        barrier_before_window=True,
        jamb_flashing_over_flange=False,
        has_head_membrane=False,
        sill_bead=SillBead.DRAIN_GAPS,
        has_straps=True,
    ),
}
"""By name: what the wall needs, in the words of the trade (common practice, no source)."""


def starting_detail(name: str) -> tuple[str, DetailFacts] | None:
    """Return the starting point of that name, however it is capitalized or spaced, with its own spelling."""
    wanted = folded(name)
    return next(((known, facts) for known, facts in STARTING_DETAILS.items() if known == wanted), None)


def folded(name: str) -> str:
    """Return the name of a detail as it is compared: however it is capitalized or spaced."""
    return " ".join(name.casefold().split())
