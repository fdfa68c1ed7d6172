"""What boards and pages ask for."""

from __future__ import annotations

from rest_framework import serializers

from jobs.calc.horizon import PLAN
from jobs.dates import Within
from openings.models import State


class BoardSpan(serializers.Serializer):
    """The days a board shows."""

    first = serializers.DateField(required=False, validators=[Within(PLAN)], help_text="Today where it is not given.")
    days = serializers.IntegerField(required=False, default=5, min_value=1, max_value=31)


class BoardAsked(BoardSpan):
    """What the page of the crew board shows: days, and the waiting openings of a job."""

    days = serializers.IntegerField(required=False, default=5, min_value=1, max_value=14)
    job = serializers.IntegerField(required=False, allow_null=True, default=None)
    page = serializers.IntegerField(required=False, default=1, min_value=1)


class JobAsked(serializers.Serializer):
    """Which openings the page of a job shows."""

    state = serializers.ChoiceField(choices=State.ALL, required=False, allow_blank=True, default="")
    page = serializers.IntegerField(required=False, default=1, min_value=1)
