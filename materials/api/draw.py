"""What openings use up."""

from __future__ import annotations

from typing import ClassVar

from drf_spectacular.utils import extend_schema
from rest_framework.generics import get_object_or_404
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from jobs.models import Job
from jobs.permissions import ByRole
from materials import queries
from materials.calc.anchors import CAUTION
from materials.serializers import DrawSerializer, JobDrawSerializer
from openings.queries import opening_list


class OpeningDraw(APIView):
    permission_classes: ClassVar = [ByRole]

    @extend_schema(responses=DrawSerializer)
    def get(self, request: Request, opening_id: int) -> Response:
        """What one opening uses up, each line with its reason. Anchorage follows the product approval."""
        opening = get_object_or_404(opening_list(), pk=opening_id)
        draw = {"opening": opening.pk, "lines": queries.draw_lines(opening), "caution": CAUTION}
        return Response(DrawSerializer(draw).data)


class JobDraw(APIView):
    permission_classes: ClassVar = [ByRole]

    @extend_schema(responses=JobDrawSerializer)
    def get(self, request: Request, job_id: int) -> Response:
        """What all openings of a job use up, by part and product, void ones left out."""
        job = get_object_or_404(Job, pk=job_id)
        return Response(JobDrawSerializer(queries.job_draw(job.pk)).data)
