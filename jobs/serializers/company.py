"""JSON ⇄ the firm."""

from __future__ import annotations

from typing import Any, ClassVar

from rest_framework import serializers

from jobs.models import Company, CompanyDay
from jobs.names import ModelBody
from jobs.serializers.clock import ClockField
from jobs.serializers.row import refuse_change


class PublicHolidaysAsked(serializers.Serializer[Any]):
    year = serializers.IntegerField(min_value=2000, max_value=2100)


class PublicHolidaySerializer(serializers.Serializer[Any]):
    """A public holiday of the company's state, and whether somebody has said how the company works then."""

    on = serializers.DateField(read_only=True)
    name = serializers.CharField()
    is_confirmed = serializers.BooleanField()


class CompanyDaySerializer(ModelBody[CompanyDay]):
    class Meta:
        model = CompanyDay
        fields: ClassVar = ["id", "on", "name", "shift_h", "confirmed_by", "updated_at"]
        read_only_fields: ClassVar = ["confirmed_by"]

    def validate(self, values: dict[str, Any]) -> dict[str, Any]:
        refuse_change(self, values, "on")
        return values


class CompanySerializer(ModelBody[Company]):
    default_cutoff = ClockField(required=False, help_text=Company._meta.get_field("default_cutoff").help_text)

    class Meta:
        model = Company
        fields: ClassVar = [
            "name",
            "us_state",
            "time_zone",
            "default_cutoff",
            "default_shift_h",
            "road_factor",
            "drive_mph",
            "yard_address",
            "yard_latitude",
            "yard_longitude",
        ]
