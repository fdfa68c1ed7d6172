"""The window schedule of a job, written out with the status of its openings."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponse
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema
from rest_framework.request import Request

from jobs.queries import today_at
from jobs.resource import Endpoint
from openings import queries
from openings.measure_fields import XLSX
from openings.schedules import schedule_csv, schedule_xlsx

CSV = "text/csv"


class Download(Endpoint):
    """An address that names the kind of its file."""

    def perform_content_negotiation(self, request: Request, force: bool = False) -> Any:
        """Take any Accept: the address names the kind of file, and only a problem is rendered."""
        return super().perform_content_negotiation(request, force=True)


class ScheduleWorkbook(Download):
    @extend_schema(operation_id="jobs_schedule_workbook_retrieve", responses={(200, XLSX): OpenApiTypes.BINARY})
    def get(self, request: Request, job_id: int) -> HttpResponse:
        """The openings of a job that are not void as an Excel workbook, with their status, crew, day and holds.

        Sizes are inches in any `units`. Sent back as a schedule it changes nothing.
        """
        export = queries.schedule_export(job_id)
        job = export.job
        content = schedule_xlsx(export.openings, title=f"{job.name} ({job.code})", on=today_at(job))
        return file_answer(content, kind=XLSX, name=f"{job.code}-window-schedule.xlsx")


class ScheduleText(Download):
    @extend_schema(operation_id="jobs_schedule_text_retrieve", responses={(200, CSV): OpenApiTypes.BINARY})
    def get(self, request: Request, job_id: int) -> HttpResponse:
        """The same as comma-separated text: UTF-8 with a byte-order mark.

        A text that a spreadsheet program would take for a formula, a date or a number begins with a tab. Sent
        back as a schedule it changes nothing.
        """
        export = queries.schedule_export(job_id)
        return file_answer(schedule_csv(export.openings), kind=CSV, name=f"{export.job.code}-window-schedule.csv")


def file_answer(content: bytes, *, kind: str, name: str) -> HttpResponse:
    """Return a file to be kept under a name."""
    return HttpResponse(content, content_type=kind, headers={"Content-Disposition": f'attachment; filename="{name}"'})
