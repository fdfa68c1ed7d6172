"""Crew days with openings on them, for any date, and their sheets."""

from __future__ import annotations

from datetime import date
from io import BytesIO
from typing import Any

from openpyxl import Workbook, load_workbook

from jobs.models import Crew, CrewDay, Job
from materials import services
from materials.models import PullSheet
from openings.models import Assignment
from tests.factories import CrewFactory, make_openings, tomorrow


def make_crew_day(
    *, openings: int = 1, on: date | None = None, crew: Crew | None = None, job: Job | None = None, **values: Any
) -> CrewDay:
    """Return a day of a crew with so many openings assigned: tomorrow where none is given."""
    crew_day, _ = CrewDay.objects.get_or_create(
        crew=crew or CrewFactory(), on=on or tomorrow(), defaults={"capacity_person_h": 480}
    )
    Assignment.objects.bulk_create(
        Assignment(opening=opening, crew_day=crew_day, person_h=3)
        for opening in make_openings(openings, job=job, **values)
    )
    return crew_day


def request(crew_day: CrewDay) -> PullSheet:
    return services.request_pull_sheet(crew_id=crew_day.crew_id, on=crew_day.on, by=None)


def written(crew_day: CrewDay) -> PullSheet:
    """Return the sheet of a crew day, asked for and written."""
    sheet = request(crew_day)
    services.write_pull_sheet(sheet_id=sheet.pk)
    return PullSheet.objects.get(pk=sheet.pk)


def workbook_of(sheet: PullSheet) -> Workbook:
    return load_workbook(BytesIO(bytes(sheet.workbook)))


def texts(workbook: Workbook, title: str) -> list[str]:
    """Return the texts of one worksheet, row by row."""
    return [str(cell.value) for row in workbook[title].iter_rows() for cell in row if cell.value is not None]
