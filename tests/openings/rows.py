"""Openings that stand where a test needs them."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from django.utils import timezone

from jobs.models import Crew, CrewDay, Job, Person
from openings import services
from openings.calc.lay_order import steps_for
from openings.calc.limits import true_diagonal_in
from openings.calc.readings import SIDE_NAMES
from openings.models import Assignment, FieldMeasurement, InstallRecord, Opening, WindowSchedule
from tests.factories import CrewFactory, PersonFactory, make_openings, tomorrow


def make_assigned(count: int = 1, *, crew: Crew | None = None, on: date | None = None, **values: Any) -> list[Opening]:
    """Return openings of one job that are given to a crew for a day."""
    openings = make_openings(count, **values)
    crew = crew or CrewFactory(people_count=20)
    services.assign(opening_ids=[o.pk for o in openings], crew_id=crew.pk, on=on or tomorrow(), by=None)
    return openings


def start(opening: Opening, *, by: Person | None = None) -> InstallRecord:
    """Return the install record of an assigned opening, just started."""
    return services.start_install(opening_id=opening.pk, by=by or PersonFactory(), other_day=True)


def left_over(opening: Opening, crew: Crew, *, days: int = 1, steps: int | None = None) -> Assignment:
    """Return the live assignment of an opening to a day that is past.

    Args:
        days: how long ago.
        steps: of the lay order, so many are recorded on that day; None where the install was not begun.
    """
    on, then = tomorrow(-days), timezone.now() - timedelta(days=days)
    crew_day, _ = CrewDay.objects.get_or_create(crew=crew, on=on, defaults={"capacity_person_h": 480})
    assignment = Assignment.objects.create(opening=opening, crew_day=crew_day, person_h=4)
    Assignment.objects.filter(pk=assignment.pk).update(assigned_at=then - timedelta(days=1))
    if steps is not None:
        by = PersonFactory()
        record = InstallRecord.objects.create(opening=opening, crew=crew, started_by=by, started_at=then)
        for step in steps_for(opening.detail.as_facts())[:steps]:
            record.steps.create(step=step.code, recorded_by=by, recorded_at=then)
    return assignment


def finish(record: InstallRecord) -> None:
    """Mark an install done, whatever is missing."""
    InstallRecord.objects.filter(pk=record.pk).update(done_at=timezone.now(), done_by=record.started_by)
    mark_finished()


def mark_finished() -> None:
    """Mark the openings of which a test wrote by hand that their install is done."""
    Opening.objects.filter(pk__in=InstallRecord.objects.done().values("opening")).update(is_finished=True)


def measure(opening: Opening, width_in: str, height_in: str, *, by: Person | None = None) -> FieldMeasurement:
    """Return a measurement of the rough opening, recorded; one figure stands for three readings, or there are three."""
    widths, heights = [(given.split() * 3)[:3] for given in (width_in, height_in)]
    diagonal_in = true_diagonal_in(Decimal(widths[0]), Decimal(heights[0])).quantize(Decimal("0.00001"))
    return services.record_measurement(
        opening_id=opening.pk,
        by=by or PersonFactory(),
        **dict(zip(SIDE_NAMES, [*map(Decimal, widths), *map(Decimal, heights), diagonal_in, diagonal_in], strict=True)),
    )


def live(opening: Opening) -> Assignment:
    """Return the assignment of an opening that is not withdrawn."""
    return opening.assignments.get(withdrawn_at__isnull=True)


def schedule_of(*rows: str, headings: str = "Mark,Qty,RO width,RO height,Detail") -> bytes:
    """Return a window schedule as a .csv file."""
    return "\n".join([headings, *rows, ""]).encode()


def take(job: Job, content: bytes, **values: Any) -> WindowSchedule:
    """Take a schedule into a job."""
    return services.import_schedule(job_id=job.pk, filename="windows.csv", content=content, by=None, **values)
