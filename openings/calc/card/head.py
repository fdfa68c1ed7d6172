"""What lies over the head of the unit: membrane and drip cap."""

from __future__ import annotations

from decimal import Decimal

from jobs.calc.sentence import Sentence
from openings.calc import extents
from openings.calc.card import wall
from openings.calc.card.sketch import Sketch
from openings.calc.card.strips import ABOVE, NEAR
from openings.calc.card.subject import Subject
from openings.calc.card.wall import Wall
from openings.calc.extents import Rect
from openings.calc.step_code import StepCode


def head_membrane(subject: Subject) -> Sketch:
    """Draw the membrane that laps down onto the top of the unit."""
    return _over_head(
        subject,
        StepCode.HEAD_MEMBRANE,
        extents.head_membrane(subject.opening, subject.detail),
        cut=Sentence("head membrane, cut"),
        past=Sentence("past the unit or its casing at each side"),
        past_in=subject.detail.head_membrane_lap_in,
    )


def drip_cap(subject: Subject) -> Sketch:
    """Draw the metal head flashing past the trim at both sides."""
    return _over_head(
        subject,
        StepCode.DRIP_CAP,
        extents.drip_cap(subject.opening, subject.detail),
        cut=Sentence("drip cap, cut"),
        past=Sentence("past the trim at each side"),
        past_in=subject.detail.drip_cap_past_in,
    )


def _over_head(
    subject: Subject, code: StepCode, lies: Rect, *, cut: Sentence, past: Sentence, past_in: Decimal
) -> Sketch:
    """Draw what lies over the head: how long it is, and how far past the unit it runs."""
    drawn = Wall(subject, code, wall.head(subject))
    near = drawn.y(extents.top_of_unit_in(subject.opening, subject.detail)) + NEAR
    drawn.across(cut, subject.say(lies.width_in), lies.left_in, lies.right_in, ABOVE)
    drawn.across(past, subject.say(past_in), lies.left_in, lies.left_in + past_in, near)
    return drawn.finished(wall.AT_THE_HEAD)
