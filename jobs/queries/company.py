"""The firm, and the days on which all of it works otherwise."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date

from jobs.calc.promise import promise_warning
from jobs.calc.public_holidays import public_holidays
from jobs.models import Company, CompanyDay


def company() -> Company:
    """Return the firm; one that was never entered has what new jobs and crews begin with, and no name. One query."""
    return Company.objects.first() or Company(pk=Company.THE_ONE)


def company_day_on(on: date) -> CompanyDay | None:
    """Return how the firm works on a date, where that is otherwise than usual. One query."""
    return CompanyDay.objects.filter(on=on).first()


def company_days_between(first: date, last: date) -> dict[date, CompanyDay]:
    """Return by date the days from `first` to `last` on which the firm works otherwise. One query."""
    return {day.on: day for day in CompanyDay.objects.filter(on__range=(first, last)).select_related("confirmed_by")}


@dataclass(frozen=True, slots=True, kw_only=True)
class PublicHoliday:
    """A public holiday of the company's state, and how the company works then, where somebody has said it."""

    on: date
    name: str
    confirmed: CompanyDay | None

    @property
    def is_confirmed(self) -> bool:
        return self.confirmed is not None

    @property
    def place(self) -> str:
        """Where in a year it stands, as four digits."""
        return f"{self.on:%m%d}"


def holidays_of(year: int) -> list[PublicHoliday]:
    """Return the public holidays of a year in order. Two queries."""
    confirmed = company_days_between(date(year, 1, 1), date(year, 12, 31))
    found = public_holidays(year, us_state=company().us_state)
    return [PublicHoliday(on=on, name=name, confirmed=confirmed.get(on)) for on, name in found.items()]


def other_days_of(year: int, holidays: Collection[PublicHoliday]) -> list[CompanyDay]:
    """Return the days of a year, no public holidays, on which the firm works otherwise, in order. One query."""
    shown = {holiday.on for holiday in holidays}
    return [day for on, day in company_days_between(date(year, 1, 1), date(year, 12, 31)).items() if on not in shown]


@dataclass(frozen=True, slots=True, kw_only=True)
class Calendar:
    """The days of the firm: those that somebody has confirmed, and the public holidays of its state."""

    us_state: str
    days: dict[date, CompanyDay]

    def warning(self, promised_on: date) -> str:
        """Return what speaks against a day promised, an empty text if nothing does. No query."""
        confirmed = self.days.get(promised_on)
        return promise_warning(
            promised_on,
            off_for=confirmed.name if confirmed and confirmed.is_off else None,
            is_confirmed=confirmed is not None,
            holiday=public_holidays(promised_on.year, us_state=self.us_state).get(promised_on),
        )


def calendar() -> Calendar:
    """Return the days of the firm. Two queries."""
    return Calendar(us_state=company().us_state, days={day.on: day for day in CompanyDay.objects.all()})
