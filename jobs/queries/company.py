"""The firm, and the days on which all of it works otherwise."""

from __future__ import annotations

from datetime import date

from jobs.models import Company, CompanyDay


def company() -> Company:
    """Return the firm; one that was never entered has what new jobs and crews begin with, and no name. One query."""
    return Company.objects.first() or Company(pk=Company.THE_ONE)


def company_day_on(on: date) -> CompanyDay | None:
    """Return how the firm works on a date, where that is otherwise than usual. One query."""
    return CompanyDay.objects.filter(on=on).first()


def company_days_between(first: date, last: date) -> dict[date, CompanyDay]:
    """Return by date the days from `first` to `last` on which the firm works otherwise. One query."""
    return {day.on: day for day in CompanyDay.objects.filter(on__range=(first, last))}
