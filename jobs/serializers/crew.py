"""JSON ⇄ crews."""

from __future__ import annotations

from typing import ClassVar

from jobs.models import Crew
from jobs.names import ModelBody


class CrewSerializer(ModelBody[Crew]):
    class Meta:
        model = Crew
        fields: ClassVar = ["id", "name", "truck", "people_count", "shift_h", "weekdays", "experience", "updated_at"]
