"""The ways that a detail has chosen: which are preferred, which allowed, and why."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from jobs.calc.sentence import Sentence
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.geometry import (
    CASING,
    anchor_points,
    has_head_membrane,
    has_head_strip,
    is_cap_under_head_strip,
    is_flashed_here,
)
from openings.calc.terms import HeadFlashing, SillBead
from openings.calc.units import US, Units

PREFERRED_STRIP_IN = Decimal(12)

_CP = "common practice, no source"


class Standing(StrEnum):
    """How a way stands among those that there are."""

    PREFERRED = "preferred"
    ALLOWED = "allowed"
    NOT_ADVISED = "not advised"


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """One choice of a detail.

    Args:
        about: what is chosen.
        chosen: how it is done here.
        why: what speaks for it; where it is not the preferred way, what it costs and which is preferred.
    """

    about: Sentence
    chosen: Sentence
    standing: Standing
    why: Sentence
    source: str


def ways_of(opening: OpeningFacts | None, detail: DetailFacts, *, units: Units = US) -> tuple[Way, ...]:
    """Return the ways that a detail has chosen, in the order of the work.

    >>> from openings.calc.starting_details import STARTING_DETAILS
    >>> [(way.about, way.standing.value) for way in ways_of(None, STARTING_DETAILS["casing, paper after"])][:2]
    [('strip width', 'preferred'), ('sill pan', 'preferred')]

    Args:
        opening: the opening that figures are for; None for any.
    """
    return tuple(_ways(opening, detail, units))


def _ways(opening: OpeningFacts | None, detail: DetailFacts, units: Units) -> Iterator[Way]:
    flashed = is_flashed_here(detail)
    if flashed:
        yield _strips(detail, units)
    yield _pan(detail)
    if detail.has_pan:
        yield _corners(detail)
    yield _sill(detail)
    if detail.mounting is CASING:
        yield _fastening(opening, detail)
    if flashed or detail.head_flashing is not HeadFlashing.NONE:
        yield _head(detail)
    if flashed:
        yield _head_strip(detail)
    if detail.own_order:
        yield _own_order()


def _strips(detail: DetailFacts, units: Units) -> Way:
    about = Sentence("strip width")
    chosen = Sentence("strips {width} wide", width=units.say(detail.strip_width_in))
    if detail.strip_width_in >= PREFERRED_STRIP_IN:
        standing, why = (
            Standing.PREFERRED,
            Sentence("Wide strips leave room for every lap and for the WRB to lap them."),
        )
    else:
        standing = Standing.ALLOWED
        preferred = units.say(PREFERRED_STRIP_IN)
        why = Sentence(
            "It is enough for the laps, with less to spare; strips {width} wide are preferred.", width=preferred
        )
    return Way(about=about, chosen=chosen, standing=standing, why=why, source=f"9 in: AWDI manual p. 23; 12 in: {_CP}")


def _pan(detail: DetailFacts) -> Way:
    about = Sentence("sill pan")
    if detail.has_pan:
        return Way(
            about=about,
            chosen=Sentence("a pan under the unit, before the jamb strips"),
            standing=Standing.PREFERRED,
            why=Sentence("What gets past the unit lands on the pan and runs out over the sill strip."),
            source="ASTM E2112-07, as SGH abstracts it; Building Science Corp. Info-302",
        )
    return Way(
        about=about,
        chosen=Sentence("no pan: the jamb strips follow the sill strip at once, unless they go over a flange"),
        standing=Standing.ALLOWED,
        why=Sentence(
            "Given up is the way out for water that gets past the unit: strips and beads must keep all of it out. A "
            "pan is preferred, and where the maker says nothing the code asks for one."
        ),
        source=f"ASTM E2112-07, as SGH abstracts it; IRC R703.4 (text not checked); order: {_CP}",
    )


def _corners(detail: DetailFacts) -> Way:
    about = Sentence("corner pieces")
    if detail.has_corner_pieces:
        return Way(
            about=about,
            chosen=Sentence("a corner piece in each lower corner, under the membrane"),
            standing=Standing.PREFERRED,
            why=Sentence("They close the corners where the membrane is slit, and take the knock of a heavy unit."),
            source=_CP,
        )
    return Way(
        about=about,
        chosen=Sentence("no corner pieces"),
        standing=Standing.ALLOWED,
        why=Sentence(
            "A membrane that stretches into the corner without a cut needs none; any other leaks there, and nothing "
            "takes the knock of a heavy unit. Corner pieces are preferred."
        ),
        source=f"stretched membrane: JLC photo guide; the knock: {_CP}",
    )


def _sill(detail: DetailFacts) -> Way:
    about, source = Sentence("bead along the sill"), "Building Science Corp. Info-302"
    if detail.sill_bead is SillBead.OPEN:
        return Way(
            about=about,
            chosen=Sentence("no bead along the sill"),
            standing=Standing.PREFERRED,
            why=Sentence("What gets in runs out again along the whole sill."),
            source=source,
        )
    if detail.sill_bead is SillBead.DRAIN_GAPS:
        return Way(
            about=about,
            chosen=Sentence("a bead along the sill with a gap at each end"),
            standing=Standing.ALLOWED,
            why=Sentence(
                "What gets in runs out through two gaps that are easily smeared shut; an open sill is preferred."
            ),
            source=f"gaps: Pella 80WW0101; open sill: {source}",
        )
    return Way(
        about=about,
        chosen=Sentence("a full bead along the sill"),
        standing=Standing.ALLOWED,
        why=Sentence(
            "Nothing drains, so only where little rain comes or the opening is sheltered; an open sill is preferred."
        ),
        source=source,
    )


def _fastening(opening: OpeningFacts | None, detail: DetailFacts) -> Way:
    about = Sentence("fastening")
    if detail.has_straps:
        return Way(
            about=about,
            chosen=Sentence(
                "straps, screwed to the jambs before the unit is lifted and fastened to the framing inside"
            ),
            standing=Standing.PREFERRED,
            why=Sentence("The face of the casing stays whole: no hole to seal, no head to see."),
            source=_CP,
        )
    if opening is None:
        why = Sentence("Every fastener is a hole in the sealed face whose head must be sealed; straps are preferred.")
    else:
        why = Sentence(
            "{count} holes go through the sealed face of this unit, each with a head to seal; straps are preferred.",
            count=anchor_points(opening, detail).total,
        )
    return Way(
        about=about, chosen=Sentence("fasteners through the casing"), standing=Standing.ALLOWED, why=why, source=_CP
    )


def _head(detail: DetailFacts) -> Way:
    about = Sentence("head")
    cap, covered = detail.head_flashing, has_head_membrane(detail) or is_cap_under_head_strip(detail)
    if cap is HeadFlashing.BEFORE_MEMBRANE and has_head_membrane(detail):
        chosen = Sentence("metal cap first, its upright leg covered by the membrane")
        standing, why = (
            Standing.PREFERRED,
            Sentence("Each piece sheds onto the next, and no leak waits for a bead to fail."),
        )
    elif cap is HeadFlashing.BEFORE_MEMBRANE and covered:
        chosen = Sentence("metal cap first, its upright leg covered by the head strip")
        standing, why = (
            Standing.PREFERRED,
            Sentence("Each piece sheds onto the next, and no leak waits for a bead to fail."),
        )
    elif cap is HeadFlashing.BEFORE_MEMBRANE:
        chosen = Sentence("metal cap first, with nothing over its upright leg")
        standing = Standing.NOT_ADVISED
        why = Sentence("Water runs behind the uncovered leg; cover it with the membrane or a strip, or bed the cap.")
    elif cap is HeadFlashing.UNDER_SECOND_STRIP:
        chosen = Sentence("membrane first, then the metal cap, a second strip over its upright leg")
        standing = Standing.PREFERRED
        why = Sentence("Each piece sheds onto the next; the strip costs a piece more than a cap that goes on first.")
    elif cap is HeadFlashing.AFTER_MEMBRANE:
        chosen = Sentence("metal cap last, bedded in plenty of sealant")
        standing = Standing.ALLOWED
        why = Sentence("Only the bed keeps water from behind the upright leg; a leg that is lapped over is preferred.")
    elif has_head_membrane(detail):
        chosen, standing = Sentence("membrane alone, without a metal cap"), Standing.ALLOWED
        why = Sentence("Water runs down over the top joint of the unit; a metal cap throws it clear and is preferred.")
    else:
        chosen, standing = Sentence("neither a membrane nor a metal cap"), Standing.ALLOWED
        why = Sentence(
            "The bead is the last thing between water and the top of the unit; a cap and a membrane are preferred."
        )
    return Way(about=about, chosen=chosen, standing=standing, why=why, source=f"cap: AWDI manual p. 23; its leg: {_CP}")


def _head_strip(detail: DetailFacts) -> Way:
    about, source = Sentence("strip above the head"), "AAMA 2400-10 note 3; AWDI manual p. 23"
    if has_head_strip(detail):
        return Way(
            about=about,
            chosen=Sentence("a head strip over everything below it"),
            standing=Standing.PREFERRED,
            why=Sentence("It covers the tops of both jamb strips and the upper edge of everything at the head."),
            source=source,
        )
    if has_head_membrane(detail):
        return Way(
            about=about,
            chosen=Sentence("no head strip: the head membrane is the last piece"),
            standing=Standing.ALLOWED,
            why=Sentence("It saves a strip; the membrane alone must lap over both jamb strips, and the WRB over it."),
            source=f"{source}; without one: {_CP}",
        )
    return Way(
        about=about,
        chosen=Sentence("neither a head strip nor a head membrane"),
        standing=Standing.NOT_ADVISED,
        why=Sentence("Nothing covers the tops of the jamb strips and the head of the unit; add one or the other."),
        source=source,
    )


def _own_order() -> Way:
    return Way(
        about=Sentence("order of the steps"),
        chosen=Sentence("an order of its own"),
        standing=Standing.ALLOWED,
        why=Sentence(
            "It is the firm's or the maker's; whether each piece still sheds onto the next is for it to show."
        ),
        source="the firm or the maker",
    )
