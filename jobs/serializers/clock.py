"""Times of day."""

from __future__ import annotations

import re
from typing import Any

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

CLOCK = r"([01][0-9]|2[0-3]):[0-5][0-9](:[0-5][0-9](\.[0-9]{1,6})?)?"


@extend_schema_field({"type": "string", "pattern": f"^{CLOCK}$", "example": "14:00"})
class ClockField(serializers.TimeField):
    """A time of day where the job is. RFC 3339 has none without a zone, so its `time` is not what this is."""

    def to_internal_value(self, sent: Any) -> Any:
        """Return the time; one with a zone, which Python would read without it, is refused."""
        if isinstance(sent, str) and not re.fullmatch(CLOCK, sent):
            self.fail("invalid", format="14:00")
        return super().to_internal_value(sent)
