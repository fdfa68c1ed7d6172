"""What tape, level and string said of a rough opening, or of the unit that was set in it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields
from decimal import Decimal
from enum import StrEnum
from typing import NotRequired, TypedDict

from jobs.errors import Fault
from openings.calc.facts import MAX_SIDE_IN
from openings.calc.units import US
from openings.errors import BadLength

MAX_READING_IN = 2 * MAX_SIDE_IN
"""Longer than any diagonal of the largest opening: a slip (our choice)."""


class Measured(StrEnum):
    """What was measured."""

    ROUGH_OPENING = "rough opening"
    SET_UNIT = "set unit"

    def asks_for(self, name: str) -> bool:
        """Return whether a reading is taken of it at all."""
        return self is Measured.ROUGH_OPENING or name not in _OF_OPENING_ONLY


@dataclass(frozen=True, slots=True, kw_only=True)
class Readings:
    """What tape, level and string said of one rough opening or set unit, seen from outside; inches.

    Bow and sill crown are read of a rough opening only: those of a set unit show in its three widths and heights.
    A deviation that nobody measured is None: it is neither 0 nor true, and no check takes it for either.

    Args:
        left_bow_in, right_bow_in: how far a jamb of the rough opening stands into it at the middle, off a string
            from top to bottom; 0 where straight or hollow.
        sill_crown_in: crown or sag of the rough sill.
        twist_in: of the face of the rough opening, corner to corner; of a set unit, between crossed strings.

    Raises:
        BadLength: a width, height or diagonal is not above 0, a deviation is negative, a reading is longer than
            anything in the largest opening, or a set unit has a bow or a sill crown.
    """

    width_top_in: Decimal
    width_middle_in: Decimal
    width_bottom_in: Decimal
    height_left_in: Decimal
    height_middle_in: Decimal
    height_right_in: Decimal
    diagonal_rising_in: Decimal
    diagonal_falling_in: Decimal
    sill_out_of_level_in: Decimal | None = None
    left_out_of_plumb_in: Decimal | None = None
    right_out_of_plumb_in: Decimal | None = None
    left_bow_in: Decimal | None = None
    right_bow_in: Decimal | None = None
    sill_crown_in: Decimal | None = None
    twist_in: Decimal | None = None
    measured: Measured = Measured.ROUGH_OPENING

    def __post_init__(self) -> None:
        if faults := tuple(_slips(self)):
            raise BadLength("; ".join(fault.detail for fault in faults), faults=faults)

    @property
    def widths_in(self) -> tuple[Decimal, Decimal, Decimal]:
        """Return the three widths, top to bottom."""
        return self.width_top_in, self.width_middle_in, self.width_bottom_in

    @property
    def heights_in(self) -> tuple[Decimal, Decimal, Decimal]:
        """Return the three heights, left to right."""
        return self.height_left_in, self.height_middle_in, self.height_right_in

    @property
    def narrower_end_in(self) -> Decimal:
        """Return the width at top or bottom, whichever is less."""
        return min(self.width_top_in, self.width_bottom_in)

    @property
    def greater_bow_in(self) -> Decimal | None:
        """Return the greater bow of the jambs whose bow was measured; None where neither was."""
        return max((bow_in for bow_in in (self.left_bow_in, self.right_bow_in) if bow_in is not None), default=None)

    @property
    def not_measured(self) -> tuple[str, ...]:
        """Return the deviations that are asked for and were not measured."""
        asked = (name for name in DEVIATION_NAMES if self.measured.asks_for(name))
        return tuple(name for name in asked if getattr(self, name) is None)

    @property
    def straight_width_in(self) -> Decimal:
        """Return the width of the widest straight unit that passes between the jambs.

        The smallest of the three widths, or what the greater bow leaves of the narrower end: where both jambs bow
        the same way, all three widths read true and the unit still does not go in. A bow that nobody measured takes
        nothing off; `not_measured` names it.

        Source:
            Smallest of three: Polaris installation page. Bow: geometry; no published limit for a rough jamb was found.
        """
        if self.greater_bow_in is None:
            return min(self.widths_in)
        return min(*self.widths_in, self.narrower_end_in - self.greater_bow_in)

    @property
    def is_bowed(self) -> bool:
        """Return whether a bow takes more than the three widths show."""
        return self.straight_width_in < min(self.widths_in)


class ReadingsIn(TypedDict):
    """The readings of `Readings` by name, inches, what was measured left out."""

    width_top_in: Decimal
    width_middle_in: Decimal
    width_bottom_in: Decimal
    height_left_in: Decimal
    height_middle_in: Decimal
    height_right_in: Decimal
    diagonal_rising_in: Decimal
    diagonal_falling_in: Decimal
    sill_out_of_level_in: NotRequired[Decimal | None]
    left_out_of_plumb_in: NotRequired[Decimal | None]
    right_out_of_plumb_in: NotRequired[Decimal | None]
    left_bow_in: NotRequired[Decimal | None]
    right_bow_in: NotRequired[Decimal | None]
    sill_crown_in: NotRequired[Decimal | None]
    twist_in: NotRequired[Decimal | None]


READING_NAMES = tuple(field.name for field in fields(Readings) if field.name != "measured")
"""The readings alone, in the order in which they are taken; each is in inches."""

SIDE_NAMES, DEVIATION_NAMES = READING_NAMES[:8], READING_NAMES[8:]
"""Widths, heights and diagonals, which nobody may leave out; and how far it is from true, as far as it was measured."""

TITLES = {
    "width_top_in": "width, top",
    "width_middle_in": "width, middle",
    "width_bottom_in": "width, bottom",
    "height_left_in": "height, left",
    "height_middle_in": "height, middle",
    "height_right_in": "height, right",
    "diagonal_rising_in": "diagonal rising to the right",
    "diagonal_falling_in": "diagonal falling to the right",
    "sill_out_of_level_in": "sill out of level",
    "left_out_of_plumb_in": "left jamb out of plumb",
    "right_out_of_plumb_in": "right jamb out of plumb",
    "left_bow_in": "left jamb bows in",
    "right_bow_in": "right jamb bows in",
    "sill_crown_in": "sill crown or sag",
    "twist_in": "twist, corner to corner",
}
"""What people call each reading."""

_OF_OPENING_ONLY = ("left_bow_in", "right_bow_in", "sill_crown_in")


def _slips(readings: Readings) -> Iterator[Fault]:
    """Yield each reading that cannot be one of what was measured."""
    for name in READING_NAMES:
        reading, sentence = getattr(readings, name), ""
        if reading is None:
            continue
        if not 0 <= reading <= MAX_READING_IN or (reading == 0 and name in SIDE_NAMES):
            sentence = f"{TITLES[name]}: {US.say(reading)} is no reading of a {readings.measured}"
        elif reading and not readings.measured.asks_for(name):
            sentence = f"{TITLES[name]}: leave it out; of a set unit the three widths and heights show that"
        if sentence:
            yield Fault(field=name, value=str(reading), detail=sentence)
