"""The weather that is expected on a site."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from typing import TypedDict, Unpack

from jobs import transaction
from jobs.models import Job, SiteForecast
from jobs.services.row import add, change


class Weather(TypedDict):
    """What is expected, and on which day."""

    on: date
    low_f: Decimal
    high_f: Decimal
    wind_mph: Decimal
    rain_in: Decimal


@transaction.atomic
def set_forecast(
    *, job: Job, on: date, low_f: Decimal, high_f: Decimal, wind_mph: Decimal, rain_in: Decimal
) -> SiteForecast:
    """Enter what is expected on a site on a day; a forecast that is there already is replaced.

    Raises:
        ValidationError: a value or a constraint is not kept.
    """
    row = SiteForecast.objects.select_for_update().filter(job=job, on=on).first()
    if row:
        return change(row, low_f=low_f, high_f=high_f, wind_mph=wind_mph, rain_in=rain_in)
    return add(SiteForecast(job=job, on=on, low_f=low_f, high_f=high_f, wind_mph=wind_mph, rain_in=rain_in))


@transaction.atomic
def set_forecasts(*, jobs: Iterable[Job], **values: Unpack[Weather]) -> list[SiteForecast]:
    """Enter the same weather of a day for several sites, each as `set_forecast` does.

    Raises:
        ValidationError: a value or a constraint is not kept.
    """
    return [set_forecast(job=job, **values) for job in jobs]
