"""Trading a password for a token."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from drf_spectacular.contrib.knox_auth_token import KnoxTokenScheme
from drf_spectacular.utils import extend_schema
from knox.views import LoginView
from rest_framework.authentication import BaseAuthentication
from rest_framework.authtoken.serializers import AuthTokenSerializer
from rest_framework.permissions import AllowAny, BasePermission
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.serializers import CharField, DateTimeField, Serializer

from jobs.names import KnownNames
from jobs.resource import Endpoint
from jobs.serializers import (
    PersonSerializer,
)


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
