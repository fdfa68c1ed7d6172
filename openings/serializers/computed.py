"""What is computed of an opening, as JSON."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, TypeVar

from rest_framework import serializers

from jobs.measures import AmountField, InchesField, PoundsField, RateField, UnitField
from jobs.names import KnownNames
from openings.calc.advice import Advice
from openings.calc.labor import LaborLine
from openings.calc.lay_order import Step
from openings.calc.lifting_equation import Assessment, End, Multiplier
from openings.calc.order_size import OrderSize
from openings.calc.production import CrewTime
from openings.calc.tolerance import Answer, Check
from openings.calc.unit_lift import UnitLift
from openings.calc.ways import Standing, Way
from openings.calc.weight import UnitWeight
from openings.measure_fields import ReasonField

Said = TypeVar("Said")


class Sourced(serializers.Serializer[Said]):  # without a docstring, which would describe every answer built on it
    if TYPE_CHECKING:
        source: serializers.CharField  # type: ignore[assignment]  # DRF takes it off the class before it can clash


class LaborLineSerializer(Sourced[LaborLine]):
    task = serializers.CharField()
    quantity = AmountField(12, 5)
    unit = UnitField()
    rate_person_h = RateField(8, 5)
    factor = serializers.DecimalField(10, 5)
    person_h = serializers.DecimalField(12, 5)
    reason = ReasonField()
    source = serializers.CharField()


class CrewTimeSerializer(Sourced[CrewTime]):
    crew_h = serializers.DecimalField(12, 2)
    days_exact = serializers.DecimalField(12, 3)
    days = serializers.IntegerField()
    reason = serializers.CharField()
    source = serializers.CharField()


class LaborSerializer(serializers.Serializer[dict[str, Any]]):
    opening = serializers.IntegerField(allow_null=True)
    lines = LaborLineSerializer(many=True)
    total_person_h = serializers.DecimalField(10, 2)
    crew = CrewTimeSerializer(allow_null=True)
    caution = serializers.CharField()


class JobLaborTaskSerializer(serializers.Serializer[dict[str, Any]]):
    task = serializers.CharField()
    person_h = serializers.DecimalField(12, 2)


class JobLaborSerializer(serializers.Serializer[dict[str, Any]]):
    job = serializers.IntegerField()
    openings_count = serializers.IntegerField()
    tasks = JobLaborTaskSerializer(many=True)
    total_person_h = serializers.DecimalField(12, 2)


class WeightSerializer(Sourced[UnitWeight]):
    lb = PoundsField(10, 2)
    is_estimate = serializers.BooleanField()
    reason = serializers.CharField()
    source = serializers.CharField()


class MultiplierSerializer(serializers.Serializer[Multiplier]):
    symbol = serializers.CharField()
    value = serializers.DecimalField(12, 5)
    reason = serializers.CharField()


class EndSerializer(serializers.Serializer[End]):
    place = serializers.CharField()
    multipliers = MultiplierSerializer(many=True)
    rwl_lb = PoundsField(12, 5, allow_null=True)
    li = serializers.DecimalField(12, 5, allow_null=True)
    limits = serializers.ListField(child=serializers.CharField())


class AssessmentSerializer(Sourced[Assessment]):
    """A lift by the equation; where it does not apply, `limits` says why and there is no number."""

    load_lb = PoundsField(12, 5)
    origin = EndSerializer()
    destination = EndSerializer(allow_null=True)
    governs = serializers.CharField(source="governing.place")
    rwl_lb = PoundsField(12, 5, allow_null=True)
    li = serializers.DecimalField(12, 5, allow_null=True)
    limits = serializers.ListField(child=serializers.CharField())
    people = serializers.IntegerField(help_text="The least, where somebody decides.")
    needs_aid = serializers.BooleanField()
    needs_decision = serializers.BooleanField(help_text="The equation ends: an aid, or a named person's decision.")
    decision = serializers.CharField(help_text="What is to be decided and why; empty where nothing is.")
    reason = serializers.CharField()
    source = serializers.CharField()
    caution = serializers.CharField()


class LiftSerializer(Sourced[UnitLift]):
    """The one verdict on a lift; `equation` is what it rests on where the height of the sill is known."""

    opening = serializers.SerializerMethodField()
    weight = WeightSerializer()
    weight_doubt = serializers.SerializerMethodField(
        help_text="What speaks against the weight that was given; mostly empty."
    )
    people = serializers.IntegerField(help_text="The least, where somebody decides.")
    needs_aid = serializers.BooleanField()
    needs_decision = serializers.BooleanField(help_text="The equation ends: an aid, or a named person's decision.")
    decision = serializers.CharField(help_text="What is to be decided and why; empty where nothing is.")
    reason = serializers.CharField()
    source = serializers.CharField()
    caution = serializers.CharField()
    equation = AssessmentSerializer(allow_null=True, help_text="Null where the sill height is not known.")

    def get_opening(self, _lift: UnitLift) -> int:
        opening: int = self.context["opening"]
        return opening

    def get_weight_doubt(self, _lift: UnitLift) -> str:
        doubt: str = self.context["weight_doubt"]
        return doubt


class AdviceSerializer(Sourced[Advice]):
    rule = serializers.CharField()
    answer = serializers.CharField()
    reason = serializers.CharField()
    source = serializers.CharField()


class OrderSizeSerializer(Sourced[OrderSize]):
    width_in = InchesField(9, 5)
    height_in = InchesField(9, 5)
    reason = serializers.CharField()
    source = serializers.CharField()


class CheckSerializer(Sourced[Check]):
    name = serializers.CharField()
    reading_in = InchesField(9, 5, allow_null=True)
    limit_in = InchesField(9, 5, allow_null=True, help_text="Null where no limit is published.")
    answer = serializers.ChoiceField([answer.value for answer in Answer])
    passed = serializers.BooleanField(allow_null=True, help_text="Null where it was not measured.")
    reason = serializers.CharField()
    source = serializers.CharField()


class ChecksAsked(serializers.Serializer[Any]):
    has_head_expander = serializers.BooleanField(required=False, default=False)


class ChecksSerializer(serializers.Serializer[dict[str, Any]]):
    """One measurement held against its limits, and the insert that would go in."""

    checks = CheckSerializer(many=True)
    order_size = OrderSizeSerializer()


class LaborRateSerializer(KnownNames):
    name = serializers.CharField(read_only=True)
    task = serializers.CharField(read_only=True)
    unit = serializers.CharField(read_only=True)
    person_h = serializers.DecimalField(8, 5)
    source = serializers.CharField(max_length=200)  # type: ignore[assignment]  # as in `Sourced`


class LayStepSerializer(Sourced[Step]):
    step = serializers.CharField(source="code")
    title = serializers.CharField()
    after = serializers.ListField(child=serializers.CharField())
    see = serializers.ListField(child=serializers.CharField())
    why = serializers.CharField()
    is_hold_point = serializers.BooleanField()
    source = serializers.CharField()


class LayOrderSerializer(serializers.Serializer[dict[str, Any]]):
    opening = serializers.IntegerField()
    method = serializers.CharField()
    steps = LayStepSerializer(many=True)
    next_trade = serializers.ListField(child=serializers.CharField())


class WaySerializer(Sourced[Way]):
    about = serializers.CharField()
    chosen = serializers.CharField()
    standing = serializers.ChoiceField(choices=[standing.value for standing in Standing])
    why = serializers.CharField()
    source = serializers.CharField()


class WaysSerializer(serializers.Serializer[dict[str, Any]]):
    ways = WaySerializer(many=True)
    advice = AdviceSerializer(many=True)
    next_trade = serializers.ListField(child=serializers.CharField())
