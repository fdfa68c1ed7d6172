"""Endpoints of crews."""

from __future__ import annotations

from typing import ClassVar

from jobs.models import Crew
from jobs.resource import Resource
from jobs.serializers import (
    CrewSerializer,
)


class Crews(Resource[Crew]):
    queryset = Crew.objects.all()
    serializer_class = CrewSerializer
    filterset_fields: ClassVar = ["name"]
    ordering_fields: ClassVar = ["name", "people_count"]
    ordering: ClassVar = ["name"]
