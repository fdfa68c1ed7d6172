"""Endpoints of the days of crews: here, since what happens to a day strands what is assigned to it."""

from __future__ import annotations

from typing import Any, ClassVar

from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework.request import Request
from rest_framework.response import Response

from jobs.models import CrewDay
from jobs.resource import Resource
from openings import services
from openings.serializers import CrewDaySerializer, CrewDaySetSerializer, StrandedSerializer


@extend_schema_view(
    create=extend_schema(responses={201: CrewDaySetSerializer}),
    partial_update=extend_schema(responses=CrewDaySetSerializer),
)
class CrewDays(Resource[CrewDay]):
    """What a crew can do on a day, or why it is off. Who sets it is told which openings that strands."""

    queryset = CrewDay.objects.all()
    serializer_class = CrewDaySerializer
    filterset_fields: ClassVar = {"crew": ["exact"], "on": ["exact", "gte", "lte"]}
    ordering_fields: ClassVar = ["on", "crew"]
    ordering: ClassVar = ["on", "crew"]

    def create(self, request: Request, *args: Any, **kwargs: Any) -> Response:
        """Set a day that nobody used yet; `stranded` is empty then."""
        response = super().create(request, *args, **kwargs)
        for one in response.data if isinstance(response.data, list) else [response.data]:
            one["stranded"] = []
        return response

    def partial_update(self, request: Request, *args: Any, **kwargs: Any) -> Response:
        """Change a day. `stranded` lists the openings assigned to it that it cannot do now."""
        day = self.get_object()
        body = self.get_serializer(day, data=request.data, partial=True)
        body.is_valid(raise_exception=True)
        stranded = services.change_crew_day(crew_day_id=day.pk, **body.validated_data)
        day.refresh_from_db()
        return Response({**self.get_serializer(day).data, "stranded": StrandedSerializer(stranded, many=True).data})
