"""The unit in its rough opening."""

from __future__ import annotations

from decimal import Decimal

from jobs.calc.sentence import Sentence
from openings.calc.card import wall
from openings.calc.card.sketch import Sketch
from openings.calc.card.strips import ABOVE, BELOW
from openings.calc.card.subject import Subject
from openings.calc.card.wall import Wall
from openings.calc.extents import unit
from openings.calc.geometry import head_gap_in, jamb_gap_in
from openings.calc.step_code import StepCode


def set_unit(subject: Subject) -> Sketch:
    """Draw the unit in its rough opening with the gaps around it."""
    opening, say = subject.opening, subject.say
    drawn = Wall(subject, StepCode.SET_UNIT, wall.around_unit(subject))
    left_in, top_in, right_in, bottom_in = unit(subject.opening)
    drawn.line("hidden", Decimal(0), Decimal(0), Decimal(0), opening.ro_height_in)
    drawn.line("hidden", opening.ro_width_in, Decimal(0), opening.ro_width_in, opening.ro_height_in)
    drawn.line("hidden", Decimal(0), Decimal(0), opening.ro_width_in, Decimal(0))
    drawn.across(Sentence("unit, wide"), say(opening.unit_width_in), left_in, right_in, ABOVE)
    drawn.across(
        Sentence("rough opening, wide"), say(opening.ro_width_in), Decimal(0), opening.ro_width_in, drawn.height + BELOW
    )
    left, right = drawn.x(drawn.view.left_in) - 2, drawn.x(drawn.view.right_in) + 18
    drawn.down(Sentence("unit, high"), say(opening.unit_height_in), top_in, bottom_in, left)
    drawn.down(Sentence("rough opening, high"), say(opening.ro_height_in), Decimal(0), opening.ro_height_in, right)
    drawn.pencil.listed(Sentence("gap at each jamb, the unit centered"), say(jamb_gap_in(opening)))
    drawn.pencil.listed(Sentence("gap at head and sill, the unit centered"), say(head_gap_in(opening)))
    return drawn.finished(Sentence("Seen from outside, to scale; dashed, the rough opening behind the unit"))
