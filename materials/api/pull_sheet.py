"""Endpoints of pull sheets."""

from __future__ import annotations

from http import HTTPStatus
from typing import Any, ClassVar

from django.http import HttpResponse
from django_filters import FilterSet
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from jobs.about import about
from jobs.errors import Conflict
from jobs.permissions import STOCK
from jobs.resource import Readable
from jobs.signed_in import signed_in
from materials import queries, services, tasks
from materials.models import PullSheet
from materials.serializers import LoadSerializer, PullSheetSerializer, RequestSheetSerializer
from openings.measure_fields import XLSX


class PullSheetFilter(FilterSet):
    class Meta:
        model = PullSheet
        fields: ClassVar = {
            "state": ["exact"],
            "crew_day__crew": ["exact"],
            "crew_day__on": ["exact", "gte", "lte"],
        }


class PullSheets(Readable[PullSheet]):
    """The sheets from which the warehouse stages and loads a crew's truck."""

    queryset = queries.sheet_list()
    serializer_class = PullSheetSerializer
    writers = STOCK
    refusals: ClassVar = (HTTPStatus.NOT_FOUND,)  # a body names its crew
    locks_first = ("crew_day",)
    filterset_class = PullSheetFilter
    ordering_fields: ClassVar = ["crew_day__on", "requested_at", "revision"]
    ordering: ClassVar = ["-requested_at", "-pk"]

    @extend_schema(request=RequestSheetSerializer, responses={202: PullSheetSerializer, 200: PullSheetSerializer})
    def create(self, request: Request, *args: Any, **kwargs: Any) -> Response:
        """Ask for a crew's sheet: 202 while a worker writes it, 200 where an unchanged one stands already."""
        body = RequestSheetSerializer(data=request.data)
        body.is_valid(raise_exception=True)
        asked = body.validated_data
        sheet = services.request_pull_sheet(crew_id=asked["crew"], on=asked["on"], by=signed_in(request))
        is_pending = sheet.state == PullSheet.State.PENDING
        if is_pending:
            tasks.write_pull_sheet.delay_on_commit(sheet.pk)
        return Response(
            self.get_serializer(self.get_queryset().get(pk=sheet.pk)).data, status=202 if is_pending else 200
        )

    @extend_schema(responses={(200, XLSX): OpenApiTypes.BINARY})
    @action(detail=True, refusals=(HTTPStatus.CONFLICT,))
    def workbook(self, request: Request, **kwargs: Any) -> HttpResponse:
        """The sheet as an Excel workbook; the name of a superseded one says so."""
        sheet = self.get_object()
        if sheet.state != PullSheet.State.WRITTEN:
            sentence = f"{sheet} is {sheet.state}; {sheet.failure or 'a worker will write it'}"
            raise Conflict(sentence, about=[about(sheet)])
        name = sheet.filename.replace(".xlsx", "-superseded.xlsx") if sheet.is_superseded else sheet.filename
        return HttpResponse(
            bytes(sheet.workbook or b""),
            content_type=XLSX,
            headers={"Content-Disposition": f'attachment; filename="{name}"'},
        )

    @extend_schema(request=LoadSerializer, responses=PullSheetSerializer)
    @action(detail=True, methods=["post"])
    def load(self, request: Request, pk: str, **kwargs: Any) -> Response:
        """Enter how many packages of a line lie on the truck now; the stock moves by the difference."""
        sheet = self.get_object()
        body = LoadSerializer(data=request.data)
        body.is_valid(raise_exception=True)
        asked = body.validated_data
        services.load_line(sheet_id=sheet.pk, line_id=asked["line"], packages=asked["packages"], by=signed_in(request))
        return Response(self.get_serializer(self.get_object()).data)
