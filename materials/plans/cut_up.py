"""The rolls of a crew day, planned and not yet written."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from materials.calc.pull import Pull
from materials.models import Remnant


@dataclass(frozen=True, slots=True, kw_only=True)
class CutUp:
    """The pulls of a sheet with their plans, and the remnants that lie there for them, by their codes.

    Args:
        reserved: ids of those that were reserved for the crew day before.
        used: those that the sheet is cut from.
        for_others: by crew day whose sheet is asked for, those that it gets so that the day takes the fewest new rolls.
    """

    pulls: tuple[Pull, ...]
    remnants: Mapping[str, Remnant]
    reserved: frozenset[int]
    used: tuple[Remnant, ...]
    for_others: Mapping[int, tuple[Remnant, ...]]
