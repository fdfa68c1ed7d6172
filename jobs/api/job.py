"""Endpoints of jobs."""

from __future__ import annotations

from typing import ClassVar

from jobs.models import Job
from jobs.resource import Resource
from jobs.serializers import (
    JobSerializer,
)


class Jobs(Resource[Job]):
    queryset = Job.objects.all()
    serializer_class = JobSerializer
    filterset_fields: ClassVar = ["code", "time_zone"]
    ordering_fields: ClassVar = ["code", "name", "starts_on"]
    ordering: ClassVar = ["code"]
