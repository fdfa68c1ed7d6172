"""The strips of flashing as they lie on the wall: how long each is cut, where it stops and where nothing fastens it."""

from __future__ import annotations

from decimal import Decimal

from jobs.calc.sentence import Sentence
from openings.calc.card import wall
from openings.calc.card.sketch import Sketch
from openings.calc.card.subject import Subject
from openings.calc.card.wall import Wall
from openings.calc.geometry import drip_cap_in, head_gap_in, second_strip_in, strip_runs
from openings.calc.lay_looks import KEEP_OUT_IN
from openings.calc.step_code import StepCode

ABOVE, BELOW = Decimal(25), Decimal(-12)
"""How far from the top and bottom edge of the field a measure stands."""

NEAR = Decimal(26)
"""Below an edge whose ends are measured."""


def sill_strip(subject: Subject) -> Sketch:
    """Draw the sill strip, and where the part begins that nothing fastens."""
    opening, detail, say = subject.opening, subject.detail, subject.say
    drawn = Wall(subject, StepCode.SILL_STRIP, wall.sill(subject))
    run_in, strip_in = strip_runs(opening, detail).sill_in, detail.strip_width_in
    left_in, right_in = -strip_in, run_in - strip_in
    middle = drawn.y(opening.ro_height_in - strip_in / 2)
    drawn.across(Sentence("sill strip, cut"), say(run_in), left_in, right_in, drawn.height + BELOW)
    drawn.across(Sentence("past the rough opening at each side"), say(strip_in), left_in, Decimal(0), middle)
    edge_in = opening.ro_height_in + Decimal("0.75")
    if detail.barrier_before_window:
        drawn.line("fasteners", left_in, edge_in, right_in, edge_in)
        return drawn.finished(wall.AT_THE_SILL)
    keep_in = min(KEEP_OUT_IN, run_in / 2)
    drawn.line("fasteners", left_in + keep_in, edge_in, right_in - keep_in, edge_in)
    drawn.across(
        Sentence("from each end of the strip to its first fastener"),
        say(keep_in),
        right_in - keep_in,
        right_in,
        middle,
    )
    drawn.pencil.listed(
        Sentence("fasteners, from the left end of the strip"), f"{say(keep_in)} – {say(run_in - keep_in)}"
    )
    return drawn.finished(wall.AT_THE_SILL)


def jamb_strips(subject: Subject) -> Sketch:
    """Draw both jamb strips with their laps over the sill strip and past the head."""
    opening, detail, say = subject.opening, subject.detail, subject.say
    drawn = Wall(subject, StepCode.JAMB_STRIPS, wall.whole(subject))
    run_in, past_in = strip_runs(opening, detail).jamb_in, detail.strip_width_in - detail.jamb_strip_short_in
    bottom_in = opening.ro_height_in + past_in
    left, right = drawn.x(drawn.view.left_in) - 6, drawn.x(drawn.view.right_in) + 20
    drawn.down(Sentence("each jamb strip, cut"), say(run_in), -past_in, bottom_in, left)
    drawn.down(Sentence("past the rough opening, above and below"), say(past_in), -past_in, Decimal(0), right)
    short_in = detail.jamb_strip_short_in
    drawn.pencil.listed(Sentence("short of the lower edge of the sill strip"), say(short_in))
    drawn.pencil.listed(Sentence("bottom of the strip, below the sill of the rough opening"), say(past_in))
    if not detail.barrier_before_window:
        keep_in = min(KEEP_OUT_IN, run_in / 2)
        drawn.line("keep-out", -detail.strip_width_in, bottom_in - keep_in, Decimal(0), bottom_in - keep_in)
        drawn.line(
            "keep-out",
            opening.ro_width_in,
            bottom_in - keep_in,
            opening.ro_width_in + detail.strip_width_in,
            bottom_in - keep_in,
        )
        drawn.down(
            Sentence("from the bottom of each strip to its first fastener"),
            say(keep_in),
            bottom_in - keep_in,
            bottom_in,
            right,
        )
    return drawn.finished()


def head_strip(subject: Subject) -> Sketch:
    """Draw the head strip over both jamb strips."""
    opening, detail, say = subject.opening, subject.detail, subject.say
    drawn = Wall(subject, StepCode.HEAD_STRIP, wall.head(subject))
    run_in, strip_in = strip_runs(opening, detail).head_in, detail.strip_width_in
    drawn.across(Sentence("head strip, cut"), say(run_in), -strip_in, run_in - strip_in, ABOVE)
    drawn.across(
        Sentence("past the rough opening at each side"),
        say(strip_in),
        -strip_in,
        Decimal(0),
        drawn.y(Decimal(0)) + NEAR,
    )
    return drawn.finished(wall.AT_THE_HEAD)


def counter_flashing(subject: Subject) -> Sketch:
    """Draw the second strip over the upright leg of the drip cap."""
    opening, detail, say = subject.opening, subject.detail, subject.say
    drawn = Wall(subject, StepCode.COUNTER_FLASHING, wall.head(subject))
    cap_in, past_in = drip_cap_in(opening, detail), detail.head_membrane_lap_in
    top_in = head_gap_in(opening) - detail.casing_width_in
    left_in = (opening.ro_width_in - cap_in) / 2
    drawn.across(
        Sentence("strip over the drip cap, cut"),
        say(second_strip_in(opening, detail)),
        left_in - past_in,
        left_in + cap_in + past_in,
        ABOVE,
    )
    drawn.across(
        Sentence("past the drip cap at each side"), say(past_in), left_in - past_in, left_in, drawn.y(top_in) + NEAR
    )
    return drawn.finished(wall.AT_THE_HEAD)
