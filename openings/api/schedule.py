"""Endpoints of window schedules."""

from __future__ import annotations

from typing import Any, ClassVar

from django.db.models import Count
from django.http import HttpResponse
from django.utils.http import content_disposition_header
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import PolymorphicProxySerializer, extend_schema
from rest_framework.decorators import action
from rest_framework.parsers import MultiPartParser
from rest_framework.request import Request
from rest_framework.response import Response

from jobs.resource import Readable
from openings import services
from openings.models import WindowSchedule
from openings.serializers import SchedulePlanSerializer, ScheduleSerializer, ScheduleUpload


class Schedules(Readable):
    """Window schedules: upload a file, or see first what it would do."""

    queryset = WindowSchedule.objects.defer("content").annotate(openings_count=Count("openings"))
    serializer_class = ScheduleSerializer
    parser_classes: ClassVar = [MultiPartParser]
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
        upload = ScheduleUpload(data=request.data)
        upload.is_valid(raise_exception=True)
        asked = upload.validated_data
        what = {
            "job_id": asked["job"],
            "filename": asked["file"].name,
            "content": asked["file"].read(),
            "detail": asked["detail"],
        }
        if asked["dry_run"]:
            return Response(SchedulePlanSerializer(services.preview_schedule(**what)).data)
        schedule = services.import_schedule(**what, by=request.user)
        return Response(self.get_serializer(self.get_queryset().get(pk=schedule.pk)).data, status=201)

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
