"""JSON ⇄ installation details."""

from __future__ import annotations

from rest_framework import serializers

from jobs.serializers import refuse_change
from openings.calc.starting_details import STARTING_DETAILS
from openings.edge import MeasuredModelSerializer
from openings.models import InstallationDetail


class DetailSerializer(MeasuredModelSerializer):
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
