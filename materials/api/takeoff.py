"""The takeoff of a job: to read, and to order from."""

from __future__ import annotations

from django.http import HttpResponse
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema
from rest_framework.generics import get_object_or_404
from rest_framework.request import Request
from rest_framework.response import Response

from jobs.calc.say import counted
from jobs.models import Job
from jobs.resource import Endpoint
from materials.plans.takeoff import Takeoff, takeoff_of
from materials.serializers import TakeoffSerializer
from materials.workbook import TakeoffBook, takeoff_csv, takeoff_workbook
from openings.api import CSV, Download, file_answer
from openings.measure_fields import XLSX


class JobTakeoff(Endpoint):
    @extend_schema(responses=TakeoffSerializer)
    def get(self, request: Request, job_id: int) -> Response:
        """What a job still takes by product in whole packages, void openings left out, against what is on hand.

        Rolls are cut by plan. What has been ordered and has not arrived is not kept here.
        """
        takeoff = takeoff_of(get_object_or_404(Job, pk=job_id))
        return Response(TakeoffSerializer(takeoff, context={"request": request}).data)


class TakeoffWorkbook(Download):
    @extend_schema(operation_id="jobs_takeoff_workbook_retrieve", responses={(200, XLSX): OpenApiTypes.BINARY})
    def get(self, request: Request, job_id: int) -> HttpResponse:
        """The takeoff as an Excel workbook to order from. Lengths are in US measures in any `units`."""
        takeoff = takeoff_of(get_object_or_404(Job, pk=job_id))
        content = takeoff_workbook(_book(takeoff))
        return file_answer(content, kind=XLSX, name=f"{takeoff.job.code}-takeoff.xlsx")


class TakeoffText(Download):
    @extend_schema(operation_id="jobs_takeoff_text_retrieve", responses={(200, CSV): OpenApiTypes.BINARY})
    def get(self, request: Request, job_id: int) -> HttpResponse:
        """The same as comma-separated text: UTF-8 with a byte-order mark, exact figures.

        A text that a spreadsheet program would take for a formula, a date or a number begins with a tab.
        """
        takeoff = takeoff_of(get_object_or_404(Job, pk=job_id))
        return file_answer(takeoff_csv(_book(takeoff)), kind=CSV, name=f"{takeoff.job.code}-takeoff.csv")


def _book(takeoff: Takeoff) -> TakeoffBook:
    return TakeoffBook(
        title=takeoff.title,
        on=takeoff.on,
        openings=f"{counted(takeoff.openings_count, 'opening')}, {takeoff.left_count} still to do",
        lines=takeoff.lines,
        missing=tuple((", ".join(pull.parts), pull.note) for pull in takeoff.missing),
        notes=takeoff.notes,
    )
