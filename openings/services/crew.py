"""Retiring a crew, and putting it back in service."""

from __future__ import annotations

from django.utils import timezone

from jobs import transaction
from jobs.about import about
from jobs.calc.say import and_list
from jobs.calc.say import day as say_day
from jobs.errors import Conflict, NotFound
from jobs.models import Crew, CrewDay
from jobs.services import change, lock_crew_days
from openings.queries import days_planned


@transaction.atomic
def retire_crew(*, crew_id: int) -> Crew:
    """Retire a crew: it takes no more work, and its truck is free for another. Safe to repeat.

    Raises:
        NotFound: there is no such crew.
        Conflict: work is planned for it; it says on which days.
    """
    crew = _locked(crew_id)
    lock_crew_days(list(CrewDay.objects.filter(crew=crew).values_list("pk", flat=True)))
    if planned := days_planned(crew):
        days = and_list([say_day(on) for on in planned])
        raise Conflict(
            f"{crew} has openings assigned for {days}: give them to another crew or unassign them first",
            about=[about(crew)],
        )
    return crew if crew.is_retired else change(crew, retired_at=timezone.now())


@transaction.atomic
def return_crew(*, crew_id: int) -> Crew:
    """Put a retired crew back in service. Safe to repeat.

    Raises:
        NotFound: there is no such crew.
        ValidationError: another crew has its truck by now.
    """
    crew = _locked(crew_id)
    return change(crew, retired_at=None) if crew.is_retired else crew


def _locked(crew_id: int) -> Crew:
    """Return a crew, locked so that nobody makes a day for it meanwhile."""
    crew = Crew.objects.select_for_update().filter(pk=crew_id).first()
    if crew is None:
        raise NotFound(f"there is no crew {crew_id}")
    return crew
