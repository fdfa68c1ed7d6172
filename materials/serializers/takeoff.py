"""The takeoff of a job as JSON."""

from __future__ import annotations

from typing import Any

from rest_framework import serializers

from jobs.measures import AmountField, InchesField, UnitField
from materials.calc.takeoff import AlikeCuts, AlikeRolls, TakeoffLine
from materials.plans.takeoff import Takeoff
from materials.serializers.product import ShelfSerializer
from openings.measure_fields import ReasonField


class AlikeCutsSerializer(serializers.Serializer[AlikeCuts]):
    count = serializers.IntegerField()
    length_in = InchesField(10, 5)
    part = serializers.CharField()


class AlikeRollsSerializer(serializers.Serializer[AlikeRolls]):
    """So many rolls that are cut alike."""

    count = serializers.IntegerField()
    length_in = InchesField(10, 5)
    remnants = serializers.ListField(child=serializers.CharField(), help_text="Their codes; none of new rolls.")
    cuts = AlikeCutsSerializer(many=True)
    left_in = InchesField(10, 5, help_text="Of each.")


class TakeoffLineSerializer(serializers.Serializer[TakeoffLine]):
    product = ShelfSerializer()
    parts = serializers.ListField(child=serializers.CharField())
    unit = UnitField(source="measure")
    whole_quantity = AmountField(14, 5, help_text="What the whole job takes, laid or not.")
    quantity = AmountField(14, 5, help_text="What is still to do, exactly.")
    spare = AmountField(14, 5, help_text="Beside the quantity and not in it.")
    packages = serializers.IntegerField(help_text="What holds both.")
    in_warehouses = serializers.DecimalField(12, 3, source="on_hand.warehouses")
    for_others = serializers.IntegerField(
        source="on_hand.for_others", help_text="What pull sheets of other jobs still want of these."
    )
    on_trucks = serializers.IntegerField(source="on_hand.on_trucks", help_text="Loaded for this job.")
    on_hand = serializers.IntegerField(source="on_hand.for_job", help_text="What this job can have of both.")
    to_order = serializers.IntegerField()
    rolls = AlikeRollsSerializer(many=True)
    reason = ReasonField(source="*")


class TakeoffMissingSerializer(serializers.Serializer[Any]):
    """Parts without a product, and why."""

    parts = serializers.ListField(child=serializers.CharField())
    reason = serializers.CharField(source="note")


class TakeoffSerializer(serializers.Serializer[Takeoff]):
    job = serializers.IntegerField(source="job.pk")
    on = serializers.DateField(read_only=True)
    openings_count = serializers.IntegerField()
    left_count = serializers.IntegerField(help_text="Openings of which something is still to be laid.")
    lines = TakeoffLineSerializer(many=True)
    missing = TakeoffMissingSerializer(many=True)
    notes = serializers.ListField(child=serializers.CharField())
