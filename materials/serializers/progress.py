"""Progress as JSON."""

from __future__ import annotations

from rest_framework import serializers

from materials.queries.progress import Board, MaterialProgress
from materials.serializers.product import ShelfSerializer
from openings.calc.progress import Ending


class MaterialProgressSerializer(serializers.Serializer[MaterialProgress]):
    product = ShelfSerializer()
    planned_packages = serializers.DecimalField(12, 2)
    planned_done_packages = serializers.DecimalField(12, 2)
    loaded_packages = serializers.DecimalField(12, 2)


class EndingSerializer(serializers.Serializer[Ending]):
    on = serializers.DateField(allow_null=True, read_only=True)
    reason = serializers.CharField()


class ProgressSerializer(serializers.Serializer[Board]):
    job = serializers.IntegerField(source="progress.job.pk")
    code = serializers.CharField(source="progress.job.code")
    name = serializers.CharField(source="progress.job.name")
    openings_count = serializers.IntegerField(source="progress.openings_count")
    done_count = serializers.IntegerField(source="progress.done_count")
    done_pct = serializers.IntegerField(source="progress.done_pct")
    states = serializers.DictField(source="progress.states", child=serializers.IntegerField())
    planned_person_h = serializers.DecimalField(12, 2, source="progress.planned_person_h")
    planned_person_h_done = serializers.DecimalField(12, 2, source="progress.planned_person_h_done")
    recorded_person_h = serializers.DecimalField(12, 5, source="progress.recorded_person_h")
    recorded_person_h_done = serializers.DecimalField(12, 5, source="progress.recorded_person_h_done")
    done_by_day = serializers.DictField(source="progress.done_by_day_text", child=serializers.IntegerField())
    ending = EndingSerializer(source="progress.ending")
    materials = MaterialProgressSerializer(many=True)
