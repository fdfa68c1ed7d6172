"""JSON ⇄ forecasts."""

from __future__ import annotations

from typing import ClassVar

from jobs.measures import InchesField, TemperatureField
from jobs.models import SiteForecast
from jobs.names import ModelBody


class SiteForecastSerializer(ModelBody[SiteForecast]):
    low_f = TemperatureField(5, 1)
    high_f = TemperatureField(5, 1)
    rain_in = InchesField(8, 5, min_value=0, required=False)

    class Meta:
        model = SiteForecast
        fields: ClassVar = ["id", "job", "on", "low_f", "high_f", "wind_mph", "rain_in", "updated_at"]
