"""JSON ⇄ install records."""

from __future__ import annotations

from typing import Any, ClassVar

from rest_framework import serializers

from jobs.names import KnownNames, ModelBody
from jobs.serializers import refuse_change
from openings.measure_fields import HoursField
from openings.models import Callback, HourRecord, InstallRecord, StepRecord


class StepSerializer(ModelBody[StepRecord]):
    class Meta:
        model = StepRecord
        fields: ClassVar = ["id", "step", "note", "lot", "recorded_by", "recorded_at"]
        read_only_fields: ClassVar = ["recorded_by", "recorded_at"]


class HourSerializer(ModelBody[HourRecord]):
    person_h = HoursField(7, 5)

    class Meta:
        model = HourRecord
        fields: ClassVar = ["id", "person", "on", "person_h"]


class InstallRecordSerializer(ModelBody[InstallRecord]):
    steps = StepSerializer(many=True, read_only=True)
    hours = HourSerializer(many=True, read_only=True)

    class Meta:
        model = InstallRecord
        fields: ClassVar = [
            "id",
            "opening",
            "crew",
            "started_at",
            "started_by",
            "done_at",
            "done_by",
            "steps",
            "hours",
            "updated_at",
        ]


class StartSerializer(KnownNames):
    opening = serializers.IntegerField()
    other_day = serializers.BooleanField(
        required=False, default=False, help_text="Begin it though it is assigned to another day than today."
    )


class CallbackSerializer(ModelBody[Callback]):
    class Meta:
        model = Callback
        fields = "__all__"

    def validate(self, values: dict[str, Any]) -> dict[str, Any]:
        refuse_change(self, values, "opening")
        return values
