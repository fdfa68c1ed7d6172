"""JSON ⇄ who goes where."""

from __future__ import annotations

from typing import ClassVar

from rest_framework import serializers

from jobs.calc.horizon import COMING
from jobs.dates import Within
from jobs.names import KnownNames, ModelBody
from openings.models import Assignment


class AssignmentSerializer(ModelBody[Assignment]):
    crew = serializers.IntegerField(source="crew_day.crew_id", read_only=True)
    on = serializers.DateField(source="crew_day.on", read_only=True)

    class Meta:
        model = Assignment
        fields: ClassVar = [
            "id",
            "opening",
            "crew_day",
            "crew",
            "on",
            "person_h",
            "assigned_at",
            "withdrawn_at",
            "short_crew_reason",
            "short_crew_by",
            "updated_at",
        ]


class GivenTo(KnownNames):
    """The crew and the day that openings go to."""

    crew = serializers.IntegerField(source="crew_id")
    on = serializers.DateField(validators=[Within(COMING)])
    short_crew_reason = serializers.CharField(
        required=False,
        allow_blank=True,
        default="",
        max_length=300,
        help_text="Why a unit that takes more people than the crew has goes there all the same.",
    )


class AssignSerializer(GivenTo):
    opening = serializers.IntegerField()


class AssignManySerializer(GivenTo):
    openings = serializers.ListField(
        child=serializers.IntegerField(), min_length=1, max_length=500, source="opening_ids"
    )


class MoveSerializer(GivenTo):
    assignments = serializers.ListField(
        child=serializers.IntegerField(), min_length=1, max_length=500, source="assignment_ids"
    )
