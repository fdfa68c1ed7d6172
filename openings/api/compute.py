"""What would be so: computed from what is sent, nothing saved."""

from __future__ import annotations

from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response

from jobs.permissions import ANYONE
from jobs.resource import Endpoint
from openings import queries
from openings.calc.labor import HEIGHT_CAUTION, labor_of, total_person_h
from openings.calc.lifting_equation import assess
from openings.calc.production import time_for
from openings.calc.water.layers import Wall
from openings.calc.water.of_detail import verdict_of
from openings.calc.water.verdict import water_path
from openings.measure_fields import units_of
from openings.serializers import (
    AssessmentSerializer,
    LaborAsked,
    LaborSerializer,
    LiftAsked,
    WaterPathAsked,
    WaterPathSerializer,
)


class ComputeLabor(Endpoint):
    writers = ANYONE
    is_stored = takes_a_key = False

    @extend_schema(request=LaborAsked, responses=LaborSerializer)
    def post(self, request: Request) -> Response:
        """Person-hours by task of an opening that is not stored; with a crew, its hours and days too."""
        asked = LaborAsked(data=request.data, context={"request": request})
        asked.is_valid(raise_exception=True)
        values = asked.validated_data
        rates = values.get("rates") or queries.labor_rates()
        lines = labor_of(values["opening"], values["detail"], rates, values["conditions"])
        total = total_person_h(lines)
        labor = {
            "opening": None,
            "lines": lines,
            "total_person_h": total,
            "crew": time_for(total, values["crew"]) if values["crew"] else None,
            "caution": HEIGHT_CAUTION,
        }
        return Response(LaborSerializer(labor, context={"request": request}).data)


class ComputeLift(Endpoint):
    writers = ANYONE
    is_stored = takes_a_key = False

    @extend_schema(request=LiftAsked, responses=AssessmentSerializer)
    def post(self, request: Request) -> Response:
        """A lift by the revised equation of DHHS/NIOSH 94-110. A guide, not a clearance to lift."""
        asked = LiftAsked(data=request.data, context={"request": request})
        asked.is_valid(raise_exception=True)
        assessment = assess(asked.validated_data, units=units_of(request))
        return Response(AssessmentSerializer(assessment).data)


class ComputeWaterPath(Endpoint):
    writers = ANYONE
    is_stored = takes_a_key = False

    @extend_schema(request=WaterPathAsked, responses=WaterPathSerializer)
    def post(self, request: Request) -> Response:
        """Whether a detail, or a wall given layer by layer, sheds water; each fault with its place and what mends it.

        A drop starts in every cell of the wall and is followed down. What that cannot see stands in `caution`.
        """
        asked = WaterPathAsked(data=request.data, context={"request": request})
        asked.is_valid(raise_exception=True)
        what = asked.validated_data
        verdict = water_path(what) if isinstance(what, Wall) else verdict_of(*what)
        return Response(WaterPathSerializer(verdict, context={"request": request}).data)
