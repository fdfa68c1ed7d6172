"""Endpoints of the limits of weather."""

from __future__ import annotations

from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.status import HTTP_204_NO_CONTENT

from jobs import queries, services
from jobs.permissions import OFFICE
from jobs.resource import Endpoint, refuse_body
from jobs.serializers import (
    WeatherLimitsSerializer,
)


class WeatherLimits(Endpoint):
    """The wind and the rain above which crews and the office are warned."""

    writers = OFFICE
    takes_a_key = False  # one value each, and the last one who sets it is right

    @extend_schema(responses=WeatherLimitsSerializer)
    def get(self, request: Request) -> Response:
        """Each limit and where it comes from: the shop's own, or the one that the service starts with."""
        return Response(WeatherLimitsSerializer(queries.weather_limits()).data)

    @extend_schema(request=WeatherLimitsSerializer, responses=WeatherLimitsSerializer)
    def patch(self, request: Request) -> Response:
        """Set limits of the shop's own, each with its source; what is not named stays."""
        asked = WeatherLimitsSerializer(data=request.data, partial=True)
        asked.is_valid(raise_exception=True)
        services.set_weather_limits(**asked.validated_data)
        return self.get(request)

    @extend_schema(request=None, responses={204: None})
    def delete(self, request: Request) -> Response:
        """Go back to the limits that the service starts with."""
        refuse_body(request)
        services.reset_weather_limits()
        return Response(status=HTTP_204_NO_CONTENT)
