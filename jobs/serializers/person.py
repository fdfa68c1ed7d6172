"""JSON ⇄ people."""

from __future__ import annotations

from typing import Any, ClassVar

from django.urls import reverse
from rest_framework import serializers

from jobs.models import Invitation, Person
from jobs.names import ModelBody


class PersonSerializer(ModelBody[Person]):
    class Meta:
        model = Person
        fields: ClassVar = ["id", "username", "first_name", "last_name", "role", "crew"]


class MemberSerializer(ModelBody[Person]):
    """Somebody of the firm, as the office keeps them."""

    has_password = serializers.BooleanField(
        source="has_usable_password", read_only=True, help_text="Whether the invitation was used: before, nobody is in."
    )

    class Meta:
        model = Person
        fields: ClassVar = [
            "id",
            "username",
            "first_name",
            "last_name",
            "email",
            "role",
            "crew",
            "is_active",
            "has_password",
            "updated_at",
        ]
        read_only_fields: ClassVar = ["is_active"]
        extra_kwargs: ClassVar = {"username": {"validators": [Person.username_validator]}}


class NewInvitationSerializer(ModelBody[Invitation]):
    """A link by which somebody sets a password, without the link."""

    class Meta:
        model = Invitation
        fields: ClassVar = [
            "id",
            "person",
            "invited_by",
            "made_at",
            "expires_at",
            "used_at",
            "taken_back_at",
            "updated_at",
        ]
        read_only_fields: ClassVar = [*fields[:1], *fields[2:]]


class InvitationSerializer(ModelBody[Invitation]):
    """A link by which somebody sets a password, once."""

    link = serializers.SerializerMethodField(
        help_text="Send it to the person and to nobody else. Empty once it can be used no more, and for who may not "
        "change that person."
    )

    class Meta:
        model = Invitation
        fields: ClassVar = [*NewInvitationSerializer.Meta.fields, "link"]

    def get_link(self, invitation: Invitation) -> str:
        request: Any = self.context["request"]
        is_shown = invitation.is_usable and invitation.person.may_be_changed_by(request.user)
        return request.build_absolute_uri(reverse("welcome-page", args=[invitation.token])) if is_shown else ""
