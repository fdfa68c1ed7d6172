"""What openings use up."""

from __future__ import annotations

from drf_spectacular.utils import extend_schema
from rest_framework.generics import get_object_or_404
from rest_framework.request import Request
from rest_framework.response import Response

from jobs.models import Job
from jobs.permissions import ANYONE
from jobs.resource import Endpoint
from materials import queries
from materials.serializers import DrawAsked, DrawSerializer, JobDrawSerializer, OpeningAdviceSerializer
from openings.calc import code_advice
from openings.measure_fields import units_of


class OpeningDraw(Endpoint):
    @extend_schema(responses=DrawSerializer)
    def get(self, request: Request, opening_id: int) -> Response:
        """What one opening uses up, each line with its reason. Anchorage follows the product approval."""
        draw = queries.opening_draw(queries.opening_of(opening_id), units=units_of(request))
        return Response(DrawSerializer(draw, context={"request": request}).data)


class OpeningAdvice(Endpoint):
    @extend_schema(responses=OpeningAdviceSerializer)
    def get(self, request: Request, opening_id: int) -> Response:
        """What codes and makers ask of this opening. Advice only: the adopted code and licensed practice rule."""
        advice = queries.opening_advice(opening_id, units=units_of(request))
        body = {"opening": opening_id, "advice": advice, "caution": code_advice.CAUTION}
        return Response(OpeningAdviceSerializer(body).data)


class ComputeDraw(Endpoint):
    writers = ANYONE
    is_stored = takes_a_key = False

    @extend_schema(request=DrawAsked, responses=DrawSerializer)
    def post(self, request: Request) -> Response:
        """What an opening that is not stored would use up. Anchorage follows the product approval."""
        asked = DrawAsked(data=request.data, context={"request": request})
        asked.is_valid(raise_exception=True)
        draw = queries.draw_asked(**asked.validated_data, units=units_of(request))
        return Response(DrawSerializer(draw, context={"request": request}).data)


class JobDraw(Endpoint):
    @extend_schema(responses=JobDrawSerializer)
    def get(self, request: Request, job_id: int) -> Response:
        """What all openings of a job use up, by part and product, void ones left out."""
        job = get_object_or_404(Job, pk=job_id)
        return Response(JobDrawSerializer(queries.job_draw(job.pk)).data)
