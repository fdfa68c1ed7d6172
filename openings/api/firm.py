"""Endpoints of what strands or binds openings: days of the company, retiring crews, closing jobs."""

from __future__ import annotations

from typing import Any, ClassVar

from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.serializers import BaseSerializer
from rest_framework.status import HTTP_204_NO_CONTENT

from jobs.models import CompanyDay
from jobs.permissions import OFFICE
from jobs.resource import Endpoint, Resource, refuse_body, row_of
from jobs.serializers import CompanyDaySerializer, CrewSerializer, JobSerializer
from jobs.signed_in import signed_in
from openings import services
from openings.serializers import DaysOffSerializer, StrandedSerializer


class CompanyDays(Resource[CompanyDay]):
    """The days on which the whole company works otherwise than usual, each confirmed by a person.

    Crews that have such a day already follow it; what that strands is listed by `boards/stranded/`.
    """

    http_method_names = ["get", "post", "patch", "delete", "head", "options"]
    queryset = CompanyDay.objects.all()
    serializer_class = CompanyDaySerializer
    filterset_fields: ClassVar = {"on": ["exact", "gte", "lte"]}
    ordering_fields: ClassVar = ["on"]
    ordering: ClassVar = ["on"]

    def perform_create(self, serializer: BaseSerializer[CompanyDay]) -> None:
        values = {"shift_h": None} | serializer.validated_data
        serializer.instance, _ = services.set_company_day(**values, by=signed_in(self.request))

    def perform_update(self, serializer: BaseSerializer[CompanyDay]) -> None:
        row = row_of(serializer)
        values = {"on": row.on, "name": row.name, "shift_h": row.shift_h} | serializer.validated_data
        serializer.instance, _ = services.set_company_day(**values, by=signed_in(self.request))

    @extend_schema(request=None, responses={204: None})
    def destroy(self, request: Request, *args: Any, **kwargs: Any) -> Response:
        """Let the day be as usual again, for the crews too that were off for it."""
        refuse_body(request)
        services.unset_company_day(company_day_id=self.get_object().pk)
        return Response(status=HTTP_204_NO_CONTENT)


class DaysOff(Endpoint):
    """Several days off of a crew at once."""

    writers = OFFICE

    @extend_schema(request=DaysOffSerializer, responses={201: StrandedSerializer(many=True)})
    def post(self, request: Request) -> Response:
        """Set a crew off from one day to another; the answer lists the openings that are stranded by it."""
        asked = DaysOffSerializer(data=request.data)
        asked.is_valid(raise_exception=True)
        stranded = services.set_days_off(**asked.validated_data)
        return Response(StrandedSerializer(stranded, many=True).data, status=201)


class RetireCrew(Endpoint):
    writers = OFFICE

    @extend_schema(request=None, responses=CrewSerializer)
    def post(self, request: Request, crew_id: int) -> Response:
        """Retire a crew. 409 while work is planned for it, with the days."""
        refuse_body(request)
        return Response(CrewSerializer(services.retire_crew(crew_id=crew_id)).data)


class ReturnCrew(Endpoint):
    writers = OFFICE

    @extend_schema(request=None, responses=CrewSerializer)
    def post(self, request: Request, crew_id: int) -> Response:
        """Put a retired crew back in service."""
        refuse_body(request)
        return Response(CrewSerializer(services.return_crew(crew_id=crew_id)).data)


class CloseJob(Endpoint):
    writers = OFFICE

    @extend_schema(request=None, responses=JobSerializer)
    def post(self, request: Request, job_id: int) -> Response:
        """Close a job. 409 while openings of it are assigned."""
        refuse_body(request)
        return Response(JobSerializer(services.close_job(job_id=job_id), context={}).data)


class ArchiveJob(Endpoint):
    writers = OFFICE

    @extend_schema(request=None, responses=JobSerializer)
    def post(self, request: Request, job_id: int) -> Response:
        """Archive a closed job: lists leave it out."""
        refuse_body(request)
        return Response(JobSerializer(services.archive_job(job_id=job_id), context={}).data)


class ReopenJob(Endpoint):
    writers = OFFICE

    @extend_schema(request=None, responses=JobSerializer)
    def post(self, request: Request, job_id: int) -> Response:
        """Take up a job again that was closed or archived."""
        refuse_body(request)
        return Response(JobSerializer(services.reopen_job(job_id=job_id), context={}).data)
