"""How long and how often a lift counts."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from enum import StrEnum
from typing import NamedTuple

from openings.calc.lifting_equation.task import not_negative, not_positive, refuse

MIN_PER_H = 60
SAMPLE_MIN = Decimal(15)

INFREQUENT_PER_MIN = Decimal("0.1")
"""Below this, pauses are long enough for the 1-hour column of table 5 (94-110 p. 13-14)."""

SHORT_RECOVERY = Decimal(1)
MODERATE_RECOVERY = Decimal("0.3")


class Duration(StrEnum):
    """Which columns of table 5 count."""

    SHORT = "up to 1 h"
    MODERATE = "up to 2 h"
    LONG = "up to 8 h"


SHORT, MODERATE, LONG = Duration.SHORT, Duration.MODERATE, Duration.LONG

LIMITS_H = ((SHORT, 1), (MODERATE, 2), (LONG, 8))


class Session(NamedTuple):
    """Minutes of lifting, and the light work or rest that follows before the next."""

    work_min: Decimal
    recovery_min: Decimal = Decimal(0)


def counted_h(sessions: Iterable[Session]) -> Decimal:
    """Return the longest lifting that counts as one piece, hours: sessions without enough recovery are added up.

    Raises:
        BadLift: a time is negative.

    Source:
        DHHS/NIOSH 94-110 p. 13-14: up to 1 h needs as long a recovery, up to 2 h needs 0.3 of its time. No
        recovery within the day ends a longer one (our reading).
    """
    longest_min = running_min = Decimal(0)
    for session in sessions:
        refuse(*not_negative(work_min=session.work_min, recovery_min=session.recovery_min))
        running_min += session.work_min
        longest_min = max(longest_min, running_min)
        if _has_recovered(running_min, session.recovery_min):
            running_min = Decimal(0)
    return longest_min / MIN_PER_H


def duration_category(sessions: Iterable[Session]) -> Duration | None:
    """Return the category of a day's lifting, or None where all of it together is longer than 8 h."""
    day = tuple(sessions)
    longest_h = counted_h(day)
    if sum(session.work_min for session in day) > LIMITS_H[-1][1] * MIN_PER_H:
        return None
    return _category(longest_h)


def column_for(*, lifts_per_min: Decimal, duration_h: Decimal) -> Duration | None:
    """Return the columns of table 5 to use, or None above 8 h, where the equation ends."""
    category = _category(duration_h)
    return SHORT if category and lifts_per_min < INFREQUENT_PER_MIN else category


def frequency_of(lifts: int | Decimal, minutes: Decimal = SAMPLE_MIN) -> Decimal:
    """Return lifts a minute over a sample, pauses within it included.

    Raises:
        BadLift: the number of lifts is negative, or the sample not longer than 0.

    Source:
        Samples of 15 minutes: DHHS/NIOSH 94-110 p. 16.

    >>> frequency_of(10 * 8).quantize(Decimal("0.01"))
    Decimal('5.33')
    """
    refuse(*not_negative(lifts=Decimal(lifts)), *not_positive(minutes=minutes))
    return lifts / minutes


def _category(duration_h: Decimal) -> Duration | None:
    return next((category for category, limit_h in LIMITS_H if duration_h <= limit_h), None)


def _has_recovered(work_min: Decimal, recovery_min: Decimal) -> bool:
    category = _category(work_min / MIN_PER_H)
    if category is SHORT:
        return recovery_min >= SHORT_RECOVERY * work_min
    return category is MODERATE and recovery_min >= MODERATE_RECOVERY * work_min
