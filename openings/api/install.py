"""Endpoints of install records and callbacks."""

from __future__ import annotations

from http import HTTPStatus
from typing import Any, ClassVar

from django_filters import FilterSet
from drf_spectacular.utils import extend_schema
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.serializers import BaseSerializer

from jobs.permissions import FIELD, OFFICE
from jobs.resource import Readable, Resource, refuse_body, row_of
from jobs.signed_in import signed_in
from openings import services
from openings.models import Callback, InstallRecord
from openings.serializers import (
    CallbackSerializer,
    HourSerializer,
    InstallRecordSerializer,
    StartSerializer,
    StepSerializer,
)


class InstallRecordFilter(FilterSet):
    class Meta:
        model = InstallRecord
        fields: ClassVar = {
            "opening": ["exact"],
            "opening__job": ["exact"],
            "crew": ["exact"],
            "done_at": ["isnull", "gte", "lte"],
        }


class InstallRecords(Readable[InstallRecord]):
    """The install of each opening: start it, record steps and hours, call it done."""

    queryset = InstallRecord.objects.prefetch_related("steps", "hours")
    serializer_class = InstallRecordSerializer
    writers = FIELD
    refusals: ClassVar = (HTTPStatus.NOT_FOUND,)  # a body names its opening
    locks_first = ("opening",)
    filterset_class = InstallRecordFilter
    ordering_fields: ClassVar = ["started_at", "done_at"]
    ordering: ClassVar = ["-started_at", "-pk"]

    @extend_schema(request=StartSerializer, responses={201: InstallRecordSerializer})
    def create(self, request: Request, *args: Any, **kwargs: Any) -> Response:
        """Start the install of an assigned opening. 409 where that is for another day, unless `other_day` is sent."""
        body = StartSerializer(data=request.data)
        body.is_valid(raise_exception=True)
        asked = body.validated_data
        record = services.start_install(
            opening_id=asked["opening"], by=signed_in(request), other_day=asked["other_day"]
        )
        return Response(self.get_serializer(record).data, status=201)

    @extend_schema(request=StepSerializer, responses={201: StepSerializer})
    @action(detail=True, methods=["post"])
    def steps(self, request: Request, pk: str, **kwargs: Any) -> Response:
        """Record one step; out of lay order it is refused with the step that must come first."""
        body = StepSerializer(data=request.data)
        body.is_valid(raise_exception=True)
        step = services.record_step(record_id=self.get_object().pk, by=signed_in(request), **body.validated_data)
        return Response(StepSerializer(step).data, status=201)

    @extend_schema(request=HourSerializer, responses={201: HourSerializer})
    @action(detail=True, methods=["post"])
    def hours(self, request: Request, pk: str, **kwargs: Any) -> Response:
        """Record the hours of one person on one date."""
        body = HourSerializer(data=request.data)
        body.is_valid(raise_exception=True)
        hours = services.record_hours(record_id=self.get_object().pk, by=signed_in(request), **body.validated_data)
        return Response(HourSerializer(hours).data, status=201)

    @extend_schema(request=None, responses=InstallRecordSerializer)
    @action(detail=True, methods=["post"])
    def done(self, request: Request, pk: str, **kwargs: Any) -> Response:
        """Close the install once every step and the hours are recorded."""
        refuse_body(request)
        services.finish_install(record_id=self.get_object().pk, by=signed_in(request))
        return Response(self.get_serializer(self.get_object()).data)


class Callbacks(Resource[Callback]):
    queryset = Callback.objects.all()
    serializer_class = CallbackSerializer
    writers = OFFICE | FIELD
    filterset_fields: ClassVar = {"opening": ["exact"], "opening__job": ["exact"], "resolved_on": ["isnull"]}
    ordering_fields: ClassVar = ["reported_on", "resolved_on"]
    ordering: ClassVar = ["-reported_on", "-pk"]

    def perform_create(self, serializer: BaseSerializer[Callback]) -> None:
        serializer.instance = services.report_callback(**serializer.validated_data)

    def perform_update(self, serializer: BaseSerializer[Callback]) -> None:
        serializer.instance = services.revise_callback(row_of(serializer), **serializer.validated_data)
