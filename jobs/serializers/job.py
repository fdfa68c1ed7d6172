"""JSON ⇄ jobs."""

from __future__ import annotations

from typing import Any, ClassVar, cast

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from jobs.models import Job, check_time_zone
from jobs.names import ModelBody
from jobs.queries import calendar
from jobs.serializers.clock import ClockField


class JobSerializer(ModelBody[Job]):
    time_zone = serializers.CharField(
        max_length=60, required=False, validators=[check_time_zone], help_text="The company's where it is not given."
    )
    cutoff = ClockField(required=False, help_text=Job._meta.get_field("cutoff").help_text)

    warnings = serializers.SerializerMethodField(help_text="What speaks against the day promised.")

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
            "promised_on",
            "built_year",
            "contact_name",
            "contact_phone",
            "gate_note",
            "latitude",
            "longitude",
            "closed_at",
            "archived_at",
            "warnings",
            "updated_at",
        ]

    @extend_schema_field({"type": "array", "items": {"type": "string"}})
    def get_warnings(self, job: Job) -> list[str]:
        """Return what speaks against the day promised; the days of the firm are read once an answer, if at all."""
        if job.promised_on is None:
            return []
        answer = cast("dict[str, Any]", self.context)
        if "calendar" not in answer:
            answer["calendar"] = calendar()
        said = answer["calendar"].warning(job.promised_on)
        return [said] if said else []
