"""JSON ⇄ jobs."""

from __future__ import annotations

from typing import ClassVar

from jobs.models import Job
from jobs.names import ModelBody
from jobs.serializers.clock import ClockField


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
