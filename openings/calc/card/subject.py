"""What a drawing of a card is made of: one opening, its detail, and how lengths are said."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from typing import NamedTuple

from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.figures import half_up
from openings.calc.units import US, Units

EIGHTHS = 8
"""Marks along a side are given to 1/8 in, as they are made with a pencil (our choice)."""


class Seal(NamedTuple):
    """A joint that is sealed inside: where, how wide and deep, and which backer rod goes in; None where none does."""

    at: str
    gap_in: Decimal
    depth_in: Decimal
    rod_in: Decimal | None


class Subject(NamedTuple):
    """One opening with its detail, in the units in which its lengths are said."""

    opening: OpeningFacts
    detail: DetailFacts
    units: Units = US
    seals: tuple[Seal, ...] = ()

    def say(self, length_in: Decimal) -> str:
        """Return a length."""
        return self.units.say(length_in)

    def mark(self, place_in: Decimal) -> str:
        """Return a place along a side, as a pencil marks it: to 1/8 in, or to a millimeter."""
        if self.units.is_metric:
            return f"{half_up(place_in * Decimal('25.4'), to=Decimal(1))} mm"
        return self.units.say(half_up(place_in * EIGHTHS, to=Decimal(1)) / EIGHTHS)

    def marks(self, places_in: Iterable[Decimal]) -> str:
        """Return several places along a side."""
        return ", ".join(map(self.mark, places_in))

    def exactly(self, places_in: Iterable[Decimal]) -> str:
        """Return several places along a length that is cut."""
        return ", ".join(map(self.say, places_in))
