"""The days of a crew, or of the crews at a job, as a calendar shows them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import datetime, time, timedelta
from decimal import Decimal
from typing import Final
from zoneinfo import ZoneInfo

from django.db.models import Count, QuerySet

from jobs.calc.notice import EventKind
from jobs.calc.say import counted
from jobs.models import CalendarLink, CrewDay, Event
from openings.calc.figures import brief
from openings.calendar_file import DayEntry
from openings.models import Assignment, Opening

SHOWN_BACK: Final = timedelta(days=31)
"""How far back a calendar goes (our choice: what was planned last month is history)."""

SHIFT_STARTS: Final = time(7, 0)
"""When a crew's day starts on site (company default: common practice, no source)."""


def calendar_of(link: CalendarLink, *, now: datetime) -> list[DayEntry]:
    """Return the days that a link shows, from a month ago on, those that were emptied or set off too. Two queries."""
    assignments = Assignment.objects.select_related("opening__job", "crew_day__crew")
    assignments = assignments.filter(crew_day__on__gte=(now - SHOWN_BACK).date(), opening__is_void=False)
    if link.crew_id:
        assignments = assignments.filter(crew_day__crew=link.crew_id)
    else:
        assignments = assignments.filter(opening__job=link.job_id)
    by_day: dict[CrewDay, list[Assignment]] = defaultdict(list)
    for one in assignments.order_by("crew_day__on", "crew_day__crew__name", "opening__position", "pk"):
        by_day[one.crew_day].append(one)
    changes = _changes(by_day)
    return [
        _entry(day, those, changes=changes.get((day.crew_id, day.on), 0), names_crew=not link.crew_id)
        for day, those in by_day.items()
    ]


def _changes(days: Iterable[CrewDay]) -> dict[tuple[int | None, object], int]:
    """Return by crew and date how often the day was changed. One query."""
    told: QuerySet[Event] = Event.objects.filter(
        kind=EventKind.DAY_CHANGED, crew__in={day.crew_id for day in days}, on__in={day.on for day in days}
    )
    counts = told.order_by().values_list("crew", "on").annotate(count=Count("pk"))
    return {(crew, on): count for crew, on, count in counts}


def _entry(day: CrewDay, assignments: Sequence[Assignment], *, changes: int, names_crew: bool) -> DayEntry:
    live = [one for one in assignments if one.withdrawn_at is None]
    openings = [one.opening for one in live]
    first = (openings or [assignments[0].opening])[0].job
    crew_h = (day.capacity_person_h or day.crew.capacity_person_h) / day.crew.people_count
    starts_at = datetime.combine(day.on, SHIFT_STARTS, tzinfo=ZoneInfo(first.time_zone))
    who = f"{day.crew}: " if names_crew else ""
    sites = list(dict.fromkeys(opening.job.name for opening in openings))
    what = f"{counted(len(openings), 'opening')}, {' and '.join(sites)}" if openings else f"nothing, {first.name}"
    return DayEntry(
        key=f"crew day {day.pk}",
        starts_at=starts_at,
        ends_at=starts_at + timedelta(hours=float(crew_h)),
        title=f"{who}{f'off, {day.off_reason}' if day.is_off else what}",
        where=first.address,
        text=_text(openings, sum((one.person_h for one in live), Decimal(0))),
        is_cancelled=day.is_off or not openings,
        changes=changes,
        changed_at=max(day.updated_at, *(at for one in assignments for at in _instants(one))),
    )


def _instants(assignment: Assignment) -> list[datetime]:
    return [at for at in (assignment.assigned_at, assignment.withdrawn_at) if at]


def _text(openings: Sequence[Opening], person_h: Decimal) -> str:
    """Return what there is to do: the openings by job, and the labor hours."""
    if not openings:
        return "Nothing is assigned to this day."
    by_job: dict[str, list[str]] = defaultdict(list)
    for opening in openings:
        floor = f", floor {opening.floor}" if opening.floor else ""
        by_job[f"{opening.job.name}, {opening.job.address}"].append(f"{opening.mark}{floor}")
    lines = [line for site, marks in by_job.items() for line in (f"{site}:", *marks)]
    return "\n".join([*lines, f"{brief(person_h)} labor hours planned"])
