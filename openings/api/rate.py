"""The shop's labor rates."""

from __future__ import annotations

from drf_spectacular.utils import extend_schema
from rest_framework import status
from rest_framework.request import Request
from rest_framework.response import Response

from jobs.permissions import OFFICE
from jobs.resource import Endpoint, refuse_body
from openings import queries, services
from openings.serializers import LaborRateSerializer


class LaborRates(Endpoint):
    @extend_schema(operation_id="labor_rates_list", responses=LaborRateSerializer(many=True))
    def get(self, request: Request) -> Response:
        """Every rate that labor is calculated with, and where it comes from."""
        return Response(LaborRateSerializer(queries.named_rates(), many=True).data)


class LaborRateByName(Endpoint):
    writers = OFFICE

    @extend_schema(request=LaborRateSerializer, responses=LaborRateSerializer)
    def put(self, request: Request, name: str) -> Response:
        """Set a rate of the shop's own."""
        asked = LaborRateSerializer(data=request.data)
        asked.is_valid(raise_exception=True)
        services.set_rate(name=name, **asked.validated_data)
        return Response(LaborRateSerializer(queries.named_rate(name)).data)

    @extend_schema(request=None, responses={204: None})
    def delete(self, request: Request, name: str) -> Response:
        """Go back to the starting rate."""
        refuse_body(request)
        services.reset_rate(name=name)
        return Response(status=status.HTTP_204_NO_CONTENT)
