"""How far from today a date may lie. What a date means decides: see the horizons below."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from jobs.calc.say import day


@dataclass(frozen=True, slots=True, kw_only=True)
class Horizon:
    """So many years back from today and so many ahead, both ends included."""

    years_back: int
    years_ahead: int

    def first(self, today: date) -> date:
        """Return the earliest date within reach; the end of February where the year has no February 29."""
        return _years_on(today, -self.years_back)

    def last(self, today: date) -> date:
        """Return the latest date within reach."""
        return _years_on(today, self.years_ahead)

    def holds(self, on: date, *, today: date) -> bool:
        """Return whether a date is within reach."""
        return self.first(today) <= on <= self.last(today)

    def refusal(self, on: date, *, today: date) -> str:
        """Return why a date is out of reach and which are within, as a sentence; nothing where it is within.

        >>> PLAN.refusal(date(9999, 12, 31), today=date(2026, 11, 28))
        'Fri, Dec 31, 9999 is too far ahead: give a day from Sun, Nov 28, 2021 to Tue, Nov 28, 2028'
        >>> PAST.refusal(date(2026, 11, 30), today=date(2026, 11, 28))
        'Mon, Nov 30 has not come yet: give a day from Sun, Nov 28, 2021 to today, Sat, Nov 28'
        """
        if self.holds(on, today=today):
            return ""
        if on < today:
            what = "is too far back" if self.years_back else "is past"
        else:
            what = "is too far ahead" if self.years_ahead else "has not come yet"
        first, last = (
            f"today, {day(end)}" if end == today else day(end, today) for end in (self.first(today), self.last(today))
        )
        return f"{day(on, today)} {what}: give a day from {first} to {last}"


PLAN = Horizon(years_back=5, years_ahead=2)
"""A day that is planned or looked at: of a crew, of the weather, on a board; the start of a job."""

COMING = Horizon(years_back=0, years_ahead=2)
"""A day that work is asked for: an assignment, a pull sheet."""

PAST = Horizon(years_back=5, years_ahead=0)
"""A day on which something has happened: hours worked, a lot received, a callback reported or resolved."""

EXPIRY = Horizon(years_back=5, years_ahead=10)
"""The day until which a lot keeps."""


def _years_on(today: date, years: int) -> date:
    year = min(max(today.year + years, date.min.year), date.max.year)
    try:
        return today.replace(year=year)
    except ValueError:  # February 29 of a leap year
        return today.replace(year=year, day=28)
