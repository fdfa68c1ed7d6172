"""The shop's own limits of weather."""

from __future__ import annotations

from dataclasses import asdict
from decimal import Decimal
from typing import TypedDict, Unpack

from jobs import transaction
from jobs.models import ShopWeatherLimits
from jobs.queries import weather_limits
from jobs.services.row import add, change


class LimitsChange(TypedDict, total=False):
    """The limits of weather that change; each with its source."""

    most_wind_mph: Decimal
    wind_source: str
    most_rain_in: Decimal
    rain_source: str


@transaction.atomic
def set_weather_limits(**values: Unpack[LimitsChange]) -> ShopWeatherLimits:
    """Set the shop's own limits of weather; what is not named stays as it was.

    Raises:
        ValidationError: a limit is negative, or nobody is named as its source.
    """
    row = ShopWeatherLimits.objects.select_for_update().first()
    if row is None:
        return add(ShopWeatherLimits(pk=ShopWeatherLimits.THE_ONE, **asdict(weather_limits()) | values))
    return change(row, **values)


def reset_weather_limits() -> None:
    """Go back to the limits that the service starts with. Safe to repeat."""
    ShopWeatherLimits.objects.all().delete()
