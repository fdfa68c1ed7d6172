"""Field measurements of a rough opening held against their limits."""

from __future__ import annotations

from dataclasses import dataclass, fields
from decimal import Decimal

from openings.calc.facts import MAX_SIDE_IN, DetailFacts, OpeningFacts
from openings.calc.figures import brief, plain
from openings.calc.geometry import area_sqft
from openings.errors import BadLength

AGREE_WITHIN_IN = Decimal("0.125")
"""Three readings of a side agree within this (trade pages, secondary)."""

SMALL_AREA_SQFT = 20
SMALL_DIAGONAL_LIMIT_IN = Decimal("0.125")
LARGE_DIAGONAL_LIMIT_IN = Decimal("0.25")

LEVEL_RUN_PER_IN = 16 * 24
"""1/16 in in 2 ft: an inch in so many."""

LEVEL_CAP_IN = Decimal("0.125")

MAX_READING_IN = 2 * MAX_SIDE_IN
"""Longer than any diagonal of the largest opening: a slip (our choice)."""

_JELD_WEN = "JELD-WEN JII023 p. 3"


@dataclass(frozen=True, slots=True, kw_only=True)
class Readings:
    """What tape and level said of one rough opening, seen from outside; inches.

    Raises:
        BadLength: a width, height or diagonal is not above 0, a deviation is negative, or a reading is longer
            than anything in the largest opening.
    """

    width_top_in: Decimal
    width_middle_in: Decimal
    width_bottom_in: Decimal
    height_left_in: Decimal
    height_middle_in: Decimal
    height_right_in: Decimal
    diagonal_rising_in: Decimal
    diagonal_falling_in: Decimal
    sill_out_of_level_in: Decimal = Decimal(0)
    left_out_of_plumb_in: Decimal = Decimal(0)
    right_out_of_plumb_in: Decimal = Decimal(0)

    def __post_init__(self) -> None:
        for name in (field.name for field in fields(self)):
            reading = getattr(self, name)
            if not 0 <= reading <= MAX_READING_IN or (reading == 0 and "_out_of_" not in name):
                raise BadLength(f"{name} is {reading} in; that is no reading of a rough opening")

    @property
    def widths_in(self) -> tuple[Decimal, Decimal, Decimal]:
        """The three widths, top to bottom."""
        return self.width_top_in, self.width_middle_in, self.width_bottom_in

    @property
    def heights_in(self) -> tuple[Decimal, Decimal, Decimal]:
        """The three heights, left to right."""
        return self.height_left_in, self.height_middle_in, self.height_right_in


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One reading against its limit."""

    name: str
    reading_in: Decimal
    limit_in: Decimal
    passed: bool
    reason: str
    source: str


def level_limit_in(run_in: Decimal) -> Decimal:
    """Return how far a side of that length may be out of level or plumb.

    Source:
        1/16 in in 2 ft, never more than 1/8 in: JELD-WEN JII023 p. 3.
    """
    return min(run_in / LEVEL_RUN_PER_IN, LEVEL_CAP_IN)


def diagonal_limit_in(width_in: Decimal, height_in: Decimal) -> Decimal:
    """Return how far the two diagonals may differ.

    Source:
        1/8 in up to and with 20 sq ft, 1/4 in above: JELD-WEN JII023 p. 3.
    """
    is_small = area_sqft(width_in, height_in) <= SMALL_AREA_SQFT
    return SMALL_DIAGONAL_LIMIT_IN if is_small else LARGE_DIAGONAL_LIMIT_IN


def checks_of(readings: Readings, opening: OpeningFacts, detail: DetailFacts) -> tuple[Check, ...]:
    """Return every check of a measured opening, passed or not: sides, diagonals, level, plumb, clearance.

    The smallest of three readings stands for the side, as it decides whether the unit goes in.
    """
    return (
        *_agreement(readings),
        _diagonals(readings),
        *_level_and_plumb(readings),
        *_clearances(readings, opening, detail),
    )


def is_within(checks: tuple[Check, ...]) -> bool:
    """Return whether every check passed."""
    return all(check.passed for check in checks)


def _at_most(name: str, reading_in: Decimal, limit_in: Decimal, *, rule: str, source: str) -> Check:
    passed = reading_in <= limit_in
    verdict = "within" if passed else "over"
    return Check(
        name=name,
        reading_in=reading_in,
        limit_in=limit_in,
        passed=passed,
        reason=f"{name} {plain(reading_in)} in, {verdict} {plain(limit_in)} in: {rule}",
        source=source,
    )


def _agreement(readings: Readings) -> tuple[Check, ...]:
    return tuple(
        _at_most(
            f"{name} differ by",
            max(sides_in) - min(sides_in),
            AGREE_WITHIN_IN,
            rule=f"three readings from {plain(min(sides_in))} to {plain(max(sides_in))} in",
            source="trade pages (silltosash), secondary",
        )
        for name, sides_in in (("widths", readings.widths_in), ("heights", readings.heights_in))
    )


def _diagonals(readings: Readings) -> Check:
    width_in, height_in = min(readings.widths_in), min(readings.heights_in)
    return _at_most(
        "diagonals differ by",
        abs(readings.diagonal_rising_in - readings.diagonal_falling_in),
        diagonal_limit_in(width_in, height_in),
        rule=f"1/8 in up to 20 sq ft, 1/4 in above; this has {brief(area_sqft(width_in, height_in))} sq ft",
        source=_JELD_WEN,
    )


def _level_and_plumb(readings: Readings) -> tuple[Check, ...]:
    return tuple(
        _at_most(
            name,
            reading_in,
            level_limit_in(run_in),
            rule=f"1/16 in in 2 ft over {plain(run_in)} in, never more than 1/8 in",
            source=_JELD_WEN,
        )
        for name, reading_in, run_in in (
            ("sill out of level by", readings.sill_out_of_level_in, min(readings.widths_in)),
            ("left jamb out of plumb by", readings.left_out_of_plumb_in, readings.height_left_in),
            ("right jamb out of plumb by", readings.right_out_of_plumb_in, readings.height_right_in),
        )
    )


def _clearances(readings: Readings, opening: OpeningFacts, detail: DetailFacts) -> tuple[Check, ...]:
    sides = (
        ("width", min(readings.widths_in), opening.unit_width_in, detail.ro_clearance_width_in),
        ("height", min(readings.heights_in), opening.unit_height_in, detail.ro_clearance_height_in),
    )
    return tuple(
        Check(
            name=f"clearance in {name}",
            reading_in=smallest_in - unit_in,
            limit_in=Decimal(0),
            passed=smallest_in >= unit_in,
            reason=(
                f"smallest {name} {plain(smallest_in)} − unit {plain(unit_in)} = "
                f"{plain(smallest_in - unit_in)} in; the detail asks for {plain(wanted_in)} in, "
                "the unit must at least go in"
            ),
            source="smallest of three readings: Polaris installation page",
        )
        for name, smallest_in, unit_in, wanted_in in sides
    )
