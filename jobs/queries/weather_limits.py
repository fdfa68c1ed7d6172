"""The weather from which on no window is set."""

from __future__ import annotations

from jobs.calc.weather import STARTING_LIMITS, WeatherLimits
from jobs.models import ShopWeatherLimits


def weather_limits() -> WeatherLimits:
    """Return from what weather on windows are not set: as the shop says, or else where it starts. One query."""
    own = ShopWeatherLimits.objects.first()
    return own.as_limits() if own else STARTING_LIMITS
