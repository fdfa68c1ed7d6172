"""Where sealant runs: the joint of casing and jamb, the bead in which the unit is set, and its squeeze-out."""

from __future__ import annotations

from decimal import Decimal

from jobs.calc.sentence import Sentence
from openings.calc.card import wall
from openings.calc.card.sketch import Sketch
from openings.calc.card.strips import ABOVE
from openings.calc.card.subject import Subject
from openings.calc.card.wall import Wall
from openings.calc.extents import Rect, edge_of_unit, unit
from openings.calc.geometry import head_gap_in, jamb_gap_in
from openings.calc.lay_looks import bead_in
from openings.calc.setting_advice import over_the_gap_in
from openings.calc.step_code import StepCode
from openings.calc.terms import Mounting, SillBead

FROM_BEHIND = Sentence("The back of the unit, as it faces the wall; the dashed line is the bead")
BEAD_RUNS = Sentence("Seen from outside, to scale; the dashed line is the bead")


def bead_from_edge_in(subject: Subject) -> Decimal:
    """Return how far from the outer edge of casing or fin the middle of the bead runs, so that it lands on the wall.

    As far as the bead is thick, which leaves half of that to squeeze out (our choice); nearer where the wall behind
    casing or fin has no room for it there.
    """
    size_in = bead_in(subject.detail)
    on_wall_in = over_the_gap_in(subject.detail) - max(jamb_gap_in(subject.opening), head_gap_in(subject.opening))
    return max(size_in / 2, min(size_in, on_wall_in - size_in / 2))


def joint_bead(subject: Subject) -> Sketch:
    """Draw the bead in the joint of casing and jamb."""
    drawn = _unit(subject)
    left_in, top_in, right_in, bottom_in = unit(subject.opening)
    drawn.line("bead", left_in, bottom_in, left_in, top_in)
    drawn.line("bead", left_in, top_in, right_in, top_in)
    drawn.line("bead", right_in, top_in, right_in, bottom_in)
    high_in, wide_in = subject.opening.unit_height_in, subject.opening.unit_width_in
    drawn.across(Sentence("bead along the head"), subject.say(wide_in), left_in, right_in, ABOVE)
    drawn.down(
        Sentence("bead along each jamb"), subject.say(high_in), top_in, bottom_in, drawn.x(drawn.view.left_in) - 2
    )
    drawn.pencil.listed(Sentence("bead, thick"), subject.say(subject.detail.joint_bead_in))
    return drawn.finished(FROM_BEHIND)


def setting_bead(subject: Subject) -> Sketch:
    """Draw the bead in which the unit is set, from the outer edge of flange or casing inward."""
    drawn = _unit(subject)
    edge = edge_of_unit(subject.opening, subject.detail)
    _bead(drawn, subject, edge)
    drawn.across(Sentence("bead along the head"), subject.say(edge.width_in), edge.left_in, edge.right_in, ABOVE)
    drawn.down(
        Sentence("bead along each jamb"),
        subject.say(edge.height_in),
        edge.top_in,
        edge.bottom_in,
        drawn.x(drawn.view.left_in) - 2,
    )
    size = bead_in(subject.detail)
    drawn.pencil.listed(Sentence("bead, thick"), subject.say(size))
    if subject.detail.mounting is not Mounting.BOX_FRAME:
        from_edge = subject.say(bead_from_edge_in(subject))
        drawn.pencil.listed(Sentence("from the outer edge to the middle of the bead"), from_edge)
    if subject.detail.sill_bead is SillBead.DRAIN_GAPS:
        gap_in = subject.detail.sill_drain_gap_in
        drawn.pencil.listed(Sentence("gap at each end of the sill"), subject.say(gap_in))
    return drawn.finished(FROM_BEHIND)


def tool_bead(subject: Subject) -> Sketch:
    """Draw where squeeze-out must show."""
    drawn = Wall(subject, StepCode.TOOL_BEAD, wall.around_unit(subject))
    _bead(drawn, subject, edge_of_unit(subject.opening, subject.detail), inset_in=Decimal(0))
    return drawn.finished(BEAD_RUNS)


def _unit(subject: Subject) -> Wall:
    """Return the unit alone, before it is on the wall."""
    hides = wall.LAID_AROUND | {"rough-opening"}
    return Wall(subject, StepCode.SET_UNIT, wall.around_unit(subject), hides=hides)


def _bead(drawn: Wall, subject: Subject, edge: Rect, *, inset_in: Decimal | None = None) -> None:
    """Draw a bead along jambs, head and as much of the sill as the detail says."""
    in_in = bead_from_edge_in(subject) if inset_in is None else inset_in
    left_in, top_in, right_in, bottom_in = edge
    left_in, top_in, right_in = left_in + in_in, top_in + in_in, right_in - in_in
    drawn.line("bead", left_in, bottom_in, left_in, top_in)
    drawn.line("bead", left_in, top_in, right_in, top_in)
    drawn.line("bead", right_in, top_in, right_in, bottom_in)
    if subject.detail.sill_bead is not SillBead.OPEN:
        gap_in = Decimal(2) if subject.detail.sill_bead is SillBead.DRAIN_GAPS else Decimal(0)
        drawn.line("bead", left_in + gap_in, bottom_in - in_in, right_in - gap_in, bottom_in - in_in)
