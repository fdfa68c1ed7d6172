"""JSON ⇄ crews."""

from __future__ import annotations

from typing import ClassVar

from jobs.measures import PoundsField
from jobs.models import Crew
from jobs.names import ModelBody


class CrewSerializer(ModelBody[Crew]):
    payload_lb = PoundsField(
        8,
        2,
        min_value=1,
        max_value=80_000,
        required=False,
        allow_null=True,
        help_text=Crew._meta.get_field("payload_lb").help_text,
    )

    class Meta:
        model = Crew
        fields: ClassVar = [
            "id",
            "name",
            "truck",
            "people_count",
            "shift_h",
            "weekdays",
            "experience",
            "payload_lb",
            "skills",
            "retired_at",
            "updated_at",
        ]
