"""The lengths in which new rolls come, and what they cost."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from math import gcd

from materials.calc.cutting.supply import Kind
from openings.calc.figures import places_of


@dataclass(frozen=True, slots=True)
class RollLength:
    """One length in which new rolls come; without a price each roll counts the same."""

    length_in: Decimal
    price: Decimal | None = None


def prices(roll_lengths: Sequence[RollLength]) -> list[Decimal]:
    """Return the price of each length, 1 each where one is missing."""
    given = [kind.price for kind in roll_lengths if kind.price is not None]
    return given if len(given) == len(roll_lengths) else [Decimal(1)] * len(roll_lengths)


def price_of_each(roll_lengths: Sequence[RollLength]) -> dict[Decimal, Decimal]:
    """Return what a new roll of each length costs, of two of one length the cheaper."""
    paid: dict[Decimal, Decimal] = {}
    for kind, price in zip(roll_lengths, prices(roll_lengths), strict=True):
        paid[kind.length_in] = min(price, paid.get(kind.length_in, price))
    return paid


def price_unit_of(paid: Collection[Decimal]) -> Decimal:
    """Return the largest price of which all are whole multiples."""
    exponent = max(map(places_of, paid), default=0)
    return Decimal(gcd(*(int(price.scaleb(exponent)) for price in paid))).scaleb(-exponent)


def kinds_of(
    price_of: Mapping[Decimal, Decimal], price_unit: Decimal, room_of: Callable[[Decimal], int]
) -> dict[Kind, Decimal]:
    """Return the kinds of new rolls for a search, with their lengths: of those as long in steps the cheapest.

    Args:
        room_of: the room of a length, in steps.
    """
    by_room: dict[int, tuple[Decimal, Decimal]] = {}
    for length_in, price in price_of.items():
        room = room_of(length_in)
        by_room[room] = min((price, length_in), by_room.get(room, (price, length_in)))
    return {Kind(room, int(price / price_unit)): length_in for room, (price, length_in) in by_room.items()}
