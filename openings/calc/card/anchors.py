"""Where straps, shims and fasteners stand along the sides of a unit, from its corners."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

from jobs.calc.sentence import Sentence
from openings.calc.card import wall
from openings.calc.card.sketch import LETTERING, Sketch, wide
from openings.calc.card.strips import ABOVE
from openings.calc.card.subject import Subject
from openings.calc.card.wall import Wall
from openings.calc.extents import FLANGE_SHOWN_IN, unit
from openings.calc.geometry import (
    FLANGE,
    anchor_places_in,
    flange_points,
    has_shimmed_straps,
    jamb_shim_places_in,
    shim_points,
    spread,
)
from openings.calc.limits import diagonal_limit_in, level_limit_in, twist_limit_in
from openings.calc.step_code import StepCode

ON_A_TAPE_IN = Decimal("0.03125")
"""What a tape is read to; a limit is said down to it (our choice)."""

Places = tuple[Decimal, ...]


def straps(subject: Subject) -> Sketch:
    """Draw where each strap is screwed to the jambs and the head of the unit."""
    jamb, head = anchor_places_in(subject.opening, subject.detail)
    drawn = Wall(subject, StepCode.SET_UNIT, wall.around_unit(subject), hides=wall.LAID_AROUND | {"rough-opening"})
    _around(drawn, subject, "strap", jamb=jamb, head=head)
    drawn.pencil.listed(Sentence("strap marks on each jamb, from the top corner of the unit"), subject.marks(jamb))
    drawn.pencil.listed(Sentence("strap marks on the head, from the left corner of the unit"), subject.marks(head))
    drawn.pencil.listed(Sentence("screws through each strap into the unit"), str(subject.detail.jamb_screws_per_strap))
    return drawn.finished(Sentence("The unit seen from outside, to scale; each dot is a strap"))


def shims(subject: Subject) -> Sketch:
    """Draw where a pair of shims stands, those behind straps among them."""
    opening, detail = subject.opening, subject.detail
    sill = spread(opening.unit_width_in, count=shim_points(opening, detail).sill, corner_in=detail.shim_end_in)
    jamb = jamb_shim_places_in(opening, detail)
    head = anchor_places_in(opening, detail)[1] if has_shimmed_straps(detail) else ()
    drawn = Wall(subject, StepCode.SHIM, wall.around_unit(subject), hides=wall.LAID_AROUND)
    _around(drawn, subject, "shim", jamb=jamb, head=head, sill=sill)
    drawn.pencil.listed(Sentence("shims under the sill, from the left corner of the unit"), subject.marks(sill))
    drawn.pencil.listed(Sentence("pairs of shims at each jamb, from the top corner of the unit"), subject.marks(jamb))
    if head:
        drawn.pencil.listed(
            Sentence("pairs of shims at the head, behind its straps, from the left corner of the unit"),
            subject.marks(head),
        )
    _limits_listed(drawn, subject)
    return drawn.finished(Sentence("Seen from outside, to scale; each dot is a pair of shims, under the sill one shim"))


def _limits_listed(drawn: Wall, subject: Subject) -> None:
    """List how far a set unit may be from true."""
    width_in, height_in = subject.opening.unit_width_in, subject.opening.unit_height_in
    for what, limit_in in (
        (Sentence("sill out of level, at most"), level_limit_in(width_in)),
        (Sentence("each jamb out of plumb, at most"), level_limit_in(height_in)),
        (Sentence("difference of the two diagonals, at most"), diagonal_limit_in(width_in, height_in)),
        (Sentence("strings across the corners apart where they cross, at most"), twist_limit_in(width_in, height_in)),
    ):
        read_in = max(limit_in // ON_A_TAPE_IN, Decimal(1)) * ON_A_TAPE_IN
        drawn.pencil.listed(what, subject.say(read_in))


def fasteners(subject: Subject) -> Sketch:
    """Draw where flange, casing, frame or straps are fastened to the framing."""
    detail = subject.detail
    if detail.mounting is FLANGE:
        return _flange(subject)
    jamb, head = anchor_places_in(subject.opening, detail)
    drawn = Wall(subject, StepCode.FASTEN, wall.around_unit(subject), hides=wall.LAID_AROUND)
    past_in = Decimal(0) if detail.has_straps else detail.casing_width_in / 2
    _around(drawn, subject, "strap" if detail.has_straps else "fastener", jamb=jamb, head=head, past_in=past_in)
    if detail.has_straps:
        _straps_listed(drawn, subject)
    else:
        _listed(drawn, subject, jamb=jamb, head=head)
    return drawn.finished(Sentence("Seen from outside, to scale; each dot is a place to fasten"))


def _straps_listed(drawn: Wall, subject: Subject) -> None:
    jamb, head = anchor_places_in(subject.opening, subject.detail)
    drawn.pencil.listed(Sentence("straps at each jamb, from the top corner of the unit"), subject.marks(jamb))
    drawn.pencil.listed(Sentence("straps at the head, from the left corner of the unit"), subject.marks(head))
    drawn.pencil.listed(
        Sentence("screws through each strap into the framing"), str(subject.detail.framing_screws_per_strap)
    )


def _flange(subject: Subject) -> Sketch:
    opening, corner_in = subject.opening, subject.detail.flange_fastener_corner_in
    points = flange_points(opening, subject.detail)
    jamb = spread(opening.unit_height_in, count=points.jamb, corner_in=corner_in)
    head = spread(opening.unit_width_in, count=points.head, corner_in=corner_in)
    sill = spread(opening.unit_width_in, count=points.sill, corner_in=corner_in)
    drawn = Wall(subject, StepCode.FASTEN, wall.around_unit(subject), hides=wall.LAID_AROUND)
    _around(drawn, subject, "fastener", jamb=jamb, head=head, sill=sill, past_in=FLANGE_SHOWN_IN / 2)
    _listed(drawn, subject, jamb=jamb, head=head)
    drawn.pencil.listed(Sentence("fasteners at the sill, from the left corner of the unit"), subject.marks(sill))
    if subject.detail.has_straps:
        _straps_listed(drawn, subject)
    return drawn.finished(Sentence("Seen from outside, to scale; each dot is a fastener of the flange"))


def _listed(drawn: Wall, subject: Subject, *, jamb: Places, head: Places) -> None:
    drawn.pencil.listed(Sentence("fasteners at each jamb, from the top corner of the unit"), subject.marks(jamb))
    drawn.pencil.listed(Sentence("fasteners at the head, from the left corner of the unit"), subject.marks(head))


def _around(
    drawn: Wall,
    subject: Subject,
    kind: str,
    *,
    jamb: Places = (),
    head: Places = (),
    sill: Places = (),
    past_in: Decimal = Decimal(0),
) -> None:
    """Draw points around the unit, those of the left jamb and of the head with their marks where these have room."""
    left_in, top_in, right_in, bottom_in = unit(subject.opening)
    for down_in in jamb:
        drawn.dot(kind, left_in - past_in, top_in + down_in)
        drawn.dot(kind, right_in + past_in, top_in + down_in)
    for across_in in head:
        drawn.dot(kind, left_in + across_in, top_in - past_in)
    for across_in in sill:
        drawn.dot(kind, left_in + across_in, bottom_in + past_in)
    inside = drawn.x(left_in) + 16
    for down_in in _apart(jamb, LETTERING / drawn.scale):
        drawn.pencil.note(subject.mark(down_in), inside, drawn.y(top_in + down_in), "start")
    high = ABOVE if head else drawn.height - 12
    widest = max((wide(subject.mark(at)) for at in head or sill), default=LETTERING)
    for across_in in _apart(head or sill, widest / drawn.scale):
        drawn.pencil.note(subject.mark(across_in), drawn.x(left_in + across_in), high)


def _apart(places_in: Iterable[Decimal], least_in: Decimal) -> Iterable[Decimal]:
    """Yield the places that stand far enough from the one before to be lettered."""
    last_in: Decimal | None = None
    for place_in in places_in:
        if last_in is None or place_in - last_in >= least_in:
            yield place_in
            last_in = place_in
