"""Cautions as JSON."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, ClassVar

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from jobs.calc.horizon import PLAN
from jobs.dates import Within
from jobs.models import Crew
from materials.calc.caution import Caution
from openings.models import Assignment
from openings.serializers import AssignmentSerializer


class CautionSerializer(serializers.Serializer[Caution]):
    """What is wrong, where, and what to do about it."""

    kind = serializers.CharField()
    jobs = serializers.ListField(child=serializers.CharField(), help_text="By code.")
    openings = serializers.SerializerMethodField(help_text="Job and mark; empty where all of the jobs are concerned.")
    wrong = serializers.CharField()
    remedy = serializers.CharField()

    def get_openings(self, caution: Caution) -> list[str]:
        return [str(opening) for opening in caution.openings]


class GivenSerializer(AssignmentSerializer):
    """A new assignment, and what to be careful about with its opening on that day."""

    cautions = serializers.SerializerMethodField()

    class Meta(AssignmentSerializer.Meta):
        fields: ClassVar = [*AssignmentSerializer.Meta.fields, "cautions"]

    @extend_schema_field(CautionSerializer(many=True))
    def get_cautions(self, assignment: Assignment) -> list[dict[str, object]]:
        found = self.context["cautions"][assignment.pk]
        return list(CautionSerializer(found, many=True).data)


class CautionsAsked(serializers.Serializer[Any]):
    """Of which day, and of which crew where not of all."""

    on = serializers.DateField(
        required=False, validators=[Within(PLAN)], help_text="The next day with a sheet where it is not given."
    )
    crew = serializers.PrimaryKeyRelatedField(queryset=Crew.objects.all(), required=False)


class DayCautionsSerializer(serializers.Serializer[Mapping[str, Any]]):
    """A crew's day and its cautions as they stand now."""

    crew_day = serializers.IntegerField()
    crew = serializers.IntegerField()
    crew_name = serializers.CharField()
    on = serializers.DateField(read_only=True)
    cautions = CautionSerializer(many=True)
