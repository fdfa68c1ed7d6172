"""Trading a password for a token; one's own tokens and password; who signed in."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from django.contrib.auth import authenticate, update_session_auth_hash
from django.contrib.auth.models import update_last_login
from django.db.models import QuerySet
from drf_spectacular.utils import extend_schema
from rest_framework.authentication import BaseAuthentication
from rest_framework.permissions import AllowAny, BasePermission
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.status import HTTP_204_NO_CONTENT

from jobs import queries, services
from jobs.errors import BadInput
from jobs.models import Person, SignIn, Token
from jobs.permissions import ANYONE, OWNER
from jobs.resource import Endpoint, Readable, refuse_body
from jobs.serializers import Credentials, NewPassword, SignInSerializer, TokenOut, TokenSerializer, UnlockSerializer
from jobs.signed_in import signed_in


class NewToken(Endpoint):
    """Trade a username and a password for a token."""

    authentication_classes: Sequence[type[BaseAuthentication]] = []
    permission_classes: Sequence[type[BasePermission]] = [AllowAny]
    is_stored = takes_a_key = False
    refusals = (409, 429)

    @extend_schema(request=Credentials, responses=TokenOut, auth=[])
    def post(self, request: Request) -> Response:
        credentials = Credentials(data=request.data, context={"request": request})
        credentials.is_valid(raise_exception=True)
        asked = credentials.validated_data
        person: Person = asked["user"]
        token, secret = services.make_token(person=person, name=asked.get("name", ""), days=asked.get("days"))
        update_last_login(Person, person)
        return Response(TokenOut({"token": secret, "expiry": token.expires_at, "user": person}).data)


class Tokens(Readable[Token]):
    """One's own tokens that have not ended."""

    serializer_class = TokenSerializer
    queryset = Token.objects.all()
    writers = ANYONE
    takes_a_key = False
    http_method_names = ["get", "delete", "head", "options"]
    ordering_fields: ClassVar = ["id", "expires_at", "name"]
    ordering: ClassVar = ["id"]

    def get_queryset(self) -> QuerySet[Token]:
        return queries.tokens_of(signed_in(self.request))

    @extend_schema(request=None, responses={204: None})
    def destroy(self, request: Request, pk: str) -> Response:
        """Revoke it: what is asked with it from now on is refused."""
        refuse_body(request)
        services.revoke_token(person=signed_in(request), token_id=self.get_object().pk)
        return Response(status=HTTP_204_NO_CONTENT)


class Password(Endpoint):
    """One's own password."""

    writers = ANYONE
    is_stored = takes_a_key = False
    refusals = (429,)

    @extend_schema(request=NewPassword, responses={204: None})
    def post(self, request: Request) -> Response:
        """Set a new one. Every token and every other session ends, the token that this was sent with too."""
        asked = NewPassword(data=request.data)
        asked.is_valid(raise_exception=True)
        person = signed_in(request)
        if authenticate(request, username=person.username, password=asked.validated_data["old_password"]) != person:
            raise BadInput.of("old_password", "", "this is not your password")
        services.set_password(person=person, password=asked.validated_data["new_password"])
        if not isinstance(request.auth, Token):
            update_session_auth_hash(request, person)
        return Response(status=HTTP_204_NO_CONTENT)


class SignOutEverywhere(Endpoint):
    """All that one is signed in with."""

    writers = ANYONE
    is_stored = takes_a_key = False

    @extend_schema(request=None, responses={204: None})
    def post(self, request: Request) -> Response:
        """End every session and every token of one's own, the one that this was sent with too."""
        refuse_body(request)
        services.sign_out_everywhere(person=signed_in(request))
        return Response(status=HTTP_204_NO_CONTENT)


class SignIns(Readable[SignIn]):
    """Who signed in and who tried to, the newest first; kept for 90 days."""

    serializer_class = SignInSerializer
    queryset = SignIn.objects.all()
    readers = OWNER
    filterset_fields: ClassVar = {"name": ["exact"], "address": ["exact"], "outcome": ["exact"], "person": ["exact"]}
    http_method_names = ["get", "head", "options"]
    ordering_fields: ClassVar = ["at"]
    ordering: ClassVar = ["-at"]


class Unlock(Endpoint):
    """A name and an address that wrong passwords have locked."""

    readers = writers = OWNER

    @extend_schema(request=UnlockSerializer, responses=SignInSerializer)
    def post(self, request: Request) -> Response:
        """Let the name and the address of a try begin anew, as if nothing wrong had been tried."""
        asked = UnlockSerializer(data=request.data)
        asked.is_valid(raise_exception=True)
        return Response(SignInSerializer(services.unlock_sign_in(sign_in_id=asked.validated_data["sign_in"])).data)
