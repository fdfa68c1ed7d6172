"""Endpoints of what leaves the office: links of calendars, webhooks, choices of notices."""

from __future__ import annotations

from typing import Any, ClassVar

from django.urls import reverse
from drf_spectacular.utils import extend_schema
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.serializers import BaseSerializer

from jobs import queries, services
from jobs.calc.notice import EventKind, How
from jobs.models import CalendarLink, Webhook
from jobs.permissions import ANYONE, OFFICE
from jobs.public import public_address
from jobs.resource import Addable, Endpoint, Resource, refuse_body, row_of
from jobs.serializers import (
    CalendarAddressSerializer,
    CalendarLinkSerializer,
    NoticeChoicesSerializer,
    SecretSerializer,
    WebhookSerializer,
)
from jobs.signed_in import signed_in


class CalendarLinks(Addable[CalendarLink]):
    """Links from which a calendar elsewhere reads the days of a crew or a job (RFC 5545); for the office."""

    queryset = CalendarLink.objects.all()
    serializer_class = CalendarLinkSerializer
    readers = writers = OFFICE  # an address can be a secret
    filterset_fields: ClassVar = ["crew", "job"]
    ordering_fields: ClassVar = ["made_at"]
    ordering: ClassVar = ["made_at"]

    def perform_create(self, serializer: BaseSerializer[CalendarLink]) -> None:
        made = services.make_calendar_link(**serializer.validated_data, by=signed_in(self.request))
        serializer.instance = made.link

    @extend_schema(request=None, responses=CalendarAddressSerializer)
    @action(detail=True, methods=["post"], takes_a_key=False)
    def address(self, request: Request, pk: str, **kwargs: Any) -> Response:
        """Draw another address and answer it, this once; the one before leads nowhere from then on."""
        refuse_body(request)
        drawn = services.draw_token(link_id=self.get_object().pk)
        return Response({"address": public_address(request, reverse("calendar-feed", args=[drawn.token]))})

    @extend_schema(request=None, responses=CalendarLinkSerializer)
    @action(detail=True, methods=["post"])
    def revoke(self, request: Request, pk: str, **kwargs: Any) -> Response:
        """Let it lead nowhere from now on."""
        refuse_body(request)
        return Response(self.get_serializer(services.revoke_calendar_link(link_id=self.get_object().pk)).data)


class Webhooks(Resource[Webhook]):
    """Programs elsewhere that are called with what happened, signed; for the office.

    Each call is a POST of JSON. `Weatherlap-Signature` is `sha256=` and the HMAC-SHA-256 (RFC 2104), in hexadecimal
    digits, of `Weatherlap-Timestamp`, a full stop and the body, with the secret of the webhook. A status of 200 to 299
    takes it; everything else, a redirect too, is tried again with growing pauses. `Weatherlap-Event` is the same then.
    """

    queryset = Webhook.objects.all()
    serializer_class = WebhookSerializer
    readers = writers = OFFICE  # an address can be a secret
    filterset_fields: ClassVar = ["name"]
    ordering_fields: ClassVar = ["name", "added_at"]
    ordering: ClassVar = ["name"]

    def perform_create(self, serializer: BaseSerializer[Webhook]) -> None:
        values = {"kinds": []} | serializer.validated_data
        serializer.instance = services.add_webhook(**values, by=signed_in(self.request))

    def perform_update(self, serializer: BaseSerializer[Webhook]) -> None:
        serializer.instance = services.change_webhook(webhook_id=row_of(serializer).pk, **serializer.validated_data)

    @extend_schema(request=None, responses=SecretSerializer)
    @action(detail=True, methods=["post"], takes_a_key=False)
    def secret(self, request: Request, pk: str, **kwargs: Any) -> Response:
        """Draw another secret and answer it, this once; what is sent from now on is signed with it."""
        refuse_body(request)
        return Response({"secret": services.draw_secret(webhook_id=self.get_object().pk).secret})

    @extend_schema(request=None, responses=WebhookSerializer)
    @action(detail=True, methods=["post"])
    def stop(self, request: Request, pk: str, **kwargs: Any) -> Response:
        """Call it no more, not even with what it was not called with yet."""
        refuse_body(request)
        return Response(self.get_serializer(services.stop_webhook(webhook_id=self.get_object().pk)).data)

    @extend_schema(request=None, responses=WebhookSerializer)
    @action(detail=True, methods=["post"])
    def resume(self, request: Request, pk: str, **kwargs: Any) -> Response:
        """Call it again, with what happens from now on."""
        refuse_body(request)
        return Response(self.get_serializer(services.resume_webhook(webhook_id=self.get_object().pk)).data)


class NoticeChoices(Endpoint):
    """How the one who asks is told of each kind of event: at once, once a day, or never."""

    writers = ANYONE
    takes_a_key = False  # one value each, and the last one that is set is right

    @extend_schema(responses=NoticeChoicesSerializer)
    def get(self, request: Request) -> Response:
        """What you chose; where you chose nothing, what your role starts with."""
        return Response({one.kind.value: one.how.value for one in queries.choices_of(signed_in(request))})

    @extend_schema(request=NoticeChoicesSerializer, responses=NoticeChoicesSerializer)
    def patch(self, request: Request) -> Response:
        """Choose for the kinds that are named; the others stay."""
        asked = NoticeChoicesSerializer(data=request.data, partial=True)
        asked.is_valid(raise_exception=True)
        chosen = {EventKind(kind): How(how) for kind, how in asked.validated_data.items()}
        services.choose_notices(person=signed_in(request), how=chosen)
        return self.get(request)
