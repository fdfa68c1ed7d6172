"""JSON ⇄ the days of crews."""

from __future__ import annotations

from typing import Any, ClassVar

from rest_framework import serializers

from jobs.calc.horizon import PLAN
from jobs.dates import Within
from jobs.models import Crew, CrewDay
from jobs.names import KnownNames, ModelBody
from jobs.serializers import refuse_change
from openings.queries import Why


class CrewDaySerializer(ModelBody[CrewDay]):
    capacity_person_h = serializers.DecimalField(
        max_digits=6,
        decimal_places=2,
        min_value=0,
        max_value=480,
        required=False,
        help_text="People × shift where it is not given; 0 on a day off.",
    )

    class Meta:
        model = CrewDay
        fields: ClassVar = ["id", "crew", "on", "capacity_person_h", "off_reason", "updated_at"]

    def validate(self, values: dict[str, Any]) -> dict[str, Any]:
        refuse_change(self, values, "crew", "on")
        if self.instance is None and "capacity_person_h" not in values:
            values["capacity_person_h"] = 0 if values.get("off_reason") else values["crew"].capacity_person_h
        return values


class StrandedSerializer(serializers.Serializer[Any]):
    """An opening that somebody must decide about: move it, carry it on, or withdraw it."""

    assignment = serializers.IntegerField(source="assignment.pk")
    opening = serializers.IntegerField(source="assignment.opening_id")
    mark = serializers.CharField(source="assignment.opening.mark")
    job = serializers.CharField(source="assignment.opening.job.code")
    crew_day = serializers.IntegerField(source="assignment.crew_day_id")
    crew = serializers.IntegerField(source="assignment.crew_day.crew_id")
    crew_name = serializers.CharField(source="assignment.crew_day.crew.name")
    on = serializers.DateField(source="assignment.crew_day.on", read_only=True)
    state = serializers.CharField(source="assignment.state")
    why = serializers.ChoiceField(choices=[why.value for why in Why])
    reason = serializers.CharField()
    is_begun = serializers.BooleanField(help_text="It is carried on; one never started is moved or unassigned.")
    steps_recorded = serializers.IntegerField()
    steps_count = serializers.IntegerField()
    left_person_h = serializers.DecimalField(max_digits=8, decimal_places=2)


class CrewDaySetSerializer(CrewDaySerializer):
    """A day as it was set, and the openings assigned to it that are stranded now."""

    stranded = StrandedSerializer(many=True)

    class Meta(CrewDaySerializer.Meta):
        fields: ClassVar = [*CrewDaySerializer.Meta.fields, "stranded"]


class DaysOffSerializer(KnownNames):
    """Days off of a crew, the first and the last included."""

    crew = serializers.PrimaryKeyRelatedField(queryset=Crew.objects.all())
    first = serializers.DateField(validators=[Within(PLAN)])
    last = serializers.DateField(validators=[Within(PLAN)])
    off_reason = serializers.CharField(max_length=80)


class StrandedAsked(serializers.Serializer[Any]):
    crew = serializers.IntegerField(required=False, default=None, help_text="Of one crew only.")
    job = serializers.IntegerField(required=False, default=None, help_text="Of one job only.")
