"""JSON ⇄ window schedules."""

from __future__ import annotations

from typing import ClassVar

from rest_framework import serializers

from openings.models import WindowSchedule


class ScheduleSerializer(serializers.ModelSerializer):
    openings_count = serializers.IntegerField(read_only=True)

    class Meta:
        model = WindowSchedule
        fields: ClassVar = [
            "id", "job", "revision", "filename", "sha256", "columns", "notes", "uploaded_by", "uploaded_at",
            "openings_count",
        ]  # fmt: skip


class ScheduleUpload(serializers.Serializer):
    job = serializers.IntegerField()
    file = serializers.FileField(help_text="A window schedule: .xlsx or .csv.")
    detail = serializers.CharField(
        required=False, allow_blank=True, default="", help_text="Detail for rows that name none."
    )
    dry_run = serializers.BooleanField(required=False, default=False)


class PlannedOpeningSerializer(serializers.Serializer):
    row = serializers.IntegerField(source="row.row")
    mark = serializers.CharField()
    ro_width_in = serializers.DecimalField(9, 5, source="facts.ro_width_in")
    ro_height_in = serializers.DecimalField(9, 5, source="facts.ro_height_in")
    unit_width_in = serializers.DecimalField(9, 5, source="facts.unit_width_in")
    unit_height_in = serializers.DecimalField(9, 5, source="facts.unit_height_in")
    operation = serializers.CharField(source="row.operation")
    floor = serializers.CharField(source="row.floor")
    detail = serializers.CharField()
    remarks = serializers.CharField(source="row.remarks")


class SchedulePlanSerializer(serializers.Serializer):
    """What taking the file would do."""

    openings = PlannedOpeningSerializer(many=True)
    openings_count = serializers.SerializerMethodField()
    new_details = serializers.ListField(child=serializers.CharField())
    columns = serializers.DictField(child=serializers.CharField())
    notes = serializers.ListField(child=serializers.CharField())

    def get_openings_count(self, plan) -> int:
        return len(plan.openings)
