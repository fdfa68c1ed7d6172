"""What speaks against a day that a customer is promised."""

from __future__ import annotations

from datetime import date

from jobs.calc.say import day as say_day

SATURDAY = 6


def promise_warning(on: date, *, off_for: str | None, is_confirmed: bool, holiday: str | None) -> str:
    """Return why nobody is likely to work on a day promised, as a sentence; nothing where nothing speaks against it.

    Args:
        off_for: why the company is off that day, where it is.
        is_confirmed: somebody has said how the company works that day.
        holiday: what public holiday it is, where it is one.

    >>> promise_warning(date(2026, 12, 25), off_for=None, is_confirmed=False, holiday="Christmas Day")
    'Fri, Dec 25 is promised and is Christmas Day, a public holiday'
    """
    said = f"{say_day(on)} is promised and"
    if off_for:
        return f"{said} the company is off: {off_for}"
    if is_confirmed:
        return ""
    if holiday:
        return f"{said} is {holiday}, a public holiday"
    return f"{said} is on a weekend" if on.isoweekday() >= SATURDAY else ""
