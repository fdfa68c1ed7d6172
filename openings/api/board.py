"""The crew board, and what is stranded, as JSON."""

from __future__ import annotations

from django.http import HttpResponse
from drf_spectacular.utils import extend_schema
from rest_framework.renderers import JSONRenderer
from rest_framework.request import Request
from rest_framework.response import Response

from jobs.queries import today_on_sites
from jobs.resource import Endpoint
from openings import queries
from openings.measure_fields import units_of
from openings.plans.repair import repairs
from openings.serializers import (
    BoardSpan,
    CrewBoardSerializer,
    DayVersionSerializer,
    RepairsAsked,
    RepairSerializer,
    StrandedAsked,
    StrandedSerializer,
)


class CrewBoard(Endpoint):
    query = BoardSpan

    @extend_schema(responses=CrewBoardSerializer)
    def get(self, request: Request) -> HttpResponse:
        """Who is where. `openings` are rows of values under `columns`; crews, jobs and days stand once.

        `stranded` are the openings that somebody must decide about, whatever days are shown.
        """
        span = self.asked()
        first = span.get("first") or today_on_sites()
        stranded = JSONRenderer().render(StrandedSerializer(queries.stranded(), many=True).data).decode()
        days, units = span["days"], units_of(request)
        board = queries.crew_board_json(first=first, days=days, units=units, stranded=stranded)
        return HttpResponse(board, content_type="application/json")


class BoardVersions(Endpoint):
    query = BoardSpan

    @extend_schema(responses=DayVersionSerializer(many=True))
    def get(self, request: Request) -> Response:
        """The version of each crew's day: what differs from the one seen has changed, by whomever.

        Sent back as `seen` with what is assigned or moved, it refuses (412) what rests on a day that has changed.
        """
        span = self.asked()
        found = queries.versions_by_day(first=span.get("first") or today_on_sites(), days=span["days"])
        rows = [{"crew": crew, "on": on, "version": version} for (crew, on), version in found.items()]
        return Response(DayVersionSerializer(rows, many=True).data)


class StrandedBoard(Endpoint):
    query = StrandedAsked

    @extend_schema(responses=StrandedSerializer(many=True))
    def get(self, request: Request) -> Response:
        """The openings assigned to a day that is past, off or overfull, until somebody decides; the oldest first."""
        asked = self.asked()
        found = queries.stranded(crew_id=asked["crew"], job_id=asked["job"])
        return Response(StrandedSerializer(found, many=True).data)


class RepairsBoard(Endpoint):
    query = RepairsAsked

    @extend_schema(responses=RepairSerializer(many=True))
    def get(self, request: Request) -> Response:
        """The crew days that cannot be done as planned, the earliest first: what breaks, why, and what mends it.

        That is what is stranded, and what is assigned to a day on which it is not expected to be ready. Each offer
        holds for itself: taking one changes the room that others count on.
        """
        return Response(RepairSerializer(repairs(job_id=self.asked()["job"]), many=True).data)
