"""JSON ⇄ units and the deliveries that bring them."""

from __future__ import annotations

from typing import Any, ClassVar

from rest_framework import serializers

from jobs.calc.horizon import PAST, PLAN
from jobs.dates import Within
from jobs.names import KnownNames, ModelBody
from jobs.serializers import refuse_change
from openings.calc.readiness import Condition, Flaw
from openings.models import Delivery, Unit

MANY = 500
"""So many openings or units may be named at once."""


class UnitSerializer(ModelBody[Unit]):
    """A unit. One that is received says how it is; one that another one replaces is history."""

    due_on = serializers.DateField(
        read_only=True, allow_null=True, help_text="When it is to come: the day of its delivery, or else its own."
    )

    class Meta:
        model = Unit
        fields: ClassVar = [
            "id", "opening", "ordered_on", "order_ref", "expected_on", "delivery", "due_on", "received_at",
            "received_by", "condition", "stands_at", "note", "replaced_at", "updated_at",
        ]  # fmt: skip
        read_only_fields: ClassVar = ["received_at", "received_by", "replaced_at"]
        extra_kwargs: ClassVar[dict[str, dict[str, list[object]]]] = {"opening": {"validators": []}}
        validators: ClassVar[list[object]] = []

    def validate(self, values: dict[str, Any]) -> dict[str, Any]:
        refuse_change(self, values, "opening")
        return values


class NewUnitSerializer(UnitSerializer):
    """A unit as it is ordered; how it is, is said once it is received."""

    class Meta(UnitSerializer.Meta):
        read_only_fields: ClassVar = [*UnitSerializer.Meta.read_only_fields, "condition", "stands_at", "note"]


class OrderSerializer(KnownNames):
    """An order of units, and when or by which delivery they come."""

    ordered_on = serializers.DateField(validators=[Within(PAST)])
    order_ref = serializers.CharField(max_length=60, required=False, allow_blank=True, default="")
    expected_on = serializers.DateField(validators=[Within(PLAN)], required=False, allow_null=True, default=None)
    delivery = serializers.PrimaryKeyRelatedField(
        queryset=Delivery.objects.all(), required=False, allow_null=True, default=None
    )


class OrderManySerializer(OrderSerializer):
    openings = serializers.ListField(
        child=serializers.IntegerField(), min_length=1, max_length=MANY, source="opening_ids"
    )


class FlawSerializer(KnownNames):
    """A unit that is not whole."""

    unit = serializers.IntegerField()
    condition = serializers.ChoiceField(choices=[Condition.DAMAGED.value, Condition.WRONG.value])
    note = serializers.CharField(max_length=300, help_text="What is damaged or wrong.")


class ReceiptSerializer(KnownNames):
    """What has come, and where it stands."""

    stands_at = serializers.CharField(max_length=120, required=False, allow_blank=True, default="")
    flaws = FlawSerializer(many=True, required=False, default=list, help_text="Those that are not whole.")

    def validate_flaws(self, flaws: list[dict[str, Any]]) -> dict[int, Flaw]:
        return {one["unit"]: Flaw(condition=Condition(one["condition"]), note=one["note"]) for one in flaws}


class ReceiveUnitsSerializer(ReceiptSerializer):
    units = serializers.ListField(child=serializers.IntegerField(), min_length=1, max_length=MANY, source="unit_ids")


class ReceiveDeliverySerializer(ReceiptSerializer):
    missing = serializers.ListField(
        child=serializers.IntegerField(), required=False, default=list, help_text="Units that it came without."
    )


class DeliverySerializer(ModelBody[Delivery]):
    class Meta:
        model = Delivery
        fields: ClassVar = [
            "id", "job", "supplier", "reference", "expected_on", "received_at", "received_by", "note", "updated_at",
        ]  # fmt: skip
        read_only_fields: ClassVar = ["received_at", "received_by"]

    def validate(self, values: dict[str, Any]) -> dict[str, Any]:
        refuse_change(self, values, "job")
        return values


class NewDeliverySerializer(DeliverySerializer):
    units = serializers.ListField(
        child=serializers.IntegerField(),
        write_only=True,
        required=False,
        max_length=MANY,
        source="unit_ids",
        help_text="Ordered units that it brings.",
    )

    class Meta(DeliverySerializer.Meta):
        fields: ClassVar = [*DeliverySerializer.Meta.fields, "units"]
