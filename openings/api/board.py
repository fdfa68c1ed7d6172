"""The crew board as JSON."""

from __future__ import annotations

from typing import ClassVar

from django.http import HttpResponse
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.views import APIView

from jobs.permissions import ByRole
from jobs.queries import today_on_sites
from openings import queries
from openings.edge import units_of
from openings.serializers import BoardSpan


class CrewBoard(APIView):
    permission_classes: ClassVar = [ByRole]

    @extend_schema(parameters=[BoardSpan], responses=OpenApiTypes.OBJECT)
    def get(self, request: Request) -> HttpResponse:
        """Who is where. `openings` are rows of values under `columns`; crews, jobs and days stand once."""
        span = BoardSpan(data=request.query_params)
        span.is_valid(raise_exception=True)
        first = span.validated_data.get("first") or today_on_sites()
        board = queries.crew_board_json(first=first, days=span.validated_data["days"], units=units_of(request))
        return HttpResponse(board, content_type="application/json")
