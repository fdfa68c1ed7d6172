"""A rough opening as it was drawn, and as it was built once a measurement of it is accepted."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from typing import TypeAlias

from openings.calc.readings import Measured, Readings
from openings.calc.units import US, Units

Size: TypeAlias = tuple[Decimal, Decimal]
"""Width before height, inches."""


def say_size(size_in: Size, say: Callable[[Decimal], str] = US.say) -> str:
    """Return a size in words, width before height."""
    width_in, height_in = size_in
    return f"{say(width_in)} × {say(height_in)}"


@dataclass(frozen=True, slots=True)
class RoughOpening:
    """The size of a rough opening on paper, and in the wall where somebody measured and accepted it."""

    drawn_in: Size
    built_in: Size | None = None

    @property
    def in_force_in(self) -> Size:
        """Return the size by which pieces are cut: as built where that is known."""
        return self.built_in or self.drawn_in

    def said(self, say: Callable[[Decimal], str] = US.say) -> str:
        """Return the size in words, both where there are two.

        >>> RoughOpening((Decimal(72), Decimal(60)), (Decimal(75), Decimal(60))).said()
        '6\\' 3" × 5\\' 0" as built (drawn 6\\' 0" × 5\\' 0")'
        """
        drawn = say_size(self.drawn_in, say)
        return drawn if self.built_in is None else f"{say_size(self.built_in, say)} as built (drawn {drawn})"


def built_size_in(readings: Readings) -> Size:
    """Return the size of a rough opening as built: the largest of its three widths and of its three heights.

    Strips, pan and membrane must reach across the widest place, and rod and sealant fill the widest gap; a piece cut
    to the smallest reading would be short there. Readings that agree within tolerance differ by 1/8 in at most, so
    what is lost at the narrow end is less than a trim. Whether the unit goes in is another question, which the
    smallest reading answers (`Readings.straight_width_in`).

    Source:
        Our choice; that the smallest of three decides whether the unit goes in: Polaris installation page.
    """
    return max(readings.widths_in), max(readings.heights_in)


def why_no_room(readings: Readings, unit_in: Size, *, units: Units = US) -> str:
    """Return why readings cannot stand for the opening that a unit goes into, and what to do; nothing where they can.

    Args:
        unit_in: width and height of the unit.
    """
    if readings.measured is not Measured.ROUGH_OPENING:
        return "it was measured of the set unit; measure the rough opening"
    for side, least_in, side_in in (
        ("width", readings.straight_width_in, unit_in[0]),
        ("height", min(readings.heights_in), unit_in[1]),
    ):
        if least_in < side_in:
            return (
                f"the unit needs a {side} of {units.say(side_in)} and has {units.say(least_in)}; open the framing up "
                "and measure again, or order a unit that goes in and enter its size"
            )
    return ""
