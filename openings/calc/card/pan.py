"""The pan membrane: rolled out flat with its folds and cuts measured from the end of the roll, and in the sill."""

from __future__ import annotations

from decimal import Decimal
from itertools import accumulate
from typing import NamedTuple

from jobs.calc.sentence import Sentence
from openings.calc.card import wall
from openings.calc.card.sketch import LETTERING, WIDE, Pencil, Sketch, stretched
from openings.calc.card.subject import Subject
from openings.calc.card.wall import Wall
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.geometry import laps_over_sill_strip
from openings.calc.step_code import StepCode

LEFT, ROOM = Decimal(14), Decimal(252)
"""Where the flat membrane begins on the field and how long it is drawn; the rest is for the measures of its width."""

LEAST_LONG, LEAST_DEEP = Decimal(64), Decimal(34)
TOP, DEEP = Decimal(30), Decimal(150)

FLAT = Sentence("The pan membrane rolled out flat, not to scale: measure what is written")
SIDE_ON = Sentence("The sill cut through, not to scale")
OUTSIDE, INSIDE = Sentence("outside"), Sentence("inside")


class FlatPan(NamedTuple):
    """The pan membrane rolled out flat; inches."""

    turn_up_in: Decimal
    between_in: Decimal
    back_dam_in: Decimal
    sill_in: Decimal
    front_lap_in: Decimal
    is_slit: bool

    @property
    def along_in(self) -> tuple[Decimal, ...]:
        """Return its parts from one end of the roll to the other."""
        return tuple(part for part in (self.turn_up_in, self.between_in, self.turn_up_in) if part)

    @property
    def folds_in(self) -> tuple[Decimal, ...]:
        """Return where it is folded, and in the front lap cut, from the end of the roll."""
        return tuple(accumulate(self.along_in))[:-1]

    @property
    def length_in(self) -> Decimal:
        return sum(self.along_in, Decimal(0))

    @property
    def width_in(self) -> Decimal:
        return self.back_dam_in + self.sill_in + self.front_lap_in


def flat_pan(opening: OpeningFacts, detail: DetailFacts) -> FlatPan:
    """Return the measures of a pan membrane before it is laid."""
    return FlatPan(
        turn_up_in=detail.pan_turn_up_in,
        between_in=opening.ro_width_in,
        back_dam_in=detail.back_dam_in,
        sill_in=detail.sill_depth_in,
        front_lap_in=detail.pan_front_lap_in,
        is_slit=laps_over_sill_strip(detail),
    )


def corner_pieces(subject: Subject) -> Sketch:
    """Draw a corner piece in each lower corner."""
    drawn = Wall(subject, StepCode.CORNER_PIECES, wall.sill(subject))
    side, thick = 7 * drawn.scale, max(drawn.scale, Decimal(6))
    sill, left, right = drawn.y(subject.opening.ro_height_in), drawn.x(Decimal(0)), drawn.x(subject.opening.ro_width_in)
    for at, inward in ((left, 0), (right, 1)):
        drawn.pencil.box("corner-piece", at - inward * thick, sill - side, thick, side, is_now=True)
        drawn.pencil.box("corner-piece", at - inward * side, sill - thick, side, thick, is_now=True)
    return drawn.finished(wall.AT_THE_SILL)


def pan(subject: Subject) -> tuple[Sketch, Sketch]:
    """Draw the membrane flat, then as it lies in the sill."""
    return _rolled_out(subject, Pencil()), _side_on(subject, Pencil())


def _rolled_out(subject: Subject, pencil: Pencil) -> Sketch:
    flat = flat_pan(subject.opening, subject.detail)
    depths = _depths(flat)
    xs = [LEFT, *(LEFT + x for x in accumulate(stretched(flat.along_in, room=ROOM, least=LEAST_LONG)))]
    ys = [TOP, *(TOP + y for y in accumulate(stretched([one for _, one in depths], room=DEEP, least=LEAST_DEEP)))]
    right, bottom = xs[-1], ys[-1]
    pencil.box("pan-membrane", LEFT, TOP, ROOM, bottom - TOP, is_now=True)
    for y in ys[1:-1]:
        pencil.line("fold", LEFT, y, right, y)
    for x in xs[1:-1]:
        pencil.line("fold", x, TOP, x, bottom)
        if flat.is_slit:
            pencil.line("cut", x, ys[-2], x, bottom)
    pencil.note(INSIDE, LEFT + ROOM / 2, TOP - LETTERING * 3 / 4)
    pencil.note(OUTSIDE, LEFT + ROOM / 2, bottom + LETTERING * 3 / 4)
    _marks(subject, pencil, xs, (Decimal(0), *flat.folds_in, flat.length_in), bottom)
    for (what, depth_in), start, end in zip(depths, ys, ys[1:], strict=False):
        pencil.down(what, subject.say(depth_in), start, end, right + 26)
    pencil.down(Sentence("pan membrane, least width"), subject.say(flat.width_in), TOP, bottom, right + 66)
    pencil.listed(Sentence("pan membrane, cut from the roll"), subject.say(flat.length_in))
    if flat.folds_in:
        pencil.listed(Sentence("folds, from the end of the roll"), subject.exactly(flat.folds_in))
    if flat.folds_in and flat.is_slit:
        pencil.listed(
            Sentence("cuts through the front lap alone, from the end of the roll"), subject.exactly(flat.folds_in)
        )
    return pencil.finished(FLAT, bottom + 74)


def _marks(subject: Subject, pencil: Pencil, xs: list[Decimal], marks_in: tuple[Decimal, ...], bottom: Decimal) -> None:
    """Letter the marks along the roll, in two rows so that no two run into each other."""
    for place, (x, mark_in) in enumerate(zip(xs, marks_in, strict=True)):
        pencil.line("end", x, bottom + 22, x, bottom + 30)
        anchor = "start" if place == 0 else "end" if x == xs[-1] else "middle"
        pencil.note(subject.say(mark_in), x, bottom + 42 + LETTERING * (place % 2), anchor)


def _depths(flat: FlatPan) -> list[tuple[Sentence, Decimal]]:
    """Return the parts of the membrane's width from the inside outward."""
    parts = (
        (Sentence("back dam, turned up"), flat.back_dam_in),
        (Sentence("sill, from back dam to front edge"), flat.sill_in),
        (Sentence("front lap, folded down over the face of the wall"), flat.front_lap_in),
    )
    return [(what, length) for what, length in parts if length > 0]


def _side_on(subject: Subject, pencil: Pencil) -> Sketch:
    """Draw the sill from its end: outside at the left."""
    flat = flat_pan(subject.opening, subject.detail)
    out, back, top, low = Decimal(120), Decimal(236), Decimal(86), Decimal(150)
    drop = top - 8 if subject.detail.sill_slope_deg else top
    front = out - 20
    pencil.box("framing", out, top, back - out, low - top)
    pencil.box("sheathing", out - 16, top, Decimal(16), low - top + 20)
    pencil.line("layer", front, top, back, drop)
    if flat.front_lap_in:
        pencil.line("layer", front, top + 46, front, top)
        pencil.again(subject.say(flat.front_lap_in), top, top + 46, front - 14)
    if flat.back_dam_in:
        pencil.line("layer", back, drop, back, drop - 34)
        pencil.again(subject.say(flat.back_dam_in), drop - 34, drop, back + 14)
    pencil.note(OUTSIDE, Decimal(8), Decimal(20), "start")
    pencil.note(INSIDE, WIDE - 8, Decimal(20), "end")
    if flat.turn_up_in:
        middle = (out + back) / 2 - 10
        pencil.line("behind", middle, drop, middle, Decimal(64))
        pencil.note(Sentence("turn-up {length}", length=subject.say(flat.turn_up_in)), middle, Decimal(54))
    return pencil.finished(SIDE_ON, low + 30)
