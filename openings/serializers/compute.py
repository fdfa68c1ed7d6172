"""What is asked without saving: JSON → the values that computations start from."""

from __future__ import annotations

from dataclasses import fields
from typing import Any, ClassVar

from rest_framework import serializers

from jobs.calc.experience import Experience
from jobs.measures import PoundsField
from jobs.names import KnownNames
from openings.calc.facts import ANSWERS, DetailFacts, OpeningFacts
from openings.calc.labor import Conditions
from openings.calc.labor_rates import RATE_NAMES, Access, LaborRates, rates_from
from openings.calc.learning import Repetition
from openings.calc.lifting_equation import Condition, Coupling, Hands, LiftTask, Mode
from openings.calc.production import Working
from openings.calc.sides import sides_of
from openings.calc.starting_details import STARTING_DETAILS
from openings.calc.terms import FrameMaterial
from openings.calc.units import US
from openings.calc.weight_doubt import require_weight
from openings.measure_fields import LengthField, MeasuredModelSerializer, units_of
from openings.models import InstallationDetail, Opening
from openings.models.detail import SMALL_LENGTHS, facts_of

GIVEN_WITH_THE_QUESTION = "given with the question"
HOW = "send opening.weight_confirmed as true"

SIDES = ("ro_width_in", "ro_height_in", "unit_width_in", "unit_height_in")

OPENING_FACTS = tuple(field.name for field in fields(OpeningFacts) if field.name != "drawn_ro_in")
"""What is asked of an opening: a size that nobody stored is neither drawn nor built."""


class OpeningAsked(MeasuredModelSerializer[Opening]):
    """One opening; of its rough opening and its unit, one may be left out and follows by the detail's clearances."""

    weight_confirmed = serializers.BooleanField(
        default=False, help_text="The weight is right, though glass and frame of that size weigh otherwise."
    )

    small_lengths = ("lites_in",)

    class Meta:
        model = Opening
        fields: ClassVar = [*OPENING_FACTS, "weight_confirmed"]
        extra_kwargs: ClassVar = {key: {"required": False, "allow_null": True} for key in SIDES}
        validators: ClassVar[list[object]] = []


class DetailAsked(MeasuredModelSerializer[InstallationDetail]):
    """One detail; what is not given comes from the starting point, if one is named, or is the usual."""

    starting_point = serializers.ChoiceField(choices=list(STARTING_DETAILS), required=False)

    small_lengths = SMALL_LENGTHS

    class Meta:
        model = InstallationDetail
        fields: ClassVar = ["starting_point", *ANSWERS]
        extra_kwargs: ClassVar = {"mounting": {"required": False}, "barrier_before_window": {"required": False}}
        validators: ClassVar[list[object]] = []

    def validate(self, values: dict[str, Any]) -> DetailFacts:
        start = STARTING_DETAILS.get(values.pop("starting_point", ""))
        missing = [name for name in ("mounting", "barrier_before_window") if start is None and name not in values]
        if missing:
            required = "give it, or name a starting point"
            raise serializers.ValidationError(dict.fromkeys(missing, required))
        values.setdefault("jamb_flashing_over_flange", start.jamb_flashing_over_flange if start else False)
        return facts_of(values, start=start)


class OpeningWithDetail(KnownNames):
    """What every computation of an opening starts from."""

    opening = OpeningAsked()
    detail = DetailAsked()

    def validate(self, values: dict[str, Any]) -> dict[str, Any]:
        asked = values["opening"]
        sides = sides_of(**{side: asked.pop(side, None) for side in SIDES}, detail=values["detail"])
        material, is_confirmed = asked.pop("frame_material", ""), asked.pop("weight_confirmed")
        asked["lites_in"] = tuple(asked.get("lites_in", ()))
        opening = OpeningFacts(**asked, **sides, frame_material=FrameMaterial(material) if material else None)
        if not is_confirmed:
            request = self.context.get("request")
            require_weight(opening, how=HOW, units=units_of(request) if request else US)
        values["opening"] = opening
        return values


class RepetitionAsked(KnownNames):
    """Which of several units alike it is, and how steeply the crew learns."""

    slope_pct = serializers.DecimalField(5, 2)
    number = serializers.IntegerField()

    def validate(self, values: dict[str, Any]) -> Repetition:
        return Repetition(**values)


class ConditionsAsked(KnownNames):
    """Under which conditions the work is done; ordinary ones where nothing is given."""

    storeys_up = serializers.IntegerField(required=False, min_value=0, max_value=100)
    access = serializers.ChoiceField(choices=[access.value for access in Access], required=False)
    experience = serializers.ChoiceField(choices=[practice.value for practice in Experience], required=False)
    repetition = RepetitionAsked(required=False, allow_null=True)

    def validate_access(self, access: str) -> Access:
        return Access(access)

    def validate_experience(self, experience: str) -> Experience:
        return Experience(experience)

    def validate(self, values: dict[str, Any]) -> Conditions:
        return Conditions(**values)


class WorkingAsked(KnownNames):
    """The crew for which days are counted."""

    people = serializers.IntegerField()
    availability = serializers.DecimalField(4, 3, required=False)
    workday_h = serializers.DecimalField(4, 2, required=False)
    lost_h = serializers.DecimalField(4, 2, required=False)

    def validate(self, values: dict[str, Any]) -> Working:
        return Working(**values)


class LaborAsked(OpeningWithDetail):
    """An opening and its detail; conditions, rates and crew where they are not the usual."""

    conditions = ConditionsAsked(required=False, default=Conditions)
    rates = serializers.DictField(
        child=serializers.DecimalField(8, 5),
        required=False,
        help_text=f"Labor hours for one unit of a task, by name: {', '.join(RATE_NAMES)}; per foot in any units.",
    )
    crew = WorkingAsked(required=False, allow_null=True, default=None)

    def validate_rates(self, rates: dict[str, Any]) -> LaborRates:
        return rates_from({name: (person_h, GIVEN_WITH_THE_QUESTION) for name, person_h in rates.items()})


class HandsAsked(KnownNames):
    """Where the hands are at one end of a lift."""

    horizontal_in = LengthField(9, 5, help_text="From the ankles to the hands.")
    vertical_in = LengthField(9, 5, help_text="Hands above the floor.")
    asymmetry_deg = serializers.DecimalField(6, 2, required=False)
    coupling = serializers.ChoiceField(choices=[coupling.value for coupling in Coupling])

    def validate(self, values: dict[str, Any]) -> Hands:
        return Hands(**values | {"coupling": Coupling(values["coupling"])})


class LiftAsked(KnownNames):
    """A lift for the revised equation of DHHS/NIOSH 94-110."""

    load_lb = PoundsField(9, 4)
    origin = HandsAsked()
    destination = HandsAsked(required=False, allow_null=True, default=None)
    travel_in = LengthField(9, 5, required=False, allow_null=True, default=None)
    lifts_per_min = serializers.DecimalField(7, 4)
    duration_h = serializers.DecimalField(6, 3)
    mode = serializers.ChoiceField(choices=[mode.value for mode in Mode], required=False, default=Mode.FORMULA)
    conditions = serializers.ListField(
        child=serializers.ChoiceField(choices=[condition.value for condition in Condition]),
        required=False,
        default=list,
        help_text="What takes a lift out of the equation's reach.",
    )

    def validate(self, values: dict[str, Any]) -> LiftTask:
        conditions = frozenset(Condition(condition) for condition in values["conditions"])
        return LiftTask(**values | {"mode": Mode(values["mode"]), "conditions": conditions})
