"""Roll cuts by themselves."""

from __future__ import annotations

from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response

from jobs.permissions import ANYONE
from jobs.resource import Endpoint
from materials import queries
from materials.serializers import CutsAsked, PlannedCutsSerializer
from openings.measure_fields import units_of


class ComputeCuts(Endpoint):
    writers = ANYONE
    is_stored = takes_a_key = False

    @extend_schema(request=CutsAsked, responses=PlannedCutsSerializer)
    def post(self, request: Request) -> Response:
        """From which roll or remnant each piece is cut, so that the fewest or cheapest rolls are opened."""
        asked = CutsAsked(data=request.data)
        asked.is_valid(raise_exception=True)
        planned = queries.cuts_asked(**asked.validated_data, units=units_of(request))
        return Response(PlannedCutsSerializer(planned).data)
