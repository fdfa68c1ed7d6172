"""Endpoints of jobs."""

from __future__ import annotations

from typing import ClassVar

from rest_framework.serializers import BaseSerializer

from jobs import services
from jobs.models import Job
from jobs.resource import Resource
from jobs.serializers import (
    JobSerializer,
)


class Jobs(Resource[Job]):
    queryset = Job.objects.all()
    serializer_class = JobSerializer
    filterset_fields: ClassVar = {
        "code": ["exact"],
        "time_zone": ["exact"],
        "closed_at": ["isnull"],
        "archived_at": ["isnull"],
    }
    ordering_fields: ClassVar = ["code", "name", "starts_on", "promised_on"]
    ordering: ClassVar = ["code"]

    def perform_create(self, serializer: BaseSerializer[Job]) -> None:
        serializer.instance = services.add_job(**serializer.validated_data)
