"""Field measurements held against their limits: of a rough opening, or of the unit that was set in it."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.figures import half_up
from openings.calc.geometry import area_sqft
from openings.calc.limits import (
    FACE_TWIST_BELOW_IN,
    OPENING_AGREES_WITHIN_IN,
    UNIT_AGREES_WITHIN_IN,
    diagonal_limit_in,
    level_limit_in,
    say_diagonal_rule,
    say_level_rule,
    say_twist_rule,
    true_diagonal_in,
    twist_limit_in,
)
from openings.calc.readings import Measured, Readings
from openings.calc.units import THREE_PLACES, US, Units

_OPENING = "JELD-WEN JII023 p. 3"
_UNIT = "JELD-WEN JPG006"
_UNIT_DIAGONALS = f"{_UNIT} p. 8"
_SMALLEST = "smallest of three readings: Polaris installation page"
_TOO_LARGE = "installation detail; usual limit 1 in from a shop-drawing note, secondary"
_BOW = "bow: geometry, no published limit"


class Answer(StrEnum):
    """What a reading says of its limit; without a reading nothing is said."""

    PASSED = "passed"
    FAILED = "failed"
    NOT_MEASURED = "not measured"


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One reading against its limit.

    Args:
        reading_in: None where it was not measured.
        limit_in: None where no limit is published for the reading alone.
    """

    name: str
    reading_in: Decimal | None
    limit_in: Decimal | None
    answer: Answer
    reason: str
    source: str

    @property
    def passed(self) -> bool | None:
        """Return whether the reading keeps its limit; None where it was not measured."""
        return None if self.answer is Answer.NOT_MEASURED else self.answer is Answer.PASSED


def checks_of(
    readings: Readings, opening: OpeningFacts, detail: DetailFacts, *, units: Units = US
) -> tuple[Check, ...]:
    """Return every check of what was measured: passed, failed, or not measured.

    Of both: sides, diagonals, level, plumb, twist. Of a rough opening also sill crown and clearance, and each jamb
    whose bow is missing from the clearance.

    The smallest of three readings stands for the side, as it decides whether the unit goes in; the largest one where
    there is more room than the detail allows.
    """
    common = (*_agreement(readings, units), _diagonals(readings, units), *_level_and_plumb(readings, units))
    if readings.measured is Measured.SET_UNIT:
        return (*common, _unit_twist(readings, units))
    return (
        *common,
        _sill_crown(readings, units),
        _face_twist(readings, units),
        *_clearances(readings, opening, detail, units),
        *_missing_bows(readings),
    )


def is_within(checks: tuple[Check, ...]) -> bool:
    """Return whether no check failed. What was not measured did not; the checks name it."""
    return not any(check.answer is Answer.FAILED for check in checks)


def _answer(passed: bool) -> Answer:
    return Answer.PASSED if passed else Answer.FAILED


def _at_most(
    name: str, reading_in: Decimal | None, limit_in: Decimal, *, rule: str, source: str, units: Units
) -> Check:
    if reading_in is None:
        return _not_measured(name, f"{units.say(limit_in)} at most: {rule}", limit_in=limit_in, source=source)
    passed = reading_in <= limit_in
    verdict = "within" if passed else "over"
    return Check(
        name=name,
        reading_in=reading_in,
        limit_in=limit_in,
        answer=_answer(passed),
        reason=f"{name} {units.say(reading_in)}, {verdict} {units.say(limit_in)}: {rule}",
        source=source,
    )


def _not_measured(name: str, why: str, *, limit_in: Decimal | None, source: str) -> Check:
    """Return the check of a reading that nobody took."""
    return Check(
        name=name,
        reading_in=None,
        limit_in=limit_in,
        answer=Answer.NOT_MEASURED,
        reason=f"{name.removesuffix(' by')}: not measured; {why}",
        source=source,
    )


def _agreement(readings: Readings, units: Units) -> tuple[Check, ...]:
    limit_in, because, source = OPENING_AGREES_WITHIN_IN, "", "company default (from trade pages: silltosash)"
    if readings.measured is Measured.SET_UNIT:
        limit_in, because, source = UNIT_AGREES_WITHIN_IN, "; more is a bow, shimmed too hard or too little", _UNIT
    return tuple(
        _at_most(
            f"{name} differ by",
            max(sides_in) - min(sides_in),
            limit_in,
            rule=f"three readings from {units.bare(min(sides_in))} to {units.say(max(sides_in))}{because}",
            source=source,
            units=units,
        )
        for name, sides_in in (("widths", readings.widths_in), ("heights", readings.heights_in))
    )


def _diagonals(readings: Readings, units: Units) -> Check:
    width_in, height_in = min(readings.widths_in), min(readings.heights_in)
    true_in = half_up(true_diagonal_in(width_in, height_in), to=THREE_PLACES)
    return _at_most(
        "diagonals differ by",
        abs(readings.diagonal_rising_in - readings.diagonal_falling_in),
        diagonal_limit_in(width_in, height_in),
        rule=(
            f"{say_diagonal_rule(units)}; this has {units.say(area_sqft(width_in, height_in), 'sqft')}; "
            f"true, both are {units.say(true_in)}"
        ),
        source=_UNIT_DIAGONALS if readings.measured is Measured.SET_UNIT else _OPENING,
        units=units,
    )


def _level_and_plumb(readings: Readings, units: Units) -> tuple[Check, ...]:
    return tuple(
        _at_most(
            name,
            reading_in,
            level_limit_in(run_in),
            rule=say_level_rule(run_in, units),
            source=_UNIT if readings.measured is Measured.SET_UNIT else _OPENING,
            units=units,
        )
        for name, reading_in, run_in in (
            ("sill out of level by", readings.sill_out_of_level_in, min(readings.widths_in)),
            ("left jamb out of plumb by", readings.left_out_of_plumb_in, readings.height_left_in),
            ("right jamb out of plumb by", readings.right_out_of_plumb_in, readings.height_right_in),
        )
    )


def _unit_twist(readings: Readings, units: Units) -> Check:
    width_in, height_in = min(readings.widths_in), min(readings.heights_in)
    return _at_most(
        "unit twists by",
        readings.twist_in,
        twist_limit_in(width_in, height_in),
        rule=f"{say_twist_rule(units)}; this is {units.bare(width_in)} × {units.say(height_in)}",
        source=_UNIT,
        units=units,
    )


def _sill_crown(readings: Readings, units: Units) -> Check:
    return _at_most(
        "sill crowns or sags by",
        readings.sill_crown_in,
        Decimal(0),
        rule="none is allowed",
        source=_OPENING,
        units=units,
    )


def _face_twist(readings: Readings, units: Units) -> Check:
    """Return the check of the twist of a face, the one limit that is not itself allowed: less than 1/8 in."""
    name, limit = "face twists by", f"below {units.say(FACE_TWIST_BELOW_IN)}: corner to corner"
    if readings.twist_in is None:
        return _not_measured(name, limit, limit_in=FACE_TWIST_BELOW_IN, source=_OPENING)
    passed = readings.twist_in < FACE_TWIST_BELOW_IN
    return Check(
        name=name,
        reading_in=readings.twist_in,
        limit_in=FACE_TWIST_BELOW_IN,
        answer=_answer(passed),
        reason=f"{name} {units.say(readings.twist_in)}, {'' if passed else 'not '}{limit}",
        source=_OPENING,
    )


def _clearances(readings: Readings, opening: OpeningFacts, detail: DetailFacts, units: Units) -> tuple[Check, ...]:
    return (
        _clearance(
            _Room(
                side="width",
                said=_width_said(readings, units),
                least_in=readings.straight_width_in,
                most_in=max(readings.widths_in),
                unit_in=opening.unit_width_in,
                wanted_in=detail.ro_clearance_width_in,
                allowed_in=detail.most_clearance_width_in,
            ),
            source=f"{_SMALLEST}; {_BOW}" if readings.is_bowed else _SMALLEST,
            units=units,
            but="; a bow that was not measured takes nothing off" if _missing_bows(readings) else "",
        ),
        _clearance(
            _Room(
                side="height",
                said=f"smallest height {units.bare(min(readings.heights_in))}",
                least_in=min(readings.heights_in),
                most_in=max(readings.heights_in),
                unit_in=opening.unit_height_in,
                wanted_in=detail.ro_clearance_height_in,
                allowed_in=detail.most_clearance_height_in,
            ),
            source=_SMALLEST,
            units=units,
        ),
    )


def _width_said(readings: Readings, units: Units) -> str:
    if readings.greater_bow_in is None or not readings.is_bowed:
        return f"smallest width {units.bare(min(readings.widths_in))}"
    return f"narrower end {units.bare(readings.narrower_end_in)} − greater bow {units.bare(readings.greater_bow_in)}"


def _missing_bows(readings: Readings) -> tuple[Check, ...]:
    """Return a check for each jamb whose bow nobody measured; one that was measured counts in the clearance."""
    return tuple(
        _not_measured(
            name,
            "a straight unit may have less room than the clearance in width says",
            limit_in=None,
            source=_BOW,
        )
        for name, bow_in in (
            ("left jamb bows in by", readings.left_bow_in),
            ("right jamb bows in by", readings.right_bow_in),
        )
        if bow_in is None
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Room:
    """What there is between the framing on one way, what the unit takes of it, and what the detail says of the rest.

    Args:
        said: where `least_in` was read.
        least_in: decides whether the unit goes in.
        most_in: decides whether what is left can be shimmed, fastened and sealed.
    """

    side: str
    said: str
    least_in: Decimal
    most_in: Decimal
    unit_in: Decimal
    wanted_in: Decimal
    allowed_in: Decimal


def _clearance(room: _Room, *, source: str, units: Units, but: str = "") -> Check:
    if room.least_in >= room.unit_in and room.most_in - room.unit_in > room.allowed_in:
        return _too_much_room(room, units)
    return Check(
        name=f"clearance in {room.side}",
        reading_in=room.least_in - room.unit_in,
        limit_in=Decimal(0),
        answer=_answer(room.least_in >= room.unit_in),
        reason=(
            f"{room.said} − unit {units.bare(room.unit_in)} = {units.say(room.least_in - room.unit_in)}; "
            f"the detail asks for {units.say(room.wanted_in)}, the unit must at least go in{but}"
        ),
        source=source,
    )


def _too_much_room(room: _Room, units: Units) -> Check:
    """Return the check that fails because shims, fasteners, rod and sealant would have to bridge too much.

    Source:
        The rough opening typically 1/2 to 1 in larger than the frame: shop-drawing note, secondary; by detail.
    """
    clearance_in = room.most_in - room.unit_in
    return Check(
        name=f"clearance in {room.side}",
        reading_in=clearance_in,
        limit_in=room.allowed_in,
        answer=Answer.FAILED,
        reason=(
            f"largest {room.side} {units.bare(room.most_in)} − unit {units.bare(room.unit_in)} = "
            f"{units.say(clearance_in)}, over {units.say(room.allowed_in)}, the most that the detail allows: pack the "
            f"framing out to {units.say(room.unit_in + room.wanted_in)} and measure again, or order a unit that fits"
        ),
        source=_TOO_LARGE,
    )
