"""JSON ⇄ what leaves the office: links of calendars, webhooks, choices of notices."""

from __future__ import annotations

from typing import Any, ClassVar

from rest_framework import serializers

from jobs.calc.notice import SAID, EventKind, How
from jobs.models import CalendarLink, Webhook
from jobs.names import KnownNames, ModelBody

_CHOICES = [(how.value, how.value) for how in How]


class CalendarLinkSerializer(ModelBody[CalendarLink]):
    class Meta:
        model = CalendarLink
        fields: ClassVar = ["id", "label", "crew", "job", "made_by", "made_at", "revoked_at", "read_at", "updated_at"]
        read_only_fields: ClassVar = ["made_by", "made_at", "revoked_at", "read_at"]


class CalendarAddressSerializer(serializers.Serializer[Any]):
    address = serializers.CharField(help_text="Where a calendar reads it. Only its hash is kept, so this is all of it.")


class WebhookSerializer(ModelBody[Webhook]):
    kinds = serializers.ListField(
        child=serializers.ChoiceField(choices=[(kind.value, SAID[kind]) for kind in EventKind]),
        required=False,
        help_text="The kinds of events that it is called with; none named: all.",
    )

    class Meta:
        model = Webhook
        fields: ClassVar = ["id", "name", "address", "kinds", "added_by", "added_at", "stopped_at", "updated_at"]
        read_only_fields: ClassVar = ["added_by", "added_at", "stopped_at"]


class SecretSerializer(serializers.Serializer[Any]):
    secret = serializers.CharField(help_text="What calls are signed with from now on; it is shown this once.")


class NoticeChoicesSerializer(KnownNames):
    """How the one who asks is told of each kind of event."""

    day_changed = serializers.ChoiceField(choices=_CHOICES)
    sheet_revised = serializers.ChoiceField(choices=_CHOICES)
    stranded = serializers.ChoiceField(choices=_CHOICES)
    delivery_late = serializers.ChoiceField(choices=_CHOICES)
    cover_by_near = serializers.ChoiceField(choices=_CHOICES)
    no_sheet = serializers.ChoiceField(choices=_CHOICES)
