"""JSON ⇄ openings, what was measured of them, and their holds."""

from __future__ import annotations

from typing import Any, ClassVar

from rest_framework import serializers

from jobs.names import KnownNames, ModelBody
from jobs.serializers import refuse_change
from openings.calc.readings import DEVIATION_NAMES
from openings.measure_fields import MeasuredModelSerializer
from openings.models import FieldMeasurement, Hold, Opening
from openings.models.opening import MOST_COPIES, SITE_COLUMNS


class OpeningSerializer(MeasuredModelSerializer[Opening]):
    state = serializers.CharField(read_only=True)
    weight_confirmed = serializers.BooleanField(
        write_only=True,
        required=False,
        help_text="The weight is right, though glass and frame of that size weigh otherwise.",
    )
    detail_name = serializers.CharField(source="detail.name", read_only=True)
    small_lengths = ("lites_in",)

    class Meta:
        model = Opening
        fields: ClassVar = [
            "id", "job", "schedule", "schedule_row", "mark", "schedule_mark", "position", "ro_width_in",
            "ro_height_in", "built_ro_width_in", "built_ro_height_in", "built_from", "unit_width_in",
            "unit_height_in", "operation", "floor", "detail", "detail_name", "weight_lb", "weight_confirmed",
            "weight_confirmed_by", "frame_material", "lites_in", "design_pressure_psf", "access", "storeys_up",
            *SITE_COLUMNS, "remarks", "state", "changed_by_hand", "voided_by", "voided_at", "void_why", "updated_at",
        ]  # fmt: skip
        read_only_fields: ClassVar = [
            "schedule", "schedule_row", "position", "built_ro_width_in", "built_ro_height_in", "built_from",
            "weight_confirmed_by", "changed_by_hand", "voided_by", "voided_at", "void_why",
        ]  # fmt: skip
        extra_kwargs: ClassVar = {"schedule_mark": {"required": False}}

    def validate(self, values: dict[str, Any]) -> dict[str, Any]:
        refuse_change(self, values, "job")
        row = self.instance
        job = values["job"] if row is None else values.get("job") or row.job
        detail = values["detail"] if row is None else values.get("detail") or row.detail
        if detail.job_id != job.pk:
            raise serializers.ValidationError({"detail": f"{detail} is a detail of another job"})
        if row is None:
            values.setdefault("schedule_mark", values["mark"][:40])
        return values


class MeasurementSerializer(MeasuredModelSerializer[FieldMeasurement]):
    """What was measured. A deviation left out, or null, was not measured."""

    not_measured = serializers.ListField(child=serializers.CharField(), read_only=True)
    small_lengths = DEVIATION_NAMES

    class Meta:
        model = FieldMeasurement
        exclude: ClassVar = ["measured_by"]
        read_only_fields: ClassVar = ["is_within_tolerance", "accepted_by", "accepted_at"]


class HoldSerializer(ModelBody[Hold]):
    class Meta:
        model = Hold
        fields = "__all__"
        read_only_fields: ClassVar = ["rule", "placed_by", "released_by", "released_at", "release_note"]
        validators: ClassVar[list[object]] = []

    def validate(self, values: dict[str, Any]) -> dict[str, Any]:
        refuse_change(self, values, "opening", "kind")
        return values


class VoidSerializer(KnownNames):
    why = serializers.CharField(max_length=200, required=False, allow_blank=True, default="")


class CopySerializer(KnownNames):
    count = serializers.IntegerField(min_value=1, max_value=MOST_COPIES, default=1)
    first_mark = serializers.CharField(
        max_length=50,
        required=False,
        allow_blank=True,
        default="",
        help_text="Mark of the first copy, from which the others count on; without it they follow the highest number.",
    )
    floor = serializers.CharField(
        max_length=200, required=False, allow_blank=True, help_text="Where they are; left out, as the pattern."
    )


class ReleaseSerializer(KnownNames):
    note = serializers.CharField(max_length=300, required=False, allow_blank=True, default="")
