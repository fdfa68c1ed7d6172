"""Endpoints of jobs, crews and forecasts, and of signing in."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, ClassVar

from drf_spectacular.contrib.knox_auth_token import KnoxTokenScheme
from drf_spectacular.utils import extend_schema
from knox.views import LoginView
from rest_framework.authentication import BaseAuthentication
from rest_framework.authtoken.serializers import AuthTokenSerializer
from rest_framework.permissions import AllowAny, BasePermission
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.serializers import CharField, DateTimeField, Serializer
from rest_framework.status import HTTP_204_NO_CONTENT

from jobs import queries, services
from jobs.models import Crew, Job, SiteForecast
from jobs.names import KnownNames
from jobs.permissions import OFFICE
from jobs.resource import Endpoint, Resource, refuse_body
from jobs.serializers import (
    CrewSerializer,
    JobSerializer,
    PersonSerializer,
    SiteForecastSerializer,
    WeatherLimitsSerializer,
)


class Jobs(Resource[Job]):
    queryset = Job.objects.all()
    serializer_class = JobSerializer
    filterset_fields: ClassVar = ["code", "time_zone"]
    ordering_fields: ClassVar = ["code", "name", "starts_on"]
    ordering: ClassVar = ["code"]


class Crews(Resource[Crew]):
    queryset = Crew.objects.all()
    serializer_class = CrewSerializer
    filterset_fields: ClassVar = ["name"]
    ordering_fields: ClassVar = ["name", "people_count"]
    ordering: ClassVar = ["name"]


class Forecasts(Resource[SiteForecast]):
    queryset = SiteForecast.objects.all()
    serializer_class = SiteForecastSerializer
    filterset_fields: ClassVar = {"job": ["exact"], "on": ["exact", "gte", "lte"]}
    ordering_fields: ClassVar = ["on", "job"]
    ordering: ClassVar = ["on", "job"]


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


class TokenScheme(KnoxTokenScheme):  # type: ignore[no-untyped-call]  # drf-spectacular's has no types
    """How the OpenAPI document describes the token."""

    target_class = "jobs.authentication.TokenAuthentication"


class Credentials(KnownNames, AuthTokenSerializer):
    """Who signs in."""


class TokenOut(Serializer[Any]):
    token = CharField(help_text="Send it as `Authorization: Token …`; only its hash is kept.")
    expiry = DateTimeField()
    user = PersonSerializer()


class Token(Endpoint, LoginView):  # type: ignore[misc]  # knox has no types
    """Trade a username and a password for a token."""

    authentication_classes: Sequence[type[BaseAuthentication]] = []
    permission_classes: Sequence[type[BasePermission]] = [AllowAny]
    is_stored = takes_a_key = False
    serializer_class = Credentials

    @extend_schema(request=Credentials, responses=TokenOut, auth=[])
    def post(self, request: Request, format: Any = None) -> Response:
        credentials = Credentials(data=request.data, context={"request": request})
        credentials.is_valid(raise_exception=True)
        request.user = credentials.validated_data["user"]
        answer: Response = super().post(request, format=format)
        return answer
