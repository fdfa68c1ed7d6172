"""Endpoints of people and of the links by which they set their password."""

from __future__ import annotations

from typing import Any, ClassVar

from django.urls import reverse
from drf_spectacular.utils import extend_schema
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.serializers import BaseSerializer

from jobs import services
from jobs.models import Invitation, Person
from jobs.permissions import OFFICE
from jobs.resource import Addable, Resource, refuse_body, row_of
from jobs.serializers import InvitationSerializer, MemberSerializer, NewInvitationSerializer
from jobs.signed_in import signed_in


class People(Resource[Person]):
    """Who signs in. Adding somebody invites them: `invitations` has the link by which they set their password."""

    queryset = Person.objects.select_related("crew")
    serializer_class = MemberSerializer
    readers = OFFICE
    filterset_fields: ClassVar = ["username", "role", "crew", "is_active"]
    ordering_fields: ClassVar = ["username", "first_name", "last_name", "role"]
    ordering: ClassVar = ["username"]

    def perform_create(self, serializer: BaseSerializer[Person]) -> None:
        person = services.invite_person(by=signed_in(self.request), **serializer.validated_data)
        send_link(self.request, person.invitations.open().get())
        serializer.instance = person

    def perform_update(self, serializer: BaseSerializer[Person]) -> None:
        serializer.instance = services.change_person(
            person_id=row_of(serializer).pk, by=signed_in(self.request), **serializer.validated_data
        )

    @extend_schema(request=None, responses=MemberSerializer)
    @action(detail=True, methods=["post"])
    def deactivate(self, request: Request, **kwargs: Any) -> Response:
        """Let this person sign in no more: sessions, tokens and the open link end. What they recorded stays."""
        refuse_body(request)
        person = services.deactivate_person(person_id=self.get_object().pk, by=signed_in(request))
        return Response(MemberSerializer(person).data)

    @extend_schema(request=None, responses=MemberSerializer)
    @action(detail=True, methods=["post"])
    def reactivate(self, request: Request, **kwargs: Any) -> Response:
        """Let this person sign in again, with the password that they had."""
        refuse_body(request)
        person = services.reactivate_person(person_id=self.get_object().pk, by=signed_in(request))
        return Response(MemberSerializer(person).data)


class Invitations(Addable[Invitation]):
    """The links by which people set their password, once. A new one ends the one before it.

    Each is mailed to who has an address. Who may change the person reads it here; what was added answers without it,
    since answers are kept.
    """

    queryset = Invitation.objects.select_related("person")
    serializer_class = InvitationSerializer
    readers = writers = OFFICE
    filterset_fields: ClassVar = ["person"]
    ordering_fields: ClassVar = ["made_at", "expires_at"]
    ordering: ClassVar = ["-made_at"]

    def get_serializer_class(self) -> type[BaseSerializer[Invitation]]:
        return NewInvitationSerializer if self.action == "create" else InvitationSerializer

    def perform_create(self, serializer: BaseSerializer[Invitation]) -> None:
        person = serializer.validated_data["person"]
        serializer.instance = services.renew_invitation(person_id=person.pk, by=signed_in(self.request))
        send_link(self.request, serializer.instance)

    @extend_schema(request=None, responses=NewInvitationSerializer)
    @action(detail=True, methods=["post"], url_path="take-back")
    def take_back(self, request: Request, **kwargs: Any) -> Response:
        """End this link; one that was used or ended before stays as it was."""
        refuse_body(request)
        invitation = self.get_object()
        services.take_back_invitation(invitation_id=invitation.pk, by=signed_in(request))
        return Response(NewInvitationSerializer(self.get_object()).data)


def send_link(request: Request, invitation: Invitation) -> None:
    """Mail the link of an invitation to who has an address."""
    link = request.build_absolute_uri(reverse("welcome-page", args=[invitation.token]))
    services.mail_invitation(invitation_id=invitation.pk, link=link)
