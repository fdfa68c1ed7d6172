"""Forecasts, as the office looks at them."""

from __future__ import annotations

from django.db.models import QuerySet

from jobs.models import SiteForecast
from jobs.queries.today import today_on_sites


def forecasts_to_come() -> QuerySet[SiteForecast]:
    """Return the forecasts from today on, jobs joined, in order of day. Two queries."""
    return SiteForecast.objects.filter(on__gte=today_on_sites()).select_related("job").order_by("on", "job__code")


def forecast_of(forecast_id: int | None) -> SiteForecast | None:
    """Return a forecast, or None where there is none with that id. One query at most."""
    return SiteForecast.objects.select_related("job").filter(pk=forecast_id).first() if forecast_id else None
