"""Remnants, and what trucks bring back of rolls, as JSON."""

from __future__ import annotations

from typing import Any, ClassVar

from rest_framework import serializers

from jobs.measures import InchesField
from jobs.names import KnownNames
from materials.models import Place, PlannedRoll, Remnant, Settlement
from materials.serializers.product import ShelfSerializer
from openings.measure_fields import LengthField, MeasuredModelSerializer


class RemnantSerializer(MeasuredModelSerializer[Remnant]):
    code = serializers.CharField(read_only=True, help_text="What is written on it.")
    product_code = serializers.CharField(source="product.code", read_only=True)
    place_name = serializers.CharField(source="place.name", read_only=True)
    crew_name = serializers.CharField(
        source="reserved_for.crew.name", read_only=True, default=None, allow_null=True, help_text="Who counts on it."
    )
    on = serializers.DateField(
        source="reserved_for.on", read_only=True, default=None, allow_null=True, help_text="The day it is kept for."
    )
    fate = serializers.ChoiceField(
        Remnant.Fate.choices, read_only=True, allow_blank=True, help_text="Empty while it lies there."
    )

    class Meta:
        model = Remnant
        fields: ClassVar = [
            "id", "code", "product", "product_code", "lot", "length_in", "place", "place_name", "reserved_for",
            "crew_name", "on", "fate", "entered_by", "entered_at", "gone_at",
            "updated_at",
        ]  # fmt: skip
        read_only_fields: ClassVar = ["reserved_for", "entered_by", "gone_at"]


class RollSerializer(MeasuredModelSerializer[PlannedRoll]):
    product = ShelfSerializer()
    remnant_code = serializers.CharField(source="remnant.code", default=None, allow_null=True)
    sheet_number = serializers.CharField(source="sheet.number")
    revision = serializers.IntegerField(source="sheet.revision")
    crew = serializers.IntegerField(source="sheet.crew_day.crew_id")
    crew_name = serializers.CharField(source="sheet.crew_day.crew.name")
    on = serializers.DateField(source="sheet.crew_day.on", read_only=True)

    class Meta:
        model = PlannedRoll
        fields: ClassVar = [
            "id", "product", "number", "remnant", "remnant_code", "length_in", "left_in", "came_back_in",
            "sheet", "sheet_number", "revision", "crew", "crew_name", "on",
        ]  # fmt: skip


class RollToSettleSerializer(RollSerializer):
    offered_in = InchesField(10, 5, help_text="What is planned to come back of it; 0 where that is not worth keeping.")

    class Meta(RollSerializer.Meta):
        fields: ClassVar = [*RollSerializer.Meta.fields, "offered_in"]


class SettleSerializer(KnownNames):
    came_back_in = LengthField(10, 5, min_value=0, help_text="In one piece; 0 where nothing worth keeping came back.")
    place = serializers.PrimaryKeyRelatedField(
        queryset=Place.objects.all(), required=False, help_text="Where it lies now: the first warehouse if not given."
    )


class SettlementSerializer(MeasuredModelSerializer[Settlement]):
    entered_by_name = serializers.CharField(source="entered_by", default=None, allow_null=True)

    class Meta:
        model = Settlement
        fields: ClassVar = ["came_back_in", "entered_by", "entered_by_name", "entered_at"]


class SettledSerializer(serializers.Serializer[Any]):
    roll = RollSerializer()
    remnant = RemnantSerializer(allow_null=True, help_text="What is on hand of it now, if anything is.")
    follows = serializers.ListField(child=serializers.CharField(), help_text="What follows, in words.")
    entries = SettlementSerializer(
        many=True, source="roll.settlements", help_text="What was entered of it, the newest first."
    )
