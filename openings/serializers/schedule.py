"""JSON ⇄ window schedules, their drafts and their differences."""

from __future__ import annotations

import json
from typing import Any, ClassVar

from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers
from rest_framework.fields import empty

from jobs.measures import FreeField, InchesField, PoundsField
from jobs.names import KnownNames, ModelBody
from openings.models import ScheduleDraft, SenderLayout, WindowSchedule
from openings.schedules import APPLIED, unpacked
from openings.serializers.values import ValuesField


class ScheduleSerializer(ModelBody[WindowSchedule]):
    openings_count = serializers.IntegerField(read_only=True)

    class Meta:
        model = WindowSchedule
        fields: ClassVar = [
            "id", "job", "revision", "filename", "sha256", "columns", "notes", "layout", "counts", "uploaded_by",
            "uploaded_at", "openings_count", "updated_at",
        ]  # fmt: skip


class LayoutSerializer(ModelBody[SenderLayout]):
    class Meta:
        model = SenderLayout
        fields: ClassVar = ["id", "job", "fingerprint", "layout", "settled_by", "settled_at", "updated_at"]


@extend_schema_field(OpenApiTypes.OBJECT)
class MappingField(FreeField):
    """What is settled about tables and columns: an object, or the text of one in a form."""

    def to_internal_value(self, data: Any) -> Any:
        return data

    def to_representation(self, value: Any) -> Any:
        return value


class KindsField(serializers.MultipleChoiceField):
    """Kinds of change; a form that does not name them chooses all, and not none."""

    def get_value(self, dictionary: Any) -> Any:
        return super().get_value(dictionary) if self.field_name in dictionary else empty


class MarksField(serializers.ListField):
    """Texts: a list, or in a form the same field again for each, or one field with a JSON list."""

    child = serializers.CharField(max_length=60)

    def to_internal_value(self, data: Any) -> list[str]:
        if isinstance(data, list) and len(data) == 1 and isinstance(data[0], str) and data[0].startswith("["):
            try:
                data = json.loads(data[0])
            except (ValueError, RecursionError):
                self.fail("not_a_list", input_type="text that is no JSON list")
        return super().to_internal_value(data)


class ChosenSerializer(KnownNames):
    """What of a difference is applied."""

    apply = KindsField(
        choices=[change.value for change in APPLIED],
        default=tuple(change.value for change in APPLIED),  # type: ignore[arg-type]  # in the order of the document
        help_text="Kinds of change that are applied: all where nothing is said.",
    )
    leave = MarksField(
        default=list,
        help_text="Marks of openings that are left as they are, whatever the file says, in a first file left out; "
        "a mark of the schedule means all of its openings.",
    )
    seen = serializers.CharField(
        default="",
        allow_blank=True,
        max_length=64,
        help_text="`fingerprint` of the difference that was looked at; another one is then refused.",
    )


class SettledSerializer(KnownNames):
    """What is settled about a file before it is read."""

    detail = serializers.CharField(
        default="", allow_blank=True, max_length=80, help_text="Detail for rows that name none."
    )
    mapping = MappingField(
        default=None,
        allow_null=True,
        help_text="What columns mean, by letter or heading, and which tables to read; it is remembered for the job's "
        'files with the same headings: {"tables": ["Windows!5"], "columns": {"B": {"meaning": "unit_width_in", '
        '"unit": "mm"}, "C": "not read", "D": {"meaning": "not read", "leave_out": ["Door"]}}, "marks": "ranges"}. '
        '`totals`: "rows as read" takes the rows where a total differs; a weight in doubt is confirmed by `weights`, a '
        "list of what `said` says of it. These two are not remembered.",
    )


class DraftSent(SettledSerializer):
    job = serializers.IntegerField()
    file = serializers.FileField(help_text="A window schedule: .xlsx (COBie too), .csv or .ifc.")


class ScheduleUpload(DraftSent, ChosenSerializer):
    dry_run = serializers.BooleanField(default=False)


class PlannedOpeningSerializer(serializers.Serializer[Any]):
    row = serializers.IntegerField()
    mark = serializers.CharField()
    ro_width_in = InchesField(9, 5)
    ro_height_in = InchesField(9, 5)
    unit_width_in = InchesField(9, 5)
    unit_height_in = InchesField(9, 5)
    operation = serializers.CharField()
    floor = serializers.CharField()
    detail = serializers.CharField()
    remarks = serializers.CharField()


class DifferenceLineSerializer(serializers.Serializer[Any]):
    """What a file changes about one opening; `old` and `new` hold what differs, by column."""

    change = serializers.CharField()
    mark = serializers.CharField()
    schedule_mark = serializers.CharField()
    row = serializers.IntegerField(allow_null=True)
    sheet = serializers.CharField()
    opening = serializers.IntegerField(allow_null=True)
    old = ValuesField()
    new = ValuesField()
    hindrance = serializers.CharField(help_text="Why it cannot be done; empty where it can.")
    follows = serializers.CharField(help_text="What else happens where it is done.")


class DifferenceSerializer(serializers.Serializer[Any]):
    changed = DifferenceLineSerializer(many=True)
    restored = DifferenceLineSerializer(many=True)
    removed = DifferenceLineSerializer(many=True)
    unchanged = serializers.ListField(child=serializers.CharField())
    by_hand = serializers.ListField(
        child=serializers.CharField(), help_text="Marks of openings that somebody added and the file does not have."
    )
    cannot = DifferenceLineSerializer(many=True)


class ColumnProposalSerializer(serializers.Serializer[Any]):
    table = serializers.CharField()
    letter = serializers.CharField()
    heading = serializers.CharField()
    meaning = serializers.CharField(allow_null=True)
    unit = serializers.CharField()
    confidence = serializers.DecimalField(3, 2)
    samples = serializers.ListField(child=serializers.CharField())
    choices = serializers.ListField(child=serializers.CharField())


class TableFoundSerializer(serializers.Serializer[Any]):
    name = serializers.CharField()
    sheet = serializers.CharField()
    title = serializers.CharField()
    first_row = serializers.IntegerField()
    last_row = serializers.IntegerField()
    is_read = serializers.BooleanField()


class QuestionSerializer(serializers.Serializer[Any]):
    field = serializers.CharField(help_text="Where the answer goes in the mapping.")
    heading = serializers.CharField()
    detail = serializers.CharField()
    choices = serializers.ListField(child=serializers.CharField())
    values = serializers.DictField(
        child=serializers.IntegerField(),
        required=False,
        help_text="What stands in the column and in how many rows, where rows may be left out by it.",
    )


class ScheduleFaultSerializer(serializers.Serializer[Any]):
    field = serializers.CharField()
    row = serializers.IntegerField(allow_null=True)
    value = serializers.CharField()
    detail = serializers.CharField()


class WrongLineSerializer(serializers.Serializer[Any]):
    """A row in which something is wrong: heading and what stands there, column by column."""

    row = serializers.IntegerField()
    table = serializers.CharField()
    cells = serializers.ListField(child=serializers.ListField(child=serializers.CharField()))


class WeightDoubtSerializer(serializers.Serializer[Any]):
    """A weight that its unit cannot have: mend it in the file, or confirm it by `said` in `weights` of the mapping."""

    row = serializers.IntegerField()
    sheet = serializers.CharField()
    mark = serializers.CharField()
    said = serializers.CharField()
    reason = serializers.CharField()


class UnderstoodSerializer(serializers.Serializer[Any]):
    """How a file was understood."""

    weights_in_doubt = WeightDoubtSerializer(many=True)
    columns = serializers.DictField(child=serializers.CharField())
    notes = serializers.ListField(child=serializers.CharField())
    tables = TableFoundSerializer(many=True)
    proposal = ColumnProposalSerializer(many=True)
    questions = QuestionSerializer(many=True)
    wrong_lines = WrongLineSerializer(many=True)
    mapping = serializers.DictField(help_text="All that was found and settled, as `mapping` takes it.")


class SchedulePlanSerializer(UnderstoodSerializer):
    """What taking the file would do."""

    sha256 = serializers.CharField()
    fingerprint = serializers.CharField()
    is_revision = serializers.BooleanField()
    can_be_taken = serializers.BooleanField()
    faults = ScheduleFaultSerializer(many=True)
    new_details = serializers.ListField(child=serializers.CharField())
    counts = serializers.DictField(child=serializers.IntegerField())
    openings_count = serializers.IntegerField()
    lists_at_most = serializers.IntegerField(help_text="So many stand in each list below; `counts` count all.")
    openings = PlannedOpeningSerializer(many=True)
    difference = DifferenceSerializer()


class DraftSerializer(ModelBody[ScheduleDraft]):
    class Meta:
        model = ScheduleDraft
        fields: ClassVar = [
            "id", "job", "filename", "sha256", "detail", "mapping", "choice", "state", "doing", "done_pct", "problem",
            "sent_by", "sent_at", "schedule", "updated_at",
        ]  # fmt: skip


class OneDraftSerializer(DraftSerializer):
    """A draft with what reading it said."""

    outcome = serializers.SerializerMethodField()

    class Meta(DraftSerializer.Meta):
        fields: ClassVar = [*DraftSerializer.Meta.fields, "outcome"]

    @extend_schema_field(SchedulePlanSerializer(allow_null=True))
    def get_outcome(self, draft: ScheduleDraft) -> Any:
        return unpacked(draft.outcome)


class RevisionDifferenceSerializer(serializers.Serializer[Any]):
    """What a revision did: marks that it added, lines of everything else, and marks of new ones that it left out."""

    added = serializers.ListField(child=serializers.CharField())
    lines = DifferenceLineSerializer(many=True)
    left = serializers.ListField(child=serializers.CharField())
    by_hand = serializers.ListField(
        child=serializers.CharField(), help_text="Marks of openings that somebody added and the file does not have."
    )


class ScheduleRowSerializer(serializers.Serializer[Any]):
    """A row as it was read."""

    row = serializers.IntegerField()
    sheet = serializers.CharField()
    mark = serializers.CharField()
    openings_count = serializers.IntegerField(source="quantity")
    ro_width_in = InchesField(9, 5, allow_null=True)
    ro_height_in = InchesField(9, 5, allow_null=True)
    unit_width_in = InchesField(9, 5, allow_null=True)
    unit_height_in = InchesField(9, 5, allow_null=True)
    operation = serializers.CharField()
    floor = serializers.CharField()
    detail = serializers.CharField()
    remarks = serializers.CharField()
    weight_lb = PoundsField(7, 2, allow_null=True)
    facts = ValuesField()
