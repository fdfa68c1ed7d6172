"""JSON ⇄ installation details."""

from __future__ import annotations

from typing import Any

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from jobs.serializers import refuse_change
from openings.calc.ranges import detail_ranges
from openings.calc.starting_details import STARTING_DETAILS
from openings.calc.units import US
from openings.measure_fields import MeasuredModelSerializer, units_of
from openings.models import InstallationDetail
from openings.models.detail import SMALL_LENGTHS
from openings.serializers.computed import AdviceSerializer


class DetailSerializer(MeasuredModelSerializer[InstallationDetail]):
    small_lengths = SMALL_LENGTHS
    advice = serializers.SerializerMethodField(help_text="Figures outside their usual range; no refusal.")

    class Meta:
        model = InstallationDetail
        fields = "__all__"

    @extend_schema_field(AdviceSerializer(many=True))
    def get_advice(self, detail: InstallationDetail) -> Any:
        request = self.context.get("request")
        found = detail_ranges(detail.as_facts(), units=units_of(request) if request else US)
        return [AdviceSerializer(one).data for one in found]

    def validate(self, values: dict[str, Any]) -> dict[str, Any]:
        refuse_change(self, values, "job")
        return values


class NewDetailSerializer(DetailSerializer):
    """A detail to add; what is not given comes from the starting point, or from the detail that is copied."""

    starting_point = serializers.ChoiceField(choices=list(STARTING_DETAILS), required=False, write_only=True)
    copy_of = serializers.PrimaryKeyRelatedField(
        queryset=InstallationDetail.objects.all(),
        required=False,
        write_only=True,
        help_text="A detail of any job. What somebody accepted of it is not copied.",
    )

    def get_fields(self) -> dict[str, serializers.Field[Any, Any, Any, Any]]:
        fields = super().get_fields()
        for field in ("mounting", "barrier_before_window"):
            fields[field].required = False
        return fields

    def validate(self, values: dict[str, Any]) -> dict[str, Any]:
        missing = {"mounting", "barrier_before_window"} - set(values)
        if missing and values.keys().isdisjoint({"starting_point", "copy_of"}):
            required = "give it, or name a starting point or a detail to copy"
            raise serializers.ValidationError(dict.fromkeys(sorted(missing), required))
        return values
