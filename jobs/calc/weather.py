"""From what weather on a shop does not set windows."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

NO_SOURCE = "common practice, no source"


@dataclass(frozen=True, slots=True, kw_only=True)
class WeatherLimits:
    """What a day may have at most, and who says so. A shop's own limits go before these.

    Args:
        most_wind_mph: a unit is a sail: above it no unit is handled and no ladder or lift is used, >= 0.
        most_rain_in: in a day: above it, strips, membranes and sealants do not stay dry, >= 0.
    """

    most_wind_mph: Decimal = Decimal(20)
    wind_source: str = NO_SOURCE
    most_rain_in: Decimal = Decimal("0.1")
    rain_source: str = NO_SOURCE

    def is_too_windy(self, wind_mph: Decimal) -> bool:
        return wind_mph > self.most_wind_mph

    def is_too_wet(self, rain_in: Decimal) -> bool:
        """Return whether so much rain in a day is too much."""
        return rain_in > self.most_rain_in


STARTING_LIMITS = WeatherLimits()
