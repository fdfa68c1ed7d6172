"""What lies over the head of the unit: membrane and drip cap."""

from __future__ import annotations

from decimal import Decimal

from jobs.calc.sentence import Sentence
from openings.calc.card import wall
from openings.calc.card.sketch import Sketch
from openings.calc.card.strips import ABOVE, NEAR
from openings.calc.card.subject import Subject
from openings.calc.card.wall import Wall
from openings.calc.geometry import drip_cap_in, head_gap_in, head_membrane_in
from openings.calc.step_code import StepCode


def head_membrane(subject: Subject) -> Sketch:
    """Draw the membrane that laps down onto the top of the unit."""
    drawn = Wall(subject, StepCode.HEAD_MEMBRANE, wall.head(subject))
    run_in, past_in = head_membrane_in(subject.opening, subject.detail), subject.detail.head_membrane_lap_in
    left_in = (subject.opening.ro_width_in - run_in) / 2
    drawn.across(Sentence("head membrane, cut"), subject.say(run_in), left_in, left_in + run_in, ABOVE)
    drawn.across(
        Sentence("past the unit or its casing at each side"),
        subject.say(past_in),
        left_in,
        left_in + past_in,
        drawn.y(_top_in(subject)) + NEAR,
    )
    return drawn.finished(wall.AT_THE_HEAD)


def drip_cap(subject: Subject) -> Sketch:
    """Draw the metal head flashing past the trim at both sides."""
    drawn = Wall(subject, StepCode.DRIP_CAP, wall.head(subject))
    run_in, past_in = drip_cap_in(subject.opening, subject.detail), subject.detail.drip_cap_past_in
    left_in = (subject.opening.ro_width_in - run_in) / 2
    drawn.across(Sentence("drip cap, cut"), subject.say(run_in), left_in, left_in + run_in, ABOVE)
    drawn.across(
        Sentence("past the trim at each side"),
        subject.say(past_in),
        left_in,
        left_in + past_in,
        drawn.y(_top_in(subject)) + NEAR,
    )
    return drawn.finished(wall.AT_THE_HEAD)


def _top_in(subject: Subject) -> Decimal:
    """Return where the top of unit or casing stands."""
    return head_gap_in(subject.opening) - subject.detail.casing_width_in
