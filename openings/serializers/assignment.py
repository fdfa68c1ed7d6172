"""JSON ⇄ who goes where."""

from __future__ import annotations

from typing import Any, ClassVar

from rest_framework import serializers

from jobs.calc.horizon import COMING, PLAN
from jobs.dates import Within
from jobs.names import KnownNames, ModelBody
from openings.calc.mending import CrewMove
from openings.models import Assignment
from openings.queries import SeenDay


class AssignmentSerializer(ModelBody[Assignment]):
    crew = serializers.IntegerField(source="crew_day.crew_id", read_only=True)
    on = serializers.DateField(source="crew_day.on", read_only=True)
    given_by_act = serializers.IntegerField(source="given_in_id", allow_null=True, read_only=True)
    taken_by_act = serializers.IntegerField(source="taken_in_id", allow_null=True, read_only=True)

    class Meta:
        model = Assignment
        fields: ClassVar = [
            "id",
            "opening",
            "crew_day",
            "crew",
            "on",
            "person_h",
            "assigned_at",
            "withdrawn_at",
            "short_crew_reason",
            "short_crew_by",
            "given_by_act",
            "taken_by_act",
            "updated_at",
        ]


class SeenDaySerializer(KnownNames):
    """A crew's day with the version that somebody decided by, as `boards/crews/versions/` gives it."""

    crew = serializers.IntegerField(source="crew_id")
    on = serializers.DateField(validators=[Within(PLAN)])
    version = serializers.CharField(max_length=16)

    def to_internal_value(self, data: Any) -> Any:
        return SeenDay(**super().to_internal_value(data))


class Decided(KnownNames):
    """What somebody knew who gives openings to crews."""

    short_crew_reason = serializers.CharField(
        required=False,
        allow_blank=True,
        default="",
        max_length=300,
        help_text="Why a unit that takes more people than the crew has goes there all the same.",
    )
    seen = SeenDaySerializer(
        many=True,
        required=False,
        help_text="The crew days that this was decided by; where one has changed since, nothing is done (412).",
    )


class GivenTo(Decided):
    """The crew and the day that openings go to."""

    crew = serializers.IntegerField(source="crew_id")
    on = serializers.DateField(validators=[Within(COMING)])


class AssignSerializer(GivenTo):
    opening = serializers.IntegerField()


class AssignManySerializer(GivenTo):
    openings = serializers.ListField(
        child=serializers.IntegerField(), min_length=1, max_length=500, source="opening_ids"
    )


class MoveSerializer(GivenTo):
    """Single assignments, whole crew days, or both."""

    assignments = serializers.ListField(
        child=serializers.IntegerField(), min_length=1, max_length=500, source="assignment_ids", required=False
    )
    whole_days = serializers.ListField(
        child=serializers.IntegerField(),
        min_length=1,
        max_length=62,
        required=False,
        help_text="Crew days of which everything goes that is not complete.",
    )

    def validate(self, values: dict[str, Any]) -> dict[str, Any]:
        values.setdefault("assignment_ids", [])
        if not values["assignment_ids"] and not values.get("whole_days"):
            raise serializers.ValidationError({"assignments": "name at least one assignment, or a whole day"})
        return values


class CrewMoveSerializer(KnownNames):
    """Assignments that go to one crew day together, as `boards/repairs/` offers them."""

    crew = serializers.IntegerField(source="crew_id")
    on = serializers.DateField(validators=[Within(COMING)])
    assignments = serializers.ListField(
        child=serializers.IntegerField(), min_length=1, max_length=500, source="assignment_ids"
    )

    def to_internal_value(self, data: Any) -> Any:
        values = super().to_internal_value(data)
        return CrewMove(**values | {"assignment_ids": tuple(values["assignment_ids"])})


class MoveAllSerializer(Decided):
    """Moves to several crew days, done together."""

    moves = CrewMoveSerializer(  # type: ignore[call-arg]  # the stub knows no longest list
        many=True, allow_empty=False, max_length=62
    )


class UndoSerializer(KnownNames):
    board_act = serializers.IntegerField(help_text="What was done together, `given_by_act` or `taken_by_act`.")


class UndoneSerializer(serializers.Serializer[Any]):
    board_act = serializers.IntegerField(help_text="The undo, which is undone like anything else.")
