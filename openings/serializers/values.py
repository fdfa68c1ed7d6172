"""Values of openings as schedules hold them, as JSON."""

from __future__ import annotations

from typing import ClassVar

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from openings.measure_fields import MeasuredModelSerializer
from openings.models import Opening
from openings.models.opening import SITE_COLUMNS

SIDES = ("ro_width_in", "ro_height_in", "unit_width_in", "unit_height_in")


class OpeningValuesSerializer(MeasuredModelSerializer[Opening]):
    """What a file says of an opening, by column; only what it says, or what differs."""

    detail = serializers.CharField(required=False)
    small_lengths = ("lites_in",)

    class Meta:
        model = Opening
        fields: ClassVar = [
            "mark", *SIDES, "operation", "floor", "detail", "remarks", "weight_lb", "frame_material", "lites_in",
            "design_pressure_psf", *SITE_COLUMNS,
        ]  # fmt: skip
        extra_kwargs: ClassVar = {name: {"required": False, "allow_null": True} for name in fields if name != "detail"}
        validators: ClassVar[list[object]] = []


@extend_schema_field(OpeningValuesSerializer)
class ValuesField(serializers.DictField):
    """Values of an opening by column, as they are kept."""
