"""A drawing of one step in plain values: shapes on a field as wide as a phone, and its measures by letter."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from decimal import Decimal
from string import ascii_uppercase
from typing import NamedTuple

from jobs.calc.sentence import Sentence
from openings.calc.figures import half_up

WIDE = Decimal(340)
"""A field is as wide as a small phone in its own points, so that lettering of 16 is read as 16 px there."""

LETTERING = Decimal(16)
LETTER_WIDE = Decimal(11)
"""How wide a letter is, more than most fonts take (our choice)."""

BESIDE = Decimal(14)
"""From the end of a span to a letter that has no room in it."""

TALL = Decimal(260)
"""From this height on a drawing stands beside its text on narrow paper (our choice)."""

TENTH = Decimal("0.1")


class Box(NamedTuple):
    """A rectangle; `kind` names what it stands for, `is_now` whether this step puts it there."""

    kind: str
    x: Decimal
    y: Decimal
    width: Decimal
    height: Decimal
    is_now: bool = False


class Line(NamedTuple):
    """A straight line: a cut, a fold, a bead, a row of fasteners or a span that is measured."""

    kind: str
    x1: Decimal
    y1: Decimal
    x2: Decimal
    y2: Decimal


class Dot(NamedTuple):
    """A fastener, a strap, a pair of shims or a rod; `size` is its radius."""

    kind: str
    x: Decimal
    y: Decimal
    size: Decimal = Decimal(5)


class Note(NamedTuple):
    """Lettering: a sentence, or a length as it stands; `is_upright` runs from below upward."""

    text: str
    x: Decimal
    y: Decimal
    anchor: str = "middle"
    is_upright: bool = False


class Measure(NamedTuple):
    """What is measured, how long it is, and the letter it goes by in the drawing; no letter where none is drawn."""

    key: str
    what: Sentence
    size: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Sketch:
    """One drawing; later shapes lie over earlier ones.

    Args:
        shows: from where it is seen.
    """

    shows: Sentence
    height: Decimal
    boxes: tuple[Box, ...] = ()
    lines: tuple[Line, ...] = ()
    dots: tuple[Dot, ...] = ()
    notes: tuple[Note, ...] = ()
    measures: tuple[Measure, ...] = ()
    width: Decimal = WIDE

    @property
    def is_tall(self) -> bool:
        """Return whether it is so tall that in print text has room beside it."""
        return self.height >= TALL


@dataclass(slots=True)
class Pencil:
    """Puts shapes on a field, in points of the field, and gives each measure the next letter."""

    keys: Iterator[str] = field(default_factory=lambda: iter(ascii_uppercase))
    boxes: list[Box] = field(default_factory=list)
    lines: list[Line] = field(default_factory=list)
    dots: list[Dot] = field(default_factory=list)
    notes: list[Note] = field(default_factory=list)
    measures: list[Measure] = field(default_factory=list)

    def box(self, kind: str, x: Decimal, y: Decimal, width: Decimal, height: Decimal, *, is_now: bool = False) -> None:
        """Draw a rectangle; one without area is left out."""
        if width > 0 and height > 0:
            self.boxes.append(Box(kind, point(x), point(y), point(width), point(height), is_now))

    def line(self, kind: str, x1: Decimal, y1: Decimal, x2: Decimal, y2: Decimal) -> None:
        """Draw a line."""
        self.lines.append(Line(kind, *map(point, (x1, y1, x2, y2))))

    def dot(self, kind: str, x: Decimal, y: Decimal, size: Decimal = Decimal(5)) -> None:
        """Draw a point."""
        self.dots.append(Dot(kind, point(x), point(y), point(size)))

    def note(self, text: str, x: Decimal, y: Decimal, anchor: str = "middle") -> None:
        """Letter a text, its middle line at `y`."""
        self.notes.append(Note(text, point(x), point(y), anchor))

    def across(self, what: Sentence, size: str, x1: Decimal, x2: Decimal, y: Decimal) -> None:
        """Measure from left to right: letter and length where the span has room for them, else the letter alone."""
        key = self._measure(what, size)
        self._span(x1, y, x2, y)
        text, room = f"{key} {size}", abs(x2 - x1)
        if wide(text) <= room:
            self.note(text, (x1 + x2) / 2, y - LETTERING * 3 / 4)
        elif wide(key) <= room:
            self.note(key, (x1 + x2) / 2, y - LETTERING * 3 / 4)
        else:
            self.note(key, max(x1, x2) + BESIDE if x1 < WIDE / 2 else min(x1, x2) - BESIDE, y)

    def down(self, what: Sentence, size: str, y1: Decimal, y2: Decimal, x: Decimal) -> None:
        """Measure from above downward, lettered upright beside the span, or by the letter alone."""
        key = self._measure(what, size)
        self._span(x, y1, x, y2)
        text, room = f"{key} {size}", abs(y2 - y1)
        if wide(text) <= room:
            upright = Note(text, point(x - LETTERING * 3 / 4), point((y1 + y2) / 2), is_upright=True)
            self.notes.append(upright)
        elif room >= LETTERING:
            self.note(key, x - LETTERING * 3 / 4, (y1 + y2) / 2)
        else:
            self.note(key, x, min(y1, y2) - BESIDE)

    def again(self, size: str, y1: Decimal, y2: Decimal, x: Decimal) -> None:
        """Show a length that another drawing of the step measures, beside a span that runs downward."""
        self._span(x, y1, x, y2)
        is_right = x > WIDE / 2
        at = x + BESIDE / 2 if is_right else x - BESIDE / 2
        self.note(size, at, (y1 + y2) / 2, "start" if is_right else "end")

    def listed(self, what: Sentence, size: str) -> None:
        """Measure what no span in the drawing shows."""
        self.measures.append(Measure("", what, size))

    def finished(self, shows: Sentence, height: Decimal) -> Sketch:
        """Return the drawing."""
        return Sketch(
            shows=shows,
            height=point(height),
            boxes=tuple(self.boxes),
            lines=tuple(self.lines),
            dots=tuple(self.dots),
            notes=tuple(self.notes),
            measures=tuple(self.measures),
        )

    def _measure(self, what: Sentence, size: str) -> str:
        key = next(self.keys)
        self.measures.append(Measure(key, what, size))
        return key

    def _span(self, x1: Decimal, y1: Decimal, x2: Decimal, y2: Decimal) -> None:
        self.line("measured", x1, y1, x2, y2)
        for x, y in ((x1, y1), (x2, y2)):
            self.line("end", x - 4, y + 4, x + 4, y - 4)


def point(figure: Decimal) -> Decimal:
    """Return a place on the field, to a tenth of a point."""
    return half_up(figure, to=TENTH)


def wide(text: str) -> Decimal:
    """Return how wide a text is lettered."""
    return len(text) * LETTER_WIDE


def stretched(lengths: Iterable[Decimal], *, room: Decimal, least: Decimal) -> tuple[Decimal, ...]:
    """Return how long each of some lengths is drawn side by side, none shorter than `least`, together `room`.

    >>> [int(one) for one in stretched(map(Decimal, (6, 36, 6)), room=Decimal(300), least=Decimal(60))]
    [60, 180, 60]
    """
    given = list(lengths)
    whole = sum(given)
    shares = [room * length / whole for length in given]
    short = {place for place, share in enumerate(shares) if share < least}
    left, rest = room - least * len(short), sum(length for place, length in enumerate(given) if place not in short)
    return tuple(least if place in short else left * length / rest for place, length in enumerate(given))
