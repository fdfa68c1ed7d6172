"""The wall from outside, to scale, as far as a step shows it: what was laid before, and what the step adds.

The origin is the upper left corner of the rough opening; x runs right, y down, in inches.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from functools import lru_cache
from itertools import accumulate
from string import ascii_uppercase

from jobs.calc.sentence import Sentence
from openings.calc.card.sketch import WIDE, Pencil, Sketch
from openings.calc.card.subject import Subject
from openings.calc.elevation_shapes import Shape, shapes_of
from openings.calc.extents import Rect
from openings.calc.facts import DetailFacts
from openings.calc.lay_order import steps_for
from openings.calc.step_code import StepCode

MARGIN = Decimal(36)
"""Around the wall, for measures."""

MOST_HIGH = Decimal(250)

LAID_AROUND = frozenset({"strip", "left-free", "pan", "back-dam", "membrane", "drip-cap"})
"""The kinds of shapes around a unit, left out where the unit is what is shown."""

FROM_OUTSIDE = Sentence("Seen from outside, to scale")
AT_THE_HEAD = Sentence("The head seen from outside, to scale")
AT_THE_SILL = Sentence("The sill seen from outside, to scale")


def whole(subject: Subject) -> Rect:
    """Return a view of the opening with all its strips."""
    out_in = subject.detail.strip_width_in + 1
    return Rect(-out_in, -out_in, subject.opening.ro_width_in + out_in, subject.opening.ro_height_in + out_in)


def around_unit(subject: Subject) -> Rect:
    """Return a view of the unit with casing or flange."""
    out_in = max(subject.detail.casing_width_in, Decimal(2)) + 1
    return Rect(-out_in, -out_in, subject.opening.ro_width_in + out_in, subject.opening.ro_height_in + out_in)


def head(subject: Subject) -> Rect:
    """Return a view of the head with the strips around it."""
    left_in, _, right_in, _ = whole(subject)
    over_in = subject.detail.strip_width_in + subject.detail.casing_width_in + 2
    return Rect(left_in, -over_in, right_in, min(subject.opening.ro_height_in, subject.detail.strip_width_in))


def sill(subject: Subject) -> Rect:
    """Return a view of the sill with the strips around it."""
    left_in, _, right_in, bottom_in = whole(subject)
    top_in = max(Decimal(0), subject.opening.ro_height_in - subject.detail.strip_width_in)
    return Rect(left_in, top_in, right_in, bottom_in)


class Wall:
    """A drawing of the wall up to one step.

    Args:
        hides: kinds of shapes that are left out.
    """

    def __init__(self, subject: Subject, code: StepCode, view: Rect, *, hides: frozenset[str] = frozenset()) -> None:
        self.view = view
        wide_in, high_in = view.width_in, view.height_in
        self.scale = min((WIDE - 2 * MARGIN) / wide_in, MOST_HIGH / high_in)
        self._left = (WIDE - self.scale * wide_in) / 2
        self.pencil = Pencil(iter(ascii_uppercase))
        self.height = self.scale * high_in + 2 * MARGIN
        for shape, is_now in _laid(subject, code):
            if shape.kind not in hides:
                self.shape(shape, is_now=is_now)

    def x(self, x_in: Decimal) -> Decimal:
        """Return where a place from the left stands on the field."""
        return self._left + (x_in - self.view.left_in) * self.scale

    def y(self, y_in: Decimal) -> Decimal:
        """Return where a place from above stands on the field."""
        return MARGIN + (y_in - self.view.top_in) * self.scale

    def shape(self, shape: Shape, *, is_now: bool) -> None:
        """Draw as much of a rectangle as is in view."""
        left_in, top_in = max(shape.x_in, self.view.left_in), max(shape.y_in, self.view.top_in)
        right_in = min(shape.right_in, self.view.right_in)
        bottom_in = min(shape.bottom_in, self.view.bottom_in)
        width, height = (right_in - left_in) * self.scale, (bottom_in - top_in) * self.scale
        self.pencil.box(shape.kind, self.x(left_in), self.y(top_in), width, height, is_now=is_now)

    def line(self, kind: str, x1_in: Decimal, y1_in: Decimal, x2_in: Decimal, y2_in: Decimal) -> None:
        """Draw a line."""
        self.pencil.line(kind, self.x(x1_in), self.y(y1_in), self.x(x2_in), self.y(y2_in))

    def dot(self, kind: str, x_in: Decimal, y_in: Decimal) -> None:
        """Draw a point."""
        self.pencil.dot(kind, self.x(x_in), self.y(y_in))

    def across(self, what: Sentence, size: str, x1_in: Decimal, x2_in: Decimal, y: Decimal) -> None:
        """Measure from left to right, at a height of the field."""
        self.pencil.across(what, size, self.x(x1_in), self.x(x2_in), y)

    def down(self, what: Sentence, size: str, y1_in: Decimal, y2_in: Decimal, x: Decimal) -> None:
        """Measure from above downward, at a distance from the field's left."""
        self.pencil.down(what, size, self.y(y1_in), self.y(y2_in), x)

    def finished(self, shows: Sentence = FROM_OUTSIDE) -> Sketch:
        """Return the drawing."""
        return self.pencil.finished(shows, self.height)


def _laid(subject: Subject, code: StepCode) -> Iterator[tuple[Shape, bool]]:
    """Yield what is laid before the step, then what it adds, which is marked so."""
    now = _numbers(subject.detail)[code]
    for number, shape in _numbered(subject):
        if number <= now:
            yield shape, number == now


@lru_cache(maxsize=64)
def _numbers(detail: DetailFacts) -> dict[StepCode, int]:
    """Return the numbers of the steps; remembered, as each drawing of a card asks."""
    return {step.code: number for number, step in enumerate(steps_for(detail), start=1)}


@lru_cache(maxsize=64)
def _numbered(subject: Subject) -> tuple[tuple[int, Shape], ...]:
    """Return the shapes of the wall with the steps that lay them; remembered, as each drawing of a card asks."""
    shapes = tuple(shapes_of(subject.opening, subject.detail, subject.say))
    return tuple(zip(accumulate((shape.number or 0 for shape in shapes), max), shapes, strict=True))
