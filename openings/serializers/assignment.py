"""JSON ⇄ who goes where."""

from __future__ import annotations

from typing import ClassVar

from rest_framework import serializers

from jobs.calc.horizon import COMING
from jobs.dates import Within
from openings.models import Assignment


class AssignmentSerializer(serializers.ModelSerializer):
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
        ]


class AssignSerializer(serializers.Serializer):
    opening = serializers.IntegerField()
    crew = serializers.IntegerField()
    on = serializers.DateField(validators=[Within(COMING)])


class AssignManySerializer(serializers.Serializer):
    openings = serializers.ListField(child=serializers.IntegerField(), min_length=1, max_length=500)
    crew = serializers.IntegerField()
    on = serializers.DateField(validators=[Within(COMING)])
