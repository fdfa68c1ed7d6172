"""JSON ⇄ jobs, crews and forecasts."""

from __future__ import annotations

import re
from typing import Any, ClassVar

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from jobs.measures import InchesField, TemperatureField
from jobs.models import Crew, Job, Person, SiteForecast
from jobs.names import KnownNames, ModelBody, Row

CLOCK = r"([01][0-9]|2[0-3]):[0-5][0-9](:[0-5][0-9](\.[0-9]{1,6})?)?"


def refuse_change(serializer: serializers.ModelSerializer[Row], values: dict[str, Any], *fields: str) -> None:
    """Return if none of `fields` differs from what the row already says.

    Raises:
        ValidationError: history rests on one that differs; it says what stays and what would be right.
    """
    row = serializer.instance
    changed = [name for name in fields if row and name in values and values[name] != getattr(row, name)]
    if row and changed:
        another = f"add another {row._meta.verbose_name} instead"
        said = {
            name: f"this cannot change from {getattr(row, name)}, which records already rest on; {another}"
            for name in changed
        }
        raise serializers.ValidationError(said)


@extend_schema_field({"type": "string", "pattern": f"^{CLOCK}$", "example": "14:00"})
class ClockField(serializers.TimeField):
    """A time of day where the job is. RFC 3339 has none without a zone, so its `time` is not what this is."""

    def to_internal_value(self, sent: Any) -> Any:
        """Return the time; one with a zone, which Python would read without it, is refused."""
        if isinstance(sent, str) and not re.fullmatch(CLOCK, sent):
            self.fail("invalid", format="14:00")
        return super().to_internal_value(sent)


class JobSerializer(ModelBody[Job]):
    cutoff = ClockField(required=False, help_text=Job._meta.get_field("cutoff").help_text)

    class Meta:
        model = Job
        fields: ClassVar = [
            "id",
            "code",
            "name",
            "address",
            "time_zone",
            "cutoff",
            "starts_on",
            "built_year",
            "updated_at",
        ]


class CrewSerializer(ModelBody[Crew]):
    class Meta:
        model = Crew
        fields: ClassVar = ["id", "name", "truck", "people_count", "shift_h", "weekdays", "experience", "updated_at"]


class SiteForecastSerializer(ModelBody[SiteForecast]):
    low_f = TemperatureField(5, 1)
    high_f = TemperatureField(5, 1)
    rain_in = InchesField(8, 5, min_value=0, required=False)

    class Meta:
        model = SiteForecast
        fields: ClassVar = ["id", "job", "on", "low_f", "high_f", "wind_mph", "rain_in", "updated_at"]


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


class PersonSerializer(ModelBody[Person]):
    class Meta:
        model = Person
        fields: ClassVar = ["id", "username", "first_name", "last_name", "role", "crew"]
