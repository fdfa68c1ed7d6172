"""Endpoints of window schedules: a file is looked at and taken, and every revision can be looked at again."""

from __future__ import annotations

from http import HTTPStatus
from typing import Any, ClassVar

from django.http import HttpResponse
from django.utils.http import content_disposition_header
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import PolymorphicProxySerializer, extend_schema
from rest_framework.decorators import action
from rest_framework.parsers import MultiPartParser
from rest_framework.request import Request
from rest_framework.response import Response

from jobs.resource import Readable
from jobs.signed_in import signed_in
from openings import queries, services
from openings.errors import RowsLeak, WrongRows
from openings.models import WindowSchedule
from openings.schedules import FOR_A_REQUEST, Change, unpacked, unpacked_rows
from openings.serializers import (
    RevisionDifferenceSerializer,
    SchedulePlanSerializer,
    ScheduleRowSerializer,
    ScheduleSerializer,
    ScheduleUpload,
    UnderstoodSerializer,
)
from openings.services import Choice, outcome_of


class Schedules(Readable[WindowSchedule]):
    """Window schedules: upload a file, or see first what it would do."""

    queryset = queries.schedule_list()
    serializer_class = ScheduleSerializer
    parser_classes = [MultiPartParser]
    paged = ("list", "rows")
    refusals: ClassVar = (HTTPStatus.NOT_FOUND,)  # a body names its job and its detail
    filterset_fields: ClassVar = ["job", "sha256"]
    ordering_fields: ClassVar = ["revision", "uploaded_at"]
    ordering: ClassVar = ["job", "-revision"]

    @extend_schema(
        request=ScheduleUpload,
        responses={
            200: SchedulePlanSerializer,
            201: PolymorphicProxySerializer(
                component_name="TakenSchedule",
                serializers=[ScheduleSerializer],
                resource_type_field_name=None,
            ),
        },
    )
    def create(self, request: Request, *args: Any, **kwargs: Any) -> Response:
        """Take a file as the next revision of its job's schedule, or with `dry_run` say what that would do.

        A refusal for what is unsure or wrong in the file says in `schedule` how the file was understood. A file that
        takes long is better sent as a draft, which a worker reads with more time.
        """
        upload = ScheduleUpload(data=request.data)
        upload.is_valid(raise_exception=True)
        asked = upload.validated_data
        what: services.ScheduleFile = {
            "job_id": asked["job"],
            "filename": asked["file"].name,
            "content": asked["file"].read(),
            "detail": asked["detail"],
            "mapping": asked["mapping"],
        }
        try:
            if asked["dry_run"]:
                plan = services.preview_schedule(**what, budget=FOR_A_REQUEST)
                return Response(SchedulePlanSerializer(outcome_of(plan)).data)
            taken = services.take_schedule(**what, budget=FOR_A_REQUEST, choice=choice_of(asked), by=signed_in(request))
        except (WrongRows, RowsLeak) as error:
            error.members["schedule"] = UnderstoodSerializer(outcome_of(error.plan)).data
            raise
        return Response(self.get_serializer(self.get_queryset().get(pk=taken.schedule.pk)).data, status=201)

    @extend_schema(responses={(200, "application/octet-stream"): OpenApiTypes.BINARY})
    @action(detail=True)
    def file(self, request: Request, **kwargs: Any) -> HttpResponse:
        """The original file, byte for byte."""
        schedule = self.get_object()
        return HttpResponse(
            bytes(schedule.content),
            content_type="application/octet-stream",
            headers={"Content-Disposition": content_disposition_header(True, schedule.filename)},
        )

    @extend_schema(responses=RevisionDifferenceSerializer)
    @action(detail=True)
    def difference(self, request: Request, **kwargs: Any) -> Response:
        """What this revision added, changed and removed, and what it left and why."""
        did = unpacked(self.get_object().difference)
        return Response({"by_hand": []} | did if did else did)

    @extend_schema(responses=ScheduleRowSerializer(many=True), filters=False)
    @action(detail=True)
    def rows(self, request: Request, **kwargs: Any) -> Response:
        """The rows as they were read when it was taken."""
        page = self.paginate_queryset(unpacked_rows(self.get_object().rows))
        return self.get_paginated_response(ScheduleRowSerializer(page, many=True).data)


def choice_of(asked: dict[str, Any]) -> Choice:
    """Return the choice that a body says."""
    return Choice(
        kinds=frozenset(Change(kind) for kind in asked["apply"]), leave=frozenset(asked["leave"]), seen=asked["seen"]
    )
