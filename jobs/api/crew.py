"""Endpoints of crews."""

from __future__ import annotations

from typing import ClassVar

from rest_framework.serializers import BaseSerializer

from jobs import services
from jobs.models import Crew
from jobs.resource import Resource
from jobs.serializers import (
    CrewSerializer,
)


class Crews(Resource[Crew]):
    queryset = Crew.objects.all()
    serializer_class = CrewSerializer
    filterset_fields: ClassVar = {"name": ["exact"], "retired_at": ["isnull"]}
    ordering_fields: ClassVar = ["name", "people_count"]
    ordering: ClassVar = ["name"]

    def perform_create(self, serializer: BaseSerializer[Crew]) -> None:
        serializer.instance = services.add_crew(**serializer.validated_data)
