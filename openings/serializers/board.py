"""What boards and pages ask for."""

from __future__ import annotations

from typing import Any

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from jobs.calc.horizon import PLAN
from jobs.dates import Within
from openings.calc.mending import Way
from openings.calc.units import METRIC, US
from openings.models import State
from openings.queries import board_columns
from openings.serializers.crew_day import StrandedSerializer


class BoardSpan(serializers.Serializer[Any]):
    """The days a board shows."""

    first = serializers.DateField(required=False, validators=[Within(PLAN)], help_text="Today where it is not given.")
    days = serializers.IntegerField(required=False, default=5, min_value=1, max_value=31)


@extend_schema_field(
    {
        "type": "array",
        "items": {"anyOf": [{"type": "number", "nullable": True}, {"type": "string"}]},
        "minItems": len(board_columns(US)),
        "maxItems": len(board_columns(US)),
    }
)
class RowField(serializers.Field[Any, Any, Any, Any]):
    """One opening of the board: values under `columns`."""


class CrewShownSerializer(serializers.Serializer[Any]):
    id = serializers.IntegerField()
    name = serializers.CharField()
    truck = serializers.CharField()
    people_count = serializers.IntegerField()
    weekdays = serializers.CharField()
    shift_h = serializers.DecimalField(4, 2)


class JobShownSerializer(serializers.Serializer[Any]):
    id = serializers.IntegerField()
    code = serializers.CharField()
    name = serializers.CharField()


class CrewDayShownSerializer(serializers.Serializer[Any]):
    id = serializers.IntegerField()
    crew = serializers.IntegerField()
    on = serializers.DateField(read_only=True)
    capacity_person_h = serializers.DecimalField(6, 2)
    assigned_person_h = serializers.DecimalField(12, 2)
    off_reason = serializers.CharField()


class CrewBoardSerializer(serializers.Serializer[Any]):
    """Who is where; the database writes it as one text."""

    days = serializers.ListField(child=serializers.DateField())
    crews = CrewShownSerializer(many=True)
    jobs = JobShownSerializer(many=True)
    crew_days = CrewDayShownSerializer(many=True)
    columns = serializers.ListField(
        child=serializers.ChoiceField(choices=list(dict.fromkeys([*board_columns(US), *board_columns(METRIC)]))),
        help_text="What stands in each row of `openings`, in order, in the units asked for.",
    )
    openings = serializers.ListField(child=RowField(), help_text="Rows of values under `columns`.")
    stranded = StrandedSerializer(many=True)


_SIDE = r"\d{1,5}(\.\d{1,5})?"


class BoardAsked(BoardSpan):
    """What the page of the crew board shows: days, folded where nobody works, and which of the waiting openings."""

    days = serializers.IntegerField(required=False, default=7, min_value=1, max_value=31)
    job = serializers.IntegerField(required=False, allow_null=True, default=None)
    floor = serializers.CharField(required=False, allow_blank=True, default="", max_length=200)
    detail = serializers.CharField(required=False, allow_blank=True, default="", max_length=120)
    size = serializers.RegexField(
        r"^\d{1,5}(\.\d{1,5})?x\d{1,5}(\.\d{1,5})?$", required=False, allow_blank=True, default=""
    )
    unfold = serializers.BooleanField(required=False, default=False)
    page = serializers.IntegerField(required=False, default=1, min_value=1)


class CellsAsked(serializers.Serializer[Any]):
    """Which cells of the crew board are asked for anew."""

    of = serializers.ListField(child=serializers.RegexField(r"^\d{1,9}-\d{8}$"), min_length=1, max_length=400)
    days = serializers.IntegerField(required=False, default=7, min_value=1, max_value=31)


class RepairsAsked(serializers.Serializer[Any]):
    job = serializers.IntegerField(required=False, default=None, help_text="Of one job only.")


class BreakSerializer(serializers.Serializer[Any]):
    """An assigned opening that its crew day cannot do."""

    assignment = serializers.IntegerField(source="assignment.pk")
    opening = serializers.IntegerField(source="assignment.opening_id")
    mark = serializers.CharField(source="assignment.opening.mark")
    job = serializers.CharField(source="assignment.opening.job.code")
    why = serializers.CharField()
    left_person_h = serializers.DecimalField(max_digits=8, decimal_places=2)


class MoveOfferedSerializer(serializers.Serializer[Any]):
    crew = serializers.IntegerField(source="crew_id")
    on = serializers.DateField(read_only=True)
    assignments = serializers.ListField(child=serializers.IntegerField(), source="assignment_ids")


class OfferSerializer(serializers.Serializer[Any]):
    """One way to mend a crew day: moves, or what is unassigned."""

    way = serializers.ChoiceField(choices=[way.value for way in Way])
    moves = MoveOfferedSerializer(many=True, help_text="Sent to `assignments/move-all/`, they are one act.")
    unassigned = serializers.ListField(child=serializers.IntegerField())
    left = serializers.ListField(child=serializers.IntegerField(), help_text="What it does not mend.")


class RepairSerializer(serializers.Serializer[Any]):
    """A crew day that cannot be done as planned, and the ways to mend it, the best one first."""

    crew_day = serializers.IntegerField(source="crew_day.pk")
    crew = serializers.IntegerField(source="crew_day.crew_id")
    crew_name = serializers.CharField(source="crew_day.crew.name")
    on = serializers.DateField(source="crew_day.on", read_only=True)
    breaks = BreakSerializer(many=True)
    offers = OfferSerializer(many=True)


class DayVersionSerializer(serializers.Serializer[Any]):
    crew = serializers.IntegerField()
    on = serializers.DateField(read_only=True)
    version = serializers.CharField(help_text="Another one as soon as the day says anything else on the board.")


class JobAsked(serializers.Serializer[Any]):
    """Which openings the page of a job shows."""

    state = serializers.ChoiceField(choices=State.ALL, required=False, allow_blank=True, default="")
    page = serializers.IntegerField(required=False, default=1, min_value=1)
