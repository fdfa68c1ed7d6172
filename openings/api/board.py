"""The crew board, and what is stranded, as JSON."""

from __future__ import annotations

from typing import ClassVar

from django.http import HttpResponse
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema
from rest_framework.renderers import JSONRenderer
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from jobs.permissions import ByRole
from jobs.queries import today_on_sites
from openings import queries
from openings.measure_fields import units_of
from openings.serializers import BoardSpan, StrandedAsked, StrandedSerializer


class CrewBoard(APIView):
    permission_classes: ClassVar = [ByRole]

    @extend_schema(parameters=[BoardSpan], responses=OpenApiTypes.OBJECT)
    def get(self, request: Request) -> HttpResponse:
        """Who is where. `openings` are rows of values under `columns`; crews, jobs and days stand once.

        `stranded` are the openings that somebody must decide about, whatever days are shown.
        """
        span = BoardSpan(data=request.query_params)
        span.is_valid(raise_exception=True)
        first = span.validated_data.get("first") or today_on_sites()
        stranded = JSONRenderer().render(StrandedSerializer(queries.stranded(), many=True).data).decode()
        days, units = span.validated_data["days"], units_of(request)
        board = queries.crew_board_json(first=first, days=days, units=units, stranded=stranded)
        return HttpResponse(board, content_type="application/json")


class StrandedBoard(APIView):
    permission_classes: ClassVar = [ByRole]

    @extend_schema(parameters=[StrandedAsked], responses=StrandedSerializer(many=True))
    def get(self, request: Request) -> Response:
        """The openings assigned to a day that is past, off or overfull, until somebody decides; the oldest first."""
        asked = StrandedAsked(data=request.query_params)
        asked.is_valid(raise_exception=True)
        found = queries.stranded(crew_id=asked.validated_data["crew"], job_id=asked.validated_data["job"])
        return Response(StrandedSerializer(found, many=True).data)
