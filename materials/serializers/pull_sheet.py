"""Pull sheets as JSON."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, ClassVar

from rest_framework import serializers

from jobs.calc.horizon import COMING, PLAN
from jobs.dates import Within
from jobs.names import KnownNames, ModelBody
from materials.models import PlannedRoll, PullSheet, PullSheetLine, RollCut
from materials.serializers.product import ShelfSerializer
from openings.measure_fields import MeasuredModelSerializer


class PullSheetLineSerializer(MeasuredModelSerializer[PullSheetLine]):
    amounts = ("quantity", "spare")
    unit = "measure"
    product = ShelfSerializer(allow_null=True)
    is_loaded = serializers.BooleanField(
        help_text="All of it is entered as loaded; without a product never, nor what is only to come back."
    )

    class Meta:
        model = PullSheetLine
        fields: ClassVar = [
            "id", "product", "parts", "lacks", "quantity", "spare", "spare_reason", "measure", "packages",
            "rolls_lower_bound",
            "loaded_packages", "is_loaded",
        ]  # fmt: skip


class ToolSerializer(serializers.Serializer[Mapping[str, str]]):
    """A tool or small supply; without an amount, one is enough or it is taken as needed."""

    name = serializers.CharField()
    amount = serializers.CharField()
    why = serializers.CharField()


class HeldPartSerializer(serializers.Serializer[Mapping[str, str]]):
    """How a strip or membrane is held to the wall."""

    part = serializers.CharField()
    said = serializers.CharField()


class PullSheetSerializer(ModelBody[PullSheet]):
    number = serializers.CharField(read_only=True)
    crew = serializers.IntegerField(source="crew_day.crew_id", read_only=True)
    crew_name = serializers.CharField(source="crew_day.crew.name", read_only=True)
    on = serializers.DateField(source="crew_day.on", read_only=True)
    superseded = serializers.BooleanField(
        source="is_superseded",
        read_only=True,
        help_text="A newer revision is written; nothing is loaded from this one.",
    )
    missing_products = serializers.ListField(
        child=serializers.CharField(), read_only=True, help_text="The parts that no product on the sheet serves."
    )
    is_complete = serializers.BooleanField(
        read_only=True, help_text="Every line has a product and is loaded in full, and nothing is only to come back."
    )
    cautions = serializers.ListField(
        child=serializers.CharField(),
        read_only=True,
        allow_null=True,
        help_text="As the sheet was written; null where they were not kept.",
    )
    load_list = ToolSerializer(
        many=True,
        read_only=True,
        allow_null=True,
        help_text="Tools and small supplies of the day beside what is stock; null where they were not kept.",
    )
    held = HeldPartSerializer(
        many=True,
        read_only=True,
        allow_null=True,
        help_text="How strips are held, by the products chosen; null where it was not kept.",
    )
    lines = PullSheetLineSerializer(many=True, read_only=True)

    class Meta:
        model = PullSheet
        fields: ClassVar = [
            "id", "number", "revision", "state", "superseded", "crew", "crew_name", "on", "requested_at", "written_at",
            "failure", "changes", "cautions", "load_list", "held", "missing_products", "is_complete", "lines",
            "updated_at",
        ]  # fmt: skip


class RequestSheetSerializer(KnownNames):
    crew = serializers.IntegerField(min_value=1)
    on = serializers.DateField(validators=[Within(COMING)])


class LoadSerializer(KnownNames):
    line = serializers.IntegerField(min_value=1)
    packages = serializers.IntegerField(min_value=0, max_value=9999, help_text="What lies on the truck now.")


class RollCutSerializer(MeasuredModelSerializer[RollCut]):
    mark = serializers.CharField(source="opening.mark")

    class Meta:
        model = RollCut
        fields: ClassVar = ["place_in_roll", "opening", "mark", "part", "length_in"]


class PlannedRollSerializer(MeasuredModelSerializer[PlannedRoll]):
    product_code = serializers.CharField(source="product.code")
    remnant_code = serializers.CharField(source="remnant.code", allow_null=True, default=None)
    cuts = RollCutSerializer(many=True)

    class Meta:
        model = PlannedRoll
        fields: ClassVar = [
            "id", "product_code", "number", "remnant", "remnant_code", "length_in", "left_in", "came_back_in", "cuts",
        ]  # fmt: skip


class GoesWithoutSerializer(serializers.Serializer[Mapping[str, Any]]):
    """What the warehouses lack for one truck, those loaded before it served first."""

    line = serializers.IntegerField()
    product = ShelfSerializer()
    packages = serializers.IntegerField()


class StagingSerializer(serializers.Serializer[Mapping[str, Any]]):
    sheet = PullSheetSerializer()
    rolls = PlannedRollSerializer(many=True)
    goes_without = GoesWithoutSerializer(many=True)
    off_reason = serializers.CharField(help_text="Why the crew is off; empty where it works.")
    gone = serializers.ListField(
        child=serializers.CharField(), help_text="Openings on the sheet that are not assigned to the day any more."
    )


class StagingDay(serializers.Serializer[Any]):
    on = serializers.DateField(
        required=False, validators=[Within(PLAN)], help_text="The next day with a sheet where it is not given."
    )
