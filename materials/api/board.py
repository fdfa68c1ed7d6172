"""Staging, cautions and progress as JSON."""

from __future__ import annotations

from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response

from jobs.resource import Endpoint
from materials import queries
from materials.serializers import (
    CautionsAsked,
    DayCautionsSerializer,
    ProgressSerializer,
    StagingDay,
    StagingSerializer,
)


class StagingBoard(Endpoint):
    query = StagingDay

    @extend_schema(responses=StagingSerializer(many=True))
    def get(self, request: Request) -> Response:
        """The newest sheet of each crew for a day, with lines and roll cuts."""
        on = self.asked().get("on") or queries.next_staging_day()
        found = queries.staging_board(on)
        return Response(StagingSerializer(found, many=True).data)  # type: ignore[arg-type]  # the stub takes one


class CautionBoard(Endpoint):
    query = CautionsAsked

    @extend_schema(responses=DayCautionsSerializer(many=True))
    def get(self, request: Request) -> Response:
        """What to be careful about on a day, crew by crew, as it stands now: draw, materials, weather, lots, lifts."""
        asked = self.asked()
        on = asked.get("on") or queries.next_staging_day()
        found = queries.caution_board(on=on, crew=asked.get("crew"))
        return Response(DayCautionsSerializer(found, many=True).data)  # type: ignore[arg-type]  # the stub takes one


class ProgressBoard(Endpoint):
    @extend_schema(responses=ProgressSerializer(many=True))
    def get(self, request: Request) -> Response:
        """Each job: openings by state, hours and material against plan, and when it will end."""
        found = queries.progress_board()
        return Response(ProgressSerializer(found, many=True).data)  # type: ignore[arg-type]  # the stub takes one
