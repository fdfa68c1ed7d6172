"""Invented days of strips to cut from rolls; the same ones in every run."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal

from materials.calc.roll_lengths import RollLength
from materials.calc.rolls import Cut, Remnant

TRIM_IN = Decimal("0.125")
MOST_REMNANTS = 5
FEET_IN = 12
FAMILIES: dict[str, Callable[[random.Random], CutDay]] = {
    "75-ft rolls": lambda chance: _uniform_day(chance, strips=160),
    "75-ft rolls, few sizes": lambda chance: _day_of_units(chance, windows=40),
    "25-ft rolls": lambda chance: _uniform_day(chance, strips=160, roll_ft=25),
    "40 strips": lambda chance: _uniform_day(chance, strips=40),
    "400 strips": lambda chance: _uniform_day(chance, strips=400),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class CutDay:
    """What is to be cut on a day, and from what."""

    pieces: tuple[Cut, ...]
    roll_lengths: tuple[RollLength, ...]
    remnants: tuple[Remnant, ...]
    trim_in: Decimal = TRIM_IN


def days(family: str, count: int) -> list[CutDay]:
    """Return the first so many days of a family."""
    return [FAMILIES[family](_chance(f"{family} {number}")) for number in range(count)]


def big_day(strips: int) -> CutDay:
    """Return one day of so many strips from 75-ft rolls."""
    return _uniform_day(_chance("big day"), strips=strips)


def priced_days(count: int) -> list[CutDay]:
    """Return the first so many days on which rolls of 25, 50 and 75 ft may be opened, the longer the cheaper a foot."""
    return [_priced_day(_chance(f"priced {number}")) for number in range(count)]


def _chance(name: str) -> random.Random:
    return random.Random(name)  # noqa: S311 (chance of no secret)


def _uniform_day(chance: random.Random, *, strips: int, roll_ft: int = 75) -> CutDay:
    return CutDay(
        pieces=tuple(
            Cut(length_in=_sixteenths(chance, 30, 120), label=f"W{number} strip") for number in range(1, strips + 1)
        ),
        roll_lengths=(RollLength(Decimal(roll_ft * FEET_IN)),),
        remnants=_remnants(chance),
    )


def _day_of_units(chance: random.Random, *, windows: int) -> CutDay:
    """Return a day of windows of a few sizes: sill, two jambs and head of each (9-in strips, from memory)."""
    units = [(_sixteenths(chance, 24, 72), _sixteenths(chance, 36, 72)) for _ in range(chance.randint(3, 8))]
    pieces = []
    for number in range(1, windows + 1):
        width_in, height_in = chance.choice(units)
        jamb_in = height_in + Decimal("8.5")
        sides = {"sill": width_in + 18, "left jamb": jamb_in, "right jamb": jamb_in, "head": width_in + 20}
        pieces += [Cut(length_in=length_in, label=f"W{number} {side}") for side, length_in in sides.items()]
    return CutDay(pieces=tuple(pieces), roll_lengths=(RollLength(Decimal(75 * FEET_IN)),), remnants=_remnants(chance))


def _priced_day(chance: random.Random) -> CutDay:
    day = _uniform_day(chance, strips=chance.randint(60, 160))
    usd_a_ft = chance.uniform(0.4, 0.8)
    dearer = {25: chance.uniform(1.1, 1.3), 50: chance.uniform(1.02, 1.1), 75: 1}
    return CutDay(
        pieces=day.pieces,
        remnants=day.remnants,
        roll_lengths=tuple(
            RollLength(Decimal(feet * FEET_IN), price=Decimal(round(feet * usd_a_ft * factor * 100)) / 100)
            for feet, factor in dearer.items()
        ),
    )


def _remnants(chance: random.Random) -> tuple[Remnant, ...]:
    return tuple(
        Remnant(length_in=_sixteenths(chance, 24, 280), code=f"R{number}")
        for number in range(1, chance.randint(0, MOST_REMNANTS) + 1)
    )


def _sixteenths(chance: random.Random, least_in: int, most_in: int) -> Decimal:
    return Decimal(chance.randint(least_in * 16, most_in * 16)) / 16
