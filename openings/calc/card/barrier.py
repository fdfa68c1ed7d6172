"""The head flap of a barrier that is on the wall before the unit: its cuts, folded up and closed again."""

from __future__ import annotations

from decimal import Decimal

from jobs.calc.sentence import Sentence
from openings.calc.card import wall
from openings.calc.card.sketch import Sketch
from openings.calc.card.strips import NEAR
from openings.calc.card.subject import Subject
from openings.calc.card.wall import Wall
from openings.calc.geometry import head_cut_in
from openings.calc.step_code import StepCode

ALONG_EACH_AXIS = Decimal("0.70711")
"""Of a length at 45°."""


def fold_barrier(subject: Subject) -> Sketch:
    """Draw both cuts from the top corners and the flap between them."""
    return _flap(subject, StepCode.FOLD_BARRIER)


def close_barrier(subject: Subject) -> Sketch:
    """Draw the flap over the head strip, and the cuts that are taped."""
    return _flap(subject, StepCode.CLOSE_BARRIER)


def _flap(subject: Subject, code: StepCode) -> Sketch:
    drawn = Wall(subject, code, wall.head(subject))
    right_in, out_in = subject.opening.ro_width_in, head_cut_in(subject.detail) * ALONG_EACH_AXIS
    zero = Decimal(0)
    drawn.line("cut", zero, zero, -out_in, -out_in)
    drawn.line("cut", right_in, zero, right_in + out_in, -out_in)
    drawn.line("fold", -out_in, -out_in, right_in + out_in, -out_in)
    drawn.pencil.note(Sentence("flap"), drawn.x(right_in / 2), drawn.y(-out_in / 2))
    drawn.pencil.note("45°", drawn.x(-out_in) - 20, drawn.y(-out_in) - 8)
    drawn.across(
        Sentence("each cut, at 45° from the corner of the rough opening"),
        subject.say(head_cut_in(subject.detail)),
        -out_in,
        zero,
        drawn.y(zero) + NEAR,
    )
    drawn.pencil.listed(Sentence("end of each cut, up and out from the corner"), subject.mark(out_in))
    return drawn.finished(wall.AT_THE_HEAD)
