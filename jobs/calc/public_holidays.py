"""Which days of a year are public holidays in a state. Whether a company works on one is for a person to say."""

from __future__ import annotations

from datetime import date

from holidays import country_holidays


def public_holidays(year: int, *, us_state: str) -> dict[date, str]:
    """Return the public holidays of a year by date, in order; what is kept on another day says so in its name.

    Args:
        us_state: a code of `US_STATES`; empty for those of the federal law alone.

    Source:
        The `holidays` library, which lists the holidays of the federal law (5 USC 6103) and of each state.

    >>> public_holidays(2026, us_state="CO")[date(2026, 11, 26)]
    'Thanksgiving Day'
    """
    return dict(sorted(country_holidays("US", subdiv=us_state or None, years=year, language="en_US").items()))
