"""What is planned for a crew."""

from __future__ import annotations

from datetime import date

from jobs.errors import NotFound
from jobs.models import Crew, CrewDay
from openings.models import Assignment


def days_planned(crew: Crew) -> list[date]:
    """Return the days for which a crew has openings that are not done, in order. One query."""
    planned = Assignment.objects.to_do().filter(crew_day__crew=crew)
    return list(planned.order_by("crew_day__on").values_list("crew_day__on", flat=True).distinct())


def crew_of(crew_id: int) -> Crew:
    """Return a crew. One query.

    Raises:
        NotFound: there is no such crew.
    """
    crew = Crew.objects.filter(pk=crew_id).first()
    if crew is None:
        raise NotFound(f"there is no crew {crew_id}")
    return crew


def days_off_to_come(crew: Crew, *, since: date) -> list[CrewDay]:
    """Return the days off of a crew from a day on, in order. One query."""
    return list(crew.days.exclude(off_reason="").filter(on__gte=since).order_by("on"))


def crew_day_of(crew: Crew, crew_day_id: int) -> CrewDay:
    """Return a day of a crew. One query.

    Raises:
        NotFound: the crew has no such day.
    """
    day = crew.days.filter(pk=crew_day_id).first()
    if day is None:
        raise NotFound(f"{crew} has no such day")
    return day
