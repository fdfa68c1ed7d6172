"""JSON ⇄ limits of weather."""

from __future__ import annotations

from typing import Any

from rest_framework import serializers

from jobs.measures import InchesField
from jobs.names import KnownNames


class WeatherLimitsSerializer(KnownNames):
    """From what weather on no window is set. Who changes a limit says where the new one comes from."""

    most_wind_mph = serializers.DecimalField(5, 1, min_value=0, max_value=200)
    wind_source = serializers.CharField(max_length=200)
    most_rain_in = InchesField(8, 5, min_value=0, max_value=100, help_text="In a day.")
    rain_source = serializers.CharField(max_length=200)

    def validate(self, values: dict[str, Any]) -> dict[str, Any]:
        sources = {"most_wind_mph": "wind_source", "most_rain_in": "rain_source"}
        missing = [source for limit, source in sources.items() if limit in values and source not in values]
        if missing:
            raise serializers.ValidationError(dict.fromkeys(missing, "say where the limit comes from"))
        return values
