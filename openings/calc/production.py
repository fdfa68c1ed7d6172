"""From hours of labor to the days of a crew, by the formulas of military construction.

A man-day is always 8 hours, whatever the workday; what a workday really yields is its man-day equivalent.

Source:
    NAVEDTRA 14045 (Builder Advanced) and 14233 (Engineering Aid), citing NAVFAC P-405.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from jobs.calc.say import counted
from openings.calc.bad_rate import fault, refuse
from openings.calc.figures import brief, plain

MAN_DAY_H = 8

AVERAGE_EFFICIENCY_PCT = Decimal(67)
"""The efficiency at which published man-hours hold, delay factor 1 (NAVEDTRA 14045)."""

LEAST_PCT, MOST_PCT = 25, 100

SOURCE = "NAVEDTRA 14045 and 14233: man-days / crew size / availability / man-day equivalent, rounded up"


def delay_factor(efficiency_pct: Decimal) -> Decimal:
    """Return by how much the man-hours grow at a production efficiency; 1 at the average of 67 %.

    Raises:
        BadRate: the efficiency is not 25 to 100 %, as no average of its eight elements is.

    Source:
        67 / production efficiency, from memory; it gives the 1.06 at 63 % that NAVEDTRA 14045 goes on with.
    """
    if not LEAST_PCT <= efficiency_pct <= MOST_PCT:
        sentence = f"the efficiency is {plain(efficiency_pct)}%; it must be {LEAST_PCT}% to {MOST_PCT}%"
        refuse([fault("efficiency_pct", efficiency_pct, sentence)])
    return AVERAGE_EFFICIENCY_PCT / efficiency_pct


def man_days(
    quantity: Decimal, unit_size: Decimal, man_h_per_unit: Decimal, delay_factor: Decimal = Decimal(1)
) -> Decimal:
    """Return the man-days of a quantity.

    Args:
        unit_size: how much of the quantity `man_h_per_unit` is for, > 0.

    Source:
        NAVEDTRA 14045: quantity / unit size × man-hours per unit / 8 × delay factor.

    >>> man_days(Decimal(16000), Decimal(1000), Decimal(33))
    Decimal('66')
    """
    return quantity * man_h_per_unit * delay_factor / (unit_size * MAN_DAY_H)


def man_day_equivalent(worked_h: Decimal) -> Decimal:
    """Return the man-days that one workday of one person yields.

    Args:
        worked_h: hours of the workday less lunch, travel and breaks, >= 0.

    >>> man_day_equivalent(Decimal("7.5"))
    Decimal('0.9375')
    """
    return worked_h / MAN_DAY_H


def capability(direct_labor: int, workdays: int, man_day_equivalent: Decimal, availability: Decimal) -> Decimal:
    """Return the man-days that people in direct labor yield over a number of workdays."""
    return direct_labor * workdays * man_day_equivalent * availability


def duration_days(man_days: Decimal, crew_size: int, availability: Decimal, man_day_equivalent: Decimal) -> Decimal:
    """Return the workdays that a crew takes, exact.

    Args:
        crew_size: > 0, as are the part of it that is available and the man-day equivalent of a workday.
    """
    return man_days / (crew_size * availability * man_day_equivalent)


def whole_days(days: Decimal) -> int:
    """Return the workdays rounded up: a begun day is a day."""
    return int(days.to_integral_value(rounding=ROUND_CEILING))


@dataclass(frozen=True, slots=True, kw_only=True)
class Working:
    """How a crew works.

    Args:
        availability: the part of a crew that is at work, absences and other duties taken off: 0.75 in the main
            body of a unit, 0.85 in a detail (NAVEDTRA 14233).
        lost_h: hours of the workday for lunch, travel and breaks.

    Raises:
        BadRate: no people, availability not above 0 and at most 1, a workday not above 0 and at most 24 h, or
            a loss that is below 0 or leaves nothing of the workday.
    """

    people: int
    availability: Decimal = Decimal("0.75")
    workday_h: Decimal = Decimal(8)
    lost_h: Decimal = Decimal(0)

    def __post_init__(self) -> None:
        faults = []
        if self.people < 1:
            faults.append(fault("people", self.people, f"{counted(self.people, 'person')}: a crew has at least 1"))
        if not 0 < self.availability <= 1:
            sentence = f"availability is {plain(self.availability)}; it must be above 0 and at most 1"
            faults.append(fault("availability", self.availability, sentence))
        if not 0 < self.workday_h <= 24:
            sentence = f"the workday is {plain(self.workday_h)} hours; it must be above 0 and at most 24"
            faults.append(fault("workday_h", self.workday_h, sentence))
        elif not 0 <= self.lost_h < self.workday_h:
            sentence = (
                f"the hours lost are {plain(self.lost_h)}; it must be 0 or more, and less than the workday of "
                f"{plain(self.workday_h)} hours"
            )
            faults.append(fault("lost_h", self.lost_h, sentence))
        refuse(faults)

    @property
    def worked_h(self) -> Decimal:
        """Return the hours of the workday that are worked."""
        return self.workday_h - self.lost_h


@dataclass(frozen=True, slots=True, kw_only=True)
class CrewTime:
    """How long a crew takes: hours of the clock while all work, and workdays, exact and whole."""

    crew_h: Decimal
    days_exact: Decimal
    days: int
    reason: str
    source: str = SOURCE


def time_for(person_h: Decimal, working: Working) -> CrewTime:
    """Return the time that a crew takes for a number of person-hours.

    Args:
        person_h: >= 0, delays already in it.
    """
    days_exact = duration_days(
        man_days(person_h, Decimal(1), Decimal(1)),
        working.people,
        working.availability,
        man_day_equivalent(working.worked_h),
    )
    crew_h, days = person_h / working.people, whole_days(days_exact)
    return CrewTime(
        crew_h=crew_h, days_exact=days_exact, days=days, reason=_reason(person_h, working, crew_h, days_exact, days)
    )


def _reason(person_h: Decimal, working: Working, crew_h: Decimal, days_exact: Decimal, days: int) -> str:
    people = counted(working.people, "person")
    workday = f"{plain(working.worked_h)} h worked"
    if working.lost_h:
        workday += f" of {plain(working.workday_h)} h"
    return (
        f"{brief(person_h)} labor hours / {people} = {brief(crew_h)} crew-hours; "
        f"{brief(person_h)} / {MAN_DAY_H} = {brief(person_h / MAN_DAY_H)} man-days / {people} / "
        f"{plain(working.availability)} available / {plain(man_day_equivalent(working.worked_h))} man-days a workday "
        f"({workday}) = {brief(days_exact)} days, {days} begun"
    )
