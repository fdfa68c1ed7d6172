"""JSON ⇄ openings, their schedules and their records."""

from __future__ import annotations

from datetime import date
from typing import ClassVar

from rest_framework import serializers

from jobs.serializers import refuse_change
from openings.calc.starting_details import STARTING_DETAILS
from openings.models import (
    Assignment,
    Callback,
    FieldMeasurement,
    Hold,
    HourRecord,
    InstallationDetail,
    InstallRecord,
    Opening,
    StepRecord,
    WindowSchedule,
)
from openings.queries import State


class DetailSerializer(serializers.ModelSerializer):
    class Meta:
        model = InstallationDetail
        fields = "__all__"

    def validate(self, values: dict) -> dict:
        refuse_change(self, values, "job")
        return values


class NewDetailSerializer(DetailSerializer):
    """A detail to add; what is not given comes from the starting point."""

    starting_point = serializers.ChoiceField(choices=list(STARTING_DETAILS), required=False, write_only=True)

    def get_fields(self) -> dict[str, serializers.Field]:
        fields = super().get_fields()
        for field in ("mounting", "barrier_before_window"):
            fields[field].required = False
        return fields

    def validate(self, values: dict) -> dict:
        missing = {"mounting", "barrier_before_window"} - set(values)
        if missing and "starting_point" not in values:
            required = "give it, or a starting_point to take it from"
            raise serializers.ValidationError(dict.fromkeys(sorted(missing), required))
        return values


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


class OpeningSerializer(serializers.ModelSerializer):
    state = serializers.CharField(read_only=True)
    detail_name = serializers.CharField(source="detail.name", read_only=True)

    class Meta:
        model = Opening
        fields: ClassVar = [
            "id", "job", "schedule", "schedule_row", "mark", "schedule_mark", "position", "ro_width_in",
            "ro_height_in", "unit_width_in", "unit_height_in", "operation", "floor", "detail", "detail_name",
            "weight_lb", "remarks", "state",
        ]  # fmt: skip
        read_only_fields: ClassVar = ["schedule", "schedule_row", "position"]
        extra_kwargs: ClassVar = {"schedule_mark": {"required": False}}

    def validate(self, values: dict) -> dict:
        refuse_change(self, values, "job")
        job = values.get("job") or self.instance.job
        detail = values.get("detail") or self.instance.detail
        if detail.job_id != job.pk:
            raise serializers.ValidationError({"detail": f"{detail} is a detail of another job"})
        if self.instance is None:
            values.setdefault("schedule_mark", values["mark"][:40])
        return values


class MeasurementSerializer(serializers.ModelSerializer):
    class Meta:
        model = FieldMeasurement
        exclude: ClassVar = ["measured_by"]
        read_only_fields: ClassVar = ["is_within_tolerance"]


class HoldSerializer(serializers.ModelSerializer):
    class Meta:
        model = Hold
        fields = "__all__"
        read_only_fields: ClassVar = ["placed_by", "released_by", "released_at", "release_note"]
        validators: ClassVar[list] = []


class ReleaseSerializer(serializers.Serializer):
    note = serializers.CharField(max_length=300, required=False, allow_blank=True, default="")


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
    on = serializers.DateField()


class AssignManySerializer(serializers.Serializer):
    openings = serializers.ListField(child=serializers.IntegerField(), min_length=1, max_length=500)
    crew = serializers.IntegerField()
    on = serializers.DateField()


class StepSerializer(serializers.ModelSerializer):
    class Meta:
        model = StepRecord
        fields: ClassVar = ["id", "step", "note", "lot", "recorded_by", "recorded_at"]
        read_only_fields: ClassVar = ["recorded_by", "recorded_at"]


class HourSerializer(serializers.ModelSerializer):
    class Meta:
        model = HourRecord
        fields: ClassVar = ["id", "person", "on", "person_h"]


class InstallRecordSerializer(serializers.ModelSerializer):
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
        ]


class StartSerializer(serializers.Serializer):
    opening = serializers.IntegerField()


class CallbackSerializer(serializers.ModelSerializer):
    class Meta:
        model = Callback
        fields = "__all__"


class LaborLineSerializer(serializers.Serializer):
    task = serializers.CharField()
    quantity = serializers.DecimalField(12, 5)
    unit = serializers.CharField()
    rate_person_h = serializers.DecimalField(8, 5)
    person_h = serializers.DecimalField(12, 5)
    reason = serializers.CharField()
    source = serializers.CharField()


class LaborSerializer(serializers.Serializer):
    opening = serializers.IntegerField()
    lines = LaborLineSerializer(many=True)
    total_person_h = serializers.DecimalField(10, 2)


class JobLaborTaskSerializer(serializers.Serializer):
    task = serializers.CharField()
    person_h = serializers.DecimalField(12, 2)


class JobLaborSerializer(serializers.Serializer):
    job = serializers.IntegerField()
    openings_count = serializers.IntegerField()
    tasks = JobLaborTaskSerializer(many=True)
    total_person_h = serializers.DecimalField(12, 2)


class WeightSerializer(serializers.Serializer):
    lb = serializers.DecimalField(10, 2)
    is_estimate = serializers.BooleanField()
    reason = serializers.CharField()
    source = serializers.CharField()


class LiftSerializer(serializers.Serializer):
    opening = serializers.IntegerField()
    weight = WeightSerializer()
    people = serializers.IntegerField()
    needs_aid = serializers.BooleanField()
    reason = serializers.CharField()
    source = serializers.CharField()
    caution = serializers.CharField()


class LayStepSerializer(serializers.Serializer):
    step = serializers.CharField(source="code")
    title = serializers.CharField()
    after = serializers.ListField(child=serializers.CharField())


class LayOrderSerializer(serializers.Serializer):
    opening = serializers.IntegerField()
    method = serializers.CharField()
    steps = LayStepSerializer(many=True)


class BoardSpan(serializers.Serializer):
    """The days a board shows."""

    first = serializers.DateField(required=False, help_text="Today where it is not given.")
    days = serializers.IntegerField(required=False, default=5, min_value=1, max_value=31)

    def validate_first(self, first: date) -> date:
        if not 2000 <= first.year <= 2200:
            raise serializers.ValidationError("give a date in the years 2000 to 2200")
        return first


class BoardAsked(BoardSpan):
    """What the page of the crew board shows: days, and the waiting openings of a job."""

    days = serializers.IntegerField(required=False, default=5, min_value=1, max_value=14)
    job = serializers.IntegerField(required=False, allow_null=True, default=None)
    page = serializers.IntegerField(required=False, default=1, min_value=1)


class JobAsked(serializers.Serializer):
    """Which openings the page of a job shows."""

    state = serializers.ChoiceField(choices=State.ALL, required=False, allow_blank=True, default="")
    page = serializers.IntegerField(required=False, default=1, min_value=1)
