"""JSON ⇄ what openings wait for, and by which rules."""

from __future__ import annotations

from typing import Any, ClassVar

from rest_framework import serializers

from jobs.calc.horizon import PLAN
from jobs.dates import Within
from jobs.names import KnownNames, ModelBody
from jobs.serializers import refuse_change
from openings.models import Hold, ReadyRules, TradeBefore

MANY = 500
"""So many openings or holds may be named at once."""


class ReadyRulesSerializer(ModelBody[ReadyRules]):
    """By which rules a job's openings are ready. What is entered of units and trades counts whatever they say."""

    class Meta:
        model = ReadyRules
        fields: ClassVar = [
            "id", "job", "units", "measured", "lead_paint", "weather", "floor_order", "updated_at",
        ]  # fmt: skip
        extra_kwargs: ClassVar[dict[str, dict[str, list[object]]]] = {"job": {"validators": []}}

    def validate(self, values: dict[str, Any]) -> dict[str, Any]:
        refuse_change(self, values, "job")
        return values


class TradeBeforeSerializer(ModelBody[TradeBefore]):
    class Meta:
        model = TradeBefore
        fields: ClassVar = [
            "id", "job", "kind", "name", "floor", "who", "expected_on", "done_on", "updated_at",
        ]  # fmt: skip
        validators: ClassVar[list[object]] = []

    def validate(self, values: dict[str, Any]) -> dict[str, Any]:
        refuse_change(self, values, "job")
        return values


class ObstacleSerializer(serializers.Serializer[Any]):
    kind = serializers.CharField(help_text="As of a hold, or `floor order`.")
    said = serializers.CharField()
    clear_from = serializers.DateField(
        read_only=True,
        allow_null=True,
        help_text="The first day on which it is in nobody's way; null where nobody knows.",
    )
    expected_on = serializers.DateField(allow_null=True, read_only=True)


class ReadinessSerializer(serializers.Serializer[Any]):
    """When an opening can be planned, and what it waits for."""

    opening = serializers.IntegerField(source="opening.pk")
    mark = serializers.CharField(source="opening.mark")
    floor = serializers.CharField(source="opening.floor")
    plannable_from = serializers.DateField(
        source="readiness.plannable_from",
        read_only=True,
        allow_null=True,
        help_text="The first day on which nothing is expected to be in the way; null if nobody knows.",
    )
    why_not_today = serializers.ListField(child=serializers.CharField(), source="readiness.why_not_today")
    obstacles = ObstacleSerializer(many=True, source="readiness.obstacles")


class JobReadinessSerializer(serializers.Serializer[Any]):
    """A page of a job's openings that are not finished."""

    count = serializers.IntegerField()
    pages = serializers.IntegerField()
    openings = ReadinessSerializer(many=True)


class PageAsked(serializers.Serializer[Any]):
    page = serializers.IntegerField(required=False, default=1, min_value=1)


class HoldManySerializer(KnownNames):
    """One hold for every opening that is named: one by one, or those of a floor or a delivery that are not finished."""

    openings = serializers.ListField(child=serializers.IntegerField(), required=False, max_length=MANY)
    job = serializers.IntegerField(required=False, help_text="With `floor`.")
    floor = serializers.CharField(required=False, allow_blank=True, max_length=200)
    delivery = serializers.IntegerField(required=False)
    kind = serializers.ChoiceField(choices=Hold.Kind.choices)
    reason = serializers.CharField(max_length=300)
    expected_on = serializers.DateField(validators=[Within(PLAN)], required=False, allow_null=True, default=None)

    def validate(self, values: dict[str, Any]) -> dict[str, Any]:
        named = [bool({"job", "floor"} & values.keys()), "delivery" in values, "openings" in values]
        if sum(named) != 1 or ("job" in values) != ("floor" in values):
            raise serializers.ValidationError({"openings": "name openings, or a job and a floor, or a delivery"})
        return values


class ReleaseManySerializer(KnownNames):
    holds = serializers.ListField(child=serializers.IntegerField(), min_length=1, max_length=MANY, source="hold_ids")
    note = serializers.CharField(max_length=300, required=False, allow_blank=True, default="")
