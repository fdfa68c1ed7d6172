"""What is planned for a crew."""

from __future__ import annotations

from datetime import date

from jobs.models import Crew
from openings.models import Assignment


def days_planned(crew: Crew) -> list[date]:
    """Return the days for which a crew has openings that are not done, in order. One query."""
    planned = Assignment.objects.to_do().filter(crew_day__crew=crew)
    return list(planned.order_by("crew_day__on").values_list("crew_day__on", flat=True).distinct())
