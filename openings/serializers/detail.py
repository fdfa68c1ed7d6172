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
from openings.serializers.computed import AdviceSerializer

SMALL_LENGTHS = (
    "jamb_strip_short_in", "back_dam_in", "drip_cap_past_in", "joint_bead_in", "setting_bead_in", "flange_bead_in",
    "sill_drain_gap_in", "fastener_diameter_in", "fastener_penetration_in", "shim_end_in", "ro_clearance_width_in",
    "ro_clearance_height_in", "pan_front_lap_in", "most_clearance_width_in", "most_clearance_height_in",
)  # fmt: skip
"""Columns of a detail that never hold feet, so that 1/2 is half an inch."""


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
    """A detail to add; what is not given comes from the starting point."""

    starting_point = serializers.ChoiceField(choices=list(STARTING_DETAILS), required=False, write_only=True)

    def get_fields(self) -> dict[str, serializers.Field[Any, Any, Any, Any]]:
        fields = super().get_fields()
        for field in ("mounting", "barrier_before_window"):
            fields[field].required = False
        return fields

    def validate(self, values: dict[str, Any]) -> dict[str, Any]:
        missing = {"mounting", "barrier_before_window"} - set(values)
        if missing and "starting_point" not in values:
            required = "give it, or name a starting point"
            raise serializers.ValidationError(dict.fromkeys(sorted(missing), required))
        return values
